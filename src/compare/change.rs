//! Two records to the changes between them, and back. Knows things and facts; must not know what any of
//! them is or why it changed.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::pair::{self, Pairs};
use super::record::{Fact, Facts, Record, Thing};

/// One difference. Keys are those of the second record, where the thing is in both.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    Removed(Thing),
    /// The same thing under another id.
    Renamed {
        from: Name,
        to: Name,
    },
    Added(Thing),
    Fact(FactChange),
}

/// What a thing is filed under, in two.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Name {
    pub kind: String,
    pub id: String,
}

impl Name {
    pub fn of(thing: &Thing) -> Name {
        Name {
            kind: thing.kind.clone(),
            id: thing.id.clone(),
        }
    }
    pub fn key(&self) -> String {
        super::record::key(&self.kind, &self.id)
    }
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct FactChange {
    pub thing: String,
    pub whose: Whose,
    /// Empty for [`Whose::Place`].
    pub fact: String,
    pub old: Option<Fact>,
    pub new: Option<Fact>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Whose {
    /// What it is part of.
    Place,
    /// The project file says so.
    Said,
    /// It comes of what the file says.
    Comes,
}

/// Everything that differs, and which thing of the one is which of the other.
#[derive(Clone, Debug, Default)]
pub struct Changes {
    pub all: Vec<Change>,
    pub pairs: Pairs,
}

/// What makes the second record of the first.
pub fn changes(a: &Record, b: &Record) -> Changes {
    let pairs = pair::pairs(a, b);
    let mut all = Vec::new();
    for (key, old) in &a.things {
        let Some(new) = pairs.get(key).and_then(|k| b.things.get(k)) else {
            all.push(Change::Removed(old.clone()));
            continue;
        };
        if old.kind != new.kind || old.id != new.id {
            all.push(Change::Renamed {
                from: Name::of(old),
                to: Name::of(new),
            });
        }
        let thing = new.key();
        if old.of != new.of {
            all.push(Change::Fact(FactChange {
                thing: thing.clone(),
                whose: Whose::Place,
                fact: String::new(),
                old: old.of.clone().map(Fact::Name),
                new: new.of.clone().map(Fact::Name),
            }));
        }
        facts(&thing, Whose::Said, &old.said, &new.said, &mut all);
        facts(&thing, Whose::Comes, &old.comes, &new.comes, &mut all);
    }
    let kept: std::collections::BTreeSet<&String> = pairs.values().collect();
    for (key, new) in &b.things {
        if !kept.contains(key) {
            all.push(Change::Added(new.clone()));
        }
    }
    all.sort();
    Changes { all, pairs }
}

fn facts(thing: &str, whose: Whose, old: &Facts, new: &Facts, all: &mut Vec<Change>) {
    let mut push = |fact: &String, before: Option<&Fact>, after: Option<&Fact>| {
        if before != after {
            all.push(Change::Fact(FactChange {
                thing: thing.to_owned(),
                whose,
                fact: fact.clone(),
                old: before.cloned(),
                new: after.cloned(),
            }));
        }
    };
    for (fact, before) in old {
        push(fact, Some(before), new.get(fact));
    }
    for (fact, after) in new {
        if !old.contains_key(fact) {
            push(fact, None, Some(after));
        }
    }
}

/// The first record with the changes made: the second.
pub fn apply(a: &Record, changes: &[Change]) -> Record {
    let mut made = a.clone();
    let mut renamed: BTreeMap<String, Thing> = BTreeMap::new();
    for change in changes {
        match change {
            Change::Removed(thing) => drop(made.things.remove(&thing.key())),
            Change::Renamed { from, to } => {
                if let Some(mut thing) = made.things.remove(&from.key()) {
                    (thing.kind, thing.id) = (to.kind.clone(), to.id.clone());
                    renamed.insert(to.key(), thing);
                }
            }
            Change::Added(_) | Change::Fact(_) => {}
        }
    }
    made.things.append(&mut renamed);
    for change in changes {
        match change {
            Change::Added(thing) => made.add(thing.clone()),
            Change::Fact(change) => {
                if let Some(thing) = made.things.get_mut(&change.thing) {
                    put(thing, change);
                }
            }
            Change::Removed(_) | Change::Renamed { .. } => {}
        }
    }
    made
}

fn put(thing: &mut Thing, change: &FactChange) {
    let facts = match change.whose {
        Whose::Said => &mut thing.said,
        Whose::Comes => &mut thing.comes,
        Whose::Place => {
            thing.of = match &change.new {
                Some(Fact::Name(key)) => Some(key.clone()),
                _ => None,
            };
            return;
        }
    };
    match &change.new {
        Some(fact) => drop(facts.insert(change.fact.clone(), fact.clone())),
        None => drop(facts.remove(&change.fact)),
    }
}

/// The changes that lead back.
pub fn mirrored(changes: &[Change]) -> Vec<Change> {
    let names: BTreeMap<String, String> = changes
        .iter()
        .filter_map(|change| match change {
            Change::Renamed { from, to } => Some((to.key(), from.key())),
            _ => None,
        })
        .collect();
    let mut all: Vec<Change> = changes
        .iter()
        .map(|change| match change.clone() {
            Change::Added(thing) => Change::Removed(thing),
            Change::Removed(thing) => Change::Added(thing),
            Change::Renamed { from, to } => Change::Renamed { from: to, to: from },
            Change::Fact(change) => Change::Fact(FactChange {
                thing: names.get(&change.thing).cloned().unwrap_or(change.thing),
                old: change.new,
                new: change.old,
                ..change
            }),
        })
        .collect();
    all.sort();
    all
}
