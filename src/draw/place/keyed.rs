//! Short names close to what they mark, for notes that no leader reaches from the margins: a drawing
//! office's key, its words listed on the sheet. Knows what stands; must not know what a note says.

use super::Text;
use super::callouts::Note;
use super::geometry::Segment;
use super::inner::{Standing, dot, line};
use super::{Item, text::Align};
use crate::draw::scene::{Lettering, Pt, Rect};
use crate::draw::style::Weight;
use crate::lettering;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Keyed {
    pub texts: Vec<Text>,
    /// Leaders with their dots.
    pub lines: Vec<Item>,
    /// For the foot of the sheet, each with its name at its head: numbers in order, then letters.
    pub listed: Vec<String>,
}

/// Words no wider than this are their own name, mm.
const SHORT: f64 = 9.0;
/// White kept round a name, mm.
const CLEAR: f64 = 0.5;
/// From target to name, in the order tried, mm.
const AWAY: [f64; 14] = [
    1.6, 2.4, 3.4, 4.6, 6.0, 8.0, 10.5, 13.5, 17.0, 21.0, 26.0, 32.0, 40.0, 50.0,
];
/// So many ways round its target, none level or upright.
const WAYS: u32 = 24;

/// Names the notes and sets each name, those at the left first.
pub fn settle(mut notes: Vec<Note>, standing: &mut Standing, leaders: &mut Vec<Segment>) -> Keyed {
    let mut out = Keyed::default();
    let mut said_of: Vec<((u8, usize), String)> = Vec::new();
    let mut unmarked: Vec<String> = Vec::new();
    let mut lettered = 0;
    notes.retain(|n| n.target.x.is_finite() && n.target.y.is_finite());
    // What has a mark of its own comes first: a letter finds room where words do not.
    let place = |n: &Note| (n.balloon.is_none(), n.target.x, n.target.y);
    notes.sort_by(|a, b| {
        let (a, b) = (place(a), place(b));
        (a.0.cmp(&b.0)).then(a.1.total_cmp(&b.1).then(a.2.total_cmp(&b.2)))
    });
    for note in notes {
        let cap = Lettering::Normal.cap_mm();
        let words = note.text.trim();
        let minor = Lettering::Minor.cap_mm();
        let own = match &note.balloon {
            Some(mark) => vec![Text::mark(mark, cap), Text::mark(mark, minor)],
            None if lettering::width_mm(words, cap, false) <= SHORT => vec![Text::line(words, cap)],
            None => Vec::new(),
        };
        let said = match &note.balloon {
            Some(mark) if !words.is_empty() => {
                Some((order(mark), format!("{}: {words}", told(mark))))
            }
            _ => None,
        };
        let mut set = |text: &Text| set(text, note.target, standing, leaders, &mut out);
        if own.iter().any(&mut set) {
            said_of.extend(said);
            continue;
        }
        let name = letters(lettered);
        let text = Text::new(vec![name.clone()], cap, true);
        let said = match &note.balloon {
            Some(mark) if words.is_empty() => told(mark),
            Some(mark) => format!("{}: {words}", told(mark)),
            None => words.to_owned(),
        };
        if set(&text) {
            said_of.push(((1, lettered), format!("{name}: {said}")));
            lettered += 1;
        } else {
            unmarked.push(said);
        }
    }
    said_of.sort();
    out.listed.extend(said_of.into_iter().map(|(_, said)| said));
    if !unmarked.is_empty() {
        let list = unmarked.join("; ");
        out.listed
            .push(format!("too close to mark at this scale: {list}"));
    }
    out
}

/// By the first number in it.
fn order(mark: &str) -> (u8, usize) {
    let digits = mark.chars().skip_while(|c| !c.is_ascii_digit());
    let digits: String = digits.take_while(char::is_ascii_digit).collect();
    (0, digits.parse().unwrap_or(usize::MAX))
}

/// A mark in words: a number alone is the number of a front.
fn told(mark: &str) -> String {
    match mark.bytes().all(|b| b.is_ascii_digit()) {
        true => format!("number {mark}"),
        false => mark.to_owned(),
    }
}

/// a to z, then aa, ab and so on.
fn letters(n: usize) -> String {
    let letter = |n: usize| char::from(b'a' + u8::try_from(n % 26).unwrap_or_default());
    match n / 26 {
        0 => letter(n).to_string(),
        more => format!("{}{}", letter(more - 1), letter(n)),
    }
}

/// Whether a place was found.
fn set(
    text: &Text,
    target: Pt,
    standing: &mut Standing,
    leaders: &mut Vec<Segment>,
    out: &mut Keyed,
) -> bool {
    let (w, h) = text.size();
    let near = standing.near(target);
    let mut best: Option<(f64, Pt, Segment)> = None;
    for away in AWAY {
        if best.as_ref().is_some_and(|(least, ..)| *least <= away) {
            break;
        }
        for way in 0..WAYS {
            let turn = (f64::from(way) + 0.5) * 360.0 / f64::from(WAYS);
            let (sin, cos) = libm::sincos(turn.to_radians());
            // From its middle to its edge that way.
            let (across, up) = (w / 2.0 / cos.abs(), h / 2.0 / sin.abs());
            let reach = away + across.min(up) + CLEAR;
            let centre = Pt::new(target.x + reach * cos, target.y + reach * sin);
            let end = Pt::new(target.x + away * cos, target.y + away * sin);
            let leader = Segment::new(target, end);
            if let Some(cost) = cost(
                Rect::about(centre, w, h).grown(CLEAR * 0.9),
                leader,
                &near,
                leaders,
            ) && best.as_ref().is_none_or(|(least, ..)| cost < *least)
            {
                best = Some((cost, centre, leader));
            }
        }
    }
    let Some((_, centre, leader)) = best else {
        return false;
    };
    let text = text.clone().aligned(Align::Centre).at(centre);
    standing.taken.push(text.bounds().grown(CLEAR));
    standing.taken.push(Rect::about(target, 1.2, 1.2));
    leaders.push(leader);
    out.lines.push(line(leader));
    out.lines.push(dot(target));
    out.texts.push(text);
    true
}

/// `None` where the name may not stand: a light line of the object may pass under it, as its white
/// interrupts that, but no other.
fn cost(own: Rect, leader: Segment, standing: &Standing, leaders: &[Segment]) -> Option<f64> {
    let about = |t: &Rect| t.contains(Rect::about(leader.a, 0.0, 0.0));
    let taken = |t: &Rect| t.overlaps(own) || (!about(t) && leader.enters(*t));
    let over = |l: &Segment| l.enters(own) || l.crosses(leader);
    let wrong = !standing.within.contains(own)
        || standing.awaited(own)
        || standing.taken.iter().any(taken)
        || leaders.iter().chain(&standing.barred).any(over);
    if wrong {
        return None;
    }
    let mut cost = leader.length();
    for (line, weight) in &standing.lines {
        let heavy = *weight == Weight::Heavy;
        if line.enters(own) {
            if heavy {
                return None;
            }
            cost += 3.0;
        }
        if line.crosses(leader) {
            cost += if heavy { 9.0 } else { 2.0 };
        }
    }
    Some(cost)
}
