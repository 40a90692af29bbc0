//! The line of arcs round what changed, at its size on paper. Knows outlines; must not know what changed.

use std::collections::BTreeMap;

use super::geometry::outline;
use crate::draw::scene::{Pt, Rect, Shape};

/// From what changed to the cloud, mm.
const AWAY: f64 = 1.6;
/// Length of one arc, and how far it bulges, mm.
const ARC: f64 = 4.0;
const BULGE: f64 = 1.1;
/// Straight pieces in one arc.
const PIECES: usize = 6;

/// A rectangle to the cloud round it; any other outline, or what is left of one where a drawing is
/// parted, to arcs along it.
pub fn cloud(shape: &Shape) -> Shape {
    let (corners, closed) = match shape {
        Shape::Rect(r) => {
            let r = r.grown(AWAY);
            let corners = vec![
                Pt::new(r.x0, r.y0),
                Pt::new(r.x1, r.y0),
                Pt::new(r.x1, r.y1),
                Pt::new(r.x0, r.y1),
            ];
            (corners, true)
        }
        other => outline(other),
    };
    let mut ring = corners.clone();
    if closed && let Some(first) = corners.first() {
        ring.push(*first);
    }
    let mut points = Vec::new();
    for (a, b) in ring.iter().zip(ring.iter().skip(1)) {
        points.extend(arcs(*a, *b));
    }
    Shape::Path { points, closed }
}

/// Arcs that bulge to the left of the way from `a` to `b`: outward, round a ring that goes clockwise
/// on paper.
fn arcs(a: Pt, b: Pt) -> Vec<Pt> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let length = libm::hypot(dx, dy);
    if length <= 0.0 || !length.is_finite() {
        return Vec::new();
    }
    let count = (length / ARC).round().clamp(1.0, 400.0) as usize;
    let (ux, uy) = (dx / length, dy / length);
    let step = length / count as f64;
    let bulge = BULGE.min(step / 3.0);
    let mut points = Vec::new();
    for n in 0..count {
        for piece in 0..PIECES {
            let share = piece as f64 / PIECES as f64;
            let along = (n as f64 + share) * step;
            let out = bulge * libm::sin(std::f64::consts::PI * share);
            points.push(Pt::new(
                a.x + ux * along + uy * out,
                a.y + uy * along - ux * out,
            ));
        }
    }
    points.push(b);
    points
}

/// The outlines of several rectangles together, each clockwise on paper: where they overlap they are
/// one. What they enclose is left out.
pub fn union(rects: &[Rect]) -> Vec<Vec<Pt>> {
    let edges = |pick: fn(&Rect) -> [f64; 2]| {
        let mut all: Vec<f64> = rects
            .iter()
            .flat_map(pick)
            .filter(|v| v.is_finite())
            .collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    };
    let (xs, ys) = (edges(|r| [r.x0, r.x1]), edges(|r| [r.y0, r.y1]));
    let (wide, high) = (xs.len().saturating_sub(1), ys.len().saturating_sub(1));
    let filled = |i: usize, j: usize| {
        let (Some(x), Some(y)) = (xs.get(i..i + 2), ys.get(j..j + 2)) else {
            return false;
        };
        let ([x0, x1], [y0, y1]) = (x, y) else {
            return false;
        };
        let (cx, cy) = ((x0 + x1) / 2.0, (y0 + y1) / 2.0);
        rects
            .iter()
            .any(|r| cx > r.x0 && cx < r.x1 && cy > r.y0 && cy < r.y1)
    };
    // Edges between what is filled and what is not, with the filled side to their right.
    let mut ways: BTreeMap<(usize, usize), Vec<(usize, usize)>> = BTreeMap::new();
    let mut way = |from, to| ways.entry(from).or_default().push(to);
    for i in 0..wide {
        for j in (0..high).filter(|j| filled(i, *j)) {
            if j == 0 || !filled(i, j - 1) {
                way((i, j), (i + 1, j));
            }
            if !filled(i + 1, j) {
                way((i + 1, j), (i + 1, j + 1));
            }
            if !filled(i, j + 1) {
                way((i + 1, j + 1), (i, j + 1));
            }
            if i == 0 || !filled(i - 1, j) {
                way((i, j + 1), (i, j));
            }
        }
    }
    let mut rings = Vec::new();
    while let Some((&start, _)) = ways.iter().next() {
        let mut ring = vec![start];
        while let Some(next) = ring.last().and_then(|at| take(&mut ways, *at)) {
            ring.push(next);
        }
        let at = |(i, j): (usize, usize)| Some(Pt::new(*xs.get(i)?, *ys.get(j)?));
        let points: Vec<Pt> = ring.into_iter().filter_map(at).collect();
        let points = corners(&points);
        // Clockwise on paper, where y goes down: an outer edge.
        if turning(&points) > 0.0 {
            rings.push(points);
        }
    }
    rings
}

fn take(
    ways: &mut BTreeMap<(usize, usize), Vec<(usize, usize)>>,
    from: (usize, usize),
) -> Option<(usize, usize)> {
    let to = ways.get_mut(&from)?;
    let next = to.pop();
    if to.is_empty() {
        ways.remove(&from);
    }
    next
}

/// Without the points that lie on a straight line, nor the first again at the end.
fn corners(ring: &[Pt]) -> Vec<Pt> {
    let ring = match ring.split_last() {
        Some((last, head)) if head.first() == Some(last) => head,
        _ => ring,
    };
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    let each = ring.iter().zip(before).zip(after);
    each.filter(|((p, before), after)| {
        let along = before.x == p.x && p.x == after.x;
        !(along || before.y == p.y && p.y == after.y)
    })
    .map(|((p, _), _)| *p)
    .collect()
}

/// Twice the area, above zero for a ring that goes clockwise on paper.
fn turning(ring: &[Pt]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cloud_goes_round_and_never_into_what_changed() {
        let changed = Rect::new(10.0, 20.0, 60.0, 45.0);
        let Shape::Path { points, closed } = cloud(&Shape::Rect(changed)) else {
            panic!("a cloud is a line");
        };
        assert!(closed);
        let clear = changed.grown(AWAY - 1e-9);
        let far = changed.grown(AWAY + BULGE + 1e-9);
        for p in points {
            let in_clear = p.x > clear.x0 && p.x < clear.x1 && p.y > clear.y0 && p.y < clear.y1;
            assert!(!in_clear, "{p:?}");
            assert!(
                p.x >= far.x0 && p.x <= far.x1 && p.y >= far.y0 && p.y <= far.y1,
                "{p:?}"
            );
        }
    }

    #[test]
    fn outlines_that_touch_are_one_and_others_stay_apart() {
        let at = |x: f64, y: f64| Rect::new(x, y, x + 10.0, y + 10.0);
        // Two side by side, one below the second, one far off: an L of six corners and a square.
        let rings = union(&[at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0), at(100.0, 0.0)]);
        let sizes: Vec<usize> = rings.iter().map(Vec::len).collect();
        assert_eq!(sizes, [6, 4]);
        let area = |ring: &[Pt]| turning(ring) / 2.0;
        assert_eq!((area(&rings[0]), area(&rings[1])), (300.0, 100.0));
    }

    #[test]
    fn what_is_enclosed_has_no_cloud_of_its_own() {
        // Four walls round a room.
        let rings = union(&[
            Rect::new(0.0, 0.0, 100.0, 10.0),
            Rect::new(90.0, 0.0, 100.0, 100.0),
            Rect::new(0.0, 90.0, 100.0, 100.0),
            Rect::new(0.0, 0.0, 10.0, 100.0),
        ]);
        assert_eq!(rings.len(), 1);
        assert_eq!(rings[0].len(), 4);
    }
}
