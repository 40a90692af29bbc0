//! Scribes too narrow to fit or tapering so that people see it. Knows strips; must not know walls.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Side, Subject};
use crate::units::Length;

/// Handbook §1 "scribe": min s < 3 mm (C); max s − min s > 20 mm (C).
const NARROW: Length = Length::mm(3);
const TAPER: Length = Length::mm(20);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for piece in &placed.pieces {
            let widths = piece.scribe.iter().map(|p| p.1);
            let (Some(least), Some(most)) = (widths.clone().min(), widths.max()) else {
                continue;
            };
            let (side, place) = match piece.side {
                Side::Left => ("left", run.left.place),
                Side::Right => ("right", run.right.place),
            };
            if least < NARROW {
                let text = format!(
                    "The {side} scribe of “{}” is {least} mm wide at its narrowest.",
                    run.name
                );
                let what = ("scribe-too-narrow", Severity::Warns);
                found.push(
                    finding(what, Subject::Run(i), place, text)
                        .against("3 mm (common practice, no source)")
                        .number(
                            format!("{least} mm"),
                            format!("{NARROW} mm"),
                            -least.in_mm(),
                        )
                        .advise("Give it more width: there is nothing left to fit to the wall."),
                );
            }
            if most - least > TAPER {
                let text = format!(
                    "The {side} scribe of “{}” goes from {least} mm to {most} mm: a taper of {} mm \
                     that people will see.",
                    run.name,
                    most - least
                );
                let what = ("scribe-taper-shows", Severity::Warns);
                found.push(
                    finding(what, Subject::Run(i), place, text)
                        .against("20 mm (common practice, no source)")
                        .number(
                            format!("{} mm", most - least),
                            format!("{TAPER} mm"),
                            (most - least).in_mm(),
                        )
                        .advise(
                            "Have the wall made plumb, or hide the taper behind a wider filler.",
                        )
                        .for_client(
                            format!(
                                "The strip that closes the {side} end of “{}” to the wall is {least} mm \
                                 wide in one place and {most} mm in another, as the wall leans: that is seen.",
                                run.name
                            ),
                            "Have the wall made upright, or let us make the strip wider, so that it shows less.",
                        ),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    #[test]
    fn narrow_and_tapering_scribes() {
        let mut job = fixture::job([3000; 4]);
        let mut run = fixture::run(1);
        run.units[0].top = Length::mm(2100);
        run.right.scribe = Some(Length::mm(2));
        job.runs = vec![run];
        // The strip runs from the floor to 2100, where the wall leans by this much.
        let mut with = |lean| {
            job.rooms[0].walls[1].plumb = fixture::line(&[(0, 0), (2100, lean)]);
            let narrow = found(&job, "scribe-too-narrow").len();
            (narrow, found(&job, "scribe-taper-shows").len())
        };
        assert_eq!(with(20), (1, 0));
        assert_eq!(with(21), (1, 1));
        job.runs[0].right.scribe = Some(Length::mm(3));
        assert_eq!(found(&job, "scribe-too-narrow").len(), 0);
    }
}
