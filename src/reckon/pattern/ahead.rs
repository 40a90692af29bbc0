//! What the columns still to come cost of a pattern that repeats and is to run on, place by place, worked out
//! from the last column back. Knows boards, cuts, flaws and where the pattern lies; must not know how it is
//! searched.
//!
//! True but for what is left out: colour, the step of a settled column, and, where strips may begin at very
//! many heights of a board, how high they begin. No way costs less.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::allocate::{Cost, Known, Problem};
use super::columns::Column;
use super::layout::CutBoard;
use super::phase::next_match;
use super::rows::Rows;
use super::spans::Reach;
use crate::units::Length;

/// Bits for the waste, and for each of what is counted.
const LONG: u32 = 33;
const MANY: u32 = 10;
/// Waste is counted from here, so that what is a share of a cell too little is still a number.
const NOUGHT: i64 = 1 << 31;
/// It cannot be done.
const NEVER: i64 = i64::MAX / 2;

/// No cell is narrower.
const NARROWEST: i64 = 250;

/// A cost in one number, so that two are compared and added at once.
fn packed(cost: Cost) -> i64 {
    let counts = [cost.boards, cost.bought, cost.changes].map(i64::from);
    counts.into_iter().fold(0, |all, n| (all << MANY) + n) << LONG
}

fn unpacked(all: i64) -> Option<Cost> {
    let count = |n: u32| u32::try_from((all >> (LONG + n * MANY)) & ((1 << MANY) - 1)).unwrap_or(0);
    let waste = (all & ((1 << LONG) - 1)) - NOUGHT;
    (all < NEVER).then(|| Cost {
        boards: count(2),
        bought: count(1),
        changes: count(0),
        waste: waste.max(0),
        ..Cost::default()
    })
}

/// The least cell by cell, from the first of a stretch on.
#[derive(Clone, Debug)]
struct Stretch {
    first: i64,
    each: Vec<i64>,
}

/// Stretches of the pattern, in order.
#[derive(Clone, Debug, Default)]
struct Cells(Vec<Stretch>);

impl Cells {
    fn at(&self, cell: i64) -> i64 {
        let in_stretch = |s: &Stretch| s.each.get(usize::try_from(cell - s.first).ok()?).copied();
        self.0.iter().find_map(in_stretch).unwrap_or(NEVER)
    }
    /// From one cell to another.
    fn part(&self, from: i64, to: i64) -> Vec<i64> {
        let mut out = vec![NEVER; usize::try_from(to + 1 - from).unwrap_or(0)];
        for stretch in &self.0 {
            let skip = usize::try_from(from - stretch.first).unwrap_or(0);
            let ahead = usize::try_from(stretch.first - from).unwrap_or(0);
            for (slot, cost) in out
                .iter_mut()
                .skip(ahead)
                .zip(stretch.each.iter().skip(skip))
            {
                *slot = (*cost).min(*slot);
            }
        }
        out
    }
    fn ends(&self) -> Option<(i64, i64)> {
        let (first, last) = (self.0.first()?, self.0.last()?);
        Some((
            first.first,
            last.first + i64::try_from(last.each.len()).ok()? - 1,
        ))
    }
    fn least(&self) -> i64 {
        let each = self.0.iter().flat_map(|s| &s.each);
        each.copied().min().unwrap_or(NEVER)
    }
}

/// A strip being filled: kind of board, bottom and top of the strip from the lowest that can be used. Where
/// nothing more fits above it, its top is as high as the board.
type Key = (usize, Length, Length);

/// From the first place to the last.
type Places = (i64, i64);

pub struct Ahead<'a> {
    problem: &'a Problem<'a>,
    repeat: i64,
    /// The repeat is looked at in so many cells.
    cells: i64,
    /// Where each begins.
    begins: Vec<i64>,
    /// Boards in hand, each; then one for all that are to be bought, of which there is no end.
    kinds: Vec<&'a CutBoard>,
    in_hand: usize,
    rows: Rows,
    /// Of the columns from each on, the lowest.
    lowest: Vec<Length>,
    /// Of each column, where it would lie if each were cut as near the one before as it can be; and where the
    /// last ends.
    hangs: Vec<(i64, i64)>,
    /// By columns put and strip, where the last of them may end.
    reached: Vec<BTreeMap<Key, Vec<Places>>>,
    /// By columns put and strip: over the place where the last of them ends, on the pattern and less where it
    /// hangs on the wall; with how far along the board it lies, so that to go along is no waste.
    along: Vec<BTreeMap<Key, Cells>>,
    /// By column, kind and bottom of the strip it begins: over the place on the pattern where it is wanted.
    strips: Vec<BTreeMap<(usize, Length), Vec<i64>>>,
    /// By column and kind: when it begins a board of this kind or of one after.
    fresh: Vec<Vec<Vec<i64>>>,
}

impl<'a> Ahead<'a> {
    pub fn of(problem: &'a Problem<'a>, repeat: Length, most: i64) -> Option<Ahead<'a>> {
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let mut kinds: Vec<&CutBoard> = in_hand.collect();
        let in_hand = kinds.len();
        kinds.extend(problem.boards.iter().find(|b| b.in_hand.is_none()));
        let columns = problem.columns.len();
        let mut lowest: Vec<Length> = problem.columns.iter().map(|c| c.height).collect();
        for n in (1..columns).rev() {
            let next = lowest.get(n).copied().unwrap_or_default();
            if let Some(before) = lowest.get_mut(n - 1) {
                *before = next.min(*before);
            }
        }
        let mut hangs = Vec::new();
        let mut at = 0;
        for column in problem.columns {
            let ended = at;
            at += least_cut(problem, column, repeat);
            hangs.push((at, ended));
            at += column.width.in_um();
        }
        hangs.push((at, at));
        let widest = kinds.iter().map(|b| b.usable.width().in_um()).max()?;
        let many = i64::try_from(columns).ok()?;
        if many >= 1 << MANY || many.checked_mul(widest.max(repeat.in_um()))? > NOUGHT {
            return None;
        }
        let mut ahead = Ahead {
            problem,
            repeat: repeat.in_um().max(1),
            cells: 1,
            begins: Vec::new(),
            in_hand,
            rows: Rows::of(problem),
            lowest,
            hangs,
            reached: vec![BTreeMap::new(); columns + 1],
            along: vec![BTreeMap::new(); columns + 1],
            strips: vec![BTreeMap::new(); columns],
            fresh: vec![Vec::new(); columns],
            kinds,
        };
        ahead.reach();
        ahead.divide(most)?;
        ahead.fill();
        Some(ahead)
    }

    /// As many cells as are worth it; of the limit on a step a whole number, so that it is not taken for more
    /// than it is.
    fn divide(&mut self, most: i64) -> Option<()> {
        let all = self.reached.iter().flat_map(BTreeMap::values).flatten();
        let long: i64 = all.map(|(from, to)| to - from + 1).sum();
        let around: usize = self.strips.iter().map(BTreeMap::len).sum();
        let around = i64::try_from(around).ok()?;
        let turns = long / self.repeat + around + 1;
        let most = (most / turns).min(self.repeat / NARROWEST).max(1);
        let slack = self.problem.slack().in_um();
        let whole = |times: i64| self.repeat.saturating_mul(times) / slack.max(1);
        self.cells = match slack {
            1.. if whole(1) > 1 && whole(1) <= most => {
                whole((most / whole(1)).max(1)).min(most.max(whole(1)))
            }
            _ => most,
        };
        self.begins = (0..self.cells).map(|cell| self.begins(cell)).collect();
        Some(())
    }

    fn cell(&self, place: i64) -> i64 {
        (place * self.cells).div_euclid(self.repeat)
    }
    /// Where a cell begins.
    fn begins(&self, cell: i64) -> i64 {
        -((-cell * self.repeat).div_euclid(self.cells))
    }
    /// From a place on a board to one on the pattern, less where it hangs: of a column's left edge, and of the
    /// right edge of the one before.
    fn off(&self, n: usize, board: &CutBoard) -> (i64, i64) {
        let crest = board.first_crest.0.in_um();
        let (hang, ended) = self.hangs.get(n).copied().unwrap_or_default();
        (-crest - hang, -crest - ended)
    }

    fn height(&self, k: usize) -> Length {
        let board = self.kinds.get(k);
        board.map_or(Length::ZERO, |b| b.usable.height())
    }

    /// A strip as it is known by when columns from `n` on are still to come.
    fn key(&self, n: usize, (k, bottom, top): Key) -> Key {
        let height = self.height(k);
        let lowest = self.lowest.get(n).copied().unwrap_or(height);
        match top + self.problem.loss + lowest > height {
            true => (k, bottom, height),
            false => (k, bottom, top),
        }
    }

    /// Where a strip above `top` is taken to begin.
    fn above(&self, n: usize, top: Length) -> Option<Length> {
        self.rows.at(n, top + self.problem.loss)
    }

    /// What may be cut away between a column and the one before, as stretches: the least and the most.
    fn cuts(&self, column: &Column, board: &CutBoard) -> Vec<(i64, i64)> {
        let (loss, repeat) = (self.problem.loss, Length::um(self.repeat));
        let slack = self.problem.slack();
        if column.settled.is_some() {
            let most = board.usable.width().max(loss);
            return vec![(loss.in_um(), most.in_um())];
        }
        let Some(gap) = column.gap_before.filter(|_| slack * 2 < repeat) else {
            return vec![(loss.in_um(), (loss + repeat).in_um())];
        };
        let least = next_match(loss, gap, repeat, slack);
        let middle = next_match(least - slack, gap, repeat, Length::ZERO);
        let mut cuts = vec![(least.in_um(), (middle + slack).in_um())];
        if least > middle - slack {
            let (again, most) = (middle + repeat - slack, least + repeat);
            cuts.push((again.in_um(), most.in_um()));
        }
        cuts
    }

    /// What a column's left edge may not lie between.
    fn barred(&self, column: &Column, board: &CutBoard, bottom: Length) -> Vec<(i64, i64)> {
        if !self.rows.exact && bottom > Length::ZERO {
            return Vec::new();
        }
        let bottom = board.usable.bottom + bottom;
        let flaws = board.avoid.iter().map(|(flaw, _)| flaw);
        let in_way = flaws.filter(|f| f.bottom < bottom + column.height && bottom < f.top);
        let barred = in_way.map(|f| ((f.left - column.width).in_um() + 1, f.right.in_um() - 1));
        barred.collect()
    }

    /// Whether a column may lie in a strip there at all.
    fn fits(&self, column: &Column, k: usize, bottom: Length) -> bool {
        self.kinds.get(k).is_some_and(|board| {
            let settled = column.settled.is_none_or(|(b, _)| board.in_hand == Some(b));
            settled && bottom + column.height <= board.usable.height()
        })
    }

    /// Kinds of board that may come after one.
    fn after(&self, k: usize) -> usize {
        if k < self.in_hand { k + 1 } else { k }
    }

    /// From the first column on: which strips there may be, and where columns may end in them.
    fn reach(&mut self) {
        for (n, column) in self.problem.columns.iter().enumerate() {
            let mut next: BTreeMap<Key, Vec<Places>> = BTreeMap::new();
            let before = self.reached.get(n).cloned().unwrap_or_default();
            let first = match n {
                0 => 0,
                _ => before
                    .keys()
                    .next()
                    .map_or(usize::MAX, |(k, ..)| self.after(*k)),
            };
            let mut begun: BTreeSet<(usize, Length)> = BTreeSet::new();
            begun.extend((first..self.kinds.len()).map(|k| (k, Length::ZERO)));
            for (k, _, top) in before.keys() {
                begun.extend(self.above(n, *top).map(|bottom| (*k, bottom)));
            }
            begun.retain(|(k, bottom)| self.fits(column, *k, *bottom));
            for (k, bottom) in &begun {
                let Some(board) = self.kinds.get(*k) else {
                    continue;
                };
                let left = board.usable.left.in_um();
                let begins = (left, left + self.repeat);
                let ends = self.ended(column, board, *bottom, begins);
                let key = self.key(n + 1, (*k, *bottom, *bottom + column.height));
                next.entry(key).or_default().extend(ends);
            }
            for ((k, bottom, top), places) in &before {
                let fits = self.fits(column, *k, *bottom);
                let Some(board) = self.kinds.get(*k).filter(|_| fits) else {
                    continue;
                };
                let top = (*bottom + column.height).max(*top);
                let key = self.key(n + 1, (*k, *bottom, top));
                for (least, most) in self.cuts(column, board) {
                    for (from, to) in places {
                        let begins = (from + least, to + most);
                        let ends = self.ended(column, board, *bottom, begins);
                        next.entry(key).or_default().extend(ends);
                    }
                }
            }
            next.retain(|_, places| !places.is_empty());
            next.values_mut().for_each(joined);
            if let Some(slot) = self.reached.get_mut(n + 1) {
                *slot = next;
            }
            if let Some(slot) = self.strips.get_mut(n) {
                *slot = begun.into_iter().map(|b| (b, Vec::new())).collect();
            }
        }
    }

    /// From the last column back.
    fn fill(&mut self) {
        let columns = self.problem.columns;
        let last = columns.len();
        let along = self.reached.last().into_iter().flatten();
        let along = along.filter_map(|(key, reached)| {
            let board = self.kinds.get(key.0)?;
            let cells = reached.iter().map(|places| {
                let (first, last_cell) = self.over(last, board, *places);
                let each = (first..=last_cell)
                    .map(|cell| NOUGHT + self.along_board(last, board, cell, *places));
                Stretch {
                    first,
                    each: each.collect(),
                }
            });
            Some((*key, Cells(cells.collect())))
        });
        let along: BTreeMap<Key, Cells> = along.collect();
        if let Some(slot) = self.along.last_mut() {
            *slot = along;
        }
        for (n, column) in columns.iter().enumerate().rev() {
            let begun = self.strips.get(n).into_iter().flatten();
            let begun =
                begun.map(|((k, bottom), _)| ((*k, *bottom), self.begun(n, column, *k, *bottom)));
            let strips: BTreeMap<(usize, Length), Vec<i64>> = begun.collect();
            let many = usize::try_from(self.cells).unwrap_or(0);
            let mut least = vec![NEVER; many];
            let mut fresh = vec![least.clone(); self.kinds.len() + 1];
            for (k, slot) in fresh.iter_mut().enumerate().take(self.kinds.len()).rev() {
                for (least, strip) in least
                    .iter_mut()
                    .zip(strips.get(&(k, Length::ZERO)).into_iter().flatten())
                {
                    *least = (*strip + self.opens(k)).min(*least);
                }
                slot.clone_from(&least);
            }
            if let (Some(a), Some(b)) = (self.fresh.get_mut(n), self.strips.get_mut(n)) {
                (*a, *b) = (fresh, strips);
            }
            let reached = self.reached.get(n).into_iter().flatten();
            let along = reached.filter_map(|(key, reached)| {
                Some((*key, self.followed(n, column, *key, reached)?))
            });
            let along: BTreeMap<Key, Cells> = along.collect();
            if let Some(slot) = self.along.get_mut(n) {
                *slot = along;
            }
        }
    }

    fn opens(&self, k: usize) -> i64 {
        packed(Cost {
            boards: 1,
            bought: u32::from(k >= self.in_hand),
            ..Cost::default()
        })
    }

    /// The cells in which the last of `n` columns may end.
    fn over(&self, n: usize, board: &CutBoard, (from, to): Places) -> (i64, i64) {
        let (_, by) = self.off(n, board);
        (self.cell(from + by), self.cell(to + by))
    }

    /// How far along the board the nearest place of a cell lies, where the last of `n` columns ends.
    fn along_board(&self, n: usize, board: &CutBoard, cell: i64, (from, _): Places) -> i64 {
        let (_, by) = self.off(n, board);
        (self.begins(cell) - by).max(from) - board.usable.left.in_um()
    }

    /// Over the left edges that a column may have in a strip: the least for all after it; or, where it may
    /// not lie, for it to lie whole repeats farther along.
    fn put(&self, n: usize, column: &Column, (k, bottom, top): Key) -> Option<Cow<'_, Cells>> {
        let board = self.kinds.get(k).filter(|_| self.fits(column, k, bottom))?;
        let top = (bottom + column.height).max(top);
        let key = self.key(n + 1, (k, bottom, top));
        let put = self.along.get(n + 1)?.get(&key)?;
        let (by, _) = self.off(n, board);
        if let Some((_, left)) = column.settled {
            let first = self.cell(left.in_um() + by);
            let each = match self
                .barred(column, board, bottom)
                .iter()
                .any(|(a, b)| (*a..=*b).contains(&left.in_um()))
            {
                true => vec![NEVER],
                false => vec![put.at(first)],
            };
            return Some(Cow::Owned(Cells(vec![Stretch { first, each }])));
        }
        let barred = self.barred(column, board, bottom);
        if barred.is_empty() {
            return Some(Cow::Borrowed(put));
        }
        let (begins, ends) = put.ends()?;
        let mut each = put.part(begins, ends);
        for (from, to) in &barred {
            let first = self.cell(from + by - 1) + 1;
            let last = self.cell(to + by + 1) - 1;
            let skip = usize::try_from(first - begins).unwrap_or(0);
            let many = usize::try_from(last + 1 - first.max(begins)).unwrap_or(0);
            each.iter_mut()
                .skip(skip)
                .take(many)
                .for_each(|slot| *slot = NEVER);
        }
        let round = usize::try_from(self.cells).ok()?;
        for at in (0..each.len()).rev() {
            let farther = each.get(at + round).copied().unwrap_or(NEVER);
            if let Some(slot) = each.get_mut(at) {
                *slot = farther.min(*slot);
            }
        }
        let first = begins;
        Some(Cow::Owned(Cells(vec![Stretch { first, each }])))
    }

    /// The least when column `n` begins a strip, by where it is wanted.
    fn begun(&self, n: usize, column: &Column, k: usize, bottom: Length) -> Vec<i64> {
        let many = usize::try_from(self.cells).unwrap_or(0);
        let mut out = vec![NEVER; many];
        let (Some(board), Some(put)) =
            (self.kinds.get(k), self.put(n, column, (k, bottom, bottom)))
        else {
            return out;
        };
        let wide = column.width.in_um();
        let slack = self.problem.slack().in_um();
        if column.gap_before.is_none() || column.settled.is_some() || slack * 2 >= self.repeat {
            out.fill(lessened(put.least(), wide));
            return out;
        }
        let (by, _) = self.off(n, board);
        let left = board.usable.left.in_um() + by;
        let (first, last) = (self.cell(left), self.cell(left + self.repeat - 1));
        let mut at = usize::try_from(first.rem_euclid(self.cells)).unwrap_or(0);
        for cost in put.part(first, last) {
            if let Some(slot) = out.get_mut(at) {
                *slot = lessened(cost, wide).min(*slot);
            }
            at = if at + 1 < many { at + 1 } else { 0 };
        }
        let gap = column.gap_before.unwrap_or_default().in_um();
        let on = gap - least_cut(self.problem, column, Length::um(self.repeat));
        let least = ((on - slack) * self.cells).div_euclid(self.repeat);
        let most = -((-on - slack) * self.cells).div_euclid(self.repeat);
        let off = least.div_euclid(self.cells) * self.cells;
        let twice = Cells(vec![Stretch {
            first: 0,
            each: [out.as_slice(), &out, &out].concat(),
        }]);
        out = least_ahead(&twice, (0, self.cells - 1), (least - off, most - off));
        out
    }

    /// The least for column `n` and all after it when the one before ends at each of these places.
    fn followed(
        &self,
        n: usize,
        column: &Column,
        (k, bottom, top): Key,
        reached: &[Places],
    ) -> Option<Cells> {
        let board = self.kinds.get(k)?;
        let put = self.put(n, column, (k, bottom, top));
        let nearest = least_cut(self.problem, column, Length::um(self.repeat));
        let less = column.width.in_um() + self.problem.loss.in_um();
        let cuts = self.cuts(column, board).into_iter().map(|(least, most)| {
            let least = ((least - nearest) * self.cells).div_euclid(self.repeat);
            (
                least,
                -((nearest - most) * self.cells).div_euclid(self.repeat),
            )
        });
        let cuts: Vec<(i64, i64)> = cuts.collect();
        let mut anew = self.fresh.get(n)?.get(self.after(k))?.clone();
        let strip = self
            .above(n, top)
            .and_then(|b| self.strips.get(n)?.get(&(k, b)));
        for (slot, strip) in anew.iter_mut().zip(strip.into_iter().flatten()) {
            *slot = (*strip).min(*slot);
        }
        let change = packed(Cost {
            changes: u32::from(column.gap_before.is_some()),
            ..Cost::default()
        });
        let (_, by) = self.off(n, board);
        let left = board.usable.left.in_um();
        let stretches = reached.iter().map(|places| {
            let (first, last) = self.over(n, board, *places);
            let mut each = vec![NEVER; usize::try_from(last + 1 - first).unwrap_or(0)];
            for cut in &cuts {
                let on = put
                    .as_ref()
                    .map(|put| least_ahead(put, (first, last), *cut));
                for (slot, on) in each.iter_mut().zip(on.into_iter().flatten()) {
                    *slot = lessened(on, less).min(*slot);
                }
            }
            let mut at = usize::try_from(first.rem_euclid(self.cells)).unwrap_or(0);
            let mut turn = first.div_euclid(self.cells) * self.repeat - by;
            let mut slots = each.as_mut_slice();
            while !slots.is_empty() && !anew.is_empty() {
                let round = anew.iter().zip(&self.begins).skip(at);
                let many = round.len().min(slots.len());
                let (here, rest) = slots.split_at_mut(many);
                for (slot, (anew, begins)) in here.iter_mut().zip(round) {
                    let along = (begins + turn).max(places.0) - left;
                    *slot = (anew + change + along).min(*slot).min(NEVER);
                }
                (slots, at, turn) = (rest, 0, turn + self.repeat);
            }
            Stretch { first, each }
        });
        Some(Cells(stretches.collect()))
    }

    /// Where a column ends that begins in a stretch or, where a flaw is in the way, after that, as far as the
    /// board goes.
    fn ended(
        &self,
        column: &Column,
        board: &CutBoard,
        bottom: Length,
        (from, to): Places,
    ) -> Vec<Places> {
        let wide = column.width.in_um();
        let mut begins = vec![(from, to)];
        match column.settled {
            Some((_, left)) => begins = vec![(left.in_um().max(from), left.in_um())],
            None => {
                let after = self.barred(column, board, bottom).into_iter();
                let after = after.map(|(_, last)| last.max(from));
                begins.extend(after.map(|last| (last, last + self.repeat)));
            }
        }
        let right = board.usable.right.in_um();
        let ends = begins
            .into_iter()
            .map(|(from, to)| (from + wide, (to + wide).min(right)));
        ends.filter(|(from, to)| from <= to).collect()
    }
}

impl Known for Ahead<'_> {
    fn after(&self, n: usize, reach: &Reach) -> Option<Cost> {
        let end = reach.end;
        let k = end.board.min(self.in_hand);
        let board = self.kinds.get(k)?;
        let bottom = end.bottom - board.usable.bottom;
        let lower = match self.rows.exact {
            true => bottom,
            false => self.rows.at(n.saturating_sub(1), bottom)?,
        };
        let key = self.key(n, (k, lower, lower + end.top - end.bottom));
        let Some(along) = self.along.get(n)?.get(&key) else {
            return Some(Cost::default());
        };
        let (_, by) = self.off(n, board);
        let (from, to) = (end.right.in_um(), reach.farthest.in_um());
        let left = board.usable.left.in_um();
        let cells = self.cell(from + by)..=self.cell(to + by);
        let least = cells.map(|cell| {
            let place = (self.begins(cell) - by).max(from);
            along.at(cell) - (place - left) + reach.rise * (place - from)
        });
        unpacked(least.min()?)
    }

    fn on(&self, n: usize, board: usize, before: Option<&Reach>) -> Option<Cost> {
        let k = board.min(self.in_hand);
        let strip = self.strips.get(n)?.get(&(k, Length::ZERO))?;
        let gap = self.problem.columns.get(n)?.gap_before;
        let least = match (gap, before) {
            (Some(_), Some(reach)) => {
                let board = self.problem.boards.get(reach.end.board)?;
                let (_, by) = self.off(n, board);
                let first = self.cell(reach.end.right.in_um() + by);
                let last = self.cell(reach.farthest.in_um() + by);
                let cells = first..=last.min(first + self.cells - 1);
                let at = |cell: i64| strip.get(usize::try_from(cell.rem_euclid(self.cells)).ok()?);
                cells.filter_map(at).copied().min()
            }
            _ => strip.iter().copied().min(),
        };
        let least = least.filter(|least| *least < NEVER)?;
        unpacked(least + self.opens(k))
    }
}

fn lessened(cost: i64, by: i64) -> i64 {
    match cost {
        NEVER.. => NEVER,
        cost => cost - by,
    }
}

/// At each cell from the first to the last, the least of those that lie at least and at most so far ahead.
fn least_ahead(cells: &Cells, (first, last): (i64, i64), (least, most): (i64, i64)) -> Vec<i64> {
    let window = usize::try_from(most - least + 1).unwrap_or(1);
    let mut out = cells.part(first + least, last + most);
    // The least of one, of two, of four ahead, and so on; in the end of two such that overlap.
    let mut of = 1;
    while of < window {
        let on = of.min(window - of);
        let ahead = out.get(on..).unwrap_or_default();
        let next = out.iter().zip(ahead).map(|(a, b)| *a.min(b));
        out = next.collect();
        of += on;
    }
    out.truncate(usize::try_from(last + 1 - first).unwrap_or(0));
    out
}

/// The nearest that a column may be cut to the one before.
fn least_cut(problem: &Problem<'_>, column: &Column, repeat: Length) -> i64 {
    let slack = problem.slack();
    let gap = column
        .gap_before
        .filter(|_| column.settled.is_none() && slack * 2 < repeat);
    let least = gap.map(|gap| next_match(problem.loss, gap, repeat, slack));
    least.unwrap_or(problem.loss).in_um()
}

/// In order, with those that touch made one.
fn joined(places: &mut Vec<Places>) {
    places.sort_unstable();
    let mut out: Vec<Places> = Vec::new();
    for (from, to) in places.drain(..) {
        match out.last_mut() {
            Some(last) if from <= last.1 + 1 => last.1 = to.max(last.1),
            _ => out.push((from, to)),
        }
    }
    *places = out;
}
