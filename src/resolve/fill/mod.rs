//! The project with every default filled in: what `explain` prints and what the job is made from.
//!
//! Knows what inherits from what (unit from kind from run, front from kind of front, room's set)
//! and turns the short ways of saying a thing (`doors = 2`) into the long one. A value that was
//! written keeps its place, so whoever prints it can say on which line. Must not check references.

mod fronts;
mod goods;
mod loose;
mod risks;
mod rows;
mod runs;

use super::stock;
use crate::diag::Diagnostics;
use crate::read::project::{Project, Room};
use crate::read::table::{At, Value};
use crate::read::value::{Named, Ref};
use crate::read::words::HardwareKind;
use crate::units::Length;

/// `at`, or a default nobody wrote.
pub(in crate::resolve) fn or<T: Clone>(at: &mut Option<At<T>>, default: impl FnOnce() -> T) {
    if at.is_none() {
        *at = Some(At::default_of(default()));
    }
}

/// What stands elsewhere, with its own place, where nothing is written here.
pub(in crate::resolve) fn inherit<T: Clone>(at: &mut Option<At<T>>, from: impl FnOnce() -> At<T>) {
    if at.is_none() {
        *at = Some(from());
    }
}

/// The value of a list key, or nothing.
pub(in crate::resolve) fn list<T>(at: &Option<At<Vec<T>>>) -> &[T] {
    at.as_ref().map_or(&[], |a| a.value.as_slice())
}

fn list_mut<T>(at: &mut Option<At<Vec<T>>>) -> &mut [T] {
    at.as_mut().map_or(&mut [], |a| a.value.as_mut_slice())
}

fn named_mut<T>(at: &mut Option<At<Named<T>>>) -> &mut Vec<(At<String>, T)> {
    &mut at
        .get_or_insert_with(|| At::default_of(Named::default()))
        .value
        .0
}

/// A named table.
fn find<'a, T>(at: &'a Option<At<Named<T>>>, name: &str) -> Option<&'a T> {
    let named = at.as_ref()?;
    named
        .value
        .0
        .iter()
        .find(|(n, _)| n.value == name)
        .map(|(_, t)| t)
}

/// Fills in everything the designer left out; contradictions met on the way are reported.
pub fn fill(project: &Project, diags: &mut Diagnostics) -> Project {
    let mut p = project.with_defaults();
    for room in list_mut(&mut p.room) {
        fill_room(room);
    }
    for obstacle in list_mut(&mut p.way_in) {
        let width = obstacle.width().value;
        or(&mut obstacle.width_after, || width);
    }
    fronts::fill_fronts(&mut p, diags);
    runs::fill_runs(&mut p, diags);
    loose::fill_loose(&mut p);
    goods::fill_sets(&mut p);
    goods::fill_goods(&mut p);
    risks::fill_risks(&mut p);
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

/// The set in force in a room, by its id, with the place where that is said.
fn set_of_room(p: &Project, id: &str) -> At<Ref> {
    list(&p.room)
        .iter()
        .find(|r| r.id().value.0 == id)
        .and_then(|r| r.set.clone())
        .unwrap_or_else(|| stock::refer(stock::USUAL))
}

/// The room part of `room.wall`.
fn room_of(wall: &str) -> &str {
    wall.split_once('.').map_or(wall, |(room, _)| room)
}
