//! What may go wrong and is to be agreed: disclosures raised by rule from what was found, and declared by
//! hand, each with its number, its options and their prices. Pure; must not word a page or draw anything.
//!
//! [`rules`] is the table of rules, [`wording`] their words (`templates/disclosures.toml`), `build` makes
//! one of the other, `said` brings in what the project file says of it.

mod build;
mod facts;
mod marks;
pub mod rules;
mod said;
mod sums;
pub mod told;
pub mod wording;
pub mod words;

#[cfg(test)]
mod tests;

pub use marks::Marks;
pub use sums::Sums;

use serde::Serialize;

use crate::diag::Diagnostics;
use crate::reckon::placed::{Reckoned, Severity};
pub use crate::resolve::job::OptionKind;
use crate::resolve::job::{Job, Subject};
use crate::units::{Date, Money};

/// Everything that is to be agreed about what may go wrong.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Risks {
    /// The client's first; of them what must be settled, then what is to be decided, then what is good
    /// to know.
    pub disclosures: Vec<Disclosure>,
    /// Three letters.
    pub currency: String,
    pub sums: Sums,
    /// Findings that block, by their place, which the client has agreed to all the same.
    pub agreed_away: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Disclosure {
    /// From 1, in the order in which they are listed: for pages alone.
    pub number: usize,
    /// Survives an edit: the rule's word, with what it was found of (`step larch wall`), or as declared.
    pub id: String,
    pub title: String,
    /// What may happen.
    pub text: String,
    /// What it is about; empty: the whole job.
    pub subjects: Vec<Subject>,
    /// The same in words: `fronts 1 to 8`, `the whole job`.
    pub about: String,
    pub figure: Option<Number>,
    pub raised: Raised,
    /// Places among the findings of those that raised it.
    pub findings: Vec<usize>,
    /// What is done about it, and what nobody can do; either may be empty.
    pub doing: String,
    pub cannot: String,
    pub options: Vec<Offer>,
    /// Place in `options` of what was chosen.
    pub choice: Option<usize>,
    /// Who must agree: at least one.
    pub roles: Vec<String>,
    pub severity: Severity,
    /// Whether the client may agree to it although it blocks the job; true of what does not block.
    pub may_be_agreed: bool,
    /// Why the designer lets it stand, where the project says so.
    pub known: Option<String>,
}

/// The number behind a disclosure, with its unit, and what it is held against (which may be empty).
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Number {
    pub found: String,
    pub limit: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Raised {
    /// By this rule, from findings of these codes; without any, from what the project says.
    Rule {
        rule: &'static str,
        codes: Vec<&'static str>,
    },
    Declared,
}

/// Something that can be chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Within its disclosure.
    pub id: String,
    pub kind: OptionKind,
    /// What is then done.
    pub words: String,
    /// What it adds; below zero it saves. `None`: not priced yet.
    pub price: Option<Money>,
    /// A contingency: when it may be called.
    pub when: Option<String>,
    /// The last day for choosing it, or for calling it.
    pub until: Option<Date>,
    pub state: State,
}

/// Where an option stands, on the day of the project file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    Offered,
    /// Something else was chosen.
    NotTaken,
    Accepted,
    /// A contingency that came to pass.
    Called(Date),
    NotNeeded(Date),
    /// Its last day is over.
    Expired(Date),
}

impl State {
    pub fn word(self) -> &'static str {
        match self {
            State::Offered => "offered",
            State::NotTaken => "not taken",
            State::Accepted => "accepted",
            State::Called(_) => "called",
            State::NotNeeded(_) => "not needed",
            State::Expired(_) => "expired",
        }
    }
}

impl Disclosure {
    pub fn chosen(&self) -> Option<&Offer> {
        self.options.get(self.choice?)
    }
    pub fn is_for(&self, role: &str) -> bool {
        self.roles.iter().any(|r| r == role)
    }
    /// `rule bow`, `declared by hand`.
    pub fn raised_by(&self) -> String {
        match &self.raised {
            Raised::Rule { rule, .. } => format!("rule {rule}"),
            Raised::Declared => "declared by hand".to_owned(),
        }
    }
}

/// Who agrees where nothing else is said.
pub const CLIENT: &str = "client";
pub const FITTER: &str = "fitter";

impl Risks {
    /// Those that this role must agree to.
    pub fn of(&self, role: &str) -> impl Iterator<Item = &Disclosure> {
        let all = self.disclosures.iter();
        all.filter(move |d| d.is_for(role))
    }
}

/// Every disclosure of a job. What the project file says of risks that are not raised, or chooses what
/// is not offered, is reported.
pub fn risks(job: &Job, reckoned: &Reckoned, diags: &mut Diagnostics) -> Risks {
    let mut disclosures = build::raised(job, reckoned);
    said::bring_in(job, reckoned, &mut disclosures, diags);
    disclosures.sort_by_key(|d| (!d.is_for(CLIENT), d.severity));
    for (n, disclosure) in disclosures.iter_mut().enumerate() {
        disclosure.number = n + 1;
    }
    Risks {
        sums: sums::sums(&disclosures),
        agreed_away: agreed_away(reckoned, &disclosures),
        currency: job.info.currency.clone(),
        disclosures,
    }
}

/// Findings that block and that a choice lets stand: leaving them, or a contingency. A change that was
/// chosen is to be made in the job, and then blocks no more by itself.
fn agreed_away(reckoned: &Reckoned, disclosures: &[Disclosure]) -> Vec<usize> {
    let agreed = disclosures.iter().filter(|d| {
        let chosen = d.chosen().map(|o| o.kind);
        d.may_be_agreed && matches!(chosen, Some(OptionKind::Nothing | OptionKind::Contingency))
    });
    let mut findings: Vec<usize> = agreed.flat_map(|d| d.findings.iter().copied()).collect();
    findings.sort_unstable();
    let blocks = |n: &usize| {
        let found = reckoned.findings.get(*n);
        found.is_some_and(|f| f.severity == Severity::Blocks)
    };
    findings.into_iter().filter(blocks).collect()
}
