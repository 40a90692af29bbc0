//! Free places on the floor of a plan, for marks and names that may stand anywhere in the room.
//! Knows what is busy and where the room ends; must not know what is written.

use super::Sheet;
use crate::draw::scene::{Pt, Rect};
use crate::reckon::placed::PlanPoint;

/// From mark to mark, so that at 1:100 they still stand apart.
pub const MARKS_APART_MM: f64 = 830.0;
/// Between the places that are tried, mm.
const STEP_MM: f64 = 120.0;

pub fn about(p: Pt, half_x: f64, half_y: f64) -> Rect {
    Rect {
        x0: p.x - half_x,
        y0: p.y - half_y,
        x1: p.x + half_x,
        y1: p.y + half_y,
    }
}

/// The place nearest to the one wanted where a box of that half size lies in the room on nothing
/// else and so far off the marks; where there is none, the one that lies on least.
pub fn free(sheet: &Sheet, wanted: Pt, half: (f64, f64), off_marks: f64) -> Pt {
    let corners: Vec<Pt> = sheet
        .placed
        .walls
        .iter()
        .map(|w| super::pt(w.start))
        .collect();
    let Some(room) = super::bounds(&corners) else {
        return wanted;
    };
    let steps = |size: f64| ((size / STEP_MM).ceil() as usize).clamp(1, 200);
    let (nx, ny) = (steps(room.x1 - room.x0), steps(room.y1 - room.y0));
    let mut best = (f64::INFINITY, wanted);
    let grid = (0..=nx).flat_map(|i| (0..=ny).map(move |j| (i, j)));
    let tried = grid.map(|(i, j)| {
        let at = |low: f64, high: f64, k: usize, n: usize| low + (high - low) * k as f64 / n as f64;
        Pt::new(at(room.x0, room.x1, i, nx), at(room.y0, room.y1, j, ny))
    });
    for p in std::iter::once(wanted).chain(tried) {
        let far = libm::hypot(p.x - wanted.x, p.y - wanted.y);
        let cost = far + in_the_way(sheet, p, half, &corners) + near_marks(sheet, p, off_marks);
        if cost < best.0 {
            best = (cost, p);
        }
    }
    best.1
}

/// What a box about a point would lie on, weighed against distance in mm.
fn in_the_way(sheet: &Sheet, p: Pt, half: (f64, f64), corners: &[Pt]) -> f64 {
    let own = about(p, half.0, half.1);
    let ends = [
        (own.x0, own.y0),
        (own.x1, own.y0),
        (own.x1, own.y1),
        (own.x0, own.y1),
    ];
    let outside = ends
        .iter()
        .filter(|(x, y)| !inside(Pt::new(*x, *y), corners))
        .count();
    let covered: f64 = sheet.busy.iter().map(|b| overlap(own, *b)).sum();
    let area = (4.0 * half.0 * half.1).max(1.0);
    let outside = if sheet.room.closed {
        outside as f64
    } else {
        0.0
    };
    20_000.0 * outside + 12_000.0 * covered / area
}

/// Nearer to a mark than asked is as bad as standing on furniture, and worse.
fn near_marks(sheet: &Sheet, p: Pt, apart: f64) -> f64 {
    let near = |m: &Pt| (1.0 - libm::hypot(m.x - p.x, m.y - p.y) / apart.max(1.0)).max(0.0);
    sheet.marked.iter().map(near).sum::<f64>() * 12_000.0
}

fn overlap(a: Rect, b: Rect) -> f64 {
    let side = |lo: f64, hi: f64| (hi - lo).max(0.0);
    side(a.x0.max(b.x0), a.x1.min(b.x1)) * side(a.y0.max(b.y0), a.y1.min(b.y1))
}

/// Whether a point lies inside a closed run of corners (even-odd rule).
fn inside(p: Pt, corners: &[Pt]) -> bool {
    let next = corners.iter().cycle().skip(1);
    let crossings = corners.iter().zip(next).filter(|(a, b)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)
    });
    crossings.count() % 2 == 1
}

/// Centre of the room's area; of its corners where the survey is open.
pub fn middle(sheet: &Sheet) -> Option<PlanPoint> {
    let ps: Vec<PlanPoint> = sheet.placed.walls.iter().map(|w| w.start).collect();
    let n = ps.len();
    let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
    for (p, q) in ps.iter().zip(ps.iter().cycle().skip(1)) {
        let cross = p.x * q.y - q.x * p.y;
        area += cross;
        x += (p.x + q.x) * cross;
        y += (p.y + q.y) * cross;
    }
    if sheet.room.closed && area.abs() > 1.0 {
        return Some(PlanPoint {
            x: x / (3.0 * area),
            y: y / (3.0 * area),
        });
    }
    let ends = sheet.placed.walls.last().map(|w| w.end);
    let all: Vec<PlanPoint> = ps.into_iter().chain(ends).collect();
    let count = (n + 1) as f64;
    (!all.is_empty()).then(|| PlanPoint {
        x: all.iter().map(|p| p.x).sum::<f64>() / count,
        y: all.iter().map(|p| p.y).sum::<f64>() / count,
    })
}
