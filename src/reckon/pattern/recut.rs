//! A front is spoiled: where else it can be cut from, and how that will look beside its neighbours. Knows
//! one layout, its offcuts and the boards not yet cut; every other front stays as it is.

use super::layout::{Area, Blank, CutBoard, Joint, PatternLayout};
use super::phase::{next_match, reduced};
use super::{joints, stood};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{BoardRef, Job};
use crate::units::Length;

/// What can be done about a spoiled front.
#[derive(Clone, Debug, PartialEq)]
pub struct Recut {
    /// Index into [`Reckoned::patterns`].
    pub layout: usize,
    pub front: usize,
    /// Where it was cut.
    pub was: Blank,
    /// The best place of each piece in hand that has room, the best of all first.
    pub places: Vec<Replacement>,
    /// Whether a board as bought would hold it.
    pub fits_a_new_board: bool,
}

/// A place to cut it from.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    pub board: String,
    /// Not cut into yet.
    pub whole: bool,
    /// The offcut, or the usable part of a whole board.
    pub piece: Area,
    pub at: Area,
    /// With each neighbour, as they will be.
    pub joints: Vec<Joint>,
}

impl Replacement {
    /// Joints where the pattern does not run on; the farthest step where it does; the plainest
    /// difference of colour, in thousandths.
    pub fn looks(&self) -> (usize, Length, i64) {
        let anew = self.joints.iter().filter(|j| j.jump.is_none()).count();
        let size = |j: &Joint| j.jump.map(|(a, b)| a.abs().max(b.abs()));
        let step = self.joints.iter().filter_map(size).max();
        let colour = self.joints.iter().filter_map(|j| j.colour).max();
        (anew, step.unwrap_or_default(), colour.unwrap_or(0))
    }
}

/// `None` where the front is of no pattern, or its pattern could not be cut.
pub fn recut(job: &Job, reckoned: &Reckoned, front: usize) -> Option<Recut> {
    let mut each = reckoned.patterns.iter().enumerate();
    let (at, layout, was) =
        each.find_map(|(n, layout)| Some((n, layout, *layout.blank_of(front)?)))?;
    let spoiled = Spoiled {
        reckoned,
        layout,
        front: reckoned.face(front)?,
        was,
    };
    let used: Vec<BoardRef> = reckoned
        .patterns
        .iter()
        .flat_map(|l| l.boards.iter().filter_map(|b| b.in_hand))
        .collect();
    let mut places = Vec::new();
    for (n, board) in layout.boards.iter().enumerate() {
        for piece in &board.offcuts {
            places.extend(spoiled.best(&layout.boards, n, (*piece, false)));
        }
    }
    let others = reckoned.patterns.iter().enumerate();
    let others = others.filter(|(n, l)| *n != at && l.material == layout.material);
    for board in others.flat_map(|(_, l)| &l.boards) {
        let mut boards = layout.boards.clone();
        boards.push(board.clone());
        for piece in &board.offcuts {
            places.extend(spoiled.best(&boards, boards.len() - 1, (*piece, false)));
        }
    }
    let (in_hand, _) = stood::boards_in_hand(job, layout.material, &[], &used);
    for board in in_hand {
        let mut boards = layout.boards.clone();
        let piece = board.usable;
        boards.push(board);
        places.extend(spoiled.best(&boards, boards.len() - 1, (piece, true)));
    }
    // As it looks; then offcuts before whole boards, the smallest that will do first.
    let size = |a: Area| i128::from(a.width().in_um()) * i128::from(a.height().in_um());
    places.sort_by_key(|p| (p.looks(), p.whole, size(p.piece)));
    let material = job.materials.get(layout.material.0);
    let bought = material.and_then(|m| stood::to_buy(m, job.cutter, 1));
    let holds = |b: &CutBoard| {
        b.usable.width() >= was.area.width() && b.usable.height() >= was.area.height()
    };
    Some(Recut {
        layout: at,
        front,
        was,
        places,
        fits_a_new_board: bought.as_ref().is_some_and(holds),
    })
}

struct Spoiled<'a> {
    reckoned: &'a Reckoned,
    layout: &'a PatternLayout,
    front: &'a PlacedFront,
    was: Blank,
}

impl Spoiled<'_> {
    /// The place in a piece of `boards[board]` that looks best; of those the first from its lower left.
    fn best(
        &self,
        boards: &[CutBoard],
        board: usize,
        (piece, whole): (Area, bool),
    ) -> Option<Replacement> {
        let from = boards.get(board)?;
        let (wide, high) = (self.was.area.width(), self.was.area.height());
        let mut best: Option<Replacement> = None;
        for left in self.lefts(from, piece) {
            for bottom in self.bottoms(from, piece) {
                let at = Area {
                    left,
                    right: left + wide,
                    bottom,
                    top: bottom + high,
                };
                let inside = at.left >= piece.left
                    && at.bottom >= piece.bottom
                    && at.right <= piece.right
                    && at.top <= piece.top;
                if !inside || from.avoid.iter().any(|(flaw, _)| flaw.meets(at)) {
                    continue;
                }
                let found = Replacement {
                    board: from.name.clone(),
                    whole,
                    piece,
                    at,
                    joints: self.joints(boards, board, at),
                };
                if best.as_ref().is_none_or(|b| found.looks() < b.looks()) {
                    best = Some(found);
                }
            }
        }
        best
    }

    fn joints(&self, boards: &[CutBoard], board: usize, area: Area) -> Vec<Joint> {
        let mut blanks = self.layout.blanks.clone();
        for blank in blanks.iter_mut().filter(|b| b.front == self.was.front) {
            *blank = Blank {
                board,
                area,
                ..*blank
            };
        }
        let (fronts, pieces) = (&self.reckoned.fronts, &self.reckoned.pattern_pieces);
        let fronts = [fronts.as_slice(), pieces.as_slice()].concat();
        let mut all = joints::joints(&fronts, &blanks, boards, self.layout.repeat);
        all.retain(|j| j.first == self.was.front || j.second == self.was.front);
        if self.layout.repeat.is_natural() {
            // From anywhere else on the same board, too, it begins anew.
            for joint in &mut all {
                joint.jump = None;
            }
        }
        all
    }

    /// How far each neighbour's board lies moved against the wall, across and up, from its crest.
    fn moved(&self) -> Vec<(Length, Length)> {
        let ours = self.was.front;
        let beside = self.layout.joints.iter().filter_map(|j| match j {
            j if j.first == ours => Some(j.second),
            j if j.second == ours => Some(j.first),
            _ => None,
        });
        let of = |other: usize| {
            let blank = self.layout.blank_of(other)?;
            let board = self.layout.boards.get(blank.board)?;
            let front = self.reckoned.face(other)?;
            let (across, up) = board.first_crest;
            Some((
                blank.area.left - across - front.left,
                blank.area.bottom - up - front.bottom,
            ))
        };
        beside.filter_map(of).collect()
    }

    fn lefts(&self, from: &CutBoard, piece: Area) -> Vec<Length> {
        let flaws = from.avoid.iter();
        let starts = flaws.flat_map(|(f, _)| [f.right, f.left - self.was.area.width()]);
        let wanted = self.moved().into_iter().map(|(across, _)| across);
        let crest = from.first_crest.0 + self.front.left;
        places(
            std::iter::once(piece.left).chain(starts),
            wanted.map(|w| w + crest).collect(),
            self.layout.repeat.across,
        )
    }

    fn bottoms(&self, from: &CutBoard, piece: Area) -> Vec<Length> {
        let flaws = from.avoid.iter();
        let starts = flaws.flat_map(|(f, _)| [f.top, f.bottom - self.was.area.height()]);
        let wanted = self.moved().into_iter().map(|(_, up)| up);
        let crest = from.first_crest.1 + self.front.bottom;
        places(
            std::iter::once(piece.bottom).chain(starts),
            wanted.map(|w| w + crest).collect(),
            self.layout.repeat.up,
        )
    }
}

/// From each start: there, and on to where the pattern meets each neighbour's, or falls half-way
/// between two of them.
fn places(
    starts: impl Iterator<Item = Length>,
    wanted: Vec<Length>,
    repeat: Option<Length>,
) -> Vec<Length> {
    let mut out = Vec::new();
    for start in starts {
        out.push(start);
        let Some(repeat) = repeat else { continue };
        for a in &wanted {
            for b in &wanted {
                let between = *a + reduced(*b - *a, Some(repeat)).half();
                out.push(next_match(start, between, repeat, Length::ZERO));
            }
        }
    }
    out.sort();
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::{Diagnostics, Place};
    use crate::reckon::fixture;
    use crate::reckon::reckon;
    use crate::resolve::job::{Avoid, Board, FrontKind, Grain, PatternRule, Wanted};

    fn board(id: &str, first_crest: i64, lightness: i64) -> Board {
        Board {
            id: id.into(),
            material: fixture::FRONT,
            sheet: (Length::mm(2400), Length::mm(1600)),
            picture: None,
            first_crest: (Length::ZERO, Length::mm(first_crest)),
            lab: Some([lightness, 5000, 9000]),
            batch: String::new(),
            ends_off: (Length::ZERO, Length::ZERO),
            avoid: Vec::new(),
            place: Place::NOWHERE,
        }
    }

    /// Four doors of one pattern on a wall of 3 m, two to a board of 1600.
    fn job(repeat: Option<i64>, wanted: Wanted, boards: Vec<Board>) -> (Job, Reckoned) {
        let mut job = fixture::job([3000; 4]);
        let material = &mut job.materials[fixture::FRONT.0];
        material.sheet = Some((Length::mm(2400), Length::mm(1600)));
        material.grain = Grain::Length;
        material.repeat = (None, repeat.map(Length::mm));
        job.boards = boards;
        let mut run = fixture::run(1);
        let mut row = fixture::row(None, FrontKind::Door, 4);
        for cell in &mut row.cells {
            cell.style.pattern = Some("P".into());
        }
        run.units[0].rows = vec![row];
        job.runs = vec![run];
        job.patterns = vec![PatternRule {
            wanted,
            ..PatternRule::usual("P")
        }];
        let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it can be reckoned");
        (job, reckoned)
    }

    /// The least there is of the farthest step, by trying every quarter of a millimetre of a board.
    fn least(reckoned: &Reckoned, board: &CutBoard, front: usize, repeat: Length) -> Length {
        let layout = &reckoned.patterns[0];
        let ours = &reckoned.fronts[front];
        let joined = layout.joints.iter();
        let near: Vec<usize> = joined
            .filter(|j| j.first == front || j.second == front)
            .map(|j| if j.first == front { j.second } else { j.first })
            .collect();
        let places = (0..).map(|n| board.usable.left + Length::um(250 * n));
        let fits = |left: &Length| *left + ours.width() <= board.usable.right;
        let clear = |left: &Length| {
            let area = Area {
                left: *left,
                right: *left + ours.width(),
                bottom: board.usable.bottom,
                top: board.usable.bottom + ours.height(),
            };
            !board.avoid.iter().any(|(flaw, _)| flaw.meets(area))
        };
        let worst = |left: Length| {
            let step = |other: &usize| {
                let blank = layout.blank_of(*other).expect("a blank");
                let on = layout.boards[blank.board].first_crest.0;
                let there = blank.area.left - on - reckoned.fronts[*other].left;
                let here = left - board.first_crest.0 - ours.left;
                let apart = (here - there).in_um().rem_euclid(repeat.in_um());
                Length::um(apart.min(repeat.in_um() - apart))
            };
            near.iter().map(step).max().expect("neighbours")
        };
        places
            .take_while(fits)
            .filter(clear)
            .map(worst)
            .min()
            .expect("room")
    }

    // Against every place there is on the one board not cut into; the doors' widths are multiples of a
    // quarter of a millimetre.
    #[test]
    fn no_place_on_a_whole_board_steps_less() {
        for wanted in [Wanted::Exact, Wanted::LeastWaste] {
            for crest in [0, 5, 19] {
                let mut spare = board("c", crest, 50_000);
                spare.avoid = vec![Avoid {
                    from: (Length::mm(500), Length::mm(20)),
                    to: (Length::mm(520), Length::mm(47)),
                    what: "knot".into(),
                }];
                let boards = vec![board("a", 12, 50_000), board("b", 3, 50_000), spare];
                let (job, reckoned) = job(Some(32), wanted, boards);
                for front in 0..4 {
                    let recut = recut(&job, &reckoned, front).expect("of a pattern");
                    let whole = recut.places.iter().find(|p| p.whole).expect("the spare");
                    let used: Vec<BoardRef> = reckoned.patterns[0]
                        .boards
                        .iter()
                        .filter_map(|b| b.in_hand)
                        .collect();
                    let (left, _) = stood::boards_in_hand(&job, fixture::FRONT, &[], &used);
                    let spare = left.iter().find(|b| b.name == whole.board).expect("left");
                    let least = least(&reckoned, spare, front, Length::mm(32));
                    let (anew, step, _) = whole.looks();
                    assert_eq!((anew, step), (0, least), "front {front} {wanted:?}");
                }
            }
        }
    }

    // By hand: nothing runs on in a pattern that does not repeat, so that the board nearest in colour
    // comes first; and where nothing is in hand a new one is needed, which holds it.
    #[test]
    fn without_a_repeat_the_nearest_colour_comes_first() {
        let boards = vec![
            board("a", 0, 50_000),
            board("b", 0, 50_500),
            board("far", 0, 56_000),
            board("near", 0, 51_000),
        ];
        let (job, reckoned) = job(None, Wanted::Exact, boards);
        let spoiled = recut(&job, &reckoned, 0).expect("of a pattern");
        let best = spoiled.places.first().expect("a place");
        assert!(best.joints.iter().all(|j| j.jump.is_none()));
        let colours: Vec<i64> = spoiled.places.iter().map(|p| p.looks().2).collect();
        assert!(colours.is_sorted(), "{colours:?}");
        assert_ne!(best.board, "far");
    }

    #[test]
    fn with_nothing_in_hand_a_new_board_is_needed() {
        let (job, reckoned) = job(Some(32), Wanted::Exact, Vec::new());
        let spoiled = recut(&job, &reckoned, 1).expect("of a pattern");
        assert!(spoiled.places.is_empty() && spoiled.fits_a_new_board);
        assert!(recut(&job, &reckoned, 99).is_none());
    }

    #[test]
    fn what_one_pattern_is_cut_from_is_not_there_for_the_next() {
        let boards = ["a", "b", "c", "d"].map(|id| board(id, 0, 50_000));
        let (mut job, _) = job(Some(32), Wanted::Exact, boards.to_vec());
        for cell in job.runs[0].units[0].rows[0].cells.iter_mut().skip(2) {
            cell.style.pattern = Some("Q".into());
        }
        let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it can be reckoned");
        assert_eq!(reckoned.patterns.len(), 2);
        let all = reckoned.patterns.iter().flat_map(|l| &l.boards);
        let mut names: Vec<&str> = all.map(|b| b.name.as_str()).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count, "{names:?}");
    }
}
