//! Boards as they are cut up: blanks with their marks and sizes, what is left and worth keeping. Knows
//! one layout a material; must not know how it was found.

use super::pattern::legend;
use super::pen::{Pen, up};
use crate::draw::scene::{Fill, LabelFrame, LegendSample, Lettering, Rect, Role, Scene};
use crate::reckon::placed::Reckoned;
use crate::reckon::quantities::cutting::{CutSheet, SheetArea, SheetBlank};
use crate::reckon::quantities::stock::Source;
use crate::resolve::job::{Grain, Job};
use crate::units::Length;

/// A blank narrower than this is told of in the margin: its words would not go into it, mm.
const NARROW_MM: f64 = 75.0;
/// On one narrower than this mark and size stand on one line, mm.
const LOW_MM: f64 = 150.0;

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
    let mut narrow: Vec<(usize, usize)> = Vec::new();
    for (n, blank) in sheet.blanks.iter().enumerate() {
        let area = rect(blank.at);
        pen.rect(Role::Edge, Fill::White, area);
        if area.width().min(area.height()) < NARROW_MM {
            match narrow.iter_mut().find(|(part, _)| *part == blank.part) {
                Some(_) => {}
                None => narrow.push((blank.part, n)),
            }
            continue;
        }
        let (mark, size) = (reckoned.quantities.mark(blank.part), size(reckoned, blank));
        let words = match area.width().min(area.height()) < LOW_MM {
            true => vec![format!("{mark}: {size}")],
            false => vec![mark, size],
        };
        let (letters, frame) = (Lettering::Normal, LabelFrame::None);
        pen.label(area.centre(), words, letters, frame, Some(area), 1);
    }
    for (part, first) in narrow {
        let Some(blank) = sheet.blanks.get(first) else {
            continue;
        };
        let count = sheet.blanks.iter().filter(|b| b.part == part).count();
        let many = match count {
            1 => String::new(),
            n => format!(", {n} of them"),
        };
        let mark = reckoned.quantities.mark(part);
        let text = format!("{mark}: {}{many}", size(reckoned, blank));
        pen.callout(rect(blank.at).centre(), text);
    }
    let mut scene = pen.scene;
    if scene.marks.iter().any(|m| m.fill == Fill::Tint) {
        let sample = LegendSample::Area(Fill::Tint);
        scene.legend = vec![legend(sample, "left over, worth keeping")];
    }
    scene
}

/// Finished, the part's length first.
fn size(reckoned: &Reckoned, blank: &SheetBlank) -> String {
    let part = reckoned.quantities.parts.get(blank.part);
    part.map_or(String::new(), |p| {
        format!("{} \u{d7} {}", p.length, p.width)
    })
}
