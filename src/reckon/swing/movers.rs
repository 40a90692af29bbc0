//! What opens: doors, drawers and flaps, room doors, the own doors of appliances. Knows how far each
//! is to go and the place it takes on its way; must not know what stands there.

use core::f64::consts::FRAC_PI_2;

use super::Thing;
use super::solids::{Solid, handle, strikes};
use super::turn::Turn;
use crate::reckon::outline::{Around, TOUCH, inset};
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedWall, PlanPoint, Reckoned};
use crate::reckon::plan::Quad;
use crate::reckon::{drawers, travel};
use crate::resolve::job::{FrontKind, HardwareKind, Job, OwnDoor, Side};
use crate::units::Length;

/// Thickness of a room door's leaf, as drawn (common practice, no source).
const ROOM_LEAF: f64 = 40.0;

/// A piece of what moves, at rest: an outline on plan, and heights, mm.
#[derive(Clone, Debug)]
pub struct Part {
    pub quad: Quad,
    pub low: f64,
    pub high: f64,
    pub handle: bool,
}

#[derive(Clone, Copy, Debug)]
pub enum Motion {
    /// rad: how far it opens in all, and how far it is expected to.
    Turn { turn: Turn, full: f64, wanted: f64 },
    /// Straight out, mm.
    Slide { way: PlanPoint, travel: f64 },
    /// Up about its top edge: rad, and how far out it stands when open, mm.
    Lift {
        full: f64,
        reach: f64,
        way: PlanPoint,
    },
}

#[derive(Clone, Debug)]
pub struct Mover {
    pub what: Thing,
    /// The unit it belongs to: run and unit.
    pub unit: Option<(usize, usize)>,
    pub motion: Motion,
    pub parts: Vec<Part>,
}

impl Mover {
    /// What it is expected to do, in rad or mm.
    pub fn wanted(&self) -> f64 {
        match self.motion {
            Motion::Turn { wanted, .. } => wanted,
            Motion::Slide { travel, .. } => travel,
            Motion::Lift { full, .. } => full,
        }
    }

    pub fn full(&self) -> f64 {
        match self.motion {
            Motion::Turn { full, .. } | Motion::Lift { full, .. } => full,
            Motion::Slide { travel, .. } => travel,
        }
    }

    /// All it may ever touch on plan.
    pub fn around(&self) -> Around {
        let points: Vec<PlanPoint> = self.parts.iter().flat_map(|p| p.quad).collect();
        match self.motion {
            Motion::Turn { turn, .. } => {
                let far = points
                    .iter()
                    .map(|p| libm::hypot(p.x - turn.axis.x, p.y - turn.axis.y));
                Around::about(turn.axis, far.fold(0.0, f64::max))
            }
            Motion::Slide { .. } | Motion::Lift { .. } => {
                let open: Vec<PlanPoint> = self
                    .open_at(self.full())
                    .iter()
                    .flat_map(|p| p.quad)
                    .collect();
                Around::of(&points).with(Around::of(&open))
            }
        }
    }

    /// How far it goes before it first strikes the outline between those heights, and whether its
    /// handle does so; `None`: it never does.
    pub fn struck(&self, quad: &Quad, low: f64, high: f64) -> Option<(f64, bool)> {
        let mut best: Option<(f64, bool)> = None;
        for part in &self.parts {
            if part.low + TOUCH >= high || low + TOUCH >= part.high {
                continue;
            }
            let at = match self.motion {
                Motion::Turn { turn, .. } => turn.contact(&part.quad, quad),
                Motion::Slide { way, travel } => slid(part, way, travel, quad),
                Motion::Lift { .. } => None,
            };
            if let Some(at) = at.filter(|a| *a < self.full() && best.is_none_or(|b| *a < b.0)) {
                best = Some((at, part.handle));
            }
        }
        best
    }

    /// The place it takes when it has gone so far.
    pub fn open_at(&self, far: f64) -> Vec<Part> {
        let moved = |part: &Part, quad: Quad| Part {
            quad,
            ..part.clone()
        };
        self.parts
            .iter()
            .map(|part| match self.motion {
                Motion::Turn { turn, .. } => moved(part, turn.quad(&part.quad, far)),
                Motion::Slide { way, .. } => moved(part, run_out(part, way, far)),
                Motion::Lift { reach, way, full } => {
                    let (h, out) = (part.high - part.low, reach);
                    let rise = h * libm::sin((full - FRAC_PI_2).max(0.0));
                    Part {
                        low: part.high - TOUCH,
                        high: part.high + rise + TOUCH * 2.0,
                        ..moved(part, run_out(part, way, out))
                    }
                }
            })
            .collect()
    }

    /// Whether the places that two movers take overlap, and where.
    pub fn overlaps(a: &[Part], b: &[Part]) -> Option<(Quad, Quad)> {
        a.iter().find_map(|p| {
            b.iter().find_map(|q| {
                let level = p.low + TOUCH < q.high && q.low + TOUCH < p.high;
                (level && strikes(&p.quad, &q.quad)).then_some((p.quad, q.quad))
            })
        })
    }
}

/// From its place at rest to its place when out.
fn run_out(part: &Part, way: PlanPoint, far: f64) -> Quad {
    let [a, b, c, d] = part.quad;
    let out = |p: PlanPoint| PlanPoint {
        x: p.x + way.x * far,
        y: p.y + way.y * far,
    };
    [a, b, out(c), out(d)]
}

/// How far a part slides before it meets an outline.
fn slid(part: &Part, way: PlanPoint, travel: f64, quad: &Quad) -> Option<f64> {
    let swept = run_out(part, way, travel);
    if !strikes(&swept, quad) {
        return None;
    }
    let along = |p: &PlanPoint| p.x * way.x + p.y * way.y;
    let front = part.quad.iter().map(along).fold(f64::MIN, f64::max);
    let met = crate::reckon::outline::common(quad, &swept);
    let near = met.iter().map(along).fold(f64::INFINITY, f64::min);
    near.is_finite().then(|| (near - front).max(0.0))
}

fn degrees(angle: crate::units::Angle) -> f64 {
    angle.in_rad()
}

fn quad(wall: &PlacedWall, x: (f64, f64), y: (f64, f64)) -> Quad {
    [
        wall.at(x.0, y.0),
        wall.at(x.1, y.0),
        wall.at(x.1, y.1),
        wall.at(x.0, y.1),
    ]
}

/// Everything that opens into a room.
pub fn of_room(job: &Job, reckoned: &Reckoned, room: usize) -> Vec<Mover> {
    let mut out = Vec::new();
    let Some(placed) = reckoned.rooms.get(room) else {
        return out;
    };
    let wall = |at: crate::resolve::job::WallRef| {
        (at.room == room)
            .then(|| placed.walls.get(at.wall))
            .flatten()
    };
    for (index, front) in reckoned.fronts.iter().enumerate() {
        if let Some(wall) = wall(front.wall) {
            out.extend(of_front(job, index, front, wall));
        }
    }
    for (r, run) in reckoned.runs.iter().enumerate() {
        if let Some(wall) = wall(run.wall) {
            inside(job, reckoned, (r, run), wall, &mut out);
        }
    }
    let walls = job.rooms.get(room).into_iter().flat_map(|r| &r.walls);
    for (w, (made, at)) in walls.zip(&placed.walls).enumerate() {
        for (d, door) in made.doors.iter().enumerate().filter(|(_, d)| d.opens_in) {
            let Some(side) = door.hinge else { continue };
            let x = (door.at.in_mm(), (door.at + door.width).in_mm());
            let part = Part {
                quad: inset(&quad(at, x, (-ROOM_LEAF, 0.0)), TOUCH),
                low: 0.0,
                high: door.height.in_mm(),
                handle: false,
            };
            let edge = if side == Side::Left { x.0 } else { x.1 };
            out.push(Mover {
                what: Thing::RoomDoor(room, w, d),
                unit: None,
                motion: turning(at.at(edge, 0.0), side, FRAC_PI_2, FRAC_PI_2),
                parts: vec![part],
            });
        }
    }
    out
}

fn turning(axis: PlanPoint, side: Side, full: f64, wanted: f64) -> Motion {
    let way = if side == Side::Left { 1.0 } else { -1.0 };
    Motion::Turn {
        turn: Turn { axis, way },
        full,
        wanted,
    }
}

/// A leaf turns about an axis so far beside its edge as behind its face: half of thickness − offset.
/// So its edge comes out past its neighbours, as concealed hinges bring it, and at 90° its face has
/// come thickness − offset beyond that edge, which is handbook §3's rule for the filler beside it.
fn of_front(job: &Job, index: usize, front: &PlacedFront, wall: &PlacedWall) -> Option<Mover> {
    let x = (front.left.in_mm(), front.right.in_mm());
    let y = (front.y_back.in_mm(), front.y_face.in_mm());
    let mut parts = vec![Part {
        quad: inset(&quad(wall, x, y), TOUCH),
        low: front.bottom.in_mm(),
        high: front.top.in_mm(),
        handle: false,
    }];
    if let Some((x, y, z)) = handle(front) {
        parts.push(Part {
            quad: inset(&quad(wall, x, y), TOUCH),
            low: z.0,
            high: z.1,
            handle: true,
        });
    }
    let motion = match (front.kind, front.hinge) {
        (FrontKind::Door, Some(side)) => {
            let hinge = front.style.hinge.and_then(|h| job.hardware.get(h.0));
            let full = hinge.and_then(|h| h.opens).map_or(FRAC_PI_2, degrees);
            let thick = y.1 - y.0;
            let offset = hinge.and_then(|h| h.offset).map_or(thick, Length::in_mm);
            let half = (thick - offset) / 2.0;
            let edge = match side {
                Side::Left => x.0 - half,
                Side::Right => x.1 + half,
            };
            if let Some(leaf) = parts.first_mut() {
                leaf.quad = inset(&eased(wall, x, y, half, side), TOUCH);
            }
            let before = y.1 - half;
            turning(wall.at(edge, before), side, full, full.min(FRAC_PI_2))
        }
        (FrontKind::Drawer, _) => Motion::Slide {
            way: wall.out,
            travel: front.travel.in_mm(),
        },
        (FrontKind::Flap, _) => {
            let stay = job.hardware.iter().find(|h| h.kind == HardwareKind::Stay);
            let full = stay.and_then(|s| s.opens).map_or(FRAC_PI_2, degrees);
            Motion::Lift {
                full,
                reach: front.height().in_mm(),
                way: wall.out,
            }
        }
        _ => return None,
    };
    Some(Mover {
        what: Thing::Front(index),
        unit: Some((front.run, front.unit)),
        motion,
        parts,
    })
}

/// A leaf whose back is shortened at its free edge to what turns within its own width: hinges and
/// gaps let it out of its opening, and that it comes out is not what is looked at here.
fn eased(wall: &PlacedWall, x: (f64, f64), y: (f64, f64), half: f64, side: Side) -> Quad {
    let (wide, reach) = (x.1 - x.0, x.1 - x.0 + half);
    let behind = y.1 - y.0 - half;
    let back = libm::sqrt((reach * reach - behind * behind).max(0.0)) - half;
    let back = back.clamp(0.0, wide.max(0.0));
    let (left, right) = match side {
        Side::Left => (x.0, x.0 + back),
        Side::Right => (x.1 - back, x.1),
    };
    [
        wall.at(left, y.0),
        wall.at(right, y.0),
        wall.at(x.1, y.1),
        wall.at(x.0, y.1),
    ]
}

/// Inner drawers, and the own doors of appliances that stand behind a front of their unit.
fn inside(
    job: &Job,
    reckoned: &Reckoned,
    (r, run): (usize, &PlacedRun),
    wall: &PlacedWall,
    out: &mut Vec<Mover>,
) {
    let Some(made) = job.runs.get(r) else { return };
    for (u, (unit, at)) in made.units.iter().zip(&run.units).enumerate() {
        let fronts = at.fronts.iter().filter_map(|i| reckoned.fronts.get(*i));
        let own: Vec<&PlacedFront> = fronts.collect();
        let face = (run.y_back + at.depth).in_mm();
        for (b, bay) in at.bays.iter().enumerate() {
            let runner = own.iter().find_map(|f| f.style.runner);
            let runner = runner.or_else(|| travel::usual(job));
            let aside = drawers::beside(job, runner);
            let x = ((bay.left + aside).in_mm(), (bay.right - aside).in_mm());
            let travel = travel::of_inner(job, unit, runner).in_mm();
            let (low, high) = (
                bay.drawers.first().map_or(0.0, |d| d.0.in_mm()),
                bay.drawers.last().map_or(0.0, |d| d.1.in_mm()),
            );
            if high > low && x.1 > x.0 {
                out.push(Mover {
                    what: Thing::Inner(r, u, b),
                    unit: Some((r, u)),
                    motion: Motion::Slide {
                        way: wall.out,
                        travel,
                    },
                    parts: vec![Part {
                        quad: inset(&quad(wall, x, (face - 20.0, face)), TOUCH),
                        low,
                        high,
                        handle: false,
                    }],
                });
            }
            for (n, put) in bay.appliances.iter().enumerate() {
                let Some(appliance) = job.appliances.get(put.which.0) else {
                    continue;
                };
                let hidden = own.iter().any(|f| f.hides == Some(put.which));
                let Some(opens) = appliance.opens.filter(|_| !hidden) else {
                    continue;
                };
                let x = (put.left.in_mm(), put.right.in_mm());
                let part = Part {
                    quad: inset(&quad(wall, x, (face - 20.0, face)), TOUCH),
                    low: put.bottom.in_mm(),
                    high: put.top.in_mm(),
                    handle: false,
                };
                let reach = |usual: Length| appliance.reach.unwrap_or(usual).in_mm();
                let (motion, part) = match opens {
                    OwnDoor::Down => {
                        let travel = reach(put.top - put.bottom);
                        (
                            Motion::Slide {
                                way: wall.out,
                                travel,
                            },
                            part,
                        )
                    }
                    OwnDoor::Left => {
                        let wide = (x.0, x.0 + reach(put.right - put.left));
                        let quad = inset(&quad(wall, wide, (face - 20.0, face)), TOUCH);
                        let axis = wall.at(x.0, face);
                        (
                            turning(axis, Side::Left, FRAC_PI_2, FRAC_PI_2),
                            Part { quad, ..part },
                        )
                    }
                    OwnDoor::Right => {
                        let wide = (x.1 - reach(put.right - put.left), x.1);
                        let quad = inset(&quad(wall, wide, (face - 20.0, face)), TOUCH);
                        let axis = wall.at(x.1, face);
                        (
                            turning(axis, Side::Right, FRAC_PI_2, FRAC_PI_2),
                            Part { quad, ..part },
                        )
                    }
                };
                out.push(Mover {
                    what: Thing::Machine(r, u, b, n),
                    unit: Some((r, u)),
                    motion,
                    parts: vec![part],
                });
            }
        }
    }
}

fn flush(reckoned: &Reckoned, front: usize, (r, u): (usize, usize)) -> bool {
    let (Some(front), Some(run)) = (reckoned.fronts.get(front), reckoned.runs.get(r)) else {
        return false;
    };
    let Some(unit) = run.units.get(u) else {
        return false;
    };
    front.wall == run.wall && run.y_back + unit.depth_over_fronts <= front.y_face
}

/// What of a solid is of no account to a mover: its own unit and handle, and, for a room door, the
/// walls that it was surveyed between and the leaves that are shut in them.
pub fn passes_over(mover: &Mover, solid: &Solid, reckoned: &Reckoned) -> bool {
    match (solid.what, mover.what) {
        (Thing::Unit(r, u), _) if mover.unit == Some((r, u)) => true,
        // Hinges and gaps bring a leaf out past a neighbour that comes no farther than it does.
        (Thing::Unit(r, u), Thing::Front(f)) => flush(reckoned, f, (r, u)),
        (Thing::Handle(h), Thing::Front(f)) => h == f,
        // Fronts of its own unit stand open before anything inside comes out.
        (Thing::Handle(h), Thing::Inner(r, u, _) | Thing::Machine(r, u, _, _)) => reckoned
            .fronts
            .get(h)
            .is_some_and(|f| (f.run, f.unit) == (r, u)),
        (
            Thing::Wall(..)
            | Thing::RoomDoor(..)
            | Thing::Obstruction(..)
            | Thing::Service(..)
            | Thing::Bulkhead(..)
            | Thing::Slope(..),
            Thing::RoomDoor(..),
        ) => true,
        _ => false,
    }
}
