//! Several small scenes on one sheet at one scale, each with its title under it. Knows how many fit;
//! places nothing itself.

use super::place::callouts::Notes;
use super::place::{self, Figure, Footer, Part, Placed, Room};
use super::scene::{LegendItem, Scene};
use super::sheet::{DrawError, SCALES, arranged, extent, frames};
use super::{Drawing, DrawingKind, svg};
use crate::resolve::job::Sheets;

/// What the sheets of small scenes are.
pub struct Shared<'a> {
    pub id: &'a str,
    pub kind: DrawingKind,
    /// At the foot of each sheet.
    pub notes: &'a [String],
    /// Which margins of a scene take its notes: tried in this order.
    pub margins: &'a [Notes],
}

/// The narrowest first: sections stand side by side.
pub const NARROW: [Notes; 4] = [Notes::Right, Notes::Sides, Notes::Top, Notes::Around];
/// Short leaders to what stands along the top.
pub const TOP: [Notes; 4] = [Notes::Top, Notes::Around, Notes::Sides, Notes::Right];

/// Draws several small scenes on as few sheets as may be, all at one scale, each with its title
/// under it.
pub fn pack_sections(
    scenes: &[Scene],
    shared: &Shared<'_>,
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<Drawing>, DrawError> {
    let sheets = arrange_with(scenes, (shared.notes, shared.margins), paper, smallest)?;
    Ok(packed(scenes, shared, sheets))
}

/// [`pack_sections`] before it is written as SVG: each sheet, and how many scenes are on it.
pub fn arrange(
    scenes: &[Scene],
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<(Placed, usize)>, DrawError> {
    arrange_with(scenes, (&[], &NARROW), paper, smallest)
}

/// [`arrange`] with words at the foot, and its notes in these margins.
pub fn arrange_with(
    scenes: &[Scene],
    (notes, margins): (&[String], &[Notes]),
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<(Placed, usize)>, DrawError> {
    let mut legend: Vec<LegendItem> = Vec::new();
    for item in scenes.iter().flat_map(|s| &s.legend) {
        if !legend.contains(item) {
            legend.push(item.clone());
        }
    }
    let mut parts: Vec<Part> = scenes.iter().map(Part::whole).collect();
    let own: Vec<Vec<LegendItem>> = (parts.iter_mut().zip(scenes))
        .map(|(part, scene)| {
            part.title.clone_from(&scene.title);
            std::mem::replace(&mut part.legend, legend.clone())
        })
        .collect();
    legend.retain(|item| own.iter().any(|l| l.contains(item)));
    for (part, scene) in parts.iter().zip(scenes) {
        extent(part).ok_or_else(|| DrawError::Empty {
            id: scene.id.clone(),
        })?;
    }
    if scenes.is_empty() {
        return Ok(Vec::new());
    }
    for scale in SCALES {
        // Of the ways a paper may stand, the one that takes the fewest sheets.
        let mut fewest: Option<Vec<(Placed, usize)>> = None;
        for area in frames(paper) {
            let footer = Footer {
                legend: &legend,
                notes,
                scale,
                beside: false,
            };
            let room = place::room_above(footer, area);
            let figures: Option<Vec<Figure>> = parts
                .iter()
                .map(|p| arranged(&place::base(p, scale, room)?, room, margins))
                .collect();
            let Some(figures) = figures else { continue };
            let sheets = match place::sheet(&figures, footer, area) {
                Some(placed) => vec![(placed, scenes.len())],
                None if scale < smallest => continue,
                None => over_sheets(&figures, &own, footer, area),
            };
            if fewest.as_ref().is_none_or(|f| sheets.len() < f.len()) {
                fewest = Some(sheets);
            }
        }
        if let Some(sheets) = fewest {
            return Ok(sheets);
        }
    }
    let id = scenes.first().map(|s| s.id.clone()).unwrap_or_default();
    Err(DrawError::TooMuch { id })
}

/// As many figures on each sheet as fit, in order.
fn over_sheets(
    figures: &[Figure],
    own: &[Vec<LegendItem>],
    footer: Footer,
    area: Room,
) -> Vec<(Placed, usize)> {
    let mut sheets = Vec::new();
    let (mut rest, mut own) = (figures, own);
    while !rest.is_empty() {
        let most = (1..=rest.len()).rev().find_map(|n| {
            let (head, _) = rest.split_at_checked(n)?;
            let shown = |item: &&LegendItem| own.iter().take(n).any(|l| l.contains(item));
            let legend: Vec<LegendItem> = footer.legend.iter().filter(shown).cloned().collect();
            let legend = &legend;
            Some((place::sheet(head, Footer { legend, ..footer }, area)?, n))
        });
        let Some((placed, n)) = most else { break };
        sheets.push((placed, n));
        rest = rest.get(n..).unwrap_or_default();
        own = own.get(n..).unwrap_or_default();
    }
    sheets
}

fn packed(scenes: &[Scene], shared: &Shared<'_>, sheets: Vec<(Placed, usize)>) -> Vec<Drawing> {
    let count = sheets.len();
    let mut rest = scenes;
    let mut out = Vec::new();
    for (i, (placed, n)) in sheets.into_iter().enumerate() {
        let (head, tail) = rest.split_at_checked(n).unwrap_or((rest, &[]));
        rest = tail;
        let mut titles: Vec<&str> = Vec::new();
        for scene in head {
            let name = match scene.listed.as_str() {
                "" => scene.title.as_str(),
                listed => listed,
            };
            if titles.last() != Some(&name) {
                titles.push(name);
            }
        }
        let alts: Vec<&str> = head.iter().map(|s| s.alt.as_str()).collect();
        out.push(Drawing {
            id: if count == 1 {
                shared.id.to_string()
            } else {
                format!("{}-{}", shared.id, i + 1)
            },
            kind: shared.kind.clone(),
            title: titles.join("; "),
            alt: format!("{} Scale 1:{}.", alts.join(" "), placed.scale),
            svg: svg::write(&placed),
            width_mm: placed.width,
            height_mm: placed.height,
            scale: placed.scale,
            part: (i + 1, count),
            changes: head
                .iter()
                .flat_map(|s| s.changes.iter().copied())
                .collect(),
        });
    }
    out
}
