//! What the columns still to come cost at least, so that the search leaves what cannot be the best. Knows
//! widths, cuts, flaws, settled places and roughly where the pattern lies; must not know how it is searched.
//!
//! A likeness of the problem in which the pattern's place is known only to a share of the repeat: each column
//! as near as the saw, the gap, the flaws and that share allow. No true way is cheaper than the cheapest of
//! these, and they are found once, from the last column back.

use super::allocate::{Cost, End, Problem};
use super::columns::Column;
use super::layout::{Area, CutBoard};
use super::phase::cut_away;
use crate::units::Length;

/// Entries kept of the likeness; of a job that needs more, nothing is known beforehand.
const MOST_ENTRIES: usize = 400_000;
/// A share of the repeat is not made narrower than this, nor are there more of them than this.
const SHARE: Length = Length::mm(5);
const MOST_SHARES: i64 = 32;

/// Where a column lies on the pattern, less where it hangs on the wall: from, and to. Columns that run on
/// exactly all lie at the same. `None`: anywhere.
type Phase = Option<(i64, i64)>;

pub struct Bound<'a> {
    problem: &'a Problem<'a>,
    /// Boards in hand, each; then one for all that are to be bought, of which there is no end.
    kinds: Vec<Kind<'a>>,
    in_hand: usize,
    /// Least height that one strip more takes: the lowest column and the saw's loss.
    pitch: i64,
    /// Of each column, where it hangs on the wall.
    hangs: Vec<Length>,
    repeat: Option<i64>,
    /// Of the repeat: how wide each is, and how many.
    share: (i64, usize),
    /// By column, kind and share: the least for it and all after it when it is wanted there and begins a
    /// board of this kind or of one after. `None`: it cannot be done.
    fresh: Vec<Vec<Row>>,
    /// By column, kind, strips left and share: the least when it begins a strip there.
    strips: Vec<Vec<Vec<Row>>>,
}

/// A cost in one number, so that two are compared and added at once; colour, of which nothing is known
/// beforehand, is left out.
type Packed = u128;
/// It cannot be done.
const NEVER: Packed = Packed::MAX;
/// Bits for the step and for the waste, and for each of what is counted.
const LONG: u32 = 44;
const MANY: u32 = 13;

fn packed(cost: Cost) -> Packed {
    let long = |v: i64| Packed::from(v.unsigned_abs());
    let counts = [cost.boards, cost.bought, cost.changes].map(Packed::from);
    let counts = counts.into_iter().fold(0, |all, n| (all << MANY) + n);
    (((counts << LONG) + long(cost.step)) << LONG) + long(cost.waste)
}

fn unpacked(all: Packed) -> Option<Cost> {
    let long = |by: u32| i64::try_from((all >> by) & ((1 << LONG) - 1)).unwrap_or(0);
    let count =
        |n: u32| u32::try_from((all >> (2 * LONG + n * MANY)) & ((1 << MANY) - 1)).unwrap_or(0);
    (all != NEVER).then(|| Cost {
        boards: count(2),
        bought: count(1),
        changes: count(0),
        step: long(LONG),
        waste: long(0),
        colour: 0,
    })
}

/// One after the other.
fn both(a: Packed, b: Packed) -> Packed {
    match a == NEVER || b == NEVER {
        true => NEVER,
        false => a + b,
    }
}

/// By share of the repeat; and of all of them the least.
#[derive(Clone, Debug)]
struct Row {
    each: Vec<Packed>,
    least: Packed,
}

impl Row {
    fn of(each: Vec<Packed>) -> Row {
        let least = each.iter().copied().min().unwrap_or(NEVER);
        Row { each, least }
    }
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
        let entries = entries.saturating_mul(problem.columns.len());
        let repeat = problem.spanned().map(Length::in_um);
        let most = i64::try_from(MOST_ENTRIES / entries.max(1)).unwrap_or(1);
        let shares = repeat.map_or(1, |p| p / SHARE.in_um()).min(MOST_SHARES);
        let shares = shares.min(most).max(1);
        let wide = repeat.map_or(1, |p| (p + shares - 1) / shares).max(1);
        let shares = repeat.map_or(1, |p| (p + wide - 1) / wide);
        let mut hangs: Vec<Length> = Vec::new();
        let mut at = Length::ZERO;
        for column in problem.columns {
            at += column.gap_before.unwrap_or_default();
            hangs.push(at);
            at += column.width;
        }
        let mut bound = Bound {
            problem,
            kinds,
            in_hand,
            pitch,
            hangs,
            repeat,
            share: (wide, usize::try_from(shares).unwrap_or(1)),
            fresh: Vec::new(),
            strips: Vec::new(),
        };
        if entries <= MOST_ENTRIES && problem.columns.len() < 1 << MANY {
            bound.fill();
        }
        bound
    }

    fn fill(&mut self) {
        let (columns, kinds) = (self.problem.columns.len(), self.kinds.len());
        let never = Row::of(vec![NEVER; self.share.1]);
        self.fresh = vec![vec![never.clone(); kinds + 1]; columns];
        self.strips = vec![vec![Vec::new(); kinds]; columns];
        for n in (0..columns).rev() {
            for k in (0..kinds).rev() {
                let Some(kind) = self.kinds.get(k) else {
                    continue;
                };
                let mut rows = vec![never.clone()];
                for left in 1..=kind.strips {
                    let along = |wanted| self.along(n, k, (None, wanted), left - 1);
                    rows.push(self.each_share(n, along));
                }
                let (begun, after) = (rows.last(), self.fresh.get(n).and_then(|f| f.get(k + 1)));
                let opens = packed(kind.opens);
                let least = begun.into_iter().zip(after).flat_map(|(begun, after)| {
                    let each = begun.each.iter().zip(&after.each);
                    each.map(|(begun, after)| both(opens, *begun).min(*after))
                });
                let least = Row::of(least.collect());
                if let Some(slot) = self.fresh.get_mut(n).and_then(|f| f.get_mut(k)) {
                    *slot = least;
                }
                if let Some(slot) = self.strips.get_mut(n).and_then(|s| s.get_mut(k)) {
                    *slot = rows;
                }
            }
        }
    }

    /// What comes of each share of the repeat in which column `n` may be wanted.
    fn each_share(&self, n: usize, of: impl Fn(Phase) -> Packed) -> Row {
        let (wide, shares) = self.share;
        let column = self.problem.columns.get(n);
        if self.repeat.is_none() || column.is_none_or(|c| c.gap_before.is_none()) {
            return Row::of(vec![of(None); shares]);
        }
        let each = (0..shares).map(|q| {
            let from = i64::try_from(q).unwrap_or(0) * wide;
            of(Some((from, from + wide - 1)))
        });
        Row::of(each.collect())
    }

    /// The least of the shares in which the phase may lie.
    fn least(&self, row: Option<&Row>, wanted: Phase) -> Packed {
        let Some(row) = row else {
            return NEVER;
        };
        let (Some((from, to)), Some(repeat)) = (wanted, self.repeat) else {
            return row.least;
        };
        let first = from.rem_euclid(repeat);
        let last = first + (to - from);
        let share = |at: i64| usize::try_from(at / self.share.0).unwrap_or(0);
        let of = |from: usize, to: usize| {
            let each = row.each.get(from..row.each.len().min(to + 1));
            each.and_then(|each| each.iter().copied().min())
                .unwrap_or(NEVER)
        };
        match last < repeat {
            true => of(share(first), share(last)),
            false => of(share(first), row.each.len()).min(of(0, share(last - repeat))),
        }
    }

    /// The least for column `n` and all after it when it is wanted at this phase and begins a board of kind
    /// `k` or after.
    fn begins(&self, n: usize, k: usize, wanted: Phase) -> Packed {
        self.least(self.fresh.get(n).and_then(|f| f.get(k)), wanted)
    }

    /// The least for column `n` and all after it when `n` is wanted at this phase and follows in a strip whose
    /// last right edge is at `from`, or begins it, with `left` strips more above.
    fn along(
        &self,
        n: usize,
        k: usize,
        (from, wanted): (Option<Length>, Phase),
        left: usize,
    ) -> Packed {
        let Some(kind) = self.kinds.get(k) else {
            return NEVER;
        };
        // None is left of those to be bought but in the kind itself.
        let after = if k < self.in_hand { k + 1 } else { k };
        let mut cost = 0;
        let (mut right, mut wanted) = (from, wanted);
        let mut best = NEVER;
        for at in n.. {
            let Some(column) = self.problem.columns.get(at) else {
                return best.min(cost);
            };
            wanted = wanted.filter(|_| column.gap_before.is_some());
            if right.is_some() {
                let change = packed(Cost {
                    changes: u32::from(column.gap_before.is_some()),
                    ..Cost::default()
                });
                let strip = self.begins_strip(at, k, left, wanted);
                let next = strip.min(self.begins(at, after, wanted));
                best = best.min(both(cost + change, next));
            }
            let lies = self.lies(kind, at, column, wanted);
            let Some((end, more)) = self.nearest(kind, at, (right, lies)) else {
                return best;
            };
            cost += packed(more);
            (right, wanted) = (Some(end), lies);
        }
        best
    }

    fn begins_strip(&self, n: usize, k: usize, left: usize, wanted: Phase) -> Packed {
        let rows = self.strips.get(n).and_then(|s| s.get(k));
        self.least(rows.and_then(|rows| rows.get(left)), wanted)
    }

    /// Where a column that is wanted at a phase may lie.
    fn lies(&self, kind: &Kind<'_>, n: usize, column: &Column, wanted: Phase) -> Phase {
        let repeat = self.repeat?;
        if let Some((_, left)) = column.settled {
            let at = self.phase(kind, n, left);
            return Some((at, at));
        }
        let slack = self.problem.slack().in_um();
        let (from, to) = wanted.map(|(from, to)| (from - slack, to + slack))?;
        (to - from < repeat).then_some((from, to))
    }

    fn phase(&self, kind: &Kind<'_>, n: usize, left: Length) -> i64 {
        let hangs = self.hangs.get(n).copied().unwrap_or_default();
        (left - kind.board.first_crest.0 - hangs).in_um()
    }

    /// The first place at or after `left` where column `n` may lie.
    fn in_phase(&self, kind: &Kind<'_>, n: usize, left: Length, lies: Phase) -> Length {
        let (Some((from, to)), Some(repeat)) = (lies, self.repeat) else {
            return left;
        };
        let past = (self.phase(kind, n, left) - from).rem_euclid(repeat);
        match past <= to - from {
            true => left,
            false => left + Length::um(repeat - past),
        }
    }

    /// Where the column ends at the nearest, and what that costs.
    fn nearest(
        &self,
        kind: &Kind<'_>,
        n: usize,
        (right, lies): (Option<Length>, Phase),
    ) -> Option<(Length, Cost)> {
        let problem = self.problem;
        let column = problem.columns.get(n)?;
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
        } else {
            left = self.in_phase(kind, n, left, lies);
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
                    Some((flaw, _)) if flaw.right > left => {
                        left = self.in_phase(kind, n, flaw.right, lies);
                    }
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

    /// The least that column `n` and all after it add, when the one before ends at `end` or up to `farthest`.
    pub fn after(&self, n: usize, end: End, farthest: Length) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let k = end.board.min(self.in_hand);
        let top = self.kinds.get(k)?.board.usable.top;
        let left = (top - end.top).in_um().max(0) / self.pitch;
        let left = usize::try_from(left).unwrap_or(0);
        let wanted = self.wanted(n, end, farthest);
        unpacked(self.along(n, k, (Some(end.right), wanted), left))
    }

    /// Where column `n` is wanted when the one before ends at `end` or up to `farthest`.
    fn wanted(&self, n: usize, end: End, farthest: Length) -> Phase {
        let gap = self.problem.columns.get(n)?.gap_before?;
        let kind = self.kinds.get(end.board.min(self.in_hand))?;
        let at = self.phase(kind, n, end.right + gap);
        let wide = (farthest - end.right).in_um();
        (wide < self.repeat?).then_some((at, at + wide))
    }

    /// The least that column `n` and all after it add when it begins this board and the one before ends at
    /// `before`, an end or up to so far along.
    pub fn on(&self, n: usize, board: usize, before: Option<(End, Length)>) -> Option<Cost> {
        if self.fresh.is_empty() {
            return Some(Cost::default());
        }
        let k = board.min(self.in_hand);
        let kind = self.kinds.get(k)?;
        let wanted = before.and_then(|(end, farthest)| self.wanted(n, end, farthest));
        let begun = self.begins_strip(n, k, kind.strips, wanted);
        unpacked(both(packed(kind.opens), begun))
    }
}
