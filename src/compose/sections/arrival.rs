//! What the fitter checks before unloading: surveyed figures with room for measured ones. Every figure is
//! the survey's or the reckoning's; none is worked out here.

use std::collections::BTreeMap;

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::hardware::TICK;
use crate::compare::record::Fact;
use crate::compare::takes;
use crate::reckon::placed::{OpeningAt, PlacedRun};
use crate::reckon::walls;
use crate::resolve::job::{Room, Turn, Wall, WallRef};
use crate::units::Length;

pub fn arrival(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("", 8.0, Align::Middle),
        ("Measure", 66.0, Align::Left),
        ("Where", 52.0, Align::Left),
        ("Should be", 23.0, Align::Right),
        ("Measured", 28.0, Align::Left),
    ])
    .tall(6.5);
    way_in(ctx, &mut table);
    others(ctx, &mut table);
    rooms(ctx, &mut table);
    runs(ctx, &mut table);
    if !table.has_rows() {
        return Vec::new();
    }
    vec![
        Block::paragraph(
            "Before unloading, check these against the drawings and write down what you measure. If an \
             opening is smaller than it should be, or anything differs by more than the scribes can take, \
             stop and ask before a wrapping is opened.",
        ),
        Block::Table(table),
    ]
}

fn rooms(ctx: &Context, table: &mut Table) {
    for (room, placed) in ctx.job.rooms.iter().zip(&ctx.reckoned.rooms) {
        table.group(match room.surveyed {
            Some(day) => format!("{}, surveyed {}", room.name, words::date(day)),
            None => format!("{}, day of survey not given", room.name),
        });
        let mut line = |what: &str, place: &str, value: String, was: Option<String>| {
            table.row([TICK, what, place, &value, ""]);
            table.was([None, None, None, was]);
        };
        // A wall of one point was not surveyed along its length: others come before it.
        let points = || {
            room.walls
                .iter()
                .flat_map(|w| w.floor.iter().map(move |p| (w, p)))
        };
        let place = |wall: &Wall, x: Length| format!("wall {}, {x} from its left corner", wall.id);
        let highest = points().max_by_key(|(w, p)| (p.1, w.floor.len() > 1));
        if let Some((wall, (x, _))) = highest {
            line(
                "Highest floor point: finished floor",
                &place(wall, *x),
                "0".to_owned(),
                None,
            );
        }
        let lowest = points().min_by_key(|(w, p)| (p.1, w.floor.len() <= 1));
        if let Some((wall, (x, z))) = lowest.filter(|(_, p)| p.1 < Length::ZERO) {
            let old = Before::of(ctx, "wall", &format!("{}.{}", room.id, wall.id));
            let was = old.lists("floor").and_then(|points| {
                let here = points.into_iter().find_map(|point| match point {
                    [Fact::Um(at), Fact::Um(z)] if Length::um(*at) == *x => Some(*z),
                    _ => None,
                });
                here.map(|z| Length::um(z).to_string())
            });
            line("Lowest floor point", &place(wall, *x), z.to_string(), was);
        }
        let datum = ctx.job.info.datum;
        let was = Before::of(ctx, "job", "job").length("datum", datum);
        line(
            "Datum marked, above the highest floor point",
            "all walls",
            datum.to_string(),
            Some(was.to_string()),
        );
        for (n, check) in (1..).zip(&placed.diagonals) {
            let corner = |i: usize| room.walls.get(i).map_or(words::NOTHING, |w| w.id.as_str());
            let place = format!(
                "left corner of wall {} to that of wall {}",
                corner(check.from),
                corner(check.to)
            );
            let own = format!("{}/{n}", room.id);
            let was = Before::of(ctx, "diagonal", &own).length("length", check.measured);
            line(
                "Diagonal",
                &place,
                check.measured.to_string(),
                Some(was.to_string()),
            );
        }
        in_walls(room, table);
    }
}

/// Work of others that ours waits for.
fn others(ctx: &Context, table: &mut Table) {
    let all = ctx.job.by_others.iter();
    for (n, item) in all.filter(|o| o.turn == Turn::Before).enumerate() {
        if n == 0 {
            table.group("Done by others before");
        }
        let what = words::sentence(&item.what);
        let who = words::or_nothing(&item.who);
        table.row([TICK, what.trim_end_matches('.'), who, "done", ""]);
    }
}

/// What stands in and at the walls of a room where units are made to fit it: services and obstructions.
fn in_walls(room: &Room, table: &mut Table) {
    for wall in &room.walls {
        for service in &wall.services {
            let name = words::sentence(service.kind.name());
            let name = name.trim_end_matches('.');
            let what = match service.was {
                Some(_) => format!("{name}, moved here"),
                None => name.to_owned(),
            };
            let place = format!(
                "wall {}: {} along, {} up",
                wall.id, service.at, service.height
            );
            table.row([TICK, &what, &place, "there", ""]);
        }
        for thing in &wall.obstructions {
            let place = format!("wall {}: {} to {} along", wall.id, thing.from, thing.to);
            let what = words::sentence(&thing.what);
            let what = format!("{}, out from the wall", what.trim_end_matches('.'));
            table.row([TICK, &what, &place, &thing.out.to_string(), ""]);
        }
    }
}

fn runs(ctx: &Context, table: &mut Table) {
    // Each wall's linings once, under the first run that they set the opening of.
    let mut lined: Vec<WallRef> = Vec::new();
    let mut measured: Vec<(WallRef, Length, Length)> = Vec::new();
    for (run, placed) in ctx.runs() {
        table.group(format!(
            "{} (wall {})",
            ctx.run_title(run),
            ctx.wall_of(run.wall)
                .map_or(words::NOTHING, |w| w.id.as_str())
        ));
        let old = Before::of(ctx, "run", &run.id);
        let mut line = |what: &str, place: &str, value: String, was: Option<String>| {
            table.row([TICK, what, place, &value, ""]);
            table.was([None, None, None, was]);
        };
        let long = |placed: &PlacedRun| {
            let right = old.length("right end", placed.right);
            words::to_half(right - old.length("left end", placed.left))
        };
        let stacked = run.units.iter().all(|u| u.over.is_some());
        if run.from.is_some() && run.to.is_some() {
            // It stands free of both corners: there is no opening to find.
            let length = placed.right - placed.left;
            line(
                "Length of the run, set out on the wall",
                "at the floor",
                words::to_half(length),
                Some(long(placed)),
            );
        } else {
            // Above the run it stands on; whatever stands on the floor needs all of it.
            let from = placed
                .units
                .iter()
                .map(|u| u.base)
                .min()
                .filter(|_| stacked);
            let mut opening = placed.opening.clone();
            opening.retain(|o| from.is_none_or(|from| o.z >= from));
            let narrowest = opening.iter().map(|o| o.width()).min();
            // Of two runs over one another each height is measured once.
            let here = |o: &OpeningAt| (run.wall, o.z, o.width());
            opening.retain(|o| !(stacked && measured.contains(&here(o))));
            measured.extend(opening.iter().map(here));
            let least = placed.right - placed.left;
            if narrowest.is_some_and(|width| least < width) {
                line(
                    "Opening between plumb lines, as the drawings have it",
                    "the furthest in on each side",
                    words::to_half(least),
                    Some(long(placed)),
                );
            }
            let before: Vec<OpeningAt> = old.lists(takes::OPENING).map_or_else(Vec::new, |all| {
                let one = |cells: &[Fact]| match cells {
                    [Fact::Um(z), Fact::Um(left), Fact::Um(right)] => Some(OpeningAt {
                        z: Length::um(*z),
                        left: Length::um(*left),
                        right: Length::um(*right),
                    }),
                    _ => None,
                };
                all.into_iter().filter_map(one).collect()
            });
            for (z, place, width) in openings(&opening) {
                let was = before.iter().find(|o| o.z == z);
                let was = was.map(|o| words::to_half(o.width()));
                let what = match (run.from, run.to) {
                    (None, None) => "Opening, clear, linings in place",
                    _ => "Length, from the run's free end to the lined wall",
                };
                line(what, &place, width, was);
            }
        }
        let fall = placed.fall;
        if fall > Length::ZERO && !stacked {
            line(
                "Fall of the floor under the run",
                "whole length",
                words::to_half(fall),
                old.has_changed(&["highest floor", "lowest floor"])
                    .then(|| {
                        words::to_half(
                            old.length("highest floor", placed.floor_high)
                                - old.length("lowest floor", placed.floor_low),
                        )
                    }),
            );
        }
        line(
            "Lowest ceiling over the run",
            "from finished floor",
            words::to_half(placed.ceiling_low),
            Some(words::to_half(
                old.length("lowest ceiling", placed.ceiling_low),
            )),
        );
        for at in walls::setting(&ctx.job.rooms, run) {
            if lined.contains(&at) {
                continue;
            }
            lined.push(at);
            let wall = ctx.job.wall(at);
            let mut turns: BTreeMap<&str, usize> = BTreeMap::new();
            for lining in &wall.linings {
                let place = format!("wall {}: {}", wall.id, lining.what);
                let turn = turns.entry(&lining.what).or_default();
                *turn += 1;
                let own = format!("{}/{}", ctx.job.wall_id(at), lining.what);
                let was = Before::told_by(ctx, "lining", &own, *turn);
                let was = was.length("thickness", lining.thickness);
                line(
                    "Lining done, and its thickness",
                    &place,
                    lining.thickness.to_string(),
                    Some(was.to_string()),
                );
                if lining.wet {
                    line(
                        "Damp in it, and in the air: write down both",
                        &place,
                        "dry".to_owned(),
                        None,
                    );
                }
            }
        }
    }
}

/// The openings on the way in: the pieces were held against these.
fn way_in(ctx: &Context, table: &mut Table) {
    if !ctx.job.way_in.is_empty() {
        table.group("The way in, clear widths and heights");
    }
    for obstacle in &ctx.job.way_in {
        let name = match obstacle.what.trim() {
            "" => words::obstacle(obstacle.kind),
            what => what,
        };
        let after = obstacle.width_after.map(|w| format!(", then {w}"));
        let wide = format!("{}{}", obstacle.width, after.unwrap_or_default());
        let what = words::sentence(name);
        let what = what.trim_end_matches('.');
        let value = format!("{wide} \u{d7} {}", obstacle.height);
        table.row([TICK, what, "width \u{d7} height", &value, ""]);
    }
}

/// Where and how wide, from the floor up: one line for heights that read the same.
fn openings(all: &[OpeningAt]) -> Vec<(Length, String, String)> {
    let mut lines: Vec<(Length, Length, String)> = Vec::new();
    for opening in all {
        let width = words::to_half(opening.width());
        match lines.last_mut() {
            Some((_, to, same)) if *same == width => *to = opening.z,
            _ => lines.push((opening.z, opening.z, width)),
        }
    }
    let place = |from: Length, to: Length| match from == to {
        true => format!("at height {from}"),
        false => format!("at heights {from} to {to}"),
    };
    lines
        .into_iter()
        .map(|(from, to, width)| (from, place(from, to), width))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_of_one_opening_are_one_line() {
        let at = |z, right| OpeningAt {
            z: Length::mm(z),
            left: Length::mm(15),
            right: Length::um(right),
        };
        let all = [at(0, 1_000_000), at(90, 1_000_100), at(2400, 991_300)];
        let lines = openings(&all);
        assert_eq!(
            lines[0],
            (
                Length::ZERO,
                "at heights 0 to 90".to_owned(),
                "985".to_owned()
            )
        );
        let (_, place, width) = &lines[1];
        assert_eq!(
            (place.as_str(), width.as_str()),
            ("at height 2400", "976.5")
        );
        assert_eq!(lines.len(), 2);
    }
}
