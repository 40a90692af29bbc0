//! Rules that no finding raises: what the job itself says that may go wrong. Knows the job; must not judge
//! a size.

use std::collections::BTreeSet;

use super::rules::Found;
use super::words;
use crate::reckon::placed::{Figure, PieceKind, PlacedFront, Reckoned, Severity};
use crate::resolve::job::{FinishRef, Job, MaterialRef, Subject, WallRef};

fn found(subjects: Vec<Subject>, severity: Severity) -> Vec<Found> {
    if subjects.is_empty() {
        return Vec::new();
    }
    vec![Found {
        code: None,
        finding: None,
        group: String::new(),
        subjects,
        named: String::new(),
        besides: Vec::new(),
        figure: None,
        severity,
        known: None,
    }]
}

/// Units that are put together where they stand.
fn built_there(job: &Job) -> Vec<Subject> {
    let runs = job.runs.iter().enumerate();
    let units = runs.flat_map(|(r, run)| {
        let units = run.units.iter().enumerate();
        units.map(move |(u, unit)| (Subject::Unit(r, u), unit))
    });
    let there = units.filter(|(_, unit)| unit.build_in_place);
    there.map(|(subject, _)| subject).collect()
}

pub fn in_place(job: &Job, _: &Reckoned) -> Vec<Found> {
    found(built_there(job), Severity::Informs)
}

pub fn stays(job: &Job, _: &Reckoned) -> Vec<Found> {
    found(built_there(job), Severity::Informs)
}

/// What is seen of the materials or finishes asked for.
struct Seen {
    subjects: Vec<Subject>,
    /// Boards that it is made of.
    boards: BTreeSet<usize>,
}

/// Everything whose face is of one of them.
fn seen(
    job: &Job,
    reckoned: &Reckoned,
    wanted: impl Fn(MaterialRef, Option<FinishRef>) -> bool,
) -> Seen {
    let mut boards = BTreeSet::new();
    let mut wanted = |material: MaterialRef, finish: Option<FinishRef>| {
        let is = wanted(material, finish);
        if is {
            boards.insert(material.0);
        }
        is
    };
    let mut all = Vec::new();
    for front in &reckoned.fronts {
        if wanted(front.style.material, front.style.finish) {
            all.push(Subject::Front(front.id.clone()));
        }
    }
    let panels = job.panels.iter().enumerate();
    let panels = panels.filter(|(_, p)| wanted(p.material, p.finish));
    all.extend(panels.map(|(n, _)| Subject::Panel(n)));
    let doors = job.sliding.iter().enumerate();
    let doors = doors.filter(|(_, s)| wanted(s.material, s.finish));
    all.extend(doors.map(|(n, _)| Subject::Sliding(n)));
    let tops = job.worktops.iter().enumerate();
    let tops = tops.filter(|(_, t)| wanted(t.material, t.finish));
    all.extend(tops.map(|(n, _)| Subject::Worktop(n)));
    Seen {
        subjects: all,
        boards,
    }
}

/// `end panels and plinth of Chests under the slope`: what stands round the units of each run and is of
/// these boards.
fn round(job: &Job, reckoned: &Reckoned, boards: &BTreeSet<usize>) -> Vec<String> {
    let runs = job.runs.iter().zip(&reckoned.runs);
    let told = runs.filter_map(|(run, placed)| {
        let is = |at: MaterialRef| boards.contains(&at.0);
        let has = |kind: PieceKind| {
            let mut pieces = placed.pieces.iter();
            pieces.any(|p| p.kind == kind && is(p.material))
        };
        let plinth = !placed.plinths.is_empty() && is(run.plinth_material);
        let all = [
            (has(PieceKind::EndPanel), "end panels"),
            (has(PieceKind::Filler), "fillers"),
            (has(PieceKind::Scribe), "scribed strips"),
            (plinth, "plinth"),
        ];
        let all: Vec<&str> = all.iter().filter(|(is, _)| *is).map(|(_, w)| *w).collect();
        (!all.is_empty()).then(|| format!("{} of {}", words::and(&all), run.name))
    });
    told.collect()
}

/// Fronts that a latch holds shut.
pub fn latched(_: &Job, reckoned: &Reckoned) -> Vec<Found> {
    let latched = |f: &&PlacedFront| f.kind.is_latched() && f.style.latch.is_some();
    let fronts = reckoned.fronts.iter().filter(latched);
    found(
        fronts.map(|f| Subject::Front(f.id.clone())).collect(),
        Severity::Informs,
    )
}

pub fn variation(job: &Job, reckoned: &Reckoned) -> Vec<Found> {
    let varies = |at: MaterialRef| job.materials.get(at.0).is_some_and(|m| m.varies);
    let seen = seen(job, reckoned, |material, _| varies(material));
    let made = seen.boards.iter().filter_map(|n| job.materials.get(*n));
    let names: Vec<String> = made
        .map(|m| format!("\u{201c}{}\u{201d}", m.name))
        .collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut found = found(seen.subjects, Severity::Informs);
    for one in &mut found {
        one.named = words::and(&names);
        one.besides = round(job, reckoned, &seen.boards);
    }
    found
}

/// Finishes of which a sample was agreed.
pub fn sample(job: &Job, reckoned: &Reckoned) -> Vec<Found> {
    let agreed = |at: FinishRef| job.finishes.get(at.0).and_then(|f| f.sample);
    let seen = seen(job, reckoned, |_, finish| finish.and_then(agreed).is_some());
    let mut found = found(seen.subjects, Severity::Informs);
    for one in &mut found {
        one.besides = round(job, reckoned, &seen.boards);
    }
    found
}

/// Walls that are still to be lined with something wet, where anything stands or hangs in their room.
pub fn damp(job: &Job, _: &Reckoned) -> Vec<Found> {
    let mut walls = Vec::new();
    for (r, room) in job.rooms.iter().enumerate() {
        for (w, wall) in room.walls.iter().enumerate() {
            if wall.linings.iter().any(|l| l.wet) {
                walls.push(Subject::Wall(WallRef { room: r, wall: w }));
            }
        }
    }
    found(walls, Severity::Warns)
}

pub fn others(job: &Job, _: &Reckoned) -> Vec<Found> {
    if job.by_others.is_empty() {
        return Vec::new();
    }
    let who: BTreeSet<&str> = job.by_others.iter().map(|o| o.who.as_str()).collect();
    let count = job.by_others.len();
    vec![Found {
        code: None,
        finding: None,
        group: String::new(),
        subjects: Vec::new(),
        named: String::new(),
        besides: Vec::new(),
        figure: Some(Figure {
            found: match count {
                1 => "1 piece of work".to_owned(),
                n => format!("{n} pieces of work, by {} others", who.len()),
            },
            limit: String::new(),
            weight: 0.0,
        }),
        severity: Severity::Informs,
        known: None,
    }]
}
