//! Whether the survey agrees with itself: walls that close, diagonals that fit. Knows plans; must
//! not know furniture.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};
use crate::units::Length;

/// Handbook §1: above 10 mm or 1:500 of the perimeter (C) the survey is questioned.
const LIMIT: Length = Length::mm(10);
const RATIO: i64 = 500;

pub fn closure(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (index, (room, placed)) in job.rooms.iter().zip(&reckoned.rooms).enumerate() {
        let Some(closure) = placed.closure else {
            continue;
        };
        if closure.error > LIMIT || closure.error * RATIO > closure.perimeter {
            let text = format!(
                "The walls of “{}” as surveyed end {:.0} mm from where they begin, over {:.0} mm of wall.",
                room.name,
                closure.error.in_mm(),
                closure.perimeter.in_mm()
            );
            let what = ("survey-does-not-close", Severity::Warns);
            found.push(
                finding(what, Subject::Room(index), room.place, text)
                    .against("10 mm, or 1 mm in 500 mm of wall (common practice, no source)")
                    .advise("Measure the walls and a diagonal again before anything is cut."),
            );
        }
    }
}

pub fn diagonals(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (index, (room, placed)) in job.rooms.iter().zip(&reckoned.rooms).enumerate() {
        for (given, check) in room.diagonals.iter().zip(&placed.diagonals) {
            let off = check.measured - check.computed;
            if off.abs() <= LIMIT {
                continue;
            }
            let id = |wall: usize| room.walls.get(wall).map_or("", |w| w.id.as_str());
            let text = format!(
                "In “{}” the diagonal from the corner where wall {} starts to that of wall {} \
                 measures {} mm; the walls make it {:.0} mm.",
                room.name,
                id(check.from),
                id(check.to),
                check.measured,
                check.computed.in_mm()
            );
            let what = ("diagonal-disagrees", Severity::Warns);
            found.push(
                finding(what, Subject::Room(index), given.place, text)
                    .against("10 mm (common practice, no source)")
                    .advise(
                        "A corner may be out of square: measure the diagonal and the corner again.",
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
    use crate::resolve::job::Diagonal;
    use crate::units::Length;

    // Handbook §1 (C): over 10 mm, or over 1:500. By hand: 5 mm over 2005 mm of wall is 1:401.
    #[test]
    fn a_survey_that_does_not_close() {
        let of = |lengths| found(&fixture::job(lengths), "survey-does-not-close");
        assert_eq!(of([4620, 3380, 4610, 3380]).len(), 0);
        assert_eq!(of([4620, 3380, 4609, 3380]).len(), 1);
        assert_eq!(of([600, 400, 605, 400]).len(), 1);
    }

    #[test]
    fn a_diagonal_that_does_not_fit() {
        let mut job = fixture::job([4000, 3000, 4000, 3000]);
        let mut with = |mm| {
            job.rooms[0].diagonals = vec![Diagonal {
                from: 0,
                to: 2,
                length: Length::mm(mm),
                place: Place::NOWHERE,
            }];
            found(&job, "diagonal-disagrees").len()
        };
        // A 3-4-5 triangle.
        assert_eq!((with(5000), with(5010), with(4989)), (0, 0, 1));
    }
}
