//! What the client was told and has accepted, for the fitter, so that nothing agreed is put right; and what
//! is the fitter's own to judge. Must not say a price.

use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::resolve::job::OptionKind;
use crate::risks::{CLIENT, Disclosure, FITTER, told};

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
                    Some(number) => format!("{} ({})", d.title, told::number(number)),
                    None => d.title.clone(),
                },
                d.about.clone(),
                match d.chosen() {
                    Some(offer) => {
                        let more = told::detail(offer);
                        format!("{} {more}", words::sentence(&offer.words))
                            .trim_end()
                            .to_owned()
                    }
                    None => words::NOTHING.to_owned(),
                },
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
