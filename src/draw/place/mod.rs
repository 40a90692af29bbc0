//! From a scene and a scale to primitives in mm of paper, none of which collide. Knows paper,
//! lettering and draughting practice; must not know what is drawn, nor write SVG.

pub mod callouts;
pub mod chains;
pub mod clip;
mod collide;
mod columns;
mod dump;
pub mod geometry;
mod labels;
mod legend;
mod symbols;
mod text;

pub use collide::{Collision, collisions};
pub use dump::{placed_dump, scene_dump};
pub use legend::Footer;
pub use text::{Align, Text};

use self::callouts::{Note, Notes};
use self::chains::PartChain;
use self::clip::Stroke;
use super::scene::{
    Callout, ChainSide, Fill, Label, LabelFrame, LegendItem, Pt, Rect, Role, Scene, Shape,
};
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

/// What of a scene goes on one sheet: the whole, or a part between match lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub strokes: Vec<Stroke>,
    pub labels: Vec<Label>,
    pub chains: Vec<PartChain>,
    pub callouts: Vec<Callout>,
    pub legend: Vec<LegendItem>,
    /// Notes too long for the margins, listed at the bottom under the names they have there.
    pub listed: Vec<String>,
    /// Printed under the drawing, where several share a sheet.
    pub title: String,
}

impl Part {
    pub fn whole(scene: &Scene) -> Part {
        Part {
            strokes: scene.marks.iter().map(Stroke::whole).collect(),
            labels: scene.labels.clone(),
            chains: scene.chains.iter().map(PartChain::whole).collect(),
            callouts: scene.callouts.clone(),
            legend: scene.legend.clone(),
            listed: Vec::new(),
            title: String::new(),
        }
    }

    /// What stands along the bottom of its sheet.
    pub fn footer(&self, scale: u32) -> Footer<'_> {
        Footer {
            legend: &self.legend,
            notes: &self.listed,
            scale,
        }
    }

    /// The same with its long notes listed at the bottom, and only their names at their places.
    pub fn with_listed_notes(mut self) -> Part {
        for callout in &mut self.callouts {
            if crate::lettering::width_mm(&callout.text, 2.5, false) > 16.0 {
                let name = format!("note {}", self.listed.len() + 1);
                self.listed.push(format!("{name}: {}", callout.text));
                callout.text = name;
            }
        }
        self
    }

    /// Between two places along `x` (real mm). Chains on the left stay with the first part and
    /// those on the right with the last; running heights are on every part.
    pub fn between(scene: &Scene, left: f64, right: f64, first: bool, last: bool) -> Part {
        let inside = |p: Pt| p.x >= left && (p.x < right || (last && p.x <= right));
        let chain = |c: &super::scene::Chain| {
            let whole = PartChain::whole(c);
            match c.side {
                ChainSide::Above | ChainSide::Below => whole.between(left, right),
                ChainSide::Left if first || whole.running_from.is_some() => {
                    Some(whole.pulled_to(left, right))
                }
                ChainSide::Right if last => Some(whole),
                ChainSide::Left | ChainSide::Right => None,
            }
        };
        Part {
            strokes: scene
                .marks
                .iter()
                .flat_map(|m| clip::mark(m, left, right))
                .collect(),
            labels: scene
                .labels
                .iter()
                .filter(|l| inside(l.at))
                .cloned()
                .collect(),
            chains: scene.chains.iter().filter_map(chain).collect(),
            callouts: scene
                .callouts
                .iter()
                .filter(|c| inside(c.target))
                .cloned()
                .collect(),
            legend: scene.legend.clone(),
            listed: Vec::new(),
            title: String::new(),
        }
    }
}

/// A drawing about its own origin, before it has a place on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub items: Vec<Item>,
    pub bounds: Rect,
    /// How awkward its notes lie: less is better.
    pub cost: f64,
}

/// The room a figure may take, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    pub width: f64,
    pub height: f64,
}

/// A part drawn at a scale with labels and dimensions, before its notes stand round it.
#[derive(Clone, Debug, PartialEq)]
pub struct Base {
    shapes: Vec<Item>,
    symbols: Vec<Item>,
    labels: Vec<Text>,
    chains: chains::Chains,
    around: Rect,
    /// Middle of the object itself.
    middle: f64,
    notes: Vec<Note>,
    title: String,
}

/// Draws a part at `scale`; `None` where it is larger than `room` with its dimensions.
pub fn base(part: &Part, scale: u32, room: Room) -> Option<Base> {
    let s = f64::from(scale.max(1));
    let (shapes, symbols) = scaled(&part.strokes, s);
    let marks: Vec<Item> = shapes.iter().chain(&symbols).cloned().collect();
    let object = marks.iter().filter_map(Item::bounds).reduce(Rect::with)?;
    // Before the labels are sought: the dimensions alone may already be too large.
    if !fits(object, room) {
        return None;
    }
    let rough = chains::place(&part.chains, object, s);
    if !fits(rough.bounds.unwrap_or(object), room) {
        return None;
    }
    let inside = labels::place(&part.labels, &marks, &rough.lines, s);
    let core = inside
        .texts
        .iter()
        .map(Text::bounds)
        .fold(object, Rect::with);
    let chains = chains::place(&part.chains, core, s);
    let around = chains.bounds.unwrap_or(core);
    let mut notes: Vec<Note> = part.callouts.iter().map(|c| Note::of(c, s)).collect();
    notes.extend(inside.homeless.iter().map(|l| Note::homeless(l, s)));
    let base = Base {
        shapes,
        symbols,
        labels: inside.texts,
        chains,
        around,
        middle: object.centre().x,
        notes,
        title: part.title.clone(),
    };
    fits(around, room).then_some(base)
}

impl Base {
    /// Whether it matters which margins notes may take.
    pub fn has_notes(&self) -> bool {
        !self.notes.is_empty()
    }

    /// With its notes in the margins allowed; `None` where that is larger than `room`.
    pub fn noted(&self, margins: Notes, room: Room) -> Option<Figure> {
        let words = |i: &Item| match i {
            Item::Text(t) => Some(t.clone()),
            Item::Shape { .. } => None,
        };
        let own: Vec<Text> = self
            .labels
            .iter()
            .chain(&self.chains.texts)
            .cloned()
            .collect();
        let mut standing = own.clone();
        standing.extend(self.symbols.iter().filter_map(words));
        let noted = callouts::place(&self.notes, self.around, &standing, margins, room)?;
        let mut items = self.shapes.clone();
        items.extend(self.chains.lines.iter().cloned());
        items.extend(noted.lines);
        items.extend(self.symbols.iter().cloned());
        items.extend(own.into_iter().map(Item::Text));
        items.extend(noted.texts.into_iter().map(Item::Text));
        let (mut bounds, cost) = (noted.bounds, noted.cost);
        if !self.title.is_empty() {
            bounds = titled(&self.title, bounds, self.middle, &mut items);
        }
        fits(bounds, room).then_some(Figure {
            items,
            bounds,
            cost,
        })
    }
}

/// The name of a figure under it, where several share a sheet.
fn titled(title: &str, bounds: Rect, middle: f64, items: &mut Vec<Item>) -> Rect {
    let lines = crate::lettering::wrap(title, 3.5, true, bounds.width().max(45.0));
    let mut text = Text::new(lines, 3.5, true);
    text.centre = Pt::new(middle, bounds.y1 + 6.0 + text.height / 2.0);
    let with = bounds.with(text.bounds());
    items.push(Item::Text(text));
    with
}

fn fits(r: Rect, room: Room) -> bool {
    r.width() <= room.width && r.height() <= room.height
}

/// What is left above the footer on a sheet of `whole`.
pub fn room_above(footer: Footer, whole: Room) -> Room {
    let inner = Room {
        width: whole.width - 2.0 * PAD,
        height: whole.height - 2.0 * PAD,
    };
    let strip = legend::strip(footer, inner.width);
    Room {
        height: inner.height - strip.height - FOOTER_GAP,
        ..inner
    }
}

/// Puts figures side by side on a sheet of `room`, with the footer at the bottom. `None` where they
/// do not fit.
pub fn sheet(figures: &[Figure], footer: Footer, room: Room) -> Option<Placed> {
    let above = room_above(footer, room);
    let strip = legend::strip(footer, above.width);
    let rows = in_rows(figures, above.width, above.height)?;
    let mut items = Vec::new();
    let tall: f64 = rows.iter().map(|r| r.height).sum();
    let gap_y = (above.height - tall) / (rows.len() + 1) as f64;
    let mut y = PAD + gap_y;
    for row in &rows {
        let gap_x = (above.width - row.width) / (row.figures.len() + 1) as f64;
        let mut x = PAD + gap_x;
        for figure in &row.figures {
            // Figures of one row stand on one line.
            let dx = x - figure.bounds.x0;
            let dy = y + row.height - figure.bounds.y1;
            items.extend(figure.items.iter().cloned().map(|i| i.moved(dx, dy)));
            x += figure.bounds.width() + gap_x;
        }
        y += row.height + gap_y;
    }
    let dy = room.height - PAD - strip.height;
    items.extend(strip.items.into_iter().map(|i| i.moved(PAD, dy)));
    Some(Placed {
        width: room.width,
        height: room.height,
        scale: footer.scale,
        items,
    })
}

/// White along the edges of the drawing's area, mm.
const PAD: f64 = 3.0;
/// Between the drawing and the legend, between figures, mm.
const FOOTER_GAP: f64 = 4.0;
const FIGURE_GAP: f64 = 8.0;

struct Row<'a> {
    figures: Vec<&'a Figure>,
    width: f64,
    height: f64,
}

fn in_rows(figures: &[Figure], width: f64, height: f64) -> Option<Vec<Row<'_>>> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for figure in figures {
        let (w, h) = (figure.bounds.width(), figure.bounds.height());
        if w > width {
            return None;
        }
        let room =
            |r: &&mut Row<'_>| r.width + w + FIGURE_GAP * (r.figures.len() + 1) as f64 <= width;
        match rows.last_mut().filter(room) {
            Some(row) => {
                row.figures.push(figure);
                row.width += w;
                row.height = row.height.max(h);
            }
            None => rows.push(Row {
                figures: vec![figure],
                width: w,
                height: h,
            }),
        }
    }
    let gaps = FIGURE_GAP * rows.len().saturating_sub(1) as f64;
    (rows.iter().map(|r| r.height).sum::<f64>() + gaps <= height).then_some(rows)
}

/// Real mm to paper mm: shapes in their order, and symbols, which lie over all lines. What is no
/// number is left out, and so is a symbol that something drawn later hides.
fn scaled(strokes: &[Stroke], scale: f64) -> (Vec<Item>, Vec<Item>) {
    let (mut shapes, mut marks) = (Vec::new(), Vec::new());
    for (i, stroke) in strokes.iter().enumerate() {
        let shape = mapped(&stroke.shape, 1.0 / scale, 0.0, 0.0);
        let finite = geometry::outline(&shape)
            .0
            .iter()
            .all(|p| p.x.is_finite() && p.y.is_finite());
        match shape {
            _ if !finite => {}
            Shape::Symbol { at, symbol } => {
                let later = strokes.get(i + 1..).unwrap_or_default();
                if !later
                    .iter()
                    .any(|s| covers(s, Pt::new(at.x * scale, at.y * scale)))
                {
                    marks.extend(symbols::items(at, symbol));
                }
            }
            shape => {
                let (ink, fill) = thin(stroke, &shape);
                shapes.push(Item::Shape { ink, fill, shape });
            }
        }
    }
    (shapes, marks)
}

fn covers(stroke: &Stroke, p: Pt) -> bool {
    let inside = |r: &Rect| p.x > r.x0 && p.x < r.x1 && p.y > r.y0 && p.y < r.y1;
    super::style::hides(stroke.fill) && matches!(&stroke.shape, Shape::Rect(r) if inside(r))
}

/// Boards too thin on paper for their hatch get a lesser outline, and then are filled in (ISO 128-50
/// lets thin sections be entirely black; from memory).
fn thin(stroke: &Stroke, shape: &Shape) -> (Ink, Fill) {
    let bounds = Rect::around(geometry::outline(shape).0);
    let least = bounds.map_or(0.0, |b| b.width().min(b.height()));
    match (stroke.ink, stroke.fill) {
        (Ink::Role(Role::Cut), Fill::Board) if least < 0.7 => (Ink::None, Fill::Solid),
        (Ink::Role(Role::Cut), Fill::Board) if least < 1.8 => (Ink::Role(Role::Edge), Fill::Board),
        (ink, fill) => (ink, fill),
    }
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
        LabelFrame::Circle => Some(Shape::Circle {
            centre: text.centre,
            radius: text.radius(),
        }),
    }
}
