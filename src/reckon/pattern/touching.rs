//! What a column may come to touch: edges, flaws and settled places, and how far the columns between
//! reach from there. Knows what can be known before any column is put.

use super::allocate::Problem;
use super::layout::CutBoard;
use crate::resolve::job::Wanted;
use crate::units::Length;

/// More sums of cuts than this are not followed from one column, so that a hostile file cannot hold the tool
/// up.
const MOST_SUMS: usize = 512;

/// What can be known of all columns before any is put.
pub struct Places {
    /// Whether these are all that are worth trying: what is found is then the best there is.
    pub(super) all: bool,
    /// Boards in hand; those after them are to be bought.
    pub(super) in_hand: usize,
}

impl Places {
    pub fn of(problem: &Problem<'_>) -> Places {
        let mut each = 0..problem.columns.len();
        let natural = problem.repeat.is_none() && problem.wanted != Wanted::LeastWaste;
        let touched = problem.boards.iter().any(|b| !b.avoid.is_empty())
            || problem.columns.iter().any(|c| c.settled.is_some());
        let all = !natural || !touched || each.all(|n| problem.few_sums(n));
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let in_hand = in_hand.count();
        Places { all, in_hand }
    }
}

impl Problem<'_> {
    /// Sums of cuts from one column to the next, as many as are kept.
    fn next_sums(&self, sums: &[Length], gap: Option<Length>) -> Vec<Length> {
        let cuts = self.cuts(gap);
        let next = sums.iter().flat_map(|s| cuts.iter().map(move |c| *s + *c));
        let mut next: Vec<Length> = next.collect();
        next.sort();
        next.dedup();
        next.truncate(MOST_SUMS);
        next
    }

    /// Whether all sums of cuts from this column on are followed.
    fn few_sums(&self, n: usize) -> bool {
        let wide = self.boards.iter().map(|b| b.usable.width()).max();
        let wide = wide.unwrap_or_default();
        let mut sums = vec![Length::ZERO];
        for (k, column) in self.columns.iter().enumerate().skip(n) {
            if k > n {
                sums = self.next_sums(&sums, column.gap_before);
            }
            sums.retain(|s| *s + column.width <= wide);
            match sums.len() {
                0 => return true,
                MOST_SUMS.. => return false,
                _ => {}
            }
            for sum in &mut sums {
                *sum += column.width;
            }
        }
        true
    }

    /// Without a repeat: where the columns from `n` on come to lie right after or right before a flaw,
    /// or to reach a settled one, so that the pattern jumps least there.
    pub(super) fn beside(&self, n: usize, board: &CutBoard) -> Vec<Length> {
        let mut out = Vec::new();
        let mut ahead = self.columns.iter().skip(n).filter_map(|c| c.settled);
        if board.avoid.is_empty() && !ahead.any(|(b, _)| board.in_hand == Some(b)) {
            return out;
        }
        // From the beginning to the left edge of the column now looked at.
        let mut sums = vec![Length::ZERO];
        for (k, column) in self.columns.iter().enumerate().skip(n) {
            if k > n {
                sums = self.next_sums(&sums, column.gap_before);
            }
            sums.retain(|s| *s + column.width <= board.usable.width());
            if sums.is_empty() {
                break;
            }
            for sum in &sums {
                for (flaw, _) in &board.avoid {
                    out.push(flaw.right - *sum);
                    out.push(flaw.left - *sum - column.width);
                }
                let settled = column.settled.filter(|(b, _)| board.in_hand == Some(*b));
                out.extend(settled.map(|(_, left)| left - *sum));
            }
            for sum in &mut sums {
                *sum += column.width;
            }
        }
        out.sort();
        out.dedup();
        out
    }

    pub(super) fn slack(&self) -> Length {
        match self.wanted {
            Wanted::Within(limit) => limit,
            Wanted::Exact | Wanted::LeastWaste => Length::ZERO,
        }
    }

    /// What may be cut away between neighbours when something touches: the saw's loss, what the gap asks
    /// for, and what a limit allows on either side of that.
    fn cuts(&self, gap: Option<Length>) -> Vec<Length> {
        let Some(gap) = gap else {
            return vec![self.loss];
        };
        let slack = self.slack();
        let mut cuts: Vec<Length> = [self.loss, gap - slack, gap + slack]
            .into_iter()
            .filter(|cut| *cut >= self.loss)
            .collect();
        cuts.sort();
        cuts.dedup();
        cuts
    }
}
