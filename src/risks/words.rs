//! What a disclosure is about, in words: fronts by their numbers, units by their names. Knows names; must
//! not know a rule.

use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Subject};

/// Named one by one, before the rest are counted.
const NAMED: usize = 8;
/// Units named with their names and not just their ids.
const FEW: usize = 3;

/// `fronts 1 to 8; unit W2 “Shelved wardrobe”`; of nothing in particular: `the whole job`.
pub fn about(job: &Job, reckoned: &Reckoned, subjects: &[Subject]) -> String {
    let mut numbers = Vec::new();
    let mut names = Vec::new();
    let units = subjects
        .iter()
        .filter(|s| matches!(s, Subject::Unit(..)))
        .count();
    if units > FEW {
        names.push(unit_ids(job, subjects));
    }
    for subject in subjects {
        match subject {
            Subject::Unit(..) if units > FEW => {}
            Subject::Front(id) => {
                numbers.extend(
                    reckoned
                        .fronts
                        .iter()
                        .find(|f| f.id == *id)
                        .map(|f| f.number),
                );
            }
            other => names.extend(name(job, other)),
        }
    }
    numbers.sort_unstable();
    numbers.dedup();
    let mut said = Vec::new();
    match numbers.as_slice() {
        [] => {}
        [one] => said.push(format!("front {one}")),
        many => said.push(format!("fronts {}", ranges(many))),
    }
    let more = names.len().saturating_sub(NAMED);
    said.extend(names.into_iter().take(NAMED));
    if more > 0 {
        said.push(format!("and {more} more"));
    }
    match said.is_empty() {
        true => "the whole job".to_owned(),
        false => said.join("; "),
    }
}

/// `units W1, W2, L1 and L3`, in the order of the job.
fn unit_ids(job: &Job, subjects: &[Subject]) -> String {
    let mut at: Vec<(usize, usize)> = subjects
        .iter()
        .filter_map(|s| match s {
            Subject::Unit(r, u) => Some((*r, *u)),
            _ => None,
        })
        .collect();
    at.sort_unstable();
    let unit = |(r, u): (usize, usize)| job.runs.get(r)?.units.get(u);
    let ids: Vec<&str> = at
        .into_iter()
        .filter_map(unit)
        .map(|u| u.id.as_str())
        .collect();
    format!("units {}", and(&ids))
}

fn name(job: &Job, subject: &Subject) -> Option<String> {
    let named = |kind: &str, id: &str, name: &str| match name == id {
        true => format!("{kind}{id}"),
        false => format!("{kind}{id} \u{201c}{name}\u{201d}"),
    };
    Some(match subject {
        Subject::Job => return None,
        Subject::Front(id) => format!("front {id}"),
        Subject::Room(r) => job.rooms.get(*r)?.name.clone(),
        Subject::Wall(at) => {
            let room = job.rooms.get(at.room)?;
            let wall = room.walls.get(at.wall)?;
            format!("{}, wall {}", room.name, wall.id)
        }
        Subject::Run(r) => job.runs.get(*r)?.name.clone(),
        Subject::Unit(r, u) => {
            let unit = job.runs.get(*r)?.units.get(*u)?;
            named("unit ", &unit.id, &unit.name)
        }
        Subject::Panel(n) => job.panels.get(*n)?.name.clone(),
        Subject::Sliding(n) => job.sliding.get(*n)?.name.clone(),
        Subject::Worktop(n) => job.worktops.get(*n)?.name.clone(),
    })
}

/// `a, b and c`.
pub fn and(items: &[&str]) -> String {
    match items {
        [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
        _ => items.join(", "),
    }
}

/// A text cut short for a message.
pub fn short(text: &str) -> String {
    let mut cut: String = text.chars().take(40).collect();
    if text.chars().count() > 40 {
        cut.push('\u{2026}');
    }
    cut
}

/// `1 to 8, 10`.
pub fn ranges(numbers: &[u32]) -> String {
    let mut out: Vec<String> = Vec::new();
    let mut rest = numbers;
    while let Some(first) = rest.first() {
        let run = (1..)
            .zip(rest)
            .take_while(|(n, at)| first.checked_add(n - 1) == Some(**at))
            .count();
        let last = rest.get(run.saturating_sub(1)).unwrap_or(first);
        match run {
            1 => out.push(first.to_string()),
            2 => out.push(format!("{first}, {last}")),
            _ => out.push(format!("{first} to {last}")),
        }
        rest = rest.get(run.max(1)..).unwrap_or_default();
    }
    out.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_a_row_are_told_as_a_range() {
        assert_eq!(ranges(&[1, 2, 3, 5, 7, 8]), "1 to 3, 5, 7, 8");
        assert_eq!(ranges(&[]), "");
    }
}
