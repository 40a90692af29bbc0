//! Notes of the project, and what a scribe asks of the fitter, as callouts on an elevation.
//! Knows who may read what and where a subject stands; must not know how a callout is laid out.

use super::super::pen::box_of;
use super::super::{Face, plan};
use super::Sight;
use crate::draw::scene::Pt;
use crate::reckon::placed::{PieceKind, PlacedFront, Severity};
use crate::resolve::job::{Reader, Subject};
use crate::units::Length;

pub fn notes(sight: &mut Sight) {
    if sight.reader != Reader::Client && sight.face == Face::Shut {
        scribes(sight);
    }
    if sight.face == Face::Shut {
        clashes(sight);
    }
    for note in sight.job.notes.iter().filter(|n| n.to.is_for(sight.reader)) {
        if let Some(target) = target(sight, &note.on, note.at) {
            sight.pen.callout(target, note.text.clone());
        }
    }
}

/// On a front that strikes something, or is struck, the number of it as on plan. What is only good to know
/// is told there alone.
fn clashes(sight: &mut Sight) {
    let (reckoned, reader) = (sight.reckoned, sight.reader);
    let told = plan::told(reckoned, sight.marks, sight.at.room, reader);
    let told = told.filter(|(c, ..)| c.finding.severity != Severity::Informs);
    // Fronts above one another are told once.
    let mut columns: Vec<(&PlacedFront, Vec<usize>)> = Vec::new();
    for (clash, finding, _) in told {
        let fronts = clash.fronts.iter().filter_map(|i| reckoned.fronts.get(*i));
        for front in fronts.filter(|f| f.wall == sight.at) {
            let same = |c: &&mut (&PlacedFront, Vec<usize>)| {
                (c.0.left, c.0.right) == (front.left, front.right)
            };
            match columns.iter_mut().find(same) {
                Some((_, all)) => all.push(finding),
                None => columns.push((front, vec![finding])),
            }
        }
    }
    for (front, all) in columns {
        let spot = box_of(front.left, front.right, front.bottom, front.top);
        let at = Pt::new(spot.centre().x, spot.y1 - spot.height() * 0.12);
        // In words: a number in a circle is a front's here.
        if let Some(text) = sight.marks.words(reader, &all) {
            sight.pen.words(at, text, Some(spot));
        }
    }
}

/// Width at foot and head, and the blank it is cut from.
fn scribes(sight: &mut Sight) {
    for (_, _, run) in sight.runs() {
        for piece in run.pieces.iter().filter(|p| p.kind == PieceKind::Scribe) {
            let (Some(foot), Some(head)) = (piece.scribe.first(), piece.scribe.last()) else {
                continue;
            };
            let text = if foot.1 == head.1 {
                format!("scribe: {} throughout; blank {}", foot.1, piece.blank)
            } else {
                format!(
                    "scribe: {} at foot, {} at head; blank {}",
                    foot.1, head.1, piece.blank
                )
            };
            // Near its head: from there the way out of the drawing is shortest.
            let z = piece.bottom + (piece.top - piece.bottom).scale(15, 16);
            sight
                .pen
                .callout(Pt::up((piece.left + piece.right).half(), z), text);
        }
    }
}

/// Where a subject stands on this wall; `None` if it is elsewhere or told on the other face.
pub fn target(sight: &Sight, on: &Subject, at: Option<(Length, Length)>) -> Option<Pt> {
    let has_open = !sight.runs().is_empty();
    let inside = sight.face == Face::Open;
    let r = sight.reckoned;
    let spot =
        |b: crate::draw::scene::Rect| Pt::new(b.x0 + b.width() * 0.75, b.y1 - b.height() * 0.06);
    match on {
        Subject::Wall(wall) if *wall == sight.at => {
            let (x, z) = at?;
            // What units cover, their plinths too, is seen with the fronts away.
            (inside == covered(sight, x, z)).then(|| Pt::up(x, z))
        }
        Subject::Run(run) if inside == has_open => {
            let run = r.runs.get(*run).filter(|q| q.wall == sight.at)?;
            let unit = run.units.first()?;
            Some(spot(box_of(unit.left, unit.right, unit.base, unit.top)))
        }
        Subject::Unit(run, unit) if inside == has_open => {
            let run = r.runs.get(*run).filter(|q| q.wall == sight.at)?;
            let unit = run.units.get(*unit)?;
            // A notch is what a note on a notched unit is about.
            if let Some(n) = unit.notches.first() {
                let z = unit.base + (unit.top - unit.base).scale(1, 3);
                return Some(Pt::up(n.left.max(unit.left), z));
            }
            Some(spot(box_of(unit.left, unit.right, unit.base, unit.top)))
        }
        Subject::Front(id) if !inside => {
            let f = r
                .fronts
                .iter()
                .find(|f| f.wall == sight.at && f.id == *id)?;
            Some(spot(box_of(f.left, f.right, f.bottom, f.top)))
        }
        Subject::Panel(i) if !inside => {
            let p = r.panels.get(*i).filter(|p| p.wall == sight.at)?;
            let (left, right) = (p.pieces.first()?.0, p.pieces.last()?.1);
            Some(spot(box_of(left, right, p.bottom, p.top)))
        }
        Subject::Sliding(i) if !inside => {
            let s = r.sliding.get(*i).filter(|s| s.wall == sight.at)?;
            Some(spot(box_of(s.open_left, s.open_right, s.bottom, s.top)))
        }
        Subject::Worktop(i) if !inside => {
            let t = r.worktops.get(*i).filter(|t| t.wall == sight.at)?;
            Some(spot(box_of(t.left, t.right, t.bottom, t.top)))
        }
        _ => None,
    }
}

/// Whether a unit stands before a point of the wall, or over one near the floor.
fn covered(sight: &Sight, x: Length, z: Length) -> bool {
    let mut units = sight.runs().into_iter().flat_map(|(_, _, run)| &run.units);
    units.any(|u| {
        let foot = if u.feet.is_empty() {
            u.base
        } else {
            Length::mm(-1000)
        };
        u.left <= x && x <= u.right && foot <= z && z <= u.top
    })
}
