//! How a carcass is put together and what its feet stand on: joints, the fixings in them, packers. Knows
//! boards and feet; must not know how a unit is carried.

use super::placed::{PlacedRun, PlacedUnit};
use crate::resolve::job::{HardwareRef, Job, Side};
use crate::units::Length;

/// Fixings in a joint: one for each so many of its depth, begun, and two at the least (common practice,
/// no source).
const EACH: Length = Length::mm(250);
/// Screws of a back: one for each so many of its way round, begun (common practice, no source).
const BACK_EACH: Length = Length::mm(200);

/// Pins under a movable shelf (common practice, no source).
const PINS: usize = 4;
/// Between two units side by side: two for each so much of the height they share, begun (common practice,
/// no source).
const CONNECT_EACH: Length = Length::mm(1200);

/// What is fitted besides joints.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fittings {
    /// Pins under movable shelves.
    pub pins: u32,
    /// Connectors to the units beside it, each of which counts them too.
    pub connectors: u32,
}

/// Ends of boards that meet a side, the bottom or the top, and what holds each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Joints {
    /// Of bottom and top with the sides.
    pub corners: u32,
    /// Of fixed shelves with sides and uprights.
    pub shelves: u32,
    /// Of uprights with bottom and top.
    pub uprights: u32,
    /// Fixings in each.
    pub each: u32,
    /// Screws of the back.
    pub back: u32,
}

impl Joints {
    pub fn count(self) -> u32 {
        let all = self.corners.saturating_add(self.shelves);
        all.saturating_add(self.uprights)
    }

    pub fn fixings(self) -> u32 {
        self.count().saturating_mul(self.each)
    }
}

/// Of one unit in its run.
pub fn fittings(run: &PlacedRun, unit: &PlacedUnit) -> Fittings {
    let shelves = unit.bays.iter().flat_map(|b| &b.shelves);
    let loose = shelves.filter(|s| !s.fixed).count();
    let all = connected(run, unit);
    Fittings {
        pins: u32::try_from(loose.saturating_mul(PINS)).unwrap_or(u32::MAX),
        connectors: all.iter().map(|c| c.2).fold(0, u32::saturating_add),
    }
}

/// Units beside one that it is connected to: at which of its sides, which, and by how many.
pub fn connected<'a>(run: &'a PlacedRun, unit: &PlacedUnit) -> Vec<(Side, &'a str, u32)> {
    let shared = |other: &PlacedUnit| unit.top.min(other.top) - unit.base.max(other.base);
    let each = run.units.iter().filter_map(|other| {
        let side = match () {
            () if other.right == unit.left => Side::Left,
            () if other.left == unit.right => Side::Right,
            () => return None,
        };
        let high = Some(shared(other)).filter(|h| *h > Length::ZERO)?;
        let number = begun(high, CONNECT_EACH).saturating_mul(2);
        Some((side, other.id.as_str(), number))
    });
    each.collect()
}

/// How many stretches of `each` begin in a length.
fn begun(length: Length, each: Length) -> u32 {
    let n = (length.in_um().max(0) + each.in_um() - 1) / each.in_um();
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Of one carcass; movable shelves lie on pins and have none.
pub fn joints(unit: &PlacedUnit) -> Joints {
    let many = |n: usize| u32::try_from(n.saturating_mul(2)).unwrap_or(u32::MAX);
    let fixed = unit
        .bays
        .iter()
        .flat_map(|b| &b.shelves)
        .filter(|s| s.fixed);
    Joints {
        corners: 4,
        shelves: many(fixed.count()),
        uprights: many(unit.bays.len().saturating_sub(1)),
        each: begun(unit.depth - unit.back, EACH).max(2),
        back: match unit.back > Length::ZERO {
            true => begun((unit.width() + unit.height()) * 2, BACK_EACH),
            false => 0,
        },
    }
}

/// What must lie under feet that do not reach down: the foot, in the unit's order, and how much.
pub fn packers(job: &Job, foot: Option<HardwareRef>, unit: &PlacedUnit) -> Vec<(usize, Length)> {
    let range = foot.and_then(|f| job.hardware.get(f.0)?.range);
    let Some((_, highest)) = range else {
        return Vec::new();
    };
    let feet = unit.feet.iter().enumerate();
    let short = feet.map(|(n, foot)| (n, foot.height - highest));
    short.filter(|(_, more)| *more > Length::ZERO).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    // By hand: two bays with one fixed shelf between them: 4 corners, 2 of the shelf, 2 of the upright;
    // 571 deep before the back: three fixings in each, 24; a back of 600 × 1900: 5000 round, 25 screws.
    #[test]
    fn joints_are_the_ends_of_boards() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        let mut run = fixture::run(1);
        run.units[0].bays.push(fixture::bay());
        run.units[0].bays[0].fixed = vec![Length::mm(1000)];
        run.units[0].bays[1].shelves = 3;
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let joints = joints(&got.runs[0].units[0]);
        assert_eq!((joints.corners, joints.shelves, joints.uprights), (4, 2, 2));
        assert_eq!((joints.each, joints.fixings(), joints.back), (3, 24, 25));
    }

    // By hand: three movable shelves, 12 pins; two units 1900 high side by side: 1200 and what is left,
    // two for each, 4, counted with both.
    #[test]
    fn pins_and_connectors() {
        let mut job = fixture::job([1200, 3000, 1200, 3000]);
        job.runs = vec![fixture::run(2)];
        job.runs[0].units[0].bays[0].shelves = 3;
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let of = |u: usize| fittings(&got.runs[0], &got.runs[0].units[u]);
        let want = |pins, connectors| Fittings { pins, connectors };
        assert_eq!((of(0), of(1)), (want(12, 4), want(0, 4)));
    }

    // By hand: the floor falls 40 over 3000 under a base of 100; the foot goes to 120. At 2950 of 3000
    // (50 from the right side) it needs 139.33, to the half-millimetre 139.5: 19.5 more.
    #[test]
    fn a_foot_that_does_not_reach_down_stands_on_a_packer() {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].walls[0].floor = fixture::line(&[(0, 0), (3000, -40)]);
        let mut run = fixture::run(1);
        run.units[0].width = Some(Length::mm(3000));
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let packed = packers(&job, Some(fixture::FOOT), &got.runs[0].units[0]);
        let feet: Vec<usize> = packed.iter().map(|p| p.0).collect();
        assert_eq!(feet, [2, 5], "the right ones of both rows");
        assert_eq!(packed[0].1, Length::um(19_500));
        assert!(packers(&job, None, &got.runs[0].units[0]).is_empty());
    }
}
