//! What may go wrong, for the client: each with its number, its key, what can be chosen and for how much.
//! Lays before him what was reckoned and declared; must not soften it, nor price anything.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, KeyPicture, Risk, RiskOption, Table, running};
use super::super::{assemble, words};
use crate::reckon::placed::Severity;
use crate::risks::{CLIENT, Disclosure, Number, Offer, OptionKind, State, Sums};
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
             out and put your initials beside it.",
        ),
        Block::caution(
            "Choosing does not make a thing safe.",
            "Lifting, tall furniture that can tip, glass, fire, electricity, gas and water stay with the people \
             who have learned that work, and with the rules where you live, whatever is ticked here.",
        ),
    ];
    for disclosure in all {
        blocks.push(Block::Risk(risk(ctx, disclosure)));
    }
    blocks.extend(accepted(ctx));
    blocks
}

fn risk(ctx: &Context, d: &Disclosure) -> Risk {
    let mut facts = vec![("About", d.about.clone())];
    if let Some(number) = &d.figure {
        facts.push(("The number", number_words(number)));
    }
    facts.push(("In detail", in_detail(ctx, d)));
    facts.push(("On the drawings", on_drawings(ctx, d)));
    facts.push(("What we do", d.doing.clone()));
    facts.push(("What we cannot", d.cannot.clone()));
    facts.push(("Why it stands", d.known.clone().unwrap_or_default()));
    facts.retain(|(_, words)| !words.is_empty());
    let facts = facts.into_iter();
    Risk {
        id: d.id.clone(),
        number: d.number.to_string(),
        title: running(&d.title, 140.0),
        raised: running(&d.raised_by(), 40.0),
        text: running(&d.text, BESIDE),
        facts: facts
            .map(|(term, text)| {
                (
                    term.to_owned(),
                    running(&words::sentence(&text), BESIDE - 30.0),
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
                detail: running(&detail(offer), OPTION),
                price: price(offer, &ctx.told.risks.currency),
                price_was: Before::of(ctx, "option", &format!("{}/{}", d.id, offer.id))
                    .money("price")
                    .map(|old| old.in_currency(&ctx.told.risks.currency)),
            })
            .chain(refusal(d))
            .collect(),
    }
}

/// Findings told in their own words, before the rest are counted.
const TOLD: usize = 3;

/// What was found, each in the client's words: which shelf, under which load, between which fronts. The
/// one finding of long doors says what stands above it already.
fn in_detail(ctx: &Context, d: &Disclosure) -> String {
    let found = d.findings.iter();
    let found = found.filter_map(|n| ctx.reckoned.findings.get(*n)?.client.as_ref());
    let told: Vec<&str> = found.map(|told| told.text.as_str()).collect();
    if d.id == "bow" && told.len() == 1 {
        return String::new();
    }
    let mut said: Vec<String> = told.iter().take(TOLD).map(|t| words::sentence(t)).collect();
    match told.len().saturating_sub(TOLD) {
        0 => {}
        1 => said.push("And one more like these.".to_owned()),
        more => said.push(format!("And {more} more like these.")),
    }
    said.join(" ")
}

/// `finding 4`, as a drawing has it beside what it is about; those that only inform stand on none.
fn on_drawings(ctx: &Context, d: &Disclosure) -> String {
    let found = |n: &&usize| ctx.reckoned.findings.get(**n);
    let shown = d
        .findings
        .iter()
        .filter(|n| found(n).is_some_and(|f| f.severity != Severity::Informs && f.known.is_none()));
    let numbers: Vec<String> = shown.map(|n| (n + 1).to_string()).collect();
    match numbers.as_slice() {
        [] => String::new(),
        [one] => format!("finding {one}"),
        many => format!("findings {}", many.join(", ")),
    }
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

/// `4.3 mm, held against 4 mm`.
pub fn number_words(number: &Number) -> String {
    match (number.found.as_str(), number.limit.as_str()) {
        (found, "") => found.to_owned(),
        ("", limit) => format!("held against {limit}"),
        (found, limit) => format!("{found}, held against {limit}"),
    }
}

/// When it may be called, its last day, what became of it.
pub fn detail(offer: &Offer) -> String {
    let mut said = Vec::new();
    if let Some(when) = &offer.when {
        said.push(format!("It may be called on: {}", words::sentence(when)));
    }
    match offer.state {
        State::Called(day) => said.push(format!("Called on {}.", words::date(day))),
        State::NotNeeded(day) => said.push(format!("Not needed, as of {}.", words::date(day))),
        State::Expired(day) => said.push(format!("Its last day was {}.", words::date(day))),
        State::Offered | State::NotTaken | State::Accepted => {
            said.extend(
                offer
                    .until
                    .map(|day| format!("Last day: {}.", words::date(day))),
            );
        }
    }
    said.join(" ")
}

/// Beside an option: what it adds.
pub fn price(offer: &Offer, currency: &str) -> String {
    match (offer.kind, offer.price) {
        (OptionKind::Nothing, _) => "nothing to pay".to_owned(),
        (_, None) => "not priced yet".to_owned(),
        (OptionKind::Contingency, Some(price)) => {
            let how = match offer.state {
                State::Called(_) => ", called",
                State::NotNeeded(_) => ", not needed",
                State::Expired(_) => ", expired",
                State::Offered | State::NotTaken | State::Accepted => " if called",
            };
            format!("{}{how}", price.in_currency(currency))
        }
        (OptionKind::Change, Some(price)) if price < Money::ZERO => {
            let saved = Money::thousandths(price.in_thousandths().saturating_neg());
            format!("saves {}", saved.in_currency(currency))
        }
        (OptionKind::Change, Some(price)) => format!("adds {}", price.in_currency(currency)),
    }
}

/// What the accepted options come to.
fn accepted(ctx: &Context) -> Vec<Block> {
    let risks = ctx.told.risks;
    let sums: Sums = risks.sums;
    let money = |amount: Money| amount.in_currency(&risks.currency);
    let chosen = risks.of(CLIENT).filter(|d| d.choice.is_some()).count();
    let old = Before::of(ctx, "job", "job");
    let mut table = Table::new(&[
        ("What", 60.0, Align::Left),
        ("Amount", 40.0, Align::Right),
        ("", 75.0, Align::Left),
    ]);
    let mut line = |what: &str, amount: Money| {
        table.row([what, &money(amount)]);
        let before = old.money(&what.to_lowercase()).unwrap_or(amount);
        table.was([None, Some(money(before))]);
    };
    if chosen > 0 {
        line("Changes chosen", sums.changes);
        line("Put aside, if called", sums.put_aside);
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
    let mut blocks = vec![Block::heading("What you have accepted so far")];
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
