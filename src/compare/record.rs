//! A job as things with facts. Knows that a thing has a kind, an id and a place in another thing; must
//! not know any particular kind.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

pub use crate::read::canon::Fact;

/// Facts by name.
pub type Facts = BTreeMap<String, Fact>;

/// Every thing of a job by its key. Order plays no part: where it means something it is a fact.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    pub things: BTreeMap<String, Thing>,
}

/// Something with an identity that survives an edit.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thing {
    /// `unit`, `wall`, `lining`.
    pub kind: String,
    /// As the project file refers to it, or made from its place.
    pub id: String,
    /// Key of the thing it is part of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
    /// What the project file says of it, every default filled in.
    pub said: Facts,
    /// What came of it.
    pub comes: Facts,
}

impl Thing {
    pub fn key(&self) -> String {
        key(&self.kind, &self.id)
    }

    /// Itself with no more than its sizes and where it is or will be, on a wall or a board: what is drawn of it.
    pub fn shape(&self) -> Thing {
        let some = |facts: &Facts| {
            let places = ["on wall", "wall", "moved_to", "cut from board"];
            let drawn = |(name, fact): &(&String, &Fact)| {
                matches!(fact, Fact::Um(_)) || places.contains(&name.as_str())
            };
            let kept = facts.iter().filter(drawn);
            kept.map(|(name, fact)| (name.clone(), fact.clone()))
                .collect()
        };
        Thing {
            kind: self.kind.clone(),
            id: self.id.clone(),
            of: self.of.clone(),
            said: some(&self.said),
            comes: some(&self.comes),
        }
    }

    pub fn text(&self, fact: &str) -> Option<&str> {
        match self.said.get(fact).or_else(|| self.comes.get(fact)) {
            Some(Fact::Text(text) | Fact::Name(text) | Fact::Day(text)) => Some(text),
            _ => None,
        }
    }

    pub fn um(&self, fact: &str) -> Option<i64> {
        match self.comes.get(fact).or_else(|| self.said.get(fact)) {
            Some(Fact::Um(n)) => Some(*n),
            _ => None,
        }
    }

    pub fn count(&self, fact: &str) -> Option<u32> {
        match self.comes.get(fact).or_else(|| self.said.get(fact)) {
            Some(Fact::Count(n)) => Some(*n),
            _ => None,
        }
    }
}

/// What a thing is filed under.
pub fn key(kind: &str, id: &str) -> String {
    format!("{kind} {id}")
}

impl Record {
    pub fn get(&self, kind: &str, id: &str) -> Option<&Thing> {
        self.things.get(&key(kind, id))
    }

    pub fn add(&mut self, thing: Thing) {
        self.things.insert(thing.key(), thing);
    }

    /// The thing, made if the project file did not name it.
    pub fn entry(&mut self, kind: &str, id: &str) -> &mut Thing {
        self.things.entry(key(kind, id)).or_insert_with(|| Thing {
            kind: kind.to_owned(),
            id: id.to_owned(),
            ..Thing::default()
        })
    }
}
