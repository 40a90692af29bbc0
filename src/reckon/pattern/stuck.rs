//! Why a pattern's fronts cannot be cut: which front, which board, how much is missing. Knows columns,
//! boards and where the search ended; must not know the words for it.

use super::allocate::{Blocked, Problem};
use super::columns::{Cell, Column};
use super::group::Group;
use super::layout::{Area, CutBoard, Missing, Stuck, Unfit};
use super::spans::Reach;
use crate::resolve::job::{BoardRef, FixedPiece};
use crate::units::Length;

/// Ends looked at of those that the search came to, the nearest first.
const MOST_ENDS: usize = 2000;

impl Group<'_> {
    pub(super) fn stuck(&self, problem: &Problem<'_>, blocked: &Blocked) -> Stuck {
        let Some(column) = problem.columns.get(blocked.column) else {
            return Stuck::NoSize;
        };
        if let Some(settled) = column.settled {
            return self.settled(problem, blocked, column, settled);
        }
        let most = |of: fn(Area) -> Length| {
            let mut most: Option<&CutBoard> = None;
            for board in &self.boards {
                if most.is_none_or(|m| of(board.usable) > of(m.usable)) {
                    most = Some(board);
                }
            }
            most.map_or((Length::ZERO, String::new()), |b| {
                (of(b.usable), b.name.clone())
            })
        };
        let (wide, widest) = most(Area::width);
        let (high, highest) = most(Area::height);
        if column.width > wide {
            return Stuck::TooWide {
                front: self.most(column, |_, (width, _)| width),
                needs: column.width,
                offers: wide,
                board: widest,
            };
        }
        if column.height > high {
            return Stuck::TooHigh {
                front: self.most(column, |cell, (_, height)| cell.dy + height),
                needs: column.height,
                offers: high,
                board: highest,
            };
        }
        let (board, missing) = missing(problem, blocked, column);
        let board = self.boards.get(board);
        Stuck::NoBoardLeft {
            front: column.cells.first().map_or(0, |c| c.front),
            needs: column.width,
            board: board.map_or(String::new(), |b| b.name.clone()),
            missing,
        }
    }

    /// The first front of a column of which there is most.
    fn most(&self, column: &Column, of: impl Fn(&Cell, (Length, Length)) -> Length) -> usize {
        let mut most: Option<(Length, usize)> = None;
        for cell in &column.cells {
            let front = self.fronts.get(cell.front);
            let size = front.map_or((Length::ZERO, Length::ZERO), |f| (f.width(), f.height()));
            let more = of(cell, size);
            if most.is_none_or(|(m, _)| more > m) {
                most = Some((more, cell.front));
            }
        }
        most.map_or(0, |(_, front)| front)
    }

    /// The settled fronts of a column.
    fn fixed(&self, column: &Column) -> Vec<(Cell, &FixedPiece)> {
        let of = |cell: &Cell| {
            let id = self.fronts.get(cell.front).map(|f| &f.id);
            let fixed = self.rule.fixed.iter().filter(move |p| Some(&p.front) == id);
            let cell = *cell;
            fixed.map(move |piece| (cell, piece))
        };
        column.cells.iter().flat_map(of).collect()
    }

    fn name(&self, board: BoardRef) -> String {
        let board = self.job.boards.get(board.0);
        board.map_or(String::new(), |b| b.id.clone())
    }

    /// Two fronts cut in one piece and settled in places that do not go together.
    pub(super) fn at_odds(&self, column: &Column) -> Option<Stuck> {
        let mut fixed = self.fixed(column).into_iter();
        let (first, settled) = fixed.next()?;
        let left = settled.at - first.dx;
        fixed.find_map(|(cell, piece)| {
            let by = piece.at - cell.dx - left;
            let same = piece.board == settled.board;
            (!same || by != Length::ZERO).then(|| Stuck::Settled {
                front: cell.front,
                board: self.name(piece.board),
                at: piece.at,
                why: Unfit::With {
                    front: first.front,
                    by: same.then_some(by.abs()),
                },
            })
        })
    }

    fn settled(
        &self,
        problem: &Problem<'_>,
        blocked: &Blocked,
        column: &Column,
        (board, left): (BoardRef, Length),
    ) -> Stuck {
        let fixed = self.fixed(column).first().map(|(c, p)| (c.front, p.at));
        let (front, at) = fixed.unwrap_or((0, left));
        let on = self.boards.iter().position(|b| b.in_hand == Some(board));
        let on = on.and_then(|at| Some((at, self.boards.get(at)?)));
        let why = match on {
            None => Unfit::Elsewhere,
            Some((at, on)) => {
                let alone = unfit(column, left, on);
                alone.unwrap_or_else(|| taken(problem, blocked, (at, left)))
            }
        };
        Stuck::Settled {
            front,
            board: self.name(board),
            at,
            why,
        }
    }
}

/// What is wrong with a settled place whatever comes before it.
fn unfit(column: &Column, left: Length, board: &CutBoard) -> Option<Unfit> {
    let usable = board.usable;
    let area = Area {
        left,
        right: left + column.width,
        bottom: usable.bottom,
        top: usable.bottom + column.height,
    };
    let off = [
        Missing::Across(usable.left - area.left),
        Missing::Across(area.right - usable.right),
        Missing::Up(area.top - usable.top),
    ];
    let most = off.into_iter().max_by_key(|m| m.by());
    if let Some(off) = most.filter(|m| m.by() > Length::ZERO) {
        return Some(Unfit::Off(off));
    }
    let flaws = board.avoid.iter().filter(|(flaw, _)| area.meets(*flaw));
    let most =
        flaws.map(|(flaw, what)| (area.right.min(flaw.right) - area.left.max(flaw.left), what));
    let (by, what) = most.max()?;
    let what = what.clone();
    Some(Unfit::Flaw { what, by })
}

/// What comes before a settled place that is sound in itself.
fn taken(problem: &Problem<'_>, blocked: &Blocked, (at, left): (usize, Length)) -> Unfit {
    let before = blocked.column.checked_sub(1);
    let before = before.and_then(|n| problem.columns.get(n)?.cells.last());
    let front = before.map_or(0, |cell| cell.front);
    let here = blocked.ends.iter().filter(|reach| reach.end.board == at);
    match here.map(|reach| reach.end.right).min() {
        Some(right) => Unfit::Taken {
            front,
            by: right + problem.loss - left,
        },
        None => Unfit::Order { front },
    }
}

/// On which board the least is missing for a column, and what: were each so much larger, it would have a
/// place.
fn missing(problem: &Problem<'_>, blocked: &Blocked, column: &Column) -> (usize, Missing) {
    let mut ends: Vec<&Reach> = blocked.ends.iter().collect();
    ends.sort_by_key(|reach| reach.end.right);
    ends.truncate(MOST_ENDS);
    let ends: Vec<Option<&Reach>> = match ends.is_empty() {
        true => vec![None],
        false => ends.into_iter().map(Some).collect(),
    };
    let far = |b: &CutBoard| column.width + b.usable.width() + problem.repeat.unwrap_or_default();
    let wider: Vec<CutBoard> = enlarged(problem, |b| Area {
        right: b.usable.right + far(b),
        ..b.usable
    });
    let higher: Vec<CutBoard> = enlarged(problem, |b| Area {
        top: b.usable.top + problem.loss + column.height + problem.up.unwrap_or_default(),
        ..b.usable
    });
    let mut least: Option<(Length, usize, Missing)> = None;
    for (boards, across) in [(&wider, true), (&higher, false)] {
        let on = Problem { boards, ..*problem };
        for end in &ends {
            for to in on.moves(blocked.column, *end, &|_| true) {
                let Some(board) = problem.boards.get(to.put.board) else {
                    continue;
                };
                let (right, top) = (to.put.left + column.width, to.put.bottom + column.height);
                let missing = match across {
                    true => Missing::Across(right - board.usable.right),
                    false => Missing::Up(top - board.usable.top),
                };
                let less = least.is_none_or(|(by, ..)| missing.by() < by);
                if missing.by() > Length::ZERO && less {
                    least = Some((missing.by(), to.put.board, missing));
                }
            }
        }
    }
    match least {
        Some((_, board, missing)) => (board, missing),
        None => (0, Missing::Across(column.width)),
    }
}

fn enlarged(problem: &Problem<'_>, to: impl Fn(&CutBoard) -> Area) -> Vec<CutBoard> {
    let board = |b: &CutBoard| CutBoard {
        usable: to(b),
        ..b.clone()
    };
    problem.boards.iter().map(board).collect()
}
