//! The record of signatures: who agreed to what, and that nothing of it can be changed unseen.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use rodbook::app::signoff::{self as app, Act, Does};
use rodbook::compare::canonical::sha256;
use rodbook::emit::ledger;
use rodbook::signoff::entry::{self, Held};
use rodbook::signoff::key::Key;
use rodbook::signoff::{Entry, OnIssue, What, Who, chain};

use crate::issuing::Desk;
use crate::support::Run;

/// Numbers that look like chance and are the same each time: the generator of Knuth's MMIX (from memory).
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, most: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).expect("31 bits") % most.max(1)
    }
}

/// A record of so many entries, every so many of them signed.
fn record(count: u32, signed: u32) -> (Vec<String>, String) {
    let key = Key::new(&[9; 32]);
    let mut lines: Vec<String> = Vec::new();
    let mut last = entry::NOTHING_BEFORE.to_owned();
    for seq in 1..=count {
        let mut entry = Entry {
            rodbook_entry: entry::FORM,
            seq,
            before: last,
            job: "J-1".to_owned(),
            day: format!("2026-03-{:02}", seq % 28 + 1),
            who: Some(Who {
                name: "Ann Body".to_owned(),
                role: "client".to_owned(),
                place: String::new(),
            }),
            on: Some(OnIssue {
                revision: "A".to_owned(),
                hash: "a".repeat(64),
            }),
            what: What::Snag {
                number: seq,
                about: "W1".to_owned(),
                words: format!("a scratch, \u{2116} {seq}"),
                put_right: false,
            },
            held: vec![Held {
                name: "scan.png".to_owned(),
                is: "scan".to_owned(),
                sha256: "b".repeat(64),
                bytes: 7,
                ending: "png".to_owned(),
            }],
            key: None,
            signature: None,
        };
        if seq.is_multiple_of(signed) {
            key.sign(&mut entry).expect("signed");
        }
        let line = entry.line().expect("a line");
        last = sha256(line.as_bytes());
        lines.push(line);
    }
    let head = chain::Head {
        rodbook_record: entry::FORM,
        entries: count,
        last,
    };
    (lines, head.text().expect("a head"))
}

fn text(lines: &[String]) -> Vec<u8> {
    lines
        .iter()
        .flat_map(|l| l.bytes().chain([b'\n']))
        .collect()
}

/// What is said of a record, in one text.
fn faults(bytes: &[u8], head: &str) -> String {
    let read = chain::read(bytes, Some(head));
    let words: Vec<&str> = read.faults.iter().map(|f| f.words.as_str()).collect();
    words.join("; ")
}

#[test]
fn a_record_that_nobody_touched_holds() {
    for count in [1, 2, 9] {
        let (lines, head) = record(count, 2);
        assert_eq!(faults(&text(&lines), &head), "");
        assert_eq!(
            chain::read(&text(&lines), Some(&head)).entries.len(),
            lines.len()
        );
    }
    assert_eq!(chain::read(b"", None).faults, []);
}

/// Every line, and in each every byte; where entries are signed, which takes longer, every seventeenth.
#[test]
fn a_flipped_bit_anywhere_is_found_and_its_line_named() {
    for (sign, step) in [(9, 1), (2, 17)] {
        let (lines, head) = record(4, sign);
        let whole = text(&lines);
        let mut start = 0;
        for (n, line) in lines.iter().enumerate() {
            for at in (start..=start + line.len()).step_by(step) {
                let mut bytes = whole.clone();
                bytes[at] ^= 1 << (at % 8);
                let said = faults(&bytes, &head);
                let named = said.contains(&format!("line {}", n + 1));
                // Without its end, the last line is torn, and the head misses it.
                let ended = at == start + line.len() && said.contains("missing");
                let at = at - start;
                assert!(named || ended, "byte {at} of line {}: {said}", n + 1);
            }
            start += line.len() + 1;
        }
    }
}

#[test]
fn a_flipped_bit_in_the_head_is_found() {
    let (lines, head) = record(3, 5);
    for at in 0..head.len() {
        let mut bytes = head.clone().into_bytes();
        bytes[at] ^= 1 << (at % 8);
        let other = String::from_utf8_lossy(&bytes).into_owned();
        let said = faults(&text(&lines), &other);
        assert!(
            said.contains("head") || said.contains("missing"),
            "byte {at}: {said}"
        );
    }
    let said: Vec<_> = chain::read(&text(&lines), None).faults;
    assert!(
        said.iter()
            .any(|f| f.words.contains("record.head is missing")),
        "{said:?}"
    );
}

#[test]
fn a_line_dropped_swapped_repeated_or_put_in_is_found_and_named() {
    let (lines, head) = record(6, 4);
    let count = lines.len();
    for n in 0..count {
        let mut fewer = lines.clone();
        fewer.remove(n);
        let said = faults(&text(&fewer), &head);
        assert!(
            said.contains(&format!("entry {} is missing", n + 1))
                || said.contains(&format!("entry {}, the last, is missing", n + 1)),
            "{n} dropped: {said}"
        );
        for other in 0..count {
            let mut repeated = lines.clone();
            repeated.insert(other, lines[n].clone());
            let said = faults(&text(&repeated), &head);
            assert!(
                said.contains("repeats line"),
                "{n} repeated at {other}: {said}"
            );
            if other != n {
                let mut swapped = lines.clone();
                swapped.swap(n, other);
                let said = faults(&text(&swapped), &head);
                for (line, entry) in [(n, other), (other, n)] {
                    let named = format!(
                        "line {} is entry {}: it is out of its place",
                        line + 1,
                        entry + 1
                    );
                    assert!(said.contains(&named), "{n} and {other} swapped: {said}");
                }
            }
        }
        let mut cut = lines.clone();
        cut.truncate(n);
        assert!(faults(&text(&cut), &head).contains("missing"), "cut to {n}");
    }
    // One of another record in the place of its own.
    let mut put = lines.clone();
    let other: Entry =
        serde_json::from_str(&lines[3].replace("a scratch", "no scratch")).expect("an entry");
    put[3] = other.line().expect("a line");
    let said = faults(&text(&put), &head);
    assert!(said.contains("line 4"), "{said}");
}

/// Whoever writes all that follows anew, and the head, is found by the signature that he cannot make.
#[test]
fn a_forger_without_the_key_is_found_by_the_signatures() {
    let (lines, _) = record(4, 2);
    let mut last = entry::NOTHING_BEFORE.to_owned();
    let mut forged = Vec::new();
    for line in &lines {
        let mut entry: Entry = serde_json::from_str(line).expect("an entry");
        entry.before = last;
        entry.day = "2025-01-01".to_owned();
        let line = entry.line().expect("a line");
        last = sha256(line.as_bytes());
        forged.push(line);
    }
    let head = chain::Head {
        rodbook_record: entry::FORM,
        entries: 4,
        last,
    };
    let said = faults(&text(&forged), &head.text().expect("a head"));
    assert!(
        said.contains("line 2") && said.contains("line 4") && said.contains("signature"),
        "{said}"
    );
}

/// Whatever an interrupted writer left of the last line: nothing whole is lost, and the rest is kept aside.
#[test]
fn a_line_torn_anywhere_is_mended() {
    let (lines, _) = record(3, 5);
    let (whole, last) = (text(&lines[..2]), text(&lines[2..]));
    for cut in 0..last.len() {
        let home = tempfile::tempdir().expect("a folder");
        std::fs::create_dir_all(home.path().join("held")).expect("made");
        let torn = [whole.as_slice(), &last[..cut]].concat();
        std::fs::write(home.path().join("record.jsonl"), &torn).expect("written");
        let opened = ledger::open(home.path()).expect("opens");
        assert_eq!(opened.whole(), whole, "cut {cut}");
        match &opened.mended {
            Some((path, bytes)) => {
                assert_eq!(
                    (std::fs::read(path).expect("kept"), *bytes),
                    (last[..cut].to_vec(), cut)
                );
            }
            None => assert_eq!(cut, 0),
        }
    }
}

/// The alcove, issued once and signed for.
fn signed() -> Desk {
    let desk = Desk::new();
    desk.issue("approval");
    std::fs::write(desk.path("page.jpg"), b"a scan").expect("written");
    let run = desk.run(&[
        "record",
        "signed",
        "project.toml",
        "--all",
        "--by",
        "Ann Body",
        "--day",
        "2026-02-01",
        "--scan",
        "page.jpg",
    ]);
    assert_eq!(run.code, 0, "{}", run.err);
    desk
}

fn verified(desk: &Desk) -> Run {
    desk.run(&["verify", "project.toml"])
}

#[test]
fn what_was_signed_stands_until_an_issue_alters_it() {
    let desk = signed();
    let now = desk.run(&["agreements", "project.toml", "--format", "json"]);
    let told: serde_json::Value = serde_json::from_str(&now.out).expect("JSON");
    let of = |told: &serde_json::Value, key: &str| -> serde_json::Value {
        let all = told["agreements"].as_array().expect("a list");
        all.iter().find(|a| a["subject"] == key).expect(key).clone()
    };
    let plan = told["agreements"].as_array().expect("a list");
    let plan = plan.iter().find(|a| a["kind"] == "plan").expect("a plan");
    assert_eq!(
        (plan["stands"].as_str(), plan["by"]["name"].as_str()),
        (Some("agreed"), Some("Ann Body"))
    );
    assert_eq!(plan["by"]["revision"], "A");
    assert!(
        plan["by"]["page"]
            .as_str()
            .is_some_and(|p| p.starts_with('C')),
        "{plan}"
    );
    // Before that day nothing was.
    let before = desk.run(&[
        "agreements",
        "project.toml",
        "--day",
        "2026-01-31",
        "--format",
        "json",
    ]);
    assert!(!before.out.contains("\"agreed\""), "{}", before.out);

    desk.edit("shelves = 3", "shelves = 4");
    let run = desk.issue("approval");
    assert!(run.err.contains("lapsed: Elevation:"), "{}", run.err);
    assert!(run.err.contains("1 agreement lapsed"), "{}", run.err);
    let now = desk.run(&["agreements", "project.toml", "--format", "json"]);
    let told: serde_json::Value = serde_json::from_str(&now.out).expect("JSON");
    let all = told["agreements"].as_array().expect("a list");
    let lapsed: Vec<&serde_json::Value> = all.iter().filter(|a| a["stands"] == "lapsed").collect();
    assert_eq!(lapsed.len(), 1, "{}", now.out);
    assert_eq!(
        (lapsed[0]["kind"].as_str(), lapsed[0]["altered_by"].as_str()),
        (Some("elevation"), Some("B"))
    );
    // At the revision where it was agreed, it still is.
    let then = desk.run(&[
        "agreements",
        "project.toml",
        "--revision",
        "A",
        "--format",
        "json",
    ]);
    let told: serde_json::Value = serde_json::from_str(&then.out).expect("JSON");
    assert_eq!(
        of(&told, lapsed[0]["subject"].as_str().expect("a key"))["stands"],
        "agreed"
    );
    let run = verified(&desk);
    assert_eq!(run.code, 1, "{}", run.out);
    assert!(run.out.contains("lapsed: Elevation"), "{}", run.out);
    // Asked for again, and given again.
    let again = desk.run(&[
        "record",
        "signed",
        "project.toml",
        "--all",
        "--by",
        "Ann Body",
        "--day",
        "2026-02-09",
    ]);
    assert!(again.err.contains("1 answer,"), "{}", again.err);
    assert_eq!(verified(&desk).code, 0);
}

/// On the strength of which sheet: whatever is asked of somebody is shown somewhere.
#[test]
fn every_subject_of_the_example_is_on_a_sheet() {
    let desk = Desk::of_example();
    desk.issue("approval");
    let text = std::fs::read_to_string(desk.path("issued/A/manifest.json")).expect("a manifest");
    let manifest = rodbook::compare::Manifest::read(&text).expect("reads");
    let frozen = std::fs::read_to_string(desk.path("issued/A/frozen-job.json")).expect("a job");
    let frozen = rodbook::compare::Frozen::read(&frozen).expect("reads");
    for subject in rodbook::compare::subjects(&frozen.record) {
        let client = subject.roles.iter().any(|r| r == "client");
        let sheets = manifest.sheets.get(&subject.key);
        assert!(
            !client || sheets.is_some_and(|s| s.starts_with('C')),
            "{}",
            subject.key
        );
    }
    // The boards' pictures are part of what was issued: another board under the same name is named.
    let sound = verified(&desk);
    assert_eq!(sound.code, 0, "{}", sound.out);
    assert!(
        sound
            .out
            .contains("pictures of boards: the 2 that are used")
    );
    std::fs::copy(
        desk.path("boards/fluted-linden.jpg"),
        desk.path("boards/smoked-larch.jpg"),
    )
    .expect("exchanged");
    let changed = verified(&desk);
    assert_eq!(changed.code, 1, "{}", changed.out);
    assert!(
        changed
            .out
            .contains("picture boards/smoked-larch.jpg is not the one"),
        "{}",
        changed.out
    );
}

/// What is drawn as it was agreed once, and was drawn otherwise in between, is asked for again.
#[test]
fn what_has_lapsed_does_not_come_to_life_by_itself() {
    let desk = signed();
    desk.edit("shelves = 3", "shelves = 4");
    desk.issue("approval");
    desk.edit("shelves = 4", "shelves = 3");
    desk.issue("approval");
    let now = desk.run(&["agreements", "project.toml"]);
    assert!(now.out.contains("LAPSED    Elevation"), "{}", now.out);
    assert!(now.out.contains("altered by revision B"), "{}", now.out);
}

#[test]
fn what_cannot_be_recorded_is_refused_and_nothing_is_added() {
    let desk = Desk::new();
    let early = desk.run(&[
        "record",
        "signed",
        "project.toml",
        "--all",
        "--by",
        "Ann Body",
    ]);
    assert_eq!(early.code, 2, "{}", early.err);
    assert!(early.err.contains("nothing is issued yet"), "{}", early.err);
    assert!(!desk.path("signoff").exists());
    desk.issue("approval");
    for (args, why) in [
        (
            vec!["--agree", "elevation"],
            "nothing that is agreed to is called",
        ),
        (
            vec!["--agree", "plan room", "--decline", "plan room"],
            "called",
        ),
        (vec!["--all", "--day", "2026-02-30"], "is no day"),
        (
            vec!["--all", "--role", "mayor"],
            "nothing is asked of the role",
        ),
        (vec!["--all", "--revision", "Q"], "there is no revision Q"),
        (
            vec!["--all", "--scan", "absent.png"],
            "there is no such file",
        ),
        (vec!["--all", "--key", "project.toml"], "no signing key"),
        (vec!["--choose", "bow"], "DISCLOSURE=OPTION"),
        (vec!["--all", "--initials", "\u{e000}"], "cannot be printed"),
        (vec![], "broken off"),
    ] {
        let mut all = vec!["record", "signed", "project.toml", "--by", "Ann Body"];
        all.extend(&args);
        let run = desk.run(&all);
        assert_eq!(run.code, 2, "{args:?}: {}", run.err);
        assert!(run.err.contains(why), "{args:?}: {}", run.err);
        assert!(!desk.path("signoff").exists(), "{args:?}");
    }
}

#[test]
fn snags_completion_and_a_key_are_recorded() {
    let desk = signed();
    assert_eq!(desk.run(&["key", "mine.key"]).code, 0);
    assert_eq!(desk.run(&["key", "mine.key"]).code, 3);
    let by = [
        "--by",
        "Bob Ody",
        "--role",
        "fitter",
        "--day",
        "2026-04-01",
        "--key",
        "mine.key",
    ];
    for args in [
        vec!["snag", "project.toml", "door 1", "rubs at the top"],
        vec!["snag", "project.toml", "door 2", "scratched"],
        vec!["put-right", "project.toml", "1"],
        vec!["completed", "project.toml"],
    ] {
        let all: Vec<&str> = ["record"].into_iter().chain(args).chain(by).collect();
        let run = desk.run(&all);
        assert_eq!(run.code, 0, "{}", run.err);
    }
    let twice: Vec<&str> = ["record", "put-right", "project.toml", "1"]
        .into_iter()
        .chain(by)
        .collect();
    assert!(
        desk.run(&twice)
            .err
            .contains("snag 1 was put right on 2026-04-01")
    );
    let now = desk.run(&["agreements", "project.toml"]);
    assert!(
        now.out
            .contains("2. door 2: scratched (2026-04-01): to be put right"),
        "{}",
        now.out
    );
    let run = verified(&desk);
    assert_eq!(run.code, 0, "{}", run.out);
    assert!(
        run.out.contains("4 entries are signed by the key"),
        "{}",
        run.out
    );
}

/// A contingency lives from its acceptance to its end: it is called once, in time, and only if accepted.
#[test]
fn a_contingency_is_called_once_and_in_time() {
    let desk = Desk::new();
    let file = desk.path("project.toml");
    let text = std::fs::read_to_string(&file).expect("project");
    let risk = "\n[[risk]]\nid = \"pipe\"\ntitle = \"The old pipe\"\ntext = \"It may leak.\"\noption = [\n\
                { is = \"nothing\", words = \"Leave it.\" },\n\
                { is = \"contingency\", words = \"Mend it.\", price = \"12.50\", until = 2026-05-01 } ]\n";
    std::fs::write(&file, format!("{text}{risk}")).expect("project");
    desk.issue("approval");
    let by = ["--by", "Ann Body", "--day"];
    let act = |args: &[&str], day: &str| {
        let all: Vec<&str> = ["record"]
            .iter()
            .chain(args)
            .chain(&by)
            .copied()
            .chain([day])
            .collect();
        desk.run(&all)
    };
    let becomes = |what: &str, day: &str| {
        act(
            &["contingency", "project.toml", "pipe/contingency", what],
            day,
        )
    };
    let early = becomes("called", "2026-03-01");
    assert!(
        early.code == 2 && early.err.contains("was not accepted"),
        "{}",
        early.err
    );
    let agreed = act(&["signed", "project.toml", "--agree", "pipe"], "2026-02-01");
    assert!(agreed.err.contains("offers a choice"), "{}", agreed.err);
    let unknown = act(
        &["signed", "project.toml", "--choose", "pipe=cheap"],
        "2026-02-01",
    );
    assert!(
        unknown.err.contains("it offers contingency, nothing"),
        "{}",
        unknown.err
    );
    assert_eq!(
        act(
            &["signed", "project.toml", "--choose", "pipe=contingency"],
            "2026-02-01"
        )
        .code,
        0
    );
    let now = desk.run(&["agreements", "project.toml"]);
    assert!(
        now.out
            .contains("not called so far; it may be until 2026-05-01"),
        "{}",
        now.out
    );
    assert!(
        now.out
            .contains("contingency was chosen, and the project file of this revision says nothing"),
        "{}",
        now.out
    );
    let later = desk.run(&["agreements", "project.toml", "--day", "2026-06-01"]);
    assert!(
        later.out.contains("its last day, 2026-05-01, is over"),
        "{}",
        later.out
    );
    for (what, day, why) in [
        ("called", "2026-05-02", "could be called until 2026-05-01"),
        ("expired", "2026-05-01", "it is not expired"),
    ] {
        let run = becomes(what, day);
        assert!(run.code == 2 && run.err.contains(why), "{}", run.err);
    }
    assert_eq!(becomes("called", "2026-05-01").code, 0);
    let twice = becomes("not-needed", "2026-05-01");
    assert!(
        twice.err.contains("is called already, since 2026-05-01"),
        "{}",
        twice.err
    );
    let now = desk.run(&["agreements", "project.toml"]);
    assert!(
        now.out.contains("[pipe/contingency]: called on 2026-05-01"),
        "{}",
        now.out
    );
    assert_eq!(verified(&desk).code, 0);
    // The choice, once it stands in the project file, is no other question.
    desk.edit("2026-05-01 } ]", "2026-05-01 } ]\nchoice = \"contingency\"");
    let run = desk.issue("approval");
    assert!(!run.err.contains("lapsed"), "{}", run.err);
    // Another choice is: it is not what the client chose.
    desk.edit("choice = \"contingency\"", "choice = \"nothing\"");
    let run = desk.issue("approval");
    assert!(
        run.err.contains("lapsed: Disclosure: The old pipe"),
        "{}",
        run.err
    );
    desk.edit("choice = \"nothing\"", "choice = \"contingency\"");
    desk.issue("approval");
    let again = ["signed", "project.toml", "--choose", "pipe=contingency"];
    assert_eq!(act(&again, "2026-05-02").code, 0);
    // So is another price.
    desk.edit("12.50", "15.00");
    let run = desk.issue("approval");
    assert!(
        run.err.contains("lapsed: Disclosure: The old pipe"),
        "{}",
        run.err
    );
}

/// Today is what the caller of a reproducible build says it is.
#[test]
fn the_day_is_the_one_that_is_set() {
    let desk = Desk::new();
    desk.issue("approval");
    let run = Command::new(env!("CARGO_BIN_EXE_rodbook"))
        .args(["record", "presented", "project.toml", "--by", "Ann Body"])
        .current_dir(desk.path(""))
        .env("SOURCE_DATE_EPOCH", "1770000000")
        .output()
        .expect("it runs");
    let said = String::from_utf8_lossy(&run.stderr);
    // 1770000000 is 2 February 2026, 02:40 in universal time (by `date -u -d @1770000000`).
    assert!(
        said.contains("issue presented, Ann Body, client, 2026-02-02"),
        "{said}"
    );
}

/// Every kind of file: one byte of it changed, and the file gone.
#[test]
fn whatever_is_changed_after_it_was_written_is_named() {
    let desk = signed();
    desk.edit("shelves = 3", "shelves = 4");
    desk.issue("fitting");
    let held = std::fs::read_dir(desk.path("signoff/held"))
        .expect("kept")
        .next()
        .expect("one")
        .expect("one")
        .file_name();
    let held = format!("held/{}", held.to_string_lossy());
    let drawing = std::fs::read_dir(desk.path("issued/A/drawings"))
        .expect("drawings")
        .next()
        .expect("one")
        .expect("one")
        .file_name();
    let drawing = format!("drawings/{}", drawing.to_string_lossy());
    let mut dice = Dice(11);
    let files: Vec<(String, &str)> = vec![
        ("issued/A/frozen-job.json".into(), "A"),
        ("issued/B/frozen-job.json".into(), "B"),
        ("issued/A/manifest.json".into(), "A/manifest.json"),
        ("issued/B/manifest.json".into(), "B/manifest.json"),
        ("issued/A/client.pdf".into(), "revision A: client.pdf was"),
        ("issued/B/fitter.pdf".into(), "revision B: fitter.pdf was"),
        (format!("issued/A/{drawing}"), "revision A: drawings/"),
        (format!("signoff/{held}"), "the scan of entry 1"),
        ("signoff/record.jsonl".into(), "record: line"),
        ("signoff/record.head".into(), "record.head"),
    ];
    for (name, said) in &files {
        let path = desk.path(name);
        let whole = std::fs::read(&path).expect(name);
        for _ in 0..4 {
            let mut bytes = whole.clone();
            let at = dice.below(bytes.len() - 1);
            bytes[at] ^= 1 << dice.below(8);
            std::fs::write(&path, &bytes).expect(name);
            let run = verified(&desk);
            assert_eq!(run.code, 1, "byte {at} of {name}: {}", run.out);
            assert!(run.out.contains(said), "byte {at} of {name}: {}", run.out);
        }
        std::fs::remove_file(&path).expect(name);
        let run = verified(&desk);
        assert_eq!(run.code, 1, "{name} gone: {}", run.out);
        assert!(
            run.out.contains("missing") || run.out.contains("no such file"),
            "{name} gone: {}",
            run.out
        );
        std::fs::write(&path, &whole).expect(name);
    }
    for (strange, said) in [
        ("issued/A/more.pdf", "more.pdf was put in"),
        ("signoff/held/more.png", "no entry names held/more.png"),
    ] {
        std::fs::write(desk.path(strange), "more").expect(strange);
        let run = verified(&desk);
        assert!(run.code == 1 && run.out.contains(said), "{}", run.out);
        std::fs::remove_file(desk.path(strange)).expect(strange);
    }
    // Several at once: none hides behind another.
    let several = [
        "issued/A/frozen-job.json",
        "issued/B/client.pdf",
        "issued/B/fitter.pdf",
        "signoff/record.jsonl",
    ];
    let whole: Vec<Vec<u8>> = several
        .iter()
        .map(|n| std::fs::read(desk.path(n)).expect(n))
        .collect();
    for (name, bytes) in several.iter().zip(&whole) {
        let mut bytes = bytes.clone();
        let last = bytes.len() - 9;
        bytes[last] ^= 1;
        std::fs::write(desk.path(name), bytes).expect(name);
    }
    let run = verified(&desk);
    for said in [
        "issued/A/frozen-job.json",
        "revision A: frozen-job.json",
        "revision B: client.pdf",
        "revision B: fitter.pdf",
        "record: line",
    ] {
        assert!(run.out.contains(said), "{said}: {}", run.out);
    }
    for (name, bytes) in several.iter().zip(&whole) {
        std::fs::write(desk.path(name), bytes).expect(name);
    }
    // An elevation lapsed with revision B: that is no tampering.
    assert!(
        verified(&desk)
            .out
            .contains("Everything is as it was written")
    );
}

/// The newest issue is looked at whole before another is built on it, and the record before an entry is.
#[test]
fn nothing_is_built_on_what_was_changed() {
    let desk = signed();
    let client = desk.path("issued/A/client.pdf");
    let whole = std::fs::read(&client).expect("a pack");
    std::fs::write(&client, [whole.as_slice(), b" "].concat()).expect("written");
    desk.edit("shelves = 3", "shelves = 4");
    let run = desk.run(&["issue", "project.toml", "--for", "approval"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("client.pdf was changed"), "{}", run.err);
    std::fs::write(&client, whole).expect("written");
    let record = desk.path("signoff/record.jsonl");
    let text = std::fs::read_to_string(&record).expect("a record");
    std::fs::write(&record, text.replace("Ann", "Bob")).expect("written");
    let run = desk.run(&[
        "record",
        "snag",
        "project.toml",
        "W1",
        "rubs",
        "--by",
        "Ann Body",
    ]);
    assert!(run.code == 2 && run.err.contains("line 1"), "{}", run.err);
    let run = desk.run(&["issue", "project.toml", "--for", "approval"]);
    assert!(run.code == 2 && run.err.contains("line 1"), "{}", run.err);
}

/// A reply of the alcove's client to its newest issue, as a telephone writes it: agreed to all, or as changed.
fn reply(desk: &Desk, change: impl FnOnce(&mut serde_json::Value)) -> String {
    let revision = names(&desk.path("issued")).pop().expect("issued");
    let frozen = desk.path("issued").join(&revision).join("frozen-job.json");
    let frozen = std::fs::read_to_string(frozen).expect("a frozen job");
    let hash = sha256(frozen.as_bytes());
    let frozen = rodbook::compare::Frozen::read(&frozen).expect("reads");
    let asked = rodbook::compare::subjects(&frozen.record);
    let theirs = asked
        .iter()
        .filter(|s| s.roles.iter().any(|r| r == "client"));
    let answers: Vec<serde_json::Value> = theirs
        .map(|s| match s.kind {
            rodbook::compare::SubjectKind::Disclosure => {
                serde_json::json!({"subject": s.key, "hash": s.hash, "answer": "left"})
            }
            _ => serde_json::json!({"subject": s.key, "hash": s.hash, "answer": "agreed", "initials": "AB"}),
        })
        .collect();
    let mut reply = serde_json::json!({
        "rodbook_reply": 1, "job": frozen.job, "revision": revision, "draft": false, "issue": hash,
        "answers": answers, "name": "Ann Body", "role": "client", "place": "at home", "day": "2026-02-03",
        "signed": "drawn", "signature": format!("data:image/png;base64,{DOT}"), "made": "2026-02-03T10:00:00Z",
    });
    change(&mut reply);
    let check = sha256(
        rodbook::compare::canonical::json(&reply)
            .expect("canonical")
            .as_bytes(),
    );
    reply["check"] = check.into();
    rodbook::compare::canonical::json(&reply).expect("canonical")
}

/// One transparent dot as a PNG.
const DOT: &str = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==";

#[test]
fn a_reply_file_is_recorded_with_its_signature() {
    let desk = Desk::new();
    desk.issue("approval");
    let text = reply(&desk, |r| {
        r["answers"][0]["answer"] = "left".into();
        r["answers"][0]
            .as_object_mut()
            .expect("an answer")
            .remove("initials");
        r["answers"][1]["answer"] = "declined".into();
        r["answers"][1]["note"] = "too dark\nfor us".into();
        r["remark"] = "see you soon".into();
    });
    std::fs::write(desk.path("answer.json"), text).expect("written");
    let run = desk.run(&["record", "reply", "project.toml", "answer.json"]);
    assert_eq!(run.code, 0, "{}", run.err);
    for words in [
        "left unanswered: ",
        "declined: ",
        "too dark",
        "see you soon",
        "kept: signature.png",
    ] {
        assert!(run.err.contains(words), "{words}: {}", run.err);
    }
    let now = desk.run(&["agreements", "project.toml"]);
    assert!(
        now.out
            .contains("Ann Body, 2026-02-03, by a reply file, revision A"),
        "{}",
        now.out
    );
    assert_eq!(names(&desk.path("signoff/held")).len(), 2);
    assert_eq!(verified(&desk).code, 0);
}

#[test]
fn what_was_agreed_is_handed_over_with_the_signatures_on_it() {
    let desk = Desk::new();
    let early = desk.run(&["handover", "project.toml"]);
    assert!(
        early.code == 2 && early.err.contains("nothing is issued yet"),
        "{}",
        early.err
    );
    desk.issue("approval");
    // A remark may hold what no bundled letter prints.
    let text = reply(&desk, |r| r["remark"] = "see you \u{1F600} soon".into());
    std::fs::write(desk.path("answer.json"), text).expect("written");
    assert_eq!(
        desk.run(&["record", "reply", "project.toml", "answer.json"])
            .code,
        0
    );
    let mut made = Vec::new();
    for name in ["one.pdf", "more/two.pdf"] {
        let run = desk.run(&["handover", "project.toml", "--out", name]);
        assert_eq!(run.code, 0, "{}", run.err);
        made.push(std::fs::read(desk.path(name)).expect("written"));
    }
    assert!(made[0] == made[1], "the same record gives the same bytes");
    let pages = crate::reader::text(&made[0]).join("");
    let hash = ledger_of(&desk).last().to_owned();
    for words in [
        "AnnBody,client",
        "byareplyfile",
        "seeyou?soon",
        "signature.png",
        hash.as_str(),
    ] {
        assert!(pages.contains(words), "{words}: {pages}");
    }
    // What was kept and changed since is not handed over as if it were what was kept.
    let held = names(&desk.path("signoff/held"));
    std::fs::write(desk.path("signoff/held").join(&held[0]), "another").expect("written");
    let run = desk.run(&["handover", "project.toml"]);
    assert!(
        run.code == 2 && run.err.contains("was changed"),
        "{}",
        run.err
    );
}

#[test]
fn a_reply_to_anything_else_or_damaged_is_refused_and_said() {
    type Change = fn(&mut serde_json::Value);
    let desk = Desk::new();
    desk.issue("approval");
    let cases: &[(Change, &str)] = &[
        (|r| r["job"] = "J-9".into(), "it is about job J-9"),
        (|r| r["draft"] = true.into(), "it answers a draft"),
        (
            |r| r["issue"] = "0".repeat(64).into(),
            "with another content than the one issued",
        ),
        (|r| r["revision"] = "Z".into(), "there is no revision Z"),
        (
            |r| r["role"] = "mayor".into(),
            "nothing is asked of the role",
        ),
        (|r| r["name"] = " ".into(), "does not say who answers"),
        (|r| r["day"] = "yesterday".into(), "is no day"),
        (
            |r| r["answers"][0]["hash"] = "0".repeat(64).into(),
            "was shown with another content",
        ),
        (
            |r| drop(r["answers"].as_array_mut().expect("a list").remove(0)),
            "was left out of it",
        ),
        (
            |r| r["answers"][1] = r["answers"][0].clone(),
            "is answered twice",
        ),
        (
            |r| r["answers"][0]["subject"] = "plan <b>moon".into(),
            "which the issue does not ask",
        ),
        (
            |r| r["answers"][0]["option"] = "cheap".into(),
            "has no option",
        ),
        (
            |r| r["answers"][0]["initials"] = "x".repeat(500).into(),
            "characters, and 120 are the most",
        ),
        (
            |r| r["signature"] = "data:image/png;base64,AAAA".into(),
            "its signature is no picture",
        ),
        (
            |r| r["signature"] = "https://example.org/x.png".into(),
            "its signature is no picture",
        ),
        (
            |r| r["signed"] = "typed".into(),
            "how it is signed does not fit",
        ),
        (|r| r["more"] = 1.into(), "it is no reply file"),
        (|r| r["rodbook_reply"] = 2.into(), "a reply of form 2"),
        (|r| r["name"] = "Ann\u{7}".into(), "no letter and no sign"),
    ];
    let refused = |text: &str, why: &str| {
        std::fs::write(desk.path("answer.json"), text).expect("written");
        let run = desk.run(&["record", "reply", "project.toml", "answer.json"]);
        assert_eq!(run.code, 2, "{why}: {}", run.err);
        assert!(run.err.contains(why), "{why}: {}", run.err);
        assert!(!desk.path("signoff").exists(), "{why}");
    };
    for (change, why) in cases {
        refused(&reply(&desk, change), why);
    }
    let whole = reply(&desk, |_| {});
    refused(
        &whole.replace("at home", "at work"),
        "its check does not fit",
    );
    refused(
        &whole.replacen(':', ": ", 1),
        "not written as the page writes it",
    );
    refused("", "it is no reply file");
    refused(&"[".repeat(100_000), "it is no reply file");
    refused(&" ".repeat(5 << 20), "is the most");
}

/// Not a test: what the killed and the competing writers run. Says each number once the disk has it.
#[test]
fn a_writer() {
    let Ok(project) = std::env::var("RODBOOK_WRITES") else {
        return;
    };
    let project = PathBuf::from(project);
    for n in 0..100_000 {
        let act = Act {
            day: "2026-02-02".to_owned(),
            who: Some(Who {
                name: "Ann Body".to_owned(),
                role: "client".to_owned(),
                place: String::new(),
            }),
            revision: None,
            does: Does::Snag {
                about: "W1".to_owned(),
                words: format!("number {n}"),
            },
            scans: Vec::new(),
            key: None,
        };
        let done = app::record(&project, act).unwrap_or_else(|_| panic!("recorded"));
        println!("wrote {}", done.entry.seq);
        std::io::stdout().flush().expect("heard");
    }
}

fn writer(project: &Path) -> Child {
    Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "signing::a_writer", "--nocapture"])
        .env("RODBOOK_WRITES", project)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts")
}

/// Reads what a writer says until it has said so many numbers, then kills it; gives the last it said.
fn heard(child: &mut Child, count: usize) -> u32 {
    let mut lines = BufReader::new(child.stdout.take().expect("its words")).lines();
    let mut last = 0;
    for _ in 0..count {
        let said = lines.by_ref().find_map(|l| {
            let line = l.expect("words");
            line.rsplit_once("wrote ")
                .and_then(|(_, n)| n.trim().parse().ok())
        });
        last = said.expect("it writes until it is killed");
    }
    child.kill().expect("killed");
    // What it said between.
    let rest = lines.filter_map(|l| l.ok()?.rsplit_once("wrote ")?.1.trim().parse().ok());
    last = rest.fold(last, u32::max);
    child.wait().expect("it ends");
    last
}

fn ledger_of(desk: &Desk) -> rodbook::signoff::Ledger {
    let opened = ledger::open(&desk.path("signoff")).expect("opens");
    chain::read(opened.whole(), opened.head().expect("a head").as_deref())
}

/// Some three hundred appends by writers that are killed at instants nobody chose.
#[test]
fn killed_writers_lose_nothing_that_they_said_was_written() {
    let desk = Desk::new();
    desk.issue("approval");
    let mut dice = Dice(7);
    for round in 0..20 {
        let mut child = writer(&desk.path("project.toml"));
        let last = heard(&mut child, 1 + dice.below(30));
        let ledger = ledger_of(&desk);
        assert_eq!(ledger.faults, [], "round {round}");
        assert!(
            ledger.entries.len() >= last as usize,
            "round {round}: {} of {last}",
            ledger.entries.len()
        );
    }
    assert!(ledger_of(&desk).entries.len() > 200);
    assert_eq!(verified(&desk).code, 0);
}

#[test]
fn two_writers_at_once_take_turns() {
    let desk = Desk::new();
    desk.issue("approval");
    let project = desk.path("project.toml");
    let mut children = [writer(&project), writer(&project)];
    let last: Vec<u32> = children.iter_mut().map(|c| heard(c, 40)).collect();
    let ledger = ledger_of(&desk);
    assert_eq!(ledger.faults, []);
    assert!(ledger.entries.len() >= 80, "{last:?}");
}

/// An issue killed at any instant is whole or is none.
#[test]
fn a_killed_issue_is_whole_or_is_not_there() {
    let desk = Desk::new();
    let issued = desk.path("issued");
    let count = |folder: &Path| std::fs::read_dir(folder).map_or(0, |all| all.count());
    let mut dice = Dice(3);
    let mut killed = 0;
    for round in 0..14 {
        let before = names(&issued);
        let mut child = Command::new(env!("CARGO_BIN_EXE_rodbook"))
            .args([
                "issue",
                "project.toml",
                "--for",
                if round % 2 == 0 {
                    "approval"
                } else {
                    "fitting"
                },
            ])
            .current_dir(desk.path(""))
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        // Until so many files of it are there, or it is done.
        let wanted = dice.below(9);
        let ended = loop {
            let unfinished = std::fs::read_dir(&issued).ok().and_then(|all| {
                let mut all = all.flatten().map(|e| e.path());
                all.find(|p| {
                    p.file_name()
                        .is_some_and(|n| n.to_string_lossy().starts_with(".unfinished"))
                })
            });
            match unfinished {
                Some(path) if count(&path) + count(&path.join("drawings")) >= wanted => {
                    break false;
                }
                _ => {}
            }
            if child.try_wait().expect("asked").is_some() {
                break true;
            }
        };
        child.kill().expect("killed or done");
        child.wait().expect("it ends");
        killed += usize::from(!ended);
        let after = names(&issued);
        assert!(
            after.len() <= before.len() + 1 && after.starts_with(&before),
            "{before:?} {after:?}"
        );
        let run = verified(&desk);
        assert_eq!(run.code, 0, "round {round}: {}", run.out);
        assert!(!run.out.contains("WRONG"), "{}", run.out);
    }
    assert!(killed > 5, "{killed}");
}

/// Finished issues.
fn names(folder: &Path) -> Vec<String> {
    let all = std::fs::read_dir(folder).map(|all| {
        all.flatten()
            .map(|e| e.file_name().to_string_lossy().into_owned())
            .collect()
    });
    let mut all: Vec<String> = all.unwrap_or_default();
    all.retain(|n| !n.starts_with('.'));
    all.sort();
    all
}
