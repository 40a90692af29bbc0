//! Feet under units and the plinth before them. Knows where feet go and what each must reach; must
//! not judge whether a foot can.

use super::placed::{Foot, PlacedUnit, Plinth};
use super::setting_out::{Stand, on_floor};
use super::{floor, profile};
use crate::resolve::job::{Stands, Unit, Wall};
use crate::units::Length;

/// From the carcass's sides, and from its front and back (common practice, no source).
const FROM_SIDE: Length = Length::mm(50);
const FROM_FACE: Length = Length::mm(60);
/// A wider unit gets a middle pair (common practice, no source).
const WIDE: Length = Length::mm(900);
/// Of a plinth's face behind the fronts' (common practice, no source).
const SET_BACK: Length = Length::mm(40);

/// Feet of a unit that stands on the floor, back row before front row, left to right in each.
/// Setting: hᵢ = underside − floor(xᵢ) (handbook §1), to the nearest half-millimetre.
pub fn feet(unit: &Unit, stand: &Stand, wall: &Wall, y_back: Length) -> Vec<Foot> {
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
        .map(|(x, y)| Foot {
            x,
            y,
            height: profile::near(stand.base - floor::at(wall, x)),
        })
        .collect()
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
        let got = feet(unit, &stand, &room.walls[0], Length::mm(10));
        let heights: Vec<Length> = got.iter().map(|f| f.height).collect();
        assert_eq!(heights, [100, 104, 111, 100, 104, 111].map(Length::mm));
        assert_eq!(got[0].y, Length::mm(70));
        assert_eq!(got[3].y, Length::mm(530));
    }
}
