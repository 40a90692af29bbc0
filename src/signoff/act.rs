//! Answers as a person gives them, checked against the subjects they are about. Knows which answers a subject
//! can have; must not know how they were asked for.

use std::collections::BTreeMap;

use super::entry::{About, Answer, Answered, Becomes};
use super::state::Contingency;
use crate::compare::{Record, Subject, SubjectKind};

/// Longest name, place or initials that a person has.
const MOST_NAME: usize = 120;
/// Longest words of an entry.
const MOST_WORDS: usize = 2000;

/// One answer, as given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// A subject's key, or enough of it: `chamber.A`, `finish oil`.
    pub subject: String,
    pub answer: Answer,
    pub option: Option<String>,
    pub initials: String,
    pub note: String,
}

/// An option of a disclosure, by its own id, and its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    pub id: String,
    pub words: String,
    /// Whether it is the only one, or the one that the project file has.
    pub usual: bool,
}

/// The options that a disclosure offers, in their order.
pub fn choices(record: &Record, subject: &Subject) -> Vec<Choice> {
    if subject.kind != SubjectKind::Disclosure {
        return Vec::new();
    }
    let of = crate::compare::record::key("disclosure", &subject.id);
    let has = record.things.get(&of).and_then(|d| d.text("choice"));
    let options = record.things.values().filter(|t| t.kind == "option");
    let options: Vec<_> = options.filter(|t| t.of.as_ref() == Some(&of)).collect();
    let only = options.len() == 1;
    let each = options.into_iter().map(|t| {
        let id = own_id(&t.id, &subject.id);
        Choice {
            id: id.to_owned(),
            words: t.text("words").unwrap_or("").to_owned(),
            usual: only || has == Some(id),
        }
    });
    each.collect()
}

/// `straightener` of `bow/straightener`.
fn own_id<'a>(id: &'a str, disclosure: &str) -> &'a str {
    let rest = id.strip_prefix(disclosure);
    rest.and_then(|r| r.strip_prefix('/')).unwrap_or(id)
}

/// The subject that somebody names: by its key, or by what only one key has after its kind.
///
/// # Errors
/// In words: none is called so, or several are.
pub fn find<'a>(subjects: &'a [Subject], name: &str) -> Result<&'a Subject, String> {
    if let Some(exact) = subjects.iter().find(|s| s.key == name) {
        return Ok(exact);
    }
    let named: Vec<&Subject> = subjects
        .iter()
        .filter(|s| !s.id.is_empty() && s.id == name)
        .collect();
    match named.as_slice() {
        [one] => Ok(one),
        [] => Err(format!(
            "nothing that is agreed to is called \u{201c}{name}\u{201d}. There is: {}",
            listed(subjects.iter().map(|s| s.key.as_str()))
        )),
        several => Err(format!(
            "\u{201c}{name}\u{201d} may be {}: say which",
            listed(several.iter().map(|s| s.key.as_str()))
        )),
    }
}

fn listed<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

/// Answers ready to be recorded: each about a subject of this issue that is for this role, each subject at
/// most once, an option only where there is one of that id.
///
/// # Errors
/// In words: the first answer that cannot be.
pub fn answers(
    record: &Record,
    subjects: &[Subject],
    role: &str,
    given: &[Given],
    pages: &BTreeMap<String, String>,
) -> Result<Vec<Answered>, String> {
    let mut out: Vec<Answered> = Vec::new();
    for one in given {
        let subject = find(subjects, &one.subject)?;
        let named = subject.named();
        if !subject.roles.iter().any(|r| r == role) {
            return Err(format!(
                "{named} is not for the {role} to answer, but for the {}",
                listed(subject.roles.iter().map(String::as_str))
            ));
        }
        if out.iter().any(|a| a.subject == subject.key) {
            return Err(format!("{named} is answered twice"));
        }
        let choices = choices(record, subject);
        let known = |id: &str| choices.iter().any(|c| c.id == id);
        match (one.answer, &one.option) {
            (Answer::Chosen, None) => return Err(format!("{named}: no option is named")),
            (Answer::Chosen, Some(id)) if !known(id) => {
                let offered = match choices.is_empty() {
                    true => "it offers none".to_owned(),
                    false => format!(
                        "it offers {}",
                        listed(choices.iter().map(|c| c.id.as_str()))
                    ),
                };
                return Err(format!(
                    "{named} has no option \u{201c}{id}\u{201d}: {offered}"
                ));
            }
            (Answer::Agreed, None) if !choices.is_empty() => {
                return Err(format!(
                    "{named} offers a choice: say which of {}",
                    listed(choices.iter().map(|c| c.id.as_str()))
                ));
            }
            (Answer::Agreed | Answer::Declined, Some(_)) => {
                return Err(format!("{named}: an option goes only with a choice"));
            }
            _ => {}
        }
        name("initials", &one.initials)?;
        out.push(Answered {
            subject: subject.key.clone(),
            title: named,
            hash: subject.hash.clone(),
            answer: one.answer,
            option: one.option.clone(),
            page: pages.get(&subject.key).cloned().unwrap_or_default(),
            initials: one.initials.clone(),
            note: one.note.clone(),
        });
    }
    match out.is_empty() {
        true => Err("nothing is answered".into()),
        false => Ok(out),
    }
}

/// Subjects as an entry names them.
pub fn about<'a>(subjects: impl IntoIterator<Item = &'a Subject>) -> Vec<About> {
    let each = subjects.into_iter();
    each.map(|s| About {
        subject: s.key.clone(),
        title: s.named(),
        hash: s.hash.clone(),
    })
    .collect()
}

/// A name, place or initials that a person can have.
///
/// # Errors
/// In words.
pub fn name(what: &str, text: &str) -> Result<(), String> {
    short(what, text, MOST_NAME)
}

/// Words of an entry.
///
/// # Errors
/// In words.
pub fn words(what: &str, text: &str) -> Result<(), String> {
    short(what, text, MOST_WORDS)
}

fn short(what: &str, text: &str, most: usize) -> Result<(), String> {
    let long = text.chars().count();
    if long > most {
        return Err(format!(
            "{what}: {long} characters, and {most} are the most"
        ));
    }
    if text.chars().any(char::is_control) {
        return Err(format!(
            "{what}: it has a character that is no letter and no sign"
        ));
    }
    match crate::lettering::missing(text) {
        Some(c) => Err(format!(
            "{what}: the character \u{201c}{c}\u{201d} (U+{:04X}) cannot be printed",
            u32::from(c)
        )),
        None => Ok(()),
    }
}

/// What may become of a contingency: only one that was accepted has a life, it ends once, and it can be called
/// as long as its last day is not over.
///
/// # Errors
/// In words.
pub fn becomes(
    option: &str,
    known: Option<&Contingency>,
    now: Becomes,
    day: &str,
) -> Result<(), String> {
    let Some(known) = known else {
        return Err(format!(
            "\u{201c}{option}\u{201d} was not accepted as a contingency, or its acceptance has lapsed: it \
             cannot be {}",
            now.word()
        ));
    };
    if let Some(before) = known.became {
        return Err(format!(
            "\u{201c}{option}\u{201d} is {} already, since {}",
            before.word(),
            known.day
        ));
    }
    let over = known.until.as_deref().is_some_and(|until| day > until);
    match (now, known.until.as_deref()) {
        (Becomes::Called, Some(until)) if over => Err(format!(
            "\u{201c}{option}\u{201d} could be called until {until}: on {day} it cannot be"
        )),
        (Becomes::Expired, Some(until)) if !over => Err(format!(
            "\u{201c}{option}\u{201d} can be called until {until}: on {day} it is not expired"
        )),
        (Becomes::Expired, None) => Err(format!(
            "\u{201c}{option}\u{201d} has no last day: it cannot expire"
        )),
        _ => Ok(()),
    }
}
