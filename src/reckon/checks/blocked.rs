//! Doorways and windows of the room that something stands before. Knows openings and boxes; must
//! not know leaves that swing.

use super::finding;
use crate::diag::Place;
use crate::reckon::placed::{Finding, PlacedWall, Reckoned, Severity};
use crate::reckon::plan::{self, Quad};
use crate::resolve::job::{Job, Subject, WallRef};
use crate::units::Length;

/// To walk through a doorway, in front of it (common practice, no source).
const PASSAGE: Length = Length::mm(600);
/// Before a window counts as covered (common practice, no source).
const LIGHT: Length = Length::mm(100);

/// A unit or panel on plan and in height.
struct Thing<'a> {
    wall: WallRef,
    quad: Quad,
    bottom: Length,
    top: Length,
    name: &'a str,
    subject: Subject,
    place: Place,
    /// Panels cover only openings of their own wall: they are thin.
    thin: bool,
}

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for thing in things(job, reckoned) {
        let (Some(room), Some(placed)) = (
            job.rooms.get(thing.wall.room),
            reckoned.rooms.get(thing.wall.room),
        ) else {
            continue;
        };
        for (i, (wall, at)) in room.walls.iter().zip(&placed.walls).enumerate() {
            if thing.thin && i != thing.wall.wall {
                continue;
            }
            let before = |x: Length, width: Length, deep: Length| {
                let zone: Quad =
                    plan::footprint(at as &PlacedWall, x, x + width, Length::ZERO, deep);
                plan::overlap(&thing.quad, &zone, 0.5)
            };
            for door in &wall.doors {
                if thing.bottom < door.height && before(door.at, door.width, PASSAGE) {
                    let text = format!(
                        "“{}” stands before the doorway in wall {} of “{}”, at {} to {} mm.",
                        thing.name,
                        wall.id,
                        room.name,
                        door.at,
                        door.at + door.width
                    );
                    found.push(
                        finding(
                            ("doorway-blocked", Severity::Blocks),
                            thing.subject.clone(),
                            thing.place,
                            text,
                        )
                        .against("600 mm clear before a doorway (common practice, no source)")
                        .advise("Move it clear of the doorway: it is also a way out in a fire.")
                        .for_client(
                            format!(
                                "“{}” would stand before a doorway of “{}”.",
                                thing.name, room.name
                            ),
                            "It must move clear of the doorway, which is also a way out in a fire.",
                        ),
                    );
                }
            }
            for window in &wall.windows {
                let level = thing.bottom < window.sill + window.height && thing.top > window.sill;
                if level && before(window.at, window.width, LIGHT) {
                    let text = format!(
                        "“{}” stands before the window in wall {} of “{}”, at {} to {} mm.",
                        thing.name,
                        wall.id,
                        room.name,
                        window.at,
                        window.at + window.width
                    );
                    found.push(
                        finding(
                            ("window-covered", Severity::Warns),
                            thing.subject.clone(),
                            thing.place,
                            text,
                        )
                        .against("the window as surveyed")
                        .advise("Move it, or agree with the client that the window is covered; mind a way out in a fire.")
                        .for_client(
                            format!("“{}” stands before a window of “{}”, and takes light and reach from it.", thing.name, room.name),
                            "Another place, a lower height, or the window covered. A window can be a way out in a fire.",
                        ),
                    );
                }
            }
        }
    }
}

fn things<'a>(job: &'a Job, reckoned: &Reckoned) -> Vec<Thing<'a>> {
    let mut out = Vec::new();
    let placed = |wall: WallRef| reckoned.rooms.get(wall.room)?.walls.get(wall.wall);
    for (r, (run, at)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let Some(wall) = placed(run.wall) else {
            continue;
        };
        for (u, (unit, stand)) in run.units.iter().zip(&at.units).enumerate() {
            let far = at.y_back + stand.depth_over_fronts;
            out.push(Thing {
                wall: run.wall,
                // From the wall itself, so that a unit far off the wall still blocks it.
                quad: plan::footprint(wall, stand.left, stand.right, Length::ZERO, far),
                bottom: stand.base,
                top: stand.top,
                name: &unit.name,
                subject: Subject::Unit(r, u),
                place: unit.place,
                thin: false,
            });
        }
    }
    for (i, (panel, at)) in job.panels.iter().zip(&reckoned.panels).enumerate() {
        let Some(wall) = placed(at.wall) else {
            continue;
        };
        out.push(Thing {
            wall: at.wall,
            quad: plan::footprint(wall, panel.from, panel.to, Length::ZERO, at.y_face),
            bottom: at.bottom,
            top: at.top,
            name: &panel.name,
            subject: Subject::Panel(i),
            place: panel.place,
            thin: true,
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{WallDoor, Window};
    use crate::units::Length;

    // By hand: the run on wall A is 580 deep, so it stands before a doorway on wall D, which ends at
    // A's left corner, if that reaches past 3000 − 580 = 2420.
    #[test]
    fn a_doorway_on_the_wall_round_the_corner() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |at| {
            job.rooms[0].walls[3].doors = vec![WallDoor {
                at: Length::mm(at),
                width: Length::mm(800),
                height: Length::mm(2000),
                leads_to: "landing".into(),
                hinge: None,
                opens_in: false,
            }];
            found(&job, "doorway-blocked").len()
        };
        assert_eq!((with(1620), with(1700)), (0, 1));
    }

    #[test]
    fn a_window_behind_a_unit() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |sill| {
            job.rooms[0].walls[0].windows = vec![Window {
                at: Length::mm(500),
                width: Length::mm(1000),
                height: Length::mm(300),
                sill: Length::mm(sill),
                reveal: Length::ZERO,
            }];
            found(&job, "window-covered").len()
        };
        assert_eq!((with(1900), with(2000)), (1, 0));
    }
}
