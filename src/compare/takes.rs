//! What a job takes, as facts: boards, edges and finishes to order, sums of money accepted, and what every unit,
//! run and loose piece is cut of. Knows which those are; must not work out any of them.
//!
//! Records frozen before these were noted are read as they are. [`GENERATION`] tells them apart, so that what
//! such a record never held is not told as a change.

use std::collections::BTreeMap;

use super::change::Change;
use super::record::{Fact, Facts, Record, Thing, key};
use super::said::JOB;
use crate::reckon::pattern::layout::{Change as Why, Joint};
use crate::reckon::placed::Reckoned;
use crate::reckon::quantities::parts::PartKind;
use crate::resolve::job::Job;
use crate::risks::Risks;

pub const BOARD: &str = "quantity of board";
pub const EDGE: &str = "quantity of edge";
pub const FINISH: &str = "quantity of finish";
pub const KINDS: &[&str] = &[BOARD, EDGE, FINISH];

/// Of an edge: what was counted, and what to have of it.
pub const EDGES: &[&str] = &["counted", "to have"];

/// What a thing is cut of: a list for each sort of part, see [`Cut`].
pub const PARTS: &str = "cut of";
/// The joints of a pattern, in their order: first and second piece, gap, steps across and along, colours,
/// why another board or strip: each an empty list where there is none.
pub const JOINTS: &str = "joints";
/// The openings of a run, from the floor up: height, left, right.
pub const OPENING: &str = "opening";
/// What is cut out of a unit: round what; its left, right, underside, top and depth, from the unit's.
pub const NOTCHES: &str = "cut out";
/// Hardware to pick for a thing: which, and how many.
pub const PICKED: &str = "picked";
/// Facts that lists of parts and joints are made of: the register tells sizes and places instead.
pub const LISTED: &[&str] = &[PARTS, JOINTS, OPENING, NOTCHES, PICKED];

/// What the job says of the record itself.
const NOTED: &str = "generation of the record";
/// 1, which says nothing of it, had none of this.
const GENERATION: u32 = 2;
/// Sums of money, by what the page calls them.
pub const SUMS: &[&str] = &[
    "changes chosen",
    "put aside, if called on",
    "contingencies called",
    "in all at most",
    "not priced yet",
];

/// One sort of part of one thing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cut {
    /// As lists call it.
    pub kind: String,
    pub material: String,
    /// In micrometres.
    pub length: i64,
    pub width: i64,
    pub count: u32,
}

pub fn note(job: &Job, reckoned: &Reckoned, risks: &Risks, record: &mut Record) {
    let whole = &mut record.entry(JOB, JOB).comes;
    whole.insert(NOTED.to_owned(), Fact::Count(GENERATION));
    let sums = risks.sums;
    let amounts = [sums.changes, sums.put_aside, sums.called, sums.at_most()];
    for (name, amount) in SUMS.iter().zip(amounts) {
        whole.insert((*name).to_owned(), amount.into());
    }
    whole.insert("not priced yet".to_owned(), count(sums.unpriced));
    boards(job, reckoned, record);
    cut(job, reckoned, record);
    picked(job, reckoned, record);
    for layout in &reckoned.patterns {
        let joints = layout.joints.iter().filter_map(|j| joint(reckoned, j));
        let joints = Fact::List(joints.collect());
        let facts = &mut record.entry("pattern", &layout.name).comes;
        facts.insert(JOINTS.to_owned(), joints);
    }
    for (run, placed) in job.runs.iter().zip(&reckoned.runs) {
        let each = placed.opening.iter();
        let each = each.map(|o| Fact::List([o.z, o.left, o.right].map(Fact::from).to_vec()));
        let facts = &mut record.entry("run", &run.id).comes;
        facts.insert(OPENING.to_owned(), Fact::List(each.collect()));
        for unit in placed.units.iter().filter(|u| !u.notches.is_empty()) {
            let each = unit.notches.iter().map(|n| {
                let mut all = vec![Fact::Text(n.what.clone())];
                let across = [n.left - unit.left, n.right - unit.left];
                let up = [n.bottom - unit.base, n.top - unit.base];
                let sizes = across.into_iter().chain(up).chain([n.deep]);
                all.extend(sizes.map(Fact::from));
                Fact::List(all)
            });
            let facts = &mut record.entry("unit", &unit.id).comes;
            facts.insert(NOTCHES.to_owned(), Fact::List(each.collect()));
        }
    }
}

fn count(n: usize) -> Fact {
    Fact::Count(u32::try_from(n).unwrap_or(u32::MAX))
}

fn boards(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    let all = &reckoned.quantities;
    let mut add = |kind: &str, of: &str, id: &str, facts: Vec<(&str, Fact)>| {
        let facts = facts.into_iter();
        let comes: Facts = facts.map(|(name, fact)| (name.to_owned(), fact)).collect();
        record.add(Thing {
            kind: kind.to_owned(),
            id: id.to_owned(),
            of: Some(key(of, id)),
            said: Facts::new(),
            comes,
        });
    };
    for board in &all.boards {
        let Some(material) = job.materials.get(board.material.0) else {
            continue;
        };
        let mut facts = vec![("area of parts", Fact::SquareMm(board.parts.in_mm2()))];
        if let Some(layout) = &board.layout {
            facts.push(("by area", count(layout.by_area)));
            facts.push(("by sizes", count(layout.by_size)));
            facts.push(("laid out", Fact::Count(layout.new_boards())));
        }
        if let Some(yields) = board.parts.per_mille(board.cut_up) {
            facts.push(("yield", Fact::PercentThousandths(yields * 100)));
        }
        let own = reckoned
            .patterns
            .iter()
            .filter(|l| l.material == board.material);
        let (boards, to_buy) = own.fold((0, 0), |(all, buy), l| {
            (all + l.boards.len(), buy + l.to_buy())
        });
        facts.push(("in hand, for patterns", count(boards - to_buy.min(boards))));
        facts.push(("to buy, for patterns", count(to_buy)));
        add(BOARD, "material", &material.key, facts);
    }
    for band in &all.bands {
        if let Some(material) = job.materials.get(band.material.0) {
            let facts = vec![
                ("counted", band.counted.into()),
                ("to have", band.wanted.into()),
            ];
            add(EDGE, "material", &material.key, facts);
        }
    }
    for one in &all.finishes {
        if let Some(finish) = job.finishes.get(one.finish.0) {
            let facts = vec![
                ("area", Fact::SquareMm(one.area.in_mm2())),
                ("volume", Fact::Millilitres(one.volume.in_ml())),
            ];
            add(FINISH, "finish", &finish.key, facts);
        }
    }
}

/// Fronts have their own sizes.
fn cut(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    let mut lists: BTreeMap<&str, Vec<Cut>> = BTreeMap::new();
    for part in &reckoned.quantities.parts {
        if PartKind::FRONTS.contains(&part.kind) {
            continue;
        }
        let material = job.materials.get(part.material.0);
        for (id, n) in &part.of {
            lists.entry(id).or_default().push(Cut {
                kind: part.kind.name().to_owned(),
                material: material.map_or(String::new(), |m| m.key.clone()),
                length: part.length.in_um(),
                width: part.width.in_um(),
                count: *n,
            });
        }
    }
    for (id, mut list) in lists {
        list.sort();
        if let Some(thing) = owner(record, id) {
            let list = list.iter().map(Cut::fact);
            thing
                .comes
                .insert(PARTS.to_owned(), Fact::List(list.collect()));
        }
    }
}

fn picked(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    let mut lists: BTreeMap<&str, Vec<Fact>> = BTreeMap::new();
    for of in &reckoned.hardware {
        let Some(hardware) = job.hardware.get(of.which.0) else {
            continue;
        };
        for (id, n) in of.by_unit.iter().filter(|(_, n)| *n > 0) {
            let key = Fact::Text(hardware.key.clone());
            let one = Fact::List(vec![key, Fact::Count(*n)]);
            lists.entry(id).or_default().push(one);
        }
    }
    for (id, list) in lists {
        if let Some(thing) = owner(record, id) {
            thing.comes.insert(PICKED.to_owned(), Fact::List(list));
        }
    }
}

/// What parts and hardware are listed for under an id.
fn owner<'r>(record: &'r mut Record, id: &str) -> Option<&'r mut Thing> {
    let owners = OWNERS.iter().map(|kind| key(kind, id));
    let found = owners
        .into_iter()
        .find(|key| record.things.contains_key(key))?;
    record.things.get_mut(&found)
}

/// Kinds of thing that parts are listed for, by their ids.
pub const OWNERS: &[&str] = &["unit", "run", "panel", "sliding", "worktop"];

impl Cut {
    fn fact(&self) -> Fact {
        Fact::List(vec![
            Fact::Text(self.kind.clone()),
            Fact::Text(self.material.clone()),
            Fact::Um(self.length),
            Fact::Um(self.width),
            Fact::Count(self.count),
        ])
    }

    /// All that a thing was cut of, by its fact.
    pub fn read(fact: &Fact) -> Vec<Cut> {
        let Fact::List(items) = fact else {
            return Vec::new();
        };
        let one = |item: &Fact| {
            let Fact::List(parts) = item else { return None };
            let [
                Fact::Text(kind),
                Fact::Text(material),
                Fact::Um(length),
                Fact::Um(width),
                Fact::Count(count),
            ] = parts.as_slice()
            else {
                return None;
            };
            Some(Cut {
                kind: kind.clone(),
                material: material.clone(),
                length: *length,
                width: *width,
                count: *count,
            })
        };
        items.iter().filter_map(one).collect()
    }
}

fn joint(reckoned: &Reckoned, joint: &Joint) -> Option<Fact> {
    let name = |face: usize| Some(Fact::Text(reckoned.face(face)?.id.clone()));
    let nothing = || Fact::List(Vec::new());
    let jump = joint.jump.map_or_else(nothing, |(square, along)| {
        Fact::List(vec![square.into(), along.into()])
    });
    Some(Fact::List(vec![
        name(joint.first)?,
        name(joint.second)?,
        joint.gap.into(),
        jump,
        joint.colour.map_or_else(nothing, Fact::Thousandths),
        joint.change.as_ref().map_or_else(nothing, |why| match why {
            Why::Full { left, needs } => Fact::List(vec![(*left).into(), (*needs).into()]),
            Why::Settled => "settled".into(),
            Why::Better => "better".into(),
        }),
    ]))
}

/// Changes but those of what one of two records never noted, being older.
pub fn noted_in_both(a: &Record, b: &Record, all: Vec<Change>) -> Vec<Change> {
    let generation = |record: &Record| {
        let job = record.get(JOB, JOB);
        job.and_then(|job| job.count(NOTED)).unwrap_or(1)
    };
    if generation(a) == generation(b) {
        return all;
    }
    let later = |change: &Change| match change {
        Change::Added(thing) | Change::Removed(thing) => KINDS.contains(&thing.kind.as_str()),
        Change::Fact(c) => {
            let fact = c.fact.as_str();
            fact == NOTED || LISTED.contains(&fact) || SUMS.contains(&fact)
        }
        Change::Renamed { .. } => false,
    };
    all.into_iter().filter(|change| !later(change)).collect()
}
