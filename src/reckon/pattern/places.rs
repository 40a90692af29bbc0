//! Where a column is worth putting: the few places among which the best allotting is sure to lie. Knows
//! edges, flaws, settled places and the pattern; must not know what a place costs.
//!
//! Whatever else there is could be pushed along until something touches: a board's edge, a flaw, a settled
//! place, or, from column to column, the least or the most that may be cut away. So only places are tried
//! that lie so far from one of these as the widths between and such cuts come to.

use super::allocate::{End, Problem, Put};
use super::columns::Column;
use super::layout::Area;
use super::phase::{cut_away, next_match};
use super::touching::Places;
use crate::resolve::job::Wanted;
use crate::units::Length;

/// Where the pattern is wanted, its repeat, and how far off will do.
type Aimed = Option<(Length, Length, Length)>;

impl Problem<'_> {
    /// Every place worth trying for column `n`; of the boards after the one in hand, on those that are worth
    /// beginning.
    pub fn puts(
        &self,
        n: usize,
        end: Option<End>,
        places: &Places,
        worth: &dyn Fn(usize) -> bool,
    ) -> Vec<Put> {
        let Some(column) = self.columns.get(n) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        if let Some(end) = end {
            out.extend(self.further(n, column, end, places));
            if let Some(board) = self.boards.get(end.board) {
                let bottom = end.top + self.loss;
                if bottom + column.height <= board.usable.top {
                    out.extend(self.starts(n, Some(end), (end.board, bottom), places));
                }
            }
        }
        let first = end.map_or(0, |e| e.board + 1);
        let mut bought = false;
        for (at, board) in self.boards.iter().enumerate().skip(first) {
            // Boards to be bought are all alike: one is enough to try.
            if board.in_hand.is_none() && std::mem::replace(&mut bought, true) {
                break;
            }
            if !worth(at) {
                continue;
            }
            out.extend(self.starts(n, end, (at, board.usable.bottom), places));
        }
        if let Some((wanted, left)) = column.settled {
            out.retain(|put| {
                let board = self.boards.get(put.board);
                put.left == left && board.is_some_and(|b| b.in_hand == Some(wanted))
            });
        }
        out
    }

    /// On in the same strip: as near as the aim and the flaws allow, or wherever else it is worth it.
    fn further(&self, n: usize, column: &Column, end: End, places: &Places) -> Vec<Put> {
        let nearest = end.right + self.loss;
        let strip = (end.board, end.bottom);
        if let Some((_, left)) = column.settled {
            // What is settled is settled: its step is what it comes to.
            return self.cleared(column, strip, vec![(left.max(nearest), None)]);
        }
        let froms = match (column.gap_before, self.wanted, self.repeat) {
            (None, ..) => return self.beginnings(n, strip, nearest, None, places),
            (_, Wanted::LeastWaste, _) => vec![(nearest, None)],
            (Some(gap), Wanted::Exact | Wanted::Within(_), None) => {
                let least = cut_away(gap, self.loss, None, self.wanted);
                let mut froms = vec![(nearest.max(end.right + least), None)];
                if let Some(board) = self.boards.get(end.board) {
                    let beside = self.beside(n, board).into_iter();
                    froms.extend(beside.filter(|l| *l > nearest).map(|l| (l, None)));
                }
                froms
            }
            (Some(gap), Wanted::Exact | Wanted::Within(_), Some(p)) => {
                self.aimed(nearest, (end.right + gap, p, self.slack()), places)
            }
        };
        self.cleared(column, strip, froms)
    }

    /// From a place on: the nearest that will do, or, with a grid, the nearest for each place of the
    /// repeat that will.
    fn aimed(
        &self,
        from: Length,
        (wanted, repeat, slack): (Length, Length, Length),
        places: &Places,
    ) -> Vec<(Length, Aimed)> {
        let Some(grid) = places.grid.filter(|_| slack > Length::ZERO) else {
            return vec![(from, Some((wanted, repeat, slack)))];
        };
        let all = repeat.in_um() / grid.in_um();
        let off = (slack.in_um() / grid.in_um()).min(all / 2);
        let exactly = |n: i64| (from, Some((wanted + grid * n, repeat, Length::ZERO)));
        (-off..=off).map(exactly).collect()
    }

    pub(super) fn slack(&self) -> Length {
        match self.wanted {
            Wanted::Within(limit) => limit,
            Wanted::Exact | Wanted::LeastWaste => Length::ZERO,
        }
    }

    /// Beginnings of a strip for column `n`: what the column before asks for, if it is in view.
    fn starts(
        &self,
        n: usize,
        end: Option<End>,
        strip: (usize, Length),
        places: &Places,
    ) -> Vec<Put> {
        let (Some(column), Some(board)) = (self.columns.get(n), self.boards.get(strip.0)) else {
            return Vec::new();
        };
        let aim = match (column.gap_before, end, self.repeat, self.wanted) {
            (Some(gap), Some(end), Some(p), Wanted::Exact | Wanted::Within(_)) => {
                let crest = self.boards.get(end.board).map(|b| b.first_crest.0);
                let before = end.right - crest.unwrap_or_default();
                Some((before + gap + board.first_crest.0, p, self.slack()))
            }
            _ => None,
        };
        self.beginnings(n, strip, board.usable.left, aim, places)
    }

    /// From `edge` on: at the edge; where a phase is worth beginning at; after each flaw; and where
    /// this column or one that follows comes to end right before a flaw.
    fn beginnings(
        &self,
        n: usize,
        strip: (usize, Length),
        edge: Length,
        aim: Aimed,
        places: &Places,
    ) -> Vec<Put> {
        let (Some(column), Some(board)) = (self.columns.get(n), self.boards.get(strip.0)) else {
            return Vec::new();
        };
        if let Some((_, left)) = column.settled {
            let froms = [left].into_iter().filter(|left| *left >= edge);
            return self.cleared(column, strip, froms.map(|left| (left, None)).collect());
        }
        let froms = match (aim, self.wanted, self.repeat) {
            (_, Wanted::LeastWaste, _) => vec![(edge, None)],
            (Some(aim), ..) => self.aimed(edge, aim, places),
            (None, _, Some(p)) => {
                let mut froms = vec![(edge, None)];
                if let Some(grid) = places.grid {
                    let all = p.in_um() / grid.in_um();
                    let each = (0..all).map(|n| (edge, Some((grid * n, p, Length::ZERO))));
                    froms.extend(each);
                }
                froms.extend(places.at(n).iter().map(|phase| {
                    let wanted = *phase + board.first_crest.0;
                    (edge, Some((wanted, p, Length::ZERO)))
                }));
                froms
            }
            (None, _, None) => {
                let beside = self.beside(n, board).into_iter().map(|l| (l, None));
                std::iter::once((edge, None)).chain(beside).collect()
            }
        };
        let froms = froms.into_iter().filter(|(from, _)| *from >= edge);
        self.cleared(column, strip, froms.collect())
    }

    /// Each moved on to where there is no flaw.
    fn cleared(
        &self,
        column: &Column,
        strip: (usize, Length),
        froms: Vec<(Length, Aimed)>,
    ) -> Vec<Put> {
        let mut lefts: Vec<Length> = froms
            .into_iter()
            .filter_map(|(from, aim)| self.clear(column, strip, from, aim))
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

    /// The first place at or after `from` that has the pattern wanted and no flaw.
    fn clear(
        &self,
        column: &Column,
        (at, bottom): (usize, Length),
        from: Length,
        aim: Aimed,
    ) -> Option<Length> {
        let board = self.boards.get(at)?;
        let mut left = from;
        loop {
            if let Some((wanted, repeat, slack)) = aim {
                left = next_match(left, wanted, repeat, slack);
            }
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
