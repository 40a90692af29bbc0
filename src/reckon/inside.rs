//! The inside of a unit and how it is parted into bays. Knows boards and clear widths; must not know
//! fronts or the room.
//!
//! A carcass: sides the full height, bottom and top between them, bays parted by dividers, all of
//! the carcass's board; fixed and movable shelves too.

use super::contents::{Filler, no_room};
use super::placed::PlacedBay;
use super::setting_out::Stand;
use super::{profile, share};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{Job, Side, Unit};
use crate::units::Length;

/// The least clear width or height worth making (common practice, no source).
pub const LEAST: Length = Length::mm(40);

/// What a drawer front has behind it: its drawer.
#[derive(Clone, Copy, Debug)]
pub struct Behind {
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
}

/// Clear width between the sides, and the height of the faces of bottom and top; an error when
/// there is nothing between them.
pub fn room(
    job: &Job,
    unit: &Unit,
    stand: &Stand,
    diags: &mut Diagnostics,
) -> Option<(Length, Length, Length)> {
    let board = job.material(unit.carcass).thickness;
    let (bottom, top) = (stand.base + board, stand.top - board);
    let inner = stand.right - stand.left - board * 2;
    if inner < LEAST || top - bottom < LEAST {
        let what = format!(
            "unit “{}” has less than {LEAST} mm left between its boards",
            unit.id
        );
        let size = format!(
            "comes out {} × {} mm",
            stand.right - stand.left,
            stand.top - stand.base
        );
        let help = "make it larger, or its board thinner";
        diags.push(no_room(unit.place, what, help).label(size));
        return None;
    }
    Some((inner, bottom, top))
}

/// Bays left to right. Bay widths share what dividers leave, to whole half-millimetres, the bay at the far
/// side taking what is left over.
pub fn bays(
    job: &Job,
    unit: &Unit,
    (stand, far): (&Stand, Side),
    behind: &[Behind],
    diags: &mut Diagnostics,
) -> Option<Vec<PlacedBay>> {
    let (inner, bottom, top) = room(job, unit, stand, diags)?;
    let board = job.material(unit.carcass).thickness;
    let wanted: Vec<Option<Length>> = unit.bays.iter().map(|b| b.width).collect();
    let mut widths = bay_widths(unit, (inner, far), &wanted, board, diags)?;
    if widths.is_empty() {
        widths.push(inner);
    }
    let mut left = stand.left + board;
    let mut out = Vec::with_capacity(widths.len());
    let mut good = true;
    for (i, width) in widths.into_iter().enumerate() {
        let mut placed = PlacedBay {
            left,
            right: left + width,
            bottom,
            top,
            shelves: Vec::new(),
            rails: Vec::new(),
            drawers: Vec::new(),
            appliances: Vec::new(),
        };
        if let Some(bay) = unit.bays.get(i) {
            let mut filler = Filler {
                job,
                unit,
                bay,
                base: stand.base,
                board,
                behind,
                diags,
            };
            good &= filler.fill(&mut placed).is_some();
        }
        left += width + board;
        out.push(placed);
    }
    good.then_some(out)
}

fn bay_widths(
    unit: &Unit,
    (inner, far): (Length, Side),
    wanted: &[Option<Length>],
    board: Length,
    diags: &mut Diagnostics,
) -> Option<Vec<Length>> {
    let shares = match share::share(inner, wanted, board) {
        Ok(shares) => shares,
        Err(missing) => {
            let what = format!(
                "the bays of unit “{}” are {missing} mm too wide for it",
                unit.id
            );
            diags.push(no_room(
                unit.place,
                what,
                "make a bay narrower, or leave out its width",
            ));
            return None;
        }
    };
    let slack = profile::HALF_MM * wanted.len() as i64;
    if !wanted.is_empty() && wanted.iter().all(Option::is_some) && shares.left_over > slack {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                unit.place,
                format!(
                    "the bays of unit “{}” leave {} mm of its inside over",
                    unit.id, shares.left_over
                ),
            )
            .label(format!("{inner} mm wide inside"))
            .help("leave out the width of one bay, so that it takes what the others leave"),
        );
        return None;
    }
    let mut widths = shares.sizes;
    if widths.iter().any(|w| *w < LEAST) {
        let what = format!("a bay of unit “{}” has less than {LEAST} mm left", unit.id);
        diags.push(no_room(
            unit.place,
            what,
            "take out a bay, or make another narrower",
        ));
        return None;
    }
    let last = match far {
        Side::Left => widths.first_mut(),
        Side::Right => widths.last_mut(),
    };
    if let Some(last) = last {
        *last += shares.left_over;
    }
    Some(widths)
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::resolve::job::{Appliance, ApplianceRef};

    fn stand(width: i64, height: i64) -> Stand {
        Stand {
            left: Length::ZERO,
            right: Length::mm(width),
            base: Length::mm(100),
            top: Length::mm(100 + height),
        }
    }

    fn placed(job: &Job, unit: &Unit, stand: &Stand) -> Result<Vec<PlacedBay>, String> {
        let mut diags = Diagnostics::default();
        match bays(job, unit, (stand, Side::Right), &[], &mut diags) {
            Some(bays) => Ok(bays),
            None => Err(diags.sorted().remove(0).message),
        }
    }

    // By hand: 1000 − 2·18 − 18 = 946; fixed 300 leaves 646 for the other.
    #[test]
    fn bays_share_what_the_dividers_leave() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays = vec![fixture::bay(), fixture::bay()];
        unit.bays[0].width = Some(Length::mm(300));
        let bays = placed(&job, &unit, &stand(1000, 1900)).unwrap();
        assert_eq!(
            (bays[0].left, bays[0].right),
            (Length::mm(18), Length::mm(318))
        );
        assert_eq!(
            (bays[1].left, bays[1].right),
            (Length::mm(336), Length::mm(982))
        );
        unit.bays[1].width = Some(Length::mm(640));
        let message = placed(&job, &unit, &stand(1000, 1900)).unwrap_err();
        assert!(message.contains("leave 6 mm"), "{message}");
        unit.bays[1].width = Some(Length::mm(660));
        let message = placed(&job, &unit, &stand(1000, 1900)).unwrap_err();
        assert!(message.contains("14 mm too wide"), "{message}");
    }

    // By hand: carcass 2000 from 100; fixed shelf top at 1850, so the clear below is 18..1832 above
    // the underside; two inner drawers of 180 take 360 of it: 378..1832 = 1454; 4 shelves of 18
    // leave 1382/5 = 276.4 → 276; first shelf top 378 + 276 + 18 = 672.
    #[test]
    fn shelves_spread_over_the_tallest_clear_height() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].fixed = vec![Length::mm(1850)];
        unit.bays[0].drawers = 2;
        unit.bays[0].shelves = 4;
        let bays = placed(&job, &unit, &stand(600, 2000)).unwrap();
        let z: Vec<Length> = bays[0]
            .shelves
            .iter()
            .map(|s| s.z - Length::mm(100))
            .collect();
        assert_eq!(z, [672, 966, 1260, 1554, 1850].map(Length::mm));
        assert_eq!(bays[0].drawers[1], (Length::mm(298), Length::mm(478)));
        unit.bays[0].shelves = u32::MAX;
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
        unit.bays[0].shelves = 0;
        unit.bays[0].drawers = u32::MAX;
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
    }

    // By hand: clear below a shelf at 1790 is 1790 − 18 − 18 = 1754, 16 short of 1770.
    #[test]
    fn an_appliance_too_high_says_by_how_much() {
        let mut job = fixture::job([3000; 4]);
        job.appliances = vec![Appliance {
            key: "fridge".into(),
            name: "Fridge".into(),
            width: Length::mm(560),
            height: Length::mm(1770),
            depth: Length::mm(550),
            supplied: String::new(),
            needs: vec![],
            goes_in: crate::resolve::job::GoesIn::BeforeFronts,
            mass: None,
            opens: None,
            reach: None,
        }];
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].fixed = vec![Length::mm(1790)];
        unit.bays[0].appliances = vec![ApplianceRef(0)];
        let message = placed(&job, &unit, &stand(600, 2100)).unwrap_err();
        assert!(message.contains("16 mm too high"), "{message}");
        unit.bays[0].fixed = vec![Length::mm(1810)];
        let bays = placed(&job, &unit, &stand(600, 2100)).unwrap();
        let fridge = bays[0].appliances[0];
        assert_eq!(
            (fridge.left, fridge.bottom),
            (Length::mm(20), Length::mm(118))
        );
        unit.bays[0].appliances.push(ApplianceRef(0));
        let message = placed(&job, &unit, &stand(600, 2100)).unwrap_err();
        assert!(message.contains("too high"), "{message}");
    }

    // By hand: carcass 100..920; a drawer front from 657 up leaves 118..657 = 539 clear; one shelf of
    // 18 in the middle: 521/2 = 260.5; its top at 118 + 260.5 + 18 = 396.5.
    #[test]
    fn shelves_keep_clear_of_drawers() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].shelves = 1;
        let drawer = Behind {
            left: Length::mm(2),
            right: Length::mm(500),
            bottom: Length::mm(657),
            top: Length::mm(917),
        };
        let mut diags = Diagnostics::default();
        let bays = bays(
            &job,
            &unit,
            (&stand(600, 820), Side::Right),
            &[drawer],
            &mut diags,
        )
        .unwrap();
        assert_eq!(bays[0].shelves[0].z, Length::um(396_500));
    }

    #[test]
    fn a_shelf_or_rail_outside_its_carcass_is_refused() {
        let job = fixture::job([3000; 4]);
        for height in [10, 30, 2000, 5000] {
            let mut unit = fixture::run(1).units.remove(0);
            unit.bays[0].fixed = vec![Length::mm(height)];
            let got = placed(&job, &unit, &stand(600, 2000));
            assert!(got.is_err(), "{height}");
        }
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].rails = vec![Length::mm(2100)];
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
    }
}
