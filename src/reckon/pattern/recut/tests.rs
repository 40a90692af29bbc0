//! Spoiled fronts against every place there is on a board. Knows small walls of doors.

use super::*;
use crate::diag::{Diagnostics, Place};
use crate::reckon::fixture;
use crate::reckon::reckon;
use crate::resolve::job::{Avoid, Board, Grain, PatternRule, Wanted};

fn board(id: &str, first_crest: i64, lightness: i64) -> Board {
    Board {
        id: id.into(),
        material: fixture::FRONT,
        sheet: (Length::mm(2400), Length::mm(1600)),
        picture: None,
        first_crest: (Length::ZERO, Length::mm(first_crest)),
        lab: Some([lightness, 5000, 9000]),
        lab_of_picture: false,
        batch: String::new(),
        ends_off: (Length::ZERO, Length::ZERO),
        avoid: Vec::new(),
        place: Place::NOWHERE,
    }
}

/// Four doors of one pattern on a wall of 3 m, two to a board of 1600.
fn job(repeat: Option<i64>, wanted: Wanted, boards: Vec<Board>) -> (Job, Reckoned) {
    let mut job = fixture::job([3000; 4]);
    let material = &mut job.materials[fixture::FRONT.0];
    material.sheet = Some((Length::mm(2400), Length::mm(1600)));
    material.grain = Grain::Length;
    material.repeat = (None, repeat.map(Length::mm));
    job.boards = boards;
    job.runs = vec![fixture::four_doors_of("P")];
    job.patterns = vec![PatternRule {
        wanted,
        ..PatternRule::usual("P")
    }];
    let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it can be reckoned");
    (job, reckoned)
}

/// The least there is of the farthest step, by trying every quarter of a millimetre of a board.
fn least(reckoned: &Reckoned, board: &CutBoard, front: usize, repeat: Length) -> Length {
    let layout = &reckoned.patterns[0];
    let ours = &reckoned.fronts[front];
    let joined = layout.joints.iter();
    let near: Vec<usize> = joined
        .filter(|j| j.first == front || j.second == front)
        .map(|j| if j.first == front { j.second } else { j.first })
        .collect();
    let places = (0..).map(|n| board.usable.left + Length::um(250 * n));
    let fits = |left: &Length| *left + ours.width() <= board.usable.right;
    let clear = |left: &Length| {
        let area = Area {
            left: *left,
            right: *left + ours.width(),
            bottom: board.usable.bottom,
            top: board.usable.bottom + ours.height(),
        };
        !board.avoid.iter().any(|(flaw, _)| flaw.meets(area))
    };
    let worst = |left: Length| {
        let step = |other: &usize| {
            let blank = layout.blank_of(*other).expect("a blank");
            let on = layout.boards[blank.board].first_crest.0;
            let there = blank.area.left - on - reckoned.fronts[*other].left;
            let here = left - board.first_crest.0 - ours.left;
            let apart = (here - there).in_um().rem_euclid(repeat.in_um());
            Length::um(apart.min(repeat.in_um() - apart))
        };
        near.iter().map(step).max().expect("neighbours")
    };
    places
        .take_while(fits)
        .filter(clear)
        .map(worst)
        .min()
        .expect("room")
}

// Against every place there is on the one board not cut into; the doors' widths are multiples of a
// quarter of a millimetre.
#[test]
fn no_place_on_a_whole_board_steps_less() {
    for wanted in [Wanted::Exact, Wanted::LeastWaste] {
        for crest in [0, 5, 19] {
            let mut spare = board("c", crest, 50_000);
            spare.avoid = vec![Avoid {
                from: (Length::mm(500), Length::mm(20)),
                to: (Length::mm(520), Length::mm(47)),
                what: "knot".into(),
            }];
            let boards = vec![board("a", 12, 50_000), board("b", 3, 50_000), spare];
            let (job, reckoned) = job(Some(32), wanted, boards);
            for front in 0..4 {
                let recut = recut(&job, &reckoned, front).expect("of a pattern");
                let whole = recut.places.iter().find(|p| p.whole).expect("the spare");
                let used: Vec<BoardRef> = reckoned.patterns[0]
                    .boards
                    .iter()
                    .filter_map(|b| b.in_hand)
                    .collect();
                let (left, _) = stood::boards_in_hand(&job, fixture::FRONT, &[], &used);
                let spare = left.iter().find(|b| b.name == whole.board).expect("left");
                let least = least(&reckoned, spare, front, Length::mm(32));
                let (anew, step, _) = whole.looks();
                assert_eq!((anew, step), (0, least), "front {front} {wanted:?}");
            }
        }
    }
}

// By hand: nothing runs on in a pattern that does not repeat, so that the board nearest in colour
// comes first; and where nothing is in hand a new one is needed, which holds it.
#[test]
fn without_a_repeat_the_nearest_colour_comes_first() {
    let boards = vec![
        board("a", 0, 50_000),
        board("b", 0, 50_500),
        board("far", 0, 56_000),
        board("near", 0, 51_000),
    ];
    let (job, reckoned) = job(None, Wanted::Exact, boards);
    let spoiled = recut(&job, &reckoned, 0).expect("of a pattern");
    let best = spoiled.places.first().expect("a place");
    assert!(best.joints.iter().all(|j| j.jump.is_none()));
    let colours: Vec<i64> = spoiled.places.iter().map(|p| p.looks().2).collect();
    assert!(colours.is_sorted(), "{colours:?}");
    assert_ne!(best.board, "far");
}

#[test]
fn with_nothing_in_hand_a_new_board_is_needed() {
    let (job, reckoned) = job(Some(32), Wanted::Exact, Vec::new());
    let spoiled = recut(&job, &reckoned, 1).expect("of a pattern");
    assert!(spoiled.places.is_empty() && spoiled.fits_a_new_board);
    assert!(recut(&job, &reckoned, 99).is_none());
}

#[test]
fn what_one_pattern_is_cut_from_is_not_there_for_the_next() {
    let boards = ["a", "b", "c", "d"].map(|id| board(id, 0, 50_000));
    let (mut job, _) = job(Some(32), Wanted::Exact, boards.to_vec());
    for cell in job.runs[0].units[0].rows[0].cells.iter_mut().skip(2) {
        cell.style.pattern = Some("Q".into());
    }
    let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it can be reckoned");
    assert_eq!(reckoned.patterns.len(), 2);
    let all = reckoned.patterns.iter().flat_map(|l| &l.boards);
    let mut names: Vec<&str> = all.map(|b| b.name.as_str()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count, "{names:?}");
}
