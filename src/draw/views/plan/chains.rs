//! Dimension chains of a plan: from one corner of each wall, then openings, then the wall itself.
//! Knows which side of the drawing a wall belongs to; every stop is surveyed or reckoned.

use super::{Sheet, WALL_MM, bounds, pt};
use crate::draw::scene::{ChainSide, LabelFrame, Lettering, Pt, Rect, Role, Symbol};
use crate::reckon::placed::{PlacedRun, PlacedWall};
use crate::resolve::job::{Reader, Stands, Wall, WallRef};
use crate::units::Length;

/// A wall further than this behind the drawing's edge is measured on itself: extension lines
/// across the room would say nothing clearly.
const NEAR_EDGE_MM: f64 = 800.0;

/// A wall along which dimensions can be set on one side of the drawing.
struct Axis {
    side: ChainSide,
    /// Scene coordinate of the wall's left corner, and whether the wall runs towards smaller ones.
    origin: Length,
    back: bool,
    reach: Length,
}

impl Axis {
    fn stop(&self, x: Length) -> Length {
        if self.back {
            self.origin - x
        } else {
            self.origin + x
        }
    }
    fn stops(&self, xs: &[Length]) -> Vec<Length> {
        xs.iter().map(|x| self.stop(*x)).collect()
    }
}

pub fn chains(sheet: &mut Sheet) {
    let corners: Vec<Pt> = sheet
        .placed
        .walls
        .iter()
        .flat_map(|w| [pt(w.start), pt(w.end)])
        .collect();
    let Some(room) = bounds(&corners) else {
        return;
    };
    for (index, wall, placed) in sheet.walls() {
        let Some(axis) = axis(placed, room) else {
            on_the_wall(sheet, wall, placed);
            continue;
        };
        let at = WallRef {
            room: sheet.index,
            wall: index,
        };
        let ends = [Length::ZERO, wall.length];
        let mut stands = standing(sheet, at);
        stands.extend(ends);
        let stood = stands.len() > 2;
        if stood {
            let stops = axis.stops(&stands);
            if sheet.reader == Reader::Client {
                sheet.pen.chain(axis.side, 0, stops, axis.reach, "");
            } else {
                sheet
                    .pen
                    .running(axis.side, 0, stops, axis.reach, "", axis.origin);
            }
        }
        let mut holes: Vec<Length> = ends.to_vec();
        holes.extend(wall.doors.iter().flat_map(|d| [d.at, d.at + d.width]));
        holes.extend(wall.windows.iter().flat_map(|w| [w.at, w.at + w.width]));
        if holes.len() > 2 {
            sheet
                .pen
                .chain(axis.side, 1, axis.stops(&holes), axis.reach, "");
        }
        // Figures that run from one corner end with the wall's own length.
        if !stood || sheet.reader == Reader::Client {
            sheet
                .pen
                .chain(axis.side, 2, axis.stops(&ends), axis.reach, "");
        }
    }
}

/// Faces of units, panels and leaves along a wall; for the client only the ends of each. What stands
/// on other units has its place from them.
fn standing(sheet: &Sheet, at: WallRef) -> Vec<Length> {
    let client = sheet.reader == Reader::Client;
    let mut xs: Vec<Length> = Vec::new();
    let on_floor = |r: &&PlacedRun| r.units.iter().any(|u| u.stands != Stands::Unit);
    for run in sheet
        .reckoned
        .runs
        .iter()
        .filter(|r| r.wall == at)
        .filter(on_floor)
    {
        if client {
            xs.extend([run.left, run.right]);
        } else {
            xs.extend(run.units.iter().flat_map(|u| [u.left, u.right]));
        }
    }
    for p in sheet.reckoned.panels.iter().filter(|p| p.wall == at) {
        if let (Some(first), Some(last)) = (p.pieces.first(), p.pieces.last()) {
            xs.extend([first.0, last.1]);
        }
    }
    for s in sheet.reckoned.sliding.iter().filter(|s| s.wall == at) {
        xs.extend([s.left, s.right]);
    }
    xs
}

fn axis(wall: &PlacedWall, room: Rect) -> Option<Axis> {
    const STRAIGHT: f64 = 0.9995;
    let (start, along, out) = (wall.start, wall.along, wall.out);
    let level = along.x.abs() > STRAIGHT;
    if !level && along.y.abs() <= STRAIGHT {
        return None;
    }
    let (side, behind) = if level && out.y > 0.0 {
        (ChainSide::Above, start.y - room.y0)
    } else if level {
        (ChainSide::Below, room.y1 - start.y)
    } else if out.x > 0.0 {
        (ChainSide::Left, start.x - room.x0)
    } else {
        (ChainSide::Right, room.x1 - start.x)
    };
    if behind > NEAR_EDGE_MM {
        return None;
    }
    let (origin, back, face) = if level {
        (start.x, along.x < 0.0, start.y - out.y * WALL_MM)
    } else {
        (start.y, along.y < 0.0, start.x - out.x * WALL_MM)
    };
    Some(Axis {
        side,
        origin: Length::from_mm(origin),
        back,
        reach: Length::from_mm(face),
    })
}

/// From a wall's outer face to the dimension line beside it, mm.
const BESIDE_MM: f64 = 130.0;

/// A wall askew, or deep in the room, carries its length beside it, on a dimension line of its own.
fn on_the_wall(sheet: &mut Sheet, wall: &Wall, placed: &PlacedWall) {
    let length = wall.length.in_mm();
    let out = -WALL_MM - BESIDE_MM;
    let ends = [pt(placed.at(0.0, out)), pt(placed.at(length, out))];
    sheet.pen.line(Role::Fine, ends.to_vec());
    for (along, end) in [0.0, length].into_iter().zip(ends) {
        let (from, to) = (out - BESIDE_MM * 0.3, -WALL_MM - BESIDE_MM * 0.25);
        let stub = vec![pt(placed.at(along, from)), pt(placed.at(along, to))];
        sheet.pen.line(Role::Fine, stub);
        sheet.pen.symbol(Role::Fine, end, Symbol::Terminator);
    }
    let at = pt(placed.at(length / 2.0, out - BESIDE_MM * 0.7));
    let (normal, plain) = (Lettering::Normal, LabelFrame::None);
    let value = vec![wall.length.to_string()];
    sheet.pen.label(at, value, normal, plain, None, 1);
}
