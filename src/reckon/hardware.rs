//! How many of each part, by unit. Knows what uses what; must not know boxes or prices.
//!
//! Runners and stays are counted in pairs and singly: one pair of runners a drawer is 1, the two
//! stays of a flap are 2.

use super::placed::{HardwareCount, PlacedFront, PlacedRun, PlacedSliding};
use crate::resolve::job::{FrontKind, HardwareKind, HardwareRef, Job};
use crate::units::Length;

/// Parts used at least once, in the order of the file. Rails, stays, and the runners of inner
/// drawers in a unit whose fronts name none, are the first of their kind in the file. A rail is as long as its
/// bay is clear.
pub fn count(
    job: &Job,
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
    sliding: &[PlacedSliding],
) -> Vec<HardwareCount> {
    let mut tally = Tally::default();
    for (run, placed) in job.runs.iter().zip(runs) {
        for (unit, at) in run.units.iter().zip(&placed.units) {
            let own: Vec<&PlacedFront> = at.fronts.iter().filter_map(|i| fronts.get(*i)).collect();
            for front in &own {
                tally.add(front.style.hinge, &unit.id, front.hinges);
                tally.add(front.handle.map(|h| h.which), &unit.id, 1);
                if front.kind == FrontKind::Door {
                    tally.add(front.style.straightener, &unit.id, 1);
                }
                if front.kind.is_latched() {
                    tally.add(front.style.latch, &unit.id, 1);
                }
                match front.kind {
                    FrontKind::Drawer => tally.add(front.style.runner, &unit.id, 1),
                    FrontKind::Flap => tally.add(first(job, HardwareKind::Stay), &unit.id, 2),
                    FrontKind::Door | FrontKind::Fixed | FrontKind::Open => {}
                }
            }
            tally.add(
                first(job, HardwareKind::Fixing),
                &unit.id,
                super::joints::joints(at).fixings(),
            );
            let feet = u32::try_from(at.feet.len()).unwrap_or(u32::MAX);
            tally.add(run.foot, &unit.id, feet);
            let runner = own
                .iter()
                .find_map(|f| f.style.runner)
                .or(first(job, HardwareKind::Runner));
            for bay in &at.bays {
                let drawers = u32::try_from(bay.drawers.len()).unwrap_or(u32::MAX);
                let rails = u32::try_from(bay.rails.len()).unwrap_or(u32::MAX);
                tally.add(runner, &unit.id, drawers);
                let rail = first(job, HardwareKind::Rail);
                tally.add(rail, &unit.id, rails);
                tally.so_long(rail, bay.right - bay.left, rails);
            }
            for made in &at.boxes {
                let front = own.iter().find(|f| f.id == made.front);
                tally.so_long(front.map_or(runner, |f| f.style.runner), made.long, 1);
            }
        }
    }
    for (n, leaf) in job.sliding.iter().enumerate() {
        tally.add(leaf.track, &leaf.id, 1);
        if let Some(at) = sliding.get(n) {
            tally.so_long(leaf.track, at.track_right - at.track_left, 1);
        }
        tally.add(leaf.handle, &leaf.id, 1);
    }
    tally.sorted()
}

fn first(job: &Job, kind: HardwareKind) -> Option<HardwareRef> {
    job.hardware
        .iter()
        .position(|h| h.kind == kind)
        .map(HardwareRef)
}

#[derive(Default)]
struct Tally {
    counts: Vec<HardwareCount>,
}

impl Tally {
    fn add(&mut self, which: Option<HardwareRef>, unit: &str, more: u32) {
        let Some(which) = which.filter(|_| more > 0) else {
            return;
        };
        let at = match self.counts.iter().position(|c| c.which == which) {
            Some(at) => at,
            None => {
                self.counts.push(HardwareCount {
                    which,
                    count: 0,
                    by_unit: Vec::new(),
                    lengths: Vec::new(),
                });
                self.counts.len() - 1
            }
        };
        if let Some(entry) = self.counts.get_mut(at) {
            entry.count = entry.count.saturating_add(more);
            match entry.by_unit.last_mut() {
                Some((id, n)) if id == unit => *n = n.saturating_add(more),
                _ => entry.by_unit.push((unit.to_string(), more)),
            }
        }
    }

    /// Some of those counted are so long.
    fn so_long(&mut self, which: Option<HardwareRef>, long: Length, many: u32) {
        let counted = self.counts.iter_mut().find(|c| Some(c.which) == which);
        let Some(lengths) = counted.map(|c| &mut c.lengths).filter(|_| many > 0) else {
            return;
        };
        match lengths.iter_mut().find(|(l, _)| *l == long) {
            Some((_, n)) => *n = n.saturating_add(many),
            None => lengths.push((long, many)),
        }
    }

    fn sorted(mut self) -> Vec<HardwareCount> {
        for count in &mut self.counts {
            count.lengths.sort_by(|a, b| b.cmp(a));
        }
        self.counts.sort_by_key(|c| c.which);
        self.counts
    }
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    // By hand: two units of about 1500. The first: a pair of doors 1897 high, 22 MDF 740, about 750
    // wide, 23 kg: 4 hinges and one more each; two inner drawers, a rail. The second: a flap over
    // 900 wide, so 3 hinges and, at over 13 kg, one more; two drawers.
    #[test]
    fn counts_come_from_the_units() {
        let mut job = fixture::job([3000, 3000, 3000, 3000]);
        let mut run = fixture::run(2);
        run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
        run.units[0].bays[0].drawers = 2;
        run.units[0].bays[0].rails = vec![crate::units::Length::mm(1700)];
        run.units[1].rows = vec![
            fixture::row(None, FrontKind::Flap, 1),
            fixture::row(Some(300), FrontKind::Drawer, 2),
        ];
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default()).unwrap().hardware;
        let of = |which| got.iter().find(|c| c.which == which).unwrap();
        assert_eq!(of(fixture::HINGE).by_unit[0], ("U1".into(), 10));
        assert_eq!(of(fixture::HANDLE).count, 5);
        assert_eq!(of(fixture::RUNNER).count, 4);
        assert_eq!(of(fixture::STAY).count, 2);
        // The carcass is 580 deep with a back of 9: runners of 550 (drawers' tests).
        assert_eq!(of(fixture::RUNNER).lengths, [(Length::mm(550), 4)]);
        for row in job.runs[0].units.iter_mut().flat_map(|u| &mut u.rows) {
            for cell in &mut row.cells {
                cell.style.latch = Some(fixture::HANDLE);
                cell.style.handle = None;
            }
        }
        let got = reckon(&job, &mut Diagnostics::default()).unwrap().hardware;
        let latches = got.iter().find(|c| c.which == fixture::HANDLE).unwrap();
        assert_eq!(latches.count, 3, "two doors and a flap, no drawer");
        assert_eq!(of(HardwareRef(4)).by_unit, [("U1".to_string(), 1)]);
        assert_eq!(
            of(fixture::FOOT).count,
            12,
            "six under each, being over 900 wide"
        );
    }
}
