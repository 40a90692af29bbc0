//! Which scale, which paper, how many sheets: scenes to finished drawings. Knows ISO scales and
//! sheet sizes and the order in which arrangements are tried; places nothing itself.
//!
//! Sheets are those of ISO 216 with the margins of ISO 5457 (20 mm at the left for filing, 10 mm
//! elsewhere); scales those of ISO 5455.

use std::fmt;

use rayon::prelude::*;

pub use super::pack::pack_sections;
use super::parts;
use super::place::callouts::Notes;
use super::place::geometry::outline;
use super::place::{self, Base, Figure, Part, Placed, Room};
use super::scene::{Rect, Scene};
use super::{Drawing, DrawingKind, svg};
use crate::resolve::job::Sheets;

/// Scales of reduction of ISO 5455.
pub const SCALES: [u32; 10] = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

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
        Sheets::A3 => Room {
            width: 390.0,
            height: 277.0,
        },
        Sheets::A4 => Room {
            width: 267.0,
            height: 190.0,
        },
    }
}

/// The frame of the same paper upright, mm: for what is too high for an A4 that lies down.
pub fn frame_upright(paper: Sheets) -> Option<Room> {
    match paper {
        Sheets::A3 => None,
        Sheets::A4 => Some(Room {
            width: 180.0,
            height: 277.0,
        }),
    }
}

/// The frames a drawing may fill, in the order they are tried. Its title block stays free.
pub(super) fn frames(paper: Sheets) -> Vec<Room> {
    [Some(frame(paper)), frame_upright(paper)]
        .into_iter()
        .flatten()
        .collect()
}

/// One sheet's worth of a scene, and what its part says of itself (nothing if it is whole).
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    pub placed: Placed,
    pub said: String,
    /// Which stretch of `x` it shows; `None`: all.
    pub between: Option<(f64, f64)>,
}

/// Draws a scene at the largest scale that fits the paper with its dimensions, notes and legend.
/// An A4 sheet may stand upright where it then holds more; the drawing's width and height say so.
/// Where even `smallest` (20 for 1:20) does not fit, it is parted over sheets at that scale; only
/// what may not be parted, or is too high for the paper, is drawn smaller.
pub fn to_drawings(
    scene: &Scene,
    kind: DrawingKind,
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Drawing>, DrawError> {
    to_drawings_alike(&[(kind, scene)], paper, smallest)
}

/// [`to_drawings`] of several views of one thing: where they must be parted, all are at the same places.
pub fn to_drawings_alike(
    views: &[(DrawingKind, &Scene)],
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Drawing>, DrawError> {
    let scenes: Vec<&Scene> = views.iter().map(|v| v.1).collect();
    let arranged = arrange_alike(&scenes, paper, smallest)?;
    let mut out = Vec::new();
    for ((kind, scene), sheets) in views.iter().zip(arranged) {
        let count = sheets.len();
        let sheets = sheets.iter().enumerate();
        out.extend(sheets.map(|(i, s)| drawing(scene, kind.clone(), s, (i + 1, count))));
    }
    Ok(out)
}

/// [`to_drawings`] before it is written as SVG.
pub fn arrange(scene: &Scene, paper: Sheets, smallest: u32) -> Result<Vec<Sheet>, DrawError> {
    let mut all = arrange_alike(&[scene], paper, smallest)?;
    Ok(all.pop().unwrap_or_default())
}

/// [`to_drawings_alike`] before it is written as SVG: the sheets of each scene.
pub fn arrange_alike(
    scenes: &[&Scene],
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Vec<Sheet>>, DrawError> {
    let areas = frames(paper);
    let (large, small) = SCALES.split_at(SCALES.iter().filter(|s| **s <= smallest).count());
    let done = scenes.par_iter().map(|scene| {
        let part = Part::whole(scene);
        extent(&part).ok_or_else(|| DrawError::Empty {
            id: scene.id.clone(),
        })?;
        let mut at_scale = large.iter();
        let as_it_is = at_scale.find_map(|s| whole(&part, *s, smallest, &areas));
        Ok(as_it_is.or_else(|| whole(&part.close(), smallest, smallest, &areas)))
    });
    let done: Vec<Option<Vec<Sheet>>> = done.collect::<Result<_, _>>()?;
    let left: Vec<&Scene> = (scenes.iter().zip(&done))
        .filter(|(_, done)| done.is_none())
        .map(|(scene, _)| *scene)
        .collect();
    let most = left.iter().map(|s| s.may_part_at.len() + 1).max();
    let parted =
        (2..=most.unwrap_or(0)).find_map(|n| parts::over_sheets(&left, n, smallest, &areas));
    let mut parted = parted.unwrap_or_default().into_iter();
    let alone = left.len() < 2;
    let sheets = scenes.iter().zip(done).map(|(scene, done)| match done {
        Some(sheets) => Ok(sheets),
        None => match parted.next() {
            Some(sheets) => Ok(sheets),
            // Not together: each by itself, and what may not be parted is drawn smaller.
            None if !alone => arrange(scene, paper, smallest),
            None => {
                let part = Part::whole(scene);
                let found = small
                    .iter()
                    .find_map(|s| whole(&part, *s, smallest, &areas));
                found.ok_or_else(|| DrawError::TooMuch {
                    id: scene.id.clone(),
                })
            }
        },
    });
    sheets.collect()
}

/// A part on one sheet, the way of standing tried first that comes first.
fn whole(part: &Part, scale: u32, smallest: u32, areas: &[Room]) -> Option<Vec<Sheet>> {
    let draw = if scale < smallest {
        alone_at
    } else {
        alone_or_listed
    };
    let standing = areas.iter().find_map(|area| draw(part, scale, *area))?;
    Some(vec![Sheet {
        placed: standing.placed(None)?,
        said: String::new(),
        between: None,
    }])
}

/// A drawing that fits, before it has its height on the sheet.
pub(super) struct Standing {
    part: Part,
    figure: Figure,
    scale: u32,
    area: Room,
    /// What each of its notes costs in the mean.
    cost: f64,
}

impl Standing {
    /// Between which heights the line may lie that it stands on.
    pub(super) fn foot(&self) -> (f64, f64) {
        place::foot_between(&self.figure, self.part.footer(self.scale), self.area)
    }

    /// In the middle of its room, or standing on a line at this height.
    pub(super) fn placed(&self, at: Option<f64>) -> Option<Placed> {
        let footer = self.part.footer(self.scale);
        match at {
            Some(y) => place::sheet_at(&self.figure, y, footer, self.area),
            None => place::sheet(std::slice::from_ref(&self.figure), footer, self.area),
        }
    }
}

/// The first arrangement of notes that fits.
pub(super) fn arranged(base: &Base, room: Room, order: &[Notes]) -> Option<Figure> {
    let order = if base.has_notes() {
        order
    } else {
        order.get(..1)?
    };
    order.iter().find_map(|margins| base.noted(*margins, room))
}

/// The arrangement of notes whose leaders lie best.
fn best_arranged(base: &Base, room: Room) -> Option<Figure> {
    if !base.has_notes() {
        return arranged(base, room, &Notes::ALL);
    }
    let fitting = Notes::ALL
        .iter()
        .filter_map(|margins| base.noted(*margins, room));
    fitting.min_by(|a, b| a.cost.total_cmp(&b.cost))
}

/// Long notes in the margins or, where these do not hold them without a leader through words or far
/// across the drawing, listed at the bottom.
pub(super) fn alone_or_listed(part: &Part, scale: u32, area: Room) -> Option<Standing> {
    let margins = alone_at(part, scale, area);
    if margins.as_ref().is_some_and(|m| m.cost < AWKWARD) {
        return margins;
    }
    let listed = alone_at(&part.clone().with_listed_notes(), scale, area);
    match (margins, listed) {
        (Some(a), Some(b)) if a.cost <= b.cost + LISTING => Some(a),
        (a, b) => b.or(a),
    }
}

/// What a note may cost in a margin before a list at the bottom is tried, and what the list costs its
/// reader, for each note; a mm of leader costs 1.
const AWKWARD: f64 = 130.0;
const LISTING: f64 = 60.0;

fn alone_at(part: &Part, scale: u32, area: Room) -> Option<Standing> {
    let room = place::room_above(part.footer(scale), area);
    let base = place::base(part, scale, room)?;
    let figure = best_arranged(&base, room)?;
    let cost = figure.cost / base.notes().max(1) as f64;
    Some(Standing {
        part: part.clone(),
        figure,
        scale,
        area,
        cost,
    })
}

/// Real mm round all lines and fills.
pub(super) fn extent(part: &Part) -> Option<Rect> {
    let points = part.strokes.iter().flat_map(|s| outline(&s.shape).0);
    Rect::around(points.filter(|p| p.x.is_finite() && p.y.is_finite()))
}

fn drawing(scene: &Scene, kind: DrawingKind, sheet: &Sheet, part: (usize, usize)) -> Drawing {
    let placed = &sheet.placed;
    let alone = part.1 == 1;
    let alt = match sheet.between {
        Some((left, right)) => scene.alt_between(left, right),
        None => scene.alt.clone(),
    };
    let said = if sheet.said.is_empty() {
        String::new()
    } else {
        format!(" {}", sheet.said)
    };
    Drawing {
        id: if alone {
            scene.id.clone()
        } else {
            format!("{}-{}", scene.id, part.0)
        },
        kind,
        title: scene.title.clone(),
        alt: format!("{alt}{said} Scale 1:{}.", placed.scale),
        svg: svg::write(placed),
        width_mm: placed.width,
        height_mm: placed.height,
        scale: placed.scale,
        part,
        changes: scene.changes.clone(),
    }
}
