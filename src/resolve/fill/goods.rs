//! Sets, boards, finishes, hardware and appliances in full. Must not check references.

use super::{list, named_mut, or};
use crate::diag::Place;
use crate::read::project::{Project, Set};
use crate::read::table::{At, Value};
use crate::read::value::{Ref, RefOrNot};
use crate::resolve::stock;
use crate::units::Length;

/// Sets in full, the usual one if anything needs it, and the stock boards they name.
pub(super) fn fill_sets(p: &mut Project) {
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
            && *place == Place::NOWHERE
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

pub(super) fn fill_goods(p: &mut Project) {
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
