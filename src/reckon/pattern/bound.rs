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
const MOST_ENTRIES: usize = 1_000_000;
/// A share of the repeat is not made narrower than this.
const SHARE: Length = Length::mm(1);

/// Where a column lies on the pattern, less where it hangs on the wall. Columns that run on exactly all lie at
/// the same.
#[derive(Clone, Copy)]
struct Phase {
    from: i64,
    to: i64,
    /// At its nearest place; each micrometre farther along the board is wasted.
    nearest: i64,
    /// How far along the board there is room.
    room: i64,
}

pub struct Bound<'a> {
    problem: &'a Problem<'a>,
    /// Boards in hand, each; then one for all that are to be bought, of which there is no end.
    kinds: Vec<Kind<'a>>,
    in_hand: usize,
    /// By column, how far up a board it may begin a strip, from the lowest; what lies between two counts as
    /// the lower of them.
    rows: Rows,
    /// Of each column, where it hangs on the wall.
    hangs: Vec<Length>,
    repeat: Option<i64>,
    /// Of the repeat: how wide each is, and how many.
    share: (i64, usize),
    /// By column, kind and share: the least for it and all after it when it is wanted there and begins a
    /// board of this kind or of one after. `None`: it cannot be done.
    fresh: Vec<Vec<Row>>,
    /// By column, kind, row and share: the least when it begins a strip there.
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
    /// The least from the beginning of each share on, when to go along the board to another is waste.
    ahead: Vec<Packed>,
    least: Packed,
}

impl Row {
    fn of(each: Vec<Packed>, wide: i64) -> Row {
        let least = each.iter().copied().min().unwrap_or(NEVER);
        let mut ahead = each.clone();
        // Twice round, as the repeat begins again; the last share may be narrower.
        let mut next = NEVER;
        for n in (0..each.len()).rev().chain((0..each.len()).rev()) {
            let on = if n + 1 < each.len() { wide } else { 1 };
            let further = farther(next, on);
            if let Some(slot) = ahead.get_mut(n) {
                *slot = further.min(*slot);
                next = *slot;
            }
        }
        Row { each, ahead, least }
    }
}

/// The same with so much more waste.
fn farther(cost: Packed, by: i64) -> Packed {
    match cost {
        NEVER => NEVER,
        cost => cost + Packed::from(by.unsigned_abs()),
    }
}

struct Kind<'a> {
    board: &'a CutBoard,
    opens: Cost,
}

/// How far up a board columns may begin strips, by column; more than so many for one are not told apart.
struct Rows {
    each: Vec<Vec<Length>>,
    /// Whether strips begin nowhere else, so that what lies in their way is known.
    exact: bool,
}

const MOST_ROWS: usize = 24;

impl Rows {
    fn of(problem: &Problem<'_>) -> Rows {
        let (columns, loss) = (problem.columns, problem.loss);
        let most = |of: fn(Area) -> Length| problem.boards.iter().map(|b| of(b.usable)).max();
        let wide = most(Area::width).unwrap_or_default();
        let high = most(Area::height).unwrap_or_default();
        let mut each = vec![vec![Length::ZERO]; columns.len()];
        for n in 0..columns.len() {
            let mut begun = each.get(n).cloned().unwrap_or_default();
            begun.sort();
            begun.dedup();
            if begun.len() > MOST_ROWS {
                return Rows::roughly(columns, loss, high);
            }
            let (mut width, mut height) = (Length::ZERO - loss, Length::ZERO);
            for (m, column) in (n + 1..).zip(columns.iter().skip(n)) {
                width += column.width + loss;
                height = height.max(column.height);
                if width > wide {
                    break;
                }
                let Some(next) = each.get_mut(m) else {
                    break;
                };
                let tops = begun.iter().map(|b| *b + height + loss);
                next.extend(tops.filter(|top| *top < high));
            }
            if let Some(slot) = each.get_mut(n) {
                *slot = begun;
            }
        }
        Rows { each, exact: true }
    }

    /// As if each strip were as low as the lowest column.
    fn roughly(columns: &[Column], loss: Length, high: Length) -> Rows {
        let low = columns.iter().map(|c| c.height).min().unwrap_or_default();
        let pitch = (low + loss).max(Length::um(1));
        let rows = usize::try_from(high.in_um() / pitch.in_um()).unwrap_or(0);
        let row = |n: usize| pitch * i64::try_from(n).unwrap_or(0);
        let all: Vec<Length> = (0..=rows.min(MOST_ROWS)).map(row).collect();
        Rows {
            each: vec![all; columns.len()],
            exact: false,
        }
    }
}

/// A strip, from the bottom of what can be used of a board: its bottom, and its top as far as it is filled.
type Up = (Length, Length);

impl<'a> Bound<'a> {
    /// With so many shares of the repeat told apart, at the most.
    pub fn of(problem: &'a Problem<'a>, most_shares: i64) -> Bound<'a> {
        let rows = Rows::of(problem);
        let kind = |board: &'a CutBoard| Kind {
            board,
            opens: Cost {
                boards: 1,
                bought: u32::from(board.in_hand.is_none()),
                ..Cost::default()
            },
        };
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let mut kinds: Vec<Kind<'a>> = in_hand.map(kind).collect();
        let in_hand = kinds.len();
        let bought = problem.boards.iter().find(|b| b.in_hand.is_none());
        kinds.extend(bought.map(kind));
        let entries = rows.each.iter().map(|rows| rows.len() + 1).sum::<usize>();
        let entries = entries.saturating_mul(kinds.len());
        let repeat = problem.spanned().map(Length::in_um);
        let most = i64::try_from(MOST_ENTRIES / entries.max(1)).unwrap_or(1);
        let shares = repeat.map_or(1, |p| p / SHARE.in_um()).min(most_shares);
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
            rows,
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
        let never = Row::of(vec![NEVER; self.share.1], self.share.0);
        self.fresh = vec![vec![never.clone(); kinds + 1]; columns];
        self.strips = vec![vec![Vec::new(); kinds]; columns];
        for n in (0..columns).rev() {
            for k in (0..kinds).rev() {
                let Some(kind) = self.kinds.get(k) else {
                    continue;
                };
                let bottoms = self.rows.each.get(n).into_iter().flatten();
                let row = |bottom: &Length| {
                    let along = |wanted| self.along(n, k, (None, wanted), (*bottom, *bottom));
                    self.each_share(n, along)
                };
                let rows: Vec<Row> = bottoms.map(row).collect();
                let (begun, after) = (rows.first(), self.fresh.get(n).and_then(|f| f.get(k + 1)));
                let opens = packed(kind.opens);
                let least = begun.into_iter().zip(after).flat_map(|(begun, after)| {
                    let each = begun.each.iter().zip(&after.each);
                    each.map(|(begun, after)| both(opens, *begun).min(*after))
                });
                let least = Row::of(least.collect(), self.share.0);
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
    fn each_share(&self, n: usize, of: impl Fn(Option<Phase>) -> Packed) -> Row {
        let (wide, shares) = self.share;
        let column = self.problem.columns.get(n);
        if self.repeat.is_none() || column.is_none_or(|c| c.gap_before.is_none()) {
            return Row::of(vec![of(None); shares], wide);
        }
        let each = (0..shares).map(|q| {
            let from = i64::try_from(q).unwrap_or(0) * wide;
            of(Some(Phase {
                from,
                to: from + wide - 1,
                nearest: from,
                room: wide,
            }))
        });
        Row::of(each.collect(), wide)
    }

    /// The least of the shares in which the phase may lie.
    fn least(&self, row: Option<&Row>, wanted: Option<Phase>) -> Packed {
        let Some(row) = row else {
            return NEVER;
        };
        let (Some(wanted), Some(repeat)) = (wanted, self.repeat) else {
            return row.least;
        };
        let nearest = wanted.nearest.rem_euclid(repeat);
        let back = (wanted.nearest - wanted.from).rem_euclid(repeat);
        let ahead = wanted.to - wanted.from - back;
        let whole = ahead + back >= repeat - 1;
        if whole && wanted.room >= repeat {
            return self.anywhere(row, nearest, repeat);
        }
        if whole {
            return self.between(row, nearest, (0, wanted.room));
        }
        let ahead = self.between(row, nearest, (0, ahead.min(wanted.room)));
        let round = (repeat - back, wanted.room.min(repeat - 1));
        ahead.min(self.between(row, nearest, round))
    }

    /// The least, the phase being so much farther on at least and at the most.
    fn between(&self, row: &Row, nearest: i64, (least, most): (i64, i64)) -> Packed {
        let (wide, shares) = self.share;
        let mut best = NEVER;
        let mut on = least;
        while on <= most {
            let at = (nearest + on).rem_euclid(self.repeat.unwrap_or(1));
            let share = usize::try_from(at / wide).unwrap_or(0).min(shares - 1);
            let each = row.each.get(share).copied().unwrap_or(NEVER);
            best = best.min(farther(each, on));
            on += self.to_next(at);
        }
        best
    }

    fn anywhere(&self, row: &Row, nearest: i64, repeat: i64) -> Packed {
        let on = self.to_next(nearest);
        let share = |at: i64| usize::try_from(at.rem_euclid(repeat) / self.share.0).unwrap_or(0);
        let of = |list: &[Packed], at: i64| list.get(share(at)).copied().unwrap_or(NEVER);
        of(&row.each, nearest).min(farther(of(&row.ahead, nearest + on), on))
    }

    /// How far it is to the next share.
    fn to_next(&self, at: i64) -> i64 {
        let wide = self.share.0;
        ((at / wide + 1) * wide).min(self.repeat.unwrap_or(i64::MAX)) - at
    }

    /// The least for column `n` and all after it when it is wanted at this phase and begins a board of kind
    /// `k` or after.
    fn begins(&self, n: usize, k: usize, wanted: Option<Phase>) -> Packed {
        self.least(self.fresh.get(n).and_then(|f| f.get(k)), wanted)
    }

    /// The least for column `n` and all after it when `n` is wanted at this phase and follows in a strip whose
    /// last right edge is at `from`, or begins it.
    fn along(
        &self,
        n: usize,
        k: usize,
        (from, wanted): (Option<Length>, Option<Phase>),
        (bottom, mut top): Up,
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
                let strip = self.begins_strip(at, k, top + self.problem.loss, wanted);
                let next = strip.min(self.begins(at, after, wanted));
                best = best.min(both(cost + change, next));
            }
            let lies = self.lies(kind, at, column, wanted);
            let Some((end, more)) = self.nearest(kind, at, (right, lies), bottom) else {
                return best;
            };
            cost += packed(more);
            top = top.max(bottom + column.height);
            right = Some(end);
            wanted = lies.map(|lies| Phase {
                nearest: self.phase(kind, at, end - column.width),
                room: (kind.board.usable.right - end).in_um(),
                ..lies
            });
        }
        best
    }

    fn begins_strip(&self, n: usize, k: usize, bottom: Length, wanted: Option<Phase>) -> Packed {
        let below = self.rows.each.get(n);
        let below = below.map_or(0, |rows| rows.partition_point(|row| *row <= bottom));
        let rows = self.strips.get(n).and_then(|s| s.get(k));
        let row = rows.and_then(|rows| rows.get(below.checked_sub(1)?));
        self.least(row, wanted)
    }

    /// Where a column that is wanted at a phase may lie.
    fn lies(
        &self,
        kind: &Kind<'_>,
        n: usize,
        column: &Column,
        wanted: Option<Phase>,
    ) -> Option<Phase> {
        let repeat = self.repeat?;
        let phase = |from, to| Phase {
            from,
            to,
            nearest: from,
            room: 0,
        };
        if let Some((_, left)) = column.settled {
            let at = self.phase(kind, n, left);
            return Some(phase(at, at));
        }
        let slack = self.problem.slack().in_um();
        let near = wanted.map(|w| phase(w.from - slack, w.to + slack));
        let near = near.filter(|near| near.to - near.from < repeat - 1);
        Some(near.unwrap_or(phase(0, repeat - 1)))
    }

    fn phase(&self, kind: &Kind<'_>, n: usize, left: Length) -> i64 {
        let hangs = self.hangs.get(n).copied().unwrap_or_default();
        (left - kind.board.first_crest.0 - hangs).in_um()
    }

    /// The first place at or after `left` where column `n` may lie.
    fn in_phase(&self, kind: &Kind<'_>, n: usize, left: Length, lies: Option<Phase>) -> Length {
        let (Some(Phase { from, to, .. }), Some(repeat)) = (lies, self.repeat) else {
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
        (right, lies): (Option<Length>, Option<Phase>),
        bottom: Length,
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
        let top = usable.bottom + bottom + column.height;
        if self.rows.exact || bottom == Length::ZERO {
            loop {
                let area = Area {
                    left,
                    right: left + column.width,
                    bottom: usable.bottom + bottom,
                    top,
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
        if end > usable.right || top > usable.top {
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
        let bottom = self.kinds.get(k)?.board.usable.bottom;
        let wanted = self.wanted(n, end, farthest);
        let up = (end.bottom - bottom, end.top - bottom);
        unpacked(self.along(n, k, (Some(end.right), wanted), up))
    }

    /// Where column `n` is wanted when the one before ends at `end` or up to `farthest`.
    fn wanted(&self, n: usize, end: End, farthest: Length) -> Option<Phase> {
        let gap = self.problem.columns.get(n)?.gap_before?;
        let kind = self.kinds.get(end.board.min(self.in_hand))?;
        let at = self.phase(kind, n, end.right + gap);
        let wide = (farthest - end.right).in_um().min(self.repeat? - 1);
        Some(Phase {
            from: at,
            to: at + wide,
            nearest: at,
            room: wide,
        })
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
        let begun = self.begins_strip(n, k, Length::ZERO, wanted);
        unpacked(both(packed(kind.opens), begun))
    }
}
