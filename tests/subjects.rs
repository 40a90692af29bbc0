//! Subjects: a change lapses what it alters, and nothing else.

use rodbook::compare::{Record, SubjectKind, register, subjects};

use crate::comparing::{edited, example, job, otherwise};
use rodbook::diag::Diagnostics;
use rodbook::read;
use rodbook::resolve::fill;

/// Keys of what was altered, came or went between two jobs.
fn lapsed(a: &Record, b: &Record) -> Vec<String> {
    let (a, b) = (subjects(a), subjects(b));
    let mut out: Vec<String> = Vec::new();
    for old in &a {
        match b.iter().find(|s| s.key == old.key) {
            Some(new) if new.hash == old.hash => {}
            Some(_) => out.push(old.key.clone()),
            None => out.push(format!("{} gone", old.key)),
        }
    }
    for new in &b {
        if !a.iter().any(|s| s.key == new.key) {
            out.push(format!("{} new", new.key));
        }
    }
    out
}

#[test]
fn explore() {
    let text = example();
    let whole = job(&text).expect("sound");
    for s in subjects(&whole) {
        println!(
            "{} | {} | {:?} | {}",
            s.key,
            s.named(),
            s.roles,
            &s.hash[..8]
        );
    }
    let mut diags = Diagnostics::default();
    let filled = fill(
        &read::project(&text, &mut diags).expect("reads"),
        &mut diags,
    );
    let listing = read::listing(&filled, &text);
    let lines: Vec<&str> = listing.lines().collect();
    let whole = job(&listing).expect("sound");
    let mut table = String::new();
    for (n, line) in lines.iter().enumerate() {
        if let Some((key, rest)) = line.split_once(" = ") {
            let Some((value, from)) = rest.rsplit_once("  # ") else {
                continue;
            };
            let Some(now) = otherwise(value) else {
                continue;
            };
            let mut edited = lines.clone();
            let line = format!("{key} = {now}  # {from}");
            edited[n] = &line;
            let Some(other) = job(&edited.join("\n")) else {
                continue;
            };
            let gone = lapsed(&whole, &other);
            let register = register(&whole, &other, "a", "b");
            let mut agree: Vec<&str> = register
                .entries
                .iter()
                .flat_map(|e| e.agree.clone())
                .collect();
            agree.sort();
            agree.dedup();
            let about = register
                .entries
                .iter()
                .map(|e| format!("{} [{}] {:?}", e.about, e.sort.word(), e.changes))
                .collect::<Vec<_>>()
                .join("; ");
            let client = gone
                .iter()
                .any(|k| !k.starts_with("survey") && !k.starts_with("way in"));
            let says = agree.contains(&"client");
            let mark = if client == says { " " } else { "X" };
            table.push_str(&format!("{mark} {about} || {agree:?} || {gone:?}\n"));
        }
    }
    std::fs::write("/tmp/rec/explore.txt", table).expect("x");
}
