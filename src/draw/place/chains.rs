//! Dimension chains: lanes outside the object, extension lines, terminators and values (ISO 129-1).
//! Knows how dimensions are drawn; does not know what is measured.
//!
//! A lane's frame: `u` along the object's edge, `v` out from it. Values stand above their line and
//! read from the bottom or the right of the sheet. A value too wide for its space goes beside the
//! end of its chain, or on a flag further out.

use super::geometry::{Segment, segments};
use super::part_chain::PartChain;
use super::strip::{self, EXT_PAST, Reading, Strip, VALUE_PAD};
use super::{Align, Item, Text};
use crate::draw::scene::{ChainSide, Fill, Pt, Rect, Shape};
use crate::draw::style::Ink;

/// Chains at their places, in paper mm of the object's own frame.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chains {
    pub lines: Vec<Item>,
    pub texts: Vec<Text>,
    /// Everything above, with the object.
    pub bounds: Option<Rect>,
}

/// How far the lanes of dimensions lie apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lanes {
    #[default]
    Wide,
    /// As close as their values allow: where a drawing would else not go on its paper.
    Close,
}

impl Lanes {
    /// From the object to the first lane, mm (10 and 7 between lanes: common practice, no source).
    fn first(self) -> f64 {
        match self {
            Lanes::Wide => 9.0,
            Lanes::Close => 6.0,
        }
    }

    /// Between the object and the values of the first lane, where they stand towards it.
    fn under(self) -> f64 {
        match self {
            Lanes::Wide => 3.0,
            Lanes::Close => 1.8,
        }
    }

    /// Between lanes, mm.
    fn pitch(self) -> f64 {
        match self {
            Lanes::Wide => 7.0,
            Lanes::Close => 5.2,
        }
    }

    /// Between what two lanes need: a value's row and the ends of extension lines may share a little.
    fn between(self) -> f64 {
        match self {
            Lanes::Wide => 1.2,
            Lanes::Close => -0.3,
        }
    }
}

/// Gap at the object before an extension line, mm.
const EXT_GAP: f64 = 1.5;

/// Extension lines and terminators closer than this would print as one thick one: one stands for
/// both, as at the joint between two fronts, mm (ISO 128: parallel lines keep at least 0.7 apart).
const TOO_CLOSE: f64 = 0.4;

/// Puts all chains round `core`, the object with its labels.
pub fn place(chains: &[PartChain], lanes: Lanes, core: Rect, scale: f64) -> Chains {
    let mut out = Chains {
        bounds: Some(core),
        ..Chains::default()
    };
    for side in [
        ChainSide::Above,
        ChainSide::Below,
        ChainSide::Left,
        ChainSide::Right,
    ] {
        let mut mine: Vec<&PartChain> = chains.iter().filter(|c| c.side == side).collect();
        mine.sort_by_key(|c| c.tier);
        let frame = Frame::new(side, core, out.bounds.unwrap_or(core));
        one_side(&mine, lanes, frame, scale, &mut out);
    }
    out
}

/// How `u` and `v` of one side lie on paper.
#[derive(Clone, Copy)]
struct Frame {
    side: ChainSide,
    /// Where `v` is zero.
    base: f64,
    /// Lanes start here: further out where dimensions of the other direction are in the way.
    clear: f64,
    core: Rect,
    taken: Rect,
}

impl Frame {
    fn new(side: ChainSide, core: Rect, taken: Rect) -> Frame {
        let base = match side {
            ChainSide::Above => core.y0,
            ChainSide::Below => core.y1,
            ChainSide::Left => core.x0,
            ChainSide::Right => core.x1,
        };
        Frame {
            side,
            base,
            clear: 0.0,
            core,
            taken,
        }
    }

    /// A chain longer than the object goes outside what is already there.
    fn clear_of(mut self, from: f64, to: f64) -> Frame {
        let (low, high, out) = match self.side {
            ChainSide::Left => (self.core.y0, self.core.y1, self.core.x0 - self.taken.x0),
            ChainSide::Right => (self.core.y0, self.core.y1, self.taken.x1 - self.core.x1),
            ChainSide::Above | ChainSide::Below => return self,
        };
        if from < low - 4.0 || to > high + 4.0 {
            self.clear = self.clear.max(out);
        }
        self
    }

    fn at(self, u: f64, v: f64) -> Pt {
        match self.side {
            ChainSide::Above => Pt::new(u, self.base - v),
            ChainSide::Below => Pt::new(u, self.base + v),
            ChainSide::Left => Pt::new(self.base - v, u),
            ChainSide::Right => Pt::new(self.base + v, u),
        }
    }

    /// A real coordinate across the chain, as `v`.
    fn v_of(self, across: f64, scale: f64) -> f64 {
        match self.side {
            ChainSide::Above | ChainSide::Left => self.base - across / scale,
            ChainSide::Below | ChainSide::Right => across / scale - self.base,
        }
    }
}

fn one_side(chains: &[&PartChain], apart: Lanes, frame: Frame, scale: f64, out: &mut Chains) {
    let strips: Vec<Strip> = chains.iter().filter_map(|c| strip::lay(c, scale)).collect();
    let frame = strips
        .iter()
        .fold(frame, |f, s| f.clear_of(s.extent.0, s.extent.1));
    // Lanes: a chain shares one with others of its tier where they stand apart.
    let mut lanes: Vec<Vec<&Strip>> = Vec::new();
    for strip in &strips {
        let beside = |other: &&Strip| other.tier == strip.tier && strip.stands_apart(other);
        match lanes.iter_mut().find(|lane| lane.iter().all(beside)) {
            Some(lane) => lane.push(strip),
            None => lanes.push(vec![strip]),
        }
    }
    let mut v = frame.clear;
    let mut reached: Vec<(f64, f64, f64)> = Vec::new();
    let mut before_far: Option<f64> = None;
    let mut ticks: Vec<Pt> = Vec::new();
    for (i, lane) in lanes.iter().enumerate() {
        // Extension lines of the lanes further out run through this one.
        let outer = lanes.iter().skip(i + 1).flatten();
        let through: Vec<f64> = outer.flat_map(|s| s.stops.iter().map(|s| s.0)).collect();
        let near = lane.iter().map(|s| s.near).fold(0.0_f64, f64::max);
        v += match before_far {
            None => apart.first().max(near + apart.under()),
            Some(far) => apart.pitch().max(far + near + apart.between()),
        };
        before_far = Some(lane.iter().map(|s| s.far).fold(0.0_f64, f64::max));
        for strip in lane {
            let strip = clear(strip, &through, frame, v, out);
            draw(&strip, frame, v, &mut ticks, out);
            for &(u, reach) in &strip.stops {
                let start = reach.map_or(EXT_GAP, |r| frame.v_of(r, scale) + EXT_GAP);
                let end = v + EXT_PAST;
                match reached
                    .iter_mut()
                    .find(|(seen, _, _)| (seen - u).abs() < TOO_CLOSE)
                {
                    Some(line) => *line = (line.0, line.1.min(start), line.2.max(end)),
                    None => reached.push((u, start, end)),
                }
            }
        }
    }
    for (u, start, end) in reached {
        if end - start > 1.0 {
            line(out, frame.at(u, start), frame.at(u, end));
        }
    }
}

/// A value on its line: the baseline keeps its distance, whatever tails the letters have.
fn on_line(text: &Text, u: f64, frame: Frame, v: f64) -> Text {
    let off = strip::off_line(text) + text.ascent - text.height / 2.0;
    let outward = Reading::of(frame.side).outward;
    text.clone()
        .at(frame.at(u, v + if outward { off } else { -off }))
}

/// The strip with its words moved, where that clears them of the extension lines that run through its
/// lane at these places.
fn clear(strip: &Strip, through: &[f64], frame: Frame, v: f64, out: &Chains) -> Strip {
    let mut strip = strip.clone();
    if strip.running {
        return strip;
    }
    let struck = |u: f64, wide: f64| {
        let half = wide / 2.0 + VALUE_PAD;
        through.iter().any(|t| (t - u).abs() < half)
    };
    for i in 0..strip.on_line.len() {
        let Some(value) = strip.on_line.get(i) else {
            continue;
        };
        let long = value.text.along();
        if !struck(value.at, long) {
            continue;
        }
        // What stands outside its own line may meet what is already there.
        let leaves = matches!(value.may, strip::May::Out(_));
        let free = |u: f64| {
            let place = on_line(&value.text, u, frame, v).bounds().grown(VALUE_PAD);
            let line = |item: &Item| match item {
                Item::Shape { shape, .. } => segments(shape).iter().any(|s| s.enters(place)),
                Item::Text(_) => false,
            };
            !leaves
                || !(out.texts.iter().any(|t| t.bounds().overlaps(place))
                    || out.lines.iter().any(line))
        };
        let clear = |u: &f64| !struck(*u, long) && free(*u);
        let place = value.places().into_iter().find(clear);
        if let (Some(u), Some(value)) = (place, strip.on_line.get_mut(i)) {
            value.at = u;
        }
    }
    for i in 0..strip.flags.len() {
        let Some((_, place, text)) = strip.flags.get(i) else {
            continue;
        };
        let along = |t: &Text| match t.turned == Reading::of(frame.side).upright {
            true => t.width,
            false => t.height,
        };
        let wide = along(text);
        if !struck(*place, wide) {
            continue;
        }
        let others = strip.flags.iter().enumerate().filter(|(j, _)| *j != i);
        let taken: Vec<(f64, f64)> = others.map(|(_, f)| (f.1, along(&f.2))).collect();
        let apart = |u: f64| {
            let near = |(at, w): &(f64, f64)| (at - u).abs() < (w + wide) / 2.0 + 1.0;
            !taken.iter().any(near)
        };
        let steps = (1..=FLAG_STEPS).map(|n| f64::from(n) * 0.5);
        let mut places = steps.flat_map(|s| [place - s, place + s]);
        let found = places.find(|u| !struck(*u, wide) && apart(*u));
        if let (Some(u), Some(flag)) = (found, strip.flags.get_mut(i)) {
            // Its leader needs no slant where it stands over its foot, and some where it does not.
            strip.slant = strip.slant.max(((u - flag.0).abs() * 0.5).min(1.8));
            flag.1 = u;
        }
    }
    strip
}

/// A flag may be moved by so many half mm.
const FLAG_STEPS: u32 = 16;

/// Draws a strip in its lane.
fn draw(strip: &Strip, frame: Frame, v: f64, ticks: &mut Vec<Pt>, out: &mut Chains) {
    let reading = Reading::of(frame.side);
    if !strip.levels {
        line(out, frame.at(strip.line.0, v), frame.at(strip.line.1, v));
    }
    for &(u, half) in strip.ticks.iter().filter(|_| !strip.levels) {
        // Where one front follows another, one stroke ends both.
        let at = frame.at(u, v);
        if ticks
            .iter()
            .any(|t: &Pt| Segment::new(*t, at).length() < TOO_CLOSE)
        {
            continue;
        }
        ticks.push(at);
        let points = vec![
            Pt::new(at.x - half, at.y + half),
            Pt::new(at.x + half, at.y - half),
        ];
        let shape = Shape::Path {
            points,
            closed: false,
        };
        add(
            out,
            Item::Shape {
                ink: Ink::Tick,
                fill: Fill::None,
                shape,
            },
        );
    }
    for &(u, way) in &strip.onward {
        let back = u - way * 2.4;
        let points = vec![
            frame.at(back, v - 0.7),
            frame.at(u, v),
            frame.at(back, v + 0.7),
        ];
        let shape = Shape::Path {
            points,
            closed: true,
        };
        add(
            out,
            Item::Shape {
                ink: Ink::None,
                fill: Fill::Solid,
                shape,
            },
        );
    }
    for value in &strip.on_line {
        put(out, on_line(&value.text, value.at, frame, v));
    }
    if strip.running {
        if let Some(u) = strip.origin {
            let shape = Shape::Circle {
                centre: frame.at(u, v),
                radius: 1.0,
            };
            add(
                out,
                Item::Shape {
                    ink: Ink::Frame,
                    fill: Fill::White,
                    shape,
                },
            );
        }
        for (u, place, text) in &strip.flags {
            let start = v + strip.rise;
            if strip.slant > 0.0 {
                line(
                    out,
                    frame.at(*u, start),
                    frame.at(*place, start + strip.slant),
                );
            }
            let align = match frame.side {
                ChainSide::Left => Align::Right,
                _ => Align::Left,
            };
            let centre = frame.at(*place, start + strip.slant + 0.8 + text.width / 2.0);
            put(out, text.clone().aligned(align).at(centre));
        }
        return;
    }
    let (rise, slant) = (v + strip.rise, v + strip.rise + strip.slant);
    for (foot, place, text) in &strip.flags {
        let (w, h) = text.size();
        let deep = if reading.upright { w } else { h };
        line(out, frame.at(*foot, v), frame.at(*foot, rise));
        line(out, frame.at(*foot, rise), frame.at(*place, slant));
        put(
            out,
            text.clone().at(frame.at(*place, slant + 0.6 + deep / 2.0)),
        );
    }
}

fn line(out: &mut Chains, a: Pt, b: Pt) {
    if Segment::new(a, b).length() > 0.01 {
        let shape = Shape::Path {
            points: vec![a, b],
            closed: false,
        };
        add(
            out,
            Item::Shape {
                ink: Ink::Dimension,
                fill: Fill::None,
                shape,
            },
        );
    }
}

fn add(out: &mut Chains, item: Item) {
    let bounds = item.bounds();
    out.bounds = match (out.bounds, bounds) {
        (Some(a), Some(b)) => Some(a.with(b)),
        (a, b) => a.or(b),
    };
    out.lines.push(item);
}

fn put(out: &mut Chains, text: Text) {
    let bounds = text.bounds();
    out.bounds = Some(out.bounds.map_or(bounds, |b| b.with(bounds)));
    out.texts.push(Text {
        pad: VALUE_PAD,
        ..text
    });
}
