//! Which boards and finishes the job uses, and for what. Reads the job and its placed parts; counts and
//! measures nothing.

use super::context::{Context, Pack};
use crate::reckon::placed::PieceKind;
use crate::resolve::job::{FinishRef, MaterialRef};

/// A board in use: what for, and the finishes put on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    pub material: MaterialRef,
    pub for_what: Vec<&'static str>,
    pub finishes: Vec<FinishRef>,
}

/// Every board in use: those of fronts first, those with a picture before those without, and else
/// in file order.
pub fn boards(ctx: &Context) -> Vec<Used> {
    let mut all: Vec<Used> = (0..ctx.job.materials.len())
        .map(|i| Used {
            material: MaterialRef(i),
            for_what: Vec::new(),
            finishes: Vec::new(),
        })
        .collect();
    let mut note = |at: MaterialRef, what: &'static str, finish: Option<FinishRef>| {
        let Some(used) = all.get_mut(at.0) else {
            return;
        };
        if !used.for_what.contains(&what) {
            used.for_what.push(what);
        }
        if let Some(finish) = finish.filter(|f| !used.finishes.contains(f)) {
            used.finishes.push(finish);
        }
    };
    for front in &ctx.reckoned.fronts {
        note(front.style.material, "fronts", front.style.finish);
    }
    for sliding in &ctx.job.sliding {
        note(sliding.material, "sliding doors", sliding.finish);
    }
    for panel in &ctx.job.panels {
        note(panel.material, "panels", panel.finish);
    }
    for top in &ctx.job.worktops {
        note(top.material, "worktops", top.finish);
    }
    for (run, placed) in ctx.runs() {
        for piece in &placed.pieces {
            // As the client's other lists call them.
            let strip = (ctx.pack, piece.kind) == (Pack::Client, PieceKind::Scribe);
            let what = match strip {
                true => "scribed strips",
                false => super::words::piece_plural(piece.kind),
            };
            note(piece.material, what, None);
        }
        if !placed.plinths.is_empty() {
            note(run.plinth_material, "plinths", None);
        }
        for unit in &run.units {
            note(unit.carcass, "carcasses", None);
            note(unit.carcass, "shelves", None);
            if let Some(back) = unit.back {
                note(back, "backs", None);
            }
        }
        for made in placed.units.iter().flat_map(|u| &u.boxes) {
            note(made.board, "drawer boxes", None);
            note(made.thin, "drawer bottoms", None);
        }
    }
    all.retain(|used| !used.for_what.is_empty());
    let pictured = |at: MaterialRef| {
        ctx.job
            .materials
            .get(at.0)
            .is_some_and(|m| m.picture.is_some())
    };
    all.sort_by_key(|u| (u.for_what.first() != Some(&"fronts"), !pictured(u.material)));
    all
}

/// What each finish goes on: names of boards in order.
pub fn finished_boards(ctx: &Context, finish: FinishRef) -> Vec<String> {
    let on = boards(ctx)
        .into_iter()
        .filter(|used| used.finishes.contains(&finish));
    on.map(|used| ctx.material(used.material).to_owned())
        .collect()
}
