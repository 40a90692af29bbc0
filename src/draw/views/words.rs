//! What the drawings say in words: titles and names of things.
//! Knows the sentences; must not know where anything is drawn.

use super::Face;
use crate::draw::scene::Symbol;
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{FrontKind, Job, ServiceKind, WallRef};

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
        "{}, elevation\u{a0}{}{face}",
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

/// "W1 with doors 1 to 4", or "N2, open".
pub fn unit_shut(reckoned: &Reckoned, id: &str, fronts: &[usize]) -> String {
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
