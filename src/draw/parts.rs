//! A drawing that is too long for one sheet: where it is parted, the match lines at which it goes
//! on, and what each part says of itself. Knows one scale; chooses none.

use super::place::clip::Stroke;
use super::place::{Lanes, Part, Room};
use super::scene::{Fill, Label, LabelFrame, Lettering, Pt, Rect, Role, Scene, Shape, Symbol};
use super::sheet::{Sheet, Standing, alone_or_listed, extent, faults_of, least_faulty};
use super::style::Ink;

/// Letters of match lines: none that is read for a figure, and not the first ones, which name
/// elevations.
const MATCH_LETTERS: [char; 12] = ['M', 'N', 'P', 'R', 'T', 'U', 'V', 'W', 'Y', 'K', 'L', 'J'];

/// One of the parts of a scene, and what it says of itself.
pub struct Parted {
    pub part: Part,
    pub said: String,
    pub between: (f64, f64),
}

/// Views of one thing, each over `count` sheets and all parted at the same places; on the paper that
/// stands so that they fit. `None` where some part does not, or there are not enough places to part at.
pub fn over_sheets(
    scenes: &[&Scene],
    count: usize,
    scale: u32,
    areas: &[Room],
) -> Option<Vec<Vec<Sheet>>> {
    let extents: Option<Vec<Rect>> = scenes.iter().map(|s| extent(&Part::whole(s))).collect();
    let extents = extents?;
    let cuts = cuts(
        scenes.first()?,
        extents.iter().copied().reduce(Rect::with)?,
        count,
    )?;
    let ways = [Lanes::Wide, Lanes::Close];
    let ways = ways.iter().flat_map(|l| areas.iter().map(|a| (*l, *a)));
    let ways = ways.filter_map(|(lanes, area)| {
        let one = |(scene, extent): (&&Scene, &Rect)| {
            side_by_side(parted(scene, *extent, &cuts, scale, lanes), scale, area)
        };
        let all: Option<Vec<Vec<Sheet>>> = scenes.iter().zip(&extents).map(one).collect();
        all
    });
    least_faulty(ways, |all| all.iter().map(|s| faults_of(s)).sum())
}

/// A sheet for each part; laid side by side, the parts stand on one line.
fn side_by_side(parts: Vec<Parted>, scale: u32, area: Room) -> Option<Vec<Sheet>> {
    let standing = parts
        .iter()
        .map(|p| alone_or_listed(&p.part, scale, area))
        .collect::<Option<Vec<Standing>>>()?;
    let feet: Vec<(f64, f64)> = standing.iter().map(Standing::foot).collect();
    let highest = feet.iter().map(|f| f.0).fold(f64::NEG_INFINITY, f64::max);
    let lowest = feet.iter().map(|f| f.1).fold(f64::INFINITY, f64::min);
    let level = (highest <= lowest).then(|| (highest + lowest) / 2.0);
    let sheets = standing.iter().zip(parts).map(|(standing, part)| {
        Some(Sheet {
            placed: standing.placed(level)?,
            said: part.said,
            between: Some(part.between),
            faults: standing.crossings,
        })
    });
    sheets.collect()
}

/// The scene parted at these places, with match lines between its parts.
pub fn parted(scene: &Scene, extent: Rect, cuts: &[f64], scale: u32, lanes: Lanes) -> Vec<Parted> {
    let count = cuts.len() + 1;
    let (start, end) = scene.along.unwrap_or((extent.x0, extent.x1));
    let mut edges = vec![extent.x0];
    edges.extend(cuts);
    edges.push(extent.x1);
    let mut parts = Vec::new();
    for (i, (left, right)) in edges.iter().zip(edges.iter().skip(1)).enumerate() {
        let last = i + 1 == count;
        let mut part = Part::between(scene, *left, *right, last);
        part.lanes = lanes;
        let aside = BESIDE_LINE * f64::from(scale.max(1));
        part.begin_heights(
            (i > 0).then_some(left - aside),
            (!last).then_some(right + aside),
        );
        if let Some(n) = i.checked_sub(1) {
            let towards = (i, count, Towards::Left);
            match_line(&mut part, *left, extent, n, towards, scale);
        }
        if !last {
            let towards = (i + 2, count, Towards::Right);
            match_line(&mut part, *right, extent, i, towards, scale);
        }
        let said = format!(
            "Part {} of {count}: from {:.0} to {:.0} mm along.",
            i + 1,
            left.max(start) - start,
            right.min(end) - start
        );
        parts.push(Parted {
            part,
            said,
            between: (*left, *right),
        });
    }
    parts
}

/// The `count` − 1 places to part at that leave no part nearly bare, if that can be, and make the
/// parts most alike.
pub fn cuts(scene: &Scene, extent: Rect, count: usize) -> Option<Vec<f64>> {
    let mut places = vec![extent.x0];
    let inner = |x: &&f64| **x > extent.x0 + 1.0 && **x < extent.x1 - 1.0;
    places.extend(scene.may_part_at.iter().filter(inner));
    places.push(extent.x1);
    let ideal = extent.width() / count as f64;
    let stands = standing(scene);
    let cost = |from: f64, to: f64| {
        let bare = !stands
            .iter()
            .any(|s| s.1.min(to) - s.0.max(from) > LEAST_SHOWN_MM);
        let off = (to - from) / ideal - 1.0;
        off * off + if bare { BARE_COST } else { 0.0 }
    };
    // By number of parts so far: the least cost of ending at each place, and where the last part began.
    let none = (f64::INFINITY, 0);
    let mut best: Vec<(f64, usize)> = vec![none; places.len()];
    *best.first_mut()? = (0.0, 0);
    let mut from: Vec<Vec<usize>> = Vec::new();
    for _ in 0..count {
        let ends = places.iter().enumerate().map(|(j, to)| {
            let starts = places.iter().zip(&best).enumerate().take(j);
            // A part much longer than its share would not fit.
            let near = starts.filter(|(_, (x, b))| b.0.is_finite() && to - **x < 2.5 * ideal);
            near.map(|(i, (x, b))| (b.0 + cost(*x, *to), i))
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .unwrap_or(none)
        });
        let next: Vec<(f64, usize)> = ends.collect();
        from.push(next.iter().map(|n| n.1).collect());
        best = next;
    }
    let mut at = places.len() - 1;
    if !best.get(at)?.0.is_finite() {
        return None;
    }
    let mut out = Vec::new();
    for row in from.iter().skip(1).rev() {
        at = *row.get(at)?;
        out.push(*places.get(at)?);
    }
    out.reverse();
    Some(out)
}

/// A part that shows less than this of anything is bare, mm.
const LEAST_SHOWN_MM: f64 = 150.0;
/// What a bare part costs, against parts of unlike length.
const BARE_COST: f64 = 10.0;

/// Where along `x` furniture stands.
fn standing(scene: &Scene) -> Vec<(f64, f64)> {
    let edges = scene.marks.iter().filter(|m| m.role == Role::Edge);
    let spans = edges.filter_map(|m| Rect::around(super::place::geometry::outline(&m.shape).0));
    let mut spans: Vec<(f64, f64)> = spans.map(|r| (r.x0, r.x1)).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    // What overlaps or nearly meets is one.
    let mut out: Vec<(f64, f64)> = Vec::new();
    for span in spans {
        match out.last_mut() {
            Some(last) if span.0 <= last.1 + 20.0 => last.1 = last.1.max(span.1),
            _ => out.push(span),
        }
    }
    out
}

#[derive(Clone, Copy)]
enum Towards {
    Left,
    Right,
}

fn letter(n: usize) -> char {
    let at = MATCH_LETTERS.get(n % MATCH_LETTERS.len());
    at.copied().unwrap_or('M')
}

/// Hinges on the line itself: on each part those of its own fronts, moved clear of the line.
fn hinge_ticks(part: &mut Part, x: f64, scale: u32, towards: Towards) -> Vec<Stroke> {
    let s = f64::from(scale.max(1));
    let aside = match towards {
        Towards::Left => CLEAR_OF_LINE,
        Towards::Right => -CLEAR_OF_LINE,
    };
    let on_line = |shape: &Shape| match shape {
        Shape::Symbol {
            at,
            symbol: symbol @ Symbol::HingeTick { .. },
        } if (at.x - x).abs() < 0.6 * s => Some((*at, *symbol)),
        _ => None,
    };
    let mut out = Vec::new();
    for (i, stroke) in part.strokes.iter().enumerate() {
        let Some((at, symbol)) = on_line(&stroke.shape) else {
            continue;
        };
        let later = part.strokes.iter().skip(i + 1);
        if !later.into_iter().any(|o| o.covers(at)) {
            let at = Pt::new(x + aside * s, at.y);
            let shape = Shape::Symbol { at, symbol };
            out.push(Stroke {
                shape,
                ..stroke.clone()
            });
        }
    }
    part.strokes.retain(|s| on_line(&s.shape).is_none());
    out
}

/// What stands beside a match line takes so much, mm of paper: no extension line runs through it.
const BESIDE_LINE: f64 = 8.0;

/// From a match line to the hinge marks beside it, mm of paper.
const CLEAR_OF_LINE: f64 = 0.4;

/// Draws the line at which a drawing goes on elsewhere, its letter at both ends, and where.
fn match_line(
    part: &mut Part,
    x: f64,
    extent: Rect,
    letter: usize,
    (to, of, towards): (usize, usize, Towards),
    scale: u32,
) {
    let s = f64::from(scale.max(1));
    let letter = self::letter(letter);
    let past = match part.lanes {
        Lanes::Wide => 3.0,
        Lanes::Close => 1.5,
    };
    let (top, foot) = (extent.y0 - past * s, extent.y1 + past * s);
    let points = vec![Pt::new(x, top), Pt::new(x, foot)];
    let line = Shape::Path {
        points,
        closed: false,
    };
    let ticks = hinge_ticks(part, x, scale, towards);
    part.strokes.push(Stroke {
        ink: Ink::Role(Role::Match),
        fill: Fill::None,
        shape: line,
    });
    part.strokes.extend(ticks);
    // Beside the line, where the paper is empty.
    let out = match towards {
        Towards::Left => x - 5.0 * s,
        Towards::Right => x + 5.0 * s,
    };
    for y in [extent.y0 + 4.0 * s, extent.y1 - 4.0 * s] {
        let shape = Shape::Symbol {
            at: Pt::new(out, y),
            symbol: Symbol::MatchMark { letter },
        };
        part.strokes.push(Stroke {
            ink: Ink::Frame,
            fill: Fill::None,
            shape,
        });
    }
    let text = format!("goes on at {letter} in part {to} of {of}");
    let long = crate::lettering::width_mm(&text, Lettering::Normal.cap_mm(), false) + 4.0;
    let middle = (extent.y0 + extent.y1) / 2.0;
    let half = (long * s / 2.0, 2.6 * s);
    part.labels.push(Label {
        at: Pt::new(out, middle),
        lines: vec![text],
        lettering: Lettering::Normal,
        bold: false,
        frame: LabelFrame::None,
        within: Some(Rect::new(
            out - half.1,
            middle - half.0,
            out + half.1,
            middle + half.0,
        )),
        rank: 0,
        listed: String::new(),
    });
}
