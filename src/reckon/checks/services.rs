//! Bulky services, a radiator say, inside a unit. Knows boxes; points such as sockets are the
//! drawings' business.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
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

    #[test]
    fn a_radiator_behind_a_unit() {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].walls[0].services = vec![Service {
            kind: ServiceKind::Radiator,
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
