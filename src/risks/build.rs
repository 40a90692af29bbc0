//! Findings and facts to disclosures: all that one rule found of one group becomes one. Knows rules and
//! their words; must not know what the project says of them.

use std::collections::BTreeMap;

use super::rules::{Found, RULES, Rule};
use super::wording::{self, Wording};
use super::{Disclosure, Number, Offer, Raised, State, words};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, OptionKind, Subject};
use crate::units::Money;

pub fn raised(job: &Job, reckoned: &Reckoned) -> Vec<Disclosure> {
    let mut all = Vec::new();
    for rule in RULES {
        let findings = reckoned.findings.iter().enumerate();
        let findings = findings.filter(|(_, f)| rule.codes.contains(&f.code));
        let mut found: Vec<Found> = findings.map(|f| of_finding(reckoned, f)).collect();
        if let Some(facts) = rule.facts {
            found.extend(facts(job, reckoned));
        }
        let mut groups: BTreeMap<String, Vec<Found>> = BTreeMap::new();
        for one in found {
            groups.entry(one.group.clone()).or_default().push(one);
        }
        for (group, found) in groups {
            all.push(disclosure(job, reckoned, rule, &group, &found));
        }
    }
    all
}

fn of_finding(reckoned: &Reckoned, (place, finding): (usize, &Finding)) -> Found {
    let fronts = finding
        .fronts
        .iter()
        .filter_map(|n| reckoned.fronts.get(*n));
    let fronts: Vec<Subject> = fronts.map(|f| Subject::Front(f.id.clone())).collect();
    let subjects = match (finding.about.is_empty(), fronts.is_empty()) {
        (false, _) => finding.about.clone(),
        (true, false) => fronts,
        (true, true) => vec![finding.subject.clone()],
    };
    Found {
        code: Some(finding.code),
        finding: Some(place),
        group: finding.group.clone(),
        subjects,
        named: String::new(),
        besides: Vec::new(),
        figure: finding.figure.clone(),
        severity: finding.severity,
        known: finding.known.clone(),
    }
}

pub fn disclosure(
    job: &Job,
    reckoned: &Reckoned,
    rule: &'static Rule,
    group: &str,
    found: &[Found],
) -> Disclosure {
    let mut subjects: Vec<Subject> = Vec::new();
    for subject in found.iter().flat_map(|f| &f.subjects) {
        if *subject != Subject::Job && !subjects.contains(subject) {
            subjects.push(subject.clone());
        }
    }
    let figures = found.iter().filter_map(|f| f.figure.as_ref());
    let worst = figures.max_by(|a, b| a.weight.total_cmp(&b.weight));
    let figure = worst.map(|f| Number {
        found: f.found.clone(),
        limit: f.limit.clone(),
    });
    let mut codes: Vec<&'static str> = found.iter().filter_map(|f| f.code).collect();
    codes.sort_unstable();
    codes.dedup();
    let open = found.iter().filter(|f| f.known.is_none());
    let severity = open.map(|f| f.severity).min();
    let blocks = severity == Some(Severity::Blocks);
    let wording = wording::of(rule.id);
    let named = found.first().map_or("", |f| f.named.as_str());
    let fill = Fill {
        figure: figure.as_ref(),
        name: if group.is_empty() { named } else { group },
        several: subjects.len() > 1,
    };
    let mut about = vec![words::about(job, reckoned, &subjects)];
    about.extend(found.iter().flat_map(|f| f.besides.iter().cloned()));
    Disclosure {
        number: 0,
        id: match group {
            "" => rule.id.to_owned(),
            group => format!("{} {group}", rule.id),
        },
        title: fill.words(&wording.title),
        text: fill.words(&wording.text),
        about: about.join("; "),
        subjects,
        doing: fill.words(&wording.doing),
        cannot: fill.words(&wording.cannot),
        options: offers(wording, &fill, !blocks || rule.agreed_away)
            .into_iter()
            .filter(|offer| offer.kind != OptionKind::Change || can_change(reckoned, rule, group))
            .collect(),
        figure,
        raised: Raised::Rule {
            rule: rule.id,
            codes,
        },
        findings: found.iter().filter_map(|f| f.finding).collect(),
        choice: None,
        roles: rule.roles.iter().map(|r| (*r).to_owned()).collect(),
        severity: severity.unwrap_or(Severity::Informs),
        may_be_agreed: !blocks || rule.agreed_away,
        known: why(job, reckoned, found),
    }
}

/// Why it stands: of what is known, by name where the rest is not.
fn why(job: &Job, reckoned: &Reckoned, found: &[Found]) -> Option<String> {
    let known: Vec<&Found> = found.iter().filter(|f| f.known.is_some()).collect();
    let all = known.len() == found.len();
    let told = known.iter().filter_map(|f| {
        let why = f.known.as_ref()?;
        Some(match all {
            true => why.clone(),
            false => format!("Of {}: {why}", words::about(job, reckoned, &f.subjects)),
        })
    });
    let mut told: Vec<String> = told.collect();
    told.dedup();
    (!told.is_empty()).then(|| told.join(" "))
}

/// Only a pattern that repeats can be cut so that it steps less.
fn can_change(reckoned: &Reckoned, rule: &Rule, group: &str) -> bool {
    let mut patterns = reckoned.patterns.iter().filter(|p| p.name == group);
    rule.id != "step" || patterns.any(|p| !p.repeat.is_natural())
}

/// What the names in braces of a wording stand for.
pub struct Fill<'a> {
    pub figure: Option<&'a Number>,
    pub name: &'a str,
    /// Whether it is about more than one thing.
    pub several: bool,
}

impl Fill<'_> {
    pub fn words(&self, text: &str) -> String {
        let (found, limit) = match self.figure {
            Some(figure) => (figure.found.as_str(), figure.limit.as_str()),
            None => ("", ""),
        };
        // One pass: what is put in is never looked through again.
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            out.push_str(before);
            let Some((name, tail)) = after.split_once('}') else {
                out.push('{');
                rest = after;
                continue;
            };
            match name {
                "number" => out.push_str(found),
                "limit" => out.push_str(limit),
                "name" => out.push_str(self.name),
                other => out.push_str(wording::by_number(other, self.several).unwrap_or(other)),
            }
            rest = tail;
        }
        out.push_str(rest);
        out
    }
}

/// What a rule offers by itself: leaving it, where that may be, and the change it knows.
fn offers(wording: &Wording, fill: &Fill, may_stay: bool) -> Vec<Offer> {
    let mut all = Vec::new();
    let mut offer = |kind: OptionKind, words: &str, price| {
        if !words.is_empty() {
            all.push(Offer {
                id: kind.word().to_owned(),
                kind,
                words: fill.words(words),
                price,
                when: None,
                until: None,
                state: State::Offered,
            });
        }
    };
    if may_stay {
        offer(OptionKind::Nothing, &wording.nothing, Some(Money::ZERO));
    }
    offer(OptionKind::Change, &wording.change, None);
    all
}
