//! From set-out frames to placed runs and fronts: each unit's inside, feet, notches, fronts and
//! mass brought together. Knows the order of these steps; the steps themselves are elsewhere.

use super::ceiling::{self, Stretch};
use super::fronts::FrontBox;
use super::handles::{self, Face};
use super::inside::Behind;
use super::placed::{PlacedFront, PlacedRoom, PlacedRun, PlacedUnit};
use super::setting_out::{Frame, Stand};
use super::{beside, drawers, feet, fronts, hinges, inside, mass, notches, travel};
use crate::diag::Diagnostics;
use crate::resolve::job::{FrontCell, FrontKind, Job, Lay, Run, Unit};
use crate::units::{Length, Mass};

/// Places what can be placed; what cannot is in `diags`. A run that could not be set out is left
/// out, so indices hold only when `diags` is empty.
pub fn build(
    job: &Job,
    rooms: &[PlacedRoom],
    frames: &[Option<Frame>],
    diags: &mut Diagnostics,
) -> (Vec<PlacedRun>, Vec<PlacedFront>) {
    let mut runs = Vec::with_capacity(job.runs.len());
    let mut all_fronts = Vec::new();
    for (index, (run, frame)) in job.runs.iter().zip(frames).enumerate() {
        let Some(frame) = frame else { continue };
        let mut units = Vec::with_capacity(run.units.len());
        for (number, (unit, stand)) in run.units.iter().zip(&frame.units).enumerate() {
            let at = Site {
                job,
                run,
                index: (index, number),
                frame,
                stand,
            };
            if inside::room(job, unit, stand, diags).is_none() {
                continue;
            }
            let fronts = at.fronts(unit, frames, diags).unwrap_or_default();
            let placed = at.unit(unit, &fronts, diags);
            all_fronts.extend(fronts);
            units.extend(placed);
        }
        runs.push(placed_run(job, rooms, run, frame, units));
    }
    (runs, all_fronts)
}

fn placed_run(
    job: &Job,
    rooms: &[PlacedRoom],
    run: &Run,
    frame: &Frame,
    units: Vec<PlacedUnit>,
) -> PlacedRun {
    let depth = units.iter().map(|u| u.depth_over_fronts).max();
    let over = Stretch {
        wall: run.wall,
        left: frame.left,
        right: frame.right,
        near: frame.y_back,
        far: frame.y_back + depth.unwrap_or_default(),
    };
    PlacedRun {
        wall: run.wall,
        opening: frame.opening.clone(),
        left: frame.left,
        right: frame.right,
        floor_high: frame.floor.high,
        floor_low: frame.floor.low,
        fall: frame.floor.fall,
        ceiling_low: ceiling::lowest(job, rooms, &over),
        pieces: frame.pieces.clone(),
        plinths: feet::plinths(&units, frame.y_back),
        units,
        y_back: frame.y_back,
    }
}

/// One unit where it stands.
struct Site<'a> {
    job: &'a Job,
    run: &'a Run,
    /// Of the run and of the unit in it.
    index: (usize, usize),
    frame: &'a Frame,
    stand: &'a Stand,
}

impl Site<'_> {
    fn unit(
        &self,
        unit: &Unit,
        fronts: &[PlacedFront],
        diags: &mut Diagnostics,
    ) -> Option<PlacedUnit> {
        let drawers = fronts.iter().filter(|f| f.kind == FrontKind::Drawer);
        let drawers: Vec<Behind> = drawers
            .map(|f| Behind {
                left: f.left,
                right: f.right,
                bottom: f.bottom,
                top: f.top,
            })
            .collect();
        let bays = inside::bays(
            self.job,
            unit,
            (self.stand, self.run.far()),
            &drawers,
            diags,
        )?;
        let wall = self.job.wall(self.run.wall);
        let y_back = self.frame.y_back;
        let notches = notches::notches(unit, self.stand, wall, y_back);
        let carcass = mass::carcass(self.job, unit, self.stand, &bays);
        let boxes = drawers::boxes(self.job, unit, &bays, fronts, y_back);
        let mass = (boxes.iter().map(|b| drawers::weigh(self.job, b)))
            .chain(fronts.iter().map(|f| f.mass))
            .fold(carcass, |sum, m| sum + m);
        let face = fronts.iter().map(|f| f.y_face - y_back).max();
        Some(PlacedUnit {
            id: unit.id.clone(),
            left: self.stand.left,
            right: self.stand.right,
            base: self.stand.base,
            top: self.stand.top,
            depth: unit.depth,
            board: self.job.material(unit.carcass).thickness,
            back: unit
                .back
                .map_or(Length::ZERO, |m| self.job.material(m).thickness),
            stands: unit.stands,
            feet: feet::feet(unit, (self.stand, self.run.far()), wall, y_back, &notches),
            notches,
            fronts: Vec::new(),
            depth_over_fronts: face.unwrap_or_default().max(unit.depth),
            boxes,
            mass,
            bays,
        })
    }

    fn fronts(
        &self,
        unit: &Unit,
        frames: &[Option<Frame>],
        diags: &mut Diagnostics,
    ) -> Option<Vec<PlacedFront>> {
        let beside = beside::beside(self.stand, &self.neighbours(frames), &self.frame.pieces);
        let board = self.job.material(unit.carcass).thickness;
        let boxes = fronts::fronts(unit, self.stand, board, (beside, self.run.far()), diags)?;
        Some(
            boxes
                .iter()
                .filter_map(|b| Some(self.front(unit.rows.get(b.row)?.cells.get(b.cell)?, unit, b)))
                .collect(),
        )
    }

    /// The other units on the same wall, each with whether its fronts lap its edges.
    fn neighbours(&self, frames: &[Option<Frame>]) -> Vec<(Stand, bool)> {
        let mut out = Vec::new();
        for (r, (run, frame)) in self.job.runs.iter().zip(frames).enumerate() {
            let Some(frame) = frame.as_ref().filter(|_| run.wall == self.run.wall) else {
                continue;
            };
            for (u, (unit, stand)) in run.units.iter().zip(&frame.units).enumerate() {
                if (r, u) != self.index {
                    out.push((*stand, beside::laps(unit)));
                }
            }
        }
        out
    }

    fn front(&self, cell: &FrontCell, unit: &Unit, at: &FrontBox) -> PlacedFront {
        let style = &cell.style;
        let board = self.job.material(style.material);
        let carcass_front = self.frame.y_back + unit.depth;
        let y_back = match style.lay {
            Lay::Overlay => carcass_front,
            Lay::Inset => carcass_front - board.thickness,
        };
        let (width, height) = (at.right - at.left, at.top - at.bottom);
        let mass = mass::board(width, height, board);
        let face = Face {
            left: at.left,
            right: at.right,
            bottom: at.bottom,
            top: at.top,
            floor: self.frame.floor.high,
        };
        let handle = style
            .handle
            .and_then(|which| Some((which, self.job.hardware.get(which.0)?)))
            .and_then(|(which, part)| handles::place(cell.kind, cell.hinge, &face, which, part));
        PlacedFront {
            number: 0,
            id: cell.id.clone(),
            run: self.index.0,
            unit: self.index.1,
            wall: self.run.wall,
            kind: cell.kind,
            left: at.left,
            right: at.right,
            bottom: at.bottom,
            top: at.top,
            y_back,
            y_face: y_back + board.thickness,
            hinge: cell.hinge,
            hinges: self.hinges(cell, width, height, mass),
            mass,
            style: style.clone(),
            hides: cell.hides,
            handle,
            travel: travel::of_front(self.job, unit, cell),
        }
    }

    /// Doors hang by their height, flaps by their width.
    fn hinges(&self, cell: &FrontCell, width: Length, height: Length, mass: Mass) -> u32 {
        let edge = match cell.kind {
            FrontKind::Door => height,
            FrontKind::Flap => width,
            FrontKind::Drawer | FrontKind::Fixed | FrontKind::Open => return 0,
        };
        let hinge = cell.style.hinge.and_then(|h| self.job.hardware.get(h.0));
        hinges::count(edge, mass, hinge.and_then(|h| h.rating))
    }
}

/// Tells each unit which of the numbered fronts are its own.
pub fn adopt_fronts(job: &Job, runs: &mut [PlacedRun], fronts: &[PlacedFront]) {
    if runs.len() != job.runs.len() {
        return;
    }
    for (index, front) in fronts.iter().enumerate() {
        let unit = runs
            .get_mut(front.run)
            .and_then(|r| r.units.get_mut(front.unit));
        if let Some(unit) = unit {
            unit.fronts.push(index);
        }
    }
}
