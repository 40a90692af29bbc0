//! Appliances built in: said once for the job. Knows only that there are any.

use super::{finding, names};
use crate::diag::Place;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let mut built_in: Vec<&str> = Vec::new();
    let mut units: Vec<Subject> = Vec::new();
    for (r, run) in reckoned.runs.iter().enumerate() {
        for (u, unit) in run.units.iter().enumerate() {
            let placed = unit.bays.iter().flat_map(|b| &b.appliances);
            for appliance in placed.filter_map(|p| job.appliances.get(p.which.0)) {
                if !built_in.contains(&appliance.name.as_str()) {
                    built_in.push(&appliance.name);
                }
                if units.last() != Some(&Subject::Unit(r, u)) {
                    units.push(Subject::Unit(r, u));
                }
            }
        }
    }
    if built_in.is_empty() {
        return;
    }
    let text = format!(
        "Built in: {}. Ventilation, clearances, loads and access were not reckoned.",
        built_in.join(", ")
    );
    found.push(
        finding(
            ("appliance-ventilation", Severity::Informs),
            Subject::Job,
            Place::NOWHERE,
            text,
        )
        .against("each maker's own instructions")
        .advise(
            "Follow each maker's instructions and the local codes; electricity, water and gas are \
             for licensed trades.",
        )
        .of_each(units)
        .for_client(
            format!("Built in: {}.", names(&built_in)),
            "Please let us have the instructions before anything is made. Connecting electricity, \
             water or gas is for licensed people, by the rules where you live.",
        ),
    );
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{Appliance, ApplianceRef, Subject};
    use crate::units::Length;

    #[test]
    fn said_once_for_the_job() {
        let mut job = fixture::job([3000; 4]);
        assert!(found(&job, "appliance-ventilation").is_empty());
        job.appliances = vec![Appliance {
            key: "dryer".into(),
            name: "Dryer".into(),
            width: Length::mm(596),
            height: Length::mm(850),
            depth: Length::mm(560),
            supplied: String::new(),
            needs: vec![],
            goes_in: crate::resolve::job::GoesIn::BeforeFronts,
            mass: None,
            opens: None,
            reach: None,
        }];
        let mut run = fixture::run(2);
        for unit in &mut run.units {
            unit.bays[0].appliances = vec![ApplianceRef(0)];
        }
        job.runs = vec![run];
        let list = found(&job, "appliance-ventilation");
        assert_eq!(list.len(), 1);
        assert!(
            list[0].text.starts_with("Built in: Dryer."),
            "{}",
            list[0].text
        );
        assert_eq!(list[0].about, [Subject::Unit(0, 0), Subject::Unit(0, 1)]);
    }
}
