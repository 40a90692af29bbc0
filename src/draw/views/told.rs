//! The text of a drawing for those who cannot see it: what stands where on a wall or in a room, with
//! its main sizes. Knows sentences and numbers; must not know where anything is drawn.

use super::Face;
use super::words::{letter, plan_title, unit_shut};
use crate::draw::scene::Told;
use crate::reckon::placed::{PieceKind, PlacedBay, PlacedRun, PlacedUnit, Reckoned};
use crate::resolve::job::{Job, PanelKind, Reader, Room, Side, Unit, WallRef};
use crate::risks::Marks;
use crate::units::Length;

/// `1 shelf`, `2 shelves`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

fn list(of: impl IntoIterator<Item = Length>) -> String {
    let said: Vec<String> = of.into_iter().map(|l| l.to_string()).collect();
    said.join(", ")
}

fn told(left: Length, right: Length, text: String) -> Told {
    Told {
        left: left.in_mm(),
        right: right.in_mm(),
        text,
    }
}

/// Everything on one wall, left to right within each kind of thing, each with its stretch.
pub fn elevation(job: &Job, reckoned: &Reckoned, at: WallRef, face: Face) -> Vec<Told> {
    let mut out = Vec::new();
    for (run, made) in reckoned.runs.iter().zip(&job.runs) {
        if run.wall != at {
            continue;
        }
        out.extend(ends(run, Side::Left));
        for (unit, wanted) in run.units.iter().zip(&made.units) {
            let what = match face {
                Face::Shut => unit_shut(reckoned, &unit.id, &unit.fronts),
                Face::Open => format!(
                    "{} {}: {}",
                    unit.id,
                    wanted.name,
                    inside(job, reckoned, unit)
                ),
            };
            let place = format!(
                "{what} ({} wide, {} to {} high)",
                unit.width(),
                unit.base,
                unit.top
            );
            out.push(told(unit.left, unit.right, place));
        }
        out.extend(ends(run, Side::Right));
    }
    loose(job, reckoned, at, &mut out);
    survey(job, at, &mut out);
    out
}

fn ends(run: &PlacedRun, side: Side) -> Vec<Told> {
    let of_side = run.pieces.iter().filter(|p| p.side == side);
    of_side
        .map(|p| {
            let what = match p.kind {
                PieceKind::Scribe => "scribe",
                PieceKind::Filler => "filler",
                PieceKind::EndPanel => "end panel",
            };
            told(p.left, p.right, format!("{what} {}", p.right - p.left))
        })
        .collect()
}

/// What is in a unit, bay by bay; of drawers behind drawer fronts their numbers.
pub fn inside(job: &Job, reckoned: &Reckoned, unit: &PlacedUnit) -> String {
    let mut bays: Vec<String> = Vec::new();
    let several = unit.bays.len() > 1;
    for (n, bay) in unit.bays.iter().enumerate() {
        let has = bay_words(job, bay);
        bays.push(match (several, has.is_empty()) {
            (false, _) => has,
            (true, false) => format!("bay {}: {has}", n + 1),
            (true, true) => format!("bay {}: empty", n + 1),
        });
    }
    bays.extend(drawers(reckoned, unit));
    bays.extend(unit.notches.iter().map(|n| {
        format!(
            "notched round the {}, {} wide, {} deep",
            n.what,
            n.right - n.left,
            n.deep
        )
    }));
    bays.retain(|b| !b.is_empty());
    match bays.is_empty() {
        true => "nothing inside".to_owned(),
        false => bays.join("; "),
    }
}

fn drawers(reckoned: &Reckoned, unit: &PlacedUnit) -> Option<String> {
    use crate::resolve::job::FrontKind::Drawer;
    let fronts = unit.fronts.iter().filter_map(|f| reckoned.fronts.get(*f));
    let numbers: Vec<u32> = fronts
        .filter(|f| f.kind == Drawer)
        .map(|f| f.number)
        .collect();
    match numbers.len() {
        0 => None,
        1 => Some(format!("drawer {}", super::words::ranges(numbers))),
        _ => Some(format!("drawers {}", super::words::ranges(numbers))),
    }
}

fn bay_words(job: &Job, bay: &PlacedBay) -> String {
    let mut has = Vec::new();
    let shelves = |fixed: bool| -> Vec<Length> {
        let of = bay.shelves.iter().filter(move |s| s.fixed == fixed);
        of.map(|s| s.z).collect()
    };
    for (fixed, one, many) in [
        (false, "shelf", "shelves"),
        (true, "fixed shelf", "fixed shelves"),
    ] {
        let at = shelves(fixed);
        if !at.is_empty() {
            has.push(format!("{} at {}", count(at.len(), one, many), list(at)));
        }
    }
    if !bay.rails.is_empty() {
        let rails = count(bay.rails.len(), "rail", "rails");
        has.push(format!("{rails} at {}", list(bay.rails.iter().copied())));
    }
    let ends = (bay.drawers.iter().map(|d| d.0).min()).zip(bay.drawers.iter().map(|d| d.1).max());
    if let Some((bottom, top)) = ends {
        let drawers = count(bay.drawers.len(), "inner drawer", "inner drawers");
        has.push(format!("{drawers} from {bottom} to {top}"));
    }
    for machine in &bay.appliances {
        if let Some(a) = job.appliances.get(machine.which.0) {
            has.push(format!(
                "{} from {} to {}",
                a.name, machine.bottom, machine.top
            ));
        }
    }
    has.join(", ")
}

/// What is no unit.
fn loose(job: &Job, reckoned: &Reckoned, at: WallRef, out: &mut Vec<Told>) {
    for (p, made) in reckoned.panels.iter().zip(&job.panels) {
        if p.wall != at {
            continue;
        }
        let pieces = match made.kind {
            PanelKind::Slats => count(p.pieces.len(), "slat", "slats"),
            _ => count(p.pieces.len(), "piece", "pieces"),
        };
        let text = format!(
            "{}, {} to {} along the wall, {} to {} high, {pieces}",
            made.name, made.from, made.to, p.bottom, p.top
        );
        out.push(told(made.from, made.to, text));
    }
    for (s, made) in reckoned.sliding.iter().zip(&job.sliding) {
        if s.wall == at {
            let text = format!(
                "{}, {} × {}, shut at {} to {}, slides {} to {} to {}",
                made.name,
                s.right - s.left,
                made.height,
                s.left,
                s.right,
                made.slides.word(),
                s.open_left,
                s.open_right
            );
            out.push(told(s.track_left, s.track_right, text));
        }
    }
    for (w, made) in reckoned.worktops.iter().zip(&job.worktops) {
        if w.wall == at {
            let mut text = format!("{}, {} long, top at {}", made.name, w.right - w.left, w.top);
            for cut in &w.cutouts {
                text.push_str(&format!(
                    ", cut-out for {} from {} to {}",
                    cut.what, cut.left, cut.right
                ));
            }
            out.push(told(w.left, w.right, text));
        }
    }
}

/// What the survey found on the wall.
fn survey(job: &Job, at: WallRef, out: &mut Vec<Told>) {
    let Some(wall) = job.rooms.get(at.room).and_then(|r| r.walls.get(at.wall)) else {
        return;
    };
    for d in &wall.doors {
        let to = match d.leads_to.is_empty() {
            true => String::new(),
            false => format!(" to {}", d.leads_to),
        };
        let what = if d.hinge.is_some() { "door" } else { "doorway" };
        let text = format!(
            "{what}{to}, {} × {}, at {} to {}",
            d.width,
            d.height,
            d.at,
            d.at + d.width
        );
        out.push(told(d.at, d.at + d.width, text));
    }
    for w in &wall.windows {
        let text = format!(
            "window, {} × {}, at {} to {}, sill at {}",
            w.width,
            w.height,
            w.at,
            w.at + w.width,
            w.sill
        );
        out.push(told(w.at, w.at + w.width, text));
    }
    for o in &wall.obstructions {
        let text = format!("{} at {} to {}, {} out", o.what, o.from, o.to, o.out);
        out.push(told(o.from, o.to, text));
    }
    for b in &wall.bulkheads {
        let text = format!("{}, underside at {}, {} out", b.what, b.underside, b.out);
        out.push(told(b.from, b.to, text));
    }
    for s in &wall.services {
        let mut text = format!("{} at {}, {} up", s.kind.name(), s.at, s.height);
        if let Some((at, height)) = s.was {
            text.push_str(&format!(", moved from {at}, {height} up"));
        }
        out.push(told(s.at, s.at, text));
    }
    if let Some(room) = job.rooms.get(at.room) {
        let slopes = slopes(room, at.wall);
        out.extend(
            slopes
                .into_iter()
                .map(|s| told(Length::ZERO, wall.length, s)),
        );
    }
}

/// Slopes as the wall sees them: down to it, or along it from a corner.
fn slopes(room: &Room, wall: usize) -> Vec<String> {
    let walls = room.walls.len();
    let mut out = Vec::new();
    for slope in &room.slopes {
        let from = match slope.wall {
            w if w == wall => "here",
            w if walls > 0 && (wall + 1) % walls == w => "at its right corner",
            w if walls > 0 && (w + 1) % walls == wall => "at its left corner",
            _ => continue,
        };
        out.push(format!(
            "ceiling slopes from {} {from} to {} over {}",
            slope.low, slope.high, slope.over
        ));
    }
    out
}

/// A room from above.
pub fn plan(
    job: &Job,
    (reckoned, marks): (&Reckoned, &Marks),
    room: usize,
    reader: Reader,
) -> String {
    let Some(made) = job.rooms.get(room) else {
        return String::new();
    };
    let part = match made.closed {
        true => "",
        false => ", surveyed in part",
    };
    let mut said = vec![format!("{}{part}", plan_title(job, room))];
    let walls: Vec<String> = (made.walls.iter().enumerate())
        .map(|(wall, w)| format!("{} {}", letter(reckoned, WallRef { room, wall }), w.length))
        .collect();
    said.push(format!(
        "Lengths of the walls, clockwise: {}. Ceiling {}",
        walls.join(", "),
        made.ceiling
    ));
    let before = said.len();
    for (r, run) in reckoned.runs.iter().zip(&job.runs) {
        if r.wall.room != room {
            continue;
        }
        let units: Vec<String> = (r.units.iter())
            .map(|u| format!("{} from {} to {}", u.id, u.left, u.right))
            .collect();
        let deep = r.units.iter().map(|u| u.depth_over_fronts).max();
        said.push(format!(
            "{} on wall {}, {} deep: {}",
            run.name,
            letter(reckoned, r.wall),
            deep.unwrap_or_default(),
            units.join(", ")
        ));
    }
    if said.len() == before {
        said.push("No units".to_owned());
    }
    for wall in 0..made.walls.len() {
        let at = WallRef { room, wall };
        let mut there = Vec::new();
        loose(job, reckoned, at, &mut there);
        survey(job, at, &mut there);
        if !there.is_empty() {
            let texts: Vec<String> = there.into_iter().map(|t| t.text).collect();
            said.push(format!(
                "Wall {}: {}",
                letter(reckoned, at),
                texts.join("; ")
            ));
        }
    }
    for (clash, finding) in super::plan::told(reckoned, marks, room, reader) {
        let number = marks.words(reader, &[finding]).unwrap_or_default();
        said.push(format!("Hatched, {number}: {}", clash.brief));
    }
    format!("{}. Millimetres.", said.join(". "))
}

/// A unit cut through one bay, and what stands on it.
pub fn section(job: &Job, reckoned: &Reckoned, title: &str, at: (usize, usize, usize)) -> String {
    let (run, unit, bay) = at;
    let placed = |(r, u): (usize, usize)| reckoned.runs.get(r).and_then(|r| r.units.get(u));
    let Some(u) = placed((run, unit)) else {
        return title.to_owned();
    };
    let mut has: Vec<String> = Vec::new();
    has.extend(u.bays.get(bay).map(|b| bay_words(job, b)));
    has.extend(drawers(reckoned, u));
    has.retain(|h| !h.is_empty());
    if has.is_empty() {
        has.push("nothing".to_owned());
    }
    let mut said = format!(
        "Section {title}: {} deep, {} to {} high. Inside: {}.",
        u.depth_over_fronts,
        u.base,
        u.top,
        has.join(", ")
    );
    let all = job.runs.iter().enumerate();
    let all = all.flat_map(|(r, run)| run.units.iter().enumerate().map(move |(u, o)| ((r, u), o)));
    let on: Vec<((usize, usize), &Unit)> =
        all.filter(|(_, o)| o.over == Some((run, unit))).collect();
    for (at, other) in on {
        if let Some(above) = placed(at) {
            said.push_str(&format!(
                " On it stands {}, {} deep, {} to {} high: {}.",
                other.id,
                above.depth_over_fronts,
                above.base,
                above.top,
                inside(job, reckoned, above)
            ));
        }
    }
    said
}
