//! What a close-up of a pattern's worst joint shows: a window on the wall, the pieces of fronts in it,
//! and where each lies on its board. Knows layouts; must not know pixels.

use crate::reckon::pattern::layout::{Area, Joint, PatternLayout, Way};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::units::Length;

/// Of the window: what an A3 sheet holds two of side by side at real size, with their notes.
const WIDE: Length = Length::mm(120);
const HIGH: Length = Length::mm(130);
/// About where a standing person looks (common practice, no source).
const EYE: Length = Length::mm(1500);

#[derive(Clone, Debug, PartialEq)]
pub struct CloseUp {
    /// Index into [`Reckoned::patterns`].
    pub layout: usize,
    pub joint: Joint,
    /// On the wall.
    pub window: Area,
    /// The gap of the joint, on the wall.
    pub gap: Area,
    pub pieces: Vec<Piece>,
}

/// What of a front lies in the window.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Index into the fronts.
    pub front: usize,
    /// Index into the layout's boards.
    pub board: usize,
    pub on_wall: Area,
    pub on_board: Area,
    pub picture: Option<usize>,
}

/// `None` where no two fronts meet.
pub fn close_up(reckoned: &Reckoned, at: usize, layout: &PatternLayout) -> Option<CloseUp> {
    let joint = layout.worst()?;
    let first = reckoned.face(joint.first)?;
    let second = reckoned.face(joint.second)?;
    let gap = gap_of(first, second, joint.way);
    let middle = |from: Length, to: Length| from + (to - from).half();
    let (x, z) = match joint.way {
        Way::Beside => {
            let (low, high) = (gap.bottom + HIGH.half(), gap.top - HIGH.half());
            let z = match low <= high {
                true => EYE.clamp(low, high),
                false => middle(gap.bottom, gap.top),
            };
            (middle(gap.left, gap.right), z)
        }
        Way::Above => (middle(gap.left, gap.right), middle(gap.bottom, gap.top)),
    };
    let window = Area {
        left: x - WIDE.half(),
        right: x + WIDE.half(),
        bottom: z - HIGH.half(),
        top: z + HIGH.half(),
    };
    let mut pieces = Vec::new();
    for blank in &layout.blanks {
        let Some(front) = reckoned.face(blank.front) else {
            continue;
        };
        let whole = on_wall(front);
        if front.run != first.run || !whole.meets(window) {
            continue;
        }
        let part = common(whole, window);
        let (dx, dz) = (
            blank.area.left - front.left,
            blank.area.bottom - front.bottom,
        );
        pieces.push(Piece {
            front: blank.front,
            board: blank.board,
            on_wall: part,
            on_board: Area {
                left: part.left + dx,
                right: part.right + dx,
                bottom: part.bottom + dz,
                top: part.top + dz,
            },
            picture: None,
        });
    }
    Some(CloseUp {
        layout: at,
        joint: joint.clone(),
        window,
        gap: common(gap, window),
        pieces,
    })
}

pub fn on_wall(front: &PlacedFront) -> Area {
    Area {
        left: front.left,
        right: front.right,
        bottom: front.bottom,
        top: front.top,
    }
}

/// Between two fronts that meet, as far as they face one another.
pub fn gap_of(first: &PlacedFront, second: &PlacedFront, way: Way) -> Area {
    let both = common(on_wall(first), on_wall(second));
    match way {
        Way::Beside => Area {
            left: first.right,
            right: second.left,
            ..both
        },
        Way::Above => Area {
            bottom: first.top,
            top: second.bottom,
            ..both
        },
    }
}

fn common(a: Area, b: Area) -> Area {
    Area {
        left: a.left.max(b.left),
        right: a.right.min(b.right),
        bottom: a.bottom.max(b.bottom),
        top: a.top.min(b.top),
    }
}
