//! Who must agree to a change: whoever signs for a subject that shows it. Knows for each fact which subjects
//! show it, by the same tables that gather them; must not know what the change was for.

use super::super::change::{Change, Whose};
use super::super::record::{Record, Thing};
use super::{CLIENT, FITTER, Subject, SubjectKind, shown, told, used};

/// Roles that must agree to these changes, between them; the client first.
pub fn agree<'c>(
    a: &Record,
    b: &Record,
    changes: impl IntoIterator<Item = &'c Change>,
) -> Vec<&'static str> {
    let (mut client, mut fitter, mut designer) = (false, false, false);
    let mut note = |roles: Vec<String>| {
        for role in roles {
            match role.as_str() {
                "fitter" => fitter = true,
                "designer" => designer = true,
                _ => client = true,
            }
        }
    };
    for change in changes {
        match change {
            Change::Added(thing) => note(of_all(b, thing)),
            Change::Removed(thing) => note(of_all(a, thing)),
            // By its id the client's choice of an option is kept: called otherwise it is another one.
            Change::Renamed { to, .. } if to.kind == "option" => {
                if let Some(thing) = b.things.get(&to.key()) {
                    note(of_all(b, thing));
                }
            }
            // What else is only called otherwise shows nothing else.
            Change::Renamed { .. } => {}
            Change::Fact(c) => {
                if let Some(thing) = b.things.get(&c.thing) {
                    note(of_fact(b, thing, c.whose, &c.fact));
                }
            }
        }
    }
    let each = [
        (client, "client"),
        (fitter, "fitter"),
        (designer, "designer"),
    ];
    each.into_iter()
        .filter_map(|(must, role)| must.then_some(role))
        .collect()
}

fn of_all(record: &Record, thing: &Thing) -> Vec<String> {
    let said = thing.said.keys().map(|f| (Whose::Said, f));
    let comes = thing.comes.keys().map(|f| (Whose::Comes, f));
    let each = said.chain(comes);
    each.flat_map(|(whose, fact)| of_fact(record, thing, whose, fact))
        .collect()
}

/// Who signs for a subject that shows this fact of this thing.
fn of_fact(record: &Record, thing: &Thing, whose: Whose, fact: &str) -> Vec<String> {
    let roles = |roles: &[&str]| roles.iter().map(|r| (*r).to_owned()).collect::<Vec<_>>();
    let client = |seen: bool| if seen { roles(CLIENT) } else { Vec::new() };
    let fitter = |seen: bool| if seen { roles(FITTER) } else { Vec::new() };
    let said = whose == Whose::Said;
    if whose == Whose::Place || fact == "after" {
        return Vec::new();
    }
    match thing.kind.as_str() {
        kind if told::SURVEYED.contains(&kind) => fitter(said && fact != "note"),
        "room" => fitter(!(said && told::NOT_OF_ROOM.contains(&fact))),
        "way in" => fitter(said),
        "appliance" | "work by others" => client(said),
        "material" => client(!used::NOT_OF_MATERIAL.contains(&fact)),
        "finish" => client(said),
        "hardware" => client(said || fact != "in all"),
        "board" => client(shown::FACE.contains(&fact)),
        "pattern" => client(shown::OF_PATTERN.contains(&fact)),
        "note" => {
            let read = thing.text("to") != Some("fitter") || fact == "to";
            client(said && read)
        }
        "job" => client(said && told::OF_JOB.contains(&fact)),
        // Whoever chose before, or is to choose, did not choose this.
        "disclosure" if fact == "choice" => told::roles(thing),
        "disclosure" | "option" if !said && !told::ANSWERS.contains(&fact) => {
            let of = thing.of.as_ref().and_then(|k| record.things.get(k));
            told::roles(if thing.kind == "option" {
                of.unwrap_or(thing)
            } else {
                thing
            })
        }
        "bay" => client(said && fact == "lipping"),
        // What a run, a row or a kind says is seen in the units that come of it.
        "unit" | "front" | "scribe" | "filler" | "end panel" | "plinth" | "panel" | "sliding"
        | "worktop" | "cutout" => {
            let drawn = match said {
                true => !shown::SAID_ELSEWHERE.contains(&fact),
                false => {
                    !shown::NOT_IN_ELEVATION.contains(&fact)
                        || shown::IN_PLAN.contains(&fact)
                        || fact == "on wall"
                        || shown::OF_LOOK.contains(&fact)
                }
            };
            client(drawn || used::names(fact, said))
        }
        "run" => client(used::names(fact, said)),
        _ => Vec::new(),
    }
}

/// How a subject fares from one job to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Fares {
    Altered,
    New,
    Gone,
}

impl Fares {
    pub fn word(self) -> &'static str {
        match self {
            Fares::Altered => "altered",
            Fares::New => "new",
            Fares::Gone => "gone",
        }
    }
}

/// Subjects that are not in both as they were. One that is only called otherwise is in both.
pub fn altered<'s>(a: &'s [Subject], b: &'s [Subject]) -> Vec<(Fares, &'s Subject)> {
    let named = |all: &'s [Subject], key: &str| all.iter().find(|s| s.key == key);
    let like = |s: &Subject, kind: SubjectKind, hash: &str| s.kind == kind && s.hash == hash;
    let mut out = Vec::new();
    for old in a {
        let renamed =
            |new: &&Subject| like(new, old.kind, &old.hash) && named(a, &new.key).is_none();
        match named(b, &old.key) {
            Some(new) if new.hash == old.hash && new.choice == old.choice => {}
            Some(new) => out.push((Fares::Altered, new)),
            None if b.iter().any(|s| renamed(&s)) => {}
            None => out.push((Fares::Gone, old)),
        }
    }
    for new in b.iter().filter(|s| named(a, &s.key).is_none()) {
        let renamed =
            |old: &&Subject| like(old, new.kind, &new.hash) && named(b, &old.key).is_none();
        if !a.iter().any(|s| renamed(&s)) {
            out.push((Fares::New, new));
        }
    }
    out.sort_by_key(|(_, s)| (s.kind, s.key.clone()));
    out
}
