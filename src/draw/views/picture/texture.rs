//! A face drawn with lines, where its board has no picture: crests of the pattern, or a grain of the
//! board's own. Knows places on boards; the lines run on over a joint as the pattern would.

use super::super::pen::{Pen, up};
use crate::draw::scene::{Fill, Role};
use crate::reckon::pattern::layout::{Area, CutBoard, PatternLayout};
use crate::resolve::job::Grain;
use crate::units::Length;

/// Two of its lines stand no closer, mm of the real thing.
pub struct Fineness(pub i64);

/// A piece of a face: where it is on the wall, and where on the board.
pub fn face(
    pen: &mut Pen,
    layout: &PatternLayout,
    (board, grain): (&CutBoard, Grain),
    (on_wall, on_board): (Area, Area),
    fine: &Fineness,
) {
    let area = super::super::pen::box_of(on_wall.left, on_wall.right, on_wall.bottom, on_wall.top);
    pen.rect(Role::Bare, Fill::White, area);
    let natural = layout.repeat.is_natural();
    let upright = match layout.repeat.across {
        Some(p) => crests(
            board.first_crest.0,
            p,
            (on_board.left, on_board.right),
            fine,
        ),
        None if natural && grain == Grain::Length => {
            growth(&board.name, (on_board.left, on_board.right))
        }
        None => Vec::new(),
    };
    for x in upright {
        let x = (on_wall.left + x - on_board.left).in_mm();
        let (low, high) = (on_wall.bottom.in_mm(), on_wall.top.in_mm());
        pen.line(Role::Fine, vec![up(x, low), up(x, high)]);
    }
    let flat = match layout.repeat.up {
        Some(p) => crests(
            board.first_crest.1,
            p,
            (on_board.bottom, on_board.top),
            fine,
        ),
        None if natural && grain == Grain::Width => {
            growth(&board.name, (on_board.bottom, on_board.top))
        }
        None => Vec::new(),
    };
    for z in flat {
        let z = (on_wall.bottom + z - on_board.bottom).in_mm();
        let (left, right) = (on_wall.left.in_mm(), on_wall.right.in_mm());
        pen.line(Role::Fine, vec![up(left, z), up(right, z)]);
    }
}

/// Every crest between `from` and `to`, or every second, third … where they stand too close.
fn crests(
    first: Length,
    repeat: Length,
    (from, to): (Length, Length),
    fine: &Fineness,
) -> Vec<Length> {
    if repeat <= Length::ZERO {
        return Vec::new();
    }
    let every = (fine.0 * 1000 / repeat.in_um()).max(0) + 1;
    let step = repeat * every;
    let mut at = first + (from - first).floor_to(step);
    let mut out = Vec::new();
    while at <= to {
        if at >= from {
            out.push(at);
        }
        at += step;
    }
    out
}

/// Lines 12 to 60 apart, scattered by a fixed rule from the board's name: the same board has the same
/// grain wherever it is seen.
fn growth(board: &str, (from, to): (Length, Length)) -> Vec<Length> {
    let mut seed = board.bytes().fold(1469_u64, |h, b| {
        (h ^ u64::from(b)).wrapping_mul(1_099_511_628_211)
    });
    let (mut at, mut out) = (Length::ZERO, Vec::new());
    while at <= to {
        if at >= from {
            out.push(at);
        }
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        at += Length::mm(12 + (seed >> 40) as i64 % 49);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(v: i64) -> Length {
        Length::mm(v)
    }

    // By hand: first crest at 12, every 32.
    #[test]
    fn crests_stand_where_the_pattern_repeats() {
        let all = crests(mm(12), mm(32), (mm(40), mm(120)), &Fineness(4));
        assert_eq!(all, [mm(44), mm(76), mm(108)]);
        // Every 2 mm, lines at least 10 apart: every 12.
        let few = crests(mm(0), mm(2), (mm(0), mm(30)), &Fineness(10));
        assert_eq!(few, [mm(0), mm(12), mm(24)]);
    }

    #[test]
    fn a_board_keeps_its_grain_from_blank_to_blank() {
        let whole = growth("La", (mm(0), mm(1000)));
        let part = growth("La", (mm(300), mm(700)));
        let inside = |l: &&Length| **l >= mm(300) && **l <= mm(700);
        assert_eq!(
            part,
            whole.iter().filter(inside).copied().collect::<Vec<_>>()
        );
        assert_ne!(whole, growth("Lb", (mm(0), mm(1000))));
    }
}
