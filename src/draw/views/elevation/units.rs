//! Runs in elevation: strips cut to the wall, end panels, carcasses, plinths, feet.
//! Knows what of a run shows shut and open; must not know the room or the dimension chains.

use super::super::pen::{box_of, up};
use super::super::{Face, survey};
use super::{Sight, fronts, inside};
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Role};
use crate::reckon::placed::{PieceKind, PlacedUnit, RunPiece};
use crate::resolve::job::{Side, Stands};

/// End panels, fillers and scribes at both ends.
pub fn strips(sight: &mut Sight, run: usize) {
    let Some(placed) = sight.reckoned.runs.get(run) else {
        return;
    };
    for piece in &placed.pieces {
        match piece.kind {
            PieceKind::Scribe => {
                let outline = scribe_outline(piece);
                sight.pen.area(Role::Edge, Fill::Scribe, outline);
            }
            PieceKind::Filler | PieceKind::EndPanel => {
                let area = box_of(piece.left, piece.right, piece.bottom, piece.top);
                sight.pen.rect(Role::Edge, Fill::White, area);
            }
        }
    }
}

/// A strip follows the wall on one side and is plumb on the other.
fn scribe_outline(piece: &RunPiece) -> Vec<Pt> {
    let plumb = match piece.side {
        Side::Left => piece.right,
        Side::Right => piece.left,
    };
    if piece.scribe.len() < 2 {
        let b = box_of(piece.left, piece.right, piece.bottom, piece.top);
        return vec![
            Pt::new(b.x0, b.y1),
            Pt::new(b.x0, b.y0),
            Pt::new(b.x1, b.y0),
            Pt::new(b.x1, b.y1),
        ];
    }
    let mut points: Vec<Pt> = piece
        .scribe
        .iter()
        .map(|(z, wide)| match piece.side {
            Side::Left => Pt::up(plumb - *wide, *z),
            Side::Right => Pt::up(plumb + *wide, *z),
        })
        .collect();
    points.push(Pt::up(plumb, piece.top));
    points.push(Pt::up(plumb, piece.bottom));
    points
}

/// Carcasses with their insides where these show, then the fronts.
pub fn carcasses(sight: &mut Sight, run: usize) {
    let (Some(placed), Some(job_run)) = (sight.reckoned.runs.get(run), sight.job.runs.get(run))
    else {
        return;
    };
    for (unit, made) in placed.units.iter().zip(&job_run.units) {
        let outline = box_of(unit.left, unit.right, unit.base, unit.top);
        let bare = unit.fronts.is_empty() || sight.face == Face::Open;
        sight.pen.rect(
            Role::Edge,
            if bare { Fill::None } else { Fill::White },
            outline,
        );
        if bare {
            inside::unit(sight, unit, true);
        } else {
            if fronts::has_open_cells(made) {
                inside::unit(sight, unit, false);
            }
            for front in sight.fronts_of(unit) {
                fronts::front(sight, front);
            }
            fronts::hidden_appliances(sight, unit);
        }
        if bare {
            name(sight, unit);
        }
        let feet_show = unit.stands == Stands::Feet
            || (unit.stands == Stands::Plinth && sight.face == Face::Open);
        if feet_show {
            feet(sight, unit);
        }
    }
}

/// The unit's id in a box, in its widest bay's clear space near the top.
fn name(sight: &mut Sight, unit: &PlacedUnit) {
    let inner = box_of(
        unit.left + unit.board,
        unit.right - unit.board,
        unit.base + unit.board,
        unit.top - unit.board,
    );
    let mut at = inside::clear_spot(unit).unwrap_or(inner.centre());
    if !unit.boxes.is_empty() {
        // Drawers have their own names, at their left.
        at.x = inner.x0 + inner.width() * 0.84;
    }
    let id = vec![unit.id.clone()];
    sight
        .pen
        .label(at, id, Lettering::Strong, LabelFrame::Box, Some(inner), 1);
}

/// Half the width a foot is drawn with: a mark, not a size.
const FOOT_HALF_MM: f64 = 20.0;

fn feet(sight: &mut Sight, unit: &PlacedUnit) {
    let mut drawn = Vec::new();
    for foot in &unit.feet {
        if drawn.contains(&foot.x) {
            continue;
        }
        drawn.push(foot.x);
        let x = foot.x.in_mm();
        let (top, floor) = (unit.base.in_mm(), (unit.base - foot.height).in_mm());
        let half = FOOT_HALF_MM;
        sight.pen.line(
            Role::Fine,
            vec![up(x - half * 0.6, top), up(x - half * 0.6, floor + 8.0)],
        );
        sight.pen.line(
            Role::Fine,
            vec![up(x + half * 0.6, top), up(x + half * 0.6, floor + 8.0)],
        );
        let sole = super::super::pen::box_up(x - half, x + half, floor, floor + 8.0);
        sight.pen.rect(Role::Fine, Fill::None, sole);
    }
}

/// Plinths are cut to the floor; in the open view they are left off, so that the feet show.
pub fn plinths(sight: &mut Sight, run: usize) {
    if sight.face == Face::Open {
        return;
    }
    let (Some(placed), Some(job_run)) = (sight.reckoned.runs.get(run), sight.job.runs.get(run))
    else {
        return;
    };
    for plinth in &placed.plinths {
        let (left, right) = (plinth.left.in_mm(), plinth.right.in_mm());
        let mut points = vec![up(left, plinth.top.in_mm()), up(right, plinth.top.in_mm())];
        points.push(up(right, survey::between(&sight.wall.floor, right)));
        let floor = survey::floor_line(sight.wall);
        let inner = floor.iter().rev().filter(|p| p.0 > left && p.0 < right);
        points.extend(inner.map(|p| up(p.0, p.1)));
        points.push(up(left, survey::between(&sight.wall.floor, left)));
        let fill = match sight.grain(job_run.plinth_material, true) {
            Fill::None => Fill::White,
            grain => grain,
        };
        sight.pen.area(Role::Edge, fill, points);
    }
}
