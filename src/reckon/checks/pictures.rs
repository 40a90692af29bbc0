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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::tests::found;
    use super::*;
    use crate::pixels::Pixels;
    use crate::reckon::fixture;
    use crate::units::Length;

    #[test]
    fn only_a_picture_whose_colours_are_not_read_is_told_of() {
        for (colours_unread, n) in [(false, 0), (true, 1)] {
            let mut job = fixture::shelves(2);
            let picture = Picture {
                path: "boards/x.jpg".to_owned(),
                bytes: Vec::new().into(),
                pixels: (1, 1),
                shows: (Length::mm(2800), Length::mm(1220)),
                face: Arc::new(Pixels::new(1, 1, vec![9; 3]).expect("a pixel")),
                finer: false,
                colours_unread,
                corners: None,
            };
            for material in &mut job.materials {
                material.picture = Some(picture.clone());
            }
            assert_eq!(found(&job, "picture-colours-unread").len(), n);
        }
    }
}
