//! Subjects that are no drawing, in words: materials, finishes, fittings, machines, the site. Knows how a
//! client reads them; must not know sizes that nobody wrote.

use std::collections::BTreeMap;

use super::asked::{Choice, Figure, Question, general_notes};
use crate::compare::Record;
use crate::compare::record::{Fact, Thing};
use crate::compare::subjects::{Subject, SubjectKind};
use crate::draw::Key;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Subject as About;
use crate::resolve::job::{
    Appliance, ByOthers, Hardware, HardwareKind, Job, Material, Turn, WallRef,
};
use crate::risks::{Disclosure, Offer, OptionKind, Risks, told};
use crate::units::{Length, Money};

type Facts = Vec<(String, String)>;

/// Texts parted where the designer left a line empty.
pub fn paragraphs(text: &str) -> Vec<String> {
    let parts = text.split("\n\n").map(|p| p.trim().replace('\n', " "));
    parts.filter(|p| !p.is_empty()).collect()
}

pub fn words(job: &Job, subject: &Subject) -> Vec<String> {
    match subject.kind {
        SubjectKind::Job => {
            let notes = general_notes(job).flat_map(paragraphs);
            notes.collect()
        }
        SubjectKind::Survey => vec![
            "The room as it was measured. Check it against the room itself before anything is cut."
                .to_owned(),
        ],
        SubjectKind::Appliances => vec![
            "Ventilation, clearances and access for service are as each maker's own instructions say; \
             where they ask for more than is drawn, they win."
                .to_owned(),
        ],
        SubjectKind::Others => job.by_others.iter().map(by_others).collect(),
        _ => Vec::new(),
    }
}

/// `Socket moved into the plinth: licensed electrician, before we come, by 20 March 2026.`
fn by_others(work: &ByOthers) -> String {
    let who = Some(work.who.trim()).filter(|w| !w.is_empty());
    let by = work.by.map(|day| format!("by {}", day.in_words()));
    let by = by.unwrap_or("no day agreed yet".to_owned());
    let turn = match work.turn {
        Turn::Before => "before we come",
        Turn::During => "while we fit",
        Turn::After => "when we have done",
    };
    let all: Vec<&str> = who.into_iter().chain([turn, by.as_str()]).collect();
    format!("{}: {}.", work.what.trim_end_matches('.'), all.join(", "))
}

pub fn facts(job: &Job, record: &Record, subject: &Subject) -> Facts {
    let id = subject.id.as_str();
    match subject.kind {
        SubjectKind::Job => vec![
            said(
                "A shelf may sag",
                format!("in time, by its length divided by {}", job.info.shelf_limit),
            ),
            said(
                "A front may bow",
                format!("by {} mm over its height", job.info.bow_limit),
            ),
        ],
        SubjectKind::Material => {
            let found = job.materials.iter().find(|m| m.key == id);
            let facts = found.map(material).unwrap_or_default();
            with_uses(facts, record, "material", id)
        }
        SubjectKind::Finish => {
            let mut facts = Facts::new();
            for finish in job.finishes.iter().filter(|f| f.key == id) {
                say(&mut facts, "Sheen", &finish.sheen);
                facts.push(said("Coats", finish.coats.to_string()));
                let sample = match finish.sample {
                    Some(day) => format!("agreed {}", day.in_words()),
                    None => "none agreed yet: please ask for one".to_owned(),
                };
                facts.push(said("Sample", sample));
            }
            with_uses(facts, record, "finish", id)
        }
        SubjectKind::Handle => {
            let found = job.hardware.iter().find(|h| h.key == id);
            let facts = found.map(handle).unwrap_or_default();
            with_uses(facts, record, "handle", id)
        }
        SubjectKind::Fittings => {
            let rest = job.hardware.iter();
            let rest = rest.filter(|h| h.kind != HardwareKind::Handle);
            rest.map(|h| said(&capital(h.kind.word()), h.name.clone()))
                .collect()
        }
        SubjectKind::Appliances => job.appliances.iter().map(appliance).collect(),
        SubjectKind::WayIn => {
            let all = job.way_in.iter();
            all.map(|o| (o.what.clone(), format!("{} × {} clear", o.width, o.height)))
                .collect()
        }
        SubjectKind::Others
        | SubjectKind::Survey
        | SubjectKind::Plan
        | SubjectKind::Elevation
        | SubjectKind::Look
        | SubjectKind::Disclosure => Vec::new(),
    }
}

/// A risk as it is asked: what may happen, the number behind it, what is done about it, and the ways out.
pub fn disclosure(
    job: &Job,
    reckoned: &Reckoned,
    risks: &Risks,
    d: &Disclosure,
    keys: &[Key],
) -> Question {
    let mut words = paragraphs(&d.text);
    if !d.may_be_agreed {
        words.push(
            "This must be settled before anything is made: it cannot be agreed to as it is."
                .to_owned(),
        );
    }
    let mut facts = vec![said("About", d.about.clone())];
    if let Some(number) = told::number(reckoned, d) {
        facts.push(said("The number", number));
    }
    say(&mut facts, "In detail", &told::in_detail(reckoned, d));
    say(&mut facts, "What we do", &d.doing);
    say(&mut facts, "What we cannot do", &d.cannot);
    if let Some(known) = &d.known {
        say(&mut facts, "Why it stands", known);
    }
    if let Some(chosen) = d.chosen() {
        facts.push(said("Chosen so far", chosen.words.clone()));
    }
    let mut seen_on: Vec<String> = Vec::new();
    for at in d.subjects.iter().filter_map(|s| wall_of(job, reckoned, s)) {
        let key = format!("{} {}", SubjectKind::Elevation.word(), job.wall_id(at));
        if !seen_on.contains(&key) {
            seen_on.push(key);
        }
    }
    Question {
        title: format!("Risk {}: {}", d.number, d.title),
        words,
        facts,
        seen_on,
        keys: keys
            .iter()
            .filter(|k| k.of.contains(&d.id))
            .map(|k| Figure {
                title: k.title.clone(),
                alt: k.alt.clone(),
                svg: k.svg.clone(),
            })
            .collect(),
        choices: d.options.iter().map(|o| choice(risks, o)).collect(),
        ..Question::default()
    }
}

fn choice(risks: &Risks, offer: &Offer) -> Choice {
    let only_if = offer.kind == OptionKind::Contingency;
    let more = Some(told::detail(offer)).filter(|d| !d.is_empty());
    Choice {
        id: offer.id.clone(),
        words: offer.words.clone(),
        price: told::price(offer, &risks.currency),
        adds: match (offer.price, offer.kind) {
            (None, OptionKind::Nothing) => Some(Money::ZERO),
            (price, _) => price,
        },
        only_if,
        more: more.into_iter().collect(),
    }
}

/// The wall whose elevation shows it.
fn wall_of(job: &Job, reckoned: &Reckoned, subject: &About) -> Option<WallRef> {
    let of_run = |run: usize| job.runs.get(run).map(|r| r.wall);
    let wall = match subject {
        About::Job | About::Room(_) => None,
        About::Wall(at) => Some(*at),
        About::Run(run) | About::Unit(run, _) => of_run(*run),
        About::Front(id) => {
            let front = reckoned.fronts.iter().find(|f| f.id == *id)?;
            of_run(front.run)
        }
        About::Panel(n) => job.panels.get(*n).map(|p| p.wall),
        About::Sliding(n) => job.sliding.get(*n).map(|s| s.wall),
        About::Worktop(n) => reckoned.worktops.get(*n).map(|w| w.wall),
    };
    let known = |at: &WallRef| {
        job.rooms
            .get(at.room)
            .is_some_and(|r| at.wall < r.walls.len())
    };
    wall.filter(known)
}

fn material(material: &Material) -> Facts {
    let mut facts = vec![said(
        "Board",
        format!("{}, {} mm thick", material.core.word(), material.thickness),
    )];
    say(&mut facts, "Edges", &material.edge);
    say(&mut facts, "Batch", &material.batch);
    say(&mut facts, "Its maker has it for", &material.made_for);
    facts
}

fn handle(handle: &Hardware) -> Facts {
    let mut facts = Facts::new();
    if handle.size > Length::ZERO {
        facts.push(said("Length", handle.size.to_string()));
    }
    let out = match handle.out > Length::ZERO {
        true => handle.out.to_string(),
        false => "no, it is flush".to_owned(),
    };
    facts.push(said("Stands out", out));
    facts
}

fn appliance(a: &Appliance) -> (String, String) {
    let mut text = format!("{} × {} × {}", a.width, a.height, a.depth);
    if !a.supplied.trim().is_empty() {
        text.push_str(&format!(", supplied by {}", a.supplied));
    }
    let needs: Vec<&str> = a.needs.iter().map(|n| n.name()).collect();
    if !needs.is_empty() {
        text.push_str(&format!("; needs {}", needs.join(", ")));
    }
    (capital(&a.name), text)
}

/// What names a material, finish or handle, counted by kind of thing.
fn with_uses(mut facts: Facts, record: &Record, what: &str, id: &str) -> Facts {
    let names: &[&str] = match what {
        "material" => &["material", "carcass", "back"],
        "finish" => &["finish"],
        _ => &["handle"],
    };
    let mut counts: BTreeMap<(&str, &str), u32> = BTreeMap::new();
    for thing in record.things.values() {
        for name in names {
            if names_it(thing, name, id) {
                let count = counts.entry((thing.kind.as_str(), name)).or_default();
                *count = count.saturating_add(1);
            }
        }
    }
    let on: Vec<String> = counts
        .iter()
        .filter_map(|((kind, name), n)| used(kind, name, *n))
        .collect();
    if !on.is_empty() {
        facts.push(said("Used for", on.join(", ")));
    }
    facts
}

fn names_it(thing: &Thing, name: &str, id: &str) -> bool {
    // What comes of a thing holds over what was said of it.
    let fact = thing.comes.get(name).or_else(|| thing.said.get(name));
    matches!(fact, Some(Fact::Name(n) | Fact::Text(n)) if n == id)
}

/// `3 doors`; nothing for what is no part of the furniture.
fn used(kind: &str, name: &str, n: u32) -> Option<String> {
    let (one, many) = match (kind, name) {
        ("unit", "carcass") => ("carcass", "carcasses"),
        ("unit", "back") => ("back", "backs"),
        ("front", _) => ("front", "fronts"),
        ("sliding", _) => ("sliding door", "sliding doors"),
        ("panel", _) => ("panel", "panels"),
        ("worktop", _) => ("worktop", "worktops"),
        ("strip" | "piece", _) => ("end panel or filler", "end panels and fillers"),
        ("end panel", _) => ("end panel", "end panels"),
        ("filler", _) => ("filler", "fillers"),
        ("scribe", _) => ("scribe", "scribes"),
        ("plinth", _) => ("plinth", "plinths"),
        _ => return None,
    };
    Some(match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    })
}

fn said(term: &str, text: String) -> (String, String) {
    (term.to_owned(), text)
}

fn say(facts: &mut Facts, term: &str, text: &str) {
    if !text.trim().is_empty() {
        facts.push(said(term, text.to_owned()));
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
