//! Hardware: what is seen, for the client; what to pick for each unit, for the fitter. Counts are those
//! reckoned from units and fronts.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::gone;
use crate::compare::record::Fact;
use crate::compare::takes;
use crate::reckon::handling::Handling;
use crate::reckon::joints::connected;
use crate::reckon::placed::HardwareCount;
use crate::resolve::job::{Hardware, HardwareKind, Side};
use crate::units::{Length, Mass};

/// All of it: what hands and eyes meet, and what is agreed to with it.
pub fn for_client(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("What", 80.0, Align::Left),
        (
            "A handle's length, and how it stands out",
            70.0,
            Align::Left,
        ),
        ("Number", 25.0, Align::Right),
    ]);
    for (hardware, count) in counted(ctx) {
        if count.count == 0 {
            continue;
        }
        let kind = hardware.kind;
        table.row([
            named(kind, &hardware.name),
            handle(kind, hardware.size, hardware.out),
            count.count.to_string(),
        ]);
        let old = Before::of(ctx, "hardware", &hardware.key);
        table.was(
            [
                named(kind, &old.text("name", &hardware.name)),
                handle(
                    kind,
                    old.length("size", hardware.size),
                    old.length("out", hardware.out),
                ),
                old.count("in all", count.count).to_string(),
            ]
            .map(Some),
        );
        if old.is_new() {
            table.is_new();
        }
    }
    let gone = Before::gone(ctx, "hardware");
    table.taken_out(gone.map(|one| vec![format!("{} ({})", gone::name(one), gone::kind(one))]));
    table_or_nothing(table)
}

/// Its name, with what it is where the name does not say so: `Full-extension runner, pairs`, `Bow (handle)`.
fn named(kind: HardwareKind, name: &str) -> String {
    let said = name.to_lowercase().contains(kind.word());
    match (said, kind) {
        (true, HardwareKind::Runner) => format!("{name}, pairs"),
        (true, _) => name.to_owned(),
        (false, _) => format!("{name} ({})", words::hardware(kind)),
    }
}

/// `160, 32 out`, `120, flush`; of all else nothing.
fn handle(kind: HardwareKind, size: Length, out: Length) -> String {
    if kind != HardwareKind::Handle {
        return String::new();
    }
    let out = match out > Length::ZERO {
        true => format!("{out} out"),
        false => "flush".to_owned(),
    };
    match size > Length::ZERO {
        true => format!("{size}, {out}"),
        false => out,
    }
}

/// In all: what must be in the van.
pub fn totals(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("", 8.0, Align::Middle),
        ("Hardware", 72.0, Align::Left),
        ("In all", 18.0, Align::Right),
        ("How long", 42.0, Align::Left),
        ("Range or rating", 45.0, Align::Left),
    ]);
    for (hardware, count) in counted(ctx) {
        table.row([
            TICK.to_owned(),
            called(hardware),
            count.count.to_string(),
            how_long(count),
            range_or_rating(hardware.range, hardware.rating),
        ]);
        let old = Before::of(ctx, "hardware", &hardware.key);
        table.was([
            None,
            Some(old.text("name", &hardware.name)).filter(|old| *old != hardware.name),
            Some(old.count("in all", count.count).to_string()),
            None,
            Some(range_or_rating(
                match old.lengths("range").as_deref() {
                    Some([low, high]) => Some((*low, *high)),
                    _ => hardware.range,
                },
                hardware.rating.map(|mass| old.mass("rating", mass)),
            )),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    let gone = Before::gone(ctx, "hardware");
    table.taken_out(gone.map(|one| vec![String::new(), gone::name(one), gone::kind(one)]));
    let mut blocks = table_or_nothing(table);
    blocks.extend(small_parts(ctx));
    blocks
}

/// `Full-extension runner, pair`.
fn called(hardware: &Hardware) -> String {
    match hardware.kind {
        HardwareKind::Runner => format!("{}, pair", hardware.name),
        _ => hardware.name.clone(),
    }
}

/// `9 of 550, 8 of 450`.
fn how_long(count: &HardwareCount) -> String {
    let each = count
        .lengths
        .iter()
        .map(|(long, n)| format!("{n} of {long}"));
    words::or_nothing(&each.collect::<Vec<_>>().join(", ")).to_owned()
}

/// What the project names no hardware for, as the cards count it.
fn small_parts(ctx: &Context) -> Vec<Block> {
    let all = || ctx.reckoned.handling.iter().flatten();
    let sum = |of: fn(&Handling) -> u32| all().map(of).fold(0, u32::saturating_add);
    let mut table = Table::new(&[
        ("", 8.0, Align::Middle),
        ("Small parts", 90.0, Align::Left),
        ("In all", 20.0, Align::Right),
    ]);
    let named = ctx
        .job
        .hardware
        .iter()
        .any(|h| h.kind == HardwareKind::Fixing);
    let joints = match named {
        true => 0,
        false => sum(|h| h.joints.fixings()),
    };
    for (what, number) in [
        ("Fixings in the carcasses' joints", joints),
        ("Screws for backs", sum(|h| h.joints.back)),
        ("Pins under loose shelves", sum(|h| h.fittings.pins)),
        (
            "Connectors between units side by side",
            sum(|h| h.fittings.connectors) / 2,
        ),
    ] {
        if number > 0 {
            table.row([TICK.to_owned(), what.to_owned(), number.to_string()]);
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Counted by rule (common practice, no source): what joins boards and units, of a kind the workshop \
                 chooses. Fixings to walls are for somebody competent who has seen the wall.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

fn range_or_rating(range: Option<(Length, Length)>, rating: Option<Mass>) -> String {
    let range = range.map(|(low, high)| format!("{low} to {high}"));
    let rating = rating.map(|mass| format!("carries {}", words::rating(mass)));
    let facts: Vec<String> = range.into_iter().chain(rating).collect();
    words::or_nothing(&facts.join("; ")).to_owned()
}

/// By unit, each line with a box to tick.
pub fn by_unit(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("", 8.0, Align::Middle),
        ("Number", 18.0, Align::Right),
        ("Hardware", 149.0, Align::Left),
    ]);
    for (place, title) in places(ctx) {
        let mut titled = false;
        let owner = takes::OWNERS
            .iter()
            .map(|kind| Before::of(ctx, kind, &place));
        let owners: Vec<Before> = owner.collect();
        let old = owners.iter().find(|old| old.has_differed(takes::PICKED));
        let mut before: Vec<&[Fact]> = old
            .and_then(|old| old.lists(takes::PICKED))
            .unwrap_or_default();
        let all_new = owners.iter().any(Before::is_new);
        for (hardware, count) in counted(ctx) {
            for (_, number) in count
                .by_unit
                .iter()
                .filter(|(id, n)| *id == place && *n > 0)
            {
                if !titled {
                    table.group(&title);
                    titled = true;
                }
                table.row([TICK.to_owned(), number.to_string(), called(hardware)]);
                let key = Fact::Text(hardware.key.clone());
                let at = before.iter().position(|two| two.first() == Some(&key));
                match at.map(|at| before.remove(at)) {
                    Some([_, Fact::Count(n)]) => table.was([None, Some(n.to_string())]),
                    None if all_new || old.is_some() => table.is_new(),
                    _ => {}
                }
            }
        }
        for gone in before {
            let [Fact::Text(key), Fact::Count(n)] = gone else {
                continue;
            };
            if !titled {
                table.group(&title);
                titled = true;
            }
            let known = ctx.job.hardware.iter().find(|h| h.key == *key);
            let name = known.map_or(key.as_str(), |h| h.name.as_str());
            table.gone(["", &n.to_string(), name]);
        }
        for (what, number) in small_parts_of(ctx, &place) {
            if !titled {
                table.group(&title);
                titled = true;
            }
            table.row([TICK.to_owned(), number.to_string(), what]);
            if all_new {
                table.is_new();
            }
        }
    }
    table_or_nothing(table)
}

/// What one unit takes of small parts; connectors are picked with the left one of two units.
fn small_parts_of(ctx: &Context, id: &str) -> Vec<(String, u32)> {
    let named = ctx
        .job
        .hardware
        .iter()
        .any(|h| h.kind == HardwareKind::Fixing);
    let mut out = Vec::new();
    for (run, handling) in ctx.reckoned.runs.iter().zip(&ctx.reckoned.handling) {
        let here = run.units.iter().zip(handling);
        for (unit, h) in here.filter(|(unit, _)| unit.id == id) {
            let joints = match named {
                true => 0,
                false => h.joints.fixings(),
            };
            out.push(("Fixings in its joints".to_owned(), joints));
            out.push(("Screws for its back".to_owned(), h.joints.back));
            out.push(("Pins under loose shelves".to_owned(), h.fittings.pins));
            let right = connected(run, unit).into_iter();
            let right = right.filter(|(side, ..)| *side == Side::Right);
            out.extend(right.map(|(_, other, n)| (format!("Connectors to {other}"), n)));
        }
    }
    out.retain(|(_, n)| *n > 0);
    out
}

/// An empty box to tick.
pub const TICK: &str = "\u{2610}";

fn counted<'a>(
    ctx: &'a Context<'a>,
) -> impl Iterator<Item = (&'a Hardware, &'a HardwareCount)> + 'a {
    let counts = ctx.reckoned.hardware.iter();
    counts.filter_map(|count| Some((ctx.job.hardware.get(count.which.0)?, count)))
}

/// Every place hardware goes to, with its title: the units in order, then whatever else is counted.
fn places(ctx: &Context) -> Vec<(String, String)> {
    let units = ctx.job.runs.iter().flat_map(|run| &run.units);
    let mut places: Vec<(String, String)> = units
        .map(|u| (u.id.clone(), words::unit_name(&u.id, &u.name)))
        .collect();
    for sliding in &ctx.job.sliding {
        places.push((sliding.id.clone(), words::named(&sliding.id, &sliding.name)));
    }
    for (id, _) in ctx.reckoned.hardware.iter().flat_map(|h| &h.by_unit) {
        if !places.iter().any(|(known, _)| known == id) {
            places.push((id.clone(), id.clone()));
        }
    }
    places
}

fn table_or_nothing(table: Table) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}
