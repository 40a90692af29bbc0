//! Two movers at a time: whether both can stand open together. Knows how far each goes by itself;
//! must not know words.

use super::Thing;
use super::alone::{Strike, reach, short, swept};
use super::movers::{Motion, Mover, Part};
use super::outline::{Around, Grid, common};
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
    let mut out = Vec::new();
    for (i, (mover, at)) in movers.iter().zip(&around).enumerate() {
        for j in grid.near(at).into_iter().filter(|j| *j > i) {
            let (Some(other), Some(a), Some(b)) = (movers.get(j), alone.get(i), alone.get(j))
            else {
                continue;
            };
            if !may_meet(mover, other) {
                continue;
            }
            let found = meet(
                (mover, stands(mover, other, a)),
                (other, stands(other, mover, b)),
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

/// A front before what is inside its unit stands as far open as it will go.
fn stands(mover: &Mover, before: &Mover, strikes: &[Strike]) -> f64 {
    let inside = matches!(before.what, Thing::Inner(..) | Thing::Machine(..));
    match inside && mover.unit == before.unit {
        true => strikes.first().map_or(mover.full(), |s| s.at),
        false => reach(mover, strikes),
    }
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

type Going<'a> = (&'a Mover, f64);

/// `None` when one can open after the other to where each goes by itself.
fn meet(a: Going<'_>, b: Going<'_>) -> Option<(Option<f64>, Vec<PlanPoint>)> {
    let (open_a, open_b) = (a.0.open_at(a.1), b.0.open_at(b.1));
    let b_goes = goes(b, &open_a);
    if b_goes >= b.1 - short(b.0) {
        return None;
    }
    let a_goes = goes(a, &open_b);
    if a_goes >= a.1 - short(a.0) {
        return None;
    }
    let turns = |g: &Going<'_>| matches!(g.0.motion, Motion::Turn { .. });
    let overlap = Mover::overlaps(&open_a, &open_b);
    let angle = match (turns(&a), turns(&b)) {
        (true, true) if overlap.is_some() => Some(both(a, b)),
        (true, true) => Some(a_goes.max(b_goes)),
        (true, false) => Some(a_goes),
        (false, true) => Some(b_goes),
        (false, false) => None,
    };
    // Where they only touch, there; else all the place that both want.
    let both_want = common(&swept(a.0, 0.0, a.1), &swept(b.0, 0.0, b.1));
    let touch = angle.is_some_and(|a| a >= NEARLY_SQUARE);
    let area = match overlap {
        Some((p, q)) if touch || both_want.is_empty() => common(&p, &q),
        _ => both_want,
    };
    Some((angle, area))
}

/// How far a mover goes past what stands; a flap goes only where the way is free to its end.
fn goes((mover, upto): Going<'_>, parts: &[Part]) -> f64 {
    if matches!(mover.motion, Motion::Lift { .. }) {
        let free = Mover::overlaps(&mover.open_at(upto), parts).is_none();
        return if free { upto } else { 0.0 };
    }
    let met = parts
        .iter()
        .filter_map(|p| mover.struck(&p.quad, p.low, p.high));
    met.map(|m| m.0).fold(upto, f64::min)
}

/// The widest angle at which both leaves stand clear of one another, by halving.
fn both(a: Going<'_>, b: Going<'_>) -> f64 {
    let (mut free, mut meet) = (0.0, 1.0);
    for _ in 0..20 {
        let part = (free + meet) / 2.0;
        let clash = Mover::overlaps(&a.0.open_at(a.1 * part), &b.0.open_at(b.1 * part));
        if clash.is_some() {
            meet = part;
        } else {
            free = part;
        }
    }
    a.1.min(b.1) * free
}
