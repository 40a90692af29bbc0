//! Boards as they may be cut up: new ones, those in hand that no pattern needs, and what a pattern
//! leaves over. Knows sheets, edges and trims; must not know parts.

use super::super::pattern::layout::PatternLayout;
use super::guillotine::Stock;
use crate::resolve::job::{BoardRef, Cutter, Grain, Job, Material, MaterialRef};
use crate::units::Length;

/// A board as bought and what of it may be cut up: along the grain, and across it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    pub size: (Length, Length),
    pub from: (Length, Length),
    pub usable: (Length, Length),
    trim: Length,
}

impl Sheet {
    fn new(size: (Length, Length), cutter: Cutter, ends: (Length, Length)) -> Sheet {
        let (start, end) = (cutter.edge.max(ends.0), cutter.edge.max(ends.1));
        Sheet {
            size,
            from: (start, cutter.edge),
            usable: (size.0 - start - end, size.1 - cutter.edge * 2),
            trim: cutter.trim,
        }
    }

    /// The longest finished part.
    pub fn longest(&self) -> Length {
        self.usable.0 - self.trim * 2
    }

    pub fn stock(&self) -> Stock {
        Stock {
            along: self.usable.0.in_um().max(0) / TENTH,
            across: self.usable.1.in_um().max(0) / TENTH,
        }
    }
}

/// Cutting is reckoned in tenths of a millimetre, blanks rounded up and boards down.
pub const TENTH: i64 = 100;

/// A finished size as its blank is cut: with a trim at each edge.
pub fn blank(size: Length, cutter: Cutter) -> i64 {
    (size + cutter.trim * 2).in_um().saturating_add(TENTH - 1) / TENTH
}

/// Where a board that is cut up comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    New,
    InHand(BoardRef),
    /// Left over by a pattern: index of the layout, and of its board.
    LeftOver(usize, usize),
}

fn with_grain(material: &Material, (length, width): (Length, Length)) -> (Length, Length) {
    match material.grain {
        Grain::Width => (width, length),
        Grain::Length | Grain::None => (length, width),
    }
}

/// A new board; `None` where its size is not given.
pub fn of(job: &Job, material: &Material) -> Option<Sheet> {
    let none = (Length::ZERO, Length::ZERO);
    let size = with_grain(material, material.sheet?);
    Some(Sheet::new(size, job.cutter, none))
}

/// Boards in hand without flaws that no pattern is cut from, and what the patterns leave over.
pub fn in_hand(
    job: &Job,
    patterns: &[PatternLayout],
    of: MaterialRef,
    material: &Material,
) -> Vec<(Source, Sheet)> {
    let mut all = Vec::new();
    for (n, layout) in patterns.iter().enumerate() {
        if layout.material != of {
            continue;
        }
        for (b, board) in layout.boards.iter().enumerate() {
            for area in &board.offcuts {
                if board.avoid.iter().any(|(flaw, _)| flaw.meets(*area)) {
                    continue;
                }
                // Round it lies the trim of the fronts that might have been.
                let more = job.cutter.trim * 2;
                let (up, across) = (area.height() + more, area.width() + more);
                let usable = match material.grain {
                    Grain::Width => (across, up),
                    Grain::Length | Grain::None => (up, across),
                };
                let sheet = Sheet {
                    size: usable,
                    from: (Length::ZERO, Length::ZERO),
                    usable,
                    trim: job.cutter.trim,
                };
                all.push((Source::LeftOver(n, b), sheet));
            }
        }
    }
    for (n, board) in job.boards.iter().enumerate() {
        let at = Some(BoardRef(n));
        let taken = patterns
            .iter()
            .flat_map(|l| &l.boards)
            .any(|b| b.in_hand == at);
        if board.material != of || taken || !board.avoid.is_empty() {
            continue;
        }
        let size = with_grain(material, board.sheet);
        // The ends are those of its length.
        let ends = match material.grain {
            Grain::Width => (Length::ZERO, Length::ZERO),
            Grain::Length | Grain::None => board.ends_off,
        };
        all.push((
            Source::InHand(BoardRef(n)),
            Sheet::new(size, job.cutter, ends),
        ));
    }
    all
}
