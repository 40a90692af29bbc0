"""Speaks to a headless Chromium through chromedriver: the W3C WebDriver protocol over HTTP, with nothing but
Python's own library. Knows browsers; must not know any page of ours."""

import base64
import json
import os
import shutil
import subprocess
import tempfile
import time
import urllib.error
import urllib.request

FLAGS = [
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--lang=en-GB",
    "--force-color-profile=srgb", "--hide-scrollbars",
]
# Whatever proxy the machine has, it is not asked for what is on the machine itself.
DIRECT = urllib.request.build_opener(urllib.request.ProxyHandler({}))
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
KEYS = {
    "Tab": "\ue004", "Enter": "\ue007", "Space": " ", "Shift": "\ue008", "Control": "\ue009",
    "Left": "\ue012", "Up": "\ue013", "Right": "\ue014", "Down": "\ue015", "Backspace": "\ue003",
}


class Browser:
    """One browser with an empty profile of its own; downloads go to `downloads`."""

    def __init__(self, width, height, phone=False, flags=(), prefs=None):
        self.phone = phone
        self.folder = tempfile.mkdtemp(prefix="rodbook-browser-")
        self.downloads = os.path.join(self.folder, "downloads")
        os.mkdir(self.downloads)
        self.log = open(os.path.join(self.folder, "driver.log"), "w+")
        self.process = subprocess.Popen(
            ["chromedriver", "--port=0"], stdout=self.log, stderr=subprocess.STDOUT)
        self.port = self._port()
        args = FLAGS + ["--user-data-dir=" + os.path.join(self.folder, "profile"),
                        "--window-size=%d,%d" % (width, height)] + list(flags)
        options = {"args": args, "prefs": dict(prefs or {}, **{
            "download.default_directory": self.downloads, "download.prompt_for_download": False})}
        if phone:
            options["mobileEmulation"] = {"deviceMetrics": {
                "width": width, "height": height, "pixelRatio": 2.0, "touch": True, "mobile": True}}
        chromium = shutil.which("chromium")
        if chromium:
            options["binary"] = chromium
        self.at = ""
        made = self.ask("POST", "/session", {"capabilities": {"alwaysMatch": {
            "browserName": "chrome", "goog:chromeOptions": options,
            "goog:loggingPrefs": {"browser": "ALL", "performance": "ALL"}}}})
        self.at = "/session/" + made["sessionId"]
        self.cdp("Network.enable")
        self.cdp("Browser.setDownloadBehavior", behavior="allow", downloadPath=self.downloads)

    def _port(self):
        for _ in range(200):
            self.log.flush()
            with open(self.log.name) as log:
                for line in log:
                    if "successfully on port" in line:
                        return int(line.split("on port")[1].strip().split(".")[0])
            if self.process.poll() is not None:
                raise RuntimeError("chromedriver did not start: see " + self.log.name)
            time.sleep(0.05)
        raise RuntimeError("chromedriver says no port")

    def ask(self, method, path, body=None):
        data = json.dumps(body if body is not None else {}).encode() if method == "POST" else None
        request = urllib.request.Request(
            "http://127.0.0.1:%d%s%s" % (self.port, self.at, path), data, method=method,
            headers={"Content-Type": "application/json"})
        try:
            with DIRECT.open(request, timeout=60) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as e:
            raise RuntimeError("%s %s: %s" % (method, path, e.read().decode()[:2000])) from None

    def close(self):
        try:
            self.ask("DELETE", "")
        finally:
            self.process.terminate()
            self.process.wait(20)
            self.log.close()
            shutil.rmtree(self.folder, ignore_errors=True)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def open(self, address):
        self.ask("POST", "/url", {"url": address})

    def run(self, script, *args):
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(args)})

    def cdp(self, command, **params):
        return self.ask("POST", "/goog/cdp/execute", {"cmd": command, "params": params})

    def find(self, css):
        return self.ask("POST", "/element", {"using": "css selector", "value": css})[ELEMENT]

    def click(self, css):
        """By mouse, or by finger on a telephone, where a tap soon after another touch may be taken for the
        second half of a double tap and do nothing: then once more, as a person would."""
        for _ in range(4):
            self.run("const e = document.querySelector(arguments[0]);"
                     "e.scrollIntoView({block: 'center', behavior: 'instant'}); window.clickedByTest = false;"
                     "e.addEventListener('click', () => { window.clickedByTest = true; }, {once: true, capture: true})",
                     css)
            self.ask("POST", "/element/%s/click" % self.find(css))
            if not self.phone or self.run("return window.clickedByTest"):
                return
            time.sleep(0.5)
        raise RuntimeError("no click arrived at " + css)

    def type(self, css, text):
        self.ask("POST", "/element/%s/value" % self.find(css), {"text": text})

    def press(self, *keys):
        """Each key down and up by itself; `Shift+Tab` together."""
        actions = []
        for key in keys:
            parts = [KEYS.get(k, k) for k in key.split("+")] if len(key) > 1 else [key]
            actions += [{"type": "keyDown", "value": k} for k in parts]
            actions += [{"type": "keyUp", "value": k} for k in reversed(parts)]
        self.ask("POST", "/actions", {"actions": [{"type": "key", "id": "keys", "actions": actions}]})

    def strokes(self, points, kind):
        """One stroke of a real pointer (`mouse`, `touch` or `pen`) through these places of the window."""
        (x, y), rest = points[0], points[1:]
        move = lambda x, y, ms: {"type": "pointerMove", "duration": ms, "x": int(x), "y": int(y), "origin": "viewport"}
        actions = [move(x, y, 0), {"type": "pointerDown", "button": 0}]
        actions += [move(x, y, 16) for x, y in rest] + [{"type": "pointerUp", "button": 0}]
        self.ask("POST", "/actions", {"actions": [{
            "type": "pointer", "id": kind, "parameters": {"pointerType": kind}, "actions": actions}]})

    def logs(self, kind):
        return self.ask("POST", "/se/log", {"type": kind})

    def requests(self):
        """Every address that was asked for since the last look, by the browser's own network log; not those
        that the page's policy stopped before anything was asked."""
        events = [json.loads(entry["message"])["message"] for entry in self.logs("performance")]
        stopped = {e["params"]["requestId"] for e in events if e["method"] == "Network.loadingFailed"
                   and e["params"].get("blockedReason") == "csp"}
        return [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"
                and e["params"]["requestId"] not in stopped]

    def names(self):
        """(role, name) of everything in the accessibility tree that is not ignored."""
        self.cdp("Accessibility.enable")
        nodes = self.cdp("Accessibility.getFullAXTree")["nodes"]
        value = lambda n, key: n.get(key, {}).get("value", "")
        return [(value(n, "role"), value(n, "name")) for n in nodes if not n.get("ignored")]

    def downloaded(self):
        """The one file that was saved, once it is whole."""
        for _ in range(200):
            files = [f for f in os.listdir(self.downloads) if not f.endswith((".crdownload", ".tmp"))
                     and not f.startswith(".")]
            if files:
                path = os.path.join(self.downloads, sorted(files)[-1])
                with open(path, "rb") as file:
                    return os.path.basename(path), file.read()
            time.sleep(0.05)
        raise RuntimeError("nothing was saved")

    def picture(self, path, whole=False):
        if whole:
            size = self.cdp("Page.getLayoutMetrics")["cssContentSize"]
            shot = self.cdp("Page.captureScreenshot", captureBeyondViewport=True, clip={
                "x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1})["data"]
        else:
            shot = self.ask("GET", "/screenshot")
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot))

    def print(self, path):
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.ask("POST", "/print", {"background": True})))
