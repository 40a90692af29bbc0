//! When a turning outline first touches one that stands. Knows points, circles and segments on a
//! plane, exact but for rounding; must not know what either outline is.

use core::f64::consts::TAU;

use crate::reckon::placed::PlanPoint;
use crate::reckon::plan::{self, Quad};

/// A turn about an axis: +1 turns from x towards y, −1 the other way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    pub axis: PlanPoint,
    pub way: f64,
}

impl Turn {
    /// Where a point stands after so many rad.
    pub fn at(&self, p: PlanPoint, angle: f64) -> PlanPoint {
        let (sin, cos) = libm::sincos(self.way * angle);
        let (x, y) = (p.x - self.axis.x, p.y - self.axis.y);
        PlanPoint {
            x: self.axis.x + x * cos - y * sin,
            y: self.axis.y + x * sin + y * cos,
        }
    }

    pub fn quad(&self, quad: &Quad, angle: f64) -> Quad {
        quad.map(|p| self.at(p, angle))
    }

    /// Rad from rest at which `moving` first touches `fixed`, both convex, within a whole turn; zero
    /// if they overlap at rest; `None` if they never touch. A corner of one meets an edge of the
    /// other: nothing else can come first.
    pub fn contact(&self, moving: &Quad, fixed: &Quad) -> Option<f64> {
        if plan::overlap(moving, fixed, 0.0) {
            return Some(0.0);
        }
        let far = |q: &Quad| q.map(|p| libm::hypot(p.x - self.axis.x, p.y - self.axis.y));
        let reach = far(moving).into_iter().fold(0.0, f64::max);
        if nearest(self.axis, fixed) > reach {
            return None;
        }
        let back = Turn {
            way: -self.way,
            ..*self
        };
        let mut first = f64::INFINITY;
        for p in moving {
            self.meets(*p, fixed, &mut first);
        }
        for p in fixed {
            back.meets(*p, moving, &mut first);
        }
        first.is_finite().then_some(first)
    }

    /// Rad at which a point meets the edges of an outline, where that is before `first`.
    fn meets(&self, p: PlanPoint, outline: &Quad, first: &mut f64) {
        let (px, py) = (p.x - self.axis.x, p.y - self.axis.y);
        let square = px * px + py * py;
        if square < 1e-9 {
            return;
        }
        let [a, b, c, d] = *outline;
        for (a, b) in [(a, b), (b, c), (c, d), (d, a)] {
            let (ax, ay) = (a.x - self.axis.x, a.y - self.axis.y);
            let (dx, dy) = (b.x - a.x, b.y - a.y);
            let (aa, bb, cc) = (
                dx * dx + dy * dy,
                ax * dx + ay * dy,
                ax * ax + ay * ay - square,
            );
            let root = bb * bb - aa * cc;
            if aa < 1e-9 || root < 0.0 {
                continue;
            }
            let root = libm::sqrt(root);
            for t in [(-bb - root) / aa, (-bb + root) / aa] {
                if (0.0..=1.0).contains(&t) {
                    let (x, y) = (ax + t * dx, ay + t * dy);
                    // From the point to where it meets, the way it turns.
                    let turned = libm::atan2(px * y - py * x, px * x + py * y);
                    *first = first.min((self.way * turned).rem_euclid(TAU));
                }
            }
        }
    }
}

/// Of an outline from a point outside it, mm; zero inside is not asked for.
fn nearest(from: PlanPoint, outline: &Quad) -> f64 {
    let [a, b, c, d] = *outline;
    let to_edge = |(a, b): (PlanPoint, PlanPoint)| {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let long = dx * dx + dy * dy;
        let along = (from.x - a.x) * dx + (from.y - a.y) * dy;
        let t = if long > 0.0 {
            (along / long).clamp(0.0, 1.0)
        } else {
            0.0
        };
        libm::hypot(a.x + t * dx - from.x, a.y + t * dy - from.y)
    };
    [(a, b), (b, c), (c, d), (d, a)]
        .map(to_edge)
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> PlanPoint {
        PlanPoint { x, y }
    }

    fn rect(x: (f64, f64), y: (f64, f64)) -> Quad {
        [p(x.0, y.0), p(x.1, y.0), p(x.1, y.1), p(x.0, y.1)]
    }

    const FROM_X_TO_Y: Turn = Turn {
        axis: PlanPoint { x: 0.0, y: 0.0 },
        way: 1.0,
    };

    // By trigonometry: a leaf without thickness, 1000 long, meets a wall at y = 500 when its tip is
    // there: sin⁻¹ 0.5 = 30°; a wall at x ≤ −500 at 90° + 30°; a post with its corner at (300, 400)
    // when the leaf lies along it: tan⁻¹ 4/3 = 53.13°; a wall beyond its reach never.
    #[test]
    fn a_tip_meets_a_wall_and_an_edge_meets_a_post() {
        let leaf = rect((0.0, 1000.0), (-1e-4, 0.0));
        let at = |fixed: Quad| FROM_X_TO_Y.contact(&leaf, &fixed).map(f64::to_degrees);
        let near = |got: Option<f64>, want: f64| (got.unwrap() - want).abs() < 1e-3;
        assert!(near(at(rect((-2000.0, 2000.0), (500.0, 600.0))), 30.0));
        assert!(near(at(rect((-700.0, -500.0), (-100.0, 2000.0))), 120.0));
        assert!(near(at(rect((200.0, 300.0), (400.0, 500.0))), 53.1301));
        assert_eq!(at(rect((-2000.0, 2000.0), (1001.0, 1100.0))), None);
        assert_eq!(at(rect((500.0, 600.0), (-50.0, 50.0))), Some(0.0));
    }

    // The mirror image turns the other way to the same angle.
    #[test]
    fn the_other_way_is_the_mirror_image() {
        let other = Turn {
            way: -1.0,
            ..FROM_X_TO_Y
        };
        let (leaf, wall) = (
            rect((0.0, 700.0), (-22.0, 0.0)),
            rect((-900.0, -120.0), (10.0, 900.0)),
        );
        let flip = |q: Quad| q.map(|at| p(-at.x, at.y));
        let one = FROM_X_TO_Y.contact(&leaf, &wall).unwrap();
        let two = other.contact(&flip(leaf), &flip(wall)).unwrap();
        assert!((one - two).abs() < 1e-12);
    }
}
