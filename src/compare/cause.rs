//! What a change may come of: from a thing to what it is part of, refers to and stands beside, nearest
//! first. Knows which things depend on which; must not know how a change is told.

use std::collections::{BTreeMap, BTreeSet};

use super::record::{Fact, Record, Thing};

/// How far from a thing its cause is looked for.
const FARTHEST: usize = 6;
/// Things that are what others make of them: their cause is looked for among those who use them.
const OF_USERS: &[&str] = &["pattern", "hardware", "board"];
/// Reckoned facts that name another thing.
const NAMING: &[&str] = &[
    "on wall",
    "material",
    "finish",
    "handle",
    "hinge",
    "runner",
    "pattern",
    "hides",
    "straightener",
];

/// Things of both records by what they depend on.
pub struct Web<'a> {
    records: [&'a Record; 2],
    by_id: BTreeMap<&'a str, Vec<String>>,
    users: BTreeMap<String, Vec<String>>,
}

impl<'a> Web<'a> {
    /// `b` counts before `a`: a thing that is in both is as it is now.
    pub fn new(a: &'a Record, b: &'a Record) -> Web<'a> {
        let mut by_id: BTreeMap<&str, Vec<String>> = BTreeMap::new();
        for (key, thing) in a.things.iter().chain(&b.things) {
            let known = by_id.entry(&thing.id).or_default();
            if !known.contains(key) {
                known.push(key.clone());
            }
        }
        let mut web = Web {
            records: [b, a],
            by_id,
            users: BTreeMap::new(),
        };
        let mut users: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (key, thing) in b.things.iter() {
            for named in web.named(thing) {
                if OF_USERS.iter().any(|kind| named.starts_with(kind)) {
                    users.entry(named).or_default().push(key.clone());
                }
            }
        }
        web.users = users;
        web
    }

    pub fn get(&self, key: &str) -> Option<&'a Thing> {
        self.records.iter().find_map(|r| r.things.get(key))
    }

    /// Keys of what a thing's facts name.
    fn named(&self, thing: &Thing) -> Vec<String> {
        let mut names: Vec<&str> = Vec::new();
        for (name, fact) in &thing.said {
            match fact {
                Fact::Name(id) if name != "after" => names.push(id),
                Fact::List(items) => names.extend(items.iter().filter_map(|i| match i {
                    Fact::Name(id) => Some(id.as_str()),
                    _ => None,
                })),
                _ => {}
            }
        }
        for name in NAMING {
            if let Some(Fact::Text(id)) = thing.comes.get(*name) {
                names.push(id);
            }
        }
        let keys = names.into_iter().filter_map(|id| self.by_id.get(id));
        keys.flatten().cloned().collect()
    }

    /// A thing, then what it depends on, then what those depend on.
    pub fn levels(&self, key: &str) -> Vec<Vec<String>> {
        let mut seen: BTreeSet<String> = BTreeSet::from([key.to_owned()]);
        let mut levels = vec![vec![key.to_owned()]];
        // All walls of a room lie in it: it comes last of all.
        let mut rooms = Vec::new();
        while levels.len() < FARTHEST {
            let mut next = Vec::new();
            for at in levels.last().into_iter().flatten() {
                let Some(thing) = self.get(at) else { continue };
                let mut near: Vec<String> = thing.of.iter().cloned().collect();
                near.extend(self.named(thing));
                if levels.len() == 1 {
                    near.extend(self.users.get(at).into_iter().flatten().cloned());
                }
                for key in near.into_iter().filter(|k| seen.insert(k.clone())) {
                    match key.starts_with("room ") {
                        true => rooms.push(key),
                        false => next.push(key),
                    }
                }
            }
            if next.is_empty() {
                break;
            }
            levels.push(next);
        }
        levels.push(rooms);
        levels
    }

    /// The thing and all that it is part of.
    pub fn line(&self, key: &str) -> Vec<String> {
        let mut line = vec![key.to_owned()];
        while let Some(of) = line.last().and_then(|k| self.get(k)?.of.clone()) {
            if line.contains(&of) {
                break;
            }
            line.push(of);
        }
        line
    }
}
