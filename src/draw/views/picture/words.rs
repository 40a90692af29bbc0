//! What is said beside the pictures: each joint in plain words, and what is agreed. Knows layouts;
//! must not know where anything is drawn.

use crate::faces::{Piece, has_picture, stands_for_several};
use crate::reckon::pattern::layout::{Joint, Outcome, PatternLayout, Way};
use crate::reckon::pattern::said;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Cutter, Job, Wanted};
use crate::units::Length;

/// How a difference of colour is to be read (common practice, no source).
const COLOUR_READ: &str = "by the measure CIEDE2000, of which a trained eye just sees about 1 side by side, and anybody 3";

fn mm(l: Length) -> String {
    l.round_to(Length::um(100)).abs().to_string()
}

fn board(layout: &PatternLayout, front: usize) -> &str {
    let blank = layout.blank_of(front);
    let board = blank.and_then(|b| layout.boards.get(b.board));
    board.map_or("", |b| b.name.as_str())
}

/// On the wall, where the board or the strip changes.
pub fn change(layout: &PatternLayout, joint: &Joint) -> String {
    let (from, to) = (board(layout, joint.first), board(layout, joint.second));
    let mut said = match from == to {
        true => format!("another strip of board {to} from here"),
        false => format!("board {to} from here"),
    };
    match said::step(joint) {
        None => said.push_str("; the pattern begins anew"),
        Some(step) if step > Length::ZERO => said.push_str(&format!("; step {} mm", mm(step))),
        Some(_) => said.push_str("; the pattern runs on"),
    }
    if let Some(colour) = joint.colour {
        said.push_str(&format!("; colour differs by {}", said::colour(colour)));
    }
    said
}

/// On the wall, at its first front.
pub fn first(layout: &PatternLayout, front: usize) -> String {
    format!("board {} from here", board(layout, front))
}

/// On the close-up, a front and where it comes from.
pub fn piece(layout: &PatternLayout, piece: &Piece, number: &str) -> String {
    format!("front {number}, from board {}", board(layout, piece.front))
}

/// On the close-up, what happens at the joint.
pub fn joint(job: &Job, layout: &PatternLayout, joint: &Joint) -> String {
    let mut said = format!("The gap is {} mm.", mm(joint.gap));
    said.push(' ');
    let (from, to) = (board(layout, joint.first), board(layout, joint.second));
    said.push_str(&match joint.jump {
        None if from == to => {
            "The pattern begins anew: the next front is from another strip of the same board."
                .to_owned()
        }
        None => "The pattern begins anew: the next front is from another board.".to_owned(),
        Some((square, along)) => step(job.cutter, layout, joint, (square, along)),
    });
    if let Some(colour) = joint.colour {
        said.push_str(&format!(
            " The two boards differ in colour by {} (CIEDE2000).",
            said::colour(colour)
        ));
    }
    said
}

fn step(
    cutter: Cutter,
    layout: &PatternLayout,
    joint: &Joint,
    (square, along): (Length, Length),
) -> String {
    let mut said = match square == Length::ZERO {
        true => "Across it the pattern runs on.".to_owned(),
        false if joint.change.is_none() && square + joint.gap == layout.loss => format!(
            "The pattern steps {} mm: saw and trim take {}, the gap shows {}.",
            mm(square),
            cutter.loss(),
            mm(joint.gap)
        ),
        false => format!("The pattern steps {} mm.", mm(square)),
    };
    if along != Length::ZERO {
        let way = match joint.way {
            Way::Beside => "up or down",
            Way::Above => "sideways",
        };
        said.push_str(&format!(" It is {} mm off {way}.", mm(along)));
    }
    said
}

/// What is agreed by the pictures of a layout: paragraphs for the foot of their sheet.
pub fn agreed(job: &Job, reckoned: &Reckoned, layout: &PatternLayout) -> Vec<String> {
    let stepped = said::steps(reckoned, layout);
    let mut steps = match &stepped {
        Some(told) => format!("it steps {told}"),
        None => "it runs on without a step".to_owned(),
    };
    if let Some(between) = said::begins_anew(reckoned, layout) {
        steps.push_str(&format!(
            "; it begins anew where the board changes, between fronts {between}"
        ));
    }
    let mut out = vec![format!(
        "Agreed by this sheet: \u{201c}{}\u{201d} is cut {}; {steps}.",
        layout.name,
        aim(layout, layout.wanted)
    )];
    if stepped.is_some() {
        out.push(format!(
            "Between two fronts the saw and the trim of their edges take {} mm of the board at least; the \
             gap that is seen is narrower.",
            mm(layout.loss)
        ));
    }
    let worst = layout.joints.iter().filter_map(|j| j.colour).max();
    if let Some(colour) = worst {
        out.push(format!(
            "Neighbouring boards differ in colour by {} at the most {COLOUR_READ}. They are shown so.",
            said::colour(colour)
        ));
    }
    let of = |wanted| layout.choices.iter().find(|c| c.wanted == wanted);
    let as_drawn = of(layout.wanted).and_then(|c| c.comes_to.as_ref());
    for choice in &layout.choices {
        let (Some(other), Some(own)) = (&choice.comes_to, as_drawn) else {
            continue;
        };
        // Only what saves a board or lessens a step is worth a choice.
        let better = other.boards < own.boards || other.worst_step < own.worst_step;
        if choice.wanted != layout.wanted && better {
            out.push(format!(
                "It could instead be cut {}: {}. Tell us if you would rather have that.",
                aim(layout, choice.wanted),
                comes_to(own, other)
            ));
        }
    }
    let mut likeness = String::new();
    if let Some(what) = example(job, layout) {
        if stepped.is_some() {
            likeness.push_str("The width of each step is true. ");
        }
        likeness.push_str(&format!("The face itself is an example: {what}. "));
    }
    likeness.push_str(
        "What is left white here of plinths, fillers and strips is of the boards named under \u{201c}Round the fronts\u{201d}. Paper and screen change colours: a sample in the hand, looked at in the room, is what counts.",
    );
    out.push(likeness);
    out
}

/// Why a face is not that of its own board.
fn example(job: &Job, layout: &PatternLayout) -> Option<&'static str> {
    match (has_picture(job, layout), stands_for_several(job, layout)) {
        (false, _) => Some("its lines are drawn, as no board has a picture"),
        (true, true) => Some("one picture stands for several boards"),
        (true, false) => None,
    }
}

fn aim(layout: &PatternLayout, wanted: Wanted) -> String {
    match wanted {
        Wanted::Exact if layout.repeat.is_natural() => {
            "so that the pattern runs on as nearly as the saw allows".to_owned()
        }
        Wanted::Exact => "so that the pattern runs on exactly".to_owned(),
        Wanted::LeastWaste => "for the least waste".to_owned(),
        Wanted::Within(limit) => {
            format!("so that no step is over {limit} mm where it can be helped")
        }
    }
}

fn comes_to(own: &Outcome, other: &Outcome) -> String {
    let boards = match (other.boards, own.boards) {
        (n, own) if n == own => format!("{n} boards as here"),
        (n, own) => format!("{n} boards, not {own}"),
    };
    let times = match other.changes {
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    format!(
        "{boards}; board or strip changes {times}; the farthest step is {} mm",
        mm(other.worst_step)
    )
}
