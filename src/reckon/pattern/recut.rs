//! A front is spoiled: where else it can be cut from, and how that will look beside its neighbours. Knows
//! one layout, its offcuts and the boards not yet cut; every other front stays as it is.

use super::layout::{Area, Blank, CutBoard, Joint, PatternLayout};
use super::phase::{next_match, reduced};
use super::{joints, stood};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{BoardRef, Job};
use crate::units::Length;

/// What can be done about a spoiled front.
#[derive(Clone, Debug, PartialEq)]
pub struct Recut {
    /// Index into [`Reckoned::patterns`].
    pub layout: usize,
    pub front: usize,
    /// Where it was cut.
    pub was: Blank,
    /// The best place of each piece in hand that has room, the best of all first.
    pub places: Vec<Replacement>,
    /// Whether a board as bought would hold it.
    pub fits_a_new_board: bool,
}

/// A place to cut it from.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    pub board: String,
    /// Not cut into yet.
    pub whole: bool,
    /// The offcut, or the usable part of a whole board.
    pub piece: Area,
    pub at: Area,
    /// With each neighbour, as they will be.
    pub joints: Vec<Joint>,
}

impl Replacement {
    /// Joints where the pattern does not run on; the farthest step where it does; the plainest
    /// difference of colour, in thousandths.
    pub fn looks(&self) -> (usize, Length, i64) {
        let anew = self.joints.iter().filter(|j| j.jump.is_none()).count();
        let size = |j: &Joint| j.jump.map(|(a, b)| a.abs().max(b.abs()));
        let step = self.joints.iter().filter_map(size).max();
        let colour = self.joints.iter().filter_map(|j| j.colour).max();
        (anew, step.unwrap_or_default(), colour.unwrap_or(0))
    }
}

/// `None` where the front is of no pattern, or its pattern could not be cut.
pub fn recut(job: &Job, reckoned: &Reckoned, front: usize) -> Option<Recut> {
    let mut each = reckoned.patterns.iter().enumerate();
    let (at, layout, was) =
        each.find_map(|(n, layout)| Some((n, layout, *layout.blank_of(front)?)))?;
    let spoiled = Spoiled {
        reckoned,
        layout,
        front: reckoned.face(front)?,
        was,
    };
    let used: Vec<BoardRef> = reckoned
        .patterns
        .iter()
        .flat_map(|l| l.boards.iter().filter_map(|b| b.in_hand))
        .collect();
    let mut places = Vec::new();
    for (n, board) in layout.boards.iter().enumerate() {
        for piece in &board.offcuts {
            places.extend(spoiled.best(&layout.boards, n, (*piece, false)));
        }
    }
    let others = reckoned.patterns.iter().enumerate();
    let others = others.filter(|(n, l)| *n != at && l.material == layout.material);
    for board in others.flat_map(|(_, l)| &l.boards) {
        let mut boards = layout.boards.clone();
        boards.push(board.clone());
        for piece in &board.offcuts {
            places.extend(spoiled.best(&boards, boards.len() - 1, (*piece, false)));
        }
    }
    let (in_hand, _) = stood::boards_in_hand(job, layout.material, &[], &used);
    for board in in_hand {
        let mut boards = layout.boards.clone();
        let piece = board.usable;
        boards.push(board);
        places.extend(spoiled.best(&boards, boards.len() - 1, (piece, true)));
    }
    // As it looks; then offcuts before whole boards, the smallest that will do first.
    let size = |a: Area| i128::from(a.width().in_um()) * i128::from(a.height().in_um());
    places.sort_by_key(|p| (p.looks(), p.whole, size(p.piece)));
    let material = job.materials.get(layout.material.0);
    let bought = material.and_then(|m| stood::to_buy(m, job.cutter, 1));
    let holds = |b: &CutBoard| {
        b.usable.width() >= was.area.width() && b.usable.height() >= was.area.height()
    };
    Some(Recut {
        layout: at,
        front,
        was,
        places,
        fits_a_new_board: bought.as_ref().is_some_and(holds),
    })
}

struct Spoiled<'a> {
    reckoned: &'a Reckoned,
    layout: &'a PatternLayout,
    front: &'a PlacedFront,
    was: Blank,
}

impl Spoiled<'_> {
    /// The place in a piece of `boards[board]` that looks best; of those the first from its lower left.
    fn best(
        &self,
        boards: &[CutBoard],
        board: usize,
        (piece, whole): (Area, bool),
    ) -> Option<Replacement> {
        let from = boards.get(board)?;
        let (wide, high) = (self.was.area.width(), self.was.area.height());
        let mut best: Option<Replacement> = None;
        for left in self.lefts(from, piece) {
            for bottom in self.bottoms(from, piece) {
                let at = Area {
                    left,
                    right: left + wide,
                    bottom,
                    top: bottom + high,
                };
                let inside = at.left >= piece.left
                    && at.bottom >= piece.bottom
                    && at.right <= piece.right
                    && at.top <= piece.top;
                if !inside || from.avoid.iter().any(|(flaw, _)| flaw.meets(at)) {
                    continue;
                }
                let found = Replacement {
                    board: from.name.clone(),
                    whole,
                    piece,
                    at,
                    joints: self.joints(boards, board, at),
                };
                if best.as_ref().is_none_or(|b| found.looks() < b.looks()) {
                    best = Some(found);
                }
            }
        }
        best
    }

    fn joints(&self, boards: &[CutBoard], board: usize, area: Area) -> Vec<Joint> {
        let mut blanks = self.layout.blanks.clone();
        for blank in blanks.iter_mut().filter(|b| b.front == self.was.front) {
            *blank = Blank {
                board,
                area,
                ..*blank
            };
        }
        let (fronts, pieces) = (&self.reckoned.fronts, &self.reckoned.pattern_pieces);
        let fronts = [fronts.as_slice(), pieces.as_slice()].concat();
        let mut all = joints::joints(&fronts, &blanks, boards, self.layout.repeat);
        all.retain(|j| j.first == self.was.front || j.second == self.was.front);
        if self.layout.repeat.is_natural() {
            // From anywhere else on the same board, too, it begins anew.
            for joint in &mut all {
                joint.jump = None;
            }
        }
        all
    }

    /// How far each neighbour's board lies moved against the wall, across and up, from its crest.
    fn moved(&self) -> Vec<(Length, Length)> {
        let ours = self.was.front;
        let beside = self.layout.joints.iter().filter_map(|j| match j {
            j if j.first == ours => Some(j.second),
            j if j.second == ours => Some(j.first),
            _ => None,
        });
        let of = |other: usize| {
            let blank = self.layout.blank_of(other)?;
            let board = self.layout.boards.get(blank.board)?;
            let front = self.reckoned.face(other)?;
            let (across, up) = board.first_crest;
            Some((
                blank.area.left - across - front.left,
                blank.area.bottom - up - front.bottom,
            ))
        };
        beside.filter_map(of).collect()
    }

    fn lefts(&self, from: &CutBoard, piece: Area) -> Vec<Length> {
        let flaws = from.avoid.iter();
        let starts = flaws.flat_map(|(f, _)| [f.right, f.left - self.was.area.width()]);
        let wanted = self.moved().into_iter().map(|(across, _)| across);
        let crest = from.first_crest.0 + self.front.left;
        places(
            std::iter::once(piece.left).chain(starts),
            wanted.map(|w| w + crest).collect(),
            self.layout.repeat.across,
        )
    }

    fn bottoms(&self, from: &CutBoard, piece: Area) -> Vec<Length> {
        let flaws = from.avoid.iter();
        let starts = flaws.flat_map(|(f, _)| [f.top, f.bottom - self.was.area.height()]);
        let wanted = self.moved().into_iter().map(|(_, up)| up);
        let crest = from.first_crest.1 + self.front.bottom;
        places(
            std::iter::once(piece.bottom).chain(starts),
            wanted.map(|w| w + crest).collect(),
            self.layout.repeat.up,
        )
    }
}

/// From each start: there, and on to where the pattern meets each neighbour's, or falls half-way
/// between two of them.
fn places(
    starts: impl Iterator<Item = Length>,
    wanted: Vec<Length>,
    repeat: Option<Length>,
) -> Vec<Length> {
    let mut out = Vec::new();
    for start in starts {
        out.push(start);
        let Some(repeat) = repeat else { continue };
        for a in &wanted {
            for b in &wanted {
                let between = *a + reduced(*b - *a, Some(repeat)).half();
                out.push(next_match(start, between, repeat, Length::ZERO));
            }
        }
    }
    out.sort();
    out.dedup();
    out
}

#[cfg(test)]
mod tests;
