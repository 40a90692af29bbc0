//! Whether the survey agrees with itself: walls that close, diagonals that fit. Knows plans; must
//! not know furniture.

use super::finding;
use crate::reckon::ceiling::{Stretch, lowest};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject, WallRef};
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
                    .number(
                        format!("{:.0} mm", closure.error.in_mm()),
                        format!("{LIMIT} mm"),
                        closure.error.in_mm(),
                    )
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
                    .number(
                        format!("{:.0} mm", off.abs().in_mm()),
                        format!("{LIMIT} mm"),
                        off.abs().in_mm(),
                    )
                    .advise(
                        "A corner may be out of square: measure the diagonal and the corner again.",
                    ),
            );
        }
    }
}

/// Doorways and windows reach no higher than the ceiling over them.
pub fn openings(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, room) in job.rooms.iter().enumerate() {
        for (w, wall) in room.walls.iter().enumerate() {
            let at = WallRef { room: r, wall: w };
            let doors = wall.doors.iter();
            let doors = doors.map(|d| ("doorway", d.at, d.width, d.height));
            let windows = wall.windows.iter();
            let windows = windows.map(|o| ("window", o.at, o.width, o.sill + o.height));
            for (what, from, width, top) in doors.chain(windows) {
                let over = Stretch {
                    wall: at,
                    left: from,
                    right: from + width,
                    near: Length::ZERO,
                    far: Length::mm(1),
                };
                let ceiling = lowest(job, &reckoned.rooms, &over);
                if ceiling >= top {
                    continue;
                }
                let text = format!(
                    "The {what} at {from} mm in wall {} of “{}” reaches to {top} mm, but the \
                     ceiling there comes down to {ceiling} mm.",
                    wall.id, room.name
                );
                found.push(
                    finding(
                        ("opening-above-ceiling", Severity::Warns),
                        Subject::Wall(at),
                        wall.place,
                        text,
                    )
                    .against("the ceiling as surveyed, with slopes and bulkheads")
                    .advise("One of the two was measured or written down wrongly: measure again."),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::diag::Place;
    use crate::reckon::fixture;
    use crate::resolve::job::{Diagonal, Slope, WallDoor};
    use crate::units::Length;

    // Handbook §1 (C): over 10 mm, or over 1:500. By hand: 5 mm over 2005 mm of wall is 1:401.
    #[test]
    fn a_survey_that_does_not_close() {
        let of = |lengths| found(&fixture::job(lengths), "survey-does-not-close");
        assert_eq!(of([4620, 3380, 4610, 3380]).len(), 0);
        assert_eq!(of([4620, 3380, 4609, 3380]).len(), 1);
        assert_eq!(of([600, 400, 605, 400]).len(), 1);
    }

    // By hand: the slope rises 1380 to 2440 over 1460 from wall C; a doorway in wall B that ends 730
    // from C has 1380 + 1060·730/1460 = 1910 over it.
    #[test]
    fn a_doorway_higher_than_the_ceiling() {
        let mut job = fixture::job([4620, 3380, 4620, 3380]);
        job.rooms[0].slopes = vec![Slope {
            wall: 2,
            low: Length::mm(1380),
            high: Length::mm(2440),
            over: Length::mm(1460),
        }];
        let mut with = |height| {
            job.rooms[0].walls[1].doors = vec![WallDoor {
                at: Length::mm(1750),
                width: Length::mm(900),
                height: Length::mm(height),
                leads_to: "next".into(),
                hinge: None,
                opens_in: false,
            }];
            found(&job, "opening-above-ceiling")
        };
        assert_eq!(with(1910).len(), 0);
        let text = with(2030).remove(0).text;
        assert!(text.contains("down to 1910 mm"), "{text}");
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
