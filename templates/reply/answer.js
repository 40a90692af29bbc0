// The answer file: its keys, its one text, its name. Knows the format and nothing of the page.

/** Canonical JSON (RFC 8785) of texts, whole numbers, booleans, lists and objects. */
function canonical(value) {
  if (Array.isArray(value)) return "[" + value.map(canonical).join(",") + "]";
  if (value !== null && typeof value === "object") {
    // By UTF-16 units, which is how this language sorts texts.
    const keys = Object.keys(value).sort();
    return "{" + keys.map((k) => JSON.stringify(k) + ":" + canonical(value[k])).join(",") + "}";
  }
  return JSON.stringify(value);
}

/** Typed by hand: no halves of characters, no controls but ends of lines, no blanks at its ends. */
function plain(text, most) {
  const half = (c) => c.length === 1 && c >= "\uD800" && c <= "\uDFFF";
  const whole = Array.from(text).filter((c) => !half(c)).join("");
  const clean = whole.replace(/\r\n?/g, "\n").replace(/[\u0000-\u0009\u000B-\u001F\u007F]/g, " ");
  return Array.from(clean.trim()).slice(0, most).join("");
}

/** The first character of a name that the record cannot be printed with; nothing, if it can. */
function unprintable(page, text) {
  const prints = (code) => page.prints.some(([first, last]) => first <= code && code <= last);
  return Array.from(text).find((c) => !prints(c.codePointAt(0))) || "";
}

/** The text of the file, its last key a hash of all the others. */
function answerText(page, state, signature, made) {
  const answers = subjectsFor(page, state.role).map((subject) => {
    const given = state.answers[subject.key] || {};
    const answer = { subject: subject.key, hash: subject.hash, answer: given.answer || "left" };
    const initials = plain(given.initials || "", 8);
    const note = plain(given.note || "", 2000);
    if (given.option && answer.answer === "agreed") answer.option = given.option;
    if (initials && answer.answer !== "left") answer.initials = initials;
    if (note) answer.note = note;
    return answer;
  });
  const file = {
    rodbook_reply: 1,
    job: page.job,
    revision: page.revision,
    draft: page.draft,
    issue: page.issue,
    answers,
    name: plain(state.name, 120),
    role: state.role,
    place: plain(state.place, 120),
    day: /^\d{4}-\d{2}-\d{2}$/.test(state.day) ? state.day : "",
    signed: "no",
    made,
  };
  const typed = plain(state.typed, 120);
  if (state.how === "drawn" && signature) {
    file.signed = "drawn";
    file.signature = signature;
  } else if (state.how === "typed" && typed) {
    file.signed = "typed";
    file.typed = typed;
  }
  const remark = plain(state.remark, 4000);
  if (remark) file.remark = remark;
  file.check = sha256(canonical(file));
  return canonical(file);
}

/** What is asked of somebody with this role. */
function subjectsFor(page, role) {
  return page.subjects.filter((subject) => subject.roles.includes(role));
}

/** `answer CW-017 B.json`, in letters that every file system takes. */
function answerName(page) {
  const word = (text) => text.replace(/[^A-Za-z0-9._-]+/g, "-").replace(/^[-.]+|-+$/g, "").slice(0, 40);
  const words = ["answer", word(page.job), page.draft ? "draft" : word(page.revision)];
  return words.filter(Boolean).join("-") + ".json";
}

/** `1 250.00`, from thousandths as a BigInt, with as many decimals as the currency has, or as it needs. */
function money(thousandths, decimals) {
  const minus = thousandths < 0n;
  const all = String(minus ? -thousandths : thousandths).padStart(4, "0");
  const part = all.slice(-3);
  const needed = Math.max(decimals, part.replace(/0+$/, "").length);
  const digits = all.slice(0, -3);
  const whole = digits.length > 4 ? digits.replace(/\B(?=(\d{3})+$)/g, "\u00a0") : digits;
  return (minus ? "\u2212" : "") + whole + (needed ? "." + part.slice(0, needed) : "");
}

/** What the options chosen come to: for certain, if all comes to pass that may, and how many have no price. */
function sums(page, state) {
  const sum = { certain: 0n, perhaps: 0n, unpriced: 0 };
  for (const subject of subjectsFor(page, state.role)) {
    const given = state.answers[subject.key] || {};
    const option = subject.options.find((o) => o.id === given.option);
    if (!option || given.answer !== "agreed") continue;
    if (option.adds === "") sum.unpriced += 1;
    else if (option.only_if) sum.perhaps += BigInt(option.adds);
    else sum.certain += BigInt(option.adds);
  }
  return sum;
}
