//! Columns to boards: the best there is by the order of aims, as a shortest path. Knows columns,
//! boards and the price of each choice; must not know fronts.
//!
//! A state is where the last column ends: board, strip of it, place. All that can still happen
//! depends on that alone, so the cheapest way to each state is enough. Boards keep their order and
//! may be left out. What is found is the best there is (`proof` tries every way), but for a limit on
//! the step of a repeating pattern: there each strip begins as near its edge as the limit allows.

use std::collections::BTreeMap;

use super::colour;
use super::columns::Column;
use super::layout::{Area, CutBoard};
use super::phase::{cut_away, next_match, reduced};
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

/// More ways to begin than this are thinned out, so that a hostile file cannot hold the tool up: on
/// lengths to the half millimetre that is never reached for repeats up to 128 mm.
const MOST_PHASES: usize = 256;

/// For each column that need not follow from the one before, the places of the pattern's repeat at
/// which it is worth beginning, so that it or a column after it comes to lie at a board's edge or
/// right after a flaw: whatever else there is could be pushed to the left until one of these does.
struct Phases(Vec<Vec<Length>>);

impl Phases {
    fn of(problem: &Problem<'_>) -> Phases {
        let each = 0..problem.columns.len();
        Phases(each.map(|n| problem.phases(n)).collect())
    }
    fn at(&self, n: usize) -> &[Length] {
        self.0.get(n).map_or(&[], Vec::as_slice)
    }
}

/// Where the pattern is wanted, its repeat, and how far off will do.
type Aimed = Option<(Length, Length, Length)>;

/// Where what was put so far may end, with the cheapest way there: its cost and last node.
type Frontier = BTreeMap<Option<End>, (Cost, Option<usize>)>;

struct Node {
    put: Put,
    before: Option<usize>,
}

/// The cheapest places of all columns with what they cost, or the first column that has none.
pub fn allocate(problem: &Problem<'_>) -> Result<(Vec<Put>, Cost), usize> {
    let phases = Phases::of(problem);
    let mut nodes: Vec<Node> = Vec::new();
    let mut frontier: Frontier = BTreeMap::new();
    frontier.insert(None, (Cost::default(), None));
    for (n, column) in problem.columns.iter().enumerate() {
        let mut next: Frontier = BTreeMap::new();
        for (end, (cost, before)) in &frontier {
            for put in problem.puts(n, *end, &phases) {
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
        frontier = problem.without_idle(next);
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

    /// Boards to be bought are all alike, and only such follow one: of the ways that end at the same
    /// place of one of them only the cheapest can be of use, and of equals the one that leaves more.
    fn without_idle(&self, mut ways: Frontier) -> Frontier {
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

    /// Every place worth trying for column `n`.
    fn puts(&self, n: usize, end: Option<End>, phases: &Phases) -> Vec<Put> {
        let Some(column) = self.columns.get(n) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        if let Some(end) = end {
            out.extend(self.further(n, column, end, phases));
            if let Some(board) = self.boards.get(end.board) {
                let bottom = end.top + self.loss;
                if bottom + column.height <= board.usable.top {
                    out.extend(self.starts(n, Some(end), (end.board, bottom), phases));
                }
            }
        }
        let first = end.map_or(0, |e| e.board + 1);
        let mut bought = false;
        for (at, board) in self.boards.iter().enumerate().skip(first) {
            // Boards to be bought are all alike: one is enough to try.
            if board.in_hand.is_none() && std::mem::replace(&mut bought, true) {
                break;
            }
            out.extend(self.starts(n, end, (at, board.usable.bottom), phases));
        }
        if let Some((wanted, left)) = column.settled {
            out.retain(|put| {
                let board = self.boards.get(put.board);
                put.left == left && board.is_some_and(|b| b.in_hand == Some(wanted))
            });
        }
        out
    }

    /// On in the same strip: as near as the aim and the flaws allow, or, out of view, wherever it is
    /// worth beginning anew.
    fn further(&self, n: usize, column: &Column, end: End, phases: &Phases) -> Vec<Put> {
        let nearest = end.right + self.loss;
        let strip = (end.board, end.bottom);
        let (from, aim) = match (column.gap_before, self.wanted, self.repeat) {
            // What is settled is settled: its step is what it comes to.
            _ if column.settled.is_some() => {
                let left = column.settled.map_or(nearest, |(_, left)| left);
                (left.max(nearest), None)
            }
            (None, ..) => return self.beginnings(n, strip, nearest, None, phases),
            (_, Wanted::LeastWaste, _) => (nearest, None),
            (Some(gap), Wanted::Exact, None) => (nearest.max(end.right + gap), None),
            (Some(gap), Wanted::Within(limit), None) => {
                (nearest.max(end.right + gap - limit), None)
            }
            (Some(gap), Wanted::Exact | Wanted::Within(_), Some(p)) => {
                (nearest, Some((end.right + gap, p, self.slack())))
            }
        };
        let left = self.clear(column, strip, from, aim);
        let put = left.map(|left| Put {
            board: end.board,
            left,
            bottom: end.bottom,
        });
        put.into_iter().collect()
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
        phases: &Phases,
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
        self.beginnings(n, strip, board.usable.left, aim, phases)
    }

    /// From `edge` on: at the edge; where a phase is worth beginning at; after each flaw; and where
    /// this column or one that follows comes to end right before a flaw.
    fn beginnings(
        &self,
        n: usize,
        strip: (usize, Length),
        edge: Length,
        aim: Aimed,
        phases: &Phases,
    ) -> Vec<Put> {
        let (Some(column), Some(board)) = (self.columns.get(n), self.boards.get(strip.0)) else {
            return Vec::new();
        };
        let aim: Aimed = aim.filter(|_| column.settled.is_none());
        let mut froms = vec![(edge, aim)];
        if let Some((_, left)) = column.settled {
            froms = vec![(left, None)];
        } else if self.wanted != Wanted::LeastWaste {
            match self.repeat {
                Some(p) if aim.is_none() => froms.extend(phases.at(n).iter().map(|phase| {
                    let wanted = *phase + board.first_crest.0;
                    (edge, Some((wanted, p, Length::ZERO)))
                })),
                Some(_) => {}
                None => froms.extend(self.beside_flaws(n, board).into_iter().map(|l| (l, None))),
            }
        }
        let mut lefts: Vec<Length> = froms
            .into_iter()
            .filter(|(from, _)| *from >= edge)
            .filter_map(|(from, aim)| self.clear(column, strip, from, aim))
            .collect();
        lefts.sort();
        lefts.dedup();
        lefts
            .into_iter()
            .map(|left| Put {
                board: strip.0,
                left,
                bottom: strip.1,
            })
            .collect()
    }

    /// Whether column `k`, counted from a beginning at `n`, still follows in view from it.
    fn follows(&self, n: usize, k: usize) -> bool {
        k == n || self.columns.get(k).is_some_and(|c| c.gap_before.is_some())
    }

    fn phases(&self, n: usize) -> Vec<Length> {
        let Some(repeat) = self.repeat.filter(|_| self.wanted == Wanted::Exact) else {
            return Vec::new();
        };
        if n > 0 && self.follows(n - 1, n) {
            return Vec::new();
        }
        let mut out = Vec::new();
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
                let flaws = board.avoid.iter().map(|(flaw, _)| flaw.right);
                for place in std::iter::once(board.usable.left).chain(flaws) {
                    let phase = place - board.first_crest.0 - on;
                    let phase = next_match(Length::ZERO, phase, repeat, Length::ZERO);
                    if !out.contains(&phase) {
                        out.push(phase);
                    }
                }
            }
            on += column.width;
        }
        out.truncate(MOST_PHASES);
        out
    }

    /// Without a repeat: after each flaw, and where the columns from `n` on end right before one, so
    /// that the pattern jumps least over it.
    fn beside_flaws(&self, n: usize, board: &CutBoard) -> Vec<Length> {
        let mut out = Vec::new();
        // From the beginning to the left edge of the column now looked at.
        let mut offset = Length::ZERO;
        for (k, column) in self.columns.iter().enumerate().skip(n) {
            if k > n {
                offset += match column.gap_before {
                    None => self.loss,
                    Some(gap) => cut_away(gap, self.loss, None, self.wanted),
                };
            }
            if offset + column.width > board.usable.width() {
                break;
            }
            for (flaw, _) in &board.avoid {
                out.push(flaw.right - offset);
                out.push(flaw.left - offset - column.width);
            }
            offset += column.width;
        }
        out
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
