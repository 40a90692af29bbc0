//! Where every agreement stands, at any revision and on any day. Knows entries and the subjects of issues;
//! must not know how it is told.

use std::collections::BTreeMap;

use serde::Serialize;

use super::act;
use super::entry::{About, Answer, Answered, Becomes, Entry, Means, What};
use crate::compare::{Earlier, Frozen, Subject, SubjectKind, subjects};

/// An issue with what people sign for in it.
pub struct Issued<'a> {
    pub named: &'a Earlier,
    pub frozen: &'a Frozen,
    pub subjects: Vec<Subject>,
}

/// Every issue of a job, the oldest first.
pub fn issued<'a>(all: impl IntoIterator<Item = (&'a Earlier, &'a Frozen)>) -> Vec<Issued<'a>> {
    let each = all.into_iter();
    each.map(|(named, frozen)| Issued {
        named,
        frozen,
        subjects: subjects(&frozen.record),
    })
    .collect()
}

/// Where things stand.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct State {
    pub revision: String,
    /// Nothing: whatever is recorded.
    pub day: Option<String>,
    pub agreements: Vec<Agreement>,
    /// What was agreed and is no part of this issue any more.
    pub gone: Vec<Gone>,
    pub contingencies: Vec<Contingency>,
    pub snags: Vec<Snag>,
    pub completed: Vec<Completed>,
    /// Where the project of this issue has another choice than was recorded: subject, and words.
    pub differs: Vec<Differs>,
    /// Roles that must agree to something and for which nobody signs.
    pub unsigned_roles: Vec<String>,
}

/// One subject and one person who is asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Agreement {
    pub subject: String,
    pub kind: SubjectKind,
    pub title: String,
    pub role: String,
    /// Who is asked; empty, where the project names nobody for the role.
    pub name: String,
    /// The ids of what can be chosen.
    pub options: Vec<String>,
    #[serde(flatten)]
    pub stands: Where,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case", tag = "stands")]
pub enum Where {
    Open,
    Agreed {
        by: By,
    },
    Chosen {
        by: By,
    },
    Declined {
        by: By,
    },
    /// It was answered, and a later issue altered it.
    Lapsed {
        by: By,
        altered_by: String,
    },
}

/// Who answered, when, and on the strength of what.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct By {
    /// The entry's number, and what the subject was called in it.
    pub entry: u32,
    pub subject: String,
    pub name: String,
    pub role: String,
    pub day: String,
    pub revision: String,
    pub page: String,
    pub means: Means,
    pub answer: Answer,
    pub option: Option<String>,
}

/// A choice that the project file does not have, or has otherwise.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Differs {
    pub subject: String,
    pub title: String,
    pub recorded: String,
    /// Nothing: the project says none.
    pub project: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Gone {
    pub subject: String,
    pub title: String,
    pub by: By,
    /// The first revision without it.
    pub since: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Contingency {
    pub option: String,
    pub title: String,
    /// Nothing: accepted, and not called so far.
    pub became: Option<Becomes>,
    pub day: String,
    pub words: String,
    /// The last day on which it may be called.
    pub until: Option<String>,
    /// Whether that day is over: on the day asked about, or on the last day of which anything is recorded.
    pub over: bool,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Snag {
    pub number: u32,
    pub about: String,
    pub words: String,
    pub day: String,
    /// When it was put right.
    pub put_right: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Completed {
    pub name: String,
    pub role: String,
    pub day: String,
    pub words: String,
}

impl State {
    /// Whether all that is asked of somebody is agreed. Of a role for which nobody signs nothing is asked.
    pub fn holds(&self) -> bool {
        let agreed = |w: &Where| matches!(w, Where::Agreed { .. } | Where::Chosen { .. });
        let asked = self.agreements.iter().filter(|a| !a.name.is_empty());
        asked.clone().count() > 0 && asked.into_iter().all(|a| agreed(&a.stands))
    }

    pub fn count(&self, pick: fn(&Where) -> bool) -> usize {
        self.agreements.iter().filter(|a| pick(&a.stands)).count()
    }
}

/// One answer with the entry that it is in.
struct Told<'a> {
    entry: &'a Entry,
    means: Means,
    answered: &'a Answered,
    /// Place of its issue among the issues.
    issue: usize,
}

impl Told<'_> {
    fn by(&self, issues: &[Issued]) -> By {
        let who = self.entry.who.as_ref();
        By {
            entry: self.entry.seq,
            subject: self.answered.subject.clone(),
            name: who.map_or(String::new(), |w| w.name.clone()),
            role: who.map_or(String::new(), |w| w.role.clone()),
            day: self.entry.day.clone(),
            revision: issues
                .get(self.issue)
                .map_or(String::new(), |i| i.named.revision.clone()),
            page: self.answered.page.clone(),
            means: self.means,
            answer: self.answered.answer,
            option: self.answered.option.clone(),
        }
    }
}

/// Where everything stands at the issue at place `at`, by what was recorded up to and with a day.
pub fn state(issues: &[Issued], entries: &[Entry], at: usize, day: Option<&str>) -> State {
    let Some(now) = issues.get(at) else {
        return State::default();
    };
    let within = entries
        .iter()
        .filter(|e| day.is_none_or(|d| e.day.as_str() <= d));
    let within: Vec<&Entry> = within.collect();
    let told = told(issues, &within, at);
    let mut state = State {
        revision: now.named.revision.clone(),
        day: day.map(str::to_owned),
        ..State::default()
    };
    // Of each answer the subject that it has become.
    let became: Vec<Became> = told.iter().map(|t| follow(issues, t, at)).collect();
    for subject in &now.subjects {
        let options = act::choices(&now.frozen.record, subject);
        let options: Vec<String> = options.into_iter().map(|c| c.id).collect();
        for role in &subject.roles {
            let signers = signers(now.frozen, role);
            if signers.is_empty() && !state.unsigned_roles.contains(role) {
                state.unsigned_roles.push(role.clone());
            }
            let asked = match signers.is_empty() {
                true => vec![String::new()],
                false => signers,
            };
            let alone = asked.len() == 1;
            for name in asked {
                let is_theirs = |t: &Told| {
                    let who = t.entry.who.as_ref();
                    who.is_some_and(|w| w.role == *role && (alone || same_name(&w.name, &name)))
                };
                let latest = told.iter().zip(&became).rev().find(|(t, became)| {
                    became.key.as_deref() == Some(subject.key.as_str()) && is_theirs(t)
                });
                let stands = match latest {
                    None => Where::Open,
                    Some((t, became)) => match &became.altered {
                        Some(by) => Where::Lapsed {
                            by: t.by(issues),
                            altered_by: by.clone(),
                        },
                        None => match t.answered.answer {
                            Answer::Agreed => Where::Agreed { by: t.by(issues) },
                            Answer::Chosen => Where::Chosen { by: t.by(issues) },
                            Answer::Declined => Where::Declined { by: t.by(issues) },
                        },
                    },
                };
                state.agreements.push(Agreement {
                    subject: subject.key.clone(),
                    kind: subject.kind,
                    title: subject.title.clone(),
                    role: role.clone(),
                    name,
                    options: options.clone(),
                    stands,
                });
            }
        }
    }
    for (t, became) in told.iter().zip(&became) {
        if let (None, Some(since)) = (&became.key, &became.altered) {
            state.gone.push(Gone {
                subject: t.answered.subject.clone(),
                title: t.answered.title.clone(),
                by: t.by(issues),
                since: since.clone(),
            });
        }
    }
    lives(&within, now, &mut state);
    state
}

/// Every answer to an issue up to this one, in the order of the record.
fn told<'a>(issues: &[Issued], entries: &[&'a Entry], at: usize) -> Vec<Told<'a>> {
    let mut out = Vec::new();
    for entry in entries {
        let (What::Answered { means, answers, .. }, Some(on)) = (&entry.what, &entry.on) else {
            continue;
        };
        let issue = issues
            .iter()
            .take(at + 1)
            .position(|i| i.named.hash == on.hash);
        let Some(issue) = issue else { continue };
        out.extend(answers.iter().map(|answered| Told {
            entry,
            means: *means,
            answered,
            issue,
        }));
    }
    out
}

/// What an answered subject has become.
struct Became {
    /// Its key now; nothing, where it is no more.
    key: Option<String>,
    /// The first revision that shows something else, or nothing of it.
    altered: Option<String>,
}

/// Follows a subject from the issue where it was answered to another. It is the same under another key where
/// the key is gone and a new one of its kind shows exactly the same. An issue whose project chose something
/// else since than what was answered alters it too.
fn follow(issues: &[Issued], told: &Told, at: usize) -> Became {
    let mut key = told.answered.subject.clone();
    let hash = &told.answered.hash;
    let mut altered: Option<String> = None;
    let here = |issue: &Issued, key: &str| issue.subjects.iter().position(|s| s.key == key);
    let first = issues
        .get(told.issue)
        .and_then(|i| i.subjects.get(here(i, &key)?));
    // It was recorded of a subject that the issue has not, or not so: it never stood.
    if first.is_none_or(|s| s.hash != *hash) {
        altered = issues.get(told.issue).map(|i| i.named.revision.clone());
    }
    let mut choice = first.and_then(|s| s.choice.clone());
    for (n, issue) in issues.iter().enumerate().take(at + 1).skip(told.issue + 1) {
        let subject = here(issue, &key).and_then(|at| issue.subjects.get(at));
        let before = n.checked_sub(1).and_then(|n| issues.get(n));
        let subject = subject.or_else(|| {
            issue.subjects.iter().find(|s| {
                let new = before.is_none_or(|b| here(b, &s.key).is_none());
                new && s.hash == *hash && s.kind.word() == kind_of(&key)
            })
        });
        match subject {
            Some(subject) => {
                key = subject.key.clone();
                let other = subject.choice.is_some()
                    && subject.choice != choice
                    && subject.choice != told.answered.option;
                choice.clone_from(&subject.choice);
                if (subject.hash != *hash || other) && altered.is_none() {
                    altered = Some(issue.named.revision.clone());
                }
            }
            None => {
                return Became {
                    key: None,
                    altered: Some(altered.unwrap_or_else(|| issue.named.revision.clone())),
                };
            }
        }
    }
    Became {
        key: Some(key),
        altered,
    }
}

/// The word of a kind that a key begins with.
fn kind_of(key: &str) -> &str {
    let kinds = [SubjectKind::WayIn, SubjectKind::Others].map(SubjectKind::word);
    let long = kinds.into_iter().find(|k| key.starts_with(k));
    long.unwrap_or_else(|| key.split(' ').next().unwrap_or(key))
}

/// People who sign in a role, by the project file as it was frozen.
pub fn signers(frozen: &Frozen, role: &str) -> Vec<String> {
    let people = frozen.record.things.values().filter(|t| t.kind == "person");
    let signs = people.filter(|p| {
        let signs = matches!(
            p.said.get("signs"),
            Some(crate::compare::record::Fact::Yes(true))
        );
        signs && p.text("role") == Some(role)
    });
    signs
        .filter_map(|p| p.text("name").map(str::to_owned))
        .collect()
}

fn same_name(a: &str, b: &str) -> bool {
    let plain = |s: &str| {
        s.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    plain(a) == plain(b)
}

/// Contingencies, snags, completion, and choices that the project file does not have yet.
fn lives(entries: &[&Entry], now: &Issued, state: &mut State) {
    let last = entries.iter().map(|e| e.day.as_str()).max();
    let today = state.day.clone().or(last.map(str::to_owned));
    for agreement in &state.agreements {
        let Where::Chosen { by } = &agreement.stands else {
            continue;
        };
        let (Some(option), Some((_, disclosure))) = (&by.option, agreement.subject.split_once(' '))
        else {
            continue;
        };
        let chosen = now.frozen.record.get("disclosure", disclosure);
        let chosen = chosen.and_then(|d| d.text("choice"));
        let differs = Differs {
            subject: agreement.subject.clone(),
            title: agreement.title.clone(),
            recorded: option.clone(),
            project: chosen.map(str::to_owned),
        };
        if chosen != Some(option.as_str()) && !state.differs.contains(&differs) {
            state.differs.push(differs);
        }
        let id = format!("{disclosure}/{option}");
        let thing = now.frozen.record.get("option", &id);
        if thing.and_then(|t| t.text("is")) != Some("contingency") {
            continue;
        }
        if state.contingencies.iter().any(|c| c.option == id) {
            continue;
        }
        let words = thing.and_then(|t| t.text("words")).unwrap_or("").to_owned();
        let mut life = Contingency {
            option: id.clone(),
            title: agreement.title.clone(),
            became: None,
            day: by.day.clone(),
            words,
            until: thing.and_then(|t| t.text("until")).map(str::to_owned),
            over: false,
        };
        for entry in entries {
            if let What::Contingency {
                option,
                becomes,
                words,
                ..
            } = &entry.what
                && *option == id
            {
                life.became = Some(*becomes);
                life.day = entry.day.clone();
                life.words = words.clone();
            }
        }
        let late = |until: &String| today.as_ref().is_some_and(|day| day > until);
        life.over = life.until.as_ref().is_some_and(late);
        state.contingencies.push(life);
    }
    let mut snags: BTreeMap<u32, Snag> = BTreeMap::new();
    for entry in entries {
        match &entry.what {
            What::Snag {
                number,
                about,
                words,
                put_right,
            } => {
                let snag = snags.entry(*number).or_insert_with(|| Snag {
                    number: *number,
                    about: about.clone(),
                    words: words.clone(),
                    day: entry.day.clone(),
                    put_right: None,
                });
                snag.put_right = put_right.then(|| entry.day.clone());
            }
            What::Completed { words } => state.completed.push(Completed {
                name: entry.who.as_ref().map_or(String::new(), |w| w.name.clone()),
                role: entry.who.as_ref().map_or(String::new(), |w| w.role.clone()),
                day: entry.day.clone(),
                words: words.clone(),
            }),
            _ => {}
        }
    }
    state.snags = snags.into_values().collect();
}

/// What stood at the issue before the one at place `at`, and stands no more because of it.
pub fn lapsing(issues: &[Issued], entries: &[Entry], at: usize) -> Vec<(About, Vec<By>)> {
    let Some(before) = at.checked_sub(1) else {
        return Vec::new();
    };
    let stood = state(issues, entries, before, None);
    let now = state(issues, entries, at, None);
    let mut out: Vec<(About, Vec<By>)> = Vec::new();
    for was in &stood.agreements {
        let (Where::Agreed { by } | Where::Chosen { by }) = &was.stands else {
            continue;
        };
        let holds = now.agreements.iter().any(|a| match &a.stands {
            Where::Agreed { by: still } | Where::Chosen { by: still } => {
                (still.entry, &still.subject) == (by.entry, &by.subject) && a.role == was.role
            }
            _ => false,
        });
        if holds {
            continue;
        }
        let hash = issues
            .get(before)
            .and_then(|i| i.subjects.iter().find(|s| s.key == was.subject));
        let about = About {
            subject: was.subject.clone(),
            title: crate::compare::subjects::named(was.kind.word(), &was.title),
            hash: hash.map_or(String::new(), |s| s.hash.clone()),
        };
        match out.iter_mut().find(|(a, _)| *a == about) {
            Some((_, all)) => all.push(by.clone()),
            None => out.push((about, vec![by.clone()])),
        }
    }
    out
}
