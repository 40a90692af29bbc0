//! Two movers at a time: whether both can stand open together. Knows how far each goes by itself;
//! must not know words.

use super::Thing;
use super::alone::{Strike, reach, short, swept};
use super::movers::{Motion, Mover, Part};
use crate::reckon::outline::{Around, Grid, common};
use crate::reckon::placed::PlanPoint;

/// Two movers, by index, that cannot both stand open.
#[derive(Clone, Debug)]
pub struct Meet {
    pub one: usize,
    pub other: usize,
    /// rad: how far the leaves of a pair both open, or the leaf beside what slides; `None` where
    /// nothing turns.
    pub angle: Option<f64>,
    pub area: Vec<PlanPoint>,
}

pub fn meets(movers: &[Mover], alone: &[Vec<Strike>]) -> Vec<Meet> {
    let around: Vec<Around> = movers.iter().map(Mover::around).collect();
    let grid = Grid::new(around.clone());
    let opens: Vec<(f64, Vec<Part>)> = movers
        .iter()
        .zip(alone)
        .map(|(m, strikes)| {
            let far = reach(m, strikes);
            (far, m.open_at(far))
        })
        .collect();
    let mut out = Vec::new();
    for (i, (mover, at)) in movers.iter().zip(&around).enumerate() {
        for j in grid.near(at).into_iter().filter(|j| *j > i) {
            let Some(other) = movers.get(j).filter(|other| may_meet(mover, other)) else {
                continue;
            };
            let (Some(a), Some(b)) = (opens.get(i), opens.get(j)) else {
                continue;
            };
            let (far_a, far_b) = (
                alone.get(i).and_then(|s| stands(mover, other, s)),
                alone.get(j).and_then(|s| stands(other, mover, s)),
            );
            let (wide_a, wide_b) = (
                far_a.map(|far| (far, mover.open_at(far))),
                far_b.map(|far| (far, other.open_at(far))),
            );
            let found = meet(
                Going::of(mover, wide_a.as_ref().unwrap_or(a)),
                Going::of(other, wide_b.as_ref().unwrap_or(b)),
            );
            out.extend(found.map(|(angle, area)| Meet {
                one: i,
                other: j,
                angle,
                area,
            }));
        }
    }
    out
}

/// A front before what is inside its unit stands as far open as it will go; others as far as is
/// expected of them.
fn stands(mover: &Mover, before: &Mover, strikes: &[Strike]) -> Option<f64> {
    let inside = matches!(before.what, Thing::Inner(..) | Thing::Machine(..));
    let full = || strikes.first().map_or(mover.full(), |s| s.at);
    (inside && mover.unit == before.unit).then(full)
}

/// 80°: a pair that both opens so far is as good as open (common practice, no source).
pub const NEARLY_SQUARE: f64 = 80.0 * core::f64::consts::PI / 180.0;

/// What is inside a unit is held against its own fronts alone, and they against what is inside;
/// room doors not against one another.
fn may_meet(a: &Mover, b: &Mover) -> bool {
    let inside = |m: &Mover| matches!(m.what, Thing::Inner(..));
    let level = a.parts.iter().any(|p| {
        let over = |q: &Part| p.low < q.high && q.low < p.high;
        b.parts.iter().any(over)
    });
    let lift = |m: &Mover| matches!(m.motion, Motion::Lift { .. });
    let same = a.unit.is_some() && a.unit == b.unit;
    match (inside(a), inside(b)) {
        (true, true) => false,
        (true, false) | (false, true) => level && same && !lift(a) && !lift(b),
        (false, false) => {
            let rooms =
                matches!(a.what, Thing::RoomDoor(..)) && matches!(b.what, Thing::RoomDoor(..));
            let machines =
                matches!(a.what, Thing::Machine(..)) && matches!(b.what, Thing::Machine(..));
            !rooms && !machines && (level || lift(a) || lift(b)) && !(same && (lift(a) || lift(b)))
        }
    }
}

/// A mover, how far it goes and the place it then takes.
#[derive(Clone, Copy)]
struct Going<'a> {
    mover: &'a Mover,
    far: f64,
    open: &'a [Part],
}

impl<'a> Going<'a> {
    fn of(mover: &'a Mover, (far, open): &'a (f64, Vec<Part>)) -> Going<'a> {
        Going {
            mover,
            far: *far,
            open,
        }
    }
}

/// `None` when one can open after the other to where each goes by itself.
fn meet(a: Going<'_>, b: Going<'_>) -> Option<(Option<f64>, Vec<PlanPoint>)> {
    let b_goes = goes(b, a.open);
    if b_goes >= b.far - short(b.mover) {
        return None;
    }
    let a_goes = goes(a, b.open);
    if a_goes >= a.far - short(a.mover) {
        return None;
    }
    let turns = |g: &Going<'_>| matches!(g.mover.motion, Motion::Turn { .. });
    let overlap = Mover::overlaps(a.open, b.open);
    let angle = match (turns(&a), turns(&b)) {
        (true, true) if overlap.is_some() => Some(both(a, b)),
        (true, true) => Some(a_goes.max(b_goes)),
        (true, false) => Some(a_goes),
        (false, true) => Some(b_goes),
        (false, false) => None,
    };
    // Where they only touch, there; else all the place that both want.
    let both_want = common(&swept(a.mover, 0.0, a.far), &swept(b.mover, 0.0, b.far));
    let touch = angle.is_some_and(|a| a >= NEARLY_SQUARE);
    let area = match overlap {
        Some((p, q)) if touch || both_want.is_empty() => common(&p, &q),
        _ => both_want,
    };
    Some((angle, area))
}

/// How far a mover goes past what stands; a flap goes only where the way is free to its end.
fn goes(going: Going<'_>, parts: &[Part]) -> f64 {
    if matches!(going.mover.motion, Motion::Lift { .. }) {
        let free = Mover::overlaps(going.open, parts).is_none();
        return if free { going.far } else { 0.0 };
    }
    let met = parts
        .iter()
        .filter_map(|p| going.mover.struck(&p.quad, p.low, p.high));
    met.map(|m| m.0).fold(going.far, f64::min)
}

/// The widest angle at which both leaves stand clear of one another, by halving.
fn both(a: Going<'_>, b: Going<'_>) -> f64 {
    let (mut free, mut meet) = (0.0, 1.0);
    for _ in 0..20 {
        let part = (free + meet) / 2.0;
        let clash = Mover::overlaps(
            &a.mover.open_at(a.far * part),
            &b.mover.open_at(b.far * part),
        );
        if clash.is_some() {
            meet = part;
        } else {
            free = part;
        }
    }
    a.far.min(b.far) * free
}
