//! Rectangles on plan. Knows convex overlap in millimetres; must not know what stands there.

use super::placed::{PlacedRoom, PlacedWall, PlanPoint};
use crate::units::Length;

pub type Quad = [PlanPoint; 4];

/// The rectangle `left..right` along a wall and `near..far` out of it.
pub fn footprint(
    wall: &PlacedWall,
    left: Length,
    right: Length,
    near: Length,
    far: Length,
) -> Quad {
    let (l, r, n, f) = (left.in_mm(), right.in_mm(), near.in_mm(), far.in_mm());
    [wall.at(l, n), wall.at(r, n), wall.at(r, f), wall.at(l, f)]
}

/// Distance of a point from a wall's surveyed face, into the room, in mm.
pub fn distance(wall: &PlacedWall, p: PlanPoint) -> f64 {
    (p.x - wall.start.x) * wall.out.x + (p.y - wall.start.y) * wall.out.y
}

/// From a wall's surveyed face at `x` along it, straight out to the nearest other wall of its room,
/// in mm; `None` where nothing is met.
pub fn clear_depth(room: &PlacedRoom, wall: usize, x: f64) -> Option<f64> {
    let from = room.walls.get(wall)?;
    let (p, d) = (from.at(x, 0.0), from.out);
    let others = room.walls.iter().enumerate().filter(|(i, _)| *i != wall);
    let met = others.filter_map(|(_, w)| {
        let e = PlanPoint {
            x: w.end.x - w.start.x,
            y: w.end.y - w.start.y,
        };
        let across = d.x * e.y - d.y * e.x;
        if across.abs() < 1e-9 {
            return None;
        }
        let (qx, qy) = (w.start.x - p.x, w.start.y - p.y);
        let away = (qx * e.y - qy * e.x) / across;
        let along = (qx * d.y - qy * d.x) / across;
        (away > 1.0 && (0.0..=1.0).contains(&along)).then_some(away)
    });
    met.fold(None, |least, away| {
        Some(least.map_or(away, |l: f64| l.min(away)))
    })
}

/// Whether two convex quadrilaterals overlap by more than `slack` mm in every direction
/// (separating axis theorem).
pub fn overlap(a: &Quad, b: &Quad, slack: f64) -> bool {
    let axes = edges(a).chain(edges(b));
    for (dx, dy) in axes {
        let len = libm::hypot(dx, dy);
        if len < 1e-9 {
            continue;
        }
        let (nx, ny) = (-dy / len, dx / len);
        let (a0, a1) = reach(a, nx, ny);
        let (b0, b1) = reach(b, nx, ny);
        if a1.min(b1) - a0.max(b0) <= slack {
            return false;
        }
    }
    true
}

fn edges(q: &Quad) -> impl Iterator<Item = (f64, f64)> + '_ {
    q.iter()
        .zip(q.iter().cycle().skip(1))
        .map(|(a, b)| (b.x - a.x, b.y - a.y))
}

fn reach(q: &Quad, nx: f64, ny: f64) -> (f64, f64) {
    q.iter()
        .map(|p| p.x * nx + p.y * ny)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), d| {
            (lo.min(d), hi.max(d))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, size: f64) -> Quad {
        let p = |x, y| PlanPoint { x, y };
        [
            p(x, y),
            p(x + size, y),
            p(x + size, y + size),
            p(x, y + size),
        ]
    }

    #[test]
    fn squares_that_touch_do_not_overlap() {
        assert!(!overlap(&square(0., 0., 10.), &square(10., 0., 10.), 0.5));
        assert!(overlap(&square(0., 0., 10.), &square(9., 9., 10.), 0.5));
        // A diamond in the notch between: its box overlaps, it does not.
        let p = |x, y| PlanPoint { x, y };
        let diamond = [p(15., 9.), p(21., 15.), p(15., 21.), p(9., 15.)];
        assert!(!overlap(&square(0., 0., 10.), &diamond, 0.5));
    }
}
