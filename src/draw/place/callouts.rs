//! Notes and balloons in the margins, their leaders never crossing. Knows what already stands;
//! chooses the order of the notes, not their words.
//!
//! Leaders of least total length between two rows of points do not cross, so the order starts from
//! the targets' own and pairs are exchanged while that takes away crossings, words run over, or
//! length.

use super::geometry::{Segment, spread_between};
use super::{Align, Item, Room, Text};
use crate::draw::scene::{Callout, Fill, Label, LabelFrame, Lettering, Pt, Rect, Shape};
use crate::draw::style::Ink;
use crate::lettering;

/// Which margins may take notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notes {
    Sides,
    Right,
    Top,
    Around,
}

impl Notes {
    /// In the order they are tried.
    pub const ALL: [Notes; 4] = [Notes::Sides, Notes::Right, Notes::Top, Notes::Around];
}

/// A callout with its target on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    target: Pt,
    text: String,
    balloon: Option<String>,
    dot: bool,
}

impl Note {
    pub fn of(callout: &Callout, scale: f64) -> Note {
        Note {
            target: Pt::new(callout.target.x / scale, callout.target.y / scale),
            text: callout.text.clone(),
            balloon: callout.balloon.clone(),
            dot: true,
        }
    }

    /// A label that found no place inside.
    pub fn homeless(label: &Label, scale: f64) -> Note {
        let words = label.lines.join(" ");
        let circle = label.frame == LabelFrame::Circle;
        Note {
            target: Pt::new(label.at.x / scale, label.at.y / scale),
            text: if circle { String::new() } else { words.clone() },
            balloon: circle.then_some(words),
            dot: true,
        }
    }
}

/// Notes at their places.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    pub lines: Vec<Item>,
    pub texts: Vec<Text>,
    pub bounds: Rect,
}

const WRAP: f64 = 45.0;
const CAP: f64 = 2.5;
/// From what is already there to the notes, and between notes, mm.
const MARGIN: f64 = 8.0;
const GAP: f64 = 3.0;
/// The level stretch of a leader at its note.
const LANDING: f64 = 3.0;
const BALLOON_GAP: f64 = 1.2;

/// Puts the notes round `around`; `None` where the margins allowed do not hold them.
pub fn place(
    notes: &[Note],
    around: Rect,
    standing: &[Text],
    margins: Notes,
    room: Room,
) -> Option<Noted> {
    let mut out = Noted { lines: Vec::new(), texts: Vec::new(), bounds: around };
    let notes: Vec<&Note> =
        notes.iter().filter(|n| n.target.x.is_finite() && n.target.y.is_finite()).collect();
    if notes.is_empty() {
        return Some(out);
    }
    let middle = around.centre().x;
    let (mut left, mut right, mut top) = (Vec::new(), Vec::new(), Vec::new());
    for note in notes {
        let share = (note.target.x - around.x0) / around.width().max(1.0);
        match margins {
            Notes::Right => right.push(note),
            Notes::Top => top.push(note),
            Notes::Sides if note.target.x < middle => left.push(note),
            Notes::Sides => right.push(note),
            Notes::Around if share < 0.25 => left.push(note),
            Notes::Around if share > 0.75 => right.push(note),
            Notes::Around => top.push(note),
        }
    }
    // Wider than this the three stacks could not stand beside the object.
    let spare = room.width - around.width() - MARGIN;
    let columns = usize::from(!left.is_empty()) + usize::from(!right.is_empty());
    let wrap = if columns == 0 { WRAP } else { (spare / columns as f64 - MARGIN).clamp(18.0, WRAP) };
    let mut obstacles: Vec<Rect> = standing.iter().map(Text::bounds).collect();
    for (stack, side) in [(left, Side::Left), (right, Side::Right), (top, Side::Top)] {
        if stack.is_empty() {
            continue;
        }
        let column = Column { side, around, wrap, width: room.width, height: room.height };
        column.fill(&stack, &obstacles, &mut out)?;
        obstacles.extend(out.texts.iter().map(Text::bounds));
    }
    Some(out)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
    Top,
}

struct Column {
    side: Side,
    around: Rect,
    wrap: f64,
    width: f64,
    height: f64,
}

/// A note set: its words, its balloon, and their size together.
struct Block {
    words: Option<Text>,
    balloon: Option<Text>,
    width: f64,
    height: f64,
}

impl Block {
    fn of(note: &Note, wrap: f64) -> Block {
        let balloon = note.balloon.as_ref().map(|b| {
            let cap = Lettering::Strong.cap_mm();
            Text::new(vec![b.clone()], cap, true).framed(LabelFrame::Circle)
        });
        let words = (!note.text.trim().is_empty()).then(|| {
            let lines = lettering::wrap(&note.text, CAP, false, wrap);
            Text::new(lines, CAP, false).aligned(Align::Left)
        });
        let (bw, bh) = balloon.as_ref().map_or((0.0, 0.0), Text::size);
        let (ww, wh) = words.as_ref().map_or((0.0, 0.0), Text::size);
        let gap = if balloon.is_some() && words.is_some() { BALLOON_GAP } else { 0.0 };
        Block { words, balloon, width: bw + gap + ww, height: bh.max(wh) }
    }

    /// The texts with the block's top left at `at`; `mirrored` puts the balloon at the right.
    fn texts(&self, at: Pt, mirrored: bool) -> Vec<Text> {
        let mut out = Vec::new();
        let (bw, bh) = self.balloon.as_ref().map_or((0.0, 0.0), Text::size);
        if let Some(b) = &self.balloon {
            let x = if mirrored { at.x + self.width - bw / 2.0 } else { at.x + bw / 2.0 };
            out.push(b.clone().at(Pt::new(x, at.y + bh / 2.0)));
        }
        if let Some(w) = &self.words {
            let x = if mirrored { at.x + w.width / 2.0 } else { at.x + self.width - w.width / 2.0 };
            let y = at.y + w.height.max(if w.lines.len() == 1 { bh } else { 0.0 }) / 2.0;
            out.push(w.clone().at(Pt::new(x, y)));
        }
        out
    }

    /// Where the leader meets it, below its top.
    fn mouth(&self) -> f64 {
        match (&self.balloon, &self.words) {
            (Some(b), _) => b.size().1 / 2.0,
            (None, Some(w)) => w.ascent - w.cap / 2.0,
            (None, None) => 0.0,
        }
    }
}

/// One arrangement of a column: the top left of each block and its leader.
struct Arranged {
    corners: Vec<Pt>,
    leaders: Vec<Vec<Pt>>,
    cost: f64,
}

impl Column {
    fn fill(&self, notes: &[&Note], obstacles: &[Rect], out: &mut Noted) -> Option<()> {
        let blocks: Vec<Block> = notes.iter().map(|n| Block::of(n, self.wrap)).collect();
        let gaps = GAP * notes.len().saturating_sub(1) as f64;
        let needed: f64 = match self.side {
            Side::Top => blocks.iter().map(|b| b.width).sum::<f64>() + gaps,
            Side::Left | Side::Right => blocks.iter().map(|b| b.height).sum::<f64>() + gaps,
        };
        let most = if self.side == Side::Top { self.width } else { self.height };
        if needed > most {
            return None;
        }
        let mut order: Vec<usize> = (0..notes.len()).collect();
        let key = |i: usize| notes.get(i).map_or((0.0, 0.0), |n| self.key(n.target));
        order.sort_by(|a, b| {
            let (p, q) = (key(*a), key(*b));
            p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1))
        });
        let earlier = leaders_in(&out.lines);
        let mut best = self.arrange(notes, &blocks, &order, obstacles, &earlier);
        let mut improving = true;
        let mut rounds = 0;
        while improving && rounds < 12 {
            improving = false;
            rounds += 1;
            for i in 0..order.len() {
                for j in i + 1..order.len() {
                    order.swap(i, j);
                    let other = self.arrange(notes, &blocks, &order, obstacles, &earlier);
                    if other.cost < best.cost - 1e-6 {
                        best = other;
                        improving = true;
                    } else {
                        order.swap(i, j);
                    }
                }
            }
        }
        self.draw(notes, &blocks, &order, best, out);
        Some(())
    }

    /// What a column is sorted by first.
    fn key(&self, target: Pt) -> (f64, f64) {
        match self.side {
            Side::Left => (target.y, target.x),
            Side::Right => (target.y, -target.x),
            Side::Top => (target.x, target.y),
        }
    }

    fn arrange(
        &self,
        notes: &[&Note],
        blocks: &[Block],
        order: &[usize],
        obstacles: &[Rect],
        earlier: &[Segment],
    ) -> Arranged {
        let pick = |i: &usize| Some((notes.get(*i)?, blocks.get(*i)?));
        let chosen: Vec<(&&Note, &Block)> = order.iter().filter_map(pick).collect();
        let along = |p: Pt| if self.side == Side::Top { p.x } else { p.y };
        let sizes: Vec<f64> = chosen
            .iter()
            .map(|(_, b)| if self.side == Side::Top { b.width } else { b.height })
            .collect();
        // Wanted places must ascend for spreading; the order is the caller's.
        let mut wanted: Vec<f64> = Vec::new();
        for (note, block) in &chosen {
            let mouth = match self.side {
                Side::Top => 0.0,
                Side::Left | Side::Right => block.height / 2.0 - block.mouth(),
            };
            wanted.push(along(note.target) + mouth);
        }
        let (low, high) = self.limits(&sizes);
        let places = spread_between(&wanted, &sizes, GAP, low, high);
        let mut corners = Vec::new();
        let mut leaders: Vec<Vec<Pt>> = Vec::new();
        for ((note, block), place) in chosen.iter().zip(places) {
            let r = self.around;
            let (corner, mouth, bend) = match self.side {
                Side::Right => {
                    let y = place - block.height / 2.0;
                    let (x, m) = (r.x1 + MARGIN, y + block.mouth());
                    (Pt::new(x, y), Pt::new(x - 0.8, m), Pt::new(x - 0.8 - LANDING, m))
                }
                Side::Left => {
                    let y = place - block.height / 2.0;
                    let (x, m) = (r.x0 - MARGIN, y + block.mouth());
                    let corner = Pt::new(x - block.width, y);
                    (corner, Pt::new(x + 0.8, m), Pt::new(x + 0.8 + LANDING, m))
                }
                Side::Top => {
                    let y = r.y0 - MARGIN;
                    let corner = Pt::new(place - block.width / 2.0, y - block.height);
                    // From under the block's own middle or as near to the target as it reaches.
                    let half = (block.width / 2.0 - 1.0).max(0.0);
                    let x = note.target.x.clamp(place - half, place + half);
                    (corner, Pt::new(x, y + 0.8), Pt::new(x, y + 0.8))
                }
            };
            corners.push(corner);
            leaders.push(vec![mouth, bend, note.target]);
        }
        let cost = cost(&leaders, obstacles, earlier);
        Arranged { corners, leaders, cost }
    }

    /// The stretch along which the column may run: the object's own, or more if that is too short.
    fn limits(&self, sizes: &[f64]) -> (f64, f64) {
        let needed = sizes.iter().sum::<f64>() + GAP * sizes.len().saturating_sub(1) as f64;
        let r = self.around;
        let (low, high, most) = match self.side {
            Side::Top => (r.x0, r.x1, self.width),
            Side::Left | Side::Right => (r.y0, r.y1, self.height),
        };
        let more = if needed > high - low {
            needed - (high - low)
        } else if self.side == Side::Top {
            (most - (high - low)).max(0.0) * 0.6
        } else {
            0.0
        };
        (low - more / 2.0, high + more / 2.0)
    }

    fn draw(
        &self,
        notes: &[&Note],
        blocks: &[Block],
        order: &[usize],
        arranged: Arranged,
        out: &mut Noted,
    ) {
        for ((i, corner), leader) in order.iter().zip(arranged.corners).zip(arranged.leaders) {
            let (Some(note), Some(block)) = (notes.get(*i), blocks.get(*i)) else { continue };
            let texts = block.texts(corner, self.side == Side::Left);
            for text in texts {
                out.bounds = out.bounds.with(text.bounds());
                out.texts.push(text);
            }
            let shape = Shape::Path { points: leader, closed: false };
            out.lines.push(Item::Shape { ink: Ink::Dimension, fill: Fill::None, shape });
            if note.dot {
                let shape = Shape::Circle { centre: note.target, radius: 0.55 };
                out.lines.push(Item::Shape { ink: Ink::None, fill: Fill::Solid, shape });
            }
        }
    }
}

fn leaders_in(lines: &[Item]) -> Vec<Segment> {
    lines
        .iter()
        .filter_map(|i| match i {
            Item::Shape { ink: Ink::Dimension, shape, .. } => {
                Some(super::geometry::segments(shape))
            }
            _ => None,
        })
        .flatten()
        .collect()
}

/// Crossings weigh most, then words run over, then length.
fn cost(leaders: &[Vec<Pt>], obstacles: &[Rect], earlier: &[Segment]) -> f64 {
    let parts: Vec<Vec<Segment>> = leaders
        .iter()
        .map(|l| l.iter().zip(l.iter().skip(1)).map(|(a, b)| Segment::new(*a, *b)).collect())
        .collect();
    let mut cost = 0.0;
    for (i, leader) in parts.iter().enumerate() {
        for s in leader {
            cost += s.length();
            cost += 120.0 * obstacles.iter().filter(|r| s.enters(**r)).count() as f64;
            cost += 5000.0 * earlier.iter().filter(|o| s.crosses(**o)).count() as f64;
            for other in parts.iter().skip(i + 1) {
                cost += 5000.0 * other.iter().filter(|o| s.crosses(**o)).count() as f64;
            }
        }
    }
    cost
}
