//! What an amount comes of: how much board, edge, finish or hardware is ordered, and what the accepted options
//! come to. An amount is a sum over many things, so it comes of all that altered one of them: several changes
//! share it. Knows what each thing is cut of, coated and fitted with; must not word anything.

use std::collections::{BTreeMap, BTreeSet};

use super::change::{Change, FactChange, Whose};
use super::reach;
use super::record::{Fact, Thing, key};
use super::said::JOB;
use super::takes::{self, Cut};
use super::view::View;

/// Of a thing, what says where it is and how it opens, and so alters nothing that is cut of it.
const NOT_CUT: &[&str] = &[
    "left edge",
    "bottom",
    "after",
    "hinge side",
    "handle",
    "handle at",
    "handle up",
    "runner",
    "latch",
    "name",
    "note",
    "load",
    "on wall",
    "face from the wall",
    "feet",
    "hides",
];
/// What of a disclosure or an option a sum is made of.
const OF_SUMS: &[&str] = &[
    "choice",
    "state",
    "price",
    "called",
    "not_needed",
    "is",
    "until",
];

/// Whether a change is of an amount.
pub(super) fn is_amount(change: &Change, thing: Option<&Thing>) -> bool {
    match change {
        Change::Added(t) | Change::Removed(t) => takes::KINDS.contains(&t.kind.as_str()),
        Change::Renamed { .. } => false,
        Change::Fact(c) => {
            let kind = thing.map_or("", |t| t.kind.as_str());
            let fact = c.fact.as_str();
            takes::KINDS.contains(&kind)
                || (kind == "hardware" && fact == "in all")
                || (kind == JOB && takes::SUMS.contains(&fact))
        }
    }
}

/// For each amount the entries that it comes of.
#[derive(Default)]
pub(super) struct Sources {
    /// By the key of a material, finish or fitting.
    of: BTreeMap<String, BTreeSet<String>>,
    sums: BTreeSet<String>,
}

/// A change with the entry that it stands under.
pub(super) type Settled<'a> = (&'a Change, &'a str);

impl Sources {
    /// Gathers them from every change but those of amounts, each with its entry.
    pub fn new<'a>(view: &View<'a>, all: &[Settled<'a>]) -> Sources {
        let mut sources = Sources::default();
        let mut owned: BTreeMap<String, Vec<Settled<'a>>> = BTreeMap::new();
        // What changed of one thing stands together.
        let mut last: (String, Option<String>) = Default::default();
        for (change, home) in all.iter().copied() {
            let key = view.key(change);
            let thing = view.web.get(&key);
            match thing.map_or("", |t| t.kind.as_str()) {
                "front" => sources.front(view, (change, home)),
                "disclosure" | "option" => sources.money(change, home),
                // More coats take more of the finish; another sheet is laid out otherwise.
                "finish" | "material" if is_said(change) => sources.add(key.to_string(), home),
                _ => {}
            }
            if last.0 != *key {
                last = (key.to_string(), view.owner(&key));
            }
            if let Some(owner) = &last.1 {
                owned.entry(owner.clone()).or_default().push((change, home));
            }
        }
        let finishes = finishes_by_material(view);
        for changes in owned.values() {
            sources.owner(view, changes, &finishes);
        }
        sources
    }

    /// The entries that an amount comes of; none, where nothing tells.
    pub fn of(&self, change: &Change, thing: Option<&Thing>) -> BTreeSet<String> {
        let fact = match change {
            Change::Fact(c) => c.fact.as_str(),
            _ => "",
        };
        let Some(thing) = thing else {
            return BTreeSet::new();
        };
        if thing.kind == JOB {
            return self.sums.clone();
        }
        let of = thing.of.clone().unwrap_or_else(|| thing.key());
        let mut found = self.of.get(&of).cloned().unwrap_or_default();
        // However thick it is put on, the area stays.
        if thing.kind == takes::FINISH && fact == "area" && found.len() > 1 {
            found.remove(&of);
        }
        found
    }

    fn add(&mut self, key: String, home: &str) {
        self.of.entry(key).or_default().insert(home.to_owned());
    }

    /// A front is cut of one board and has one finish.
    fn front(&mut self, view: &View<'_>, (change, home): Settled<'_>) {
        let mut note = |thing: Option<&Thing>, facts: &[&str]| {
            for fact in facts {
                if let Some(id) = thing.and_then(|t| t.text(fact)) {
                    self.add(key(fact, id), home);
                }
            }
        };
        match change {
            Change::Added(t) | Change::Removed(t) => note(Some(t), &["material", "finish"]),
            Change::Fact(c) => {
                let concerns: &[&str] = match c.fact.as_str() {
                    "width" | "height" | "material" => &["material", "finish"],
                    "finish" => &["finish"],
                    _ => return,
                };
                note(view.was(&c.thing), concerns);
                note(view.b.things.get(&c.thing), concerns);
            }
            Change::Renamed { .. } => {}
        }
    }

    fn money(&mut self, change: &Change, home: &str) {
        let counts = match change {
            Change::Added(_) | Change::Removed(_) => true,
            Change::Fact(c) => OF_SUMS.contains(&c.fact.as_str()),
            Change::Renamed { .. } => false,
        };
        if counts {
            self.sums.insert(home.to_owned());
        }
    }

    /// What a unit, a run or a loose piece was cut of and fitted with, against what it is now.
    fn owner(
        &mut self,
        view: &View<'_>,
        changes: &[Settled<'_>],
        finishes: &BTreeMap<String, BTreeSet<String>>,
    ) {
        for (change, home) in changes.iter().copied() {
            let (parts, picked) = match change {
                Change::Added(t) | Change::Removed(t) => {
                    let none = (None, t.comes.get(takes::PARTS));
                    (Some(none), Some((None, t.comes.get(takes::PICKED))))
                }
                Change::Fact(c) if c.fact == takes::PARTS => (Some(both(c)), None),
                Change::Fact(c) if c.fact == takes::PICKED => (None, Some(both(c))),
                _ => continue,
            };
            let whole = !matches!(change, Change::Fact(_));
            if let Some((old, new)) = parts {
                let homes = match whole {
                    true => BTreeSet::from([home]),
                    false => made_by(view, changes, home),
                };
                for material in differing(&cut(old), &cut(new)) {
                    for home in &homes {
                        self.add(key("material", &material), home);
                        for finish in finishes.get(&material).into_iter().flatten() {
                            self.add(finish.clone(), home);
                        }
                    }
                }
            }
            if let Some((old, new)) = picked {
                for hardware in differing(&counted(old), &counted(new)) {
                    let homes = match whole {
                        true => BTreeSet::from([home]),
                        false => fitted_by(view, changes, &hardware, home),
                    };
                    for home in homes {
                        self.add(key("hardware", &hardware), home);
                    }
                }
            }
        }
    }
}

fn is_said(change: &Change) -> bool {
    match change {
        Change::Fact(c) => c.whose == Whose::Said && !matches!(c.fact.as_str(), "name" | "after"),
        _ => true,
    }
}

fn both(c: &FactChange) -> (Option<&Fact>, Option<&Fact>) {
    (c.old.as_ref(), c.new.as_ref())
}

/// By material, what is cut of it.
fn cut(fact: Option<&Fact>) -> BTreeMap<String, Vec<Cut>> {
    let mut all: BTreeMap<String, Vec<Cut>> = BTreeMap::new();
    for one in fact.map(Cut::read).unwrap_or_default() {
        all.entry(one.material.clone()).or_default().push(one);
    }
    all
}

/// By fitting, how many.
fn counted(fact: Option<&Fact>) -> BTreeMap<String, u32> {
    let Some(Fact::List(items)) = fact else {
        return BTreeMap::new();
    };
    let one = |item: &Fact| match item {
        Fact::List(two) => match two.as_slice() {
            [Fact::Text(key), Fact::Count(n)] => Some((key.clone(), *n)),
            _ => None,
        },
        _ => None,
    };
    items.iter().filter_map(one).collect()
}

/// Names under which two lists differ.
fn differing<T: PartialEq>(old: &BTreeMap<String, T>, new: &BTreeMap<String, T>) -> Vec<String> {
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let names = names.into_iter().filter(|n| old.get(*n) != new.get(*n));
    names.cloned().collect()
}

/// The entries that made one thing otherwise; the given one, if none of them tells how.
fn made_by<'h>(view: &View<'_>, changes: &[Settled<'h>], or: &'h str) -> BTreeSet<&'h str> {
    let makes = |(change, _): &&Settled<'h>| {
        let key = view.key(change);
        let thing = view.web.get(&key);
        let Some(thing) = thing.filter(|t| t.kind != "front") else {
            return false;
        };
        match change {
            Change::Added(_) | Change::Removed(_) => reach::is_made(thing),
            Change::Fact(c) if NOT_CUT.contains(&c.fact.as_str()) => false,
            Change::Fact(c) => match (&c.old, &c.new) {
                // Shelves that only stand at other heights are the same shelves.
                (Some(Fact::List(a)), Some(Fact::List(b)))
                    if c.fact.ends_with(" at") && a.len() == b.len() =>
                {
                    false
                }
                _ => reach::is_made(thing) && reach::is_of_make(change, thing),
            },
            Change::Renamed { .. } => false,
        }
    };
    let found: BTreeSet<&str> = changes
        .iter()
        .filter(makes)
        .map(|(_, home)| *home)
        .collect();
    match found.is_empty() {
        true => BTreeSet::from([or]),
        false => found,
    }
}

/// The entries that gave a thing another number of a fitting: those that name it, or those that made the thing
/// or a front of it otherwise.
fn fitted_by<'h>(
    view: &View<'_>,
    changes: &[Settled<'h>],
    hardware: &str,
    or: &'h str,
) -> BTreeSet<&'h str> {
    let is_it = |fact: &Option<Fact>| match fact {
        Some(Fact::Name(id) | Fact::Text(id)) => id == hardware,
        _ => false,
    };
    let names = |(change, _): &&Settled<'h>| match change {
        Change::Fact(c) => is_it(&c.old) || is_it(&c.new),
        Change::Added(t) | Change::Removed(t) => {
            t.kind == "front" && t.comes.values().any(|f| is_it(&Some(f.clone())))
        }
        Change::Renamed { .. } => false,
    };
    let counts = |(change, _): &&Settled<'h>| match change {
        Change::Fact(c) => c.fact == "hinges",
        _ => false,
    };
    for found in [
        changes.iter().filter(names).map(|(_, h)| *h).collect(),
        made_by(view, changes, ""),
        changes
            .iter()
            .filter(counts)
            .map(|(_, h)| *h)
            .collect::<BTreeSet<&str>>(),
    ] {
        if found.iter().any(|home| !home.is_empty()) {
            return found;
        }
    }
    BTreeSet::from([or])
}

/// Which finishes lie on what is made of each material, by the key of the finish.
fn finishes_by_material(view: &View<'_>) -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let things = view.a.things.values().chain(view.b.things.values());
    for thing in things {
        if let (Some(material), Some(finish)) = (thing.text("material"), thing.text("finish")) {
            let finishes = all.entry(material.to_owned()).or_default();
            finishes.insert(key("finish", finish));
        }
    }
    all
}
