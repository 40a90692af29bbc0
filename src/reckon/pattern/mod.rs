//! Fronts over which one pattern runs: which board each is cut from and where, and how the pattern
//! meets. Knows boards, the saw and the wall; must not judge the result or know how it is shown.

mod allocate;
pub mod colour;
mod columns;
mod joints;
pub mod layout;
mod offcuts;
mod phase;
mod pieces;
mod places;
pub mod recut;
mod stood;

#[cfg(test)]
mod proof;

use allocate::{Problem, Put, allocate};
use columns::{BREAK, Column, Cut};
use layout::{Area, Blank, Change, Choice, CutBoard, Joint, Outcome, PatternLayout, Repeat, Stuck};
use offcuts::Strip;
pub use pieces::{end, goes_with, pieces};
pub use stood::stand;

use super::placed::PlacedFront;
use crate::resolve::job::{BoardRef, Cutter, Job, MaterialRef, PatternRule, Wanted};
use crate::units::Length;

/// One layout for each pattern and material, in the order in which their fronts first stand; `pieces`
/// count on from the fronts.
pub fn layouts(job: &Job, fronts: &[PlacedFront], pieces: &[PlacedFront]) -> Vec<PatternLayout> {
    let fronts = &[fronts, pieces].concat();
    let mut groups: Vec<(&str, MaterialRef)> = Vec::new();
    for front in fronts {
        if let Some(name) = &front.style.pattern {
            let key = (name.as_str(), front.style.material);
            if !groups.contains(&key) {
                groups.push(key);
            }
        }
    }
    let mut out: Vec<PatternLayout> = Vec::new();
    for (name, material) in groups {
        // What one pattern is cut from is no longer there for the next.
        let boards = out.iter().flat_map(|l| &l.boards);
        let taken: Vec<BoardRef> = boards.filter_map(|b| b.in_hand).collect();
        out.extend(layout(job, fronts, (name, material), &taken));
    }
    out
}

/// What one pattern's fronts, boards and saw come to before anything is allotted.
struct Group<'a> {
    job: &'a Job,
    fronts: &'a [PlacedFront],
    members: Vec<usize>,
    rule: PatternRule,
    repeat: Repeat,
    cutter: Cutter,
    boards: Vec<CutBoard>,
}

fn layout(
    job: &Job,
    fronts: &[PlacedFront],
    (name, of): (&str, MaterialRef),
    taken: &[BoardRef],
) -> Option<PatternLayout> {
    let material = job.materials.get(of.0)?;
    let is_member =
        |f: &PlacedFront| f.style.pattern.as_deref() == Some(name) && f.style.material == of;
    let members: Vec<usize> = (0..fronts.len())
        .filter(|i| fronts.get(*i).is_some_and(is_member))
        .collect();
    let rule = job.patterns.iter().find(|p| p.name == name).cloned();
    let rule = rule.unwrap_or_else(|| PatternRule::usual(name));
    let settled = settled_boards(&rule, fronts);
    let (mut boards, colour) = stood::boards_in_hand(job, of, &settled, taken);
    let in_hand = boards.len();
    boards.extend((1..=members.len()).filter_map(|n| stood::to_buy(material, job.cutter, n)));
    let group = Group {
        job,
        fronts,
        members,
        rule,
        repeat: stood::repeat(material),
        cutter: job.cutter,
        boards,
    };
    let mut layout = PatternLayout {
        name: name.to_owned(),
        material: of,
        wanted: group.rule.wanted,
        repeat: group.repeat,
        loss: group.cutter.loss(),
        boards: Vec::new(),
        blanks: Vec::new(),
        joints: Vec::new(),
        choices: Vec::new(),
        colour,
        in_hand,
        stuck: None,
    };
    if group.boards.is_empty() {
        layout.stuck = Some(Stuck::NoSize);
        return Some(layout);
    }
    let mut own = None;
    match group.solve(group.rule.wanted) {
        Ok(solved) => {
            own = Some(solved.outcome);
            layout.boards = solved.boards;
            layout.blanks = solved.blanks;
            layout.joints = solved.joints;
        }
        Err(stuck) => layout.stuck = Some(stuck),
    }
    layout.choices = group.choices(own);
    Some(layout)
}

/// The boards settled fronts come from, in the order the fronts stand in.
fn settled_boards(rule: &PatternRule, fronts: &[PlacedFront]) -> Vec<BoardRef> {
    let mut out = Vec::new();
    for front in fronts {
        for piece in rule.fixed.iter().filter(|p| p.front == front.id) {
            if !out.contains(&piece.board) {
                out.push(piece.board);
            }
        }
    }
    out
}

struct Solved {
    boards: Vec<CutBoard>,
    blanks: Vec<Blank>,
    joints: Vec<Joint>,
    outcome: Outcome,
}

impl Group<'_> {
    /// The aim in force with what it came to, and the two it can be held against.
    fn choices(&self, own: Option<Outcome>) -> Vec<Choice> {
        let mut aims = vec![self.rule.wanted];
        for aim in [Wanted::Exact, Wanted::LeastWaste] {
            if !aims.contains(&aim) {
                aims.push(aim);
            }
        }
        aims.into_iter()
            .map(|wanted| Choice {
                wanted,
                comes_to: match wanted == self.rule.wanted {
                    true => own,
                    false => self.solve(wanted).ok().map(|s| s.outcome),
                },
            })
            .collect()
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

    /// A limit is kept by an exact run too, so that the better of both stands.
    fn solve(&self, wanted: Wanted) -> Result<Solved, Stuck> {
        let found = self.aimed(wanted)?;
        let Wanted::Within(_) = wanted else {
            return Ok(found);
        };
        let key = |s: &Solved| (s.outcome.boards, s.outcome.changes, s.outcome.wasted);
        match self.aimed(Wanted::Exact) {
            Ok(exact) if key(&exact) < key(&found) => Ok(exact),
            _ => Ok(found),
        }
    }

    fn aimed(&self, wanted: Wanted) -> Result<Solved, Stuck> {
        let columns = self.columns(wanted);
        let problem = Problem {
            columns: &columns,
            boards: &self.boards,
            wanted,
            repeat: self.repeat.across,
            loss: self.cutter.loss(),
        };
        match allocate(&problem) {
            Ok((puts, _)) => Ok(self.solved(&columns, &puts)),
            Err(n) => Err(self.stuck(columns.get(n))),
        }
    }

    fn stuck(&self, column: Option<&Column>) -> Stuck {
        let Some(column) = column else {
            return Stuck::NoSize;
        };
        let front = column.cells.first().map_or(0, |c| c.front);
        if let Some((board, at)) = column.settled {
            let name = self.job.boards.get(board.0).map(|b| b.id.clone());
            return Stuck::Settled {
                front,
                board: name.unwrap_or_default(),
                at,
            };
        }
        let most = |of: fn(Area) -> Length| {
            let offers = self.boards.iter().map(|b| of(b.usable)).max();
            offers.unwrap_or_default()
        };
        let (wide, high) = (most(Area::width), most(Area::height));
        if column.width > wide {
            Stuck::TooWide {
                front,
                needs: column.width,
                offers: wide,
            }
        } else if column.height > high {
            Stuck::TooHigh {
                front,
                needs: column.height,
                offers: high,
            }
        } else {
            Stuck::NoBoardLeft {
                front,
                needs: column.width,
            }
        }
    }

    /// Boards in the order cut, with blanks, strips lost and offcuts; joints with their reasons.
    fn solved(&self, columns: &[Column], puts: &[Put]) -> Solved {
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
