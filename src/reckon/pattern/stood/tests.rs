//! Boards stood up, against figures by hand from the meanings of the keys in the project file: the saw's
//! fixture takes 10 off each edge and 2 of trim, and a sheet is 2800 long and 1220 wide.

use super::*;
use crate::diag::Place;
use crate::reckon::fixture;
use crate::resolve::job::Avoid;

fn pair(a: i64, b: i64) -> (Length, Length) {
    (Length::mm(a), Length::mm(b))
}

fn area(left: i64, right: i64, bottom: i64, top: i64) -> Area {
    let ((left, right), (bottom, top)) = (pair(left, right), pair(bottom, top));
    Area {
        left,
        right,
        bottom,
        top,
    }
}

fn board(id: &str, lab: Option<i64>) -> Board {
    Board {
        id: id.into(),
        material: fixture::FRONT,
        sheet: pair(2800, 1220),
        picture: None,
        first_crest: pair(7, 4),
        lab: lab.map(|light| [light * 1000, 0, 0]),
        lab_of_picture: false,
        batch: String::new(),
        ends_off: pair(0, 0),
        avoid: vec![],
        place: Place::NOWHERE,
    }
}

fn job(grain: Grain, boards: Vec<Board>) -> Job {
    let mut job = fixture::job([3000; 4]);
    job.materials[fixture::FRONT.0].grain = grain;
    job.boards = boards;
    job
}

fn stood(job: &Job) -> Vec<CutBoard> {
    boards_in_hand(job, fixture::FRONT, &[], &[]).0
}

fn names(boards: &[CutBoard]) -> Vec<&str> {
    boards.iter().map(|b| b.name.as_str()).collect()
}

// A board whose grain runs along its length stands on its end: 1220 across, 2800 up.
#[test]
fn a_board_loses_its_edges_and_the_trim_of_the_outermost_fronts() {
    for grain in [Grain::Length, Grain::None] {
        let boards = stood(&job(grain, vec![board("a", None)]));
        assert_eq!((boards[0].across, boards[0].up), pair(1220, 2800));
        assert_eq!(boards[0].usable, area(12, 1208, 12, 2788));
        assert_eq!(boards[0].first_crest, pair(4, 7));
    }
}

#[test]
fn a_board_whose_grain_is_turned_lies_on_its_long_side() {
    let boards = stood(&job(Grain::Width, vec![board("a", None)]));
    assert_eq!((boards[0].across, boards[0].up), pair(2800, 1220));
    assert_eq!(boards[0].usable, area(12, 2788, 12, 1208));
    assert_eq!(boards[0].first_crest, pair(7, 4));
}

// 30 out of use at the start, with 2 of trim; 5 at the end is less than the edge of 10 that goes anyway.
#[test]
fn ends_out_of_use_are_those_of_the_length_and_go_only_once() {
    let ended = || Board {
        ends_off: pair(30, 5),
        ..board("a", None)
    };
    let boards = stood(&job(Grain::Length, vec![ended()]));
    assert_eq!(boards[0].usable, area(12, 1208, 32, 2788));
    let boards = stood(&job(Grain::Width, vec![ended()]));
    assert_eq!(boards[0].usable, area(32, 2788, 12, 1208));
}

// A rough cut leaves more to trim: 25 a side, which every outermost front needs too.
#[test]
fn a_rough_cut_keeps_fronts_farther_from_the_edges() {
    let mut job = job(Grain::Length, vec![board("a", None)]);
    job.cutter.trim = Length::mm(25);
    assert_eq!(stood(&job)[0].usable, area(35, 1185, 35, 2765));
    assert_eq!(job.cutter.loss(), Length::mm(54));
}

// From 100 to 150 along the board and 300 to 320 across it.
#[test]
fn a_flaw_stands_up_with_its_board() {
    let flawed = || Board {
        avoid: vec![Avoid {
            from: pair(100, 300),
            to: pair(150, 320),
            what: "knot".into(),
        }],
        ..board("a", None)
    };
    let of = |grain| stood(&job(grain, vec![flawed()]))[0].avoid.clone();
    let knot = |at| vec![(at, "knot".to_owned())];
    assert_eq!(of(Grain::Length), knot(area(300, 320, 100, 150)));
    assert_eq!(of(Grain::Width), knot(area(100, 150, 300, 320)));
}

#[test]
fn a_repeat_stands_up_with_its_board() {
    let mut job = job(Grain::Length, vec![]);
    let board = &mut job.materials[fixture::FRONT.0];
    board.repeat = (None, Some(Length::mm(32)));
    let (across, up) = (Some(Length::mm(32)), None);
    assert_eq!(repeat(board), Repeat { across, up });
    board.grain = Grain::Width;
    let (across, up) = (up, across);
    assert_eq!(repeat(board), Repeat { across, up });
}

#[test]
fn a_board_to_be_bought_has_its_size_and_nothing_else() {
    let mut job = job(Grain::Length, vec![]);
    let board = &mut job.materials[fixture::FRONT.0];
    assert_eq!(to_buy(board, job.cutter, 1), None);
    board.sheet = Some(pair(2800, 1220));
    board.batch = "B 7".into();
    let bought = to_buy(board, job.cutter, 2).expect("it has a size");
    assert_eq!(bought.name, format!("{} 2", board.key));
    assert_eq!(bought.usable, area(12, 1208, 12, 2788));
    assert_eq!((bought.in_hand, bought.lab), (None, None));
    assert_eq!(bought.batch, "B 7");
}

// Lightness 50, 60, 52: the two that differ most, 50 and 60, are not neighbours in 50, 52, 60.
#[test]
fn boards_go_by_colour_but_settled_ones_keep_their_order() {
    let measured = [("a", 50), ("b", 60), ("c", 52)];
    let boards = measured.map(|(id, light)| board(id, Some(light)));
    let mut job = job(Grain::Length, boards.to_vec());
    let (boards, order) = boards_in_hand(&job, fixture::FRONT, &[], &[]);
    assert_eq!(names(&boards), ["a", "c", "b"]);
    let order = order.expect("all are measured");
    assert!(order.exact && order.worst < order.worst_in_file_order);
    // Those that hold settled fronts change places among themselves; what is taken is left out.
    let settled = [BoardRef(1), BoardRef(0)];
    let (boards, _) = boards_in_hand(&job, fixture::FRONT, &settled, &[]);
    assert_eq!(names(&boards), ["b", "c", "a"]);
    let (boards, _) = boards_in_hand(&job, fixture::FRONT, &[], &[BoardRef(2)]);
    assert_eq!(names(&boards), ["a", "b"]);
    // One that nobody measured leaves all in the order of the file.
    job.boards[2].lab = None;
    let (boards, order) = boards_in_hand(&job, fixture::FRONT, &[], &[]);
    assert_eq!(names(&boards), ["a", "b", "c"]);
    assert_eq!(order, None);
}
