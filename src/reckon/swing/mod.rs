//! What strikes what when it opens: every front, room door, inner drawer and own door of an
//! appliance against all that stands, and against one another. Knows which are held against which;
//! geometry is in `turn` and `outline`, words in `tell`.

mod alone;
mod movers;
mod names;
mod say;
mod solids;
mod tell;
mod together;
mod turn;

#[cfg(test)]
mod tests;

use super::placed::{Clash, Reckoned};
use crate::resolve::job::Job;

/// Something of a room, by its indices: room and wall first, or run and unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    Wall(usize, usize),
    Ceiling,
    Slope(usize, usize),
    Bulkhead(usize, usize, usize),
    Obstruction(usize, usize, usize),
    Service(usize, usize, usize),
    Unit(usize, usize),
    /// Of the front of that index.
    Handle(usize),
    Worktop(usize),
    Panel(usize),
    Sliding(usize),
    Front(usize),
    RoomDoor(usize, usize, usize),
    /// Inner drawers: run, unit, bay.
    Inner(usize, usize, usize),
    /// An appliance's own door: run, unit, bay, which in it.
    Machine(usize, usize, usize, usize),
}

/// Every clash of the job, numbered room by room: each mover by itself, then two at a time.
pub fn clashes(job: &Job, reckoned: &Reckoned) -> Vec<Clash> {
    let mut out = Vec::new();
    for room in 0..reckoned.rooms.len() {
        let movers = movers::of_room(job, reckoned, room);
        let alone = alone::strikes(job, reckoned, room, &movers);
        let meets = together::meets(&movers, &alone);
        let teller = tell::Teller {
            job,
            reckoned,
            room,
            movers: &movers,
        };
        out.extend(teller.alone(&alone));
        out.extend(teller.together(&meets));
    }
    // Those that a client is told of come first, so that he misses no number.
    let told = |c: &&mut Clash| c.finding.client.is_some();
    let drawn = out.iter_mut().filter(|c| !c.areas.is_empty());
    let (first, then): (Vec<_>, Vec<_>) = drawn.partition(told);
    for (number, clash) in (1..).zip(first.into_iter().chain(then)) {
        clash.number = number;
        let said = format!(" Clash {number} on the plan.");
        clash.finding.text.push_str(&said);
        if let Some(client) = &mut clash.finding.client {
            client.text.push_str(&said);
        }
    }
    out
}
