//! What is carried in besides units: fronts, strips, plinths, panels, doors that slide and their tracks,
//! worktops and their upstands. Knows sizes and masses as placed; must not judge them.

use std::collections::BTreeMap;

use super::access::{Box3, Passing, passing};
use super::ends::SCRIBE_ALLOWANCE;
use super::mass;
use super::placed::{
    PieceKind, PlacedFront, PlacedPanel, PlacedRun, PlacedSliding, PlacedWorktop, RunPiece,
};
use super::quantities::parts::lengths;
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
    /// Of what is as thin as its maker has it, the length alone.
    pub size: Box3,
    /// `None`: its maker's figure, which the project does not know.
    pub mass: Option<Mass>,
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

/// Fronts, then the end panels, fillers, scribes' blanks and plinths of each run, then what belongs to no run.
pub fn carried(job: &Job, placed: &Placed) -> Vec<Carried> {
    let mut out = Vec::new();
    // Pieces of one size pass alike, and there are many.
    let mut known: BTreeMap<Box3, Vec<Passing>> = BTreeMap::new();
    let mut add = |name: String,
                   (subject, whole): (Subject, Subject),
                   place,
                   size: Box3,
                   mass: Option<Mass>| {
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
            Some(f.mass),
        );
    }
    for (r, (run, at)) in job.runs.iter().zip(placed.runs).enumerate() {
        for piece in &at.pieces {
            let (high, wide) = strip(piece, at.depth_over_fronts());
            let material = job.material(piece.material);
            let size = Box3::new(high, wide, material.thickness);
            let mass = mass::board(high, wide, material);
            let subjects = (Subject::Run(r), Subject::Run(r));
            add(called(piece, run), subjects, run.place, size, Some(mass));
        }
        let material = job.material(run.plinth_material);
        for plinth in &at.plinths {
            // As it leaves the workshop, before it is cut to the floor; a long one comes in lengths.
            let high = plinth.top - at.floor_low.min(plinth.top) + SCRIBE_ALLOWANCE;
            let all = lengths(job, run.plinth_material, plinth.right - plinth.left);
            let long = all.iter().copied().max().unwrap_or_default();
            let size = Box3::new(long, high, material.thickness);
            let mass = mass::board(long, high, material);
            let subjects = (Subject::Run(r), Subject::Run(r));
            let name = in_pieces(format!("plinth of {}", run.name), all.len(), "lengths");
            add(name, subjects, run.place, size, Some(mass));
        }
    }
    for (i, (panel, at)) in job.panels.iter().zip(placed.panels).enumerate() {
        let widest = at.pieces.iter().map(|(l, r)| *r - *l).max();
        let (high, wide) = (at.top - at.bottom, widest.unwrap_or_default());
        let size = Box3::new(wide, high, at.y_face - at.y_back);
        let mass = mass::board(high, wide, job.material(panel.material));
        let own = Subject::Panel(i);
        let name = in_pieces(panel.name.clone(), at.pieces.len(), "pieces");
        add(name, (own.clone(), own), panel.place, size, Some(mass));
    }
    for (i, (leaf, at)) in job.sliding.iter().zip(placed.sliding).enumerate() {
        let size = Box3::new(leaf.width, leaf.height, at.y_face - at.y_back);
        let own = Subject::Sliding(i);
        let name = leaf.name.clone();
        add(
            name,
            (own.clone(), own.clone()),
            leaf.place,
            size,
            Some(at.mass),
        );
        let long = at.track_right - at.track_left;
        let size = Box3::new(long, Length::ZERO, Length::ZERO);
        let name = format!("track of {}", leaf.name);
        add(name, (own.clone(), own), leaf.place, size, None);
    }
    for (i, (top, at)) in job.worktops.iter().zip(placed.worktops).enumerate() {
        let deep = at.y_front - at.y_back;
        let size = Box3::new(at.right - at.left, deep, at.top - at.bottom);
        let own = Subject::Worktop(i);
        add(
            top.name.clone(),
            (own.clone(), own.clone()),
            top.place,
            size,
            Some(at.mass),
        );
        if top.upstand > Length::ZERO {
            let material = job.material(top.material);
            let long = at.right - at.left;
            let size = Box3::new(long, top.upstand, material.thickness);
            let mass = mass::board(long, top.upstand, material);
            let name = format!("upstand of {}", top.name);
            add(name, (own.clone(), own), top.place, size, Some(mass));
        }
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

/// `a plinth, each of 2 lengths`.
fn in_pieces(name: String, count: usize, what: &str) -> String {
    match count {
        0 | 1 => name,
        n => format!("{name}, each of {n} {what}"),
    }
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
    use crate::resolve::job::{Side, Stands};
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
        assert_eq!(panel.mass, Some(Mass::grams(19_601)));
        assert_eq!(all.filter(|c| c.name.starts_with("front")).count(), 2);
    }

    // By hand: a plinth under 2900 of units on a floor that falls 10: 110 high before it is cut to it; from
    // boards of 2440, usable 2416, in two of 1450, 10 higher to be scribed: 1.45·0.12·0.022·740 = 2.833 kg. A leaf 1000 wide slides
    // its own width on a track of 2000, whose mass is its maker's.
    #[test]
    fn plinths_and_tracks_are_carried_in() {
        let mut job = fixture::job([2900, 4000, 2900, 4000]);
        job.rooms[0].walls[0].floor = fixture::line(&[(0, 0), (2900, -10)]);
        job.runs = vec![fixture::run(3)];
        for unit in &mut job.runs[0].units {
            unit.stands = Stands::Plinth;
        }
        job.runs[0].plinth_material = fixture::FRONT;
        job.materials[fixture::FRONT.0].sheet = Some((Length::mm(2440), Length::mm(1220)));
        job.sliding = vec![fixture::sliding(Side::Left)];
        job.sliding[0].wall.wall = 1;
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let named = |name: &str| {
            let found = got.carried.iter().find(|c| c.name.starts_with(name));
            found.unwrap_or_else(|| panic!("{name} is not listed"))
        };
        let plinth = named("plinth of");
        assert!(
            plinth.name.ends_with(", each of 2 lengths"),
            "{}",
            plinth.name
        );
        assert_eq!(plinth.size.breadth, Length::mm(120));
        assert!(plinth.size.length >= Length::mm(1449), "{:?}", plinth.size);
        let track = named("track of");
        assert_eq!((track.size.length, track.mass), (Length::mm(2000), None));
    }
}
