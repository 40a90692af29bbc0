//! The change register: what changed since the newest issue, what came of it, where it is drawn and who
//! must agree. Words are those of the comparison; must not find a change.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::compare::Entry;

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
    for entry in &register.entries {
        table.row([
            entry.number.to_string(),
            format!("{} ({})", entry.about, entry.sort.word()),
            entry.changes.join("; "),
            follows(entry, most),
            words::or_nothing(&entry.agree.join(" and ")).to_owned(),
            String::new(),
        ]);
        targets.push(drawn_on(ctx, entry.number));
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

/// Ids of the drawings that a change is marked on.
fn drawn_on(ctx: &Context, number: usize) -> Vec<String> {
    let drawings = super::super::pages::drawings(ctx);
    drawings
        .filter(|d| d.changes.contains(&number))
        .map(|d| d.id.clone())
        .collect()
}
