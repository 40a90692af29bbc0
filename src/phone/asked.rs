//! What is asked, of whom, in the page's order. Knows which subject is seen on which drawing; must not know
//! HTML or the answer file.

use super::{lists, told};
use crate::compare::subjects::{Subject, SubjectKind, subjects};
use crate::compare::{Record, Standing};
use crate::draw::{Drawing, DrawingKind, Key};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Reader};
use crate::risks::{CLIENT, Risks};
use crate::units::Money;

/// Everything the page says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    pub job: String,
    pub title: String,
    pub workshop: String,
    pub client: String,
    pub site: String,
    /// In words.
    pub date: String,
    /// Of an issue; empty for a draft.
    pub revision: String,
    pub draft: bool,
    /// Hash of the frozen job that an answer is an answer to.
    pub issue: String,
    /// ISO 4217, or as the project calls it.
    pub currency: String,
    /// To whom the answer goes, and how he is reached.
    pub send_to: String,
    /// The designer's note to the client, by paragraphs.
    pub note: Vec<String>,
    /// Never empty: the first is who answers unless another is chosen.
    pub signers: Vec<Signer>,
    /// None is empty.
    pub groups: Vec<Group>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Signer {
    pub name: String,
    pub role: String,
}

/// Subjects under one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    pub title: &'static str,
    pub lead: &'static [&'static str],
    pub questions: Vec<Question>,
}

/// A subject as it is asked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Question {
    pub key: String,
    pub hash: String,
    pub title: String,
    pub roles: Vec<String>,
    pub words: Vec<String>,
    pub facts: Vec<(String, String)>,
    /// What the client's pack lists of it.
    pub lists: Vec<Listed>,
    pub figures: Vec<Figure>,
    /// Small drawings that point at what it is about.
    pub keys: Vec<Figure>,
    /// Keys of questions whose drawings show what this one is about.
    pub seen_on: Vec<String>,
    /// Nothing: it is agreed to or not.
    pub choices: Vec<Choice>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    pub title: &'static str,
    pub rows: Vec<(String, String)>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub title: String,
    pub alt: String,
    pub svg: String,
}

/// One of several ways out.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    pub id: String,
    pub words: String,
    /// As printed; nothing where it adds nothing.
    pub price: String,
    /// What it adds; nothing: it has no price yet.
    pub adds: Option<Money>,
    /// Whether it is paid for only if it comes to pass.
    pub only_if: bool,
    pub more: Vec<String>,
}

/// Headings, what stands under each, and which subjects.
const GROUPS: &[(&str, &[&str], &[SubjectKind])] = &[
    (
        "The job as a whole",
        &["All sizes on this page are in millimetres."],
        &[SubjectKind::Job],
    ),
    ("The site", &[], &[SubjectKind::Survey, SubjectKind::WayIn]),
    (
        "The drawings",
        &[
            "They are the drawings of the client's pack. On a small screen, tap one or press its + button to make it larger, and move it about; tap it again to make it small. A scale on a drawing is that of its printed sheet: measure nothing from a screen.",
        ],
        &[SubjectKind::Plan, SubjectKind::Elevation, SubjectKind::Look],
    ),
    (
        "Boards, finishes, fittings",
        &["Screens change colours. A sample in the hand, looked at in the room, is what counts."],
        &[
            SubjectKind::Material,
            SubjectKind::Finish,
            SubjectKind::Handle,
            SubjectKind::Fittings,
        ],
    ),
    (
        "Machines, and work by others",
        &[
            "Whatever touches electricity, gas, water, fire safety or the building itself stays with the licensed people who do that work and with the rules where you live.",
        ],
        &[SubjectKind::Appliances, SubjectKind::Others],
    ),
    (
        RISKS,
        &[
            "Each of these can happen. We say what we do about it and what we cannot do. Please choose for each, also where you told us already. A price is for all that its risk is about. What is not priced yet, ask us for before you choose it.",
        ],
        &[SubjectKind::Disclosure],
    ),
];

/// The heading of what has prices.
pub const RISKS: &str = "What may go wrong";

/// What is drawn for the client's pack.
#[derive(Clone, Copy)]
pub struct Drawn<'a> {
    pub drawings: &'a [Drawing],
    /// Of the risks.
    pub keys: &'a [Key],
}

/// What the client's page asks.
pub fn asked(
    job: &Job,
    reckoned: &Reckoned,
    record: &Record,
    risks: &Risks,
    drawn: Drawn,
    standing: &Standing,
) -> Asked {
    let info = &job.info;
    let mut all = subjects(record);
    // Risks in the order in which the pack has them: what must be settled first.
    let place = |s: &Subject| risks.disclosures.iter().position(|d| d.id == s.id);
    all.sort_by_key(|s| {
        (
            s.kind,
            (s.kind == SubjectKind::Disclosure).then(|| place(s)),
        )
    });
    let signers = signers(job, &all);
    let mine = |s: &&Subject| signers.iter().any(|p| s.roles.contains(&p.role));
    let disclosed = |s: &Subject| {
        let is_one = s.kind == SubjectKind::Disclosure;
        let found = risks.disclosures.iter().find(|d| is_one && d.id == s.id)?;
        Some(told::disclosure(job, reckoned, risks, found, drawn.keys))
    };
    let question = |s: &Subject| {
        let mut question = disclosed(s).unwrap_or_else(|| Question {
            title: s.named(),
            words: told::words(job, s),
            facts: told::facts(job, record, s),
            lists: lists::of(job, reckoned, s),
            figures: figures(job, reckoned, drawn.drawings, s),
            ..Question::default()
        });
        question.key.clone_from(&s.key);
        question.hash.clone_from(&s.hash);
        question.roles.clone_from(&s.roles);
        question
    };
    let groups = GROUPS.iter().map(|(title, lead, kinds)| Group {
        title,
        lead,
        questions: all
            .iter()
            .filter(|s| kinds.contains(&s.kind))
            .filter(mine)
            .map(question)
            .collect(),
    });
    Asked {
        job: info.number.clone(),
        title: info.title.clone(),
        workshop: info.workshop.clone(),
        client: info.client.clone(),
        site: info.site.clone(),
        date: info.date.in_words(),
        revision: standing
            .issue
            .as_ref()
            .map_or(String::new(), |i| i.revision.clone()),
        draft: standing.issue.is_none(),
        issue: standing.hash.clone(),
        currency: info.currency.clone(),
        send_to: send_to(job),
        note: told::paragraphs(&info.note_to_client),
        groups: groups.filter(|g| !g.questions.is_empty()).collect(),
        signers,
    }
}

/// Those who sign and of whom something is asked, clients first; else the client, by his name.
fn signers(job: &Job, subjects: &[Subject]) -> Vec<Signer> {
    let has = |role: &String| subjects.iter().any(|s| s.roles.contains(role));
    let people = job.people.iter().filter(|p| p.signs && has(&p.role));
    let mut all: Vec<Signer> = people
        .map(|p| Signer {
            name: p.name.clone(),
            role: p.role.clone(),
        })
        .collect();
    all.sort_by_key(|p| p.role != CLIENT);
    if all.is_empty() {
        all.push(Signer {
            name: job.info.client.clone(),
            role: CLIENT.to_owned(),
        });
    }
    all
}

/// `Odelia Thrupp-Marrow (bench telephone)`: the designer, else the workshop.
fn send_to(job: &Job) -> String {
    let names = [&job.info.designer, &job.info.workshop];
    let Some(name) = names.into_iter().find(|n| !n.trim().is_empty()) else {
        return "whoever sent you this page".to_owned();
    };
    let reach = job.people.iter().find(|p| p.name == *name);
    match reach.map(|p| p.reach.trim()).filter(|r| !r.is_empty()) {
        Some(reach) => format!("{name} ({reach})"),
        None => name.clone(),
    }
}

fn figures(job: &Job, reckoned: &Reckoned, drawings: &[Drawing], s: &Subject) -> Vec<Figure> {
    let shows = |kind: &DrawingKind| match (s.kind, kind) {
        (SubjectKind::Plan | SubjectKind::Survey, DrawingKind::Plan(room)) => {
            job.rooms.get(*room).is_some_and(|r| r.id == s.id)
        }
        (SubjectKind::Elevation, DrawingKind::Shut(at) | DrawingKind::Open(at)) => {
            job.rooms
                .get(at.room)
                .is_some_and(|r| at.wall < r.walls.len())
                && job.wall_id(*at) == s.id
        }
        (SubjectKind::Look, DrawingKind::Look(n)) => {
            reckoned.patterns.get(*n).is_some_and(|p| p.name == s.id)
        }
        _ => false,
    };
    let shown = drawings.iter().filter(|d| shows(&d.kind));
    shown
        .map(|d| Figure {
            title: match d.part {
                (_, 1) => d.title.clone(),
                (n, of) => format!("{}, part {n} of {of}", d.title),
            },
            alt: d.alt.clone(),
            svg: d.svg.clone(),
        })
        .collect()
}

/// Notes to the client that are pinned to nothing.
pub(super) fn general_notes(job: &Job) -> impl Iterator<Item = &str> {
    let general = job.notes.iter().filter(|n| {
        n.to.is_for(Reader::Client) && matches!(n.on, crate::resolve::job::Subject::Job)
    });
    general.map(|n| n.text.as_str())
}
