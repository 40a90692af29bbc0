//! The project with every default filled in: what `explain` prints and what the job is made from.
//!
//! Knows what inherits from what (unit from kind from run, front from kind of front, room's set)
//! and turns the short ways of saying a thing (`doors = 2`) into the long one. A value that was
//! written keeps its place, so whoever prints it can say on which line. Must not check references.

use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::project::*;
use crate::read::table::{At, Value};
use crate::read::value::{Named, OneOrEach, Ref, RefOrNot};
use crate::read::words::{FrontKind, HardwareKind, PanelKind, Side};
use crate::units::Length;

use super::rows::fill_rows;
use super::stock;

/// `at`, or a default nobody wrote.
pub(super) fn or<T: Clone>(at: &mut Option<At<T>>, default: impl FnOnce() -> T) {
    if at.is_none() {
        *at = Some(At::default_of(default()));
    }
}

/// The value of a list key, or nothing.
pub(super) fn list<T>(at: &Option<At<Vec<T>>>) -> &[T] {
    at.as_ref().map_or(&[], |a| a.value.as_slice())
}

pub(super) fn list_mut<T>(at: &mut Option<At<Vec<T>>>) -> &mut [T] {
    at.as_mut().map_or(&mut [], |a| a.value.as_mut_slice())
}

fn named_mut<T>(at: &mut Option<At<Named<T>>>) -> &mut Vec<(At<String>, T)> {
    &mut at
        .get_or_insert_with(|| At::default_of(Named::default()))
        .value
        .0
}

/// A named table.
pub(super) fn find<'a, T>(at: &'a Option<At<Named<T>>>, name: &str) -> Option<&'a T> {
    let named = at.as_ref()?;
    named
        .value
        .0
        .iter()
        .find(|(n, _)| n.value == name)
        .map(|(_, t)| t)
}

pub fn fill(project: &Project, diags: &mut Diagnostics) -> Project {
    let mut p = project.with_defaults();
    for room in list_mut(&mut p.room) {
        fill_room(room);
    }
    for obstacle in list_mut(&mut p.way_in) {
        let width = obstacle.width().value;
        or(&mut obstacle.width_after, || width);
    }
    fill_fronts(&mut p, diags);
    fill_runs(&mut p, diags);
    fill_loose(&mut p);
    fill_sets(&mut p);
    fill_goods(&mut p);
    p
}

fn fill_room(room: &mut Room) {
    let id = room.id().value.0;
    or(&mut room.name, || id);
    or(&mut room.set, || Ref(stock::USUAL.into()));
    let ceiling = room.ceiling().value;
    for wall in list_mut(&mut room.wall) {
        or(&mut wall.floor, || vec![(Length::ZERO, Length::ZERO)]);
        or(&mut wall.ceiling, || vec![(Length::ZERO, ceiling)]);
        or(&mut wall.plumb, || vec![(Length::ZERO, Length::ZERO)]);
        let length = wall.length().value;
        for bulkhead in list_mut(&mut wall.bulkhead) {
            or(&mut bulkhead.from, || Length::ZERO);
            or(&mut bulkhead.to, || length);
        }
        for thing in list_mut(&mut wall.obstruction) {
            or(&mut thing.top, || ceiling);
        }
    }
    for slope in list_mut(&mut room.slope) {
        or(&mut slope.high, || ceiling);
    }
}

/// The only piece of hardware of a kind, if there is just one.
fn only(p: &Project, kind: HardwareKind) -> Option<Ref> {
    let mut all = p
        .hardware
        .iter()
        .flat_map(|h| h.value.0.iter())
        .filter(|(_, h)| h.is().value == kind);
    match (all.next(), all.next()) {
        (Some((name, _)), None) => Some(Ref(name.value.clone())),
        _ => None,
    }
}

fn fill_fronts(p: &mut Project, diags: &mut Diagnostics) {
    let hinge = only(p, HardwareKind::Hinge);
    let runner = only(p, HardwareKind::Runner);
    // As written, so that what another kind says comes before a plain default.
    let mut written = Vec::new();
    std::mem::swap(&mut written, named_mut(&mut p.front));
    for (_, front) in &mut written {
        // A default filled in by `with_defaults` gives way to the kind it is like.
        for at in [front.gap.as_ref().map(|a| a.written())]
            .into_iter()
            .flatten()
        {
            if !at {
                front.gap = None;
            }
        }
        if front.lay.as_ref().is_some_and(|a| !a.written()) {
            front.lay = None;
        }
    }
    let mut filled = Vec::new();
    for (name, front) in &written {
        let mut whole = front.clone();
        let mut seen = vec![name.value.clone()];
        let mut like = front.like.clone();
        while let Some(at) = like {
            if seen.contains(&at.value.0) {
                diags.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        at.place,
                        format!("front `{}` is like itself, by way of others", name.value),
                    )
                    .label("comes back to where it began")
                    .help("let one of them stand without `like`"),
                );
                break;
            }
            seen.push(at.value.0.clone());
            let Some((_, base)) = written.iter().find(|(n, _)| n.value == at.value.0) else {
                break;
            };
            let keep = whole.like.clone();
            whole = whole.backed_by(base);
            whole.like = keep;
            like = base.like.clone();
        }
        filled.push((name.clone(), whole));
    }
    if !filled.iter().any(|(n, _)| n.value == stock::USUAL) {
        filled.push((At::default_of(stock::USUAL.into()), Front::default()));
    }
    for (_, front) in &mut filled {
        *front = front.with_defaults();
        if front.hinge_by.is_none() {
            front.hinge_by = hinge.clone().map(At::default_of);
        }
        if front.runner.is_none() {
            front.runner = runner.clone().map(At::default_of);
        }
    }
    *named_mut(&mut p.front) = filled;
}

/// The set in force in a room, by its id.
fn set_of_room(p: &Project, id: &str) -> Ref {
    list(&p.room)
        .iter()
        .find(|r| r.id().value.0 == id)
        .and_then(|r| r.set.clone())
        .map_or_else(|| Ref(stock::USUAL.into()), |at| at.value)
}

/// The room part of `room.wall`.
pub(super) fn room_of(wall: &str) -> &str {
    wall.split_once('.').map_or(wall, |(room, _)| room)
}

fn fill_runs(p: &mut Project, diags: &mut Diagnostics) {
    let foot = only(p, HardwareKind::Foot);
    let mut runs = list(&p.run).to_vec();
    for run in &mut runs {
        let id = run.id().value.0;
        or(&mut run.name, || id.clone());
        or(&mut run.front, || Ref(stock::USUAL.into()));
        let set = set_of_room(p, room_of(&run.wall().value.0));
        or(&mut run.set, || set);
        if run.foot.is_none() {
            run.foot = foot.clone().map(At::default_of);
        }
        let (left, right) = (run.from.is_none(), run.to.is_none());
        fill_end(&mut run.left, left);
        fill_end(&mut run.right, right);
        let defaults = run.clone();
        let set_name = run.set.clone().unwrap_or_default().value.0;
        let set = find(&p.set, &set_name).cloned().unwrap_or_default();
        for (place, unit) in list_mut(&mut run.unit).iter_mut().enumerate() {
            fill_unit(unit, place, &id, &defaults, &set, p, diags);
        }
    }
    if let Some(at) = &mut p.run {
        at.value = runs;
    }
}

/// A run that goes to a corner is scribed there, unless its end says something.
fn fill_end(end: &mut Option<At<End>>, to_corner: bool) {
    let at = end.get_or_insert_with(|| At::default_of(End::default()));
    let said = at.written()
        && at.value
            != End {
                place: at.value.place,
                ..End::default()
            };
    if to_corner && !said {
        or(&mut at.value.scribe, || stock::SCRIBE);
    }
}

fn fill_unit(
    unit: &mut Unit,
    place: usize,
    run_id: &str,
    run: &Run,
    set: &Set,
    p: &Project,
    diags: &mut Diagnostics,
) {
    let kind = unit
        .kind
        .as_ref()
        .and_then(|k| find(&p.kind, &k.value.0))
        .cloned()
        .unwrap_or_default();
    let own_fronts = says_fronts(unit);
    let own_inside = unit.shelves.is_some() || unit.bay.is_some();
    let keep_default = |own: bool| own;
    // Plain defaults give way to the kind.
    if !keep_default(unit.built.as_ref().is_some_and(At::written)) {
        unit.built = None;
    }
    if !unit.load.as_ref().is_some_and(At::written) {
        unit.load = None;
    }
    if !unit.note.as_ref().is_some_and(At::written) {
        unit.note = None;
    }
    let mut base = kind;
    if own_fronts {
        (base.doors, base.drawers, base.flaps, base.row, base.hinge) =
            (None, None, None, None, None);
    }
    if own_inside {
        (base.shelves, base.bay) = (None, None);
    }
    let kind_name = base.name.clone();
    let mut whole = unit.backed_by(&base).with_defaults();
    or(&mut whole.id, || {
        crate::read::value::Id(format!("{run_id}-{}", place + 1))
    });
    let id = whole.id.clone().unwrap_or_default().value.0;
    whole.name = unit.name.clone().or(kind_name);
    or(&mut whole.name, || id.clone());
    or(&mut whole.depth, || run.depth().value);
    or(&mut whole.base, || run.base().value);
    or(&mut whole.top, || run.top().value);
    or(&mut whole.stands, || run.stands().value);
    or(&mut whole.front, || {
        run.front.clone().unwrap_or_default().value
    });
    let carcass = set
        .carcass
        .clone()
        .unwrap_or_else(|| stock::refer(stock::CARCASS))
        .value;
    or(&mut whole.carcass, || carcass);
    let back = set
        .back
        .clone()
        .unwrap_or_else(|| stock::refer(stock::BACK))
        .value;
    match whole.back.as_ref().map(|at| &at.value) {
        None | Some(RefOrNot::Usual) => {
            whole.back = Some(At::default_of(RefOrNot::Named(back.0)));
        }
        _ => {}
    }
    if list(&whole.bay).is_empty() {
        let mut bay = Bay::default().with_defaults();
        if let Some(shelves) = &whole.shelves {
            bay.shelves = Some(shelves.clone());
        }
        whole.bay = Some(At::default_of(vec![bay]));
    } else if let Some(shelves) = &whole.shelves {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                shelves.place,
                "both `shelves` and `bay` are given",
            )
            .label("shelves of which bay?")
            .help("say `shelves` inside the `bay` they belong to"),
        );
    }
    whole.shelves = None;
    fill_rows(&mut whole, &id, diags);
    *unit = whole;
}

fn says_fronts(unit: &Unit) -> bool {
    unit.doors.is_some() || unit.drawers.is_some() || unit.flaps.is_some() || unit.row.is_some()
}

fn fill_loose(p: &mut Project) {
    let track = only(p, HardwareKind::Track);
    let tables = (
        list(&p.panel).to_vec(),
        list(&p.sliding).to_vec(),
        list(&p.worktop).to_vec(),
    );
    let (mut panels, mut sliding, mut worktops) = tables;
    let panel_board = |wall: &Option<At<Ref>>| {
        let room = wall.as_ref().map_or("", |w| room_of(&w.value.0));
        let set = find(&p.set, &set_of_room(p, room).0)
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
        let thickness = find(&p.material, &top.material().value.0).map(|m| m.thickness().value);
        or(&mut top.edge, || thickness.unwrap_or_default());
    }
    for (at, filled) in [(&mut p.panel, panels)] {
        if let Some(at) = at {
            at.value = filled;
        }
    }
    if let Some(at) = &mut p.sliding {
        at.value = sliding;
    }
    if let Some(at) = &mut p.worktop {
        at.value = worktops;
    }
}

/// Sets in full, the usual one if anything needs it, and the stock boards they name.
fn fill_sets(p: &mut Project) {
    let needs_usual = list(&p.room)
        .iter()
        .filter_map(|r| r.set.as_ref())
        .chain(list(&p.run).iter().filter_map(|r| r.set.as_ref()))
        .any(|set| set.value.0 == stock::USUAL);
    let sets = named_mut(&mut p.set);
    if needs_usual && !sets.iter().any(|(n, _)| n.value == stock::USUAL) {
        sets.push((At::default_of(stock::USUAL.into()), Set::default()));
    }
    let mut named = Vec::new();
    for (_, set) in sets.iter_mut() {
        or(&mut set.carcass, || Ref(stock::CARCASS.into()));
        or(&mut set.back, || Ref(stock::BACK.into()));
        or(&mut set.front, || Ref(stock::FRONT.into()));
        let front = set.front.clone().unwrap_or_default().value;
        for key in [&mut set.panel, &mut set.plinth, &mut set.filler] {
            or(key, || front.clone());
        }
        for key in [&set.carcass, &set.back, &set.front, &set.panel] {
            named.extend(
                key.iter()
                    .filter(|at| !at.written())
                    .map(|at| at.value.0.clone()),
            );
        }
    }
    for unit in list(&p.run).iter().flat_map(|r| list(&r.unit)) {
        named.extend(
            unit.carcass
                .iter()
                .filter(|at| !at.written())
                .map(|at| at.value.0.clone()),
        );
        if let Some(At {
            value: RefOrNot::Named(name),
            place,
        }) = &unit.back
            && *place == crate::diag::Place::NOWHERE
        {
            named.push(name.clone());
        }
    }
    named.extend(
        list(&p.panel)
            .iter()
            .filter_map(|x| x.material.clone())
            .map(|at| at.value.0),
    );
    named.extend(
        list(&p.sliding)
            .iter()
            .filter_map(|x| x.material.clone())
            .map(|at| at.value.0),
    );
    let materials = named_mut(&mut p.material);
    for name in named {
        if !materials.iter().any(|(n, _)| n.value == name)
            && let Some(board) = stock::board(&name)
        {
            materials.push((At::default_of(name), board.with_defaults()));
        }
    }
}

fn fill_goods(p: &mut Project) {
    for (key, material) in named_mut(&mut p.material) {
        or(&mut material.name, || key.value.clone());
        if let Some(density) = stock::density(material.core().value) {
            or(&mut material.density, || density);
        }
        or(&mut material.repeat, || (Length::ZERO, Length::ZERO));
        if material.picture.is_some()
            && let Some(sheet) = material.sheet.clone()
        {
            or(&mut material.shows, || sheet.value);
        }
    }
    for (key, finish) in named_mut(&mut p.finish) {
        or(&mut finish.name, || key.value.clone());
    }
    for (key, hardware) in named_mut(&mut p.hardware) {
        or(&mut hardware.name, || key.value.clone());
    }
    for (key, appliance) in named_mut(&mut p.appliance) {
        or(&mut appliance.name, || key.value.clone());
    }
}

/// Hinge sides of `count` doors side by side: as given, or by turns from the left.
pub(super) fn hinges(given: Option<&OneOrEach<Side>>, count: usize) -> Vec<Side> {
    let turns = |n: usize| if n.is_multiple_of(2) { Side::Left } else { Side::Right };
    match given.map(|g| g.0.as_slice()) {
        Some([one]) => vec![*one; count],
        Some(each) if !each.is_empty() => (0..count)
            .map(|n| each.get(n).or(each.last()).copied().unwrap_or(Side::Left))
            .collect(),
        _ => (0..count).map(turns).collect(),
    }
}

/// What a count key makes.
pub(super) type Count<'a> = (&'static str, FrontKind, Option<&'a At<u32>>);
