//! What is carried in besides units, where it is long or heavy: size, mass, people, and the way in. Prints
//! what was reckoned.

use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::cards;
use crate::reckon::access::Passing;
use crate::reckon::carried::Carried;
use crate::units::{Length, Mass};

/// Shorter and lighter pieces go anywhere (common practice, no source; the mass is the guideline figure
/// for one woman).
const LONG: Length = Length::mm(1500);
const HEAVY: Mass = Mass::grams(16_000);

pub fn carried(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Piece", 58.0, Align::Left),
        ("As carried", 30.0, Align::Left),
        ("kg each", 15.0, Align::Right),
        ("People", 44.0, Align::Left),
        ("Way in", 30.0, Align::Left),
    ]);
    let all = ctx.reckoned.carried.iter();
    let listed: Vec<&Carried> = all
        .filter(|c| c.size.length > LONG || c.mass.is_some_and(|m| m > HEAVY))
        .collect();
    let mut told: Vec<&Carried> = Vec::new();
    for piece in &listed {
        let alike = |c: &Carried| {
            c.whole == piece.whole && c.size == piece.size && kg(c.mass) == kg(piece.mass)
        };
        if told.iter().any(|c| alike(c)) {
            continue;
        }
        told.push(piece);
        let names: Vec<String> = listed
            .iter()
            .filter(|c| alike(c))
            .map(|c| c.name.clone())
            .collect();
        let names = words::and_list(&names)
            .replace(" and front ", " and ")
            .replace(", front ", ", ");
        let names = match names.strip_prefix("front ").filter(|n| n.contains(" and ")) {
            Some(numbers) => format!("fronts {numbers}"),
            None => names,
        };
        let people = match piece.mass {
            Some(mass) => {
                let figure = words::people(mass);
                figure.unwrap_or_else(|| "more than the figure for three".to_owned())
            }
            None => "by its maker's figure".to_owned(),
        };
        let way = match ctx.job.way_in.is_empty() {
            true => "none declared".to_owned(),
            false if piece.way_in.iter().all(|p| *p == Passing::Passes) => "passes".to_owned(),
            false => cards::way_in(ctx, &piece.way_in),
        };
        let size = piece.size;
        table.row([
            words::sentence(&names).trim_end_matches('.').to_owned(),
            match size.breadth > Length::ZERO {
                true => words::by3(size.length, size.breadth, size.thickness),
                false => format!("{} long", size.length),
            },
            kg(piece.mass),
            people,
            way,
        ]);
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Whatever is longer than 1500 or heavier than 16 kg, besides units and machines. How many people, \
                 and the way in, as on the cards; long pieces go on edge.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

fn kg(mass: Option<Mass>) -> String {
    mass.map_or_else(|| words::NOTHING.to_owned(), |m| m.to_string())
}
