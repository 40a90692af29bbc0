//! Boards as they are cut up: blanks with their marks and sizes, what is left and worth keeping. Knows
//! one layout a material; must not know how it was found. No mark stands in another's blank.

use super::pattern::legend;
use super::pen::{Pen, up};
use crate::draw::scene::{
    Callout, Fill, LabelFrame, LegendSample, Lettering, Pt, Rect, Role, Scene,
};
use crate::lettering;
use crate::reckon::placed::Reckoned;
use crate::reckon::quantities::cutting::{CutSheet, SheetArea, SheetBlank};
use crate::reckon::quantities::stock::Source;
use crate::resolve::job::{Grain, Job};
use crate::units::Length;

/// A blank narrower than this bears its mark alone, and its size is listed under the board, mm.
const NARROW_MM: f64 = 75.0;
/// On one narrower than this mark and size stand on one line, mm.
const LOW_MM: f64 = 150.0;
/// One narrower than this has its mark beside the board, level with it, mm.
const STRIP_MM: f64 = 57.0;
/// From the end of a strip to where the leader of its mark ends, mm.
const FROM_END_MM: f64 = 14.0;
/// The scale at which words must go into their blank, and what is white round them, mm.
const SCALE: f64 = 20.0;
const CLEAR_MM: f64 = 30.0;

/// One scene for each way in which boards are cut, material by material.
pub fn boards(job: &Job, reckoned: &Reckoned) -> Vec<Scene> {
    let quantities = &reckoned.quantities;
    let mut all = Vec::new();
    for (b, board) in quantities.boards.iter().enumerate() {
        let Some(layout) = &board.layout else {
            continue;
        };
        let material = job.materials.get(board.material.0);
        let name = material.map_or("", |m| m.name.as_str());
        let grain = material.is_some_and(|m| m.grain != Grain::None);
        let boards: u32 = layout.sheets.iter().map(|s| s.count).sum();
        let mut number = 0;
        for sheet in &layout.sheets {
            let first = number + 1;
            number += sheet.count;
            let mut scene = one(reckoned, sheet);
            let mark = quantities.letter(b);
            scene.id = format!("cutting-{mark}-{number}");
            let which = match (sheet.count, boards) {
                (1, 1) => "board".to_owned(),
                (1, _) => format!("board {number} of {boards}"),
                (2, _) => format!("boards {first} and {number} of {boards}, alike"),
                _ => format!("boards {first} to {number} of {boards}, alike"),
            };
            let from = match sheet.source {
                Source::New => String::new(),
                Source::InHand(at) => job
                    .boards
                    .get(at.0)
                    .map_or(String::new(), |b| format!(" ({})", b.id)),
                Source::LeftOver(layout, board) => reckoned
                    .patterns
                    .get(layout)
                    .and_then(|l| l.boards.get(board))
                    .map_or(String::new(), |b| format!(" (left over of {})", b.name)),
            };
            let (long, wide) = sheet.size;
            scene.title = format!("{mark}, {which}: {name}{from}, {long} \u{d7} {wide}");
            scene.listed = format!("{mark}, {name}");
            let grain = if grain {
                " The grain runs along it."
            } else {
                ""
            };
            scene.alt = format!(
                "{}. A board {} by {}, cut into {}.{grain}",
                scene.title,
                sheet.size.0,
                sheet.size.1,
                super::told::count(sheet.blanks.len(), "blank", "blanks")
            );
            all.push(scene);
        }
    }
    all
}

fn rect(area: SheetArea) -> Rect {
    let (low, high) = (
        up(area.along.0.in_mm(), area.across.1.in_mm()),
        up(area.along.1.in_mm(), area.across.0.in_mm()),
    );
    Rect::new(low.x, low.y, high.x, high.y)
}

/// Whether words go into an area, one way or turned, where it is at least so narrow.
fn holds(area: Rect, least: f64, words: &[String]) -> bool {
    let (short, long) = (
        area.width().min(area.height()),
        area.width().max(area.height()),
    );
    let cap = Lettering::Normal.cap_mm();
    let wide = |w: &String| lettering::width_mm(w, cap, false) * SCALE + CLEAR_MM <= long;
    short >= least && words.iter().all(wide)
}

fn one(reckoned: &Reckoned, sheet: &CutSheet) -> Scene {
    let mut pen = Pen::default();
    let whole = rect(SheetArea {
        along: (Length::ZERO, sheet.size.0),
        across: (Length::ZERO, sheet.size.1),
    });
    pen.rect(Role::Cut, Fill::White, whole);
    for area in &sheet.offcuts {
        let area = rect(*area);
        pen.rect(Role::Fine, Fill::Tint, area);
        let size = |mm: f64| format!("{:.0}", mm.floor());
        let size = format!("{} \u{d7} {}", size(area.width()), size(area.height()));
        let words = vec!["keep".to_owned(), size];
        let (minor, frame) = (Lettering::Minor, LabelFrame::None);
        pen.label(area.centre(), words, minor, frame, Some(area), 3);
    }
    let mut small: Vec<usize> = Vec::new();
    for blank in &sheet.blanks {
        let area = rect(blank.at);
        pen.rect(Role::Edge, Fill::White, area);
        let (mark, size) = (reckoned.quantities.mark(blank.part), size(reckoned, blank));
        let ways = [
            (LOW_MM, vec![mark.clone(), size.clone()]),
            (NARROW_MM, vec![format!("{mark}: {size}")]),
        ];
        let words = ways
            .into_iter()
            .find(|(least, words)| holds(area, *least, words));
        let (letters, words) = match words {
            Some((_, words)) => (Lettering::Normal, words),
            None => {
                if !small.contains(&blank.part) {
                    small.push(blank.part);
                }
                if area.width().min(area.height()) < STRIP_MM {
                    beside(&mut pen, area, whole, mark);
                    continue;
                }
                (Lettering::Minor, vec![mark])
            }
        };
        let frame = LabelFrame::None;
        pen.label(area.centre(), words, letters, frame, Some(area), 1);
    }
    for part in small {
        let of_it = || sheet.blanks.iter().filter(|b| b.part == part);
        let many = match of_it().count() {
            1 => String::new(),
            n => format!(", {n} of them"),
        };
        let mark = reckoned.quantities.mark(part);
        let size = of_it().next().map(|blank| size(reckoned, blank));
        let text = format!("{mark}: {}{many}", size.unwrap_or_default());
        pen.scene.under.push(text);
    }
    let mut scene = pen.scene;
    if scene.marks.iter().any(|m| m.fill == Fill::Tint) {
        let sample = LegendSample::Area(Fill::Tint);
        scene.legend = vec![legend(sample, KEEP)];
    }
    scene
}

/// What is kept, on these drawings and on those of patterns.
pub const KEEP: &str = "keep: left over, its size as it comes off the saw";

/// At the foot of each sheet: what its figures are.
pub fn notes(job: &Job) -> Vec<String> {
    let cutter = job.cutter;
    vec![
        format!(
            "Sizes in blanks are finished ones, the part's length first: each is sawn {} larger both ways, for \
             a trim of {} at every edge.",
            mm(cutter.trim * 2),
            mm(cutter.trim)
        ),
        format!(
            "The saw takes {}; {} comes off every edge of a new board.",
            mm(cutter.kerf),
            mm(cutter.edge)
        ),
        "The grain, where a board has one, runs along it: here from left to right.".to_owned(),
    ]
}

pub(super) fn mm(length: Length) -> String {
    format!("{length}\u{a0}mm")
}

/// The mark of a strip too narrow for it: outside, at the end nearer to the edge of the board.
fn beside(pen: &mut Pen, area: Rect, whole: Rect, mark: String) {
    let left = area.x0 - whole.x0 <= whole.x1 - area.x1;
    let aside = FROM_END_MM.min(area.width() / 2.0);
    let x = match left {
        true => area.x0 + aside,
        false => area.x1 - aside,
    };
    pen.scene.callouts.push(Callout {
        target: Pt::new(x, area.centre().y),
        text: mark,
        balloon: None,
        aside: true,
    });
}

/// Finished, the part's length first.
fn size(reckoned: &Reckoned, blank: &SheetBlank) -> String {
    let part = reckoned.quantities.parts.get(blank.part);
    part.map_or(String::new(), |p| {
        format!("{} \u{d7} {}", p.length, p.width)
    })
}
