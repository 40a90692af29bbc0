//! The schedule of fronts: plain for the client, complete for the fitter. Numbers and sizes are those
//! reckoned; nothing is added up here.

use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::reckon::placed::PlacedFront;

pub fn for_client(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("On", 40.0, Align::Left),
        ("Front", 24.0, Align::Left),
        ("Width \u{d7} height", 26.0, Align::Left),
        ("Opens", 24.0, Align::Left),
        ("Board; finish", 52.0, Align::Left),
    ]);
    each_run(ctx, &mut table, |f| {
        let unit = ctx.unit_of(f);
        vec![
            f.number.to_string(),
            unit.map(|u| words::unit_name(&u.id, &u.name))
                .unwrap_or_default(),
            what(ctx, f),
            words::by(f.width(), f.height()),
            words::opens(f),
            ctx.material_and_finish(f.style.material, f.style.finish),
        ]
    });
    wrap(
        table,
        "The number is the one in the circle on the drawings: each run from left to right, then from \
         bottom to top. Hinged left or right is as seen from the front.",
    )
}

pub fn for_fitter(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 8.0, Align::Right),
        ("Unit", 12.0, Align::Left),
        ("Kind", 15.0, Align::Left),
        ("Width", 13.0, Align::Right),
        ("Height", 13.5, Align::Right),
        ("Thick", 11.0, Align::Right),
        ("Hinges", 16.0, Align::Left),
        ("kg", 10.0, Align::Right),
        ("Board; finish", 35.0, Align::Left),
        ("Pattern", 18.0, Align::Left),
        ("Handle", 24.0, Align::Left),
    ]);
    each_run(ctx, &mut table, |f| {
        let unit = ctx.unit_of(f);
        let hinges = match (f.hinge, f.hinges) {
            (_, 0) => words::NOTHING.to_owned(),
            (Some(s), n) => format!("{n}, {}", words::side(s)),
            (None, n) => n.to_string(),
        };
        vec![
            f.number.to_string(),
            unit.map(|u| u.id.clone()).unwrap_or_default(),
            what(ctx, f),
            f.width().to_string(),
            f.height().to_string(),
            (f.y_face - f.y_back).to_string(),
            hinges,
            f.mass.to_string(),
            ctx.material_and_finish(f.style.material, f.style.finish),
            f.style
                .pattern
                .clone()
                .unwrap_or_else(|| words::NOTHING.to_owned()),
            match f.handle {
                Some(handle) => ctx.hardware(Some(handle.which)).to_owned(),
                None => words::NOTHING.to_owned(),
            },
        ]
    });
    wrap(
        table,
        "Numbers run left to right, then bottom to top, and stand on the bottom edge. Hinge sides are as \
         seen from the front. Fronts of one pattern belong side by side in the order of their numbers.",
    )
}

fn each_run(ctx: &Context, table: &mut Table, cells: impl Fn(&PlacedFront) -> Vec<String>) {
    for (index, run) in ctx.job.runs.iter().enumerate() {
        let mut fronts = ctx.fronts_of_run(index).peekable();
        if fronts.peek().is_some() {
            table.group(ctx.run_title(run));
        }
        for front in fronts {
            table.row(cells(front));
        }
    }
}

/// `door, hides the built-in fridge`.
fn what(ctx: &Context, front: &PlacedFront) -> String {
    let kind = words::front_kind(front.kind);
    match front.hides.and_then(|at| ctx.appliance(at)) {
        Some(hidden) => format!("{kind}, hides: {}", hidden.name),
        None => kind.to_owned(),
    }
}

fn wrap(table: Table, lead: &str) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::paragraph(lead), Block::Table(table)],
        false => Vec::new(),
    }
}
