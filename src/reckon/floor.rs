//! The floor along a wall. Knows its survey and where a height in the file starts; must not know
//! feet.

use super::profile;
use crate::resolve::job::Wall;
use crate::units::Length;

/// Highest and lowest floor under a stretch of wall, from finished floor, to a half-millimetre
/// outward: heights in the project file start from the highest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorUnder {
    pub high: Length,
    pub low: Length,
    /// Between the two as surveyed, to the nearest half-millimetre.
    pub fall: Length,
}

pub fn under(wall: &Wall, left: Length, right: Length) -> FloorUnder {
    let (low, high) = profile::extremes(&wall.floor, left, right);
    FloorUnder {
        high: profile::up(high),
        low: profile::down(low),
        fall: profile::near(high - low),
    }
}

/// Floor level at a place along the wall.
pub fn at(wall: &Wall, x: Length) -> Length {
    profile::at(&wall.floor, x)
}
