//! What the client was told and has accepted, for the fitter, so that nothing agreed is put right; and what
//! is the fitter's own to judge. Must not say a price.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::resolve::job::OptionKind;
use crate::risks::{CLIENT, Disclosure, FITTER, Number, told};

pub fn accepted(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("What may happen", 46.0, Align::Left),
        ("About", 50.0, Align::Left),
        ("What was chosen", 70.0, Align::Left),
    ]);
    for (group, which) in [
        ("Leave it so", OptionKind::Nothing),
        (
            "Leave it so; if it happens, tell the workshop, which has agreed what is done",
            OptionKind::Contingency,
        ),
        (
            "Changed, as it says here; where a drawing differs, ask before you go on",
            OptionKind::Change,
        ),
    ] {
        let all = ctx.told.risks.of(CLIENT);
        let offers = all.filter_map(|d| Some((d, d.chosen().filter(|o| o.kind == which)?)));
        for (n, (d, offer)) in offers.enumerate() {
            if n == 0 {
                table.group(group);
            }
            let chosen = format!("{} {}", words::sentence(&offer.words), told::detail(offer));
            table.row([
                d.number.to_string(),
                titled(d),
                d.about.clone(),
                chosen.trim_end().to_owned(),
            ]);
            let old = Before::of(ctx, "disclosure", &d.id);
            let title = old.text("title", &d.title);
            let figure = d.figure.as_ref().map(|number| Number {
                found: old.text("number", &number.found),
                limit: old.text("limit", &number.limit),
            });
            table.was([
                None,
                Some(match &figure {
                    Some(number) => {
                        format!("{title}: {}", told::against(&number.found, &number.limit))
                    }
                    None => title,
                }),
                None,
                chosen_before(ctx, d, &old),
            ]);
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "The client was told of these and chose what it says here. What is agreed to be left is no fault: do not put it \
                 right, and do not promise that it will be. The numbers are those of the client's pack.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// What the client was told and has not chosen yet.
pub fn not_yet(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("What may happen", 96.0, Align::Left),
        ("About", 70.0, Align::Left),
    ]);
    let all = ctx.told.risks.of(CLIENT);
    for d in all.filter(|d| d.chosen().is_none()) {
        table.row([d.number.to_string(), titled(d), d.about.clone()]);
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "The client was told of these and has not agreed to them yet: ask before you go on. The numbers are \
                 those of the client's pack.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// What may happen, with the number behind it.
fn titled(d: &Disclosure) -> String {
    match &d.figure {
        Some(number) => format!(
            "{}: {}",
            d.title,
            told::against(&number.found, &number.limit)
        ),
        None => d.title.clone(),
    }
}

/// What was chosen before, where something else is now; as it was worded.
fn chosen_before(ctx: &Context, d: &Disclosure, old: &Before) -> Option<String> {
    let now = d.chosen().map_or("", |offer| offer.id.as_str());
    let id = old.text("choice", now);
    let offer = d.options.iter().find(|offer| offer.id == id);
    let Some(offer) = offer else {
        return (id != now).then_some(id);
    };
    let own = Before::of(ctx, "option", &format!("{}/{id}", d.id));
    let worded = words::sentence(&own.text("words", &offer.words));
    Some(match id == now {
        true => format!("{worded} {}", told::detail(offer))
            .trim_end()
            .to_owned(),
        false => worded,
    })
}

/// Risks that only the fitter agrees to.
pub fn to_judge(ctx: &Context) -> Vec<Block> {
    let own = ctx.told.risks.of(FITTER).filter(|d| !d.is_for(CLIENT));
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("What may happen", 70.0, Align::Left),
        ("About", 46.0, Align::Left),
        ("What is done", 50.0, Align::Left),
    ]);
    for d in own {
        table.row([
            d.number.to_string(),
            format!("{}. {}", d.title, d.text),
            d.about.clone(),
            d.doing.clone(),
        ]);
        let old = Before::of(ctx, "disclosure", &d.id);
        let (title, text) = (old.text("title", &d.title), old.text("text", &d.text));
        table.was([
            None,
            Some(format!("{title}. {text}")),
            None,
            Some(old.text("doing", &d.doing)),
        ]);
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Judge these on the day, by what you see. Local rules and your own assessment come first.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}
