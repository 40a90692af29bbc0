//! What a project file says, as facts about things. Knows which tables are things of their own and what
//! tells two of a list apart; must not know what a key means.

use std::collections::BTreeMap;

use super::record::{Facts, Record, Thing, key};
use crate::read::canon::{Canon, Fact};
use crate::read::project::Project;
use crate::read::table::Value;

/// The thing that stands for the job as a whole.
pub const JOB: &str = "job";

/// Tables that are called something else than their key.
const KINDS: &[(&str, &str)] = &[
    ("kind", "kind of unit"),
    ("front", "kind of front"),
    ("across", "front"),
    ("set", "set of materials"),
    ("by_others", "work by others"),
    ("way_in", "way in"),
    ("history", "history entry"),
    ("known", "known finding"),
    ("risk", "disclosure"),
    ("diagonals", "diagonal"),
    ("avoid", "flaw"),
    ("fixed", "settled front"),
];

/// Keys that tell the tables of a list apart which have no id, the first that a table has.
const TELLING: &[&str] = &["finding", "name", "what", "leads_to", "on", "is", "front"];

/// Tables of a list that are known by their place in it: from the bottom, as the ids of fronts have
/// it, or from the left.
const FROM_THE_END: &[&str] = &["row"];
const BY_PLACE: &[&str] = &["row", "bay"];
/// Of which the order says nothing.
const IN_ANY_ORDER: &[&str] = &["risk", "option"];

pub fn note(filled: &Project, record: &mut Record) {
    let Canon::Table(keys) = filled.canon() else {
        return;
    };
    let mut whole = Facts::new();
    for (name, value) in keys {
        match value {
            Canon::Fact(fact) => drop(whole.insert(name.to_owned(), fact)),
            Canon::Table(keys) => table(record, name, name, None, keys),
            Canon::Tables(items) => list(record, name, None, items),
            Canon::Named(items) => named(record, name, items),
        }
    }
    record.entry(JOB, JOB).said.append(&mut whole);
}

fn kind(name: &str) -> String {
    let known = KINDS.iter().find(|(key, _)| *key == name);
    known.map_or_else(|| name.replace('_', " "), |(_, kind)| (*kind).to_owned())
}

fn named(record: &mut Record, name: &str, items: Vec<(String, Canon)>) {
    for (id, item) in items {
        if let Canon::Table(keys) = item {
            table(record, &kind(name), &id, None, keys);
        }
    }
}

/// One thing, and whatever is part of it.
fn table(
    record: &mut Record,
    kind: &str,
    id: &str,
    of: Option<String>,
    keys: Vec<(&'static str, Canon)>,
) {
    let mut thing = Thing {
        kind: kind.to_owned(),
        id: id.to_owned(),
        of,
        ..Thing::default()
    };
    let own = thing.key();
    let mut parts = Vec::new();
    flat("", keys, &mut thing.said, &mut parts);
    // What is filed already is what came before a part of it: keep both.
    match record.things.get_mut(&own) {
        Some(known) => known.said.append(&mut thing.said),
        None => record.add(thing),
    }
    for (name, items) in parts {
        list(record, name, Some((own.clone(), id.to_owned())), items);
    }
}

/// Facts of a table, those of tables within it under both names; lists of tables are put aside.
fn flat(
    within: &str,
    keys: Vec<(&'static str, Canon)>,
    facts: &mut Facts,
    parts: &mut Vec<(&'static str, Vec<Canon>)>,
) {
    for (name, value) in keys {
        match value {
            // Its identity, not something to know about it.
            Canon::Fact(_) if name == "id" => {}
            Canon::Fact(fact) => drop(facts.insert(format!("{within}{name}"), fact)),
            Canon::Table(keys) => flat(&format!("{within}{name} "), keys, facts, parts),
            Canon::Tables(items) => parts.push((name, items)),
            Canon::Named(_) => {}
        }
    }
}

fn list(record: &mut Record, name: &str, of: Option<(String, String)>, items: Vec<Canon>) {
    let count = items.len();
    let kind = kind(name);
    let (of, within) = match of {
        Some((key, id)) => (Some(key), Some(id)),
        None => (None, None),
    };
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut before: Option<String> = None;
    for (place, item) in items.into_iter().enumerate() {
        let Canon::Table(mut keys) = item else {
            continue;
        };
        let id = match own_id(&keys) {
            // A wall's is its own only within its room.
            Some(id) if name == "wall" => format!("{}.{id}", within.as_deref().unwrap_or("")),
            // An option's within its risk; a risk that is raised is called by its rule.
            Some(id) if name == "option" => format!("{}/{id}", within.as_deref().unwrap_or("")),
            Some(id) => id,
            None => {
                let told = match () {
                    () if FROM_THE_END.contains(&name) => (count - place).to_string(),
                    () if BY_PLACE.contains(&name) => (place + 1).to_string(),
                    () => telling(&keys).unwrap_or_default(),
                };
                let turn = seen.entry(told.clone()).or_insert(0);
                *turn += 1;
                let told = match *turn {
                    1 if !told.is_empty() => told,
                    n => format!("{told} {n}").trim().to_owned(),
                };
                match &within {
                    Some(within) => format!("{within}/{told}"),
                    None => told,
                }
            }
        };
        let unordered = BY_PLACE.contains(&name) || IN_ANY_ORDER.contains(&name);
        if let Some(before) = before.filter(|_| !unordered) {
            keys.push(("after", Canon::Fact(Fact::Name(before))));
        }
        before = Some(key(&kind, &id));
        table(record, &kind, &id, of.clone(), keys);
    }
}

fn own_id(keys: &[(&'static str, Canon)]) -> Option<String> {
    keys.iter().find_map(|(name, value)| match value {
        Canon::Fact(Fact::Name(id)) if matches!(*name, "id" | "rule") => Some(id.clone()),
        _ => None,
    })
}

fn telling(keys: &[(&'static str, Canon)]) -> Option<String> {
    TELLING.iter().find_map(|told| {
        keys.iter().find_map(|(name, value)| match value {
            Canon::Fact(Fact::Text(text) | Fact::Name(text))
                if name == told && !text.is_empty() =>
            {
                Some(text.clone())
            }
            _ => None,
        })
    })
}
