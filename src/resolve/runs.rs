//! Runs, units and fronts of the job. Knows how a filled unit becomes one without references; must
//! not know any size that follows from the room.

use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::project as raw;
use crate::read::table::At;
use crate::read::value::{Ref, RefOrNot};
use crate::read::words::Built;

use super::fill::list;
use super::job::*;
use super::names::Names;
use super::stock;

pub fn runs(names: &Names<'_>, diags: &mut Diagnostics) -> Vec<Run> {
    list(&names.project.run)
        .iter()
        .map(|run| one(run, names, diags))
        .collect()
}

fn one(run: &raw::Run, names: &Names<'_>, diags: &mut Diagnostics) -> Run {
    let set_at = run
        .set
        .clone()
        .unwrap_or_else(|| stock::refer(stock::USUAL));
    let set = names
        .set(&set_at, diags)
        .and_then(|n| names.project.set.as_ref().and_then(|s| s.value.0.get(n)))
        .map(|(_, set)| set.clone())
        .unwrap_or_default();
    let board = |at: &Option<At<Ref>>, diags: &mut Diagnostics| {
        at.as_ref()
            .map_or(MaterialRef(0), |at| names.material(at, diags))
    };
    let wall = names
        .wall(&run.wall(), diags)
        .unwrap_or(WallRef { room: 0, wall: 0 });
    if let (Some(from), Some(to)) = (&run.from, &run.to)
        && from.value >= to.value
    {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                to.place,
                "the run ends before it begins",
            )
            .label(format!("must be more than {}", from.value))
            .help("`from` is its left end and `to` its right, along the wall"),
        );
    }
    if list(&run.unit).is_empty() {
        diags.push(
            Diagnostic::new(
                Code::MissingKey,
                run.id().place,
                format!("run `{}` has no unit", run.id().value.0),
            )
            .label("this run")
            .help("add `unit = [ { … } ]`, or a `[[run.unit]]` for each, left to right"),
        );
    }
    let end = |at: At<raw::End>, diags: &mut Diagnostics| RunEnd {
        scribe: at.value.scribe.as_ref().map(|a| a.value),
        filler: at.value.filler.as_ref().map(|a| a.value),
        pattern: at.value.pattern.as_ref().map(|a| a.value.clone()),
        panel: at.value.panel.as_ref().and_then(|p| match &p.value {
            RefOrNot::Usual => Some(board(&set.panel, diags)),
            RefOrNot::Not => None,
            RefOrNot::Named(name) => {
                Some(names.material(&At::new(Ref(name.clone()), p.place), diags))
            }
        }),
        place: at.place,
    };
    let front_board = board(&set.front, diags);
    Run {
        id: run.id().value.0,
        name: run
            .name
            .as_ref()
            .map(|n| n.value.clone())
            .unwrap_or_default(),
        wall,
        from: run.from.as_ref().map(|a| a.value),
        to: run.to.as_ref().map(|a| a.value),
        off_wall: run.off_wall().value,
        left: end(run.left(), diags),
        right: end(run.right(), diags),
        units: list(&run.unit)
            .iter()
            .map(|u| unit(u, front_board, names, diags))
            .collect(),
        foot: names.hardware(run.foot.as_ref(), diags),
        fit_from: run.fit_from.as_ref().map(|a| a.value),
        filler_material: board(&set.filler, diags),
        plinth_material: board(&set.plinth, diags),
        place: if run.id().written() {
            run.id().place
        } else {
            run.place
        },
    }
}

fn unit(unit: &raw::Unit, board: MaterialRef, names: &Names<'_>, diags: &mut Diagnostics) -> Unit {
    names.kind(unit.kind.as_ref(), diags);
    let value =
        |at: &Option<At<crate::units::Length>>| at.as_ref().map(|a| a.value).unwrap_or_default();
    let (base, top) = (value(&unit.base), value(&unit.top));
    if let Some(at) = &unit.top
        && base >= top
    {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                at.place,
                format!("a unit from {base} up to {top} has no height"),
            )
            .label("must be above its `base`")
            .help("`base` and `top` are both heights above the floor"),
        );
    }
    let over = unit.over.as_ref().and_then(|at| names.unit(at, diags));
    if let Some(at) = &unit.over
        && over.is_some_and(|(r, u)| {
            list(&names.project.run)
                .get(r)
                .and_then(|run| list(&run.unit).get(u))
                .is_some_and(|other| std::ptr::eq(other, unit) || other.over.is_some())
        })
    {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                at.place,
                "a unit stands on itself, or on one that stands on another",
            )
            .label("must stand on the floor itself")
            .help("name the unit at the bottom of the stack"),
        );
    }
    let id = unit.id.clone().unwrap_or_default();
    Unit {
        id: id.value.0.clone(),
        name: unit
            .name
            .as_ref()
            .map(|a| a.value.clone())
            .unwrap_or_default(),
        kind: unit.kind.as_ref().map(|a| a.value.0.clone()),
        width: unit.width.as_ref().map(|a| a.value),
        depth: value(&unit.depth),
        base,
        top,
        stands: unit.stands.as_ref().map_or(Stands::Plinth, |a| a.value),
        over,
        build_in_place: unit.built().value == Built::Site,
        carcass: unit
            .carcass
            .as_ref()
            .map_or(MaterialRef(0), |at| names.material(at, diags)),
        back: unit.back.as_ref().and_then(|at| match &at.value {
            RefOrNot::Named(name) => {
                Some(names.material(&At::new(Ref(name.clone()), at.place), diags))
            }
            RefOrNot::Usual | RefOrNot::Not => None,
        }),
        bays: list(&unit.bay)
            .iter()
            .map(|b| bay(b, names, diags))
            .collect(),
        rows: list(&unit.row)
            .iter()
            .map(|row| FrontRow {
                height: row.height.as_ref().map(|a| a.value),
                cells: list(&row.across)
                    .iter()
                    .map(|c| cell(c, board, names, diags))
                    .collect(),
                place: row.place,
            })
            .collect(),
        load: unit.load().value,
        carries: unit.carries.as_ref().map(|a| a.value),
        note: unit.note().value,
        place: if id.written() { id.place } else { unit.place },
    }
}

fn bay(bay: &raw::Bay, names: &Names<'_>, diags: &mut Diagnostics) -> Bay {
    let mut fixed = bay.fixed().value;
    fixed.sort();
    Bay {
        width: bay.width.as_ref().map(|a| a.value),
        shelves: bay.shelves().value,
        lipping: bay.lipping().value,
        fixed,
        rails: bay.rail().value,
        drawers: bay.drawers().value,
        drawer_height: bay.drawer_height().value,
        appliances: {
            let all = bay.appliances();
            all.value
                .iter()
                .filter_map(|name| names.appliance(&At::new(name.clone(), all.place), diags))
                .collect()
        },
        place: bay.place,
    }
}

fn cell(
    cell: &raw::Cell,
    board: MaterialRef,
    names: &Names<'_>,
    diags: &mut Diagnostics,
) -> FrontCell {
    let kind = cell.is().value;
    let style_at = cell
        .front
        .clone()
        .unwrap_or_else(|| stock::refer(stock::USUAL));
    let style = names
        .front(&style_at, diags)
        .and_then(|n| names.project.front.as_ref().and_then(|f| f.value.0.get(n)))
        .map(|(_, style)| style.clone())
        .unwrap_or_default();
    FrontCell {
        id: cell
            .id
            .as_ref()
            .map(|a| a.value.0.clone())
            .unwrap_or_default(),
        kind,
        width: cell.width.as_ref().map(|a| a.value),
        hinge: (kind == FrontKind::Door)
            .then(|| cell.hinge.as_ref().map_or(Side::Left, |h| h.value)),
        style: FrontStyle {
            name: Some(style_at.value.0),
            material: style
                .material
                .as_ref()
                .map_or(board, |at| names.material(at, diags)),
            finish: names.finish(style.finish.as_ref(), diags),
            lay: style.lay().value,
            gap: style.gap().value,
            handle: names.hardware(style.handle.as_ref(), diags),
            hinge: names.hardware(style.hinge_by.as_ref(), diags),
            runner: names.hardware(style.runner.as_ref(), diags),
            straightener: names.hardware(style.straightener.as_ref(), diags),
            latch: names.hardware(style.latch.as_ref(), diags),
            pattern: style.pattern.as_ref().map(|a| a.value.clone()),
        },
        hides: cell
            .hides
            .as_ref()
            .and_then(|at| names.appliance(at, diags)),
        place: cell.place,
    }
}
