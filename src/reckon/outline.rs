//! Convex outlines on plan: their overlap, and boxes round them in a grid, so that a thing is held
//! only against what is near it. Knows points; must not know what stands or moves.

use std::collections::BTreeMap;

use crate::reckon::placed::PlanPoint;
use crate::reckon::plan::Quad;

/// Nearer than this is touching, not striking, mm.
pub const TOUCH: f64 = 0.1;

/// Side of a cell of the grid, mm, and how many cells it goes from the origin at most.
const CELL: f64 = 1500.0;
const FARTHEST: f64 = 60.0;

/// An upright box on plan, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    pub x: (f64, f64),
    pub y: (f64, f64),
}

impl Around {
    pub fn of(points: &[PlanPoint]) -> Around {
        let empty = (f64::INFINITY, f64::NEG_INFINITY);
        let with = |s: (f64, f64), v: f64| (s.0.min(v), s.1.max(v));
        points
            .iter()
            .fold(Around { x: empty, y: empty }, |b, p| Around {
                x: with(b.x, p.x),
                y: with(b.y, p.y),
            })
    }

    pub fn about(centre: PlanPoint, reach: f64) -> Around {
        Around {
            x: (centre.x - reach, centre.x + reach),
            y: (centre.y - reach, centre.y + reach),
        }
    }

    pub fn with(self, other: Around) -> Around {
        Around {
            x: (self.x.0.min(other.x.0), self.x.1.max(other.x.1)),
            y: (self.y.0.min(other.y.0), self.y.1.max(other.y.1)),
        }
    }

    pub fn meets(&self, other: &Around) -> bool {
        self.x.0 < other.x.1 && other.x.0 < self.x.1 && self.y.0 < other.y.1 && other.y.0 < self.y.1
    }
}

/// Boxes by the cells they lie in.
pub struct Grid {
    boxes: Vec<Around>,
    cells: BTreeMap<(i32, i32), Vec<usize>>,
}

impl Grid {
    pub fn new(boxes: Vec<Around>) -> Grid {
        let mut cells: BTreeMap<(i32, i32), Vec<usize>> = BTreeMap::new();
        for (i, b) in boxes.iter().enumerate() {
            for cell in cells_of(b) {
                cells.entry(cell).or_default().push(i);
            }
        }
        Grid { boxes, cells }
    }

    /// Indices of the boxes that meet this one, in order.
    pub fn near(&self, at: &Around) -> Vec<usize> {
        let mut out: Vec<usize> = cells_of(at)
            .filter_map(|cell| self.cells.get(&cell))
            .flatten()
            .copied()
            .filter(|i| self.boxes.get(*i).is_some_and(|b| b.meets(at)))
            .collect();
        out.sort_unstable();
        out.dedup();
        out
    }
}

fn cells_of(b: &Around) -> impl Iterator<Item = (i32, i32)> + use<> {
    let cell = |v: f64| (v / CELL).floor().clamp(-FARTHEST, FARTHEST) as i32;
    let (x, y) = ((cell(b.x.0), cell(b.x.1)), (cell(b.y.0), cell(b.y.1)));
    (x.0..=x.1).flat_map(move |i| (y.0..=y.1).map(move |j| (i, j)))
}

/// A rectangle drawn in by so much on every side, to its middle at most.
pub fn inset(quad: &Quad, by: f64) -> Quad {
    let [a, b, c, d] = *quad;
    let side = |p: PlanPoint, q: PlanPoint| {
        let (x, y) = (q.x - p.x, q.y - p.y);
        let long = libm::hypot(x, y);
        let part = if long > 0.0 {
            by.min(long / 2.0) / long
        } else {
            0.0
        };
        (x * part, y * part)
    };
    let ((ux, uy), (vx, vy)) = (side(a, b), side(a, d));
    let moved = |p: PlanPoint, u: f64, v: f64| PlanPoint {
        x: p.x + u * ux + v * vx,
        y: p.y + u * uy + v * vy,
    };
    [
        moved(a, 1.0, 1.0),
        moved(b, -1.0, 1.0),
        moved(c, -1.0, -1.0),
        moved(d, 1.0, -1.0),
    ]
}

/// What two convex outlines have in common (each edge of `other` cuts off what is beyond it);
/// empty if nothing.
pub fn common(one: &[PlanPoint], other: &[PlanPoint]) -> Vec<PlanPoint> {
    let n = other.len() as f64;
    let middle = PlanPoint {
        x: other.iter().map(|p| p.x).sum::<f64>() / n,
        y: other.iter().map(|p| p.y).sum::<f64>() / n,
    };
    let mut left = one.to_vec();
    for (a, b) in other.iter().zip(other.iter().cycle().skip(1)) {
        let side = |p: &PlanPoint| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        let inside = side(&middle);
        let within = |p: &PlanPoint| side(p) * inside >= 0.0;
        let mut next = Vec::with_capacity(left.len() + 1);
        for (p, q) in left.iter().zip(left.iter().cycle().skip(1)) {
            if within(p) {
                next.push(*p);
            }
            if within(p) != within(q) {
                let (sp, sq) = (side(p), side(q));
                let t = sp / (sp - sq);
                next.push(PlanPoint {
                    x: p.x + (q.x - p.x) * t,
                    y: p.y + (q.y - p.y) * t,
                });
            }
        }
        left = next;
    }
    left
}

/// Of a simple outline, mm².
pub fn area(outline: &[PlanPoint]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let twice: f64 = outline
        .iter()
        .zip(next)
        .map(|(p, q)| p.x * q.y - q.x * p.y)
        .sum();
    twice.abs() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x: (f64, f64), y: (f64, f64)) -> Quad {
        let p = |x, y| PlanPoint { x, y };
        [p(x.0, y.0), p(x.1, y.0), p(x.1, y.1), p(x.0, y.1)]
    }

    // By hand: 10 × 10 and 10 × 10 moved by (6, 7) share 4 × 3; a triangle over a square's corner.
    #[test]
    fn outlines_have_their_overlap_in_common() {
        let one = rect((0.0, 10.0), (0.0, 10.0));
        let both = common(&one, &rect((6.0, 16.0), (7.0, 17.0)));
        assert!((area(&both) - 12.0).abs() < 1e-9);
        assert!(common(&one, &rect((20.0, 30.0), (0.0, 10.0))).is_empty());
        let p = |x, y| PlanPoint { x, y };
        let triangle = [p(5.0, 10.0), p(10.0, 5.0), p(15.0, 15.0)];
        assert!((area(&common(&one, &triangle)) - 12.5).abs() < 1e-9);
    }

    #[test]
    fn a_rectangle_drawn_in_is_smaller_all_round() {
        let got = inset(&rect((0.0, 10.0), (0.0, 4.0)), 1.0);
        assert_eq!(got, rect((1.0, 9.0), (1.0, 3.0)));
        let flat = inset(&rect((0.0, 10.0), (0.0, 1.0)), 1.0);
        assert!(area(&flat) < 1e-9, "to its middle at most");
    }

    #[test]
    fn the_grid_finds_all_that_meets_and_nothing_else() {
        let boxes: Vec<Around> = (0..40)
            .map(|i| {
                Around::of(&rect(
                    (f64::from(i) * 900.0, f64::from(i) * 900.0 + 950.0),
                    (0.0, 500.0),
                ))
            })
            .collect();
        let grid = Grid::new(boxes.clone());
        for b in &boxes {
            let slow: Vec<usize> = (0..boxes.len()).filter(|i| boxes[*i].meets(b)).collect();
            assert_eq!(grid.near(b), slow);
        }
    }
}
