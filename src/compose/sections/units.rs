//! The fitter's schedule of units: sizes, heights from floor and from the datum, masses, notches. Numbers
//! are those reckoned.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::gone;
use crate::compare::record::Fact;
use crate::compare::takes;
use crate::resolve::job::Unit;
use crate::units::Length;

pub fn units(ctx: &Context) -> Vec<Block> {
    let datum = ctx.job.info.datum;
    let mut table = Table::new(&[
        ("Unit", 13.0, Align::Left),
        ("Name", 36.0, Align::Left),
        ("Width \u{d7} height \u{d7} depth", 39.0, Align::Left),
        ("Stands on", 22.0, Align::Left),
        ("Base", 14.0, Align::Right),
        ("Top", 14.0, Align::Right),
        ("Base from datum", 19.0, Align::Right),
        ("Top from datum", 19.0, Align::Right),
        ("kg", 12.0, Align::Right),
    ]);
    for (run, placed) in ctx.runs() {
        table.group(ctx.run_title(run));
        for (unit, put) in ctx.units(run, placed) {
            table.row([
                unit.id.clone(),
                name(&unit.name, unit.build_in_place),
                words::by3(put.width(), put.height(), put.depth),
                stands_on(ctx, unit),
                put.base.to_string(),
                put.top.to_string(),
                words::from_datum(put.base, datum),
                words::from_datum(put.top, datum),
                put.mass.to_string(),
            ]);
            let old = Before::of(ctx, "unit", &unit.id);
            let base = old.length("bottom", put.base);
            let top = base + old.length("height", put.height());
            let called = old.text("name", &unit.name);
            table.was([
                Some(old.id(&unit.id)),
                Some(name(&called, unit.build_in_place)),
                Some(words::by3(
                    old.length("width", put.width()),
                    old.length("height", put.height()),
                    old.length("depth", put.depth),
                )),
                None,
                Some(base.to_string()),
                Some(top.to_string()),
                Some(words::from_datum(base, datum)),
                Some(words::from_datum(top, datum)),
                Some(old.mass("mass", put.mass).to_string()),
            ]);
            if old.is_new() {
                table.is_new();
            }
        }
    }
    let gone = Before::gone(ctx, "unit");
    table.taken_out(gone.map(|unit| {
        let (base, high) = (gone::length(unit, "bottom"), gone::length(unit, "height"));
        let (wide, deep) = (gone::length(unit, "width"), gone::length(unit, "depth"));
        let (base, top) = (base.unwrap_or_default(), base.zip(high).map(|(b, h)| b + h));
        let top = top.unwrap_or_default();
        vec![
            unit.id.clone(),
            gone::name(unit),
            match (wide, high, deep) {
                (Some(w), Some(h), Some(d)) => words::by3(w, h, d),
                _ => String::new(),
            },
            String::new(),
            base.to_string(),
            top.to_string(),
            words::from_datum(base, datum),
            words::from_datum(top, datum),
            gone::mass(unit),
        ]
    }));
    match table.has_rows() {
        true => vec![
            Block::paragraph(format!(
                "Carcass sizes, fronts not counted; base and top are the carcass's, from finished floor \
                 and from the datum at {datum}. Masses include the fronts."
            )),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

fn name(called: &str, in_place: bool) -> String {
    match in_place {
        true => format!("{called}; put together in place"),
        false => called.to_owned(),
    }
}

fn stands_on(ctx: &Context, unit: &Unit) -> String {
    let below = unit
        .over
        .and_then(|(r, u)| ctx.job.runs.get(r)?.units.get(u));
    match below {
        Some(below) => format!("unit {}", below.id),
        None => words::stands(unit.stands).to_owned(),
    }
}

/// What is cut out of a unit where something stands in its way.
pub fn notches(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Unit", 25.0, Align::Left),
        ("Round", 50.0, Align::Left),
        ("From the unit's left side", 30.0, Align::Left),
        ("From its underside", 30.0, Align::Left),
        ("Deep from the back", 25.0, Align::Right),
    ]);
    for (run, placed) in ctx.runs() {
        for (unit, put) in ctx.units(run, placed) {
            let old = Before::of(ctx, "unit", &unit.id);
            let changed = old.has_differed(takes::NOTCHES);
            let mut before: Vec<&[Fact]> = old.lists(takes::NOTCHES).unwrap_or_default();
            for notch in &put.notches {
                table.row([
                    unit.id.clone(),
                    notch.what.clone(),
                    span(notch.left - put.left, notch.right - put.left),
                    span(notch.bottom - put.base, notch.top - put.base),
                    notch.deep.to_string(),
                ]);
                // Round the same thing, the first that is left of it.
                let what = Fact::Text(notch.what.clone());
                match before.iter().position(|cells| cells.first() == Some(&what)) {
                    Some(at) => table.was_row(notch_before(&unit.id, before.remove(at))),
                    None if changed || old.is_new() => table.is_new(),
                    None => {}
                }
            }
            for gone in before {
                table.gone(notch_before(&unit.id, gone));
            }
        }
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

fn notch_before(unit: &str, cells: &[Fact]) -> Vec<String> {
    let [
        Fact::Text(what),
        Fact::Um(left),
        Fact::Um(right),
        Fact::Um(low),
        Fact::Um(high),
        Fact::Um(deep),
    ] = cells
    else {
        return Vec::new();
    };
    vec![
        unit.to_owned(),
        what.clone(),
        span(Length::um(*left), Length::um(*right)),
        span(Length::um(*low), Length::um(*high)),
        Length::um(*deep).to_string(),
    ]
}

/// `850 to 950`.
pub fn span(from: crate::units::Length, to: crate::units::Length) -> String {
    format!("{from} to {to}")
}
