//! Services in the way of a unit: bulky ones, a radiator say, inside it; points, a socket say, behind one
//! of its sides. Knows boxes and half widths of plates; must not know what is connected to what.

use super::finding;
use crate::reckon::placed::{Finding, PlacedUnit, Reckoned, Severity};
use crate::resolve::job::{Job, ServiceKind, Subject};
use crate::units::Length;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            for service in &job.wall(run.wall).services {
                let (left, right) = (service.at, service.at + service.width);
                // A light hangs or stands where it is said to be; all else reaches from the wall.
                let near = match service.kind {
                    ServiceKind::Light => service.out - service.width,
                    _ => Length::ZERO,
                };
                let (bottom, top) = (service.height, service.height + service.tall);
                let inside = left < at.right
                    && right > at.left
                    && bottom < at.top
                    && top > at.base
                    && service.out > placed.y_back
                    && near < placed.y_back + at.depth;
                if !inside {
                    continue;
                }
                let text = format!(
                    "A {}, {} mm out of the wall, is inside “{}”, whose back is {} mm from it.",
                    word(service.kind),
                    service.out,
                    unit.name,
                    placed.y_back
                );
                found.push(
                    finding(
                        ("service-inside-unit", Severity::Warns),
                        Subject::Unit(r, u),
                        unit.place,
                        text,
                    )
                    .against("the survey")
                    .advise(
                        "Have it moved by whoever is licensed to, or keep the unit clear of it: \
                         heat, water and access matter.",
                    )
                    .for_client(
                        format!("A {} is inside “{}”.", word(service.kind), unit.name),
                        "Have it moved by somebody licensed, or let us keep the unit clear of it.",
                    ),
                );
            }
        }
    }
}

/// Half of what must stay free round a point: outlets have plates 86 mm wide (common practice, no
/// source), pipes a collar.
fn half(kind: ServiceKind) -> Option<Length> {
    match kind {
        ServiceKind::Socket | ServiceKind::Switch | ServiceKind::Data => Some(Length::mm(43)),
        ServiceKind::Water | ServiceKind::Waste | ServiceKind::Gas => Some(Length::mm(25)),
        ServiceKind::Light | ServiceKind::Radiator | ServiceKind::Vent | ServiceKind::Other => None,
    }
}

/// Points that a side of a unit, or the joint of two, covers.
pub fn behind_sides(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for service in &job.wall(run.wall).services {
            let Some(half) = half(service.kind).filter(|_| service.width == Length::ZERO) else {
                continue;
            };
            let (left, right) = (service.at - half, service.at + half);
            let covers = |at: &&PlacedUnit| {
                at.left < right
                    && left < at.right
                    && at.base < service.height
                    && service.height < at.top
            };
            let units = placed.units.iter().filter(covers);
            let mut bays = units.clone().flat_map(|u| &u.bays);
            let clear = bays.any(|b| b.left <= left && right <= b.right);
            let named: Vec<(usize, &str)> = run
                .units
                .iter()
                .zip(&placed.units)
                .enumerate()
                .filter(|(_, (_, at))| covers(at))
                .map(|(u, (unit, _))| (u, unit.id.as_str()))
                .collect();
            let Some((first, _)) = named.first().filter(|_| !clear) else {
                continue;
            };
            let ids: Vec<&str> = named.iter().map(|(_, id)| *id).collect();
            let place = run.units.get(*first).map_or(run.place, |u| u.place);
            let text = format!(
                "The {} {} along wall {}, {} up, is behind a side of {}: {} mm to each side of it must be free.",
                word(service.kind),
                service.at,
                job.wall(run.wall).id,
                service.height,
                super::names(&ids),
                half
            );
            found.push(
                finding(
                    ("service-behind-side", Severity::Warns),
                    Subject::Unit(r, *first),
                    place,
                    text,
                )
                .against("the survey; half of a plate or collar: common practice, no source")
                .advise(
                    "Have it moved by whoever is licensed to (`moved_to` says where it will be), or \
                     change the widths of the units.",
                ),
            );
        }
    }
}

fn word(kind: ServiceKind) -> &'static str {
    match kind {
        ServiceKind::Socket => "socket",
        ServiceKind::Switch => "switch",
        ServiceKind::Light => "light",
        ServiceKind::Water => "water pipe",
        ServiceKind::Waste => "waste pipe",
        ServiceKind::Gas => "gas pipe",
        ServiceKind::Radiator => "radiator",
        ServiceKind::Vent => "vent",
        ServiceKind::Data => "data outlet",
        ServiceKind::Other => "service",
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{Service, ServiceKind};
    use crate::units::Length;

    // By hand: one unit over a wall of 3000, its sides 18 thick: a plate of 86 is clear of them from
    // 61 to 2939.
    #[test]
    fn a_socket_behind_a_side() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut at = |along, height| {
            job.rooms[0].walls[0].services = vec![Service {
                kind: ServiceKind::Socket,
                was: None,
                at: Length::mm(along),
                height: Length::mm(height),
                width: Length::ZERO,
                tall: Length::ZERO,
                out: Length::ZERO,
                note: String::new(),
            }];
            found(&job, "service-behind-side").len()
        };
        assert_eq!(
            (at(60, 450), at(61, 450), at(2939, 450), at(2940, 450)),
            (1, 0, 0, 1)
        );
        // Under the unit, in the plinth, it is in no side's way.
        assert_eq!(at(10, 45), 0);
    }

    #[test]
    fn a_radiator_behind_a_unit() {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].walls[0].services = vec![Service {
            kind: ServiceKind::Radiator,
            was: None,
            at: Length::mm(1500),
            height: Length::mm(150),
            width: Length::mm(700),
            tall: Length::mm(450),
            out: Length::mm(110),
            note: String::new(),
        }];
        job.runs = vec![fixture::run(1)];
        assert_eq!(found(&job, "service-inside-unit").len(), 1);
        job.runs[0].off_wall = Length::mm(120);
        assert_eq!(found(&job, "service-inside-unit").len(), 0);
    }
}
