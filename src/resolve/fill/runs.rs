//! Runs and units in full: what a unit takes from its kind, its run and its set, and the scribes of a
//! run that goes to a corner. Must not check references.

use super::rows::fill_rows;
use super::{find, inherit, list, list_mut, only, or, room_of, set_of_room};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::project::{Bay, End, Project, Run, Set, Unit};
use crate::read::table::{At, Value};
use crate::read::value::{Id, Ref, RefOrNot};
use crate::read::words::HardwareKind;
use crate::resolve::stock;

pub(super) fn fill_runs(p: &mut Project, diags: &mut Diagnostics) {
    let foot = only(p, HardwareKind::Foot);
    let mut runs = list(&p.run).to_vec();
    for run in &mut runs {
        let id = run.id().value.0;
        or(&mut run.name, || id.clone());
        or(&mut run.front, || Ref(stock::USUAL.into()));
        let set = set_of_room(p, room_of(&run.wall().value.0));
        inherit(&mut run.set, || set);
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
    let mut base = kind;
    if own_fronts {
        (base.doors, base.drawers, base.flaps, base.row, base.hinge) =
            (None, None, None, None, None);
    }
    if own_inside {
        (base.shelves, base.bay) = (None, None);
    }
    let kind_name = base.name.clone();
    // Plain defaults give way to the kind.
    let mut whole = unit.written().backed_by(&base).with_defaults();
    or(&mut whole.id, || Id(format!("{run_id}-{}", place + 1)));
    let id = whole.id.clone().unwrap_or_default().value.0;
    whole.name = unit.name.clone().or(kind_name);
    or(&mut whole.name, || id.clone());
    inherit(&mut whole.depth, || run.depth());
    inherit(&mut whole.base, || run.base());
    inherit(&mut whole.top, || run.top());
    inherit(&mut whole.stands, || run.stands());
    inherit(&mut whole.front, || run.front.clone().unwrap_or_default());
    let carcass = set.carcass.clone();
    let carcass = carcass.unwrap_or_else(|| stock::refer(stock::CARCASS));
    inherit(&mut whole.carcass, || carcass);
    let back = set.back.clone();
    let back = back.unwrap_or_else(|| stock::refer(stock::BACK));
    match whole.back.as_ref().map(|at| &at.value) {
        None | Some(RefOrNot::Usual) => {
            whole.back = Some(At::new(RefOrNot::Named(back.value.0), back.place));
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
