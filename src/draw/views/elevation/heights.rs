//! Heights of an elevation: columns of fronts, units and ceiling from finished floor, and levels
//! about the datum. Knows which heights are worth a dimension; must not know widths.

use super::super::Face;
use super::Sight;
use super::chains::{Span, apart, each};
use crate::draw::scene::ChainSide::{Left, Right};
use crate::reckon::placed::{PlacedFront, PlacedUnit};
use crate::units::Length;

/// Columns of fronts that differ, one tier each, then the heights of units, tops and ceiling.
pub fn heights(sight: &mut Sight) {
    let mut tier = 0;
    if sight.face == Face::Shut {
        let columns = columns(sight);
        let many = columns.len() > 1;
        for (names, spans) in columns.into_iter().take(3) {
            let first = names.into_iter().next().filter(|_| many);
            let name = first.unwrap_or_default();
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
pub fn levels(sight: &mut Sight) {
    let mut stops: Vec<Length> = faces(sight).into_iter().map(|z| -z).collect();
    stops.push(-sight.job.info.datum);
    stops.push(Length::ZERO);
    stops.push(-sight.ceiling_right());
    let reach = sight.wall.length;
    sight
        .pen
        .running(Right, 0, stops, reach, "datum", -sight.job.info.datum);
}
