//! The ceiling over a footprint: surveyed points, slopes and bulkheads. Knows the room; must not
//! know what stands under it.

use super::placed::{PlacedRoom, PlacedWall};
use super::{plan, profile};
use crate::resolve::job::{Job, Slope, WallRef};
use crate::units::Length;

/// A box on plan against a wall: along it, and out from its surveyed face.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    pub wall: WallRef,
    pub left: Length,
    pub right: Length,
    pub near: Length,
    pub far: Length,
}

/// Lowest ceiling over it, from finished floor, down to a half-millimetre.
pub fn lowest(job: &Job, rooms: &[PlacedRoom], over: &Stretch) -> Length {
    let wall = job.wall(over.wall);
    let mut low = profile::extremes(&wall.ceiling, over.left, over.right).0;
    let (Some(room), Some(placed)) = (job.rooms.get(over.wall.room), rooms.get(over.wall.room))
    else {
        return profile::down(low);
    };
    let Some(own) = placed.walls.get(over.wall.wall) else {
        return profile::down(low);
    };
    let quad = plan::footprint(own, over.left, over.right, over.near, over.far);
    for slope in &room.slopes {
        if let Some(from) = placed.walls.get(slope.wall) {
            for height in under_slope(slope, from, &quad) {
                low = low.min(height);
            }
        }
    }
    for (wall, at) in room.walls.iter().zip(&placed.walls) {
        for b in &wall.bulkheads {
            let beam = plan::footprint(at, b.from, b.to, Length::ZERO, b.out);
            if plan::overlap(&quad, &beam, 0.5) {
                low = low.min(b.underside);
            }
        }
    }
    profile::down(low)
}

/// Height of the slope over the nearest and farthest corner, where it is still below its top: it
/// rises straight from `low` at its wall to `high` at `over` from it.
fn under_slope(slope: &Slope, from: &PlacedWall, quad: &plan::Quad) -> Vec<Length> {
    let over = slope.over.in_mm();
    let distances = quad.iter().map(|p| plan::distance(from, *p));
    distances
        .filter(|d| *d < over)
        .map(|d| {
            let part = if over > 0.0 { (d / over).max(0.0) } else { 0.0 };
            slope.low + Length::from_mm((slope.high - slope.low).in_mm() * part)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, walls};
    use super::*;
    use crate::resolve::job::Bulkhead;

    fn lowest_over(job: &Job, wall: usize, x: (i64, i64), y: (i64, i64)) -> Length {
        let rooms = walls::place_rooms(job);
        let over = Stretch {
            wall: WallRef { room: 0, wall },
            left: Length::mm(x.0),
            right: Length::mm(x.1),
            near: Length::mm(y.0),
            far: Length::mm(y.1),
        };
        lowest(job, &rooms, &over)
    }

    // By hand. Slope from wall C: 1380 at it, 2440 at 1460 from it, so 1380 + 1060·120/1460 =
    // 1467.12 at 120 from it. On wall B (3380 long, to C's corner) the stretch to 3000 ends 380
    // from C: 1380 + 1060·380/1460 = 1655.89.
    #[test]
    fn slope_is_lowest_nearest_its_wall() {
        let mut job = fixture::job([4620, 3380, 4620, 3380]);
        job.rooms[0].slopes = vec![Slope {
            wall: 2,
            low: Length::mm(1380),
            high: Length::mm(2440),
            over: Length::mm(1460),
        }];
        assert_eq!(
            lowest_over(&job, 2, (300, 3300), (120, 600)),
            Length::mm(1467)
        );
        assert_eq!(
            lowest_over(&job, 1, (2000, 3000), (0, 300)),
            Length::um(1_655_500)
        );
        assert_eq!(
            lowest_over(&job, 0, (300, 3300), (0, 600)),
            Length::mm(2440)
        );
    }

    #[test]
    fn surveyed_dips_and_bulkheads_count_where_they_reach() {
        let mut job = fixture::job([4620, 3380, 4620, 3380]);
        job.rooms[0].walls[0].ceiling = fixture::line(&[(0, 2438), (2300, 2431), (4620, 2442)]);
        job.rooms[0].walls[0].bulkheads = vec![Bulkhead {
            what: "beam".into(),
            from: Length::mm(3000),
            to: Length::mm(4620),
            underside: Length::mm(2236),
            out: Length::mm(320),
        }];
        assert_eq!(lowest_over(&job, 0, (0, 2500), (0, 600)), Length::mm(2431));
        assert_eq!(lowest_over(&job, 0, (0, 3200), (0, 600)), Length::mm(2236));
        assert_eq!(
            lowest_over(&job, 0, (2300, 3200), (330, 600)),
            Length::mm(2431)
        );
        // The beam runs to wall B's left corner and reaches 320 along it.
        assert_eq!(lowest_over(&job, 1, (0, 900), (0, 600)), Length::mm(2236));
    }
}
