//! What strikes what when it opens: every front, room door, inner drawer and own door of an
//! appliance against all that stands, and against one another. Knows which are held against which;
//! geometry is in `turn` and `outline`, words in `tell`.

mod alone;
mod doorway;
mod movers;
mod names;
mod say;
mod solids;
mod tell;
mod together;
mod turn;

#[cfg(test)]
mod tests;

use self::movers::Motion;
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

/// What comes of everything that opens.
pub struct Swings {
    /// Room by room: each mover by itself, then two at a time, then what stands open in a doorway.
    pub clashes: Vec<Clash>,
    /// How far each leaf opens by itself, at most as far as is expected of it, rad; `None`: it does
    /// not turn.
    pub opens: Vec<Option<f64>>,
}

pub fn swings(job: &Job, reckoned: &Reckoned) -> Swings {
    let mut clashes = Vec::new();
    let mut opens = vec![None; reckoned.fronts.len()];
    for room in 0..reckoned.rooms.len() {
        let movers = movers::of_room(job, reckoned, room);
        let alone = alone::strikes(job, reckoned, room, &movers);
        let meets = together::meets(&movers, &alone);
        let across = doorway::across(job, reckoned, room, &movers, &alone);
        let teller = tell::Teller {
            job,
            reckoned,
            room,
            movers: &movers,
        };
        clashes.extend(teller.alone(&alone));
        clashes.extend(teller.together(&meets));
        clashes.extend(teller.across(&across));
        for (mover, strikes) in movers.iter().zip(&alone) {
            if let (Thing::Front(f), Motion::Turn { .. }) = (mover.what, mover.motion)
                && let Some(angle) = opens.get_mut(f)
            {
                *angle = Some(alone::reach(mover, strikes));
            }
        }
    }
    for clash in clashes.iter_mut().filter(|c| c.is_drawn()) {
        clash.finding.text.push_str(DRAWN);
    }
    Swings { clashes, opens }
}

/// Said in lists: a client's pack says it of a risk as a whole.
const DRAWN: &str = " The plan shows where.";
