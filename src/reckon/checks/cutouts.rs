//! Cut-outs near the edge of a worktop. Knows tops; must not know their strength.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};
use crate::units::Length;

/// What must be left between a cut-out and an edge (common practice, no source).
const LIMIT: Length = Length::mm(40);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (top, placed)) in job.worktops.iter().zip(&reckoned.worktops).enumerate() {
        for (given, cut) in top.cutouts.iter().zip(&placed.cutouts) {
            let left_standing = [
                cut.left - placed.left,
                placed.right - cut.right,
                cut.y_back - placed.y_back,
                placed.y_front - cut.y_front,
            ];
            let Some(least) = left_standing.into_iter().min().filter(|l| *l < LIMIT) else {
                continue;
            };
            let text = format!(
                "Between the cut-out “{}” and the nearest edge of “{}” only {least} mm are left.",
                cut.what, top.name
            );
            found.push(
                finding(
                    ("cutout-near-edge", Severity::Warns),
                    Subject::Worktop(i),
                    given.place,
                    text,
                )
                .against("40 mm (common practice, no source; the board's maker may ask for more)")
                .advise("Move the cut-out, or ask the board's maker.")
                .for_client(
                    format!(
                        "The cut-out “{}” comes within {least} mm of an edge of “{}”: so narrow a strip may crack.",
                        cut.what, top.name
                    ),
                    "Something smaller, or another place for it.",
                ),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::diag::Place;
    use crate::reckon::fixture;
    use crate::resolve::job::{Cutout, Worktop};
    use crate::units::Length;

    // By hand: the top is 580 deep; 450 of cut-out 90 from the front leave 40 behind it.
    #[test]
    fn a_cutout_near_the_wall() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |depth| {
            job.worktops = vec![Worktop {
                cutouts: vec![Cutout {
                    what: "sink".into(),
                    at: Length::mm(1500),
                    width: Length::mm(500),
                    depth: Length::mm(depth),
                    from_front: Length::mm(90),
                    radius: Length::ZERO,
                    place: Place::NOWHERE,
                }],
                ..fixture::worktop(18)
            }];
            found(&job, "cutout-near-edge").len()
        };
        assert_eq!((with(450), with(451)), (0, 1));
    }
}
