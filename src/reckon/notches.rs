//! Where something on the wall stands into a unit. Knows obstructions and carcass boxes; must not
//! know whether a notch is wise.

use super::placed::Notch;
use super::setting_out::Stand;
use crate::resolve::job::{Unit, Wall};
use crate::units::Length;

/// Left all round what stands in the way (common practice, no source).
pub const CLEARANCE: Length = Length::mm(3);

/// A notch for each obstruction of the unit's own wall that reaches into its box. Its depth is from
/// the unit's back: obstruction + clearance − back.
pub fn notches(unit: &Unit, stand: &Stand, wall: &Wall, y_back: Length) -> Vec<Notch> {
    wall.obstructions
        .iter()
        .filter(|o| {
            o.from < stand.right
                && o.to > stand.left
                && o.bottom < stand.top
                && o.top > stand.base
                && o.out > y_back
        })
        .map(|o| Notch {
            what: o.what.clone(),
            left: (o.from - CLEARANCE).max(stand.left),
            right: (o.to + CLEARANCE).min(stand.right),
            bottom: (o.bottom - CLEARANCE).max(stand.base),
            top: (o.top + CLEARANCE).min(stand.top),
            deep: (o.out + CLEARANCE - y_back).min(unit.depth),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::resolve::job::Obstruction;

    // By hand: pipe 962..1062, 90 out, full height, 3 clear; the unit ends at 1057 and its back is
    // at 10: notch from 959 to 1057, 83 deep, over the unit's whole height.
    #[test]
    fn notch_is_the_pipe_and_three_millimetres() {
        let mut wall = fixture::room([1062; 4]).walls.remove(0);
        wall.obstructions = vec![Obstruction {
            what: "pipe".into(),
            from: Length::mm(962),
            to: Length::mm(1062),
            bottom: Length::ZERO,
            top: Length::mm(2390),
            out: Length::mm(90),
        }];
        let stand = Stand {
            left: Length::mm(12),
            right: Length::mm(1057),
            base: Length::mm(820),
            top: Length::mm(2240),
        };
        let unit = &fixture::run(1).units[0];
        let got = notches(unit, &stand, &wall, Length::mm(10));
        let want = Notch {
            what: "pipe".into(),
            left: Length::mm(959),
            right: Length::mm(1057),
            bottom: Length::mm(820),
            top: Length::mm(2240),
            deep: Length::mm(83),
        };
        assert_eq!(got, [want]);
        assert!(notches(unit, &stand, &wall, Length::mm(90)).is_empty());
    }
}
