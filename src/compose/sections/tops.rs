//! What is not a unit: worktops with their cut-outs, panels, sliding doors. Prints what was reckoned.

use std::collections::BTreeMap;

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::gone;
use super::units::span;
use crate::reckon::placed::{BuiltUp, PlacedSliding, PlacedWorktop};
use crate::resolve::job::PanelKind;
use crate::units::Length;

pub fn worktops(ctx: &Context) -> Vec<Block> {
    let mut tops = Table::new(&[
        ("Worktop", 40.0, Align::Left),
        ("Length \u{d7} depth", 28.0, Align::Left),
        ("Edge", 13.0, Align::Right),
        ("Top", 14.0, Align::Right),
        ("Top from datum", 17.0, Align::Right),
        ("Upstand to", 17.0, Align::Right),
        ("kg", 12.0, Align::Right),
        ("Board; finish", 38.0, Align::Left),
    ]);
    let mut cutouts = Table::new(&[
        ("Cut-out", 40.0, Align::Left),
        ("In", 45.0, Align::Left),
        ("From the top's left end", 34.0, Align::Left),
        ("From its front edge", 32.0, Align::Left),
        ("Corner radius", 20.0, Align::Right),
    ]);
    for (top, put) in ctx.job.worktops.iter().zip(&ctx.reckoned.worktops) {
        tops.row([
            words::named(&top.id, &top.name),
            words::by(put.right - put.left, put.y_front - put.y_back),
            top.edge.to_string(),
            put.top.to_string(),
            words::from_datum(put.top, ctx.job.info.datum),
            match put.upstand_top > put.top {
                true => put.upstand_top.to_string(),
                false => words::NOTHING.to_owned(),
            },
            put.mass.to_string(),
            ctx.material_and_finish(top.material, top.finish),
        ]);
        let old = Before::of(ctx, "worktop", &top.id);
        let upper = old.length("bottom", put.bottom) + old.length("height", put.top - put.bottom);
        let upstand = old.length("top of the upstand", put.upstand_top);
        tops.was_row([
            words::named(&old.id(&top.id), &old.text("name", &top.name)),
            words::by(
                old.length("width", put.right - put.left),
                old.length("depth", put.y_front - put.y_back),
            ),
            old.length("edge", top.edge).to_string(),
            upper.to_string(),
            words::from_datum(upper, ctx.job.info.datum),
            match upstand > upper {
                true => upstand.to_string(),
                false => words::NOTHING.to_owned(),
            },
            old.mass("mass", put.mass).to_string(),
            old.material_and_finish(top.material, top.finish),
        ]);
        if old.is_new() {
            tops.is_new();
        }
        let holes = old.lengths("cut-outs at").unwrap_or_default();
        let start = old.length("left edge", put.left);
        let mut turns = BTreeMap::new();
        for (n, cut) in put.cutouts.iter().enumerate() {
            let turn: &mut usize = turns.entry(&cut.what).or_default();
            *turn += 1;
            cutouts.row([
                cut.what.clone(),
                words::named(&top.id, &top.name),
                span(cut.left - put.left, cut.right - put.left),
                span(put.y_front - cut.y_front, put.y_front - cut.y_back),
                cut.radius.to_string(),
            ]);
            let told = format!("{}/{}", top.id, cut.what);
            let own = Before::told_by(ctx, "cutout", &told, *turn);
            let across = holes.get(n * 4).zip(holes.get(n * 4 + 1));
            let front = own.length("from_front", put.y_front - cut.y_front);
            let deep = own.length("depth", cut.y_front - cut.y_back);
            cutouts.was([
                Some(own.text("what", &cut.what)),
                None,
                across.map(|(left, right)| span(*left - start, *right - start)),
                Some(span(front, front + deep)),
                Some(own.length("radius", cut.radius).to_string()),
            ]);
            if own.is_new() {
                cutouts.is_new();
            }
        }
    }
    tops.taken_out(Before::gone(ctx, "worktop").map(|top| {
        let upper = gone::length(top, "bottom").zip(gone::length(top, "height"));
        let upper = upper.map(|(low, high)| low + high);
        let length = |fact| gone::length(top, fact).map_or(String::new(), |l| l.to_string());
        vec![
            gone::named(top),
            gone::by(gone::length(top, "width"), gone::length(top, "depth")),
            length("edge"),
            upper.map_or(String::new(), |l| l.to_string()),
            upper.map_or(String::new(), |l| words::from_datum(l, ctx.job.info.datum)),
            length("top of the upstand"),
            gone::mass(top),
            gone::made_of(ctx, top),
        ]
    }));
    cutouts.taken_out(Before::gone(ctx, "cutout").map(|hole| {
        let top = hole.id.split_once('/').map_or("", |(top, _)| top);
        let what = hole.text("what").unwrap_or_default();
        vec![what.to_owned(), top.to_owned()]
    }));
    let mut blocks = vec![Block::Table(tops)];
    blocks.extend(edges(ctx).map(Block::paragraph));
    blocks.push(Block::Table(cutouts));
    blocks.retain(|b| !matches!(b, Block::Table(t) if !t.has_rows()));
    blocks
}

/// How each edge higher than its board is made up, one sentence a top.
fn edges(ctx: &Context) -> Option<String> {
    let tops = ctx.job.worktops.iter().zip(&ctx.reckoned.worktops);
    let told = tops.filter_map(|(top, put)| {
        let built = put.built_up.as_ref()?;
        let how = match built.flat {
            true => format!(
                "{} of its own board, {} wide, laid flat",
                match built.count {
                    1 => "one strip".to_owned(),
                    n => format!("{n} strips"),
                },
                built.width
            ),
            false => format!("one strip of its own board stood on edge, sawn {} wide", built.width),
        };
        let ends = match built.lengths.len() {
            0 | 1 => "along the front",
            2 => "along the front, and from it back along the end that is seen",
            _ => "along the front, and from it back along both ends",
        };
        Some(format!(
            "{}: the edge of {} is the slab of {} and {how}, {ends}: {}. The slab is packed up by {} \
             across each unit; the packing is not counted.",
            top.name, top.edge, put.slab, sum(put, built), built.wanting
        ))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("{} (Common practice, no source.)", told.join(" ")))
}

/// "12 + 12 + 12 = 36".
fn sum(put: &PlacedWorktop, built: &BuiltUp) -> String {
    let each = match built.flat {
        true => vec![put.slab.to_string(); built.count as usize],
        false => vec![built.width.to_string()],
    };
    format!(
        "{} + {} = {}",
        put.slab,
        each.join(" + "),
        put.top - put.bottom
    )
}

pub fn panels(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Panel", 40.0, Align::Left),
        ("On", 24.0, Align::Left),
        ("From left corner", 26.0, Align::Left),
        ("Bottom to top", 25.0, Align::Left),
        ("Pieces", 33.0, Align::Left),
        ("kg", 11.0, Align::Right),
        ("Board; finish", 34.0, Align::Left),
    ]);
    for (panel, put) in ctx.job.panels.iter().zip(&ctx.reckoned.panels) {
        let width = put.pieces.first().map(|(left, right)| *right - *left);
        let ends = put.pieces.first().zip(put.pieces.last());
        table.row([
            words::named(&panel.id, &panel.name),
            ctx.wall(panel.wall),
            ends.map_or(words::NOTHING.to_owned(), |(first, last)| {
                span(first.0, last.1)
            }),
            span(put.bottom, put.top),
            in_pieces(panel.kind, put.pieces.len(), width, (put.gap, panel.gap)),
            put.mass.to_string(),
            ctx.material_and_finish(panel.material, panel.finish),
        ]);
        let old = Before::of(ctx, "panel", &panel.id);
        let (first, last) = ends.map_or((panel.from, panel.to), |(f, l)| (f.0, l.1));
        let left = old.length("left edge", first);
        let low = old.length("bottom", put.bottom);
        let starts = old.lengths("pieces at");
        let apart = old.length("between pieces", put.gap);
        let many = starts.as_ref().map_or(put.pieces.len(), Vec::len);
        let each = match starts.as_deref() {
            Some([first, second, ..]) => Some(*second - *first - apart),
            Some([_]) => Some(old.length("width", last - first)),
            Some([]) => None,
            None => width,
        };
        table.was([
            Some(words::named(
                &old.id(&panel.id),
                &old.text("name", &panel.name),
            )),
            Some(old.wall(panel.wall)),
            Some(span(left, left + old.length("width", last - first))),
            Some(span(low, low + old.length("height", put.top - put.bottom))),
            Some(in_pieces(
                panel.kind,
                many,
                each,
                (apart, old.length("gap", panel.gap)),
            )),
            Some(old.mass("mass", put.mass).to_string()),
            Some(old.material_and_finish(panel.material, panel.finish)),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "panel").map(|panel| {
        vec![
            gone::named(panel),
            gone::wall(ctx, panel),
            gone::span(panel, "left edge", "width"),
            gone::span(panel, "bottom", "height"),
            String::new(),
            gone::mass(panel),
            gone::made_of(ctx, panel),
        ]
    }));
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

/// `20 slats, 60 wide, 18.5 apart (at least 15 asked)`.
fn in_pieces(
    kind: PanelKind,
    many: usize,
    width: Option<Length>,
    (apart, asked): (Length, Length),
) -> String {
    match (many, width, kind) {
        (0, ..) | (_, None, _) => words::NOTHING.to_owned(),
        (1, Some(width), _) => format!("1, {width} wide"),
        (n, Some(width), PanelKind::Slats) if apart > asked => {
            format!("{n} slats, {width} wide, {apart} apart (at least {asked} asked)")
        }
        (n, Some(width), PanelKind::Slats) => format!("{n} slats, {width} wide, {apart} apart"),
        (n, Some(width), _) => format!("{n} pieces, {width} wide, {apart} apart"),
    }
}

pub fn sliding(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Door", 30.0, Align::Left),
        ("On", 20.0, Align::Left),
        ("Leaf", 27.0, Align::Left),
        ("Shut at", 24.0, Align::Left),
        ("Open at", 24.0, Align::Left),
        ("Track", 24.0, Align::Left),
        ("Bottom to top", 22.0, Align::Left),
        ("Off lined wall, foot / head", 21.0, Align::Right),
        ("kg", 13.0, Align::Right),
    ]);
    for (door, put) in ctx.job.sliding.iter().zip(&ctx.reckoned.sliding) {
        table.row([
            words::named(&door.id, &door.name),
            ctx.wall(door.wall),
            words::by3(
                put.right - put.left,
                put.top - put.bottom,
                put.y_face - put.y_back,
            ),
            span(put.left, put.right),
            span(put.open_left, put.open_right),
            span(put.track_left, put.track_right),
            span(put.bottom, put.top),
            off_wall(put, Length::ZERO),
            put.mass.to_string(),
        ]);
        let old = Before::of(ctx, "sliding", &door.id);
        let (wide, high) = (put.right - put.left, put.top - put.bottom);
        let (wide, high) = (old.length("width", wide), old.length("height", high));
        let left = old.length("left edge", put.left);
        let open = old.length("open at", put.open_left);
        let low = old.length("bottom", put.bottom);
        table.was([
            Some(words::named(
                &old.id(&door.id),
                &old.text("name", &door.name),
            )),
            Some(old.wall(door.wall)),
            Some(words::by3(wide, high, put.y_face - put.y_back)),
            Some(span(left, left + wide)),
            Some(span(open, open + wide)),
            Some(span(
                old.length("track from", put.track_left),
                old.length("track to", put.track_right),
            )),
            Some(span(low, low + high)),
            Some(off_wall(
                put,
                old.length("off_wall", door.off_wall) - door.off_wall,
            )),
            Some(old.mass("mass", put.mass).to_string()),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "sliding").map(|door| {
        vec![
            gone::named(door),
            gone::wall(ctx, door),
            gone::by(gone::length(door, "width"), gone::length(door, "height")),
            gone::span(door, "left edge", "width"),
            String::new(),
            String::new(),
            gone::span(door, "bottom", "height"),
            String::new(),
            gone::mass(door),
        ]
    }));
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Places are from the wall's left corner, as surveyed at the floor; heights from finished \
                 floor. The leaf hangs plumb; its back stands so far off the wall as it will be lined, at \
                 its foot and at its head: where the wall leans in the furthest it keeps what is asked for. The track goes above the leaf's \
                 top by what its maker asks: the wall there must carry it.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// At the leaf's foot and head, each moved out by so much; one figure where they are alike.
fn off_wall(put: &PlacedSliding, by: Length) -> String {
    let (foot, head) = (put.off_foot + by, put.off_head + by);
    match foot == head {
        true => words::to_half(foot),
        false => format!("{} / {}", words::to_half(foot), words::to_half(head)),
    }
}
