//! Where two fronts of a pattern meet, how far the pattern jumps there. Knows blanks and places on
//! the wall; must not know how the blanks were allotted.

use super::columns::BREAK;
use super::layout::{Blank, Change, CutBoard, Joint, Repeat, Way};
use super::{colour, phase};
use crate::reckon::placed::PlacedFront;
use crate::units::Length;

/// Every joint between fronts that have a blank, by the number of the first front, beside before
/// above. Why a board changes is put in after.
pub fn joints(
    fronts: &[PlacedFront],
    blanks: &[Blank],
    boards: &[CutBoard],
    repeat: Repeat,
) -> Vec<Joint> {
    let mut out = Vec::new();
    for a in blanks {
        for b in blanks {
            let (Some(first), Some(second)) = (fronts.get(a.front), fronts.get(b.front)) else {
                continue;
            };
            if first.run != second.run {
                continue;
            }
            let Some((way, gap)) = meet(first, second) else {
                continue;
            };
            let lab = |blank: &Blank| boards.get(blank.board).and_then(|b| b.lab);
            let colour = match (lab(a), lab(b)) {
                (Some(one), Some(two)) if a.board != b.board => Some(colour::thousandths(one, two)),
                _ => None,
            };
            out.push(Joint {
                first: a.front,
                second: b.front,
                way,
                gap,
                jump: jump((a, first), (b, second), boards, repeat, way),
                change: None,
                colour,
            });
        }
    }
    out.sort_by_key(|j| (j.first, j.way == Way::Above, j.second));
    out
}

/// Whether `second` stands right beside or above `first`, and the gap.
fn meet(first: &PlacedFront, second: &PlacedFront) -> Option<(Way, Length)> {
    let near = |gap: Length| gap >= Length::ZERO && gap <= BREAK;
    let beside = second.left - first.right;
    if near(beside) && first.bottom < second.top && second.bottom < first.top {
        return Some((Way::Beside, beside));
    }
    let above = second.bottom - first.top;
    if near(above) && first.left < second.right && second.left < first.right {
        return Some((Way::Above, above));
    }
    None
}

/// (square to the joint, along it): how far the board has moved against the wall from one front to
/// the next, less whole repeats.
fn jump(
    (a, first): (&Blank, &PlacedFront),
    (b, second): (&Blank, &PlacedFront),
    boards: &[CutBoard],
    repeat: Repeat,
    way: Way,
) -> Option<(Length, Length)> {
    if a.board != b.board && repeat.is_natural() {
        return None;
    }
    let crest = |blank: &Blank| {
        let board = boards.get(blank.board);
        board.map_or((Length::ZERO, Length::ZERO), |b| b.first_crest)
    };
    let place = |blank: &Blank, front: &PlacedFront| {
        let crest = crest(blank);
        let across = blank.area.left - crest.0 - front.left;
        let up = blank.area.bottom - crest.1 - front.bottom;
        (across, up)
    };
    let (one, two) = (place(a, first), place(b, second));
    // Flutes and stripes have nothing to jump the way they run.
    let one_way = |moved: Length, own: Option<Length>| match (own, repeat.is_natural()) {
        (None, false) => Length::ZERO,
        _ => phase::reduced(moved, own),
    };
    let across = one_way(two.0 - one.0, repeat.across);
    let up = one_way(two.1 - one.1, repeat.up);
    Some(match way {
        Way::Beside => (across, up),
        Way::Above => (up, across),
    })
}

/// Whether the two blanks lie in one strip, one after the other or one above the other.
pub fn same_strip(a: &Blank, b: &Blank, strips: &[(usize, Length)]) -> bool {
    let strip = |blank: &Blank| {
        let below = strips
            .iter()
            .filter(|(board, bottom)| *board == blank.board && *bottom <= blank.area.bottom);
        below.map(|(_, bottom)| *bottom).max()
    };
    a.board == b.board && strip(a) == strip(b)
}

/// Says at each joint where board or strip changes why it does.
pub fn explain(
    joints: &mut [Joint],
    blanks: &[Blank],
    strips: &[(usize, Length)],
    why: impl Fn(&Blank, &Blank) -> Change,
) {
    for joint in joints {
        let of = |front: usize| blanks.iter().find(|b| b.front == front);
        let (Some(a), Some(b)) = (of(joint.first), of(joint.second)) else {
            continue;
        };
        if !same_strip(a, b, strips) {
            joint.change = Some(why(a, b));
        }
    }
}
