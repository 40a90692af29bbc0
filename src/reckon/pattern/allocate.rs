//! Columns to boards: the best there is by the order of aims, as a shortest path. Knows columns,
//! boards and the price of each choice; must not know fronts.
//!
//! A state is where the last column ends: board, strip of it, place. All that can still happen
//! depends on that alone, so the cheapest way to each state is enough. Boards keep their order and
//! may be left out. What is found is the best there is: `proof` tries every way.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::ahead::Ahead;
use super::bound::Bound;
use super::colour;
use super::columns::Column;
use super::layout::CutBoard;
use super::outdone::{Stretch, Strip, Ways};
use super::phase::reduced;
use super::spans::{Move, Reach};
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
    /// Where its last column ends at its nearest.
    cost: Cost,
    /// Of the last column; of none, where nothing is put yet.
    last: Option<(Move, Reach)>,
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

/// What stopped the search.
#[derive(Default)]
pub struct Blocked {
    /// The first column that has no place.
    pub column: usize,
    /// Where the ways up to it end; none, where nothing comes before it.
    pub ends: Vec<Reach>,
}

/// The cheapest places of all columns with what they cost; `None`: they have none.
pub fn allocate(problem: &Problem<'_>) -> Option<(Found, Cost)> {
    let apart = Apart::of(problem.boards);
    let places = Places::of(problem);
    let search = Search::of(problem, &places, &apart);
    let found = match problem.spanned() {
        Some(repeat) => search.over_stretches(repeat),
        None => search.over_places(),
    };
    let rough = matches!(found, Err(Short::TooMuch));
    let found = match rough {
        true => search.roughly(),
        false => found,
    };
    let (puts, cost) = found.ok()?;
    let best = places.all && !rough;
    Some((Found { puts, best }, cost))
}

/// Which column it is that has no place: told by going as far as can be gone.
pub fn blocked(problem: &Problem<'_>) -> Blocked {
    let apart = Apart::of(problem.boards);
    let places = Places::of(problem);
    let search = Search {
        far: true,
        ..Search::of(problem, &places, &apart)
    };
    match search.run() {
        Err(Short::Stuck(blocked)) => blocked,
        _ => Blocked::default(),
    }
}

/// Comparisons of one way with another before the search becomes rough, so that no file holds the tool up;
/// to look for a way at all counts for so many.
const MOST_COMPARED: usize = 20_000_000;
const TO_LOOK: usize = 16;

/// Cells that what is still to come is told apart by, and the comparisons that a search led by it may take:
/// finer ones take longer to fill and save more, so that they are filled only where they are needed.
const FINER: [(i64, usize); 3] = [
    (300_000, 100_000),
    (1_200_000, 300_000),
    (4_000_000, MOST_COMPARED),
];

/// What is known beforehand of what must still come.
pub trait Known {
    /// The least that column `n` and all after it add when the one before ends at `reach`.
    fn after(&self, n: usize, reach: &Reach) -> Option<Cost>;
    /// The least that they add when `n` begins this board.
    fn on(&self, n: usize, board: usize, before: Option<&Reach>) -> Option<Cost>;
}

struct Nothing;

impl Known for Nothing {
    fn after(&self, _: usize, _: &Reach) -> Option<Cost> {
        Some(Cost::default())
    }
    fn on(&self, _: usize, _: usize, _: Option<&Reach>) -> Option<Cost> {
        Some(Cost::default())
    }
}

/// What comes of a search.
type Gone = Result<(Vec<Put>, Cost), Short>;

enum Short {
    Stuck(Blocked),
    TooMuch,
}

#[derive(Clone, Copy)]
struct Search<'a> {
    problem: &'a Problem<'a>,
    places: &'a Places,
    apart: &'a Apart,
    /// What it need not cost more than.
    most: Option<Cost>,
    known: &'a dyn Known,
    /// Whether a way is left for one that is no farther along, wherever the pattern lies: what is found need
    /// not be the best.
    rough: bool,
    /// Whether what counts is only how far along each strip a way is, so that it goes as far as can be gone.
    far: bool,
    /// Comparisons that it may take.
    enough: usize,
}

/// Those that cost least with what must still come stand first; of equals the one that has come farther,
/// and of these the one found first.
type Queue = BinaryHeap<Reverse<(Cost, Reverse<usize>, usize)>>;

impl<'a> Search<'a> {
    /// One that knows nothing beforehand.
    fn of(problem: &'a Problem<'a>, places: &'a Places, apart: &'a Apart) -> Search<'a> {
        Search {
            problem,
            places,
            apart,
            most: None,
            known: &Nothing,
            rough: false,
            far: false,
            enough: MOST_COMPARED,
        }
    }

    /// Of a pattern that repeats and is to run on.
    fn over_stretches(&self, repeat: Length) -> Gone {
        for (cells, enough) in FINER {
            let Some(ahead) = Ahead::of(self.problem, repeat, cells) else {
                break;
            };
            let led = Search {
                known: &ahead,
                enough,
                ..*self
            };
            match led.run() {
                Err(Short::TooMuch) => {}
                gone => return gone,
            }
        }
        Err(Short::TooMuch)
    }

    /// A way found roughly costs at most so much too much: what costs more need not be gone on with.
    fn over_places(&self) -> Gone {
        let bound = Bound::of(self.problem);
        let led = Search {
            known: &bound,
            ..*self
        };
        let roughly = Search {
            rough: true,
            enough: usize::MAX,
            ..led
        };
        let most = roughly.run()?.1;
        let most = Some(most);
        Search { most, ..led }.run()
    }

    fn roughly(&self) -> Gone {
        let bound = Bound::of(self.problem);
        let led = Search {
            known: &bound,
            rough: true,
            enough: usize::MAX,
            ..*self
        };
        led.run()
    }

    /// Always goes on with the way that promises the least: the first to come to the end costs least.
    fn run(&self) -> Gone {
        let problem = self.problem;
        let mut ways = vec![Way {
            done: 0,
            cost: Cost::default(),
            last: None,
            before: None,
        }];
        let repeat = problem.spanned();
        let mut known = vec![Ways::of(repeat, self.rough); problem.columns.len() + 1];
        let mut queue = Queue::new();
        queue.push(Reverse((Cost::default(), Reverse(0), 0)));
        let (mut farthest, mut compared) = (0, 0_usize);
        while let Some(Reverse((_, _, at))) = queue.pop() {
            let Some(way) = ways.get(at).copied() else {
                continue;
            };
            let n = way.done;
            let Some(column) = problem.columns.get(n) else {
                return Ok((puts(problem, &ways, at), way.cost));
            };
            farthest = farthest.max(n);
            let reach = way.last.as_ref().map(|(_, reach)| reach);
            let holds = |reach: &Reach| {
                let (strip, nearest) = (self.strip(reach.end), reach.end.right);
                known.get(n).is_some_and(|k| k.holds(strip, nearest, at))
            };
            if !reach.is_none_or(holds) {
                continue;
            }
            let worth = |board| {
                let more = self.known.on(n, board, reach);
                more.is_some_and(|more| !self.too_much(way.cost.and(more)))
            };
            for to in problem.moves(n, reach, &worth) {
                compared += TO_LOOK;
                let (before, cost) = from(&way, &to);
                let end = problem.end_of(column, before, to.put);
                let reach = Reach {
                    end,
                    farthest: to.farthest + column.width,
                    rise: to.rise,
                };
                let (cost, reach) = match self.far {
                    true => self.along_board(n, reach),
                    false => (
                        cost.and(problem.price(n, before, to.put, self.apart)),
                        reach,
                    ),
                };
                let more = self.known.after(n + 1, &reach);
                let Some(more) = more.filter(|more| !self.too_much(cost.and(*more))) else {
                    continue;
                };
                let offered = Stretch {
                    nearest: end.right,
                    farthest: reach.farthest,
                    cost,
                    rise: reach.rise,
                };
                let Some(level) = known.get_mut(n + 1) else {
                    continue;
                };
                for kept in level.offer(self.strip(end), offered, ways.len(), &mut compared) {
                    let end = End {
                        right: kept.nearest,
                        ..end
                    };
                    let reach = Reach {
                        end,
                        farthest: kept.farthest,
                        rise: kept.rise,
                    };
                    let whole =
                        (kept.nearest, kept.farthest) == (offered.nearest, offered.farthest);
                    let more = match whole {
                        true => Some(more),
                        false => self.known.after(n + 1, &reach),
                    };
                    if let Some(more) = more {
                        queue.push(Reverse((kept.cost.and(more), Reverse(n + 1), ways.len())));
                    }
                    let put = Put {
                        left: kept.nearest - column.width,
                        ..to.put
                    };
                    let to = Move {
                        put,
                        farthest: kept.farthest - column.width,
                        ..to
                    };
                    ways.push(Way {
                        done: n + 1,
                        cost: kept.cost,
                        last: Some((to, reach)),
                        before: Some(at),
                    });
                }
                if compared > self.enough {
                    return Err(Short::TooMuch);
                }
            }
        }
        let last = ways.iter().filter(|way| way.done == farthest);
        let ends = last.filter_map(|way| way.last.map(|(_, reach)| reach));
        Err(Short::Stuck(Blocked {
            column: farthest,
            ends: ends.collect(),
        }))
    }

    /// How far along its board it ends, as a cost; all of one number of columns are gone on with at once.
    fn along_board(&self, n: usize, reach: Reach) -> (Cost, Reach) {
        let board = self.problem.boards.get(reach.end.board);
        let left = board.map_or(Length::ZERO, |b| b.usable.left);
        let cost = Cost {
            boards: u32::try_from(n).unwrap_or(u32::MAX),
            waste: (reach.end.right - left).in_um(),
            ..Cost::default()
        };
        (cost, Reach { rise: 1, ..reach })
    }

    fn too_much(&self, cost: Cost) -> bool {
        self.most.is_some_and(|most| most < cost)
    }

    /// Boards to be bought are all alike, so that which of them it is makes no difference.
    fn strip(&self, end: End) -> Strip {
        let board = end.board.min(self.places.in_hand);
        (board, end.bottom, end.top)
    }
}

/// Where a way ends if it goes on like this, and what it costs up to there.
fn from(way: &Way, to: &Move) -> (Option<End>, Cost) {
    let Some((_, reach)) = way.last else {
        return (None, way.cost);
    };
    let right = to.from.at(to.put.left);
    let farther = (right - reach.end.right).in_um() * reach.rise;
    let cost = Cost {
        waste: way.cost.waste + farther,
        ..way.cost
    };
    let end = End { right, ..reach.end };
    (Some(end), cost)
}

/// From the last column back, each where the one after it wants it.
fn puts(problem: &Problem<'_>, ways: &[Way], last: usize) -> Vec<Put> {
    let mut out = Vec::new();
    let (mut at, mut left) = (Some(last), None);
    while let Some(way) = at.and_then(|i| ways.get(i)) {
        if let Some((to, _)) = way.last {
            let left_here: Length = left.unwrap_or(to.put.left);
            out.push(Put {
                left: left_here,
                ..to.put
            });
            let before = way.done.checked_sub(2).and_then(|n| problem.columns.get(n));
            left = before.map(|column| to.from.at(left_here) - column.width);
        }
        at = way.before;
    }
    out.reverse();
    out
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
