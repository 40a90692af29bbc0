//! The rules that raise disclosures: one row each, in the order of the handbook's list. Knows codes of
//! findings and facts of a job; must not word anything.

use super::facts;
use super::{CLIENT, FITTER};
use crate::reckon::placed::{Figure, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};

pub struct Rule {
    /// Stable for ever: part of what people signed.
    pub id: &'static str,
    /// Findings that raise it.
    pub codes: &'static [&'static str],
    /// What else raises it, from the job itself.
    pub facts: Option<fn(&Job, &Reckoned) -> Vec<Found>>,
    /// Whether a project may raise it by naming it: what no survey tells.
    pub sayable: bool,
    /// Who must agree.
    pub roles: &'static [&'static str],
    /// Whether the client may agree to it although it blocks the job.
    pub agreed_away: bool,
}

/// Something that raises a rule.
pub struct Found {
    pub code: Option<&'static str>,
    /// Its place among the findings.
    pub finding: Option<usize>,
    /// Of its kind; empty if there is one for the whole job.
    pub group: String,
    pub subjects: Vec<Subject>,
    /// What its words call it where no group does; what it is about besides its subjects.
    pub named: String,
    pub besides: Vec<String>,
    pub figure: Option<Figure>,
    pub severity: Severity,
    pub known: Option<String>,
}

const fn rule(
    id: &'static str,
    codes: &'static [&'static str],
    roles: &'static [&'static str],
) -> Rule {
    Rule {
        id,
        codes,
        facts: None,
        sayable: false,
        roles,
        agreed_away: false,
    }
}

const fn told(
    id: &'static str,
    roles: &'static [&'static str],
    facts: fn(&Job, &Reckoned) -> Vec<Found>,
) -> Rule {
    Rule {
        facts: Some(facts),
        ..rule(id, &[], roles)
    }
}

const BOTH: &[&str] = &[CLIENT, FITTER];

/// Handbook §7, in its order; `way-in` and `doorway` are the two of which somebody on site knows better
/// than the survey.
pub const RULES: &[Rule] = &[
    rule("bow", &["front-may-bow"], &[CLIENT]),
    rule("stand-up", &["cannot-be-stood-up"], BOTH),
    told("in-place", BOTH, facts::in_place),
    Rule {
        agreed_away: true,
        ..rule("way-in", &["does-not-pass"], BOTH)
    },
    Rule {
        agreed_away: true,
        ..rule("doorway", &["doorway-blocked"], &[CLIENT])
    },
    rule("step", &["pattern-step"], &[CLIENT]),
    rule(
        "boards",
        &["pattern-changes-board", "pattern-short-of-boards"],
        &[CLIENT],
    ),
    rule("colour", &["pattern-colour"], &[CLIENT]),
    told("variation", &[CLIENT], facts::variation),
    Rule {
        sayable: true,
        ..rule("use", &[], &[CLIENT])
    },
    rule("shelf", &["shelf-sags"], &[CLIENT]),
    rule("lift", &["lift-over-guideline"], &[FITTER]),
    rule("strips", &["scribe-taper-shows"], &[CLIENT]),
    rule(
        "survey",
        &["survey-does-not-close", "diagonal-disagrees"],
        &[FITTER],
    ),
    rule(
        "feet",
        &["foot-at-end-of-range", "foot-out-of-range"],
        &[FITTER],
    ),
    rule("moisture", &["wood-out-of-balance"], &[CLIENT]),
    Rule {
        sayable: true,
        ..told("damp", &[CLIENT], facts::damp)
    },
    rule("appliances", &["appliance-ventilation"], &[CLIENT]),
    told("others", &[CLIENT], facts::others),
    Rule {
        sayable: true,
        ..told("sample", &[CLIENT], facts::sample)
    },
    rule(
        "opening",
        &["leaf-stops-short", "leaf-blocked", "flap-blocked"],
        &[CLIENT],
    ),
    rule("meet", &["fronts-meet"], &[CLIENT]),
    told("latch", &[CLIENT], facts::latched),
    rule("touch", &["open-fronts-touch"], &[CLIENT]),
    rule("across", &["open-front-in-doorway"], &[CLIENT]),
    rule("fixing", &["wall-fixing-load"], &[CLIENT]),
    rule("sight", &["sight-past-sliding"], &[CLIENT]),
    Rule {
        sayable: true,
        ..told("stays", &[CLIENT], facts::stays)
    },
];

/// The rule that a disclosure's id belongs to: `step` of `step larch wall`.
pub fn of(id: &str) -> Option<&'static Rule> {
    let word = id.split_once(' ').map_or(id, |(word, _)| word);
    RULES.iter().find(|rule| rule.id == word)
}

/// Whether some rule raises a disclosure from findings of this code.
pub fn takes(code: &str) -> bool {
    RULES.iter().any(|rule| rule.codes.contains(&code))
}
