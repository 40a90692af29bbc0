//! Subjects: a change lapses what it alters, and nothing else.

use rodbook::compare::subjects::altered;
use rodbook::compare::{Record, register, subjects};

use crate::comparing::{edited, example, job};

/// Keys of what was altered, came or went between two jobs.
fn lapsed(a: &Record, b: &Record) -> Vec<String> {
    let (a, b) = (subjects(a), subjects(b));
    let mut out: Vec<String> = Vec::new();
    for old in &a {
        match b.iter().find(|s| s.key == old.key) {
            Some(new) if new.hash == old.hash => {}
            Some(_) => out.push(old.key.clone()),
            None => out.push(format!("{} gone", old.key)),
        }
    }
    for new in &b {
        if !a.iter().any(|s| s.key == new.key) {
            out.push(format!("{} new", new.key));
        }
    }
    out
}

/// Edits to the example, each with all that it alters. What follows from what is common practice, no source:
/// a client signs for what can be seen, used and paid for, a fitter for what is to be checked on site.
const ALTERS: &[(&str, &str, &[&str])] = &[
    // Nothing that anybody signs for.
    ("designer = \"Odelia", "designer = \"Ottilie", &[]),
    ("date     = 2026-03-02", "date     = 2026-03-03", &[]),
    ("{ id = \"W2\"", "{ id = \"W9\"", &[]),
    (
        "core = \"MDF\", thickness = 19, sheet",
        "core = \"MDF\", thickness = 19, batch = \"\", sheet",
        &[],
    ),
    ("why  = \"The client", "why  = \"You", &[]),
    // Words and people.
    ("client   = \"Mr", "client   = \"Dr", &["job"]),
    (
        "plumber, engaged by the client",
        "plumber, engaged by the workshop",
        &["work by others"],
    ),
    (
        "text = \"The door slides over",
        "text = \"This door slides over",
        &["elevation chamber.B"],
    ),
    (
        "text = \"Socket comes through",
        "text = \"A socket comes through",
        &[],
    ),
    // The survey, where nothing comes of it, is the fitter's alone.
    (
        "surveyed  = 2026-02-16\ndiagonals",
        "surveyed  = 2026-02-17\ndiagonals",
        &["survey chamber"],
    ),
    (
        "at = 2310, height = 450",
        "at = 2300, height = 450",
        &["survey chamber"],
    ),
    ("width = 880", "width = 870", &["way in"]),
    // One wall.
    (
        "hinge = \"right\", hides",
        "hinge = \"left\", hides",
        &["plan scullery", "elevation scullery.A", "disclosure meet"],
    ),
    (
        "at = 980, width = 520",
        "at = 970, width = 520",
        &["plan scullery", "elevation scullery.E"],
    ),
    (
        "height   = 2070",
        "height   = 2072",
        &["elevation chamber.B"],
    ),
    ("slat     = 60", "slat     = 62", &["elevation chamber.D"]),
    // Less deep, the chests tip more easily and pull harder at the wall; and K2 without its drawers, 33.4 kg, comes
    // under the figure of 33.3 kg for two.
    (
        "depth = 480",
        "depth = 470",
        &["plan chamber", "disclosure lift"],
    ),
    // What things are made of.
    (
        "name = \"Hard oil\"",
        "name = \"Soft oil\"",
        &["finish oil"],
    ),
    (
        "coats = 3, coverage = 9",
        "coats = 2, coverage = 9",
        &["finish paint"],
    ),
    (
        "finish = \"oil\", pattern",
        "finish = \"lacquer\", pattern",
        &["finish lacquer", "finish oil", "disclosure sample"],
    ),
    (
        "name = \"Quiet grey",
        "name = \"Loud grey",
        &["material stone"],
    ),
    // The handle of a sliding door is seen like any other.
    (
        "handle   = \"finger pull\"\nfinish   = \"oil\"",
        "handle   = \"bow handle\"\nfinish   = \"oil\"",
        &["handle bow handle", "handle finger pull"],
    ),
    (
        "size = 160, out = 32",
        "size = 192, out = 32",
        &["elevation chamber.A", "handle bow handle"],
    ),
    (
        "opens = 110",
        "opens = 105",
        &[
            "fittings",
            "disclosure opening",
            "disclosure meet",
            "disclosure touch",
        ],
    ),
    ("mass = 60, opens", "mass = 62, opens", &["appliances"]),
];

#[test]
fn an_edit_alters_exactly_what_it_shows_otherwise() {
    let whole = job(&example()).expect("sound");
    assert_eq!(lapsed(&whole, &whole), [""; 0]);
    let mut wrong = Vec::new();
    for (from, to, alters) in ALTERS {
        let mut all = alters.to_vec();
        let Some(other) = job(&edited(from, to)) else {
            wrong.push(format!("{to}: no job"));
            continue;
        };
        let found = lapsed(&whole, &other);
        let mut found: Vec<&str> = found.iter().map(String::as_str).collect();
        found.sort_unstable();
        all.sort_unstable();
        if found != all {
            wrong.push(format!("{to}: {found:?}, not {all:?}"));
        }
        // The register asks whoever signs for one of these, and nobody else.
        let (a, b) = (subjects(&whole), subjects(&other));
        let mut asked: Vec<&str> = altered(&a, &b)
            .iter()
            .flat_map(|(_, s)| s.roles.iter().map(String::as_str))
            .collect();
        let register = register(&whole, &other, "a", "b");
        let mut says: Vec<&str> = register
            .entries
            .iter()
            .flat_map(|e| e.agree.clone())
            .collect();
        for roles in [&mut asked, &mut says] {
            roles.sort_unstable();
            roles.dedup();
        }
        if says != asked {
            wrong.push(format!("{to}: the register asks {says:?}, not {asked:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_lining_alters_all_that_stands_on_its_wall_and_nothing_elsewhere() {
    let whole = job(&example()).expect("sound");
    let thicker = edited(
        "thickness = 3 }]\ndoor   = [{ at = 1880",
        "thickness = 15 }]\ndoor   = [{ at = 1880",
    );
    let found = lapsed(&whole, &job(&thicker).expect("sound"));
    let has = |key: &str| found.iter().any(|k| k == key);
    for key in [
        "survey chamber",
        "plan chamber",
        "elevation chamber.A",
        "look larch wall",
    ] {
        assert!(has(key), "{key}: {found:?}");
    }
    assert!(
        !found
            .iter()
            .any(|k| k.contains("scullery") || k.contains("flute") || k.starts_with("finish")),
        "{found:?}"
    );
}

/// The order of the file, and the name of a wall, show nothing.
#[test]
fn what_is_only_called_otherwise_is_still_what_was_signed() {
    let whole = job(&example()).expect("sound");
    let renamed = example()
        .replace(
            "id      = \"C\"\nlength  = 4614",
            "id      = \"roof\"\nlength  = 4614",
        )
        .replace("chamber.C", "chamber.roof")
        .replace("to = \"C\", length = 5727", "to = \"roof\", length = 5727")
        .replace("wall = \"C\", low", "wall = \"roof\", low");
    let other = job(&renamed).expect("sound");
    let (a, b) = (subjects(&whole), subjects(&other));
    let hash = |all: &[rodbook::compare::Subject], key: &str| {
        all.iter().find(|s| s.key == key).map(|s| s.hash.clone())
    };
    assert_eq!(
        hash(&a, "elevation chamber.C"),
        hash(&b, "elevation chamber.roof")
    );
    assert_eq!(hash(&a, "plan chamber"), hash(&b, "plan chamber"));
    assert_eq!(hash(&a, "material painted"), hash(&b, "material painted"));
}

#[test]
fn keys_are_unique_and_every_subject_has_somebody_to_agree() {
    let all = subjects(&job(&example()).expect("sound"));
    let mut keys: Vec<&str> = all.iter().map(|s| s.key.as_str()).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), all.len());
    for subject in &all {
        assert!(
            !subject.roles.is_empty() && subject.hash.len() == 64,
            "{subject:?}"
        );
        assert!(
            !subject.title.is_empty() && subject.named().len() > subject.title.len(),
            "{subject:?}"
        );
    }
}
