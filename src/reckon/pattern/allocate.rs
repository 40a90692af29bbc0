//! Columns to boards: the best there is by the order of aims, as a shortest path. Knows columns,
//! boards and the price of each choice; must not know fronts.
//!
//! A state is where the last column ends: board, strip of it, place. All that can still happen
//! depends on that alone, so the cheapest way to each state is enough. Boards keep their order and
//! may be left out. What is found is the best there is: `proof` tries every way.

use std::collections::BTreeMap;

use super::colour;
use super::columns::Column;
use super::layout::CutBoard;
use super::phase::reduced;
use super::touching::Places;
use crate::resolve::job::Wanted;
use crate::units::Length;

pub struct Problem<'a> {
    pub columns: &'a [Column],
    /// In order; those to be bought stand last.
    pub boards: &'a [CutBoard],
    pub wanted: Wanted,
    pub repeat: Option<Length>,
    pub loss: Length,
}

/// In the order of the handbook's aims (§5), the first that differs decides: boards, and of these
/// those yet to be bought; changes of
/// board or strip in view; steps in view, added up; what is cut away beyond the saw's loss; and
/// difference of colour at the changes. Lengths in micrometres, colour in thousandths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    pub boards: u32,
    pub bought: u32,
    pub changes: u32,
    pub step: i64,
    pub waste: i64,
    pub colour: i64,
}

impl Cost {
    pub fn and(self, more: Cost) -> Cost {
        Cost {
            boards: self.boards + more.boards,
            bought: self.bought + more.bought,
            changes: self.changes + more.changes,
            step: self.step + more.step,
            waste: self.waste + more.waste,
            colour: self.colour + more.colour,
        }
    }
}

/// Where a column lies: lower left corner of its strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Put {
    pub board: usize,
    pub left: Length,
    pub bottom: Length,
}

/// After the last column: which strip of which board, and where that column ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct End {
    pub board: usize,
    pub bottom: Length,
    pub top: Length,
    pub right: Length,
}

struct Node {
    put: Put,
    before: Option<usize>,
}

/// Differences of colour between boards, in thousandths, worked out once: by board and board.
pub struct Apart(Vec<Vec<i64>>);

impl Apart {
    pub fn of(boards: &[CutBoard]) -> Apart {
        let between = |a: &CutBoard, b: &CutBoard| match (a.lab, b.lab) {
            (Some(a), Some(b)) => colour::thousandths(a, b),
            _ => 0,
        };
        let row = |a: &CutBoard| boards.iter().map(|b| between(a, b)).collect();
        Apart(boards.iter().map(row).collect())
    }
    fn between(&self, a: usize, b: usize) -> i64 {
        let row = self.0.get(a);
        row.and_then(|row| row.get(b)).copied().unwrap_or(0)
    }
}

/// The cheapest places of all columns with what they cost, or the first column that has none.
pub fn allocate(problem: &Problem<'_>) -> Result<(Vec<Put>, Cost), usize> {
    let mut search = Search {
        problem,
        places: Places::of(problem),
        apart: Apart::of(problem.boards),
        need: problem.need(),
    };
    // With as few boards as can be thought of, then one more: what is found with the first that do is the
    // best, and few ways lead there. After some the search goes on without a bound.
    let fewest = search.need.first().copied().unwrap_or(0);
    let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
    let in_hand = u32::try_from(in_hand.count()).unwrap_or(u32::MAX);
    for boards in fewest..fewest.saturating_add(BOUNDS) {
        let fewest = boards.saturating_sub(in_hand);
        let some = (fewest..=boards.min(fewest.saturating_add(2 * BOUNDS))).chain([boards]);
        for bought in some {
            if let Ok(found) = search.run((boards, bought)) {
                return Ok(found);
            }
        }
    }
    search.run(NO_BOUND).or_else(|_| {
        // Which column it is that has no place is told by going as far as can be gone.
        search.need.clear();
        search.run(NO_BOUND)
    })
}

/// Bounds tried, board by board.
const BOUNDS: u32 = 3;
/// Boards, and those of them to be bought.
type Most = (u32, u32);
const NO_BOUND: Most = (u32::MAX, u32::MAX);

struct Search<'a> {
    problem: &'a Problem<'a>,
    places: Places,
    apart: Apart,
    /// How many boards the columns from each on need at least.
    need: Vec<u32>,
}

impl Search<'_> {
    /// No way that must come to more than `most` boards, or that leaves too few for the columns to come, is
    /// followed.
    fn run(&self, most: Most) -> Result<(Vec<Put>, Cost), usize> {
        let problem = self.problem;
        let in_hand = problem.boards.iter().filter(|b| b.in_hand.is_some());
        let in_hand = in_hand.count();
        let mut nodes: Vec<Node> = Vec::new();
        let mut frontier = Ways::new();
        frontier.insert(None, (Cost::default(), None));
        for (n, column) in problem.columns.iter().enumerate() {
            let need = self.need.get(n + 1).copied().unwrap_or(0).saturating_sub(1);
            let mut next = Ways::new();
            for (end, (cost, before)) in &frontier {
                let last = problem.boards.len().saturating_sub(need as usize + 1);
                for put in problem.puts(n, *end, last, &self.places) {
                    let cost = cost.and(problem.price(n, *end, put, &self.apart));
                    // Of those that must follow, the ones not in hand are bought.
                    let follow = in_hand.saturating_sub(put.board + 1);
                    let follow = u32::try_from(follow).unwrap_or(u32::MAX);
                    let bought = need.saturating_sub(follow);
                    let least = (
                        cost.boards.saturating_add(need),
                        cost.bought.saturating_add(bought),
                    );
                    if least > most {
                        continue;
                    }
                    let reached = Some(problem.end_of(column, *end, put));
                    if next.get(&reached).is_none_or(|(old, _)| cost < *old) {
                        nodes.push(Node {
                            put,
                            before: *before,
                        });
                        next.insert(reached, (cost, Some(nodes.len() - 1)));
                    }
                }
            }
            if next.is_empty() {
                return Err(n);
            }
            let next = problem.without_idle(next);
            frontier = match (self.places.by_phase(), problem.repeat) {
                (true, Some(repeat)) => nearest(next, repeat),
                _ => next,
            };
        }
        let best = frontier.into_values().min_by_key(|(cost, _)| *cost);
        let (cost, mut at) = best.unwrap_or_default();
        let mut puts = Vec::new();
        while let Some(node) = at.and_then(|i| nodes.get(i)) {
            puts.push(node.put);
            at = node.before;
        }
        puts.reverse();
        Ok((puts, cost))
    }
}

impl Problem<'_> {
    /// Boards that the columns from each on need at least: in a row with the least cuts there are, on
    /// boards as wide as the widest, in as many strips as the lowest column allows.
    fn need(&self) -> Vec<u32> {
        let most = |of: fn(&CutBoard) -> Length| self.boards.iter().map(of).max();
        let wide = most(|b| b.usable.width()).unwrap_or_default();
        let high = most(|b| b.usable.height()).unwrap_or_default();
        let low = self.columns.iter().map(|c| c.height).min();
        let pitch = (low.unwrap_or_default() + self.loss).in_um().max(1);
        let strips = ((high + self.loss).in_um() / pitch).max(1);
        let mut out = vec![0; self.columns.len()];
        // From the last back: where a strip that ends at the end must begin, the strips after it are full.
        let (mut full, mut row) = (0_i64, Length::ZERO);
        for (n, column) in self.columns.iter().enumerate().rev() {
            let wider = match row == Length::ZERO {
                true => column.width,
                false => row + self.loss + column.width,
            };
            row = match wider <= wide {
                true => wider,
                false => {
                    full += 1;
                    column.width
                }
            };
            if let Some(slot) = out.get_mut(n) {
                let boards = (full + strips) / strips;
                *slot = u32::try_from(boards).unwrap_or(u32::MAX);
            }
        }
        out
    }

    /// Boards to be bought are all alike, and only such follow one: of the ways that end at the same
    /// place of one of them only the cheapest can be of use, and of equals the one that leaves more.
    fn without_idle(&self, mut ways: Ways) -> Ways {
        let buys = |end: &End| {
            let board = self.boards.get(end.board);
            board.is_some_and(|b| b.in_hand.is_none())
        };
        let mut best: BTreeMap<(Length, Length, Length), (Cost, usize)> = BTreeMap::new();
        for (end, (cost, _)) in &ways {
            let Some(end) = end.filter(buys) else {
                continue;
            };
            let way = (*cost, end.board);
            let place = best.entry((end.bottom, end.top, end.right)).or_insert(way);
            *place = way.min(*place);
        }
        ways.retain(|end, (cost, _)| {
            end.filter(buys).is_none_or(|end| {
                let best = best.get(&(end.bottom, end.top, end.right));
                best.is_none_or(|best| *best == (*cost, end.board))
            })
        });
        ways
    }

    /// Where the strip is left after a column is put.
    pub fn end_of(&self, column: &Column, before: Option<End>, put: Put) -> End {
        let top = put.bottom + column.height;
        let same = before.filter(|e| e.board == put.board && e.bottom == put.bottom);
        End {
            board: put.board,
            bottom: put.bottom,
            top: same.map_or(top, |e| e.top.max(top)),
            right: put.left + column.width,
        }
    }

    /// What putting column `n` there adds, when the one before ends at `end`.
    pub fn price(&self, n: usize, end: Option<End>, put: Put, apart: &Apart) -> Cost {
        let gap = self.columns.get(n).and_then(|c| c.gap_before);
        let board = self.boards.get(put.board);
        let start = board.map_or(Length::ZERO, |b| b.usable.left);
        let new = end.is_none_or(|e| e.board != put.board);
        let buy = board.is_some_and(|b| b.in_hand.is_none());
        let fresh = Cost {
            boards: u32::from(new),
            bought: u32::from(new && buy),
            ..Cost::default()
        };
        let Some(end) = end else {
            return Cost {
                waste: (put.left - start).in_um(),
                ..fresh
            };
        };
        let same_strip = end.board == put.board && end.bottom == put.bottom;
        let waste = match same_strip {
            true => put.left - end.right - self.loss,
            false => put.left - start,
        };
        let colour = match gap {
            Some(_) => apart.between(end.board, put.board),
            None => 0,
        };
        let step = match gap {
            Some(gap) if same_strip || self.repeat.is_some() => {
                self.counted(self.step(end, put, gap))
            }
            _ => Length::ZERO,
        };
        Cost {
            changes: u32::from(gap.is_some() && !same_strip),
            step: step.in_um(),
            waste: waste.in_um(),
            colour,
            ..fresh
        }
    }

    /// How far the pattern jumps over the gap.
    fn step(&self, end: End, put: Put, gap: Length) -> Length {
        let crest = |board: usize| {
            let board = self.boards.get(board);
            board.map_or(Length::ZERO, |b| b.first_crest.0)
        };
        let jump = (put.left - crest(put.board)) - (end.right - crest(end.board)) - gap;
        reduced(jump, self.repeat)
    }

    fn counted(&self, step: Length) -> Length {
        match self.wanted {
            Wanted::Within(limit) => (step.abs() - limit).max(Length::ZERO),
            Wanted::Exact | Wanted::LeastWaste => step.abs(),
        }
    }
}

/// What is known of the ways to an end: what the cheapest costs, and its last node.
type Ways = BTreeMap<Option<End>, (Cost, Option<usize>)>;

/// Of ends in one strip at the same place of the repeat, those that no other outdoes: one that lies
/// farther back, and costs no more even when what lies between them is added to it as waste.
fn nearest(ways: Ways, repeat: Length) -> Ways {
    let mut least: BTreeMap<(usize, Length, Length, i64), Cost> = BTreeMap::new();
    let mut out = Ways::new();
    // In the order of the ends: in each strip the farthest back comes first.
    for (end, (cost, node)) in ways {
        if let Some(e) = end {
            let phase = e.right.in_um().rem_euclid(repeat.in_um().max(1));
            let apart = Cost {
                waste: cost.waste - e.right.in_um(),
                ..cost
            };
            let key = (e.board, e.bottom, e.top, phase);
            if least.get(&key).is_some_and(|known| *known <= apart) {
                continue;
            }
            least.insert(key, apart);
        }
        out.insert(end, (cost, node));
    }
    out
}
