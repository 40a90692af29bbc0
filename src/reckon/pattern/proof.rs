//! Proof that the allotting is optimal: every way there is to cut a few small columns, place by
//! place, tried and priced. Written apart from the search: it knows no shortest path.

use std::collections::BTreeMap;

use super::allocate::{Apart, Cost, End, Found, Problem, Put, allocate};
use super::columns::Column;
use super::layout::{Area, CutBoard};
use super::phase::reduced;
use crate::resolve::job::{BoardRef, Wanted};
use crate::units::Length;

/// What every place is a multiple of.
const GRID: Length = Length::mm(10);

/// So many centimetres, so that a repeat has several shares (`bound`).
fn cm(v: i64) -> Length {
    GRID * v
}

/// Numbers that scatter, the same on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, from: i64, to: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        from + ((self.0 >> 33) % (to - from + 1) as u64) as i64
    }
}

fn board(dice: &mut Dice, n: usize, high: i64, flaws: i64, period: i64) -> CutBoard {
    let across = dice.roll(12, 18);
    let flaw = |dice: &mut Dice| {
        let (left, bottom) = (dice.roll(2, across - 2), dice.roll(0, high - 1));
        let area = Area {
            left: cm(left),
            right: cm(left + 1),
            bottom: cm(bottom),
            top: cm(bottom + 1),
        };
        (area, "knot".to_owned())
    };
    CutBoard {
        name: format!("b{n}"),
        in_hand: Some(BoardRef(n)),
        across: cm(across),
        up: cm(high),
        usable: Area {
            left: Length::ZERO,
            right: cm(across),
            bottom: Length::ZERO,
            top: cm(high),
        },
        first_crest: (cm(dice.roll(0, period)), Length::ZERO),
        avoid: (0..flaws).map(|_| flaw(dice)).collect(),
        wasted: vec![],
        offcuts: vec![],
        lab: Some([50_000 + 1000 * dice.roll(0, 5), 0, 0]),
        batch: String::new(),
    }
}

fn column(dice: &mut Dice) -> Column {
    let width = dice.roll(2, 5);
    Column {
        left: Length::ZERO,
        right: cm(width),
        width: cm(width),
        height: cm(dice.roll(3, 5)),
        cells: vec![],
        gap_before: (dice.roll(0, 4) > 0).then_some(cm(1)),
        settled: None,
    }
}

/// The first place at or after `from` that is clear of flaws.
fn first_clear(board: &CutBoard, column: &Column, bottom: Length, from: Length) -> Length {
    let clear = |left: Length| {
        let area = Area {
            left,
            right: left + column.width,
            bottom,
            top: bottom + column.height,
        };
        !board.avoid.iter().any(|(flaw, _)| area.meets(*flaw))
    };
    let each = (0..100).map(|n| from + cm(n));
    each.into_iter().find(|left| clear(*left)).unwrap_or(from)
}

/// Whether this is a way to cut the column that the aim allows.
fn allowed(problem: &Problem<'_>, n: usize, end: Option<End>, put: Put) -> bool {
    let (Some(column), Some(board)) = (problem.columns.get(n), problem.boards.get(put.board))
    else {
        return false;
    };
    let area = Area {
        left: put.left,
        right: put.left + column.width,
        bottom: put.bottom,
        top: put.bottom + column.height,
    };
    let inside = area.left >= board.usable.left
        && area.right <= board.usable.right
        && area.top <= board.usable.top;
    if !inside || board.avoid.iter().any(|(flaw, _)| area.meets(*flaw)) {
        return false;
    }
    let same = end.filter(|e| put.board == e.board && put.bottom == e.bottom);
    let from = same.map_or(board.usable.left, |e| e.right + problem.loss);
    if put.left < from {
        return false;
    }
    // What is settled is settled: its step is what it comes to.
    if let Some((settled, left)) = column.settled {
        return board.in_hand == Some(settled) && put.left == left;
    }
    // For the least waste each lies as near as it can.
    if problem.wanted == Wanted::LeastWaste {
        return put.left == first_clear(board, column, put.bottom, from);
    }
    let (Some(end), Some(gap)) = (end, column.gap_before) else {
        return true;
    };
    let crest = |b: usize| problem.boards[b].first_crest.0;
    let jump = (put.left - crest(put.board)) - (end.right - crest(end.board)) - gap;
    let step = reduced(jump, problem.repeat).abs();
    match (problem.wanted, problem.repeat) {
        (Wanted::Exact, Some(_)) => step == Length::ZERO,
        (Wanted::Within(limit), Some(_)) => step <= limit,
        (Wanted::LeastWaste | Wanted::Exact | Wanted::Within(_), _) => true,
    }
}

/// What was found before for the same columns left and the same end.
type Known = BTreeMap<(usize, Option<End>), Option<Cost>>;

fn cheapest(
    problem: &Problem<'_>,
    n: usize,
    end: Option<End>,
    apart: &Apart,
    known: &mut Known,
) -> Option<Cost> {
    let Some(column) = problem.columns.get(n) else {
        return Some(Cost::default());
    };
    if let Some(found) = known.get(&(n, end)) {
        return *found;
    }
    let mut best: Option<Cost> = None;
    for (at, board) in problem.boards.iter().enumerate() {
        let strips = match end {
            Some(end) if end.board > at => continue,
            Some(end) if end.board == at => vec![end.bottom, end.top + problem.loss],
            _ => vec![board.usable.bottom],
        };
        for bottom in strips {
            for left in 0..board.across.in_um() / GRID.in_um() {
                let put = Put {
                    board: at,
                    left: cm(left),
                    bottom,
                };
                if !allowed(problem, n, end, put) {
                    continue;
                }
                let then = problem.end_of(column, end, put);
                let Some(rest) = cheapest(problem, n + 1, Some(then), apart, known) else {
                    continue;
                };
                let cost = problem.price(n, end, put, apart).and(rest);
                if best.is_none_or(|b| cost < b) {
                    best = Some(cost);
                }
            }
        }
    }
    known.insert((n, end), best);
    best
}

#[derive(Clone, Copy)]
struct Case {
    wanted: Wanted,
    repeat: Option<i64>,
    flaws: i64,
    high: i64,
    /// How many columns are settled, at places picked by the dice.
    settled: usize,
    seeds: u64,
}

fn prove(case: &Case) {
    let mut solved = 0;
    for seed in 0..case.seeds {
        let mut dice = Dice(seed * 7919 + 5);
        let boards: Vec<CutBoard> = (0..3)
            .map(|n| {
                board(
                    &mut dice,
                    n,
                    case.high,
                    case.flaws,
                    case.repeat.unwrap_or(4),
                )
            })
            .collect();
        let mut columns: Vec<Column> = (0..5).map(|_| column(&mut dice)).collect();
        for n in 0..case.settled {
            let (at, left) = (dice.roll(0, 1) as usize + n * 2, cm(dice.roll(0, 9)));
            let on = BoardRef((at / 2 + dice.roll(0, 1) as usize).min(2));
            columns[at].settled = Some((on, left));
        }
        let problem = Problem {
            columns: &columns,
            boards: &boards,
            wanted: case.wanted,
            repeat: case.repeat.map(cm),
            loss: cm(dice.roll(1, 3)),
        };
        let found = allocate(&problem);
        let every = found.as_ref().is_none_or(|(f, _)| f.best);
        assert!(every, "every place is tried");
        let found = found.map(|(_, cost)| cost);
        let apart = Apart::of(&boards);
        let best = cheapest(&problem, 0, None, &apart, &mut Known::new());
        assert_eq!(
            found, best,
            "seed {seed} {:?} {:?}\n{columns:?}\n{boards:?}",
            case.wanted, case.repeat
        );
        solved += u64::from(found.is_some());
    }
    assert!(solved >= 20, "{solved}: too few cases can be cut at all");
}

fn case(wanted: Wanted, repeat: Option<i64>, flaws: i64, high: i64) -> Case {
    Case {
        wanted,
        repeat,
        flaws,
        high,
        settled: 0,
        seeds: 100,
    }
}

// Source of what is right: every way there is, priced (handbook §5's order of aims).

#[test]
fn an_exact_run_of_a_repeating_pattern() {
    prove(&case(Wanted::Exact, Some(4), 0, 5));
    prove(&case(Wanted::Exact, Some(3), 0, 12));
}

#[test]
fn an_exact_run_round_flaws() {
    prove(&case(Wanted::Exact, Some(4), 1, 5));
    prove(&case(Wanted::Exact, Some(3), 2, 5));
    prove(&case(Wanted::Exact, Some(6), 2, 18));
}

#[test]
fn a_natural_pattern() {
    prove(&case(Wanted::Exact, None, 0, 5));
    prove(&case(Wanted::Exact, None, 0, 12));
}

#[test]
fn a_natural_pattern_round_flaws() {
    prove(&case(Wanted::Exact, None, 1, 5));
    prove(&case(Wanted::Exact, None, 2, 5));
    prove(&case(Wanted::Exact, None, 2, 18));
}

#[test]
fn the_least_waste() {
    prove(&case(Wanted::LeastWaste, Some(4), 0, 5));
    prove(&case(Wanted::LeastWaste, None, 0, 12));
    prove(&case(Wanted::LeastWaste, Some(4), 2, 5));
    prove(&case(Wanted::LeastWaste, None, 2, 12));
}

#[test]
fn a_limit_on_the_step_of_a_natural_pattern() {
    prove(&case(Wanted::Within(cm(1)), None, 0, 5));
    prove(&case(Wanted::Within(cm(1)), None, 1, 5));
    prove(&case(Wanted::Within(cm(2)), None, 2, 5));
}

#[test]
fn a_limit_on_the_step_of_a_repeating_pattern() {
    prove(&case(Wanted::Within(cm(1)), Some(4), 0, 5));
    prove(&case(Wanted::Within(cm(1)), Some(7), 0, 12));
    prove(&case(Wanted::Within(cm(2)), Some(7), 2, 5));
    prove(&case(Wanted::Within(cm(1)), Some(5), 1, 12));
    prove(&case(Wanted::Within(cm(2)), Some(9), 2, 12));
    prove(&case(Wanted::Within(cm(1)), Some(8), 2, 18));
    // A limit of half the repeat and more lets every step be.
    prove(&case(Wanted::Within(cm(2)), Some(4), 1, 5));
    prove(&case(Wanted::Within(cm(3)), Some(5), 1, 12));
}

#[test]
fn settled_fronts() {
    let settled = |wanted, repeat, flaws, high, settled| Case {
        settled,
        seeds: 400,
        ..case(wanted, repeat, flaws, high)
    };
    prove(&settled(Wanted::Exact, Some(4), 0, 5, 1));
    prove(&settled(Wanted::Exact, Some(5), 1, 5, 2));
    prove(&settled(Wanted::Exact, None, 0, 5, 1));
    prove(&settled(Wanted::Exact, None, 1, 5, 2));
    prove(&settled(Wanted::LeastWaste, Some(4), 1, 5, 1));
    prove(&settled(Wanted::Within(cm(1)), Some(5), 0, 5, 2));
    prove(&settled(Wanted::Within(cm(1)), None, 1, 5, 1));
    prove(&settled(Wanted::Within(cm(1)), Some(7), 2, 5, 2));
    prove(&settled(Wanted::Within(cm(1)), Some(9), 1, 12, 1));
    prove(&settled(Wanted::Exact, Some(7), 1, 12, 2));
}

// Issue 4 asks for 60 columns over 30 boards, exactly: against every way there is, which the slow search
// above finds by itself, place by place.
#[test]
fn sixty_columns_over_thirty_boards() {
    let mut dice = Dice(3);
    let boards: Vec<CutBoard> = (0..30)
        .map(|n| {
            let mut b = board(&mut dice, n, 5, 1, 4);
            b.across = cm(18);
            b.usable.right = cm(18);
            b
        })
        .collect();
    let columns: Vec<Column> = (0..60).map(|_| column(&mut dice)).collect();
    let problem = Problem {
        columns: &columns,
        boards: &boards,
        wanted: Wanted::Exact,
        repeat: Some(cm(4)),
        loss: cm(1),
    };
    let Some((Found { puts, best }, cost)) = allocate(&problem) else {
        panic!("there is room");
    };
    assert!(best);
    assert_eq!(puts.len(), 60);
    let apart = Apart::of(&boards);
    let mut end = None;
    let mut total = Cost::default();
    for (n, put) in puts.iter().enumerate() {
        assert!(allowed(&problem, n, end, *put), "column {n}");
        total = total.and(problem.price(n, end, *put, &apart));
        end = Some(problem.end_of(&columns[n], end, *put));
    }
    assert_eq!(total, cost, "the price is that of the places given");
    let least = cheapest(&problem, 0, None, &apart, &mut Known::new());
    assert_eq!(Some(cost), least, "no way costs less");
}

// By definition of `best`: gaps that all differ come to more sums than are followed.
#[test]
fn what_is_not_tried_is_not_called_the_best() {
    let mut dice = Dice(3);
    let boards: Vec<CutBoard> = (0..3).map(|n| board(&mut dice, n, 5, 1, 4)).collect();
    for (count, best) in [(4, true), (12, false)] {
        let narrow = |n: u32| Column {
            width: Length::mm(1),
            gap_before: Some(Length::mm(1) + Length::um(1 << n)),
            ..column(&mut Dice(1))
        };
        let columns: Vec<Column> = (0..count).map(narrow).collect();
        let problem = Problem {
            columns: &columns,
            boards: &boards,
            wanted: Wanted::Within(Length::mm(4)),
            repeat: None,
            loss: Length::mm(2),
        };
        let found = allocate(&problem).map(|(found, _)| found.best);
        assert_eq!(found, Some(best), "{count} columns");
    }
}

// By definition: a step of no repeat fits no grid, and is still tried wherever it may fall.
#[test]
fn a_limit_on_a_repeat_that_shares_no_grid_with_the_fronts() {
    let mut dice = Dice(3);
    let boards: Vec<CutBoard> = (0..3).map(|n| board(&mut dice, n, 5, 1, 4)).collect();
    let columns: Vec<Column> = (0..3).map(|_| column(&mut dice)).collect();
    let cost = |repeat| {
        let problem = Problem {
            columns: &columns,
            boards: &boards,
            wanted: Wanted::Within(cm(1)),
            repeat: Some(Length::um(repeat)),
            loss: cm(1),
        };
        let (found, cost) = allocate(&problem)?;
        assert!(found.best, "{repeat}");
        Some(cost)
    };
    let (even, odd) = (cost(70_000), cost(70_001));
    let (even, odd) = (even.expect("it can be cut"), odd.expect("it can be cut"));
    assert_eq!((even.boards, even.changes), (odd.boards, odd.changes));
    // A micrometre more of repeat moves each of three columns by a few micrometres at the most.
    assert!((even.waste - odd.waste).abs() < 100, "{even:?} {odd:?}");
}
