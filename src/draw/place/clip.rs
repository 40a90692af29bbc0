//! Cuts a scene to a part of its length, between two match lines. Knows the window; decides
//! neither where to cut nor how the parts are laid out.

use super::geometry::outline;
use crate::draw::scene::{Fill, Mark, Pt, Rect, Role, Shape, Symbol};
use crate::draw::style::{Ink, hides};

/// A mark on its way to paper: still in real mm, its outline and its fill possibly apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    pub ink: Ink,
    pub fill: Fill,
    pub shape: Shape,
}

impl Stroke {
    pub fn whole(mark: &Mark) -> Stroke {
        Stroke {
            ink: match mark.role {
                Role::Bare => Ink::None,
                role => Ink::Role(role),
            },
            fill: mark.fill,
            shape: mark.shape.clone(),
        }
    }
}

impl Stroke {
    /// Whether it hides what was drawn there before.
    pub fn covers(&self, p: Pt) -> bool {
        let inside = |r: &Rect| p.x > r.x0 && p.x < r.x1 && p.y > r.y0 && p.y < r.y1;
        hides(self.fill) && matches!(&self.shape, Shape::Rect(r) if inside(r))
    }
}

/// What of `mark` lies between `left` and `right` (real mm): its filled area and its lines, which
/// are cut open at the window's edges.
pub fn mark(mark: &Mark, left: f64, right: f64) -> Vec<Stroke> {
    if let Shape::Symbol { at, symbol } = mark.shape {
        // A hinge tick stands on its front's side of the line.
        let x = match symbol {
            Symbol::HingeTick { turn } => at.x + libm::cos(turn.to_radians()),
            _ => at.x,
        };
        let inside = x >= left && x <= right;
        return if inside {
            vec![Stroke::whole(mark)]
        } else {
            Vec::new()
        };
    }
    let (points, closed) = outline(&mark.shape);
    let (min, max) = points
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
            (lo.min(p.x), hi.max(p.x))
        });
    if min >= left && max <= right {
        return vec![Stroke::whole(mark)];
    }
    if max <= left || min >= right {
        return Vec::new();
    }
    let mut out = Vec::new();
    if closed && mark.fill != Fill::None {
        let points = half(&half(&points, left, 1.0), right, -1.0);
        if points.len() > 2 {
            let shape = Shape::Path {
                points,
                closed: true,
            };
            // A photograph is not cut, as that of a plinth would have to be: it is left white.
            let fill = match mark.fill {
                Fill::Picture(_) => Fill::White,
                fill => fill,
            };
            let ink = Ink::None;
            out.push(Stroke { ink, fill, shape });
        }
    }
    let mut ring = points;
    if closed && let Some(first) = ring.first().copied() {
        ring.push(first);
    }
    for points in lines(&ring, left, right) {
        let shape = Shape::Path {
            points,
            closed: false,
        };
        out.push(Stroke {
            ink: Ink::Role(mark.role),
            fill: Fill::None,
            shape,
        });
    }
    out
}

/// The part of a polygon on one side of an upright line: right of it for `sign` 1, left for −1.
/// (Sutherland and Hodgman's clipping by one edge.)
fn half(points: &[Pt], edge: f64, sign: f64) -> Vec<Pt> {
    let inside = |p: &Pt| (p.x - edge) * sign >= 0.0;
    let mut out = Vec::new();
    let Some(mut before) = points.last().copied() else {
        return out;
    };
    for &point in points {
        if inside(&point) != inside(&before) {
            out.push(at_x(before, point, edge));
        }
        if inside(&point) {
            out.push(point);
        }
        before = point;
    }
    out
}

/// The runs of an open line that lie inside the window.
fn lines(points: &[Pt], left: f64, right: f64) -> Vec<Vec<Pt>> {
    let mut runs: Vec<Vec<Pt>> = Vec::new();
    let mut run: Vec<Pt> = Vec::new();
    for (a, b) in points.iter().zip(points.iter().skip(1)) {
        let (mut from, mut to) = (*a, *b);
        let (lo, hi) = (from.x.min(to.x), from.x.max(to.x));
        let outside =
            hi < left || lo > right || (hi <= left && lo < left) || (lo >= right && hi > right);
        if outside {
            finish(&mut runs, &mut run);
            continue;
        }
        for edge in [left, right] {
            if (from.x - edge) * (to.x - edge) < 0.0 {
                let cut = at_x(from, to, edge);
                let from_is_out = if edge == left {
                    from.x < edge
                } else {
                    from.x > edge
                };
                if from_is_out {
                    from = cut;
                } else {
                    to = cut;
                }
            }
        }
        if run.last() != Some(&from) {
            finish(&mut runs, &mut run);
            run.push(from);
        }
        run.push(to);
    }
    finish(&mut runs, &mut run);
    // A closed line that starts inside: its last run goes on into its first.
    let closed = points.len() > 2 && points.first() == points.last();
    if closed
        && runs.len() > 1
        && runs.first().and_then(|r| r.first()) == points.first()
        && runs.last().and_then(|r| r.last()) == points.last()
    {
        let start = runs.remove(0);
        if let Some(end) = runs.last_mut() {
            end.extend(start.into_iter().skip(1));
        }
    }
    runs
}

fn finish(runs: &mut Vec<Vec<Pt>>, run: &mut Vec<Pt>) {
    if run.len() > 1 {
        runs.push(std::mem::take(run));
    }
    run.clear();
}

fn at_x(a: Pt, b: Pt, x: f64) -> Pt {
    let span = b.x - a.x;
    if span.abs() < 1e-12 {
        return Pt::new(x, a.y);
    }
    Pt::new(x, a.y + (b.y - a.y) * (x - a.x) / span)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(shape: Shape, fill: Fill) -> Vec<Stroke> {
        mark(
            &Mark {
                role: Role::Edge,
                fill,
                shape,
            },
            0.0,
            10.0,
        )
    }

    #[test]
    fn a_box_across_the_edge_keeps_its_area_and_loses_the_side_that_is_outside() {
        let out = cut(Shape::Rect(Rect::new(5.0, 0.0, 15.0, 4.0)), Fill::Tint);
        let Some(Shape::Path {
            points,
            closed: true,
        }) = out.first().map(|m| &m.shape)
        else {
            panic!("no area: {out:?}")
        };
        assert!(points.iter().all(|p| p.x <= 10.0) && points.iter().any(|p| p.x == 10.0));
        assert_eq!(out.len(), 2, "one open line: {out:?}");
        let Shape::Path {
            points,
            closed: false,
        } = &out[1].shape
        else {
            panic!("{out:?}")
        };
        assert_eq!(points.len(), 4);
        assert!(points.first().is_some_and(|p| p.x == 10.0));
    }

    #[test]
    fn what_lies_outside_goes_and_what_lies_inside_stays_as_it_is() {
        let inside = Shape::Circle {
            centre: Pt::new(5.0, 0.0),
            radius: 3.0,
        };
        assert_eq!(cut(inside.clone(), Fill::None)[0].shape, inside);
        assert!(cut(Shape::Rect(Rect::new(11.0, 0.0, 15.0, 4.0)), Fill::White).is_empty());
        let across = Shape::Path {
            points: vec![Pt::new(-5.0, 0.0), Pt::new(15.0, 20.0)],
            closed: false,
        };
        let Shape::Path { points, .. } = &cut(across, Fill::None)[0].shape else {
            panic!()
        };
        assert_eq!(points, &[Pt::new(0.0, 5.0), Pt::new(10.0, 15.0)]);
    }
}
