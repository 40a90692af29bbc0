//! Sheets of pictures for the client, and what stands at their foot. Knows their order and scales; must
//! not know what a picture shows.

use super::{DrawError, Drawing, DrawingKind, pack, views};
use crate::compare::Register;
use crate::faces::Faces;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;

/// Smallest scale of a wall in a picture.
const SMALLEST: u32 = 20;

/// How the patterns will look, for the client: for each pattern its walls on one sheet with what is
/// agreed by it and what changed since the newest issue marked, then the worst joints of all at their real
/// size.
///
/// # Errors
/// As [`drawings`](super::drawings).
pub fn looks(
    job: &Job,
    reckoned: &Reckoned,
    faces: &Faces,
    since: &Register,
) -> Result<Vec<Drawing>, DrawError> {
    let paper = job.info.sheets;
    let mut all = Vec::new();
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        let walls = views::pattern::walls(reckoned, n);
        let mut notes = views::picture::agreed(job, reckoned, layout);
        let listed = walls
            .iter()
            .filter_map(|at| views::picture::listed(reckoned, layout, *at));
        notes.extend(listed);
        let mut scenes: Vec<_> = walls
            .into_iter()
            .filter_map(|at| views::picture::wall(job, reckoned, faces, (n, at)))
            .collect();
        for scene in &mut scenes {
            views::changes::overlay(job, reckoned, since, &DrawingKind::Look(n), scene);
        }
        let shared = pack::Shared {
            id: &format!("look-{}", views::file_word(&layout.name)),
            kind: DrawingKind::Look(n),
            notes: &notes,
            margins: &pack::TOP,
        };
        all.extend(pack::pack_sections(&scenes, &shared, paper, SMALLEST)?);
    }
    let close: Vec<_> = faces
        .close_ups
        .iter()
        .filter_map(|c| views::picture::close_up(job, reckoned, c))
        .collect();
    let shared = pack::Shared {
        id: "close-ups",
        kind: DrawingKind::CloseUps,
        notes: &[],
        margins: &pack::TOP,
    };
    let close = pack::pack_sections(&close, &shared, paper, REAL_SIZE)?;
    // What no sheet holds at its real size is no close-up.
    all.extend(close.into_iter().filter(|d| d.scale == REAL_SIZE));
    for drawing in &mut all {
        drawing.svg = super::faces::put_in(&drawing.svg, faces);
    }
    Ok(all)
}

/// Close-ups are drawn at 1:1 and at no other scale.
const REAL_SIZE: u32 = 1;
