//! Risks and their options as the file says them. Knows which keys go together; must not know which
//! risks are raised, nor what a rule offers.

use std::collections::BTreeMap;

use super::fill::list;
use super::job::{OptionKind, Risk, RiskOption};
use super::names::Names;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::read::project as raw;
use crate::read::table::At;

pub fn risks(names: &Names<'_>, diags: &mut Diagnostics) -> Vec<Risk> {
    let mut seen = BTreeMap::new();
    list(&names.project.risk)
        .iter()
        .filter_map(|risk| {
            let (id, place, declared) = called(risk, diags)?;
            if let Some(first) = seen.insert(id.clone(), place) {
                diags.push(twice("risk", &id, place, first));
            }
            let on = risk.on.iter().flat_map(|on| &on.value);
            let on = on.filter_map(|name| {
                let place = risk.on.as_ref().map_or(Place::NOWHERE, |on| on.place);
                names.subject(&At::new(name.clone(), place), diags)
            });
            let on = on.collect();
            if declared {
                for (key, there) in [
                    ("title", risk.title.is_some()),
                    ("text", risk.text.is_some()),
                ] {
                    if !there {
                        diags.push(no_words(&id, key, place));
                    }
                }
            }
            Some(Risk {
                id,
                declared,
                title: value(&risk.title),
                text: value(&risk.text),
                doing: value(&risk.doing),
                cannot: value(&risk.cannot),
                on,
                number: value(&risk.number),
                limit: value(&risk.limit),
                roles: value(&risk.roles).filter(|r| !r.is_empty()),
                weight: value(&risk.weight),
                options: options(risk, diags),
                choice: risk.choice.as_ref().map(|c| (c.value.0.clone(), c.place)),
                place,
            })
        })
        .collect()
}

fn value<T: Clone>(at: &Option<At<T>>) -> Option<T> {
    at.as_ref().map(|at| at.value.clone())
}

/// What a risk is called, where, and whether it is declared by hand.
fn called(risk: &raw::Risk, diags: &mut Diagnostics) -> Option<(String, Place, bool)> {
    match (&risk.id, &risk.rule) {
        (Some(id), None) => Some((id.value.0.clone(), id.place, true)),
        (None, Some(rule)) => Some((rule.value.0.clone(), rule.place, false)),
        (Some(id), Some(rule)) => {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    id.place,
                    "a risk is declared by hand or raised by a rule, not both",
                )
                .label("an id is for those declared by hand")
                .also(rule.place, "the rule")
                .help("take out `id`: a risk that a rule raises is called by its rule"),
            );
            None
        }
        (None, None) => {
            let place = risk
                .place
                .0
                .map_or(Place::NOWHERE, |(at, _)| Place::span(at, at + 1));
            diags.push(
                Diagnostic::new(Code::MissingKey, place, "a risk must say its `id` or its `rule`")
                    .label("here")
                    .help("give one declared by hand an `id`; to say more of one that is raised, name its `rule`"),
            );
            None
        }
    }
}

fn no_words(id: &str, key: &str, place: Place) -> Diagnostic {
    let what = format!("risk `{id}` must say its `{key}`");
    Diagnostic::new(Code::MissingKey, place, what)
        .label("declared by hand: no rule has words for it")
        .help(format!(
            "add a line `{key} = \"\u{2026}\"`, in words that a client understands"
        ))
}

fn twice(what: &str, id: &str, place: Place, first: Place) -> Diagnostic {
    let said = format!("the {what} `{id}` is said twice");
    Diagnostic::new(Code::DuplicateId, place, said)
        .label("here again")
        .also(first, "first here")
        .help("say all of it in one place, or give one of them another name")
}

/// Options of one risk: each has a letter on paper, and a rule may offer two of its own.
const MOST: usize = 20;

fn options(risk: &raw::Risk, diags: &mut Diagnostics) -> Vec<RiskOption> {
    if let Some(all) = risk.option.as_ref().filter(|all| all.value.len() > MOST) {
        let what = format!(
            "{} options are more than anybody can choose from",
            all.value.len()
        );
        diags.push(
            Diagnostic::new(Code::AbsurdSize, all.place, what)
                .label(format!("{MOST} at most"))
                .help("keep those that the client would really weigh against one another"),
        );
    }
    let mut seen = BTreeMap::new();
    list(&risk.option)
        .iter()
        .map(|option| {
            let id = option
                .id
                .as_ref()
                .map_or(String::new(), |id| id.value.0.clone());
            let place = match &option.id {
                Some(at) if at.written() => at.place,
                _ => option.is().place,
            };
            if let Some(first) = seen.insert(id.clone(), place) {
                diags.push(twice("option", &id, place, first));
            }
            let option = RiskOption {
                id,
                kind: option.is().value,
                words: value(&option.words),
                price: value(&option.price),
                when: value(&option.when),
                until: value(&option.until),
                called: value(&option.called),
                not_needed: value(&option.not_needed),
                place,
            };
            contradictions(risk, &option, diags);
            option
        })
        .collect()
}

fn contradictions(risk: &raw::Risk, option: &RiskOption, diags: &mut Diagnostics) {
    let mut wrong = |what: String, help: &str| {
        diags.push(
            Diagnostic::new(Code::Contradiction, option.place, what)
                .label("this option")
                .help(help),
        );
    };
    let came = option.called.is_some() || option.not_needed.is_some();
    let chosen = risk.choice.as_ref().is_some_and(|c| c.value.0 == option.id);
    if option.kind != OptionKind::Contingency && (came || option.when.is_some()) {
        wrong(
            "only a contingency has a `when`, is `called` or `not_needed`".to_owned(),
            "make it `is = \"contingency\"`, or take those keys out",
        );
    } else if option.called.is_some() && option.not_needed.is_some() {
        wrong(
            format!(
                "the contingency `{}` is both called and not needed",
                option.id
            ),
            "keep the one that is true",
        );
    } else if came && !chosen {
        wrong(
            format!(
                "the contingency `{}` came to its end, but nobody chose it",
                option.id
            ),
            "say it in the risk's `choice`, or take the day out",
        );
    }
    if option.kind == OptionKind::Nothing
        && option.price.is_some_and(|p| p != crate::units::Money::ZERO)
    {
        wrong(
            "doing nothing costs nothing".to_owned(),
            "take its `price` out, or make it a change or a contingency",
        );
    }
}
