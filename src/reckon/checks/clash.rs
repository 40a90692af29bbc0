//! Things that would stand in the same place. Knows boxes on plan and in height; must not know
//! what opens.

use super::finding;
use crate::diag::Place;
use crate::reckon::outline::{Around, Grid};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::plan::{self, Quad};
use crate::resolve::job::{Job, Subject, WallRef};
use crate::units::Length;

struct Block {
    room: usize,
    quad: Quad,
    bottom: Length,
    top: Length,
    name: String,
    subject: Subject,
    place: Place,
    /// Things of one owner (a run) are set out so as not to clash.
    owner: Option<usize>,
}

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let blocks = blocks(job, reckoned);
    let grid = Grid::new(blocks.iter().map(|b| Around::of(&b.quad)).collect());
    for (i, a) in blocks.iter().enumerate() {
        let near = grid.near(&Around::of(&a.quad));
        for b in near.into_iter().filter(|j| *j > i) {
            let Some(b) = blocks.get(b) else { continue };
            let apart = a.room != b.room
                || (a.owner.is_some() && a.owner == b.owner)
                || a.bottom >= b.top
                || b.bottom >= a.top;
            if apart || !plan::overlap(&a.quad, &b.quad, 0.5) {
                continue;
            }
            let text = format!("“{}” and “{}” stand in the same place.", a.name, b.name);
            found.push(
                finding(
                    ("things-overlap", Severity::Blocks),
                    b.subject.clone(),
                    b.place,
                    text,
                )
                .against("two things cannot be in one place")
                .advise("Move one along its wall, or make one narrower, lower or less deep.")
                .for_client_too(
                    "One of them must move or become smaller: please tell us which matters more to you.",
                ),
            );
        }
    }
}

fn blocks(job: &Job, reckoned: &Reckoned) -> Vec<Block> {
    let mut out = Vec::new();
    let quad = |wall: WallRef, x: (Length, Length), y: (Length, Length)| {
        let placed = reckoned.rooms.get(wall.room)?.walls.get(wall.wall)?;
        Some(plan::footprint(placed, x.0, x.1, y.0, y.1))
    };
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let deep = (placed.y_back, placed.y_back + at.depth_over_fronts);
            out.extend(quad(run.wall, (at.left, at.right), deep).map(|quad| Block {
                room: run.wall.room,
                quad,
                bottom: at.base,
                top: at.top,
                name: unit.name.clone(),
                subject: Subject::Unit(r, u),
                place: unit.place,
                owner: Some(r),
            }));
        }
    }
    for (i, (panel, at)) in job.panels.iter().zip(&reckoned.panels).enumerate() {
        let deep = (at.y_back, at.y_face);
        out.extend(
            quad(at.wall, (panel.from, panel.to), deep).map(|quad| Block {
                room: at.wall.room,
                quad,
                bottom: at.bottom,
                top: at.top,
                name: panel.name.clone(),
                subject: Subject::Panel(i),
                place: panel.place,
                owner: None,
            }),
        );
    }
    for (i, (leaf, at)) in job.sliding.iter().zip(&reckoned.sliding).enumerate() {
        let deep = (at.y_back, at.y_face);
        out.extend(
            quad(at.wall, (at.track_left, at.track_right), deep).map(|quad| Block {
                room: at.wall.room,
                quad,
                bottom: at.bottom,
                top: at.top,
                name: leaf.name.clone(),
                subject: Subject::Sliding(i),
                place: leaf.place,
                owner: None,
            }),
        );
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::WallRef;
    use crate::units::Length;

    // By hand: a run 580 deep on wall A reaches 580 along wall B from its left corner.
    #[test]
    fn runs_on_one_wall_and_round_a_corner() {
        let mut job = fixture::job([3000; 4]);
        let mut other = fixture::run(1);
        other.from = Some(Length::mm(1000));
        job.runs = vec![fixture::run(1), other];
        assert_eq!(found(&job, "things-overlap").len(), 1);
        job.runs[0].to = Some(Length::mm(1000));
        assert_eq!(found(&job, "things-overlap").len(), 0);
        job.runs[1].wall = WallRef { room: 0, wall: 1 };
        job.runs[0].to = None;
        for (from, want) in [(579, 1), (580, 0)] {
            job.runs[1].from = Some(Length::mm(from));
            assert_eq!(found(&job, "things-overlap").len(), want, "{from}");
        }
    }
}
