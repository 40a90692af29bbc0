//! What the client signs for besides fronts: every unit with what is in it, and what is no unit. Plain
//! sizes only; must not say a mass, a fixing or a setting.

use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::reckon::placed::PlacedUnit;
use crate::resolve::job::PanelKind;
use crate::units::Length;

pub fn units(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Unit", 60.0, Align::Left),
        ("Width \u{d7} height \u{d7} depth", 42.0, Align::Left),
        ("In it", 73.0, Align::Left),
    ]);
    for (run, placed) in ctx.runs() {
        table.group(ctx.run_title(run));
        for (unit, put) in ctx.units(run, placed) {
            table.row([
                words::unit_name(&unit.id, &unit.name),
                words::by3(put.width(), put.height(), put.depth_over_fronts),
                words::or_nothing(&inside(ctx, put)).to_owned(),
            ]);
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Sizes are the unit's own, with its fronts and without the plinth under it.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// `5 shelves, 1 rail, 3 inner drawers`.
fn inside(ctx: &Context, put: &PlacedUnit) -> String {
    let of = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let shelves = put.bays.iter().map(|b| b.shelves.len()).sum();
    let rails = put.bays.iter().map(|b| b.rails.len()).sum();
    let drawers = put.bays.iter().map(|b| b.drawers.len()).sum();
    let fronts = put
        .fronts
        .iter()
        .filter_map(|f| ctx.reckoned.fronts.get(*f));
    let behind = fronts.filter(|f| f.travel > Length::ZERO).count();
    let machines = put.bays.iter().flat_map(|b| &b.appliances);
    let counted = [
        of(shelves, "shelf", "shelves"),
        of(rails, "hanging rail", "hanging rails"),
        of(drawers, "drawer behind doors", "drawers behind doors"),
        of(behind, "drawer", "drawers"),
    ];
    let mut said: Vec<String> = counted.into_iter().flatten().collect();
    said.extend(machines.filter_map(|a| ctx.appliance(a.which).map(|a| a.name.clone())));
    words::and_list(&said)
}

pub fn loose(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("What", 52.0, Align::Left),
        ("Where", 40.0, Align::Left),
        ("Size", 46.0, Align::Left),
        ("Made of", 37.0, Align::Left),
    ]);
    for (door, put) in ctx.job.sliding.iter().zip(&ctx.reckoned.sliding) {
        table.row([
            door.name.clone(),
            ctx.wall(door.wall),
            format!(
                "{}, slides to the {}",
                words::by(put.right - put.left, put.top - put.bottom),
                door.slides.word()
            ),
            ctx.material_and_finish(door.material, door.finish),
        ]);
    }
    for (top, put) in ctx.job.worktops.iter().zip(&ctx.reckoned.worktops) {
        let mut size = format!(
            "{}, its top at {}, its edge {} high{}",
            words::by(put.right - put.left, put.y_front - put.y_back),
            put.top,
            top.edge,
            match put.built_up {
                Some(_) => format!(", built up of a board {} thick", put.slab),
                None => String::new(),
            }
        );
        for cut in &put.cutouts {
            let cut_size = words::by(cut.right - cut.left, cut.y_front - cut.y_back);
            size.push_str(&format!("; cut out for the {}, {cut_size}", cut.what));
        }
        table.row([
            top.name.clone(),
            ctx.wall(put.wall),
            size,
            ctx.material_and_finish(top.material, top.finish),
        ]);
    }
    for (panel, put) in ctx.job.panels.iter().zip(&ctx.reckoned.panels) {
        let what = match (panel.kind, put.pieces.len()) {
            (PanelKind::Slats, n) => format!("{n} slats"),
            (_, 1) => "in one piece".to_owned(),
            (_, n) => format!("{n} pieces"),
        };
        table.row([
            panel.name.clone(),
            ctx.wall(panel.wall),
            format!(
                "{}, {what}",
                words::by(panel.to - panel.from, put.top - put.bottom)
            ),
            ctx.material_and_finish(panel.material, panel.finish),
        ]);
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}
