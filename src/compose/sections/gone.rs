//! Cells of rows for what the newest issue had and is gone: its name, sizes and make, as its record has them.
//! Knows a thing's facts; must not know a table.

use super::super::context::Context;
use super::super::words;
use crate::compare::record::{Fact, Thing};
use crate::units::{Length, Mass};

/// As it was called; by its id, if it had no name.
pub fn name(thing: &Thing) -> String {
    let name = thing.text("name").filter(|name| !name.is_empty());
    name.unwrap_or(&thing.id).to_owned()
}

/// With its id.
pub fn named(thing: &Thing) -> String {
    words::named(&thing.id, &name(thing))
}

/// What it was: a word of the project file.
pub fn kind(thing: &Thing) -> String {
    thing.text("is").unwrap_or_default().to_owned()
}

pub fn length(thing: &Thing, fact: &str) -> Option<Length> {
    thing.um(fact).map(Length::um)
}

pub fn mass(thing: &Thing) -> String {
    match thing.comes.get("mass") {
        Some(Fact::Grams(grams)) => Mass::grams(*grams).to_string(),
        _ => String::new(),
    }
}

/// `450 to 1050`: from one fact, as long as another.
pub fn span(thing: &Thing, from: &str, long: &str) -> String {
    let ends = length(thing, from).zip(length(thing, long));
    ends.map_or(String::new(), |(from, long)| {
        super::units::span(from, from + long)
    })
}

pub fn by(width: Option<Length>, height: Option<Length>) -> String {
    let both = width.zip(height);
    both.map_or(String::new(), |(width, height)| words::by(width, height))
}

/// The wall it stood on, as it is called now.
pub fn wall(ctx: &Context, thing: &Thing) -> String {
    ctx.wall_called(thing.text("on wall").unwrap_or_default())
}

/// The run it was part of, as it is called now.
pub fn run(ctx: &Context, thing: &Thing) -> String {
    let id = thing.of.as_deref().and_then(|of| of.strip_prefix("run "));
    let id = id.unwrap_or_default();
    let known = ctx.job.runs.iter().find(|run| run.id == id);
    known.map_or_else(|| id.to_owned(), |run| ctx.run_title(run))
}

pub fn made_of(ctx: &Context, thing: &Thing) -> String {
    let material = thing.text("material").map(|key| ctx.material_called(key));
    let finish = thing.text("finish").map(|key| ctx.finish_called(key));
    let both: Vec<String> = material.into_iter().chain(finish).collect();
    both.join("; ")
}
