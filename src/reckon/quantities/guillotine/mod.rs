//! Rectangles cut out of boards by cuts from edge to edge, on as few boards as can be found. Knows
//! whole numbers of any one unit; must not know what is cut, nor from what.
//!
//! Each board is filled many times over, by a rule that weighs how well a piece fits against how
//! large it is, and the fullest filling kept; then the emptiest boards are emptied and filled anew
//! (`fill`). Pieces that together make a rectangle are taken as one (`blocks`). It stops at the fewest
//! boards that could do (`bound`). The same pieces give the same cutting: chance is a fixed sequence,
//! and the work is counted, not timed.

mod blocks;
mod bound;
mod fill;
mod reach;

#[cfg(test)]
mod cut_up;
#[cfg(test)]
mod tests;

pub use bound::least_boards;
use fill::{Filled, Saw};

/// A kind of rectangle wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    pub along: i64,
    pub across: i64,
    /// Whether it may lie either way.
    pub turns: bool,
    pub count: usize,
}

/// The part of a board that may be cut up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    pub along: i64,
    pub across: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rect {
    pub x: i64,
    pub y: i64,
    pub along: i64,
    pub across: i64,
}

impl Rect {
    pub fn area(self) -> i64 {
        self.along.saturating_mul(self.across)
    }

    fn less(self, kerf: i64) -> Rect {
        Rect {
            along: self.along - kerf,
            across: self.across - kerf,
            ..self
        }
    }
}

/// Where one piece lies, without the saw's cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Put {
    pub piece: usize,
    pub at: Rect,
}

/// One board cut up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Index among the boards in hand; `None`: a new one.
    pub in_hand: Option<usize>,
    pub puts: Vec<Put>,
    /// What is left, as it comes off the saw.
    pub left: Vec<Rect>,
}

/// Cuts all pieces that fit a new board: those in hand are used first, each for what it holds.
/// Pieces that are larger than a new board, or have no size, are left out.
pub fn cut(pieces: &[Piece], new: Stock, in_hand: &[Stock], kerf: i64) -> Vec<Cut> {
    let kerf = kerf.max(0);
    // With the kerf added to every piece and board, nothing is lost between two pieces.
    let board = grown(new, kerf);
    let pieces: Vec<Piece> = pieces
        .iter()
        .map(|p| {
            let piece = Piece {
                along: p.along.saturating_add(kerf),
                across: p.across.saturating_add(kerf),
                ..*p
            };
            let good = p.along > 0 && p.across > 0 && fits(&piece, board);
            let count = if good { p.count } else { 0 };
            Piece { count, ..piece }
        })
        .collect();
    let mut saw = Saw::new(&pieces, board);
    let mut cuts: Vec<(Option<usize>, Filled)> = Vec::new();
    for (n, stock) in in_hand.iter().enumerate() {
        let filled = saw.one_in_hand(grown(*stock, kerf));
        if !filled.puts.is_empty() {
            cuts.push((Some(n), filled));
        }
    }
    cuts.extend(saw.new_boards().into_iter().map(|filled| (None, filled)));
    let told = cuts.into_iter().map(|(in_hand, filled)| Cut {
        in_hand,
        puts: filled
            .puts
            .iter()
            .map(|p| Put {
                at: p.at.less(kerf),
                ..*p
            })
            .collect(),
        left: filled
            .left
            .iter()
            .map(|r| r.less(kerf))
            .filter(|r| r.along > 0 && r.across > 0)
            .collect(),
    });
    told.collect()
}

fn grown(stock: Stock, kerf: i64) -> Rect {
    Rect {
        x: 0,
        y: 0,
        along: stock.along.saturating_add(kerf),
        across: stock.across.saturating_add(kerf),
    }
}

fn fits(piece: &Piece, into: Rect) -> bool {
    let lies = |a: i64, b: i64| a <= into.along && b <= into.across;
    lies(piece.along, piece.across) || (piece.turns && lies(piece.across, piece.along))
}

/// What a piece in a place's corner leaves of it: the cut runs `upright` past the piece first, or
/// level over it.
fn parts(place: Rect, along: i64, across: i64, upright: bool) -> impl Iterator<Item = Rect> {
    let beside = Rect {
        x: place.x + along,
        y: place.y,
        along: place.along - along,
        across: if upright { place.across } else { across },
    };
    let over = Rect {
        x: place.x,
        y: place.y + across,
        along: if upright { along } else { place.along },
        across: place.across - across,
    };
    [beside, over]
        .into_iter()
        .filter(|r| r.along > 0 && r.across > 0)
}
