//! What may go wrong, for the client: each with its number, its key, what can be chosen and for how much.
//! Lays before him what was reckoned and declared; must not soften it, nor price anything.

use std::collections::BTreeSet;

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, KeyPicture, Risk, RiskOption, Table, running};
use super::super::{assemble, words};
use crate::reckon::placed::Severity;
use crate::risks::{CLIENT, Disclosure, Sums, told};
use crate::units::Money;

/// Width of the words beside a key, and of an option's, mm.
const BESIDE: f64 = 118.0;
const OPTION: f64 = 130.0;

pub fn risks(ctx: &Context) -> Vec<Block> {
    let all: Vec<&Disclosure> = ctx.told.risks.of(CLIENT).collect();
    if all.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![
        Block::paragraph(
            "Nothing made by hand from wood is without risk. Here is what we know may go wrong, why, and what can \
             be done. Please read each one, tick what you choose, and ask about whatever is not clear. What you \
             have not chosen is not agreed. A box already marked is what you told us: if it is not so, strike it \
             out and put your initials beside it. A choice and its price are for all that the risk is about: if you want \
             it for some of it only, write beside it for which, and ask for the price.",
        ),
        Block::caution(
            "Choosing does not make a thing safe.",
            "Lifting, tall furniture that can tip, glass, fire, electricity, gas and water stay with the people \
             who have learned that work, and with the rules where you live, whatever is ticked here.",
        ),
    ];
    if all
        .iter()
        .flat_map(|d| &d.options)
        .any(|o| o.price.is_none())
    {
        blocks.insert(1, Block::paragraph(not_priced(ctx)));
    }
    for disclosure in all {
        blocks.push(Block::Risk(risk(ctx, disclosure)));
    }
    blocks
}

fn not_priced(ctx: &Context) -> String {
    format!(
        "Where it says \u{201c}not priced yet\u{201d}, ask {} for the price if you would like that choice: it is \
         written in before you sign, and without it the choice is not agreed.",
        words::or_nothing(&ctx.job.info.designer)
    )
}

fn risk(ctx: &Context, d: &Disclosure) -> Risk {
    let mut facts = vec![("About", d.about.clone())];
    facts.extend(told::number(ctx.reckoned, d).map(|number| ("The number", number)));
    facts.push(("In detail", told::in_detail(ctx.reckoned, d)));
    facts.push(("On the drawings", on_drawings(ctx, d)));
    let rest = crate::draw::not_shown(ctx.job, ctx.reckoned, d);
    facts.push(("Also on", rest.join("; ")));
    facts.push(("What we do", d.doing.clone()));
    facts.push(("What we cannot do", d.cannot.clone()));
    facts.push(("Why it stands", d.known.clone().unwrap_or_default()));
    facts.retain(|(_, words)| !words.is_empty());
    let facts = facts.into_iter();
    Risk {
        id: d.id.clone(),
        number: d.number.to_string(),
        title: running(&d.title, 140.0),
        text: running(&d.text, BESIDE),
        facts: facts
            .map(|(term, text)| {
                (
                    term.to_owned(),
                    running(&words::sentence(&text), BESIDE - 34.0),
                )
            })
            .collect(),
        keys: keys(ctx, d),
        lead: lead(d).to_owned(),
        options: (b'a'..=b'z')
            .zip(d.options.iter().enumerate())
            .map(|(letter, (n, offer))| RiskOption {
                letter: char::from(letter).to_string(),
                chosen: d.choice == Some(n),
                words: running(&words::sentence(&offer.words), OPTION),
                detail: running(&told::detail(offer), OPTION),
                price: told::price(offer, &ctx.told.risks.currency),
                price_was: Before::of(ctx, "option", &format!("{}/{}", d.id, offer.id))
                    .money("price")
                    .map(|old| old.in_currency(&ctx.told.risks.currency)),
            })
            .chain(refusal(d))
            .collect(),
    }
}

/// Where it is marked: hatched on the plan of a room, with its number; named beside what it is about on
/// the elevations. Those that only inform stand on no elevation.
fn on_drawings(ctx: &Context, d: &Disclosure) -> String {
    let own = |f: &&crate::reckon::placed::Finding| {
        ctx.reckoned
            .clashes
            .iter()
            .find(|c| c.is(f) && c.is_drawn())
    };
    let found = d
        .findings
        .iter()
        .filter_map(|n| ctx.reckoned.findings.get(*n));
    let (mut rooms, mut beside) = (BTreeSet::new(), false);
    for finding in found {
        let clash = own(&finding);
        rooms.extend(clash.map(|c| c.room));
        let open = finding.severity != Severity::Informs;
        beside |= open && (clash.is_some() || finding.known.is_none());
    }
    let mut said = Vec::new();
    let rooms = rooms.into_iter().filter_map(|n| ctx.job.rooms.get(n));
    let rooms: Vec<String> = rooms.map(|r| r.name.clone()).collect();
    if !rooms.is_empty() {
        said.push(format!(
            "Hatched on the {} of {}, with \u{201c}risk {}\u{201d}.",
            if rooms.len() == 1 { "plan" } else { "plans" },
            words::and_list(&rooms),
            d.number
        ));
    }
    if beside {
        said.push(format!(
            "Elevations say \u{201c}risk {}\u{201d} where it is.",
            d.number
        ));
    }
    said.join(" ")
}

/// A last box where anything may be chosen: nobody is made to agree.
fn refusal(d: &Disclosure) -> Option<RiskOption> {
    (!d.options.is_empty()).then(|| RiskOption {
        letter: String::new(),
        chosen: false,
        words: running("I do not agree to this. Let us talk.", OPTION),
        detail: String::new(),
        price: String::new(),
        price_was: None,
    })
}

fn lead(d: &Disclosure) -> &'static str {
    match (d.severity, d.choice, d.options.is_empty()) {
        (_, _, true) => "Your choice: write it here, or ask.",
        (_, Some(_), _) => "You have chosen:",
        (Severity::Blocks, None, _) if !d.may_be_agreed => {
            "This must be settled before anything is made:"
        }
        _ => "Please tick one:",
    }
}

fn keys(ctx: &Context, d: &Disclosure) -> Vec<KeyPicture> {
    let of = ctx.told.keys.iter().filter(|k| k.of.contains(&d.id));
    of.map(|key| KeyPicture {
        path: assemble::drawing_path(&key.id),
        alt: running(&key.alt, BESIDE),
        caption: running(&key.title, key.width_mm),
        width: key.width_mm,
        height: key.height_mm,
    })
    .collect()
}

/// What the accepted options come to.
pub fn accepted(ctx: &Context) -> Vec<Block> {
    let risks = ctx.told.risks;
    if risks.of(CLIENT).next().is_none() {
        return Vec::new();
    }
    let sums: Sums = risks.sums;
    let money = |amount: Money| amount.in_currency(&risks.currency);
    let chosen = risks.of(CLIENT).filter(|d| d.choice.is_some()).count();
    let old = Before::of(ctx, "job", "job");
    let mut table = Table::new(&[("What", 120.0, Align::Left), ("Amount", 55.0, Align::Right)]);
    let mut line = |what: &str, amount: Money| {
        table.row([what, &money(amount)]);
        let before = old.money(&what.to_lowercase()).unwrap_or(amount);
        table.was([None, Some(money(before))]);
    };
    if chosen > 0 {
        line("Changes chosen", sums.changes);
        line("Put aside, if called on", sums.put_aside);
        if sums.called != Money::ZERO {
            line("Contingencies called", sums.called);
        }
        line("In all at most", sums.at_most());
    }
    if sums.unpriced > 0 {
        let now = u32::try_from(sums.unpriced).unwrap_or(u32::MAX);
        table.row(["Not priced yet", &now.to_string()]);
        table.was([None, Some(old.count("not priced yet", now).to_string())]);
    }
    let mut blocks = Vec::new();
    match !table.has_rows() {
        true => blocks.push(Block::paragraph(
            "Nothing is chosen yet, and so nothing is added.",
        )),
        false => blocks.push(Block::Table(table)),
    }
    blocks.push(Block::caution(
        "This is no quotation.",
        "These are the prices of the options above and of nothing else. What the work as a whole costs stands in \
         the workshop's quotation or contract.",
    ));
    blocks
}
