//! What the job takes: parts, boards by area and by a cutting layout, edge bands, finishes. Knows what
//! is placed; must not know prices, nor how a layout is drawn.
//!
//! Handbook §6.

pub mod cutting;
pub mod guillotine;
pub mod parts;
pub mod stock;

#[cfg(test)]
mod tests;

use std::fmt;

use rayon::prelude::*;

use cutting::Layout;
use parts::{Part, Placed};

use crate::resolve::job::{FinishRef, MaterialRef};
use crate::units::Length;

/// Added to the edge band that is counted (handbook §6, C), %.
pub const BAND_MORE: i64 = 10;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quantities {
    pub parts: Vec<Part>,
    /// One for each material in use, in the order of the job's.
    pub boards: Vec<BoardQuantity>,
    pub bands: Vec<BandQuantity>,
    pub finishes: Vec<FinishQuantity>,
}

impl Quantities {
    /// What the boards of one material are called in lists and on drawings: a, b … z, aa …
    pub fn letter(&self, board: usize) -> String {
        let of = |n: usize| char::from(b'a' + u8::try_from(n % 26).unwrap_or(0));
        match board / 26 {
            0 => of(board).to_string(),
            more => format!("{}{}", of(more - 1), of(board)),
        }
    }

    /// What a part is called: the letter of its material and its number among them.
    pub fn mark(&self, part: usize) -> String {
        let Some(of) = self.parts.get(part).map(|p| p.material) else {
            return String::new();
        };
        let board = self.boards.iter().position(|b| b.material == of);
        let first = self.parts.iter().position(|p| p.material == of);
        let number = part.saturating_sub(first.unwrap_or(part)) + 1;
        format!("{}{number}", self.letter(board.unwrap_or(0)))
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct BoardQuantity {
    pub material: MaterialRef,
    /// Finished area of all parts but those of a pattern.
    pub parts: Surface,
    /// Of the boards cut up for them; nothing where the board's size is not given.
    pub cut_up: Surface,
    /// `None`: the size of the board is not given, or all of it is a pattern's.
    pub layout: Option<Layout>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandQuantity {
    pub material: MaterialRef,
    /// As counted, and with what is added.
    pub counted: Length,
    pub wanted: Length,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FinishQuantity {
    pub finish: FinishRef,
    /// Both faces and the edges of what carries it, once.
    pub area: Surface,
    /// For all its coats.
    pub volume: Volume,
}

/// An edge to be bought: metres to a tenth, upwards.
pub fn metres(length: Length) -> String {
    let tenths = length.in_um().saturating_add(99_999) / 100_000;
    format!("{}.{} m", tenths / 10, tenths % 10)
}

/// An area in whole mm². Prints in m² to two decimals.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Surface(i64);

impl Surface {
    pub fn of(a: Length, b: Length) -> Surface {
        let um2 = i128::from(a.in_um().max(0)) * i128::from(b.in_um().max(0));
        Surface(i64::try_from((um2 + 500_000) / 1_000_000).unwrap_or(i64::MAX))
    }

    pub const fn mm2(mm2: i64) -> Surface {
        Surface(mm2)
    }

    pub fn times(self, n: u32) -> Surface {
        Surface(self.0.saturating_mul(i64::from(n)))
    }

    pub fn plus(self, other: Surface) -> Surface {
        Surface(self.0.saturating_add(other.0))
    }

    pub const fn in_mm2(self) -> i64 {
        self.0
    }

    /// Tenths of a percent that it is of another.
    pub fn per_mille(self, of: Surface) -> Option<i64> {
        let part = i128::from(self.0) * 1000;
        let whole = i128::from(of.0);
        (whole > 0).then(|| i64::try_from((part + whole / 2) / whole).unwrap_or(i64::MAX))
    }
}

impl fmt::Display for Surface {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = self.0.saturating_add(5_000) / 10_000;
        write!(f, "{}.{:02}", hundredths / 100, hundredths % 100)
    }
}

/// A volume in whole millilitres. Prints in litres, up to the next tenth.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Volume(i64);

impl Volume {
    /// Σ area·coats/coverage (handbook §6); `coverage` in m² for each litre and coat.
    pub fn of_coats(area: Surface, coats: u32, coverage: u32) -> Volume {
        let coverage = i128::from(coverage.max(1));
        let whole = i128::from(area.0) * i128::from(coats);
        let ml = (whole + coverage * 1000 - 1) / (coverage * 1000);
        Volume(i64::try_from(ml).unwrap_or(i64::MAX))
    }

    pub const fn ml(ml: i64) -> Volume {
        Volume(ml)
    }

    pub const fn in_ml(self) -> i64 {
        self.0
    }
}

impl fmt::Display for Volume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = self.0.saturating_add(99) / 100;
        write!(f, "{}.{}", tenths / 10, tenths % 10)
    }
}

/// Counts everything; each material is laid out by itself, side by side.
pub fn quantities(placed: &Placed) -> Quantities {
    let job = placed.job;
    let parts = parts::parts(placed);
    let mut used: Vec<MaterialRef> = parts.iter().map(|p| p.material).collect();
    used.dedup();
    let boards = used
        .par_iter()
        .map(|of| board(placed, &parts, *of))
        .collect();
    let bands = used.iter().filter_map(|of| {
        let said = job.materials.get(of.0)?.edge.trim();
        let counted = band(&parts, *of);
        (!said.is_empty() && counted > Length::ZERO).then(|| BandQuantity {
            material: *of,
            counted,
            wanted: counted.scale(100 + BAND_MORE, 100),
        })
    });
    Quantities {
        bands: bands.collect(),
        finishes: finishes(placed, &parts),
        boards,
        parts,
    }
}

fn board(placed: &Placed, parts: &[Part], of: MaterialRef) -> BoardQuantity {
    let own = || parts.iter().filter(|p| p.material == of && !p.by_pattern);
    let area = own()
        .map(|p| Surface::of(p.length, p.width).times(p.count()))
        .fold(Surface::default(), Surface::plus);
    let layout = own()
        .next()
        .and_then(|_| cutting::layout(placed.job, placed.patterns, parts, of));
    let sheets = layout.iter().flat_map(|l| &l.sheets);
    let cut_up = sheets
        .map(|s| Surface::of(s.size.0, s.size.1).times(s.count))
        .fold(Surface::default(), Surface::plus);
    BoardQuantity {
        material: of,
        parts: area,
        cut_up,
        layout,
    }
}

fn band(parts: &[Part], of: MaterialRef) -> Length {
    let edges = parts.iter().filter(|p| p.material == of).map(|p| {
        let one = p.length.in_um().saturating_mul(i64::from(p.banded.long));
        let other = p.width.in_um().saturating_mul(i64::from(p.banded.short));
        one.saturating_add(other)
            .saturating_mul(i64::from(p.count()))
    });
    Length::um(edges.fold(0, i64::saturating_add).min(i64::MAX / 1000))
}

fn finishes(placed: &Placed, parts: &[Part]) -> Vec<FinishQuantity> {
    let job = placed.job;
    let each = job.finishes.iter().enumerate();
    each.filter_map(|(n, finish)| {
        let of = FinishRef(n);
        let area = parts
            .iter()
            .filter(|p| p.finish == Some(of))
            .map(|p| {
                let thick = job.materials.get(p.material.0).map(|m| m.thickness);
                let round = (p.length + p.width) * 2;
                Surface::of(p.length, p.width)
                    .times(2)
                    .plus(Surface::of(round, thick.unwrap_or_default()))
                    .times(p.count())
            })
            .fold(Surface::default(), Surface::plus);
        (area > Surface::default()).then(|| FinishQuantity {
            finish: of,
            area,
            volume: Volume::of_coats(area, finish.coats, finish.coverage),
        })
    })
    .collect()
}
