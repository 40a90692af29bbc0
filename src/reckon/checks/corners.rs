//! Corners too far from square for the wall round them to be reckoned simply. Knows turns; must
//! not know what fits them.

use super::finding;
use crate::reckon::opening;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::walls;
use crate::resolve::job::{Job, Side, Subject};
use crate::units::Length;

/// What a wall may come nearer over the depth of a run before it is said (common practice, no
/// source).
const LIMIT: f64 = 3.0;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (index, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let depth = placed.units.iter().map(|u| u.depth_over_fronts).max();
        let reach = (placed.y_back + depth.unwrap_or(Length::ZERO)).in_mm();
        for (side, given) in [(Side::Left, run.from), (Side::Right, run.to)] {
            let Some(corner) = walls::corner(&job.rooms, run.wall, side) else {
                continue;
            };
            let turn = corner.turn.in_millideg();
            if given.is_some() || turn <= 0 || turn == 90_000 {
                continue;
            }
            let name = &corner.neighbour.id;
            let nearer = -reach / libm::tan(corner.turn.in_rad());
            let (text, advice) = if !opening::bounds(&corner) {
                (
                    format!(
                        "The corner of wall {name} by run “{}” turns {}°: its lining and lean are \
                         not taken off the run.",
                        run.name, corner.turn
                    ),
                    "Give the run's `from` or `to` at this corner, as measured.",
                )
            } else if nearer > LIMIT {
                (
                    format!(
                        "Wall {name} is not square to run “{}” ({}°): at the run's front it \
                         stands {nearer:.0} mm nearer than at the back.",
                        run.name, corner.turn
                    ),
                    "Widen the scribe or filler at this end by as much, or give `from` or `to`.",
                )
            } else {
                continue;
            };
            found.push(
                finding(
                    ("corner-not-square", Severity::Warns),
                    Subject::Run(index),
                    run.place,
                    text,
                )
                .against("90°; corners of 45° to 135° are reckoned at the wall's face")
                .advise(advice),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Angle;

    // By hand: turn 95°, depth 580: 580·tan 5° = 50.7 mm nearer at the front.
    #[test]
    fn a_wall_that_comes_nearer() {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].closed = false;
        job.runs = vec![fixture::run(1)];
        let mut texts = |deg| {
            job.rooms[0].walls[0].turn = Angle::deg(deg);
            let list = found(&job, "corner-not-square");
            list.into_iter().map(|f| f.text).collect::<String>()
        };
        assert!(texts(95).contains("51 mm nearer"));
        assert!(texts(140).contains("not taken off"));
        assert_eq!(texts(90), "");
        assert_eq!(texts(85), "", "it opens away from the run");
        assert_eq!(texts(-90), "");
    }
}
