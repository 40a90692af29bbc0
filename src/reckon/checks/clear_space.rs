//! Space left at a run's end that no strip takes. Knows ends; must not know why.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};
use crate::units::Length;

/// Less than this is the rounding of shared widths (common practice, no source).
const LIMIT: Length = Length::mm(2);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        // A run over another takes its place from that one, not from the opening.
        if run.units.iter().all(|u| u.over.is_some()) {
            continue;
        }
        let units = placed.units.iter().map(|u| u.right);
        let pieces = placed.pieces.iter().map(|p| p.right);
        let Some(end) = units.chain(pieces).max() else {
            continue;
        };
        let clear = placed.right - end;
        if clear < LIMIT {
            continue;
        }
        let text = format!("{clear} mm stay clear at the right end of “{}”.", run.name);
        found.push(
            finding(
                ("clear-space-at-end", Severity::Informs),
                Subject::Run(i),
                run.place,
                text,
            )
            .against("every unit has its own width, and no filler or scribe takes the rest")
            .advise("If it is not meant, give the run a filler or scribe, or let a unit share.")
            .for_client_too("A strip can close it, if you would rather have it closed."),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    #[test]
    fn units_narrower_than_their_opening() {
        let mut job = fixture::job([3000; 4]);
        let mut run = fixture::run(1);
        run.units[0].width = Some(Length::mm(2900));
        job.runs = vec![run];
        let list = found(&job, "clear-space-at-end");
        assert!(list[0].text.starts_with("100 mm"), "{}", list[0].text);
        job.runs[0].right.scribe = Some(Length::mm(10));
        assert!(found(&job, "clear-space-at-end").is_empty());
    }
}
