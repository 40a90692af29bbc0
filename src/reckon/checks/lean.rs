//! A run's own wall leaning into its back. Knows plumb lines and backs; must not know fixings.

use super::finding;
use crate::diag::Place;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::profile;
use crate::resolve::job::{Job, Subject, WallRef};
use crate::units::Length;

/// What a thing put plumb against a wall can hide (common practice, no source).
const LIMIT: Length = Length::mm(3);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let bottom = placed.units.iter().map(|u| u.base).min();
        let top = placed.units.iter().map(|u| u.top).max();
        let span = (bottom.unwrap_or_default(), top.unwrap_or_default());
        let what = (Subject::Run(i), run.place, run.name.as_str());
        found.extend(judge(job, run.wall, span, run.off_wall, what));
    }
}

fn judge(
    job: &Job,
    wall: WallRef,
    (bottom, top): (Length, Length),
    off_wall: Length,
    (subject, place, name): (Subject, Place, &str),
) -> Option<Finding> {
    let lean = profile::extremes(&job.wall(wall).plumb, bottom, top).1;
    let short = profile::up(lean) - off_wall;
    (short > LIMIT).then(|| {
        let text = format!(
            "The wall behind “{name}” leans {} mm into the room over its height, {short} mm more \
             than it stands off the wall.",
            profile::up(lean)
        );
        finding(
            ("wall-leans-into-back", Severity::Warns),
            subject,
            place,
            text,
        )
        .against("3 mm (common practice, no source)")
        .advise("Give it an `off_wall` of as much, or make the wall plumb before it comes.")
        .for_client(
            format!(
                "The wall behind “{name}” leans {} mm into the room.",
                profile::up(lean)
            ),
            "It stands off the wall by as much, or the wall is made upright before it comes.",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    // By hand: leans 12 at 2400, so 10 at the run's top, 2000.
    #[test]
    fn a_wall_that_leans_into_the_run() {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].walls[0].plumb = fixture::line(&[(0, 0), (2400, 12)]);
        job.runs = vec![fixture::run(1)];
        let list = found(&job, "wall-leans-into-back");
        assert!(list[0].text.contains("leans 10 mm"), "{}", list[0].text);
        job.runs[0].off_wall = Length::mm(10);
        assert!(found(&job, "wall-leans-into-back").is_empty());
    }
}
