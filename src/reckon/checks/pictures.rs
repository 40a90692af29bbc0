//! Pictures of boards whose colours cannot be shown as they are. Knows what was read of them; must not
//! know what is cut from them.

use super::finding;
use crate::diag::Place;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Picture, Subject};

pub fn check(job: &Job, _: &Reckoned, found: &mut Vec<Finding>) {
    let mut told: Vec<&str> = Vec::new();
    let of_boards = job
        .boards
        .iter()
        .map(|b| (&b.picture, place(job, b.material.0)));
    let all = job.materials.iter().map(|m| (&m.picture, m.place));
    for (picture, place) in all.chain(of_boards) {
        let Some(picture) = picture.as_ref().filter(|p| p.colours_unread) else {
            continue;
        };
        if !told.contains(&picture.path.as_str()) {
            told.push(&picture.path);
            found.push(unread(picture, place));
        }
    }
}

fn place(job: &Job, material: usize) -> Place {
    job.materials
        .get(material)
        .map(|m| m.place)
        .unwrap_or_default()
}

fn unread(picture: &Picture, place: Place) -> Finding {
    let text = format!(
        "The colours of {} are those of a profile that is not read here: they are shown as if they were of \
         sRGB, and may look paler or stronger than the board.",
        picture.path
    );
    finding(
        ("picture-colours-unread", Severity::Informs),
        Subject::Job,
        place,
        text,
    )
    .against("sRGB, or a profile of three curves and a matrix (ICC.1)")
    .advise("Save the picture in sRGB.")
}
