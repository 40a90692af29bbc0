//! The fitter's cover: note, people and how to reach them, the way in. Knows what was measured of the
//! way; must not say what passes along it.

use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;

pub fn note(ctx: &Context) -> Vec<Block> {
    Block::paragraphs(&ctx.job.info.note_to_fitter)
}

pub fn people(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Who", 65.0, Align::Left),
        ("Role", 35.0, Align::Left),
        ("How to reach", 75.0, Align::Left),
    ]);
    for person in &ctx.job.people {
        table.row([
            person.name.as_str(),
            words::or_nothing(&person.role),
            words::or_nothing(&person.reach),
        ]);
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

pub fn way_in(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("In order", 65.0, Align::Left),
        ("Kind", 25.0, Align::Left),
        ("Clear width", 27.0, Align::Right),
        ("Width after", 27.0, Align::Right),
        ("Clear height", 31.0, Align::Right),
    ]);
    for obstacle in &ctx.job.way_in {
        table.row([
            obstacle.what.clone(),
            words::obstacle(obstacle.kind).to_owned(),
            obstacle.width.to_string(),
            obstacle
                .width_after
                .map_or(words::NOTHING.to_owned(), |w| w.to_string()),
            obstacle.height.to_string(),
        ]);
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}
