//! What a fitter must mind of one unit: every finding that names it or one of its fronts, with its number, and
//! the notes pinned to it. Knows what the unit's card tells elsewhere; words nothing itself.

use super::super::context::Context;
use super::super::words;
use super::cards;
use crate::reckon::order::Work;
use crate::reckon::placed::{Finding, PlacedUnit};
use crate::resolve::job::{Note, Run, Subject, Unit};

/// Told by other lines of the card.
const TOLD: &[&str] = &[
    "corner-to-be-eased",
    "cannot-be-stood-up",
    "does-not-pass",
    "feet-fitted-after",
    "unit-notched",
];

/// Each by itself.
pub fn mind(ctx: &Context, subject: &Subject, run: &Run, put: &PlacedUnit) -> Vec<String> {
    let of_it = |of: &Subject| {
        of == subject || matches!(of, Subject::Front(id) if fronts(ctx, put).any(|f| f == id))
    };
    let found = (1..).zip(&ctx.reckoned.findings).filter(|(_, f)| {
        let names = f.fronts.iter().any(|f| put.fronts.contains(f));
        (of_it(&f.subject) || names) && !TOLD.contains(&f.code)
    });
    let unit = match subject {
        Subject::Unit(_, u) => run.units.get(*u),
        _ => None,
    };
    let text = |(n, f): (u32, &Finding)| {
        let told = words::sentence(&of_itself(ctx, subject, unit, f));
        match &f.known {
            Some(why) => format!("Finding {n}: {told} Known: {}", words::sentence(why)),
            None => format!("Finding {n}: {told}"),
        }
    };
    let mut said: Vec<String> = found.map(text).collect();
    if let Some(unit) = unit.filter(|u| !u.note.trim().is_empty()) {
        said.push(words::sentence(&unit.note));
    }
    let on_wall = |n: &Note| match (&n.on, n.at) {
        (Subject::Wall(at), Some((x, z))) => {
            *at == run.wall && x >= put.left && x <= put.right && z <= put.top
        }
        _ => false,
    };
    for note in &ctx.job.notes {
        if note.to.is_for(ctx.pack.reader()) && (of_it(&note.on) || on_wall(note)) {
            let at = match note.at {
                Some((x, z)) => format!(" ({x} along the wall, {z} up)"),
                None => String::new(),
            };
            let text = words::sentence(&note.text);
            said.push(format!("{}{at}.", text.trim_end_matches('.')));
        }
    }
    said
}

/// A finding on the card of the unit that it is about: of several pairs the unit's own, and without its name.
fn of_itself(ctx: &Context, subject: &Subject, unit: Option<&Unit>, f: &Finding) -> String {
    let mut clashes = ctx.reckoned.clashes.iter().filter(|c| c.is(f));
    let own = clashes.find_map(|c| {
        let mut all = c.of_unit.iter();
        all.find(|((r, u), _)| *subject == Subject::Unit(*r, *u))
    });
    let text = own.map_or(f.text.as_str(), |(_, text)| text);
    let mut text = text.replace(" The plan shows where.", "");
    if let Some(unit) = unit {
        for name in [
            format!(" of {} \u{201c}{}\u{201d}", unit.id, unit.name),
            format!(" of \u{201c}{}\u{201d}", unit.name),
        ] {
            text = text.replace(&name, "");
        }
    }
    text
}

fn fronts<'a>(ctx: &Context<'a>, put: &PlacedUnit) -> impl Iterator<Item = &'a String> {
    let placed = put.fronts.iter();
    placed.filter_map(|f| ctx.reckoned.fronts.get(*f).map(|f| &f.id))
}

/// `Washing machine, 85 kg, lifted to 118; Dryer, of a mass not given, lifted to 1038. Step 31 of 34; connected
/// by whoever is licensed. Way in: …`
pub fn machines_in_turn(ctx: &Context, subject: &Subject, put: &PlacedUnit) -> String {
    let each = machines(ctx, put);
    let order = &ctx.reckoned.order;
    let steps = order.iter().enumerate();
    let of_it = steps.filter(|(_, s)| s.subject == *subject && matches!(s.what, Work::Machines(_)));
    let steps: Vec<String> = of_it.map(|(n, _)| (n + 1).to_string()).collect();
    let way_in = machines_way_in(ctx, subject);
    match each.is_empty() || steps.is_empty() {
        true => format!("{each}{way_in}"),
        false => format!(
            "{each} Step {} of {}; connected then by whoever is licensed.{way_in}",
            words::and_list(&steps),
            order.len()
        ),
    }
}

/// How the machines of a unit go along the way in, those alike together.
fn machines_way_in(ctx: &Context, subject: &Subject) -> String {
    let Subject::Unit(r, u) = subject else {
        return String::new();
    };
    let handling = ctx.reckoned.handling.get(*r).and_then(|h| h.get(*u));
    let machines = handling.map_or(&[][..], |h| h.machines.as_slice());
    if machines.is_empty() || ctx.job.way_in.is_empty() {
        return String::new();
    }
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for machine in machines {
        let name = ctx.appliance(machine.which).map_or("", |a| a.name.as_str());
        let way = cards::way_in(ctx, &machine.way_in);
        match told.iter_mut().find(|(known, _)| *known == way) {
            Some((_, names)) => names.push(name.to_owned()),
            None => told.push((way, vec![name.to_owned()])),
        }
    }
    let each: Vec<String> = told
        .into_iter()
        .map(|(way, names)| format!("{}: {way}", words::and_list(&names)))
        .collect();
    format!(" Way in of {}", each.join(" "))
}

/// `Washing machine, 85 kg (more than three people), lifted to 118; Dryer, of a mass not given, lifted to 1038.`
/// From finished floor.
pub fn machines(ctx: &Context, put: &PlacedUnit) -> String {
    let inside = put.bays.iter().flat_map(|b| &b.appliances);
    let each = inside.filter_map(|a| {
        let made = ctx.appliance(a.which)?;
        let mass = match made.mass {
            Some(mass) => {
                let people = words::people(mass);
                let people = people.unwrap_or_else(|| "more than three people".to_owned());
                format!("{} ({people})", words::rating(mass))
            }
            None => "of a mass not given".to_owned(),
        };
        Some(format!("{}, {mass}, lifted to {}", made.name, a.bottom))
    });
    words::sentence(&each.collect::<Vec<_>>().join("; "))
}
