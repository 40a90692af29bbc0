//! What somebody should know before the saw starts: one check a file, this table, in the order of
//! the findings. A check reads the job and what was reckoned, changes nothing, refuses nothing.

mod access;
mod appliances;
mod blocked;
mod bow;
mod ceiling;
mod clash;
mod clear_space;
mod corners;
mod cutouts;
mod edges;
mod feet;
pub mod known;
mod larger_than_board;
mod lean;
mod lifts;
mod loads;
mod moisture;
mod notches;
mod pattern;
mod pictures;
mod runners;
mod scribes;
mod services;
mod shelves;
mod sliding;
mod stand_up;
mod survey;
mod swing;

use super::placed::{Figure, Finding, ForClient, Reckoned, Severity};
use crate::diag::Place;
use crate::resolve::job::{Job, Subject};

type Check = fn(&Job, &Reckoned, &mut Vec<Finding>);

const CHECKS: &[Check] = &[
    survey::closure,
    survey::diagonals,
    survey::openings,
    corners::check,
    ceiling::check,
    clash::check,
    blocked::check,
    swing::check,
    sliding::check,
    lean::check,
    scribes::check,
    clear_space::check,
    feet::check,
    notches::check,
    services::check,
    services::behind_sides,
    services::at_feet,
    services::behind_machines,
    cutouts::check,
    edges::check,
    pattern::check,
    pattern::ends,
    pictures::check,
    appliances::check,
    stand_up::check,
    access::check,
    lifts::check,
    shelves::check,
    loads::check,
    bow::check,
    moisture::check,
    larger_than_board::check,
    runners::check,
];

pub fn run(job: &Job, reckoned: &Reckoned) -> Vec<Finding> {
    let mut found = Vec::new();
    for check in CHECKS {
        check(job, reckoned, &mut found);
    }
    found
}

/// `a, b and c`.
pub(in crate::reckon) fn names(items: &[&str]) -> String {
    match items {
        [most @ .., before, last] => {
            let most: String = most.iter().flat_map(|s| [s, ", "]).collect();
            format!("{most}{before} and {last}")
        }
        [one] => (*one).to_string(),
        [] => String::new(),
    }
}

/// A finding to which `limit` and `advice` are then added.
pub(super) fn finding(
    (code, severity): (&'static str, Severity),
    subject: Subject,
    place: Place,
    text: String,
) -> Finding {
    Finding {
        code,
        severity,
        subject,
        text,
        limit: String::new(),
        advice: String::new(),
        client: None,
        fronts: Vec::new(),
        about: Vec::new(),
        figure: None,
        group: String::new(),
        known: None,
        place,
    }
}

impl Finding {
    /// Whether the client is told of it: what he sees, lives with or decides, and what blocks the job.
    pub fn is_for_client(&self) -> bool {
        self.severity == Severity::Blocks || self.client.is_some()
    }

    pub(super) fn against(mut self, limit: impl Into<String>) -> Finding {
        self.limit = limit.into();
        self
    }

    pub(super) fn advise(mut self, advice: impl Into<String>) -> Finding {
        self.advice = advice.into();
        self
    }

    /// The number behind it, and what it is held against; the greater the weight, the worse.
    pub(super) fn number(
        mut self,
        found: impl Into<String>,
        limit: impl Into<String>,
        weight: f64,
    ) -> Finding {
        self.figure = Some(Figure {
            found: found.into(),
            limit: limit.into(),
            weight,
        });
        self
    }

    /// What of a kind it was found of.
    pub(super) fn of_group(mut self, group: &str) -> Finding {
        self.group = group.to_owned();
        self
    }

    /// Each thing that it is about.
    pub(super) fn of_each(mut self, about: impl IntoIterator<Item = Subject>) -> Finding {
        self.about = about.into_iter().collect();
        self
    }

    /// In the client's words: what it means for him, and what he may choose.
    pub(super) fn for_client(
        mut self,
        text: impl Into<String>,
        choice: impl Into<String>,
    ) -> Finding {
        self.client = Some(ForClient {
            text: text.into(),
            choice: choice.into(),
        });
        self
    }

    /// The client reads the same words, and may choose this.
    pub(super) fn for_client_too(self, choice: impl Into<String>) -> Finding {
        let text = self.text.clone();
        self.for_client(text, choice)
    }
}

#[cfg(test)]
pub mod tests {
    use super::super::reckon;
    use super::*;
    use crate::diag::Diagnostics;

    /// Grounds and trade terms that a client need not know (the words that readers stumbled over).
    const TRADE: &[&str] = &[
        "no source",
        "from memory",
        "CIEDE2000",
        "N/mm",
        "lipping",
        "creep",
        "declared",
        "reckoned",
        "local codes",
        "(slider)",
        "scribe",
        "filler",
        "carcass",
    ];

    /// What a client is told is in his words, and leaves him a choice where he must decide.
    pub fn for_a_client(finding: &Finding) {
        let Some(told) = &finding.client else {
            return;
        };
        assert!(!told.text.is_empty(), "{finding:?}");
        let must = finding.severity != Severity::Informs;
        assert!(!(must && told.choice.is_empty()), "{finding:?}");
        for word in TRADE {
            let said = told.text.contains(word) || told.choice.contains(word);
            assert!(!said, "a client reads “{word}”: {told:?}");
        }
    }

    /// Findings of this code in a job that must reckon without errors.
    pub fn found(job: &Job, code: &str) -> Vec<Finding> {
        let mut diags = Diagnostics::default();
        let reckoned = reckon(job, &mut diags);
        let reckoned = reckoned.unwrap_or_else(|| panic!("{:?}", diags.sorted()));
        let all = reckoned.findings;
        for f in &all {
            assert!(
                !f.text.is_empty() && !f.limit.is_empty() && !f.advice.is_empty(),
                "{f:?}"
            );
            for_a_client(f);
        }
        all.into_iter().filter(|f| f.code == code).collect()
    }
}
