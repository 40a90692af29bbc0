//! A column of notes beside the object or a row above it: their order, their places, the ways of
//! their leaders. Knows what the leaders may run over; does not choose the margin.
//!
//! Leaders of least total length between two rows of points do not cross, so the order starts from
//! the targets' own and pairs are exchanged while that takes away crossings, words run over, or
//! length.

use std::collections::HashMap;

use super::callouts::{Note, Noted};
use super::geometry::{Segment, spread_between};
use super::{Align, Item, Text};
use crate::draw::scene::{Fill, Lettering, Pt, Rect, Shape};
use crate::draw::style::Ink;
use crate::lettering;

const CAP: f64 = 2.5;
/// From what is already there to the notes, mm.
pub const MARGIN: f64 = 8.0;
/// Between notes, mm.
pub const GAP: f64 = 3.0;
/// How much higher than its target a note at the side would like to be, mm.
const LIFT: f64 = 6.0;
/// The other places tried for a note, from level with its target, mm.
const SHIFTS: [f64; 10] = [
    -LIFT, LIFT, -14.0, 14.0, -24.0, 24.0, -36.0, 36.0, -55.0, 55.0,
];
/// The level stretch of a leader at its note.
const LANDING: f64 = 3.0;
const BALLOON_GAP: f64 = 1.2;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Left,
    Right,
    Top,
}

pub struct Column {
    pub side: Side,
    pub around: Rect,
    pub wrap: f64,
    pub width: f64,
    pub height: f64,
}

/// A note set: its words, its balloon, and their size together.
pub struct Block {
    words: Option<Text>,
    balloon: Option<Text>,
    pub width: f64,
    pub height: f64,
}

impl Block {
    pub fn of(note: &Note, wrap: f64) -> Block {
        let balloon = note.balloon.as_ref();
        let balloon = balloon.map(|b| Text::mark(b, Lettering::Strong.cap_mm()));
        let words = (!note.text.trim().is_empty()).then(|| {
            let lines = lettering::wrap_evenly(&note.text, CAP, false, wrap);
            Text::new(lines, CAP, false).aligned(Align::Left)
        });
        let (bw, bh) = balloon.as_ref().map_or((0.0, 0.0), Text::size);
        let (ww, wh) = words.as_ref().map_or((0.0, 0.0), Text::size);
        let gap = if balloon.is_some() && words.is_some() {
            BALLOON_GAP
        } else {
            0.0
        };
        Block {
            words,
            balloon,
            width: bw + gap + ww,
            height: bh.max(wh),
        }
    }

    /// The texts with the block's top left at `at`; `mirrored` puts the balloon at the right.
    pub fn texts(&self, at: Pt, mirrored: bool) -> Vec<Text> {
        let mut out = Vec::new();
        let (bw, bh) = self.balloon.as_ref().map_or((0.0, 0.0), Text::size);
        if let Some(b) = &self.balloon {
            let x = if mirrored {
                at.x + self.width - bw / 2.0
            } else {
                at.x + bw / 2.0
            };
            out.push(b.clone().at(Pt::new(x, at.y + bh / 2.0)));
        }
        if let Some(w) = &self.words {
            let x = if mirrored {
                at.x + w.width / 2.0
            } else {
                at.x + self.width - w.width / 2.0
            };
            let y = at.y + w.height.max(if w.lines.len() == 1 { bh } else { 0.0 }) / 2.0;
            out.push(w.clone().at(Pt::new(x, y)));
        }
        out
    }

    /// Where the leader meets it, below its top.
    pub fn mouth(&self) -> f64 {
        match (&self.balloon, &self.words) {
            (Some(b), _) => b.size().1 / 2.0,
            (None, Some(w)) => w.ascent - w.cap / 2.0,
            (None, None) => 0.0,
        }
    }
}

/// A block at a place along its column, with the best of its leaders.
#[derive(Clone, Copy)]
struct Led {
    /// The block's top left.
    corner: Pt,
    /// From the block over the bend to the target.
    leader: [Pt; 3],
    bounds: Rect,
    /// What its length costs, and what it runs over beside the other leaders of the column.
    long: f64,
    over: f64,
}

/// One arrangement of a column, in its order.
struct Arranged {
    led: Vec<Led>,
    cost: f64,
    /// Leaders cross one another or run over words.
    wrong: bool,
}

impl Column {
    pub fn fill(
        &self,
        notes: &[&Note],
        (obstacles, ways): (&[Rect], &[(Segment, f64)]),
        out: &mut Noted,
    ) -> Option<()> {
        let blocks: Vec<Block> = notes.iter().map(|n| Block::of(n, self.wrap)).collect();
        let gaps = GAP * notes.len().saturating_sub(1) as f64;
        let needed: f64 = match self.side {
            Side::Top => blocks.iter().map(|b| b.width).sum::<f64>() + gaps,
            Side::Left | Side::Right => blocks.iter().map(|b| b.height).sum::<f64>() + gaps,
        };
        let most = if self.side == Side::Top {
            self.width
        } else {
            self.height
        };
        if needed > most {
            return None;
        }
        let mut order: Vec<usize> = (0..notes.len()).collect();
        let key = |i: usize| notes.get(i).map_or((0.0, 0.0), |n| self.key(n.target));
        order.sort_by(|a, b| {
            let (p, q) = (key(*a), key(*b));
            p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1))
        });
        let inner = ways.iter().filter(|(_, cost)| *cost >= CROSSED);
        let inner = inner.map(|(s, _)| *s);
        let mut plan = Plan {
            column: self,
            notes,
            blocks: &blocks,
            obstacles: obstacles.iter().map(|r| r.grown(0.7)).collect(),
            known: HashMap::new(),
            earlier: leaders_in(&out.lines).into_iter().chain(inner).collect(),
            order,
            shifts: vec![-LIFT; notes.len()],
        };
        let best = plan.improve();
        // The lines that leaders cross tell between margins; within one they hardly differ.
        let over = |l: &Led| -> f64 { l.parts().iter().map(|s| crossed(*s, ways)).sum() };
        out.cost += best.cost + best.led.iter().map(over).sum::<f64>();
        self.draw(notes, &blocks, &plan.order, best, out);
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

    /// Top left of a block with its middle at `place` along the column, and the ways its leader may
    /// leave it: where from, and where it bends.
    fn ways(&self, block: &Block, place: f64, target: Pt) -> (Pt, Vec<[Pt; 2]>) {
        let r = self.around;
        match self.side {
            Side::Right => {
                let (x, y) = (r.x1 + MARGIN, place - block.height / 2.0);
                let m = y + block.mouth();
                (
                    Pt::new(x, y),
                    vec![[Pt::new(x - 0.8, m), Pt::new(x - 0.8 - LANDING, m)]],
                )
            }
            Side::Left => {
                let (x, y) = (r.x0 - MARGIN, place - block.height / 2.0);
                let m = y + block.mouth();
                let corner = Pt::new(x - block.width, y);
                (
                    corner,
                    vec![[Pt::new(x + 0.8, m), Pt::new(x + 0.8 + LANDING, m)]],
                )
            }
            Side::Top => {
                let y = r.y0 - MARGIN;
                let corner = Pt::new(place - block.width / 2.0, y - block.height);
                let half = (block.width / 2.0 - 1.0).max(0.0);
                let nearest = target.x.clamp(place - half, place + half);
                let spots = [
                    place,
                    place - half,
                    place - half / 2.0,
                    place + half / 2.0,
                    place + half,
                ];
                let from = |x: f64| [Pt::new(x, y + 0.8), Pt::new(x, y + 0.8)];
                (
                    corner,
                    std::iter::once(nearest).chain(spots).map(from).collect(),
                )
            }
        }
    }

    /// The stretch along which the column may run: the object's own, or more if that is too short.
    fn limits(&self, sizes: &[f64]) -> (f64, f64) {
        let needed = sizes.iter().sum::<f64>() + GAP * sizes.len().saturating_sub(1) as f64;
        let r = self.around;
        let (low, high, most) = match self.side {
            Side::Top => (r.x0, r.x1, self.width),
            Side::Left | Side::Right => (r.y0, r.y1, self.height),
        };
        let low = if self.side == Side::Top {
            low
        } else {
            low - LIFT
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
        for (i, led) in order.iter().zip(arranged.led) {
            let (Some(note), Some(block)) = (notes.get(*i), blocks.get(*i)) else {
                continue;
            };
            let texts = block.texts(led.corner, self.side == Side::Left);
            for text in texts {
                out.bounds = out.bounds.with(text.bounds());
                out.texts.push(text);
            }
            let shape = Shape::Path {
                points: led.leader.to_vec(),
                closed: false,
            };
            out.lines.push(Item::Shape {
                ink: Ink::Dimension,
                fill: Fill::None,
                shape,
            });
            let shape = Shape::Circle {
                centre: note.target,
                radius: 0.55,
            };
            out.lines.push(Item::Shape {
                ink: Ink::None,
                fill: Fill::Solid,
                shape,
            });
        }
    }
}

/// A column while its order and the places its notes would like are sought.
struct Plan<'a> {
    column: &'a Column,
    notes: &'a [&'a Note],
    blocks: &'a [Block],
    /// Words, with a little white round them.
    obstacles: Vec<Rect>,
    /// By note and by the bits of its place: most stay where they are while another moves.
    known: HashMap<(usize, u64), Led>,
    earlier: Vec<Segment>,
    order: Vec<usize>,
    /// By note: how far from level with its target it would like to be.
    shifts: Vec<f64>,
}

impl Plan<'_> {
    /// Exchanges pairs, then moves single notes, while either makes the whole better.
    fn improve(&mut self) -> Arranged {
        let mut best = self.arrange();
        for _ in 0..8 {
            let before = best.cost;
            for i in 0..self.order.len() {
                // Far pairs only while something is wrong: they are many.
                let reach = if best.wrong { self.order.len() } else { i + 3 };
                for j in i + 1..reach.min(self.order.len()) {
                    self.order.swap(i, j);
                    let other = self.arrange();
                    if other.cost < best.cost - 1e-6 {
                        best = other;
                    } else {
                        self.order.swap(i, j);
                    }
                }
            }
            for i in 0..self.shifts.len() {
                for shift in SHIFTS {
                    let Some(own) = self.shifts.get_mut(i) else {
                        continue;
                    };
                    let old = std::mem::replace(own, shift);
                    let other = self.arrange();
                    if other.cost < best.cost - 1e-6 {
                        best = other;
                    } else if let Some(own) = self.shifts.get_mut(i) {
                        *own = old;
                    }
                }
            }
            if best.cost > before - 1e-6 {
                break;
            }
        }
        best
    }

    fn arrange(&mut self) -> Arranged {
        let top = self.column.side == Side::Top;
        let (mut sizes, mut wanted) = (Vec::new(), Vec::new());
        for i in &self.order {
            let (Some(note), Some(block), Some(shift)) =
                (self.notes.get(*i), self.blocks.get(*i), self.shifts.get(*i))
            else {
                continue;
            };
            sizes.push(if top { block.width } else { block.height });
            wanted.push(if top {
                note.target.x + *shift
            } else {
                note.target.y + block.height / 2.0 - block.mouth() + *shift
            });
        }
        let (low, high) = self.column.limits(&sizes);
        let places = spread_between(&wanted, &sizes, GAP, low, high);
        let order = std::mem::take(&mut self.order);
        let placed = order.iter().zip(places);
        let led: Vec<Led> = placed.filter_map(|(i, at)| self.led(*i, at)).collect();
        self.order = order;
        let (mut free, mut over) = (0.0, 0.0);
        for (i, one) in led.iter().enumerate() {
            free += one.long;
            over += one.over;
            for other in led.iter().skip(i + 1) {
                free += CROSSED * one.crossings(other) as f64;
            }
        }
        Arranged {
            wrong: over > 1.0 || free > CROSSED,
            led,
            cost: free + over,
        }
    }

    /// A note's block with its middle at `place` along the column.
    fn led(&mut self, note: usize, place: f64) -> Option<Led> {
        let key = (note, place.to_bits());
        if let Some(known) = self.known.get(&key) {
            return Some(*known);
        }
        let (target, block) = (self.notes.get(note)?.target, self.blocks.get(note)?);
        let (corner, ways) = self.column.ways(block, place, target);
        let ways = ways.into_iter().map(|[from, bend]| {
            let led = Led {
                corner,
                leader: [from, bend, target],
                bounds: Rect::around([from, bend, target]).unwrap_or(self.column.around),
                long: 0.0,
                over: 0.0,
            };
            led.costed(&self.obstacles, &self.earlier)
        });
        let cost = |l: &Led| l.long + l.over;
        let best = ways.min_by(|a, b| cost(a).total_cmp(&cost(b)))?;
        self.known.insert(key, best);
        Some(best)
    }
}

impl Led {
    fn parts(&self) -> [Segment; 2] {
        let [from, bend, target] = self.leader;
        [Segment::new(from, bend), Segment::new(bend, target)]
    }

    /// Crossings weigh most, then words run over, then length.
    fn costed(mut self, obstacles: &[Rect], earlier: &[Segment]) -> Led {
        for s in self.parts() {
            self.long += s.length() + if level(s) { 25.0 } else { 0.0 };
            let words = obstacles.iter().filter(|r| s.enters(**r)).count();
            let crossed = earlier.iter().filter(|o| s.crosses(**o)).count();
            self.over += OVER_WORDS * words as f64 + CROSSED * crossed as f64;
        }
        self
    }

    fn crossings(&self, other: &Led) -> usize {
        if !self.bounds.grown(0.01).overlaps(other.bounds) {
            return 0;
        }
        let theirs = other.parts();
        let across = |s: &Segment| theirs.iter().filter(|o| s.crosses(**o)).count();
        self.parts().iter().map(across).sum()
    }
}

fn leaders_in(lines: &[Item]) -> Vec<Segment> {
    lines
        .iter()
        .filter_map(|i| match i {
            Item::Shape {
                ink: Ink::Dimension,
                shape,
                ..
            } => Some(super::geometry::segments(shape)),
            _ => None,
        })
        .flatten()
        .collect()
}

/// A long line so nearly level or upright that it may be taken for a line of the object.
fn level(s: Segment) -> bool {
    let (dx, dy) = ((s.b.x - s.a.x).abs(), (s.b.y - s.a.y).abs());
    s.length() > 8.0 && dx.min(dy) < 0.09 * dx.max(dy)
}

/// What one crossing of two leaders costs, beside a mm of length, and a leader over words.
pub const CROSSED: f64 = 5000.0;
const OVER_WORDS: f64 = 900.0;

/// What the lines cost that a leader crosses.
pub fn crossed(leader: Segment, ways: &[(Segment, f64)]) -> f64 {
    let over = ways.iter().filter(|(s, _)| s.crosses(leader));
    over.map(|(_, cost)| cost).sum()
}
