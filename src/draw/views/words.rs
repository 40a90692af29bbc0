//! What the drawings say in words: titles, names of things, and the text for those who cannot see.
//! Knows the sentences; must not know where anything is drawn.

use super::Face;
use crate::draw::scene::Symbol;
use crate::reckon::placed::{PieceKind, PlacedFront, Reckoned};
use crate::resolve::job::{FrontKind, Job, Reader, ServiceKind, Side, WallRef};

pub fn service_symbol(kind: ServiceKind) -> Symbol {
    match kind {
        ServiceKind::Socket => Symbol::Socket,
        ServiceKind::Switch => Symbol::Switch,
        ServiceKind::Light => Symbol::Light,
        ServiceKind::Water => Symbol::Water,
        ServiceKind::Waste => Symbol::Waste,
        ServiceKind::Gas => Symbol::Gas,
        ServiceKind::Vent => Symbol::Vent,
        ServiceKind::Data => Symbol::Data,
        ServiceKind::Radiator | ServiceKind::Other => Symbol::Service,
    }
}

/// The letter under which a wall is drawn.
pub fn letter(reckoned: &Reckoned, at: WallRef) -> char {
    super::survey::placed(reckoned, at).map_or('?', |w| w.letter)
}

fn room_name(job: &Job, room: usize) -> &str {
    job.rooms.get(room).map_or("", |r| r.name.as_str())
}

pub fn plan_title(job: &Job, room: usize) -> String {
    format!("Plan of {}", room_name(job, room))
}

pub fn elevation_title(job: &Job, reckoned: &Reckoned, at: WallRef, face: Face) -> String {
    let face = match face {
        Face::Shut if !reckoned.runs.iter().any(|r| r.wall == at) => "",
        Face::Shut => ", fronts shut",
        Face::Open => ", interiors",
    };
    format!(
        "{}, elevation {}{face}",
        room_name(job, at.room),
        wall_name(job, reckoned, at)
    )
}

/// Its letter, and what the project calls the wall where that says more.
fn wall_name(job: &Job, reckoned: &Reckoned, at: WallRef) -> String {
    let (wall, letter) = (job.wall(at), letter(reckoned, at).to_string());
    let mut more = Vec::new();
    if wall.id != letter {
        more.push(format!("wall {}", wall.id));
    }
    if !wall.name.is_empty() && wall.name != wall.id {
        more.push(wall.name.clone());
    }
    if more.is_empty() {
        letter
    } else {
        format!("{letter} ({})", more.join(", "))
    }
}

pub fn elevation(job: &Job, reckoned: &Reckoned, at: WallRef, face: Face) -> String {
    let mut parts: Vec<String> = Vec::new();
    for (run, made) in reckoned
        .runs
        .iter()
        .zip(&job.runs)
        .filter(|(r, _)| r.wall == at)
    {
        let mut pieces = Vec::new();
        pieces.extend(end_words(run, Side::Left));
        for (unit, told) in run.units.iter().zip(&made.units) {
            pieces.push(match face {
                Face::Shut => unit_shut(reckoned, &unit.id, &unit.fronts),
                Face::Open => format!("{} ({})", unit.id, told.name),
            });
        }
        pieces.extend(end_words(run, Side::Right));
        let wide = run.right - run.left;
        let top = run.units.iter().map(|u| u.top).max().unwrap_or_default();
        let name = &made.name;
        parts.push(format!(
            "{name}, left to right: {}; {wide} wide, top at {top}",
            pieces.join(", ")
        ));
    }
    for (p, made) in reckoned
        .panels
        .iter()
        .zip(&job.panels)
        .filter(|(p, _)| p.wall == at)
    {
        parts.push(format!(
            "{}, {} to {} along the wall, top at {}",
            made.name, made.from, made.to, p.top
        ));
    }
    for (s, made) in reckoned
        .sliding
        .iter()
        .zip(&job.sliding)
        .filter(|(s, _)| s.wall == at)
    {
        let way = match made.slides {
            Side::Left => "left",
            Side::Right => "right",
        };
        parts.push(format!(
            "{}, {} × {}, slides {way}",
            made.name,
            s.right - s.left,
            made.height
        ));
    }
    for (w, made) in reckoned
        .worktops
        .iter()
        .zip(&job.worktops)
        .filter(|(w, _)| w.wall == at)
    {
        parts.push(format!(
            "{}, {} long, top at {}",
            made.name,
            w.right - w.left,
            w.top
        ));
    }
    let title = elevation_title(job, reckoned, at, face);
    format!(
        "{title}. {}. Wall {} long. Millimetres.",
        parts.join(". "),
        job.wall(at).length
    )
}

fn end_words(run: &crate::reckon::placed::PlacedRun, side: Side) -> Vec<String> {
    let of_side = run.pieces.iter().filter(|p| p.side == side);
    of_side
        .map(|p| {
            let what = match p.kind {
                PieceKind::Scribe => "scribe",
                PieceKind::Filler => "filler",
                PieceKind::EndPanel => "end panel",
            };
            format!("{what} {}", p.right - p.left)
        })
        .collect()
}

/// "W1 with doors 1 to 4", or "N2, open".
fn unit_shut(reckoned: &Reckoned, id: &str, fronts: &[usize]) -> String {
    let fronts: Vec<&PlacedFront> = fronts
        .iter()
        .filter_map(|i| reckoned.fronts.get(*i))
        .collect();
    let mut kinds: Vec<FrontKind> = fronts.iter().map(|f| f.kind).collect();
    kinds.sort();
    kinds.dedup();
    let said: Vec<String> = kinds
        .into_iter()
        .map(|kind| {
            let numbers: Vec<u32> = fronts
                .iter()
                .filter(|f| f.kind == kind)
                .map(|f| f.number)
                .collect();
            let (one, many) = front_words(kind);
            format!(
                "{} {}",
                if numbers.len() == 1 { one } else { many },
                ranges(numbers)
            )
        })
        .collect();
    if said.is_empty() {
        format!("{id}, open")
    } else {
        format!("{id} with {}", said.join(" and "))
    }
}

fn front_words(kind: FrontKind) -> (&'static str, &'static str) {
    match kind {
        FrontKind::Door => ("door", "doors"),
        FrontKind::Drawer => ("drawer", "drawers"),
        FrontKind::Flap => ("flap", "flaps"),
        FrontKind::Fixed => ("fixed panel", "fixed panels"),
        FrontKind::Open => ("open space", "open spaces"),
    }
}

/// `1, 3 to 5`.
pub fn ranges(mut numbers: Vec<u32>) -> String {
    numbers.sort();
    numbers.dedup();
    let mut out: Vec<(u32, u32)> = Vec::new();
    for n in numbers {
        match out.last_mut() {
            Some(last) if n == last.1.saturating_add(1) => last.1 = n,
            _ => out.push((n, n)),
        }
    }
    let said: Vec<String> = out
        .into_iter()
        .map(|(a, b)| match b - a {
            0 => a.to_string(),
            1 => format!("{a}, {b}"),
            _ => format!("{a} to {b}"),
        })
        .collect();
    said.join(", ")
}

pub fn plan(job: &Job, reckoned: &Reckoned, room: usize, reader: Reader) -> String {
    let Some(made) = job.rooms.get(room) else {
        return String::new();
    };
    let walls: Vec<String> = (made.walls.iter().enumerate())
        .map(|(wall, w)| format!("{} {}", letter(reckoned, WallRef { room, wall }), w.length))
        .collect();
    let stands: Vec<String> = (reckoned.runs.iter().zip(&job.runs))
        .filter(|(r, _)| r.wall.room == room)
        .map(|(r, run)| {
            let units: Vec<&str> = r.units.iter().map(|u| u.id.as_str()).collect();
            format!(
                "{} on wall {}: {}",
                run.name,
                letter(reckoned, r.wall),
                units.join(", ")
            )
        })
        .collect();
    let survey = if made.closed {
        ""
    } else {
        ", surveyed in part"
    };
    let clashes: Vec<String> = super::plan::told(reckoned, room, reader)
        .map(|c| format!(" Clash {}: {}.", c.number, c.brief))
        .collect();
    format!(
        "{}{survey}. Walls clockwise, long: {}. {}.{} Millimetres.",
        plan_title(job, room),
        walls.join(", "),
        if stands.is_empty() {
            "No units".to_string()
        } else {
            stands.join(". ")
        },
        clashes.concat(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: plain arithmetic.
    #[test]
    fn numbers_are_said_as_ranges() {
        assert_eq!(ranges(vec![5, 1, 3, 4]), "1, 3 to 5");
        assert_eq!(ranges(vec![1, 2]), "1, 2");
        assert_eq!(ranges(vec![u32::MAX]), u32::MAX.to_string());
    }
}
