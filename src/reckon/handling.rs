//! Each unit as the fitters handle it: what is carried, along which way in, and how it is raised; and the machines
//! that go into it. Knows units as placed; must not know the order they are fitted in.

use super::access::{Box3, Passing, passing};
use super::joints::{self, Fittings, Joints};
use super::placed::{PlacedFront, PlacedRoom, PlacedRun, PlacedUnit};
use super::points::{self, BackHole};
use super::stand_up::{StandUp, stand_up};
use super::{drawers, mass};
use crate::resolve::job::{ApplianceRef, Job, Unit};
use crate::units::{Length, Mass};

#[derive(Clone, Debug, PartialEq)]
pub struct Handling {
    /// What is carried in: the unit without its fronts, or the largest board of one put together on
    /// site.
    pub carried: Box3,
    /// As it is carried: without its fronts, drawers and loose shelves. Of a unit put together on site, the
    /// heaviest board.
    pub mass: Mass,
    /// With its drawers and loose shelves left in; `None`: it has none, or comes in boards.
    pub left_in: Option<Mass>,
    pub machines: Vec<Machine>,
    /// `None`: put together on site, or lifted onto its place.
    pub stand_up: Option<StandUp>,
    pub joints: Joints,
    pub fittings: Fittings,
    pub holes: Vec<BackHole>,
    /// Under feet that do not reach down: the foot, and how much.
    pub packers: Vec<(usize, Length)>,
    /// Same order as the job's way in.
    pub way_in: Vec<Passing>,
}

/// A machine that goes into a unit, as it is carried: from the longest side to the shortest.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    pub which: ApplianceRef,
    pub size: Box3,
    /// Same order as the job's way in.
    pub way_in: Vec<Passing>,
}

/// By run and unit, as the job has them.
pub fn handle(
    job: &Job,
    rooms: &[PlacedRoom],
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
) -> Vec<Vec<Handling>> {
    let each = job.runs.iter().zip(runs);
    each.map(|(run, placed)| {
        let units = run.units.iter().zip(&placed.units);
        units
            .map(|(unit, at)| {
                let (carried, left_in) = carried(job, unit, at, fronts);
                let loose = match unit.build_in_place {
                    true => Mass::default(),
                    false => comes_out(job, unit, at),
                };
                let bare = left_in.in_grams().saturating_sub(loose.in_grams());
                let stand_up = match unit.build_in_place {
                    true => None,
                    false => stand_up(job, rooms, run.wall, placed, unit, at),
                };
                Handling {
                    carried,
                    mass: Mass::grams(bare.max(0)),
                    left_in: (loose > Mass::default()).then_some(left_in),
                    machines: machines(job, at),
                    stand_up,
                    joints: joints::joints(at),
                    fittings: joints::fittings(placed, at),
                    holes: points::holes(job.wall(run.wall), placed, at),
                    packers: joints::packers(job, run.foot, at),
                    way_in: job.way_in.iter().map(|o| passing(carried, o)).collect(),
                }
            })
            .collect()
    })
    .collect()
}

/// Drawers and loose shelves: they come out by hand, as fronts do.
fn comes_out(job: &Job, unit: &Unit, at: &PlacedUnit) -> Mass {
    let boxes = at.boxes.iter().map(|b| drawers::weigh(job, b));
    boxes.fold(mass::loose_shelves(job, unit, at), |sum, m| sum + m)
}

/// Those in its bays, in their order.
fn machines(job: &Job, at: &PlacedUnit) -> Vec<Machine> {
    let inside = at.bays.iter().flat_map(|b| &b.appliances);
    let each = inside.filter_map(|a| {
        let made = job.appliances.get(a.which.0)?;
        let size = Box3::new(made.width, made.height, made.depth);
        Some(Machine {
            which: a.which,
            size,
            way_in: job.way_in.iter().map(|o| passing(size, o)).collect(),
        })
    });
    each.collect()
}

fn carried(job: &Job, unit: &Unit, at: &PlacedUnit, fronts: &[PlacedFront]) -> (Box3, Mass) {
    if !unit.build_in_place {
        let hung = at.fronts.iter().filter_map(|i| fronts.get(*i));
        let hung: i64 = hung.map(|f| f.mass.in_grams()).fold(0, i64::saturating_add);
        let mass = at.mass.in_grams().saturating_sub(hung).max(0);
        let whole = Box3::new(at.width(), at.height(), at.depth);
        return (whole, Mass::grams(mass));
    }
    let board = job.material(unit.carcass);
    let back = unit.back.map(|b| job.material(b));
    let deep = at.depth - at.back;
    let mut boards = vec![
        (at.height(), deep, board),
        (at.width() - board.thickness * 2, deep, board),
    ];
    boards.extend(back.map(|b| (at.height(), at.width(), b)));
    let sizes = boards
        .iter()
        .map(|(a, b, m)| Box3::new(*a, *b, m.thickness));
    let masses = boards.iter().map(|(a, b, m)| mass::board(*a, *b, m));
    (
        sizes.max().unwrap_or_default(),
        masses.max().unwrap_or_default(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;
    use crate::resolve::job::{FrontKind, Obstacle, ObstacleKind};

    // By hand: a box 1864 − 40 = 1824 high, 538 wide, 550 long of 18 mm plywood at 680, its bottom 514 × 526 of 9
    // (drawers' tests): sides 2·0.55·1.824·0.018·680 = 24.558, ends 2·0.502·1.824·0.018·680 = 22.416, bottom
    // 0.514·0.526·0.009·680 = 1.655: 48.629 kg come out with it. The carcass has no shelf then: 45.361 less one
    // of 3.942 (mass's tests) is 41.419.
    #[test]
    fn drawers_come_out_before_a_unit_is_carried() {
        let mut job = fixture::job([3000; 4]);
        let mut run = fixture::run(1);
        run.to = Some(Length::mm(600));
        run.units[0].bays[0].shelves = 0;
        run.units[0].rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).expect("fits");
        let unit = &got.handling[0][0];
        assert_eq!(unit.mass, Mass::grams(41_419));
        assert_eq!(unit.left_in, Some(Mass::grams(41_419 + 48_629)));
    }

    // reference-values.md §10.3's formula, by hand for a = 910, b = 940, t = 550: at 45 degrees
    // (910 + 940)·√½ − 550 over ½ = 1516; 1770 does not go round lying, and standing √(1770² + 550²) = 1853.5
    // passes under 2400.
    #[test]
    fn a_machine_is_told_its_way_in() {
        let mut job = fixture::job([3000; 4]);
        job.way_in = vec![Obstacle {
            kind: ObstacleKind::Corner,
            what: "half landing".into(),
            width: Length::mm(910),
            height: Length::mm(2400),
            width_after: Some(Length::mm(940)),
        }];
        job.appliances = vec![fixture::appliance("fridge", [556, 1770, 550])];
        let mut run = fixture::run(1);
        run.units[0].bays[0].appliances = vec![ApplianceRef(0)];
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).expect("fits");
        let machine = &got.handling[0][0].machines[0];
        assert_eq!(
            machine.size,
            Box3::new(Length::mm(556), Length::mm(1770), Length::mm(550))
        );
        assert_eq!(machine.way_in, [Passing::Upright]);
    }
}
