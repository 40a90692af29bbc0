//! Marks and words on plan: what is above the cut, services, elevation marks, the room's name.
//! Knows where a mark is least in the way; must not know dimensions.

use super::super::survey::crossing;
use super::super::{carries_anything, words};
use super::{Sheet, WALL_MM, bounds, pt, spots};
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Role, Symbol};
use crate::reckon::placed::PlacedWall;
use crate::resolve::job::{Reader, ServiceKind, Subject, WallRef};
use crate::units::Length;

/// Half the size of an elevation mark, and of the room's name, at a scale between 1:20 and 1:50.
const MARK_HALF_MM: f64 = 200.0;
const NAME_HALF_MM: (f64, f64) = (560.0, 250.0);

/// From the middle of the room's name to that of a mark.
const NAME_OFF_MARKS_MM: f64 = 650.0;

/// Boxings under the ceiling, and the line where a slope reaches its full height.
pub fn above(sheet: &mut Sheet) {
    for (index, wall, placed) in sheet.walls() {
        for b in &wall.bulkheads {
            let (x, y) = ((b.from.in_mm(), b.to.in_mm()), (0.0, b.out.in_mm()));
            sheet.block(placed, Role::Above, Fill::None, x, y);
            let text = format!("{} over: underside {}, {} out", b.what, b.underside, b.out);
            let at = WallRef {
                room: sheet.index,
                wall: index,
            };
            let along = roomiest(sheet, at, x);
            sheet.pen.callout(pt(placed.at(along, y.1)), text);
        }
    }
    for slope in &sheet.room.slopes {
        let Some(wall) = sheet.placed.walls.get(slope.wall) else {
            continue;
        };
        let Some((a, b)) = across(sheet, wall, slope.over.in_mm()) else {
            continue;
        };
        sheet.pen.line(Role::Above, vec![a, b]);
        let text = format!(
            "sloping ceiling: {} high at the wall, rising to {} at this line, {} from it",
            slope.low, slope.high, slope.over
        );
        let at = Pt::new(a.x + (b.x - a.x) * 0.2, a.y + (b.y - a.y) * 0.2);
        sheet.pen.callout(at, text);
    }
}

/// Along a wall: near the left end of the widest unit between two places, where most is left for its
/// own words.
fn roomiest(sheet: &Sheet, at: WallRef, (from, to): (f64, f64)) -> f64 {
    let runs = sheet.reckoned.runs.iter().filter(|r| r.wall == at);
    let units = runs.flat_map(|r| &r.units);
    let under = units.map(|u| (u.left.in_mm().max(from), u.right.in_mm().min(to)));
    let widest = under.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    let (left, right) = widest.filter(|u| u.1 > u.0).unwrap_or((from, to));
    left + (right - left) * 0.1
}

/// The line `y` out of a wall, from the first to the last wall that it meets.
fn across(sheet: &Sheet, wall: &PlacedWall, y: f64) -> Option<(Pt, Pt)> {
    let from = wall.at(0.0, y);
    let mut ts: Vec<f64> = Vec::new();
    for (_, made, other) in sheet.walls() {
        if let Some(p) = crossing(from, wall.along, other.start, other.along) {
            let on = (p.x - other.start.x) * other.along.x + (p.y - other.start.y) * other.along.y;
            if (-1.0..=made.length.in_mm() + 1.0).contains(&on) {
                ts.push((p.x - from.x) * wall.along.x + (p.y - from.y) * wall.along.y);
            }
        }
    }
    let low = ts.iter().copied().reduce(f64::min)?;
    let high = ts.iter().copied().reduce(f64::max)?;
    (high > low).then(|| (pt(wall.at(low, y)), pt(wall.at(high, y))))
}

pub fn services(sheet: &mut Sheet) {
    for (_, wall, placed) in sheet.walls() {
        let lined = wall.lining_thickness().in_mm();
        for s in &wall.services {
            let x = s.at.in_mm();
            if s.width > Length::ZERO && s.out > Length::ZERO {
                // A light hangs or stands where it is said to be; all else reaches from the wall.
                let near = match s.kind {
                    ServiceKind::Light => (s.out - s.width).max(Length::ZERO),
                    _ => Length::ZERO,
                };
                let x = (x, x + s.width.in_mm());
                let y = (lined + near.in_mm(), lined + s.out.in_mm());
                sheet.block(placed, Role::Service, Fill::None, x, y);
                let at = pt(placed.at((x.0 + x.1) / 2.0, y.1));
                sheet.pen.callout(at, s.kind.name());
            } else {
                let at = pt(placed.at(x, lined));
                sheet
                    .pen
                    .symbol(Role::Service, at, words::service_symbol(s.kind));
            }
        }
    }
}

/// In the room, before the wall they look at, clear of what stands there.
pub fn elevation_marks(sheet: &mut Sheet) {
    let Some(middle) = spots::middle(sheet) else {
        return;
    };
    for (wall, made, placed) in sheet.walls() {
        let at = WallRef {
            room: sheet.index,
            wall,
        };
        if !carries_anything(sheet.reckoned, at) {
            continue;
        }
        let along = made.length.in_mm() / 2.0;
        let half = placed.at(along, 0.0);
        let away = (middle.x - half.x) * placed.out.x + (middle.y - half.y) * placed.out.y;
        let wanted = pt(placed.at(along, away.max(0.0) * 0.8));
        let spot = spots::free(
            sheet,
            wanted,
            (MARK_HALF_MM, MARK_HALF_MM),
            spots::MARKS_APART_MM,
        );
        sheet.marked.push(spot);
        // Clockwise from pointing up.
        let turn = libm::atan2(-placed.out.x, placed.out.y).to_degrees();
        let symbol = Symbol::ElevationMark {
            letter: placed.letter,
            turn,
        };
        sheet.pen.symbol(Role::Edge, spot, symbol);
    }
}

/// On each wall of which there is no elevation its letter, by which lists and findings name it.
pub fn wall_letters(sheet: &mut Sheet) {
    for (wall, made, placed) in sheet.walls() {
        let at = WallRef {
            room: sheet.index,
            wall,
        };
        if carries_anything(sheet.reckoned, at) {
            continue;
        }
        let length = made.length.in_mm();
        let doors = made.doors.iter().map(|d| (d.at, d.at + d.width));
        let windows = made.windows.iter().map(|w| (w.at, w.at + w.width));
        let services = made.services.iter().map(|s| (s.at, s.at + s.width));
        let taken: Vec<(f64, f64)> = (doors.chain(windows).chain(services))
            .map(|(a, b)| (a.in_mm() - LETTER_HALF_MM, b.in_mm() + LETTER_HALF_MM))
            .collect();
        let cost = |share: f64| {
            let x = length * share;
            let spot = spots::about(pt(placed.at(x, 0.0)), LETTER_HALF_MM, LETTER_HALF_MM);
            let over = taken.iter().filter(|t| t.0 < x && x < t.1).count();
            let meets = |b: &&crate::draw::scene::Rect| {
                b.x0 < spot.x1 && spot.x0 < b.x1 && b.y0 < spot.y1 && spot.y0 < b.y1
            };
            let busy = sheet.busy.iter().filter(meets).count();
            10.0 * over as f64 + busy as f64 + (share - 0.5).abs()
        };
        let shares = [
            0.5, 0.42, 0.58, 0.33, 0.67, 0.25, 0.75, 0.16, 0.84, 0.08, 0.92,
        ];
        let best = shares
            .into_iter()
            .min_by(|a, b| cost(*a).total_cmp(&cost(*b)));
        let spot = pt(placed.at(length * best.unwrap_or(0.5), -WALL_MM / 2.0));
        let letter = placed.letter;
        sheet
            .pen
            .symbol(Role::Edge, spot, Symbol::WallLetter { letter });
    }
}

/// Half of what a wall's letter takes, at a scale between 1:20 and 1:50.
const LETTER_HALF_MM: f64 = 120.0;

/// The room's name and ceiling, and notes about the room.
pub fn names(sheet: &mut Sheet) {
    let Some(middle) = spots::middle(sheet) else {
        return;
    };
    let corners: Vec<Pt> = sheet.placed.walls.iter().map(|w| pt(w.start)).collect();
    let mut lines = vec![
        sheet.room.name.clone(),
        format!("ceiling {}", sheet.room.ceiling),
    ];
    // Each room is drawn by itself: which way it lies is its own.
    if let (true, Some(top)) = (sheet.job.rooms.len() > 1, sheet.placed.walls.first()) {
        lines.push(format!("wall {} at the top", top.letter));
    }
    let told = lines.get(1..).unwrap_or_default().join(", ");
    let told = format!("{}: {told}", sheet.room.name);
    let (strong, plain) = (Lettering::Strong, LabelFrame::None);
    let spot = spots::free(sheet, pt(middle), NAME_HALF_MM, NAME_OFF_MARKS_MM);
    sheet
        .pen
        .label(spot, lines, strong, plain, bounds(&corners), 2);
    sheet.pen.else_listed(told);
    for note in &sheet.job.notes {
        let here = note.on == Subject::Room(sheet.index);
        if here && note.to.is_for(sheet.reader) {
            sheet.pen.callout(pt(middle), note.text.clone());
        }
    }
    if sheet.reader != Reader::Client && !sheet.room.closed {
        sheet
            .pen
            .callout(pt(middle), "surveyed in part: other walls not shown");
    }
}
