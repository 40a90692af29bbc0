//! The boxes of drawers, behind drawer fronts and in bays behind doors. Knows clear widths and runners;
//! must not know what a box is cut from.
//!
//! Common practice, no source: a box is its clear width less the runner at each side, lower than the
//! room it has, as long as its runner; front and back stand between the sides, the bottom lies in
//! grooves all round.

use super::inside::LEAST;
use super::placed::{PlacedBay, PlacedDrawer, PlacedFront};
use super::quantities::parts::PartKind;
use super::{mass, travel};
use crate::resolve::job::{FrontKind, HardwareRef, Job, Lay, MaterialRef, Unit};
use crate::units::{Length, Mass};

/// Between the side of a drawer and the unit's, where its runner does not say (common practice, no
/// source).
pub const BESIDE: Length = Length::mm(13);

/// Of one unit: those behind its fronts, then those in its bays. One that would have no room has no box.
pub fn boxes(
    job: &Job,
    unit: &Unit,
    bays: &[PlacedBay],
    fronts: &[PlacedFront],
    y_back: Length,
) -> Vec<PlacedDrawer> {
    let y_front = y_back + unit.depth;
    let drawers = fronts.iter().filter(|f| f.kind == FrontKind::Drawer);
    let behind = drawers.filter_map(|front| {
        let overlap = |b: &&PlacedBay| front.right.min(b.right) - front.left.max(b.left);
        let bay = bays.iter().max_by_key(overlap)?;
        let inset = match front.style.lay {
            Lay::Inset => front.y_face - front.y_back,
            Lay::Overlay => Length::ZERO,
        };
        let room = Room {
            left: front.left.max(bay.left),
            right: front.right.min(bay.right),
            bottom: front.bottom.max(bay.bottom),
            top: front.top.min(bay.top),
            y_front: y_front - inset,
            long: travel::runner(job, unit, inset),
        };
        room.fit(job, unit, front.style.runner, &front.id)
    });
    let runner = fronts.iter().find_map(|f| f.style.runner);
    let runner = runner.or_else(|| travel::usual(job));
    let inner = bays.iter().flat_map(|bay| {
        bay.drawers.iter().filter_map(move |(bottom, top)| {
            let room = Room {
                left: bay.left,
                right: bay.right,
                bottom: *bottom,
                top: *top,
                y_front,
                long: travel::runner(job, unit, Length::ZERO),
            };
            room.fit(job, unit, runner, "")
        })
    });
    behind.chain(inner).collect()
}

/// Between the runner and each side of what it lets out.
pub fn beside(job: &Job, runner: Option<HardwareRef>) -> Length {
    let said = runner
        .and_then(|r| job.hardware.get(r.0))
        .and_then(|h| h.beside);
    said.unwrap_or(BESIDE)
}

/// What a drawer has to itself.
struct Room {
    left: Length,
    right: Length,
    bottom: Length,
    top: Length,
    y_front: Length,
    long: Length,
}

impl Room {
    fn fit(
        &self,
        job: &Job,
        unit: &Unit,
        runner: Option<HardwareRef>,
        front: &str,
    ) -> Option<PlacedDrawer> {
        let aside = beside(job, runner);
        let (left, right) = (self.left + aside, self.right - aside);
        let bottom = self.bottom + job.drawer.clear.half();
        let top = bottom + (self.top - self.bottom - job.drawer.clear);
        let fits = [right - left, top - bottom, self.long]
            .into_iter()
            .all(|l| l >= LEAST);
        let board = job.drawer.board.unwrap_or(unit.carcass);
        let thin = job.drawer.bottom.or(unit.back).unwrap_or(board);
        fits.then(|| PlacedDrawer {
            front: front.to_owned(),
            left,
            right,
            bottom,
            top,
            y_front: self.y_front,
            long: self.long,
            board,
            thin,
        })
    }
}

/// What a box is made of: what, of which board, along its grain, across it, and how many.
pub fn parts(job: &Job, made: &PlacedDrawer) -> [(PartKind, MaterialRef, Length, Length, u32); 3] {
    let thick = job.material(made.board).thickness;
    let groove = job.drawer.groove.min(thick.half());
    let (high, inner) = (made.top - made.bottom, made.right - made.left - thick * 2);
    let (wide, deep) = (inner + groove * 2, made.long - thick * 2 + groove * 2);
    [
        (PartKind::BoxSide, made.board, made.long, high, 2),
        (PartKind::BoxEnd, made.board, inner, high, 2),
        (PartKind::BoxBottom, made.thin, wide, deep, 1),
    ]
}

pub fn weigh(job: &Job, made: &PlacedDrawer) -> Mass {
    let each = parts(job, made)
        .into_iter()
        .map(|(_, of, along, across, count)| {
            let one = mass::board(along, across, job.material(of));
            Mass::grams(one.in_grams().saturating_mul(i64::from(count)))
        });
    each.fold(Mass::default(), |sum, m| sum + m)
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    // By hand: a unit 600 wide of 18 is 564 clear; 13 beside each runner leave 538. Its one front is 1800
    // high less a gap of 3, the room behind it from 118 to 1882, 1764, less 40: 1724. The carcass is 580
    // deep with a back of 9: runners of 550. Between sides of 18: 502; the bottom in grooves of 6: 514 and
    // 550 − 36 + 12 = 526.
    #[test]
    fn a_box_is_what_runner_and_board_leave() {
        let mut job = fixture::job([3000; 4]);
        let mut run = fixture::run(1);
        run.to = Some(Length::mm(600));
        run.units[0].rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let unit = &got.runs[0].units[0];
        let made = &unit.boxes[0];
        assert_eq!(made.right - made.left, Length::mm(538));
        assert_eq!(made.left, Length::mm(31));
        assert_eq!(made.front, got.fronts[0].id);
        let room = got.fronts[0].top.min(unit.top - unit.board) - unit.base - unit.board;
        assert_eq!(made.top - made.bottom, room - Length::mm(40));
        let mm = Length::mm;
        let high = made.top - made.bottom;
        let parts = parts(&job, made);
        assert_eq!(
            parts[0],
            (PartKind::BoxSide, fixture::CARCASS, mm(550), high, 2)
        );
        assert_eq!(
            parts[1],
            (PartKind::BoxEnd, fixture::CARCASS, mm(502), high, 2)
        );
        assert_eq!(
            parts[2],
            (PartKind::BoxBottom, fixture::BACK, mm(514), mm(526), 1)
        );
        let cut = &got.quantities.parts;
        let of = |kind| {
            cut.iter()
                .filter(|p| p.kind == kind)
                .map(|p| p.count())
                .sum::<u32>()
        };
        assert_eq!(
            (
                of(PartKind::BoxSide),
                of(PartKind::BoxEnd),
                of(PartKind::BoxBottom)
            ),
            (2, 2, 1)
        );
        // As its runner says.
        job.hardware[fixture::RUNNER.0].beside = Some(mm(6));
        job.drawer.clear = mm(100);
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let made = &got.runs[0].units[0].boxes[0];
        assert_eq!(
            (made.right - made.left, made.top - made.bottom),
            (mm(552), room - mm(100))
        );
    }

    // By hand, kg, of 680: sides 2·0.55·0.14·0.018 = 2.772e-3 m³, ends 2·0.502·0.14·0.018 = 2.530e-3,
    // bottom 0.514·0.526·0.009 = 2.433e-3: 7.735e-3 m³, 5.26 kg each.
    #[test]
    fn inner_drawers_are_weighed_with_their_unit() {
        let mut job = fixture::job([3000; 4]);
        let mut run = fixture::run(1);
        run.to = Some(Length::mm(600));
        job.runs = vec![run];
        let light = reckon(&job, &mut Diagnostics::default()).unwrap().runs[0].units[0].mass;
        job.runs[0].units[0].bays[0].drawers = 2;
        let got = reckon(&job, &mut Diagnostics::default()).unwrap();
        let unit = &got.runs[0].units[0];
        assert_eq!(unit.boxes.len(), 2);
        assert!(
            unit.boxes
                .iter()
                .all(|b| b.top - b.bottom == Length::mm(140) && b.front.is_empty())
        );
        let more = unit.mass.in_grams() - light.in_grams();
        assert!((more - 2 * 5260).abs() <= 4, "{more}");
    }
}
