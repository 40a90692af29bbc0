//! The clear width between the walls at each end of a run, at each height. Knows linings and leans;
//! must not know units.

use super::placed::OpeningAt;
use super::profile;
use super::walls::{self, Corner};
use crate::resolve::job::{Room, Run, Side, Wall, WallRef};
use crate::units::Length;

/// Two heights nearer than this are told as one (common practice, no source).
const NEAR: Length = Length::mm(10);

/// One end of an opening, as a line up the wall.
#[derive(Clone, Copy, Debug)]
pub enum Edge<'a> {
    /// Plumb at a place: a given end, an outside corner, the end of a part survey, or a corner too
    /// far from square for its wall to bound the run.
    Plumb(Length),
    /// An inside corner: the neighbour's lining and lean stand in.
    Wall {
        side: Side,
        corner: Length,
        neighbour: &'a Wall,
        /// Sine of the turn; 1 for a square corner.
        sine: f64,
    },
}

impl Edge<'_> {
    /// Place along the wall at height `z`: the corner, less (lining + lean)/sin(turn), to the µm.
    pub fn at(&self, z: Length) -> Length {
        match *self {
            Edge::Plumb(x) => x,
            Edge::Wall {
                side,
                corner,
                neighbour,
                sine,
            } => {
                let square = neighbour.lining_thickness() + profile::at(&neighbour.plumb, z);
                let along = if sine >= 1.0 {
                    square
                } else {
                    Length::from_mm(square.in_mm() / sine)
                };
                match side {
                    Side::Left => corner + along,
                    Side::Right => corner - along,
                }
            }
        }
    }

    /// Heights at which its line may bend.
    pub fn bends(&self) -> impl Iterator<Item = Length> + '_ {
        let points = match self {
            Edge::Plumb(_) => &[][..],
            Edge::Wall { neighbour, .. } => &neighbour.plumb[..],
        };
        points.iter().map(|p| p.0)
    }

    /// Heights at which to write the line down from `low` to `high`, both included: every bend but
    /// those so near an end that they say nothing new.
    pub fn told(&self, low: Length, high: Length) -> Vec<Length> {
        let mut zs = self.heights(low + NEAR, high - NEAR);
        zs.retain(|z| *z > low + NEAR && *z < high - NEAR);
        zs.insert(0, low);
        zs.push(high);
        zs
    }

    /// Heights from `low` to `high`, both included, between which the line is straight.
    pub fn heights(&self, low: Length, high: Length) -> Vec<Length> {
        let mut zs: Vec<Length> = self.bends().filter(|z| *z > low && *z < high).collect();
        zs.extend([low, high]);
        zs.sort();
        zs.dedup();
        zs
    }

    /// The place nearest the middle of the wall over `low..=high`, to a half-millimetre inward.
    pub fn narrowest(&self, side: Side, low: Length, high: Length) -> Length {
        let places = self.heights(low, high).into_iter().map(|z| self.at(z));
        match side {
            Side::Left => profile::up(places.max().unwrap_or_default()),
            Side::Right => profile::down(places.min().unwrap_or_default()),
        }
    }
}

/// Whether the wall at an inside corner bounds what stands against this one: only the part of its
/// lining and lean square to it counts, and only for turns of 45° to 135°.
pub fn bounds(corner: &Corner<'_>) -> bool {
    (45_000..=135_000).contains(&corner.turn.in_millideg())
}

/// What bounds a wall at one side.
pub fn wall_edge(rooms: &[Room], at: WallRef, length: Length, side: Side) -> Edge<'_> {
    let place = match side {
        Side::Left => Length::ZERO,
        Side::Right => length,
    };
    match walls::corner(rooms, at, side) {
        Some(c) if bounds(&c) => Edge::Wall {
            side,
            corner: place,
            neighbour: c.neighbour,
            sine: walls::direction(c.turn).1,
        },
        _ => Edge::Plumb(place),
    }
}

/// Both ends of a run: as given, else the corner.
pub fn run_edges<'a>(rooms: &'a [Room], run: &Run, length: Length) -> (Edge<'a>, Edge<'a>) {
    let left = match run.from {
        Some(x) => Edge::Plumb(x),
        None => wall_edge(rooms, run.wall, length, Side::Left),
    };
    let right = match run.to {
        Some(x) => Edge::Plumb(x),
        None => wall_edge(rooms, run.wall, length, Side::Right),
    };
    (left, right)
}

/// The opening at each height where either end bends, and at the heights given; from the foot up.
/// A bend within 10 mm of a height given is not told twice.
pub fn at_heights(edges: &(Edge<'_>, Edge<'_>), heights: &[Length]) -> Vec<OpeningAt> {
    let told = |z: &Length| heights.iter().any(|h| (*h - *z).abs() < NEAR);
    let bends = edges.0.bends().chain(edges.1.bends());
    let mut zs: Vec<Length> = bends.filter(|z| !told(z)).collect();
    zs.extend(heights);
    zs.sort();
    zs.dedup();
    zs.into_iter()
        .map(|z| OpeningAt {
            z,
            left: edges.0.at(z),
            right: edges.1.at(z),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::units::Angle;

    const A: WallRef = WallRef { room: 0, wall: 0 };

    // Handbook §1: W(z) = survey width at z − linings at both ends. By hand: 3000 wide; the right
    // wall leans in 6 at 1200 and 15 at 2400 and gets 15.5; the left gets 3 and leans out 5 at 2400.
    #[test]
    fn opening_is_survey_less_linings_and_leans() {
        let mut room = fixture::room([3000, 2000, 3000, 2000]);
        room.walls[1].linings = fixture::lining(15_500);
        room.walls[1].plumb = fixture::line(&[(0, 0), (1200, 6), (2400, 15)]);
        room.walls[3].linings = fixture::lining(3_000);
        room.walls[3].plumb = fixture::line(&[(0, 0), (2400, -5)]);
        let rooms = [room];
        let edges = (
            wall_edge(&rooms, A, Length::mm(3000), Side::Left),
            wall_edge(&rooms, A, Length::mm(3000), Side::Right),
        );
        let at = at_heights(&edges, &[Length::mm(100), Length::mm(2200)]);
        let zs: Vec<_> = at.iter().map(|o| o.z.in_um() / 1000).collect();
        assert_eq!(zs, [0, 100, 1200, 2200, 2400]);
        assert_eq!(at[0].width(), Length::um(2_981_500));
        assert_eq!(at[4].left, Length::mm(-2));
        assert_eq!(at[4].right, Length::um(2_969_500));
        // Narrowest over 100..2200: left at 100 is 3 − 5·100/2400 = 2.79 → 3; right at 2200 is
        // 3000 − 15.5 − 13.5 = 2971.
        let (lo, hi) = (Length::mm(100), Length::mm(2200));
        assert_eq!(edges.0.narrowest(Side::Left, lo, hi), Length::mm(3));
        assert_eq!(edges.1.narrowest(Side::Right, lo, hi), Length::mm(2971));
    }

    #[test]
    fn an_outside_corner_or_none_takes_nothing_off() {
        let mut room = fixture::room([3000, 2000, 3000, 2000]);
        room.walls[1].linings = fixture::lining(15_500);
        room.walls[0].turn = Angle::deg(-90);
        room.closed = false;
        let rooms = [room];
        let right = wall_edge(&rooms, A, Length::mm(3000), Side::Right);
        let left = wall_edge(&rooms, A, Length::mm(3000), Side::Left);
        assert_eq!(right.at(Length::ZERO), Length::mm(3000));
        assert_eq!(left.at(Length::ZERO), Length::ZERO);
    }

    // sin 60° = √3/2: a lining of 15 takes 15/0.866025 = 17.321 along the wall.
    #[test]
    fn a_lining_at_a_skew_corner_takes_more_along_the_wall() {
        let mut room = fixture::room([3000, 2000, 3000, 2000]);
        room.walls[1].linings = fixture::lining(15_000);
        for (turn, takes) in [(60, 17_321), (120, 17_321), (30, 0), (150, 0)] {
            room.walls[0].turn = Angle::deg(turn);
            let rooms = [room.clone()];
            let right = wall_edge(&rooms, A, Length::mm(3000), Side::Right);
            let want = Length::mm(3000) - Length::um(takes);
            assert_eq!(right.at(Length::ZERO), want, "turn {turn}");
        }
    }
}
