//! Which thing of one record is which of the other: by key, by place in what was renamed, by being
//! alike. Knows how ids are made from places; must not know what changed.
//!
//! It treats both records alike, so that comparing the other way round finds the same pairs.

use std::collections::{BTreeMap, BTreeSet};

use super::record::{Facts, Record, Thing};

/// Key in the first record to key in the second.
pub type Pairs = BTreeMap<String, String>;

/// How far a thing may lie within others.
const DEEPEST: usize = 6;
/// More pairs than this are not looked through one by one.
const MOST_LOOKS: usize = 40_000;
/// Facts shared, of all, for two things to be one under another id.
const ALIKE: f64 = 0.5;

struct Pairing<'a> {
    a: &'a Record,
    b: &'a Record,
    pairs: Pairs,
    taken: BTreeSet<String>,
    /// Whether any thing is paired with one of another id.
    renamed: bool,
}

pub fn pairs(a: &Record, b: &Record) -> Pairs {
    let mut p = Pairing {
        a,
        b,
        pairs: Pairs::new(),
        taken: BTreeSet::new(),
        renamed: false,
    };
    let (of_a, of_b) = (by_depth(a), by_depth(b));
    for depth in 0..DEEPEST {
        let none = Vec::new();
        let left = of_a.get(depth).unwrap_or(&none);
        let right = of_b.get(depth).unwrap_or(&none);
        p.shifted(left, right);
        p.with_their_parents(left, right);
        for thing in left {
            let key = thing.key();
            if b.things.contains_key(&key) {
                p.take(key.clone(), key);
            }
        }
        p.alike(left, right);
    }
    p.pairs
}

fn by_depth(record: &Record) -> Vec<Vec<&Thing>> {
    let mut all: Vec<Vec<&Thing>> = vec![Vec::new(); DEEPEST];
    for thing in record.things.values() {
        let depth = above(record, thing).len();
        if let Some(level) = all.get_mut(depth.min(DEEPEST - 1)) {
            level.push(thing);
        }
    }
    all
}

/// What a thing is part of, the nearest first.
pub fn above<'a>(record: &'a Record, thing: &'a Thing) -> Vec<&'a Thing> {
    let mut all = Vec::new();
    let mut at = thing;
    while let Some(of) = at.of.as_ref().and_then(|k| record.things.get(k)) {
        if all.len() + 1 >= DEEPEST {
            break;
        }
        all.push(of);
        at = of;
    }
    all
}

impl Pairing<'_> {
    fn take(&mut self, a: String, b: String) {
        if !self.pairs.contains_key(&a) && self.taken.insert(b.clone()) {
            self.renamed |= a != b;
            self.pairs.insert(a, b);
        }
    }

    fn free<'t>(
        &self,
        left: &[&'t Thing],
        right: &[&'t Thing],
    ) -> (Vec<&'t Thing>, Vec<&'t Thing>) {
        let left = left.iter().filter(|t| !self.pairs.contains_key(&t.key()));
        let right = right.iter().filter(|t| !self.taken.contains(&t.key()));
        (left.copied().collect(), right.copied().collect())
    }

    /// Units whose ids were made from their places, `run-1`, `run-2`: where one was put in or taken
    /// out the others are found again by what they are, in order.
    fn shifted(&mut self, left: &[&Thing], right: &[&Thing]) {
        let (mut a, mut b) = (in_series(left), in_series(right));
        for (of, a) in &mut a {
            let Some(b) = b.get_mut(of).filter(|b| b.len() != a.len()) else {
                continue;
            };
            for (one, other) in common(a, b) {
                self.take(one.key(), other.key());
            }
        }
    }

    /// By the same place in a thing that is paired with another of another id.
    fn with_their_parents(&mut self, left: &[&Thing], right: &[&Thing]) {
        if !self.renamed {
            return;
        }
        let mut places: BTreeMap<(String, String, String), String> = BTreeMap::new();
        for thing in right {
            if let Some(of) = &thing.of {
                let place = place_in(self.b, thing);
                places.insert((of.clone(), thing.kind.clone(), place), thing.key());
            }
        }
        for thing in left {
            let Some(of) = &thing.of else { continue };
            let Some(now) = self.pairs.get(of).filter(|now| *now != of) else {
                continue;
            };
            let place = (now.clone(), thing.kind.clone(), place_in(self.a, thing));
            if let Some(found) = places.get(&place) {
                self.take(thing.key(), found.clone());
            }
        }
    }

    /// Of what is left, the most alike first.
    fn alike(&mut self, left: &[&Thing], right: &[&Thing]) {
        let (left, right) = self.free(left, right);
        let mut kinds: BTreeMap<&str, (Vec<&Thing>, Vec<&Thing>)> = BTreeMap::new();
        for thing in left {
            kinds.entry(&thing.kind).or_default().0.push(thing);
        }
        for thing in right {
            kinds.entry(&thing.kind).or_default().1.push(thing);
        }
        for (left, right) in kinds.values() {
            if left.len() * right.len() > MOST_LOOKS {
                continue;
            }
            let mut found: Vec<(u32, String, String, String, String)> = Vec::new();
            for a in left {
                for b in right {
                    if self.may_be_one(a, b)
                        && let Some(score) = likeness(a, b)
                    {
                        let (a, b) = (a.key(), b.key());
                        let (low, high) = if a < b { (&a, &b) } else { (&b, &a) };
                        found.push((u32::MAX - score, low.clone(), high.clone(), a, b));
                    }
                }
            }
            found.sort();
            for (_, _, _, a, b) in found {
                self.take(a, b);
            }
        }
    }

    /// Parts of things that are one, or parts of nothing.
    fn may_be_one(&self, a: &Thing, b: &Thing) -> bool {
        match (&a.of, &b.of) {
            (None, None) => true,
            (Some(a), Some(b)) => self.pairs.get(a) == Some(b),
            _ => false,
        }
    }
}

/// Place of a thing in the nearest thing whose id its own is made from.
fn place_in(record: &Record, thing: &Thing) -> String {
    let over = above(record, thing);
    let within = over.iter().find(|over| thing.id.contains(&over.id));
    match within {
        Some(over) => thing.id.replacen(&over.id, "\u{0}", 1),
        None => thing.id.clone(),
    }
}

/// Units named by their place in a run, in order, by run.
fn in_series<'t>(things: &[&'t Thing]) -> BTreeMap<String, Vec<&'t Thing>> {
    let mut all: BTreeMap<String, Vec<(usize, &Thing)>> = BTreeMap::new();
    for thing in things {
        let Some(of) = thing.of.as_ref().filter(|_| thing.kind == "unit") else {
            continue;
        };
        let run = of.strip_prefix("run ").unwrap_or(of);
        let turn = thing.id.strip_prefix(run).and_then(|r| r.strip_prefix('-'));
        if let Some(turn) = turn.and_then(|t| t.parse().ok()) {
            all.entry(of.clone()).or_default().push((turn, thing));
        }
    }
    let sorted = |mut list: Vec<(usize, &'t Thing)>| {
        list.sort_by_key(|(turn, _)| *turn);
        list.into_iter().map(|(_, thing)| thing).collect()
    };
    all.into_iter()
        .map(|(of, list)| (of, sorted(list)))
        .collect()
}

/// The longest series of things that are the same in both, in order.
fn common<'t>(a: &[&'t Thing], b: &[&'t Thing]) -> Vec<(&'t Thing, &'t Thing)> {
    if a.len().saturating_mul(b.len()) > MOST_LOOKS {
        return Vec::new();
    }
    // length[i][j]: of the longest series in a[i..] and b[j..].
    let wide = b.len() + 1;
    let mut length = vec![0usize; (a.len() + 1) * wide];
    let at = |i: usize, j: usize| i * wide + j;
    let get = |length: &[usize], k: usize| length.get(k).copied().unwrap_or(0);
    for (i, one) in a.iter().enumerate().rev() {
        for (j, other) in b.iter().enumerate().rev() {
            let best = match same(one, other) {
                true => get(&length, at(i + 1, j + 1)) + 1,
                false => get(&length, at(i + 1, j)).max(get(&length, at(i, j + 1))),
            };
            if let Some(cell) = length.get_mut(at(i, j)) {
                *cell = best;
            }
        }
    }
    let (mut i, mut j, mut found) = (0, 0, Vec::new());
    while let (Some(one), Some(other)) = (a.get(i), b.get(j)) {
        if same(one, other) {
            found.push((*one, *other));
            (i, j) = (i + 1, j + 1);
        } else if get(&length, at(i + 1, j)) > get(&length, at(i, j + 1)) {
            i += 1;
        } else if get(&length, at(i + 1, j)) < get(&length, at(i, j + 1)) {
            j += 1;
        } else if a.len() < b.len() {
            // Either way is as good: the longer list gives way, whichever side it is on.
            j += 1;
        } else {
            i += 1;
        }
    }
    found
}

/// Whether the same is said of both, but for what follows from their ids.
fn same(a: &Thing, b: &Thing) -> bool {
    let said = |t: &Thing| -> Facts {
        let mut said = t.said.clone();
        said.remove("after");
        if t.text("name") == Some(&t.id) {
            said.remove("name");
        }
        said
    };
    said(a) == said(b)
}

/// Facts that two things share, in thousandths; nothing, if they are too few.
fn likeness(a: &Thing, b: &Thing) -> Option<u32> {
    let facts = |t: &Thing| t.said.len() + t.comes.len();
    let most = facts(a).max(facts(b));
    let shared = |a: &Facts, b: &Facts| a.iter().filter(|(k, v)| b.get(*k) == Some(v)).count();
    let same = shared(&a.said, &b.said) + shared(&a.comes, &b.comes);
    let share = same as f64 / most.max(1) as f64;
    (same > 0 && share >= ALIKE).then_some((share * 1000.0) as u32)
}
