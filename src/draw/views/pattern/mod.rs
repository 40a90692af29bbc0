//! Maps of a pattern for whoever cuts and hangs it: the wall with the board and place of each front,
//! and each board with its blanks. Knows layouts of patterns; must not know paper, nor lay out one.

mod boards;
mod wall;

pub use boards::boards;
pub use wall::wall;

use super::cutting::mm;
use super::file_word;
use super::pen::Pen;
use crate::draw::scene::{LabelFrame, LegendItem, LegendSample, Lettering, Pt, Rect};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{Job, WallRef};

/// Walls on which fronts of a layout hang, in order.
pub fn walls(reckoned: &Reckoned, layout: usize) -> Vec<WallRef> {
    let Some(layout) = reckoned.patterns.get(layout) else {
        return Vec::new();
    };
    let fronts = layout.blanks.iter();
    let mut walls: Vec<WallRef> = fronts
        .filter_map(|b| reckoned.face(b.front).map(|f| f.wall))
        .collect();
    walls.sort();
    walls.dedup();
    walls
}

/// At the foot of the sheets of boards: what their figures are.
pub fn notes(job: &Job) -> Vec<String> {
    let cutter = job.cutter;
    vec![
        format!(
            "Sizes are finished ones, figures beside a board say where finished edges lie: each blank is sawn {} \
             larger both ways, for a trim of {} at every edge.",
            mm(cutter.trim * 2),
            mm(cutter.trim)
        ),
        format!("The saw takes {}.", mm(cutter.kerf)),
        "A white strip without a number is too small to keep.".to_owned(),
    ]
}

/// The number of a front in its circle; the name of what is no front in a box.
fn named(pen: &mut Pen, face: &PlacedFront, at: Pt, area: Rect) {
    let (lettering, frame) = match face.number {
        0 => (Lettering::Normal, LabelFrame::Box),
        _ => (Lettering::Strong, LabelFrame::Circle),
    };
    pen.label(at, vec![face.label()], lettering, frame, Some(area), 0);
}

pub(super) fn legend(sample: LegendSample, text: impl Into<String>) -> LegendItem {
    LegendItem {
        sample,
        text: text.into(),
    }
}
