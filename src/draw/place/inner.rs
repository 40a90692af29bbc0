//! Notes set inside the drawing, close to what they are about, where there is white paper: a short
//! leader reads better than one across the room. Knows what is drawn; a note without a place inside
//! is left for the margins.

use super::callouts::Note;
use super::geometry::Segment;
use super::{Align, Item, Text};
use crate::draw::scene::{Fill, LabelFrame, Pt, Rect, Shape};
use crate::draw::style::{Ink, Weight};
use crate::lettering;

/// What already stands: lines that show, and places taken.
pub struct Standing<'a> {
    pub lines: &'a [(Segment, Weight)],
    pub taken: Vec<Rect>,
    /// Notes stay within the object's own outline.
    pub object: Rect,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inner {
    pub texts: Vec<Text>,
    /// Leaders with their dots.
    pub lines: Vec<Item>,
    pub rest: Vec<Note>,
}

const CAP: f64 = 2.5;
const WRAP: f64 = 40.0;
/// White kept round a note, mm.
const CLEAR: f64 = 1.2;
/// From target to note, in the order tried, mm.
const AWAY: [f64; 7] = [4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0];
/// Where round its target a note may lie, degrees: level and upright leaders could be taken for lines
/// of the object.
const WAYS: [f64; 12] = [
    -35.0, 35.0, -145.0, 145.0, -60.0, 60.0, -120.0, 120.0, -15.0, 15.0, -165.0, 165.0,
];
/// A place worse than this is left for the margins; a mm of leader costs 1.
const WORST: f64 = 40.0;

/// Settles what it can, in the order given.
pub fn settle(notes: Vec<Note>, mut standing: Standing<'_>) -> Inner {
    let mut out = Inner::default();
    let mut leaders: Vec<Segment> = Vec::new();
    for note in notes {
        let place =
            (note.balloon.is_none() && note.target.x.is_finite() && note.target.y.is_finite())
                .then(|| best(&note, &standing, &leaders))
                .flatten();
        let Some((text, leader)) = place else {
            out.rest.push(note);
            continue;
        };
        standing.taken.push(text.bounds().grown(CLEAR));
        leaders.push(leader);
        out.lines.push(line(leader));
        out.lines.push(dot(note.target));
        out.texts.push(text);
    }
    out
}

fn line(leader: Segment) -> Item {
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

fn dot(at: Pt) -> Item {
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

fn best(note: &Note, standing: &Standing<'_>, leaders: &[Segment]) -> Option<(Text, Segment)> {
    let lines = lettering::wrap_evenly(&note.text, CAP, false, WRAP);
    let text = Text::new(lines, CAP, false)
        .framed(LabelFrame::None)
        .aligned(Align::Left);
    let (w, h) = text.size();
    let mut found: Option<(f64, Text, Segment)> = None;
    for away in AWAY {
        for way in WAYS {
            let (sin, cos) = libm::sincos(way.to_radians());
            let end = Pt::new(note.target.x + away * cos, note.target.y + away * sin);
            // The leader meets the note at the side it comes from.
            let centre = if cos.abs() >= 0.55 {
                Pt::new(end.x + (w / 2.0 + 1.0).copysign(cos), end.y)
            } else {
                Pt::new(end.x, end.y + (h / 2.0 + 1.0).copysign(sin))
            };
            let leader = Segment::new(note.target, end);
            let own = Rect::about(centre, w, h).grown(CLEAR);
            if let Some(cost) = cost(own, leader, standing, leaders)
                && found.as_ref().is_none_or(|(least, ..)| cost < *least)
            {
                found = Some((cost, text.clone().at(centre), leader));
            }
        }
    }
    found
        .filter(|(cost, ..)| *cost <= WORST)
        .map(|(_, text, leader)| (text, leader))
}

/// `None` where the note may not stand.
fn cost(own: Rect, leader: Segment, standing: &Standing<'_>, leaders: &[Segment]) -> Option<f64> {
    let outside = !standing.object.contains(own);
    // The leader may begin in the very thing it is about.
    let about = |t: &Rect| t.contains(Rect::about(leader.a, 0.0, 0.0));
    let covers = standing
        .taken
        .iter()
        .any(|t| t.overlaps(own) || (!about(t) && leader.enters(*t)));
    let crossed = leaders.iter().any(|l| l.enters(own) || l.crosses(leader));
    if outside || covers || crossed || standing.lines.iter().any(|(s, _)| s.enters(own)) {
        return None;
    }
    let over: f64 = standing
        .lines
        .iter()
        .filter(|(s, _)| s.crosses(leader))
        .map(|(_, w)| if *w == Weight::Heavy { 6.0 } else { 3.0 })
        .sum();
    Some(leader.length() + over)
}
