//! Boards, shelves, drawers, machines, fronts and tops as a section meets them.
//! Knows cut from seen beyond; must not know walls or dimension chains.

use super::super::pen::{box_up, up};
use super::super::survey;
use super::Cut;
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Role, Shape};
use crate::reckon::placed::{
    PlacedBay, PlacedCutout, PlacedFront, PlacedRun, PlacedUnit, PlacedWorktop,
};
use crate::resolve::job::Stands;
use crate::units::Length;

pub fn units(cut: &mut Cut) {
    for (run, unit, bay) in cut.met.clone() {
        carcass(cut, run, unit);
        contents(cut, run, unit, bay);
        drawers(cut, unit, bay);
        fronts(cut, unit);
        feet(cut, unit);
        let y = (run.y_back.in_mm(), (run.y_back + unit.depth).in_mm());
        let inner = box_up(y.0, y.1, unit.base.in_mm(), unit.top.in_mm());
        let spot = Pt::new(inner.centre().x, inner.y0 + inner.height() * 0.08 + 30.0);
        let id = vec![unit.id.clone()];
        let (minor, frame) = (Lettering::Minor, LabelFrame::Box);
        cut.pen.label(spot, id, minor, frame, Some(inner), 1);
    }
}

/// Bottom, top and the back behind them are cut; the side is seen beyond.
fn carcass(cut: &mut Cut, run: &PlacedRun, unit: &PlacedUnit) {
    let (back, front) = (run.y_back.in_mm(), (run.y_back + unit.depth).in_mm());
    let (base, top) = (unit.base.in_mm(), unit.top.in_mm());
    let (board, thin) = (unit.board.in_mm(), unit.back.in_mm());
    cut.pen
        .rect(Role::Edge, Fill::White, box_up(back, front, base, top));
    cut.pen.rect(
        Role::Cut,
        Fill::Board,
        box_up(back + thin, front, base, base + board),
    );
    cut.pen.rect(
        Role::Cut,
        Fill::Board,
        box_up(back + thin, front, top - board, top),
    );
    cut.pen
        .rect(Role::Cut, Fill::Board, box_up(back, back + thin, base, top));
    for n in &unit.notches {
        let deep = back + n.deep.in_mm();
        let area = box_up(
            back,
            deep,
            n.bottom.in_mm().max(base),
            n.top.in_mm().min(top),
        );
        cut.pen.rect(Role::Hidden, Fill::None, area);
    }
}

fn contents(cut: &mut Cut, run: &PlacedRun, unit: &PlacedUnit, bay: &PlacedBay) {
    let back = (run.y_back + unit.back).in_mm();
    let front = (run.y_back + unit.depth).in_mm();
    for s in &bay.shelves {
        let board = box_up(back, front, (s.z - s.thickness).in_mm(), s.z.in_mm());
        let role = if s.fixed { Role::Cut } else { Role::Edge };
        cut.pen.rect(role, Fill::Board, board);
        let under = (s.z - s.thickness).in_mm();
        let (deep, thick) = (s.lipping.in_mm(), s.thickness.in_mm());
        let lipping = box_up(front - thick, front, under - deep, under);
        cut.pen.rect(role, Fill::Board, lipping);
    }
    for z in &bay.rails {
        let centre = up((back + front) / 2.0, z.in_mm());
        cut.pen.mark(
            Role::Edge,
            Fill::White,
            Shape::Circle {
                centre,
                radius: 14.0,
            },
        );
    }
    for a in &bay.appliances {
        let Some(made) = cut.job.appliances.get(a.which.0) else {
            continue;
        };
        // As far forward as the carcass goes: its own depth, from the front.
        let deep = made.depth.in_mm().min(front - back);
        let area = box_up(front - deep, front, a.bottom.in_mm(), a.top.in_mm());
        cut.pen.rect(Role::Service, Fill::Tint, area);
        let minor = Lettering::Minor;
        let name = vec![made.name.clone()];
        cut.pen
            .label(area.centre(), name, minor, LabelFrame::None, Some(area), 4);
    }
}

/// Boxes of drawers, their sides seen beyond.
fn drawers(cut: &mut Cut, unit: &PlacedUnit, bay: &PlacedBay) {
    for made in unit
        .boxes
        .iter()
        .filter(|b| b.left < bay.right && b.right > bay.left)
    {
        let back = (made.y_front - made.long).in_mm();
        let (bottom, top) = (made.bottom.in_mm(), made.top.in_mm());
        let area = box_up(back, made.y_front.in_mm(), bottom, top);
        cut.pen.rect(Role::Fine, Fill::White, area);
    }
}

fn fronts(cut: &mut Cut, unit: &PlacedUnit) {
    for f in column(cut, unit) {
        let (inner, face) = (f.y_back.in_mm(), f.y_face.in_mm());
        let (bottom, top) = (f.bottom.in_mm(), f.top.in_mm());
        let area = box_up(inner, face, bottom, top);
        cut.pen.rect(Role::Cut, Fill::Board, area);
        if let Some(h) = &f.handle {
            let (out, z) = (h.out.in_mm(), h.z.in_mm());
            let half = if h.upright {
                h.length.in_mm() / 2.0
            } else {
                8.0
            };
            cut.pen.rect(
                Role::Edge,
                Fill::Solid,
                box_up(face, face + out, z - half, z - half + 8.0),
            );
            cut.pen.rect(
                Role::Edge,
                Fill::Solid,
                box_up(face, face + out, z + half - 8.0, z + half),
            );
            let bar = box_up(face + out - 8.0, face + out, z - half, z + half);
            if out > 8.0 {
                cut.pen.rect(Role::Edge, Fill::Solid, bar);
            }
        }
    }
}

/// The fronts over one another where the section cuts, or else the leftmost ones.
pub fn column<'a>(cut: &Cut<'a>, unit: &PlacedUnit) -> Vec<&'a PlacedFront> {
    let reckoned = cut.reckoned;
    let all: Vec<&PlacedFront> = unit
        .fronts
        .iter()
        .filter_map(|i| reckoned.fronts.get(*i))
        .collect();
    let met = |f: &&&PlacedFront| f.left.in_mm() <= cut.x && cut.x <= f.right.in_mm();
    let mut column: Vec<&PlacedFront> = all.iter().filter(met).copied().collect();
    // The cut may run in the gap between two doors: then the ones left of it.
    for f in &all {
        let clear = column
            .iter()
            .all(|c| c.top <= f.bottom || f.top <= c.bottom);
        if clear {
            column.push(f);
        }
    }
    column.sort_by_key(|f| f.bottom);
    column
}

fn feet(cut: &mut Cut, unit: &PlacedUnit) {
    if !matches!(unit.stands, Stands::Plinth | Stands::Feet) {
        return;
    }
    let mut drawn = Vec::new();
    for foot in &unit.feet {
        if drawn.contains(&foot.y) {
            continue;
        }
        drawn.push(foot.y);
        let (y, top) = (foot.y.in_mm(), unit.base.in_mm());
        let floor = survey::between(&cut.wall.floor, cut.x);
        cut.pen.rect(
            Role::Fine,
            Fill::White,
            box_up(y - 12.0, y + 12.0, floor, top),
        );
        cut.pen.rect(
            Role::Fine,
            Fill::White,
            box_up(y - 25.0, y + 25.0, floor, floor + 8.0),
        );
    }
}

pub fn plinth(cut: &mut Cut) {
    let thick = cut
        .job
        .materials
        .get(cut.made.plinth_material.0)
        .map_or(0.0, |m| m.thickness.in_mm());
    for p in &cut.run.plinths {
        if p.left.in_mm() <= cut.x && cut.x <= p.right.in_mm() {
            let (front, floor) = (p.y_front.in_mm(), survey::between(&cut.wall.floor, cut.x));
            let area = box_up(front - thick, front, floor, p.top.in_mm());
            cut.pen.rect(Role::Cut, Fill::Board, area);
        }
    }
}

pub fn worktop(cut: &mut Cut, run: usize) {
    let reckoned = cut.reckoned;
    for (top, made) in reckoned.worktops.iter().zip(&cut.job.worktops) {
        if made.run != run || cut.x < top.left.in_mm() || cut.x > top.right.in_mm() {
            continue;
        }
        let (back, front) = (top.y_back.in_mm(), top.y_front.in_mm());
        let thick = top.slab.in_mm();
        let (low, under) = (top.bottom.in_mm(), top.top.in_mm() - thick);
        let slab = box_up(back, front, under, top.top.in_mm());
        cut.pen.rect(Role::Cut, Fill::Board, slab);
        if let Some(built) = &top.built_up {
            let inner = front - built.thick.in_mm();
            // What the slab lies on, across each unit.
            let packed = box_up(back, inner, low, under);
            cut.pen.rect(Role::Edge, Fill::Board, packed);
            let words = format!(
                "slab {} + packing {} = {}",
                top.slab,
                built.wanting,
                top.top - top.bottom
            );
            let at = packed.x0 + packed.width() * 0.12;
            // Where the slab lies on it.
            cut.pen.callout(Pt::new(at, packed.y0), words);
            let each = (under - low) / f64::from(built.count.max(1));
            for n in 0..built.count {
                let bottom = low + each * f64::from(n);
                let strip = box_up(inner, front, bottom, bottom + each);
                cut.pen.rect(Role::Cut, Fill::Board, strip);
            }
        }
        let up_to = box_up(back, back + thick, top.top.in_mm(), top.upstand_top.in_mm());
        cut.pen.rect(Role::Cut, Fill::Board, up_to);
        for c in &top.cutouts {
            if c.left.in_mm() <= cut.x && cut.x <= c.right.in_mm() {
                let (y0, y1) = (c.y_back.in_mm(), c.y_front.in_mm());
                let hole = box_up(y0, y1, low, top.top.in_mm());
                cut.pen.rect(Role::Edge, Fill::White, hole);
                cut.pen.words(hole.centre(), c.what.clone(), None);
                carcass_top(cut, top, c);
            }
        }
    }
}

/// What lies under a worktop's opening is opened too: the top of the carcass.
fn carcass_top(cut: &mut Cut, top: &PlacedWorktop, hole: &PlacedCutout) {
    for (run, unit, _) in cut.met.clone() {
        let (back, front) = (run.y_back, run.y_back + unit.depth);
        let (from, to) = (hole.y_back.max(back), hole.y_front.min(front));
        if unit.top > top.bottom || unit.top + Length::mm(1) < top.bottom || from >= to {
            continue;
        }
        let (from, to) = (from.in_mm(), to.in_mm());
        let area = box_up(from, to, (unit.top - unit.board).in_mm(), unit.top.in_mm());
        cut.pen.rect(Role::Edge, Fill::White, area);
        let words = format!(
            "top of carcass cut out for the {}: {} to {} from the wall",
            hole.what, hole.y_back, hole.y_front
        );
        cut.pen.callout(
            Pt::new(area.x0 + area.width() * 0.8, area.centre().y),
            words,
        );
    }
}
