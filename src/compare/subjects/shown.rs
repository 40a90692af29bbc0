//! What drawings show: plans, elevations and the look of patterns. Knows which facts are seen on which; must
//! not know lines or scales.

use std::collections::BTreeMap;

use super::super::record::{Fact, Facts, Record, Thing};
use super::super::{takes, words};
use super::{CLIENT, Shown, Subject, SubjectKind, by_wall, only, shows};

/// Said of a thing, but seen elsewhere: what it is made of has its own subject; how it is called and where
/// it takes its size from shows nothing that its reckoned place does not.
pub const SAID_ELSEWHERE: &[&str] = &[
    "after",
    "name",
    "note",
    "what",
    "kind",
    "set",
    "material",
    "finish",
    "carcass",
    "back",
    "front",
    "left panel",
    "right panel",
    "handle",
    "hinge",
    "hinge_by",
    "runner",
    "straightener",
    "latch",
    "foot",
    "track",
    "pattern",
    "wall",
    "on",
    "over",
    "stands",
    "built",
    "base",
    "top",
    "bottom",
    "width",
    "height",
    "depth",
    "from",
    "to",
    "at",
    "left",
    "right",
    "off_wall",
    "pieces",
    "hides",
    "is",
];

/// Comes of a thing, but is seen on no elevation: what it weighs, how deep it is, what it is made of.
pub const NOT_IN_ELEVATION: &[&str] = &[
    "after",
    "on wall",
    "number",
    "drawer boxes",
    "drawer bottoms",
    "mass",
    "carried mass",
    "people to carry it",
    "feet",
    "hinges",
    "material",
    "finish",
    "handle",
    "hinge",
    "runner",
    "straightener",
    "latch",
    "pattern",
    "cut from board",
    "across the board",
    "up the board",
    "blank to cut",
    "scribed to",
    "thickness",
    "face from the wall",
    "depth over fronts",
    "depth",
    takes::PARTS,
    takes::NOTCHES,
    takes::PICKED,
];

/// What a plan shows of anything that stands on a wall: seen from above.
pub const IN_PLAN: &[&str] = &[
    "left edge",
    "width",
    "depth over fronts",
    "face from the wall",
    "thickness",
    "depth",
    "open at",
    "track from",
    "track to",
    "hinge side",
    "cut-outs at",
];

/// What the look of a pattern shows of a front, of the pattern itself, and of a board's face.
pub const OF_LOOK: &[&str] = &[
    "on wall",
    "left edge",
    "width",
    "bottom",
    "height",
    "across the board",
    "up the board",
];
pub const OF_PATTERN: &[&str] = &["steps at the joints"];
pub const FACE: &[&str] = &["picture's hash", "lab", "first_crest"];

pub fn note(record: &Record, all: &mut Vec<Subject>) {
    let walls = by_wall(record);
    let pinned = pinned(record);
    let mut plans: BTreeMap<&str, Shown> = BTreeMap::new();
    for (wall, things) in &walls {
        let mut elevation = Shown::default();
        let room = wall.split_once('.').map_or("", |(room, _)| room);
        let plan = plans.entry(room).or_default();
        let turn = turn_of(record, wall);
        for thing in things {
            in_elevation(record, thing, &mut elevation);
            let mut seen = only(&thing.comes, IN_PLAN);
            // A front that stands where another did, above it, is the same line in a plan: its place
            // up the wall keeps the two apart.
            if !seen.is_empty() && !matches!(thing.kind.as_str(), "run" | "plinth") {
                seen.insert("wall".to_owned(), Fact::Count(turn));
                plan.add(&thing.kind, &seen);
            }
            for text in pinned.get(thing.id.as_str()).into_iter().flatten() {
                elevation.add("note", text);
            }
        }
        for text in pinned.get(*wall).into_iter().flatten() {
            elevation.add("note", text);
        }
        if !elevation.is_empty() {
            let title = match record.get("wall", wall) {
                Some(thing) => words::thing(record, thing),
                None => (*wall).to_owned(),
            };
            all.push(elevation.subject(SubjectKind::Elevation, wall, title, CLIENT));
        }
    }
    for (room, mut plan) in plans {
        for text in pinned.get(room).into_iter().flatten() {
            plan.add("note", text);
        }
        let title = record.get("room", room);
        let title = title.map_or_else(|| room.to_owned(), |r| words::thing(record, r));
        all.push(plan.subject(SubjectKind::Plan, room, title, CLIENT));
    }
    looks(record, all);
}

fn in_elevation(record: &Record, thing: &Thing, elevation: &mut Shown) {
    match thing.kind.as_str() {
        // Its units, its strips and its plinth show it.
        "run" | "row" | "finding" => {}
        "bay" => {
            let mut lipping = only(&thing.said, &["lipping"]);
            let unit = thing.of.as_ref().and_then(|k| record.things.get(k));
            if let Some(left) = unit.and_then(|u| u.comes.get("left edge")) {
                lipping.insert("of the unit at".to_owned(), left.clone());
            }
            elevation.add("bay", &lipping);
        }
        kind => elevation.add(kind, &shows(thing, SAID_ELSEWHERE, NOT_IN_ELEVATION)),
    }
}

/// Which wall of its room it is, however it is called: 1 for the first.
pub fn turn_of(record: &Record, wall: &str) -> u32 {
    let mut turn = 1u32;
    let mut at = record.get("wall", wall);
    while let Some(Fact::Name(before)) = at.and_then(|w| w.said.get("after")) {
        // Damaged by hand, walls may follow one another in a ring.
        if turn > 1000 {
            break;
        }
        turn += 1;
        at = record.things.get(before);
    }
    turn
}

/// Notes that the client reads, by the id of what they are pinned to.
fn pinned(record: &Record) -> BTreeMap<&str, Vec<Facts>> {
    let mut notes: BTreeMap<&str, Vec<Facts>> = BTreeMap::new();
    let read = |t: &&Thing| t.kind == "note" && t.text("to") != Some("fitter");
    for note in record.things.values().filter(read) {
        let on = note.text("on").unwrap_or("");
        notes
            .entry(on)
            .or_default()
            .push(only(&note.said, &["text", "at"]));
    }
    notes
}

/// How each pattern runs: which piece of a board of which face comes where. What the board is called
/// shows nothing.
fn looks(record: &Record, all: &mut Vec<Subject>) {
    let mut looks: BTreeMap<&str, Shown> = BTreeMap::new();
    for pattern in record.things.values().filter(|t| t.kind == "pattern") {
        let look = looks.entry(&pattern.id).or_default();
        look.add("pattern", &only(&pattern.comes, OF_PATTERN));
    }
    let fronts = record.things.values().filter(|t| t.kind == "front");
    for front in fronts.filter(|t| t.comes.contains_key("cut from board")) {
        let Some(look) = front.text("pattern").and_then(|p| looks.get_mut(p)) else {
            continue;
        };
        let mut seen = only(&front.comes, OF_LOOK);
        if let Some(wall) = front.text("on wall") {
            seen.insert("on wall".to_owned(), Fact::Count(turn_of(record, wall)));
        }
        let material = front
            .text("material")
            .and_then(|m| record.get("material", m));
        let board = front
            .text("cut from board")
            .and_then(|b| record.get("board", b));
        for (whose, thing) in [("material's", material), ("board's", board)] {
            let Some(thing) = thing else { continue };
            for fact in FACE {
                let known = thing.comes.get(*fact).or_else(|| thing.said.get(*fact));
                if let Some(known) = known {
                    seen.insert(format!("{whose} {fact}"), known.clone());
                }
            }
        }
        look.add("front", &seen);
    }
    for (pattern, look) in looks {
        all.push(look.subject(SubjectKind::Look, pattern, pattern.to_owned(), CLIENT));
    }
}
