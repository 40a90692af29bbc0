//! What is carried in besides units: fronts, strips, panels, doors that slide, worktops. Knows sizes and
//! masses as placed; must not judge them.

use std::collections::BTreeMap;

use super::access::{Box3, Passing, passing};
use super::mass;
use super::placed::{
    PieceKind, PlacedFront, PlacedPanel, PlacedRun, PlacedSliding, PlacedWorktop, RunPiece,
};
use crate::diag::Place;
use crate::resolve::job::{Job, Run, Side, Subject};
use crate::units::{Length, Mass};

#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    pub name: String,
    pub subject: Subject,
    /// What it is part of, for pieces told of together.
    pub whole: Subject,
    pub place: Place,
    pub size: Box3,
    pub mass: Mass,
    /// Same order as the job's way in.
    pub way_in: Vec<Passing>,
}

/// Everything placed but the rooms.
pub struct Placed<'a> {
    pub runs: &'a [PlacedRun],
    pub fronts: &'a [PlacedFront],
    pub panels: &'a [PlacedPanel],
    pub sliding: &'a [PlacedSliding],
    pub worktops: &'a [PlacedWorktop],
}

/// Fronts, then the end panels, fillers and scribes' blanks of each run, then what belongs to no run.
pub fn carried(job: &Job, placed: &Placed) -> Vec<Carried> {
    let mut out = Vec::new();
    // Pieces of one size pass alike, and there are many.
    let mut known: BTreeMap<Box3, Vec<Passing>> = BTreeMap::new();
    let mut add = |name: String, (subject, whole): (Subject, Subject), place, size: Box3, mass| {
        let pass = || job.way_in.iter().map(|o| passing(size, o)).collect();
        let way_in = known.entry(size).or_insert_with(pass).clone();
        out.push(Carried {
            name,
            subject,
            whole,
            place,
            size,
            mass,
            way_in,
        });
    };
    for f in placed.fronts {
        let Some(run) = job.runs.get(f.run) else {
            continue;
        };
        let size = Box3::new(f.width(), f.height(), f.y_face - f.y_back);
        let subjects = (Subject::Front(f.id.clone()), Subject::Run(f.run));
        add(
            format!("front {}", f.number),
            subjects,
            run.place,
            size,
            f.mass,
        );
    }
    for (r, (run, at)) in job.runs.iter().zip(placed.runs).enumerate() {
        for piece in &at.pieces {
            let (high, wide) = strip(piece, at.depth_over_fronts());
            let material = job.material(piece.material);
            let size = Box3::new(high, wide, material.thickness);
            let mass = mass::board(high, wide, material);
            let subjects = (Subject::Run(r), Subject::Run(r));
            add(called(piece, run), subjects, run.place, size, mass);
        }
    }
    for (i, (panel, at)) in job.panels.iter().zip(placed.panels).enumerate() {
        let widest = at.pieces.iter().map(|(l, r)| *r - *l).max();
        let (high, wide) = (at.top - at.bottom, widest.unwrap_or_default());
        let size = Box3::new(wide, high, at.y_face - at.y_back);
        let mass = mass::board(high, wide, job.material(panel.material));
        let own = Subject::Panel(i);
        let name = match at.pieces.len() {
            0 | 1 => panel.name.clone(),
            n => format!("{}, each of {n} pieces", panel.name),
        };
        add(name, (own.clone(), own), panel.place, size, mass);
    }
    for (i, (leaf, at)) in job.sliding.iter().zip(placed.sliding).enumerate() {
        let size = Box3::new(leaf.width, leaf.height, at.y_face - at.y_back);
        let own = Subject::Sliding(i);
        let name = leaf.name.clone();
        add(name, (own.clone(), own), leaf.place, size, at.mass);
    }
    for (i, (top, at)) in job.worktops.iter().zip(placed.worktops).enumerate() {
        let deep = at.y_front - at.y_back;
        let size = Box3::new(at.right - at.left, deep, at.top - at.bottom);
        let own = Subject::Worktop(i);
        add(
            top.name.clone(),
            (own.clone(), own),
            top.place,
            size,
            at.mass,
        );
    }
    out
}

/// Height, and width or depth, as it leaves the workshop.
fn strip(piece: &RunPiece, deep: Length) -> (Length, Length) {
    let wide = match piece.kind {
        PieceKind::EndPanel => deep,
        PieceKind::Filler => piece.right - piece.left,
        PieceKind::Scribe => piece.blank,
    };
    (piece.top - piece.bottom, wide)
}

fn called(piece: &RunPiece, run: &Run) -> String {
    let side = match piece.side {
        Side::Left => "left",
        Side::Right => "right",
    };
    let what = match piece.kind {
        PieceKind::EndPanel => "end panel",
        PieceKind::Filler => "filler",
        PieceKind::Scribe => "scribe",
    };
    format!("{side} {what} of {}", run.name)
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use crate::diag::Diagnostics;
    use crate::units::{Length, Mass};

    // By hand: an end panel beside a carcass 580 deep with a door of 22 and its bumper before it, on a
    // level floor, up to 2000: 2000 × 602; MDF 740, 22 thick: 2·0.602·0.022·740 = 19.601 kg.
    #[test]
    fn an_end_panel_is_carried_in() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows =
            vec![fixture::row(None, crate::resolve::job::FrontKind::Door, 2)];
        job.runs[0].left.panel = Some(fixture::FRONT);
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let all = got.carried.iter();
        let panel = all.clone().find(|c| c.name.starts_with("left end panel"));
        let panel = panel.expect("it is listed");
        let (high, deep) = (panel.size.length, panel.size.breadth);
        assert_eq!(high, Length::mm(2000));
        assert_eq!(deep, got.runs[0].depth_over_fronts());
        assert_eq!(panel.mass, Mass::grams(19_601));
        assert_eq!(all.filter(|c| c.name.starts_with("front")).count(), 2);
    }
}
