//! What things are made of and work with: materials, finishes, handles and other fittings, each with where it
//! is used. Knows which fact of a thing names which of them; must not know sizes.

use std::collections::BTreeMap;

use super::super::record::{Fact, Facts, Record, Thing, key};
use super::{CLIENT, Shown, Subject, SubjectKind, but, by_wall};

/// (kind of what is used, the fact that names it, whether the thing says it or it comes of it).
const NAMED_BY: &[(&str, &str, bool)] = &[
    ("material", "material", false),
    ("material", "material", true),
    ("material", "carcass", true),
    ("material", "back", true),
    ("material", "drawer boxes", false),
    ("material", "drawer bottoms", false),
    ("finish", "finish", false),
    ("finish", "finish", true),
    ("hardware", "handle", false),
    ("hardware", "handle", true),
    ("hardware", "hinge", false),
    ("hardware", "runner", false),
    ("hardware", "straightener", false),
    ("hardware", "latch", false),
    ("hardware", "foot", true),
    ("hardware", "track", true),
];

/// Of a material, what shows nothing by itself.
pub const NOT_OF_MATERIAL: &[&str] = &["after", "picture", "shows"];

/// Whether this fact names something that is used.
pub fn names(fact: &str, said: bool) -> bool {
    NAMED_BY
        .iter()
        .any(|(_, named, says)| *named == fact && *says == said)
}

/// Where one thing is used: for each wall and sort of place, which of them in their order.
type Uses = BTreeMap<String, Facts>;

pub fn note(record: &Record, all: &mut Vec<Subject>) {
    let uses = uses(record);
    let mut fittings = Shown::default();
    for thing in record.things.values() {
        let (kind, left_out) = match thing.kind.as_str() {
            "material" => (SubjectKind::Material, NOT_OF_MATERIAL),
            "finish" => (SubjectKind::Finish, &["after"][..]),
            "hardware" if thing.text("is") == Some("handle") => {
                (SubjectKind::Handle, &["after"][..])
            }
            "hardware" => {
                let facts = but(&thing.said, &["after"]);
                match uses.get(&thing.key()) {
                    Some(used) => {
                        fittings.add("fitting", &facts);
                        fittings.add(thing.text("name").unwrap_or(""), used);
                    }
                    // Rails and stays are used where an elevation shows them.
                    None => fittings.add("fitting", &facts),
                }
                continue;
            }
            _ => continue,
        };
        // What nothing is made of, nobody need agree to.
        let Some(used) = uses.get(&thing.key()) else {
            continue;
        };
        let mut shown = Shown::default();
        let mut facts = but(&thing.said, left_out);
        facts.extend(but(&thing.comes, &["in all"]));
        shown.add(&thing.kind, &facts);
        shown.add("used", used);
        let title = thing.text("name").unwrap_or(&thing.id).to_owned();
        all.push(shown.subject(kind, &thing.id, title, CLIENT));
    }
    if !fittings.is_empty() {
        let title = "Hinges, runners, feet and other fittings".to_owned();
        all.push(fittings.subject(SubjectKind::Fittings, "", title, CLIENT));
    }
}

/// For each material, finish and fitting its places. Two things of one sort beside one another that use it
/// count as two; whatever uses another between them, however much, is told as a gap: so a cupboard put
/// among others of another board leaves this board's places as they are.
fn uses(record: &Record) -> Uses {
    let mut uses: Uses = BTreeMap::new();
    for (wall, things) in by_wall(record) {
        let turn = super::shown::turn_of(record, wall);
        let room = wall.split_once('.').map_or("", |(room, _)| room);
        let room = record
            .get("room", room)
            .and_then(|r| r.text("name"))
            .unwrap_or(room);
        let mut sorts: BTreeMap<(&str, usize), Vec<&Thing>> = BTreeMap::new();
        for thing in &things {
            for (n, _) in NAMED_BY.iter().enumerate() {
                if named(record, thing, n).is_some() {
                    sorts.entry((&thing.kind, n)).or_default().push(thing);
                }
            }
        }
        for ((sort, n), mut things) in sorts {
            things.sort_by_key(|t| (t.um("left edge"), t.um("bottom"), t.id.clone()));
            let users: Vec<Option<String>> = things.iter().map(|t| named(record, t, n)).collect();
            let mut each: Vec<&String> = users.iter().flatten().collect();
            each.sort();
            each.dedup();
            for used in each {
                let at = NAMED_BY.get(n).map_or("", |(_, fact, _)| fact);
                let place = format!("{room}, wall {turn}: {at} of {sort}");
                let places = Fact::List(in_a_row(&users, used));
                uses.entry(used.clone()).or_default().insert(place, places);
            }
        }
    }
    uses
}

/// How many beside one another, then how many after the next gap; a gap at the start is told, one at the
/// end is not.
fn in_a_row(users: &[Option<String>], used: &str) -> Vec<Fact> {
    let mut rows: Vec<Fact> = Vec::new();
    let mut count = 0u32;
    for user in users {
        match user.as_deref() == Some(used) {
            true => count += 1,
            false if count > 0 || rows.is_empty() => {
                rows.push(Fact::Count(count));
                count = 0;
            }
            false => {}
        }
    }
    if count > 0 {
        rows.push(Fact::Count(count));
    }
    rows
}

/// The key of what a thing uses by one row of the table.
fn named(record: &Record, thing: &Thing, row: usize) -> Option<String> {
    let (kind, fact, said) = NAMED_BY.get(row)?;
    // What comes of it counts before what it says.
    if *said && thing.comes.contains_key(*fact) {
        return None;
    }
    let facts = if *said { &thing.said } else { &thing.comes };
    let id = match facts.get(*fact) {
        Some(Fact::Name(id) | Fact::Text(id)) => id,
        _ => return None,
    };
    let key = key(kind, id);
    record.things.contains_key(&key).then_some(key)
}
