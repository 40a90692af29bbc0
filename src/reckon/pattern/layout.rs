//! What cutting the fronts of one pattern comes to: boards, blanks, joints. Knows places on boards
//! and on the wall; must not know how they were found or how they are shown.
//!
//! A board is described as it stands behind the fronts: `x` across it from its left edge, `y` up
//! from its bottom edge, so that a blank keeps its way up. Sizes and places of blanks are those of
//! the finished front; the saw takes the trim outside them.

use crate::resolve::job::{BoardRef, MaterialRef, Wanted};
use crate::units::Length;

/// Everything about one pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternLayout {
    pub name: String,
    pub material: MaterialRef,
    pub wanted: Wanted,
    /// Repeat across the board and up it, as it stands.
    pub repeat: Repeat,
    /// Lost between two neighbouring fronts, at least: kerf and two trims.
    pub loss: Length,
    /// Those used, in the order they are cut.
    pub boards: Vec<CutBoard>,
    /// In the order they are cut.
    pub blanks: Vec<Blank>,
    pub joints: Vec<Joint>,
    /// What else could have been aimed at, and what it would come to.
    pub choices: Vec<Choice>,
    pub colour: Option<ColourOrder>,
    /// Boards in hand, of this material; the rest of `boards` are to be bought.
    pub in_hand: usize,
    /// Whether every place worth trying was tried, so that no other layout serves the aim better.
    pub best: bool,
    /// Why there are no blanks.
    pub stuck: Option<Stuck>,
}

impl PatternLayout {
    pub fn blank_of(&self, front: usize) -> Option<&Blank> {
        self.blanks.iter().find(|b| b.front == front)
    }
    pub fn to_buy(&self) -> usize {
        self.boards.iter().filter(|b| b.in_hand.is_none()).count()
    }
    /// The joint in view whose pattern jumps farthest, and of those whose boards differ most in colour;
    /// of those, the first.
    pub fn worst(&self) -> Option<&Joint> {
        let mut worst: Option<&Joint> = None;
        for joint in &self.joints {
            let worse = worst.is_none_or(|w| joint.badness() > w.badness());
            if worse {
                worst = Some(joint);
            }
        }
        worst
    }
}

/// How a pattern repeats. Where it repeats one way only it is taken to run straight through the
/// other way, as flutes and stripes do; where neither, every place of a board is unlike any other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Repeat {
    pub across: Option<Length>,
    pub up: Option<Length>,
}

impl Repeat {
    pub fn is_natural(self) -> bool {
        self.across.is_none() && self.up.is_none()
    }
}

/// A rectangle on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Area {
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
}

impl Area {
    pub fn width(self) -> Length {
        self.right - self.left
    }
    pub fn height(self) -> Length {
        self.top - self.bottom
    }
    pub fn meets(self, other: Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.bottom < other.top
            && other.bottom < self.top
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct CutBoard {
    /// Of the board in hand, or its number among those to be bought.
    pub name: String,
    pub in_hand: Option<BoardRef>,
    pub across: Length,
    pub up: Length,
    /// Where the edge of a finished front may lie.
    pub usable: Area,
    /// Across and up, from its left and bottom edges.
    pub first_crest: (Length, Length),
    pub avoid: Vec<(Area, String)>,
    /// Strips lost so that the pattern runs on.
    pub wasted: Vec<Area>,
    /// What is left and large enough to keep.
    pub offcuts: Vec<Area>,
    pub lab: Option<[i64; 3]>,
    pub batch: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Blank {
    /// Index into [`Reckoned::fronts`](crate::reckon::placed::Reckoned::fronts).
    pub front: usize,
    /// Index into [`PatternLayout::boards`].
    pub board: usize,
    pub area: Area,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// `second` stands to the right of `first`.
    Beside,
    /// `second` stands above `first`.
    Above,
}

/// Two fronts that meet with a gap between.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Indices into the fronts.
    pub first: usize,
    pub second: usize,
    pub way: Way,
    pub gap: Length,
    /// How far the pattern jumps square to the joint, and along it. `None`: it does not run on, as
    /// from one natural board to another.
    pub jump: Option<(Length, Length)>,
    pub change: Option<Change>,
    /// CIEDE2000 between the two boards, in thousandths, where both were measured.
    pub colour: Option<i64>,
}

impl Joint {
    /// Larger is plainer to see: no run at all comes before any jump.
    fn badness(&self) -> (bool, Length, i64) {
        let colour = self.colour.unwrap_or(0);
        match self.jump {
            None => (true, Length::ZERO, colour),
            Some((square, along)) => (false, square.abs().max(along.abs()), colour),
        }
    }
}

/// Why the next front comes from another board, or from another strip of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The board before has no room: what is left beside its last front, and what is needed.
    Full { left: Length, needs: Length },
    /// The designer settled it.
    Settled,
    /// Here it costs less in view than later.
    Better,
}

/// A limit on the step that nobody asked for is not offered beyond this (common practice, no source).
pub const MOST_LIMIT: Length = Length::mm(8);

/// What an aim comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub wanted: Wanted,
    /// `None`: it cannot be done.
    pub comes_to: Option<Outcome>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Outcome {
    pub boards: usize,
    /// Where neighbours come from different boards or strips.
    pub changes: usize,
    /// Farthest jump between neighbours where the pattern runs on.
    pub worst_step: Length,
    /// Widths of all strips lost, in one line.
    pub wasted: Length,
}

/// Boards put in the order that hides their colour best.
#[derive(Clone, Debug, PartialEq)]
pub struct ColourOrder {
    /// CIEDE2000 in thousandths between the two worst neighbours, as ordered and as in the file.
    pub worst: i64,
    pub worst_in_file_order: i64,
    /// Whether every order was looked at.
    pub exact: bool,
    /// Whether the colours are those of the boards' pictures.
    pub of_pictures: bool,
}

/// Why the fronts of a pattern cannot be cut.
#[derive(Clone, Debug, PartialEq)]
pub enum Stuck {
    /// Neither the material nor any board in hand has a size.
    NoSize,
    /// This front, with what must be cut in one piece with it, is larger than any board.
    TooWide {
        front: usize,
        needs: Length,
        offers: Length,
        /// The widest.
        board: String,
    },
    TooHigh {
        front: usize,
        needs: Length,
        offers: Length,
        /// The longest.
        board: String,
    },
    /// Where the designer wants it, it cannot be cut.
    Settled {
        front: usize,
        board: String,
        at: Length,
        why: Unfit,
    },
    /// No place is left for it, after what comes before it and clear of flaws.
    NoBoardLeft {
        front: usize,
        needs: Length,
        /// Where the least is missing.
        board: String,
        missing: Missing,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    Across(Length),
    Up(Length),
}

impl Missing {
    pub fn by(self) -> Length {
        match self {
            Missing::Across(by) | Missing::Up(by) => by,
        }
    }
}

/// What is wrong with a settled place.
#[derive(Clone, Debug, PartialEq)]
pub enum Unfit {
    /// Another pattern is cut from that board, or it is of another material.
    Elsewhere,
    /// It lies so far off what can be used of the board.
    Off(Missing),
    /// It takes in so much of a flaw.
    Flaw { what: String, by: Length },
    /// The fronts up to this one, at their nearest, reach so far into it.
    Taken { front: usize, by: Length },
    /// This front stands before it and cannot be cut from this board or one before.
    Order { front: usize },
    /// This front is cut in one piece with it and settled so far from there; or on another board.
    With { front: usize, by: Option<Length> },
}
