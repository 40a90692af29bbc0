//! Settings of the feet, unit by unit, as the floor falls beneath them. Sorts them as they stand; the
//! settings are those reckoned.

use std::collections::BTreeMap;

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::reckon::feet::{FROM_FACE, FROM_SIDE};
use crate::reckon::placed::Foot;
use crate::reckon::stand_up::Raised;
use crate::units::Length;

pub fn feet(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Unit", 18.0, Align::Left),
        ("Left edge at", 22.0, Align::Left),
        ("Back feet, left to right", 48.0, Align::Left),
        ("Front feet, left to right", 48.0, Align::Left),
        ("Feet in all", 17.0, Align::Right),
        ("Fitted", 15.0, Align::Left),
        ("Set", 11.0, Align::Middle),
    ]);
    for (r, (run, placed)) in ctx.runs().enumerate() {
        let range = run
            .foot
            .and_then(|at| ctx.job.hardware.get(at.0))
            .and_then(|h| h.range);
        let mut titled = false;
        for (u, (unit, put)) in ctx.units(run, placed).enumerate() {
            if put.feet.is_empty() {
                continue;
            }
            if !titled {
                titled = true;
                let title = ctx.run_title(run);
                table.group(match range {
                    Some((low, high)) => {
                        format!("{title}; feet adjust from {low} to {high}")
                    }
                    None => title,
                });
            }
            let (back, front) = back_and_front(&put.feet);
            table.row([
                unit.id.clone(),
                put.left.to_string(),
                back,
                front,
                put.feet.len().to_string(),
                fitted(ctx, r, u).to_owned(),
                super::hardware::TICK.to_owned(),
            ]);
            let old = Before::of(ctx, "unit", &unit.id).lengths("feet");
            // Feet that were others in number stood elsewhere: then only their number is told.
            if let Some(old) = old {
                let same = old.len() == put.feet.len();
                let feet = put.feet.iter().zip(&old);
                let feet: Vec<Foot> = feet.map(|(f, h)| Foot { height: *h, ..*f }).collect();
                let (back, front) = back_and_front(&feet);
                table.was([
                    None,
                    None,
                    same.then_some(back),
                    same.then_some(front),
                    Some(old.len().to_string()),
                ]);
            }
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(format!(
                "From the carcass's underside to the floor there, as surveyed. Left edges are from the wall's left corner. The feet's middles are {FROM_SIDE} from \
                 the carcass's sides and {FROM_FACE} from its back and its front, unless a notch is in the way. Set each foot before the unit is \
                 stood up; where the last column says “after”, the unit is raised with its feet off: set them \
                 ready, and fit them once it stands. Then level to the datum."
            )),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// Before or after the unit is raised.
fn fitted(ctx: &Context, run: usize, unit: usize) -> &'static str {
    let handling = ctx.reckoned.handling.get(run).and_then(|h| h.get(unit));
    match handling.and_then(|h| h.stand_up).map(|s| s.raised) {
        Some(Raised::OnFeet) | None => "before",
        Some(Raised::FeetAfter | Raised::Eased { .. } | Raised::InPlace { .. }) => "after",
    }
}

fn back_and_front(feet: &[Foot]) -> (String, String) {
    match rows(feet).as_slice() {
        [] => (String::new(), String::new()),
        [one] => (words::NOTHING.to_owned(), one.clone()),
        [back, middle @ .., front] => {
            let back = std::iter::once(back).chain(middle);
            (
                back.cloned().collect::<Vec<_>>().join("; then "),
                front.clone(),
            )
        }
    }
}

/// One text for each line of feet along the wall, from the wall outwards.
pub fn rows(feet: &[Foot]) -> Vec<String> {
    let mut lines: BTreeMap<Length, Vec<&Foot>> = BTreeMap::new();
    for foot in feet {
        lines.entry(foot.y).or_default().push(foot);
    }
    let texts = lines.into_values().map(|mut line| {
        line.sort_by_key(|foot| foot.x);
        line.iter()
            .map(|foot| foot.height.to_string())
            .collect::<Vec<_>>()
            .join(" \u{b7} ")
    });
    texts.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Handbook §1 (W): floor at 0, −4, −11 mm, a 100 mm foot at the highest point → 100, 104, 111.
    #[test]
    fn feet_are_told_from_the_wall_outwards_and_left_to_right() {
        let foot = |x, y, height| Foot {
            x: Length::mm(x),
            y: Length::mm(y),
            height: Length::mm(height),
        };
        let feet = [
            foot(900, 500, 111),
            foot(50, 60, 100),
            foot(475, 500, 104),
            foot(900, 60, 111),
            foot(50, 500, 100),
        ];
        assert_eq!(rows(&feet), ["100 \u{b7} 111", "100 \u{b7} 104 \u{b7} 111"]);
    }
}
