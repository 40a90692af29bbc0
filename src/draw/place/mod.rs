//! From a scene and a scale to primitives in mm of paper, none of which collide. Knows paper,
//! lettering and draughting practice; must not know what is drawn, nor write SVG.

pub mod callouts;
pub mod chains;
pub mod clip;
pub mod cloud;
mod collide;
mod columns;
mod dump;
mod figure;
pub mod geometry;
mod inner;
mod keyed;
mod labels;
mod legend;
mod part;
mod part_chain;
mod strip;
mod symbols;
mod text;

pub use chains::Lanes;
pub use collide::{Collision, collisions, far_ends, faulty_ends, faulty_leaders, struck_values};
pub use dump::{placed_dump, scene_dump};
pub use figure::{Base, Care, Figure, base};
pub use legend::Footer;
pub use part::Part;
pub use part_chain::PartChain;
pub use text::{Align, Text};

use super::scene::{Fill, LabelFrame, Pt, Rect, Shape};
use super::style::Ink;

/// A drawing on its paper: origin at the top left, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    pub width: f64,
    pub height: f64,
    pub scale: u32,
    /// In drawing order.
    pub items: Vec<Item>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    Shape { ink: Ink, fill: Fill, shape: Shape },
    Text(Text),
}

impl Item {
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Item::Shape { shape, .. } => Rect::around(geometry::outline(shape).0),
            Item::Text(text) => Some(text.bounds()),
        }
    }

    pub fn moved(self, dx: f64, dy: f64) -> Item {
        match self {
            Item::Text(text) => Item::Text(text.moved(dx, dy)),
            Item::Shape { ink, fill, shape } => Item::Shape {
                ink,
                fill,
                shape: mapped(&shape, 1.0, dx, dy),
            },
        }
    }
}

/// The room a figure may take, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    pub width: f64,
    pub height: f64,
}

/// What the footer leaves for the drawing in a frame.
pub fn room_above(footer: Footer, frame: Room) -> Room {
    Foot::of(footer, frame).room
}

/// The footer laid out: beside the title block where it fits there, else above it.
struct Foot {
    room: Room,
    items: Vec<Item>,
}

/// Above an upright sheet's title block, which takes the whole width: the page's words on printing.
pub const ADVICE_ROW: f64 = 5.0;
/// The least width beside the title block that holds those words, mm.
pub const ADVICE_WIDTH: f64 = 40.0;

impl Foot {
    fn of(footer: Footer, frame: Room) -> Foot {
        let width = frame.width - 2.0 * PAD;
        let advised = frame.width - TITLE_BLOCK.width > ADVICE_WIDTH;
        let advice = if advised { 0.0 } else { ADVICE_ROW };
        let free = frame.height - TITLE_BLOCK.height - PAD - advice;
        let beside = Room {
            width: frame.width - TITLE_BLOCK.width - 2.0 * PAD,
            height: TITLE_BLOCK.height - PAD,
        };
        let above = |height: f64| Room {
            width,
            height: free - PAD - height,
        };
        let corner_at = frame.height - TITLE_BLOCK.height;
        if let Some(corner) = legend::corner(footer, beside) {
            let (notes, height) = Foot::notes(footer, width, free);
            let mut items = moved(corner.items, PAD, corner_at);
            items.extend(notes);
            return Foot {
                room: above(height),
                items,
            };
        }
        let column = footer.beside.then(|| legend::column(footer, beside));
        if let Some((column, wide, bar)) = column.flatten()
            && column.height <= free - PAD
        {
            let mut items = moved(bar, PAD, corner_at);
            let (notes, height) = Foot::notes(footer, width - wide - FOOTER_GAP, free);
            items.extend(notes);
            let (dx, dy) = (frame.width - PAD - wide, free - column.height);
            items.extend(moved(column.items, dx, dy));
            // Nothing stands between the drawing and the title block.
            let room = Room {
                width: width - wide - FOOTER_GAP,
                height: above(height).height + PAD - 0.5,
            };
            return Foot { room, items };
        }
        let strip = legend::strip(footer, width);
        let items = moved(strip.items, PAD, free - strip.height);
        let room = above(strip.height + FOOTER_GAP);
        Foot { room, items }
    }

    /// The notes alone at the bottom of the drawing's area, and what height they take.
    fn notes(footer: Footer, width: f64, free: f64) -> (Vec<Item>, f64) {
        let notes = legend::notes(footer, width);
        let dy = free - FOOTER_GAP / 2.0 - notes.height;
        let gap = if footer.notes.is_empty() {
            0.0
        } else {
            FOOTER_GAP
        };
        (moved(notes.items, PAD, dy), notes.height + gap)
    }
}

fn moved(items: Vec<Item>, dx: f64, dy: f64) -> Vec<Item> {
    items.into_iter().map(|i| i.moved(dx, dy)).collect()
}

/// Puts figures side by side in a frame, with the footer at the bottom and the title block's place
/// free. `None` where they do not fit.
pub fn sheet(figures: &[Figure], footer: Footer, frame: Room) -> Option<Placed> {
    let foot = Foot::of(footer, frame);
    let rows = in_rows(figures, foot.room.width, foot.room.height)?;
    let tall: f64 = rows.iter().map(Row::height).sum();
    let spare = foot.room.height - tall;
    let between = rows.len().saturating_sub(1) as f64;
    // A title stands nearer to its own figure than to the one under it.
    let even = spare / (between + 2.0);
    let gap = if between > 0.0 {
        even.max(ROWS_APART.min(spare / between))
    } else {
        even
    };
    let top = (spare - gap * between) / 2.0;
    Some(set(&rows, foot, (footer.scale, frame), (PAD + top, gap)))
}

/// The highest and the lowest that the line may lie on which a figure alone on its sheet stands.
pub fn foot_between(figure: &Figure, footer: Footer, frame: Room) -> (f64, f64) {
    let room = room_above(footer, frame);
    (
        PAD + figure.above(),
        PAD + room.height - figure.drop() - figure.title_depth(),
    )
}

/// A figure alone on its sheet, standing on the line at `y`; `None` where it does not fit.
pub fn sheet_at(figure: &Figure, y: f64, footer: Footer, frame: Room) -> Option<Placed> {
    let foot = Foot::of(footer, frame);
    let rows = in_rows(
        std::slice::from_ref(figure),
        foot.room.width,
        foot.room.height,
    )?;
    let top = y - figure.above();
    Some(set(&rows, foot, (footer.scale, frame), (top, 0.0)))
}

/// Rows from `y` down, so far apart.
fn set(rows: &[Row], foot: Foot, (scale, frame): (u32, Room), (y, gap_y): (f64, f64)) -> Placed {
    let above = foot.room;
    let mut items = Vec::new();
    let mut y = y;
    for row in rows {
        let gap_x = (above.width - row.width) / (row.figures.len() + 1) as f64;
        let mut x = PAD + gap_x;
        for figure in &row.figures {
            items.extend(figure.placed(x, y + row.above, row.drop));
            x += figure.span().1 + gap_x;
        }
        y += row.height() + gap_y;
    }
    items.extend(foot.items);
    Placed {
        width: frame.width,
        height: frame.height,
        scale,
        items,
    }
}

/// Kept free in the bottom right corner of the frame, for the page to lay out: ISO 7200 lets a title
/// block be 180 mm wide.
pub const TITLE_BLOCK: Room = Room {
    width: 180.0,
    height: 34.0,
};
/// White along the edges of the drawing's area, mm.
const PAD: f64 = 3.0;
/// Between the drawing and the legend, between figures, mm.
const FOOTER_GAP: f64 = 4.0;
const FIGURE_GAP: f64 = 8.0;
/// Between rows of figures where there is room for it, mm.
const ROWS_APART: f64 = 14.0;

/// Figures that stand on one line, their titles in another below it.
#[derive(Default)]
struct Row<'a> {
    figures: Vec<&'a Figure>,
    width: f64,
    /// The highest above the line, the deepest below it, and the deepest title.
    above: f64,
    drop: f64,
    title: f64,
}

impl<'a> Row<'a> {
    fn add(&mut self, figure: &'a Figure) {
        self.figures.push(figure);
        self.width += figure.span().1;
        self.above = self.above.max(figure.above());
        self.drop = self.drop.max(figure.drop());
        self.title = self.title.max(figure.title_depth());
    }

    fn height(&self) -> f64 {
        self.above + self.drop + self.title
    }
}

fn in_rows(figures: &[Figure], width: f64, height: f64) -> Option<Vec<Row<'_>>> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for figure in figures {
        let w = figure.span().1;
        if w > width {
            return None;
        }
        let room = |r: &&mut Row<'_>| r.width + w + FIGURE_GAP * r.figures.len() as f64 <= width;
        match rows.last_mut().filter(room) {
            Some(row) => row.add(figure),
            None => {
                let mut row = Row::default();
                row.add(figure);
                rows.push(row);
            }
        }
    }
    let gaps = FIGURE_GAP * rows.len().saturating_sub(1) as f64;
    (rows.iter().map(Row::height).sum::<f64>() + gaps <= height).then_some(rows)
}

fn mapped(shape: &Shape, by: f64, dx: f64, dy: f64) -> Shape {
    let pt = |p: &Pt| Pt::new(p.x * by + dx, p.y * by + dy);
    match shape {
        Shape::Path { points, closed } => Shape::Path {
            points: points.iter().map(pt).collect(),
            closed: *closed,
        },
        Shape::Rect(r) => {
            let (a, b) = (pt(&Pt::new(r.x0, r.y0)), pt(&Pt::new(r.x1, r.y1)));
            Shape::Rect(Rect::new(a.x, a.y, b.x, b.y))
        }
        Shape::Circle { centre, radius } => Shape::Circle {
            centre: pt(centre),
            radius: radius * by,
        },
        Shape::Arc {
            centre,
            radius,
            from,
            sweep,
        } => Shape::Arc {
            centre: pt(centre),
            radius: radius * by,
            from: *from,
            sweep: *sweep,
        },
        Shape::Symbol { at, symbol } => Shape::Symbol {
            at: pt(at),
            symbol: *symbol,
        },
    }
}

/// The frame of a label as a shape, for whoever draws it.
pub fn frame_of(text: &Text) -> Option<Shape> {
    match text.frame {
        LabelFrame::None => None,
        LabelFrame::Box => Some(Shape::Rect(text.bounds())),
        LabelFrame::Triangle => {
            let b = text.bounds();
            Some(Shape::Path {
                points: vec![
                    Pt::new(b.x0, b.y1),
                    Pt::new(b.centre().x, b.y0),
                    Pt::new(b.x1, b.y1),
                ],
                closed: true,
            })
        }
        LabelFrame::Circle => Some(Shape::Circle {
            centre: text.centre,
            radius: text.radius(),
        }),
    }
}
