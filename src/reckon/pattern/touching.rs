//! What a column may come to touch: edges, flaws and settled places, and how far the columns between
//! reach from there. Knows what can be known before any column is put.

use super::allocate::Problem;
use super::layout::CutBoard;
use super::phase::next_match;
use crate::resolve::job::Wanted;
use crate::units::Length;

/// More ways to begin than this are thinned out, so that a hostile file cannot hold the tool up: on
/// lengths to the half millimetre that is never reached for repeats up to 128 mm.
const MOST_PHASES: usize = 256;
/// Nor are more sums of cuts than this followed from one column.
const MOST_SUMS: usize = 64;
/// Nor more steps to a repeat than this where a limit is set.
const MOST_STEPS: i64 = 4096;

/// What can be known of all columns before any is put.
pub struct Places {
    /// For each column that need not follow from the one before, the places of the pattern's repeat at
    /// which it is worth beginning.
    pub(super) phases: Vec<Vec<Length>>,
    /// With a limit on the step of a repeating pattern: what all lengths are multiples of, if every place
    /// of the repeat can then be tried.
    pub(super) grid: Option<Length>,
    /// Whether these are all that are worth trying: what is found is then the best there is.
    pub(super) all: bool,
    /// Boards in hand; those after them are to be bought.
    pub(super) in_hand: usize,
}

impl Places {
    pub fn of(problem: &Problem<'_>) -> Places {
        let each = 0..problem.columns.len();
        let phases: Vec<Vec<Length>> = each.clone().map(|n| problem.phases(n)).collect();
        let grid = problem.grid();
        let all = match (problem.wanted, problem.repeat) {
            (Wanted::LeastWaste, _) => true,
            (Wanted::Exact, Some(_)) => phases.iter().all(|p| p.len() < MOST_PHASES),
            (Wanted::Within(_), Some(_)) => grid.is_some(),
            (Wanted::Exact | Wanted::Within(_), None) => {
                let boards = &mut problem.boards.iter();
                let touched = boards.any(|b| !b.avoid.is_empty())
                    || problem.columns.iter().any(|c| c.settled.is_some());
                !touched || each.into_iter().all(|n| problem.few_sums(n))
            }
        };
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let in_hand = in_hand.count();
        Places {
            phases,
            grid,
            all,
            in_hand,
        }
    }
    /// Where every place of a repeat was to be tried, only the nearest from now on; whether that is fewer.
    pub fn thin_out(&mut self) -> bool {
        self.all = false;
        self.grid.take().is_some()
    }
    /// Whether two ends at the same place of the repeat differ only in how far along they are.
    pub fn by_phase(&self) -> bool {
        self.grid.is_some()
    }
    pub(super) fn at(&self, n: usize) -> &[Length] {
        self.phases.get(n).map_or(&[], Vec::as_slice)
    }
}

impl Problem<'_> {
    /// Whether column `k`, counted from a beginning at `n`, still follows in view from it.
    fn follows(&self, n: usize, k: usize) -> bool {
        k == n || self.columns.get(k).is_some_and(|c| c.gap_before.is_some())
    }

    fn phases(&self, n: usize) -> Vec<Length> {
        let Some(repeat) = self.repeat.filter(|_| self.wanted == Wanted::Exact) else {
            return Vec::new();
        };
        // After a settled column, which may step, the next is still held to it.
        if n > 0 && self.follows(n - 1, n) {
            return Vec::new();
        }
        let mut out = Vec::new();
        // Towards a settled column, which may step, it may be worth lying farther along, too.
        let ahead = self.columns.iter().enumerate().skip(n);
        let mut chain = ahead.take_while(|(k, _)| self.follows(n, *k));
        let to_settled = chain.any(|(_, column)| column.settled.is_some());
        // From column n's left edge to column k's, on the pattern.
        let mut on = Length::ZERO;
        for (k, column) in self.columns.iter().enumerate().skip(n) {
            if !self.follows(n, k) || out.len() > MOST_PHASES {
                break;
            }
            if k > n {
                on += column.gap_before.unwrap_or_default();
            }
            let mut bought = false;
            for board in self.boards {
                if board.in_hand.is_none() && std::mem::replace(&mut bought, true) {
                    break;
                }
                let flaws = || board.avoid.iter().map(|(flaw, _)| *flaw);
                let mut touched = vec![board.usable.left];
                touched.extend(flaws().map(|flaw| flaw.right));
                if to_settled {
                    touched.push(board.usable.right - column.width);
                    touched.extend(flaws().map(|flaw| flaw.left - column.width));
                }
                if let Some((_, left)) = column.settled.filter(|(b, _)| board.in_hand == Some(*b)) {
                    // It itself, and the column before it as near as the saw allows.
                    touched.push(left);
                    touched.push(left - self.loss + column.gap_before.unwrap_or_default());
                }
                for place in touched {
                    let phase = place - board.first_crest.0 - on;
                    let phase = next_match(Length::ZERO, phase, repeat, Length::ZERO);
                    if !out.contains(&phase) {
                        out.push(phase);
                    }
                }
            }
            if column.settled.is_some() {
                break;
            }
            on += column.width;
        }
        out.truncate(MOST_PHASES);
        out
    }

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

    /// What every length along the boards is a multiple of, where a limit is set and trying every place
    /// of the repeat is not too much.
    fn grid(&self) -> Option<Length> {
        let (Some(repeat), Wanted::Within(limit)) = (self.repeat, self.wanted) else {
            return None;
        };
        let columns = self.columns.iter().flat_map(|c| {
            let settled = c.settled.map_or(Length::ZERO, |(_, left)| left);
            [c.width, c.gap_before.unwrap_or_default(), settled]
        });
        let boards = self.boards.iter().flat_map(|b| {
            let flaws = b.avoid.iter().flat_map(|(flaw, _)| [flaw.left, flaw.right]);
            flaws.chain([b.usable.left, b.first_crest.0])
        });
        let all = columns.chain(boards).chain([repeat, limit, self.loss]);
        let grid = all.map(|l| l.in_um().abs()).fold(0, common);
        if repeat.in_um() <= 0 || grid <= 0 {
            return None;
        }
        (repeat.in_um() / grid <= MOST_STEPS).then_some(Length::um(grid))
    }
}

/// The greatest length that both are multiples of.
fn common(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
