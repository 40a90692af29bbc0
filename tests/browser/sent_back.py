"""An issue of the example, answered in a real browser, sent back and recorded by the program; then the same
answer damaged, and one to an older issue. Give it the program and the example's folder."""

import json
import os
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from check import PHONE, checked, need, stroke  # noqa: E402
from driver import Browser  # noqa: E402


def run(program, folder, *words):
    done = subprocess.run([program, *words], cwd=folder, capture_output=True, text=True, timeout=300)
    return done.returncode, done.stdout + done.stderr


def answered(page):
    """All of it, by finger: the first option of each, what must be declined declined, signed."""
    with Browser(*PHONE, phone=True) as browser:
        browser.open("file://" + page)
        asked = browser.run("return JSON.parse(document.getElementById('asked').textContent)")
        # By keys of the page's own: 35 questions by finger would say no more than three do.
        browser.run(
            "document.querySelectorAll('article').forEach((a, n) => {"
            "const radios = a.querySelectorAll('input[type=radio]');"
            "(n === 2 ? radios[radios.length - 1] : radios[0]).click();"
            "const initials = a.querySelector('.initials'); initials.value = 'PWQ';"
            "initials.dispatchEvent(new Event('input')); })")
        stroke(browser, "touch")
        browser.click("#save")
        open_still = browser.run("return document.getElementById('gaps-list').textContent")
        need(open_still == "", open_still)
        name, raw = browser.downloaded()
        answer = checked(raw)
        need(len(answer["answers"]) == len(asked["subjects"]) > 20, len(answer["answers"]))
        return name, raw, answer


def main():
    program, example = os.path.abspath(sys.argv[1]), sys.argv[2]
    folder = tempfile.mkdtemp(prefix="rodbook-sent-back-")
    shutil.copy(os.path.join(example, "project.toml"), folder)
    shutil.copytree(os.path.join(example, "boards"), os.path.join(folder, "boards"))
    code, said = run(program, folder, "issue", "project.toml", "--for", "approval")
    need(code in (0, 1), said)
    name, raw, answer = answered(os.path.join(folder, "issued", "A", "reply.html"))
    need(name == "answer-CW-017-A.json", name)
    path = os.path.join(folder, name)

    def sent(data):
        with open(path, "wb") as file:
            file.write(data)
        return run(program, folder, "record", "reply", "project.toml", name)

    # A letter changed on its way, a cut end, an answer turned round: refused.
    for damaged in (raw.replace(b"PWQ", b"PWX", 1), raw[:-30],
                    raw.replace(b'"declined"', b'"agreed"', 1), b"", b"\xff\xfe"):
        code, said = sent(damaged)
        need(code == 2, "a damaged answer was taken:", said)
    need(not os.path.exists(os.path.join(folder, "signoff", "record.jsonl"))
         or "PWQ" not in open(os.path.join(folder, "signoff", "record.jsonl")).read(), "something was recorded")
    # As a message may bring it: with an end of line behind it.
    code, said = sent(raw + b"\r\n")
    need(code == 0, code, said)
    print(said)
    code, said = run(program, folder, "agreements", "project.toml", "--format", "json")
    need(code in (0, 1), said)
    declined = [a["subject"] for a in answer["answers"] if a["answer"] == "declined"]
    need(len(declined) == 1 and declined[0] in said, declined, said[:400])
    code, said = run(program, folder, "verify", "project.toml")
    need(code in (0, 1), said)
    print("ok     sent back and recorded:", json.dumps(answer["answers"][0])[:100])
    shutil.rmtree(folder)


if __name__ == "__main__":
    main()
