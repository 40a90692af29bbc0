//! What came of a change, told shortly: like changes of like things in one line. Knows sizes and
//! directions; must not know what caused them.

use std::collections::{BTreeMap, BTreeSet};

use super::change::{Change, FactChange};
use super::record::{Fact, Record, Thing};
use super::{takes, words};

/// Lines at most: what is left is counted, and stands in the schedules and in the JSON.
const MOST: usize = 24;

/// Facts that follow from others which are told already.
const LEFT_OUT: &[&str] = &[
    "after",
    "face from the wall",
    "handle at",
    "handle up",
    "carried mass",
    "scribed to",
    "blank to cut",
    "order of work",
    "about",
];

const KINDS_FIRST: &[&str] = &["front", "unit", "panel", "sliding", "worktop", "run"];
const FACTS_FIRST: &[&str] = &["width", "height", "left edge", "bottom", "number"];

/// Place in a list, or after all of it.
fn rank(list: &[&str], of: &str) -> usize {
    list.iter().position(|w| *w == of).unwrap_or(list.len())
}

pub fn words(a: &Record, b: &Record, follows: &[&Change]) -> Vec<String> {
    let mut groups: BTreeMap<(String, String, String), Vec<&FactChange>> = BTreeMap::new();
    let mut lines: Vec<String> = Vec::new();
    let mut findings = Vec::new();
    let mut ordered: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    let mut quiet = 0usize;
    let mut renamed: BTreeMap<&str, Vec<(&str, &str)>> = BTreeMap::new();
    let mut came: BTreeMap<(&str, &str), Vec<&Thing>> = BTreeMap::new();
    // A risk's words have its number in them.
    let numbered: BTreeSet<&str> = follows
        .iter()
        .filter_map(|c| match c {
            Change::Fact(c) if c.fact == "number" => Some(c.thing.as_str()),
            _ => None,
        })
        .collect();
    for change in follows.iter().copied() {
        match change {
            Change::Fact(c) if c.fact == "text" && numbered.contains(c.thing.as_str()) => {
                quiet += 1
            }
            Change::Added(t) if t.kind == "finding" => {
                findings.push(format!("found now: {}", t.text("text").unwrap_or("")));
            }
            Change::Removed(t) if t.kind == "finding" => {
                findings.push(format!("no longer found: {}", t.text("text").unwrap_or("")));
            }
            Change::Added(t) => came.entry((&t.kind, "new")).or_default().push(t),
            Change::Removed(t) => came.entry((&t.kind, "gone")).or_default().push(t),
            Change::Renamed { from, to } => {
                renamed
                    .entry(&to.kind)
                    .or_default()
                    .push((&from.id, &to.id));
            }
            Change::Fact(c) if takes::LISTED.contains(&c.fact.as_str()) => quiet += 1,
            Change::Fact(c) if LEFT_OUT.contains(&c.fact.as_str()) || c.fact.is_empty() => {
                quiet += 1
            }
            Change::Fact(c) if is_slight(c) => quiet += 1,
            Change::Fact(c) if is_amount(b, c) => {
                ordered.entry(&c.thing).or_default().push(words::change(c));
            }
            Change::Fact(c) => {
                let thing = b.things.get(&c.thing);
                if let Some(finding) = thing.filter(|t| t.kind == "finding") {
                    if c.fact == "text" {
                        let about = words::thing(b, finding);
                        let text = finding.text("text").unwrap_or("");
                        findings.push(format!("{about} now: {text}"));
                    }
                    continue;
                }
                let kind = b.things.get(&c.thing).map_or("", |t| t.kind.as_str());
                let key = (kind.to_owned(), c.fact.clone(), alike(c));
                groups.entry(key).or_default().push(c);
            }
        }
    }
    // What people look at first, and of that the sizes.
    let mut groups: Vec<_> = groups.into_iter().collect();
    groups.sort_by_key(|((kind, fact, _), _)| (rank(KINDS_FIRST, kind), rank(FACTS_FIRST, fact)));
    for ((kind, fact, _), changes) in &groups {
        lines.push(group(b, kind, fact, changes));
    }
    for ((kind, how), things) in came {
        let record = if how == "new" { b } else { a };
        lines.push(format!("{how}: {}", words::several(record, kind, &things)));
    }
    for (kind, names) in renamed {
        let first = names.first().copied().unwrap_or_default();
        lines.push(match names.len() {
            1 => format!("{kind} {} is now called {}", first.0, first.1),
            n => format!(
                "{n} {kind}s have other ids, as {} is now {}",
                first.0, first.1
            ),
        });
    }
    lines.extend(findings);
    for (thing, amounts) in ordered {
        if let Some(thing) = b.things.get(thing) {
            lines.push(format!(
                "{}: {}",
                words::thing(b, thing),
                amounts.join(", ")
            ));
        }
    }
    if lines.is_empty() && quiet > 0 {
        lines.push(match quiet {
            1 => "one lesser figure with it".to_owned(),
            n => format!("{n} lesser figures with it"),
        });
    }
    if lines.len() > MOST {
        let more = lines.len() - MOST;
        lines.truncate(MOST);
        lines.push(format!("and {more} more, in the schedules"));
    }
    lines
}

/// How much of something is ordered: all of one thing in one line.
fn is_amount(b: &Record, c: &FactChange) -> bool {
    let thing = b.things.get(&c.thing);
    thing.is_some_and(|t| takes::KINDS.contains(&t.kind.as_str()))
}

/// A difference that no scale shows, under 50 g; or one that rounding hides.
fn is_slight(c: &FactChange) -> bool {
    match (&c.old, &c.new) {
        (Some(Fact::Grams(old)), Some(Fact::Grams(new))) => (new - old).abs() < 50,
        (Some(Fact::SquareMm(_) | Fact::Millilitres(_)), Some(_)) => words::is_hidden(c),
        (Some(Fact::Um(_)), Some(_)) => {
            takes::EDGES.contains(&c.fact.as_str()) && words::is_hidden(c)
        }
        _ => false,
    }
}

/// What makes two changes of one fact alike enough for one line.
fn alike(c: &FactChange) -> String {
    match (&c.old, &c.new) {
        (Some(Fact::Um(old)), Some(Fact::Um(new))) if c.fact != "left edge" => {
            (new - old).to_string()
        }
        (Some(Fact::Um(old)), Some(Fact::Um(new))) => (new > old).to_string(),
        (Some(Fact::Grams(old)), Some(Fact::Grams(new))) => (new > old).to_string(),
        (Some(Fact::Count(_)), Some(Fact::Count(_))) if c.fact == "number" => String::new(),
        (Some(Fact::List(_)), Some(Fact::List(_))) => String::new(),
        (old, new) => format!(
            "{}{}",
            words::value(old.as_ref()),
            words::value(new.as_ref())
        ),
    }
}

fn group(b: &Record, kind: &str, fact: &str, changes: &[&FactChange]) -> String {
    let things: Vec<&Thing> = changes
        .iter()
        .filter_map(|c| b.things.get(&c.thing))
        .collect();
    let who = words::several(b, kind, &things);
    let grown = |pick: fn(&Fact) -> Option<i64>| -> Option<(i64, i64)> {
        let by = changes.iter().map(|c| {
            let (old, new) = (c.old.as_ref()?, c.new.as_ref()?);
            Some(pick(new)? - pick(old)?)
        });
        let by: Vec<i64> = by.collect::<Option<_>>()?;
        Some((*by.iter().min()?, *by.iter().max()?))
    };
    let um = |f: &Fact| match f {
        Fact::Um(n) => Some(*n),
        _ => None,
    };
    let grams = |f: &Fact| match f {
        Fact::Grams(n) => Some(*n),
        _ => None,
    };
    let long = |f: &Option<Fact>| matches!(f, Some(Fact::List(items)) if items.len() > 8);
    if let [one] = changes
        && !long(&one.old)
        && !long(&one.new)
    {
        return format!("{who}: {}", words::change(one));
    }
    if fact == "number" {
        let was = |pick: fn(&FactChange) -> &Option<Fact>| {
            let numbers = changes.iter().filter_map(|c| match pick(c) {
                Some(Fact::Count(n)) => Some(*n),
                _ => None,
            });
            let mut numbers: Vec<u32> = numbers.collect();
            numbers.sort_unstable();
            words::ranges(&numbers)
        };
        return format!(
            "fronts {} are now numbered {}",
            was(|c| &c.old),
            was(|c| &c.new)
        );
    }
    if let Some((least, most)) = grown(um) {
        return format!("{who}: {}", words::by(fact, least, most, false));
    }
    if let Some((least, most)) = grown(grams) {
        return format!("{who}: {}", words::by(fact, least, most, true));
    }
    match changes.first() {
        Some(first) if alike(first).is_empty() => format!("{who}: other {}", words::fact(fact)),
        Some(first) => format!("{who}: {}", words::change(first)),
        None => who,
    }
}
