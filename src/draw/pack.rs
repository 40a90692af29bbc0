//! Several small scenes on one sheet at one scale, each with its title under it. Knows how many fit;
//! places nothing itself.

use super::parts;
use super::place::callouts::Notes;
use super::place::{self, Base, Care, Figure, Footer, Lanes, Part, Placed, Room};
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
/// Marks of narrow blanks stand level with them at the end that is nearer.
pub const BESIDE: [Notes; 4] = [Notes::Sides, Notes::Around, Notes::Right, Notes::Top];
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
    let (sheets, shown) = laid_out(scenes, (shared.notes, shared.margins), paper, smallest)?;
    Ok(packed(scenes, shared, sheets, &shown))
}

/// [`pack_sections`] before it is written as SVG: each sheet, and how many figures are on it.
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
    words: (&[String], &[Notes]),
    paper: Sheets,
    smallest: u32,
) -> Result<Vec<(Placed, usize)>, DrawError> {
    laid_out(scenes, words, paper, smallest).map(|(sheets, _)| sheets)
}

/// What a figure shows: which scene and, where that is parted, which part of it.
struct Shown {
    scene: usize,
    said: String,
    legend: Vec<LegendItem>,
}

type LaidOut = (Vec<(Placed, usize)>, Vec<Shown>);

fn laid_out(
    scenes: &[Scene],
    (notes, margins): (&[String], &[Notes]),
    paper: Sheets,
    smallest: u32,
) -> Result<LaidOut, DrawError> {
    let mut every: Vec<LegendItem> = Vec::new();
    for item in scenes.iter().flat_map(|s| &s.legend) {
        if !every.contains(item) {
            every.push(item.clone());
        }
    }
    let parts: Vec<Part> = scenes
        .iter()
        .map(|s| Part {
            title: s.title.clone(),
            ..Part::whole(s)
        })
        .collect();
    let all: Vec<&[LegendItem]> = parts.iter().map(|p| p.legend.as_slice()).collect();
    let legend = one_of_each(&every, &all);
    for (part, scene) in parts.iter().zip(scenes) {
        extent(part).ok_or_else(|| DrawError::Empty {
            id: scene.id.clone(),
        })?;
    }
    if scenes.is_empty() {
        return Ok((Vec::new(), Vec::new()));
    }
    let footer = |scale: u32| Footer {
        legend: &legend,
        notes,
        scale,
        beside: false,
    };
    let figure = |part: &Part, scale: u32, room: Room| {
        let faults = |f: &Figure| place::faulty_ends(&f.items).len();
        let usual = place::base(part, scale, room, Care::Usual)?.with_list_under();
        let first = arranged(&usual, room, margins)?;
        if faults(&first) == 0 {
            return Some(first);
        }
        let strict = |named: &[bool]| {
            place::base(part, scale, room, Care::Strict(named)).map(Base::with_list_under)
        };
        let loose = strict(&[]);
        let mut named = Vec::new();
        if let Some(base) = &loose {
            base.mark(&base.left_over(), &mut named);
        }
        let named = strict(&named);
        let others = [Some(usual), loose, named].into_iter().flatten();
        let others = others.flat_map(|base| {
            let noted = margins.iter().map(move |m| base.noted(*m, room));
            noted.flatten().collect::<Vec<_>>()
        });
        std::iter::once(first).chain(others).min_by_key(faults)
    };
    let whole = || -> Vec<Shown> {
        let shown = |(scene, part): (usize, &Part)| Shown {
            scene,
            said: String::new(),
            legend: part.legend.clone(),
        };
        parts.iter().enumerate().map(shown).collect()
    };
    for scale in SCALES {
        // What is too long for its paper is parted before it is drawn smaller.
        let before = SCALES.iter().rev().find(|s| **s < scale);
        if before == Some(&smallest) {
            let longest = |area: &Room| {
                let room = place::room_above(footer(smallest), *area);
                let (figures, shown) = in_parts(scenes, &parts, smallest, |part| {
                    figure(part, smallest, room)
                })?;
                let sheets = over_sheets(&figures, &shown, (footer(smallest), &every), *area);
                Some((sheets, shown))
            };
            if let Some(parted) = frames(paper).iter().find_map(longest) {
                return Ok(parted);
            }
        }
        // Of the ways a paper may stand, the one that takes the fewest sheets.
        let mut fewest: Option<Vec<(Placed, usize)>> = None;
        for area in frames(paper) {
            let footer = footer(scale);
            let room = place::room_above(footer, area);
            let figures: Option<Vec<Figure>> =
                parts.iter().map(|p| figure(p, scale, room)).collect();
            let Some(figures) = figures else { continue };
            let sheets = match place::sheet(&figures, footer, area) {
                Some(placed) => vec![(placed, scenes.len())],
                None if scale < smallest => continue,
                None => over_sheets(&figures, &whole(), (footer, &every), area),
            };
            if fewest.as_ref().is_none_or(|f| sheets.len() < f.len()) {
                fewest = Some(sheets);
            }
        }
        if let Some(sheets) = fewest {
            return Ok((sheets, whole()));
        }
    }
    let id = scenes.first().map(|s| s.id.clone()).unwrap_or_default();
    Err(DrawError::TooMuch { id })
}

/// Each scene whole where it fits, else in as few parts as fit.
fn in_parts(
    scenes: &[Scene],
    parts: &[Part],
    scale: u32,
    figure: impl Fn(&Part) -> Option<Figure>,
) -> Option<(Vec<Figure>, Vec<Shown>)> {
    let (mut figures, mut shown) = (Vec::new(), Vec::new());
    for (n, (scene, part)) in scenes.iter().zip(parts).enumerate() {
        if let Some(whole) = figure(part) {
            figures.push(whole);
            shown.push(Shown {
                scene: n,
                said: String::new(),
                legend: part.legend.clone(),
            });
            continue;
        }
        let extent = extent(part)?;
        let parted = |count: usize| {
            let cuts = parts::cuts(scene, extent, count)?;
            let parts = parts::parted(scene, extent, &cuts, scale, Lanes::Wide);
            let drawn = parts.iter().enumerate().map(|(i, p)| {
                let title = format!("{}, part {} of {count}", scene.title, i + 1);
                let part = Part {
                    title,
                    ..p.part.clone()
                };
                figure(&part)
            });
            let drawn: Option<Vec<Figure>> = drawn.collect();
            Some((drawn?, parts))
        };
        let (drawn, parts) = (2..=scene.may_part_at.len() + 1).find_map(parted)?;
        figures.extend(drawn);
        shown.extend(parts.into_iter().map(|p| Shown {
            scene: n,
            said: p.said,
            legend: p.part.legend,
        }));
    }
    Some((figures, shown))
}

/// What these parts show of a legend. Where one sample stands for more on one of them, it is said
/// once, with all it stands for.
fn one_of_each(all: &[LegendItem], parts: &[&[LegendItem]]) -> Vec<LegendItem> {
    let mut out: Vec<LegendItem> = Vec::new();
    for item in all.iter().filter(|i| parts.iter().any(|p| p.contains(i))) {
        match out.iter_mut().find(|o| o.sample == item.sample) {
            Some(said) => {
                let more = item.text.split("; ").filter(|w| !said.text.contains(w));
                let more: Vec<&str> = more.collect();
                for words in more {
                    said.text = format!("{}; {words}", said.text);
                }
            }
            None => out.push(item.clone()),
        }
    }
    out
}

/// As many figures on each sheet as fit, in order, with a legend of what they show.
fn over_sheets(
    figures: &[Figure],
    shown: &[Shown],
    (footer, all): (Footer, &[LegendItem]),
    area: Room,
) -> Vec<(Placed, usize)> {
    let mut sheets = Vec::new();
    let (mut rest, mut shown) = (figures, shown);
    while !rest.is_empty() {
        let most = (1..=rest.len()).rev().find_map(|n| {
            let (head, _) = rest.split_at_checked(n)?;
            let here: Vec<&[LegendItem]> =
                shown.iter().take(n).map(|s| s.legend.as_slice()).collect();
            let legend = &one_of_each(all, &here);
            Some((place::sheet(head, Footer { legend, ..footer }, area)?, n))
        });
        let Some((placed, n)) = most else { break };
        sheets.push((placed, n));
        rest = rest.get(n..).unwrap_or_default();
        shown = shown.get(n..).unwrap_or_default();
    }
    sheets
}

fn packed(
    scenes: &[Scene],
    shared: &Shared<'_>,
    sheets: Vec<(Placed, usize)>,
    shown: &[Shown],
) -> Vec<Drawing> {
    let count = sheets.len();
    let mut rest = shown;
    let mut out = Vec::new();
    for (i, (placed, n)) in sheets.into_iter().enumerate() {
        let (head, tail) = rest.split_at_checked(n).unwrap_or((rest, &[]));
        rest = tail;
        let of = |shown: &Shown| scenes.get(shown.scene);
        let here: Vec<&Scene> = head.iter().filter_map(of).collect();
        let mut titles: Vec<&str> = Vec::new();
        for scene in &here {
            let name = match scene.listed.as_str() {
                "" => scene.title.as_str(),
                listed => listed,
            };
            if titles.last() != Some(&name) {
                titles.push(name);
            }
        }
        let alts = here.iter().zip(head).map(|(s, shown)| {
            let alt = format!("{} {}", s.alt, shown.said);
            alt.trim_end().to_owned()
        });
        let alts: Vec<String> = alts.collect();
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
            changes: here
                .iter()
                .flat_map(|s| s.changes.iter().copied())
                .collect(),
        });
    }
    out
}
