//! Where a column is worth putting: the few places among which the best allotting is sure to lie. Knows
//! edges, flaws, settled places and the pattern; must not know what a place costs.
//!
//! Whatever else there is could be pushed along until something touches: a board's edge, a flaw, a settled
//! place, or, from column to column, the least or the most that may be cut away. So only places are tried
//! that lie so far from one of these as the widths between and such cuts come to.

use super::allocate::{End, Problem, Put};
use super::columns::Column;
use super::layout::Area;
use super::phase::cut_away;
use super::spans::{From, Move, Reach};
use crate::resolve::job::Wanted;
use crate::units::Length;

impl Problem<'_> {
    /// Every place worth trying for column `n`; of the boards after the one in hand, on those that are worth
    /// beginning.
    pub(super) fn moves(
        &self,
        n: usize,
        reach: Option<&Reach>,
        worth: &dyn Fn(usize) -> bool,
    ) -> Vec<Move> {
        let Some(column) = self.columns.get(n) else {
            return Vec::new();
        };
        let end = reach.map(|r| r.end);
        let mut strips = Vec::new();
        if let Some(end) = end {
            strips.push((end.board, end.bottom));
            let board = self.boards.get(end.board);
            let bottom = board.map_or(Length::ZERO, |b| b.usable.bottom);
            strips.push((end.board, bottom + self.above(end.top - bottom)));
        }
        let first = end.map_or(0, |e| e.board + 1);
        let mut bought = false;
        for (at, board) in self.boards.iter().enumerate().skip(first) {
            // Boards to be bought are all alike: one is enough to try.
            if board.in_hand.is_none() && std::mem::replace(&mut bought, true) {
                break;
            }
            if worth(at) {
                strips.push((at, board.usable.bottom));
            }
        }
        let mut out = Vec::new();
        for strip in strips {
            match self.spanned() {
                Some(repeat) => out.extend(self.spans(n, reach, strip, repeat)),
                None => {
                    let puts = self.puts(n, column, end, strip);
                    out.extend(puts.into_iter().map(|put| only(put, end)));
                }
            }
        }
        out
    }

    /// The places of column `n` in one strip.
    fn puts(
        &self,
        n: usize,
        column: &Column,
        end: Option<End>,
        strip: (usize, Length),
    ) -> Vec<Put> {
        let Some(board) = self.boards.get(strip.0) else {
            return Vec::new();
        };
        let same = end.filter(|e| (e.board, e.bottom) == strip);
        let edge = same.map_or(board.usable.left, |e| e.right + self.loss);
        let froms = match (same, column.settled) {
            // What is settled is settled: its step is what it comes to.
            (_, Some((wanted, left))) => {
                let there = board.in_hand == Some(wanted) && left >= edge;
                let mut puts = self.cleared(column, strip, vec![left]);
                puts.retain(|put| there && put.left == left);
                return puts;
            }
            _ if self.wanted == Wanted::LeastWaste => vec![edge],
            (Some(end), None) if column.gap_before.is_some() => {
                let gap = column.gap_before.unwrap_or_default();
                let least = cut_away(gap, self.loss, None, self.wanted);
                let mut froms = vec![edge.max(end.right + least)];
                froms.extend(self.beside(n, board).into_iter().filter(|l| *l > edge));
                froms
            }
            _ => {
                let beside = self.beside(n, board).into_iter().filter(|l| *l >= edge);
                std::iter::once(edge).chain(beside).collect()
            }
        };
        self.cleared(column, strip, froms)
    }

    /// Each moved on to where there is no flaw.
    fn cleared(&self, column: &Column, strip: (usize, Length), froms: Vec<Length>) -> Vec<Put> {
        let mut lefts: Vec<Length> = froms
            .into_iter()
            .filter_map(|from| self.clear(column, strip, from))
            .collect();
        lefts.sort();
        lefts.dedup();
        let put = |left| Put {
            board: strip.0,
            left,
            bottom: strip.1,
        };
        lefts.into_iter().map(put).collect()
    }

    /// The first place at or after `from` that has no flaw.
    fn clear(
        &self,
        column: &Column,
        (at, bottom): (usize, Length),
        from: Length,
    ) -> Option<Length> {
        let board = self.boards.get(at)?;
        let mut left = from;
        loop {
            let area = Area {
                left,
                right: left + column.width,
                bottom,
                top: bottom + column.height,
            };
            if area.right > board.usable.right || area.top > board.usable.top {
                return None;
            }
            match board.avoid.iter().find(|(flaw, _)| area.meets(*flaw)) {
                // A flaw has a width, so this goes on to the right.
                Some((flaw, _)) if flaw.right > left => left = flaw.right,
                Some(_) => return None,
                None => return Some(left),
            }
        }
    }
}

/// A place and no other.
fn only(put: Put, end: Option<End>) -> Move {
    Move {
        put,
        farthest: put.left,
        rise: 1,
        from: end.map_or(From::default(), |end| From::fixed(end.right, put.left)),
    }
}
