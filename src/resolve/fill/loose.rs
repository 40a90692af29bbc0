//! Panels, sliding doors and worktops in full. Must not check references.

use super::{find, list, only, or, room_of, set_of_room};
use crate::read::project::Project;
use crate::read::table::At;
use crate::read::value::Ref;
use crate::read::words::{HardwareKind, PanelKind};
use crate::resolve::stock;

pub(super) fn fill_loose(p: &mut Project) {
    let track = only(p, HardwareKind::Track);
    let tables = (
        list(&p.panel).to_vec(),
        list(&p.sliding).to_vec(),
        list(&p.worktop).to_vec(),
    );
    let (mut panels, mut sliding, mut worktops) = tables;
    let panel_board = |wall: &Option<At<Ref>>| {
        let room = wall.as_ref().map_or("", |w| room_of(&w.value.0));
        let set = find(&p.set, &set_of_room(p, room).value.0)
            .cloned()
            .unwrap_or_default();
        set.panel
            .or(set.front)
            .unwrap_or_else(|| stock::refer(stock::FRONT))
            .value
    };
    for panel in &mut panels {
        let id = panel.id().value.0;
        or(&mut panel.name, || id);
        let board = panel_board(&panel.wall);
        or(&mut panel.material, || board);
        let slats = panel.is().value == PanelKind::Slats;
        or(&mut panel.gap, || {
            if slats {
                stock::SLAT_GAP
            } else {
                stock::PIECE_GAP
            }
        });
    }
    for door in &mut sliding {
        let id = door.id().value.0;
        or(&mut door.name, || id);
        let board = panel_board(&door.wall);
        or(&mut door.material, || board);
        if door.track.is_none() {
            door.track = track.clone().map(At::default_of);
        }
    }
    for top in &mut worktops {
        let id = top.id().value.0;
        or(&mut top.name, || id);
        let material = top.material().value.0;
        let own = find(&p.material, &material).map(|m| m.thickness().value);
        let thickness = || stock::board(&material)?.thickness.map(|t| t.value);
        or(&mut top.edge, || own.or_else(thickness).unwrap_or_default());
    }
    if let Some(at) = &mut p.panel {
        at.value = panels;
    }
    if let Some(at) = &mut p.sliding {
        at.value = sliding;
    }
    if let Some(at) = &mut p.worktop {
        at.value = worktops;
    }
}
