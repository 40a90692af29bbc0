//! What the client signs for besides fronts: every unit with what is in it, and what is no unit. Plain
//! sizes only; must not say a mass, a fixing or a setting.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::{used, words};
use super::gone;
use crate::reckon::placed::{PieceKind, PlacedUnit};
use crate::resolve::job::{MaterialRef, PanelKind};
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
                words::or_nothing(&inside(ctx, put, None)).to_owned(),
            ]);
            let old = Before::of(ctx, "unit", &unit.id);
            table.was_row([
                words::unit_name(&old.id(&unit.id), &old.text("name", &unit.name)),
                words::by3(
                    old.length("width", put.width()),
                    old.length("height", put.height()),
                    old.length("depth over fronts", put.depth_over_fronts),
                ),
                words::or_nothing(&inside(ctx, put, Some(&old))).to_owned(),
            ]);
            if old.is_new() {
                table.is_new();
            }
        }
    }
    table.taken_out(Before::gone(ctx, "unit").map(|unit| {
        let name = unit.text("name").unwrap_or_default();
        let sizes = ["width", "height", "depth over fronts"].map(|f| gone::length(unit, f));
        let size = match sizes {
            [Some(w), Some(h), Some(d)] => words::by3(w, h, d),
            _ => String::new(),
        };
        vec![words::unit_name(&unit.id, name), size]
    }));
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

/// `5 shelves, 1 rail, 3 inner drawers`; as it was, if that is given.
fn inside(ctx: &Context, put: &PlacedUnit, old: Option<&Before>) -> String {
    let of = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let shelves = put.bays.iter().map(|b| b.shelves.len()).sum();
    let rails = put.bays.iter().map(|b| b.rails.len()).sum();
    let drawers = put.bays.iter().map(|b| b.drawers.len()).sum();
    let was = |fact: &str, now: usize| old.map_or(now, |old| old.many(fact, now));
    let shelves = was("shelves at", shelves);
    let rails = was("rails at", rails);
    let drawers = was("inner drawers at", drawers);
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

/// What stands round the fronts of each run, and of which board: it may be another than theirs.
pub fn round(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Run", 45.0, Align::Left),
        ("Fronts", 50.0, Align::Left),
        ("What is seen round them", 80.0, Align::Left),
    ]);
    let boards = used::boards(ctx);
    let made = |material: MaterialRef| {
        let one = boards.iter().find(|b| b.material == material);
        let finish = one.and_then(|b| b.finishes.first().copied());
        ctx.material_and_finish(material, finish)
    };
    for (run, placed) in ctx.runs() {
        // By board, what is of it.
        let mut seen: Vec<(MaterialRef, Vec<&str>)> = Vec::new();
        let pieces = placed.pieces.iter().map(|p| {
            let what = match p.kind {
                PieceKind::EndPanel => "end panels",
                PieceKind::Filler => "fillers",
                PieceKind::Scribe => "scribed strips",
            };
            (p.material, what)
        });
        let plinths = placed
            .plinths
            .iter()
            .map(|_| (run.plinth_material, "plinth"));
        for (material, what) in pieces.chain(plinths) {
            match seen.iter_mut().find(|(m, _)| *m == material) {
                Some((_, all)) if all.contains(&what) => {}
                Some((_, all)) => all.push(what),
                None => seen.push((material, vec![what])),
            }
        }
        if seen.is_empty() {
            continue;
        }
        let mut fronts: Vec<String> = Vec::new();
        for (_, unit) in ctx.units(run, placed) {
            for front in unit
                .fronts
                .iter()
                .filter_map(|f| ctx.reckoned.fronts.get(*f))
            {
                let own = ctx.material_and_finish(front.style.material, front.style.finish);
                if !fronts.contains(&own) {
                    fronts.push(own);
                }
            }
        }
        let round: Vec<String> = seen
            .iter()
            .map(|(material, what)| {
                let what: Vec<String> = what.iter().map(|w| (*w).to_owned()).collect();
                words::sentence(&format!("{}: {}", words::and_list(&what), made(*material)))
            })
            .collect();
        table.row([
            ctx.run_title(run),
            words::or_nothing(&fronts.join("; ")).to_owned(),
            round.join(" "),
        ]);
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

pub fn loose(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("What", 52.0, Align::Left),
        ("Where", 40.0, Align::Left),
        ("Size", 46.0, Align::Left),
        ("Made of", 37.0, Align::Left),
    ]);
    for (door, put) in ctx.job.sliding.iter().zip(&ctx.reckoned.sliding) {
        let handle = |name: &str| match name {
            words::NOTHING => "no handle".to_owned(),
            name => format!("handle: {name}"),
        };
        table.row([
            door.name.clone(),
            ctx.wall(door.wall),
            format!(
                "{}, slides to the {}; {}",
                words::by(put.right - put.left, put.top - put.bottom),
                door.slides.word(),
                handle(ctx.hardware(door.handle))
            ),
            ctx.material_and_finish(door.material, door.finish),
        ]);
        let old = Before::of(ctx, "sliding", &door.id);
        table.was_row([
            old.text("name", &door.name),
            old.wall(door.wall),
            format!(
                "{}, slides to the {}; {}",
                words::by(
                    old.length("width", put.right - put.left),
                    old.length("height", put.top - put.bottom)
                ),
                old.text("slides", door.slides.word()),
                handle(&old.hardware("handle", door.handle))
            ),
            old.material_and_finish(door.material, door.finish),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    for (top, put) in ctx.job.worktops.iter().zip(&ctx.reckoned.worktops) {
        let made = match put.built_up {
            Some(_) => format!(", built up of a board {} thick", put.slab),
            None => String::new(),
        };
        let sized = |long: Length, deep: Length, upper: Length, edge: Length| {
            let size = words::by(long, deep);
            format!("{size}, its top at {upper}, its edge {edge} high{made}")
        };
        let (long, deep) = (put.right - put.left, put.y_front - put.y_back);
        let mut size = sized(long, deep, put.top, top.edge);
        let old = Before::of(ctx, "worktop", &top.id);
        let low = old.length("bottom", put.bottom);
        let mut size_was = sized(
            old.length("width", long),
            old.length("depth", deep),
            low + old.length("height", put.top - put.bottom),
            old.length("edge", top.edge),
        );
        let holes = old.lengths("cut-outs at").unwrap_or_default();
        let upstand = |top: Length, over: Length| match over > top {
            true => format!("; upstand {} high", over - top),
            false => String::new(),
        };
        size.push_str(&upstand(put.top, put.upstand_top));
        let top_was = low + old.length("height", put.top - put.bottom);
        let over_was = old.length("top of the upstand", put.upstand_top);
        size_was.push_str(&upstand(top_was, over_was));
        for (n, cut) in put.cutouts.iter().enumerate() {
            let cut_size = words::by(cut.right - cut.left, cut.y_front - cut.y_back);
            let cut_was = match holes.get(n * 4..n * 4 + 4) {
                Some([left, right, back, front]) => words::by(*right - *left, *front - *back),
                _ => cut_size.clone(),
            };
            size.push_str(&format!("; cut out for the {}, {cut_size}", cut.what));
            size_was.push_str(&format!("; cut out for the {}, {cut_was}", cut.what));
        }
        table.row([
            top.name.clone(),
            ctx.wall(put.wall),
            size,
            ctx.material_and_finish(top.material, top.finish),
        ]);
        table.was_row([
            old.text("name", &top.name),
            old.wall(put.wall),
            size_was,
            old.material_and_finish(top.material, top.finish),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    for (panel, put) in ctx.job.panels.iter().zip(&ctx.reckoned.panels) {
        let width = put.pieces.first().map(|(left, right)| *right - *left);
        let width = width.unwrap_or_default();
        let what = |many: usize, width: Length, gap: Length, asked: Length| match (panel.kind, many)
        {
            (PanelKind::Slats, n) => slats(n, width, gap, asked),
            (_, 1) => "in one piece".to_owned(),
            (_, n) => format!("{n} pieces"),
        };
        let old = Before::of(ctx, "panel", &panel.id);
        table.row([
            panel.name.clone(),
            ctx.wall(panel.wall),
            format!(
                "{}, {}",
                words::by(panel.to - panel.from, put.top - put.bottom),
                what(put.pieces.len(), width, put.gap, panel.gap)
            ),
            ctx.material_and_finish(panel.material, panel.finish),
        ]);
        table.was_row([
            old.text("name", &panel.name),
            old.wall(panel.wall),
            format!(
                "{}, {}",
                words::by(
                    old.length("to", panel.to) - old.length("from", panel.from),
                    old.length("height", put.top - put.bottom)
                ),
                what(
                    old.many("pieces at", put.pieces.len()),
                    old.length("slat", width),
                    old.length("between pieces", put.gap),
                    old.length("gap", panel.gap)
                )
            ),
            old.material_and_finish(panel.material, panel.finish),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    let kinds = ["sliding", "worktop", "panel"].into_iter();
    let gone = kinds.flat_map(|kind| Before::gone(ctx, kind));
    table.taken_out(gone.map(|thing| {
        let deep = ["depth", "height"].map(|f| gone::length(thing, f));
        let across = match thing.kind.as_str() {
            "worktop" => deep[0],
            _ => deep[1],
        };
        vec![
            gone::name(thing),
            gone::wall(ctx, thing),
            gone::by(gone::length(thing, "width"), across),
            gone::made_of(ctx, thing),
        ]
    }));
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

/// `21 slats of 60, 18.5 apart (at least 15 was asked for)`: they end with a slat at either side.
fn slats(count: usize, width: Length, gap: Length, asked: Length) -> String {
    let asked = match gap == asked {
        true => String::new(),
        false => format!(" (at least {asked} was asked for)"),
    };
    format!("{count} slats of {width}, {gap} apart{asked}")
}
