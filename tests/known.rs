//! A finding that is known neither blocks nor warns, and is printed with its reason everywhere.

use std::path::Path;

use crate::reader;
use crate::support::rodbook;

const WHY: &str = "The door comes off its frame for the day.";

/// A bookcase that does not pass a door of its way in, known or not.
fn project(known: bool) -> String {
    let known = match known {
        true => format!("[[known]]\nfinding = \"does-not-pass\"\nwhy = \"{WHY}\"\n"),
        false => String::new(),
    };
    format!(
        r#"
rodbook = 1
[job]
number = "E-2"
title  = "A tight door"
client = "Ms Ida Quillfeather"
date   = 2026-01-12
[[room]]
id     = "study"
closed = false
[[room.wall]]
id     = "B"
length = 3000
[[way_in]]
is     = "door"
what   = "hatch"
width  = 400
height = 500
[[run]]
id   = "low"
wall = "study.B"
from = 500
to   = 2500
top  = 1900
unit = [{{ id = "shelves", width = 2000, bay = [{{ shelves = 1 }}, {{ shelves = 1 }}, {{ shelves = 1 }}] }}]
{known}"#
    )
}

fn check(folder: &Path, known: bool, more: &[&str]) -> crate::support::Run {
    std::fs::write(folder.join("job.toml"), project(known)).expect("written");
    let args: Vec<&str> = ["check", "job.toml"].iter().chain(more).copied().collect();
    rodbook(folder, &args)
}

#[test]
fn a_known_finding_neither_blocks_nor_loses_its_reason() {
    let temp = tempfile::tempdir().expect("a folder");
    let plain = check(temp.path(), false, &[]);
    assert_eq!(plain.code, 1, "{}{}", plain.out, plain.err);
    assert!(plain.out.contains("blocks: "), "{}", plain.out);
    let known = check(temp.path(), true, &[]);
    assert_eq!(known.code, 0, "{}{}", known.out, known.err);
    assert!(!known.out.contains("blocks: "), "{}", known.out);
    assert!(
        known.out.contains(&format!("    known: {WHY}")),
        "{}",
        known.out
    );
    let json = check(temp.path(), true, &["--format", "json"]);
    let said: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    let findings = said["findings"].as_array().expect("a list");
    let one = findings.iter().find(|f| f["code"] == "does-not-pass");
    assert_eq!(one.expect("found")["known"], WHY);
}

#[test]
fn both_packs_print_a_known_finding_with_its_reason() {
    let temp = tempfile::tempdir().expect("a folder");
    std::fs::write(temp.path().join("job.toml"), project(true)).expect("written");
    let run = rodbook(temp.path(), &["pack", "job.toml"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    assert!(run.err.contains("known: rodbook check"), "{}", run.err);
    for (name, words) in [
        ("client.pdf", "Why it stands"),
        ("fitter.pdf", "Known, and why it may stand"),
    ] {
        let bytes = std::fs::read(temp.path().join("out").join(name)).expect("a pack");
        let text = reader::text(&bytes).concat();
        let squeezed = reader::squeeze(&text);
        assert!(squeezed.contains(&reader::squeeze(words)), "{name}");
        assert!(squeezed.contains(&reader::squeeze(WHY)), "{name}");
    }
}
