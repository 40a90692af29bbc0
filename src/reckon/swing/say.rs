//! The words of a clash: what strikes what, how far it opens, what it is held against and what to
//! do. Knows English and millimetres; must not judge.

use super::Thing;
use super::doorway::Across;
use super::movers::{Motion, Mover};
use super::names;
use super::tell::{Kind, Teller, whole_degrees};
use crate::reckon::checks::names as list;
use crate::reckon::placed::{Figure, PlacedFront, PlanPoint, Reckoned};
use crate::resolve::job::{FrontKind, Job, Side};
use crate::units::Length;

/// A mover that something stops.
pub struct Blocked {
    pub mover: Mover,
    pub at: f64,
    pub handle: bool,
    /// What it strikes first.
    pub by: Option<Thing>,
    pub areas: Vec<Vec<PlanPoint>>,
}

/// Two movers that stop one another.
#[derive(Clone)]
pub struct Pair {
    pub one: Mover,
    pub other: Mover,
    pub angle: Option<f64>,
    pub area: Vec<PlanPoint>,
}

/// How a thing is called.
type Name = fn(&Job, &Reckoned, Thing) -> String;

pub struct Told {
    pub text: String,
    pub limit: String,
    pub advice: String,
    pub brief: String,
    pub figure: Option<Figure>,
    /// What a client may choose instead, where it is another than for all of its kind.
    pub choice: Option<&'static str>,
}

const TURN: &str = "a quarter turn (common practice, no source)";

pub fn blocked(teller: &Teller<'_>, kind: Kind, all: &[Blocked], what: &[Thing]) -> Told {
    let said = |name: Name| -> Vec<String> {
        what.iter()
            .map(|t| name(teller.job, teller.reckoned, *t))
            .collect()
    };
    let (struck, brief) = (said(names::thing), said(names::short));
    let names: Vec<&str> = struck.iter().map(String::as_str).collect();
    let brief: Vec<&str> = brief.iter().map(String::as_str).collect();
    let stands = match names.as_slice() {
        [one] => format!("{one} stands in the way"),
        many => format!("{} stand in the way", list(many)),
    };
    let at = all.iter().map(|b| b.at).fold(f64::INFINITY, f64::min);
    let by_handle = all.iter().all(|b| b.handle);
    let why = match by_handle {
        true => format!("{} strikes {}", handles(all.len()), list(&names)),
        false => stands,
    };
    let who = who(teller, all);
    let verb = |one: &'static str, many: &'static str| match all.len() {
        1 => one,
        _ => many,
    };
    let degrees = whole_degrees(at);
    let first = all.first();
    let (text, limit, advice) = match kind {
        Kind::LeafStopsShort => {
            let full = first.map_or(0.0, |b| b.mover.full());
            (
                format!(
                    "{who} {} to {degrees} of the {:.0}° that {} allow; then {why}.",
                    verb("opens", "open"),
                    full.to_degrees(),
                    verb("its hinges", "their hinges")
                ),
                "what the hinge says it opens".to_string(),
                format!("Fit a stop or set the hinges to no more than {degrees}, so that neither is marked."),
            )
        }
        Kind::Leaf => {
            let axis = first.and_then(|b| axis(teller, &b.mover));
            (
                format!("{who} {}: {why}.", goes(at, verb("opens", "open"))),
                format!("{TURN}{}", axis.unwrap_or_default()),
                first
                    .and_then(|b| beside(teller, &b.mover, what))
                    .unwrap_or_else(|| "Hinge it on the other side, put a filler beside it, or keep the two apart by the width of the leaf.".into()),
            )
        }
        Kind::Drawer => {
            let full = first.map_or(0.0, |b| b.mover.full());
            (
                format!("{} {} {at:.0} of {full:.0} mm: {why}.",
                    capital(&who), match first.map(|b| b.mover.what) {
                        Some(Thing::Inner(..)) => "come out",
                        _ => verb("comes out", "come out"),
                    }),
                "as far as the runner lets it".to_string(),
                "Move it along, put a filler in the corner, take a shorter runner or a handle that stands out less.".to_string(),
            )
        }
        Kind::Flap => (
            format!("{who} {}: {why}.", goes(at, verb("opens", "open"))),
            format!(
                "{:.0}°, as far as its stay lets it",
                first.map_or(90.0, |b| b.mover.full().to_degrees())
            ),
            "Make it lower, take a stay that opens less, or have what is in its way moved (a light by a licensed electrician).".to_string(),
        ),
        Kind::RoomDoor => (
            format!("{} {}: {why}.", capital(&who), goes(at, "opens")),
            TURN.to_string(),
            "Move or narrow what stands there, or have the door hung on the other side or opening out: it is also a way out in a fire.".to_string(),
        ),
        _ => (
            format!("{} {}: {why}.", capital(&who), reaches(first, at)),
            "the door open as its maker has it (not known: a quarter turn, common practice, no source)".to_string(),
            "Have its door hung on the other side, bring it farther forward, or move what is in its way.".to_string(),
        ),
    };
    let strikes = match kind {
        Kind::LeafStopsShort => "stops at",
        _ => "strikes",
    };
    let brief = format!("{} {strikes} {}", short_who(teller, all), list(&brief));
    let figure = first.and_then(|b| turned(&b.mover, at));
    Told {
        figure,
        choice: None,
        text,
        limit,
        advice,
        brief,
    }
}

/// How far a leaf opens, of how far its hinge lets it.
fn turned(mover: &Mover, at: f64) -> Option<Figure> {
    let Motion::Turn { .. } = mover.motion else {
        return None;
    };
    Some(Figure {
        found: whole_degrees(at).to_string(),
        limit: format!("{:.0}\u{b0}", mover.full().to_degrees()),
        weight: -at,
    })
}

fn reaches(first: Option<&Blocked>, at: f64) -> String {
    match first.map(|b| b.mover.motion) {
        Some(Motion::Slide { travel, .. }) => format!("comes {at:.0} of {travel:.0} mm out"),
        _ => goes(at, "opens"),
    }
}

fn goes(at: f64, opens: &str) -> String {
    match at < 0.02 {
        true => "cannot open".into(),
        false => format!("{opens} to {} only", whole_degrees(at)),
    }
}

fn handles(count: usize) -> &'static str {
    match count {
        1 => "its handle",
        _ => "the handle",
    }
}

/// `Doors 3 and 4 of K1 “Chest”`.
fn who(teller: &Teller<'_>, all: &[Blocked]) -> String {
    let fronts: Vec<&PlacedFront> = all.iter().filter_map(|b| teller.front(&b.mover)).collect();
    let Some(first) = fronts.first() else {
        return all
            .first()
            .map(|b| teller.name(b.mover.what))
            .unwrap_or_default();
    };
    let unit = names::unit_at(teller.job, first.run, first.unit);
    format!("{} of {unit}", capital(&numbered(&fronts)))
}

fn short_who(teller: &Teller<'_>, all: &[Blocked]) -> String {
    let fronts: Vec<&PlacedFront> = all.iter().filter_map(|b| teller.front(&b.mover)).collect();
    match fronts.is_empty() {
        true => all
            .first()
            .map(|b| names::short(teller.job, teller.reckoned, b.mover.what))
            .unwrap_or_default(),
        false => numbered(&fronts),
    }
}

/// `doors 3 and 4`.
fn numbered(fronts: &[&PlacedFront]) -> String {
    let kind = names::kind(fronts.first().map_or(FrontKind::Fixed, |f| f.kind));
    let numbers: Vec<String> = fronts.iter().map(|f| f.number.to_string()).collect();
    let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
    let plural = if fronts.len() == 1 { "" } else { "s" };
    format!("{kind}{plural} {}", list(&numbers))
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

fn axis(teller: &Teller<'_>, mover: &Mover) -> Option<String> {
    let front = teller.front(mover)?;
    let hinge = front
        .style
        .hinge
        .and_then(|h| teller.job.hardware.get(h.0))?;
    let offset = hinge.offset?;
    Some(format!(", with the {offset} mm of offset its hinge has"))
}

/// Of a leaf at a wall beside its hinges: what the filler must be (handbook §3).
fn beside(teller: &Teller<'_>, mover: &Mover, struck: &[Thing]) -> Option<String> {
    let front = teller.front(mover)?;
    let [Thing::Wall(room, wall)] = struck else {
        return None;
    };
    let hinge = front.style.hinge.and_then(|h| teller.job.hardware.get(h.0));
    let offset = hinge.and_then(|h| h.offset);
    let needs = beside_hinges(front, offset);
    let has = to_wall(teller, front, (*room, *wall))?;
    if has >= needs {
        return None;
    }
    let thick = front.y_face - front.y_back;
    let out = front.handle.map_or(Length::ZERO, |h| h.out);
    Some(format!(
        "Beside its hinges it needs {needs} mm (handle {out} + leaf {thick} − hinge offset {}) and has {has}: make the filler {} mm wider.",
        offset.unwrap_or(thick),
        needs - has
    ))
}

/// Handbook §3: a leaf opens square beside a wall only where what is between them is at least its
/// handle's projection + its thickness − the hinge's offset.
pub fn beside_hinges(front: &PlacedFront, offset: Option<Length>) -> Length {
    let thick = front.y_face - front.y_back;
    let out = front.handle.map_or(Length::ZERO, |h| h.out);
    out + thick - offset.unwrap_or(thick)
}

/// From a leaf's hinged edge to the lined face of a wall beside it, to a half-millimetre; `None`
/// where the wall is not on that side of it.
fn to_wall(
    teller: &Teller<'_>,
    front: &PlacedFront,
    (room, wall): (usize, usize),
) -> Option<Length> {
    let placed = teller.reckoned.rooms.get(room)?;
    let (own, other) = (placed.walls.get(front.wall.wall)?, placed.walls.get(wall)?);
    let made = teller.job.rooms.get(room)?.walls.get(wall)?;
    let edge = match front.hinge? {
        Side::Left => front.left,
        Side::Right => front.right,
    };
    let from = own.at(edge.in_mm(), front.y_face.in_mm());
    let away = crate::reckon::plan::distance(other, from);
    let lean = crate::reckon::profile::extremes(&made.plumb, front.bottom, front.top).1;
    let has = crate::reckon::profile::near(Length::from_mm(away) - made.lining_thickness() - lean);
    let toward = own.along.x * other.out.x + own.along.y * other.out.y;
    let facing = match front.hinge? {
        Side::Left => toward > 0.5,
        Side::Right => toward < -0.5,
    };
    (facing && !has.is_negative()).then_some(has)
}

/// `doors 3 and 5`, `7 and 9`; `door 29 and drawers 36, 37 and 38`: each what meets one thing.
fn listed(teller: &Teller<'_>, all: &[Pair], name: Name) -> Vec<String> {
    type Met<'a> = (Vec<&'a PlacedFront>, Vec<String>);
    let mut out: Vec<String> = Vec::new();
    let mut by_one: Vec<(&Mover, Met<'_>)> = Vec::new();
    // Fronts that meet one thing which is none: `drawers 7, 8 and 9 with the own door of …`.
    let mut by_other: Vec<(&Mover, Vec<&PlacedFront>)> = Vec::new();
    for p in all {
        if let (Some(front), None) = (teller.front(&p.one), teller.front(&p.other)) {
            match by_other
                .iter_mut()
                .find(|(other, _)| other.what == p.other.what)
            {
                Some((_, fronts)) => fronts.push(front),
                None => by_other.push((&p.other, vec![front])),
            }
            continue;
        }
        let at = by_one.iter().position(|(one, _)| one.what == p.one.what);
        let at = at.unwrap_or_else(|| {
            by_one.push((&p.one, Default::default()));
            by_one.len() - 1
        });
        if let Some((_, met)) = by_one.get_mut(at) {
            match teller.front(&p.other) {
                Some(front) => met.0.push(front),
                None => met.1.push(name(teller.job, teller.reckoned, p.other.what)),
            }
        }
    }
    for (other, fronts) in by_other {
        let other = name(teller.job, teller.reckoned, other.what);
        out.push(format!("{} with {other}", numbered(&fronts)));
    }
    for (one, (fronts, others)) in by_one {
        let own = teller.front(one);
        let mut met: Vec<String> = others;
        for kind in [FrontKind::Door, FrontKind::Drawer, FrontKind::Flap] {
            let some: Vec<&PlacedFront> =
                fronts.iter().copied().filter(|f| f.kind == kind).collect();
            // Two of a kind share its name; a list of such pairs says it once.
            if let (Some(own), [only], true) = (own, some.as_slice(), met.is_empty())
                && own.kind == kind
                && fronts.len() == 1
            {
                let plural = format!("{}s ", names::kind(kind));
                let said = out.iter().any(|o| o.starts_with(&plural));
                let word = if said { "" } else { plural.as_str() };
                out.push(format!("{word}{} and {}", own.number, only.number));
            } else if !some.is_empty() {
                met.push(numbered(&some));
            }
        }
        if !met.is_empty() {
            let met: Vec<&str> = met.iter().map(String::as_str).collect();
            out.push(format!(
                "{} and {}",
                name(teller.job, teller.reckoned, one.what),
                list(&met)
            ));
        }
    }
    out
}

/// `With any of drawers 36, 37 and 38 pulled out, door 29 opens to 36° only, and the other way
/// about.`: leaves that meet what slides or lifts; `None` of others.
fn mixed(teller: &Teller<'_>, all: &[Pair], least: f64) -> Option<String> {
    let mut leaves: Vec<(&PlacedFront, Vec<&PlacedFront>)> = Vec::new();
    for p in all {
        let turns = matches!(p.one.motion, Motion::Turn { .. });
        let (leaf, other) = (teller.front(&p.one)?, teller.front(&p.other)?);
        if !turns {
            return None;
        }
        match leaves.iter_mut().find(|(l, _)| l.number == leaf.number) {
            Some((_, others)) => others.push(other),
            None => leaves.push((leaf, vec![other])),
        }
    }
    let opens = whole_degrees(least);
    let said: Vec<String> = leaves
        .iter()
        .map(|(leaf, others)| {
            let out = match others.first().map(|f| f.kind) {
                Some(FrontKind::Drawer) => "pulled out",
                _ => "open",
            };
            let any = if others.len() > 1 { "any of " } else { "" };
            let (others, leaf) = (numbered(others), numbered(&[leaf]));
            format!(
                "with {any}{others} {out}, {leaf} opens to {opens} only, and the other way about"
            )
        })
        .collect();
    (!said.is_empty()).then(|| format!("{}.", capital(&said.join("; "))))
}

/// What a client may choose instead.
pub fn choice(kind: Kind) -> &'static str {
    match kind {
        Kind::Leaf => "Hung on the other side, a strip beside it, or accept how far it opens.",
        Kind::Drawer => {
            "A narrower or shorter drawer, a flatter handle, or accept how far it comes out."
        }
        Kind::Flap => {
            "A lower flap, or one that opens less. A light in its way is for a licensed electrician to move."
        }
        Kind::RoomDoor => {
            "What stands there made narrower or moved, or the door hung on its other side or opening out. It is also a way out in a fire."
        }
        Kind::Machine => "Its own door hung on the other side, or what is in its way moved.",
        Kind::MachineMeets => "The machine's door, or ours, hung on the other side.",
        Kind::RoomDoorMeets => {
            "One shut before the other is opened, for whoever comes in may strike it. Or ours hung on the other side."
        }
        Kind::DrawerBehindDoor => "A narrower drawer, or a hinge that opens farther.",
        Kind::LeavesMeet | Kind::LeavesTouch | Kind::LeafTouchesDrawer => {
            "Only one open at a time, a door hung on its other side, or a strip between them."
        }
        Kind::LeafStopsShort => "As drawn, or changed so that it opens farther.",
        Kind::Across => {
            "Shut again before anybody walks through, hung on its other side, or moved along. It is also a way out in a fire."
        }
    }
}

/// `Open, door 2 stands before the doorway to “landing” and covers 497 mm of its 826 mm; 329 mm stay free.`
pub fn across(teller: &Teller<'_>, across: &Across, movers: &[&Mover]) -> Told {
    let name = |m: &&Mover| names::thing(teller.job, teller.reckoned, m.what);
    let fronts: Vec<&PlacedFront> = movers.iter().filter_map(|m| teller.front(m)).collect();
    let same = |f: &&PlacedFront| Some(f.kind) == fronts.first().map(|f| f.kind);
    let who = match fronts.iter().all(same) {
        true => numbered(&fronts),
        false => {
            let all: Vec<String> = movers.iter().map(name).collect();
            list(&all.iter().map(String::as_str).collect::<Vec<_>>())
        }
    };
    let widths: Vec<String> = across
        .by
        .iter()
        .map(|(_, w)| format!("{w:.0} mm"))
        .collect();
    let widths = list(&widths.iter().map(String::as_str).collect::<Vec<_>>());
    let (stands, covers) = match movers.len() {
        1 => ("stands", "covers"),
        _ => ("stand", "cover"),
    };
    let Across { width, free, .. } = across;
    let most = across.by.iter().map(|(_, w)| *w).fold(0.0, f64::max);
    Told {
        text: format!(
            "Open, {who} {stands} before {} and {covers} {widths} of its {width:.0} mm; {free:.0} mm stay free.",
            names::doorway(teller.job, across.doorway)
        ),
        limit: "a doorway free while they stand open, 500 mm before it; less than 50 mm is not told (common practice, no source)".to_string(),
        advice: "Agree that they are shut before anybody walks through, hinge them on the other side or move the unit along; ask those who know the fire rules, where it is a way out.".to_string(),
        brief: format!("{who}, open, {stands} before the doorway"),
        choice: None,
        figure: Some(Figure {
            found: format!("{most:.0} mm"),
            limit: format!("{width:.0} mm"),
            weight: most / width.max(1.0),
        }),
    }
}

pub fn pairs(teller: &Teller<'_>, kind: Kind, all: &[Pair]) -> Told {
    let pairs = listed(teller, all, names::thing);
    let brief = listed(teller, all, names::short);
    let least = all
        .iter()
        .filter_map(|p| p.angle)
        .fold(None, |l: Option<f64>, a| Some(l.map_or(a, |l| l.min(a))));
    let listed = pairs.join(", ");
    let turns = |m: &Mover| matches!(m.motion, Motion::Turn { .. });
    let both_turn = all.iter().all(|p| turns(&p.one) && turns(&p.other));
    let mixed = match (least, both_turn, kind) {
        (Some(least), false, Kind::LeavesMeet | Kind::LeafTouchesDrawer) => {
            mixed(teller, all, least)
        }
        _ => None,
    };
    let how = match (least, both_turn) {
        _ if kind == Kind::DrawerBehindDoor => String::new(),
        (Some(a), true) => format!(": both go to {} at most", whole_degrees(a)),
        (Some(a), false) => format!(
            ": while the one is open the other goes to {} at most",
            whole_degrees(a)
        ),
        (None, _) => String::new(),
    };
    let (text, limit, advice) = match kind {
        Kind::LeavesTouch => (
            format!(
                "{} touch when both stand open further than {}.",
                capital(&listed),
                whole_degrees(least.unwrap_or_default())
            ),
            "each open a quarter turn or all the way out".to_string(),
            enough(teller, all),
        ),
        Kind::LeafTouchesDrawer => (
            mixed.unwrap_or_else(|| {
                format!(
                    "{}: while the one is out the other opens to {}.",
                    capital(&listed),
                    whole_degrees(least.unwrap_or_default())
                )
            }),
            "each open a quarter turn or all the way out".to_string(),
            enough(teller, all),
        ),
        Kind::DrawerBehindDoor => (
            format!("{}: in each other's way.", capital(&listed)),
            "the drawer past its door, which stands as far open as it goes; 13 mm a side for the runner (common practice, no source)".to_string(),
            "Space the drawer off the side, take a hinge that opens farther, or move what keeps the door from opening.".to_string(),
        ),
        Kind::MachineMeets => (
            format!("{} cannot both be open{how}.", capital(&listed)),
            "both open as far as each goes by itself; its maker's drawing decides".to_string(),
            "Have the appliance's door hung on the other side, or hinge the front on the other side.".to_string(),
        ),
        Kind::RoomDoorMeets => (
            format!("{} cannot both be open{how}.", capital(&listed)),
            "both open as far as each goes by itself".to_string(),
            "Agree that one is shut before the other is opened: whoever comes in may strike it. Or hinge the front on the other side.".to_string(),
        ),
        _ if mixed.is_some() => (
            mixed.unwrap_or_default(),
            "both open as far as each goes by itself".to_string(),
            one_at_a_time(teller, all, "the door"),
        ),
        _ => (
            format!("{} cannot both be open{how}.", capital(&listed)),
            "both open as far as each goes by itself".to_string(),
            one_at_a_time(teller, all, "one"),
        ),
    };
    let shown = match brief.as_slice() {
        [a, b, _] => format!("{a}, {b} and one more pair"),
        [a, b, more @ ..] if !more.is_empty() => format!("{a}, {b} and {} more pairs", more.len()),
        few => few.join(", "),
    };
    let brief = match kind {
        Kind::LeavesTouch | Kind::LeafTouchesDrawer => format!("{shown} touch, open"),
        _ => format!("{shown} cannot both be open"),
    };
    let figure = least.and_then(|a| all.iter().find_map(|p| turned(&p.one, a)));
    let meet = matches!(
        kind,
        Kind::LeavesMeet | Kind::LeavesTouch | Kind::LeafTouchesDrawer
    );
    let across = meet && stand(teller, all) == Stand::AcrossTheRoom;
    Told {
        figure,
        choice: across.then_some(
            "Only one open at a time, a door hung on its other side, or a stop that keeps it from striking.",
        ),
        text,
        limit,
        advice,
        brief,
    }
}

/// How two that meet stand to one another: what helps depends on it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stand {
    SideBySide,
    InACorner,
    AcrossTheRoom,
}

/// Of the first pair: those told together stand alike, as they are of the same two runs.
fn stand(teller: &Teller<'_>, all: &[Pair]) -> Stand {
    let wall = |mover: &Mover| {
        let run = teller.reckoned.runs.get(mover.unit?.0)?;
        teller
            .reckoned
            .rooms
            .get(run.wall.room)?
            .walls
            .get(run.wall.wall)
    };
    let walls = all
        .first()
        .and_then(|p| Some((wall(&p.one)?, wall(&p.other)?)));
    let Some((one, other)) = walls else {
        return Stand::SideBySide;
    };
    let facing = one.out.x * other.out.x + one.out.y * other.out.y;
    match facing {
        f if f < -0.5 => Stand::AcrossTheRoom,
        f if f < 0.5 => Stand::InACorner,
        _ => Stand::SideBySide,
    }
}

fn one_at_a_time(teller: &Teller<'_>, all: &[Pair], which: &str) -> String {
    let or = match stand(teller, all) {
        Stand::SideBySide => "or put a filler between them",
        Stand::InACorner => "or put a filler in the corner",
        Stand::AcrossTheRoom => "or fit a stop",
    };
    format!("Agree that only one is open at a time, hinge {which} on the other side, {or}.")
}

fn enough(teller: &Teller<'_>, all: &[Pair]) -> String {
    let fronts = all.iter().flat_map(|p| [&p.one, &p.other]);
    let mut handles = fronts.filter_map(|m| teller.front(m)?.handle);
    let flatter = match handles.any(|h| h.out > Length::ZERO) {
        true => ", or handles that stand out less",
        false => "",
    };
    let else_ = match stand(teller, all) {
        Stand::SideBySide => "a filler between them",
        Stand::InACorner => "a filler in the corner",
        Stand::AcrossTheRoom => "a stop, or the door hinged on the other side",
    };
    format!("Nothing, if that is enough; else {else_}{flatter}.")
}
