//! Plane geometry on paper: boxes, segments, and how shapes break down into segments. Knows no
//! meaning of any line.

use crate::draw::scene::{Pt, Rect, Shape};

impl Rect {
    pub fn new(x0: f64, y0: f64, x1: f64, y1: f64) -> Rect {
        Rect {
            x0: x0.min(x1),
            y0: y0.min(y1),
            x1: x0.max(x1),
            y1: y0.max(y1),
        }
    }

    pub fn about(centre: Pt, width: f64, height: f64) -> Rect {
        Rect::new(
            centre.x - width / 2.0,
            centre.y - height / 2.0,
            centre.x + width / 2.0,
            centre.y + height / 2.0,
        )
    }

    /// Around all points; `None` of none.
    pub fn around(points: impl IntoIterator<Item = Pt>) -> Option<Rect> {
        points
            .into_iter()
            .map(|p| Rect::new(p.x, p.y, p.x, p.y))
            .reduce(Rect::with)
    }

    pub fn with(self, o: Rect) -> Rect {
        Rect {
            x0: self.x0.min(o.x0),
            y0: self.y0.min(o.y0),
            x1: self.x1.max(o.x1),
            y1: self.y1.max(o.y1),
        }
    }

    pub fn grown(self, by: f64) -> Rect {
        Rect {
            x0: self.x0 - by,
            y0: self.y0 - by,
            x1: self.x1 + by,
            y1: self.y1 + by,
        }
    }

    pub fn width(self) -> f64 {
        self.x1 - self.x0
    }

    pub fn height(self) -> f64 {
        self.y1 - self.y0
    }

    pub fn centre(self) -> Pt {
        Pt::new((self.x0 + self.x1) / 2.0, (self.y0 + self.y1) / 2.0)
    }

    /// Share an area, not only an edge.
    pub fn overlaps(self, o: Rect) -> bool {
        self.x0 < o.x1 && o.x0 < self.x1 && self.y0 < o.y1 && o.y0 < self.y1
    }

    pub fn contains(self, o: Rect) -> bool {
        self.x0 <= o.x0 && self.y0 <= o.y0 && self.x1 >= o.x1 && self.y1 >= o.y1
    }

    pub fn corners(self) -> [Pt; 4] {
        [
            Pt::new(self.x0, self.y0),
            Pt::new(self.x1, self.y0),
            Pt::new(self.x1, self.y1),
            Pt::new(self.x0, self.y1),
        ]
    }

    pub fn moved(self, dx: f64, dy: f64) -> Rect {
        Rect {
            x0: self.x0 + dx,
            y0: self.y0 + dy,
            x1: self.x1 + dx,
            y1: self.y1 + dy,
        }
    }
}

/// A straight line between two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    pub a: Pt,
    pub b: Pt,
}

impl Segment {
    pub fn new(a: Pt, b: Pt) -> Segment {
        Segment { a, b }
    }

    pub fn length(self) -> f64 {
        libm::hypot(self.b.x - self.a.x, self.b.y - self.a.y)
    }

    /// Passes through the inside of `r` (touching its edge does not count).
    pub fn enters(self, r: Rect) -> bool {
        let apart = |a: f64, b: f64, lo: f64, hi: f64| (a <= lo && b <= lo) || (a >= hi && b >= hi);
        if apart(self.a.x, self.b.x, r.x0, r.x1) || apart(self.a.y, self.b.y, r.y0, r.y1) {
            return false;
        }
        // Liang–Barsky: the stretch of the line inside each pair of edges.
        let (dx, dy) = (self.b.x - self.a.x, self.b.y - self.a.y);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (p, low, high) in [
            (dx, r.x0 - self.a.x, r.x1 - self.a.x),
            (dy, r.y0 - self.a.y, r.y1 - self.a.y),
        ] {
            if p.abs() < 1e-12 {
                if low >= 0.0 || high <= 0.0 {
                    return false;
                }
                continue;
            }
            let (t0, t1) = if p > 0.0 {
                (low / p, high / p)
            } else {
                (high / p, low / p)
            };
            from = from.max(t0);
            to = to.min(t1);
        }
        to - from > 1e-9
    }

    /// Whether the insides of two segments cross.
    pub fn crosses(self, o: Segment) -> bool {
        let side =
            |s: Segment, p: Pt| (s.b.x - s.a.x) * (p.y - s.a.y) - (s.b.y - s.a.y) * (p.x - s.a.x);
        let (c, d) = (side(self, o.a), side(self, o.b));
        let (e, f) = (side(o, self.a), side(o, self.b));
        c * d < -1e-9 && e * f < -1e-9
    }
}

/// The corners of a shape as a run of points, arcs in steps of at most 6 degrees; `true`: closed.
pub fn outline(shape: &Shape) -> (Vec<Pt>, bool) {
    match shape {
        Shape::Path { points, closed } => (points.clone(), *closed),
        Shape::Rect(r) => (r.corners().to_vec(), true),
        Shape::Circle { centre, radius } => {
            let mut points = arc_points(*centre, *radius, 0.0, 360.0);
            points.pop();
            (points, true)
        }
        Shape::Arc {
            centre,
            radius,
            from,
            sweep,
        } => (arc_points(*centre, *radius, *from, *sweep), false),
        Shape::Symbol { at, .. } => (vec![*at], false),
    }
}

fn arc_points(centre: Pt, radius: f64, from: f64, sweep: f64) -> Vec<Pt> {
    let steps = ((sweep.abs().min(360.0) / 6.0).ceil() as usize).max(1);
    (0..=steps)
        .map(|i| at_angle(centre, radius, from + sweep * i as f64 / steps as f64))
        .collect()
}

/// The point of a circle at `degrees`, 0 to the right, growing clockwise on paper.
pub fn at_angle(centre: Pt, radius: f64, degrees: f64) -> Pt {
    let rad = degrees.to_radians();
    Pt::new(
        centre.x + radius * libm::cos(rad),
        centre.y + radius * libm::sin(rad),
    )
}

/// The straight lines a shape is drawn with.
pub fn segments(shape: &Shape) -> Vec<Segment> {
    let (points, closed) = outline(shape);
    let mut out: Vec<Segment> = points
        .iter()
        .zip(points.iter().skip(1))
        .map(|(a, b)| Segment::new(*a, *b))
        .collect();
    if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
        out.push(Segment::new(*last, *first));
    }
    out
}

/// Where the middles of things end up that each want to be at `wanted` (ascending) and need
/// `sizes` of room and `gap` between them: in order, moved as little as may be, never overlapping.
pub fn spread(wanted: &[f64], sizes: &[f64], gap: f64) -> Vec<f64> {
    // Pool adjacent violators on positions less what stands before each.
    let mut before = Vec::with_capacity(wanted.len());
    let mut sum = 0.0;
    for size in sizes {
        before.push(sum + size / 2.0);
        sum += size + gap;
    }
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (want, offset) in wanted.iter().zip(&before) {
        pools.push((want - offset, 1));
        while let [.., (a, n), (b, m)] = pools.as_slice()
            && a > b
        {
            let merged = ((a * *n as f64 + b * *m as f64) / (n + m) as f64, n + m);
            pools.truncate(pools.len() - 2);
            pools.push(merged);
        }
    }
    let starts = pools
        .iter()
        .flat_map(|&(start, n)| std::iter::repeat_n(start, n));
    starts
        .zip(before)
        .map(|(start, offset)| start + offset)
        .collect()
}

/// [`spread`] kept inside `low..high` as far as everything fits there.
pub fn spread_between(wanted: &[f64], sizes: &[f64], gap: f64, low: f64, high: f64) -> Vec<f64> {
    let mut places = spread(wanted, sizes, gap);
    let mut edge = high;
    for (place, size) in places.iter_mut().zip(sizes).rev() {
        *place = place.min(edge - size / 2.0);
        edge = *place - size / 2.0 - gap;
    }
    let mut edge = low;
    for (place, size) in places.iter_mut().zip(sizes) {
        *place = place.max(edge + size / 2.0);
        edge = *place + size / 2.0 + gap;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_segment_enters_a_box_only_through_its_inside() {
        let r = Rect::new(0.0, 0.0, 10.0, 10.0);
        let seg = |a: (f64, f64), b: (f64, f64)| Segment::new(Pt::new(a.0, a.1), Pt::new(b.0, b.1));
        assert!(seg((-5.0, 5.0), (15.0, 5.0)).enters(r));
        assert!(seg((5.0, 5.0), (6.0, 6.0)).enters(r));
        assert!(!seg((-5.0, 0.0), (15.0, 0.0)).enters(r), "along an edge");
        assert!(!seg((-5.0, 5.0), (-1.0, 5.0)).enters(r));
        assert!(!seg((-5.0, 8.0), (3.0, 16.0)).enters(r), "past a corner");
    }

    #[test]
    fn things_spread_in_order_without_overlap_and_stay_where_there_is_room() {
        let out = spread(&[10.0, 10.0, 50.0], &[4.0, 4.0, 4.0], 1.0);
        assert_eq!(out, [7.5, 12.5, 50.0]);
        let out = spread_between(&[1.0, 99.0, 99.0], &[4.0, 4.0, 4.0], 1.0, 0.0, 100.0);
        assert_eq!(out, [2.0, 93.0, 98.0]);
    }
}
