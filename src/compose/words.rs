//! Names and numbers in the words a reader meets: subjects, dates, sizes, kinds. Must not decide what
//! is on a page, and works out no size of the furniture.

use crate::reckon::lifting;
use crate::reckon::placed::{PieceKind, PlacedFront};
use crate::resolve::job::{
    FrontKind, HardwareKind, Job, ObstacleKind, Side, Stands, Subject, SwingApex,
};
use crate::units::{Date, Length, Mass};

/// What stands where there is nothing to say.
pub const NOTHING: &str = "\u{2013}";

/// `2 March 2026`, the day kept with its month.
pub fn date(d: Date) -> String {
    d.in_words()
}

/// Of a day as a fact has it, `2026-03-02`; as it stands, if it is none.
pub fn written_day(day: &str) -> String {
    let mut parts = day.splitn(3, '-');
    let mut next = || parts.next();
    let read = (|| {
        Some(Date {
            year: next()?.parse().ok()?,
            month: next()?.parse().ok()?,
            day: next()?.parse().ok()?,
        })
    })();
    read.map_or_else(|| day.to_owned(), date)
}

pub fn or_nothing(text: &str) -> &str {
    if text.trim().is_empty() {
        NOTHING
    } else {
        text
    }
}

/// `600 × 330`.
pub fn by(a: Length, b: Length) -> String {
    format!("{a} \u{d7} {b}")
}

pub fn by3(a: Length, b: Length, c: Length) -> String {
    format!("{a} \u{d7} {b} \u{d7} {c}")
}

/// A surveyed or scribed size to the half millimetre, which is as near as anybody measures a wall.
pub fn to_half(size: Length) -> String {
    size.round_to(Length::um(500)).to_string()
}

pub fn kg(mass: Mass) -> String {
    format!("{mass}\u{a0}kg")
}

/// How many people a mass asks for by the guideline figures: men, and women where they would be more.
/// `None`: more than three.
pub fn people(mass: Mass) -> Option<String> {
    let named = |n: u32, one: &str, more: &str| match n {
        1 => format!("one {one}"),
        2 => format!("two {more}"),
        _ => format!("three {more}"),
    };
    let men = lifting::people(mass)?;
    Some(match lifting::women(mass) {
        Some(women) if women == men => named(men, "person", "people"),
        Some(women) => format!(
            "{} or {}",
            named(men, "man", "men"),
            named(women, "woman", "women")
        ),
        None => format!("{}, or more than three women", named(men, "man", "men")),
    })
}

/// What a fitting is rated for: as its maker writes it, without an idle decimal.
pub fn rating(mass: Mass) -> String {
    let said = mass.to_string();
    format!("{}\u{a0}kg", said.strip_suffix(".0").unwrap_or(&said))
}

/// A height from the datum, always with its sign.
pub fn from_datum(z: Length, datum: Length) -> String {
    let rise = z - datum;
    match rise > Length::ZERO {
        true => format!("+{rise}"),
        false => rise.to_string(),
    }
}

pub fn side(s: Side) -> &'static str {
    match s {
        Side::Left => "left",
        Side::Right => "right",
    }
}

pub fn front_kind(kind: FrontKind) -> &'static str {
    match kind {
        FrontKind::Door => "door",
        FrontKind::Drawer => "drawer",
        FrontKind::Flap => "flap",
        FrontKind::Fixed => "fixed panel",
        FrontKind::Open => "open",
    }
}

/// How a front opens, for somebody who has never read a schedule.
pub fn opens(front: &PlacedFront) -> String {
    match (front.kind, front.hinge) {
        (FrontKind::Door, Some(s)) => format!("hinged {}", side(s)),
        (FrontKind::Door, None) => "door".to_owned(),
        (FrontKind::Drawer, _) => "pulls out".to_owned(),
        (FrontKind::Flap, _) => format!("hinged at the {}", hinged(front)),
        (FrontKind::Fixed, _) => "does not open".to_owned(),
        (FrontKind::Open, _) => NOTHING.to_owned(),
    }
}

/// The edge a front is hinged at, for a schedule.
pub fn hinged(front: &PlacedFront) -> &'static str {
    match (front.kind, front.hinge) {
        (FrontKind::Flap, _) if front.lifts() => "top",
        (FrontKind::Flap, _) => "foot",
        (_, Some(s)) => side(s),
        (_, None) => NOTHING,
    }
}

pub fn stands(s: Stands) -> &'static str {
    match s {
        Stands::Plinth => "feet, plinth",
        Stands::Feet => "feet, in view",
        Stands::Wall => "hung on wall",
        Stands::Unit => "another unit",
    }
}

pub fn piece(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Scribe => "scribe",
        PieceKind::Filler => "filler",
        PieceKind::EndPanel => "end panel",
    }
}

pub fn piece_plural(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Scribe => "scribes",
        PieceKind::Filler => "fillers",
        PieceKind::EndPanel => "end panels",
    }
}

pub fn hardware(kind: HardwareKind) -> &'static str {
    match kind {
        HardwareKind::Hinge => "hinge",
        HardwareKind::Handle => "handle",
        HardwareKind::Foot => "foot",
        HardwareKind::Runner => "pair of drawer runners",
        HardwareKind::Rail => "hanging rail",
        HardwareKind::Latch => "latch",
        HardwareKind::Stay => "stay",
        HardwareKind::Straightener => "straightener",
        HardwareKind::Track => "track",
        HardwareKind::Fixing => "fixing",
    }
}

pub fn obstacle(kind: ObstacleKind) -> &'static str {
    match kind {
        ObstacleKind::Door => "door",
        ObstacleKind::Corner => "corner",
        ObstacleKind::Stair => "stair",
        ObstacleKind::Lift => "lift",
    }
}

/// The convention the project declares, said so that nobody needs to know it.
pub fn swing(apex: SwingApex) -> &'static str {
    match apex {
        SwingApex::Hinge => {
            "The dashed triangle on a door points to the edge where its hinges are; the handle is on \
             the other edge."
        }
        SwingApex::Handle => {
            "The dashed triangle on a door points to the edge where its handle is; the hinges are on \
             the other edge."
        }
    }
}

/// `Chamber, wardrobe wall: W2 Shelved wardrobe`: what a note or finding is about.
pub fn subject(job: &Job, subject: &Subject) -> String {
    match subject {
        Subject::Job => "The whole job".to_owned(),
        Subject::Room(r) => job
            .rooms
            .get(*r)
            .map(|r| r.name.clone())
            .unwrap_or_default(),
        Subject::Wall(at) => wall(job, at.room, at.wall),
        Subject::Run(r) => job.runs.get(*r).map(|r| r.name.clone()).unwrap_or_default(),
        Subject::Unit(r, u) => {
            let unit = job.runs.get(*r).and_then(|run| run.units.get(*u));
            unit.map(|u| unit_name(&u.id, &u.name)).unwrap_or_default()
        }
        Subject::Front(id) => format!("Front {id}"),
        Subject::Panel(p) => job
            .panels
            .get(*p)
            .map(|p| named(&p.id, &p.name))
            .unwrap_or_default(),
        Subject::Sliding(s) => job
            .sliding
            .get(*s)
            .map(|s| named(&s.id, &s.name))
            .unwrap_or_default(),
        Subject::Worktop(w) => job
            .worktops
            .get(*w)
            .map(|w| named(&w.id, &w.name))
            .unwrap_or_default(),
    }
}

/// The same for somebody who knows no ids: `Sliding door to the scullery`.
pub fn subject_name(job: &Job, of: &Subject) -> String {
    let name = match of {
        Subject::Panel(p) => job.panels.get(*p).map(|p| &p.name),
        Subject::Sliding(s) => job.sliding.get(*s).map(|s| &s.name),
        Subject::Worktop(w) => job.worktops.get(*w).map(|w| &w.name),
        _ => None,
    };
    match name {
        Some(name) if !name.is_empty() => name.clone(),
        _ => subject(job, of),
    }
}

/// `Sliding door to the scullery (slider)`.
pub fn named(id: &str, name: &str) -> String {
    match name.is_empty() || id == name {
        true => id.to_owned(),
        false => format!("{name} ({id})"),
    }
}

/// `W2 Shelved wardrobe`.
pub fn unit_name(id: &str, name: &str) -> String {
    match name.is_empty() || id == name {
        true => id.to_owned(),
        false => format!("{id} {name}"),
    }
}

/// `Scullery, wall E (chimney breast)`.
pub fn wall(job: &Job, room: usize, wall: usize) -> String {
    let Some(r) = job.rooms.get(room) else {
        return String::new();
    };
    let Some(w) = r.walls.get(wall) else {
        return r.name.clone();
    };
    match w.name.is_empty() || w.name == w.id {
        true => format!("{}, wall\u{a0}{}", r.name, w.id),
        false => format!("{}, wall\u{a0}{} ({})", r.name, w.id, w.name),
    }
}

/// `a, b and c`.
pub fn and_list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// With a capital, as at the beginning of a cell or a sentence.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    let first = chars.next().into_iter();
    first.flat_map(char::to_uppercase).chain(chars).collect()
}

pub fn sentence(text: &str) -> String {
    let mut out = capital(text.trim());
    if out.is_empty() {
        return out;
    }
    if !out.ends_with(['.', '!', '?', ':', '\u{2026}']) {
        out.push('.');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_said_in_words_and_days_off_the_calendar_as_written() {
        let d = Date {
            year: 2026,
            month: 3,
            day: 2,
        };
        assert_eq!(date(d), "2\u{a0}March 2026");
        assert_eq!(date(Date { month: 0, ..d }), "2026-00-02");
        assert_eq!(date(Date { month: 13, ..d }), "2026-13-02");
    }

    #[test]
    fn heights_from_the_datum_carry_their_sign() {
        let datum = Length::mm(1000);
        assert_eq!(from_datum(Length::mm(2380), datum), "+1380");
        assert_eq!(from_datum(Length::mm(90), datum), "\u{2212}910");
        assert_eq!(from_datum(datum, datum), "0");
    }

    #[test]
    fn lists_and_sentences_read_as_english() {
        let of = |s: &[&str]| and_list(&s.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>());
        assert_eq!(of(&["a", "b", "c"]), "a, b and c");
        assert_eq!(of(&["a"]), "a");
        assert_eq!(sentence(" the wall leans"), "The wall leans.");
    }
}
