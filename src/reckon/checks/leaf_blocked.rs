//! Doors that cannot swing open because a unit of another run stands where they turn. Knows leaves
//! and boxes on plan; must not know handles, walls or room doors.

use super::{finding, names};
use crate::reckon::placed::{Finding, PlacedFront, Reckoned, Severity};
use crate::reckon::plan::{self, Quad};
use crate::resolve::job::{FrontKind, Job, Side, Subject};

/// Of the leaf's width: a point half way round a quarter turn (cos 45°).
const HALF_WAY: f64 = core::f64::consts::FRAC_1_SQRT_2;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for front in reckoned.fronts.iter().filter(|f| f.kind == FrontKind::Door) {
        let Some(swept) = swept(reckoned, front) else {
            continue;
        };
        let mut before: Vec<&str> = Vec::new();
        for (run, placed) in job.runs.iter().zip(&reckoned.runs) {
            let wall = reckoned
                .rooms
                .get(placed.wall.room)
                .and_then(|r| r.walls.get(placed.wall.wall));
            let elsewhere = placed.wall.room != front.wall.room || placed.wall == front.wall;
            let Some(wall) = wall.filter(|_| !elsewhere) else {
                continue;
            };
            for (unit, at) in run.units.iter().zip(&placed.units) {
                let far = placed.y_back + at.depth_over_fronts;
                let stands = plan::footprint(wall, at.left, at.right, placed.y_back, far);
                let level = front.bottom < at.top && at.base < front.top;
                if level && plan::overlap(&swept, &stands, 1.0) {
                    before.push(&unit.name);
                }
            }
        }
        let Some(unit) = job
            .runs
            .get(front.run)
            .and_then(|r| r.units.get(front.unit))
        else {
            continue;
        };
        if before.is_empty() {
            continue;
        }
        let text = format!(
            "Door {} of “{}” cannot open square to its unit: {} in its way.",
            front.number,
            unit.name,
            match before.as_slice() {
                [one] => format!("“{one}” stands"),
                many => format!("{} stand", names(many)),
            }
        );
        found.push(
            finding(
                ("leaf-blocked", Severity::Warns),
                Subject::Unit(front.run, front.unit),
                unit.place,
                text,
            )
            .against("a quarter turn of the leaf about its hinged edge, handle not counted")
            .advise("Hinge it on the other side, keep the runs apart by the width of the leaf, or put a filler in the corner."),
        );
    }
}

/// Inside the quarter disc the leaf sweeps, so that nothing it clears is reported.
fn swept(reckoned: &Reckoned, front: &PlacedFront) -> Option<Quad> {
    let room = reckoned.rooms.get(front.wall.room)?;
    let wall = room.walls.get(front.wall.wall)?;
    let (wide, y) = (front.width().in_mm(), front.y_face.in_mm());
    let (hinge, way) = match front.hinge? {
        Side::Left => (front.left.in_mm(), 1.0),
        Side::Right => (front.right.in_mm(), -1.0),
    };
    let (out, along) = (wide * HALF_WAY, hinge + way * wide * HALF_WAY);
    Some([
        wall.at(hinge, y),
        wall.at(hinge + way * wide, y),
        wall.at(along, y + out),
        wall.at(hinge, y + wide),
    ])
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{FrontKind, WallRef};
    use crate::units::Length;

    // By hand: on wall A a pair of doors over 2400 mm, each about 1200 wide, so the right-hand one
    // hinges near x 2400 and sweeps to about 1800 out there. A run on wall B, 580 deep, reaches back
    // to x 2420 in a room 3000 long: clear. In a room 2600 long it reaches to 2020, and stands before
    // the leaf if it begins 700 along wall B; one that begins 2200 along is beyond the leaf's tip.
    #[test]
    fn a_run_round_the_corner_stands_before_a_door() {
        let with = |long, from| {
            let mut job = fixture::job([long, 3600, long, 3600]);
            let mut other = fixture::run(1);
            other.wall = WallRef { room: 0, wall: 1 };
            other.from = Some(Length::mm(from));
            job.runs = vec![fixture::run(1), other];
            job.runs[0].to = Some(Length::mm(2400));
            job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
            found(&job, "leaf-blocked").len()
        };
        assert_eq!(
            (with(3000, 700), with(2600, 700), with(2600, 2200)),
            (0, 1, 0)
        );
    }
}
