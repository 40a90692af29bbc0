//! Fronts that stand open before a doorway, and how much of it they leave. Knows doorways and places; must
//! not judge whether that matters.

use super::Thing;
use super::alone::{Strike, reach};
use super::movers::{Motion, Mover};
use crate::reckon::outline::common;
use crate::reckon::placed::{PlanPoint, Reckoned};
use crate::reckon::plan::Quad;
use crate::resolve::job::Job;

/// So far out of a doorway, about as much as a body is wide, whatever stands is in the way of somebody who
/// walks through, mm; and less of its width than that is not missed, mm (both common practice, no source).
const BEFORE: f64 = 500.0;
const MISSED: f64 = 50.0;

/// One doorway, and what stands open before it.
#[derive(Clone, Debug)]
pub struct Across {
    pub doorway: Thing,
    pub width: f64,
    /// Movers by index, each with how much of the width it covers.
    pub by: Vec<(usize, f64)>,
    /// The widest stretch that stays free while they all stand open.
    pub free: f64,
    pub areas: Vec<Vec<PlanPoint>>,
}

pub fn across(
    job: &Job,
    reckoned: &Reckoned,
    room: usize,
    movers: &[Mover],
    alone: &[Vec<Strike>],
) -> Vec<Across> {
    let mut out = Vec::new();
    let (Some(made), Some(placed)) = (job.rooms.get(room), reckoned.rooms.get(room)) else {
        return out;
    };
    for (w, (wall, at)) in made.walls.iter().zip(&placed.walls).enumerate() {
        for (d, door) in wall.doors.iter().enumerate() {
            // Walls as surveyed rarely close: what is surveyed stands as far from the corner it is nearer to as
            // its figures and its elevation say.
            let nearer_end = door.at + door.width.half() > wall.length.half();
            let next = placed.walls.get((w + 1) % placed.walls.len().max(1));
            let shift = match (nearer_end, next) {
                (true, Some(next)) => {
                    let end = at.at(wall.length.in_mm(), 0.0);
                    (next.start.x - end.x) * at.along.x + (next.start.y - end.y) * at.along.y
                }
                _ => 0.0,
            };
            let from = door.at.in_mm() + shift;
            let to = from + door.width.in_mm();
            let before: Quad = [
                at.at(from, 0.0),
                at.at(to, 0.0),
                at.at(to, BEFORE),
                at.at(from, BEFORE),
            ];
            let mut one = Across {
                doorway: Thing::RoomDoor(room, w, d),
                width: to - from,
                by: Vec::new(),
                free: to - from,
                areas: Vec::new(),
            };
            let mut taken: Vec<(f64, f64)> = Vec::new();
            for (m, (mover, strikes)) in movers.iter().zip(alone).enumerate() {
                let lift = matches!(mover.motion, Motion::Lift { .. });
                if lift || !matches!(mover.what, Thing::Front(_)) {
                    continue;
                }
                let open = mover.open_at(reach(mover, strikes));
                let level = open.iter().filter(|p| p.low < door.height.in_mm());
                let met: Vec<Vec<PlanPoint>> = level
                    .map(|p| common(&p.quad, &before))
                    .filter(|met| !met.is_empty())
                    .collect();
                let along = met
                    .iter()
                    .flatten()
                    .map(|p| (p.x - at.start.x) * at.along.x + (p.y - at.start.y) * at.along.y);
                let ends = along.fold((f64::INFINITY, f64::NEG_INFINITY), |e, x| {
                    (e.0.min(x), e.1.max(x))
                });
                if ends.1 - ends.0 >= MISSED {
                    one.by.push((m, ends.1 - ends.0));
                    taken.push(ends);
                    one.areas.extend(met.into_iter().next());
                }
            }
            one.free = widest((from, to), taken);
            if !one.by.is_empty() {
                out.push(one);
            }
        }
    }
    out
}

/// The widest stretch between what is taken.
fn widest((from, to): (f64, f64), mut taken: Vec<(f64, f64)>) -> f64 {
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut widest, mut free_from) = (0.0_f64, from);
    for (start, end) in taken.into_iter().chain([(to, to)]) {
        widest = widest.max(start - free_from);
        free_from = free_from.max(end);
    }
    widest
}
