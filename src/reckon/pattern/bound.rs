//! What the columns still to come cost at least, so that the search leaves what cannot be the best. Knows
//! widths, cuts, flaws and settled places; must not know where the pattern's phase falls.
//!
//! A likeness of the problem in which a column may lie at any phase: each as near as the saw, the gap and
//! the flaws allow. No true way is cheaper than the cheapest of these, and they are found once, from the
//! last column back.

use super::allocate::{Cost, End, Problem};
use super::columns::Column;
use super::layout::{Area, CutBoard};
use super::phase::cut_away;
use crate::units::Length;

/// Entries kept of the likeness; of a job that needs more, nothing is known beforehand.
const MOST_ENTRIES: usize = 400_000;

pub struct Bound<'a> {
    problem: &'a Problem<'a>,
    /// Boards in hand, each; then one for all that are to be bought, of which there is no end.
    kinds: Vec<Kind<'a>>,
    in_hand: usize,
    /// Least height that one strip more takes: the lowest column and the saw's loss.
    pitch: i64,
    /// By column and kind: the least for it and all after it when it begins a board of this kind or of one
    /// after. `None`: it cannot be done.
    fresh: Vec<Vec<Option<Cost>>>,
    /// By column, kind and strips left: the least when it begins a strip there.
    strips: Vec<Vec<Vec<Option<Cost>>>>,
}

struct Kind<'a> {
    board: &'a CutBoard,
    opens: Cost,
    /// As many strips as its height allows, at most.
    strips: usize,
}

impl<'a> Bound<'a> {
    pub fn of(problem: &'a Problem<'a>) -> Bound<'a> {
        let low = problem.columns.iter().map(|c| c.height).min();
        let pitch = (low.unwrap_or_default() + problem.loss).in_um().max(1);
        let kind = |board: &'a CutBoard| {
            let strips = (board.usable.height() + problem.loss).in_um() / pitch;
            Kind {
                board,
                opens: Cost {
                    boards: 1,
                    bought: u32::from(board.in_hand.is_none()),
                    ..Cost::default()
                },
                strips: usize::try_from(strips).unwrap_or(0),
            }
        };
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let mut kinds: Vec<Kind<'a>> = in_hand.map(kind).collect();
        let in_hand = kinds.len();
        let bought = problem.boards.iter().find(|b| b.in_hand.is_none());
        kinds.extend(bought.map(kind));
        let entries = kinds.iter().fold(0, |n, k| k.strips.saturating_add(n + 1));
        let known = entries.saturating_mul(problem.columns.len()) <= MOST_ENTRIES;
        let mut bound = Bound {
            problem,
            kinds,
            in_hand,
            pitch,
            fresh: Vec::new(),
            strips: Vec::new(),
        };
        if known {
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
                let Some(kind) = self.kinds.get(k) else {
                    continue;
                };
                let mut row = vec![None];
                for left in 1..=kind.strips {
                    row.push(self.along(n, k, None, left - 1));
                }
                let begun = row.last().copied().flatten();
                let begun = begun.map(|cost| kind.opens.and(cost));
                let least = cheaper(begun, self.begins(n, k + 1));
                if let Some(slot) = self.fresh.get_mut(n).and_then(|f| f.get_mut(k)) {
                    *slot = least;
                }
                if let Some(slot) = self.strips.get_mut(n).and_then(|s| s.get_mut(k)) {
                    *slot = row;
                }
            }
        }
    }

    /// The least for column `n` and all after it when it begins a board of kind `k` or after.
    fn begins(&self, n: usize, k: usize) -> Option<Cost> {
        self.fresh.get(n)?.get(k).copied().flatten()
    }

    /// The least for column `n` and all after it when `n` follows in a strip whose last right edge is at
    /// `from`, or begins it, with `left` strips more above.
    fn along(&self, n: usize, k: usize, from: Option<Length>, left: usize) -> Option<Cost> {
        let kind = self.kinds.get(k)?;
        // None is left of those to be bought but in the kind itself.
        let after = if k < self.in_hand { k + 1 } else { k };
        let mut cost = Cost::default();
        let mut right = from;
        let mut best: Option<Cost> = None;
        for at in n.. {
            let Some(column) = self.problem.columns.get(at) else {
                return cheaper(best, Some(cost));
            };
            if right.is_some() {
                let change = Cost {
                    changes: u32::from(column.gap_before.is_some()),
                    ..cost
                };
                let next = cheaper(self.begins_strip(at, k, left), self.begins(at, after));
                best = cheaper(best, next.map(|next| change.and(next)));
            }
            let Some((end, more)) = self.nearest(kind, column, right) else {
                return best;
            };
            cost = cost.and(more);
            right = Some(end);
        }
        best
    }

    fn begins_strip(&self, n: usize, k: usize, left: usize) -> Option<Cost> {
        let row = self.strips.get(n)?.get(k)?;
        row.get(left).copied().flatten()
    }

    /// Where the column ends at the nearest, and what that costs.
    fn nearest(
        &self,
        kind: &Kind<'_>,
        column: &Column,
        right: Option<Length>,
    ) -> Option<(Length, Cost)> {
        let problem = self.problem;
        let usable = kind.board.usable;
        let mut step = Length::ZERO;
        let earliest = match right {
            None => usable.left,
            Some(right) => {
                let cut = match (column.gap_before, column.settled, problem.repeat) {
                    (Some(gap), None, Some(_)) => {
                        cut_away(gap, problem.loss, problem.repeat, problem.wanted)
                    }
                    _ => problem.loss,
                };
                if let (Some(gap), None) = (column.gap_before, problem.repeat) {
                    step = problem.counted((problem.loss - gap).max(Length::ZERO));
                }
                right + cut
            }
        };
        let mut left = earliest;
        if let Some((board, at)) = column.settled {
            if kind.board.in_hand != Some(board) || at < left {
                return None;
            }
            left = at;
        }
        // In one strip of all the height it is known what lies in the way.
        if kind.strips == 1 {
            loop {
                let area = Area {
                    left,
                    right: left + column.width,
                    bottom: usable.bottom,
                    top: usable.bottom + column.height,
                };
                let flaw = kind.board.avoid.iter().find(|(f, _)| area.meets(*f));
                match flaw {
                    None => break,
                    Some(_) if column.settled.is_some() => return None,
                    Some((flaw, _)) if flaw.right > left => left = flaw.right,
                    Some(_) => return None,
                }
            }
        }
        let end = left + column.width;
        if end > usable.right || column.height > usable.height() {
            return None;
        }
        let begins = match right {
            None => usable.left,
            Some(right) => right + problem.loss,
        };
        let cost = Cost {
            step: step.in_um(),
            waste: (left - begins).in_um(),
            ..Cost::default()
        };
        Some((end, cost))
    }

    /// The least that column `n` and all after it add, when the one before ends at `end`.
    pub fn after(&self, n: usize, end: End) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let k = end.board.min(self.in_hand);
        let top = self.kinds.get(k)?.board.usable.top;
        let left = (top - end.top).in_um().max(0) / self.pitch;
        let left = usize::try_from(left).unwrap_or(0);
        self.along(n, k, Some(end.right), left)
    }

    /// The least that column `n` and all after it add when it begins this board.
    pub fn on(&self, n: usize, board: usize) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let k = board.min(self.in_hand);
        let kind = self.kinds.get(k)?;
        let begun = self.begins_strip(n, k, kind.strips)?;
        Some(kind.opens.and(begun))
    }
}

fn cheaper(a: Option<Cost>, b: Option<Cost>) -> Option<Cost> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
