//! Each mover by itself against all that stands in its room. Knows who passes over what; must not
//! know words.

use core::f64::consts::FRAC_PI_2;

use super::Thing;
use super::movers::{self, Motion, Mover};
use super::solids::{self, Solid};
use super::turn::Turn;
use crate::reckon::ceiling::{self, Stretch};
use crate::reckon::outline::{Around, Grid, TOUCH, common};
use crate::reckon::placed::{PlacedFront, PlacedWall, PlanPoint, Reckoned};
use crate::reckon::plan::Quad;
use crate::resolve::job::Job;
use crate::units::Length;

/// What stands in a mover's way, and how far the mover has gone by then, rad or mm.
#[derive(Clone, Debug)]
pub struct Strike {
    pub at: f64,
    pub handle: bool,
    pub what: Thing,
    pub quad: Quad,
}

/// Less than this short of where it should go is nothing: rad, and mm.
pub const SHORT: (f64, f64) = (0.0005, 0.5);

/// For each mover, what it strikes before it has gone as far as it can, nearest first.
pub fn strikes(job: &Job, reckoned: &Reckoned, room: usize, movers: &[Mover]) -> Vec<Vec<Strike>> {
    let solids = solids::of_room(job, reckoned, room);
    let grid = Grid::new(solids.iter().map(|s| Around::of(&s.quad)).collect());
    let sloped = job.rooms.get(room).is_some_and(|r| !r.slopes.is_empty());
    let one = |mover: &Mover| {
        let around = mover.around();
        let near = grid.near(&around);
        let near = near.iter().filter_map(|i| solids.get(*i));
        let mut near: Vec<&Solid> = near
            .filter(|s| !movers::passes_over(mover, s, reckoned))
            .collect();
        let top = mover.parts.iter().map(|p| p.high).fold(0.0, f64::max);
        let slopes = match sloped && !matches!(mover.what, Thing::RoomDoor(..)) {
            true => solids::slopes(job, reckoned, room, top),
            false => Vec::new(),
        };
        near.extend(slopes.iter());
        let mut found: Vec<Strike> = match mover.motion {
            Motion::Lift { full, .. } => lifted(job, reckoned, mover, full, &near),
            Motion::Turn { .. } | Motion::Slide { .. } => near
                .iter()
                .filter_map(|s| {
                    let (at, handle) = mover.struck(&s.quad, s.low, s.high)?;
                    Some(Strike {
                        at,
                        handle,
                        what: s.what,
                        quad: s.quad,
                    })
                })
                .collect(),
        };
        found.retain(|s| s.at < mover.full() - short(mover));
        found.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.what.cmp(&b.what)));
        // A wall in bands, or with openings, is one wall.
        let mut seen: Vec<Thing> = Vec::new();
        found.retain(|s| {
            let new = !seen.contains(&s.what);
            if new {
                seen.push(s.what);
            }
            new
        });
        found
    };
    movers.iter().map(one).collect()
}

pub fn short(mover: &Mover) -> f64 {
    match mover.motion {
        Motion::Turn { .. } | Motion::Lift { .. } => SHORT.0,
        Motion::Slide { .. } => SHORT.1,
    }
}

/// How far a mover goes by itself, at most as far as is expected of it.
pub fn reach(mover: &Mover, strikes: &[Strike]) -> f64 {
    let first = strikes.first().map_or(f64::INFINITY, |s| s.at);
    first.min(mover.wanted())
}

/// A flap in its own section, out of the wall and up: against the ceiling over the way it goes, and
/// what stands before it.
fn lifted(
    job: &Job,
    reckoned: &Reckoned,
    mover: &Mover,
    full: f64,
    near: &[&Solid],
) -> Vec<Strike> {
    let Thing::Front(index) = mover.what else {
        return Vec::new();
    };
    let Some(front) = reckoned.fronts.get(index) else {
        return Vec::new();
    };
    let rooms = reckoned.rooms.get(front.wall.room);
    let Some(wall) = rooms.and_then(|r| r.walls.get(front.wall.wall)) else {
        return Vec::new();
    };
    let flap = Flap::of(front, full);
    let mut out = Vec::new();
    for solid in near {
        if matches!(solid.what, Thing::Bulkhead(..) | Thing::Slope(..)) {
            continue; // `ceiling` counts them in
        }
        let x = (front.left.in_mm(), front.right.in_mm());
        let Some(y) = out_of(wall, x, &solid.quad) else {
            continue;
        };
        let strike = flap.strike(y, (solid.low, solid.high));
        out.extend(strike.map(|(at, handle)| Strike {
            at,
            handle,
            what: solid.what,
            quad: solid.quad,
        }));
    }
    let over = Stretch {
        wall: front.wall,
        left: front.left,
        right: front.right,
        near: front.y_face,
        far: front.y_face + front.height(),
    };
    let ceiling = ceiling::lowest(job, &reckoned.rooms, &over).in_mm();
    let swept = movers::Mover::open_at(mover, full);
    if let (Some((at, handle)), Some(part)) =
        (flap.strike((-1e6, 1e6), (ceiling, 1e6)), swept.first())
    {
        out.push(Strike {
            at,
            handle,
            what: Thing::Ceiling,
            quad: part.quad,
        });
    }
    out
}

/// How near and how far an outline comes out of a wall, over a stretch along it.
fn out_of(wall: &PlacedWall, x: (f64, f64), quad: &Quad) -> Option<(f64, f64)> {
    let local = quad.map(|p| {
        let (dx, dy) = (p.x - wall.start.x, p.y - wall.start.y);
        PlanPoint {
            x: dx * wall.along.x + dy * wall.along.y,
            y: dx * wall.out.x + dy * wall.out.y,
        }
    });
    let at = |x, y| PlanPoint { x, y };
    let strip = [at(x.0, -1e6), at(x.1, -1e6), at(x.1, 1e6), at(x.0, 1e6)];
    let met = common(&local, &strip);
    let near = met.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let far = met.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    (far > near).then_some((near, far))
}

/// A flap's section at rest, out of the wall and up, turning up about the top of its face.
struct Flap {
    turn: Turn,
    full: f64,
    leaf: Quad,
    handle: Option<Quad>,
}

impl Flap {
    fn of(front: &PlacedFront, full: f64) -> Flap {
        let rect = |y: (f64, f64), z: (f64, f64)| {
            let quad = [(y.0, z.0), (y.1, z.0), (y.1, z.1), (y.0, z.1)];
            crate::reckon::outline::inset(&quad.map(|(x, y)| PlanPoint { x, y }), TOUCH)
        };
        let mm = |a: Length, b: Length| (a.in_mm(), b.in_mm());
        Flap {
            turn: Turn {
                axis: PlanPoint {
                    x: front.y_face.in_mm(),
                    y: front.top.in_mm(),
                },
                way: 1.0,
            },
            full,
            leaf: rect(mm(front.y_back, front.y_face), mm(front.bottom, front.top)),
            handle: solids::handle(front).map(|(_, y, z)| rect(y, z)),
        }
    }

    fn strike(&self, y: (f64, f64), z: (f64, f64)) -> Option<(f64, bool)> {
        let at = |x, y| PlanPoint { x, y };
        let fixed = [at(y.0, z.0), at(y.1, z.0), at(y.1, z.1), at(y.0, z.1)];
        let leaf = self.turn.contact(&self.leaf, &fixed).map(|a| (a, false));
        let handle = self.handle.and_then(|h| self.turn.contact(&h, &fixed));
        let first = match (leaf, handle) {
            (Some(l), Some(h)) if h < l.0 => Some((h, true)),
            (None, Some(h)) => Some((h, true)),
            (leaf, _) => leaf,
        };
        first.filter(|(a, _)| *a < self.full)
    }
}

/// The place swept by a leaf between two angles, or by a slide: convex, for the plan.
pub fn swept(mover: &Mover, from: f64, to: f64) -> Vec<PlanPoint> {
    let Motion::Turn { turn, .. } = mover.motion else {
        let out = mover.open_at(to);
        return out.first().map(|p| p.quad.to_vec()).unwrap_or_default();
    };
    let Some(leaf) = mover.parts.first() else {
        return Vec::new();
    };
    let far = |p: &&PlanPoint| libm::hypot(p.x - turn.axis.x, p.y - turn.axis.y);
    let tip = leaf.quad.iter().max_by(|a, b| far(a).total_cmp(&far(b)));
    let Some(tip) = tip.copied() else {
        return Vec::new();
    };
    const CHORDS: i32 = 12;
    let angle = |n: i32| from + (to - from) * f64::from(n) / f64::from(CHORDS);
    let arc = (0..=CHORDS).map(|n| turn.at(tip, angle(n)));
    std::iter::once(turn.axis).chain(arc).collect()
}

/// Whether an angle is the quarter turn that is expected of a leaf.
pub fn is_square(angle: f64) -> bool {
    angle >= FRAC_PI_2 - SHORT.0
}
