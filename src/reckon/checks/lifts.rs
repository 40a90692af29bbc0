//! Pieces heavier than the guideline for the people planned. Knows masses; must not call a figure a
//! limit.

use super::{finding, names};
use crate::diag::Place;
use crate::reckon::lifting::{self, team};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};
use crate::units::Mass;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let planned = job.info.fitters;
    let allowed = team(planned, lifting::ONE.0);
    let mut heavy: Vec<(Mass, String, Subject)> = pieces(job, reckoned);
    heavy.retain(|(mass, ..)| *mass > allowed);
    heavy.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
    if heavy.is_empty() {
        return;
    }
    let most = heavy.first().map(|(mass, ..)| *mass).unwrap_or_default();
    let listed: Vec<String> = heavy
        .iter()
        .map(|(mass, what, _)| match lifting::people(*mass) {
            Some(n) => format!("{what} {mass} kg ({n} people)"),
            None => format!("{what} {mass} kg"),
        })
        .collect();
    let listed: Vec<&str> = listed.iter().map(String::as_str).collect();
    let who = match planned {
        1 => "one person is planned".to_string(),
        n => format!("{n} people are planned"),
    };
    let text = format!(
        "Heavier than the guideline for the people on site ({who}): {}. Units without their fronts, drawers and loose \
         shelves; where no number of people stands, more than the figure for three.",
        names(&listed)
    );
    let limit = format!(
        "{allowed} kg for {planned} (25 kg for one man, 16 kg for one woman, near the body at waist height; two lift about two thirds of their sum, three half: HSE, INDG143 and L23, from memory): a filter for an assessment, not a limit"
    );
    found.push(
        finding(
            ("lift-over-guideline", Severity::Warns),
            Subject::Job,
            Place::NOWHERE,
            text,
        )
        .against(limit)
        .of_each(heavy.iter().map(|(.., subject)| subject.clone()))
        .number(
            format!("{most} kg"),
            match planned {
                1 => format!("{allowed} kg for one person"),
                n => format!("{allowed} kg for {n} people"),
            },
            most.in_kg(),
        )
        .advise("Plan the lift before the day: take drawers and loose shelves out, use a trolley, stair climber or lift, or bring more people."),
    );
}

fn pieces(job: &Job, reckoned: &Reckoned) -> Vec<(Mass, String, Subject)> {
    let mut out = Vec::new();
    for (r, (run, handling)) in job.runs.iter().zip(&reckoned.handling).enumerate() {
        for (u, (unit, h)) in run.units.iter().zip(handling).enumerate() {
            out.push((h.mass, unit.id.clone(), Subject::Unit(r, u)));
        }
    }
    for (r, run) in reckoned.runs.iter().enumerate() {
        for (u, unit) in run.units.iter().enumerate() {
            for machine in unit.bays.iter().flat_map(|b| &b.appliances) {
                let made = job.appliances.get(machine.which.0);
                let weighed = made.and_then(|a| Some((a.mass?, a.name.clone())));
                out.extend(weighed.map(|(mass, name)| (mass, name, Subject::Unit(r, u))));
            }
        }
    }
    let others = reckoned.carried.iter();
    out.extend(others.filter_map(|c| Some((c.mass?, c.name.clone(), c.subject.clone()))));
    out
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    // The carcass of 600 × 1900 × 580 weighs 45.4 kg with a shelf (reckon::mass's tests, by hand)
    // and 41.4 without: over 33.3 for two and 37.5 for three (reference-values.md §5, X).
    #[test]
    fn a_carcass_over_the_guideline_for_two() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        let list = found(&job, "lift-over-guideline");
        assert!(list[0].text.contains("U1 41.4 kg."), "{}", list[0].text);
        assert!(list[0].limit.starts_with("33.3 kg for 2"));
        assert!(list[0].limit.contains("not a limit"));
        job.runs[0].units[0].top = Length::mm(1300);
        assert!(found(&job, "lift-over-guideline").is_empty());
    }
}
