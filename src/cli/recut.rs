//! `rodbook recut`: a front is spoiled; what to cut it from. Knows how the answer is worded; must not
//! know how it was found.

use std::io::Write;
use std::path::Path;

use serde_json::{Value, json};

use super::args::Format;
use super::{Outcome, report};
use crate::app;
use crate::reckon::pattern::layout::{Joint, PatternLayout, Way};
use crate::reckon::pattern::recut::{Recut, Replacement};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::units::Length;

/// So many other places are told besides the best.
const OTHERS: usize = 3;

pub fn run(file: &Path, wanted: &str, format: Format) -> Outcome {
    let prepared = app::prepare(file);
    let Some((job, reckoned)) = &prepared.job else {
        report::errors(&prepared);
        return Outcome::WrongInput;
    };
    let named = |f: &PlacedFront| f.id == wanted || f.number.to_string() == wanted;
    let mut all = reckoned.fronts.iter().chain(&reckoned.pattern_pieces);
    let Some(index) = all.position(named) else {
        let last = reckoned.fronts.len();
        let said = format!(
            "error: no front is called `{wanted}`: give a number from 1 to {last}, or an id as \
             `rodbook explain` prints it"
        );
        let _ = writeln!(anstream::stderr(), "{said}");
        return Outcome::WrongInput;
    };
    let found = app::recut(job, reckoned, index);
    let Some((recut, layout)) = found.and_then(|r| {
        let layout = reckoned.patterns.get(r.layout)?;
        Some((r, layout))
    }) else {
        let said = format!(
            "error: front {wanted} is cut to no pattern: cut it from any board of its material"
        );
        let _ = writeln!(anstream::stderr(), "{said}");
        return Outcome::WrongInput;
    };
    let mut out = anstream::stdout().lock();
    let said = match format {
        Format::Json => format!("{:#}\n", as_json(reckoned, layout, &recut)),
        Format::Text => as_text(reckoned, layout, &recut),
    };
    let _ = write!(out, "{said}");
    match recut.places.is_empty() {
        true => Outcome::Blocked,
        false => Outcome::Fine,
    }
}

fn as_text(reckoned: &Reckoned, layout: &PatternLayout, recut: &Recut) -> String {
    let area = recut.was.area;
    let board = layout.boards.get(recut.was.board).map_or("", |b| &b.name);
    let mut out = format!(
        "Front {} of \u{201c}{}\u{201d}, {} wide and {} high, was cut from board {board}: left edge at {}, \
         bottom edge at {}.\n",
        number(reckoned, recut.front),
        layout.name,
        area.width(),
        area.height(),
        area.left,
        area.bottom
    );
    let Some((best, others)) = recut.places.split_first() else {
        out.push_str(&nothing(recut, area.width(), area.height()));
        return out;
    };
    out.push_str(&format!("\nBest: {}\n", place(best)));
    for joint in &best.joints {
        let beside = neighbour(recut, joint);
        out.push_str(&format!(
            "  {} front {}: {}\n",
            way(recut, joint),
            number(reckoned, beside),
            looks(joint)
        ));
    }
    if best.joints.is_empty() {
        out.push_str("  no other front of the pattern meets it\n");
    }
    for other in others.iter().take(OTHERS) {
        out.push_str(&format!("\nOr: {}\n  {}\n", place(other), in_short(other)));
    }
    out.push_str(
        "\nEdges are those of the finished front, from the board's left and bottom edges as it stands \
         behind the fronts: leave the trim outside them. Measure the piece before you cut it.\n",
    );
    out
}

fn nothing(recut: &Recut, wide: Length, high: Length) -> String {
    let bought = match recut.fits_a_new_board {
        true => {
            "A new board is needed, of the same batch if it can be had. Before it is cut measure where \
             its first crest lies and its colour, and put it into the project file as a board in hand."
        }
        false => "A board as it is bought does not hold it either.",
    };
    format!("\nNo offcut and no board in hand has room for {wide} \u{d7} {high}. {bought}\n")
}

fn place(p: &Replacement) -> String {
    let piece = match p.whole {
        true => format!("board {}, not cut into yet", p.board),
        false => format!(
            "the offcut of board {} that is {} \u{d7} {}",
            p.board,
            p.piece.width(),
            p.piece.height()
        ),
    };
    format!(
        "{piece}: left edge at {}, bottom edge at {}",
        p.at.left, p.at.bottom
    )
}

fn tenths(l: Length) -> Length {
    l.round_to(Length::um(100)).abs()
}

fn colour(thousandths: i64) -> Length {
    tenths(Length::um(thousandths))
}

fn looks(joint: &Joint) -> String {
    let mut said = match joint.jump {
        None => "the pattern begins anew".to_owned(),
        Some((Length::ZERO, Length::ZERO)) => "the pattern runs on".to_owned(),
        Some((square, Length::ZERO)) => format!("the pattern steps {} mm", tenths(square)),
        Some((square, along)) => format!(
            "the pattern steps {} mm and is {} mm off along the joint",
            tenths(square),
            tenths(along)
        ),
    };
    if let Some(differs) = joint.colour {
        said.push_str(&format!("; colour differs by {}", colour(differs)));
    }
    said
}

fn in_short(p: &Replacement) -> String {
    let (anew, step, differs) = p.looks();
    let mut said = match anew {
        0 if step == Length::ZERO => "the pattern runs on everywhere".to_owned(),
        0 => format!("the pattern steps {} mm at the most", tenths(step)),
        n => format!(
            "the pattern begins anew at {n} of {} joints",
            p.joints.len()
        ),
    };
    if differs > 0 {
        said.push_str(&format!("; colour differs by {} at most", colour(differs)));
    }
    said
}

fn number(reckoned: &Reckoned, front: usize) -> String {
    reckoned.face(front).map_or(String::new(), |f| f.label())
}

fn neighbour(recut: &Recut, joint: &Joint) -> usize {
    match joint.first == recut.front {
        true => joint.second,
        false => joint.first,
    }
}

fn way(recut: &Recut, joint: &Joint) -> &'static str {
    match (joint.way, joint.first == recut.front) {
        (Way::Beside, true) => "left of",
        (Way::Beside, false) => "right of",
        (Way::Above, true) => "under",
        (Way::Above, false) => "over",
    }
}

fn as_json(reckoned: &Reckoned, layout: &PatternLayout, recut: &Recut) -> Value {
    let mm = |l: Length| l.in_mm();
    let id = |front: usize| reckoned.face(front).map_or("", |f| f.id.as_str());
    let places: Vec<Value> = recut
        .places
        .iter()
        .map(|p| {
            let joints: Vec<Value> = p
                .joints
                .iter()
                .map(|j| {
                    let other = neighbour(recut, j);
                    json!({
                        "front": id(other),
                        "number": reckoned.face(other).map(|f| f.number).filter(|n| *n > 0),
                        "lies": way(recut, j),
                        "runs_on": j.jump.is_some(),
                        "step": j.jump.map(|(square, _)| mm(square)),
                        "off_along": j.jump.map(|(_, along)| mm(along)),
                        "colour": j.colour.map(|c| c as f64 / 1000.0),
                    })
                })
                .collect();
            json!({
                "board": p.board,
                "whole_board": p.whole,
                "piece": [mm(p.piece.width()), mm(p.piece.height())],
                "left": mm(p.at.left),
                "bottom": mm(p.at.bottom),
                "joints": joints,
            })
        })
        .collect();
    json!({
        "front": id(recut.front),
        "number": reckoned.face(recut.front).map(|f| f.number).filter(|n| *n > 0),
        "pattern": layout.name,
        "size": [mm(recut.was.area.width()), mm(recut.was.area.height())],
        "new_board_needed": recut.places.is_empty(),
        "fits_a_new_board": recut.fits_a_new_board,
        "places": places,
    })
}
