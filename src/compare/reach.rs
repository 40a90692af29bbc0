//! How far a change reaches: what sort of thing a fact is, and which sorts a change can bring about. Knows
//! the facts of walls, runs, units and boards; must not know which change stands near which.
//!
//! A note brings about nothing, more coats of a finish move no door, and a floor that falls otherwise makes
//! none narrower. Common practice, no source.

use super::change::{Change, FactChange, Whose};
use super::record::{Fact, Thing};
use super::takes;

/// Sorts of consequence, a bit each.
pub type Reach = u32;

pub const ACROSS: Reach = 1;
pub const UP: Reach = 1 << 1;
pub const OUT: Reach = 1 << 2;
pub const THICK: Reach = 1 << 3;
pub const MASS: Reach = 1 << 4;
/// From which board, and where on it.
pub const CUT: Reach = 1 << 5;
pub const NUMBER: Reach = 1 << 6;
pub const NAME: Reach = 1 << 7;
/// Of a disclosure or one of its options.
pub const RISK: Reach = 1 << 8;
/// What a choice among options comes to.
pub const CHOICE: Reach = 1 << 9;
/// A finding.
pub const FOUND: Reach = 1 << 10;
/// How many are wanted.
pub const COUNT: Reach = 1 << 11;
/// Where a run ends, and what is cut to the wall there.
pub const ENDS: Reach = 1 << 12;
/// Which board, finish, handle or hinge, and on which side.
pub const USED: Reach = 1 << 13;
/// What is inside a unit.
pub const INSIDE: Reach = 1 << 14;
pub const ELSE: Reach = 1 << 15;
/// What is ordered: boards, edges, finishes, and what they are cut into.
pub const ORDERED: Reach = 1 << 16;
/// How much of a finish.
pub const COATED: Reach = 1 << 18;
/// What is accepted comes to.
pub const SUM: Reach = 1 << 17;
/// A finding, or a risk, of what opens.
pub const OPENS: Reach = 1 << 19;

/// Whatever happens may be found, and told.
const TOLD: Reach = RISK | FOUND | OPENS | ELSE;
/// Whatever is larger or smaller.
const SIZED: Reach = MASS | CUT | COUNT | ORDERED | TOLD;
const ALL: Reach = ACROSS | ENDS | UP | OUT | THICK | NUMBER | USED | INSIDE | SIZED;

const FACTS_ACROSS: &[&str] = &[
    "left edge",
    "width",
    "bays",
    "open at",
    "track from",
    "track to",
    "pieces at",
    "between pieces",
    "width of a piece",
    "cut-outs at",
];
const FACTS_ENDS: &[&str] = &["left end", "right end", "scribed to", "blank to cut"];
const FACTS_UP: &[&str] = &[
    "bottom",
    "height",
    "highest floor",
    "lowest floor",
    "lowest ceiling",
    "feet",
    "top of the upstand",
];
const FACTS_USED: &[&str] = &[
    "material",
    "finish",
    "handle",
    "hinge",
    "hinge side",
    "runner",
    "straightener",
    "pattern",
    "hides",
    "is",
];
const FACTS_INSIDE: &[&str] = &["shelves at", "rails at", "inner drawers at"];
/// Codes of findings, and rules of risks, about what strikes or bars what as it opens.
const ABOUT_OPENING: &[&str] = &[
    "leaf-blocked",
    "leaf-stops-short",
    "flap-blocked",
    "drawer-blocked",
    "fronts-meet",
    "open-fronts-touch",
    "open-front-in-doorway",
    "room-door-meets-front",
    "room-door-blocked",
    "doorway-blocked",
    "appliance-door-meets-front",
    "appliance-door-blocked",
    "opening",
    "meet",
    "touch",
    "across",
];
/// Of runs, what stands at their ends.
const AT_ENDS: &[&str] = &["scribe", "filler", "end panel"];
/// Kinds of thing that are cut and put together.
const MADE: &[&str] = &[
    "unit",
    "row",
    "bay",
    "run",
    "scribe",
    "filler",
    "end panel",
    "plinth",
    "panel",
    "sliding",
    "worktop",
    "cutout",
    "drawer",
];

/// Whether a thing is cut of boards, or says how one is.
pub fn is_made(thing: &Thing) -> bool {
    MADE.contains(&thing.kind.as_str())
}

/// Whether a change may be of what a thing is cut of.
pub fn is_of_make(change: &Change, thing: &Thing) -> bool {
    let said = matches!(change, Change::Fact(c) if c.whose == Whose::Said);
    said || sort_of(change, Some(thing)) & (ACROSS | ENDS | UP | OUT | THICK | USED | INSIDE) != 0
}
const FACTS_CUT: &[&str] = &[
    "cut from board",
    "across the board",
    "up the board",
    "cut from",
    "steps at the joints",
    "to be bought",
];

/// What sort of consequence a change is of this thing.
pub fn sort_of(change: &Change, thing: Option<&Thing>) -> Reach {
    let kind = thing.map_or("", |t| t.kind.as_str());
    let fact = match change {
        Change::Fact(c) => c.fact.as_str(),
        Change::Renamed { .. } => return NAME,
        Change::Added(_) | Change::Removed(_) => "",
    };
    match (kind, fact) {
        ("option", "state") => CHOICE,
        ("disclosure" | "option" | "finding", _) if thing.is_some_and(is_about_opening) => OPENS,
        ("disclosure" | "option", _) => RISK,
        ("finding", _) => FOUND,
        (kind, "") if AT_ENDS.contains(&kind) => ENDS,
        (takes::FINISH, _) => ORDERED | COATED,
        (kind, _) if takes::KINDS.contains(&kind) => ORDERED,
        (_, fact) if takes::SUMS.contains(&fact) => SUM,
        (_, fact) if takes::LISTED.contains(&fact) => ORDERED,
        (_, fact) if FACTS_ACROSS.contains(&fact) => ACROSS,
        (_, fact) if FACTS_ENDS.contains(&fact) => ENDS,
        (_, fact) if FACTS_UP.contains(&fact) => UP,
        (_, fact) if FACTS_USED.contains(&fact) => USED,
        (_, fact) if FACTS_INSIDE.contains(&fact) => INSIDE,
        (_, fact) if FACTS_CUT.contains(&fact) => CUT,
        (_, "depth" | "depth over fronts" | "face from the wall") => OUT,
        (_, "thickness") => THICK,
        (_, "drawer boxes at") => ACROSS | UP | INSIDE,
        (_, "mass" | "carried mass" | "people to carry it") => MASS,
        (_, "number") => NUMBER,
        (_, "in all" | "hinges") => COUNT,
        _ => ELSE,
    }
}

/// By its code, or its rule: `meet`, `option meet/change`, `finding fronts-meet L2`.
fn is_about_opening(thing: &Thing) -> bool {
    let word = thing.id.split([' ', '/']).next().unwrap_or_default();
    ABOUT_OPENING.contains(&word)
}

/// What a change that the project file says of a thing may bring about.
pub fn of(change: &Change, thing: Option<&Thing>) -> Reach {
    let kind = thing.map_or("", |t| t.kind.as_str());
    let come_or_gone = matches!(change, Change::Added(_) | Change::Removed(_));
    if let Change::Renamed { .. } = change {
        return NAME | RISK | OPENS | FOUND;
    }
    match (kind, change) {
        ("note" | "history entry" | "person" | "work by others", _) => 0,
        ("disclosure", _) => RISK | OPENS | CHOICE | SUM,
        ("option", Change::Fact(c)) if c.fact == "price" => RISK | OPENS | SUM,
        ("option", _) => RISK | OPENS | CHOICE | SUM,
        ("known finding", _) => RISK | OPENS | FOUND,
        ("finish", _) => RISK | COATED | ELSE,
        ("appliance" | "service" | "hardware" | "way in", _) => TOLD,
        ("board" | "flaw" | "settled front" | "pattern", _) => CUT | ORDERED | TOLD,
        ("unit" | "front" | "bay", _) if come_or_gone => ACROSS | NUMBER | SIZED,
        (_, Change::Fact(c)) if c.whose != Whose::Place => of_fact(kind, c),
        _ => ALL,
    }
}

fn of_fact(kind: &str, c: &FactChange) -> Reach {
    match (kind, c.fact.as_str()) {
        (_, "name" | "note" | "what" | "text" | "title" | "load") => TOLD,
        (_, "hinge") => USED | OPENS | ELSE,
        (_, "hides") => USED | TOLD,
        (_, "finish" | "handle" | "hinge_by" | "runner" | "track" | "straightener") => {
            USED | COUNT | ORDERED | TOLD
        }
        (_, "pattern") => USED | CUT | ORDERED | TOLD,
        ("material", "thickness") => ALL & !(NUMBER | COUNT),
        ("material", "density") => MASS | TOLD,
        ("material", _) => CUT | ORDERED | TOLD,
        ("lining", _) => ACROSS | ENDS | OUT | SIZED,
        // Fronts are as high as their units, wherever the floor is.
        ("wall" | "room", "floor" | "ceiling") => UP | INSIDE | (SIZED & !CUT),
        ("wall" | "room", "length" | "plumb" | "turn") => ACROSS | ENDS | OUT | SIZED,
        ("slope" | "bulkhead", _) => UP | OUT | INSIDE | SIZED,
        ("bay", "width") => ACROSS | INSIDE | SIZED,
        ("bay", _) | (_, "shelves") => INSIDE | SIZED,
        ("unit" | "kind of unit", "width") => ACROSS | SIZED,
        ("unit" | "kind of unit" | "row", "doors" | "drawers" | "flaps" | "fixed") => {
            ACROSS | NUMBER | SIZED
        }
        (_, "width" | "from" | "to" | "at") => ACROSS | ENDS | SIZED,
        (_, "height" | "top" | "base" | "bottom") => UP | INSIDE | SIZED,
        (_, "depth" | "off_wall") => OUT | SIZED,
        _ => match (&c.old, &c.new) {
            // Another board or lay, called by its name: it may be of another thickness.
            (Some(Fact::Name(_)), _) | (_, Some(Fact::Name(_))) => ALL & !NUMBER,
            _ => ALL,
        },
    }
}
