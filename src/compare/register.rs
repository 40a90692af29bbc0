//! The change register: what the designer changed, entry by entry, each with what came of it. Knows
//! which changes are causes; must not know pages or drawings.
//!
//! A cause is what the project file says otherwise. What was only reckoned otherwise, and what a unit
//! merely took from its run or its kind, goes with the nearest cause it depends on. An amount is a sum over
//! many things: it goes with the one change that altered any of them, or, where several did, under a heading
//! of its own that names them all.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::amounts::{self, Settled, Sources};
use super::change::{Change, Changes, changes};
use super::reach::{self, Reach};
use super::record::{Fact, Record, Thing};
use super::sort::Sort;
use super::view::{Causes, Homes, Near, View};
use super::{takes, words};

/// Everything that differs between two jobs, for people.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Register {
    /// `revision A`, `draft after revision B`.
    pub from: String,
    pub to: String,
    /// What the project's history says of it.
    pub reasons: Vec<String>,
    pub entries: Vec<Entry>,
    /// What a fact was: by key in the newer record, and fact.
    pub was: BTreeMap<(String, String), Option<Fact>>,
    /// What things were called, by key in the newer record.
    pub renamed: BTreeMap<String, String>,
    /// Things of the newer record that are new, by key.
    pub new: BTreeSet<String>,
    /// Things of the older record that are gone, and the older selves of those that changed place or
    /// size, by key in the newer record.
    pub gone: BTreeMap<String, Thing>,
    pub before: BTreeMap<String, Thing>,
    /// Everything that an entry touches, as it is now: of both the [shape](Thing::shape).
    pub now: BTreeMap<String, Thing>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// From 1: stands in the triangles.
    pub number: usize,
    pub sort: Sort,
    /// What was changed.
    pub about: String,
    /// Each change, with the value before and after.
    pub changes: Vec<String>,
    /// What came of it.
    pub follows: Vec<String>,
    /// Who must agree.
    pub agree: Vec<&'static str>,
    /// Keys of every thing that it touches, each with the facts that are otherwise.
    #[serde(skip)]
    pub touches: BTreeMap<String, BTreeSet<String>>,
    /// Whether it says otherwise how large something is, or where.
    #[serde(skip)]
    pub sizes: bool,
}

impl Register {
    /// All that was otherwise of a thing, in words; places in its room and long lists stand on drawings and in
    /// schedules.
    pub fn all_old(&self, key: &str) -> Vec<String> {
        let from = (key.to_owned(), String::new());
        let all = self.was.range(from..).take_while(|((of, _), _)| of == key);
        all.filter_map(|((_, fact), old)| words::old(fact, old.as_ref()?))
            .collect()
    }
}

/// Compares two jobs. `from` and `to` say what they are.
pub fn register(a: &Record, b: &Record, from: &str, to: &str) -> Register {
    let Changes { all, pairs } = changes(a, b);
    let all = takes::noted_in_both(a, b, all);
    let view = View::new(a, b, &all);
    let mut homes: Homes = BTreeMap::new();
    let mut later = Vec::new();
    let mut apart = Vec::new();
    for change in &all {
        match view.home(change) {
            Some(home) => homes.entry(home).or_default().own.push(change),
            None => later.push(change),
        }
    }
    let named: Vec<String> = homes.keys().cloned().collect();
    let (reaches, under) = (view.reaches(&homes), view.under(&homes));
    let causes = Causes {
        homes: &named,
        reaches: &reaches,
        under: &under,
    };
    // What changed of one thing stands together.
    let mut at: Option<(String, Near)> = None;
    let mut settled: BTreeMap<Reach, Option<String>> = BTreeMap::new();
    let mut nearest = |change: &Change| {
        let key = view.key(change);
        if at.as_ref().is_none_or(|(last, _)| *last != *key) {
            at = Some((key.clone().into_owned(), view.near(&key)));
            settled.clear();
        }
        let (_, near) = at.as_ref()?;
        if let Some(home) = view.taken_from(change).filter(|h| named.contains(h)) {
            return Some(home);
        }
        let sort = reach::sort_of(change, view.web.get(&key));
        let found = settled.entry(sort);
        let found = found.or_insert_with(|| view.cause(near, sort, &causes));
        found.clone()
    };
    let is_amount = |c: &&Change| amounts::is_amount(c, view.web.get(&view.key(c)));
    let (sums, single): (Vec<&Change>, Vec<&Change>) = later.into_iter().partition(is_amount);
    for change in single {
        let home = nearest(change).unwrap_or_else(|| NOBODY.to_owned());
        homes.entry(home).or_default().follows.push(change);
    }
    let shared = match sums.is_empty() {
        true => Shared::new(),
        false => {
            let each = homes.iter().flat_map(|(home, found)| {
                let all = found.own.iter().chain(&found.follows);
                all.map(|change| (*change, home.as_str()))
            });
            let all: Vec<Settled<'_>> = each.collect();
            let sources = Sources::new(&view, &all);
            let mut shared = Shared::new();
            for change in sums {
                let mut of = sources.of(change, view.web.get(&view.key(change)));
                of.remove(NOBODY);
                let home = match of.len() {
                    0 => nearest(change).unwrap_or_else(|| NOBODY.to_owned()),
                    1 => of.pop_first().unwrap_or_default(),
                    _ => {
                        shared.entry(of).or_default().push(change);
                        continue;
                    }
                };
                apart.push((home, change));
            }
            shared
        }
    };
    for (home, change) in apart {
        homes.entry(home).or_default().follows.push(change);
    }
    if !shared.is_empty() {
        homes.entry(NOBODY.to_owned()).or_default();
    }
    let entries = homes.iter();
    let mut entries: Vec<(&String, Entry)> = entries
        .map(|(home, found)| (home, view.entry(home, found)))
        .collect();
    entries.sort_by(|(_, x), (_, y)| (x.sort, &x.about).cmp(&(y.sort, &y.about)));
    for (n, (_, entry)) in entries.iter_mut().enumerate() {
        entry.number = n + 1;
    }
    let entries = view.with_shared(entries, &shared);
    let mut register = Register {
        from: from.to_owned(),
        to: to.to_owned(),
        reasons: reasons(a, b),
        entries,
        ..Register::default()
    };
    for change in all {
        match change {
            Change::Fact(c) => drop(register.was.insert((c.thing, c.fact), c.old)),
            Change::Added(thing) => drop(register.new.insert(thing.key())),
            Change::Removed(thing) => drop(register.gone.insert(thing.key(), thing)),
            Change::Renamed { from, to } => drop(register.renamed.insert(to.key(), from.id)),
        }
    }
    for (old, new) in &pairs {
        if let (Some(was), Some(is)) = (a.things.get(old), b.things.get(new))
            && (was.comes != is.comes || was.said != is.said)
        {
            register.before.insert(new.clone(), was.shape());
        }
    }
    for key in register.entries.iter().flat_map(|e| e.touches.keys()) {
        if let Some(thing) = b.things.get(key) {
            register.now.insert(key.clone(), thing.shape());
        }
    }
    register
}

/// Where changes go that come of nothing the project file says, or of several changes at once.
const NOBODY: &str = "";

/// Amounts that several entries share, by those entries.
pub(super) type Shared<'a> = BTreeMap<BTreeSet<String>, Vec<&'a Change>>;

/// What the history says that is new in the second job.
fn reasons(a: &Record, b: &Record) -> Vec<String> {
    let told = |r: &Record| -> Vec<String> {
        let entries = r.things.values().filter(|t| t.kind == "history entry");
        let mut entries: Vec<&Thing> = entries.collect();
        entries.sort_by_key(|t| t.text("date").map(str::to_owned));
        let why = |t: &&Thing| t.text("why").filter(|w| !w.is_empty()).map(str::to_owned);
        entries.iter().filter_map(why).collect()
    };
    let before = told(a);
    let after = told(b);
    after
        .into_iter()
        .filter(|why| !before.contains(why))
        .collect()
}
