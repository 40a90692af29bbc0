//! A drawing that is too long for one sheet: where it is parted, the match lines at which it goes
//! on, and what each part says of itself. Knows one scale; chooses none.

use super::place::clip::Stroke;
use super::place::{Part, Room};
use super::scene::{Fill, Label, LabelFrame, Lettering, Pt, Rect, Role, Scene, Shape, Symbol};
use super::sheet::{Sheet, alone_or_listed};
use super::style::Ink;

/// Letters of match lines: none that is read for a figure, and not the first ones, which name
/// elevations.
const MATCH_LETTERS: [char; 12] = ['M', 'N', 'P', 'R', 'T', 'U', 'V', 'W', 'Y', 'K', 'L', 'J'];

/// The scene over `count` sheets, each with what it says of itself; `None` where some part does
/// not fit or there are not enough places to part at.
pub fn over_sheets(
    scene: &Scene,
    extent: Rect,
    count: usize,
    scale: u32,
    area: Room,
) -> Option<Vec<Sheet>> {
    let cuts = cuts(&scene.may_part_at, extent, count)?;
    let mut edges = vec![extent.x0];
    edges.extend(&cuts);
    edges.push(extent.x1);
    let mut sheets = Vec::new();
    for (i, (left, right)) in edges.iter().zip(edges.iter().skip(1)).enumerate() {
        let (first, last) = (i == 0, i + 1 == count);
        let mut part = Part::between(scene, *left, *right, first, last);
        if let (false, Some(n)) = (first, i.checked_sub(1)) {
            match_line(
                &mut part,
                *left,
                extent,
                n,
                (i, count, Towards::Left),
                scale,
            );
        }
        if !last {
            match_line(
                &mut part,
                *right,
                extent,
                i,
                (i + 2, count, Towards::Right),
                scale,
            );
        }
        let placed = alone_or_listed(&part, scale, area)?;
        let (from, to) = scene.along.unwrap_or((extent.x0, extent.x1));
        let said = format!(
            "Part {} of {count}: from {:.0} to {:.0} mm along.",
            i + 1,
            left.max(from) - from,
            right.min(to) - from
        );
        sheets.push(Sheet {
            placed,
            said,
            between: Some((*left, *right)),
        });
    }
    Some(sheets)
}

/// The `count` − 1 places to part at that make the parts most alike.
fn cuts(places: &[f64], extent: Rect, count: usize) -> Option<Vec<f64>> {
    let mut out: Vec<f64> = Vec::new();
    for k in 1..count {
        let ideal = extent.x0 + extent.width() * k as f64 / count as f64;
        let after = out.last().copied().unwrap_or(extent.x0);
        let free = places
            .iter()
            .filter(|x| **x > after + 1.0 && **x < extent.x1 - 1.0);
        let best = free.min_by(|a, b| (*a - ideal).abs().total_cmp(&(*b - ideal).abs()))?;
        out.push(*best);
    }
    Some(out)
}

enum Towards {
    Left,
    Right,
}

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
    let letter = MATCH_LETTERS
        .get(letter % MATCH_LETTERS.len())
        .copied()
        .unwrap_or('M');
    let (top, foot) = (extent.y0 - 3.0 * s, extent.y1 + 3.0 * s);
    let points = vec![Pt::new(x, top), Pt::new(x, foot)];
    let line = Shape::Path {
        points,
        closed: false,
    };
    // White beneath, or the edges of the units would fill its gaps.
    let under = Shape::Rect(Rect::new(x - 0.6 * s, extent.y0, x + 0.6 * s, extent.y1));
    part.strokes.push(Stroke {
        ink: Ink::None,
        fill: Fill::White,
        shape: under,
    });
    part.strokes.push(Stroke {
        ink: Ink::Role(Role::Match),
        fill: Fill::None,
        shape: line,
    });
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
    let text = format!("goes on in part {to} of {of}");
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
    });
}
