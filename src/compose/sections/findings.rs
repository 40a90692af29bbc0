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
    let mut all: Vec<ToClient> = Vec::new();
    // What a rule makes a risk of is told there, once.
    let marks = Marks::new(ctx.reckoned, ctx.told.risks);
    let listed = marks.listed();
    let here = listed.filter_map(|(n, number)| Some((ctx.reckoned.findings.get(n)?, number)));
    for (f, number) in here {
        let own = (f.severity == Severity::Blocks).then(|| ForClient {
            text: f.text.clone(),
            choice: "We must settle this before anything is made.".to_owned(),
        });
        let Some(told) = f.client.clone().or(own) else {
            continue;
        };
        let mut text = words::sentence(&told.text);
        let mut clashes = ctx.reckoned.clashes.iter();
        if clashes.any(|c| c.is(f) && c.is_drawn()) {
            text.push_str(" The plan shows where, with this number.");
        }
        let row = ToClient {
            heading: heading(ctx.pack, f),
            numbers: vec![number.to_string()],
            about: vec![words::subject_name(ctx.job, &f.subject)],
            text,
            choice: sentence_or_nothing(f.known.as_ref().unwrap_or(&told.choice)),
        };
        match all.last_mut().filter(|last| last.says(&row)) {
            Some(last) => {
                last.numbers.extend(row.numbers);
                last.about.extend(row.about);
            }
            None => all.push(row),
        }
    }
    let choose = all.iter().any(|row| row.choice != words::NOTHING);
    let mut columns = vec![
        ("No.", 12.0, Align::Right),
        ("About", if choose { 32.0 } else { 57.0 }, Align::Left),
        (
            "What it means for you",
            if choose { 74.0 } else { 106.0 },
            Align::Left,
        ),
    ];
    columns.extend(choose.then_some(("What you may choose", 57.0, Align::Left)));
    let mut table = Table::new(&columns);
    let mut last = None;
    for row in all {
        if last != Some(row.heading) {
            last = Some(row.heading);
            table.group(row.heading);
        }
        table.row([
            row.numbers.join(", "),
            row.about.join("; "),
            row.text,
            row.choice,
        ]);
    }
    told(
        table,
        match choose {
            true => {
                "These came out of the survey and the sizes too; their numbers go on from those of the risks. \
                 Please read each one. Where there is a choice, write it beside it, or ask."
            }
            false => {
                "These came out of the survey and the sizes too; their numbers go on from those of the risks. \
                 Please read each one, and ask about whatever is not clear."
            }
        },
    )
}

/// A row of the client's list; of several things, where it says the same of each.
struct ToClient {
    heading: &'static str,
    numbers: Vec<String>,
    about: Vec<String>,
    text: String,
    choice: String,
}

impl ToClient {
    fn says(&self, other: &ToClient) -> bool {
        (self.heading, &self.text, &self.choice) == (other.heading, &other.text, &other.choice)
    }
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
