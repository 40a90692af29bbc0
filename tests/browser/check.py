"""The page a client answers on, in a real browser: by mouse, by finger, by keyboard alone, on a desk and on a
telephone. Give it the folder with the pages that `cargo test phone` writes. Knows what a client does; must
not know how the page does it."""

import hashlib
import json
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from driver import Browser  # noqa: E402

DESK = (1200, 900)
PHONE = (360, 740)


def need(truth, *words):
    if not truth:
        raise AssertionError(" ".join(str(w) for w in words))


def address(folder, name):
    return "file://" + os.path.join(os.path.abspath(folder), name + ".html")


def canonical(value):
    """RFC 8785 for texts, whole numbers and booleans; Python's own writer escapes the same characters."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def checked(raw):
    """An answer file: its text canonical, its last word a hash of all the others."""
    text = raw.decode("utf-8")
    answer = json.loads(text)
    need(canonical(answer) == text, "not canonical:", text[:300])
    rest = {k: v for k, v in answer.items() if k != "check"}
    need(hashlib.sha256(canonical(rest).encode()).hexdigest() == answer["check"], "check")
    return answer


def stroke(browser, kind):
    """A wave through the box for the signature."""
    browser.run("document.getElementById('ink').scrollIntoView({block: 'center', behavior: 'instant'})")
    box = browser.run("const b = document.getElementById('ink').getBoundingClientRect();"
                      "return [b.left, b.top, b.width, b.height]")
    left, top, width, height = box
    browser.strokes([(left + width * (0.1 + 0.08 * n), top + height * (0.3 if n % 2 else 0.7))
                     for n in range(10)], kind)


def inked(browser):
    return browser.run("const c = document.getElementById('ink'), copy = document.createElement('canvas');"
                       "copy.width = c.width; copy.height = c.height;"
                       "const pen = copy.getContext('2d'); pen.drawImage(c, 0, 0);"
                       "return pen.getImageData(0, 0, c.width, c.height).data"
                       ".filter((v, n) => n % 4 === 3 && v > 0).length")


def answer_all(browser):
    """The small page's three questions."""
    browser.click("article[data-n='0'] input[value=agreed]")
    browser.type("#i0", "TUF")
    browser.click("article[data-n='1'] input[data-choice='1']")
    browser.click("article[data-n='1'] .again")
    browser.click("article[data-n='2'] input[value=declined]")
    browser.click("article[data-n='2'] .again")


def expected(answer):
    answers = {a["subject"]: a for a in answer["answers"]}
    need(list(answers) == ["elevation hall.A", "disclosure bow", "disclosure step"], answers)
    need(answers["elevation hall.A"]["answer"] == "agreed", answers)
    need("option" not in answers["elevation hall.A"], answers)
    need(answers["disclosure bow"]["option"] == "bar", answers)
    need(answers["disclosure step"]["answer"] == "declined", answers)
    need(all(a["initials"] == "TUF" for a in answers.values()), answers)
    need(answer["issue"] == ("c0ffee" * 11)[:64] and answer["revision"] == "B" and answer["draft"] is False)
    need(answer["rodbook_reply"] == 1 and answer["job"] == "HL-3", answer)
    need(answer["name"] == "Tilda Umbrage-Fennel" and answer["role"] == "client", answer)


def drawn_by(kind, size, phone, folder):
    with Browser(*size, phone=phone) as browser:
        browser.requests()
        browser.open(address(folder, "small"))
        answer_all(browser)
        need(browser.run("return document.getElementById('sum').textContent") == "240.50\u00a0crowns")
        need(inked(browser) == 0, "the box is not empty")
        stroke(browser, kind)
        need(inked(browser) > 200, "a stroke by", kind, "left no ink")
        browser.click("#save")
        name, raw = browser.downloaded()
        need(name == "answer-HL-3-B.json", name)
        answer = checked(raw)
        expected(answer)
        need(answer["signed"] == "drawn", answer)
        need(answer["signature"].startswith("data:image/png;base64,iVBOR"), answer["signature"][:40])
        need(len(answer["signature"]) < 200_000)
        need(browser.run("return document.getElementById('text').value").encode() == raw)
        outside = [r for r in browser.requests() if not r.startswith(("file:", "data:", "blob:"))]
        need(outside == [], "it asked for", outside)
        said = [e["message"] for e in browser.logs("browser")]
        need(said == [], said)


def mouse_on_a_desk(folder):
    drawn_by("mouse", DESK, False, folder)


def finger_on_a_telephone(folder):
    drawn_by("touch", PHONE, True, folder)


def pen_on_a_desk(folder):
    drawn_by("pen", DESK, False, folder)


def keyboard_alone(folder):
    """Tab, arrows, blank and letters: all of the form, in the order it is read."""
    with Browser(*DESK) as browser:
        browser.cdp("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
        browser.open(address(folder, "small"))
        at = lambda: browser.run(
            "const a = document.activeElement; return a.id || (a.dataset.choice && 'choice ' + a.dataset.choice) || a.className || a.name || a.tagName")
        def tab_to(wanted, most=40):
            seen = []
            for _ in range(most):
                browser.press("Tab")
                seen.append(at())
                if seen[-1] == wanted:
                    need_seen(browser)
                    return seen
            raise AssertionError("no way by keyboard to %s: %s" % (wanted, seen))
        def need_seen(browser):
            """What has the focus is in view and nothing lies over it (WCAG 2.2, 2.4.11; from memory)."""
            need(browser.run(
                "const a = document.activeElement, b = a.getBoundingClientRect();"
                "const x = b.left + b.width / 2, y = b.top + Math.min(b.height, innerHeight) / 2;"
                "const e = document.elementFromPoint(x, y); return !!e && (a.contains(e) || e.contains(a))"),
                "hidden focus:", at())
        browser.press("Tab")
        need(at() == "skip", at())
        tab_to("pane")
        # The first control of a group of radio buttons that none of is chosen.
        tab_to("a0")
        browser.press("Space")
        tab_to("i0")
        browser.press("T", "U", "F")
        tab_to("choice 0")
        browser.press("Space", "Down")
        need(at() == "choice 1", at())
        tab_to("again")
        need(at() == "i1" or browser.press("Enter") is None)
        need(at() == "i1", at())
        tab_to("choice 0")
        browser.press("Up")
        need(browser.run("return document.activeElement.value") == "declined")
        tab_to("again")
        browser.press("Enter")
        tab_to("name")
        tab_to("place")
        browser.press(*"Nether")
        tab_to("day")
        tab_to("how")
        browser.press("Down")
        tab_to("typed")
        browser.press(*"Tilda")
        tab_to("save")
        browser.press("Enter")
        answer = checked(browser.downloaded()[1])
        expected(answer)
        need(answer["signed"] == "typed" and answer["typed"] == "Tilda", answer)
        need("signature" not in answer and answer["place"] == "Nether", answer)
        need(at() == "made-title", "the focus is not at the result but at", at())


def gaps_are_told(folder):
    with Browser(*PHONE, phone=True) as browser:
        browser.open(address(folder, "small"))
        total = lambda: browser.run("return document.getElementById('sum').textContent").replace("\u00a0", " ")
        browser.click("article[data-n='1'] input[data-choice='2']")
        need(total() == "0.00 crowns, and at most 12 345.00 crowns more if all of it comes to pass that may", total())
        browser.click("article[data-n='1'] input[data-choice='3']")
        need(total() == "0.00 crowns, and what has no price yet (1)", total())
        browser.click("article[data-n='1'] input[data-choice='0']")
        need(total() == "0.00 crowns", total())
        browser.type("#t0" if browser.run("const d = document.querySelector(\"article[data-n='0'] details\");"
                                          "d.open = true; return true") else "", "Two\nlines \u201ehere\u201c")
        browser.click("#save")
        told = browser.run("return Array.from(document.querySelectorAll('#gaps-list a'), (a) => a.textContent)")
        need(told == ["Elevation: Hall, wall A: not answered", "Tall doors may bow: initials missing",
                      "The pattern jumps at a joint: not answered", "Your signature is missing"], told)
        browser.click("#gaps-list li:nth-child(2) a")
        need(browser.run("return document.activeElement.id") == "h1")
        browser.click("#anyway")
        answer = checked(browser.downloaded()[1])
        need([a["answer"] for a in answer["answers"]] == ["left", "agreed", "left"], answer)
        need(answer["answers"][0]["note"] == "Two\nlines \u201ehere\u201c", answer)
        need(answer["signed"] == "no" and "signature" not in answer, answer)
        # A change after the file was made takes the file away.
        browser.click("article[data-n='0'] input[value=declined]")
        need(browser.run("return document.getElementById('made').hidden"))


def names_can_be_printed(folder):
    """What the record could not be printed with is said while it can still be mended."""
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        answer_all(browser)
        stroke(browser, "mouse")
        told = lambda: browser.run("return document.getElementById('gaps-list').textContent")
        set_name = ("const e = document.getElementById('name'); e.value = arguments[0];"
                    "e.dispatchEvent(new Event('input'))")
        for name, lacks in (("", "Your name is missing"),
                            ("Tilda \u6728", "Your name has a character that cannot be printed: \u6728")):
            browser.run(set_name, name)
            browser.click("#save")
            need(told() == lacks, told())
            need(browser.run("return document.getElementById('anyway').hidden"))
        browser.run(set_name, "\u015awi\u0119tos\u0142awa \u0429\u0443\u043a\u0430 \u0395\u03bb\u03ad\u03bd\u03b7")
        browser.click("#save")
        need(checked(browser.downloaded()[1])["name"].startswith("\u015awi"), told())


def another_who_signs(folder):
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        browser.click("input[name=signer][value='1']")
        shown = browser.run("return Array.from(document.querySelectorAll('article:not([hidden]) h3'), (h) => h.textContent)")
        need(shown == ["The pattern jumps at a joint"], shown)
        browser.click("article[data-n='2'] input[data-choice='1']")
        need(browser.run("return document.getElementById('sum').textContent") == "1000.00\u00a0crowns")
        browser.click("#save")
        browser.click("#anyway")
        answer = checked(browser.downloaded()[1])
        need(answer["role"] == "designer" and answer["name"] == "Odelia Thrupp-Marrow", answer)
        need([a["subject"] for a in answer["answers"]] == ["disclosure step"], answer)


def kept_over_a_reload(folder):
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        answer_all(browser)
        browser.type("#place", "Nether Whimbrel")
        stroke(browser, "mouse")
        ink = inked(browser)
        browser.open(address(folder, "small"))
        need(browser.run("return document.getElementById('progress').textContent") == "3 of 3 answered")
        need(browser.run("return document.getElementById('place').value") == "Nether Whimbrel")
        need(abs(inked(browser) - ink) < 50, "the signature is gone")
        # Taken away only when meant.
        browser.click("#forget")
        browser.click("#forget-sure")
        need(browser.run("return document.getElementById('progress').textContent") == "0 of 3 answered")
        need(inked(browser) == 0)
        browser.open(address(folder, "small"))
        need(browser.run("return document.getElementById('progress').textContent") == "0 of 3 answered")


def nothing_may_be_kept(folder):
    """A browser that lets a page keep nothing, and one without WebCrypto: the form works, and says so."""
    with Browser(*DESK, prefs={"profile.default_content_setting_values.cookies": 2}) as browser:
        browser.cdp("Page.addScriptToEvaluateOnNewDocument", source=(
            "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }});"
            "Object.defineProperty(window, 'crypto', {value: undefined});"))
        browser.open(address(folder, "small"))
        need("keeps nothing" in browser.run("return document.getElementById('kept').textContent"))
        answer_all(browser)
        stroke(browser, "mouse")
        browser.click("#save")
        expected(checked(browser.downloaded()[1]))


def hashes(folder):
    """FIPS 180-4, its published examples for SHA-256: "abc", 448 bits, and a million letters a (from memory);
    and every length about a block, against Python's own."""
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        sha = lambda text: browser.run("return sha256(arguments[0])", text)
        need(sha("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")
        need(sha("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")
             == "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1")
        need(browser.run("return sha256('a'.repeat(1000000))")
             == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0")
        for n in list(range(130)) + [1000]:
            text = ("\u20aca\u00e9\U0001f4d0" * n)[:n]
            need(sha(text) == hashlib.sha256(text.encode()).hexdigest(), n)
        # RFC 8785, 3.2.3: keys by their UTF-16 units (its sorting example, from memory).
        told = browser.run("return canonical({'\\u20ac': 1, '\\r': 2, '\\ufb33': 3, '1': 4, '\\ud83d\\ude00': 5,"
                           "'\\u0080': 6, '\\u00f6': 7})")
        need(told == '{"\\r":2,"1":4,"\u0080":6,"\u00f6":7,"\u20ac":1,"\U0001f600":5,"\ufb33":3}', told)


def hostile_words_stay_words(folder):
    for size, phone in ((DESK, False), (PHONE, True)):
        with Browser(*size, phone=phone) as browser:
            browser.requests()
            browser.open(address(folder, "hostile"))
            need(browser.run("return window.broken === undefined"), "a script of the project's ran")
            need(browser.run("return document.documentElement.classList.contains('live')"), "the page's own did not")
            need(browser.run("return document.images.length") == 0, "a picture out of words")
            odd = browser.run("return Array.from(document.querySelectorAll('*')).flatMap((e) =>"
                              "Array.from(e.attributes)).map((a) => a.name).filter((n) => n.startsWith('on') || n === 'autofocus')")
            need(odd == [], odd)
            need("</script><script>window.broken = 1</script>" in browser.run("return document.querySelector('h1').textContent"))
            need(browser.run("return document.title.includes('</title>')"))
            browser.click("article[data-n='0'] input[value=agreed]")
            browser.click("#save")
            browser.click("#anyway")
            name, raw = browser.downloaded()
            answer = checked(raw)
            need(answer["answers"][0]["option"].startswith("</script>"), answer)
            need(all(c.isalnum() or c in "._-" for c in name) and len(name) < 100, name)
            fits(browser)
            need([r for r in browser.requests() if not r.startswith(("file:", "data:", "blob:"))] == [])


def fits(browser):
    wide = browser.run("return [document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    need(wide[0] <= wide[1], "the page scrolls sideways:", wide)


def narrow_and_large(folder):
    """No sideways scrolling at 320 and 360 dots, nor with letters of twice the size (WCAG 2.2, 1.4.4 and 1.4.10;
    from memory)."""
    for name, width in (("small", 320), ("small", 360), ("example", 320), ("example", 360)):
        with Browser(width, 640, phone=True) as browser:
            browser.open(address(folder, name))
            need(browser.run("return innerWidth") == width)
            fits(browser)
            browser.run("document.documentElement.style.fontSize = '200%'")
            fits(browser)
            cut = browser.run(
                "return Array.from(document.querySelectorAll('button, label, legend, summary, h1, h2, h3, dd, dt, a'))"
                ".filter((e) => !e.closest('.unseen, .pane') && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0"
                " && getComputedStyle(e).display !== 'inline').map((e) => e.textContent.slice(0, 40))")
            need(cut == [], "cut off:", cut)


def everything_has_a_name(folder):
    roles = {"button", "radio", "textbox", "link", "checkbox", "combobox", "Date", "image", "img", "group",
             "radiogroup", "DisclosureTriangle", "InputTime", "heading", "region", "navigation", "article"}
    for name in ("small", "example"):
        with Browser(*DESK) as browser:
            browser.open(address(folder, name))
            all_names = browser.names()
            # A fold has no name of its own, its handle has; so has a paragraph that is no control.
            nameless = [(r, n) for r, n in all_names if r in roles and not n.strip()]
            nameless = [x for x in nameless if x[0] != "group"]
            need(nameless == [], nameless)
            controls = [(r, n) for r, n in all_names if r in ("button", "textbox")]
            twice = {x for x in controls if controls.count(x) > 1}
            need(not twice, "the same name for two controls:", twice)
            need(sum(1 for r, _ in all_names if r in ("img", "image")) >= 2)
            labels = browser.run(
                "return Array.from(document.querySelectorAll('input, textarea')).filter((e) => e.labels.length !== 1).map((e) => e.id)")
            need(labels == [], "no label:", labels)
            levels = browser.run("return Array.from(document.querySelectorAll('h1, h2, h3, h4'), (h) => Number(h.tagName[1]))")
            need(levels[0] == 1 and levels.count(1) == 1, levels)
            need(all(b - a <= 1 for a, b in zip(levels, levels[1:])), levels)
            small = browser.run(
                "return Array.from(document.querySelectorAll('button, .choices label, summary, input[type=text]'))"
                ".map((e) => [e.id || e.textContent.slice(0, 30), e.getBoundingClientRect()])"
                ".filter(([, b]) => b.width > 0 && (b.height < 24 || b.width < 24)).map(([n]) => n)")
            need(small == [], "too small to hit (WCAG 2.2, 2.5.8; from memory):", small)


def moves_only_for_those_who_like_it(folder):
    with Browser(*DESK) as browser:
        for wanted, found in (("reduce", "auto"), ("no-preference", "smooth")):
            browser.cdp("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": wanted}])
            browser.open(address(folder, "small"))
            need(browser.run("return getComputedStyle(document.documentElement).scrollBehavior") == found)


def drawings_stand_as_drawn(folder):
    """Words of drawings are set in the page's own font, each line at its place, and drawings grow."""
    with Browser(*PHONE, phone=True) as browser:
        browser.open(address(folder, "small"))
        fonts = browser.run("return document.fonts.ready.then(() => Array.from(document.fonts, (f) => f.family + f.status))")
        need(fonts == ["Rodloaded"], fonts)
        # A at 30, 20; B moved by -20, 8 from the end of "A ": both inside the frame.
        places = browser.run("return Array.from(document.querySelectorAll('figure svg tspan'), (t) => {"
                             "const p = t.getStartPositionOfChar(0); return [t.textContent, p.x, p.y]})")
        need([p[0] for p in places] == ["A", "BC"], places)
        need(abs(places[0][1] - 30) < 0.02 and places[1][2] == 28 and 12 < places[1][1] < 16, places)
        before = browser.run("return document.querySelector('.pane svg').getBoundingClientRect().width")
        browser.click("figure .zoom button:last-child")
        after = browser.run("return document.querySelector('.pane svg').getBoundingClientRect().width")
        need(1.5 < after / before < 1.7, before, after)
        fits(browser)


def on_paper(folder):
    """Printed it is as many pages as it needs, with what was entered and without buttons."""
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        answer_all(browser)
        path = os.path.join(folder, "small.pdf")
        browser.print(path)
        with open(path, "rb") as file:
            need(file.read(5) == b"%PDF-")


def the_policy_holds(folder):
    """Were something to get into the page after all, it could neither run nor reach out (CSP level 3)."""
    with Browser(*DESK) as browser:
        browser.open(address(folder, "small"))
        told = browser.run(
            "const told = []; document.addEventListener('securitypolicyviolation', (e) => told.push(e.effectiveDirective));"
            "const script = document.createElement('script'); script.textContent = 'window.broken = 1'; document.body.append(script);"
            "const style = document.createElement('style'); style.textContent = 'h1 { display: none }'; document.body.append(style);"
            "const picture = new Image(); picture.src = 'http://127.0.0.1:9/x.png'; document.body.append(picture);"
            "const frame = document.createElement('iframe'); frame.src = 'http://127.0.0.1:9/'; document.body.append(frame);"
            "document.body.insertAdjacentHTML('beforeend', '<p onclick=\"window.broken = 1\" id=\"evil\">x</p>');"
            "document.getElementById('evil').click();"
            "const gone = fetch('http://127.0.0.1:9/').then(() => 'sent', () => 'refused');"
            "return gone.then((g) => new Promise((done) => setTimeout(() => done([g, told, window.broken]), 300)))")
        need(told[0] == "refused" and told[2] is None, told)
        for rule in ("script-src-elem", "script-src-attr", "style-src-elem", "img-src", "frame-src", "connect-src"):
            need(rule in told[1], rule, told)
        need(browser.run("return getComputedStyle(document.querySelector('h1')).display") != "none")
        reached = [r for r in browser.requests() if r.startswith("http")]
        need(reached == [], reached)


def a_tap_opens_a_drawing(folder):
    """On a telephone its words can then be read: 2000 px across an A3 sheet of 420 mm make letters of 2.5 mm
    12 px high; another tap makes it small again."""
    with Browser(*PHONE, phone=True) as browser:
        browser.open(address(folder, "small"))
        wide = lambda: browser.run("return document.querySelector('.pane svg').getBoundingClientRect().width")
        small = wide()
        browser.click(".pane")
        need(wide() >= 2000, wide())
        browser.click(".pane")
        need(wide() == small, wide(), small)


def without_script(folder):
    """A viewer that runs no script shows all there is to read, and says what to do instead."""
    with Browser(*PHONE, phone=True) as browser:
        browser.cdp("Emulation.setScriptExecutionDisabled", value=True)
        browser.open(address(folder, "small"))
        text = [n for r, n in browser.names() if r == "StaticText"]
        need(any("cannot take your answers" in t for t in text), text)
        need(any("A tall door can bend" in t for t in text), text)
        need(not any("I agree" == t for t in text), text)


CHECKS = [
    mouse_on_a_desk, finger_on_a_telephone, pen_on_a_desk, keyboard_alone, gaps_are_told, names_can_be_printed, another_who_signs,
    kept_over_a_reload, nothing_may_be_kept, hashes, hostile_words_stay_words, narrow_and_large,
    everything_has_a_name, moves_only_for_those_who_like_it, drawings_stand_as_drawn, on_paper, the_policy_holds,
    a_tap_opens_a_drawing, without_script,
]


def main():
    folder, wanted = sys.argv[1], sys.argv[2:]
    failed = 0
    for check in CHECKS:
        if wanted and check.__name__ not in wanted:
            continue
        try:
            check(folder)
            print("ok    ", check.__name__)
        except Exception as e:  # Every check is made, whatever the one before it found.
            failed += 1
            print("FAILED", check.__name__ + ":", e)
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
