//! Mass by volume and density. Knows boards; must not know who carries them.

use super::placed::{PlacedBay, PlacedUnit};
use super::setting_out::Stand;
use crate::resolve::job::{Job, Material, Unit};
use crate::units::{Length, Mass};

/// Of a board: length × width × thickness × density, exact to the gram (handbook §3).
pub fn board(length: Length, width: Length, material: &Material) -> Mass {
    slab(length, width, material.thickness, material.density)
}

/// Of a block: sizes as lengths, density in kg/m³. 1 µm³ × 1 kg/m³ is 10⁻¹⁵ g.
pub fn slab(length: Length, width: Length, thickness: Length, density: u32) -> Mass {
    let sizes = [length, width, thickness].map(|l| i128::from(l.in_um().max(0)));
    let [a, b, c] = sizes;
    // 100 m × 100 m × 100 m of the densest thing u32 can say still fits in i128.
    let grams = (a * b * c * i128::from(density) + 500_000_000_000_000) / 1_000_000_000_000_000;
    Mass::grams(i64::try_from(grams).unwrap_or(i64::MAX / 4))
}

/// Of a carcass with its back, laid on behind its other boards, and shelves and their lippings, without fronts, inner drawers, appliances or hardware.
/// Nothing is taken off for drilling and notches.
pub fn carcass(job: &Job, unit: &Unit, stand: &Stand, bays: &[PlacedBay]) -> Mass {
    let side = job.material(unit.carcass);
    let back = unit.back.map(|m| job.material(m));
    let (width, height) = (stand.right - stand.left, stand.top - stand.base);
    let between = width - side.thickness * 2;
    let clear = height - side.thickness * 2;
    let deep = unit.depth - back.map_or(Length::ZERO, |b| b.thickness);
    let pairs = [board(height, deep, side), board(between, deep, side)];
    let mut total = pairs
        .into_iter()
        .fold(Mass::default(), |sum, m| sum + m + m);
    for _ in 1..bays.len() {
        total = total + board(clear, deep, side);
    }
    for bay in bays {
        let width = bay.right - bay.left;
        for shelf in &bay.shelves {
            let lipping = board(width, shelf.lipping, side);
            total = total + board(width, deep, side) + lipping;
        }
    }
    match back {
        Some(back) => total + board(height, width, back),
        None => total,
    }
}

/// Of the shelves that lie loose in a carcass, with their lippings.
pub fn loose_shelves(job: &Job, unit: &Unit, at: &PlacedUnit) -> Mass {
    let side = job.material(unit.carcass);
    let mut total = Mass::default();
    for bay in &at.bays {
        let width = bay.right - bay.left;
        for shelf in bay.shelves.iter().filter(|s| !s.fixed) {
            let lipping = board(width, shelf.lipping, side);
            total = total + board(width, at.depth - at.back, side) + lipping;
        }
    }
    total
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::super::inside;
    use super::*;
    use crate::diag::Diagnostics;
    use crate::resolve::job::Side;

    // reference-values.md §3.4 "X: masses".
    #[test]
    fn boards_weigh_what_the_reference_says() {
        for (density, length, width, um, grams) in [
            (740, 2440, 1220, 18_000, 39_651),
            (650, 2800, 2070, 18_000, 67_813),
            (680, 2440, 1220, 18_000, 36_436),
            (740, 2100, 600, 22_000, 20_513),
            (1350, 3050, 650, 12_000, 32_117),
        ] {
            let got = slab(
                Length::mm(length),
                Length::mm(width),
                Length::um(um),
                density,
            );
            assert_eq!(got, Mass::grams(grams));
        }
    }

    // By hand, kg: ply 680, 18 thick: 580 deep less the back's 9: sides
    // 2·1.9·0.571·0.018·680 = 26.559; bottom and top 2·0.564·0.571·0.018·680 = 7.884; shelf half of
    // these, 3.942; back 1.9·0.6·0.009·680 = 6.977. Together 45.361.
    #[test]
    fn a_carcass_is_its_boards() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].shelves = 1;
        let stand = Stand {
            left: Length::ZERO,
            right: Length::mm(600),
            base: Length::mm(100),
            top: Length::mm(2000),
        };
        let bays = inside::bays(
            &job,
            &unit,
            (&stand, Side::Right),
            &[],
            &mut Diagnostics::default(),
        )
        .unwrap();
        assert_eq!(carcass(&job, &unit, &stand, &bays).to_string(), "45.4");
    }

    // The same with a lipping 40 deep under the shelf: 0.564·0.04·0.018·680 kg = 276 g more.
    #[test]
    fn a_lipping_is_weighed() {
        let job = fixture::job([3000; 4]);
        let stand = Stand {
            left: Length::ZERO,
            right: Length::mm(600),
            base: Length::mm(100),
            top: Length::mm(2000),
        };
        let weighed = |lipping| {
            let mut unit = fixture::run(1).units.remove(0);
            unit.bays[0].shelves = 1;
            unit.bays[0].lipping = lipping;
            let bays = inside::bays(
                &job,
                &unit,
                (&stand, Side::Right),
                &[],
                &mut Diagnostics::default(),
            );
            carcass(&job, &unit, &stand, &bays.unwrap()).in_grams()
        };
        let more = weighed(Length::mm(40)) - weighed(Length::ZERO);
        assert_eq!(more, 276);
    }
}
