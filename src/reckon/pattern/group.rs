//! One pattern's fronts and boards brought together: columns allotted, blanks and joints read off, other
//! aims tried beside. Knows one group; must not know which groups there are.

use std::cell::OnceCell;

use super::allocate::{Found, Problem, Put, allocate, blocked};
use super::columns::{self, BREAK, Column, Cut};
use super::joints;
use super::layout::{
    Area, Blank, Change, Choice, CutBoard, Joint, MOST_LIMIT, Outcome, Repeat, Stuck,
};
use super::offcuts::{self, Strip};
use crate::reckon::placed::PlacedFront;
use crate::resolve::job::{Cutter, Job, PatternRule, Wanted};
use crate::units::Length;

/// What one pattern's fronts, boards and saw come to before anything is allotted.
pub struct Group<'a> {
    pub job: &'a Job,
    pub fronts: &'a [PlacedFront],
    pub members: Vec<usize>,
    pub rule: PatternRule,
    pub repeat: Repeat,
    pub cutter: Cutter,
    pub boards: Vec<CutBoard>,
    /// What comes of an exact run, once it has been asked for.
    pub exact: OnceCell<Option<Solved>>,
}

#[derive(Clone)]
pub struct Solved {
    pub boards: Vec<CutBoard>,
    pub blanks: Vec<Blank>,
    pub joints: Vec<Joint>,
    pub outcome: Outcome,
    /// Whether every place worth trying was tried.
    pub best: bool,
}

impl Group<'_> {
    /// The aim in force with what it came to, and those it can be held against: exact, least waste and, where
    /// none is set, the least limit that saves a board.
    pub fn choices(&self, own: Option<Outcome>) -> Vec<Choice> {
        let mut aims = vec![self.rule.wanted];
        for aim in [Wanted::Exact, Wanted::LeastWaste] {
            if !aims.contains(&aim) {
                aims.push(aim);
            }
        }
        let of = |wanted| Choice {
            wanted,
            comes_to: match wanted == self.rule.wanted {
                true => own,
                false => self.solve(wanted).map(|s| s.outcome),
            },
        };
        let mut choices: Vec<Choice> = aims.into_iter().map(of).collect();
        choices.extend(self.limit_that_saves(&choices));
        choices
    }

    /// The least limit, in whole millimetres, that needs fewer boards than an exact run. None needs fewer than
    /// the least waste.
    fn limit_that_saves(&self, choices: &[Choice]) -> Option<Choice> {
        let boards = |c: &Choice| c.comes_to.map_or(usize::MAX, |o| o.boards);
        let of = |wanted| choices.iter().find(|c| c.wanted == wanted).map(boards);
        let (exact, least) = (of(Wanted::Exact)?, of(Wanted::LeastWaste)?);
        let set = matches!(self.rule.wanted, Wanted::Within(_));
        let half = self.repeat.across.unwrap_or(MOST_LIMIT * 2) / 2;
        let most = MOST_LIMIT.min(half).in_um() / 1000;
        if set || least >= exact || most < 1 {
            return None;
        }
        let limit = |mm: i64| {
            let wanted = Wanted::Within(Length::mm(mm));
            let comes_to = self.solve(wanted).map(|s| s.outcome);
            let choice = Choice { wanted, comes_to };
            (boards(&choice) < exact).then_some(choice)
        };
        let mut saves = limit(most)?;
        let (mut too_small, mut enough) = (0, most);
        while enough - too_small > 1 {
            let middle = (too_small + enough) / 2;
            match limit(middle) {
                Some(choice) => (saves, enough) = (choice, middle),
                None => too_small = middle,
            }
        }
        Some(saves)
    }

    /// Each run's fronts in view together, one run after the other, as columns.
    fn columns(&self, wanted: Wanted) -> Vec<Column> {
        let cut = Cut {
            loss: self.cutter.loss(),
            repeat: self.repeat,
            wanted,
        };
        let highest = self.boards.iter().map(|b| b.usable.height()).max();
        let highest = highest.unwrap_or_default();
        let mut out = Vec::new();
        for stretch in self.stretches() {
            out.extend(columns::columns(self.fronts, stretch, cut, highest));
        }
        for column in &mut out {
            let settled = column.cells.iter().find_map(|cell| {
                let id = &self.fronts.get(cell.front)?.id;
                let piece = self.rule.fixed.iter().find(|p| p.front == *id)?;
                Some((piece.board, piece.at - cell.dx))
            });
            column.settled = settled;
        }
        out
    }

    fn stretches(&self) -> Vec<Vec<usize>> {
        let mut members = self.members.clone();
        members.sort_by_key(|i| self.fronts.get(*i).map(|f| (f.run, f.left, f.bottom)));
        let mut out: Vec<(usize, Length, Vec<usize>)> = Vec::new();
        for i in members {
            let Some(front) = self.fronts.get(i) else {
                continue;
            };
            match out.last_mut() {
                Some((run, right, stretch))
                    if *run == front.run && front.left - *right <= BREAK =>
                {
                    *right = front.right.max(*right);
                    stretch.push(i);
                }
                _ => out.push((front.run, front.right, vec![i])),
            }
        }
        out.into_iter().map(|(.., stretch)| stretch).collect()
    }

    /// What comes of an aim; `None`: it cannot be done. A limit is kept by an exact run too, so that the better
    /// of both stands, where they are not of the same columns.
    pub fn solve(&self, wanted: Wanted) -> Option<Solved> {
        if wanted == Wanted::Exact {
            return self.exact();
        }
        let found = self.aimed(wanted)?;
        let within = matches!(wanted, Wanted::Within(_));
        if !within || self.columns(wanted) == self.columns(Wanted::Exact) {
            return Some(found);
        }
        let key = |s: &Solved| (s.outcome.boards, s.outcome.changes, s.outcome.wasted);
        match self.exact() {
            Some(exact) if key(&exact) < key(&found) => {
                let best = found.best && exact.best;
                Some(Solved { best, ..exact })
            }
            _ => Some(found),
        }
    }

    fn exact(&self) -> Option<Solved> {
        let exact = self.exact.get_or_init(|| self.aimed(Wanted::Exact));
        exact.clone()
    }

    fn aimed(&self, wanted: Wanted) -> Option<Solved> {
        let columns = self.columns(wanted);
        if columns.iter().any(|c| self.at_odds(c).is_some()) {
            return None;
        }
        let (found, _) = allocate(&self.problem(&columns, wanted))?;
        Some(self.solved(&columns, &found))
    }

    fn problem<'a>(&'a self, columns: &'a [Column], wanted: Wanted) -> Problem<'a> {
        Problem {
            columns,
            boards: &self.boards,
            wanted,
            repeat: self.repeat.across,
            loss: self.cutter.loss(),
        }
    }

    /// Why an aim cannot be done.
    pub fn why_not(&self, wanted: Wanted) -> Stuck {
        let columns = self.columns(wanted);
        let problem = self.problem(&columns, wanted);
        let at_odds = columns.iter().find_map(|c| self.at_odds(c));
        at_odds.unwrap_or_else(|| self.stuck(&problem, &blocked(&problem)))
    }

    /// Boards in the order cut, with blanks, strips lost and offcuts; joints with their reasons.
    fn solved(&self, columns: &[Column], found: &Found) -> Solved {
        let puts = &found.puts;
        let loss = self.cutter.loss();
        let mut used: Vec<usize> = puts.iter().map(|p| p.board).collect();
        used.dedup();
        let mut boards: Vec<CutBoard> = Vec::new();
        let mut blanks = Vec::new();
        let mut strips: Vec<(usize, Length)> = Vec::new();
        for (n, at) in used.iter().enumerate() {
            let Some(board) = self.boards.get(*at) else {
                continue;
            };
            let mut board = board.clone();
            let mut rows: Vec<Strip> = Vec::new();
            for (column, put) in columns.iter().zip(puts).filter(|(_, p)| p.board == *at) {
                let area = Area {
                    left: put.left,
                    right: put.left + column.width,
                    bottom: put.bottom,
                    top: put.bottom + column.height,
                };
                match rows.last_mut() {
                    Some(strip) if strip.bottom == put.bottom => strip.columns.push(area),
                    _ => rows.push(Strip {
                        bottom: put.bottom,
                        columns: vec![area],
                    }),
                }
                blanks.extend(self.blanks(column, *put, n));
            }
            strips.extend(rows.iter().map(|r| (n, r.bottom)));
            board.wasted = offcuts::wasted(&rows, board.usable, loss);
            board.offcuts = offcuts::offcuts(&rows, board.usable, loss);
            boards.push(board);
        }
        let mut joints = joints::joints(self.fronts, &blanks, &boards, self.repeat);
        joints::explain(&mut joints, &blanks, &strips, |a, b| {
            self.why(columns, &boards, &blanks, a, b)
        });
        let outcome = Outcome {
            boards: boards.len(),
            changes: joints.iter().filter(|j| j.change.is_some()).count(),
            worst_step: joints
                .iter()
                .filter_map(|j| j.jump)
                .map(|(a, b)| a.abs().max(b.abs()))
                .max()
                .unwrap_or_default(),
            wasted: boards
                .iter()
                .flat_map(|b| &b.wasted)
                .map(|area| area.width())
                .sum(),
        };
        Solved {
            boards,
            blanks,
            joints,
            outcome,
            best: found.best,
        }
    }

    fn blanks(&self, column: &Column, put: Put, board: usize) -> Vec<Blank> {
        let of = column.cells.iter().filter_map(|cell| {
            let front = self.fronts.get(cell.front)?;
            let (left, bottom) = (put.left + cell.dx, put.bottom + cell.dy);
            Some(Blank {
                front: cell.front,
                board,
                area: Area {
                    left,
                    right: left + front.width(),
                    bottom,
                    top: bottom + front.height(),
                },
            })
        });
        of.collect()
    }

    fn why(
        &self,
        columns: &[Column],
        boards: &[CutBoard],
        blanks: &[Blank],
        a: &Blank,
        b: &Blank,
    ) -> Change {
        let column = columns
            .iter()
            .find(|c| c.cells.iter().any(|cell| cell.front == b.front));
        if column.is_some_and(|c| c.settled.is_some()) {
            return Change::Settled;
        }
        let needs = column.map_or(b.area.width(), |c| c.width);
        let right = blanks
            .iter()
            .filter(|o| {
                o.board == a.board && o.area.bottom < a.area.top && a.area.bottom < o.area.top
            })
            .map(|o| o.area.right)
            .max();
        let end = boards.get(a.board).map(|board| board.usable.right);
        let left = match (end, right) {
            (Some(end), Some(right)) => (end - right - self.cutter.loss()).max(Length::ZERO),
            _ => Length::ZERO,
        };
        match left < needs {
            true => Change::Full { left, needs },
            false => Change::Better,
        }
    }
}
