//! Heights of an elevation: columns of fronts, units and ceiling from finished floor, and levels
//! about the datum. Knows which heights are worth a dimension; must not know widths.

use super::super::Face;
use super::Sight;
use super::chains::{Span, apart};
use crate::draw::scene::ChainSide::{Left, Right};
use crate::reckon::placed::{PlacedFront, PlacedUnit};
use crate::units::Length;

/// A stack of fronts, and the units that have it.
struct Column {
    units: Vec<(String, f64, f64)>,
    spans: Vec<Span>,
}

/// What stands where: a height with the stretch of wall it belongs to.
type Stand = (Length, f64, f64);

/// Columns of fronts that differ, one tier each, then the heights of units, tops and ceiling.
pub fn heights(sight: &mut Sight) {
    let mut tier = 0;
    if sight.face == Face::Shut {
        let columns = columns(sight);
        let many = columns.len() > 1;
        for column in columns.into_iter().take(3) {
            stack(sight, tier, &column, many);
            tier += 1;
        }
    }
    let ceiling = sight.ceiling();
    let over = (-ceiling.height, ceiling.from, ceiling.to);
    let mut stands: Vec<Stand> = faces(sight).iter().map(|s| (-s.0, s.1, s.2)).collect();
    let mut stops = vec![Length::ZERO];
    stops.extend(stands.iter().map(|s| s.0));
    stands.push(over);
    if stops.len() > 1 {
        stops.push(-ceiling.height);
        sight.pen.chain(Left, tier, stops, Length::ZERO, "");
        sight.pen.stops_stand(stands);
        tier += 1;
    }
    let room = vec![Length::ZERO, -ceiling.height];
    let name = if ceiling.least { "least" } else { "" };
    sight.pen.chain(Left, tier, room, Length::ZERO, name);
    sight.pen.stops_stand(vec![over]);
}

/// A stack of fronts as one chain, without a value for the joints between them.
fn stack(sight: &mut Sight, tier: u8, column: &Column, named: bool) {
    let stops: Vec<Length> = column.spans.iter().flat_map(|s| [s.0, s.1]).collect();
    let mut stands: Vec<Stand> = Vec::new();
    for (_, left, right) in &column.units {
        stands.extend(stops.iter().map(|s| (*s, *left, *right)));
    }
    sight.pen.stack(Left, tier, &column.spans, Length::ZERO, "");
    sight.pen.stops_stand(stands);
    if named {
        let units = column.units.iter();
        let ends = |(id, left, right): &(String, f64, f64)| {
            let (left, right) = (Length::from_mm(*left), Length::from_mm(*right));
            (left, right, id.clone())
        };
        sight.pen.name_spaces(units.map(ends).collect());
    }
}

/// Distinct stacks of fronts with the units that have them, in order of the runs.
fn columns(sight: &Sight) -> Vec<Column> {
    let mut out: Vec<Column> = Vec::new();
    for (_, _, run) in sight.runs() {
        for unit in &run.units {
            let spans = column(&sight.fronts_of(unit), unit);
            if spans.is_empty() {
                continue;
            }
            let here = (unit.id.clone(), unit.left.in_mm(), unit.right.in_mm());
            match out.iter_mut().find(|c| c.spans == spans) {
                Some(column) => column.units.push(here),
                None => out.push(Column {
                    units: vec![here],
                    spans,
                }),
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

/// Heights worth a dimension, with where they are: undersides and tops of carcasses, worktops,
/// panels, leaves.
fn faces(sight: &Sight) -> Vec<Stand> {
    let mut zs: Vec<Stand> = Vec::new();
    let mut add = |z: Length, left: Length, right: Length| {
        if z > Length::ZERO {
            zs.push((z, left.in_mm(), right.in_mm()));
        }
    };
    for (_, _, run) in sight.runs() {
        for u in &run.units {
            add(u.base, u.left, u.right);
            add(u.top, u.left, u.right);
        }
    }
    let here = sight.at;
    let r = sight.reckoned;
    for t in r.worktops.iter().filter(|t| t.wall == here) {
        add(t.top, t.left, t.right);
    }
    if sight.runs().is_empty() {
        for p in r.panels.iter().filter(|p| p.wall == here) {
            for (left, right) in &p.pieces {
                add(p.bottom, *left, *right);
                add(p.top, *left, *right);
            }
        }
        for s in r.sliding.iter().filter(|s| s.wall == here) {
            add(s.top, s.left, s.right);
        }
    }
    zs
}

/// Heights above and below the datum line.
pub fn levels(sight: &mut Sight) {
    let mut stands: Vec<Stand> = faces(sight).iter().map(|s| (-s.0, s.1, s.2)).collect();
    let mut stops: Vec<Length> = stands.iter().map(|s| s.0).collect();
    let ceiling = sight.ceiling_right();
    if !sight.is_level(ceiling) {
        let end = sight.wall.length.in_mm();
        stands.push((-ceiling, end - 1.0, end));
    }
    stops.extend([-sight.job.info.datum, Length::ZERO, -ceiling]);
    let reach = sight.wall.length;
    let datum = -sight.job.info.datum;
    sight.pen.running(Right, 0, stops, reach, "datum", datum);
    sight.pen.stops_stand(stands);
}
