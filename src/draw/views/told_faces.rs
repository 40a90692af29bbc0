//! Which front comes from which board, in words, for those who cannot see the pictures and maps of a
//! pattern. Knows layouts; must not know where anything is drawn.

use super::words::ranges;
use crate::reckon::pattern::layout::{Blank, PatternLayout};
use crate::reckon::pattern::said;
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::WallRef;
use crate::units::Length;

/// Faces of a layout that stand on one wall, in the order they are cut.
fn here<'a>(
    reckoned: &'a Reckoned,
    layout: &'a PatternLayout,
    at: WallRef,
) -> impl Iterator<Item = (&'a Blank, &'a PlacedFront)> {
    let faces = layout.blanks.iter();
    faces.filter_map(move |b| {
        reckoned
            .face(b.front)
            .filter(|f| f.wall == at)
            .map(|f| (b, f))
    })
}

/// `1 to 4 and left end panel`.
fn faces(of: &[&PlacedFront]) -> String {
    let numbers: Vec<u32> = of.iter().map(|f| f.number).filter(|n| *n > 0).collect();
    let mut said = Vec::new();
    if !numbers.is_empty() {
        said.push(ranges(numbers));
    }
    said.extend(of.iter().filter(|f| f.number == 0).map(|f| f.label()));
    said.join(", ")
}

fn board(layout: &PatternLayout, n: usize) -> &str {
    layout.boards.get(n).map_or("", |b| b.name.as_str())
}

/// `Board La: 1 to 4; board Lb: 5 to 8. It steps …`: as a picture of the wall shows it.
pub fn picture(reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) -> String {
    let mut boards: Vec<(usize, Vec<&PlacedFront>)> = Vec::new();
    for (blank, front) in here(reckoned, layout, at) {
        match boards.iter_mut().find(|(b, _)| *b == blank.board) {
            Some((_, fronts)) => fronts.push(front),
            None => boards.push((blank.board, vec![front])),
        }
    }
    let from: Vec<String> = boards
        .iter()
        .map(|(b, fronts)| format!("board {}: {}", board(layout, *b), faces(fronts)))
        .collect();
    let steps = match said::steps(reckoned, layout) {
        Some(told) => format!("It steps {told}"),
        None => "It runs on without a step".to_owned(),
    };
    let anew = match said::begins_anew(reckoned, layout) {
        Some(between) => format!(", and begins anew between {between}"),
        None => String::new(),
    };
    format!("Fronts from {}. {steps}{anew}.", from.join("; "))
}

/// Each front with its board and where its left and bottom edges lie on it.
pub fn map(reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) -> String {
    let each: Vec<String> = here(reckoned, layout, at)
        .map(|(blank, front)| {
            format!(
                "{} from {} at {}, {}",
                front.label(),
                board(layout, blank.board),
                blank.area.left,
                blank.area.bottom
            )
        })
        .collect();
    format!(
        "Fronts, each with its board and where its left and bottom edges lie on it: {}.",
        each.join("; ")
    )
}

/// What is cut from one board; what is kept is so much larger off the saw.
pub fn cut(reckoned: &Reckoned, layout: &PatternLayout, n: usize, more: Length) -> String {
    let blanks = layout.blanks.iter().filter(|b| b.board == n);
    let of: Vec<&PlacedFront> = blanks.filter_map(|b| reckoned.face(b.front)).collect();
    let Some(board) = layout.boards.get(n) else {
        return String::new();
    };
    let mut said = format!(
        "Board {}, {} wide and {} high as it stands: fronts {}.",
        board.name,
        board.across,
        board.up,
        faces(&of)
    );
    for lost in &board.wasted {
        said.push_str(&format!(
            " A strip {} wide is lost, from {} to {}.",
            lost.width(),
            lost.left,
            lost.right
        ));
    }
    for (flaw, what) in &board.avoid {
        said.push_str(&format!(
            " A {what} at {} to {} across, {} to {} up.",
            flaw.left, flaw.right, flaw.bottom, flaw.top
        ));
    }
    for keep in &board.offcuts {
        said.push_str(&format!(
            " An offcut of {} × {} is kept.",
            keep.width() + more,
            keep.height() + more
        ));
    }
    said
}
