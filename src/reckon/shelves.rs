//! What each shelf carries and how far it sags, at once and in time. Knows bays and loads; must not
//! judge.
//!
//! Handbook §4: a shelf is a beam on two supports, its own weight counted; what backs, housings and
//! fixed joints add is left out.

use super::bending::{GRAVITY, Part, sag, stiffness};
use super::mass;
use super::placed::{PlacedBay, PlacedUnit};
use super::stiffness::{Elastic, elastic};
use crate::resolve::job::{Bay, Job, Load, Unit};
use crate::units::Length;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sag {
    pub span: Length,
    pub depth: Length,
    /// On the shelf, kg on each metre, its own weight not counted.
    pub carries: f64,
    pub lipping: Length,
    /// mm, at once, and in time where creep is known.
    pub now: f64,
    pub later: f64,
    pub elastic: Elastic,
}

/// Of the shelves of one bay, which are all alike; `None`: it has none, or of no known stiffness.
pub fn sag_of(
    job: &Job,
    unit: &Unit,
    at: &PlacedUnit,
    bay: &Bay,
    placed: &PlacedBay,
    lipping: Length,
) -> Option<Sag> {
    if placed.shelves.is_empty() {
        return None;
    }
    let board = job.material(unit.carcass);
    let elastic = elastic(board)?;
    let span = placed.right - placed.left;
    let depth = at.depth - at.back;
    if span <= Length::ZERO || depth <= Length::ZERO || board.thickness <= Length::ZERO {
        return None;
    }
    // Under the bays that appliances stand in, only what is declared.
    let machines = !bay.appliances.is_empty() && unit.carries.is_none();
    let load = if machines { Load::Machines } else { unit.load };
    let carries = unit
        .carries
        .map_or_else(|| carried(load, depth.in_mm()), |m| m.in_kg());
    let (deep, thick) = (depth.in_mm(), board.thickness.in_mm());
    let mut parts = vec![Part {
        modulus: elastic.modulus,
        width: deep,
        height: thick,
        middle: thick / 2.0,
    }];
    if lipping > Length::ZERO {
        parts.push(Part {
            modulus: elastic.modulus,
            width: thick.min(deep),
            height: lipping.in_mm(),
            middle: thick + lipping.in_mm() / 2.0,
        });
    }
    let metre = Length::mm(1000);
    let own = mass::board(metre, depth, board).in_kg()
        + mass::slab(metre, lipping, board.thickness, board.density).in_kg();
    let load = (carries + own) * GRAVITY / 1000.0;
    let now = sag(load, span.in_mm(), stiffness(&parts));
    Some(Sag {
        span,
        depth,
        carries,
        lipping,
        now,
        later: now * (1.0 + elastic.creep.unwrap_or(0.0)),
        elastic,
    })
}

/// kg on each metre of a shelf so many mm deep, by use (common practice, no source).
pub(super) fn carried(load: Load, depth: f64) -> f64 {
    let area = match load {
        Load::Light => 25.0,
        Load::Clothes => 40.0,
        Load::Crockery => 60.0,
        Load::Machines => 150.0,
        // In rows 250 deep.
        Load::Books => return 25.0 * (depth / 250.0).floor().max(1.0),
    };
    area * depth / 1000.0
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    // reference-values.md §4.2 A (X): 800 × 300 × 18 MDF, 20 kg over the span (25 kg/m) → 4.07642,
    // and 0.65158 more by its own weight at 740 kg/m³; with creep 2.25 the sum is 15.366.
    #[test]
    fn the_reference_shelf() {
        let job = fixture::shelves(1);
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let at = &got.runs[0].units[0];
        let unit = &job.runs[0].units[0];
        let sag = |lipping| sag_of(&job, unit, at, &unit.bays[0], &at.bays[0], lipping).unwrap();
        let plain = sag(Length::ZERO);
        assert_eq!(
            (plain.span, plain.depth),
            (Length::mm(800), Length::mm(300))
        );
        assert!((plain.now - 4.728).abs() < 0.001, "{}", plain.now);
        assert!((plain.later - 15.366).abs() < 0.003, "{}", plain.later);
        // The lipping worked by hand in reckon::bending: 776 082 against 145 800, and 0.533 kg/m
        // more on the 28.996: 4.728·(29.529/28.996)·145 800/776 082 = 0.9046.
        let lipped = sag(Length::mm(40));
        assert!((lipped.now - 0.9046).abs() < 0.001, "{}", lipped.now);
    }
}
