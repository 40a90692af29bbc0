//! A part drawn at a scale: its shapes, labels, dimensions and notes together, about its own origin.
//! Knows the room it may take; has no place on a sheet yet.

use super::callouts::{self, Note, Notes};
use super::clip::Stroke;
use super::geometry::Segment;
use super::{
    Align, Item, Part, Room, Text, chains, cloud, columns, geometry, inner, keyed, labels, mapped,
    symbols,
};
use crate::draw::scene::{Fill, Lettering, Pt, Rect, Role, Shape};
use crate::draw::style::{Ink, Weight};
use crate::lettering;

/// A drawing about its own origin, before it has a place on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub items: Vec<Item>,
    /// Of all but its title.
    pub bounds: Rect,
    /// Where its object stands; figures of one row stand on one line.
    pub foot: f64,
    /// Goes under it, in a line with those of its neighbours.
    pub title: Option<Text>,
    /// How awkward its notes lie: less is better.
    pub cost: f64,
}

/// Capital height of a title, and what is free above it, mm.
const TITLE_CAP: f64 = 3.5;
const TITLE_GAP: f64 = 3.5;

impl Figure {
    /// Left edge and width, title included.
    pub fn span(&self) -> (f64, f64) {
        let title = self.title.as_ref().map(Text::bounds);
        let left = title.map_or(self.bounds.x0, |t| t.x0.min(self.bounds.x0));
        let right = title.map_or(self.bounds.x1, |t| t.x1.max(self.bounds.x1));
        (left, right - left)
    }

    /// Height above the line it stands on.
    pub fn above(&self) -> f64 {
        self.foot - self.bounds.y0
    }

    /// Depth below that line, without its title.
    pub fn drop(&self) -> f64 {
        self.bounds.y1 - self.foot
    }

    /// What its title takes below everything else.
    pub fn title_depth(&self) -> f64 {
        self.title.as_ref().map_or(0.0, |t| TITLE_GAP + t.height)
    }

    fn below(&self) -> f64 {
        self.drop() + self.title_depth()
    }

    /// Its items with its left edge at `x` and its foot at `y`, its title `drop` below that.
    pub fn placed(&self, x: f64, y: f64, drop: f64) -> impl Iterator<Item = Item> {
        let (dx, dy) = (x - self.span().0, y - self.foot);
        let title = self.title.as_ref().map(|t| {
            let below = y + drop + TITLE_GAP + t.height / 2.0;
            Item::Text(t.clone().at(Pt::new(t.centre.x + dx, below)))
        });
        self.items
            .iter()
            .cloned()
            .map(move |i| i.moved(dx, dy))
            .chain(title)
    }
}

/// A part drawn at a scale with labels and dimensions, before its notes stand round it.
#[derive(Clone, Debug, PartialEq)]
pub struct Base {
    shapes: Vec<Item>,
    symbols: Vec<Item>,
    labels: Vec<Text>,
    chains: chains::Chains,
    around: Rect,
    object: Rect,
    notes: Vec<Note>,
    /// Of all notes there were, in their order: the callouts, then the labels without a place.
    targets: Vec<Pt>,
    listed: Vec<String>,
    under: Vec<String>,
    /// Lines that leaders had better not cross, with what a crossing costs.
    ways: Vec<(Segment, f64)>,
    title: String,
}

/// How notes find their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care<'a> {
    /// Short leaders first; a chain may be crossed where the way round is long.
    Usual,
    /// Anywhere inside the drawing's bounds, by no leader over a chain. Those marked in this list are
    /// named close by, and their words listed at the foot. Takes longer.
    Strict(&'a [bool]),
}

/// Draws a part at `scale`; `None` where it is larger than `room` with its dimensions.
pub fn base(part: &Part, scale: u32, room: Room, care: Care<'_>) -> Option<Base> {
    let s = f64::from(scale.max(1));
    let (shapes, symbols) = scaled(&part.strokes, s);
    let marks: Vec<Item> = shapes.iter().chain(&symbols).cloned().collect();
    let object = marks.iter().filter_map(Item::bounds).reduce(Rect::with)?;
    // Before the labels are sought: the dimensions alone may already be too large.
    if !fits(object, room) {
        return None;
    }
    let rough = chains::place(&part.chains, part.lanes, object, s);
    if !fits(rough.bounds.unwrap_or(object), room) {
        return None;
    }
    let targets: Vec<Pt> = part
        .callouts
        .iter()
        .map(|c| Pt::new(c.target.x / s, c.target.y / s))
        .collect();
    let seen = labels::seen(Vec::new(), &marks);
    let known = (marks.as_slice(), seen.as_slice());
    let inside = labels::place(&part.labels, known, &rough.lines, &targets, s);
    let core = inside
        .texts
        .iter()
        .map(Text::bounds)
        .fold(object, Rect::with);
    let chains = chains::place(&part.chains, part.lanes, core, s);
    let around = chains.bounds.unwrap_or(core);
    let mut notes: Vec<Note> = part.callouts.iter().map(|c| Note::of(c, s)).collect();
    let homeless = inside.homeless.iter().map(|l| Note::homeless(l, s));
    notes.extend(homeless.map(|n| n.beside(&inside.texts)));
    let mut lines = seen;
    let own = lines.iter().map(|(s, _)| (*s, OVER_OBJECT));
    let mut ways: Vec<(Segment, f64)> = own.collect();
    let measured: Vec<Segment> = chains.lines.iter().flat_map(segments_of).collect();
    let over_chain = match care {
        Care::Usual => OVER_CHAIN,
        Care::Strict(_) => columns::CROSSED,
    };
    lines.extend(measured.iter().map(|s| (*s, Weight::Light)));
    ways.extend(measured.iter().map(|s| (*s, over_chain)));
    let mut taken: Vec<Rect> = marks.iter().filter_map(labels::solid).collect();
    taken.extend(marks.iter().filter_map(photograph));
    taken.extend(
        inside
            .texts
            .iter()
            .chain(&chains.texts)
            .map(|t| t.bounds().grown(0.7)),
    );
    // Where notes are many, the ways between the chains are left to leaders.
    let crowded = care == Care::Usual && notes.len() > MANY;
    if care != Care::Usual {
        let letters = symbols.iter().filter_map(words_of);
        let letters: Vec<Text> = letters.collect();
        notes = notes.into_iter().map(|n| n.beside(&letters)).collect();
    }
    let targets: Vec<Pt> = notes.iter().map(|n| n.target).collect();
    let mut leaders: Vec<Segment> = Vec::new();
    let mut standing = inner::Standing {
        lines,
        taken,
        barred: Vec::new(),
        targets: Vec::new(),
        within: if crowded { object } else { around },
    };
    let named = match care {
        Care::Strict(named) => named,
        Care::Usual => &[],
    };
    // What has a mark of its own bears it close by, whatever the care.
    let own = |n: &Note, i: usize| i < part.callouts.len() && n.balloon.is_some();
    let of = |n: &Note, i: usize| (own(n, i) || named.get(i) == Some(&true)).then(|| n.clone());
    let named: Vec<Option<Note>> = notes.iter().enumerate().map(|(i, n)| of(n, i)).collect();
    let mut kept = named.iter().map(Option::is_none);
    notes.retain(|_| kept.next().unwrap_or(true));
    let named: Vec<Note> = named.into_iter().flatten().collect();
    if care != Care::Usual || !named.is_empty() {
        standing.barred = measured;
        standing.targets.clone_from(&targets);
    }
    let mut keyed = keyed::settle(named, &mut standing, &mut leaders);
    keyed.listed.extend(inside.listed);
    if care == Care::Usual {
        standing.barred.clear();
        standing.targets.clear();
    }
    let mut within = inner::settle(notes, standing, leaders);
    within.lines.extend(keyed.lines);
    within.texts.extend(keyed.texts);
    let leaders = within.lines.iter().filter(|i| is_leader(i));
    let leaders = leaders.flat_map(segments_of);
    ways.extend(leaders.map(|s| (s, columns::CROSSED)));
    let mut texts = inside.texts;
    texts.extend(within.texts);
    let mut chains = chains;
    chains.lines.extend(within.lines);
    let base = Base {
        shapes,
        symbols,
        labels: texts,
        chains,
        around,
        object,
        notes: within.rest,
        targets,
        listed: keyed.listed,
        under: part.under.clone(),
        ways,
        title: part.title.clone(),
    };
    fits(around, room).then_some(base)
}

impl Base {
    /// Whether it matters which margins notes may take.
    pub fn has_notes(&self) -> bool {
        !self.notes.is_empty()
    }

    /// What the names close by stand for, for the foot of the sheet.
    pub fn listed(&self) -> &[String] {
        &self.listed
    }

    /// With that list under it, where the sheet's foot is not its own.
    pub fn with_list_under(mut self) -> Base {
        self.under.append(&mut self.listed);
        self
    }

    /// Marks the notes whose leaders end at these points.
    pub fn mark(&self, ends: &[Pt], marked: &mut Vec<bool>) {
        marked.resize(self.targets.len(), false);
        let near = |a: Pt, b: Pt| libm::hypot(a.x - b.x, a.y - b.y) < 0.01;
        for (target, marked) in self.targets.iter().zip(marked) {
            *marked |= ends.iter().any(|end| near(*end, *target));
        }
    }

    /// Where the leaders of those in the margins will end.
    pub fn left_over(&self) -> Vec<Pt> {
        self.notes.iter().map(|n| n.target).collect()
    }

    /// How many notes stand in the margins.
    pub fn notes(&self) -> usize {
        self.notes.len()
    }

    /// With its notes in the margins allowed; `None` where that is larger than `room`, or costs as much as
    /// this or more.
    pub fn noted(&self, margins: Notes, room: Room, less_than: f64) -> Option<Figure> {
        let own: Vec<Text> = self
            .labels
            .iter()
            .chain(&self.chains.texts)
            .cloned()
            .collect();
        let mut standing = own.clone();
        standing.extend(self.symbols.iter().filter_map(words_of));
        let noted = callouts::place(
            &self.notes,
            self.around,
            (&standing, &self.ways),
            (margins, room),
            less_than,
        )?;
        let mut items = self.shapes.clone();
        items.extend(self.chains.lines.iter().cloned());
        items.extend(noted.lines);
        items.extend(self.symbols.iter().cloned());
        items.extend(own.into_iter().map(Item::Text));
        items.extend(noted.texts.into_iter().map(Item::Text));
        let list = listed_under(&self.under, noted.bounds);
        let list_bounds = list.as_ref().map(Text::bounds);
        let bounds = list_bounds.map_or(noted.bounds, |l| noted.bounds.with(l));
        items.extend(list.map(Item::Text));
        let figure = Figure {
            items,
            bounds,
            foot: self.object.y1,
            title: titled(&self.title, noted.bounds, self.object.centre().x),
            cost: noted.cost,
        };
        let fits = figure.span().1 <= room.width && figure.above() + figure.below() <= room.height;
        fits.then_some(figure)
    }
}

/// What it costs a leader to cross a line of the object or of a chain, beside a mm of length.
const OVER_OBJECT: f64 = 8.0;
const OVER_CHAIN: f64 = 30.0;

/// More notes than this want every way out of the drawing there is.
const MANY: usize = 12;

/// As wide as the drawing at most.
fn listed_under(list: &[String], bounds: Rect) -> Option<Text> {
    let cap = Lettering::Normal.cap_mm();
    let width = bounds.width().max(LIST_LEAST);
    let lines = lettering::wrap(&list.join("; "), cap, false, width);
    let text = Text::new(lines, cap, false).aligned(Align::Left);
    let (w, h) = text.size();
    let centre = Pt::new(bounds.x0 + w / 2.0, bounds.y1 + LIST_GAP + h / 2.0);
    (!list.is_empty()).then(|| text.at(centre))
}

/// The list under a drawing: it may be so wide in any case, and what is free above it, mm.
const LIST_LEAST: f64 = 45.0;
const LIST_GAP: f64 = 2.5;

fn is_leader(item: &Item) -> bool {
    matches!(
        item,
        Item::Shape {
            ink: Ink::Dimension,
            ..
        }
    )
}

fn words_of(item: &Item) -> Option<Text> {
    match item {
        Item::Text(text) => Some(text.clone()),
        Item::Shape { .. } => None,
    }
}

fn segments_of(item: &Item) -> Vec<Segment> {
    match item {
        Item::Shape { shape, .. } => geometry::segments(shape),
        Item::Text(_) => Vec::new(),
    }
}

/// Notes stand beside a photograph, not on it.
fn photograph(item: &Item) -> Option<Rect> {
    match item {
        Item::Shape {
            fill: Fill::Picture(_),
            ..
        } => item.bounds(),
        _ => None,
    }
}

/// The name of a figure, for below it.
fn titled(title: &str, bounds: Rect, middle: f64) -> Option<Text> {
    if title.is_empty() {
        return None;
    }
    let lines = lettering::wrap_evenly(title, TITLE_CAP, true, bounds.width().max(45.0));
    let text = Text::new(lines, TITLE_CAP, true);
    Some(text.at(Pt::new(middle, 0.0)))
}

fn fits(r: Rect, room: Room) -> bool {
    r.width() <= room.width && r.height() <= room.height
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
                    .any(|s| s.covers(Pt::new(at.x * scale, at.y * scale)))
                {
                    marks.extend(symbols::items(at, symbol));
                }
            }
            shape if stroke.ink == Ink::Role(Role::Cloud) => shapes.push(Item::Shape {
                ink: stroke.ink,
                fill: Fill::None,
                shape: cloud::cloud(&shape),
            }),
            shape => {
                let shape = seen_clash(stroke.fill, shape);
                let (ink, fill) = thin(stroke, &shape);
                shapes.push(Item::Shape { ink, fill, shape });
            }
        }
    }
    (shapes, marks)
}

/// Where things strike in a place too small to be seen, a square of a size that is; no symbol is one.
fn seen_clash(fill: Fill, shape: Shape) -> Shape {
    let bounds = Rect::around(geometry::outline(&shape).0);
    match bounds {
        Some(b) if fill == Fill::Clash && b.width().max(b.height()) < PLAIN_CLASH => {
            let side = b.width().max(b.height()).max(LEAST_CLASH);
            Shape::Rect(Rect::about(b.centre(), side, side))
        }
        _ => shape,
    }
}

/// Side of that square at least, and from what size on a place is drawn as it is, mm.
const LEAST_CLASH: f64 = 4.4;
const PLAIN_CLASH: f64 = 7.0;

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
