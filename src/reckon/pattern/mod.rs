//! Fronts over which one pattern runs: which board each is cut from and where, and how the pattern
//! meets. Knows boards, the saw and the wall; must not judge the result or know how it is shown.

mod ahead;
mod allocate;
mod bound;
pub mod colour;
mod columns;
mod group;
mod joints;
pub mod layout;
mod offcuts;
mod outdone;
mod phase;
mod pieces;
mod places;
pub mod recut;
mod rows;
pub mod said;
mod spans;
mod stood;
mod stuck;
mod touching;

#[cfg(test)]
mod proof;

use std::cell::OnceCell;

use group::Group;
use layout::{PatternLayout, Stuck};
pub use pieces::{end, goes_with, pieces};
pub use stood::stand;

use super::placed::PlacedFront;
use crate::resolve::job::{BoardRef, Job, MaterialRef, PatternRule};

/// One layout for each pattern and material, in the order in which their fronts first stand; `pieces`
/// count on from the fronts.
pub fn layouts(job: &Job, fronts: &[PlacedFront], pieces: &[PlacedFront]) -> Vec<PatternLayout> {
    let fronts = &[fronts, pieces].concat();
    let mut groups: Vec<(&str, MaterialRef)> = Vec::new();
    for front in fronts {
        if let Some(name) = &front.style.pattern {
            let key = (name.as_str(), front.style.material);
            if !groups.contains(&key) {
                groups.push(key);
            }
        }
    }
    let mut out: Vec<PatternLayout> = Vec::new();
    for (name, material) in groups {
        // What one pattern is cut from is no longer there for the next.
        let boards = out.iter().flat_map(|l| &l.boards);
        let taken: Vec<BoardRef> = boards.filter_map(|b| b.in_hand).collect();
        out.extend(layout(job, fronts, (name, material), &taken));
    }
    out
}

fn layout(
    job: &Job,
    fronts: &[PlacedFront],
    (name, of): (&str, MaterialRef),
    taken: &[BoardRef],
) -> Option<PatternLayout> {
    let material = job.materials.get(of.0)?;
    let is_member =
        |f: &PlacedFront| f.style.pattern.as_deref() == Some(name) && f.style.material == of;
    let members: Vec<usize> = (0..fronts.len())
        .filter(|i| fronts.get(*i).is_some_and(is_member))
        .collect();
    let rule = job.patterns.iter().find(|p| p.name == name).cloned();
    let rule = rule.unwrap_or_else(|| PatternRule::usual(name));
    let settled = settled_boards(&rule, fronts);
    let (mut boards, colour) = stood::boards_in_hand(job, of, &settled, taken);
    let in_hand = boards.len();
    boards.extend((1..=members.len()).filter_map(|n| stood::to_buy(material, job.cutter, n)));
    let group = Group {
        job,
        fronts,
        members,
        rule,
        repeat: stood::repeat(material),
        cutter: job.cutter,
        boards,
        exact: OnceCell::new(),
    };
    let mut layout = PatternLayout {
        name: name.to_owned(),
        material: of,
        wanted: group.rule.wanted,
        repeat: group.repeat,
        loss: group.cutter.loss(),
        boards: Vec::new(),
        blanks: Vec::new(),
        joints: Vec::new(),
        choices: Vec::new(),
        colour,
        in_hand,
        best: true,
        stuck: None,
    };
    if group.boards.is_empty() {
        layout.stuck = Some(Stuck::NoSize);
        return Some(layout);
    }
    let mut own = None;
    match group.solve(group.rule.wanted) {
        Some(solved) => {
            own = Some(solved.outcome);
            layout.best = solved.best;
            layout.boards = solved.boards;
            layout.blanks = solved.blanks;
            layout.joints = solved.joints;
        }
        None => layout.stuck = Some(group.why_not(group.rule.wanted)),
    }
    layout.choices = group.choices(own);
    Some(layout)
}

/// The boards settled fronts come from, in the order the fronts stand in.
fn settled_boards(rule: &PatternRule, fronts: &[PlacedFront]) -> Vec<BoardRef> {
    let mut out = Vec::new();
    for front in fronts {
        for piece in rule.fixed.iter().filter(|p| p.front == front.id) {
            if !out.contains(&piece.board) {
                out.push(piece.board);
            }
        }
    }
    out
}
