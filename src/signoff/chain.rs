//! The lines of a record, each bound to the one before, and what is wrong with them. Knows hashes and
//! line numbers; must not know what an entry means.
//!
//! A line that was changed is told from its neighbours: the line after it names another hash. The last line
//! has no such neighbour, so a second small file, the head, names it.

use serde::{Deserialize, Serialize};

use super::entry::{Entry, FORM, NOTHING_BEFORE, is_day};
use super::key;
use crate::compare::canonical::{self, sha256};

/// What is wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// From 1; nothing, where it is no line's fault.
    pub line: Option<usize>,
    pub words: String,
}

/// The record as it was read: whole lines that hold, and everything wrong.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    /// Every line that is an entry, in the order of the file.
    pub entries: Vec<Entry>,
    /// Of each entry its line's hash.
    pub hashes: Vec<String>,
    pub faults: Vec<Fault>,
    /// Bytes after the last whole line: what an interrupted writer left.
    pub torn: usize,
    /// Whether the head does not know the last entry: whoever wrote it was interrupted, or it was put in by
    /// hand.
    pub behind: bool,
}

impl Ledger {
    /// The hash that the next entry is to name.
    pub fn last(&self) -> &str {
        self.hashes.last().map_or(NOTHING_BEFORE, String::as_str)
    }

    /// The number of the next entry.
    pub fn next(&self) -> u32 {
        u32::try_from(self.entries.len())
            .unwrap_or(u32::MAX)
            .saturating_add(1)
    }

    pub fn head(&self) -> Head {
        Head {
            rodbook_record: FORM,
            entries: u32::try_from(self.entries.len()).unwrap_or(u32::MAX),
            last: self.last().to_owned(),
        }
    }
}

/// What the record's last line is: kept in a file of its own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    pub rodbook_record: u32,
    pub entries: u32,
    pub last: String,
}

impl Head {
    /// # Errors
    /// Never: its numbers are small.
    pub fn text(&self) -> Result<String, String> {
        canonical::json(self)
    }
}

/// One line, as far as it can be read.
struct Line {
    entry: Result<Entry, String>,
    hash: String,
}

/// Reads a record. `head`: the text of the head's file, if there is one.
pub fn read(bytes: &[u8], head: Option<&str>) -> Ledger {
    let mut ledger = Ledger::default();
    let mut lines = Vec::new();
    let mut rest = bytes;
    while let Some(end) = rest.iter().position(|b| *b == b'\n') {
        let (line, after) = rest.split_at(end);
        lines.push(Line {
            entry: parsed(line),
            hash: sha256(line),
        });
        rest = after.get(1..).unwrap_or_default();
    }
    ledger.torn = rest.len();
    let first_broken = broken_link(&lines);
    let mut fault = |line: usize, words: String| {
        ledger.faults.push(Fault {
            line: Some(line + 1),
            words,
        });
    };
    for (n, line) in lines.iter().enumerate() {
        let entry = match &line.entry {
            Ok(entry) => entry,
            Err(why) => {
                fault(n, format!("line {} was changed: {why}", n + 1));
                continue;
            }
        };
        if let Some(earlier) = lines.iter().take(n).position(|l| l.hash == line.hash) {
            fault(n, format!("line {} repeats line {}", n + 1, earlier + 1));
            continue;
        }
        if usize::try_from(entry.seq).ok() != Some(n + 1) {
            fault(n, out_of_place(&lines, n, entry));
        }
        if let Err(why) = key::check(entry) {
            fault(n, format!("line {} ({}): {why}", n + 1, entry.called()));
        }
    }
    for (n, words) in first_broken {
        fault(n, words);
    }
    let jobs: Vec<&str> = lines
        .iter()
        .filter_map(|l| Some(l.entry.as_ref().ok()?.job.as_str()))
        .collect();
    if let Some(first) = jobs.first()
        && let Some(n) = jobs.iter().position(|j| j != first)
    {
        fault(n, format!("line {} is of another job than line 1", n + 1));
    }
    check_head(&lines, head, &mut ledger.faults);
    let known = head.and_then(|text| serde_json::from_str::<Head>(text).ok());
    let known = known.map_or(0, |h| usize::try_from(h.entries).unwrap_or(usize::MAX));
    ledger.behind = known < lines.len();
    for line in lines {
        if let Ok(entry) = line.entry {
            ledger.entries.push(entry);
            ledger.hashes.push(line.hash);
        }
    }
    ledger
}

fn parsed(line: &[u8]) -> Result<Entry, String> {
    let text = std::str::from_utf8(line).map_err(|_| "it is not UTF-8 text".to_owned())?;
    let entry: Entry =
        serde_json::from_str(text).map_err(|_| "it is no entry of a record".to_owned())?;
    if entry.rodbook_entry != FORM {
        return Err(format!(
            "it is an entry of form {}, not {FORM}",
            entry.rodbook_entry
        ));
    }
    if entry.line()? != text {
        return Err("it is not written as an entry is".into());
    }
    match is_day(&entry.day) {
        true => Ok(entry),
        false => Err("its day is no day".into()),
    }
}

/// Where lines stand that were dropped, swapped or put in.
fn out_of_place(lines: &[Line], n: usize, entry: &Entry) -> String {
    let here = n + 1;
    let said = usize::try_from(entry.seq).unwrap_or(usize::MAX);
    let there = |seq: usize| {
        lines.iter().any(|l| {
            l.entry
                .as_ref()
                .is_ok_and(|e| usize::try_from(e.seq).ok() == Some(seq))
        })
    };
    match there(here) {
        true => format!("line {here} is entry {said}: it is out of its place"),
        false => format!("line {here} is entry {said}: entry {here} is missing"),
    }
}

/// For each two lines of which the second does not name the first: which of them was changed. Lines that
/// stand out of place are told already.
fn broken_link(lines: &[Line]) -> Vec<(usize, String)> {
    let names = |n: usize| -> Option<bool> {
        let line = lines.get(n)?;
        let entry = line.entry.as_ref().ok()?;
        let before = match n.checked_sub(1) {
            Some(at) => lines.get(at).map(|l| l.hash.as_str())?,
            None => NOTHING_BEFORE,
        };
        Some(entry.before == before)
    };
    let in_place = |n: usize| {
        lines
            .get(n)
            .and_then(|l| l.entry.as_ref().ok())
            .is_none_or(|e| usize::try_from(e.seq).ok() == Some(n + 1))
    };
    let mut out = Vec::new();
    for n in 0..lines.len() {
        if names(n) != Some(false) || !in_place(n) {
            continue;
        }
        // Its own neighbour after it no longer knows it: then it is this line that was changed.
        let itself = n == 0 || names(n + 1) == Some(false) && in_place(n + 1);
        match n.checked_sub(1) {
            Some(before) if !itself && lines.get(before).is_some_and(|l| l.entry.is_ok()) => {
                out.push((
                    before,
                    format!(
                        "line {} was changed after line {} was written, or is not the line that stood \
                         there",
                        before + 1,
                        n + 1
                    ),
                ));
            }
            Some(_) if !itself => {}
            _ => out.push((
                n,
                format!(
                    "line {} was changed: it does not name the line before it",
                    n + 1
                ),
            )),
        }
    }
    out
}

fn check_head(lines: &[Line], head: Option<&str>, faults: &mut Vec<Fault>) {
    let mut fault = |line: Option<usize>, words: String| faults.push(Fault { line, words });
    let Some(text) = head else {
        // The very first writer may have been interrupted before it wrote one.
        if lines.len() > 1 {
            fault(
                None,
                "record.head is missing: nothing says which line is the last".into(),
            );
        }
        return;
    };
    let read: Option<Head> = serde_json::from_str(text).ok();
    let read = read.filter(|h| h.rodbook_record == FORM && h.text().as_deref() == Ok(text));
    let Some(head) = read else {
        fault(
            None,
            "record.head was changed: it is not written as it is written".into(),
        );
        return;
    };
    let entries = usize::try_from(head.entries).unwrap_or(usize::MAX);
    if entries > lines.len() {
        let missing = entries - lines.len();
        let words = match missing {
            1 => format!("entry {entries}, the last, is missing"),
            n => format!(
                "the last {n} entries, {} to {entries}, are missing",
                lines.len() + 1
            ),
        };
        fault(None, words);
        return;
    }
    if lines.len() - entries > 1 {
        fault(
            None,
            format!(
                "record.head is older than the record: it knows {entries} of {} entries",
                lines.len()
            ),
        );
        return;
    }
    let last = match entries.checked_sub(1) {
        Some(at) => lines.get(at).map_or("", |l| l.hash.as_str()),
        None => NOTHING_BEFORE,
    };
    // A line after it vouches for the last that the head knows.
    let vouched = lines
        .get(entries)
        .and_then(|l| l.entry.as_ref().ok())
        .is_some_and(|e| e.before == last);
    if last != head.last {
        let words = match vouched {
            true => "record.head was changed: it names another line than the last".to_owned(),
            false => format!(
                "line {entries} was changed, or record.head was: the head names another line"
            ),
        };
        fault(Some(entries), words);
    }
}
