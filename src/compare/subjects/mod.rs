//! What people sign for: the subjects of a job, each with the hash of exactly what it shows. Knows which
//! facts a person sees on which drawing or list; must not know who signed or what a page looks like.
//!
//! A subject's hash is that of the canonical JSON of the facts it shows, without ids and without the order
//! of things: what is only renamed, or written another way and comes out the same, is still what was signed.
//! `shown` has the drawings, `used` what things are made of, `told` what stands in words; `seen` tells from the
//! same tables who must agree to a change.

mod seen;
mod shown;
mod told;
mod used;

pub use seen::{Fares, agree, altered};

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::canonical;
use super::record::{Facts, Record, Thing};

/// Something that is agreed to by itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Subject {
    /// `elevation chamber.A`, `finish oil`: the same from issue to issue.
    pub key: String,
    pub kind: SubjectKind,
    /// The part of the key after its kind: the id of the wall, room, material it is about.
    pub id: String,
    /// `Chamber, wall A`: what to print beside the box.
    pub title: String,
    /// Who must agree: words of the key `role`, such as `client`.
    pub roles: Vec<String>,
    /// SHA-256 of what it shows, in hexadecimal digits.
    pub hash: String,
    /// What the project file has chosen of it: an answer, and so no part of what is asked.
    #[serde(skip)]
    pub choice: Option<String>,
}

impl Subject {
    /// `Elevation: Chamber, wall A`.
    pub fn named(&self) -> String {
        named(self.kind.word(), &self.title)
    }
}

/// A title under the word for its kind; a title that says it all stands alone.
pub fn named(word: &str, title: &str) -> String {
    let mut letters = word.chars();
    let capital: String = match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    };
    if title.is_empty() || title.eq_ignore_ascii_case(word) {
        return capital;
    }
    format!("{capital}: {title}")
}

/// In the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SubjectKind {
    /// For whom and where, and what holds for all of it.
    Job,
    /// A room as measured: the fitter's to check on site.
    Survey,
    /// How the parts get to the room: the fitter's too.
    WayIn,
    Plan,
    /// A wall with its fronts shut, and open.
    Elevation,
    /// How a pattern runs over its fronts.
    Look,
    Material,
    Finish,
    Handle,
    /// Every other hinge, runner, foot, track.
    Fittings,
    Appliances,
    Others,
    Disclosure,
}

impl SubjectKind {
    pub fn word(self) -> &'static str {
        match self {
            SubjectKind::Job => "job",
            SubjectKind::Survey => "survey",
            SubjectKind::WayIn => "way in",
            SubjectKind::Plan => "plan",
            SubjectKind::Elevation => "elevation",
            SubjectKind::Look => "look",
            SubjectKind::Material => "material",
            SubjectKind::Finish => "finish",
            SubjectKind::Handle => "handle",
            SubjectKind::Fittings => "fittings",
            SubjectKind::Appliances => "appliances",
            SubjectKind::Others => "work by others",
            SubjectKind::Disclosure => "disclosure",
        }
    }
}

/// Every subject of a job, in the order in which they are listed.
pub fn subjects(record: &Record) -> Vec<Subject> {
    let mut all = Vec::new();
    told::note(record, &mut all);
    shown::note(record, &mut all);
    used::note(record, &mut all);
    all.sort_by(|a, b| (a.kind, &a.key).cmp(&(b.kind, &b.key)));
    all
}

/// What a subject shows, gathered before it is hashed.
#[derive(Default)]
struct Shown {
    /// Each in canonical form.
    lines: Vec<String>,
}

impl Shown {
    fn add(&mut self, kind: &str, facts: &Facts) {
        let mut line = String::from("{\"facts\":");
        canonical::facts(facts, &mut line);
        line.push_str(",\"kind\":");
        canonical::quoted(kind, &mut line);
        line.push('}');
        self.lines.push(line);
    }

    fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    fn subject(mut self, kind: SubjectKind, id: &str, title: String, roles: &[&str]) -> Subject {
        self.lines.sort();
        let text = format!("[{}]", self.lines.join(","));
        let key = match id {
            "" => kind.word().to_owned(),
            id => format!("{} {id}", kind.word()),
        };
        Subject {
            key,
            kind,
            id: id.to_owned(),
            title,
            roles: roles.iter().map(|r| (*r).to_owned()).collect(),
            hash: canonical::sha256(text.as_bytes()),
            choice: None,
        }
    }
}

const CLIENT: &[&str] = &["client"];
const FITTER: &[&str] = &["fitter"];

/// Facts but those named.
fn but(facts: &Facts, left_out: &[&str]) -> Facts {
    let kept = facts
        .iter()
        .filter(|(name, _)| !left_out.contains(&name.as_str()));
    kept.map(|(name, fact)| (name.clone(), fact.clone()))
        .collect()
}

/// Only the facts named.
fn only(facts: &Facts, named: &[&str]) -> Facts {
    let kept = facts
        .iter()
        .filter(|(name, _)| named.contains(&name.as_str()));
    kept.map(|(name, fact)| (name.clone(), fact.clone()))
        .collect()
}

/// What a thing shows: of what it says, and of what comes of it, all but what is named.
fn shows(thing: &Thing, said: &[&str], comes: &[&str]) -> Facts {
    let mut facts = but(&thing.said, said);
    facts.extend(but(&thing.comes, comes));
    facts
}

/// Things by the wall they stand on: parts of a run stand on the run's.
fn by_wall(record: &Record) -> BTreeMap<&str, Vec<&Thing>> {
    let mut walls: BTreeMap<&str, Vec<&Thing>> = BTreeMap::new();
    for thing in record.things.values() {
        if let Some(wall) = wall_of(record, thing) {
            walls.entry(wall).or_default().push(thing);
        }
    }
    walls
}

/// The wall that a thing, or the nearest thing it is part of, stands on.
fn wall_of<'a>(record: &'a Record, thing: &'a Thing) -> Option<&'a str> {
    let mut at = thing;
    // A cutout is in a worktop, a bay in a unit in a run: no thing lies deeper.
    for _ in 0..4 {
        if let Some(wall) = at.text("on wall") {
            return Some(wall);
        }
        at = record.things.get(at.of.as_ref()?)?;
    }
    None
}
