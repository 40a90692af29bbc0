//! What was there before the furniture: floor, ceiling, corners, doors, windows, boxings, the datum.
//! Knows the survey of one wall; must not know units or fronts.

use super::super::pen::{box_of, box_up, up};
use super::super::{Face, survey};
use super::Sight;
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Role, Symbol};
use crate::reckon::placed::PlacedSliding;
use crate::resolve::job::{Reader, Side, WallDoor, WallRef};
use crate::units::Length;

/// Floor, ceiling with its slopes, both corners with the linings to come, bulkheads, boxings.
pub fn shell(sight: &mut Sight) {
    let floor = survey::floor_line(sight.wall);
    let ceiling = survey::ceiling_line(sight.job, sight.reckoned, sight.at);
    behind_the_slope(sight, &ceiling);
    bulkheads(sight, &ceiling);
    obstructions(sight);
    let (Some(f0), Some(f1)) = (floor.first().copied(), floor.last().copied()) else {
        return;
    };
    let (Some(c0), Some(c1)) = (ceiling.first().copied(), ceiling.last().copied()) else {
        return;
    };
    let left = corner(sight, Side::Left, f0.1, c0.1);
    let right = corner(sight, Side::Right, f1.1, c1.1);
    // One closed line: the room's outline as surveyed. Where a corner leans out, floor and ceiling
    // run on to meet it.
    let mut points = left.clone();
    let (x0, x1) = (end_x(&left), end_x(&right));
    points.extend(
        ceiling
            .iter()
            .filter(|p| p.0 > x0 && p.0 < x1)
            .map(|p| up(p.0, p.1)),
    );
    points.extend(right.iter().rev());
    let (x0, x1) = (start_x(&left), start_x(&right));
    points.extend(
        floor
            .iter()
            .rev()
            .filter(|p| p.0 > x0 && p.0 < x1)
            .map(|p| up(p.0, p.1)),
    );
    sight.pen.area(Role::Survey, Fill::None, points);
    if sight.reader != Reader::Client && sight.face == Face::Shut {
        levels(sight);
    }
}

fn start_x(line: &[Pt]) -> f64 {
    line.first().map_or(0.0, |p| p.x)
}

fn end_x(line: &[Pt]) -> f64 {
    line.last().map_or(0.0, |p| p.x)
}

/// Line of a corner from floor to ceiling; draws the lining to come on it.
fn corner(sight: &mut Sight, side: Side, floor: f64, ceiling: f64) -> Vec<Pt> {
    let zs = survey::corner_heights(sight.job, sight.at, side, floor, ceiling.max(floor));
    let both: Vec<(f64, f64, f64)> = zs
        .into_iter()
        .map(|z| {
            let (wall, lined) = survey::corner_at(sight.job, sight.at, side, z);
            (z, wall, lined)
        })
        .collect();
    if both
        .iter()
        .any(|(_, wall, lined)| (wall - lined).abs() > 0.1)
    {
        let mut strip: Vec<Pt> = both.iter().map(|(z, wall, _)| up(*wall, *z)).collect();
        strip.extend(both.iter().rev().map(|(z, _, lined)| up(*lined, *z)));
        sight.pen.area(Role::Lining, Fill::Lining, strip);
    }
    both.iter().map(|(z, wall, _)| up(*wall, *z)).collect()
}

/// Where the ceiling comes down to this very wall, its upper edge further into the room shows too.
fn behind_the_slope(sight: &mut Sight, ceiling: &[(f64, f64)]) {
    let Some(room) = sight.job.rooms.get(sight.at.room) else {
        return;
    };
    let length = sight.wall.length.in_mm();
    for slope in room.slopes.iter().filter(|s| s.wall == sight.at.wall) {
        let (low, high) = (slope.low.in_mm(), slope.high.in_mm());
        if ceiling.iter().all(|p| p.1 >= high) || high <= low {
            continue;
        }
        sight.pen.line(
            Role::Fine,
            vec![
                up(0.0, low),
                up(0.0, high),
                up(length, high),
                up(length, low),
            ],
        );
        let words = format!(
            "sloping ceiling: {} high at this wall, rising to {} at {} from it",
            slope.low, slope.high, slope.over
        );
        let area = box_up(0.0, length, low, high);
        sight.pen.words(area.centre(), words, Some(area));
    }
}

fn bulkheads(sight: &mut Sight, ceiling: &[(f64, f64)]) {
    for b in &sight.wall.bulkheads {
        let top = ceiling.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
        let under = b.underside.in_mm();
        let area = box_up(b.from.in_mm(), b.to.in_mm(), under, top.max(under));
        sight.pen.rect(Role::Survey, Fill::Tint, area);
        let words = format!("{}: underside {}, {} out", b.what, b.underside, b.out);
        sight.pen.words(area.centre(), words, Some(area));
    }
}

fn obstructions(sight: &mut Sight) {
    for o in &sight.wall.obstructions {
        let area = box_of(o.from, o.to, o.bottom, o.top);
        sight.pen.rect(Role::Survey, Fill::Tint, area);
        // Its name, once: in the margin, as it is mostly too thin to write in.
        if sight.face == Face::Shut || sight.reader != Reader::Client {
            let middle = (o.from + o.to).half();
            sight.pen.callout(
                Pt::up(middle, seen(sight, middle, o.bottom, o.top)),
                format!("{}, {} × {} on plan", o.what, o.to - o.from, o.out),
            );
        }
    }
}

/// Where what stands on the wall is seen best: over whatever stands before it, else near its top.
fn seen(sight: &Sight, x: Length, bottom: Length, top: Length) -> Length {
    const ENOUGH: Length = Length::mm(60);
    let runs = sight.runs();
    let units = runs.iter().flat_map(|(_, _, run)| &run.units);
    let before = units.filter(|u| u.left <= x && x <= u.right && u.top > bottom);
    match before.map(|u| u.top).max() {
        Some(over) if top - over >= ENOUGH => (over + top).half(),
        _ => top - (top - bottom).scale(1, 16),
    }
}

/// Doors and windows of the wall.
pub fn openings(sight: &mut Sight) {
    for d in &sight.wall.doors {
        let floor = survey::between(&sight.wall.floor, (d.at + d.width.half()).in_mm());
        let area = box_up(
            d.at.in_mm(),
            (d.at + d.width).in_mm(),
            floor,
            d.height.in_mm(),
        );
        if behind_leaf(sight, d) {
            continue;
        }
        sight.pen.rect(Role::Edge, Fill::None, area);
        let mut lines = vec![if d.hinge.is_some() {
            format!("door to {}", d.leads_to)
        } else {
            format!("opening to {}", d.leads_to)
        }];
        lines.push(format!("{} × {}", d.width, d.height));
        let normal = Lettering::Normal;
        let at = area.centre();
        sight
            .pen
            .label(at, lines, normal, LabelFrame::None, Some(area), 6);
    }
    for w in &sight.wall.windows {
        let area = box_of(w.at, w.at + w.width, w.sill, w.sill + w.height);
        sight.pen.rect(Role::Edge, Fill::None, area);
        sight.pen.rect(Role::Fine, Fill::None, area.inset(50.0));
        let lines = vec![
            format!("window {} × {}", w.width, w.height),
            format!("sill {}, reveal {}", w.sill, w.reveal),
        ];
        let normal = Lettering::Normal;
        sight.pen.label(
            area.centre(),
            lines,
            normal,
            LabelFrame::None,
            Some(area),
            6,
        );
    }
}

/// Whether a sliding leaf, shut, covers a doorway.
fn behind_leaf(sight: &Sight, d: &WallDoor) -> bool {
    let covers = |s: &PlacedSliding| s.left <= d.at && s.right >= d.at + d.width;
    let mut leaves = sight.reckoned.sliding.iter();
    sight.face == Face::Shut && leaves.any(|s| s.wall == sight.at && covers(s))
}

/// Doorways behind a sliding leaf, dashed, drawn after it.
pub fn covered_openings(sight: &mut Sight) {
    for d in &sight.wall.doors {
        if !behind_leaf(sight, d) {
            continue;
        }
        let floor = survey::between(&sight.wall.floor, (d.at + d.width.half()).in_mm());
        let (left, right) = (d.at.in_mm(), (d.at + d.width).in_mm());
        let area = box_up(left, right, floor, d.height.in_mm());
        sight.pen.rect(Role::Hidden, Fill::None, area);
        let lines = vec![
            format!("opening to {}", d.leads_to),
            format!("{} × {}", d.width, d.height),
        ];
        // Low down, clear of what is written on the leaf.
        let at = Pt::new(area.centre().x, area.y1 - area.height() * 0.18);
        let normal = Lettering::Normal;
        sight
            .pen
            .label(at, lines, normal, LabelFrame::None, Some(area), 6);
    }
}

/// The ends of runs on the walls round the corners, which stand before this wall: their outlines, with
/// the unit's id.
pub fn round_the_corners(sight: &mut Sight) {
    let length = sight.wall.length.in_mm();
    for side in [Side::Left, Side::Right] {
        let Some(at) = neighbour(sight, side) else {
            continue;
        };
        let theirs = sight.job.wall(at).length;
        for run in sight.reckoned.runs.iter().filter(|r| r.wall == at) {
            let (unit, off) = match side {
                Side::Left => (run.units.last(), theirs - run.right),
                Side::Right => (run.units.first(), run.left),
            };
            let Some(unit) = unit.filter(|_| off <= AGAINST) else {
                continue;
            };
            let (y0, y1) = (
                run.y_back.in_mm(),
                (run.y_back + unit.depth_over_fronts).in_mm(),
            );
            let low = match unit.feet.is_empty() {
                true => unit.base.in_mm(),
                false => 0.0,
            };
            let (x0, x1) = match side {
                Side::Left => (y0, y1),
                Side::Right => (length - y1, length - y0),
            };
            let area = box_up(x0, x1, low, unit.top.in_mm());
            sight.pen.rect(Role::Fine, Fill::None, area);
            let letter = super::super::words::letter(sight.reckoned, at);
            let words = format!("{} on wall\u{a0}{letter}", unit.id);
            let spot = Pt::new(area.centre().x, area.y0 + area.height() * 0.3);
            sight.pen.words(spot, words, Some(area));
        }
    }
}

/// A run that ends no further than this from the corner stands against this wall.
const AGAINST: Length = Length::mm(150);

/// The wall square round an inside corner.
fn neighbour(sight: &Sight, side: Side) -> Option<WallRef> {
    let room = sight.job.rooms.get(sight.at.room)?;
    let (last, at) = (room.walls.len().checked_sub(1)?, sight.at.wall);
    let wall = match side {
        Side::Left if at > 0 => at - 1,
        Side::Left if room.closed => last,
        Side::Right if at < last => at + 1,
        Side::Right if room.closed => 0,
        _ => return None,
    };
    let turn = match side {
        Side::Left => room.walls.get(wall)?.turn,
        Side::Right => sight.wall.turn,
    };
    (turn.in_millideg() == 90_000).then_some(WallRef {
        room: sight.at.room,
        wall,
    })
}

/// The level line everything is measured from, with its mark outside the left corner.
pub fn datum(sight: &mut Sight) {
    if sight.reader == Reader::Client {
        return;
    }
    let z = sight.job.info.datum.in_mm();
    let (x0, _) = survey::corner_at(sight.job, sight.at, Side::Left, z);
    let (x1, _) = survey::corner_at(sight.job, sight.at, Side::Right, z);
    let tall = survey::ceiling_line(sight.job, sight.reckoned, sight.at);
    if tall.iter().all(|p| p.1 <= z) {
        return;
    }
    sight
        .pen
        .line(Role::Centre, vec![up(x0 - 90.0, z), up(x1, z)]);
    sight
        .pen
        .symbol(Role::Centre, up(x0 - 50.0, z), Symbol::Level);
}

/// Surveyed levels of floor and ceiling, at their points.
fn levels(sight: &mut Sight) {
    let ceiling: Vec<(Length, Length)> = sight.wall.ceiling.clone();
    let uneven = |points: &[(Length, Length)]| points.windows(2).any(|w| w[0].1 != w[1].1);
    if uneven(&sight.wall.floor) || sight.wall.floor.iter().any(|p| p.1 != Length::ZERO) {
        for (x, z) in &sight.wall.floor {
            sight
                .pen
                .words(up(x.in_mm(), z.in_mm() - 70.0), z.to_string(), None);
        }
    }
    if uneven(&ceiling) {
        for (x, z) in ceiling {
            sight
                .pen
                .words(up(x.in_mm(), z.in_mm() + 70.0), z.to_string(), None);
        }
    }
}
