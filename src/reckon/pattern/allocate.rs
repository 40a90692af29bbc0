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
use super::places::Places;
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

/// The cheapest places of all columns with what they cost, or the first column that has none.
pub fn allocate(problem: &Problem<'_>) -> Result<(Vec<Put>, Cost), usize> {
    let places = Places::of(problem);
    let mut nodes: Vec<Node> = Vec::new();
    let mut frontier = Ways::new();
    frontier.insert(None, (Cost::default(), None));
    for (n, column) in problem.columns.iter().enumerate() {
        let mut next = Ways::new();
        for (end, (cost, before)) in &frontier {
            for put in problem.puts(n, *end, &places) {
                let cost = cost.and(problem.price(n, *end, put));
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
        frontier = match (places.by_phase(), problem.repeat) {
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

impl Problem<'_> {
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
    pub fn price(&self, n: usize, end: Option<End>, put: Put) -> Cost {
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
        let before = self.boards.get(end.board);
        let colour = match (before.and_then(|b| b.lab), board.and_then(|b| b.lab)) {
            (Some(a), Some(b)) if gap.is_some() => colour::thousandths(a, b),
            _ => 0,
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
