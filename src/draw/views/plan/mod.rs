//! Plan of one room, cut about 1100 above the floor. Knows in which order things lie over one
//! another seen from above; must not know paper, nor work out a size of the furniture.

mod chains;
mod clashes;
mod furniture;
mod loose;
mod marks;
mod spots;
mod walls;

pub use clashes::told;

use super::pen::Pen;
use super::{file_word, legend, words};
use crate::draw::scene::{Fill, Pt, Rect, Role, Scene};
use crate::reckon::placed::{PlacedRoom, PlacedWall, PlanPoint, Reckoned};
use crate::resolve::job::{Job, Reader, Room, WallRef};
use crate::risks::Marks;
use crate::units::Length;

/// Height of the plan's cut (common practice, no source): what it meets is drawn in wide lines.
const CUT: Length = Length::mm(1100);

/// Thickness a wall is drawn with, outside the surveyed face: a mark, nobody measured it.
const WALL_MM: f64 = 100.0;

/// What one plan looks at.
struct Sheet<'a> {
    job: &'a Job,
    reckoned: &'a Reckoned,
    marks: &'a Marks,
    index: usize,
    room: &'a Room,
    placed: &'a PlacedRoom,
    reader: Reader,
    pen: Pen,
    /// What marks and names should keep off: furniture, and where its doors and drawers go.
    busy: Vec<Rect>,
    /// Elevation marks so far.
    marked: Vec<Pt>,
}

/// The room of that index for one reader; an empty scene if there is none.
pub fn plan(
    job: &Job,
    (reckoned, marks): (&Reckoned, &Marks),
    index: usize,
    reader: Reader,
) -> Scene {
    let (Some(room), Some(placed)) = (job.rooms.get(index), reckoned.rooms.get(index)) else {
        return Scene::default();
    };
    let pen = Pen::default();
    let mut sheet = Sheet {
        job,
        reckoned,
        marks,
        index,
        room,
        placed,
        reader,
        pen,
        busy: Vec::new(),
        marked: Vec::new(),
    };
    sheet.pen.scene.id = format!("{}-plan", file_word(&room.id));
    sheet.pen.scene.title = words::plan_title(job, index);
    sheet.pen.scene.alt = super::told::plan(job, (reckoned, marks), index, reader);

    walls::masonry(&mut sheet);
    walls::linings(&mut sheet);
    walls::openings(&mut sheet);
    walls::obstructions(&mut sheet);
    loose::panels(&mut sheet);
    furniture::runs(&mut sheet);
    loose::worktops(&mut sheet);
    loose::sliding(&mut sheet);
    clashes::clashes(&mut sheet);
    marks::above(&mut sheet);
    marks::services(&mut sheet);
    marks::elevation_marks(&mut sheet);
    marks::wall_letters(&mut sheet);
    marks::names(&mut sheet);
    chains::chains(&mut sheet);

    let mut scene = sheet.pen.scene;
    scene.legend = legend::plan(&scene);
    scene
}

fn pt(p: PlanPoint) -> Pt {
    Pt::new(p.x, p.y)
}

fn bounds(points: &[Pt]) -> Option<Rect> {
    let first = points.first()?;
    let start = Rect {
        x0: first.x,
        y0: first.y,
        x1: first.x,
        y1: first.y,
    };
    Some(points.iter().fold(start, |r, p| Rect {
        x0: r.x0.min(p.x),
        y0: r.y0.min(p.y),
        x1: r.x1.max(p.x),
        y1: r.y1.max(p.y),
    }))
}

/// Where a leaf hangs out of its wall, its side, its thickness and how far it stands open, rad.
struct Leaf {
    y: f64,
    out: f64,
    thick: f64,
    angle: f64,
}

impl<'a> Sheet<'a> {
    /// Walls of the room with where they stand.
    fn walls(&self) -> Vec<(usize, &'a crate::resolve::job::Wall, &'a PlacedWall)> {
        let (room, placed) = (self.room, self.placed);
        (room.walls.iter().zip(&placed.walls).enumerate())
            .map(|(i, (w, p))| (i, w, p))
            .collect()
    }

    /// Index of the wall in this room, and where it stands, if it is one of this room's.
    fn wall(&self, at: WallRef) -> Option<&'a PlacedWall> {
        (at.room == self.index).then(|| self.placed.walls.get(at.wall))?
    }

    /// The four corners of what lies from `x0` to `x1` along a wall and `y0` to `y1` out of it.
    fn quad(&self, wall: &PlacedWall, x: (f64, f64), y: (f64, f64)) -> Vec<Pt> {
        [(x.0, y.0), (x.1, y.0), (x.1, y.1), (x.0, y.1)]
            .into_iter()
            .map(|(x, y)| pt(wall.at(x, y)))
            .collect()
    }

    fn block(&mut self, wall: &PlacedWall, role: Role, fill: Fill, x: (f64, f64), y: (f64, f64)) {
        if x.1 > x.0 && y.1 > y.0 {
            let points = self.quad(wall, x, y);
            self.pen.area(role, fill, points);
        }
    }

    /// Box round a block, to keep words in.
    fn around(&self, wall: &PlacedWall, x: (f64, f64), y: (f64, f64)) -> Option<Rect> {
        bounds(&self.quad(wall, x, y))
    }

    /// A leaf standing open at an angle, and the arc it went. `hinge` and `free` are along the wall at
    /// `y`; `out` is +1 where it opens into the room and −1 where it opens away.
    fn leaf(&mut self, wall: &PlacedWall, (hinge, free): (f64, f64), leaf: Leaf) {
        let Leaf {
            y,
            out,
            thick,
            angle,
        } = leaf;
        let width = (free - hinge).abs();
        let toward = if free > hinge { 1.0 } else { -1.0 };
        let (sin, cos) = libm::sincos(angle);
        // Along the leaf, and across it to its other face.
        let (along, face) = ((cos * toward, sin * out), (sin * toward, -cos * out));
        let at = |far: f64, deep: f64| {
            wall.at(
                hinge + along.0 * far + face.0 * deep,
                y + along.1 * far + face.1 * deep,
            )
        };
        let (centre, tip) = (at(0.0, 0.0), at(width, 0.0));
        let points = vec![
            pt(centre),
            pt(tip),
            pt(at(width, thick)),
            pt(at(0.0, thick)),
        ];
        self.busy
            .extend(bounds(&[pt(centre), pt(tip), pt(wall.at(free, y))]));
        self.pen.area(Role::Fine, Fill::White, points);
        let angle = |p: PlanPoint| libm::atan2(p.y - centre.y, p.x - centre.x).to_degrees();
        let (from, to) = (angle(wall.at(free, y)), angle(tip));
        let mut sweep = to - from;
        while sweep > 180.0 {
            sweep -= 360.0;
        }
        while sweep < -180.0 {
            sweep += 360.0;
        }
        let shape = crate::draw::scene::Shape::Arc {
            centre: pt(centre),
            radius: width,
            from,
            sweep,
        };
        self.pen.mark(Role::Swing, Fill::None, shape);
    }
}
