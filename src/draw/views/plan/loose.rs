//! Panels, sliding doors and worktops on plan.
//! Knows how each shows from above; must not know runs or walls' make-up.

use super::{Sheet, pt};
use crate::draw::scene::{Fill, Pt, Role};
use crate::reckon::placed::{PlacedCutout, PlacedWall};

pub fn panels(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    for (panel, made) in reckoned.panels.iter().zip(&sheet.job.panels) {
        let Some(wall) = sheet.wall(panel.wall) else {
            continue;
        };
        let y = (panel.y_back.in_mm(), panel.y_face.in_mm());
        for (left, right) in &panel.pieces {
            sheet.block(
                wall,
                Role::Edge,
                Fill::White,
                (left.in_mm(), right.in_mm()),
                y,
            );
        }
        if let (Some(first), Some(last)) = (panel.pieces.first(), panel.pieces.last()) {
            let middle = (first.0 + last.1).half().in_mm();
            sheet
                .pen
                .callout(pt(wall.at(middle, y.1)), made.name.clone());
        }
    }
}

pub fn sliding(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    for (leaf, made) in reckoned.sliding.iter().zip(&sheet.job.sliding) {
        let Some(wall) = sheet.wall(leaf.wall) else {
            continue;
        };
        let y = (leaf.y_back.in_mm(), leaf.y_face.in_mm());
        let open = (leaf.open_left.in_mm(), leaf.open_right.in_mm());
        sheet.block(wall, Role::Hidden, Fill::None, open, y);
        sheet.block(
            wall,
            Role::Cut,
            Fill::White,
            (leaf.left.in_mm(), leaf.right.in_mm()),
            y,
        );
        let middle = (y.0 + y.1) / 2.0;
        let track = vec![
            pt(wall.at(leaf.track_left.in_mm(), middle)),
            pt(wall.at(leaf.track_right.in_mm(), middle)),
        ];
        sheet.pen.line(Role::Centre, track);
        let at = wall.at((leaf.left + leaf.right).half().in_mm(), y.1);
        sheet.pen.callout(pt(at), made.name.clone());
    }
}

pub fn worktops(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    for (top, made) in reckoned.worktops.iter().zip(&sheet.job.worktops) {
        let Some(wall) = sheet.wall(top.wall) else {
            continue;
        };
        let x = (top.left.in_mm(), top.right.in_mm());
        sheet.block(
            wall,
            Role::Edge,
            Fill::None,
            x,
            (top.y_back.in_mm(), top.y_front.in_mm()),
        );
        if top.upstand_top > top.top {
            let thick = sheet
                .job
                .materials
                .get(made.material.0)
                .map_or(0.0, |m| m.thickness.in_mm());
            let y = top.y_back.in_mm() + thick;
            sheet
                .pen
                .line(Role::Fine, vec![pt(wall.at(x.0, y)), pt(wall.at(x.1, y))]);
        }
        for cut in &top.cutouts {
            let points = rounded(wall, cut);
            sheet.pen.area(Role::Edge, Fill::White, points);
            let area = sheet.around(
                wall,
                (cut.left.in_mm(), cut.right.in_mm()),
                (cut.y_back.in_mm(), cut.y_front.in_mm()),
            );
            if let Some(area) = area {
                sheet.pen.words(area.centre(), cut.what.clone(), Some(area));
            }
        }
    }
}

/// Outline of a cut-out, its corners in four chords each.
fn rounded(wall: &PlacedWall, cut: &PlacedCutout) -> Vec<Pt> {
    let (x0, x1) = (cut.left.in_mm(), cut.right.in_mm());
    let (y0, y1) = (cut.y_back.in_mm(), cut.y_front.in_mm());
    let most = ((x1 - x0).abs().min((y1 - y0).abs())) / 2.0;
    let r = cut.radius.in_mm().clamp(0.0, most.max(0.0));
    let corners = [
        (x0 + r, y0 + r, 180.0),
        (x1 - r, y0 + r, 270.0),
        (x1 - r, y1 - r, 0.0),
        (x0 + r, y1 - r, 90.0),
    ];
    let mut points = Vec::new();
    for (cx, cy, from) in corners {
        for k in 0..=4 {
            let angle = f64::to_radians(from + 22.5 * f64::from(k));
            let (cos, sin) = (libm::cos(angle), libm::sin(angle));
            points.push(pt(wall.at(cx + r * cos, cy + r * sin)));
        }
    }
    points
}
