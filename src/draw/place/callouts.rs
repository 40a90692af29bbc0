//! Notes and balloons in the margins, their leaders never crossing. Knows what already stands;
//! chooses the order of the notes, not their words.
//!
//! The columns they stand in are in `columns`.

use super::columns::{self, Block, Column, Side};
use super::geometry::Segment;
use super::{Item, Room, Text};
use crate::draw::scene::{Callout, Label, LabelFrame, Pt, Rect};

/// Which margins may take notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notes {
    Sides,
    Right,
    Top,
    Around,
}

impl Notes {
    /// In the order they are tried.
    pub const ALL: [Notes; 4] = [Notes::Sides, Notes::Right, Notes::Top, Notes::Around];
}

/// A callout with its target on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    pub(super) target: Pt,
    pub(super) text: String,
    pub(super) balloon: Option<String>,
}

impl Note {
    pub fn of(callout: &Callout, scale: f64) -> Note {
        Note {
            target: Pt::new(callout.target.x / scale, callout.target.y / scale),
            text: callout.text.clone(),
            balloon: callout.balloon.clone(),
        }
    }

    /// With its target moved out from under words that stand there.
    pub fn beside(mut self, words: &[Text]) -> Note {
        let over = |p: Pt| {
            let mut bounds = words.iter().map(|t| t.bounds().grown(0.3));
            bounds.find(|r| r.contains(Rect::about(p, 0.0, 0.0)))
        };
        let at = self.target;
        if let Some(r) = over(at) {
            let spots = [
                Pt::new(at.x, r.y1 + 0.6),
                Pt::new(at.x, r.y0 - 0.6),
                Pt::new(r.x1 + 0.6, at.y),
                Pt::new(r.x0 - 0.6, at.y),
            ];
            let free = spots.into_iter().find(|p| over(*p).is_none());
            self.target = free.unwrap_or(at);
        }
        self
    }

    /// A label that found no place inside.
    pub fn homeless(label: &Label, scale: f64) -> Note {
        let words = label.lines.join(" ");
        let circle = label.frame == LabelFrame::Circle;
        let words = match label.frame {
            LabelFrame::Triangle => format!("change {words}"),
            _ => words,
        };
        Note {
            target: Pt::new(label.at.x / scale, label.at.y / scale),
            text: if circle { String::new() } else { words.clone() },
            balloon: circle.then_some(words),
        }
    }
}

/// Notes at their places.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    pub lines: Vec<Item>,
    pub texts: Vec<Text>,
    pub bounds: Rect,
    /// How good the arrangement is: less is better.
    pub cost: f64,
}

/// Notes are set no wider than this, mm.
const WRAP: f64 = 45.0;

/// Puts the notes round `around`; `None` where the margins allowed do not hold them.
pub fn place(
    notes: &[Note],
    around: Rect,
    (standing, ways): (&[Text], &[(Segment, f64)]),
    margins: Notes,
    room: Room,
) -> Option<Noted> {
    let mut out = Noted {
        lines: Vec::new(),
        texts: Vec::new(),
        bounds: around,
        cost: 0.0,
    };
    let notes: Vec<&Note> = notes
        .iter()
        .filter(|n| n.target.x.is_finite() && n.target.y.is_finite())
        .collect();
    if notes.is_empty() {
        return Some(out);
    }
    let middle = around.centre().x;
    let (mut left, mut right, mut top) = (Vec::new(), Vec::new(), Vec::new());
    for note in notes {
        match margins {
            Notes::Right => right.push(note),
            Notes::Top => top.push(note),
            Notes::Sides if note.target.x < middle => left.push(note),
            Notes::Sides => right.push(note),
            Notes::Around => match nearest(note.target, around, ways) {
                Side::Left => left.push(note),
                Side::Right => right.push(note),
                Side::Top => top.push(note),
            },
        }
    }
    if margins == Notes::Sides {
        balance(&mut left, &mut right, room.height);
    }
    // Wider than this the three stacks could not stand beside the object.
    let spare = room.width - around.width() - columns::MARGIN;
    let columns = usize::from(!left.is_empty()) + usize::from(!right.is_empty());
    let wrap = if columns == 0 {
        WRAP
    } else {
        (spare / columns as f64 - columns::MARGIN).clamp(18.0, WRAP)
    };
    // What cannot fit is told at once: seeking the best order takes time.
    let (mut width, mut height) = (around.width(), around.height());
    for (stack, upright) in [(&left, true), (&right, true), (&top, false)] {
        let sizes = stack.iter().map(|n| Block::of(n, wrap));
        let deep = sizes.map(|b| if upright { b.width } else { b.height });
        if let Some(deep) = deep.reduce(f64::max) {
            *(if upright { &mut width } else { &mut height }) += columns::MARGIN + deep;
        }
    }
    if width > room.width || height > room.height {
        return None;
    }
    let mut obstacles: Vec<Rect> = standing.iter().map(Text::bounds).collect();
    for (stack, side) in [(left, Side::Left), (right, Side::Right), (top, Side::Top)] {
        if stack.is_empty() {
            continue;
        }
        let column = Column {
            side,
            around,
            wrap,
            width: room.width,
            height: room.height,
        };
        column.fill(&stack, (&obstacles, ways), &mut out)?;
        obstacles.extend(out.texts.iter().map(Text::bounds));
    }
    Some(out)
}

/// The margin to which the straight way is shortest, and crosses least.
fn nearest(target: Pt, around: Rect, ways: &[(Segment, f64)]) -> Side {
    let out = [
        (Side::Left, Pt::new(around.x0 - 1.0, target.y - 4.0)),
        (Side::Right, Pt::new(around.x1 + 1.0, target.y - 4.0)),
        (Side::Top, Pt::new(target.x + 1.0, around.y0 - 1.0)),
    ];
    let costed = out.map(|(side, end)| {
        let way = Segment::new(target, end);
        (way.length() + columns::crossed(way, ways), side)
    });
    let best = costed.into_iter().min_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or(Side::Top, |(_, side)| side)
}

/// Notes that are too many for one side go to the other, those nearest to it first.
fn balance<'a>(left: &mut Vec<&'a Note>, right: &mut Vec<&'a Note>, height: f64) {
    let tall = |notes: &[&Note]| {
        notes
            .iter()
            .map(|n| Block::of(n, WRAP).height + columns::GAP)
            .sum::<f64>()
    };
    let by_x = |a: &&Note, b: &&Note| a.target.x.total_cmp(&b.target.x);
    left.sort_by(by_x);
    right.sort_by(by_x);
    while tall(left) > height && tall(right) < height {
        let Some(note) = left.pop() else { break };
        right.insert(0, note);
    }
    while tall(right) > height && tall(left) < height && !right.is_empty() {
        left.push(right.remove(0));
    }
}
