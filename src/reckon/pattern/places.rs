//! Where a column is worth putting: the few places among which the best allotting is sure to lie. Knows
//! edges, flaws, settled places and the pattern; must not know what a place costs.
//!
//! Whatever else there is could be pushed along until something touches: a board's edge, a flaw, a settled
//! place, or, from column to column, the least or the most that may be cut away. So only places are tried
//! that lie so far from one of these as the widths between and such cuts come to.

use super::allocate::{End, Problem, Put};
use super::columns::Column;
use super::layout::{Area, CutBoard};
use super::phase::{cut_away, next_match};
use crate::resolve::job::Wanted;
use crate::units::Length;

/// More ways to begin than this are thinned out, so that a hostile file cannot hold the tool up: on
/// lengths to the half millimetre that is never reached for repeats up to 128 mm.
const MOST_PHASES: usize = 256;
/// Nor are more sums of cuts than this followed from one column.
const MOST_SUMS: usize = 64;
/// Steps of work up to which every place of the repeat is tried where a limit is set.
const MOST_WORK: i64 = 40_000_000;

/// Where the pattern is wanted, its repeat, and how far off will do.
type Aimed = Option<(Length, Length, Length)>;

/// What can be known of all columns before any is put.
pub struct Places {
    /// For each column that need not follow from the one before, the places of the pattern's repeat at
    /// which it is worth beginning.
    phases: Vec<Vec<Length>>,
    /// With a limit on the step of a repeating pattern: what all lengths are multiples of, if every place
    /// of the repeat can then be tried.
    grid: Option<Length>,
}

impl Places {
    pub fn of(problem: &Problem<'_>) -> Places {
        let each = 0..problem.columns.len();
        Places {
            phases: each.map(|n| problem.phases(n)).collect(),
            grid: problem.grid(),
        }
    }
    /// Whether two ends at the same place of the repeat differ only in how far along they are.
    pub fn by_phase(&self) -> bool {
        self.grid.is_some()
    }
    fn at(&self, n: usize) -> &[Length] {
        self.phases.get(n).map_or(&[], Vec::as_slice)
    }
}

impl Problem<'_> {
    /// Every place worth trying for column `n`, on no board after `last`.
    pub fn puts(&self, n: usize, end: Option<End>, last: usize, places: &Places) -> Vec<Put> {
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
            if at > last {
                break;
            }
            // Boards to be bought are all alike: one is enough to try.
            if board.in_hand.is_none() && std::mem::replace(&mut bought, true) {
                break;
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

    fn slack(&self) -> Length {
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

    /// Without a repeat: where the columns from `n` on come to lie right after or right before a flaw,
    /// or to reach a settled one, so that the pattern jumps least there.
    fn beside(&self, n: usize, board: &CutBoard) -> Vec<Length> {
        let mut out = Vec::new();
        // From the beginning to the left edge of the column now looked at.
        let mut sums = vec![Length::ZERO];
        for (k, column) in self.columns.iter().enumerate().skip(n) {
            if k > n {
                let cuts = self.cuts(column.gap_before);
                let next = sums.iter().flat_map(|s| cuts.iter().map(move |c| *s + *c));
                sums = next.collect();
                sums.sort();
                sums.dedup();
                sums.truncate(MOST_SUMS);
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
        let phases = repeat.in_um() / grid;
        let window = (2 * limit.in_um() / grid + 1).min(phases);
        let (columns, boards) = (self.columns.len() as i64, self.boards.len() as i64);
        let work = [phases, window, columns, boards, boards]
            .into_iter()
            .fold(1_i64, i64::saturating_mul);
        (work / 2 <= MOST_WORK).then_some(Length::um(grid))
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

/// The greatest length that both are multiples of.
fn common(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
