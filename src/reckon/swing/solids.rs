//! What stands in a room and may be struck: walls with their reveals, what is built onto them, the
//! furniture shut. Knows outlines and heights; must not know what moves.

use super::Thing;
use crate::reckon::outline::{TOUCH, inset};
use crate::reckon::placed::{PlacedFront, PlacedWall, Reckoned};
use crate::reckon::plan::{self, Quad};
use crate::resolve::job::{Job, ServiceKind, Wall};
use crate::units::Length;

/// A handle's mark and grip across its length, as drawn (common practice, no source).
pub const HANDLE_WIDE: Length = Length::mm(18);
/// Half of a service point of no given size that stands out from its wall (common practice, no
/// source).
const POINT_HALF: Length = Length::mm(40);
/// How far back a wall is solid, and with it how deep a doorway is whose leaf hangs at its far face (common
/// practice, no source); how high and low anything reaches that has no end, mm.
const THICK: f64 = 100.0;
const FAR: f64 = 1e6;

/// An outline on plan from one height to another, mm, drawn in so that touching is not striking.
#[derive(Clone, Debug)]
pub struct Solid {
    pub quad: Quad,
    pub low: f64,
    pub high: f64,
    pub what: Thing,
}

/// Everything that stands in a room.
pub fn of_room(job: &Job, reckoned: &Reckoned, room: usize) -> Vec<Solid> {
    let mut all = Solids {
        room,
        out: Vec::new(),
    };
    if let (Some(made), Some(placed)) = (job.rooms.get(room), reckoned.rooms.get(room)) {
        for (i, (wall, at)) in made.walls.iter().zip(&placed.walls).enumerate() {
            all.wall(i, wall, at);
            all.on_the_wall(i, wall, at);
        }
        all.furniture(job, reckoned, &placed.walls);
    }
    all.out
}

/// Sloping ceilings where they are lower than `top`, as solids that only what reaches up so far
/// strikes.
pub fn slopes(job: &Job, reckoned: &Reckoned, room: usize, top: f64) -> Vec<Solid> {
    let mut all = Solids {
        room,
        out: Vec::new(),
    };
    if let (Some(made), Some(placed)) = (job.rooms.get(room), reckoned.rooms.get(room)) {
        for (i, slope) in made.slopes.iter().enumerate() {
            let (Some(at), Some(wall)) = (placed.walls.get(slope.wall), made.walls.get(slope.wall))
            else {
                continue;
            };
            let (low, rise) = (slope.low.in_mm(), (slope.high - slope.low).in_mm());
            if top <= low || rise <= 0.0 {
                continue;
            }
            // It rises straight from its wall: this far out it is as high as `top`.
            let out = slope.over.in_mm() * ((top - low) / rise).min(1.0);
            let x = (0.0, wall.length.in_mm());
            let what = Thing::Slope(room, i);
            all.push(at, x, (-THICK, out), (top - 2.0 * TOUCH, FAR), what);
        }
    }
    all.out
}

struct Solids {
    room: usize,
    out: Vec<Solid>,
}

type Span = (f64, f64);

impl Solids {
    fn push(&mut self, at: &PlacedWall, x: Span, y: Span, z: Span, what: Thing) {
        if x.1 > x.0 && y.1 > y.0 && z.1 > z.0 {
            let quad = [
                at.at(x.0, y.0),
                at.at(x.1, y.0),
                at.at(x.1, y.1),
                at.at(x.0, y.1),
            ];
            self.out.push(Solid {
                quad: inset(&quad, TOUCH),
                low: z.0,
                high: z.1,
                what,
            });
        }
    }

    /// Its lined face, in bands of height between the points where it was plumbed, each as far into
    /// the room as the wall leans anywhere in it; open at windows as deep as their reveal, and at
    /// doorways up to the shut leaf, if there is one.
    fn wall(&mut self, index: usize, wall: &Wall, at: &PlacedWall) {
        let lined = wall.lining_thickness().in_mm();
        let long = wall.length.in_mm();
        let what = Thing::Wall(self.room, index);
        let windows = wall.windows.iter().map(|w| {
            let z = (w.sill.in_mm(), (w.sill + w.height).in_mm());
            (
                (w.at.in_mm(), (w.at + w.width).in_mm()),
                z,
                w.reveal.in_mm(),
                what,
            )
        });
        let ways = wall.doors.iter().enumerate().map(|(i, d)| {
            // It hangs at the face that it opens away from.
            let deep = match (d.hinge, d.opens_in) {
                (None, _) => FAR,
                (Some(_), true) => 0.0,
                (Some(_), false) => THICK,
            };
            (
                (d.at.in_mm(), (d.at + d.width).in_mm()),
                (-FAR, d.height.in_mm()),
                deep,
                Thing::RoomDoor(self.room, index, i),
            )
        });
        let mut holes: Vec<(Span, Span, f64, Thing)> = windows.chain(ways).collect();
        holes.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
        for (z, lean) in bands(&wall.plumb) {
            let face = lined + lean;
            let mut from = 0.0;
            for (x, hole, deep, behind) in &holes {
                let back = face.min(-deep);
                self.push(at, (from, x.0), (face.min(0.0) - THICK, face), z, what);
                let within = |h: f64| h.max(z.0).min(z.1);
                let (bottom, top) = (within(hole.0), within(hole.1));
                let above_below = [(z.0, bottom), (top, z.1)];
                for z in above_below {
                    self.push(at, *x, (face.min(0.0) - THICK, face), z, what);
                }
                if *deep < FAR {
                    self.push(at, *x, (back - THICK, back), (bottom, top), *behind);
                }
                from = x.1.max(from);
            }
            self.push(at, (from, long), (face.min(0.0) - THICK, face), z, what);
        }
    }

    fn on_the_wall(&mut self, index: usize, wall: &Wall, at: &PlacedWall) {
        let lined = wall.lining_thickness().in_mm();
        for (i, o) in wall.obstructions.iter().enumerate() {
            let (x, z) = (span(o.from, o.to), span(o.bottom, o.top));
            let what = Thing::Obstruction(self.room, index, i);
            self.push(at, x, (0.0, o.out.in_mm()), z, what);
        }
        for (i, b) in wall.bulkheads.iter().enumerate() {
            let what = Thing::Bulkhead(self.room, index, i);
            let z = (b.underside.in_mm(), FAR);
            self.push(at, span(b.from, b.to), (0.0, b.out.in_mm()), z, what);
        }
        for (i, s) in wall.services.iter().enumerate() {
            let x = match s.width > Length::ZERO {
                true => (s.at, s.at + s.width),
                false => (s.at - POINT_HALF, s.at + POINT_HALF),
            };
            let z = match s.tall > Length::ZERO {
                true => (s.height, s.height + s.tall),
                false => (s.height - POINT_HALF, s.height + POINT_HALF),
            };
            // A light hangs or stands where it is said to be; all else reaches out from the wall.
            let from = match s.kind {
                ServiceKind::Light => s.out - s.width.max(POINT_HALF * 2),
                _ => Length::ZERO,
            };
            let y = (lined + from.in_mm().max(0.0), lined + s.out.in_mm());
            let what = Thing::Service(self.room, index, i);
            self.push(at, span(x.0, x.1), y, span(z.0, z.1), what);
        }
    }

    fn furniture(&mut self, job: &Job, reckoned: &Reckoned, walls: &[PlacedWall]) {
        let here = |wall: crate::resolve::job::WallRef| {
            (wall.room == self.room)
                .then(|| walls.get(wall.wall))
                .flatten()
        };
        let mut found: Vec<(&PlacedWall, Span, Span, Span, Thing)> = Vec::new();
        for (r, run) in reckoned.runs.iter().enumerate() {
            let Some(at) = here(run.wall) else { continue };
            for (u, unit) in run.units.iter().enumerate() {
                let y = span(run.y_back, run.y_back + unit.depth_over_fronts);
                let (x, z) = (span(unit.left, unit.right), span(unit.base, unit.top));
                found.push((at, x, y, z, Thing::Unit(r, u)));
            }
        }
        for (i, front) in reckoned.fronts.iter().enumerate() {
            let (Some(at), Some((x, y, z))) = (here(front.wall), handle(front)) else {
                continue;
            };
            found.push((at, x, y, z, Thing::Handle(i)));
        }
        for (i, top) in reckoned.worktops.iter().enumerate() {
            let Some(at) = here(top.wall) else { continue };
            let (x, y) = (span(top.left, top.right), span(top.y_back, top.y_front));
            found.push((at, x, y, span(top.bottom, top.top), Thing::Worktop(i)));
        }
        for (i, (panel, made)) in reckoned.panels.iter().zip(&job.panels).enumerate() {
            let Some(at) = here(panel.wall) else { continue };
            let (x, y) = (span(made.from, made.to), span(panel.y_back, panel.y_face));
            found.push((at, x, y, span(panel.bottom, panel.top), Thing::Panel(i)));
        }
        for (i, leaf) in reckoned.sliding.iter().enumerate() {
            let Some(at) = here(leaf.wall) else { continue };
            let x = span(leaf.track_left, leaf.track_right);
            let (y, z) = (span(leaf.y_back, leaf.y_face), span(leaf.bottom, leaf.top));
            found.push((at, x, y, z, Thing::Sliding(i)));
        }
        for (at, x, y, z, what) in found {
            self.push(at, x, y, z, what);
        }
    }
}

fn span(from: Length, to: Length) -> Span {
    (from.in_mm(), to.in_mm())
}

/// Along the wall, out of it, and in height; `None` where none stands out.
pub fn handle(front: &PlacedFront) -> Option<(Span, Span, Span)> {
    let handle = front.handle.filter(|h| h.out > Length::ZERO)?;
    let (along, up) = match handle.upright {
        true => (HANDLE_WIDE.half(), handle.length.half()),
        false => (handle.length.half(), HANDLE_WIDE.half()),
    };
    Some((
        span(handle.x - along, handle.x + along),
        span(front.y_face, front.y_face + handle.out),
        span(handle.z - up, handle.z + up),
    ))
}

/// Bands of height, each with the greatest lean in it: level beyond the first and last point.
fn bands(plumb: &[(Length, Length)]) -> Vec<(Span, f64)> {
    let (Some(first), Some(last)) = (plumb.first(), plumb.last()) else {
        return vec![((-FAR, FAR), 0.0)];
    };
    let mut out = vec![((-FAR, first.0.in_mm()), first.1.in_mm())];
    for (a, b) in plumb.iter().zip(plumb.iter().skip(1)) {
        out.push((span(a.0, b.0), a.1.max(b.1).in_mm()));
    }
    out.push(((last.0.in_mm(), FAR), last.1.in_mm()));
    // One band where nothing changes.
    let mut joined: Vec<(Span, f64)> = Vec::new();
    for (z, lean) in out {
        match joined.last_mut() {
            Some(before) if before.1 == lean => before.0.1 = z.1,
            _ => joined.push((z, lean)),
        }
    }
    joined
}

/// Whether two outlines overlap on plan.
pub fn strikes(a: &Quad, b: &Quad) -> bool {
    plan::overlap(a, b, 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::fixture;

    // By hand: a wall plumbed at 0, 1200 and 2400 mm leaning 0, 6 and 15 in.
    #[test]
    fn a_leaning_wall_in_bands() {
        let line = fixture::line(&[(0, 0), (1200, 6), (2400, 15)]);
        let got = bands(&line);
        let want = [
            ((-FAR, 0.0), 0.0),
            ((0.0, 1200.0), 6.0),
            ((1200.0, FAR), 15.0),
        ];
        assert_eq!(got, want);
        assert_eq!(bands(&fixture::line(&[(0, 0)])).len(), 1);
    }
}
