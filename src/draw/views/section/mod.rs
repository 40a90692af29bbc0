//! Sections through the kinds of unit, square to the wall, seen with the wall at the left.
//! Knows what a cut through a unit meets; must not know paper, nor work out a size of the furniture.

mod chains;
mod cut;
mod group;
mod shell;

pub use group::sections;

use super::pen::Pen;
use super::{file_word, legend};
use crate::draw::scene::Scene;
use crate::reckon::placed::{PlacedBay, PlacedRun, PlacedUnit, Reckoned};
use crate::resolve::job::{Job, Run, Wall};

/// Where one section cuts.
struct Cut<'a> {
    job: &'a Job,
    reckoned: &'a Reckoned,
    wall: &'a Wall,
    run: &'a PlacedRun,
    made: &'a Run,
    /// Along the wall, mm.
    x: f64,
    /// What the cut meets: (run, unit, bay), the unit itself first.
    met: Vec<(&'a PlacedRun, &'a PlacedUnit, &'a PlacedBay)>,
    pen: Pen,
}

/// Through one bay of one unit; `None` if there is no such run, unit or bay.
pub fn section(
    job: &Job,
    reckoned: &Reckoned,
    run: usize,
    unit: usize,
    bay: usize,
) -> Option<Scene> {
    let (placed, made) = (reckoned.runs.get(run)?, job.runs.get(run)?);
    let placed_unit = placed.units.get(unit)?;
    let cut_bay = placed_unit.bays.get(bay)?;
    let x = (cut_bay.left + cut_bay.right).half();
    let mut met = vec![(placed, placed_unit, cut_bay)];
    for other in reckoned.runs.iter().filter(|r| r.wall == placed.wall) {
        for u in other.units.iter().filter(|u| u.left < x && x < u.right) {
            let same = std::ptr::eq(u, placed_unit);
            let through = u
                .bays
                .iter()
                .find(|b| b.left <= x && x <= b.right)
                .or(u.bays.first());
            if let (false, Some(b)) = (same, through) {
                met.push((other, u, b));
            }
        }
    }
    let mut cut = Cut {
        job,
        reckoned,
        wall: job.wall(placed.wall),
        run: placed,
        made,
        x: x.in_mm(),
        met,
        pen: Pen::default(),
    };
    shell::shell(&mut cut);
    cut::units(&mut cut);
    cut::plinth(&mut cut);
    cut::worktop(&mut cut, run);
    chains::chains(&mut cut);
    let mut scene = cut.pen.scene;
    scene.id = format!("section-{}", file_word(&placed_unit.id));
    scene.legend = legend::section(&scene);
    Some(scene)
}
