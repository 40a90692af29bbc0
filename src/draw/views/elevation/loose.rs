//! What is no unit: panels, slats, sliding doors, worktops, in elevation.
//! Knows how each shows from the front; must not know runs or the room's survey.

use super::super::Face;
use super::super::pen::{box_of, up};
use super::{Sight, fronts};
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Role, Symbol};
use crate::resolve::job::PanelKind;

pub fn panels(sight: &mut Sight) {
    for (panel, made) in sight.reckoned.panels.iter().zip(&sight.job.panels) {
        if panel.wall != sight.at {
            continue;
        }
        let fill = sight.grain(made.material, false);
        // The grain of narrow slats would only blacken them.
        let fill = if made.kind == PanelKind::Slats || fill == Fill::None {
            Fill::White
        } else {
            fill
        };
        for (left, right) in &panel.pieces {
            sight.pen.rect(
                Role::Edge,
                fill,
                box_of(*left, *right, panel.bottom, panel.top),
            );
        }
        let (Some(first), Some(last)) = (panel.pieces.first(), panel.pieces.last()) else {
            continue;
        };
        let area = box_of(first.0, last.1, panel.bottom, panel.top);
        if made.kind == PanelKind::Slats {
            let (n, wide) = (panel.pieces.len(), first.1 - first.0);
            let text = format!("{}: {n} slats {wide} wide, {} apart", made.name, panel.gap);
            let at = Pt::up(
                (first.0 + first.1).half(),
                panel.top - (panel.top - panel.bottom) / 24,
            );
            sight.pen.callout(at, text);
            continue;
        }
        let (normal, plain) = (Lettering::Normal, LabelFrame::None);
        let name = vec![made.name.clone()];
        sight
            .pen
            .label(area.centre(), name, normal, plain, Some(area), 3);
    }
}

/// Shut in full lines, standing open in dashes, with the way it goes.
pub fn sliding(sight: &mut Sight) {
    for (leaf, made) in sight.reckoned.sliding.iter().zip(&sight.job.sliding) {
        if leaf.wall != sight.at {
            continue;
        }
        let shut = box_of(leaf.left, leaf.right, leaf.bottom, leaf.top);
        let open = box_of(leaf.open_left, leaf.open_right, leaf.bottom, leaf.top);
        let fill = match sight.grain(made.material, false) {
            Fill::None => Fill::White,
            grain => grain,
        };
        sight.pen.rect(Role::Hidden, Fill::None, open);
        sight.pen.rect(Role::Edge, fill, shut);
        let track = leaf.top.in_mm();
        let rail = vec![
            up(leaf.track_left.in_mm(), track),
            up(leaf.track_right.in_mm(), track),
        ];
        sight.pen.line(Role::Cut, rail);
        // Over its free end, where no leaf stands.
        let (x0, x1) = (leaf.track_left.in_mm(), leaf.track_right.in_mm());
        let over = up((x0 + x1) / 2.0, track + 45.0);
        let long = leaf.track_right - leaf.track_left;
        sight.pen.words(over, format!("track {long}"), None);
        if let Some(handle) = &leaf.handle {
            fronts::handle_mark(sight, handle);
        }
        let leftwards = leaf.open_left < leaf.left;
        let turn = if leftwards { 180.0 } else { 0.0 };
        let arrow = Pt::new(shut.centre().x, shut.y0 + shut.height() * 0.3);
        sight
            .pen
            .symbol(Role::Edge, arrow, Symbol::WayArrow { turn });
        let lines = vec![
            made.name.clone(),
            format!("{} × {}", made.width, made.height),
        ];
        let normal = Lettering::Normal;
        sight.pen.label(
            shut.centre(),
            lines,
            normal,
            LabelFrame::None,
            Some(shut),
            3,
        );
        let where_open = "stands here when open";
        sight.pen.words(open.centre(), where_open, Some(open));
    }
}

pub fn worktops(sight: &mut Sight) {
    for (top, made) in sight.reckoned.worktops.iter().zip(&sight.job.worktops) {
        if top.wall != sight.at {
            continue;
        }
        sight.pen.rect(
            Role::Edge,
            Fill::White,
            box_of(top.left, top.right, top.bottom, top.top),
        );
        if top.upstand_top > top.top {
            let area = box_of(top.left, top.right, top.top, top.upstand_top);
            sight.pen.rect(Role::Fine, Fill::White, area);
        }
        for cut in &top.cutouts {
            let x = (cut.left + cut.right).half().in_mm();
            let (low, high) = (top.bottom.in_mm() - 30.0, top.top.in_mm() + 30.0);
            sight.pen.line(Role::Centre, vec![up(x, low), up(x, high)]);
            for x in [cut.left.in_mm(), cut.right.in_mm()] {
                let side = vec![up(x, top.bottom.in_mm()), up(x, top.top.in_mm())];
                sight.pen.line(Role::Hidden, side);
            }
        }
        if sight.face == Face::Shut {
            let across = top.left + (top.right - top.left).scale(7, 8);
            let at = Pt::up(across, (top.bottom + top.top).half());
            let mut text = format!("{}, {} edge", made.name, made.edge);
            if top.upstand_top > top.top {
                text.push_str(&format!(", upstand {} high", top.upstand_top - top.top));
            }
            sight.pen.callout(at, text);
        }
    }
}
