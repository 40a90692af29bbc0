//! Walls on plan as surveyed, with their doors, windows, boxings and the linings still to come.
//! Knows corners and mitres; must not know furniture.

use super::super::survey::crossing;
use super::{Leaf, Sheet, WALL_MM, pt};
use crate::draw::scene::{Fill, Pt, Role};
use crate::reckon::placed::{PlacedWall, PlanPoint};
use crate::resolve::job::{Side, Wall};

/// Hatched bodies outside the surveyed line, from opening to opening, and the line itself.
pub fn masonry(sheet: &mut Sheet) {
    let walls = sheet.walls();
    // Each stretch: the surveyed face, and the outer face.
    let mut stretches: Vec<(Vec<Pt>, Vec<Pt>)> = Vec::new();
    let mut open = (Vec::new(), Vec::new());
    for (i, wall, placed) in &walls {
        let length = wall.length.in_mm();
        let outer_start = corner(sheet, *i, Side::Left, -WALL_MM, -WALL_MM);
        let outer_end = corner(sheet, *i, Side::Right, -WALL_MM, -WALL_MM);
        open.0.push(pt(placed.at(0.0, 0.0)));
        open.1.push(outer_start);
        for (from, to) in holes(wall) {
            open.0.push(pt(placed.at(from, 0.0)));
            open.1.push(pt(placed.at(from, -WALL_MM)));
            stretches.push(std::mem::take(&mut open));
            open.0.push(pt(placed.at(to, 0.0)));
            open.1.push(pt(placed.at(to, -WALL_MM)));
        }
        open.0.push(pt(placed.at(length, 0.0)));
        open.1.push(outer_end);
    }
    // Round a closed room the last stretch runs on into the first, unless there is no opening.
    let runs_on = sheet.room.closed && !stretches.is_empty();
    if runs_on && let Some(first) = stretches.first_mut() {
        open.0.append(&mut first.0);
        open.1.append(&mut first.1);
        *first = open;
    } else {
        stretches.push(open);
    }
    let ends = sheet.room.closed && stretches.len() == 1 && !runs_on;
    for (face, outer) in stretches {
        let mut body = face.clone();
        body.extend(outer.iter().rev());
        sheet.pen.area(Role::Fine, Fill::Masonry, body);
        let mut line = face;
        if let (Some(a), Some(b), false) = (outer.first(), outer.last(), ends) {
            line.insert(0, *a);
            line.push(*b);
        }
        sheet.pen.line(Role::Survey, line);
    }
}

/// Doors and windows as (from, to) along the wall, in order, none inside another.
fn holes(wall: &Wall) -> Vec<(f64, f64)> {
    let length = wall.length.in_mm();
    let doors = wall.doors.iter().map(|d| (d.at, d.at + d.width));
    let windows = wall.windows.iter().map(|w| (w.at, w.at + w.width));
    let mut all: Vec<(f64, f64)> = doors
        .chain(windows)
        .map(|(a, b)| (a.in_mm().clamp(0.0, length), b.in_mm().clamp(0.0, length)))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut out: Vec<(f64, f64)> = Vec::new();
    for hole in all {
        match out.last_mut() {
            Some(last) if hole.0 <= last.1 => last.1 = last.1.max(hole.1),
            _ => out.push(hole),
        }
    }
    out
}

/// Where a line `own` out of this wall meets one `other` out of the wall round the corner.
fn corner(sheet: &Sheet, index: usize, side: Side, own: f64, other: f64) -> Pt {
    let walls = &sheet.placed.walls;
    let Some(this) = walls.get(index) else {
        return Pt::new(0.0, 0.0);
    };
    let last = walls.len().saturating_sub(1);
    let next = match side {
        Side::Left if index > 0 => walls.get(index - 1),
        Side::Left if sheet.room.closed => walls.get(last),
        Side::Right if index < last => walls.get(index + 1),
        Side::Right if sheet.room.closed => walls.first(),
        _ => None,
    };
    let foot = match side {
        Side::Left => this.start,
        Side::Right => this.end,
    };
    let plain = shifted(foot, this, own);
    let met = next.and_then(|n| {
        crossing(
            shifted(this.start, this, own),
            this.along,
            shifted(n.start, n, other),
            n.along,
        )
    });
    match met {
        Some(p)
            if libm::hypot(p.x - foot.x, p.y - foot.y)
                <= 4.0 * (own.abs() + other.abs() + 10.0) =>
        {
            pt(p)
        }
        _ => pt(plain),
    }
}

fn shifted(p: PlanPoint, wall: &PlacedWall, y: f64) -> PlanPoint {
    PlanPoint {
        x: p.x + wall.out.x * y,
        y: p.y + wall.out.y * y,
    }
}

fn lining(sheet: &Sheet, index: usize) -> f64 {
    sheet
        .room
        .walls
        .get(index)
        .map_or(0.0, |w| w.lining_thickness().in_mm())
}

/// Strips on the room's side of the surveyed line.
pub fn linings(sheet: &mut Sheet) {
    for (i, wall, placed) in sheet.walls() {
        let thick = wall.lining_thickness().in_mm();
        if thick <= 0.0 {
            continue;
        }
        let count = sheet.room.walls.len().max(1);
        let start = corner(
            sheet,
            i,
            Side::Left,
            thick,
            lining(sheet, (i + count - 1) % count),
        );
        let end = corner(sheet, i, Side::Right, thick, lining(sheet, (i + 1) % count));
        let mut strip = (vec![pt(placed.at(0.0, 0.0))], vec![start]);
        for (from, to) in holes(wall) {
            strip.0.push(pt(placed.at(from, 0.0)));
            strip.1.push(pt(placed.at(from, thick)));
            close(sheet, std::mem::take(&mut strip));
            strip.0.push(pt(placed.at(to, 0.0)));
            strip.1.push(pt(placed.at(to, thick)));
        }
        strip.0.push(pt(placed.at(wall.length.in_mm(), 0.0)));
        strip.1.push(end);
        close(sheet, strip);
    }
}

fn close(sheet: &mut Sheet, (mut face, lined): (Vec<Pt>, Vec<Pt>)) {
    face.extend(lined.iter().rev());
    sheet.pen.area(Role::Lining, Fill::Lining, face);
}

/// Leaves and swings of room doors; panes of windows; what each is, in the margin.
pub fn openings(sheet: &mut Sheet) {
    for (_, wall, placed) in sheet.walls() {
        for d in &wall.doors {
            let (from, to) = (d.at.in_mm(), (d.at + d.width).in_mm());
            for y in [0.0, -WALL_MM] {
                let sill = vec![pt(placed.at(from, y)), pt(placed.at(to, y))];
                sheet.pen.line(Role::Fine, sill);
            }
            if let Some(side) = d.hinge {
                let (hinge, free) = if side == Side::Left {
                    (from, to)
                } else {
                    (to, from)
                };
                let (y, out) = if d.opens_in {
                    (0.0, 1.0)
                } else {
                    (-WALL_MM, -1.0)
                };
                let angle = core::f64::consts::FRAC_PI_2;
                let leaf = Leaf {
                    y,
                    out,
                    thick: 40.0,
                    angle,
                };
                sheet.leaf(placed, (hinge, free), leaf);
            }
            let what = if d.hinge.is_some() { "door" } else { "opening" };
            let text = format!("{what} to {}, {} × {}", d.leads_to, d.width, d.height);
            sheet
                .pen
                .callout(pt(placed.at((from + to) / 2.0, -WALL_MM / 2.0)), text);
        }
        for w in &wall.windows {
            let (from, to) = (w.at.in_mm(), (w.at + w.width).in_mm());
            for (role, y) in [
                (Role::Fine, 0.0),
                (Role::Edge, -0.6 * WALL_MM),
                (Role::Edge, -0.9 * WALL_MM),
            ] {
                sheet
                    .pen
                    .line(role, vec![pt(placed.at(from, y)), pt(placed.at(to, y))]);
            }
            let text = format!("window {} × {}, sill {}", w.width, w.height, w.sill);
            sheet
                .pen
                .callout(pt(placed.at((from + to) / 2.0, -WALL_MM / 2.0)), text);
        }
    }
}

pub fn obstructions(sheet: &mut Sheet) {
    for (_, wall, placed) in sheet.walls() {
        for o in &wall.obstructions {
            let (x, y) = ((o.from.in_mm(), o.to.in_mm()), (0.0, o.out.in_mm()));
            sheet.block(placed, Role::Survey, Fill::Tint, x, y);
            let text = format!("{}, {} × {}", o.what, o.to - o.from, o.out);
            sheet
                .pen
                .callout(pt(placed.at((x.0 + x.1) / 2.0, y.1 / 2.0)), text);
        }
    }
}
