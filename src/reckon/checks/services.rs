//! Services in the way of a unit: bulky ones, a radiator say, inside it; points, a socket say, behind one
//! of its sides. Knows boxes and half widths of plates; must not know what is connected to what.

use super::finding;
use crate::reckon::feet::PAD;
use crate::reckon::placed::{Finding, PlacedUnit, Reckoned, Severity};
use crate::reckon::points;
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

/// Points that a side of a unit, or the joint of two, covers.
pub fn behind_sides(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for service in &job.wall(run.wall).services {
            let Some(half) = points::half(service) else {
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

/// Before a point under a unit, for a plug or a bend, and so no foot (common practice, no source).
const BEFORE: Length = Length::mm(100);

/// Points under a unit where one of its feet stands.
pub fn at_feet(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let wall = job.wall(run.wall);
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            for service in &wall.services {
                let Some(half) = points::half(service).filter(|_| service.height < at.base) else {
                    continue;
                };
                let near = wall.lining_thickness() + service.out + BEFORE;
                let foot = at.feet.iter().position(|f| {
                    f.y - PAD < near
                        && f.x - PAD < service.at + half
                        && f.x + PAD > service.at - half
                });
                let Some((foot, n)) = foot.and_then(|n| Some((at.feet.get(n)?, n))) else {
                    continue;
                };
                let text = format!(
                    "Foot {} of {}, counted from the back left, stands {} along wall {}, before the {} at {}, {} up.",
                    n + 1,
                    unit.id,
                    foot.x,
                    wall.id,
                    word(service.kind),
                    service.at,
                    service.height
                );
                found.push(
                    finding(
                        ("service-at-foot", Severity::Warns),
                        Subject::Unit(r, u),
                        unit.place,
                        text,
                    )
                    .against(
                        "30 mm round a foot's middle, half of a plate or collar, and 100 mm before it for a plug or a \
                         bend (common practice, no source)",
                    )
                    .advise(
                        "Have it moved along the wall by whoever is licensed to (`moved_to` says where it will be): \
                         a foot cannot stand on it.",
                    ),
                );
            }
        }
    }
}

/// Points behind the appliances of a unit.
pub fn behind_machines(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let wall = job.wall(run.wall);
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let mut said: Vec<String> = Vec::new();
            for machine in at.bays.iter().flat_map(|b| &b.appliances) {
                let behind = wall.services.iter().filter(|s| {
                    points::half(s).is_some()
                        && s.at > machine.left
                        && s.at < machine.right
                        && s.height > machine.bottom
                        && s.height < machine.top
                });
                let made = job.appliances.get(machine.which.0);
                let name = made.map_or("", |a| a.name.as_str());
                said.extend(behind.map(|s| {
                    format!(
                        "the {} at {}, {} up (“{name}”)",
                        word(s.kind),
                        s.at,
                        s.height
                    )
                }));
            }
            if said.is_empty() {
                continue;
            }
            let said: Vec<&str> = said.iter().map(String::as_str).collect();
            let text = format!(
                "Behind appliances in {}, not reached unless these are pulled out: {}.",
                unit.id,
                super::names(&said)
            );
            found.push(
                finding(
                    ("service-behind-appliance", Severity::Informs),
                    Subject::Unit(r, u),
                    unit.place,
                    text,
                )
                .against("the survey, and where the appliances stand")
                .advise(
                    "Have any valve or plug that must be reached put beside or above by whoever is licensed to; makers \
                     and local codes may ask for it.",
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
    use crate::resolve::job::{Appliance, ApplianceRef, Service, ServiceKind};
    use crate::units::Length;

    // By hand: one unit over a wall of 3000, its sides 18 thick: a plate of 86 is clear of them from
    // 61 to 2939.
    #[test]
    fn a_socket_behind_a_side() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut at = |along, height| {
            job.rooms[0].walls[0].services = vec![socket(along, height)];
            found(&job, "service-behind-side").len()
        };
        assert_eq!(
            (at(60, 450), at(61, 450), at(2939, 450), at(2940, 450)),
            (1, 0, 0, 1)
        );
        // Under the unit, in the plinth, it is in no side's way.
        assert_eq!(at(10, 45), 0);
    }

    fn socket(along: i64, height: i64) -> Service {
        fixture::service(ServiceKind::Socket, along, height)
    }

    // By hand: an appliance of 596 × 850 in a bay 664 wide on a bottom at 118: wherever it stands in the bay
    // it covers 350 along and 600 up, and neither 1200 up nor 20 along, behind the unit's side.
    #[test]
    fn a_socket_behind_an_appliance() {
        let mut job = fixture::job([700, 3000, 700, 3000]);
        job.runs = vec![fixture::run(1)];
        job.appliances = vec![Appliance {
            key: "machine".into(),
            name: "Machine".into(),
            width: Length::mm(596),
            height: Length::mm(850),
            depth: Length::mm(560),
            supplied: String::new(),
            needs: vec![],
            mass: None,
            opens: None,
            reach: None,
            goes_in: crate::resolve::job::GoesIn::BeforeFronts,
        }];
        job.runs[0].units[0].bays[0].appliances = vec![ApplianceRef(0)];
        let mut at = |along, height| {
            job.rooms[0].walls[0].services = vec![socket(along, height)];
            found(&job, "service-behind-appliance").len()
        };
        assert_eq!((at(350, 600), at(350, 1200), at(20, 600)), (1, 0, 0));
    }

    // By hand: feet 50 from the sides of a unit from 0 to 3000, so at 2950; with 30 round it and 43 of
    // the plate a socket is clear of it up to 2877. Above the underside there is no foot; nor is there one
    // near the wall where the run stands 100 off it.
    #[test]
    fn a_socket_where_a_foot_stands() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut at = |along, height, off| {
            job.rooms[0].walls[0].services = vec![socket(along, height)];
            job.runs[0].off_wall = Length::mm(off);
            found(&job, "service-at-foot").len()
        };
        assert_eq!((at(2878, 45, 0), at(2877, 45, 0)), (1, 0));
        assert_eq!((at(2950, 450, 0), at(2950, 45, 100)), (0, 0));
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
