//! Tops against the lowest ceiling over them. Knows heights; must not know how a unit is stood up.

use super::finding;
use crate::diag::Place;
use crate::reckon::ceiling::{Stretch, lowest};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject, WallRef};
use crate::units::Length;

/// Over a top, to get it in at all (common practice, no source).
const TIGHT: Length = Length::mm(10);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let low = |wall, (left, right), (near, far)| {
        let over = Stretch {
            wall,
            left,
            right,
            near,
            far,
        };
        lowest(job, &reckoned.rooms, &over)
    };
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let depth = (placed.y_back, placed.y_back + at.depth_over_fronts);
            let ceiling = low(run.wall, (at.left, at.right), depth);
            let what = Top {
                name: &unit.name,
                subject: Subject::Unit(r, u),
                place: unit.place,
                top: at.top,
            };
            judge(what, ceiling, found);
        }
    }
    for (i, (panel, at)) in job.panels.iter().zip(&reckoned.panels).enumerate() {
        let ceiling = low(at.wall, (panel.from, panel.to), (at.y_back, at.y_face));
        let what = Top {
            name: &panel.name,
            subject: Subject::Panel(i),
            place: panel.place,
            top: at.top,
        };
        judge(what, ceiling, found);
    }
    for (i, (leaf, at)) in job.sliding.iter().zip(&reckoned.sliding).enumerate() {
        let wall: WallRef = at.wall;
        let ceiling = low(
            wall,
            (at.track_left, at.track_right),
            (at.y_back, at.y_face),
        );
        let what = Top {
            name: &leaf.name,
            subject: Subject::Sliding(i),
            place: leaf.place,
            top: at.top,
        };
        judge(what, ceiling, found);
    }
}

struct Top<'a> {
    name: &'a str,
    subject: Subject,
    place: Place,
    top: Length,
}

fn judge(what: Top<'_>, ceiling: Length, found: &mut Vec<Finding>) {
    let clear = ceiling - what.top;
    if clear.is_negative() {
        let text = format!(
            "The top of “{}”, at {} mm, is {} mm above the lowest ceiling over it, at {ceiling} mm.",
            what.name, what.top, -clear
        );
        let code = ("top-above-ceiling", Severity::Blocks);
        found.push(
            finding(code, what.subject, what.place, text)
                .against("the ceiling as surveyed, with slopes and bulkheads")
                .advise("Lower the top, or make the depth less where the ceiling comes down.")
                .for_client(
                    format!(
                        "“{}” as drawn is {} mm higher than the ceiling over it.",
                        what.name, -clear
                    ),
                    "It must become lower, or less deep where the ceiling comes down.",
                ),
        );
    } else if clear < TIGHT {
        let text = format!(
            "Only {clear} mm are left over “{}”, under the lowest ceiling over it, at {ceiling} mm.",
            what.name
        );
        let code = ("tight-under-ceiling", Severity::Warns);
        found.push(
            finding(code, what.subject, what.place, text)
                .against("10 mm (common practice, no source)")
                .advise("Check the ceiling with a straight edge along the whole length, or lower the top."),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    #[test]
    fn a_top_through_or_close_under_the_ceiling() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut at = |top| {
            job.runs[0].units[0].top = Length::mm(top);
            let above = found(&job, "top-above-ceiling");
            (above.len(), found(&job, "tight-under-ceiling").len())
        };
        // The ceiling is at 2440 in the fixture.
        assert_eq!(at(2430), (0, 0));
        assert_eq!(at(2431), (0, 1));
        assert_eq!(at(2441), (1, 0));
    }
}
