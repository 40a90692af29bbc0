//! The short ways of saying a unit's fronts turned into rows of cells. Knows which short ways
//! exclude one another; must not know sizes.

use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::read::project::{Cell, Row, Unit};
use crate::read::table::At;
use crate::read::value::{Id, OneOrEach};
use crate::read::words::{FrontKind, Side};

use super::{list, or};

/// Leaves a unit with `row` in full, each row with `across`, each cell with its id.
pub(super) fn fill_rows(unit: &mut Unit, unit_id: &str, diags: &mut Diagnostics) {
    let short: Vec<Count> = vec![
        ("doors", FrontKind::Door, unit.doors.as_ref()),
        ("drawers", FrontKind::Drawer, unit.drawers.as_ref()),
        ("flaps", FrontKind::Flap, unit.flaps.as_ref()),
    ];
    let mut said: Vec<(&str, Place)> = short
        .iter()
        .filter_map(|(key, _, at)| at.map(|a| (*key, a.place)))
        .collect();
    if let Some(row) = &unit.row {
        said.push(("row", row.place));
    }
    if let [first, second, ..] = said.as_slice() {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                second.1,
                format!(
                    "both `{}` and `{}` are given for one face",
                    first.0, second.0
                ),
            )
            .label("which of them?")
            .also(first.1, "and here")
            .help("keep one, or write `row = [ … ]` with a row for each, the top row first"),
        );
    }
    let mut rows: Vec<Row> = Vec::new();
    if let Some(at) = &unit.row {
        rows = at.value.clone();
    } else if let Some(at) = &unit.doors {
        rows.push(Row {
            place: at.place,
            doors: Some(at.clone()),
            ..Row::default()
        });
    } else if let Some((at, drawer)) = unit
        .drawers
        .as_ref()
        .map(|a| (a, true))
        .or(unit.flaps.as_ref().map(|a| (a, false)))
    {
        for _ in 0..at.value {
            let one = Some(At::new(1, at.place));
            let (drawers, flaps) = if drawer { (one, None) } else { (None, one) };
            rows.push(Row {
                place: at.place,
                drawers,
                flaps,
                ..Row::default()
            });
        }
    }
    let count = rows.len();
    for (n, row) in rows.iter_mut().enumerate() {
        fill_row(row, unit, &format!("{unit_id}-r{}", count - n), diags);
    }
    let place = unit.row.as_ref().map_or(Place::NOWHERE, |at| at.place);
    unit.row = (!rows.is_empty()).then(|| At::new(rows, place));
    (unit.doors, unit.drawers, unit.flaps, unit.hinge) = (None, None, None, None);
}

fn fill_row(row: &mut Row, unit: &Unit, id: &str, diags: &mut Diagnostics) {
    let open = row.open().value;
    let counts: Vec<Count> = vec![
        ("doors", FrontKind::Door, row.doors.as_ref()),
        ("drawers", FrontKind::Drawer, row.drawers.as_ref()),
        ("flaps", FrontKind::Flap, row.flaps.as_ref()),
        ("fixed", FrontKind::Fixed, row.fixed.as_ref()),
    ];
    let mut said: Vec<(&str, Place)> = counts
        .iter()
        .filter_map(|(key, _, at)| at.map(|a| (*key, a.place)))
        .collect();
    said.extend(row.across.as_ref().map(|at| ("across", at.place)));
    if open {
        said.push(("open", row.open().place));
    }
    match said.as_slice() {
        // It says something that could not be read.
        [] if diags.has_unread_within(row.place) => {}
        [] => diags.push(
            Diagnostic::new(
                Code::Contradiction,
                start(row.place),
                "this row says nothing of what is in it",
            )
            .label("a row of what?")
            .help("give one of doors, drawers, flaps, fixed, across, or `open = true`"),
        ),
        [_] => {}
        [first, second, ..] => diags.push(
            Diagnostic::new(
                Code::Contradiction,
                second.1,
                format!("a row cannot have both `{}` and `{}`", first.0, second.0),
            )
            .label("which of them?")
            .help("for several kinds side by side write `across = [ { is = \"door\" }, … ]`"),
        ),
    }
    let mut cells: Vec<Cell> = list(&row.across).to_vec();
    if cells.is_empty() {
        let (kind, count) = match counts
            .iter()
            .find_map(|(_, kind, at)| at.map(|a| (*kind, a.value)))
        {
            Some(found) => found,
            None => (FrontKind::Open, 1),
        };
        cells = (0..count)
            .map(|_| Cell {
                place: row.place,
                is: Some(At::default_of(kind)),
                ..Cell::default()
            })
            .collect();
    }
    let given = row.hinge.as_ref().or(unit.hinge.as_ref());
    if let Some(at) = given
        && at.value.0.len() > 1
        && at.value.0.len() != cells.len()
    {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                at.place,
                format!(
                    "{} hinge sides are given for {} fronts",
                    at.value.0.len(),
                    cells.len()
                ),
            )
            .label("one for all, or one for each")
            .help("list them left to right"),
        );
    }
    let sides = hinges(given.map(|at| &at.value), cells.len());
    let place = given.map_or(Place::NOWHERE, |at| at.place);
    for (n, cell) in cells.iter_mut().enumerate() {
        or(&mut cell.is, || FrontKind::Door);
        or(&mut cell.id, || Id(format!("{id}c{}", n + 1)));
        if cell.is().value == FrontKind::Door && cell.hinge.is_none() {
            cell.hinge = sides.get(n).map(|side| At::new(*side, place));
        }
        if cell.front.is_none() {
            cell.front = row.front.clone().or_else(|| unit.front.clone());
        }
        if cell.hides.is_none() {
            cell.hides = row.hides.clone();
        }
    }
    let across = row.across.as_ref().map_or(Place::NOWHERE, |at| at.place);
    *row = Row {
        place: row.place,
        height: row.height.clone(),
        across: Some(At::new(cells, across)),
        ..Row::default()
    };
}

/// The first character of a table, to point at.
fn start(place: Place) -> Place {
    match place.0 {
        Some((from, _)) => Place::span(from, from + 1),
        None => place,
    }
}

/// Hinge sides of `count` doors side by side: as given, or by turns from the left.
fn hinges(given: Option<&OneOrEach<Side>>, count: usize) -> Vec<Side> {
    let turns = |n: usize| {
        if n.is_multiple_of(2) {
            Side::Left
        } else {
            Side::Right
        }
    };
    match given.map(|g| g.0.as_slice()) {
        Some([one]) => vec![*one; count],
        Some(each) if !each.is_empty() => (0..count)
            .map(|n| each.get(n).or(each.last()).copied().unwrap_or(Side::Left))
            .collect(),
        _ => (0..count).map(turns).collect(),
    }
}

/// What a count key makes.
type Count<'a> = (&'static str, FrontKind, Option<&'a At<u32>>);
