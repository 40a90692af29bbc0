//! Elevation of one wall as seen from inside the room, fronts shut or interiors open. Knows in
//! which order things hide one another; must not know paper, nor work out a size of the furniture.

mod chains;
mod findings;
mod fronts;
mod gaps;
mod heights;
mod inside;
mod loose;
mod notes;
mod partings;
mod room;
mod services;
mod units;
mod widths;

use super::pen::{Pen, up};
use super::{Face, legend, survey, told, words};
use crate::draw::scene::{Pt, Rect, Scene};
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedUnit, Reckoned};
use crate::resolve::job::{Job, MaterialRef, Reader, Run, Side, Wall, WallRef};
use crate::risks::Marks;

/// A lining thinner than this is not seen at 1:20, mm.
const SEEN_MM: f64 = 6.0;

/// What one elevation looks at.
struct Sight<'a> {
    job: &'a Job,
    reckoned: &'a Reckoned,
    marks: &'a Marks,
    at: WallRef,
    wall: &'a Wall,
    face: Face,
    reader: Reader,
    pen: Pen,
}

/// The wall `at`, for one reader.
pub fn elevation(
    job: &Job,
    (reckoned, marks): (&Reckoned, &Marks),
    at: WallRef,
    face: Face,
    reader: Reader,
) -> Scene {
    let mut sight = Sight {
        job,
        reckoned,
        marks,
        at,
        wall: job.wall(at),
        face,
        reader,
        pen: Pen::default(),
    };
    sight.pen.scene.id = super::elevation_id(job, at, face);
    sight.pen.scene.title = words::elevation_title(job, reckoned, at, face);
    let length = job.wall(at).length;
    sight.pen.scene.told = told::elevation(job, reckoned, at, face);
    sight.pen.scene.along = Some((0.0, length.in_mm()));
    let (left, right) = (f64::NEG_INFINITY, f64::INFINITY);
    sight.pen.scene.alt = format!(
        "{} Wall {length} long.",
        sight.pen.scene.alt_between(left, right)
    );

    room::shell(&mut sight);
    room::openings(&mut sight);
    loose::panels(&mut sight);
    for index in sight.by_depth() {
        units::strips(&mut sight, index);
        units::carcasses(&mut sight, index);
        units::plinths(&mut sight, index);
    }
    loose::worktops(&mut sight);
    loose::sliding(&mut sight);
    room::covered_openings(&mut sight);
    room::round_the_corners(&mut sight);
    room::datum(&mut sight);
    services::services(&mut sight);
    chains::chains(&mut sight);
    notes::notes(&mut sight);
    findings::findings(&mut sight);
    sight.pen.scene.may_part_at = partings::partings(&sight);

    if face == Face::Shut {
        sight.pen.scene.gaps = gaps::gaps(&sight);
    }
    let facts = sight.facts();
    let mut scene = sight.pen.scene;
    scene.legend = legend::elevation(job, &scene, &facts);
    scene
}

impl<'a> Sight<'a> {
    /// Runs on this wall with their index.
    fn runs(&self) -> Vec<(usize, &'a Run, &'a PlacedRun)> {
        let (job, reckoned) = (self.job, self.reckoned);
        (job.runs.iter().zip(&reckoned.runs).enumerate())
            .filter(|(_, (_, placed))| placed.wall == self.at)
            .map(|(i, (run, placed))| (i, run, placed))
            .collect()
    }

    /// Deepest towards the wall first, so that what stands nearer hides what is behind.
    fn by_depth(&self) -> Vec<usize> {
        let mut runs: Vec<_> = self
            .runs()
            .iter()
            .map(|(i, _, run)| {
                let face = run.units.iter().map(|u| run.y_back + u.depth).max();
                (face, *i)
            })
            .collect();
        runs.sort();
        runs.into_iter().map(|(_, i)| i).collect()
    }

    fn fronts_of(&self, unit: &PlacedUnit) -> Vec<&'a PlacedFront> {
        let reckoned = self.reckoned;
        unit.fronts
            .iter()
            .filter_map(|i| reckoned.fronts.get(*i))
            .collect()
    }

    /// Boxes that hide what is behind them in this view.
    fn hides(&self, p: Pt) -> bool {
        if self.face == Face::Open {
            return false;
        }
        let fronts = self.reckoned.fronts.iter().filter(|f| f.wall == self.at);
        let panels = self.reckoned.panels.iter().filter(|q| q.wall == self.at);
        let leaves = self.reckoned.sliding.iter().filter(|q| q.wall == self.at);
        use super::pen::box_of;
        fronts
            .map(|f| box_of(f.left, f.right, f.bottom, f.top))
            .any(|b| b.holds(p))
            || leaves
                .map(|l| box_of(l.left, l.right, l.bottom, l.top))
                .any(|b| b.holds(p))
            || panels
                .filter_map(|q| {
                    let (left, right) = (q.pieces.first()?.0, q.pieces.last()?.1);
                    Some(box_of(left, right, q.bottom, q.top))
                })
                .any(|b| b.holds(p))
    }

    /// Everything between floor and ceiling, corner to corner.
    fn extent(&self) -> Rect {
        let floor = survey::floor_line(self.wall);
        let ceiling = survey::ceiling_line(self.job, self.reckoned, self.at);
        let low = floor.iter().map(|p| p.1).fold(0.0, f64::min);
        let high = ceiling.iter().map(|p| p.1).fold(0.0, f64::max);
        let (a, b) = (up(0.0, high), up(self.wall.length.in_mm(), low));
        Rect {
            x0: a.x,
            y0: a.y,
            x1: b.x,
            y1: b.y,
        }
    }

    /// What lines and fills of one kind stand for on this wall.
    fn facts(&self) -> legend::Facts {
        let (r, here, open) = (self.reckoned, self.at, self.face == Face::Open);
        let runs = self.runs();
        let units = || runs.iter().flat_map(|(.., run)| &run.units);
        let bays = || units().flat_map(|u| &u.bays);
        let machines = bays().any(|b| !b.appliances.is_empty());
        let sliding = r.sliding.iter().any(|s| s.wall == here);
        let mut tops = r.worktops.iter().filter(|t| t.wall == here);
        let lined = [Side::Left, Side::Right].into_iter().any(|side| {
            let (wall, face) = survey::corner_at(self.job, self.at, side, 0.0);
            (wall - face).abs() >= SEEN_MM
        });
        let notched = |u: &PlacedUnit| {
            let bare = open || u.fronts.is_empty();
            bare && u.notches.iter().any(|n| inside::is_seen(self, n))
        };
        legend::Facts {
            hidden: !open && (machines || sliding && !self.wall.doors.is_empty()),
            slid_open: sliding,
            notched: units().any(notched),
            cut_out: tops.any(|t| !t.cutouts.is_empty()),
            rails: bays().any(|b| !b.rails.is_empty()),
            lined,
        }
    }

    fn grain(&self, material: MaterialRef, along: bool) -> crate::draw::scene::Fill {
        super::grain_fill(self.job, material, along)
    }
}
