//! The change register: what changed since the newest issue, what came of it, where it is drawn and who
//! must agree. Words are those of the comparison; must not find a change.

use std::collections::BTreeMap;

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::pages::{self, Page};
use super::super::words;
use crate::compare::Entry;
use crate::risks::CLIENT;

/// Consequences in one row at most; the client is told the first few.
const MOST_TO_FITTER: usize = 12;
const MOST_TO_CLIENT: usize = 6;

pub fn changes(ctx: &Context) -> Vec<Block> {
    let Some(newest) = ctx.standing.newest() else {
        return Vec::new();
    };
    let register = &ctx.standing.register;
    let since = format!(
        "revision {}, issued for {} on {}",
        newest.revision,
        newest.purpose.word(),
        newest.date
    );
    if register.entries.is_empty() {
        return vec![Block::paragraph(format!(
            "Nothing has changed since {since}."
        ))];
    }
    let mut blocks = vec![Block::paragraph(format!(
        "Since {since}. The number stands in a triangle beside a cloud on the drawings named; in the \
         lists the old value is struck through. What was agreed before about a thing that changed \
         must be agreed again."
    ))];
    if !register.reasons.is_empty() {
        let why: Vec<String> = register
            .reasons
            .iter()
            .map(|r| words::sentence(r))
            .collect();
        blocks.push(Block::paragraph(format!("Why: {}", why.join(" "))));
    }
    let mut table = Table::new(&[
        ("No.", 10.0, Align::Right),
        ("What", 33.0, Align::Left),
        ("Changed", 37.0, Align::Left),
        ("What came of it", 64.0, Align::Left),
        ("To be agreed by", 17.0, Align::Left),
        ("Sheets", 14.0, Align::Left),
    ]);
    let most = match ctx.pack {
        Pack::Client => MOST_TO_CLIENT,
        Pack::Fitter => MOST_TO_FITTER,
    };
    let mut targets = Vec::new();
    let mut sections = BTreeMap::new();
    for entry in &register.entries {
        table.row([
            entry.number.to_string(),
            format!("{} ({})", entry.about, entry.sort.word()),
            entry.changes.join("; "),
            follows(entry, most),
            words::or_nothing(&entry.agree.join(" and ")).to_owned(),
            String::new(),
        ]);
        let drawn = drawn_on(ctx, entry.number);
        targets.push(match drawn.is_empty() {
            true => listed_in(ctx, entry, &mut sections),
            false => drawn,
        });
    }
    blocks.push(Block::Marked { table, targets });
    blocks
}

fn follows(entry: &Entry, most: usize) -> String {
    let mut told: Vec<String> = entry.follows.iter().take(most).cloned().collect();
    let more = entry.follows.len().saturating_sub(most);
    if more > 0 {
        told.push(format!("and {more} more"));
    }
    words::or_nothing(&told.join("; ")).to_owned()
}

/// Labels of the drawings that a change is marked on.
fn drawn_on(ctx: &Context, number: usize) -> Vec<String> {
    let drawings = super::super::pages::drawings(ctx);
    drawings
        .filter(|d| d.changes.contains(&number))
        .map(|d| format!("drawing {}", d.id))
        .collect()
}

/// Kinds of thing that no drawing shows, or not all that may be otherwise of them, each with the sections that
/// list it: the first that the pack has.
const LISTED: &[(&str, &[&str])] = &[
    ("material", &["boards"]),
    ("board", &["blanks", "boards"]),
    ("finish", &["finishes", "boards"]),
    ("hardware", &["hardware"]),
    ("appliance", &["appliances"]),
    ("work by others", &["by-others"]),
    ("history entry", &["history"]),
    ("way in", &["way-in"]),
    ("note", &["notes"]),
    ("unit", &["units"]),
    ("front", &["fronts"]),
    ("panel", &["panels", "loose"]),
    ("sliding", &["sliding", "loose"]),
    ("worktop", &["worktops", "loose"]),
];

/// Labels of where a change that is on no drawing is listed: of what it is about, else of what it touches.
fn listed_in(
    ctx: &Context,
    entry: &Entry,
    known: &mut BTreeMap<&'static str, bool>,
) -> Vec<String> {
    let mut is_there = |id: &'static str| {
        *known.entry(id).or_insert_with(|| {
            let pages = pages::table(ctx.pack).iter();
            let mut own = pages.filter_map(|page| match page {
                Page::Cover(entry) | Page::Text(entry) | Page::Words(entry) | Page::Sign(entry) => {
                    Some(entry)
                }
                Page::Drawings => None,
            });
            let found = own.find(|entry| entry.id == id);
            found.is_some_and(|entry| !(entry.build)(ctx).is_empty())
        })
    };
    let mut labels: Vec<String> = Vec::new();
    for key in entry.touches.keys() {
        let label = match disclosure(ctx, key) {
            Some(id) => Some(format!("disclosure {id}")),
            None => {
                let listed = LISTED.iter().find(|(kind, _)| {
                    key.strip_prefix(kind)
                        .is_some_and(|rest| rest.starts_with(' '))
                });
                let sections = listed.map_or(&[][..], |(_, sections)| sections);
                let found = sections.iter().find(|id| is_there(id));
                found.map(|id| format!("section {id}"))
            }
        };
        if let Some(label) = label.filter(|label| !labels.contains(label)) {
            labels.push(label);
        }
    }
    labels.truncate(MOST_LISTED);
    labels
}

/// Pages of lists that one change is sent to at most.
const MOST_LISTED: usize = 3;

/// The disclosure that a key is of, if the client reads it.
fn disclosure<'a>(ctx: &Context<'a>, key: &str) -> Option<&'a str> {
    let id = match key.split_once(' ') {
        Some(("disclosure", id)) => id,
        Some(("option", id)) => id.rsplit_once('/')?.0,
        _ => return None,
    };
    let mut read = ctx.told.risks.of(CLIENT);
    let found = read.find(|d| ctx.pack == Pack::Client && d.id == id);
    found.map(|d| d.id.as_str())
}
