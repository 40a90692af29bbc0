//! What a pattern runs over besides fronts: end panels, fillers, free panels, each with its face as a
//! front has. Knows where they stand; must not know boards.
//!
//! An end panel shows its face round the corner. It is laid out unfolded, beside its run and clear of
//! it: nobody sees its pattern and that of the fronts in one line.

use super::columns::BREAK;
use crate::reckon::placed::{PieceKind, PlacedFront, PlacedPanel, PlacedRun, RunPiece};
use crate::resolve::job::{
    FinishRef, FrontKind, FrontStyle, Job, Lay, MaterialRef, PanelKind, Run, RunEnd, Side, WallRef,
};
use crate::units::{Length, Mass};

/// In the order of the runs, each left to right; then free panels.
pub fn pieces(
    job: &Job,
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
    panels: &[PlacedPanel],
) -> Vec<PlacedFront> {
    let mut out = Vec::new();
    for (n, (run, placed)) in job.runs.iter().zip(runs).enumerate() {
        for piece in &placed.pieces {
            let end = end(run, piece.side);
            let Some(pattern) = end.pattern.as_deref() else {
                continue;
            };
            if goes_with(fronts, pattern, piece) {
                out.extend(at_end(n, run, placed, (piece, pattern)));
            }
        }
    }
    for (n, (panel, placed)) in job.panels.iter().zip(panels).enumerate() {
        let Some(pattern) = panel.pattern.as_deref() else {
            continue;
        };
        if panel.kind != PanelKind::Panelling {
            continue;
        }
        let several = placed.pieces.len() > 1;
        for (p, (left, right)) in placed.pieces.iter().enumerate() {
            let id = match several {
                true => format!("{} {}", panel.id, p + 1),
                false => panel.id.clone(),
            };
            out.push(face(Face {
                id,
                run: runs.len() + n,
                wall: placed.wall,
                across: (*left, *right),
                up: (placed.bottom, placed.top),
                out: (placed.y_back, placed.y_face),
                style: (panel.material, panel.finish, pattern, placed.gap),
            }));
        }
    }
    out
}

pub fn end(run: &Run, side: Side) -> &RunEnd {
    match side {
        Side::Left => &run.left,
        Side::Right => &run.right,
    }
}

/// Whether the piece is of a board that the pattern's fronts are cut from, and is one that shows.
pub fn goes_with(fronts: &[PlacedFront], pattern: &str, piece: &RunPiece) -> bool {
    let mut of_it = fronts
        .iter()
        .filter(|f| f.style.pattern.as_deref() == Some(pattern));
    piece.kind != PieceKind::Scribe && of_it.any(|f| f.style.material == piece.material)
}

fn at_end(
    n: usize,
    run: &Run,
    placed: &PlacedRun,
    (piece, pattern): (&RunPiece, &str),
) -> Option<PlacedFront> {
    let beside = match piece.side {
        Side::Left => placed.units.first(),
        Side::Right => placed.units.last(),
    }?;
    let deep = beside.depth_over_fronts;
    let (across, what) = match (piece.kind, piece.side) {
        (PieceKind::EndPanel, Side::Left) => {
            let first = placed.pieces.iter().map(|p| p.left).min()?;
            let right = first - BREAK * 2;
            ((right - deep, right), "panel")
        }
        (PieceKind::EndPanel, Side::Right) => {
            let last = placed.pieces.iter().map(|p| p.right).max()?;
            let left = last + BREAK * 2;
            ((left, left + deep), "panel")
        }
        (PieceKind::Filler | PieceKind::Scribe, _) => ((piece.left, piece.right), "filler"),
    };
    let side = piece.side.word();
    Some(face(Face {
        id: format!("{} {side} {what}", run.id),
        run: n,
        wall: placed.wall,
        across,
        up: (piece.bottom, piece.top),
        out: (placed.y_back, placed.y_back + deep),
        style: (piece.material, None, pattern, Length::ZERO),
    }))
}

/// Whether a piece is an end panel, which is laid out unfolded beside its run.
pub fn is_unfolded(runs: &[PlacedRun], piece: &PlacedFront) -> bool {
    let of = runs.get(piece.run).filter(|_| piece.number == 0);
    of.is_some_and(|run| {
        let stands = |p: &RunPiece| (p.left, p.right) == (piece.left, piece.right);
        !run.pieces.iter().any(stands)
    })
}

struct Face<'a> {
    id: String,
    run: usize,
    wall: WallRef,
    across: (Length, Length),
    up: (Length, Length),
    out: (Length, Length),
    style: (MaterialRef, Option<FinishRef>, &'a str, Length),
}

fn face(f: Face<'_>) -> PlacedFront {
    let (material, finish, pattern, gap) = f.style;
    PlacedFront {
        number: 0,
        id: f.id,
        run: f.run,
        unit: usize::MAX,
        wall: f.wall,
        kind: FrontKind::Fixed,
        left: f.across.0,
        right: f.across.1,
        bottom: f.up.0,
        top: f.up.1,
        y_back: f.out.0,
        y_face: f.out.1,
        hinge: None,
        hinges: 0,
        mass: Mass::grams(0),
        style: FrontStyle {
            name: None,
            material,
            finish,
            lay: Lay::Overlay,
            gap,
            handle: None,
            hinge: None,
            runner: None,
            straightener: None,
            latch: None,
            pattern: Some(pattern.to_owned()),
        },
        hides: None,
        handle: None,
        travel: Length::ZERO,
    }
}

#[cfg(test)]
mod tests;
