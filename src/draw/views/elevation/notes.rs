//! Notes of the project, and what a scribe asks of the fitter, as callouts on an elevation.
//! Knows who may read what and where a subject stands; must not know how a callout is laid out.

use super::super::Face;
use super::super::pen::box_of;
use super::Sight;
use crate::draw::scene::{Pt, Rect};
use crate::reckon::placed::PieceKind;
use crate::resolve::job::{Reader, Subject};
use crate::units::Length;

pub fn notes(sight: &mut Sight) {
    if sight.reader != Reader::Client && sight.face == Face::Shut {
        scribes(sight);
    }
    for note in sight.job.notes.iter().filter(|n| n.to.is_for(sight.reader)) {
        let Some(target) = target(sight, &note.on, note.at) else {
            continue;
        };
        match stretch(sight, &note.on) {
            // In the stretch that it is about.
            Some(area) => {
                let low = Pt::new(area.centre().x, area.y1 - area.height() * 0.16);
                sight.pen.words(low, note.text.clone(), Some(area));
            }
            None => sight.pen.callout(target, note.text.clone()),
        }
    }
}

/// Where a sliding door stands open: bare wall, on which a leader would end nowhere.
fn stretch(sight: &Sight, on: &Subject) -> Option<Rect> {
    let Subject::Sliding(i) = on else {
        return None;
    };
    let leaf = sight.reckoned.sliding.get(*i);
    leaf.map(|s| box_of(s.open_left, s.open_right, s.bottom, s.top))
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
    let spot = |b: Rect| Pt::new(b.x0 + b.width() * 0.75, b.y1 - b.height() * 0.06);
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
