//! What sort of change an entry is. Knows kinds and keys; must not know who must agree to it: see
//! `subjects`.

use serde::Serialize;

use super::change::{Change, Whose};
use super::record::Thing;

/// In the order in which a register lists them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Sort {
    Survey,
    Added,
    Removed,
    Moved,
    Resized,
    HingeSide,
    Material,
    Finish,
    Hardware,
    Pattern,
    Price,
    Disclosure,
    Renamed,
    Words,
    Else,
    /// What several changes come to: no change by itself.
    Together,
}

impl Sort {
    /// As a register heads it.
    pub fn word(self) -> &'static str {
        match self {
            Sort::Survey => "survey",
            Sort::Added => "added",
            Sort::Removed => "removed",
            Sort::Moved => "moved",
            Sort::Resized => "resized",
            Sort::HingeSide => "hinge side",
            Sort::Material => "material",
            Sort::Finish => "finish",
            Sort::Hardware => "hardware",
            Sort::Pattern => "pattern",
            Sort::Price => "price",
            Sort::Disclosure => "disclosure",
            Sort::Renamed => "renamed",
            Sort::Words => "words",
            Sort::Else => "changed",
            Sort::Together => "of several",
        }
    }
}

/// Kinds whose every change is of one sort.
const OF_KIND: &[(&str, Sort)] = &[
    ("room", Sort::Survey),
    ("wall", Sort::Survey),
    ("lining", Sort::Survey),
    ("door", Sort::Survey),
    ("window", Sort::Survey),
    ("bulkhead", Sort::Survey),
    ("obstruction", Sort::Survey),
    ("service", Sort::Survey),
    ("diagonal", Sort::Survey),
    ("slope", Sort::Survey),
    ("way in", Sort::Survey),
    ("material", Sort::Material),
    ("board", Sort::Material),
    ("flaw", Sort::Material),
    ("set of materials", Sort::Material),
    ("finish", Sort::Finish),
    ("hardware", Sort::Hardware),
    ("pattern", Sort::Pattern),
    ("settled front", Sort::Pattern),
    ("note", Sort::Words),
    ("history entry", Sort::Words),
    ("known finding", Sort::Words),
    ("person", Sort::Words),
    ("disclosure", Sort::Disclosure),
];

/// Facts that make a change of some sort, the weightiest first.
const OF_FACT: &[(&str, Sort)] = &[
    ("wall", Sort::Moved),
    ("from", Sort::Moved),
    ("to", Sort::Moved),
    ("at", Sort::Moved),
    ("after", Sort::Moved),
    ("over", Sort::Moved),
    ("base", Sort::Moved),
    ("off_wall", Sort::Moved),
    ("width", Sort::Resized),
    ("height", Sort::Resized),
    ("depth", Sort::Resized),
    ("top", Sort::Resized),
    ("bottom", Sort::Resized),
    ("size", Sort::Resized),
    ("edge", Sort::Resized),
    ("upstand", Sort::Resized),
    ("left filler", Sort::Resized),
    ("right filler", Sort::Resized),
    ("left scribe", Sort::Resized),
    ("right scribe", Sort::Resized),
    ("hinge", Sort::HingeSide),
    ("material", Sort::Material),
    ("carcass", Sort::Material),
    ("back", Sort::Material),
    ("set", Sort::Material),
    ("left panel", Sort::Material),
    ("right panel", Sort::Material),
    ("finish", Sort::Finish),
    ("handle", Sort::Hardware),
    ("hinge_by", Sort::Hardware),
    ("runner", Sort::Hardware),
    ("foot", Sort::Hardware),
    ("track", Sort::Hardware),
    ("straightener", Sort::Hardware),
    ("latch", Sort::Hardware),
    ("pattern", Sort::Pattern),
    ("price", Sort::Price),
    ("name", Sort::Words),
    ("note", Sort::Words),
    ("text", Sort::Words),
    ("title", Sort::Words),
    ("note_to_client", Sort::Words),
    ("note_to_fitter", Sort::Words),
];

pub fn of(thing: &Thing, own: &[&Change]) -> Sort {
    let kind = OF_KIND.iter().find(|(kind, _)| *kind == thing.kind);
    if let Some((_, sort)) = kind {
        return *sort;
    }
    let key = thing.key();
    if thing.kind == "option" {
        // An option that came, went or is worded otherwise; or just its price.
        let priced = own
            .iter()
            .all(|c| matches!(c, Change::Fact(c) if c.fact == "price"));
        return if priced {
            Sort::Price
        } else {
            Sort::Disclosure
        };
    }
    let mut facts = Vec::new();
    for change in own.iter().copied() {
        match change {
            Change::Added(t) if t.key() == key => return Sort::Added,
            Change::Removed(t) if t.key() == key => return Sort::Removed,
            Change::Fact(c) if c.whose == Whose::Place => return Sort::Moved,
            Change::Fact(c) => facts.push(c.fact.as_str()),
            _ => {}
        }
    }
    // One end of it alone: it did not move, it grew.
    if facts.contains(&"from") != facts.contains(&"to") && !facts.contains(&"wall") {
        return Sort::Resized;
    }
    let found = OF_FACT.iter().find(|(fact, _)| facts.contains(fact));
    match found {
        Some((_, sort)) => *sort,
        None if facts.is_empty() && own.iter().any(|c| matches!(c, Change::Renamed { .. })) => {
            Sort::Renamed
        }
        None => Sort::Else,
    }
}
