//! Where a handle goes on a front. Knows the trade's habits; must not know what it strikes.

use super::placed::PlacedHandle;
use super::profile;
use crate::resolve::job::{FrontKind, Hardware, HardwareRef, Side};
use crate::units::Length;

/// Of a door's handle above the floor, where the door reaches so far (common practice, no source).
const REACH: Length = Length::mm(1050);
/// Of a handle's centre line in from the edge (common practice, no source).
const FROM_EDGE: Length = Length::mm(40);
/// Of a handle's end from the end of a door (common practice, no source).
const FROM_END: Length = Length::mm(60);

/// Outline of a front, and the floor its height is reckoned from.
#[derive(Clone, Copy, Debug)]
pub struct Face {
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    pub floor: Length,
}

/// `None` on fronts that do not open. Doors: upright, at the edge away from the hinges, at hand
/// height where they reach so far, else toward the nearer end. Drawers: level, a third of the
/// height down. Flaps: level, along the lower edge.
pub fn place(
    kind: FrontKind,
    hinge: Option<Side>,
    face: &Face,
    which: HardwareRef,
    handle: &Hardware,
) -> Option<PlacedHandle> {
    let middle = face.left + (face.right - face.left).half();
    let height = face.top - face.bottom;
    let centre = face.bottom + height.half();
    let (x, z, upright) = match kind {
        FrontKind::Door => {
            let inward = FROM_EDGE.min((face.right - face.left).half());
            let x = match hinge {
                Some(Side::Left) => face.right - inward,
                Some(Side::Right) => face.left + inward,
                None => middle,
            };
            (x, door_height(face, handle.size), true)
        }
        FrontKind::Drawer => (middle, profile::near(face.top - height / 3), false),
        FrontKind::Flap => (middle, (face.bottom + FROM_EDGE).min(centre), false),
        FrontKind::Fixed | FrontKind::Open => return None,
    };
    Some(PlacedHandle {
        which,
        x,
        z,
        length: handle.size,
        out: handle.out,
        upright,
    })
}

fn door_height(face: &Face, length: Length) -> Length {
    let from_end = FROM_END + length.half();
    let (low, high) = (face.bottom + from_end, face.top - from_end);
    if low > high {
        return face.bottom + (face.top - face.bottom).half();
    }
    (face.floor + REACH).clamp(low, high)
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    fn z(bottom: i64, top: i64) -> Length {
        let face = Face {
            left: Length::ZERO,
            right: Length::mm(500),
            bottom: Length::mm(bottom),
            top: Length::mm(top),
            floor: Length::mm(-4),
        };
        let job = fixture::job([3000; 4]);
        let part = &job.hardware[fixture::HANDLE.0];
        let got = place(
            FrontKind::Door,
            Some(Side::Left),
            &face,
            fixture::HANDLE,
            part,
        )
        .unwrap();
        assert_eq!(
            got.x,
            Length::mm(460),
            "40 in from the edge away from the hinge"
        );
        got.z
    }

    // Common practice, no source: the rule in this file, by hand; the handle is 160 long.
    #[test]
    fn hand_height_where_the_door_reaches_it() {
        assert_eq!(z(100, 2000), Length::mm(1046));
        assert_eq!(z(100, 800), Length::mm(660), "low door: near its top");
        assert_eq!(
            z(1500, 2200),
            Length::mm(1640),
            "high door: near its bottom"
        );
        assert_eq!(z(2000, 2200), Length::mm(2100), "short door: its middle");
    }
}
