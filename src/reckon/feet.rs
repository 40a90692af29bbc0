//! Feet under units and the plinth before them. Knows where feet go and what each must reach; must
//! not judge whether a foot can.

use std::cmp::Ordering;

use super::placed::{Foot, Notch, PlacedUnit, Plinth};
use super::setting_out::{Stand, on_floor};
use super::{floor, profile};
use crate::resolve::job::{Side, Stands, Unit, Wall};
use crate::units::Length;

/// From the carcass's sides, and from its front and back (common practice, no source).
pub const FROM_SIDE: Length = Length::mm(50);
pub const FROM_FACE: Length = Length::mm(60);
/// Half a foot's pad (common practice, no source).
pub const PAD: Length = Length::mm(30);
/// A wider unit gets a middle pair (common practice, no source).
const WIDE: Length = Length::mm(900);
/// Of a foot's centre from a notch (common practice, no source).
const FROM_NOTCH: Length = Length::mm(50);
/// Of a plinth's face behind the fronts' (common practice, no source).
pub const SET_BACK: Length = Length::mm(40);

/// Feet of a unit that stands on the floor, back row before front row, left to right in each. A
/// foot that would stand in a notch at the unit's underside stands beside it, or else before it.
/// Setting: hᵢ = underside − floor(xᵢ) (handbook §1), to the nearest half-millimetre.
pub fn feet(
    unit: &Unit,
    (stand, far): (&Stand, Side),
    wall: &Wall,
    y_back: Length,
    notches: &[Notch],
) -> Vec<Foot> {
    if !on_floor(unit.stands) {
        return Vec::new();
    }
    let width = stand.right - stand.left;
    let middle = stand.left + width.half();
    let in_x = FROM_SIDE.min(width.half());
    let in_y = FROM_FACE.min(unit.depth.half());
    let mut xs = vec![stand.left + in_x, stand.right - in_x];
    if width > WIDE {
        xs.insert(1, middle);
    }
    let ys = [y_back + in_y, y_back + unit.depth - in_y];
    ys.iter()
        .flat_map(|y| xs.iter().map(|x| (*x, *y)))
        .map(|(x, y)| clear_of(notches, (stand, far), y_back, (x, y)))
        .map(|(x, y)| Foot {
            x,
            y,
            height: profile::near(stand.base - floor::at(wall, x)),
        })
        .collect()
}

fn clear_of(
    notches: &[Notch],
    (stand, far): (&Stand, Side),
    y_back: Length,
    (x, y): (Length, Length),
) -> (Length, Length) {
    let in_way = notches.iter().find(|n| {
        n.bottom <= stand.base
            && x > n.left - FROM_NOTCH
            && x < n.right + FROM_NOTCH
            && y < y_back + n.deep + FROM_NOTCH
    });
    let Some(notch) = in_way else {
        return (x, y);
    };
    let (left, right) = (notch.left - FROM_NOTCH, notch.right + FROM_NOTCH);
    let fits = |at: Length| at >= stand.left + FROM_SIDE && at <= stand.right - FROM_SIDE;
    match (fits(left), fits(right)) {
        (true, true) => match (x - left).cmp(&(right - x)) {
            Ordering::Less => (left, y),
            Ordering::Greater => (right, y),
            Ordering::Equal if far == Side::Right => (left, y),
            Ordering::Equal => (right, y),
        },
        (false, true) => (right, y),
        (true, false) => (left, y),
        (false, false) => (x, y_back + notch.deep + FROM_NOTCH),
    }
}

/// One plinth for each stretch of adjoining units of the same base and depth that hide their feet.
pub fn plinths(units: &[PlacedUnit], y_back: Length) -> Vec<Plinth> {
    let mut on_plinth: Vec<&PlacedUnit> = units
        .iter()
        .filter(|u| u.stands == Stands::Plinth)
        .collect();
    on_plinth.sort_by_key(|u| (u.left, u.base));
    let mut out: Vec<(Plinth, Length)> = Vec::new();
    for unit in on_plinth {
        let y_front = y_back + unit.depth_over_fronts - SET_BACK;
        match out.last_mut() {
            Some((plinth, depth))
                if plinth.right == unit.left && plinth.top == unit.base && *depth == unit.depth =>
            {
                plinth.right = unit.right;
                plinth.y_front = plinth.y_front.max(y_front);
            }
            _ => out.push((
                Plinth {
                    left: unit.left,
                    right: unit.right,
                    top: unit.base,
                    y_front,
                },
                unit.depth,
            )),
        }
    }
    out.into_iter().map(|p| p.0).collect()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    // Handbook §1 "floor" (W): floor 0, −4, −11 along the run, 100 mm foot at the highest point
    // → 100, 104, 111. Six feet, as the unit is over 900 wide.
    #[test]
    fn feet_reach_a_floor_that_falls() {
        let mut room = fixture::room([2100, 3000, 2100, 3000]);
        room.walls[0].floor = fixture::line(&[(50, 0), (1050, -4), (2050, -11)]);
        let unit = &fixture::run(1).units[0];
        let stand = Stand {
            left: Length::ZERO,
            right: Length::mm(2100),
            base: Length::mm(100),
            top: Length::mm(2000),
        };
        let got = feet(
            unit,
            (&stand, Side::Right),
            &room.walls[0],
            Length::mm(10),
            &[],
        );
        let heights: Vec<Length> = got.iter().map(|f| f.height).collect();
        assert_eq!(heights, [100, 104, 111, 100, 104, 111].map(Length::mm));
        assert_eq!(got[0].y, Length::mm(70));
        assert_eq!(got[3].y, Length::mm(530));
    }

    // By hand: a notch from 959 to the unit's right side at 1057 takes the place of the foot at
    // 1007; it goes to 959 − 50 = 909. One over the whole width sends it forward to 83 + 50.
    #[test]
    fn a_foot_stands_clear_of_a_notch() {
        let room = fixture::room([1062, 3000, 1062, 3000]);
        let unit = &fixture::run(1).units[0];
        let stand = Stand {
            left: Length::mm(12),
            right: Length::mm(1057),
            base: Length::mm(100),
            top: Length::mm(820),
        };
        let mut notch = Notch {
            what: "pipe".into(),
            left: Length::mm(959),
            right: Length::mm(1057),
            bottom: Length::mm(100),
            top: Length::mm(820),
            deep: Length::mm(83),
        };
        let at = |notch: &Notch| {
            let notches = std::slice::from_ref(notch);
            let feet = feet(
                unit,
                (&stand, Side::Right),
                &room.walls[0],
                Length::ZERO,
                notches,
            );
            (feet[2].x, feet[2].y, feet[5].x)
        };
        let mm = Length::mm;
        assert_eq!(at(&notch), (mm(909), mm(60), mm(1007)));
        notch.left = mm(12);
        assert_eq!(at(&notch), (mm(1007), mm(133), mm(1007)));
    }
}
