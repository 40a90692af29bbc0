//! Drawers side by side with nothing between them to carry their runners, and drawers that have no room
//! for a box. Knows fronts, bays and boxes; must not know runners.

use super::{finding, names};
use crate::reckon::inside::LEAST;
use crate::reckon::placed::{Finding, PlacedFront, PlacedUnit, Reckoned, Severity};
use crate::resolve::job::{FrontKind, Job, Subject, Unit};
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
            without_room(job, unit, (Subject::Unit(r, u), put), &drawers, found);
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

/// Drawers that the sizes of their units leave no box.
fn without_room(
    job: &Job,
    unit: &Unit,
    (subject, put): (Subject, &PlacedUnit),
    fronts: &[&PlacedFront],
    found: &mut Vec<Finding>,
) {
    let made = |f: &&&PlacedFront| !put.boxes.iter().any(|b| b.front == f.id);
    let mut none: Vec<String> = fronts
        .iter()
        .filter(made)
        .map(|f| format!("drawer {}", f.number))
        .collect();
    let inner: usize = put.bays.iter().map(|b| b.drawers.len()).sum();
    let have = put.boxes.iter().filter(|b| b.front.is_empty()).count();
    none.extend((have < inner).then(|| format!("{} of its inner drawers", inner - have)));
    if none.is_empty() {
        return;
    }
    let none: Vec<&str> = none.iter().map(String::as_str).collect();
    let text = format!(
        "{}: {} would have a box less than {LEAST} mm wide, high or long.",
        unit.id,
        names(&none)
    );
    found.push(
        finding(("drawer-without-room", Severity::Warns), subject, unit.place, text)
            .against(format!(
                "{LEAST} mm; a box is {} mm lower than its room and its runners take room beside it \
                 (common practice, no source)",
                job.drawer.clear
            ))
            .advise("Make the drawer higher or wider, or give `[drawer]` a smaller `clear` and the runner its own `beside`."),
    );
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
    use crate::units::Length;

    // By hand: 80 less 40 leaves 40, and 79 leaves 39.
    #[test]
    fn a_drawer_too_low_for_a_box() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |mm| {
            let bay = &mut job.runs[0].units[0].bays[0];
            (bay.drawers, bay.drawer_height) = (2, Length::mm(mm));
            found(&job, "drawer-without-room")
        };
        assert!(with(80).is_empty());
        assert!(with(79)[0].text.contains("2 of its inner drawers"));
    }

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
