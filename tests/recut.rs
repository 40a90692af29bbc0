//! `rodbook recut`: what a spoiled front is cut from instead.

use crate::support::{rodbook, root};

#[test]
fn the_best_place_is_told_to_people_and_to_programs_alike() {
    let text = rodbook(&root(), &["recut", "example-project/project.toml", "30"]);
    assert_eq!(text.code, 0, "{}", text.err);
    let json = [
        "recut",
        "example-project/project.toml",
        "30",
        "--format",
        "json",
    ];
    let json = rodbook(&root(), &json);
    let said: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!(said["number"], 30);
    assert_eq!(said["new_board_needed"], false);
    let best = &said["places"][0];
    // A repeat of 32 and an exact run: wherever there is room the pattern can be met.
    for joint in best["joints"].as_array().expect("joints") {
        assert_eq!(
            (&joint["runs_on"], &joint["step"]),
            (&true.into(), &0.0.into())
        );
    }
    let edges = format!(
        "board {}",
        best["board"].as_str().expect("the board's name")
    );
    assert!(text.out.contains(&edges), "{}", text.out);
    assert!(text.out.contains("the pattern runs on"), "{}", text.out);
    assert!(text.out.contains("Measure the piece"), "{}", text.out);
}

#[test]
fn a_front_too_high_for_any_offcut_needs_a_new_board() {
    let run = rodbook(&root(), &["recut", "example-project/project.toml", "1"]);
    assert_eq!(run.code, 1);
    assert!(run.out.contains("A new board is needed"), "{}", run.out);
}

#[test]
fn a_front_that_is_not_there_or_of_no_pattern_is_wrong_input() {
    for (front, said) in [
        ("999", "no front is called `999`"),
        ("20", "cut to no pattern"),
    ] {
        let run = rodbook(&root(), &["recut", "example-project/project.toml", front]);
        assert_eq!(run.code, 2);
        assert!(run.out.is_empty() && run.err.contains(said), "{}", run.err);
    }
}
