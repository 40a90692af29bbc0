//! What a fitter must mind of one unit: every finding that names it or one of its fronts, and the notes
//! pinned to it. Knows what the unit's card tells elsewhere; words nothing itself.

use super::super::context::Context;
use super::super::words;
use crate::reckon::order::Work;
use crate::reckon::placed::{Finding, PlacedUnit};
use crate::resolve::job::{Note, Run, Subject};

/// Told by other lines of the card.
const TOLD: &[&str] = &[
    "corner-to-be-eased",
    "cannot-be-stood-up",
    "does-not-pass",
    "feet-fitted-after",
    "unit-notched",
];

pub fn mind(ctx: &Context, subject: &Subject, run: &Run, put: &PlacedUnit) -> String {
    let of_it = |of: &Subject| {
        of == subject || matches!(of, Subject::Front(id) if fronts(ctx, put).any(|f| f == id))
    };
    let found = ctx.reckoned.findings.iter().filter(|f| {
        let names = f.fronts.iter().any(|f| put.fronts.contains(f));
        (of_it(&f.subject) || names) && !TOLD.contains(&f.code)
    });
    let text = |f: &Finding| match &f.known {
        Some(why) => format!(
            "{} Known: {}",
            words::sentence(&f.text),
            words::sentence(why)
        ),
        None => words::sentence(&f.text),
    };
    let mut said: Vec<String> = found.map(text).collect();
    if let Subject::Unit(_, u) = subject
        && let Some(unit) = run.units.get(*u)
        && !unit.note.trim().is_empty()
    {
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
    said.join(" ")
}

fn fronts<'a>(ctx: &Context<'a>, put: &PlacedUnit) -> impl Iterator<Item = &'a String> {
    let placed = put.fronts.iter();
    placed.filter_map(|f| ctx.reckoned.fronts.get(*f).map(|f| &f.id))
}

/// `Washing machine, 85 kg, lifted to 118; Dryer, of a mass not given, lifted to 1038. Step 31 of 34; connected
/// by whoever is licensed.`
pub fn machines_in_turn(ctx: &Context, subject: &Subject, put: &PlacedUnit) -> String {
    let each = machines(ctx, put);
    let order = &ctx.reckoned.order;
    let steps = order.iter().enumerate();
    let of_it = steps.filter(|(_, s)| s.subject == *subject && matches!(s.what, Work::Machines(_)));
    let steps: Vec<String> = of_it.map(|(n, _)| (n + 1).to_string()).collect();
    match each.is_empty() || steps.is_empty() {
        true => each,
        false => format!(
            "{each} Step {} of {}; connected by whoever is licensed.",
            words::and_list(&steps),
            order.len()
        ),
    }
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
