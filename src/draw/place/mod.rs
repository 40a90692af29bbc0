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

pub use collide::{Collision, collisions, faulty_ends, faulty_leaders};
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

impl Foot {
    fn of(footer: Footer, frame: Room) -> Foot {
        let width = frame.width - 2.0 * PAD;
        let free = frame.height - TITLE_BLOCK.height - PAD;
        let beside = Room {
            width: frame.width - TITLE_BLOCK.width - 2.0 * PAD,
            height: TITLE_BLOCK.height - PAD,
        };
        let (items, height) = match legend::corner(footer, beside) {
            Some(corner) => {
                let notes = legend::notes(footer, width);
                let dy = free - FOOTER_GAP / 2.0 - notes.height;
                let mut items = moved(corner.items, PAD, frame.height - TITLE_BLOCK.height);
                items.extend(moved(notes.items, PAD, dy));
                let gap = if footer.notes.is_empty() {
                    0.0
                } else {
                    FOOTER_GAP
                };
                (items, notes.height + gap)
            }
            None => {
                let strip = legend::strip(footer, width);
                let dy = free - strip.height;
                (moved(strip.items, PAD, dy), strip.height + FOOTER_GAP)
            }
        };
        let room = Room {
            width,
            height: free - PAD - height,
        };
        Foot { room, items }
    }
}

fn moved(items: Vec<Item>, dx: f64, dy: f64) -> Vec<Item> {
    items.into_iter().map(|i| i.moved(dx, dy)).collect()
}

/// Puts figures side by side in a frame, with the footer at the bottom and the title block's place
/// free. `None` where they do not fit.
pub fn sheet(figures: &[Figure], footer: Footer, frame: Room) -> Option<Placed> {
    let foot = Foot::of(footer, frame);
    let above = foot.room;
    let rows = in_rows(figures, above.width, above.height)?;
    let mut items = Vec::new();
    let tall: f64 = rows.iter().map(Row::height).sum();
    let gap_y = (above.height - tall) / (rows.len() + 1) as f64;
    let mut y = PAD + gap_y;
    for row in &rows {
        let gap_x = (above.width - row.width) / (row.figures.len() + 1) as f64;
        let mut x = PAD + gap_x;
        for figure in &row.figures {
            items.extend(figure.placed(x, y + row.above, row.drop));
            x += figure.span().1 + gap_x;
        }
        y += row.height() + gap_y;
    }
    items.extend(foot.items);
    Some(Placed {
        width: frame.width,
        height: frame.height,
        scale: footer.scale,
        items,
    })
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
        let room =
            |r: &&mut Row<'_>| r.width + w + FIGURE_GAP * (r.figures.len() + 1) as f64 <= width;
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
