//! Units on plan: carcasses, fronts and their swings, strips and end panels.
//! Knows what the cut meets, what lies below it and above; must not know walls or dimensions.

use super::{CUT, Leaf, Sheet};
use crate::draw::scene::{Fill, LabelFrame, Lettering, Role};
use crate::reckon::placed::{PieceKind, PlacedFront, PlacedRun, PlacedUnit, PlacedWall, RunPiece};
use crate::resolve::job::{FrontKind, Side, Stands, WallRef};
use crate::units::Length;

pub fn runs(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    for (index, run) in reckoned.runs.iter().enumerate() {
        let Some(wall) = sheet.wall(run.wall) else {
            continue;
        };
        let covered = sheet.job.worktops.iter().any(|w| w.run == index);
        for piece in &run.pieces {
            strip(sheet, wall, run, piece, covered);
        }
        for unit in &run.units {
            carcass(sheet, wall, run, unit, covered);
        }
        depths(sheet, wall, run);
    }
}

/// Above the cut, met by it, seen below it, or hidden by a top.
fn role(unit: &PlacedUnit, covered: bool) -> Role {
    if matches!(unit.stands, Stands::Wall | Stands::Unit) || unit.base > CUT {
        Role::Above
    } else if covered {
        Role::Hidden
    } else if unit.top > CUT {
        Role::Cut
    } else {
        Role::Edge
    }
}

fn carcass(
    sheet: &mut Sheet,
    wall: &PlacedWall,
    run: &PlacedRun,
    unit: &PlacedUnit,
    covered: bool,
) {
    let x = (unit.left.in_mm(), unit.right.in_mm());
    let y = (run.y_back.in_mm(), (run.y_back + unit.depth).in_mm());
    let role = role(unit, covered);
    sheet.block(wall, role, Fill::None, x, y);
    let reckoned = sheet.reckoned;
    let fronts = unit.fronts.iter();
    let fronts = fronts.filter_map(|i| Some((*i, reckoned.fronts.get(*i)?)));
    let mut drawn: Vec<(Length, Length, FrontKind, Option<Side>)> = Vec::new();
    for (index, front) in fronts {
        let key = (front.left, front.right, front.kind, front.hinge);
        if drawn.contains(&key) {
            continue;
        }
        let first = !drawn
            .iter()
            .any(|d| d.0 == front.left && d.1 == front.right);
        drawn.push(key);
        leaf_or_travel(sheet, wall, (index, front), first, role);
    }
    if let Some(area) = sheet.around(wall, x, y) {
        sheet.busy.push(area);
        let id = vec![unit.id.clone()];
        let across = clear_of_cutouts(sheet, run.wall, x);
        let at = super::pt(wall.at(across, y.0 + (y.1 - y.0) * 0.64));
        // Smaller rather than outside its unit.
        let (minor, frame) = (Lettering::Minor, LabelFrame::Box);
        sheet.pen.label(at, id, minor, frame, Some(area), 1);
    }
}

/// Along the wall: the middle of a unit, or a place beside what is cut out of the top over it.
fn clear_of_cutouts(sheet: &Sheet, at: WallRef, x: (f64, f64)) -> f64 {
    let tops = sheet.reckoned.worktops.iter().filter(|t| t.wall == at);
    let holes: Vec<(f64, f64)> = tops
        .flat_map(|t| &t.cutouts)
        .map(|c| (c.left.in_mm(), c.right.in_mm()))
        .collect();
    let clear = |p: &f64| !holes.iter().any(|h| h.0 - 90.0 < *p && *p < h.1 + 90.0);
    let tried = [0.5, 0.14, 0.86, 0.25, 0.75].map(|share| x.0 + (x.1 - x.0) * share);
    tried.into_iter().find(clear).unwrap_or((x.0 + x.1) / 2.0)
}

fn leaf_or_travel(
    sheet: &mut Sheet,
    wall: &PlacedWall,
    (index, front): (usize, &PlacedFront),
    first: bool,
    unit_role: Role,
) {
    let x = (front.left.in_mm(), front.right.in_mm());
    let y = (front.y_back.in_mm(), front.y_face.in_mm());
    if first {
        let role = match unit_role {
            Role::Cut | Role::Edge => Role::Fine,
            other => other,
        };
        sheet.block(wall, role, Fill::None, x, y);
    }
    match (front.kind, front.hinge) {
        (FrontKind::Door, Some(side)) => {
            let (hinge, free) = if side == Side::Left { x } else { (x.1, x.0) };
            let opens = sheet.reckoned.opens.get(index).copied().flatten();
            let leaf = Leaf {
                y: y.1,
                out: 1.0,
                thick: y.1 - y.0,
                angle: opens.unwrap_or(core::f64::consts::FRAC_PI_2),
            };
            sheet.leaf(wall, (hinge, free), leaf);
        }
        // As far as its runner lets it: what must stay free before it.
        (FrontKind::Drawer, _) => {
            let out = y.1 + front.travel.in_mm();
            sheet.block(wall, Role::Swing, Fill::None, x, (y.1, out));
            sheet.busy.extend(sheet.around(wall, x, (y.1, out)));
        }
        _ => {}
    }
}

fn strip(sheet: &mut Sheet, wall: &PlacedWall, run: &PlacedRun, piece: &RunPiece, covered: bool) {
    let beside = match piece.side {
        Side::Left => run.units.first(),
        Side::Right => run.units.last(),
    };
    let Some(unit) = beside else {
        return;
    };
    let face = (run.y_back + unit.depth_over_fronts).in_mm();
    let thick = sheet
        .job
        .materials
        .get(piece.material.0)
        .map_or(0.0, |m| m.thickness.in_mm());
    let x = (piece.left.in_mm(), piece.right.in_mm());
    let (fill, back) = match piece.kind {
        PieceKind::Scribe => (Fill::Scribe, face - thick),
        PieceKind::Filler => (Fill::None, face - thick),
        PieceKind::EndPanel => (Fill::None, run.y_back.in_mm()),
    };
    sheet.block(wall, role(unit, covered), fill, x, (back, face));
}

/// Whether another run has a unit over or under this one.
fn shares_its_place(sheet: &Sheet, run: &PlacedRun, unit: &PlacedUnit) -> bool {
    let others = sheet
        .reckoned
        .runs
        .iter()
        .filter(|r| r.wall == run.wall && !std::ptr::eq(*r, run));
    let mut units = others.flat_map(|r| &r.units);
    units.any(|u| u.left < unit.right && unit.left < u.right)
}

/// Depth over the fronts, said once for units that follow one another with the same: in the first, or
/// at the foot where that has no room or a unit stands over it.
fn depths(sheet: &mut Sheet, wall: &PlacedWall, run: &PlacedRun) {
    let alike = |a: &PlacedUnit, b: &PlacedUnit| a.depth_over_fronts == b.depth_over_fronts;
    for units in run.units.chunk_by(alike) {
        let (Some(unit), Some(last)) = (units.first(), units.last()) else {
            continue;
        };
        let depth = unit.depth_over_fronts;
        let whose = match units.len() {
            1 => unit.id.clone(),
            2 => format!("{} and {}", unit.id, last.id),
            _ => format!("{} to {}", unit.id, last.id),
        };
        let listed = format!("{whose}: {depth} deep");
        if units.iter().any(|u| shares_its_place(sheet, run, u)) {
            sheet.pen.scene.under.push(listed);
            continue;
        }
        let x = (unit.left.in_mm(), unit.right.in_mm());
        let y = (run.y_back.in_mm(), (run.y_back + unit.depth).in_mm());
        if let Some(area) = sheet.around(wall, x, y) {
            let at = wall.at((x.0 + x.1) / 2.0, y.0 + (y.1 - y.0) * 0.23);
            let words = format!("{depth} deep");
            sheet.pen.words(super::pt(at), words, Some(area));
            sheet.pen.else_listed(listed);
        }
    }
}
