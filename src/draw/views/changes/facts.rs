//! Which facts of which things show on which drawing: what else changed is told in lists. Knows drawings by
//! their kind; must not know where anything stands.

use crate::draw::DrawingKind;

/// Of whatever has a place on a wall.
const PLACED: &[&str] = &["left edge", "width", "bottom", "height"];
/// Of what was surveyed.
const SURVEYED: &[&str] = &[
    "at",
    "is",
    "what",
    "width",
    "height",
    "tall",
    "out",
    "sill",
    "reveal",
    "underside",
    "from",
    "to",
    "top",
    "bottom",
    "moved_to",
    "leads_to",
    "hinge",
    "opens",
];
/// Of a wall itself: its floor and its ceiling as lines, or its length and how its lines run on plan.
const WALL_UPRIGHT: &[&str] = &["floor", "ceiling"];
const WALL_ON_PLAN: &[&str] = &["length", "turn", "plumb"];
const ON_SHUT: &[&str] = &[
    "hinge side",
    "is",
    "material",
    "finish",
    "handle",
    "hides",
    "pattern",
    "open at",
    "slides",
    "pieces at",
    "top of the upstand",
];
const ON_OPEN: &[&str] = &[
    "shelves at",
    "rails at",
    "inner drawers at",
    "drawer boxes at",
    "bays",
    "appliances",
    "notches",
];
const ON_PLAN: &[&str] = &[
    "left edge",
    "width",
    "depth over fronts",
    "depth",
    "open at",
];
/// Of a unit cut through.
const ON_SECTION: &[&str] = &[
    "bottom",
    "height",
    "depth over fronts",
    "depth",
    "back",
    "shelves at",
    "rails at",
    "inner drawers at",
    "drawer boxes at",
    "appliances",
    "notches",
];
/// Of a blank: on its board, and on the map of its wall, where it also stands somewhere.
const BLANK: &[&str] = &[
    "width",
    "height",
    "number",
    "pattern",
    "cut from board",
    "across the board",
    "up the board",
];
const ON_MAP: &[&str] = &["left edge", "bottom"];
const OF_BOARD: &[&str] = &["first_crest"];
const OF_FLAW: &[&str] = &["from", "to", "what"];

/// Things in a wall, or against it, that were there before.
pub const OF_WALL: &[&str] = &["door", "window", "bulkhead", "obstruction", "service"];

/// Facts of a kind of thing whose change shows on a kind of drawing.
pub fn shown(drawing: &DrawingKind, thing: &str) -> Vec<&'static str> {
    let surveyed = OF_WALL.contains(&thing);
    let lists: &[&[&str]] = match (drawing, thing) {
        (DrawingKind::Shut(_) | DrawingKind::Open(_), "wall") => &[WALL_UPRIGHT],
        (DrawingKind::Plan(_), "wall") => &[WALL_ON_PLAN],
        (DrawingKind::Plan(_), "slope") => &[&["low", "high", "over", "wall"]],
        // Which way its leaf goes; its sizes stand on elevations, and its unit's are marked here.
        (DrawingKind::Plan(_), "front") => &[&["hinge side"]],
        (DrawingKind::Plan(_), "lining") => &[&["thickness", "what"]],
        (DrawingKind::Shut(_) | DrawingKind::Plan(_), "cutout") => {
            &[&["at", "width", "depth", "from_front", "what"]]
        }
        (DrawingKind::Shut(_) | DrawingKind::Open(_) | DrawingKind::Plan(_), _) if surveyed => {
            &[SURVEYED]
        }
        (DrawingKind::Shut(_), _) => &[PLACED, ON_SHUT],
        (DrawingKind::Open(_), _) => &[PLACED, ON_OPEN],
        (DrawingKind::Plan(_), _) => &[ON_PLAN],
        (DrawingKind::Section, _) => &[ON_SECTION],
        (DrawingKind::PatternWall(_) | DrawingKind::Look(_), _) => &[BLANK, ON_MAP],
        (DrawingKind::PatternBoards(_), "board") => &[OF_BOARD],
        (DrawingKind::PatternBoards(_), "flaw") => &[OF_FLAW],
        (DrawingKind::PatternBoards(_), _) => &[BLANK],
        _ => &[],
    };
    lists.concat()
}
