//! Fronts of a pattern gathered into columns, each to be cut from one strip of a board. Knows where
//! fronts stand and what is lost between them; must not know boards beyond how high they are.

use super::layout::Repeat;
use super::phase::cut_away;
use crate::reckon::placed::PlacedFront;
use crate::resolve::job::{BoardRef, Wanted};
use crate::units::Length;

/// Fronts farther apart than this are not seen as neighbours (common practice, no source).
pub const BREAK: Length = Length::mm(50);

/// Fronts cut from one strip, with their places in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// On the wall.
    pub left: Length,
    pub right: Length,
    /// On the board.
    pub width: Length,
    pub height: Length,
    pub cells: Vec<Cell>,
    /// To the column before, where both are in view side by side.
    pub gap_before: Option<Length>,
    /// Board and left edge the designer settled.
    pub settled: Option<(BoardRef, Length)>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Index into the fronts.
    pub front: usize,
    /// From the strip's left and bottom edges.
    pub dx: Length,
    pub dy: Length,
}

/// What the saw takes, and how the pattern runs.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    pub loss: Length,
    pub repeat: Repeat,
    pub wanted: Wanted,
}

impl Cut {
    fn across(self, gap: Length) -> Length {
        cut_away(gap, self.loss, self.repeat.across, self.wanted)
    }
    fn up(self, gap: Length) -> Length {
        cut_away(gap, self.loss, self.repeat.up, self.wanted)
    }
}

/// One stretch of fronts in view together, as columns left to right. Where a column is higher than
/// `highest` its upper rows make a stretch of their own, which follows.
pub fn columns(
    fronts: &[PlacedFront],
    mut stretch: Vec<usize>,
    cut: Cut,
    highest: Length,
) -> Vec<Column> {
    let at = |i: &usize| fronts.get(*i);
    stretch.sort_by_key(|i| at(i).map(|f| (f.left, f.bottom)));
    let lowest = stretch.iter().filter_map(at).map(|f| f.bottom).min();
    let lowest = lowest.unwrap_or_default();
    let mut out: Vec<Column> = Vec::new();
    let mut above: Vec<usize> = Vec::new();
    let mut before: Option<Length> = None;
    for cluster in clusters(fronts, &stretch) {
        let mut rows = rows(fronts, &cluster);
        let mut column = stack(fronts, &rows, cut, lowest);
        while column.height > highest && rows.len() > 1 {
            above.extend(rows.pop().unwrap_or_default());
            column = stack(fronts, &rows, cut, lowest);
        }
        column.gap_before = before
            .map(|right| column.left - right)
            .filter(|gap| *gap <= BREAK && !out.is_empty());
        before = Some(column.right);
        out.push(column);
    }
    if !above.is_empty() {
        out.extend(columns(fronts, above, cut, highest));
    }
    out
}

/// Fronts that overlap along the wall belong together.
fn clusters(fronts: &[PlacedFront], stretch: &[usize]) -> Vec<Vec<usize>> {
    let mut out: Vec<(Length, Vec<usize>)> = Vec::new();
    for i in stretch {
        let Some(front) = fronts.get(*i) else {
            continue;
        };
        match out.last_mut() {
            Some((right, cluster)) if front.left < *right => {
                *right = front.right.max(*right);
                cluster.push(*i);
            }
            _ => out.push((front.right, vec![*i])),
        }
    }
    out.into_iter().map(|(_, cluster)| cluster).collect()
}

/// From the bottom up, each left to right.
fn rows(fronts: &[PlacedFront], cluster: &[usize]) -> Vec<Vec<usize>> {
    let mut sorted = cluster.to_vec();
    let at = |i: &usize| fronts.get(*i);
    sorted.sort_by_key(|i| at(i).map(|f| (f.bottom, f.left)));
    let mut out: Vec<(Length, Vec<usize>)> = Vec::new();
    for i in sorted {
        let Some(front) = fronts.get(i) else { continue };
        match out.last_mut() {
            Some((top, row)) if front.bottom < *top => {
                *top = front.top.max(*top);
                row.push(i);
            }
            _ => out.push((front.top, vec![i])),
        }
    }
    let mut rows: Vec<Vec<usize>> = out.into_iter().map(|(_, row)| row).collect();
    for row in &mut rows {
        row.sort_by_key(|i| at(i).map(|f| f.left));
    }
    rows
}

/// Rows above one another in one strip, as they hang, with what is cut away between.
fn stack(fronts: &[PlacedFront], rows: &[Vec<usize>], cut: Cut, lowest: Length) -> Column {
    let of = |row: &[usize]| -> Vec<(usize, PlacedFront)> {
        let placed = row
            .iter()
            .filter_map(|i| fronts.get(*i).map(|f| (*i, f.clone())));
        placed.collect()
    };
    let all: Vec<(usize, PlacedFront)> = rows.iter().flat_map(|row| of(row)).collect();
    let left = all.iter().map(|(_, f)| f.left).min().unwrap_or_default();
    let right = all.iter().map(|(_, f)| f.right).max().unwrap_or_default();
    let mut column = Column {
        left,
        right,
        width: right - left,
        height: Length::ZERO,
        cells: Vec::new(),
        gap_before: None,
        settled: None,
    };
    // (top on the wall, top on the strip) of the row below.
    let mut below: Option<(Length, Length)> = None;
    for row in rows {
        let row = of(row);
        let bottom = row.iter().map(|(_, f)| f.bottom).min().unwrap_or_default();
        let top = row.iter().map(|(_, f)| f.top).max().unwrap_or_default();
        let dy = match below {
            None => bottom - lowest,
            Some((wall, strip)) => strip + cut.up(bottom - wall),
        };
        let mut beside: Option<(Length, Length)> = None;
        for (i, front) in &row {
            let dx = match beside {
                None => front.left - left,
                Some((wall, strip)) => strip + cut.across(front.left - wall),
            };
            column.cells.push(Cell {
                front: *i,
                dx,
                dy: dy + front.bottom - bottom,
            });
            beside = Some((front.right, dx + front.width()));
            column.width = column.width.max(dx + front.width());
        }
        below = Some((top, dy + top - bottom));
        column.height = column.height.max(dy + top - bottom);
    }
    column
}
