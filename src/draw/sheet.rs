//! Which scale, which paper, how many sheets: scenes to finished drawings. Knows ISO scales and
//! sheet sizes and the order in which arrangements are tried; places nothing itself.
//!
//! Sheets are those of ISO 216 with the margins of ISO 5457 (20 mm at the left for filing, 10 mm
//! elsewhere); scales those of ISO 5455.

use std::fmt;

use super::place::callouts::Notes;
use super::place::clip::Stroke;
use super::place::geometry::outline;
use super::place::{self, Base, Figure, Part, Placed, Room};
use super::scene::{
    Fill, Label, LabelFrame, LegendItem, Lettering, Pt, Rect, Role, Scene, Shape, Symbol,
};
use super::style::Ink;
use super::{Drawing, DrawingKind, svg};
use crate::resolve::job::Sheets;

/// Kept free along the bottom of the frame for the title block, which the page lays out, mm.
pub const TITLE_BLOCK_MM: f64 = 34.0;

/// Scales of reduction of ISO 5455.
pub const SCALES: [u32; 10] = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/// Letters of match lines: none that is read for a figure, and not the first ones, which name
/// elevations.
const MATCH_LETTERS: [char; 12] = ['M', 'N', 'P', 'R', 'T', 'U', 'V', 'W', 'Y', 'K', 'L', 'J'];

/// Why a scene cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DrawError {
    /// There is nothing in it.
    Empty { id: String },
    /// No scale brings it onto the paper with its dimensions and notes.
    TooMuch { id: String },
}

impl fmt::Display for DrawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DrawError::Empty { id } => write!(f, "drawing '{id}' has nothing in it"),
            DrawError::TooMuch { id } => write!(
                f,
                "drawing '{id}' has more dimensions and notes than fit on its paper at any scale; \
                 larger sheets or fewer notes would help"
            ),
        }
    }
}

impl std::error::Error for DrawError {}

/// The frame inside the margins, landscape, mm.
pub fn frame(paper: Sheets) -> Room {
    match paper {
        Sheets::A3 => Room { width: 390.0, height: 277.0 },
        Sheets::A4 => Room { width: 267.0, height: 190.0 },
    }
}

/// What of the frame a drawing may use: all but the strip of the title block.
pub fn area(paper: Sheets) -> Room {
    let whole = frame(paper);
    Room { height: whole.height - TITLE_BLOCK_MM, ..whole }
}

/// Draws a scene at the largest scale that fits the paper with its dimensions, notes and legend.
/// Where even `smallest` (20 for 1:20) does not fit, it is parted over sheets at that scale; only
/// what may not be parted, or is too high for the paper, is drawn smaller.
pub fn to_drawings(
    scene: &Scene,
    kind: DrawingKind,
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Drawing>, DrawError> {
    let area = area(paper);
    let part = Part::whole(scene);
    let extent = extent(&part).ok_or_else(|| DrawError::Empty { id: scene.id.clone() })?;
    let allowed = SCALES.iter().copied().filter(|s| *s <= smallest.max(1));
    for scale in allowed {
        if let Some(placed) = alone(&part, scale, area) {
            return Ok(vec![drawing(scene, kind, &placed, (1, 1), String::new())]);
        }
    }
    for count in 2..=scene.may_part_at.len() + 1 {
        if let Some(parts) = parted(scene, extent, count, smallest, area) {
            let drawings = parts.into_iter().enumerate().map(|(i, (placed, said))| {
                drawing(scene, kind.clone(), &placed, (i + 1, count), said)
            });
            return Ok(drawings.collect());
        }
    }
    let beyond = SCALES.iter().copied().filter(|s| *s > smallest);
    for scale in beyond {
        if let Some(placed) = alone(&part, scale, area) {
            return Ok(vec![drawing(scene, kind, &placed, (1, 1), String::new())]);
        }
    }
    Err(DrawError::TooMuch { id: scene.id.clone() })
}

/// Draws several small scenes on as few sheets as may be, all at one scale, each with its title
/// under it.
pub fn pack_sections(
    scenes: &[Scene],
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Drawing>, DrawError> {
    let area = area(paper);
    let mut legend: Vec<LegendItem> = Vec::new();
    for item in scenes.iter().flat_map(|s| &s.legend) {
        if !legend.contains(item) {
            legend.push(item.clone());
        }
    }
    let parts: Vec<Part> = scenes
        .iter()
        .map(|s| Part { title: s.title.clone(), legend: legend.clone(), ..Part::whole(s) })
        .collect();
    for (part, scene) in parts.iter().zip(scenes) {
        extent(part).ok_or_else(|| DrawError::Empty { id: scene.id.clone() })?;
    }
    if scenes.is_empty() {
        return Ok(Vec::new());
    }
    for scale in SCALES {
        let room = place::room_above(&legend, scale, area);
        let figures: Option<Vec<Figure>> =
            parts.iter().map(|p| compact(&place::base(p, scale, room)?, room)).collect();
        let Some(figures) = figures else { continue };
        let one = place::sheet(&figures, &legend, scale, area);
        let sheets = match one {
            Some(placed) => vec![(placed, scenes.len())],
            None if scale < smallest => continue,
            None => over_sheets(&figures, &legend, scale, area),
        };
        return Ok(packed(scenes, sheets));
    }
    let id = scenes.first().map(|s| s.id.clone()).unwrap_or_default();
    Err(DrawError::TooMuch { id })
}

/// As many figures on each sheet as fit, in order.
fn over_sheets(
    figures: &[Figure],
    legend: &[LegendItem],
    scale: u32,
    area: Room,
) -> Vec<(Placed, usize)> {
    let mut sheets = Vec::new();
    let mut rest = figures;
    while !rest.is_empty() {
        let most = (1..=rest.len()).rev().find_map(|n| {
            let (head, _) = rest.split_at_checked(n)?;
            Some((place::sheet(head, legend, scale, area)?, n))
        });
        let Some((placed, n)) = most else { break };
        sheets.push((placed, n));
        rest = rest.get(n..).unwrap_or_default();
    }
    sheets
}

fn packed(scenes: &[Scene], sheets: Vec<(Placed, usize)>) -> Vec<Drawing> {
    let count = sheets.len();
    let mut rest = scenes;
    let mut out = Vec::new();
    for (i, (placed, n)) in sheets.into_iter().enumerate() {
        let (head, tail) = rest.split_at_checked(n).unwrap_or((rest, &[]));
        rest = tail;
        let titles: Vec<&str> = head.iter().map(|s| s.title.as_str()).collect();
        let alts: Vec<&str> = head.iter().map(|s| s.alt.as_str()).collect();
        out.push(Drawing {
            id: if count == 1 { "sections".to_string() } else { format!("sections-{}", i + 1) },
            kind: DrawingKind::Section,
            title: titles.join(", "),
            alt: format!("{} Scale 1:{}.", alts.join(" "), placed.scale),
            svg: svg::write(&placed),
            width_mm: placed.width,
            height_mm: placed.height,
            scale: placed.scale,
            part: (i + 1, count),
        });
    }
    out
}

/// The first arrangement of notes that fits.
fn arranged(base: &Base, room: Room, order: &[Notes]) -> Option<Figure> {
    let order = if base.has_notes() { order } else { order.get(..1)? };
    order.iter().find_map(|margins| base.noted(*margins, room))
}

/// The narrowest: sections stand side by side.
fn compact(base: &Base, room: Room) -> Option<Figure> {
    arranged(base, room, &[Notes::Right, Notes::Sides, Notes::Top, Notes::Around])
}

fn alone(part: &Part, scale: u32, area: Room) -> Option<Placed> {
    let room = place::room_above(&part.legend, scale, area);
    let figure = arranged(&place::base(part, scale, room)?, room, &Notes::ALL)?;
    place::sheet(&[figure], &part.legend, scale, area)
}

/// Real mm round all lines and fills.
fn extent(part: &Part) -> Option<Rect> {
    let points = part.strokes.iter().flat_map(|s| outline(&s.shape).0);
    Rect::around(points.filter(|p| p.x.is_finite() && p.y.is_finite()))
}

/// The scene over `count` sheets, each with what it says of itself; `None` where some part does
/// not fit or there are not enough places to part at.
fn parted(
    scene: &Scene,
    extent: Rect,
    count: usize,
    scale: u32,
    area: Room,
) -> Option<Vec<(Placed, String)>> {
    let cuts = cuts(&scene.may_part_at, extent, count)?;
    let mut edges = vec![extent.x0];
    edges.extend(&cuts);
    edges.push(extent.x1);
    let mut sheets = Vec::new();
    for (i, (left, right)) in edges.iter().zip(edges.iter().skip(1)).enumerate() {
        let (first, last) = (i == 0, i + 1 == count);
        let mut part = Part::between(scene, *left, *right, first, last);
        if let (false, Some(n)) = (first, i.checked_sub(1)) {
            match_line(&mut part, *left, extent, n, (i, count, Towards::Left), scale);
        }
        if !last {
            match_line(&mut part, *right, extent, i, (i + 2, count, Towards::Right), scale);
        }
        let placed = alone(&part, scale, area)?;
        let said = format!(
            "Part {} of {count}: from {:.0} to {:.0} mm along.",
            i + 1,
            left - extent.x0,
            right - extent.x0
        );
        sheets.push((placed, said));
    }
    Some(sheets)
}

/// The `count` − 1 places to part at that make the parts most alike.
fn cuts(places: &[f64], extent: Rect, count: usize) -> Option<Vec<f64>> {
    let mut out: Vec<f64> = Vec::new();
    for k in 1..count {
        let ideal = extent.x0 + extent.width() * k as f64 / count as f64;
        let after = out.last().copied().unwrap_or(extent.x0);
        let free = places.iter().filter(|x| **x > after + 1.0 && **x < extent.x1 - 1.0);
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
    let letter = MATCH_LETTERS.get(letter % MATCH_LETTERS.len()).copied().unwrap_or('M');
    let (top, foot) = (extent.y0 - 5.0 * s, extent.y1 + 5.0 * s);
    let points = vec![Pt::new(x, top), Pt::new(x, foot)];
    let shape = Shape::Path { points, closed: false };
    part.strokes.push(Stroke { ink: Ink::Role(Role::Match), fill: Fill::None, shape });
    for y in [top - 3.2 * s, foot + 3.2 * s] {
        let shape = Shape::Symbol { at: Pt::new(x, y), symbol: Symbol::MatchMark { letter } };
        part.strokes.push(Stroke { ink: Ink::Frame, fill: Fill::None, shape });
    }
    let text = format!("part {to} of {of}");
    let width = crate::lettering::width_mm(&text, Lettering::Normal.cap_mm(), false);
    let out = (4.4 + width / 2.0) * s;
    let at = match towards {
        Towards::Left => Pt::new(x - out, top - 3.2 * s),
        Towards::Right => Pt::new(x + out, top - 3.2 * s),
    };
    part.labels.push(Label {
        at,
        lines: vec![text],
        lettering: Lettering::Normal,
        bold: false,
        frame: LabelFrame::None,
        within: None,
        rank: 0,
    });
}

fn drawing(
    scene: &Scene,
    kind: DrawingKind,
    placed: &Placed,
    part: (usize, usize),
    said: String,
) -> Drawing {
    let alone = part.1 == 1;
    let said = if said.is_empty() { said } else { format!(" {said}") };
    Drawing {
        id: if alone { scene.id.clone() } else { format!("{}-{}", scene.id, part.0) },
        kind,
        title: scene.title.clone(),
        alt: format!("{}{said} Scale 1:{}.", scene.alt, placed.scale),
        svg: svg::write(placed),
        width_mm: placed.width,
        height_mm: placed.height,
        scale: placed.scale,
        part,
    }
}
