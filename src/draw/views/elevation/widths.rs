//! Widths of an elevation: fronts or bays, pieces of the run, its opening, the wall.
//! Knows which faces along a wall are worth a dimension; must not know heights.

use super::super::Face;
use super::Sight;
use super::chains::{Span, apart, each};
use crate::draw::scene::ChainSide;
use crate::draw::scene::ChainSide::{Above, Below};
use crate::reckon::placed::PlacedRun;
use crate::resolve::job::{PanelKind, Run};
use crate::units::Length;

/// Fronts (or bays) nearest, then pieces of the run, then its opening, then the wall.
pub fn widths(sight: &mut Sight) {
    let floor = sight.extent_low();
    let runs = sight.runs();
    for (index, (_, made, run)) in runs.iter().enumerate() {
        let side = side_of(&runs, index);
        let reach = match side {
            Above => -sight.extent_high(),
            _ => -floor,
        };
        let spans = match sight.face {
            Face::Shut => fronts_across(sight, run),
            Face::Open => bays_across(run),
        };
        each(sight, side, 0, &spans, reach, "");
        let mut stops: Vec<Length> = run.pieces.iter().flat_map(|p| [p.left, p.right]).collect();
        stops.extend(run.units.iter().flat_map(|u| [u.left, u.right]));
        if spans != pairs(&stops) {
            sight.pen.chain(side, 1, stops, reach, "");
            if sight.face == Face::Shut {
                sight.pen.name_spaces(unit_names(run));
            }
        }
        opening(sight, side, made, run, reach);
    }
    if runs.is_empty() {
        loose_widths(sight, -floor);
    }
    let wall = vec![Length::ZERO, sight.wall.length];
    sight.pen.chain(Below, 3, wall, -floor, "wall");
}

/// The ids of the units, for their dimensions. An open unit bears its name inside.
fn unit_names(run: &PlacedRun) -> Vec<(Length, Length, String)> {
    let units = run.units.iter().filter(|u| !u.fronts.is_empty());
    units.map(|u| (u.left, u.right, u.id.clone())).collect()
}

/// Plumb between lined corners, or where the run stands along the wall.
fn opening(sight: &mut Sight, side: ChainSide, made: &Run, run: &PlacedRun, reach: Length) {
    let length = sight.wall.length;
    if made.from.is_none() && made.to.is_none() {
        sight.pen.chain(
            side,
            2,
            vec![run.left, run.right],
            reach,
            "between plumb lines",
        );
    } else if side == Below {
        let stops = vec![Length::ZERO, run.left, run.right, length];
        sight.pen.chain(side, 2, stops, reach, "");
    }
}

/// A run over another one has its widths above the drawing.
fn side_of(runs: &[(usize, &Run, &PlacedRun)], index: usize) -> ChainSide {
    let Some((_, _, this)) = runs.get(index) else {
        return Below;
    };
    let over = runs
        .iter()
        .take(index)
        .any(|(_, _, other)| this.left < other.right && other.left < this.right);
    if over { Above } else { Below }
}

fn loose_widths(sight: &mut Sight, reach: Length) {
    let length = sight.wall.length;
    let mut ends = vec![Length::ZERO, length];
    let mut spans: Vec<Span> = Vec::new();
    for (p, made) in sight.reckoned.panels.iter().zip(&sight.job.panels) {
        if p.wall != sight.at {
            continue;
        }
        if let (Some(first), Some(last)) = (p.pieces.first(), p.pieces.last()) {
            ends.extend([first.0, last.1]);
        }
        if made.kind == PanelKind::Panelling && p.pieces.len() > 1 {
            spans.extend(p.pieces.iter().copied());
        }
    }
    for s in sight.reckoned.sliding.iter().filter(|s| s.wall == sight.at) {
        ends.extend([s.left, s.right]);
    }
    each(sight, Below, 0, &spans, reach, "");
    if ends.len() > 2 {
        sight.pen.chain(Below, 1, ends, reach, "");
    }
    let mut holes = vec![Length::ZERO, length];
    holes.extend(sight.wall.doors.iter().flat_map(|d| [d.at, d.at + d.width]));
    if holes.len() > 2 {
        sight.pen.chain(Below, 2, holes, reach, "");
    }
}

fn pairs(stops: &[Length]) -> Vec<Span> {
    let mut stops = stops.to_vec();
    stops.sort();
    stops.dedup();
    stops
        .iter()
        .copied()
        .zip(stops.iter().skip(1).copied())
        .collect()
}

/// In each unit the row with the most fronts.
fn fronts_across(sight: &Sight, run: &PlacedRun) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for unit in &run.units {
        let fronts = sight.fronts_of(unit);
        let mut rows: Vec<Length> = fronts.iter().map(|f| f.bottom).collect();
        rows.sort();
        rows.dedup();
        let row = |z: Length| -> Vec<Span> {
            let at = fronts.iter().filter(|f| f.bottom == z);
            at.map(|f| (f.left, f.right)).collect()
        };
        let mut best: Vec<Span> = Vec::new();
        for z in rows {
            if row(z).len() > best.len() {
                best = row(z);
            }
        }
        spans.extend(best);
    }
    apart(spans)
}

fn bays_across(run: &PlacedRun) -> Vec<Span> {
    apart(
        run.units
            .iter()
            .flat_map(|u| &u.bays)
            .map(|b| (b.left, b.right))
            .collect(),
    )
}
