//! Maps of a pattern for whoever cuts and hangs it: the wall with the board and place of each front,
//! and each board with its blanks. Knows layouts of patterns; must not know paper, nor lay out one.

mod boards;
mod wall;

pub use boards::boards;
pub use wall::wall;

use super::file_word;
use crate::draw::scene::{LegendItem, LegendSample};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::WallRef;

/// Walls on which fronts of a layout hang, in order.
pub fn walls(reckoned: &Reckoned, layout: usize) -> Vec<WallRef> {
    let Some(layout) = reckoned.patterns.get(layout) else {
        return Vec::new();
    };
    let fronts = layout.blanks.iter();
    let mut walls: Vec<WallRef> = fronts
        .filter_map(|b| reckoned.fronts.get(b.front).map(|f| f.wall))
        .collect();
    walls.sort();
    walls.dedup();
    walls
}

pub(super) fn legend(sample: LegendSample, text: impl Into<String>) -> LegendItem {
    LegendItem {
        sample,
        text: text.into(),
    }
}
