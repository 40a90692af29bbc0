//! End panels, fillers and scribes: nominal widths, blanks, and the scribe's width at each height. Prints
//! what was reckoned.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::gone;
use crate::compare::record::key;
use crate::reckon::ends::SCRIBE_ALLOWANCE;
use crate::reckon::feet::SET_BACK;
use crate::reckon::placed::{PieceKind, PlacedRun, RunPiece};
use crate::reckon::quantities::parts::PartKind;
use crate::resolve::job::{Run, Side};
use crate::units::Length;

pub fn strips(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Piece", 22.0, Align::Left),
        ("Side", 12.0, Align::Left),
        ("Width", 27.0, Align::Right),
        ("Depth", 14.0, Align::Right),
        ("Height", 15.0, Align::Right),
        ("Blank", 14.0, Align::Right),
        ("Width wanted, at height", 43.0, Align::Left),
        ("Board", 30.0, Align::Left),
    ]);
    for (run, placed) in ctx.runs() {
        if placed.pieces.is_empty() {
            continue;
        }
        table.group(ctx.run_title(run));
        for piece in &placed.pieces {
            let filed = match piece.kind {
                PieceKind::Scribe => "scribe",
                PieceKind::Filler => "filler",
                PieceKind::EndPanel => "end panel",
            };
            let old = Before::of(ctx, filed, &format!("{}/{}", run.id, piece.side.word()));
            let widths: Vec<String> = piece
                .scribe
                .iter()
                .map(|(z, width)| format!("{} at {z}", words::to_half(*width)))
                .collect();
            let blank = match piece.scribe.is_empty() {
                true => words::NOTHING.to_owned(),
                false => words::to_half(piece.blank),
            };
            table.row([
                words::piece(piece.kind).to_owned(),
                words::side(piece.side).to_owned(),
                width(run, piece, piece.right - piece.left),
                match piece.kind {
                    PieceKind::EndPanel => placed.depth_over_fronts().to_string(),
                    PieceKind::Scribe | PieceKind::Filler => words::NOTHING.to_owned(),
                },
                (piece.top - piece.bottom).to_string(),
                blank,
                words::or_nothing(&widths.join(", ")).to_owned(),
                ctx.material(piece.material).to_owned(),
            ]);
            let widths: Option<Vec<String>> = old.lengths("scribed to").map(|all| {
                let each = all.chunks_exact(2).filter_map(|two| match two {
                    [z, width] => Some(format!("{} at {z}", words::to_half(*width))),
                    _ => None,
                });
                each.collect()
            });
            if old.is_new() {
                table.is_new();
            }
            let blank = |b| words::to_half(old.length("blank to cut", b));
            table.was([
                None,
                None,
                Some(width(
                    run,
                    piece,
                    old.length("width", piece.right - piece.left),
                )),
                (piece.kind == PieceKind::EndPanel).then(|| deepest(ctx, run, placed).to_string()),
                Some(old.length("height", piece.top - piece.bottom).to_string()),
                (!piece.scribe.is_empty()).then(|| blank(piece.blank)),
                widths.map(|w| words::or_nothing(&w.join(", ")).to_owned()),
                Some(old.material("material", piece.material)),
            ]);
        }
    }
    let kinds = ["end panel", "filler", "scribe"].into_iter();
    let gone = kinds.flat_map(|kind| Before::gone(ctx, kind));
    table.taken_out(gone.map(|piece| {
        let (run, side) = piece.id.split_once('/').unwrap_or(("", &piece.id));
        let length = |fact| gone::length(piece, fact).map_or(String::new(), |l| l.to_string());
        vec![
            format!("{} of {run}", piece.kind),
            side.to_owned(),
            length("width"),
            String::new(),
            length("height"),
            String::new(),
            String::new(),
            gone::made_of(ctx, piece),
        ]
    }));
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "A scribe's blank is cut wide: scribe it to the wall on site. End panels and fillers are cut to size; their \
                 heights, as those of scribes, are to the floor as surveyed: measure there before one is fixed. The widths wanted are as \
                 surveyed, each with its height from finished floor. Where another width was asked for, what the \
                 units leave of the run went to the strip.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// As made, and what was asked for where that is another.
fn width(run: &Run, piece: &RunPiece, made: Length) -> String {
    let end = match piece.side {
        Side::Left => &run.left,
        Side::Right => &run.right,
    };
    match end.scribe.filter(|_| piece.kind == PieceKind::Scribe) {
        Some(asked) if asked != made => format!("{made} ({asked} asked)"),
        _ => made.to_string(),
    }
}

/// How deep the run's end panels were: over the fronts of its deepest unit.
fn deepest(ctx: &Context, run: &Run, placed: &PlacedRun) -> Length {
    let units = placed.units.iter().map(|put| {
        let old = Before::of(ctx, "unit", &put.id);
        let deep = old.length("depth over fronts", put.depth_over_fronts);
        (!old.is_new()).then_some(deep)
    });
    let here = key("run", &run.id);
    let gone = Before::gone(ctx, "unit").filter(|u| u.of.as_ref() == Some(&here));
    let gone = gone.map(|u| u.um("depth over fronts").map(Length::um));
    let deep = units.chain(gone).flatten().max();
    deep.unwrap_or_else(|| placed.depth_over_fronts())
}

/// One line for each plinth.
pub fn plinths(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Run", 60.0, Align::Left),
        ("From the wall's left corner", 45.0, Align::Left),
        ("Length", 20.0, Align::Right),
        ("Top", 18.0, Align::Right),
        ("In blanks of", 35.0, Align::Left),
        ("Board", 45.0, Align::Left),
    ]);
    for (run, placed) in ctx.runs() {
        for (n, plinth) in placed.plinths.iter().enumerate() {
            let old = Before::of(ctx, "plinth", &format!("{}/{}", run.id, n + 1));
            table.row([
                ctx.run_title(run),
                super::units::span(plinth.left, plinth.right),
                (plinth.right - plinth.left).to_string(),
                plinth.top.to_string(),
                words::or_nothing(&blanks(ctx, &run.id)).to_owned(),
                ctx.material(run.plinth_material).to_owned(),
            ]);
            let left = old.length("left edge", plinth.left);
            let long = old.length("width", plinth.right - plinth.left);
            table.was([
                None,
                Some(super::units::span(left, left + long)),
                Some(long.to_string()),
                Some(old.length("height", plinth.top).to_string()),
                blanks_before(ctx, &run.id),
                Some(Before::of(ctx, "run", &run.id).material("plinth", run.plinth_material)),
            ]);
            if old.is_new() {
                table.is_new();
            }
        }
    }
    table.taken_out(Before::gone(ctx, "plinth").map(|plinth| {
        let ends = gone::length(plinth, "left edge").zip(gone::length(plinth, "width"));
        vec![
            gone::run(ctx, plinth),
            ends.map_or(String::new(), |(left, long)| {
                super::units::span(left, left + long)
            }),
            ends.map_or(String::new(), |(_, long)| long.to_string()),
            gone::length(plinth, "height").map_or(String::new(), |top| top.to_string()),
        ]
    }));
    match table.has_rows() {
        true => vec![
            Block::paragraph(format!(
                "Top is from finished floor; the blanks are {SCRIBE_ALLOWANCE} higher than the floor as surveyed asks (common \
                 practice, no source): scribe each to the floor. A plinth's face is {SET_BACK} behind that of the fronts."
            )),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

fn blanks_before(ctx: &Context, run: &str) -> Option<String> {
    let cut = Before::of(ctx, "run", run).cut()?;
    let plinths = cut
        .into_iter()
        .filter(|c| c.kind == PartKind::Plinth.name());
    let mut each: Vec<_> = plinths.map(|c| (c.length, c.width, c.count)).collect();
    each.sort_by(|a, b| b.cmp(a));
    let each = each.into_iter().map(|(length, width, count)| {
        let size = words::by(Length::um(length), Length::um(width));
        format!("{count} of {size}")
    });
    Some(words::or_nothing(&each.collect::<Vec<_>>().join(", ")).to_owned())
}

/// `3 of 1497.5 \u{d7} 93`: what a run's plinth is cut from.
fn blanks(ctx: &Context, run: &str) -> String {
    let parts = ctx.reckoned.quantities.parts.iter();
    let plinths = parts.filter(|p| p.kind == PartKind::Plinth);
    let mine = plinths.filter_map(|p| {
        let (_, count) = p.of.iter().find(|(of, _)| of == run)?;
        Some(format!("{count} of {}", words::by(p.length, p.width)))
    });
    mine.collect::<Vec<_>>().join(", ")
}
