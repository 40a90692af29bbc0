//! What the reckoning found and what was noted by hand, for the reader of the pack. Knows which findings
//! are the workshop's business alone; must not soften a finding's words.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::reckon::placed::{Finding, Severity};

/// Findings that change nothing a client sees, lives with or decides: the workshop settles them.
/// One that blocks the job is told to everybody.
const WORKSHOP_ONLY: &[&str] = &[
    "survey-does-not-close",
    "diagonal-disagrees",
    "scribe-too-narrow",
    "foot-at-end-of-range",
    "tight-under-ceiling",
    "feet-fitted-after",
    "corner-to-be-eased",
    "lift-over-guideline",
    "leaf-stops-short",
    "open-fronts-touch",
    "wall-fixing-load",
    "foot-overloaded",
];

fn is_for(pack: Pack, finding: &Finding) -> bool {
    pack == Pack::Fitter
        || finding.severity == Severity::Blocks
        || !WORKSHOP_ONLY.contains(&finding.code)
}

pub fn findings(ctx: &Context) -> Vec<Block> {
    let mut found: Vec<&Finding> = ctx
        .reckoned
        .findings
        .iter()
        .filter(|f| is_for(ctx.pack, f))
        .collect();
    if found.is_empty() {
        return Vec::new();
    }
    found.sort_by_key(|f| (f.known.is_some(), f.severity));
    let mut table = Table::new(&[
        ("About", 30.0, Align::Left),
        ("What was found", 56.0, Align::Left),
        ("Held against", 38.0, Align::Left),
        ("What to do about it", 51.0, Align::Left),
    ]);
    let mut last = None;
    for f in found {
        let heading = match &f.known {
            Some(_) => "Known, and why it may stand",
            None => heading(ctx.pack, f.severity),
        };
        if last != Some(heading) {
            last = Some(heading);
            table.group(heading);
        }
        table.row([
            words::subject(ctx.job, &f.subject),
            words::sentence(&f.text),
            sentence_or_nothing(&f.limit),
            match &f.known {
                Some(why) => words::sentence(why),
                None => sentence_or_nothing(&f.advice),
            },
        ]);
    }
    let lead = match ctx.pack {
        Pack::Client => {
            "These came out of the survey and the sizes. Please read each one and ask about any that \
             you would rather have otherwise."
        }
        Pack::Fitter => {
            "These came out of the survey and the sizes. They are reckoned, not seen: look."
        }
    };
    vec![Block::paragraph(lead), Block::Table(table)]
}

fn sentence_or_nothing(text: &str) -> String {
    match text.trim() {
        "" => words::NOTHING.to_owned(),
        text => words::sentence(text),
    }
}

fn heading(pack: Pack, severity: Severity) -> &'static str {
    match (severity, pack) {
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
        table.row([words::subject(ctx.job, &note.on), note.text.clone()]);
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
