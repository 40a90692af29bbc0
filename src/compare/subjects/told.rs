//! What is told in words and agreed to: the job as a whole, the survey, the way in, work by others, machines
//! and what may go wrong. Knows which facts of those matter to whoever agrees; must not know their wording.

use std::collections::BTreeMap;

use super::super::record::{Fact, Facts, Record, Thing};
use super::super::words;
use super::{CLIENT, FITTER, Shown, Subject, SubjectKind, but, only, shows};

/// Kinds of thing that a survey of a room is made of.
pub const SURVEYED: &[&str] = &[
    "wall",
    "lining",
    "door",
    "window",
    "bulkhead",
    "obstruction",
    "service",
    "diagonal",
    "slope",
];

/// Of a disclosure or an option: the client's answer, which is no part of the question, and the ids of what
/// it is about, which a new name changes; how many there are of each kind is its `concerns`.
pub const ANSWERS: &[&str] = &["choice", "state", "called", "not_needed", "about"];

/// Of a room, what no survey measures.
pub const NOT_OF_ROOM: &[&str] = &["name", "set", "after"];
/// Of the job as a whole, what is agreed to.
pub const OF_JOB: &[&str] = &["client", "site", "bow_limit", "shelf_limit", "currency"];

pub fn note(record: &Record, all: &mut Vec<Subject>) {
    job(record, all);
    surveys(record, all);
    let list = |kind: &str, left_out: &[&str]| {
        let mut shown = Shown::default();
        for thing in record.things.values().filter(|t| t.kind == kind) {
            shown.add(kind, &but(&thing.said, left_out));
        }
        shown
    };
    let ways = list("way in", &["after"]);
    if !ways.is_empty() {
        let title = "Doors, stairs and corners on the way".to_owned();
        all.push(ways.subject(SubjectKind::WayIn, "", title, FITTER));
    }
    let machines = list("appliance", &["after"]);
    if !machines.is_empty() {
        let title = "Machines built in, and who brings them".to_owned();
        all.push(machines.subject(SubjectKind::Appliances, "", title, CLIENT));
    }
    let others = list("work by others", &["after"]);
    if !others.is_empty() {
        let title = "What others do, and by when".to_owned();
        all.push(others.subject(SubjectKind::Others, "", title, CLIENT));
    }
    disclosures(record, all);
}

fn job(record: &Record, all: &mut Vec<Subject>) {
    let Some(job) = record.get(super::super::said::JOB, super::super::said::JOB) else {
        return;
    };
    let mut shown = Shown::default();
    shown.add("job", &only(&job.said, OF_JOB));
    for note in record.things.values().filter(|t| t.kind == "note") {
        let general = note.text("on").is_none_or(str::is_empty);
        if general && note.text("to") != Some("fitter") {
            shown.add("note", &only(&note.said, &["text"]));
        }
    }
    let title = job.text("title").unwrap_or("").to_owned();
    all.push(shown.subject(SubjectKind::Job, "", title, CLIENT));
}

fn surveys(record: &Record, all: &mut Vec<Subject>) {
    let mut rooms: BTreeMap<&str, Shown> = BTreeMap::new();
    for thing in record.things.values() {
        if thing.kind == "room" {
            rooms
                .entry(&thing.id)
                .or_default()
                .add("room", &shows(thing, NOT_OF_ROOM, &[]));
        }
    }
    for thing in record.things.values() {
        if !SURVEYED.contains(&thing.kind.as_str()) {
            continue;
        }
        let Some((room, wall)) = room_of(record, thing) else {
            continue;
        };
        let mut facts: Facts = but(&thing.said, &["after", "note"]);
        if let Some(wall) = wall {
            let turn = super::shown::turn_of(record, wall);
            facts.insert("of wall".to_owned(), Fact::Count(turn));
        }
        if let Some(shown) = rooms.get_mut(room) {
            shown.add(&thing.kind, &facts);
        }
    }
    for (room, shown) in rooms {
        let title = record.get("room", room);
        let title = title.map_or_else(|| room.to_owned(), |r| words::thing(record, r));
        all.push(shown.subject(SubjectKind::Survey, room, title, FITTER));
    }
}

/// The ids of the room, and of the wall if there is one, that a surveyed thing is of.
fn room_of<'a>(record: &'a Record, thing: &'a Thing) -> Option<(&'a str, Option<&'a str>)> {
    let mut at = thing;
    let mut wall = None;
    for _ in 0..3 {
        match at.kind.as_str() {
            "room" => return Some((&at.id, wall)),
            "wall" => wall = Some(at.id.as_str()),
            _ => {}
        }
        at = record.things.get(at.of.as_ref()?)?;
    }
    None
}

/// Each with its options: another price is another question.
fn disclosures(record: &Record, all: &mut Vec<Subject>) {
    let mut options: BTreeMap<&str, Vec<&Thing>> = BTreeMap::new();
    for option in record.things.values().filter(|t| t.kind == "option") {
        if let Some(of) = &option.of {
            options.entry(of).or_default().push(option);
        }
    }
    for thing in record.things.values().filter(|t| t.kind == "disclosure") {
        let mut shown = Shown::default();
        shown.add("disclosure", &but(&thing.comes, ANSWERS));
        for option in options.get(thing.key().as_str()).into_iter().flatten() {
            // By its id the client's choice is kept: another id is another option.
            let mut facts = but(&option.comes, ANSWERS);
            facts.insert("id".to_owned(), Fact::Name(option.id.clone()));
            shown.add("option", &facts);
        }
        let roles = roles(thing);
        let roles: Vec<&str> = roles.iter().map(String::as_str).collect();
        let title = thing.text("title").unwrap_or(&thing.id).to_owned();
        let choice = thing.text("choice").map(str::to_owned);
        all.push(Subject {
            choice,
            ..shown.subject(SubjectKind::Disclosure, &thing.id, title, &roles)
        });
    }
}

/// Who must agree to a disclosure: the client, where it does not say.
pub fn roles(thing: &Thing) -> Vec<String> {
    let roles = thing.comes.get("roles").or_else(|| thing.said.get("roles"));
    let said = match roles {
        Some(Fact::List(items)) => items.clone(),
        Some(one) => vec![one.clone()],
        None => Vec::new(),
    };
    let words = said.into_iter().filter_map(|fact| match fact {
        Fact::Text(word) | Fact::Name(word) if !word.is_empty() => Some(word),
        _ => None,
    });
    let words: Vec<String> = words.collect();
    if words.is_empty() {
        vec!["client".to_owned()]
    } else {
        words
    }
}
