//! Rooms of the job: survey points put in order of trust and heights moved to finished floor. Knows
//! what a survey must say to mean something; must not give a wall its place on plan.

use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::read::project as raw;
use crate::read::table::At;
use crate::read::words::Opens;
use crate::units::{Angle, Length};

use super::fill::list;
use super::job::*;
use super::names::Names;

pub fn rooms(names: &Names<'_>, diags: &mut Diagnostics) -> Vec<Room> {
    list(&names.project.room)
        .iter()
        .enumerate()
        .map(|(n, room)| one(n, room, names, diags))
        .collect()
}

fn one(n: usize, room: &raw::Room, names: &Names<'_>, diags: &mut Diagnostics) -> Room {
    let walls = list(&room.wall);
    check_outline(room, walls, diags);
    // Finished floor: the highest floor point of the room.
    let zero = walls
        .iter()
        .flat_map(|w| list(&w.floor))
        .map(|(_, level)| *level)
        .max()
        .unwrap_or(Length::ZERO);
    Room {
        id: room.id().value.0,
        name: text(&room.name),
        ceiling: room.ceiling().value - zero,
        temperature: room.temperature().value,
        humidity: room.humidity().value,
        surveyed: room.surveyed.as_ref().map(|at| at.value),
        closed: room.closed().value,
        walls: walls.iter().map(|w| wall(w, zero, diags)).collect(),
        diagonals: list(&room.diagonals)
            .iter()
            .map(|d| Diagonal {
                from: names.wall_in(n, &d.from(), diags),
                to: names.wall_in(n, &d.to(), diags),
                length: d.length().value,
                place: d.place,
            })
            .collect(),
        slopes: list(&room.slope)
            .iter()
            .map(|s| {
                let (low, high) = (s.low().value, s.high.as_ref().map_or(Length::ZERO, |h| h.value));
                if low >= high {
                    diags.push(
                        Diagnostic::new(
                            Code::Contradiction,
                            s.low().place,
                            format!("the slope is as low as {low} at the wall and only {high} away from it"),
                        )
                        .label("must be lower than `high`")
                        .help("`low` is its height at the wall, `high` where the flat ceiling begins"),
                    );
                }
                Slope {
                    wall: names.wall_in(n, &s.wall(), diags),
                    low: low - zero,
                    high: high - zero,
                    over: s.over().value,
                }
            })
            .collect(),
        place: room.place,
    }
}

fn text(at: &Option<At<String>>) -> String {
    at.as_ref().map(|a| a.value.clone()).unwrap_or_default()
}

fn check_outline(room: &raw::Room, walls: &[raw::Wall], diags: &mut Diagnostics) {
    let mut id = room.id();
    if !id.written() {
        id.place = room
            .place
            .0
            .map_or(Place::NOWHERE, |(from, _)| Place::span(from, from + 1));
    }
    if walls.is_empty() {
        diags.push(
            Diagnostic::new(
                Code::MissingKey,
                id.place,
                format!("room `{}` has no wall", id.value.0),
            )
            .label("this room")
            .help("add a `[[room.wall]]` for each wall, clockwise"),
        );
        return;
    }
    if !room.closed().value {
        return;
    }
    let turns = walls
        .iter()
        .fold(Angle::default(), |sum, w| sum + w.turn().value);
    if turns != Angle::deg(360) {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                id.place,
                format!("the walls of room `{}` turn by {turns} degrees in all, not by 360", id.value.0),
            )
            .label("does not come round to where it began")
            .help("each `turn` leads to the next wall: 90 at an inside corner, -90 at an outside one; for part of a room write `closed = false`"),
        );
    }
}

/// Survey points must be in order along the wall.
fn points(
    key: &str,
    at: &Option<At<Vec<raw::Point>>>,
    most: Option<Length>,
    diags: &mut Diagnostics,
) -> Vec<(Length, Length)> {
    let list = list(at).to_vec();
    let place = at.as_ref().map_or(Place::NOWHERE, |a| a.place);
    let in_order = list.windows(2).all(|w| w[0].0 < w[1].0);
    let on_wall = most.is_none_or(|most| list.iter().all(|(x, _)| !x.is_negative() && *x <= most));
    let why = match (in_order, on_wall) {
        _ if list.is_empty() => "has no point",
        (false, _) => "is not in order",
        (_, false) => "has a point beyond the wall's ends",
        _ => return list,
    };
    let first = if most.is_some() {
        "along the wall"
    } else {
        "height"
    };
    diags.push(
        Diagnostic::new(Code::SurveyPoints, place, format!("`{key}` {why}"))
            .label("survey points")
            .help(format!(
                "each point is [{first}, measure], from low to high and none twice"
            )),
    );
    vec![(Length::ZERO, Length::ZERO)]
}

/// The most that a wall's `length` may be.
const LONGEST: Length = Length::mm(60_000);

fn wall(wall: &raw::Wall, zero: Length, diags: &mut Diagnostics) -> Wall {
    // Of no length that can be read: as long as a wall may be, so that nothing follows from it.
    let length = match wall.length().value {
        Length::ZERO => LONGEST,
        length => length,
    };
    let down = |points: Vec<(Length, Length)>| -> Vec<(Length, Length)> {
        points.into_iter().map(|(x, z)| (x, z - zero)).collect()
    };
    let plumb = points("plumb", &wall.plumb, None, diags);
    let doors = list(&wall.door)
        .iter()
        .map(|d| {
            within("door", d.at(), d.width().value, length, diags);
            WallDoor {
                at: d.at().value,
                width: d.width().value,
                height: d.height().value - zero,
                leads_to: d.leads_to().value,
                hinge: d.hinge.as_ref().map(|h| h.value),
                opens_in: d.opens().value == Opens::In,
            }
        })
        .collect();
    let windows = list(&wall.window)
        .iter()
        .map(|w| {
            within("window", w.at(), w.width().value, length, diags);
            Window {
                at: w.at().value,
                width: w.width().value,
                height: w.height().value,
                sill: w.sill().value - zero,
                reveal: w.reveal().value,
            }
        })
        .collect();
    let span = |what: &str, from: At<Length>, to: Length, diags: &mut Diagnostics| {
        if to <= from.value {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    from.place,
                    format!("the {what} ends before it begins"),
                )
                .label("must be less than `to`")
                .help("`from` is its left side and `to` its right, along the wall"),
            );
        }
        within(what, from.clone(), to - from.value, length, diags);
        (from.value, to)
    };
    let bulkheads = list(&wall.bulkhead)
        .iter()
        .map(|b| {
            let from = b.from.clone().unwrap_or_default();
            let to = b.to.as_ref().map_or(length, |t| t.value);
            let (from, to) = span("bulkhead", from, to, diags);
            Bulkhead {
                what: b.what().value,
                from,
                to,
                underside: b.underside().value - zero,
                out: b.out().value,
            }
        })
        .collect();
    let obstructions = list(&wall.obstruction)
        .iter()
        .map(|o| {
            let (from, to) = span("obstruction", o.from(), o.to().value, diags);
            Obstruction {
                what: o.what().value,
                from,
                to,
                bottom: o.bottom().value - zero,
                top: o.top.as_ref().map_or(Length::ZERO, |t| t.value) - zero,
                out: o.out().value,
            }
        })
        .collect();
    let services = list(&wall.service)
        .iter()
        .map(|s| {
            within("service", s.at(), s.width().value, length, diags);
            let (surveyed, moved) = ((s.at().value, s.height().value), s.moved_to.as_ref());
            if let Some(to) = moved {
                let at = At {
                    value: to.value.0,
                    ..s.at()
                };
                within(
                    "moved service",
                    At {
                        place: to.place,
                        ..at
                    },
                    s.width().value,
                    length,
                    diags,
                );
            }
            let (at, height) = moved.map_or(surveyed, |to| to.value);
            Service {
                kind: s.is().value,
                at,
                height: height - zero,
                was: moved.map(|_| (surveyed.0, surveyed.1 - zero)),
                width: s.width().value,
                tall: s.tall().value,
                out: s.out().value,
                note: s.note().value,
            }
        })
        .collect();
    Wall {
        id: wall.id().value.0,
        name: wall.what().value,
        length,
        turn: wall.turn().value,
        floor: down(points("floor", &wall.floor, Some(length), diags)),
        ceiling: down(points("ceiling", &wall.ceiling, Some(length), diags)),
        plumb: plumb
            .into_iter()
            .map(|(z, lean)| (z - zero, lean))
            .collect(),
        linings: list(&wall.lining)
            .iter()
            .map(|l| Lining {
                wet: l.wet().value,
                what: l.what().value,
                thickness: l.thickness().value,
            })
            .collect(),
        doors,
        windows,
        bulkheads,
        obstructions,
        services,
        place: wall.place,
    }
}

fn within(what: &str, at: At<Length>, width: Length, length: Length, diags: &mut Diagnostics) {
    let end = at.value + width;
    if end > length || at.value.is_negative() {
        diags.push(
            Diagnostic::new(
                Code::OffTheWall,
                at.place,
                format!("the {what} reaches to {end} on a wall {length} long"),
            )
            .label(format!("{} too far", end - length))
            .help("measure along this wall from its left corner, seen from inside the room"),
        );
    }
}
