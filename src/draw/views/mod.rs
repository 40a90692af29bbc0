//! Views: what each drawing of the pack shows, as scenes in millimetres of the real thing.
//! Knows which drawings a job needs and in which order; must not know scale, paper or line widths.

pub mod changes;
pub mod cutting;
mod elevation;
mod legend;
pub mod pattern;
pub(super) mod pen;
pub mod picture;
mod plan;
mod section;
pub(super) mod survey;
mod told;
mod told_faces;
mod words;

pub use elevation::elevation;
pub use plan::plan;
pub use section::{section, sections};

use crate::draw::DrawingKind;
use crate::draw::scene::{Fill, Scene};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Grain, Job, MaterialRef, Reader, WallRef};
use crate::risks::Marks;

/// Which of the two elevations of a wall.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Face {
    Shut,
    Open,
}

/// A handle's mark in elevation, across its length: a mark, not a size.
const HANDLE_MARK_MM: f64 = 18.0;

/// Smallest scales allowed, as 20 for 1:20: an elevation too long for that is parted instead
/// (issue 2, "never shrunk under 1:20"); a plan may go to 1:100 (common practice, no source).
const PLAN_SMALLEST: u32 = 100;
const ELEVATION_SMALLEST: u32 = 20;
const SECTION_SMALLEST: u32 = 20;

/// At the foot of sections.
pub const SECTION_NOTE: &str = "Heights are from finished floor; the real floor lies at the feet: what \
     these come to is said under each unit.";

/// Every drawing of the job for one reader, each with the smallest scale allowed for it: room by
/// room its plan, then its walls in order, shut before open; then the sections.
pub fn all(
    job: &Job,
    reckoned: &Reckoned,
    marks: &Marks,
    reader: Reader,
) -> Vec<(DrawingKind, Scene, u32)> {
    let mut out = Vec::new();
    for (r, room) in job.rooms.iter().enumerate() {
        out.push((
            DrawingKind::Plan(r),
            plan(job, (reckoned, marks), r, reader),
            PLAN_SMALLEST,
        ));
        for wall in 0..room.walls.len() {
            let at = WallRef { room: r, wall };
            if !carries_anything(reckoned, at) {
                continue;
            }
            let shut = elevation(job, (reckoned, marks), at, Face::Shut, reader);
            out.push((DrawingKind::Shut(at), shut, ELEVATION_SMALLEST));
            if reckoned.runs.iter().any(|run| run.wall == at) {
                let open = elevation(job, (reckoned, marks), at, Face::Open, reader);
                out.push((DrawingKind::Open(at), open, ELEVATION_SMALLEST));
            }
        }
    }
    for scene in sections(job, reckoned) {
        out.push((DrawingKind::Section, scene, SECTION_SMALLEST));
    }
    distinct_ids(&mut out);
    out
}

/// Whether a wall has anything of ours on it, and so an elevation.
pub fn carries_anything(reckoned: &Reckoned, at: WallRef) -> bool {
    reckoned.runs.iter().any(|r| r.wall == at)
        || reckoned.panels.iter().any(|p| p.wall == at)
        || reckoned.sliding.iter().any(|s| s.wall == at)
        || reckoned.worktops.iter().any(|w| w.wall == at)
}

/// Ids are file names: two that come out alike get a number.
fn distinct_ids(drawings: &mut [(DrawingKind, Scene, u32)]) {
    let mut taken: Vec<String> = Vec::new();
    for (_, scene, _) in drawings {
        let (mut id, mut n) = (scene.id.clone(), 2);
        while taken.contains(&id) {
            id = format!("{}-{n}", scene.id);
            n += 1;
        }
        taken.push(id.clone());
        scene.id = id;
    }
}

fn elevation_id(job: &Job, at: WallRef, face: Face) -> String {
    let room = job.rooms.get(at.room).map_or("", |r| r.id.as_str());
    let face = match face {
        Face::Shut => "shut",
        Face::Open => "open",
    };
    format!("{}-{}-{face}", file_word(room), file_word(&job.wall(at).id))
}

/// Letters and digits as they are, anything else a hyphen: safe in the name of a file anywhere.
pub(super) fn file_word(text: &str) -> String {
    let safe = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    text.chars().map(safe).collect()
}

/// Blanks stand upright with the sheet's first dimension up, unless they lie `along` the run.
fn grain_fill(job: &Job, material: MaterialRef, along: bool) -> Fill {
    match (job.materials.get(material.0).map(|m| m.grain), along) {
        (Some(Grain::Length), false) | (Some(Grain::Width), true) => Fill::GrainUp,
        (Some(Grain::Width), false) | (Some(Grain::Length), true) => Fill::GrainFlat,
        _ => Fill::None,
    }
}
