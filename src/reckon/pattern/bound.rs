//! What the columns still to come cost at least wherever the pattern lies, so that the search leaves what cannot
//! be the best. Knows widths, cuts, flaws and settled places; must not know how it is searched.
//!
//! Each column as near as the saw and the flaws allow. No true way is cheaper than the cheapest of these, and
//! they are found once, from the last column back.

use super::allocate::{Cost, Known, Problem};
use super::layout::{Area, CutBoard};
use super::phase::cut_away;
use super::rows::Rows;
use super::spans::Reach;
use crate::units::Length;

/// Entries kept; of a job that needs more, nothing is known beforehand.
const MOST_ENTRIES: usize = 1_000_000;

pub struct Bound<'a> {
    problem: &'a Problem<'a>,
    /// Boards in hand, each; then one for all that are to be bought, of which there is no end.
    kinds: Vec<&'a CutBoard>,
    in_hand: usize,
    /// By column, how far up a board it may begin a strip, from the lowest; what lies between two counts as
    /// the lower of them.
    rows: Rows,
    /// By column and kind: the least for it and all after it when it begins a board of this kind or of one
    /// after. `None`: it cannot be done.
    fresh: Vec<Vec<Option<Cost>>>,
    /// By column, kind and row: the least when it begins a strip there.
    strips: Vec<Vec<Vec<Option<Cost>>>>,
}

/// A strip, from the bottom of what can be used of a board: its bottom, and its top as far as it is filled.
type Up = (Length, Length);

impl<'a> Bound<'a> {
    pub fn of(problem: &'a Problem<'a>) -> Bound<'a> {
        let rows = Rows::of(problem);
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let mut kinds: Vec<&CutBoard> = in_hand.collect();
        let in_hand = kinds.len();
        kinds.extend(problem.boards.iter().find(|b| b.in_hand.is_none()));
        let entries = rows.each.iter().map(|rows| rows.len() + 1).sum::<usize>();
        let entries = entries.saturating_mul(kinds.len());
        let mut bound = Bound {
            problem,
            kinds,
            in_hand,
            rows,
            fresh: Vec::new(),
            strips: Vec::new(),
        };
        if entries <= MOST_ENTRIES {
            bound.fill();
        }
        bound
    }

    fn fill(&mut self) {
        let (columns, kinds) = (self.problem.columns.len(), self.kinds.len());
        self.fresh = vec![vec![None; kinds + 1]; columns];
        self.strips = vec![vec![Vec::new(); kinds]; columns];
        for n in (0..columns).rev() {
            for k in (0..kinds).rev() {
                let bottoms = self.rows.each.get(n).into_iter().flatten();
                let begun = bottoms.map(|bottom| self.along(n, k, None, (*bottom, *bottom)));
                let begun: Vec<Option<Cost>> = begun.collect();
                let opened = begun.first().copied().flatten();
                let opened = opened.map(|cost| cost.and(self.opens(k)));
                let least = lesser(opened, self.begins(n, k + 1));
                if let Some(slot) = self.fresh.get_mut(n).and_then(|f| f.get_mut(k)) {
                    *slot = least;
                }
                if let Some(slot) = self.strips.get_mut(n).and_then(|s| s.get_mut(k)) {
                    *slot = begun;
                }
            }
        }
    }

    fn opens(&self, k: usize) -> Cost {
        Cost {
            boards: 1,
            bought: u32::from(k >= self.in_hand),
            ..Cost::default()
        }
    }

    /// The least for column `n` and all after it when it begins a board of kind `k` or after.
    fn begins(&self, n: usize, k: usize) -> Option<Cost> {
        self.fresh.get(n)?.get(k).copied().flatten()
    }

    fn begins_strip(&self, n: usize, k: usize, bottom: Length) -> Option<Cost> {
        let row = self.rows.below(n, bottom)?;
        self.strips.get(n)?.get(k)?.get(row).copied().flatten()
    }

    /// The least for column `n` and all after it when it follows in a strip whose last right edge is at
    /// `right`, or begins it.
    fn along(
        &self,
        n: usize,
        k: usize,
        mut right: Option<Length>,
        (bottom, mut top): Up,
    ) -> Option<Cost> {
        // None is left of those to be bought but in the kind itself.
        let after = if k < self.in_hand { k + 1 } else { k };
        let mut cost = Cost::default();
        let mut best = None;
        for at in n.. {
            let Some(column) = self.problem.columns.get(at) else {
                return lesser(best, Some(cost));
            };
            if right.is_some() {
                let strip = self.begins_strip(at, k, top + self.problem.loss);
                let change = Cost {
                    changes: cost.changes + u32::from(column.gap_before.is_some()),
                    ..cost
                };
                let next = lesser(strip, self.begins(at, after));
                best = lesser(best, next.map(|next| change.and(next)));
            }
            let Some((end, more)) = self.nearest(at, k, right, bottom) else {
                return best;
            };
            cost = cost.and(more);
            top = top.max(bottom + column.height);
            right = Some(end);
        }
        best
    }

    /// Where the column ends at the nearest, and what that costs.
    fn nearest(
        &self,
        n: usize,
        k: usize,
        right: Option<Length>,
        bottom: Length,
    ) -> Option<(Length, Cost)> {
        let problem = self.problem;
        let (column, board) = (problem.columns.get(n)?, self.kinds.get(k)?);
        let usable = board.usable;
        let mut step = Length::ZERO;
        let mut left = usable.left;
        if let Some(right) = right {
            left = right + problem.loss;
            if let (Some(gap), None) = (column.gap_before, column.settled) {
                left = right + cut_away(gap, problem.loss, problem.repeat, problem.wanted);
            }
            if let (Some(gap), None) = (column.gap_before, problem.repeat) {
                left = right + problem.loss;
                step = problem.counted((problem.loss - gap).max(Length::ZERO));
            }
        }
        if let Some((settled, at)) = column.settled {
            if board.in_hand != Some(settled) || at < left {
                return None;
            }
            left = at;
        }
        let top = usable.bottom + bottom + column.height;
        if self.rows.exact || bottom == Length::ZERO {
            loop {
                let area = Area {
                    left,
                    right: left + column.width,
                    bottom: usable.bottom + bottom,
                    top,
                };
                match board.avoid.iter().find(|(flaw, _)| area.meets(*flaw)) {
                    None => break,
                    Some((flaw, _)) if flaw.right > left && column.settled.is_none() => {
                        left = flaw.right;
                    }
                    Some(_) => return None,
                }
            }
        }
        let end = left + column.width;
        if end > usable.right || top > usable.top {
            return None;
        }
        let begins = right.map_or(usable.left, |right| right + problem.loss);
        let cost = Cost {
            step: step.in_um(),
            waste: (left - begins).in_um(),
            ..Cost::default()
        };
        Some((end, cost))
    }
}

impl Known for Bound<'_> {
    fn after(&self, n: usize, reach: &Reach) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let end = reach.end;
        let k = end.board.min(self.in_hand);
        let bottom = self.kinds.get(k)?.usable.bottom;
        let up = (end.bottom - bottom, end.top - bottom);
        self.along(n, k, Some(end.right), up)
    }

    fn on(&self, n: usize, board: usize, _: Option<&Reach>) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let k = board.min(self.in_hand);
        let begun = self.begins_strip(n, k, Length::ZERO)?;
        Some(begun.and(self.opens(k)))
    }
}

fn lesser(a: Option<Cost>, b: Option<Cost>) -> Option<Cost> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    }
}
