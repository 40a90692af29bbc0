// The page: fills the form from what was kept, keeps what is entered, says what is still open, makes the
// answer file. Nothing here reaches beyond this device.

(() => {
  const page = JSON.parse(document.getElementById("asked").textContent);
  const store = "rodbook reply " + page.issue;
  const by = (id) => document.getElementById(id);
  const all = (selector, within) => Array.from((within || document).querySelectorAll(selector));
  const articles = new Map(all("article[data-n]").map((a) => [page.subjects[a.dataset.n].key, a]));

  function today() {
    const now = new Date();
    const two = (n) => String(n).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  const first = page.signers[0];
  const state = {
    signer: 0, role: first.role, name: first.name, place: "", day: today(),
    how: "drawn", typed: "", remark: "", answers: {}, strokes: [],
  };
  let initials = "";
  let kept = true;
  let made = null;

  // ── what is kept on this device ───────────────────────────────────────────────────────────────
  function restore() {
    let old = null;
    try {
      old = JSON.parse(window.localStorage.getItem(store));
      window.localStorage.setItem(store + " tried", "1");
      window.localStorage.removeItem(store + " tried");
    } catch (e) {
      kept = false;
    }
    if (!old || typeof old !== "object") return;
    for (const key of ["name", "place", "day", "typed", "remark"]) {
      if (typeof old[key] === "string") state[key] = old[key];
    }
    const who = page.signers[old.signer];
    if (Number.isInteger(old.signer) && who && who.role === old.role) {
      state.signer = old.signer;
      state.role = who.role;
    }
    if (old.how === "typed") state.how = "typed";
    if (inkIsSane(old.strokes)) state.strokes = old.strokes;
    for (const subject of page.subjects) {
      const was = old.answers && old.answers[subject.key];
      // An answer to something that has changed since is no answer.
      if (!was || was.hash !== subject.hash) continue;
      const answer = { hash: subject.hash };
      if (was.answer === "agreed" || was.answer === "declined") answer.answer = was.answer;
      if (subject.options.some((o) => o.id === was.option)) answer.option = was.option;
      for (const key of ["initials", "note"]) {
        if (typeof was[key] === "string") answer[key] = was[key];
      }
      if (answer.initials) initials = answer.initials;
      state.answers[subject.key] = answer;
    }
  }

  function keep() {
    if (made) {
      made = null;
      by("made").hidden = true;
      say("You changed something: make the answer file again.");
    }
    try {
      window.localStorage.setItem(store, JSON.stringify(state));
      kept = true;
    } catch (e) {
      kept = false;
    }
    showKept();
  }

  function showKept() {
    by("kept").textContent = kept
      ? "What you enter is kept in this browser on this device until you take it away, so you can close the page and come back."
      : "This browser keeps nothing of what you enter: do not close the page before you have saved your answer.";
  }

  window.addEventListener("beforeunload", (event) => {
    if (!kept && !made && Object.keys(state.answers).length > 0) event.preventDefault();
  });

  function say(words) {
    by("said").textContent = words;
  }

  // ── each question ─────────────────────────────────────────────────────────────────────────────
  function answerOf(key) {
    const subject = page.subjects.find((s) => s.key === key);
    return (state.answers[key] = state.answers[key] || { hash: subject.hash });
  }

  /** What is missing of an answer: nothing, or in words. */
  function missing(subject) {
    const given = state.answers[subject.key] || {};
    if (!given.answer) return "not answered";
    if (given.answer === "agreed" && subject.options.length && !given.option) return "nothing chosen";
    if (!plain(given.initials || "", 8)) return "initials missing";
    return "";
  }

  function showArticle(subject) {
    const article = articles.get(subject.key);
    const given = state.answers[subject.key] || {};
    const lacks = missing(subject);
    const word = given.answer === "declined" ? "Not agreed" : "Agreed";
    const mark = article.querySelector(".state");
    mark.textContent = !given.answer ? "Not answered yet" : lacks ? word + ": " + lacks : word;
    mark.dataset.is = !given.answer ? "open" : lacks ? "part" : given.answer;
    const linked = by("list-" + article.dataset.n);
    if (linked) {
      linked.textContent = mark.textContent;
      linked.dataset.is = mark.dataset.is;
    }
    article.querySelector(".back").hidden = !given.answer && !given.initials;
    const again = article.querySelector(".again");
    again.hidden = !initials || !given.answer || !!plain(given.initials || "", 8);
    again.querySelector("bdi").textContent = initials;
  }

  function showProgress() {
    const asked = subjectsFor(page, state.role);
    const open = asked.filter((s) => missing(s));
    by("progress").textContent = asked.length - open.length + " of " + asked.length + " answered";
    by("next").hidden = open.length === 0;
    if (by("sum")) {
      const sum = sums(page, state);
      const said = (n) => money(n, page.decimals) + "\u00a0" + page.currency;
      const more = [];
      if (sum.perhaps) more.push("and at most " + said(sum.perhaps) + " more if all of it comes to pass that may");
      if (sum.unpriced) more.push("and what has no price yet (" + sum.unpriced + ")");
      by("sum").textContent = [said(sum.certain), ...more].join(", ");
    }
  }

  /** By its place: an attribute would not carry every text whole. */
  function optionOf(subject, radio) {
    const option = subject.options[radio.dataset.choice];
    return option && option.id;
  }

  function fill(subject) {
    const article = articles.get(subject.key);
    const given = state.answers[subject.key] || {};
    for (const radio of all("input[type=radio]", article)) {
      radio.checked =
        radio.value === "declined"
          ? given.answer === "declined"
          : given.answer === "agreed" && optionOf(subject, radio) === given.option;
    }
    article.querySelector(".initials").value = given.initials || "";
    article.querySelector(".note").value = given.note || "";
    if (given.note) article.querySelector("details").open = true;
    showArticle(subject);
  }

  function wire(subject) {
    const article = articles.get(subject.key);
    const changed = () => {
      keep();
      showArticle(subject);
      showProgress();
    };
    for (const radio of all("input[type=radio]", article)) {
      radio.addEventListener("change", () => {
        const answer = answerOf(subject.key);
        answer.answer = radio.value;
        answer.option = optionOf(subject, radio);
        if (!answer.option) delete answer.option;
        changed();
      });
    }
    const field = article.querySelector(".initials");
    field.addEventListener("input", () => {
      answerOf(subject.key).initials = field.value;
      changed();
    });
    field.addEventListener("change", () => {
      initials = plain(field.value, 8) || initials;
      page.subjects.forEach(showArticle);
    });
    article.querySelector(".again").addEventListener("click", () => {
      field.value = initials;
      answerOf(subject.key).initials = initials;
      changed();
      field.focus();
    });
    const note = article.querySelector(".note");
    note.addEventListener("input", () => {
      answerOf(subject.key).note = note.value;
      changed();
    });
    article.querySelector(".back").addEventListener("click", () => {
      const answer = answerOf(subject.key);
      for (const key of ["answer", "option", "initials"]) delete answer[key];
      fill(subject);
      changed();
      say("Answer taken back.");
      const radio = article.querySelector("input[type=radio]");
      if (radio) radio.focus();
    });
  }

  // ── drawings larger and smaller ───────────────────────────────────────────────────────────────
  // Across an A3 sheet, for letters 2.5 mm high.
  const READ_PX = 2000;
  for (const figure of all("figure")) {
    const pane = figure.querySelector(".pane");
    const svg = pane.querySelector("svg");
    const [smaller, larger] = all("button", figure);
    let step = 0;
    const zoom = (by, at) => {
      const middle = at || [
        (pane.scrollLeft + pane.clientWidth / 2) / Math.max(1, pane.scrollWidth),
        (pane.scrollTop + pane.clientHeight / 2) / Math.max(1, pane.scrollHeight),
      ];
      step = Math.max(0, Math.min(4, step + by));
      svg.style.width = step ? 100 * 1.6 ** step + "%" : "";
      svg.style.maxHeight = step ? "none" : "";
      pane.scrollLeft = middle[0] * pane.scrollWidth - pane.clientWidth / 2;
      pane.scrollTop = middle[1] * pane.scrollHeight - pane.clientHeight / 2;
      smaller.disabled = step === 0;
      larger.disabled = step === 4;
      say("Drawing at " + Math.round(100 * 1.6 ** step) + " per cent.");
    };
    smaller.addEventListener("click", () => zoom(-1));
    larger.addEventListener("click", () => zoom(1));
    // A tap opens it there, so large that its words can be read; another one makes it small again.
    pane.addEventListener("click", (event) => {
      const box = svg.getBoundingClientRect();
      const wide = Math.log(READ_PX / Math.max(1, box.width)) / Math.log(1.6);
      const at = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
      zoom(step ? -step : Math.max(1, Math.ceil(wide)), at);
    });
    smaller.disabled = true;
  }

  // ── who signs ─────────────────────────────────────────────────────────────────────────────────
  function showRole() {
    const asked = new Set(subjectsFor(page, state.role).map((s) => s.key));
    for (const [key, article] of articles) article.hidden = !asked.has(key);
    for (const item of all("#list li")) {
      item.hidden = !asked.has(page.subjects[item.dataset.n].key);
    }
    for (const section of all("section.group")) {
      section.hidden = all("article", section).every((a) => a.hidden);
    }
    showProgress();
  }

  for (const radio of all("input[name=signer]")) {
    radio.addEventListener("change", () => {
      state.signer = Number(radio.value);
      state.role = page.signers[state.signer].role;
      state.name = page.signers[state.signer].name;
      by("name").value = state.name;
      showRole();
      keep();
    });
  }
  for (const id of ["name", "place", "day", "typed", "remark"]) {
    by(id).addEventListener("input", () => {
      state[id] = by(id).value;
      keep();
    });
  }

  const ink = inkOn(by("ink"), () => {
    state.strokes = ink.strokes;
    showInk();
    keep();
  });
  function showInk() {
    const n = ink.strokes.length;
    by("ink").setAttribute("aria-label", n ? "Your signature, drawn in " + n + (n === 1 ? " stroke" : " strokes") : "Room for your signature, empty");
    by("undo").disabled = by("wipe").disabled = n === 0;
  }
  by("undo").addEventListener("click", () => ink.undo());
  by("wipe").addEventListener("click", () => ink.clear());
  function showHow() {
    by("by-hand").hidden = state.how !== "drawn";
    by("by-keys").hidden = state.how !== "typed";
    ink.show();
  }
  for (const radio of all("input[name=how]")) {
    radio.addEventListener("change", () => {
      state.how = radio.value;
      showHow();
      keep();
    });
  }

  // ── making the file ───────────────────────────────────────────────────────────────────────────
  /** What is still open: words, and where to go for each. */
  function gaps() {
    const open = [];
    for (const subject of subjectsFor(page, state.role)) {
      const lacks = missing(subject);
      if (lacks) open.push([subject.title + ": " + lacks, "h" + articles.get(subject.key).dataset.n]);
    }
    // An answer of nobody's is none, and a record that cannot be printed is of no use.
    const odd = (words, text, id) => {
      const c = unprintable(page, text);
      if (c) open.push([words + " a character that cannot be printed: " + c, id, true]);
    };
    for (const subject of subjectsFor(page, state.role)) {
      const given = plain((state.answers[subject.key] || {}).initials || "", 8);
      odd("Your initials have", given, "i" + articles.get(subject.key).dataset.n);
    }
    if (!plain(state.name, 120)) open.push(["Your name is missing", "name", true]);
    odd("Your name has", plain(state.name, 120), "name");
    odd("The place has", plain(state.place, 120), "place");
    if (!/^\d{4}-\d{2}-\d{2}$/.test(state.day)) open.push(["The day is missing", "day"]);
    if (state.how === "drawn" && !ink.strokes.length) open.push(["Your signature is missing", "ink"]);
    if (state.how === "typed" && !plain(state.typed, 120)) open.push(["Your typed name is missing", "typed"]);
    return open;
  }

  function goTo(id) {
    const at = by(id);
    if (!at.matches("input, button, textarea")) at.tabIndex = -1;
    at.focus();
    at.scrollIntoView({ block: "center" });
  }

  by("save").addEventListener("click", () => {
    const open = gaps();
    const list = by("gaps-list");
    list.replaceChildren(
      ...open.map(([words, id]) => {
        const item = document.createElement("li");
        const link = document.createElement("a");
        link.href = "#" + id;
        link.textContent = words;
        link.addEventListener("click", (event) => {
          event.preventDefault();
          goTo(id);
        });
        item.append(link);
        return item;
      })
    );
    by("gaps").hidden = open.length === 0;
    by("anyway").hidden = open.some(([, , must]) => must);
    if (open.length) {
      by("made").hidden = true;
      goTo("gaps-title");
    } else make();
  });
  by("anyway").addEventListener("click", make);
  by("next").addEventListener("click", () => {
    const subject = subjectsFor(page, state.role).find((s) => missing(s));
    if (subject) goTo("h" + articles.get(subject.key).dataset.n);
  });

  function make() {
    const clock = new Date().toISOString().slice(0, 19) + "Z";
    const signature = ink.strokes.length ? ink.png() : "";
    const text = answerText(page, state, signature, clock);
    made = { text, name: answerName(page) };
    by("gaps").hidden = true;
    const link = by("file");
    if (link.href.startsWith("blob:")) URL.revokeObjectURL(link.href);
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = made.name;
    by("file-name").textContent = made.name;
    by("text").value = text;
    by("code").textContent = JSON.parse(text).check.slice(0, 8);
    by("share").hidden = !sharing();
    by("made").hidden = false;
    goTo("made-title");
    say("Your answer file is ready. It has not been sent.");
    link.click();
  }

  /** What this device can hand over: a file of either kind, or the text alone. */
  function sharing() {
    if (!made || !navigator.share) return null;
    const types = [[made.name, "application/json"], [made.name.replace(/json$/, "txt"), "text/plain"]];
    for (const [name, type] of types) {
      try {
        const files = [new File([made.text], name, { type })];
        if (navigator.canShare && navigator.canShare({ files })) return { files };
      } catch (e) {
        // Then the next.
      }
    }
    return { text: made.text };
  }
  by("share").addEventListener("click", () => {
    const what = sharing();
    if (what) navigator.share(what).catch(() => say("Nothing was handed over."));
  });
  by("copy").addEventListener("click", () => {
    const done = (ok) => say(ok ? "Copied." : "Copying is not allowed here: the text is marked, copy it by hand.");
    by("text").focus();
    by("text").select();
    let ok = false;
    try {
      ok = document.execCommand("copy");
    } catch (e) {
      // Then by the newer way.
    }
    if (ok || !navigator.clipboard) done(ok);
    else navigator.clipboard.writeText(by("text").value).then(() => done(true), () => done(false));
  });

  by("forget").addEventListener("click", () => {
    by("sure").hidden = false;
    by("forget-sure").focus();
  });
  by("forget-not").addEventListener("click", () => {
    by("sure").hidden = true;
    by("forget").focus();
  });
  by("forget-sure").addEventListener("click", () => {
    state.answers = {};
    state.strokes = [];
    Object.assign(state, { place: "", typed: "", remark: "", day: today() });
    initials = "";
    made = null;
    by("made").hidden = by("gaps").hidden = by("sure").hidden = true;
    try {
      window.localStorage.removeItem(store);
    } catch (e) {
      // Nothing was kept.
    }
    fillAll();
    say("All that you entered is gone.");
    by("forget").focus();
  });

  function fillAll() {
    for (const id of ["name", "place", "day", "typed", "remark"]) by(id).value = state[id];
    for (const radio of all("input[name=signer]")) radio.checked = Number(radio.value) === state.signer;
    for (const radio of all("input[name=how]")) radio.checked = radio.value === state.how;
    ink.set(state.strokes);
    showInk();
    showHow();
    page.subjects.forEach(fill);
    showRole();
    showKept();
  }

  document.documentElement.classList.add("live");
  restore();
  page.subjects.forEach(wire);
  fillAll();
})();
