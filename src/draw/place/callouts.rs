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
    pub(super) aside: bool,
}

impl Note {
    pub fn of(callout: &Callout, scale: f64) -> Note {
        Note {
            target: Pt::new(callout.target.x / scale, callout.target.y / scale),
            text: callout.text.clone(),
            balloon: callout.balloon.clone(),
            aside: callout.aside,
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
        // A number keeps its circle, a unit's mark its box.
        let mark = matches!(label.frame, LabelFrame::Circle | LabelFrame::Box);
        let words = match label.frame {
            LabelFrame::Triangle => format!("change {words}"),
            _ => words,
        };
        Note {
            target: Pt::new(label.at.x / scale, label.at.y / scale),
            text: if mark { String::new() } else { words.clone() },
            balloon: mark.then_some(words),
            aside: false,
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

/// Puts the notes round `around`; `None` where the margins allowed do not hold them at less than this
/// cost.
pub fn place(
    notes: &[Note],
    around: Rect,
    (standing, ways): (&[Text], &[(Segment, f64)]),
    (margins, room): (Notes, Room),
    less_than: f64,
) -> Option<Noted> {
    let notes: Vec<&Note> = notes
        .iter()
        .filter(|n| n.target.x.is_finite() && n.target.y.is_finite())
        .collect();
    let middle = around.centre().x;
    let side = |note: &&Note| match margins {
        Notes::Right => Side::Right,
        Notes::Top => Side::Top,
        Notes::Sides if note.target.x < middle => Side::Left,
        Notes::Sides => Side::Right,
        Notes::Around => nearest(note.target, around, ways),
    };
    let mut sides: Vec<Side> = notes.iter().map(side).collect();
    if margins == Notes::Sides {
        balance(&notes, &mut sides, room.height);
    }
    let stacked = |sides: &[Side], less_than: f64| {
        let walls = (around, room);
        stacked(&notes, sides, walls, (standing, ways), less_than)
    };
    let moves = margins == Notes::Around && notes.len() <= MOVED;
    let mut best = stacked(&sides, if moves { f64::INFINITY } else { less_than });
    if !moves {
        return best;
    }
    // A note alone may lie better in another margin.
    for i in 0..sides.len() {
        for other in [Side::Left, Side::Right, Side::Top] {
            let Some(own) = sides.get_mut(i) else {
                continue;
            };
            let old = std::mem::replace(own, other);
            let cost = best.as_ref().map_or(f64::INFINITY, |b| b.cost - 1e-6);
            let better = (old != other).then(|| stacked(&sides, cost)).flatten();
            match better {
                Some(better) => best = Some(better),
                None => sides.iter_mut().skip(i).take(1).for_each(|own| *own = old),
            }
        }
    }
    best.filter(|b| b.cost < less_than)
}

/// So many notes at most are moved from margin to margin one by one: each time takes time.
const MOVED: usize = 10;

/// Each note in the margin that `sides` names; `None` where that costs as much as this, or more.
fn stacked(
    notes: &[&Note],
    sides: &[Side],
    (around, room): (Rect, Room),
    (standing, ways): (&[Text], &[(Segment, f64)]),
    less_than: f64,
) -> Option<Noted> {
    let mut out = Noted {
        lines: Vec::new(),
        texts: Vec::new(),
        bounds: around,
        cost: 0.0,
    };
    let of = |side: Side| -> Vec<&Note> {
        let mine = notes.iter().zip(sides).filter(|(_, s)| **s == side);
        mine.map(|(note, _)| *note).collect()
    };
    let (left, right, top) = (of(Side::Left), of(Side::Right), of(Side::Top));
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
        // No margin makes it less.
        if out.cost >= less_than {
            return None;
        }
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
fn balance(notes: &[&Note], sides: &mut [Side], height: f64) {
    let mut order: Vec<usize> = (0..notes.len()).collect();
    let x = |i: &usize| notes.get(*i).map_or(0.0, |n| n.target.x);
    order.sort_by(|a, b| x(a).total_cmp(&x(b)));
    let tall = |sides: &[Side], side: Side| {
        let mine = notes.iter().zip(sides).filter(|(_, s)| **s == side);
        mine.map(|(n, _)| Block::of(n, WRAP).height + columns::GAP)
            .sum::<f64>()
    };
    for (from, to) in [(Side::Left, Side::Right), (Side::Right, Side::Left)] {
        while tall(sides, from) > height && tall(sides, to) < height {
            let mine = |i: &&usize| sides.get(**i) == Some(&from);
            let next = match from {
                Side::Left => order.iter().rfind(mine),
                _ => order.iter().find(mine),
            };
            let Some(side) = next.and_then(|i| sides.get_mut(*i)) else {
                break;
            };
            *side = to;
        }
    }
}
