//! Columns to boards: the best there is by the order of aims, as a shortest path. Knows columns,
//! boards and the price of each choice; must not know fronts.
//!
//! A state is where the last column ends: board, strip of it, place. All that can still happen
//! depends on that alone, so the cheapest way to each state is enough. Boards keep their order and
//! may be left out. What is found is the best there is: `proof` tries every way.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::bound::Bound;
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

/// A way as far as it goes.
#[derive(Clone, Copy)]
struct Way {
    /// Columns put.
    done: usize,
    cost: Cost,
    /// Of the last column; of none, where nothing is put yet.
    last: Option<(Put, End)>,
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

/// What came of the search.
pub struct Found {
    pub puts: Vec<Put>,
    /// Whether every place worth trying was tried: no other way costs less.
    pub best: bool,
}

/// The cheapest places of all columns with what they cost, or the first column that has none.
pub fn allocate(problem: &Problem<'_>) -> Result<(Found, Cost), usize> {
    let apart = Apart::of(problem.boards);
    let bound = Bound::of(problem);
    let mut places = Places::of(problem);
    let run = |places: &Places, bound: Option<&Bound<'_>>, most: usize| {
        let search = Search {
            problem,
            places,
            apart: &apart,
            bound,
            most,
        };
        search.run()
    };
    let most = match places.by_phase() {
        true => MOST_TRIED,
        false => usize::MAX,
    };
    let mut found = run(&places, Some(&bound), most);
    if matches!(found, Err(Short::TooMuch)) && places.thin_out() {
        found = run(&places, Some(&bound), usize::MAX);
    }
    // Which column it is that has no place is told by going as far as can be gone.
    let found = found.or_else(|_| run(&places, None, usize::MAX));
    match found {
        Ok((puts, cost)) => {
            let best = places.all;
            Ok((Found { puts, best }, cost))
        }
        Err(Short::Stuck(n)) => Err(n),
        Err(Short::TooMuch) => Err(0),
    }
}

/// Places tried at each step of the repeat before they are thinned out, so that no file holds the tool up.
const MOST_TRIED: usize = 1_000_000;

enum Short {
    /// The first column that has no place.
    Stuck(usize),
    TooMuch,
}

struct Search<'a> {
    problem: &'a Problem<'a>,
    places: &'a Places,
    apart: &'a Apart,
    /// Without one every way is followed.
    bound: Option<&'a Bound<'a>>,
    most: usize,
}

/// Those that cost least with what must still come stand first; of equals the one that has come farther,
/// and of these the one found first.
type Queue = BinaryHeap<Reverse<(Cost, Reverse<usize>, usize)>>;

impl Search<'_> {
    /// Always goes on with the way that promises the least: the first to come to the end costs least.
    fn run(&self) -> Result<(Vec<Put>, Cost), Short> {
        let problem = self.problem;
        let mut ways = vec![Way {
            done: 0,
            cost: Cost::default(),
            last: None,
            before: None,
        }];
        let mut known = vec![Known::default(); problem.columns.len() + 1];
        let mut queue = Queue::new();
        queue.push(Reverse((Cost::default(), Reverse(0), 0)));
        let (mut farthest, mut tried) = (0, 0_usize);
        while let Some(Reverse((_, _, at))) = queue.pop() {
            let Some(way) = ways.get(at).copied() else {
                continue;
            };
            let n = way.done;
            let Some(column) = problem.columns.get(n) else {
                return Ok((puts(&ways, at), way.cost));
            };
            farthest = farthest.max(n);
            let end = way.last.map(|(_, end)| end);
            let outdone = |end| !self.holds(known.get(n), end, at);
            if end.is_some_and(outdone) {
                continue;
            }
            let worth = |board| self.bound.is_none_or(|b| b.on(n, board).is_some());
            for put in problem.puts(n, end, self.places, &worth) {
                tried += 1;
                if tried > self.most {
                    return Err(Short::TooMuch);
                }
                let reached = problem.end_of(column, end, put);
                let more = self.bound.map(|b| b.after(n + 1, reached));
                let Some(more) = more.unwrap_or_else(|| Some(Cost::default())) else {
                    continue;
                };
                let cost = way.cost.and(problem.price(n, end, put, self.apart));
                let place = problem.place(reached, self.places);
                let level = known.get_mut(n + 1);
                if !level.is_some_and(|l| l.offer(place, reached.right, cost, ways.len())) {
                    continue;
                }
                queue.push(Reverse((cost.and(more), Reverse(n + 1), ways.len())));
                ways.push(Way {
                    done: n + 1,
                    cost,
                    last: Some((put, reached)),
                    before: Some(at),
                });
            }
        }
        Err(Short::Stuck(farthest))
    }

    /// Whether no other way has outdone this one since.
    fn holds(&self, level: Option<&Known>, end: End, way: usize) -> bool {
        let place = self.problem.place(end, self.places);
        let ways = level.and_then(|l| l.0.get(&place));
        ways.is_some_and(|ways| ways.iter().any(|(.., w)| *w == way))
    }
}

fn puts(ways: &[Way], last: usize) -> Vec<Put> {
    let mut out = Vec::new();
    let mut at = Some(last);
    while let Some(way) = at.and_then(|i| ways.get(i)) {
        out.extend(way.last.map(|(put, _)| put));
        at = way.before;
    }
    out.reverse();
    out
}

/// Board, strip of it, and where the last column ends there, as far as that makes a difference.
type At = (usize, Length, Length, i64);

/// The ways that end at a place and that no other outdoes: where their last column ends, what they cost
/// when what lies between them is added to it as waste, and which they are.
#[derive(Clone, Default)]
struct Known(BTreeMap<At, Vec<(Length, Cost, usize)>>);

impl Known {
    /// Whether no known way outdoes this one; it is then known itself.
    fn offer(&mut self, at: At, right: Length, cost: Cost, way: usize) -> bool {
        let cost = Cost {
            waste: cost.waste - right.in_um(),
            ..cost
        };
        let ways = self.0.entry(at).or_default();
        if ways.iter().any(|(r, c, _)| *r <= right && *c <= cost) {
            return false;
        }
        ways.retain(|(r, c, _)| *r < right || *c < cost);
        ways.push((right, cost, way));
        true
    }
}

impl Problem<'_> {
    /// Boards to be bought are all alike, so that which of them it is makes no difference; nor does how far
    /// along a column ends where every place of the repeat is tried.
    fn place(&self, end: End, places: &Places) -> At {
        let along = match (places.by_phase(), self.repeat) {
            (true, Some(repeat)) => end.right.in_um().rem_euclid(repeat.in_um().max(1)),
            _ => end.right.in_um(),
        };
        (end.board.min(places.in_hand), end.bottom, end.top, along)
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

    pub(super) fn counted(&self, step: Length) -> Length {
        match self.wanted {
            Wanted::Within(limit) => (step.abs() - limit).max(Length::ZERO),
            Wanted::Exact | Wanted::LeastWaste => step.abs(),
        }
    }
}
