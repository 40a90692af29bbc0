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
use super::place::{self, Base, Care, Figure, Part, Placed, Room};
use super::scene::{Pt, Rect, Scene};
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
    /// Leaders that cross what they may not.
    pub faults: usize,
}

/// Draws views of one thing, each at the largest scale that fits the paper with its dimensions, notes
/// and legend. An A4 sheet may stand upright where it then holds more; the drawing's width and height
/// say so. Where even `smallest` (20 for 1:20) does not fit, views are parted over sheets at that scale,
/// all at the same places; only what may not be parted, or is too high for the paper, is drawn smaller.
pub fn to_drawings(
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

/// [`arrange_alike`] of one scene.
pub fn arrange(scene: &Scene, paper: Sheets, smallest: u32) -> Result<Vec<Sheet>, DrawError> {
    let mut all = arrange_alike(&[scene], paper, smallest)?;
    Ok(all.pop().unwrap_or_default())
}

/// [`to_drawings`] before it is written as SVG: the sheets of each scene.
pub fn arrange_alike(
    scenes: &[&Scene],
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Vec<Sheet>>, DrawError> {
    let areas = frames(paper);
    let (large, small) = SCALES.split_at(SCALES.iter().filter(|s| **s <= smallest).count());
    let done = scenes.par_iter().map(|scene| {
        let part = Part::whole(scene).listing_at_foot();
        extent(&part).ok_or_else(|| DrawError::Empty {
            id: scene.id.clone(),
        })?;
        let mut at_scale = large.iter();
        let close = part.clone().close();
        // What may be parted is drawn close only where it must be, the rest before it is drawn smaller; and
        // either where leaders then cross less.
        let closes = |s: u32| s == smallest || scene.may_part_at.is_empty();
        Ok(at_scale.find_map(|s| {
            let ways = [Some(&part), closes(*s).then_some(&close)];
            let drawn = |part| whole(part, *s, smallest, &areas);
            least_faulty(ways.into_iter().flatten().filter_map(drawn), |w| {
                faults_of(w)
            })
        }))
    });
    let done: Vec<Option<Vec<Sheet>>> = done.collect::<Result<_, _>>()?;
    let left: Vec<&Scene> = (scenes.iter().zip(&done))
        .filter(|(_, done)| done.is_none())
        .map(|(scene, _)| *scene)
        .collect();
    let most = left.iter().map(|s| s.may_part_at.len() + 1).max();
    // In more parts there is more paper for leaders.
    let ways = (2..=most.unwrap_or(0))
        .filter_map(|n| parts::over_sheets(&left, n, smallest, &areas))
        .take(3);
    let faults = |all: &Vec<Vec<Sheet>>| all.iter().map(|sheets| faults_of(sheets)).sum();
    let mut parted = least_faulty(ways, faults).unwrap_or_default().into_iter();
    let alone = left.len() < 2;
    let sheets = scenes.iter().zip(done).map(|(scene, done)| match done {
        Some(sheets) => Ok(sheets),
        None => match parted.next() {
            Some(sheets) => Ok(sheets),
            // Not together: each by itself, and what may not be parted is drawn smaller.
            None if !alone => arrange(scene, paper, smallest),
            None => {
                let part = Part::whole(scene).listing_at_foot();
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

/// A part on one sheet.
fn whole(part: &Part, scale: u32, smallest: u32, areas: &[Room]) -> Option<Vec<Sheet>> {
    let draw = if scale < smallest {
        alone
    } else {
        alone_or_listed
    };
    let ways = areas.iter().filter_map(|area| {
        let standing = draw(part, scale, *area)?;
        Some(vec![Sheet {
            placed: standing.placed(None)?,
            said: String::new(),
            between: None,
            faults: standing.crossings,
        }])
    });
    least_faulty(ways, |sheets| faults_of(sheets))
}

pub(super) fn faults_of(sheets: &[Sheet]) -> usize {
    sheets.iter().map(|s| s.faults).sum()
}

/// The first way to lay out a drawing whose leaders cross nothing they may not, else the best.
pub(super) fn least_faulty<T>(
    ways: impl Iterator<Item = T>,
    faults: impl Fn(&T) -> usize,
) -> Option<T> {
    let mut best: Option<(usize, T)> = None;
    for way in ways {
        let faults = faults(&way);
        if best.as_ref().is_none_or(|(least, _)| faults < *least) {
            best = Some((faults, way));
        }
        if faults == 0 {
            break;
        }
    }
    best.map(|(_, way)| way)
}

/// A drawing that fits, before it has its height on the sheet.
pub(super) struct Standing {
    /// With all that is listed at the foot.
    part: Part,
    base: Base,
    figure: Figure,
    scale: u32,
    area: Room,
    /// What each of its notes costs in the mean.
    cost: f64,
    /// Where the leaders end that cross what they may not or run far, mm of paper about the scene's origin.
    faults: Vec<Pt>,
    /// How many of these cross something.
    pub(super) crossings: usize,
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
    let any = f64::INFINITY;
    (order.iter()).find_map(|margins| base.noted(*margins, room, any))
}

/// The arrangement of notes whose leaders lie best.
fn best_arranged(base: &Base, room: Room) -> Option<Figure> {
    if !base.has_notes() {
        return arranged(base, room, &Notes::ALL);
    }
    let mut best: Option<Figure> = None;
    for margins in Notes::ALL {
        let least = best.as_ref().map_or(f64::INFINITY, |b| b.cost);
        best = base.noted(margins, room, least).or(best);
    }
    best
}

/// Long notes in the margins or, where these do not hold them without a leader through words or far
/// across the drawing, listed at the bottom; where leaders still cross what they may not, see
/// [`unfaulted`].
pub(super) fn alone_or_listed(part: &Part, scale: u32, area: Room) -> Option<Standing> {
    let margins = alone_at(part, scale, area);
    let best = if margins.as_ref().is_some_and(|m| m.cost < AWKWARD) {
        margins
    } else {
        let listed = placed_at(part, scale, area, Care::Strict(&part.long_notes()));
        match (margins, listed) {
            (Some(a), Some(b)) if a.cost <= b.cost + LISTING => Some(a),
            (a, b) => b.or(a),
        }
    };
    Some(unfaulted(part, best?))
}

/// What a note may cost in a margin before a list at the bottom is tried, and what the list costs its
/// reader, for each note; a mm of leader costs 1.
const AWKWARD: f64 = 130.0;
const LISTING: f64 = 60.0;

fn alone(part: &Part, scale: u32, area: Room) -> Option<Standing> {
    let found = alone_at(part, scale, area)?;
    Some(unfaulted(part, found))
}

/// No leader may cross another, words or a dimension chain, nor run far. Where one does, all notes are placed anew
/// with that as a rule, which takes longer; those whose leaders still cross something get a short name
/// close by, and their words are listed at the foot. The fewest faults there are win.
fn unfaulted(part: &Part, found: Standing) -> Standing {
    let (scale, area) = (found.scale, found.area);
    let mut best = found;
    let mut named = Vec::new();
    for round in 1..=ROUNDS {
        if best.faults.is_empty() {
            break;
        }
        if round == ROUNDS {
            named.iter_mut().for_each(|n| *n = true);
        }
        let room = place::room_above(part.footer(scale), area);
        let Some(base) = place::base(part, scale, room, Care::Strict(&named)) else {
            break;
        };
        // Leaders of many notes take long to order, and lie no better for it.
        if base.notes() > MANY_LEFT && round < ROUNDS {
            base.mark(&base.left_over(), &mut named);
            continue;
        }
        let mut all = named.clone();
        base.mark(&base.left_over(), &mut all);
        let Some(other) = with_margins(part, scale, area, base) else {
            // The margins do not hold them.
            named = all;
            continue;
        };
        other.base.mark(&other.faults, &mut named);
        let bad = |s: &Standing| (s.crossings, s.faults.len());
        if bad(&other) < bad(&best) {
            best = other;
        }
    }
    best
}

/// So often at most are notes placed anew; the last time all of them get names.
const ROUNDS: usize = 6;
/// More than this left to the margins are named at once.
const MANY_LEFT: usize = 8;

fn alone_at(part: &Part, scale: u32, area: Room) -> Option<Standing> {
    placed_at(part, scale, area, Care::Usual)
}

fn placed_at(part: &Part, scale: u32, area: Room, care: Care<'_>) -> Option<Standing> {
    let room = place::room_above(part.footer(scale), area);
    let base = place::base(part, scale, room, care)?;
    with_margins(part, scale, area, base)
}

fn with_margins(part: &Part, scale: u32, area: Room, base: Base) -> Option<Standing> {
    let mut part = part.clone();
    part.listed.extend(base.listed().iter().cloned());
    let figure = best_arranged(&base, place::room_above(part.footer(scale), area))?;
    // The list may leave too little height.
    place::sheet(std::slice::from_ref(&figure), part.footer(scale), area)?;
    let cost = figure.cost / base.notes().max(1) as f64;
    let mut faults = place::faulty_ends(&figure.items);
    let crossings = faults.len();
    faults.extend(place::far_ends(&figure.items));
    Some(Standing {
        part,
        base,
        figure,
        scale,
        area,
        cost,
        crossings,
        faults,
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
