//! From a scene and a scale to primitives in mm of paper, none of which collide. Knows paper,
//! lettering and draughting practice; must not know what is drawn, nor write SVG.

pub mod callouts;
pub mod chains;
pub mod clip;
mod collide;
mod dump;
pub mod geometry;
mod labels;
mod legend;
mod symbols;
mod text;

pub use collide::{Collision, collisions};
pub use dump::{placed_dump, scene_dump};
pub use text::{Align, Text};

use self::callouts::{Note, Notes};
use self::chains::PartChain;
use self::clip::Stroke;
use super::scene::{Callout, ChainSide, Fill, Label, LabelFrame, LegendItem, Pt, Rect, Scene, Shape};
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
            Item::Shape { ink, fill, shape } => {
                Item::Shape { ink, fill, shape: mapped(&shape, 1.0, dx, dy) }
            }
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
            title: String::new(),
        }
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
            strokes: scene.marks.iter().flat_map(|m| clip::mark(m, left, right)).collect(),
            labels: scene.labels.iter().filter(|l| inside(l.at)).cloned().collect(),
            chains: scene.chains.iter().filter_map(chain).collect(),
            callouts: scene.callouts.iter().filter(|c| inside(c.target)).cloned().collect(),
            legend: scene.legend.clone(),
            title: String::new(),
        }
    }
}

/// A drawing about its own origin, before it has a place on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub items: Vec<Item>,
    pub bounds: Rect,
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
    marks: Vec<Item>,
    labels: Vec<Text>,
    chains: chains::Chains,
    around: Rect,
    notes: Vec<Note>,
    title: String,
}

/// Draws a part at `scale`; `None` where it is larger than `room` with its dimensions.
pub fn base(part: &Part, scale: u32, room: Room) -> Option<Base> {
    let s = f64::from(scale.max(1));
    let marks = scaled(&part.strokes, s);
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
    let core = inside.texts.iter().map(Text::bounds).fold(object, Rect::with);
    let chains = chains::place(&part.chains, core, s);
    let around = chains.bounds.unwrap_or(core);
    let mut notes: Vec<Note> = part.callouts.iter().map(|c| Note::of(c, s)).collect();
    notes.extend(inside.homeless.iter().map(|l| Note::homeless(l, s)));
    let title = part.title.clone();
    fits(around, room).then_some(Base { marks, labels: inside.texts, chains, around, notes, title })
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
        let own: Vec<Text> =
            self.labels.iter().chain(&self.chains.texts).cloned().collect();
        let mut standing = own.clone();
        standing.extend(self.marks.iter().filter_map(words));
        let noted = callouts::place(&self.notes, self.around, &standing, margins, room)?;
        let mut items = self.marks.clone();
        items.extend(self.chains.lines.iter().cloned());
        items.extend(noted.lines);
        items.extend(own.into_iter().map(Item::Text));
        items.extend(noted.texts.into_iter().map(Item::Text));
        let mut bounds = noted.bounds;
        if !self.title.is_empty() {
            bounds = titled(&self.title, bounds, &mut items);
        }
        fits(bounds, room).then_some(Figure { items, bounds })
    }
}

/// The name of a figure under it, where several share a sheet.
fn titled(title: &str, bounds: Rect, items: &mut Vec<Item>) -> Rect {
    let lines = crate::lettering::wrap(title, 3.5, true, bounds.width().max(45.0));
    let mut text = Text::new(lines, 3.5, true);
    text.centre = Pt::new(bounds.centre().x, bounds.y1 + 6.0 + text.height / 2.0);
    let with = bounds.with(text.bounds());
    items.push(Item::Text(text));
    with
}

fn fits(r: Rect, room: Room) -> bool {
    r.width() <= room.width && r.height() <= room.height
}

/// What is left above the legend and the scale bar on a sheet of `whole`.
pub fn room_above(legend: &[LegendItem], scale: u32, whole: Room) -> Room {
    let footer = legend::strip(legend, scale, whole.width);
    Room { width: whole.width, height: whole.height - footer.height - FOOTER_GAP }
}

/// Puts figures side by side on a sheet of `room`, with the legend and the scale bar at the
/// bottom. `None` where they do not fit.
pub fn sheet(figures: &[Figure], legend: &[LegendItem], scale: u32, room: Room) -> Option<Placed> {
    let footer = legend::strip(legend, scale, room.width);
    let wide = room.height - footer.height - FOOTER_GAP;
    let rows = in_rows(figures, room.width, wide)?;
    let mut items = Vec::new();
    let tall: f64 = rows.iter().map(|r| r.height).sum();
    let gap_y = (wide - tall) / (rows.len() + 1) as f64;
    let mut y = gap_y;
    for row in &rows {
        let gap_x = (room.width - row.width) / (row.figures.len() + 1) as f64;
        let mut x = gap_x;
        for figure in &row.figures {
            // Figures of one row stand on one line.
            let dx = x - figure.bounds.x0;
            let dy = y + row.height - figure.bounds.y1;
            items.extend(figure.items.iter().cloned().map(|i| i.moved(dx, dy)));
            x += figure.bounds.width() + gap_x;
        }
        y += row.height + gap_y;
    }
    let dy = room.height - footer.height;
    items.extend(footer.items.into_iter().map(|i| i.moved(0.0, dy)));
    Some(Placed { width: room.width, height: room.height, scale, items })
}

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
        let room = |r: &&mut Row<'_>| {
            r.width + w + FIGURE_GAP * (r.figures.len() + 1) as f64 <= width
        };
        match rows.last_mut().filter(room) {
            Some(row) => {
                row.figures.push(figure);
                row.width += w;
                row.height = row.height.max(h);
            }
            None => rows.push(Row { figures: vec![figure], width: w, height: h }),
        }
    }
    let gaps = FIGURE_GAP * rows.len().saturating_sub(1) as f64;
    (rows.iter().map(|r| r.height).sum::<f64>() + gaps <= height).then_some(rows)
}

/// Real mm to paper mm; what is no number is left out.
fn scaled(strokes: &[Stroke], scale: f64) -> Vec<Item> {
    let mut items = Vec::new();
    for stroke in strokes {
        let shape = mapped(&stroke.shape, 1.0 / scale, 0.0, 0.0);
        let finite = geometry::outline(&shape).0.iter().all(|p| p.x.is_finite() && p.y.is_finite());
        match shape {
            _ if !finite => {}
            Shape::Symbol { at, symbol } => items.extend(symbols::items(at, symbol)),
            shape => items.push(Item::Shape { ink: stroke.ink, fill: stroke.fill, shape }),
        }
    }
    items
}

fn mapped(shape: &Shape, by: f64, dx: f64, dy: f64) -> Shape {
    let pt = |p: &Pt| Pt::new(p.x * by + dx, p.y * by + dy);
    match shape {
        Shape::Path { points, closed } => {
            Shape::Path { points: points.iter().map(pt).collect(), closed: *closed }
        }
        Shape::Rect(r) => {
            let (a, b) = (pt(&Pt::new(r.x0, r.y0)), pt(&Pt::new(r.x1, r.y1)));
            Shape::Rect(Rect::new(a.x, a.y, b.x, b.y))
        }
        Shape::Circle { centre, radius } => {
            Shape::Circle { centre: pt(centre), radius: radius * by }
        }
        Shape::Arc { centre, radius, from, sweep } => Shape::Arc {
            centre: pt(centre),
            radius: radius * by,
            from: *from,
            sweep: *sweep,
        },
        Shape::Symbol { at, symbol } => Shape::Symbol { at: pt(at), symbol: *symbol },
    }
}

/// The frame of a label as a shape, for whoever draws it.
pub fn frame_of(text: &Text) -> Option<Shape> {
    match text.frame {
        LabelFrame::None => None,
        LabelFrame::Box => Some(Shape::Rect(text.bounds())),
        LabelFrame::Circle => {
            Some(Shape::Circle { centre: text.centre, radius: text.radius() })
        }
    }
}
