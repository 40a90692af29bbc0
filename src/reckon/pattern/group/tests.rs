//! A pattern that repeats both ways over a wall of doors. Knows a small wall of doors.

use crate::diag::{Diagnostics, Place};
use crate::reckon::fixture;
use crate::reckon::pattern::layout::PatternLayout;
use crate::reckon::reckon;
use crate::resolve::job::{Board, Grain, PatternRule, Wanted};
use crate::units::Length;

fn mm(v: i64) -> Length {
    Length::mm(v)
}

fn layout(wanted: Wanted) -> PatternLayout {
    let board = |(n, crest): (usize, (i64, i64))| Board {
        id: format!("b{n}"),
        material: fixture::FRONT,
        sheet: (mm(2800), mm(1600)),
        picture: None,
        first_crest: (mm(crest.0), mm(crest.1)),
        lab: None,
        lab_of_picture: false,
        batch: String::new(),
        ends_off: (Length::ZERO, Length::ZERO),
        avoid: Vec::new(),
        place: Place::NOWHERE,
    };
    let mut job = fixture::job([3000; 4]);
    let material = &mut job.materials[fixture::FRONT.0];
    material.sheet = Some((mm(2800), mm(1600)));
    material.grain = Grain::Length;
    material.repeat = (Some(mm(300)), Some(mm(240)));
    let crests = [(40, 12), (130, 5), (0, 200)];
    job.boards = crests.into_iter().enumerate().map(board).collect();
    job.runs = vec![fixture::four_doors_of("P")];
    job.patterns = vec![PatternRule {
        wanted,
        ..PatternRule::usual("P")
    }];
    let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it can be reckoned");
    reckoned.patterns[0].clone()
}

// By definition (handbook §5: a step reduced to the least there is, each way): an exact run has none.
#[test]
fn an_exact_run_steps_neither_way_where_boards_change() {
    let found = layout(Wanted::Exact);
    assert_eq!(found.stuck, None);
    assert!(found.best);
    assert!(found.boards.len() > 1);
    for joint in &found.joints {
        assert_eq!(joint.jump, Some((Length::ZERO, Length::ZERO)), "{joint:?}");
    }
}

#[test]
fn a_limit_is_kept_both_ways() {
    let found = layout(Wanted::Within(mm(6)));
    assert!(found.joints.iter().all(|joint| {
        let (square, along) = joint.jump.expect("it runs on");
        square.abs() <= mm(6) && along.abs() <= mm(6)
    }));
}

// 10 off each edge and 2 of trim: the lowest there is.
#[test]
fn for_the_least_waste_boards_are_begun_at_their_lowest() {
    let found = layout(Wanted::LeastWaste);
    assert!(found.blanks.iter().all(|b| b.area.bottom == mm(12)));
}
