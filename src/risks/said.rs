//! What the project file says of risks: words, prices and choices of those raised, and those declared by
//! hand. Knows what may be said of which; must not raise anything by itself.

use super::build::{Fill, disclosure};
use super::rules::{self, Found, RULES};
use super::wording::{self, Wording};
use super::{CLIENT, Disclosure, FITTER, Number, Offer, Raised, State, words};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::reckon::placed::{Reckoned, Severity};
use crate::resolve::job::{Job, OptionKind, Risk, RiskOption, Weight};
use crate::resolve::nearest;
use crate::units::{Date, Money};

pub fn bring_in(
    job: &Job,
    reckoned: &Reckoned,
    all: &mut Vec<Disclosure>,
    diags: &mut Diagnostics,
) {
    for risk in &job.risks {
        let at = match all.iter().position(|d| d.id == risk.id) {
            Some(_) if risk.declared => {
                diags.push(not_free(risk));
                continue;
            }
            Some(at) => at,
            None => match made(job, reckoned, risk) {
                Ok(disclosure) => {
                    all.push(disclosure);
                    all.len() - 1
                }
                Err(_) if risk.declared => {
                    diags.push(not_free(risk));
                    continue;
                }
                Err(NotRaised) => {
                    diags.push(not_raised(risk, all));
                    continue;
                }
            },
        };
        if let Some(disclosure) = all.get_mut(at) {
            say(job, reckoned, risk, disclosure, diags);
        }
    }
    for disclosure in all {
        settle(disclosure, job.info.date);
    }
}

struct NotRaised;

/// A disclosure that only the project raises.
fn made(job: &Job, reckoned: &Reckoned, risk: &Risk) -> Result<Disclosure, NotRaised> {
    let rule = rules::of(&risk.id);
    if !risk.declared {
        let rule = rule
            .filter(|r| r.sayable && r.id == risk.id)
            .ok_or(NotRaised)?;
        let found = Found {
            code: None,
            finding: None,
            group: String::new(),
            subjects: risk.on.clone(),
            named: String::new(),
            besides: Vec::new(),
            figure: None,
            severity: Severity::Warns,
            known: None,
        };
        return Ok(disclosure(job, reckoned, rule, "", &[found]));
    }
    if rule.is_some() {
        return Err(NotRaised);
    }
    Ok(Disclosure {
        number: 0,
        id: risk.id.clone(),
        title: String::new(),
        text: String::new(),
        about: words::about(job, reckoned, &risk.on),
        subjects: risk.on.clone(),
        figure: None,
        raised: Raised::Declared,
        findings: Vec::new(),
        doing: String::new(),
        cannot: String::new(),
        options: Vec::new(),
        choice: None,
        roles: vec![CLIENT.to_owned()],
        severity: Severity::Warns,
        may_be_agreed: true,
        known: None,
    })
}

fn say(job: &Job, reckoned: &Reckoned, risk: &Risk, d: &mut Disclosure, diags: &mut Diagnostics) {
    let put = |of: &mut String, said: &Option<String>| {
        if let Some(said) = said {
            of.clone_from(said);
        }
    };
    put(&mut d.title, &risk.title);
    put(&mut d.text, &risk.text);
    put(&mut d.doing, &risk.doing);
    put(&mut d.cannot, &risk.cannot);
    if !risk.on.is_empty() {
        d.subjects.clone_from(&risk.on);
        d.about = words::about(job, reckoned, &risk.on);
    }
    if risk.number.is_some() || risk.limit.is_some() {
        let mut figure = d.figure.clone().unwrap_or(Number {
            found: String::new(),
            limit: String::new(),
        });
        put(&mut figure.found, &risk.number);
        put(&mut figure.limit, &risk.limit);
        d.figure = Some(figure);
    }
    if let Some(roles) = &risk.roles {
        d.roles.clone_from(roles);
        for role in roles {
            if *role != CLIENT && *role != FITTER && job.people.iter().all(|p| p.role != *role) {
                diags.push(nobody(job, risk, role));
            }
        }
    }
    // What blocks is no lighter for being said so.
    if let (Some(weight), true) = (risk.weight, d.severity != Severity::Blocks) {
        d.severity = match weight {
            Weight::Decide => Severity::Warns,
            Weight::Know => Severity::Informs,
        };
    }
    for option in &risk.options {
        offer(risk, option, d, diags);
    }
    let Some((chosen, place)) = &risk.choice else {
        return;
    };
    d.choice = d.options.iter().position(|o| o.id == *chosen);
    if d.choice.is_none() {
        let ids: Vec<&str> = d.options.iter().map(|o| o.id.as_str()).collect();
        let what = format!("risk `{}` offers no option \"{chosen}\"", risk.id);
        diags.push(
            Diagnostic::new(Code::DanglingReference, *place, what)
                .label("not offered")
                .help(match nearest(chosen, &ids) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None if ids.is_empty() => "it offers none: add an `option`".to_owned(),
                    None => format!("it offers: {}", ids.join(", ")),
                }),
        );
    }
}

/// An option of the file, in the place of the rule's own of that name.
fn offer(risk: &Risk, option: &RiskOption, d: &mut Disclosure, diags: &mut Diagnostics) {
    let own = match &d.raised {
        Raised::Rule { rule, .. } => wording::of(rule),
        Raised::Declared => &Wording::default(),
    };
    if option.kind == OptionKind::Nothing && !d.may_be_agreed {
        diags.push(
            Diagnostic::new(
                Code::MustBeSettled,
                option.place,
                format!(
                    "risk `{}` blocks the job and cannot be left as it is",
                    risk.id
                ),
            )
            .label("nobody can agree to this")
            .help("offer a change, and make it in the job"),
        );
        return;
    }
    let fill = Fill {
        figure: d.figure.as_ref(),
        name: match &d.raised {
            Raised::Rule { rule, .. } => d.id.strip_prefix(rule).unwrap_or("").trim_start(),
            Raised::Declared => "",
        },
        several: d.subjects.len() > 1,
    };
    let words = option.words.clone().unwrap_or_else(|| {
        fill.words(match option.kind {
            OptionKind::Nothing => &own.nothing,
            OptionKind::Change => &own.change,
            OptionKind::Contingency => &own.contingency,
        })
    });
    if words.is_empty() {
        let what = format!(
            "the option `{}` of risk `{}` must say its `words`",
            option.id, risk.id
        );
        diags.push(
            Diagnostic::new(Code::MissingKey, option.place, what)
                .label("no rule has words for it")
                .help("add `words = \"\u{2026}\"`: what is then done, as a client understands it"),
        );
        return;
    }
    let when = (option.kind == OptionKind::Contingency).then(|| {
        let own = fill.words(&own.when);
        let own = match own.is_empty() {
            true => "You and we agree that it has happened.".to_owned(),
            false => own,
        };
        option.when.clone().unwrap_or(own)
    });
    let made = Offer {
        id: option.id.clone(),
        kind: option.kind,
        words,
        price: match option.kind {
            OptionKind::Nothing => Some(Money::ZERO),
            _ => option.price,
        },
        when,
        until: option.until,
        state: match (option.called, option.not_needed) {
            (Some(day), _) => State::Called(day),
            (_, Some(day)) => State::NotNeeded(day),
            _ => State::Offered,
        },
    };
    match d.options.iter_mut().find(|o| o.id == made.id) {
        Some(own) => *own = made,
        None => d.options.push(made),
    }
}

/// Where each option stands on the day of the file.
fn settle(d: &mut Disclosure, today: Date) {
    let choice = d.choice;
    for (n, offer) in d.options.iter_mut().enumerate() {
        let over = offer.until.filter(|until| *until < today);
        offer.state = match (choice, offer.state) {
            (_, state @ (State::Called(_) | State::NotNeeded(_))) => state,
            (Some(chosen), _) if chosen != n => State::NotTaken,
            (Some(_), _) => match over {
                Some(day) if offer.kind == OptionKind::Contingency => State::Expired(day),
                _ => State::Accepted,
            },
            (None, _) => over.map_or(State::Offered, State::Expired),
        };
    }
}

fn nobody(job: &Job, risk: &Risk, role: &str) -> Diagnostic {
    let mut known: Vec<&str> = job.people.iter().map(|p| p.role.as_str()).collect();
    known.extend([CLIENT, FITTER]);
    known.sort_unstable();
    known.dedup();
    let what = format!("nobody in this job is the \"{}\"", words::short(role));
    Diagnostic::new(Code::DanglingReference, risk.place, what)
        .label("who is to agree to it?")
        .help(match nearest(role, &known) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("there are: {}", known.join(", ")),
        })
}

fn not_free(risk: &Risk) -> Diagnostic {
    let what = format!("`{}` is what a rule of rodbook's own is called", risk.id);
    Diagnostic::new(Code::DuplicateId, risk.place, what)
        .label("not free")
        .help("give your risk another id; to say more of the rule's, write `rule` in place of `id`")
}

fn not_raised(risk: &Risk, all: &[Disclosure]) -> Diagnostic {
    let raised = all.iter().filter(|d| d.raised != Raised::Declared);
    let raised: Vec<&str> = raised.map(|d| d.id.as_str()).collect();
    let mut known = raised.clone();
    known.extend(RULES.iter().filter(|r| r.sayable).map(|r| r.id));
    let help = match nearest(&risk.id, &known) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!(
            "take the entry out if it is settled; raised are: {}",
            raised.join(", ")
        ),
    };
    let what = format!("no rule raises the risk \"{}\"", words::short(&risk.id));
    Diagnostic::new(Code::RiskNotRaised, risk.place, what)
        .label("not raised")
        .help(help)
}
