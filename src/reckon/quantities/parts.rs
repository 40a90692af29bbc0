//! Every part that is cut from a board, with its size, its grain and the edges to be banded. Knows
//! what units, runs and loose pieces are made of; must not know boards as bought, nor how parts are
//! cut from them.

use std::collections::BTreeMap;

use super::super::drawers;
use super::super::ends::SCRIBE_ALLOWANCE;
use super::super::pattern::layout::PatternLayout;
use super::super::placed::{
    PieceKind, PlacedFront, PlacedPanel, PlacedRun, PlacedSliding, PlacedUnit, PlacedWorktop,
};
use crate::resolve::job::{
    FinishRef, FrontKind, Grain, Job, MaterialRef, PanelKind, Run, Unit, Worktop,
};
use crate::units::Length;

/// What a movable shelf is cut narrower than the clear width (common practice, no source).
pub const SHELF_EASE: Length = Length::mm(2);
/// Beyond this no list is read: a hostile file's slats.
const MOST: u32 = 100_000;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartKind {
    Side,
    Bottom,
    Top,
    Divider,
    FixedShelf,
    Shelf,
    Lipping,
    Back,
    BoxSide,
    BoxEnd,
    BoxBottom,
    Door,
    DrawerFront,
    Flap,
    FixedFront,
    EndPanel,
    Filler,
    Scribe,
    Plinth,
    Panel,
    Slat,
    SlidingDoor,
    Worktop,
    Upstand,
    BuildUp,
}

impl PartKind {
    /// Counted by the front's number.
    pub const FRONTS: [PartKind; 4] = [
        PartKind::Door,
        PartKind::DrawerFront,
        PartKind::Flap,
        PartKind::FixedFront,
    ];

    /// As lists and findings call it.
    pub fn name(self) -> &'static str {
        match self {
            PartKind::Side => "side",
            PartKind::Bottom => "bottom",
            PartKind::Top => "top",
            PartKind::Divider => "upright",
            PartKind::FixedShelf => "fixed shelf",
            PartKind::Shelf => "shelf",
            PartKind::Lipping => "lipping",
            PartKind::Back => "back",
            PartKind::BoxSide => "drawer side",
            PartKind::BoxEnd => "drawer end",
            PartKind::BoxBottom => "drawer bottom",
            PartKind::Door => "door",
            PartKind::DrawerFront => "drawer front",
            PartKind::Flap => "flap",
            PartKind::FixedFront => "fixed panel",
            PartKind::EndPanel => "end panel",
            PartKind::Filler => "filler",
            PartKind::Scribe => "scribe",
            PartKind::Plinth => "plinth",
            PartKind::Panel => "panel",
            PartKind::Slat => "slat",
            PartKind::SlidingDoor => "sliding door",
            PartKind::Worktop => "worktop",
            PartKind::Upstand => "upstand",
            PartKind::BuildUp => "edge build-up",
        }
    }
}

/// How many edges are banded: along the length, and along the width.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Banded {
    pub long: u8,
    pub short: u8,
}

/// Parts that are alike in all but what they are for.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub kind: PartKind,
    pub material: MaterialRef,
    /// Finished size: along the grain, and across it; of a board without grain the longer first.
    pub length: Length,
    pub width: Length,
    pub banded: Banded,
    pub finish: Option<FinishRef>,
    /// Its place on a board is the pattern's.
    pub by_pattern: bool,
    /// Unit, run or piece by its id, a front by its number; and how many for it.
    pub of: Vec<(String, u32)>,
}

impl Part {
    pub fn count(&self) -> u32 {
        let all = self.of.iter().map(|(_, n)| *n);
        all.fold(0, u32::saturating_add)
    }
}

/// All that is placed.
pub struct Placed<'a> {
    pub job: &'a Job,
    pub runs: &'a [PlacedRun],
    pub fronts: &'a [PlacedFront],
    pub panels: &'a [PlacedPanel],
    pub sliding: &'a [PlacedSliding],
    pub worktops: &'a [PlacedWorktop],
    pub patterns: &'a [PatternLayout],
    /// What patterns run over besides fronts.
    pub pattern_pieces: &'a [PlacedFront],
}

/// In the order of the materials; those of one material by kind, the largest first.
pub fn parts(placed: &Placed) -> Vec<Part> {
    let mut list = List::new(placed);
    for (run, at) in placed.job.runs.iter().zip(placed.runs) {
        for (unit, put) in run.units.iter().zip(&at.units) {
            list.unit(unit, put);
            list.boxes(put);
        }
        list.strips(run, at);
    }
    list.fronts();
    list.loose();
    list.sorted()
}

type Key = (
    MaterialRef,
    PartKind,
    std::cmp::Reverse<(Length, Length)>,
    Banded,
    Option<FinishRef>,
    bool,
);

struct List<'a> {
    placed: &'a Placed<'a>,
    found: BTreeMap<Key, Vec<(String, u32)>>,
    /// What the fronts of each material are finished with, where all are alike.
    finishes: Vec<Option<FinishRef>>,
}

impl<'a> List<'a> {
    fn new(placed: &'a Placed<'a>) -> List<'a> {
        let finishes = (0..placed.job.materials.len()).map(|m| {
            let of_it = placed.fronts.iter();
            let mut all = of_it
                .filter(|f| f.style.material.0 == m)
                .map(|f| f.style.finish);
            let first = all.next().flatten();
            first.filter(|_| all.all(|f| f == first))
        });
        List {
            placed,
            found: BTreeMap::new(),
            finishes: finishes.collect(),
        }
    }

    /// `along` the grain and across it; `banded` edges along and across alike.
    fn add(&mut self, what: Add) {
        if what.along <= Length::ZERO || what.across <= Length::ZERO || what.count == 0 {
            return;
        }
        let grain = self.placed.job.materials.get(what.material.0);
        let plain = grain.is_none_or(|m| m.grain == Grain::None);
        let turn = plain && what.across > what.along;
        let (length, width, banded) = match turn {
            false => (what.along, what.across, what.banded),
            true => (
                what.across,
                what.along,
                Banded {
                    long: what.banded.short,
                    short: what.banded.long,
                },
            ),
        };
        let size = std::cmp::Reverse((length, width));
        let key = (
            what.material,
            what.kind,
            size,
            banded,
            what.finish,
            what.by_pattern,
        );
        let of = self.found.entry(key).or_default();
        match of.iter_mut().find(|(id, _)| *id == what.of) {
            Some((_, n)) => *n = n.saturating_add(what.count),
            None => of.push((what.of, what.count)),
        }
    }

    /// Sides the full height; bottom and top between them; all of them, dividers and shelves too, before
    /// the back, which is laid on behind over the whole outline.
    fn unit(&mut self, unit: &Unit, put: &PlacedUnit) {
        let height = put.height();
        let clear = height - put.board * 2;
        let between = put.width() - put.board * 2;
        let inner = put.depth - put.back;
        let of = |kind, along, across, count| Add {
            banded: FRONT_EDGE,
            ..Add::plain(kind, unit.carcass, (along, across), &unit.id, count)
        };
        self.add(of(PartKind::Side, height, inner, 2));
        self.add(of(PartKind::Bottom, between, inner, 1));
        self.add(of(PartKind::Top, between, inner, 1));
        let dividers = u32::try_from(put.bays.len().saturating_sub(1)).unwrap_or(0);
        self.add(of(PartKind::Divider, clear, inner, dividers));
        for (n, bay) in put.bays.iter().enumerate() {
            let width = bay.right - bay.left;
            let count = |fixed: bool| {
                let shelves = bay.shelves.iter().filter(|s| s.fixed == fixed);
                u32::try_from(shelves.count()).unwrap_or(MOST)
            };
            self.add(of(PartKind::FixedShelf, width, inner, count(true)));
            self.add(of(PartKind::Shelf, width - SHELF_EASE, inner, count(false)));
            let lipping = unit.bays.get(n).map_or(Length::ZERO, |b| b.lipping);
            self.add(of(PartKind::Lipping, width, lipping, count(true)));
            self.add(of(
                PartKind::Lipping,
                width - SHELF_EASE,
                lipping,
                count(false),
            ));
        }
        if let Some(back) = unit.back {
            let size = (height, put.width());
            self.add(Add::plain(PartKind::Back, back, size, &unit.id, 1));
        }
    }

    /// The edge of a box that is seen is the one at its top.
    fn boxes(&mut self, put: &PlacedUnit) {
        for made in &put.boxes {
            for (kind, of, along, across, count) in drawers::parts(self.placed.job, made) {
                let banded = match kind {
                    PartKind::BoxBottom => NONE,
                    _ => FRONT_EDGE,
                };
                self.add(Add {
                    banded,
                    ..Add::plain(kind, of, (along, across), &put.id, count)
                });
            }
        }
    }

    /// End panels, fillers and scribes upright, plinths along the run.
    fn strips(&mut self, run: &Run, at: &PlacedRun) {
        let deep = at.depth_over_fronts();
        for piece in &at.pieces {
            let high = piece.top - piece.bottom;
            let (kind, width, banded) = match piece.kind {
                PieceKind::EndPanel => (PartKind::EndPanel, deep, FRONT_EDGE),
                PieceKind::Filler => (PartKind::Filler, piece.right - piece.left, NONE),
                PieceKind::Scribe => (PartKind::Scribe, piece.blank, NONE),
            };
            let what = match piece.kind {
                PieceKind::EndPanel => "panel",
                PieceKind::Filler | PieceKind::Scribe => "filler",
            };
            let id = format!("{} {} {what}", run.id, piece.side.word());
            self.add(Add {
                banded,
                finish: self.finish_of(piece.material),
                by_pattern: piece.kind != PieceKind::Scribe && self.piece_by_pattern(&id),
                ..Add::plain(kind, piece.material, (high, width), &run.id, 1)
            });
        }
        for plinth in &at.plinths {
            let lowest = at.floor_low.min(plinth.top);
            let high = plinth.top - lowest + SCRIBE_ALLOWANCE;
            let material = run.plinth_material;
            for length in lengths(self.placed.job, material, plinth.right - plinth.left) {
                self.add(Add {
                    finish: self.finish_of(material),
                    ..Add::plain(PartKind::Plinth, material, (length, high), &run.id, 1)
                });
            }
        }
    }

    /// Whether a pattern's layout has a place for a piece that is no front.
    fn piece_by_pattern(&self, id: &str) -> bool {
        let pieces = self.placed.pattern_pieces.iter();
        let mut at = pieces.enumerate().filter(|(_, p)| p.id == id);
        let first = self.placed.fronts.len();
        at.any(|(n, _)| self.is_laid_out(first + n))
    }

    fn is_laid_out(&self, face: usize) -> bool {
        let mut layouts = self.placed.patterns.iter();
        layouts.any(|l| l.blank_of(face).is_some())
    }

    fn finish_of(&self, material: MaterialRef) -> Option<FinishRef> {
        self.finishes.get(material.0).copied().flatten()
    }

    fn fronts(&mut self) {
        for (n, front) in self.placed.fronts.iter().enumerate() {
            let kind = match front.kind {
                FrontKind::Door => PartKind::Door,
                FrontKind::Drawer => PartKind::DrawerFront,
                FrontKind::Flap => PartKind::Flap,
                FrontKind::Fixed => PartKind::FixedFront,
                FrontKind::Open => continue,
            };
            let by_pattern = self.is_laid_out(n);
            let number = front.number.to_string();
            let size = (front.height(), front.width());
            self.add(Add {
                banded: ALL_ROUND,
                finish: front.style.finish,
                by_pattern,
                ..Add::plain(kind, front.style.material, size, &number, 1)
            });
        }
    }

    fn loose(&mut self) {
        let job = self.placed.job;
        for (made, at) in job.panels.iter().zip(self.placed.panels) {
            let Some((left, right)) = at.pieces.first() else {
                continue;
            };
            let count = u32::try_from(at.pieces.len()).unwrap_or(MOST).min(MOST);
            let (kind, banded) = match made.kind {
                PanelKind::Slats => (PartKind::Slat, LONG_EDGES),
                PanelKind::Panelling | PanelKind::BedFront => (PartKind::Panel, ALL_ROUND),
            };
            let size = (at.top - at.bottom, *right - *left);
            // A pattern has all pieces of a panel, or none.
            let one = [made.id.clone(), format!("{} 1", made.id)];
            self.add(Add {
                banded,
                by_pattern: one.iter().any(|id| self.piece_by_pattern(id)),
                finish: made.finish,
                ..Add::plain(kind, made.material, size, &made.id, count)
            });
        }
        for (made, at) in job.sliding.iter().zip(self.placed.sliding) {
            let size = (at.top - at.bottom, at.right - at.left);
            self.add(Add {
                banded: ALL_ROUND,
                finish: made.finish,
                ..Add::plain(PartKind::SlidingDoor, made.material, size, &made.id, 1)
            });
        }
        for (made, at) in job.worktops.iter().zip(self.placed.worktops) {
            self.worktop(made, at);
        }
    }

    /// The slab before anything is cut out of it, its upstand, and the strips its edge is built up of.
    fn worktop(&mut self, made: &Worktop, at: &PlacedWorktop) {
        let long = at.right - at.left;
        let mut add = |kind, width, count| {
            self.add(Add {
                finish: made.finish,
                ..Add::plain(kind, made.material, (long, width), &made.id, count)
            });
        };
        add(PartKind::Worktop, at.y_front - at.y_back, 1);
        add(PartKind::Upstand, made.upstand, 1);
        let Some(strips) = &at.built_up else { return };
        let job = self.placed.job;
        let all = strips.lengths.iter();
        for long in all.flat_map(|l| lengths(job, made.material, *l)) {
            let size = (long, strips.width);
            self.add(Add {
                finish: made.finish,
                ..Add::plain(
                    PartKind::BuildUp,
                    made.material,
                    size,
                    &made.id,
                    strips.count,
                )
            });
        }
    }

    fn sorted(self) -> Vec<Part> {
        let each = self.found.into_iter();
        each.map(|(key, of)| Part {
            material: key.0,
            kind: key.1,
            length: key.2.0.0,
            width: key.2.0.1,
            banded: key.3,
            finish: key.4,
            by_pattern: key.5,
            of,
        })
        .collect()
    }
}

trait DivCeilBy {
    fn div_ceil_by(self, by: i64) -> u32;
}

impl DivCeilBy for i64 {
    fn div_ceil_by(self, by: i64) -> u32 {
        let by = by.max(1);
        u32::try_from((self + by - 1) / by)
            .unwrap_or(MOST)
            .min(MOST)
    }
}

const NONE: Banded = Banded { long: 0, short: 0 };
const FRONT_EDGE: Banded = Banded { long: 1, short: 0 };
const LONG_EDGES: Banded = Banded { long: 2, short: 0 };
const ALL_ROUND: Banded = Banded { long: 2, short: 2 };

struct Add {
    kind: PartKind,
    material: MaterialRef,
    along: Length,
    across: Length,
    banded: Banded,
    finish: Option<FinishRef>,
    by_pattern: bool,
    of: String,
    count: u32,
}

impl Add {
    fn plain(
        kind: PartKind,
        material: MaterialRef,
        (along, across): (Length, Length),
        of: &str,
        count: u32,
    ) -> Add {
        Add {
            kind,
            material,
            along,
            across,
            banded: NONE,
            finish: None,
            by_pattern: false,
            of: of.to_owned(),
            count,
        }
    }
}

/// The lengths that a strip of a material is cut in, where its boards are too short for it.
pub fn lengths(job: &Job, material: MaterialRef, length: Length) -> Vec<Length> {
    let sheet = job
        .materials
        .get(material.0)
        .and_then(|m| super::stock::of(job, m));
    joined(length, sheet.map_or(Length::ZERO, |s| s.longest()))
}

/// A length that may be joined, in as few pieces as do, of half-millimetres as equal as may be.
fn joined(length: Length, longest: Length) -> Vec<Length> {
    if longest <= Length::ZERO || length <= longest {
        return vec![length];
    }
    let pieces = length.in_um().div_ceil_by(longest.in_um());
    let count = i64::from(pieces.min(1000));
    let each = (length / count).floor_to(Length::um(500));
    let mut all = vec![each; usize::try_from(count - 1).unwrap_or(0)];
    all.push(length - each * (count - 1));
    // What rounding leaves over must not make the last one too long.
    match all.last().is_some_and(|l| *l <= longest) {
        true => all,
        false => vec![length],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 4463 over 2776: two of 2231.5.
    #[test]
    fn a_long_plinth_is_joined_of_equal_lengths() {
        let mm = Length::mm;
        assert_eq!(joined(mm(4463), mm(2776)), vec![Length::um(2_231_500); 2]);
        assert_eq!(joined(mm(2776), mm(2776)), vec![mm(2776)]);
        let three = joined(Length::um(7_000_300), mm(2776));
        assert_eq!(three.len(), 3);
        assert_eq!(three.into_iter().sum::<Length>(), Length::um(7_000_300));
        assert_eq!(joined(mm(100), Length::ZERO), vec![mm(100)]);
    }
}
