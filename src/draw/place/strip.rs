//! A dimension chain laid along its line: which values stand on it, beside its end or on flags, and
//! the room that all of it needs. Knows no lane and no other chain.

use super::Text;
use super::geometry::spread;
use super::part_chain::PartChain;
use crate::draw::scene::{ChainSide, LabelFrame};
use crate::units::Length;

/// How far an extension line runs past the dimension line, mm.
pub const EXT_PAST: f64 = 1.8;
/// Capital height of values, and from their line to their foot, mm.
pub const VALUE_CAP: f64 = 2.5;
pub const VALUE_OFF: f64 = 0.8;
/// Height of the strip that a value takes above its line.
const VALUE_ROW: f64 = VALUE_OFF + VALUE_CAP + 0.7;

/// Between a value on its line and the terminators or extension lines beside it.
const FREE: f64 = 0.35;

/// Less than this of a space is no part of it but the joint at which the sheet ends, mm.
const STUB_MM: i64 = 4;

/// Half of a terminator, across and along: where stops stand close, and elsewhere.
const SHORT_TICK: f64 = 0.6;
const LONG_TICK: f64 = 1.2;

/// Which way the values of one side read: along an upright line or a level one, and whether above
/// the line is away from the object.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    pub upright: bool,
    pub outward: bool,
}

impl Reading {
    pub fn of(side: ChainSide) -> Reading {
        Reading {
            upright: matches!(side, ChainSide::Left | ChainSide::Right),
            outward: matches!(side, ChainSide::Above | ChainSide::Left),
        }
    }
}

/// A value or name on a line, by its middle.
#[derive(Clone, Debug)]
pub struct Value {
    pub at: f64,
    pub text: Text,
    pub may: May,
}

/// Where else it may stand, to be clear of the extension lines of other chains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum May {
    Stay,
    /// Its middle, between two places.
    Slide(f64, f64),
    /// The names at the head of a chain: further out that way.
    Out(f64),
}

impl Value {
    fn fixed(at: f64, text: Text) -> Value {
        let may = May::Stay;
        Value { at, text, may }
    }

    /// Places to try, the best first.
    pub fn places(&self) -> Vec<f64> {
        let steps = |most: u32| (1..=most).map(|i| f64::from(i) * STEP);
        let mut out = vec![self.at];
        match self.may {
            May::Stay => {}
            May::Slide(from, to) => {
                let both = steps(60).flat_map(|s| [self.at - s, self.at + s]);
                out.extend(both.filter(|u| *u >= from && *u <= to));
            }
            May::Out(way) => out.extend(steps(80).map(|s| self.at + way * s)),
        }
        out
    }
}

/// Between places to try, mm.
const STEP: f64 = 0.5;

/// A chain laid along its line, before it has a lane.
#[derive(Clone)]
pub struct Strip {
    pub tier: u8,
    pub stops: Vec<(f64, Option<f64>)>,
    /// From and to of the dimension line.
    pub line: (f64, f64),
    pub ticks: Vec<(f64, f64)>,
    /// Ends at which it runs on beyond the sheet: where, and which way along `u`.
    pub onward: Vec<(f64, f64)>,
    /// What stands on the line.
    pub on_line: Vec<Value>,
    /// Foot on the line, middle of the value further out.
    pub flags: Vec<(f64, f64, Text)>,
    /// Leaders of flags run straight out so far, then slant over so much.
    pub rise: f64,
    pub slant: f64,
    pub running: bool,
    /// Heights about a datum: each stands for itself, and no line runs through them all to be in the
    /// way of notes.
    pub levels: bool,
    pub origin: Option<f64>,
    /// Everything along `u`.
    pub extent: (f64, f64),
    /// Room needed towards the object and away from it.
    pub near: f64,
    pub far: f64,
}

impl Strip {
    /// Clear of another on one line, or following it with no more than a joint between, as one
    /// front does another: then only their ticks meet.
    pub fn stands_apart(&self, other: &Strip) -> bool {
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

/// Lays a chain along its line: which values fit, where the others go.
pub fn lay(chain: &PartChain, scale: f64) -> Option<Strip> {
    let reading = Reading::of(chain.side);
    if chain.running_from.is_some() {
        return lay_running(chain, reading, scale);
    }
    let paper = |s: Length| s.in_mm() / scale;
    let mut spaces: Vec<(f64, f64, String)> = Vec::new();
    let first = chain.stops.first().map(|(s, _)| *s);
    let last = chain.stops.last().map(|(s, _)| *s);
    let (left, right) = chain.window.unwrap_or_default();
    let value = |a: Length, b: Length| (b - a).to_string();
    // What runs on beyond the sheet says how much of it is here, so that the parts add up.
    let part_of = |from: Length, to: Length, whole: Length| {
        let stub = to - from < Length::mm(STUB_MM);
        (!stub).then(|| format!("{} of {whole}", to - from))
    };
    let (left, right) = (Length::from_mm(left), Length::from_mm(right));
    let mut open = (false, false);
    if let Some(beyond) = chain.open_before {
        let end = first.unwrap_or(right);
        let to = first.or(chain.open_after)?;
        if let Some(text) = part_of(left, end, to - beyond) {
            spaces.push((paper(left), paper(end), text));
            open = (true, first.is_none());
        }
    }
    for ((a, _), (b, _)) in chain.stops.iter().zip(chain.stops.iter().skip(1)) {
        let silent = chain.silent.contains(&(*a, *b));
        let named = chain.named.iter().find(|n| (n.0, n.1) == (*a, *b));
        let named = named.filter(|_| !reading.upright);
        let text = match named {
            Some((.., name)) => format!("{name} {}", value(*a, *b)),
            None if silent => String::new(),
            None => value(*a, *b),
        };
        spaces.push((paper(*a), paper(*b), text));
    }
    if let (Some(beyond), Some(from)) = (chain.open_after, last)
        && let Some(text) = part_of(from, right, beyond - from)
    {
        spaces.push((paper(from), paper(right), text));
        open.1 = true;
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
        levels: false,
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
        strip
            .ticks
            .push((u, (room * 0.4).clamp(SHORT_TICK, LONG_TICK)));
    }
    if open.0 {
        strip.onward.push((start, -1.0));
    }
    if open.1 {
        strip.onward.push((end, 1.0));
    }
    // Heights of some units among others bear these units' names.
    let heads = reading.upright && !chain.named.is_empty();
    let name = if heads { "" } else { chain.name.trim() };
    if chain.silent.is_empty() {
        set_values(&mut strip, &spaces, (name, open), reading);
    } else {
        set_stack(&mut strip, &spaces, reading);
    }
    if heads {
        head(&mut strip, chain.name.trim());
    }
    Some(strip)
}

/// Values of a stack, each by its own stretch and nowhere else.
fn set_stack(strip: &mut Strip, spaces: &[(f64, f64, String)], reading: Reading) {
    let mut flags: Vec<(f64, Text)> = Vec::new();
    for (a, b, value) in spaces.iter().filter(|(_, _, v)| !v.is_empty()) {
        let text = Text::line(value, VALUE_CAP).turned(reading.upright);
        // The oblique strokes end below the foot of a value: short ones do for certain.
        let room = b - a - SHORT_TICK - 2.0 * FREE;
        if text.width <= room {
            let from = a + SHORT_TICK + FREE + text.width / 2.0;
            let to = b - FREE - text.width / 2.0;
            let middle = ((a + b) / 2.0).max(from).min(to);
            if text.width > room - (LONG_TICK - SHORT_TICK) {
                let near = strip.ticks.iter_mut().filter(|(u, _)| (u - a).abs() < 1e-9);
                near.for_each(|(_, half)| *half = half.min(SHORT_TICK));
            }
            let long = a + LONG_TICK + FREE + text.width / 2.0;
            let may = May::Slide(long.min(middle), to);
            let at = middle;
            strip.on_line.push(Value { at, text, may });
        } else {
            flags.push(((a + b) / 2.0, text));
        }
    }
    rows(strip, flags, reading);
}

/// Names over the upper end of a chain of heights, in a box as units have theirs on drawings, so that
/// none is read as a figure.
fn head(strip: &mut Strip, names: &str) {
    if names.is_empty() {
        return;
    }
    let text = Text::line(names, VALUE_CAP)
        .turned(true)
        .framed(LabelFrame::Box);
    let long = text.along();
    let at = strip.extent.0 - HEAD_CLEAR - long / 2.0;
    widen(strip, at, long);
    let may = May::Out(-1.0);
    strip.on_line.push(Value { at, text, may });
    rows(strip, Vec::new(), Reading::of(ChainSide::Left));
}

/// From the last figure of a chain to the names at its head, beside what every chain keeps free, mm.
const HEAD_CLEAR: f64 = 1.5;

/// Puts each value on the line, beside the chain's end, or on a flag.
fn set_values(
    strip: &mut Strip,
    spaces: &[(f64, f64, String)],
    (name, open_ends): (&str, (bool, bool)),
    reading: Reading,
) {
    let set = |s: &str| Text::line(s, VALUE_CAP).turned(reading.upright);
    let mut name = name;
    let last = spaces.len().saturating_sub(1);
    // Upright chains are read from the bottom, so there the last space comes first.
    let (head, tail) = if reading.upright {
        (last, 0)
    } else {
        (0, last)
    };
    let (ahead, behind) = if reading.upright {
        (1.0, -1.0)
    } else {
        (-1.0, 1.0)
    };
    let mut flags: Vec<(f64, Text)> = Vec::new();
    for (i, (a, b, value)) in spaces.iter().enumerate() {
        let middle = (a + b) / 2.0;
        // A terminator leans over the start of the space after it.
        let lean = strip.ticks.iter().find(|(u, _)| (u - a).abs() < 1e-9);
        let (from, to) = (a + lean.map_or(0.3, |(_, half)| *half) + FREE, b - FREE);
        let room = to - from;
        let on_line = |text: Text| {
            let half = text.width / 2.0;
            let may = May::Slide(from + half, to - half);
            let at = middle.max(from + half).min(to - half);
            Value { at, text, may }
        };
        let mut text = set(value);
        if i == head && !name.is_empty() {
            let named = set(&format!("{name} {value}"));
            if named.width <= room {
                text = named;
                name = "";
            }
        }
        let open = (i == 0 && open_ends.0) || (i == last && open_ends.1);
        // One space alone has its name with its value, wherever they stand.
        if last == 0 && text.width > room && !name.is_empty() {
            text = set(&format!("{name} {value}"));
            name = "";
        }
        if text.width <= room {
            strip.on_line.push(on_line(text));
        } else if !open && i == head && name.is_empty() {
            beside(strip, if reading.upright { *b } else { *a }, ahead, text);
        } else if !open && i == tail && i != head {
            beside(strip, if reading.upright { *a } else { *b }, behind, text);
        } else {
            flags.push((middle, text));
        }
    }
    if !name.is_empty() {
        let edge = if reading.upright {
            strip.extent.1
        } else {
            strip.extent.0
        };
        let text = set(name);
        let middle = edge + ahead * (text.width / 2.0 + 1.0);
        widen(strip, middle, text.width);
        strip.on_line.push(Value::fixed(middle, text));
    }
    rows(strip, flags, reading);
}

/// From a line to the foot of the letters of a value on it, whatever tails they have, mm.
pub fn off_line(text: &Text) -> f64 {
    VALUE_OFF.max(text.height - text.ascent + VALUE_PAD + 0.2)
}

/// White round a value: less than its distance from its own line, mm.
pub const VALUE_PAD: f64 = 0.3;

/// Makes room for the values on the line, and raises those that found none there.
fn rows(strip: &mut Strip, flags: Vec<(f64, Text)>, reading: Reading) {
    let row = if reading.outward {
        &mut strip.far
    } else {
        &mut strip.near
    };
    if !strip.on_line.is_empty() {
        let high = strip
            .on_line
            .iter()
            .map(|v| off_line(&v.text) + v.text.ascent);
        let framed = strip
            .on_line
            .iter()
            .any(|v| v.text.frame != LabelFrame::None);
        let clear = if framed { 1.2 } else { 0.7 };
        *row = row.max(high.fold(VALUE_ROW - clear, f64::max) + clear);
    }
    raise(strip, flags, reading);
}

/// A value past the end of the chain, over a short run-on of its line.
fn beside(strip: &mut Strip, edge: f64, way: f64, text: Text) {
    let middle = edge + way * (text.width / 2.0 + 2.2);
    let tip = middle + way * (text.width / 2.0 + 0.4);
    strip.line = (strip.line.0.min(tip), strip.line.1.max(tip));
    widen(strip, middle, text.width);
    strip.on_line.push(Value::fixed(middle, text));
}

fn widen(strip: &mut Strip, middle: f64, width: f64) {
    strip.extent.0 = strip.extent.0.min(middle - width / 2.0 - 1.0);
    strip.extent.1 = strip.extent.1.max(middle + width / 2.0 + 1.0);
}

/// Between values on flags: nearer, two of them read as one figure, mm.
const FLAGS_APART: f64 = 2.4;

/// Values that fit nowhere on the line: on flags, spread so that none touch; turned across the
/// line where flat ones would stray too far.
fn raise(strip: &mut Strip, flags: Vec<(f64, Text)>, reading: Reading) {
    if flags.is_empty() {
        return;
    }
    let wanted: Vec<f64> = flags.iter().map(|(u, _)| *u).collect();
    let arrange = |across: bool| {
        let along = |t: &Text| if across { t.height } else { t.width };
        let sizes: Vec<f64> = flags.iter().map(|(_, t)| along(t)).collect();
        let places = spread(&wanted, &sizes, FLAGS_APART);
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
    let foot = if reading.outward {
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
fn lay_running(chain: &PartChain, reading: Reading, scale: f64) -> Option<Strip> {
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
            let value = if reading.upright {
                origin - *s
            } else {
                *s - origin
            };
            let mut words = running(value, level);
            // The line they all count from says what it is.
            if level && value == Length::ZERO {
                words = format!("{words} {}", chain.name.trim())
                    .trim_end()
                    .to_owned();
            }
            Text::line(&words, VALUE_CAP).turned(!reading.upright)
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
        levels: level && reading.upright,
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
    if !name.is_empty() && !level {
        let text = Text::line(name, VALUE_CAP).turned(reading.upright);
        let (edge, way) = if reading.upright {
            (strip.extent.1, 1.0)
        } else {
            (strip.extent.0, -1.0)
        };
        let middle = edge + way * (text.width / 2.0 + 1.5);
        widen(&mut strip, middle, text.width);
        let row = if reading.outward {
            &mut strip.far
        } else {
            &mut strip.near
        };
        *row = row.max(VALUE_ROW);
        strip.on_line.push(Value::fixed(middle, text));
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
