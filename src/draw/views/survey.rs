//! The room as it was measured, between the points where it was: floor, ceiling, leaning corners.
//! Knows surveys and straight lines between their points; must not know furniture or how it is drawn.

use crate::reckon::placed::{PlacedWall, PlanPoint, Reckoned};
use crate::resolve::job::{Job, Side, Wall, WallRef};
use crate::units::Length;

/// Value at `at` of points joined by straight lines, level beyond the first and last; mm.
pub fn between(points: &[(Length, Length)], at: f64) -> f64 {
    let mut last: Option<(f64, f64)> = None;
    for (x, v) in points.iter().map(|(x, v)| (x.in_mm(), v.in_mm())) {
        if x >= at {
            return match last {
                Some((x0, v0)) if x > x0 => v0 + (v - v0) * (at - x0) / (x - x0),
                _ => v,
            };
        }
        last = Some((x, v));
    }
    last.map_or(0.0, |(_, v)| v)
}

/// Floor along the wall as (along, height), from corner to corner, mm.
pub fn floor_line(wall: &Wall) -> Vec<(f64, f64)> {
    let length = wall.length.in_mm();
    let mut xs: Vec<f64> = vec![0.0, length];
    xs.extend(wall.floor.iter().map(|p| p.0.in_mm()));
    sorted(xs, length)
        .into_iter()
        .map(|x| (x, between(&wall.floor, x)))
        .collect()
}

/// Underside of the ceiling at the wall's face, slopes taken into account, mm.
pub fn ceiling_line(job: &Job, reckoned: &Reckoned, at: WallRef) -> Vec<(f64, f64)> {
    let wall = job.wall(at);
    let length = wall.length.in_mm();
    let mut xs: Vec<f64> = vec![0.0, length];
    xs.extend(wall.ceiling.iter().map(|p| p.0.in_mm()));
    for k in 0..slopes(job, at) {
        // Linear in x, so two values give the place where the slope ends.
        let d0 = from_slope(job, reckoned, at, k, 0.0, 0.0);
        let d1 = from_slope(job, reckoned, at, k, length, 0.0);
        if let (Some((d0, over)), Some((d1, _))) = (d0, d1)
            && (d1 - d0).abs() > 1.0
        {
            xs.extend([length * (over - d0) / (d1 - d0), length * -d0 / (d1 - d0)]);
        }
    }
    let mut line: Vec<(f64, f64)> = Vec::new();
    for x in sorted(xs, length) {
        line.push((x, ceiling_at(job, reckoned, at, x, 0.0)));
    }
    line
}

/// Underside of the ceiling over a point `x` along and `y` out of a wall, mm.
pub fn ceiling_at(job: &Job, reckoned: &Reckoned, at: WallRef, x: f64, y: f64) -> f64 {
    let flat = between(&job.wall(at).ceiling, x);
    (0..slopes(job, at))
        .filter_map(|k| slope_at(job, reckoned, at, k, x, y))
        .fold(flat, f64::min)
}

fn slopes(job: &Job, at: WallRef) -> usize {
    job.rooms.get(at.room).map_or(0, |r| r.slopes.len())
}

/// Distance of a point from the foot of slope `k`, and how far that slope goes.
fn from_slope(
    job: &Job,
    reckoned: &Reckoned,
    at: WallRef,
    k: usize,
    x: f64,
    y: f64,
) -> Option<(f64, f64)> {
    let slope = job.rooms.get(at.room)?.slopes.get(k)?;
    let foot = placed(
        reckoned,
        WallRef {
            room: at.room,
            wall: slope.wall,
        },
    )?;
    let p = placed(reckoned, at)?.at(x, y);
    let d = (p.x - foot.start.x) * foot.out.x + (p.y - foot.start.y) * foot.out.y;
    Some((d, slope.over.in_mm()))
}

fn slope_at(job: &Job, reckoned: &Reckoned, at: WallRef, k: usize, x: f64, y: f64) -> Option<f64> {
    let (d, over) = from_slope(job, reckoned, at, k, x, y)?;
    let slope = job.rooms.get(at.room)?.slopes.get(k)?;
    let (low, high) = (slope.low.in_mm(), slope.high.in_mm());
    (over > 0.0 && d < over).then(|| low + (high - low) * d.max(0.0) / over)
}

pub fn placed(reckoned: &Reckoned, at: WallRef) -> Option<&PlacedWall> {
    reckoned.rooms.get(at.room)?.walls.get(at.wall)
}

/// The wall round the corner on one side, and whether the corner is an inside one.
pub fn neighbour(job: &Job, at: WallRef, side: Side) -> Option<(&Wall, bool)> {
    let room = job.rooms.get(at.room)?;
    let last = room.walls.len().checked_sub(1)?;
    let this = room.walls.get(at.wall)?;
    match side {
        Side::Left if at.wall > 0 => room.walls.get(at.wall - 1),
        Side::Left if room.closed => room.walls.get(last),
        Side::Right if at.wall < last => room.walls.get(at.wall + 1),
        Side::Right if room.closed => room.walls.first(),
        _ => None,
    }
    .map(|other| {
        let turn = match side {
            Side::Left => other.turn,
            Side::Right => this.turn,
        };
        (other, turn.in_millideg() > 0)
    })
}

/// Where the corner at one side stands at a height, and where its lining to come ends: both along
/// the wall, mm. Handbook §1: at an inside corner the neighbour's lean and lining come in.
pub fn corner_at(job: &Job, at: WallRef, side: Side, z: f64) -> (f64, f64) {
    let length = job.wall(at).length.in_mm();
    let (lean, lining) = match neighbour(job, at, side) {
        Some((other, true)) => (between(&other.plumb, z), other.lining_thickness().in_mm()),
        _ => (0.0, 0.0),
    };
    match side {
        Side::Left => (lean, lean + lining),
        Side::Right => (length - lean, length - lean - lining),
    }
}

/// Heights at which the corner's line bends between floor and ceiling, bottom first, mm.
pub fn corner_heights(job: &Job, at: WallRef, side: Side, floor: f64, ceiling: f64) -> Vec<f64> {
    let mut zs = vec![floor, ceiling];
    if let Some((other, true)) = neighbour(job, at, side) {
        zs.extend(other.plumb.iter().map(|p| p.0.in_mm()));
    }
    zs.retain(|z| *z >= floor && *z <= ceiling);
    zs.sort_by(f64::total_cmp);
    zs.dedup();
    zs
}

/// Where two lines cross, each by a point and a direction; `None` if they run alike.
pub fn crossing(p: PlanPoint, d: PlanPoint, q: PlanPoint, e: PlanPoint) -> Option<PlanPoint> {
    let det = d.x * e.y - d.y * e.x;
    if det.abs() < 1e-6 {
        return None;
    }
    let t = ((q.x - p.x) * e.y - (q.y - p.y) * e.x) / det;
    Some(PlanPoint {
        x: p.x + d.x * t,
        y: p.y + d.y * t,
    })
}

/// In order, none twice, none off the wall.
fn sorted(mut xs: Vec<f64>, length: f64) -> Vec<f64> {
    xs.retain(|x| *x >= 0.0 && *x <= length);
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    xs
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Handbook §1 "Floor" (W): floor at 0, −4, −11 along the run; straight between (from memory:
    /// linear interpolation).
    #[test]
    fn levels_run_straight_between_survey_points() {
        let mm = Length::mm;
        let floor = [(mm(0), mm(0)), (mm(1000), mm(-4)), (mm(2000), mm(-11))];
        assert_eq!(between(&floor, 500.0), -2.0);
        assert_eq!(between(&floor, 1500.0), -7.5);
        assert_eq!(between(&floor, -50.0), 0.0);
        assert_eq!(between(&floor, 9000.0), -11.0);
        assert_eq!(between(&[], 3.0), 0.0);
    }
}
