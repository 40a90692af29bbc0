//! The parts of one material laid out on its boards. Knows parts and boards as bought; must not know
//! how a layout is found, nor how it is drawn.

use super::guillotine::{self, Cut, Piece, Rect, Stock};
use super::parts::Part;
use super::stock::{self, Sheet, Source, TENTH};
use crate::reckon::pattern::layout::PatternLayout;
use crate::resolve::job::{Grain, Job, MaterialRef};
use crate::units::Length;

/// One way a board is cut, and how many boards are cut so.
#[derive(Clone, Debug, PartialEq)]
pub struct CutSheet {
    pub source: Source,
    /// Along the grain and across it.
    pub size: (Length, Length),
    pub blanks: Vec<SheetBlank>,
    pub offcuts: Vec<SheetArea>,
    pub count: u32,
}

/// A blank as it is sawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetBlank {
    /// Index into [`Quantities::parts`](super::Quantities::parts).
    pub part: usize,
    pub at: SheetArea,
    /// The part's length lies across the board.
    pub turned: bool,
}

/// From the board's corner: along the grain from, to; across it from, to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SheetArea {
    pub along: (Length, Length),
    pub across: (Length, Length),
}

impl SheetArea {
    pub fn size(self) -> (Length, Length) {
        (self.along.1 - self.along.0, self.across.1 - self.across.0)
    }
}

/// What the parts of a material come to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    /// New boards, at the fewest by area with the saw's cuts, and at the fewest by sizes too.
    pub by_area: usize,
    pub by_size: usize,
    pub sheets: Vec<CutSheet>,
    /// Parts larger than a board: indices.
    pub too_large: Vec<usize>,
}

impl Layout {
    /// Boards to be bought.
    pub fn new_boards(&self) -> u32 {
        let new = self.sheets.iter().filter(|s| s.source == Source::New);
        new.map(|s| s.count).fold(0, u32::saturating_add)
    }
}

/// A part that is not on a pattern's boards already is wanted of its material; `None`: the size of the
/// board is not given.
pub fn layout(
    job: &Job,
    patterns: &[PatternLayout],
    parts: &[Part],
    of: MaterialRef,
) -> Option<Layout> {
    let material = job.materials.get(of.0)?;
    let sheet = stock::of(job, material)?;
    let cutter = job.cutter;
    let turns = material.grain == Grain::None;
    let wanted: Vec<usize> = (0..parts.len())
        .filter(|n| {
            parts
                .get(*n)
                .is_some_and(|p| p.material == of && !p.by_pattern)
        })
        .collect();
    let pieces: Vec<Piece> = wanted
        .iter()
        .filter_map(|n| parts.get(*n))
        .map(|p| Piece {
            along: stock::blank(p.length, cutter),
            across: stock::blank(p.width, cutter),
            turns,
            count: usize::try_from(p.count()).unwrap_or(0),
        })
        .collect();
    let in_hand = stock::in_hand(job, patterns, of, material);
    let stocks: Vec<Stock> = in_hand.iter().map(|(_, s)| s.stock()).collect();
    let kerf = (cutter.kerf.in_um() + TENTH - 1) / TENTH;
    let cuts = guillotine::cut(&pieces, sheet.stock(), &stocks, kerf);
    let on_new = left_for_new(&pieces, &cuts);
    let placed = |n: usize| cuts.iter().flat_map(|c| &c.puts).any(|p| p.piece == n);
    let too_large = (0..pieces.len()).filter(|n| !placed(*n));
    let mut told = Layout {
        by_area: by_area(&on_new, sheet.stock(), kerf),
        by_size: guillotine::least_boards(&on_new, sheet.stock(), kerf),
        sheets: Vec::new(),
        too_large: too_large.filter_map(|n| wanted.get(n).copied()).collect(),
    };
    for cut in cuts {
        let (source, sheet) = match cut.in_hand.and_then(|n| in_hand.get(n)) {
            Some((source, sheet)) => (*source, *sheet),
            None => (Source::New, sheet),
        };
        let one = told_of(&cut, source, &sheet, &wanted, &pieces);
        let same = |s: &&mut CutSheet| {
            s.source == Source::New && source == Source::New && s.blanks == one.blanks
        };
        match told.sheets.iter_mut().find(same) {
            Some(like) => like.count = like.count.saturating_add(1),
            None => told.sheets.push(one),
        }
    }
    Some(told)
}

/// Those cut from new boards.
fn left_for_new(pieces: &[Piece], cuts: &[Cut]) -> Vec<Piece> {
    let count = |n: usize| {
        let new = cuts.iter().filter(|c| c.in_hand.is_none());
        new.flat_map(|c| &c.puts).filter(|p| p.piece == n).count()
    };
    let each = pieces.iter().enumerate();
    each.map(|(n, p)| Piece {
        count: count(n),
        ..*p
    })
    .collect()
}

fn by_area(pieces: &[Piece], board: Stock, kerf: i64) -> usize {
    let wide = |a: i64, b: i64| i128::from(a + kerf) * i128::from(b + kerf);
    let board = wide(board.along, board.across).max(1);
    let all: i128 = pieces
        .iter()
        .map(|p| wide(p.along, p.across) * p.count as i128)
        .sum();
    usize::try_from((all + board - 1) / board).unwrap_or(usize::MAX)
}

fn told_of(
    cut: &Cut,
    source: Source,
    sheet: &Sheet,
    wanted: &[usize],
    pieces: &[Piece],
) -> CutSheet {
    let um = |n: i64| Length::um(n.saturating_mul(TENTH));
    let area = |r: &Rect| SheetArea {
        along: (sheet.from.0 + um(r.x), sheet.from.0 + um(r.x + r.along)),
        across: (sheet.from.1 + um(r.y), sheet.from.1 + um(r.y + r.across)),
    };
    let mut blanks: Vec<SheetBlank> = cut
        .puts
        .iter()
        .filter_map(|put| {
            Some(SheetBlank {
                part: *wanted.get(put.piece)?,
                at: area(&put.at),
                turned: pieces.get(put.piece)?.along != put.at.along,
            })
        })
        .collect();
    blanks.sort_by_key(|b| (b.at, b.part));
    let mut offcuts: Vec<SheetArea> = cut.left.iter().map(area).collect();
    offcuts.retain(|a| {
        let (x, y) = a.size();
        x.min(y) >= KEEP.0 && x.max(y) >= KEEP.1
    });
    offcuts.sort();
    CutSheet {
        source,
        size: sheet.size,
        blanks,
        offcuts,
        count: 1,
    }
}

/// Smaller than this either way is not kept (common practice, no source).
const KEEP: (Length, Length) = (Length::mm(150), Length::mm(300));
