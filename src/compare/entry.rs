//! One entry of the register in words. Knows how a change is said; must not know which is a cause.

use std::collections::{BTreeMap, BTreeSet};

use super::change::{Change, Whose};
use super::record::{Fact, Thing};
use super::register::{Entry, Shared};
use super::sort::{self, Sort};
use super::view::{Found, View, is_size};
use super::{consequences, subjects, takes, words};

/// Of something new, so many at most.
const MOST_FIGURES: usize = 6;

impl View<'_> {
    /// The entry of a thing, not numbered yet.
    pub(super) fn entry(&self, home: &str, found: &Found<'_>) -> Entry {
        let mut touches: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for change in found.own.iter().chain(&found.follows) {
            // Sizes and places say it of the thing itself.
            if matches!(change, Change::Fact(c) if takes::LISTED.contains(&c.fact.as_str())) {
                continue;
            }
            let key = self.key(change);
            if !touches.contains_key(key.as_ref()) {
                touches.insert(key.clone().into_owned(), BTreeSet::new());
            }
            if let (Change::Fact(c), Some(facts)) = (change, touches.get_mut(key.as_ref())) {
                facts.insert(c.fact.clone());
            }
        }
        let thing = self.web.get(home);
        let about = match thing {
            Some(thing) => {
                let record = if self.b.things.contains_key(home) {
                    self.b
                } else {
                    self.a
                };
                touches.entry(home.to_owned()).or_default();
                words::thing(record, thing)
            }
            None => "What follows from several of these, or from a newer program".to_owned(),
        };
        let sort = thing.map_or(Sort::Together, |t| sort::of(t, &found.own));
        Entry {
            number: 0,
            sort,
            about,
            changes: self.own_words(home, &found.own),
            follows: consequences::words(self.a, self.b, &unsaid(found)),
            agree: subjects::agree(
                self.a,
                self.b,
                found.own.iter().chain(&found.follows).copied(),
            ),
            touches,
            sizes: found.own.iter().chain(&found.follows).any(|c| is_size(c)),
        }
    }

    /// The entries, what several share told under the last of them with the numbers of those.
    pub(super) fn with_shared(
        &self,
        entries: Vec<(&String, Entry)>,
        shared: &Shared<'_>,
    ) -> Vec<Entry> {
        let number = |home: &String| {
            let found = entries.iter().find(|(of, _)| *of == home);
            found.and_then(|(_, entry)| u32::try_from(entry.number).ok())
        };
        let mut told: Vec<(Vec<u32>, &Vec<&Change>)> = shared
            .iter()
            .map(|(homes, changes)| {
                let mut numbers: Vec<u32> = homes.iter().filter_map(number).collect();
                numbers.sort_unstable();
                (numbers, changes)
            })
            .collect();
        told.sort();
        let mut entries: Vec<Entry> = entries.into_iter().map(|(_, entry)| entry).collect();
        if let Some(last) = entries.last_mut().filter(|e| e.sort == Sort::Together) {
            for (numbers, changes) in told {
                let of = words::ranges(&numbers);
                for words in consequences::words(self.a, self.b, changes) {
                    last.follows.push(format!("of changes {of}: {words}"));
                }
                for change in changes {
                    last.touches
                        .entry(self.key(change).into_owned())
                        .or_default();
                }
            }
        }
        entries
    }

    fn own_words(&self, home: &str, own: &[&Change]) -> Vec<String> {
        let mut said = Vec::new();
        let mut parts: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        for change in own.iter().copied() {
            let key = self.key(change);
            let own_self = key == home;
            let prefix = match self.web.get(&key) {
                Some(thing) if !own_self => match thing.kind.as_str() {
                    "row" | "bay" => {
                        let place = thing.id.rsplit_once('/').map_or("", |(_, n)| n);
                        format!("{} {place}: ", thing.kind)
                    }
                    _ => format!("{}: ", words::thing(self.b, thing)),
                },
                _ => String::new(),
            };
            match change {
                Change::Added(t) if own_self => said.push(came(t)),
                Change::Removed(_) if own_self => said.push("taken out".to_owned()),
                Change::Added(t) => *parts.entry(("with", &t.kind)).or_default() += 1,
                Change::Removed(t) => *parts.entry(("without", &t.kind)).or_default() += 1,
                Change::Renamed { from, to } => {
                    let told = own.iter().any(|c| match c {
                        Change::Fact(c) => c.thing == to.key() && c.whose == Whose::Said,
                        _ => false,
                    });
                    if !told || from.id.len() <= 24 && to.id.len() <= 24 && !to.id.contains('/') {
                        said.push(format!("{prefix}called {} \u{2192} {}", from.id, to.id));
                    }
                }
                Change::Fact(c) if c.whose == Whose::Place => said.push(format!(
                    "{prefix}part of {} \u{2192} {}",
                    words::value(c.old.as_ref()),
                    words::value(c.new.as_ref())
                )),
                Change::Fact(c) => said.push(format!("{prefix}{}", words::change(c))),
            }
        }
        for ((how, kind), count) in parts {
            let plural = if count == 1 { "" } else { "s" };
            said.push(match kind {
                "finding" | "row" | "bay"
                    if said
                        .iter()
                        .any(|s| s.starts_with("new") || s == "taken out") =>
                {
                    continue;
                }
                kind => format!("{how} {count} {kind}{plural}"),
            });
        }
        said
    }
}

/// What is new, with its words or else its figures: those of what is cut of boards stand in the schedules.
fn came(thing: &Thing) -> String {
    let words = thing.text("text").or(thing.text("what"));
    let name = words.filter(|words| !thing.id.contains(*words));
    if let Some(text) = name {
        return format!("new: {text}");
    }
    if takes::OWNERS.contains(&thing.kind.as_str()) {
        return "new".to_owned();
    }
    let figure = |fact: &Fact| match fact {
        Fact::Um(n) | Fact::Grams(n) | Fact::Money(n) | Fact::Millidegrees(n) => *n != 0,
        Fact::Count(n) => *n != 0,
        _ => false,
    };
    let all = thing.said.iter().filter(|(_, fact)| figure(fact));
    let figures: Vec<String> = all
        .take(MOST_FIGURES)
        .map(|(name, fact)| format!("{} {}", words::fact(name), words::value(Some(fact))))
        .collect();
    match (figures.is_empty(), words) {
        (false, _) => format!("new: {}", figures.join(", ")),
        (true, Some(text)) => format!("new: {text}"),
        (true, None) => "new".to_owned(),
    }
}

/// What follows without what is already told of the same thing in the same values.
fn unsaid<'a>(found: &Found<'a>) -> Vec<&'a Change> {
    let told: BTreeSet<(&str, &Option<Fact>, &Option<Fact>)> = found
        .own
        .iter()
        .filter_map(|c| match c {
            Change::Fact(c) => Some((c.thing.as_str(), &c.old, &c.new)),
            _ => None,
        })
        .collect();
    let same = |c: &Change| match c {
        Change::Fact(c) => told.contains(&(c.thing.as_str(), &c.old, &c.new)),
        _ => false,
    };
    found.follows.iter().copied().filter(|c| !same(c)).collect()
}
