//! Faces are cut where the blanks lie, in the colours the boards were measured to have. Knows small
//! jobs and pictures made by rule.

use std::sync::Arc;

use super::*;
use crate::pixels::{Pixels, decode, lab};
use crate::reckon::fixture;
use crate::reckon::reckon;
use crate::resolve::job::{Board, FrontKind, Grain, Picture};
use crate::units::Length;

const REPEAT: i64 = 32;

/// Grey that grows over each repeat across the board, 2 pixels for each mm; it lies, so that across
/// the board is down the picture.
fn saw_tooth(along: i64, across: i64) -> Picture {
    let (width, height) = ((along * 2) as u32, (across * 2) as u32);
    let row = |y: u32| {
        let t = (f64::from(y) + 0.5) / 2.0 / REPEAT as f64;
        let v = ((t - t.floor()) * 200.0 + 20.0) as u8;
        (0..width).flat_map(move |_| [v; 3])
    };
    let face = Pixels::new(width, height, (0..height).flat_map(row).collect());
    picture(face.expect("a picture"), (along, across))
}

fn picture(face: Pixels, (along, across): (i64, i64)) -> Picture {
    Picture {
        path: "a.png".into(),
        bytes: Vec::new().into(),
        pixels: (face.width(), face.height()),
        shows: (Length::mm(along), Length::mm(across)),
        face: Arc::new(face),
        finer: false,
        colours_unread: false,
        corners: None,
    }
}

fn board(id: &str, first_crest: i64, lab: Option<[i64; 3]>) -> Board {
    Board {
        id: id.into(),
        material: fixture::FRONT,
        sheet: (Length::mm(2400), Length::mm(1000)),
        picture: None,
        first_crest: (Length::ZERO, Length::mm(first_crest)),
        lab,
        lab_of_picture: false,
        batch: String::new(),
        ends_off: (Length::ZERO, Length::ZERO),
        avoid: Vec::new(),
        place: crate::diag::Place::NOWHERE,
    }
}

/// Four doors of one pattern on a wall of 3 m, one to a board of 1000.
fn job(repeat: Option<i64>, shown: Picture, boards: Vec<Board>) -> Job {
    let mut job = fixture::job([3000; 4]);
    let material = &mut job.materials[fixture::FRONT.0];
    material.sheet = Some((Length::mm(2400), Length::mm(1000)));
    material.grain = Grain::Length;
    material.repeat = (None, repeat.map(Length::mm));
    material.picture = Some(shown);
    let boards = boards.into_iter().map(|mut b| {
        b.picture = b.picture.or(material.picture.clone());
        b
    });
    job.boards = boards.collect();
    let mut run = fixture::run(1);
    let mut row = fixture::row(None, FrontKind::Door, 4);
    for cell in &mut row.cells {
        cell.style.pattern = Some("P".into());
    }
    run.units[0].rows = vec![row];
    job.runs = vec![run];
    job
}

fn reckoned(job: &Job) -> Reckoned {
    reckon(job, &mut crate::diag::Diagnostics::default()).expect("it can be reckoned")
}

fn face(faces: &Faces, front: usize) -> Pixels {
    let at = faces.of(front).expect("a face");
    decode(&faces.pictures[at]).expect("a JPEG").pixels
}

// Handbook §5: φ is measured from the board's edge to its first crest, so that the pattern at a
// board's place p is p − φ less whole repeats. By hand: the picture's tooth begins at its crest.
#[test]
fn a_repeating_pattern_is_shown_as_it_lies_on_each_board() {
    let crests = [0, 12, 27, 5];
    let boards = ["a", "b", "c", "d"].iter().zip(crests);
    let boards = boards.map(|(id, crest)| board(id, crest, None)).collect();
    let job = job(Some(REPEAT), saw_tooth(2400, 960), boards);
    let reckoned = reckoned(&job);
    let layout = &reckoned.patterns[0];
    assert_eq!(layout.boards.len(), 4, "one door to a board");
    let faces = faces(&job, &reckoned);
    for blank in &layout.blanks {
        let shown = face(&faces, blank.front);
        let crest = layout.boards[blank.board].first_crest.0;
        let wide = blank.area.width().in_mm();
        // A tooth's flank is straight: its middle is looked at, away from the jump.
        for x in 0..shown.width() {
            let at =
                blank.area.left.in_mm() + (f64::from(x) + 0.5) * wide / f64::from(shown.width());
            let t = (at - crest.in_mm()) / REPEAT as f64;
            let t = t - t.floor();
            if (0.25..0.75).contains(&t) {
                let [grey, ..] = shown.at(x, shown.height() / 2);
                let apart = f64::from(grey) - (t * 200.0 + 20.0);
                assert!(apart.abs() < 9.0, "front {} at {at}: {apart}", blank.front);
            }
        }
    }
    // An exact run: the handbook's step of 0 at every joint.
    assert!(
        layout
            .joints
            .iter()
            .all(|j| j.jump.is_some_and(|(a, _)| a == Length::ZERO))
    );
}

// Whatever the picture's colour, neighbouring faces differ by what their boards were measured to
// differ by in lightness, red and yellow: to 0.3, which nobody sees.
#[test]
fn faces_differ_in_colour_as_their_boards_were_measured_to() {
    // With a figure that runs from light to dark, as a board has: JPEG rounds one flat colour by up to a
    // step, and always the same way.
    let dot = |n: u32| {
        let t = n.wrapping_mul(2_654_435_761) >> 24;
        let shade = |light: u32, dark: u32| ((light * (255 - t) + dark * t) / 255) as u8;
        [shade(176, 88), shade(132, 58), shade(92, 38)]
    };
    let figured = Pixels::new(240, 100, (0..24_000).flat_map(dot).collect()).expect("figured");
    let labs = [
        [47_200, 9600, 19_100],
        [49_900, 8800, 20_600],
        [52_000, 8000, 24_000],
    ];
    let mut boards: Vec<Board> = Vec::new();
    for (id, lab) in ["a", "b", "c", "d"].iter().zip(labs.iter().chain(&labs)) {
        boards.push(board(id, 0, Some(*lab)));
    }
    let job = job(None, picture(figured, (2400, 1000)), boards);
    let reckoned = reckoned(&job);
    let faces = faces(&job, &reckoned);
    let joints = &reckoned.patterns[0].joints;
    assert_eq!(joints.len(), 3);
    for joint in joints {
        let shown = |front| lab::mean(&face(&faces, front));
        let board = |front| {
            let blank = reckoned.patterns[0].blank_of(front).expect("a blank");
            let lab = reckoned.patterns[0].boards[blank.board]
                .lab
                .expect("measured");
            lab.map(|v| v as f64 / 1000.0)
        };
        let moved = |of: &dyn Fn(usize) -> [f64; 3]| {
            let (one, two) = (of(joint.first), of(joint.second));
            [two[0] - one[0], two[1] - one[1], two[2] - one[2]]
        };
        for (seen, measured) in moved(&shown).iter().zip(moved(&board)) {
            assert!((seen - measured).abs() < 0.3, "{seen}, measured {measured}");
        }
    }
}

// By hand: the window of a close-up is 120 × 130 with the gap of 3 in its middle.
#[test]
fn the_close_up_shows_the_worst_joint_at_its_place_on_both_boards() {
    let boards = ["a", "b", "c", "d"].iter();
    let boards = boards.map(|id| board(id, 0, None)).collect();
    let job = job(None, saw_tooth(2400, 960), boards);
    let reckoned = reckoned(&job);
    let layout = &reckoned.patterns[0];
    let faces = faces(&job, &reckoned);
    let close = &faces.close_ups[0];
    assert_eq!(Some(&close.joint), layout.worst());
    assert_eq!(close.window.width(), Length::mm(120));
    assert_eq!(close.gap.width(), Length::mm(3));
    assert_eq!(close.pieces.len(), 2);
    for piece in &close.pieces {
        assert_eq!(piece.on_wall.width(), Length::um(58_500));
        let blank = layout.blank_of(piece.front).expect("a blank");
        let front = &reckoned.fronts[piece.front];
        let on_wall = piece.on_wall.left - front.left;
        assert_eq!(piece.on_board.left - blank.area.left, on_wall);
        assert!(piece.picture.is_some());
    }
}

#[test]
fn without_pictures_there_are_close_ups_to_be_drawn_and_no_faces() {
    let mut job = job(None, saw_tooth(2400, 960), Vec::new());
    job.materials[fixture::FRONT.0].picture = None;
    let reckoned = reckoned(&job);
    let faces = faces(&job, &reckoned);
    assert!(faces.pictures.is_empty() && faces.of(0).is_none());
    assert_eq!(faces.close_ups.len(), 1);
}

// By hand: the plinth is as long as its run and stands on the floor; a picture whose face is all one
// colour shows that colour.
#[test]
fn a_plinth_of_a_pictured_board_shows_it() {
    let shown = |v: u8| Pixels::new(240, 100, vec![v; 240 * 100 * 3]).expect("a picture");
    let mut job = job(None, picture(shown(90), (2400, 1000)), vec![]);
    let of = |job: &Job| {
        let reckoned = reckoned(job);
        let faces = faces(job, &reckoned);
        (faces, reckoned)
    };
    job.runs[0].plinth_material = fixture::CARCASS;
    assert!(of(&job).0.bare.is_empty(), "the carcass has no picture");
    job.runs[0].plinth_material = fixture::FRONT;
    let (faces, reckoned) = of(&job);
    assert_eq!(faces.bare.len(), reckoned.runs[0].plinths.len());
    let (bare, plinth) = (&faces.bare[0], &reckoned.runs[0].plinths[0]);
    assert_eq!(
        (bare.area.left, bare.area.right),
        (plinth.left, plinth.right)
    );
    assert_eq!(
        (bare.area.bottom, bare.area.top),
        (Length::ZERO, plinth.top)
    );
    let seen = decode(&faces.pictures[bare.picture])
        .expect("a JPEG")
        .pixels;
    assert!(seen.width() > seen.height() * 5);
    assert!(seen.at(3, 1)[0].abs_diff(90) <= 2, "{:?}", seen.at(3, 1));
}

#[test]
fn only_a_picture_whose_colours_are_not_read_is_told_of() {
    for unread in [false, true] {
        let face = Pixels::new(24, 10, vec![90; 240 * 3]).expect("a picture");
        let shown = Picture {
            colours_unread: unread,
            ..picture(face, (2400, 1000))
        };
        let found = reckoned(&job(None, shown, vec![])).findings;
        let told = |f: &&crate::reckon::placed::Finding| f.code == "picture-colours-unread";
        let told: Vec<_> = found.iter().filter(told).collect();
        assert_eq!(told.len(), usize::from(unread), "{told:?}");
        assert!(told.iter().all(|f| f.text.contains("a.png")));
    }
}
