//! What the reckoning found and what was noted by hand, for the reader of the pack. Knows which words are
//! whose; must not soften a finding's words.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::on_site;
use crate::reckon::placed::{Finding, ForClient, Severity};
use crate::risks::Marks;

pub fn findings(ctx: &Context) -> Vec<Block> {
    match ctx.pack {
        Pack::Client => for_client(ctx),
        Pack::Fitter => for_fitter(ctx),
    }
}

/// Each with its number, in order.
fn found<'a>(ctx: &Context<'a>) -> impl Iterator<Item = (String, &'a Finding)> + use<'a> {
    let all = (1..).zip(&ctx.reckoned.findings);
    all.map(|(n, f): (u32, _)| (n.to_string(), f))
}

/// What a client sees, lives with or decides; the rest the workshop settles. One that blocks the job
/// is told to everybody.
fn for_client(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 10.0, Align::Right),
        ("About", 32.0, Align::Left),
        ("What it means for you", 76.0, Align::Left),
        ("What you may choose", 57.0, Align::Left),
    ]);
    let mut last = None;
    // What a rule makes a risk of is told there, once.
    let marks = Marks::new(ctx.reckoned, ctx.told.risks);
    let all = marks.listed();
    let here = all.filter_map(|(n, number)| Some((ctx.reckoned.findings.get(n)?, number)));
    for (f, number) in here {
        let own = (f.severity == Severity::Blocks).then(|| ForClient {
            text: f.text.clone(),
            choice: "We must settle this before anything is made.".to_owned(),
        });
        let Some(told) = f.client.clone().or(own) else {
            continue;
        };
        let heading = heading(ctx.pack, f);
        if last != Some(heading) {
            last = Some(heading);
            table.group(heading);
        }
        let mut text = words::sentence(&told.text);
        let mut clashes = ctx.reckoned.clashes.iter();
        if clashes.any(|c| c.is(f) && c.is_drawn()) {
            text.push_str(" The plan shows where, with this number.");
        }
        table.row([
            number.to_string(),
            words::subject_name(ctx.job, &f.subject),
            text,
            sentence_or_nothing(f.known.as_ref().unwrap_or(&told.choice)),
        ]);
    }
    told(
        table,
        "These came out of the survey and the sizes too; their numbers go on from those of the risks. Please read each \
         one. Where there is a choice, write it beside it, or ask.",
    )
}

fn for_fitter(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 10.0, Align::Right),
        ("About", 28.0, Align::Left),
        ("What was found", 56.0, Align::Left),
        ("Held against", 38.0, Align::Left),
        ("What to do about it", 51.0, Align::Left),
    ]);
    let mut last = None;
    for (n, f) in found(ctx) {
        let heading = heading(ctx.pack, f);
        if last != Some(heading) {
            last = Some(heading);
            table.group(heading);
        }
        table.row([
            n,
            words::subject_name(ctx.job, &f.subject),
            words::sentence(&f.text),
            sentence_or_nothing(&f.limit),
            match &f.known {
                Some(why) => words::sentence(why),
                None => sentence_or_nothing(&on_site::advice(f)),
            },
        ]);
    }
    told(
        table,
        "These came out of the survey and the sizes. They are reckoned, not seen: look.",
    )
}

fn told(table: Table, lead: &str) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::paragraph(lead), Block::Table(table)],
        false => Vec::new(),
    }
}

fn sentence_or_nothing(text: &str) -> String {
    match text.trim() {
        "" => words::NOTHING.to_owned(),
        text => words::sentence(text),
    }
}

fn heading(pack: Pack, finding: &Finding) -> &'static str {
    if finding.known.is_some() {
        return "Known, and why it may stand";
    }
    match (finding.severity, pack) {
        (Severity::Blocks, _) => "Must be settled before anything is made",
        (Severity::Warns, Pack::Client) => "Please decide or accept",
        (Severity::Warns, Pack::Fitter) => "Watch out for",
        (Severity::Informs, _) => "Good to know",
    }
}

pub fn notes(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[("About", 50.0, Align::Left), ("Note", 125.0, Align::Left)]);
    for note in ctx
        .job
        .notes
        .iter()
        .filter(|n| n.to.is_for(ctx.pack.reader()))
    {
        table.row([words::subject_name(ctx.job, &note.on), note.text.clone()]);
    }
    for (subject, text) in own_notes(ctx).filter(|(_, text)| !text.trim().is_empty()) {
        table.row([subject, text]);
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

/// Notes written on the things themselves, which every reader gets.
fn own_notes<'a>(ctx: &'a Context<'a>) -> impl Iterator<Item = (String, String)> + 'a {
    let units = ctx.job.runs.iter().flat_map(|run| &run.units);
    let units = units.map(|u| (words::unit_name(&u.id, &u.name), u.note.clone()));
    let panels = ctx
        .job
        .panels
        .iter()
        .map(|p| (words::named(&p.id, &p.name), p.note.clone()));
    let sliding = ctx
        .job
        .sliding
        .iter()
        .map(|s| (words::named(&s.id, &s.name), s.note.clone()));
    let tops = ctx
        .job
        .worktops
        .iter()
        .map(|w| (words::named(&w.id, &w.name), w.note.clone()));
    units.chain(panels).chain(sliding).chain(tops)
}
