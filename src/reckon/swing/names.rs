//! What a thing is called in a finding. Knows ids, names and numbers; must not know geometry.

use super::Thing;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{FrontKind, Job, Unit};

pub fn unit(unit: &Unit) -> String {
    match unit.name.is_empty() || unit.name == unit.id {
        true => format!("“{}”", unit.id),
        false => format!("{} “{}”", unit.id, unit.name),
    }
}

pub fn unit_at(job: &Job, run: usize, number: usize) -> String {
    let found = job.runs.get(run).and_then(|r| r.units.get(number));
    found.map(unit).unwrap_or_default()
}

/// `door`, `drawer` or `flap`.
pub fn kind(kind: FrontKind) -> &'static str {
    match kind {
        FrontKind::Door => "door",
        FrontKind::Drawer => "drawer",
        FrontKind::Flap => "flap",
        FrontKind::Fixed | FrontKind::Open => "front",
    }
}

/// As the middle of a sentence says it.
pub fn thing(job: &Job, reckoned: &Reckoned, what: Thing) -> String {
    let wall = |room: usize, wall: usize| job.rooms.get(room).and_then(|r| r.walls.get(wall));
    let said = match what {
        Thing::Wall(r, w) => wall(r, w).map(|w| format!("wall {}", w.id)),
        Thing::Ceiling => Some("the ceiling or what hangs from it".into()),
        Thing::Slope(..) => Some("the sloping ceiling".into()),
        Thing::Bulkhead(r, w, i) => wall(r, w)
            .and_then(|w| w.bulkheads.get(i))
            .map(|b| format!("the {}", b.what)),
        Thing::Obstruction(r, w, i) => wall(r, w)
            .and_then(|w| w.obstructions.get(i))
            .map(|o| format!("the {}", o.what)),
        Thing::Service(r, w, i) => wall(r, w).and_then(|w| {
            Some(format!(
                "the {} on wall {}",
                w.services.get(i)?.kind.name(),
                w.id
            ))
        }),
        Thing::Unit(r, u) => Some(unit_at(job, r, u)),
        Thing::Handle(f) => reckoned
            .fronts
            .get(f)
            .map(|f| format!("the handle of {} {}", kind(f.kind), f.number)),
        Thing::Front(f) => reckoned
            .fronts
            .get(f)
            .map(|f| format!("{} {}", kind(f.kind), f.number)),
        Thing::Worktop(i) => job.worktops.get(i).map(|w| format!("“{}”", w.name)),
        Thing::Panel(i) => job.panels.get(i).map(|p| format!("“{}”", p.name)),
        Thing::Sliding(i) => job.sliding.get(i).map(|s| format!("“{}”", s.name)),
        Thing::RoomDoor(r, w, d) => wall(r, w).and_then(|w| {
            let door = w.doors.get(d)?;
            Some(match door.leads_to.is_empty() {
                true => format!("the room door in wall {}", w.id),
                false => format!("the room door to “{}”", door.leads_to),
            })
        }),
        Thing::Inner(r, u, _) => Some(format!("the inner drawers of {}", unit_at(job, r, u))),
        Thing::Machine(r, u, b, n) => machine(job, reckoned, (r, u, b, n)),
    };
    said.unwrap_or_default()
}

/// A doorway, with a door in it or without.
pub fn doorway(job: &Job, what: Thing) -> String {
    let Thing::RoomDoor(r, w, d) = what else {
        return String::new();
    };
    let wall = job.rooms.get(r).and_then(|r| r.walls.get(w));
    let Some((wall, door)) = wall.and_then(|w| Some((w, w.doors.get(d)?))) else {
        return String::new();
    };
    match door.leads_to.is_empty() {
        true => format!("the doorway in wall {}", wall.id),
        false => format!("the doorway to “{}”", door.leads_to),
    }
}

/// As short as the plan can say it: ids for names.
pub fn short(job: &Job, reckoned: &Reckoned, what: Thing) -> String {
    let unit = |r: usize, u: usize| job.runs.get(r).and_then(|run| run.units.get(u));
    let said = match what {
        Thing::Unit(r, u) => unit(r, u).map(|u| u.id.clone()),
        Thing::Inner(r, u, _) => unit(r, u).map(|u| format!("inner drawers of {}", u.id)),
        Thing::Machine(r, u, ..) => unit(r, u).map(|u| format!("machine door in {}", u.id)),
        Thing::Worktop(i) => job.worktops.get(i).map(|w| w.id.clone()),
        Thing::Panel(i) => job.panels.get(i).map(|p| p.id.clone()),
        Thing::Sliding(i) => job.sliding.get(i).map(|s| s.id.clone()),
        Thing::RoomDoor(..) => Some("room door".to_string()),
        Thing::Ceiling => Some("the ceiling".to_string()),
        other => Some(thing(job, reckoned, other)),
    };
    said.unwrap_or_default()
}

fn machine(job: &Job, reckoned: &Reckoned, at: (usize, usize, usize, usize)) -> Option<String> {
    let bay = reckoned.runs.get(at.0)?.units.get(at.1)?.bays.get(at.2)?;
    let appliance = job.appliances.get(bay.appliances.get(at.3)?.which.0)?;
    Some(format!("the own door of “{}”", appliance.name))
}
