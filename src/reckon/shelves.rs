//! What each shelf carries and how far it sags, at once and in time. Knows bays and loads; must not
//! judge.
//!
//! Handbook §4: a shelf is a beam on two supports, its own weight counted; what backs, housings and
//! fixed joints add is left out.

use super::bending::{GRAVITY, Part, sag, stiffness};
use super::mass;
use super::placed::{PlacedBay, PlacedUnit};
use super::stiffness::{Elastic, elastic};
use crate::resolve::job::{ApplianceRef, Job, Load, Unit};
use crate::units::Length;

/// Why a shelf carries what it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Under {
    /// As the project says of the unit.
    Declared,
    Use(Load),
    /// An appliance whose mass is said, spread over the shelf it stands on.
    Machine(ApplianceRef),
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sag {
    pub span: Length,
    pub depth: Length,
    /// On the shelf, kg on each metre, its own weight not counted.
    pub carries: f64,
    pub under: Under,
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
    let (carries, under) = carried_most(job, unit, placed, (span.in_mm(), depth.in_mm()));
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
        under,
        lipping,
        now,
        later: now * (1.0 + elastic.creep.unwrap_or(0.0)),
        elastic,
    })
}

/// The most that one of a bay's shelves carries, kg on each metre, over a span and depth in mm. An
/// appliance on a shelf loads it by its own mass, and where that is not said as machines load a shelf.
fn carried_most(
    job: &Job,
    unit: &Unit,
    placed: &PlacedBay,
    (span, depth): (f64, f64),
) -> (f64, Under) {
    let (mut most, mut under) = match unit.carries {
        Some(declared) => (declared.in_kg(), Under::Declared),
        None => (carried(unit.load, depth), Under::Use(unit.load)),
    };
    for put in &placed.appliances {
        let stands_on = |s: &super::placed::Shelf| s.z == put.bottom;
        if !placed.shelves.iter().any(stands_on) {
            continue; // on the bottom
        }
        let mass = job.appliances.get(put.which.0).and_then(|a| a.mass);
        let (its, by) = match mass {
            Some(mass) => (mass.in_kg() * 1000.0 / span, Under::Machine(put.which)),
            None if unit.carries.is_some() => continue,
            None => (carried(Load::Machines, depth), Under::Use(Load::Machines)),
        };
        if its > most {
            (most, under) = (its, by);
        }
    }
    (most, under)
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
    use crate::resolve::job::{Appliance, GoesIn};
    use crate::units::Mass;

    // reference-values.md §4.2 A (X): 800 × 300 × 18 MDF, 20 kg over the span (25 kg/m) → 4.07642,
    // and 0.65158 more by its own weight at 740 kg/m³; with creep 2.25 the sum is 15.366.
    #[test]
    fn the_reference_shelf() {
        let job = fixture::shelves(1);
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let at = &got.runs[0].units[0];
        let unit = &job.runs[0].units[0];
        let sag = |lipping| sag_of(&job, unit, at, &at.bays[0], lipping).unwrap();
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

    // By hand: 60 kg on a shelf that spans 800 are 75 kg/m, and with its own 3.996 of the shelf above
    // (5·0.774686·800⁴/(384·2200·145 800)) 12.881 mm; of unknown mass 150 kg/m²·0.3 = 45 kg/m. What
    // stands on the bottom loads no shelf.
    #[test]
    fn a_machine_loads_its_shelf_by_its_own_mass() {
        let mut job = fixture::shelves(0);
        let bay = &mut job.runs[0].units[0].bays[0];
        bay.fixed = vec![Length::mm(700)];
        let machine = |mass: Option<i64>| Appliance {
            key: "m".into(),
            name: "Machine".into(),
            width: Length::mm(500),
            height: Length::mm(500),
            depth: Length::mm(250),
            supplied: "client".into(),
            needs: Vec::new(),
            goes_in: GoesIn::BeforeFronts,
            mass: mass.map(|kg| Mass::grams(kg * 1000)),
            opens: None,
            reach: None,
        };
        let mut with = |mass, count| {
            job.appliances = vec![machine(mass)];
            job.runs[0].units[0].bays[0].appliances = vec![ApplianceRef(0); count];
            let got = reckon(&job, &mut Diagnostics::default()).unwrap();
            let at = &got.runs[0].units[0];
            sag_of(&job, &job.runs[0].units[0], at, &at.bays[0], Length::ZERO).unwrap()
        };
        let one = with(Some(60), 1);
        assert!(
            matches!(one.under, Under::Use(_) | Under::Declared),
            "{one:?}"
        );
        let stacked = with(Some(60), 2);
        assert_eq!(stacked.under, Under::Machine(ApplianceRef(0)));
        assert!((stacked.carries - 75.0).abs() < 1e-9, "{stacked:?}");
        assert!((stacked.now - 12.881).abs() < 0.001, "{}", stacked.now);
    }
}
