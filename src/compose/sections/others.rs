//! Appliances, work by others and the job's history: lists both packs carry. Connects and certifies
//! nothing.

use std::collections::BTreeMap;

use super::super::before::Before;
use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::gone;
use crate::resolve::job::{ApplianceRef, ByOthers, Turn};

pub fn appliances(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Appliance", 40.0, Align::Left),
        ("Width \u{d7} height \u{d7} depth", 36.0, Align::Left),
        ("kg", 14.0, Align::Right),
        ("Stands in", 34.0, Align::Left),
        ("Supplied by", 23.0, Align::Left),
        ("Needs", 28.0, Align::Left),
    ]);
    for (index, appliance) in ctx.job.appliances.iter().enumerate() {
        let units = ctx.job.runs.iter().flat_map(|run| &run.units);
        let stands: Vec<String> = units
            .filter(|u| {
                u.bays
                    .iter()
                    .any(|b| b.appliances.contains(&ApplianceRef(index)))
            })
            .map(|u| words::unit_name(&u.id, &u.name))
            .collect();
        let needs: Vec<String> = appliance
            .needs
            .iter()
            .map(|n| n.name().to_owned())
            .collect();
        table.row([
            words::capital(&appliance.name),
            words::by3(appliance.width, appliance.height, appliance.depth),
            appliance
                .mass
                .map_or_else(|| "not given".to_owned(), |m| m.to_string()),
            words::or_nothing(&words::and_list(&stands)).to_owned(),
            words::or_nothing(&appliance.supplied).to_owned(),
            words::or_nothing(&words::and_list(&needs)).to_owned(),
        ]);
        let old = Before::of(ctx, "appliance", &appliance.key);
        table.was([
            Some(words::capital(&old.text("name", &appliance.name))),
            match old.lengths("size").as_deref() {
                Some([width, height, depth]) => Some(words::by3(*width, *height, *depth)),
                _ => None,
            },
            None,
            None,
            Some(words::or_nothing(&old.text("supplied", &appliance.supplied)).to_owned()),
            old.texts("needs")
                .map(|needs| words::or_nothing(&words::and_list(&needs)).to_owned()),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "appliance").map(|one| vec![gone::name(one)]));
    if !table.has_rows() {
        return Vec::new();
    }
    let advice = match ctx.pack {
        Pack::Client => {
            "Ventilation, clearances and access for service are as each maker's own instructions say; \
             where they ask for more than is drawn, they win. Please let us have the instructions \
             before anything is made. Connecting an appliance is work for licensed people."
        }
        Pack::Fitter => {
            "Ventilation, clearances and access for service are as each maker's own instructions say; \
             where they ask for more than is drawn, they win: stop and ask. Connecting an appliance is \
             work for licensed people."
        }
    };
    vec![Block::paragraph(advice), Block::Table(table)]
}

pub fn by_others(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("What", 85.0, Align::Left),
        ("Who", 55.0, Align::Left),
        ("By when", 35.0, Align::Left),
    ]);
    let titles = match ctx.pack {
        Pack::Client => [
            (Turn::Before, "Before we come"),
            (Turn::During, "While we fit: we tell the day"),
            (Turn::After, "When we have done"),
        ],
        Pack::Fitter => [
            (
                Turn::Before,
                "Before you begin: look whether it is done; if not, ask before you go on",
            ),
            (
                Turn::During,
                "While you fit: tell them the day, and stop where it says",
            ),
            (Turn::After, "When you have done: leave access to it"),
        ],
    };
    let mut alike = BTreeMap::new();
    let mut filed = Vec::new();
    for item in &ctx.job.by_others {
        let nth: &mut usize = alike.entry(&item.what).or_default();
        *nth += 1;
        filed.push((item, *nth));
    }
    let mut in_turn: Vec<(&str, &ByOthers, usize)> = Vec::new();
    for (turn, title) in titles {
        let its = filed.iter().filter(|(o, _)| o.turn == turn);
        in_turn.extend(its.map(|(o, nth)| (title, *o, *nth)));
    }
    let mut group = "";
    for (title, item, nth) in in_turn {
        if title != group {
            table.group(title);
            group = title;
        }
        table.row([
            item.what.clone(),
            words::or_nothing(&item.who).to_owned(),
            item.by.map_or("no day agreed yet".to_owned(), words::date),
        ]);
        let old = Before::told_by(ctx, "work by others", &item.what, nth);
        table.was([
            Some(old.text("what", &item.what)),
            Some(words::or_nothing(&old.text("who", &item.who)).to_owned()),
            old.day("by").map(|day| words::written_day(&day)),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "work by others").map(|item| {
        let text = |fact| item.text(fact).unwrap_or_default().to_owned();
        vec![
            text("what"),
            text("who"),
            item.text("by").map_or(String::new(), words::written_day),
        ]
    }));
    if !table.has_rows() {
        return Vec::new();
    }
    let lead = match ctx.pack {
        Pack::Client => {
            "This work is not part of ours, but ours waits for it. Please see that it is ordered in time \
             and done by people licensed for it."
        }
        Pack::Fitter => "Ours waits for this work, or it for ours. None of it is yours to do.",
    };
    vec![Block::paragraph(lead), Block::Table(table)]
}

pub fn history(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Date", 34.0, Align::Left),
        ("Revision", 20.0, Align::Left),
        ("What", 60.0, Align::Left),
        ("Why", 61.0, Align::Left),
    ]);
    let mut turns = BTreeMap::new();
    for entry in &ctx.job.history {
        let turn: &mut usize = turns.entry(&entry.what).or_default();
        *turn += 1;
        table.row([
            words::date(entry.date),
            words::or_nothing(&entry.revision).to_owned(),
            entry.what.clone(),
            words::or_nothing(&entry.why).to_owned(),
        ]);
        let old = Before::told_by(ctx, "history entry", &entry.what, *turn);
        table.was([
            old.day("date").map(|day| words::written_day(&day)),
            Some(words::or_nothing(&old.text("revision", &entry.revision)).to_owned()),
            Some(old.text("what", &entry.what)),
            Some(words::or_nothing(&old.text("why", &entry.why)).to_owned()),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "history entry").map(|entry| {
        let text = |fact| entry.text(fact).unwrap_or_default().to_owned();
        let day = entry.text("date").map_or(String::new(), words::written_day);
        vec![day, text("revision"), text("what"), text("why")]
    }));
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}
