//! Wall, lining, floor, ceiling and what comes down from it, in section.
//! Knows the survey at one place along a wall; must not know units beyond how far out they reach.

use super::super::pen::{box_up, up};
use super::super::survey;
use super::Cut;
use crate::draw::scene::{Fill, Pt, Role};

/// Thickness wall and floor are drawn with: a mark, nobody measured it.
const BODY_MM: f64 = 80.0;
/// How far floor and ceiling are drawn on before the furniture.
const BEYOND_MM: f64 = 180.0;

pub fn shell(cut: &mut Cut) {
    let far = cut.far();
    let floor = survey::between(&cut.wall.floor, cut.x);
    let at = cut.run.wall;
    let high = |y: f64| survey::ceiling_at(cut.job, cut.reckoned, at, cut.x, y);
    // The ceiling bends at most where a slope ends: a fine enough step shows that in place.
    let steps = 60;
    let ceiling: Vec<Pt> = (0..=steps)
        .map(|k| far * f64::from(k) / f64::from(steps))
        .map(|y| up(y, high(y)))
        .collect();
    let ceiling = straightened(ceiling);
    let top = ceiling.first().map_or(0.0, |p| -p.y);
    let mut zs = vec![floor, top];
    zs.extend(
        cut.wall
            .plumb
            .iter()
            .map(|p| p.0.in_mm())
            .filter(|z| *z > floor && *z < top),
    );
    zs.sort_by(f64::total_cmp);
    let lean = |z: f64| survey::between(&cut.wall.plumb, z);
    let face: Vec<Pt> = zs.iter().map(|z| up(lean(*z), *z)).collect();
    let mut body = face.clone();
    body.extend([up(-BODY_MM, top), up(-BODY_MM, floor)]);
    let lining = cut.wall.lining_thickness().in_mm();
    let mut lined: Vec<Pt> = face.clone();
    lined.extend(zs.iter().rev().map(|z| up(lean(*z) + lining, *z)));

    cut.pen.area(Role::Fine, Fill::Masonry, body);
    let ground = box_up(-BODY_MM, far, floor - BODY_MM * 0.75, floor);
    cut.pen.rect(Role::Fine, Fill::Masonry, ground);
    let mut outline = vec![up(far, floor)];
    outline.extend(face);
    outline.extend(ceiling);
    cut.pen.line(Role::Survey, outline);
    if lining > 0.0 {
        cut.pen.area(Role::Lining, Fill::Lining, lined);
    }
    for b in &cut.wall.bulkheads {
        if b.from.in_mm() <= cut.x && cut.x <= b.to.in_mm() {
            let under = b.underside.in_mm();
            let area = box_up(0.0, b.out.in_mm(), under, top.max(under));
            cut.pen.rect(Role::Cut, Fill::Tint, area);
            cut.pen.words(area.centre(), b.what.clone(), Some(area));
        }
    }
    for o in &cut.wall.obstructions {
        let beside = cut
            .met
            .iter()
            .any(|(_, u, _)| u.left < o.to && o.from < u.right);
        if beside {
            let area = box_up(0.0, o.out.in_mm(), o.bottom.in_mm(), o.top.in_mm());
            cut.pen.rect(Role::Hidden, Fill::None, area);
        }
    }
}

/// Drops points that lie on the straight line between their neighbours.
fn straightened(points: Vec<Pt>) -> Vec<Pt> {
    let mut out: Vec<Pt> = Vec::new();
    for p in points {
        if let [.., a, b] = out.as_slice() {
            let bend = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
            if bend.abs() < 1e-3 {
                out.pop();
            }
        }
        out.push(p);
    }
    out
}

impl Cut<'_> {
    /// How far out of the wall the drawing goes, mm.
    pub(super) fn far(&self) -> f64 {
        let units = self
            .met
            .iter()
            .map(|(r, u, _)| (r.y_back + u.depth_over_fronts).in_mm());
        let boxes = self.wall.bulkheads.iter().map(|b| b.out.in_mm());
        units.chain(boxes).fold(0.0, f64::max) + BEYOND_MM
    }
}
