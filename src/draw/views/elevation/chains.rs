//! Dimension chains of an elevation: widths below, heights on the left, levels on the right.
//! Knows which faces are worth a dimension; every stop is a face that was surveyed or reckoned.

use super::super::{Face, survey};
use super::Sight;
use crate::draw::scene::ChainSide;
use crate::draw::scene::ChainSide::{Above, Below, Left, Right};
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedUnit};
use crate::resolve::job::{PanelKind, Reader, Run};
use crate::units::Length;

/// A front's edges left and right, or bottom and top.
type Span = (Length, Length);

pub fn chains(sight: &mut Sight) {
    widths(sight);
    heights(sight);
    if sight.reader != Reader::Client {
        levels(sight);
    }
}

/// Fronts (or bays) nearest, then pieces of the run, then its opening, then the wall.
fn widths(sight: &mut Sight) {
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
        }
        opening(sight, side, made, run, reach);
    }
    if runs.is_empty() {
        loose_widths(sight, -floor);
    }
    let wall = vec![Length::ZERO, sight.wall.length];
    sight.pen.chain(Below, 3, wall, -floor, "wall");
}

/// Between lined corners, or where the run stands along the wall.
fn opening(sight: &mut Sight, side: ChainSide, made: &Run, run: &PlacedRun, reach: Length) {
    let length = sight.wall.length;
    if made.from.is_none() && made.to.is_none() {
        sight
            .pen
            .chain(side, 2, vec![run.left, run.right], reach, "opening");
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

/// One short chain to each span: the gaps between fronts are said once, not 3 mm at a time.
fn each(sight: &mut Sight, side: ChainSide, tier: u8, spans: &[Span], reach: Length, name: &str) {
    let mut name = name;
    for (a, b) in spans {
        sight.pen.chain(side, tier, vec![*a, *b], reach, name);
        name = "";
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

/// In order, dropping what overlaps one already there.
fn apart(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort();
    let mut out: Vec<Span> = Vec::new();
    for span in spans {
        if out.last().is_none_or(|last| span.0 >= last.1) {
            out.push(span);
        }
    }
    out
}

/// Columns of fronts that differ, one tier each, then the heights of units, tops and ceiling.
fn heights(sight: &mut Sight) {
    let mut tier = 0;
    if sight.face == Face::Shut {
        let columns = columns(sight);
        let many = columns.len() > 1;
        for (names, spans) in columns.into_iter().take(3) {
            let name = if many {
                names.join(", ")
            } else {
                String::new()
            };
            each(sight, Left, tier, &spans, Length::ZERO, &name);
            tier += 1;
        }
    }
    let ceiling = sight.ceiling_left();
    let mut stops = vec![Length::ZERO];
    for z in faces(sight) {
        stops.push(-z);
    }
    if stops.len() > 1 {
        stops.push(-ceiling);
        sight.pen.chain(Left, tier, stops, Length::ZERO, "");
        tier += 1;
    }
    sight
        .pen
        .chain(Left, tier, vec![Length::ZERO, -ceiling], Length::ZERO, "");
}

/// Distinct stacks of fronts with the units that have them, in order of the runs.
fn columns(sight: &Sight) -> Vec<(Vec<String>, Vec<Span>)> {
    let mut out: Vec<(Vec<String>, Vec<Span>)> = Vec::new();
    for (_, _, run) in sight.runs() {
        for unit in &run.units {
            let spans = column(&sight.fronts_of(unit), unit);
            if spans.is_empty() {
                continue;
            }
            match out.iter_mut().find(|(_, s)| *s == spans) {
                Some((names, _)) => names.push(unit.id.clone()),
                None => out.push((vec![unit.id.clone()], spans)),
            }
        }
    }
    out
}

/// The fronts over one another at the left of a unit, in scene coordinates.
fn column(fronts: &[&PlacedFront], unit: &PlacedUnit) -> Vec<Span> {
    let middle = |f: &&&PlacedFront| f.left - unit.left <= (unit.right - unit.left).half();
    let spans = fronts
        .iter()
        .filter(middle)
        .map(|f| (-f.top, -f.bottom))
        .collect();
    apart(spans)
}

/// Heights worth a dimension: undersides and tops of carcasses, worktops, panels, leaves.
fn faces(sight: &Sight) -> Vec<Length> {
    let mut zs: Vec<Length> = Vec::new();
    for (_, _, run) in sight.runs() {
        zs.extend(run.units.iter().flat_map(|u| [u.base, u.top]));
    }
    let here = sight.at;
    let r = sight.reckoned;
    zs.extend(r.worktops.iter().filter(|t| t.wall == here).map(|t| t.top));
    if sight.runs().is_empty() {
        zs.extend(
            r.panels
                .iter()
                .filter(|p| p.wall == here)
                .flat_map(|p| [p.bottom, p.top]),
        );
        zs.extend(r.sliding.iter().filter(|s| s.wall == here).map(|s| s.top));
    }
    zs.retain(|z| *z > Length::ZERO);
    zs.sort();
    zs.dedup();
    zs
}

/// Heights above and below the datum line.
fn levels(sight: &mut Sight) {
    let mut stops: Vec<Length> = faces(sight).into_iter().map(|z| -z).collect();
    stops.push(-sight.job.info.datum);
    stops.push(Length::ZERO);
    stops.push(-sight.ceiling_right());
    let reach = sight.wall.length;
    sight
        .pen
        .running(Right, 0, stops, reach, "datum", -sight.job.info.datum);
}

impl Sight<'_> {
    fn extent_low(&self) -> Length {
        self.wall
            .floor
            .iter()
            .map(|p| p.1)
            .min()
            .unwrap_or(Length::ZERO)
    }

    fn extent_high(&self) -> Length {
        Length::from_mm(-self.extent().y0)
    }

    fn ceiling_left(&self) -> Length {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        Length::from_mm(line.first().map_or(0.0, |p| p.1))
    }

    fn ceiling_right(&self) -> Length {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        Length::from_mm(line.last().map_or(0.0, |p| p.1))
    }
}
