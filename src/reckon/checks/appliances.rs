//! Appliances built in: said once for the job. Knows only that there are any.

use super::finding;
use crate::diag::Place;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let mut names: Vec<&str> = Vec::new();
    let units = reckoned.runs.iter().flat_map(|r| &r.units);
    for placed in units.flat_map(|u| &u.bays).flat_map(|b| &b.appliances) {
        if let Some(appliance) = job.appliances.get(placed.which.0)
            && !names.contains(&appliance.name.as_str())
        {
            names.push(&appliance.name);
        }
    }
    if names.is_empty() {
        return;
    }
    let text = format!(
        "Built in: {}. Ventilation, clearances, loads and access were not reckoned.",
        names.join(", ")
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
        .for_client(
            format!(
                "Built in: {}. How much air each needs, and how it is reached for service, is in \
                 its maker's instructions; the drawings do not show it.",
                names.join(", ")
            ),
            "Please let us have the instructions before anything is made. Connecting electricity, \
             water or gas is for licensed people, by the rules where you live.",
        ),
    );
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{Appliance, ApplianceRef};
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
    }
}
