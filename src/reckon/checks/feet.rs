//! Foot settings against the foot's own range. Knows settings; must not know loads.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};
use crate::units::Length;

/// A setting this near an end of the range leaves nothing for an error (common practice, no source).
const NEAR: Length = Length::mm(5);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        let foot = run.foot.and_then(|f| job.hardware.get(f.0));
        let Some((foot, (low, high))) = foot.and_then(|f| Some((f, f.range?))) else {
            continue;
        };
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let settings = at.feet.iter().map(|f| f.height);
            let (Some(least), Some(most)) = (settings.clone().min(), settings.max()) else {
                continue;
            };
            let text = format!(
                "The feet of “{}” are set from {least} to {most} mm; “{}” reaches from {low} to {high} mm.",
                unit.name, foot.name
            );
            let what = if least < low || most > high {
                ("foot-out-of-range", Severity::Blocks)
            } else if least < low + NEAR || most > high - NEAR {
                ("foot-at-end-of-range", Severity::Warns)
            } else {
                continue;
            };
            let limit = match what.1 {
                Severity::Blocks => "the range its hardware states",
                Severity::Warns | Severity::Informs => {
                    "5 mm within its range (common practice, no source)"
                }
            };
            found.push(
                finding(what, Subject::Unit(r, u), unit.place, text)
                    .against(limit)
                    .number(
                        format!("{least} to {most} mm"),
                        format!("{low} to {high} mm"),
                        (low - least).max(most - high).in_mm(),
                    )
                    .advise(
                        "Change the run's base, take a foot of another range, or pack the floor.",
                    ),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;

    // The fixture's foot reaches 90 to 120; base 100; by hand the foot farthest out stands at 2950.
    #[test]
    fn feet_within_and_beyond_their_range() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |fall: i64| {
            job.rooms[0].walls[0].floor = fixture::line(&[(0, 0), (2950, -fall)]);
            let end = found(&job, "foot-at-end-of-range").len();
            (end, found(&job, "foot-out-of-range").len())
        };
        assert_eq!((with(15), with(16), with(21)), ((0, 0), (1, 0), (0, 1)));
    }
}
