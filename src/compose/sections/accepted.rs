//! What the client was told and has accepted, for the fitter, so that nothing agreed is put right; and what
//! is the fitter's own to judge. Must not say a price.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::risks::{detail, number_words};
use crate::resolve::job::OptionKind;
use crate::risks::{CLIENT, Disclosure, FITTER, Number};

pub fn accepted(ctx: &Context) -> Vec<Block> {
    let all: Vec<&Disclosure> = ctx.told.risks.of(CLIENT).collect();
    if all.is_empty() {
        return Vec::new();
    }
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("What may happen", 46.0, Align::Left),
        ("About", 50.0, Align::Left),
        ("What was chosen", 70.0, Align::Left),
    ]);
    let kind = |d: &Disclosure| d.chosen().map(|offer| offer.kind);
    for (group, which) in [
        ("Agreed: leave it so", Some(OptionKind::Nothing)),
        (
            "Agreed: leave it so; if it happens, tell the workshop, which has agreed what is done",
            Some(OptionKind::Contingency),
        ),
        (
            "Agreed: changed, as it says here; where a drawing differs, ask before you go on",
            Some(OptionKind::Change),
        ),
        ("Not agreed yet: ask before you go on", None),
    ] {
        let some: Vec<&&Disclosure> = all.iter().filter(|d| kind(d) == which).collect();
        if !some.is_empty() {
            table.group(group);
        }
        for d in some {
            table.row([
                d.number.to_string(),
                match &d.figure {
                    Some(number) => format!("{} ({})", d.title, number_words(number)),
                    None => d.title.clone(),
                },
                d.about.clone(),
                match d.chosen() {
                    Some(offer) => {
                        let more = detail(offer);
                        format!("{} {more}", words::sentence(&offer.words))
                            .trim_end()
                            .to_owned()
                    }
                    None => words::NOTHING.to_owned(),
                },
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
                    Some(number) => format!("{title} ({})", number_words(number)),
                    None => title,
                }),
                None,
                chosen_before(ctx, d, &old),
            ]);
        }
    }
    vec![
        Block::paragraph(
            "The client was told of these before signing. What is agreed to be left is no fault: do not put it \
             right, and do not promise that it will be. The numbers are those of the client's pack.",
        ),
        Block::Table(table),
    ]
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
        true => format!("{worded} {}", detail(offer)).trim_end().to_owned(),
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
