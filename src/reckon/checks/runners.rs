//! Drawers side by side with nothing between them to carry their runners. Knows fronts and bays; must
//! not know runners.

use super::finding;
use crate::reckon::placed::{Finding, PlacedUnit, Reckoned, Severity};
use crate::resolve::job::{FrontKind, Job, Subject};
use crate::units::Length;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, put)) in run.units.iter().zip(&placed.units).enumerate() {
            let drawers: Vec<_> = put
                .fronts
                .iter()
                .filter_map(|f| reckoned.fronts.get(*f))
                .filter(|f| f.kind == FrontKind::Drawer)
                .collect();
            for a in &drawers {
                let beside = drawers.iter().find(|b| {
                    b.left >= a.right && b.bottom < a.top && a.bottom < b.top
                        // The next one, not the one after it.
                        && !drawers.iter().any(|c| {
                            c.left >= a.right && c.left < b.left && c.bottom < a.top && a.bottom < c.top
                        })
                });
                let Some(b) = beside else { continue };
                if upright(
                    put,
                    (a.right, b.left),
                    (a.bottom.max(b.bottom), a.top.min(b.top)),
                ) {
                    continue;
                }
                let text = format!(
                    "Drawers {} and {} of {} stand side by side with no upright between them: two of \
                     their runners have nothing to be fixed to.",
                    a.number, b.number, unit.id
                );
                found.push(
                    finding(
                        ("drawers-without-upright", Severity::Warns),
                        Subject::Unit(r, u),
                        unit.place,
                        text,
                    )
                    .against(
                        "a side or an upright at each end of a drawer (common practice, no source)",
                    )
                    .advise("Give the unit a bay for each drawer: `bay = [{ … }, { … }]`."),
                );
            }
        }
    }
}

/// Whether two bays meet behind the joint of two fronts, somewhere in their height.
fn upright(put: &PlacedUnit, (from, to): (Length, Length), high: (Length, Length)) -> bool {
    put.bays.windows(2).any(|pair| match pair {
        [left, right] => {
            let (a, b) = (left.right, right.left);
            a < b && a <= to && from <= b && left.bottom < high.1 && left.top > high.0
        }
        _ => false,
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::FrontKind;

    // Common practice, no source: each runner is fixed to a side.
    #[test]
    fn two_drawers_side_by_side_want_an_upright() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let unit = &mut job.runs[0].units[0];
        unit.rows = vec![fixture::row(None, FrontKind::Drawer, 2)];
        assert_eq!(found(&job, "drawers-without-upright").len(), 1);
        let unit = &mut job.runs[0].units[0];
        unit.bays = vec![fixture::bay(), fixture::bay()];
        assert_eq!(found(&job, "drawers-without-upright").len(), 0);
        let unit = &mut job.runs[0].units[0];
        unit.bays = vec![fixture::bay()];
        unit.rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
        assert_eq!(found(&job, "drawers-without-upright").len(), 0);
    }
}
