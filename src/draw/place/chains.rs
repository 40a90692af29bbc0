//! Dimension chains: lanes outside the object, extension lines, terminators and values (ISO 129-1).
//! Knows how dimensions are drawn; does not know what is measured.
//!
//! A lane's frame: `u` along the object's edge, `v` out from it. Values stand above their line and
//! read from the bottom or the right of the sheet. A value too wide for its space goes beside the
//! end of its chain, or on a flag further out.

use super::geometry::{Segment, spread};
use super::{Align, Item, Text};
use crate::draw::scene::{Chain, ChainSide, Fill, Pt, Rect, Shape};
use crate::draw::style::Ink;
use crate::units::Length;

/// A chain cut to the part of the object that is on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct PartChain {
    pub side: ChainSide,
    pub tier: u8,
    /// Stops on this sheet, ascending, with where the object's edge is there (real mm).
    pub stops: Vec<(Length, Option<f64>)>,
    /// The first or last value runs on beyond the sheet: from a stop that is not on it.
    pub open_before: Option<Length>,
    pub open_after: Option<Length>,
    /// The sheet's edge, where the line of an open chain ends (real mm).
    pub window: Option<(f64, f64)>,
    pub name: String,
    pub running_from: Option<Length>,
}

impl PartChain {
    /// The whole chain: stops in order, those that coincide dropped.
    pub fn whole(chain: &Chain) -> PartChain {
        let reach = |i: usize| match chain.reach.len() {
            n if n == chain.stops.len() => chain.reach.get(i).copied(),
            _ => chain.reach.first().copied(),
        };
        let mut stops: Vec<(Length, Option<f64>)> = chain
            .stops
            .iter()
            .enumerate()
            .map(|(i, s)| (*s, reach(i).map(Length::in_mm)))
            .collect();
        stops.sort_by_key(|(s, _)| *s);
        stops.dedup_by_key(|(s, _)| *s);
        PartChain {
            side: chain.side,
            tier: chain.tier,
            stops,
            open_before: None,
            open_after: None,
            window: None,
            name: chain.name.clone(),
            running_from: chain.running_from,
        }
    }

    /// For chains across `x`: extension lines begin no further than the sheet's part.
    pub fn pulled_to(mut self, left: f64, right: f64) -> PartChain {
        for (_, reach) in &mut self.stops {
            *reach = reach.map(|r| r.max(left).min(right));
        }
        self
    }

    /// The part between two match lines (real mm); `None` where nothing of it is there. Only for
    /// chains along `x`.
    pub fn between(mut self, left: f64, right: f64) -> Option<PartChain> {
        const NEAR: f64 = 0.01;
        let before = self
            .stops
            .iter()
            .rev()
            .find(|(s, _)| s.in_mm() < left - NEAR)
            .copied();
        let after = self
            .stops
            .iter()
            .find(|(s, _)| s.in_mm() > right + NEAR)
            .copied();
        let within = |s: Length| s.in_mm() >= left - NEAR && s.in_mm() <= right + NEAR;
        self.stops.retain(|(s, _)| within(*s));
        if self.running_from.is_some() {
            return (!self.stops.is_empty()).then_some(self);
        }
        let starts_at = |edge: f64, s: Option<&(Length, Option<f64>)>| {
            s.is_some_and(|(s, _)| (s.in_mm() - edge).abs() <= NEAR)
        };
        if !starts_at(left, self.stops.first()) {
            self.open_before = before.map(|(s, _)| s);
        }
        if !starts_at(right, self.stops.last()) {
            self.open_after = after.map(|(s, _)| s);
        }
        if self.open_before.is_some() {
            self.name.clear();
        }
        self.window = Some((left, right));
        let values = (self.stops.len() + usize::from(self.open_before.is_some()))
            + usize::from(self.open_after.is_some());
        (values >= 2).then_some(self)
    }
}

/// Chains at their places, in paper mm of the object's own frame.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chains {
    pub lines: Vec<Item>,
    pub texts: Vec<Text>,
    /// Everything above, with the object.
    pub bounds: Option<Rect>,
}

/// From the object to the first lane, and between lanes, mm (ISO 129-1: at least 10 and 7 in
/// common practice).
const FIRST_LANE: f64 = 9.0;
const LANE_PITCH: f64 = 7.0;
/// Gap at the object before an extension line, and how far it runs past the dimension line.
const EXT_GAP: f64 = 1.5;
const EXT_PAST: f64 = 1.8;
/// Lines nearer to one another than this would print as one thick one, so one is drawn (ISO 128:
/// parallel lines keep at least 0.7 mm apart).
const ONE_LINE: f64 = 0.25;
const VALUE_CAP: f64 = 2.5;
const VALUE_OFF: f64 = 0.8;
/// White round a value: less than its distance from its own line.
const VALUE_PAD: f64 = 0.3;
/// Height of the strip that a value takes above its line.
const VALUE_ROW: f64 = VALUE_OFF + VALUE_CAP + 0.7;

/// Puts all chains round `core`, the object with its labels.
pub fn place(chains: &[PartChain], core: Rect, scale: f64) -> Chains {
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
        one_side(&mine, frame, scale, &mut out);
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

    fn upright(self) -> bool {
        matches!(self.side, ChainSide::Left | ChainSide::Right)
    }

    /// Values stand above (left of) the line: is that away from the object?
    fn values_outward(self) -> bool {
        matches!(self.side, ChainSide::Above | ChainSide::Left)
    }
}

/// A chain laid along its line, before it has a lane.
struct Strip {
    tier: u8,
    stops: Vec<(f64, Option<f64>)>,
    /// From and to of the dimension line.
    line: (f64, f64),
    ticks: Vec<(f64, f64)>,
    /// Ends at which it runs on beyond the sheet: where, and which way along `u`.
    onward: Vec<(f64, f64)>,
    /// Middle of each value that stands on the line.
    on_line: Vec<(f64, Text)>,
    /// Foot on the line, middle of the value further out.
    flags: Vec<(f64, f64, Text)>,
    /// Leaders of flags run straight out so far, then slant over so much.
    rise: f64,
    slant: f64,
    running: bool,
    origin: Option<f64>,
    /// Everything along `u`.
    extent: (f64, f64),
    /// Room needed towards the object and away from it.
    near: f64,
    far: f64,
}

impl Strip {
    /// Clear of another on one line, or following it with no more than a joint between, as one
    /// front does another: then only their ticks meet.
    fn stands_apart(&self, other: &Strip) -> bool {
        let (first, then) = if self.line.0 < other.line.0 {
            (self, other)
        } else {
            (other, self)
        };
        let bare = |s: &Strip| (s.line.0 - 1.01, s.line.1 + 1.01);
        let follows = first.line.1 <= then.line.0
            && first.extent.1 <= bare(first).1
            && then.extent.0 >= bare(then).0;
        follows || then.extent.0 > first.extent.1 + 2.0
    }
}

fn one_side(chains: &[&PartChain], frame: Frame, scale: f64, out: &mut Chains) {
    let strips: Vec<Strip> = chains.iter().filter_map(|c| lay(c, frame, scale)).collect();
    let frame = strips
        .iter()
        .fold(frame, |f, s| f.clear_of(s.extent.0, s.extent.1));
    // Lanes: a chain shares one with others of its tier where they stand apart.
    let mut lanes: Vec<Vec<&Strip>> = Vec::new();
    for strip in &strips {
        let apart = |other: &&Strip| other.tier == strip.tier && strip.stands_apart(other);
        match lanes.iter_mut().find(|lane| lane.iter().all(apart)) {
            Some(lane) => lane.push(strip),
            None => lanes.push(vec![strip]),
        }
    }
    let mut v = frame.clear;
    let mut reached: Vec<(f64, f64, f64)> = Vec::new();
    let mut before_far: Option<f64> = None;
    for lane in &lanes {
        let near = lane.iter().map(|s| s.near).fold(0.0_f64, f64::max);
        v += match before_far {
            None => FIRST_LANE.max(near + 3.0),
            Some(far) => LANE_PITCH.max(far + near + 1.2),
        };
        before_far = Some(lane.iter().map(|s| s.far).fold(0.0_f64, f64::max));
        let mut ticked: Vec<f64> = Vec::new();
        for strip in lane {
            draw(strip, frame, v, &mut ticked, out);
            for &(u, reach) in &strip.stops {
                let start = reach.map_or(EXT_GAP, |r| frame.v_of(r, scale) + EXT_GAP);
                let end = v + EXT_PAST;
                match reached
                    .iter_mut()
                    .find(|(seen, _, _)| (seen - u).abs() < ONE_LINE)
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

/// Lays a chain along its line: which values fit, where the others go.
fn lay(chain: &PartChain, frame: Frame, scale: f64) -> Option<Strip> {
    if chain.running_from.is_some() {
        return lay_running(chain, frame, scale);
    }
    let paper = |s: Length| s.in_mm() / scale;
    let mut spaces: Vec<(f64, f64, String)> = Vec::new();
    let first = chain.stops.first().map(|(s, _)| *s);
    let last = chain.stops.last().map(|(s, _)| *s);
    let (left, right) = chain.window.unwrap_or_default();
    let value = |a: Length, b: Length| (b - a).to_string();
    if let Some(beyond) = chain.open_before {
        let to = first.or(chain.open_after)?;
        let end = first.map_or(right / scale, paper);
        spaces.push((left / scale, end, value(beyond, to)));
    }
    for ((a, _), (b, _)) in chain.stops.iter().zip(chain.stops.iter().skip(1)) {
        spaces.push((paper(*a), paper(*b), value(*a, *b)));
    }
    if let (Some(beyond), Some(from)) = (chain.open_after, last) {
        spaces.push((paper(from), right / scale, value(from, beyond)));
    }
    let (start, end) = (spaces.first()?.0, spaces.last()?.1);
    let mut strip = Strip {
        tier: chain.tier,
        stops: chain.stops.iter().map(|(s, r)| (paper(*s), *r)).collect(),
        line: (start, end),
        ticks: Vec::new(),
        onward: Vec::new(),
        on_line: Vec::new(),
        flags: Vec::new(),
        rise: 0.0,
        slant: 0.0,
        running: false,
        origin: None,
        extent: (start - 1.0, end + 1.0),
        near: 1.5,
        far: EXT_PAST,
    };
    for (i, (s, _)) in chain.stops.iter().enumerate() {
        let u = paper(*s);
        let gap = |j: Option<usize>| {
            j.and_then(|j| chain.stops.get(j))
                .map_or(9.0, |(o, _)| (paper(*o) - u).abs())
        };
        let room = gap(i.checked_sub(1)).min(gap(Some(i + 1)));
        strip.ticks.push((u, (room * 0.4).clamp(0.6, 1.2)));
    }
    if chain.open_before.is_some() {
        strip.onward.push((start, -1.0));
    }
    if chain.open_after.is_some() {
        strip.onward.push((end, 1.0));
    }
    set_values(&mut strip, &spaces, chain, frame);
    Some(strip)
}

/// Puts each value on the line, beside the chain's end, or on a flag.
fn set_values(strip: &mut Strip, spaces: &[(f64, f64, String)], chain: &PartChain, frame: Frame) {
    let set = |s: &str| Text::line(s, VALUE_CAP).turned(frame.upright());
    let mut name = chain.name.trim();
    let last = spaces.len().saturating_sub(1);
    // Upright chains are read from the bottom, so there the last space comes first.
    let (head, tail) = if frame.upright() {
        (last, 0)
    } else {
        (0, last)
    };
    let (ahead, behind) = if frame.upright() {
        (1.0, -1.0)
    } else {
        (-1.0, 1.0)
    };
    let mut flags: Vec<(f64, Text)> = Vec::new();
    for (i, (a, b, value)) in spaces.iter().enumerate() {
        let (room, middle) = (b - a, (a + b) / 2.0);
        let mut text = set(value);
        if i == head && !name.is_empty() {
            let named = set(&format!("{name} {value}"));
            if named.width + 1.6 <= room {
                text = named;
                name = "";
            }
        }
        let open =
            (i == 0 && chain.open_before.is_some()) || (i == last && chain.open_after.is_some());
        if text.width + 1.6 <= room {
            strip.on_line.push((middle, text));
        } else if !open && i == head && name.is_empty() {
            beside(strip, if frame.upright() { *b } else { *a }, ahead, text);
        } else if !open && i == tail && i != head {
            beside(strip, if frame.upright() { *a } else { *b }, behind, text);
        } else {
            flags.push((middle, text));
        }
    }
    if !name.is_empty() {
        let edge = if frame.upright() {
            strip.extent.1
        } else {
            strip.extent.0
        };
        let text = set(name);
        let middle = edge + ahead * (text.width / 2.0 + 1.0);
        widen(strip, middle, text.width);
        strip.on_line.push((middle, text));
    }
    let row = if frame.values_outward() {
        &mut strip.far
    } else {
        &mut strip.near
    };
    if !strip.on_line.is_empty() {
        *row = row.max(VALUE_ROW);
    }
    raise(strip, flags, frame);
}

/// A value past the end of the chain, over a short run-on of its line.
fn beside(strip: &mut Strip, edge: f64, way: f64, text: Text) {
    let middle = edge + way * (text.width / 2.0 + 2.2);
    let tip = middle + way * (text.width / 2.0 + 0.4);
    strip.line = (strip.line.0.min(tip), strip.line.1.max(tip));
    widen(strip, middle, text.width);
    strip.on_line.push((middle, text));
}

fn widen(strip: &mut Strip, middle: f64, width: f64) {
    strip.extent.0 = strip.extent.0.min(middle - width / 2.0 - 1.0);
    strip.extent.1 = strip.extent.1.max(middle + width / 2.0 + 1.0);
}

/// Values that fit nowhere on the line: on flags, spread so that none touch; turned across the
/// line where flat ones would stray too far.
fn raise(strip: &mut Strip, flags: Vec<(f64, Text)>, frame: Frame) {
    if flags.is_empty() {
        return;
    }
    let wanted: Vec<f64> = flags.iter().map(|(u, _)| *u).collect();
    let arrange = |across: bool| {
        let along = |t: &Text| if across { t.height } else { t.width };
        let sizes: Vec<f64> = flags.iter().map(|(_, t)| along(t)).collect();
        let places = spread(&wanted, &sizes, 1.3);
        let stray = places
            .iter()
            .zip(&wanted)
            .map(|(p, w)| (p - w).abs())
            .fold(0.0, f64::max);
        (places, stray)
    };
    let (mut places, mut stray) = arrange(false);
    let across = stray > 12.0;
    if across {
        (places, stray) = arrange(true);
    }
    // Flags on the values' own side clear the values' row first.
    let foot = if frame.values_outward() {
        VALUE_ROW
    } else {
        EXT_PAST + 0.4
    };
    let band = if stray < 0.2 {
        0.6
    } else {
        (stray * 0.5).clamp(1.8, 9.0)
    };
    strip.rise = foot;
    strip.slant = band;
    let deep = flags
        .iter()
        .map(|(_, t)| if across { t.width } else { t.height })
        .fold(0.0, f64::max);
    strip.far = strip.far.max(foot + band + deep + 1.0);
    for ((foot, text), place) in flags.into_iter().zip(places) {
        let along = if across { text.height } else { text.width };
        widen(strip, place, along);
        let turned = text.turned != across;
        strip.flags.push((foot, place, text.turned(turned)));
    }
}

/// Running values from a datum: each at its stop, written across the axis.
fn lay_running(chain: &PartChain, frame: Frame, scale: f64) -> Option<Strip> {
    let origin = chain.running_from?;
    let paper = |s: Length| s.in_mm() / scale;
    let (first, last) = (chain.stops.first()?.0, chain.stops.last()?.0);
    // From one end, distances need no sign; about a datum they do.
    let level = first < origin && origin < last;
    let texts: Vec<Text> = chain
        .stops
        .iter()
        .map(|(s, _)| {
            // Heights are written with `y` down: up is plus. Along, to the right is plus.
            let value = if frame.upright() {
                origin - *s
            } else {
                *s - origin
            };
            Text::line(&running(value, level), VALUE_CAP).turned(!frame.upright())
        })
        .collect();
    let wanted: Vec<f64> = chain.stops.iter().map(|(s, _)| paper(*s)).collect();
    let sizes: Vec<f64> = texts.iter().map(|t| t.height).collect();
    let places = spread(&wanted, &sizes, 1.2);
    let stray = places
        .iter()
        .zip(&wanted)
        .map(|(p, w)| (p - w).abs())
        .fold(0.0_f64, f64::max);
    let slant = if stray < 0.2 {
        0.0
    } else {
        (stray * 0.6).clamp(2.0, 8.0)
    };
    let deep = texts.iter().map(|t| t.width).fold(0.0, f64::max);
    let mut strip = Strip {
        tier: chain.tier,
        stops: chain.stops.iter().map(|(s, r)| (paper(*s), *r)).collect(),
        line: (paper(first), paper(last)),
        ticks: wanted
            .iter()
            .zip(&chain.stops)
            .filter(|(_, (s, _))| *s != origin)
            .map(|(u, _)| (*u, 1.2))
            .collect(),
        onward: Vec::new(),
        on_line: Vec::new(),
        flags: Vec::new(),
        rise: 1.8,
        slant,
        running: true,
        origin: chain
            .stops
            .iter()
            .find(|(s, _)| *s == origin)
            .map(|(s, _)| paper(*s)),
        extent: (paper(first) - 1.0, paper(last) + 1.0),
        near: 1.5,
        far: 2.6 + slant + deep,
    };
    for ((u, place), text) in wanted.into_iter().zip(places).zip(texts) {
        widen(&mut strip, place, text.height);
        strip.flags.push((u, place, text));
    }
    let name = chain.name.trim();
    if !name.is_empty() {
        let text = Text::line(name, VALUE_CAP).turned(frame.upright());
        let (edge, way) = if frame.upright() {
            (strip.extent.1, 1.0)
        } else {
            (strip.extent.0, -1.0)
        };
        let middle = edge + way * (text.width / 2.0 + 1.5);
        widen(&mut strip, middle, text.width);
        let row = if frame.values_outward() {
            &mut strip.far
        } else {
            &mut strip.near
        };
        *row = row.max(VALUE_ROW);
        strip.on_line.push((middle, text));
    }
    Some(strip)
}

fn running(value: Length, signed: bool) -> String {
    match value {
        v if !signed => v.abs().to_string(),
        Length::ZERO => "\u{b1}0".to_string(),
        v if v.is_negative() => v.to_string(),
        v => format!("+{v}"),
    }
}

/// Draws a strip in its lane.
fn draw(strip: &Strip, frame: Frame, v: f64, ticked: &mut Vec<f64>, out: &mut Chains) {
    line(out, frame.at(strip.line.0, v), frame.at(strip.line.1, v));
    for &(u, half) in &strip.ticks {
        // Where one front follows another, one stroke ends both.
        if ticked.iter().any(|seen| (seen - u).abs() < ONE_LINE) {
            continue;
        }
        ticked.push(u);
        let at = frame.at(u, v);
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
    for (u, text) in &strip.on_line {
        // The baseline keeps its distance, whatever tails the letters have.
        let tail = text.height - text.ascent;
        let off = VALUE_OFF.max(tail + VALUE_PAD + 0.2) + text.ascent - text.height / 2.0;
        let off = if frame.values_outward() { off } else { -off };
        put(out, text.clone().at(frame.at(*u, v + off)));
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
        let deep = if frame.upright() { w } else { h };
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
