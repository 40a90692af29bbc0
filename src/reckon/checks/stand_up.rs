//! Units that cannot simply be raised on their feet. Knows outcomes; must not know how they are
//! reckoned.

use super::{finding, names};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::stand_up::{Over, Raised, StandUp};
use crate::resolve::job::{Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, handling)) in job.runs.iter().zip(&reckoned.handling).enumerate() {
        let units = run.units.iter().zip(handling).enumerate();
        let judged: Vec<_> = units
            .filter_map(|(u, (unit, h))| Some((u, unit, h.stand_up?)))
            .collect();
        // Units that are raised alike are told of together.
        let key = |how: &StandUp| (how.raised, how.over, how.needed);
        let mut told = Vec::new();
        for (u, unit, how) in &judged {
            if how.raised == Raised::OnFeet || told.contains(&key(how)) {
                continue;
            }
            told.push(key(how));
            let alike = || judged.iter().filter(|(_, _, other)| key(other) == key(how));
            let ceiling = alike().map(|(_, _, other)| other.ceiling).min();
            let ids: Vec<&str> = alike().map(|(_, unit, _)| unit.id.as_str()).collect();
            let (subject, place) = match ids.len() {
                1 => (Subject::Unit(r, *u), unit.place),
                _ => (Subject::Run(r), run.place),
            };
            let (what, advice) = words(how);
            let text = format!(
                "{}: lying, feet off, each unit needs {} mm of clear height to be raised over its {}; \
                 the ceiling there comes down to {} mm.{}",
                names(&ids),
                how.needed,
                over(how.over),
                ceiling.unwrap_or(how.ceiling),
                match how.raised {
                    Raised::InPlace { short } => format!(" It falls short by {short} mm."),
                    Raised::Eased { by } => format!(" It falls short by {by} mm."),
                    Raised::OnFeet | Raised::FeetAfter =>
                        " It cannot be raised with its feet on.".into(),
                }
            );
            let text = match ids.len() {
                1 => text.replace("each unit needs", "it needs"),
                _ => text,
            };
            found.push(
                finding(what, subject, place, text)
                    .against("the diagonal of the box and 10 mm (geometry; the 10 mm common practice, no source)")
                    .advise(advice)
                    .of_each(alike().map(|(u, _, _)| Subject::Unit(r, *u)))
                    .number(
                        format!("{} mm to raise it", how.needed),
                        format!("{} mm under the ceiling", ceiling.unwrap_or(how.ceiling)),
                        (how.needed - ceiling.unwrap_or(how.ceiling)).in_mm(),
                    )
                    .told_if_in_place(&ids, how),
            );
        }
    }
}

impl Finding {
    /// A client hears of it only where the units change by it.
    fn told_if_in_place(self, ids: &[&str], how: &StandUp) -> Finding {
        let Raised::InPlace { short } = how.raised else {
            return self;
        };
        let text = format!(
            "{} cannot be stood up in the room: the ceiling is {short} mm too low to raise it.",
            names(ids)
        );
        self.for_client(
            text,
            "It must be put together in its place, be made in two with a joint that is seen, or become lower.",
        )
    }
}

pub fn over(over: Over) -> &'static str {
    match over {
        Over::Depth => "depth",
        Over::Width => "width",
    }
}

fn words(how: &StandUp) -> ((&'static str, Severity), String) {
    match how.raised {
        Raised::OnFeet | Raised::FeetAfter => (
            ("feet-fitted-after", Severity::Informs),
            "Raise it with its feet off and fit them once it stands.".into(),
        ),
        Raised::Eased { by } => (
            ("corner-to-be-eased", Severity::Warns),
            format!(
                "Ease the top corner it turns past by {by} mm in the workshop, where nothing shows, and fit the feet once it stands; or make it lower."
            ),
        ),
        Raised::InPlace { .. } => (
            ("cannot-be-stood-up", Severity::Blocks),
            "Put it together on site, make it in two, one on the other, or make it lower.".into(),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    // The outcomes' heights are worked in reckon::stand_up's tests; the ceiling is at 2440.
    #[test]
    fn each_outcome_is_told_once_for_units_alike() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        job.runs = vec![fixture::run(2)];
        let codes = [
            "feet-fitted-after",
            "corner-to-be-eased",
            "cannot-be-stood-up",
        ];
        let mut at = |height: i64, site: bool| {
            for unit in &mut job.runs[0].units {
                unit.top = Length::mm(100 + height);
                unit.build_in_place = site;
            }
            codes.map(|c| found(&job, c).len())
        };
        assert_eq!(at(2266, false), [0, 0, 0]);
        assert_eq!(at(2300, false), [1, 0, 0]);
        assert_eq!(at(2370, false), [0, 1, 0]);
        assert_eq!(at(2400, false), [0, 0, 1]);
        assert_eq!(at(2400, true), [0, 0, 0]);
    }
}
