//! The inside of a unit in elevation: boards, shelves, rails, inner drawers, machines, notches.
//! Knows what stands in a bay and how heights are written at it; must not know fronts or the room.

use super::super::pen::{box_of, up};
use super::Sight;
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Rect, Role};
use crate::reckon::placed::{Notch, PlacedBay, PlacedUnit};
use crate::units::Length;

/// Draws all of it (`whole`), or only what no front covers.
pub fn unit(sight: &mut Sight, unit: &PlacedUnit, whole: bool) {
    let covers: Vec<Rect> = if whole {
        Vec::new()
    } else {
        let fronts = sight.fronts_of(unit);
        fronts
            .iter()
            .map(|f| box_of(f.left, f.right, f.bottom, f.top))
            .collect()
    };
    let seen = |r: Rect| !covers.iter().any(|c| c.holds(r.centre()));
    for bay in &unit.bays {
        let clear = box_of(bay.left, bay.right, bay.bottom, bay.top);
        if seen(clear) {
            sight.pen.rect(Role::Fine, Fill::None, clear);
        }
        contents(sight, bay, &seen);
        if whole {
            heights(sight, bay);
        }
    }
    if whole {
        drawers_behind(sight, unit);
    }
    for n in &unit.notches {
        let cut = box_of(
            n.left.max(unit.left),
            n.right.min(unit.right),
            n.bottom.max(unit.base),
            n.top.min(unit.top),
        );
        if seen(cut) && is_seen(sight, n) {
            sight.pen.rect(Role::Hidden, Fill::None, cut);
        }
    }
}

/// Whether a notch is told from what it is cut round: nearer than this the two are one line.
pub fn is_seen(sight: &Sight, notch: &Notch) -> bool {
    const NEAR: Length = Length::mm(15);
    let apart = |a: Length, b: Length| (a - b).abs() > NEAR;
    let mut round = sight.wall.obstructions.iter();
    !round.any(|o| {
        let left = o.to <= notch.left || !apart(o.from, notch.left);
        let right = o.from >= notch.right || !apart(o.to, notch.right);
        o.from < notch.right && notch.left < o.to && (left || right)
    })
}

/// Boxes of the drawers whose fronts are off.
fn drawers_behind(sight: &mut Sight, unit: &PlacedUnit) {
    for front in sight.fronts_of(unit) {
        let Some(made) = unit.boxes.iter().find(|b| b.front == front.id) else {
            continue;
        };
        let area = box_of(made.left, made.right, made.bottom, made.top);
        sight.pen.rect(Role::Fine, Fill::White, area);
        // At the left: the unit's own name may stand at the right.
        let at = Pt::new(area.x0 + area.width() * 0.2, area.centre().y);
        sight
            .pen
            .words(at, format!("drawer {}", front.number), Some(area));
    }
}

fn contents(sight: &mut Sight, bay: &PlacedBay, seen: &dyn Fn(Rect) -> bool) {
    for shelf in &bay.shelves {
        let board = box_of(bay.left, bay.right, shelf.z - shelf.thickness, shelf.z);
        if seen(board) {
            let role = if shelf.fixed { Role::Edge } else { Role::Fine };
            sight.pen.rect(role, Fill::None, board);
            let under = shelf.z - shelf.thickness;
            let lipping = box_of(bay.left, bay.right, under - shelf.lipping, under);
            sight.pen.rect(Role::Fine, Fill::None, lipping);
        }
    }
    for z in &bay.rails {
        let half = Length::mm(12);
        let rail = box_of(bay.left, bay.right, *z - half, *z + half);
        if seen(rail) {
            sight.pen.rect(Role::Fine, Fill::White, rail);
            let (x0, x1, z) = (bay.left.in_mm(), bay.right.in_mm(), z.in_mm());
            sight.pen.line(Role::Centre, vec![up(x0, z), up(x1, z)]);
        }
    }
    for (bottom, top) in &bay.drawers {
        let drawer = box_of(bay.left, bay.right, *bottom, *top);
        if seen(drawer) {
            let face = drawer.inset(4.0);
            sight.pen.rect(Role::Fine, Fill::White, face);
        }
    }
    for a in &bay.appliances {
        let area = box_of(a.left, a.right, a.bottom, a.top);
        if !seen(area) {
            continue;
        }
        sight.pen.rect(Role::Service, Fill::Tint, area);
        let name = sight.job.appliances.get(a.which.0).map(|it| {
            vec![
                it.name.clone(),
                format!("{} × {} × {}", it.width, it.height, it.depth),
            ]
        });
        // Below the middle: the unit's own mark may stand in it.
        let spot = Pt::new(area.centre().x, area.y1 - area.height() * 0.35);
        let normal = Lettering::Normal;
        sight.pen.label(
            spot,
            name.unwrap_or_default(),
            normal,
            LabelFrame::None,
            Some(area),
            4,
        );
    }
}

/// Heights above finished floor, written on the shelf and on the rail they belong to. Each keeps to
/// the space over its shelf or under its rail: by another shelf it would be a wrong height.
fn heights(sight: &mut Sight, bay: &PlacedBay) {
    let (left, right) = (bay.left, bay.right);
    let tops = || bay.shelves.iter().map(|s| s.z).chain(drawer_tops(bay));
    let undersides = || bay.shelves.iter().map(|s| s.z - s.thickness);
    for shelf in &bay.shelves {
        let next = undersides().filter(|z| *z > shelf.z).min();
        let area = box_of(left, right, shelf.z, next.unwrap_or(bay.top).max(shelf.z));
        let at = Pt::new(area.centre().x, -shelf.z.in_mm() - 36.0);
        height(sight, at, shelf.z.to_string(), area);
    }
    for z in &bay.rails {
        let next = tops().filter(|top| top < z).max();
        let area = box_of(left, right, next.unwrap_or(bay.bottom).min(*z), *z);
        let at = Pt::new(area.centre().x, -z.in_mm() + 52.0);
        height(sight, at, format!("rail {z}"), area);
    }
}

fn drawer_tops(bay: &PlacedBay) -> impl Iterator<Item = Length> + '_ {
    bay.drawers.iter().map(|(_, top)| *top)
}

/// Before the unit's own mark, which may stand elsewhere.
fn height(sight: &mut Sight, at: Pt, text: String, area: Rect) {
    let (normal, frame) = (Lettering::Normal, LabelFrame::None);
    sight
        .pen
        .label(at, vec![text], normal, frame, Some(area), 0);
}

/// Middle of the tallest clear space of the unit's widest bay.
pub fn clear_spot(unit: &PlacedUnit) -> Option<Pt> {
    let bay = unit
        .bays
        .iter()
        .max_by_key(|b| (b.right - b.left, -b.left))?;
    let mut taken: Vec<(Length, Length)> = Vec::new();
    taken.extend(bay.shelves.iter().map(|s| (s.z - s.thickness, s.z)));
    taken.extend(bay.rails.iter().map(|z| (*z, *z)));
    taken.extend(bay.drawers.iter().copied());
    taken.sort();
    let mut best = (Length::ZERO, Length::ZERO);
    let mut from = bay.bottom;
    for (bottom, top) in taken.into_iter().chain([(bay.top, bay.top)]) {
        if bottom - from > best.1 - best.0 {
            best = (from, bottom);
        }
        from = from.max(top);
    }
    Some(Pt::up(
        (bay.left + bay.right).half(),
        (best.0 + best.1).half(),
    ))
}
