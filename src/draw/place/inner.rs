//! Notes set inside the drawing, close to what they are about, where there is white paper: a short
//! leader reads better than one across the room. Knows what is drawn; a note without a place inside
//! is left for the margins.

use super::callouts::Note;
use super::columns::Block;
use super::geometry::Segment;
use super::{Item, Text};
use crate::draw::scene::{Fill, Pt, Rect, Shape};
use crate::draw::style::{Ink, Weight};

/// What already stands: lines that show, and places taken.
pub struct Standing {
    pub lines: Vec<(Segment, Weight)>,
    pub taken: Vec<Rect>,
    /// Lines that no leader may cross: those of dimensions. Without any, a number alone stands in the
    /// margin, where it is looked for.
    pub barred: Vec<Segment>,
    /// Where leaders will end: words keep off.
    pub targets: Vec<Pt>,
    /// Notes stay within this: the object and its chains.
    pub within: Rect,
}

impl Standing {
    /// Whether a leader will end there.
    pub fn awaited(&self, own: Rect) -> bool {
        let under = |p: &Pt| own.contains(Rect::about(*p, 0.0, 0.0));
        self.targets.iter().any(under)
    }

    /// Only what a note about `target` can meet.
    pub fn near(&self, target: Pt) -> Standing {
        let reach = 2.0 * (WORST + WRAPS.iter().copied().fold(0.0, f64::max));
        let reach = Rect::about(target, reach, reach);
        let lines = self.lines.iter().filter(|(s, _)| s.enters(reach));
        let taken = self.taken.iter().filter(|t| t.overlaps(reach));
        Standing {
            lines: lines.copied().collect(),
            taken: taken.copied().collect(),
            barred: self
                .barred
                .iter()
                .filter(|s| s.enters(reach))
                .copied()
                .collect(),
            targets: self.targets.clone(),
            within: self.within,
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inner {
    pub texts: Vec<Text>,
    /// Leaders with their dots.
    pub lines: Vec<Item>,
    pub rest: Vec<Note>,
}

/// A note is set in lines no wider than the first of these or, where that finds no place, the next.
const WRAPS: [f64; 3] = [46.0, 34.0, 22.0];
/// White kept round a note, mm.
const CLEAR: f64 = 1.2;
/// From target to note, in the order tried, mm.
const AWAY: [f64; 8] = [4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0, 39.0];
/// Where round its target a note may lie, degrees: level and upright leaders could be taken for lines
/// of the object.
const WAYS: [f64; 20] = [
    -35.0, 35.0, -145.0, 145.0, -60.0, 60.0, -120.0, 120.0, -15.0, 15.0, -165.0, 165.0, -25.0,
    25.0, -155.0, 155.0, -48.0, 48.0, -132.0, 132.0,
];
/// Where along a note's top or bottom its leader may meet it.
const ALONG: [f64; 3] = [0.5, 0.12, 0.88];
/// A place worse than this is left for the margins; a mm of leader costs 1.
const WORST: f64 = 60.0;

/// Settles what it can, in the order given; `leaders` already stand.
pub fn settle(notes: Vec<Note>, mut standing: Standing, mut leaders: Vec<Segment>) -> Inner {
    let mut out = Inner::default();
    for note in notes {
        let words = !note.text.trim().is_empty() || !standing.barred.is_empty();
        let words = words && !note.aside;
        let place = (words && note.target.x.is_finite() && note.target.y.is_finite())
            .then(|| {
                let near = standing.near(note.target);
                let mut wraps = WRAPS.iter();
                wraps.find_map(|wrap| best(&note, *wrap, &near, &leaders))
            })
            .flatten();
        let Some((texts, leader)) = place else {
            out.rest.push(note);
            continue;
        };
        let taken = texts.iter().map(|t| t.bounds().grown(CLEAR));
        standing.taken.extend(taken);
        leaders.push(leader);
        out.lines.push(line(leader));
        out.lines.push(dot(note.target));
        out.texts.extend(texts);
    }
    out
}

pub fn line(leader: Segment) -> Item {
    let points = vec![leader.a, leader.b];
    let shape = Shape::Path {
        points,
        closed: false,
    };
    Item::Shape {
        ink: Ink::Dimension,
        fill: Fill::None,
        shape,
    }
}

pub fn dot(at: Pt) -> Item {
    let shape = Shape::Circle {
        centre: at,
        radius: 0.5,
    };
    Item::Shape {
        ink: Ink::None,
        fill: Fill::Solid,
        shape,
    }
}

fn best(
    note: &Note,
    wrap: f64,
    standing: &Standing,
    leaders: &[Segment],
) -> Option<(Vec<Text>, Segment)> {
    let block = Block::of(note, wrap);
    let (w, h) = (block.width, block.height);
    // Where the leader meets the block's side, below its top.
    let mouth = match note.balloon {
        Some(_) => block.mouth(),
        None => h / 2.0,
    };
    let mut found: Option<(f64, Pt, bool, Segment)> = None;
    for away in AWAY {
        // A longer leader costs more whatever it crosses.
        if found.as_ref().is_some_and(|(least, ..)| *least <= away) {
            break;
        }
        for way in WAYS {
            let (sin, cos) = libm::sincos(way.to_radians());
            let end = Pt::new(note.target.x + away * cos, note.target.y + away * sin);
            // The leader meets the note at the side it comes from.
            let (level, leftward) = (cos.abs() >= 0.55, cos < 0.0);
            let beside = match leftward {
                false => Pt::new(end.x + 1.0, end.y - mouth),
                true => Pt::new(end.x - 1.0 - w, end.y - mouth),
            };
            let over = if sin > 0.0 { 1.0 } else { -1.0 - h };
            let over = ALONG.map(|part| Pt::new(end.x - w * part, end.y + over));
            let corners = [beside].into_iter().filter(|_| level);
            let corners = corners.chain(over.into_iter().filter(|_| sin.abs() > 0.4));
            let leader = Segment::new(note.target, end);
            for (n, corner) in corners.enumerate() {
                let own = Rect::new(corner.x, corner.y, corner.x + w, corner.y + h).grown(CLEAR);
                if let Some(cost) = cost(own, leader, standing, leaders)
                    && found.as_ref().is_none_or(|(least, ..)| cost < *least)
                {
                    found = Some((cost, corner, level && leftward && n == 0, leader));
                }
            }
        }
    }
    found
        .filter(|(cost, ..)| *cost <= WORST)
        .map(|(_, corner, mirrored, leader)| (block.texts(corner, mirrored), leader))
}

/// `None` where the note may not stand.
fn cost(own: Rect, leader: Segment, standing: &Standing, leaders: &[Segment]) -> Option<f64> {
    let outside = !standing.within.contains(own) || standing.awaited(own);
    // The leader may begin in the very thing it is about.
    let about = |t: &Rect| t.contains(Rect::about(leader.a, 0.0, 0.0));
    let covers = standing
        .taken
        .iter()
        .any(|t| t.overlaps(own) || (!about(t) && leader.enters(*t)));
    let crossed = leaders.iter().any(|l| l.enters(own) || l.crosses(leader))
        || standing.barred.iter().any(|l| l.crosses(leader));
    if outside || covers || crossed || standing.lines.iter().any(|(s, _)| s.enters(own)) {
        return None;
    }
    let over: f64 = standing
        .lines
        .iter()
        .filter(|(s, _)| s.crosses(leader))
        .map(|(_, w)| if *w == Weight::Heavy { 18.0 } else { 4.0 })
        .sum();
    Some(leader.length() + over)
}
