//! Each unit as the fitters handle it: what is carried, along which way in, and how it is raised. Knows units as placed; must not know the order they are fitted in.

use super::access::{Box3, Passing, passing};
use super::joints::{self, Fittings, Joints};
use super::mass;
use super::placed::{PlacedFront, PlacedRoom, PlacedRun, PlacedUnit};
use super::points::{self, BackHole};
use super::stand_up::{StandUp, stand_up};
use crate::resolve::job::{Job, Unit};
use crate::units::{Length, Mass};

#[derive(Clone, Debug, PartialEq)]
pub struct Handling {
    /// What is carried in: the unit without its fronts, or the largest board of one put together on
    /// site.
    pub carried: Box3,
    pub mass: Mass,
    /// With its movable shelves taken out; `None`: it has none, or comes in boards.
    pub stripped: Option<Mass>,
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
                let (carried, mass) = carried(job, unit, at, fronts);
                let stand_up = match unit.build_in_place {
                    true => None,
                    false => stand_up(job, rooms, run.wall, placed, unit, at),
                };
                Handling {
                    carried,
                    mass,
                    stripped: stripped(job, unit, at, mass),
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

fn stripped(job: &Job, unit: &Unit, at: &PlacedUnit, whole: Mass) -> Option<Mass> {
    let loose = mass::loose_shelves(job, unit, at).in_grams();
    let left = whole.in_grams().saturating_sub(loose).max(0);
    (loose > 0 && !unit.build_in_place).then(|| Mass::grams(left))
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
