//! What a change may come of: from a thing to what it is part of, refers to and stands beside, nearest
//! first. Knows which things depend on which; must not know how a change is told.

use std::collections::BTreeMap;

use super::record::{Fact, Record, Thing};
use super::takes;

/// How far from a thing its cause is looked for.
const FARTHEST: usize = 6;
/// Things that are what others make of them: their cause is looked for among those who use them.
const OF_USERS: &[&str] = &["pattern", "hardware", "board"];
/// So are these of what they are an amount of.
const USED_UP: &[&str] = &["material", "finish"];
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
    "latch",
];

/// Things of both records by what they depend on. Each has a place in the lists, which stands for its key
/// here: what depends on what is asked often.
pub struct Web<'a> {
    records: [&'a Record; 2],
    places: BTreeMap<&'a str, usize>,
    keys: Vec<&'a str>,
    /// What each is part of, then what its facts name.
    near: Vec<Vec<usize>>,
    /// Who use it, where its cause is looked for among them.
    users: Vec<Vec<usize>>,
    rooms: Vec<bool>,
}

impl<'a> Web<'a> {
    /// `b` counts before `a`: a thing that is in both is as it is now.
    pub fn new(a: &'a Record, b: &'a Record) -> Web<'a> {
        let mut web = Web {
            records: [b, a],
            places: BTreeMap::new(),
            keys: Vec::new(),
            near: Vec::new(),
            users: Vec::new(),
            rooms: Vec::new(),
        };
        let mut by_id: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (key, thing) in a.things.iter().chain(&b.things) {
            let next = web.keys.len();
            let place = *web.places.entry(key).or_insert(next);
            if place == next {
                web.keys.push(key);
                web.rooms.push(key.starts_with("room "));
            }
            let known = by_id.entry(&thing.id).or_default();
            if !known.contains(&place) {
                known.push(place);
            }
        }
        web.users = vec![Vec::new(); web.keys.len()];
        for (place, key) in web.keys.iter().enumerate() {
            let mut near = Vec::new();
            if let Some(thing) = web.get(key) {
                near.extend(thing.of.as_ref().and_then(|of| web.place(of)));
                let named = named(thing).into_iter().filter_map(|id| by_id.get(id));
                near.extend(named.flatten());
            }
            // Used by what is now, not by what was.
            if b.things.contains_key(*key) {
                let of = usize::from(
                    near.first()
                        .is_some_and(|first| web.is_whole(place, *first)),
                );
                for named in near.iter().skip(of) {
                    let name = web.keys.get(*named).copied().unwrap_or_default();
                    let mut kinds = OF_USERS.iter().chain(USED_UP);
                    if kinds.any(|kind| name.starts_with(kind))
                        && let Some(users) = web.users.get_mut(*named)
                    {
                        users.push(place);
                    }
                }
            }
            web.near.push(near);
        }
        web
    }

    /// Whether one is part of the other.
    fn is_whole(&self, part: usize, whole: usize) -> bool {
        let thing = self.keys.get(part).and_then(|key| self.get(key));
        let of = thing.and_then(|t| t.of.as_deref());
        of.is_some() && of == self.keys.get(whole).copied()
    }

    pub fn get(&self, key: &str) -> Option<&'a Thing> {
        self.records.iter().find_map(|r| r.things.get(key))
    }

    pub fn place(&self, key: &str) -> Option<usize> {
        self.places.get(key).copied()
    }

    pub fn key(&self, place: usize) -> &'a str {
        self.keys.get(place).copied().unwrap_or_default()
    }

    /// A thing, then what it depends on, then what those depend on.
    pub fn levels(&self, key: &str) -> Vec<Vec<usize>> {
        let Some(start) = self.place(key) else {
            return Vec::new();
        };
        let kind = self.get(key).map_or("", |t| t.kind.as_str());
        // Who use it, or what it is an amount of.
        let used = match takes::KINDS.contains(&kind) {
            true => self.near.get(start).and_then(|near| near.first().copied()),
            false => (!USED_UP.contains(&kind)).then_some(start),
        };
        let mut seen = vec![false; self.keys.len()];
        let mut first_seen = |at: usize| match seen.get_mut(at) {
            Some(seen) => !std::mem::replace(seen, true),
            None => false,
        };
        first_seen(start);
        let mut levels = vec![vec![start]];
        // All walls of a room lie in it: it comes last of all.
        let mut rooms = Vec::new();
        while levels.len() < FARTHEST {
            let mut next = Vec::new();
            for at in levels.last().into_iter().flatten() {
                let users = match levels.len() {
                    1 => used.and_then(|of| self.users.get(of)),
                    _ => None,
                };
                let near = self.near.get(*at).into_iter().chain(users);
                for place in near.flatten().copied().filter(|p| first_seen(*p)) {
                    match self.rooms.get(place) {
                        Some(true) => rooms.push(place),
                        _ => next.push(place),
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

/// Ids of what a thing's facts name.
fn named(thing: &Thing) -> Vec<&str> {
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
    names
}
