//! Which changes are causes, and which cause each of the others comes of. Knows what units take from
//! their runs and kinds, and what stands beside what; must not word anything.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::cause::Web;
use super::change::{Change, FactChange, Whose};
use super::reach::{self, Reach};
use super::record::{Fact, Record, Thing, key};
use super::takes;

/// Keys of entries in the making, in their order.
pub(super) type Homes<'a> = BTreeMap<String, Found<'a>>;

#[derive(Default)]
pub(super) struct Found<'a> {
    pub own: Vec<&'a Change>,
    pub follows: Vec<&'a Change>,
}

/// Whether it says otherwise how large something is, or where it stands.
pub(super) fn is_size(change: &Change) -> bool {
    let long = |fact: &Option<Fact>| match fact {
        Some(Fact::Um(_) | Fact::Grams(_) | Fact::Count(_)) => true,
        Some(Fact::List(items)) => items
            .iter()
            .any(|i| matches!(i, Fact::Um(_) | Fact::List(_))),
        _ => false,
    };
    match change {
        // How much of it is ordered is no size of anything.
        Change::Fact(c) if takes::KINDS.iter().any(|kind| c.thing.starts_with(kind)) => false,
        Change::Fact(c) => {
            c.whose == Whose::Place || long(&c.old) || long(&c.new) || c.fact == "after"
        }
        Change::Added(_) | Change::Removed(_) => true,
        Change::Renamed { .. } => false,
    }
}

/// Both records, and what changed in them.
pub(super) struct View<'a> {
    pub a: &'a Record,
    pub b: &'a Record,
    pub web: Web<'a>,
    /// Facts said otherwise, by key in the second record.
    said: BTreeMap<&'a str, Vec<&'a FactChange>>,
    /// Keys of things that came or went.
    came: BTreeSet<String>,
    went: BTreeSet<String>,
    /// Ids that became others.
    renamed: BTreeMap<String, String>,
    /// Keys in the second record of what has another id, each with its key in the first.
    called: BTreeMap<String, String>,
    /// Things that had a sibling put in or taken out: kind and what they are part of.
    disturbed: BTreeMap<(String, Option<String>), String>,
}

impl<'a> View<'a> {
    pub fn new(a: &'a Record, b: &'a Record, all: &'a [Change]) -> View<'a> {
        let mut view = View {
            a,
            b,
            web: Web::new(a, b),
            said: BTreeMap::new(),
            came: BTreeSet::new(),
            went: BTreeSet::new(),
            renamed: BTreeMap::new(),
            called: BTreeMap::new(),
            disturbed: BTreeMap::new(),
        };
        for change in all {
            match change {
                Change::Added(t) | Change::Removed(t) => {
                    let key = t.key();
                    let place = (t.kind.clone(), t.of.clone());
                    view.disturbed.entry(place).or_insert_with(|| key.clone());
                    match change {
                        Change::Added(_) => view.came.insert(key),
                        _ => view.went.insert(key),
                    };
                }
                Change::Renamed { from, to } => {
                    view.renamed.insert(from.id.clone(), to.id.clone());
                    view.renamed.insert(from.key(), to.key());
                    view.called.insert(to.key(), from.key());
                }
                Change::Fact(c) if c.whose == Whose::Said => {
                    view.said.entry(&c.thing).or_default().push(c);
                }
                Change::Fact(_) => {}
            }
        }
        view
    }

    pub fn key<'c>(&self, change: &'c Change) -> Cow<'c, str> {
        match change {
            Change::Added(t) | Change::Removed(t) => Cow::Owned(t.key()),
            Change::Renamed { to, .. } => Cow::Owned(to.key()),
            Change::Fact(c) => Cow::Borrowed(&c.thing),
        }
    }

    /// The thing whose entry a change belongs to, if it is a cause.
    pub fn home(&self, change: &Change) -> Option<String> {
        match change {
            Change::Added(t) => self.outermost(t, &self.came),
            Change::Removed(t) => self.outermost(t, &self.went),
            Change::Renamed { to, .. } => {
                let thing = self.b.things.get(&to.key())?;
                let with = self.web.line(&to.key());
                let follows = with.iter().skip(1).any(|k| self.called.contains_key(k));
                let shifted = self.shifted(thing);
                (!follows && !shifted).then(|| self.shown(&to.key()))
            }
            Change::Fact(c) => match c.whose {
                Whose::Comes => None,
                Whose::Place => {
                    let only = matches!((&c.old, &c.new), (Some(Fact::Name(old)), Some(Fact::Name(new)))
                        if self.renamed.get(old) == Some(new));
                    (!only).then(|| self.shown(&c.thing))
                }
                Whose::Said => {
                    let follows = self.only_renamed(c) || self.inherited(c) || self.pushed_on(c);
                    (!follows).then(|| self.shown(&c.thing))
                }
            },
        }
    }

    /// What came or went with something it is part of goes under that. A strip or a finding is no
    /// cause by itself.
    fn outermost(&self, thing: &Thing, with: &BTreeSet<String>) -> Option<String> {
        let line = self.web.line(&thing.key());
        let whole: Vec<&String> = line.iter().take_while(|k| with.contains(*k)).collect();
        let outer = whole.last()?;
        let said = self.web.get(outer).is_some_and(|t| !t.said.is_empty());
        said.then(|| self.shown(outer))
    }

    /// Rows and bays are told with their unit.
    fn shown(&self, key: &str) -> String {
        let mut key = key.to_owned();
        while let Some(thing) = self.web.get(&key) {
            match (&thing.of, thing.kind.as_str()) {
                (Some(of), "row" | "bay") => key = of.clone(),
                _ => break,
            }
        }
        key
    }

    /// A unit that was only pushed on to another place of its run, and so to another id.
    fn shifted(&self, thing: &Thing) -> bool {
        let of = thing.of.as_deref().and_then(|of| of.strip_prefix("run "));
        let turn = of.and_then(|run| thing.id.strip_prefix(run)?.strip_prefix('-'));
        let by_place = turn.is_some_and(|turn| turn.parse::<u32>().is_ok());
        thing.kind == "unit" && by_place && self.neighbour(thing).is_some()
    }

    /// The key of a sibling that came or went.
    fn neighbour(&self, thing: &Thing) -> Option<String> {
        self.disturbed
            .get(&(thing.kind.clone(), thing.of.clone()))
            .cloned()
    }

    fn only_renamed(&self, c: &FactChange) -> bool {
        let became = |old: &Fact, new: &Fact| match (old, new) {
            (Fact::Name(old) | Fact::Text(old), Fact::Name(new) | Fact::Text(new)) => {
                self.renamed.get(old) == Some(new)
            }
            _ => false,
        };
        // What tells a thing in a list, such as its `what`, is its id: there it is the change.
        let of_itself = self.b.things.get(&c.thing).is_some_and(|t| match &c.new {
            Some(Fact::Text(new) | Fact::Name(new)) => {
                t.id.ends_with(new.as_str()) && c.fact != "name"
            }
            _ => false,
        });
        match (&c.old, &c.new) {
            (Some(old), Some(new)) => !of_itself && became(old, new),
            _ => false,
        }
    }

    /// Said otherwise only because what it takes it from says so: its run, its kind, its room.
    fn inherited(&self, c: &FactChange) -> bool {
        self.source(c).is_some()
    }

    /// The entry of what a thing takes this value from.
    pub fn taken_from(&self, change: &Change) -> Option<String> {
        match change {
            Change::Fact(c) if c.whose == Whose::Said => self.source(c).map(|key| self.shown(&key)),
            _ => None,
        }
    }

    fn source(&self, c: &FactChange) -> Option<String> {
        if c.fact == "after" {
            return None;
        }
        let levels = self.web.levels(&c.thing);
        let near = levels.iter().skip(1).take(4).flatten();
        let mut near = near.map(|place| self.web.key(*place));
        let says = |key: &&str| {
            let said = self.said.get(key);
            said.is_some_and(|all| {
                all.iter()
                    .any(|d| same_words(&d.fact, &c.fact) && goes_down(d, c))
            })
        };
        near.find(says)
            .map(str::to_owned)
            .or_else(|| self.kind_source(c))
    }

    /// A row or bay of a unit that is as in its kind.
    fn kind_source(&self, c: &FactChange) -> Option<String> {
        let thing = self.b.things.get(&c.thing)?;
        let unit = self.web.get(thing.of.as_ref()?)?;
        let kind = key("kind of unit", unit.text("kind")?);
        let found = self.said.iter().find(|(key, all)| {
            let of = self.web.get(key).and_then(|t| t.of.as_ref());
            of == Some(&kind)
                && all
                    .iter()
                    .any(|d| d.fact == c.fact && d.old == c.old && d.new == c.new)
        });
        found.map(|(key, _)| (*key).to_owned())
    }

    /// Comes after another only because something was put in, taken out or renamed beside it.
    fn pushed_on(&self, c: &FactChange) -> bool {
        if c.fact != "after" {
            return false;
        }
        let Some(thing) = self.b.things.get(&c.thing) else {
            return false;
        };
        let named = [&c.old, &c.new].into_iter().flatten();
        let moved = named.into_iter().any(|f| match f {
            Fact::Name(key) => {
                self.renamed.contains_key(key) || self.came.contains(key) || self.went.contains(key)
            }
            _ => false,
        });
        moved || self.neighbour(thing).is_some()
    }

    /// For every thing the entries that are about it, then those about something in it.
    pub fn under(&self, homes: &Homes<'_>) -> BTreeMap<usize, Vec<String>> {
        let mut under: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        let keys = |home: &String, found: &Found<'_>| {
            let mut keys: BTreeSet<String> = BTreeSet::from([home.clone()]);
            keys.extend(found.own.iter().map(|c| self.key(c).into_owned()));
            keys
        };
        for (home, found) in homes {
            for place in keys(home, found)
                .iter()
                .filter_map(|key| self.web.place(key))
            {
                under.entry(place).or_default().push(home.clone());
            }
        }
        for (home, found) in homes {
            let keys = keys(home, found);
            let lines: BTreeSet<String> = keys.iter().flat_map(|k| self.web.line(k)).collect();
            let over = lines.iter().filter(|key| !keys.contains(*key));
            for place in over.filter_map(|key| self.web.place(key)) {
                under.entry(place).or_default().push(home.clone());
            }
        }
        under
    }

    /// A thing of the second record as it was in the first.
    pub fn was(&self, key: &str) -> Option<&'a Thing> {
        let old = self.called.get(key).map_or(key, String::as_str);
        self.a.things.get(old)
    }

    /// What parts and hardware are listed for, of a thing and all that it is part of.
    pub fn owner(&self, key: &str) -> Option<String> {
        let mut line = self.web.line(key).into_iter();
        line.find(|key| {
            let thing = self.web.get(key);
            thing.is_some_and(|t| takes::OWNERS.contains(&t.kind.as_str()))
        })
    }

    /// What each entry may bring about, and the wall behind what it is about.
    pub fn reaches(&self, homes: &Homes<'_>) -> BTreeMap<String, Reaches> {
        let each = homes.iter().map(|(home, found)| {
            let whole = self.came.contains(home) || self.went.contains(home);
            // What came or went with it brings about no more than it does.
            let own = found.own.iter().filter(|c| !whole || self.key(c) == *home);
            let all = own.map(|c| reach::of(c, self.web.get(&self.key(c))));
            let reach = all.fold(0, |all, one| all | one);
            let line = self.web.line(home);
            let lining = line.len() > 1 && home.starts_with("lining ");
            let behind = match lining {
                true => line.into_iter().find(|k| k.starts_with("wall ")),
                false => home.starts_with("wall ").then(|| home.clone()),
            };
            (home.clone(), Reaches { reach, behind })
        });
        each.collect()
    }

    /// The entry nearest to a thing of those that can bring about this sort of change: first among what it is
    /// part of, then among all that it depends on. Nothing, where several might have and none is near.
    pub fn cause(&self, near: &Near, sort: Reach, seen: &Causes<'_>) -> Option<String> {
        let fits = |home: &&String| {
            seen.reaches.get(*home).is_some_and(|r| {
                // A wall's own lining moves what stands before it out, not along.
                let along = sort & (reach::ACROSS | reach::ENDS) != 0
                    && r.behind.is_some()
                    && r.behind == near.wall;
                r.reach & sort != 0 && !along
            })
        };
        let line = near.line.iter();
        let levels = near.levels.iter().flatten();
        let each = line.chain(levels).filter_map(|at| seen.under.get(at));
        // Fronts are numbered, and sums are drawn, through the whole job.
        let through = || match sort {
            reach::NUMBER | reach::SUM => seen.homes.iter().find(fits),
            _ => None,
        };
        let found = each.flatten().find(fits).or_else(through);
        let only = || match seen.homes {
            [one] => Some(one),
            _ => None,
        };
        found.or_else(only).cloned()
    }

    /// Where a thing stands among all others.
    pub fn near(&self, of: &str) -> Near {
        let line = self.web.line(of);
        let wall = line.iter().find_map(|k| {
            let thing = self.web.get(k)?;
            thing.text("on wall").map(|wall| key("wall", wall))
        });
        Near {
            line: line.iter().filter_map(|k| self.web.place(k)).collect(),
            levels: self.web.levels(of),
            wall,
        }
    }
}

/// What an entry may bring about.
pub(super) struct Reaches {
    reach: Reach,
    /// The wall that it is about, or lines.
    behind: Option<String>,
}

/// Where a thing stands: what it is part of, what it depends on, the wall behind it.
pub(super) struct Near {
    line: Vec<usize>,
    levels: Vec<Vec<usize>>,
    wall: Option<String>,
}

/// Everything that may be a cause.
pub(super) struct Causes<'a> {
    pub homes: &'a [String],
    pub reaches: &'a BTreeMap<String, Reaches>,
    /// For every thing the entries that are about it or something in it.
    pub under: &'a BTreeMap<usize, Vec<String>>,
}

/// `front` of a run is `front` of its units; `left scribe` is none of a unit's.
fn same_words(source: &str, taken: &str) -> bool {
    source == taken
}

/// A value that goes down from one to the other: the same change, or a list made from it.
fn goes_down(source: &FactChange, taken: &FactChange) -> bool {
    let same = source.old == taken.old && source.new == taken.new;
    same || source.new == taken.new || matches!(taken.new, Some(Fact::List(_)))
}
