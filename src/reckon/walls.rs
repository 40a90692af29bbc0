//! Walls on plan: where the survey puts them, whether it closes, which corner each wall ends at.
//! Knows the survey only; must not know what stands on a wall.

use super::placed::{Closure, DiagonalCheck, PlacedRoom, PlacedWall, PlanPoint};
use crate::resolve::job::{Job, Room, Run, Side, Wall, WallRef};
use crate::units::{Angle, Length};

/// Elevation letters in the order they are given; I and O are skipped, as they read as figures.
/// A job of more walls goes on in small letters, then in Greek ones, then from the start.
const LETTERS: &str = "ABCDEFGHJKLMNPQRSTUVWXYZabcdefghjkmnpqrstuvwxyzΓΔΘΛΞΠΣΦΨΩ";

/// Unit vector at `angle` from the first wall, clockwise seen from above; exact at right angles.
pub fn direction(angle: Angle) -> (f64, f64) {
    match angle.in_millideg().rem_euclid(360_000) {
        0 => (1.0, 0.0),
        90_000 => (0.0, 1.0),
        180_000 => (-1.0, 0.0),
        270_000 => (0.0, -1.0),
        other => {
            let rad = Angle::millideg(other).in_rad();
            (libm::cos(rad), libm::sin(rad))
        }
    }
}

/// Every wall of every room on its room's plan. The wall that carries the room's first run lies at the
/// top of the plan; in a room without runs the first wall does.
pub fn place_rooms(job: &Job) -> Vec<PlacedRoom> {
    let mut letters = LETTERS.chars().cycle();
    job.rooms
        .iter()
        .enumerate()
        .map(|(n, room)| {
            let top = job
                .runs
                .iter()
                .find(|run| run.wall.room == n)
                .map_or(0, |run| run.wall.wall);
            place_room(room, top, &mut letters)
        })
        .collect()
}

/// A wall is drawn under its own id where every wall of the room has one of a single letter or digit;
/// else under the next letter.
fn place_room(room: &Room, top: usize, letters: &mut impl Iterator<Item = char>) -> PlacedRoom {
    let turned = room
        .walls
        .iter()
        .take(top)
        .fold(0, |sum, w| sum + w.turn.in_millideg());
    let mut heading = Angle::millideg(-turned);
    let mut at = PlanPoint { x: 0.0, y: 0.0 };
    let mut walls = Vec::with_capacity(room.walls.len());
    let own: Option<Vec<char>> = room
        .walls
        .iter()
        .map(|w| {
            let mut chars = w.id.chars();
            chars.next().filter(|_| chars.next().is_none())
        })
        .collect();
    for (n, wall) in room.walls.iter().enumerate() {
        let (dx, dy) = direction(heading);
        let length = wall.length.in_mm();
        let end = PlanPoint {
            x: at.x + dx * length,
            y: at.y + dy * length,
        };
        walls.push(PlacedWall {
            start: at,
            end,
            along: PlanPoint { x: dx, y: dy },
            out: PlanPoint { x: -dy, y: dx },
            letter: match own.as_ref().and_then(|own| own.get(n)) {
                Some(own) => *own,
                None => letters.next().unwrap_or('A'),
            },
        });
        at = end;
        heading = heading + wall.turn;
    }
    let closure = room.closed.then(|| Closure {
        error: Length::from_mm(libm::hypot(at.x, at.y)),
        perimeter: room.walls.iter().map(|w| w.length).sum(),
    });
    let corner = |i: usize| match walls.get(i) {
        Some(wall) => wall.start,
        None => at,
    };
    let diagonals = room
        .diagonals
        .iter()
        .map(|d| {
            let (a, b) = (corner(d.from), corner(d.to));
            DiagonalCheck {
                from: d.from,
                to: d.to,
                measured: d.length,
                computed: Length::from_mm(libm::hypot(b.x - a.x, b.y - a.y)),
            }
        })
        .collect();
    PlacedRoom {
        walls,
        closure,
        diagonals,
    }
}

/// The corner at one side of a wall, and the wall that stands there.
#[derive(Clone, Copy, Debug)]
pub struct Corner<'a> {
    pub neighbour: &'a Wall,
    /// Positive: inside; negative: outside.
    pub turn: Angle,
}

/// The walls whose linings set a run's opening: its own, and at each end that is set by a corner the
/// neighbour there.
pub fn setting(rooms: &[Room], run: &Run) -> Vec<WallRef> {
    let Some(count) = rooms.get(run.wall.room).map(|r| r.walls.len()) else {
        return Vec::new();
    };
    let mut out = vec![run.wall];
    for (set, side, step) in [
        (run.from.is_none(), Side::Left, count.saturating_sub(1)),
        (run.to.is_none(), Side::Right, 1),
    ] {
        if set && corner(rooms, run.wall, side).is_some() {
            let wall = (run.wall.wall + step) % count.max(1);
            out.push(WallRef { wall, ..run.wall });
        }
    }
    out
}

/// The neighbour on the left is the wall before it in the list (for the first wall of a closed
/// room, the last), on the right the one after. `None` at the ends of a part survey.
pub fn corner(rooms: &[Room], at: WallRef, side: Side) -> Option<Corner<'_>> {
    let room = rooms.get(at.room)?;
    let count = room.walls.len();
    let first = at.wall == 0;
    let last = at.wall + 1 >= count;
    let (neighbour, turning) = match side {
        Side::Left if !first => (at.wall - 1, at.wall - 1),
        Side::Left if room.closed && count > 1 => (count - 1, count - 1),
        Side::Right if !last => (at.wall + 1, at.wall),
        Side::Right if room.closed && count > 1 => (0, at.wall),
        _ => return None,
    };
    Some(Corner {
        neighbour: room.walls.get(neighbour)?,
        turn: room.walls.get(turning)?.turn,
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    /// Only the rooms of a job, and no run to turn them.
    fn place_only(rooms: Vec<Room>) -> Vec<PlacedRoom> {
        let mut job = fixture::job([1, 1, 1, 1]);
        job.rooms = rooms;
        job.runs.clear();
        place_rooms(&job)
    }

    // Handbook §1 "closure": e = |Σ L·(cos θ, sin θ)|. Worked by hand for 4620, 3380, 4614, 3384 at
    // right angles: (6, −4), e = √52 = 7.211.
    #[test]
    fn closure_of_a_room_surveyed_a_little_out() {
        let mut room = fixture::room([4620, 3380, 4614, 3384]);
        room.diagonals = vec![crate::resolve::job::Diagonal {
            from: 0,
            to: 2,
            length: Length::mm(5727),
            place: Default::default(),
        }];
        let placed = place_only(vec![room]);
        let closure = placed[0].closure.unwrap();
        assert_eq!(closure.error, Length::um(7_211));
        assert_eq!(closure.perimeter, Length::mm(15_998));
        // √(4620² + 3380²) = 5724.404, by Pythagoras.
        assert_eq!(placed[0].diagonals[0].computed, Length::um(5_724_404));
    }

    // By definition: a run from corner to corner is set by its own wall and both neighbours; one that ends
    // before a corner is not set by the wall there.
    #[test]
    fn the_walls_that_set_a_run() {
        let rooms = vec![fixture::room([3000; 4])];
        let mut run = fixture::run(1);
        let walls =
            |run: &Run| -> Vec<usize> { setting(&rooms, run).iter().map(|w| w.wall).collect() };
        assert_eq!(walls(&run), [0, 3, 1]);
        run.to = Some(Length::mm(2000));
        assert_eq!(walls(&run), [0, 3]);
    }

    // A 3-4-5 triangle closes: turns of 180° less each angle, by Euclid.
    #[test]
    fn a_room_with_odd_angles_closes() {
        let mut room = fixture::room([4000, 3000, 5000, 1]);
        room.walls.truncate(3);
        room.walls[0].turn = Angle::deg(90);
        room.walls[1].turn = Angle::millideg(180_000 - 53_130);
        room.walls[2].turn = Angle::millideg(180_000 - 36_870);
        let placed = place_only(vec![room]);
        assert!(placed[0].closure.unwrap().error < Length::um(100));
    }

    #[test]
    fn an_outside_corner_steps_back_and_letters_skip_i_and_o() {
        let mut room = fixture::room([3450, 2480, 1062, 380]);
        room.walls[3].turn = Angle::deg(-90);
        let mut more = fixture::room([2385, 2103, 1, 1]).walls;
        more.truncate(2);
        room.walls.append(&mut more);
        for wall in &mut room.walls {
            wall.id.push_str("-wall");
        }
        let rooms = vec![room.clone(), room];
        let placed = place_only(rooms.clone());
        assert_eq!(placed[0].walls[5].start, PlanPoint { x: 3.0, y: 2100.0 });
        let letters: String = placed
            .iter()
            .flat_map(|r| r.walls.iter().map(|w| w.letter))
            .collect();
        assert_eq!(letters, "ABCDEFGHJKLM");
        let at = |wall| WallRef { room: 0, wall };
        assert_eq!(
            corner(&rooms, at(0), Side::Left).unwrap().neighbour.length,
            Length::mm(2103)
        );
        assert_eq!(
            corner(&rooms, at(4), Side::Left).unwrap().turn,
            Angle::deg(-90)
        );
        assert_eq!(
            corner(&rooms, at(3), Side::Right).unwrap().turn,
            Angle::deg(-90)
        );
    }

    #[test]
    fn the_wall_of_the_first_run_lies_on_top_and_goes_by_its_own_letter() {
        let mut job = fixture::job([4000, 3000, 4000, 3000]);
        for (wall, id) in job.rooms[0].walls.iter_mut().zip(["L", "B", "R", "D"]) {
            wall.id = id.to_string();
        }
        job.runs = vec![fixture::run(1)];
        job.runs[0].wall = WallRef { room: 0, wall: 1 };
        let placed = place_rooms(&job);
        assert_eq!(placed[0].walls[1].along, PlanPoint { x: 1.0, y: 0.0 });
        assert_eq!(placed[0].walls[1].out, PlanPoint { x: 0.0, y: 1.0 });
        assert_eq!(placed[0].walls[0].along, PlanPoint { x: 0.0, y: -1.0 });
        let letters: String = placed[0].walls.iter().map(|w| w.letter).collect();
        assert_eq!(letters, "LBRD");
    }
}
