//! The strip along the bottom of a drawing: the legend of what it uses, the scale and a scale bar.
//! Knows samples and sizes; does not know what was drawn.

use super::{Item, Text, cloud, symbols};
use crate::draw::scene::{Fill, LegendItem, LegendSample, Pt, Rect, Role, Shape};
use crate::draw::style::Ink;
use crate::lettering;

/// The strip with its top left at the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    pub items: Vec<Item>,
    pub height: f64,
}

const CAP: f64 = 2.5;
const SAMPLE: f64 = 12.0;
const SAMPLE_GAP: f64 = 2.5;
const COLUMN_GAP: f64 = 7.0;
/// Where that spares a row in the corner beside the title block.
const NARROW_GAP: f64 = 3.5;
const ROW: f64 = 5.2;
const WIDEST_TEXT: f64 = 62.0;
const GAP_TEXT: f64 = 42.0;
/// In a column beside the drawing.
const NARROW_TEXT: f64 = 30.0;
const WIDEST_NOTE: f64 = 86.0;
/// Five boxes, this long at most.
const BAR_LONGEST: f64 = 60.0;

/// What stands along the bottom: notes named in the drawing, the legend, the scale.
#[derive(Clone, Copy, Debug)]
pub struct Footer<'a> {
    pub legend: &'a [LegendItem],
    /// Each with its own name at its head.
    pub notes: &'a [String],
    pub scale: u32,
    /// The legend may stand beside the drawing, which then has the paper's height.
    pub beside: bool,
}

/// From the legend to a scale bar under it, mm.
const BAR_GAP: f64 = 2.0;

/// Below this the corner beside the title block is too narrow for a legend, mm.
const NARROWEST_CORNER: f64 = 120.0;
/// Kept free at its bottom left for the page's own words on printing, mm.
const ADVICE: Rect = Rect {
    x0: 0.0,
    y0: 0.0,
    x1: 80.0,
    y1: 9.0,
};

/// The legend beside the title block with the scale bar under it at the right, top left at the
/// origin; `None` where it does not fit.
pub fn corner(footer: Footer, room: super::Room) -> Option<Strip> {
    if room.width < NARROWEST_CORNER {
        return None;
    }
    let bar = scale_bar(footer.scale);
    let bar_width = bar
        .iter()
        .filter_map(Item::bounds)
        .map(|b| b.x1)
        .fold(0.0, f64::max);
    let cells: Vec<Cell> = footer.legend.iter().map(Cell::wide).collect();
    let set = [COLUMN_GAP, NARROW_GAP].map(|gap| in_columns(&cells, room.width, gap));
    let fits = |(_, height): &(Vec<Item>, f64)| height + ADVICE.height() <= room.height;
    let (mut items, _) = set.into_iter().find(fits)?;
    let bar_at = (
        room.width - bar_width - COLUMN_GAP,
        room.height - BAR_HEIGHT,
    );
    if bar_at.0 < ADVICE.x1 {
        return None;
    }
    items.extend(bar.into_iter().map(|i| i.moved(bar_at.0, bar_at.1)));
    Some(Strip {
        items,
        height: room.height,
    })
}

/// The legend in one narrow column, to stand beside the drawing, its width, and a scale bar with its
/// words over it for the corner beside the title block; `None` where that corner is too small.
pub fn column(footer: Footer, corner: super::Room) -> Option<(Strip, f64, Vec<Item>)> {
    let cells: Vec<Cell> = (footer.legend.iter())
        .map(|item| Cell::of(item, NARROW_TEXT))
        .collect();
    let width = cells.iter().map(|c| c.width).fold(0.0, f64::max);
    let (items, height) = in_columns(&cells, width, COLUMN_GAP);
    let mut bar = scale_bar(footer.scale).into_iter();
    let words = bar.next()?;
    let left = words.bounds()?.x1 + WORDS_GAP;
    let mut stacked = vec![words.moved(0.0, -WORDS_OVER)];
    stacked.extend(bar.map(|i| i.moved(WORDS_GAP / 2.0 - left, 0.0)));
    let bounds = stacked.iter().filter_map(Item::bounds).reduce(Rect::with)?;
    let down = BAR_HEIGHT + WORDS_OVER;
    let room = corner.height - ADVICE.height();
    if bounds.x1 > corner.width || down > room {
        return None;
    }
    let stacked = stacked.into_iter().map(|i| i.moved(0.0, room - BAR_HEIGHT));
    Some((Strip { items, height }, width, stacked.collect()))
}

/// Only the notes, over the whole width.
pub fn notes(footer: Footer, width: f64) -> Strip {
    let half = (width - COLUMN_GAP) / 2.0;
    let notes: Vec<Cell> = footer.notes.iter().map(|n| Cell::words(n, half)).collect();
    let (items, height) = in_columns(&notes, width, COLUMN_GAP);
    Strip { items, height }
}

/// Lays the notes out over the whole width, under them the legend in columns from the left and the
/// scale bar at the right.
pub fn strip(footer: Footer, width: f64) -> Strip {
    let bar = scale_bar(footer.scale);
    let bar_width = bar
        .iter()
        .filter_map(Item::bounds)
        .map(|b| b.x1)
        .fold(0.0, f64::max);
    let half = (width - COLUMN_GAP) / 2.0;
    let notes: Vec<Cell> = footer.notes.iter().map(|n| Cell::words(n, half)).collect();
    let (mut items, mut y) = in_columns(&notes, width, COLUMN_GAP);
    if !notes.is_empty() {
        y += 3.0;
    }
    let cells: Vec<Cell> = footer.legend.iter().map(Cell::wide).collect();
    // The bar stands beside the legend or, on narrow paper, under it, whichever is lower.
    let beside = in_columns(&cells, width - bar_width - COLUMN_GAP * 1.5, COLUMN_GAP);
    let over = in_columns(&cells, width, COLUMN_GAP);
    let under = over.1 + BAR_HEIGHT + BAR_GAP;
    let (legend, height) = if under < beside.1 {
        (over.0, under)
    } else {
        (beside.0, beside.1.max(BAR_HEIGHT))
    };
    items.extend(legend.into_iter().map(|i| i.moved(0.0, y)));
    let height = y + height;
    let (dx, dy) = (width - bar_width, height - BAR_HEIGHT);
    items.extend(bar.into_iter().map(|i| i.moved(dx, dy)));
    Strip { items, height }
}

/// Cells in reading order in as many columns as `room` holds, each as wide as its widest; with
/// their height in all.
fn in_columns(cells: &[Cell], room: f64, gap: f64) -> (Vec<Item>, f64) {
    let widths = |columns: usize| -> Vec<f64> {
        let widest = |c: usize| {
            cells
                .iter()
                .skip(c)
                .step_by(columns)
                .map(|cell| cell.width)
                .fold(0.0, f64::max)
        };
        (0..columns).map(widest).collect()
    };
    let fits = |columns: &usize| {
        let gaps = gap * (columns - 1) as f64;
        widths(*columns).iter().sum::<f64>() + gaps <= room
    };
    let columns = (1..=cells.len().min(8)).rev().find(fits).unwrap_or(1);
    // The same number of rows with as few columns as they need.
    let rows = cells.len().div_ceil(columns).max(1);
    let columns = cells.len().div_ceil(rows).max(1);
    let widths = widths(columns);
    let (mut items, mut y) = (Vec::new(), 0.0);
    for row in cells.chunks(columns) {
        let height = row.iter().map(|c| c.height).fold(ROW, f64::max);
        let mut x = 0.0;
        for (cell, width) in row.iter().zip(&widths) {
            // Notes begin on one line.
            let tall = if cell.top { cell.height } else { height };
            let middle = y + tall / 2.0;
            items.extend(cell.items.iter().cloned().map(|m| m.moved(x, middle)));
            x += width + gap;
        }
        y += height;
    }
    (items, y)
}

/// A sample with its words: left at 0, middle at 0.
struct Cell {
    items: Vec<Item>,
    width: f64,
    height: f64,
    /// Set at the top of its row, not in the middle of it.
    top: bool,
}

impl Cell {
    /// A note by itself.
    fn words(note: &str, room: f64) -> Cell {
        let lines = lettering::wrap(note, CAP, false, WIDEST_NOTE.min(room));
        let mut text = Text::new(lines, CAP, false).aligned(super::Align::Left);
        text.knock = false;
        text.centre = Pt::new(text.width / 2.0, 0.0);
        let (width, height) = (text.width, text.height + 1.8);
        Cell {
            items: vec![Item::Text(text)],
            width,
            height,
            top: true,
        }
    }

    fn wide(item: &LegendItem) -> Cell {
        // Long words, no wider than the others: the columns stay as many as they are.
        let widest = match item.sample {
            LegendSample::Gap => GAP_TEXT,
            _ => WIDEST_TEXT,
        };
        Cell::of(item, widest)
    }

    fn of(item: &LegendItem, widest: f64) -> Cell {
        let mut items = sample(&item.sample);
        let sample = items.iter().filter_map(Item::bounds).reduce(Rect::with);
        // A symbol whose point is not its middle is still set in the middle of its line.
        let off = sample.map_or(0.0, |s| s.centre().y);
        items = items.into_iter().map(|i| i.moved(0.0, -off)).collect();
        let tall = sample.map_or(0.0, Rect::height);
        let lines = lettering::wrap_evenly(&item.text, CAP, false, widest);
        let mut text = Text::new(lines, CAP, false).aligned(super::Align::Left);
        text.knock = false;
        text.centre = Pt::new(SAMPLE + SAMPLE_GAP + text.width / 2.0, 0.0);
        let (width, height) = (
            SAMPLE + SAMPLE_GAP + text.width,
            text.height.max(tall) + 1.2,
        );
        items.push(Item::Text(text));
        Cell {
            items,
            width,
            height,
            top: false,
        }
    }
}

fn sample(sample: &LegendSample) -> Vec<Item> {
    let middle = Pt::new(SAMPLE / 2.0, 0.0);
    match sample {
        LegendSample::Line(Role::Cloud) => {
            let shape = cloud::cloud(&Shape::Rect(Rect::about(middle, SAMPLE - 5.0, 0.4)));
            vec![Item::Shape {
                ink: Ink::Role(Role::Cloud),
                fill: Fill::None,
                shape,
            }]
        }
        LegendSample::Line(role) => {
            let points = vec![Pt::new(0.0, 0.0), Pt::new(SAMPLE, 0.0)];
            let shape = Shape::Path {
                points,
                closed: false,
            };
            vec![Item::Shape {
                ink: Ink::Role(*role),
                fill: Fill::None,
                shape,
            }]
        }
        LegendSample::Area(fill) => {
            let shape = Shape::Rect(Rect::about(middle, SAMPLE, 4.0));
            vec![Item::Shape {
                ink: Ink::Role(Role::Fine),
                fill: *fill,
                shape,
            }]
        }
        LegendSample::Handle(fill) => {
            let shape = Shape::Rect(Rect::about(middle, SAMPLE * 0.7, 0.9));
            vec![Item::Shape {
                ink: Ink::Role(Role::Fine),
                fill: *fill,
                shape,
            }]
        }
        LegendSample::Gap => {
            let leaf = |x0: f64, x1: f64| Item::Shape {
                ink: Ink::Role(Role::Edge),
                fill: Fill::None,
                shape: Shape::Rect(Rect::new(x0, -2.0, x1, 2.0)),
            };
            let half = SAMPLE / 2.0;
            vec![leaf(0.0, half - 0.6), leaf(half + 0.6, SAMPLE)]
        }
        LegendSample::Symbol(symbol) => symbols::items(middle, *symbol),
        LegendSample::Swing { apex_at_hinge } => symbols::swing_sample(middle, *apex_at_hinge),
    }
}

const BAR_HEIGHT: f64 = 9.0;
const BOX_HEIGHT: f64 = 1.8;
/// From the scale in words to its bar, and over the bar where the words stand above it.
const WORDS_GAP: f64 = 6.0;
const WORDS_OVER: f64 = 6.5;

/// The scale in words and a bar of five boxes, black and white in turn, in round real lengths.
fn scale_bar(scale: u32) -> Vec<Item> {
    let step = bar_step(scale);
    let paper = f64::from(step) / f64::from(scale.max(1));
    let mut words = Text::new(vec![format!("SCALE 1:{scale}")], CAP, true);
    words.knock = false;
    words.centre = Pt::new(words.width / 2.0, BAR_HEIGHT - BOX_HEIGHT / 2.0 - 0.4);
    let left = words.width + WORDS_GAP;
    let mut items = vec![Item::Text(words)];
    let top = BAR_HEIGHT - BOX_HEIGHT - 0.4;
    for i in 0..5_u32 {
        let x = left + paper * f64::from(i);
        let fill = if i % 2 == 0 { Fill::Solid } else { Fill::White };
        let shape = Shape::Rect(Rect::new(x, top, x + paper, top + BOX_HEIGHT));
        items.push(Item::Shape {
            ink: Ink::Frame,
            fill,
            shape,
        });
    }
    // In metres once the bar is that long.
    let metres = step >= 1000;
    for i in [0, 1, 5_u32] {
        let real = u64::from(step) * u64::from(i);
        let mut value = if metres {
            (real / 1000).to_string()
        } else {
            real.to_string()
        };
        if i == 5 {
            value.push_str(if metres { " m" } else { " mm" });
        }
        let mut text = Text::line(&value, CAP);
        text.knock = false;
        text.centre = Pt::new(left + paper * f64::from(i), top - 1.0 - text.height / 2.0);
        items.push(Item::Text(text));
    }
    items
}

/// Real length of one box: the longest of 1, 2, 5 × 10ⁿ mm that keeps five within the bar.
fn bar_step(scale: u32) -> u32 {
    let most = BAR_LONGEST / 5.0 * f64::from(scale.max(1));
    let mut best = 1;
    let mut ten: u32 = 1;
    for _ in 0..7 {
        for digit in [1, 2, 5] {
            if f64::from(ten * digit) <= most {
                best = ten * digit;
            }
        }
        ten *= 10;
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_is_true_to_scale_and_in_round_lengths() {
        // By the scale's meaning (ISO 5455): paper length × scale = real length.
        for (scale, step) in [
            (1, 10),
            (5, 50),
            (10, 100),
            (20, 200),
            (50, 500),
            (100, 1000),
        ] {
            assert_eq!(bar_step(scale), step, "1:{scale}");
            let boxes: Vec<Rect> = scale_bar(scale)
                .iter()
                .filter(|i| matches!(i, Item::Shape { .. }))
                .filter_map(Item::bounds)
                .collect();
            assert_eq!(boxes.len(), 5);
            let length = (boxes[4].x1 - boxes[0].x0) * f64::from(scale);
            assert!((length - f64::from(step) * 5.0).abs() < 1e-6);
        }
    }
}
