//! The gaps round fronts, so that the sizes of fronts add up to their unit's. Knows where fronts and units
//! stand; must not know dimension chains, paper or how gaps are told.

use super::Sight;
use crate::draw::gaps::{Gap, Place};
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedUnit};
use crate::units::Length;

/// More than this between two faces is no gap, mm.
const WIDEST: Length = Length::mm(20);

/// All gaps on the wall.
pub fn gaps(sight: &Sight) -> Vec<Gap> {
    let mut out: Vec<Gap> = Vec::new();
    for (_, _, run) in sight.runs() {
        let units = run.units.iter();
        let of_run: Vec<(&PlacedUnit, &PlacedFront)> = units
            .flat_map(|u| sight.fronts_of(u).into_iter().map(move |f| (u, f)))
            .collect();
        for (unit, front) in &of_run {
            let by = || front.number.to_string();
            let to = |other: &PlacedFront| format!("{} and {}", front.number, other.number);
            let at = (front.left + front.right).half().in_mm();
            let mut add = |place: Place, size: Length, by: String| {
                if size >= Length::ZERO && size <= WIDEST {
                    out.push(Gap {
                        place,
                        size,
                        by,
                        at,
                    });
                }
            };
            let others = || of_run.iter().map(|(_, o)| *o);
            let beside = |o: &&PlacedFront| o.bottom < front.top && front.bottom < o.top;
            let right = others().filter(beside).filter(|o| o.left >= front.right);
            match right.min_by_key(|o| o.left) {
                Some(o) => add(Place::Between, o.left - front.right, to(o)),
                None => add(
                    Place::AtEnd,
                    edge_after(run, front.right) - front.right,
                    by(),
                ),
            }
            if !others().filter(beside).any(|o| o.right <= front.left) {
                add(
                    Place::AtEnd,
                    front.left - edge_before(run, front.left),
                    by(),
                );
            }
            let across = |o: &&PlacedFront| o.left < front.right && front.left < o.right;
            let above = others().filter(across).filter(|o| o.bottom >= front.top);
            match above.min_by_key(|o| o.bottom) {
                Some(o) => add(Place::BetweenRows, o.bottom - front.top, to(o)),
                None => add(Place::Over, unit.top - front.top, by()),
            }
            if !others().filter(across).any(|o| o.top <= front.bottom) {
                add(Place::Under, front.bottom - unit.base, by());
            }
        }
    }
    out
}

/// The next face of the run's own chain of widths.
fn edge_after(run: &PlacedRun, x: Length) -> Length {
    let after = edges(run).filter(|e| *e >= x).min();
    after.unwrap_or(x - Length::mm(1))
}

fn edge_before(run: &PlacedRun, x: Length) -> Length {
    let before = edges(run).filter(|e| *e <= x).max();
    before.unwrap_or(x + Length::mm(1))
}

fn edges(run: &PlacedRun) -> impl Iterator<Item = Length> {
    let pieces = run.pieces.iter().flat_map(|p| [p.left, p.right]);
    pieces.chain(run.units.iter().flat_map(|u| [u.left, u.right]))
}
