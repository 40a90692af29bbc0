//! Comparing: nothing that differs is left out, nothing is told that does not.

use std::sync::OnceLock;

use proptest::prelude::*;
use rodbook::compare::change::{apply, mirrored};

use rodbook::compare::subjects::altered;
use rodbook::compare::takes;
use rodbook::compare::{
    Change, Earlier, Frozen, Purpose, Record, Register, Standing, changes, record, record_said,
    register, subjects,
};
use rodbook::compose::{self, Pack};
use rodbook::diag::Diagnostics;
use rodbook::lettering;
use rodbook::read::{self, PictureFile};
use rodbook::reckon::placed::Reckoned;
use rodbook::reckon::reckon;
use rodbook::resolve::job::Job;
use rodbook::resolve::{fill, resolve};

use crate::support::root;

pub fn example() -> String {
    std::fs::read_to_string(root().join("example-project/project.toml")).expect("example")
}

/// The example's pictures, decoded once.
fn pictures() -> &'static [PictureFile] {
    static READ: OnceLock<Vec<PictureFile>> = OnceLock::new();
    READ.get_or_init(|| {
        let mut diags = Diagnostics::default();
        let path = root().join("example-project/project.toml");
        let source = read::load(&path, &mut diags).expect("example");
        let project = read::project(&source.text, &mut diags).expect("example");
        read::load_pictures(&source, &project, &mut diags)
    })
}

/// The job of a project's text; `None` where something is wrong with it.
pub fn job(text: &str) -> Option<Record> {
    let mut diags = Diagnostics::default();
    let project = read::project(text, &mut diags)?;
    let filled = fill(&project, &mut diags);
    let job = resolve(&filled, pictures(), &mut diags);
    let reckoned = diags.is_empty().then(|| reckon(&job, &mut diags))??;
    let risks = rodbook::risks::risks(&job, &reckoned, &mut diags);
    diags
        .is_empty()
        .then(|| record(&filled, &job, &reckoned, &risks))
}

/// What a project's text says, if its references and sizes can be trusted.
pub fn said(text: &str) -> Option<Record> {
    let mut diags = Diagnostics::default();
    let filled = fill(&read::project(text, &mut diags)?, &mut diags);
    resolve(&filled, pictures(), &mut diags);
    diags.is_empty().then(|| record_said(&filled))
}

pub fn edited(from: &str, to: &str) -> String {
    let text = example();
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

fn told(a: &str, b: &str) -> Register {
    let (a, b) = (job(a).expect("sound"), job(b).expect("sound"));
    holds(&a, &b);
    register(&a, &b, "a", "b")
}

/// What must hold of any two jobs.
fn holds(a: &Record, b: &Record) {
    let there = changes(a, b).all;
    assert!(
        apply(a, &there) == *b,
        "applying the changes does not give the second"
    );
    let back = changes(b, a).all;
    assert_eq!(mirrored(&there), back, "the way back is another");
    assert!(
        apply(b, &back) == *a,
        "nor does the way back give the first"
    );
}

/// Edits of many kinds, each to the example.
const EDITS: &[(&str, &str)] = &[
    (
        "thickness = 3 }]\ndoor   = [{ at = 1880",
        "thickness = 15 }]\ndoor   = [{ at = 1880",
    ),
    ("hinge = \"right\", hides", "hinge = \"left\", hides"),
    ("{ id = \"W2\"", "{ id = \"W9\""),
    (
        " { id = \"W2\", kind = \"shelved\" },",
        " { id = \"W2\", kind = \"shelved\" }, { id = \"W5\", kind = \"shelved\" },",
    ),
    (" { id = \"W2\", kind = \"shelved\" },", ""),
    (
        "{ id = \"W1\", kind = \"hanging\" }, { id = \"W2\", kind = \"shelved\" },",
        "{ id = \"W2\", kind = \"shelved\" }, { id = \"W1\", kind = \"hanging\" },",
    ),
    ("height = 330, doors = 2", "height = 360, doors = 2"),
    ("finish = \"oil\", pattern", "finish = \"lacquer\", pattern"),
    (
        "plumber, engaged by the client",
        "plumber, engaged by the workshop",
    ),
    ("pattern = \"larch wall\"", "pattern = \"larch run\""),
    (
        "  { is = \"door\", what = \"street door\"",
        "  { is = \"lift\", what = \"goods lift\", width = 1100, height = 2100 },\n  { is = \"door\", what = \"street door\"",
    ),
];

#[test]
fn a_job_does_not_differ_from_itself() {
    let one = job(&example()).expect("sound");
    assert_eq!(changes(&one, &one).all, []);
    assert_eq!(register(&one, &one, "a", "a").entries, []);
}

#[test]
fn changes_lead_there_and_back_whatever_was_edited() {
    let mut last = example();
    for (from, to) in EDITS {
        let next = edited(from, to);
        let register = told(&example(), &next);
        assert!(!register.entries.is_empty(), "{from}");
        // And from one edit to the other, which differ in two things.
        told(&last, &next);
        last = next;
    }
}

#[test]
fn a_thicker_lining_is_one_entry_with_its_consequences_under_it() {
    let (from, to) = EDITS[0];
    let register = told(&example(), &edited(from, to));
    let [entry] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    assert_eq!(entry.changes, ["thickness 3 mm \u{2192} 15 mm"]);
    // 12 mm off an opening of four equal units of two doors each: 3 mm a unit, 1.5 mm a door.
    let has = |words: &str| entry.follows.iter().any(|f| f == words);
    assert!(
        has("16 fronts (1 to 16): 1.5 mm narrower"),
        "{:#?}",
        entry.follows
    );
    assert!(
        has("4 units (W1, W2, W3, W4): 3 mm narrower"),
        "{:#?}",
        entry.follows
    );
    assert_eq!(entry.agree, ["client", "fitter"]);
}

/// What no door can be made narrower by has nothing of the kind under it; common practice, no source.
#[test]
fn what_came_of_several_changes_goes_under_what_can_bring_it_about() {
    let edits = [
        (
            "id = \"L1\", name = \"Laundry tower\", width = 720",
            "id = \"L1\", name = \"Laundry tower\", width = 700",
        ),
        ("hinge = \"right\", hides", "hinge = \"left\", hides"),
        ("sheen = \"matt\", coats = 3", "sheen = \"matt\", coats = 4"),
        (
            "{ material = \"painted\", finish = \"paint\"",
            "{ material = \"painted\", finish = \"lacquer\"",
        ),
        (
            "width = 1200, row = [{ height = 260",
            "width = 1000, row = [{ height = 260",
        ),
        ("{ id = \"W2\"", "{ id = \"W9\""),
        (
            "[[0, -3], [2300, 0], [4620, -5]]",
            "[[0, -3], [2300, -2], [4620, -5]]",
        ),
        ("drill on site.", "drill on site, 60 across."),
    ];
    let text = edits.iter().fold(example(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    });
    let register = told(&example(), &text);
    let follows = |about: &str| -> Vec<String> {
        let entry = register.entries.iter().find(|e| e.about.starts_with(about));
        entry
            .unwrap_or_else(|| panic!("{about}: {:#?}", register.entries))
            .follows
            .clone()
    };
    let has = |about: &str, words: &str| {
        let all = follows(about);
        assert!(all.iter().any(|f| f == words), "{about}: {all:#?}");
    };
    has("unit L1", "2 fronts (27, 28): 10 mm narrower");
    has("unit L1", "4 fronts (31 to 34): 5 mm wider");
    has("unit K2", "4 fronts (20 to 23): 100 mm narrower");
    has(
        "kind of front",
        "12 fronts (17 to 26, 41, 42): finish paint \u{2192} lacquer",
    );
    has("Chamber, wall A", "16 fronts (1 to 16): 2 mm lower down");
    // By hand: paint is on the chests and the alcove alone, and the chests are K2's; lacquer is on the fronts of L1
    // too, and the coats are its own, which alter no area.
    let number = |about: &str| {
        let entry = register.entries.iter().find(|e| e.about.starts_with(about));
        entry.unwrap_or_else(|| panic!("{about}")).number
    };
    let [k2, l1, kind, lacquer] = ["unit K2", "unit L1", "kind of front", "finish"].map(number);
    let mut all = [k2, l1, lacquer, kind];
    all.sort_unstable();
    let ranges = |of: &[usize]| {
        let of: Vec<u32> = of.iter().map(|n| *n as u32).collect();
        rodbook::risks::words::ranges(&of)
    };
    let mut area = [k2, l1, kind];
    area.sort_unstable();
    let mut paint = [k2, kind];
    paint.sort_unstable();
    let lacquer = "quantity of finish: finish \u{201c}Water-borne clear lacquer\u{201d} (lacquer)";
    for start in [
        format!("of changes {}: {lacquer}: volume", ranges(&all)),
        format!("of changes {}: {lacquer}: area", ranges(&area)),
        format!(
            "of changes {}: quantity of finish: finish \u{201c}Water-borne paint",
            ranges(&paint)
        ),
    ] {
        let told = follows("What follows from several");
        assert!(
            told.iter().any(|f| f.starts_with(&start)),
            "{start}: {told:#?}"
        );
    }
    // The feet are those of the chests, which stand in one run.
    has(
        "unit K2",
        "hardware \u{201c}Levelling foot\u{201d} (foot): in all 74 \u{2192} 78",
    );
    for about in ["door 29", "finish", "note", "unit W9"] {
        let sizes = [
            "narrower",
            "wider",
            "further",
            "lower down",
            "heavier",
            "lighter",
        ];
        for words in follows(about) {
            assert!(
                !sizes.iter().any(|s| words.ends_with(s)),
                "{about}: {words}"
            );
        }
    }
}

#[test]
fn a_name_moves_nothing() {
    let mut text = example();
    for (from, to) in [
        (
            "what = \"skim\", thickness = 3",
            "what = \"skim\", thickness = 6",
        ),
        ("name = \"Hard oil\"", "name = \"Soft oil\""),
    ] {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    let register = told(&example(), &text);
    let of = |about: &str| {
        let entry = register.entries.iter().find(|e| e.about.starts_with(about));
        entry.unwrap_or_else(|| panic!("{about}")).follows.clone()
    };
    // The drawers in the wardrobe stand further right, as their units do.
    let boxes = |f: &String| f.ends_with("other places of drawer boxes");
    let (finish, lining) = (of("finish"), of("Chamber, wall D"));
    assert!(!finish.iter().any(boxes), "{finish:#?}");
    assert!(lining.iter().any(boxes), "{lining:#?}");
}

#[test]
fn a_price_and_a_choice_are_told_as_such() {
    let priced = told(&example(), &edited("\"145.00\"", "\"160.50\""));
    let [entry] = priced.entries.as_slice() else {
        panic!("{:#?}", priced.entries);
    };
    assert_eq!(entry.sort.word(), "price");
    assert_eq!(entry.changes, ["price 145.00 \u{2192} 160.50"]);
    assert_eq!(entry.agree, ["client"]);
    let chosen = told(
        &example(),
        &edited("choice = \"nothing\"", "choice = \"contingency\""),
    );
    let [entry] = chosen.entries.as_slice() else {
        panic!("{:#?}", chosen.entries);
    };
    assert_eq!(entry.sort.word(), "disclosure");
    assert_eq!(entry.changes, ["choice nothing \u{2192} contingency"]);
    // By the example: one contingency of 380.00 was accepted before, and this one is 145.00.
    assert_eq!(entry.agree, ["client"]);
    let sums = [
        "the job: in all at most 380.00 \u{2192} 525.00",
        "the job: put aside, if called on 380.00 \u{2192} 525.00",
    ];
    for sum in sums {
        assert!(
            entry.follows.iter().any(|f| f == sum),
            "{:#?}",
            entry.follows
        );
    }
    // A risk that is raised by naming it is an entry of its own.
    let named = told(
        &example(),
        &edited(
            "[[risk]]\nrule   = \"shelf\"",
            "[[risk]]\nrule   = \"stays\"\n\n[[risk]]\nrule   = \"shelf\"",
        ),
    );
    assert!(
        named.entries.iter().any(|e| e.sort.word() == "disclosure"),
        "{:#?}",
        named.entries
    );
}

/// What stands at the end of a run goes with the run, not with another change within it.
#[test]
fn what_is_nearest_comes_before_what_lies_within() {
    let text = edited(
        "left  = { filler = 40, scribe = 15 }",
        "left  = { scribe = 15 }",
    )
    .replacen("hinge = \"right\", hides", "hinge = \"left\", hides", 1);
    let register = told(&example(), &text);
    let [run, door, ..] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    assert!(run.about.starts_with("run") && door.about.starts_with("door 29"));
    let gone = "gone: filler left of laundry";
    assert!(run.follows.iter().any(|f| f == gone), "{:#?}", run.follows);
    // Which way a door opens bares no socket.
    let socket = |f: &String| f.contains("The socket");
    assert!(run.follows.iter().any(socket) && !door.follows.iter().any(socket));
}

/// What a lining comes to is said where it is new: no schedule has it.
#[test]
fn what_is_new_is_told_with_its_figures() {
    let register = told(
        &example(),
        &edited(
            "thickness = 3 }]\ndoor   = [{ at = 1880",
            "thickness = 3 }, { what = \"tile\", thickness = 9 }]\ndoor   = [{ at = 1880",
        ),
    );
    let [entry] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    assert_eq!(entry.changes, ["new: thickness 9 mm"]);
}

/// By hand from the list of parts: two coats to one is half the volume, of an area that stays.
#[test]
fn what_is_ordered_goes_under_what_brought_it_about() {
    let register = told(
        &example(),
        &edited("coats = 2, coverage", "coats = 1, coverage"),
    );
    let [entry] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    let told =
        "quantity of finish: finish \u{201c}Hard oil\u{201d} (oil): volume 4.5 l \u{2192} 2.3 l";
    assert_eq!(entry.follows, [told]);
    // An edge that is not banded is not ordered.
    let bare = told_of_edge(&example());
    assert!(
        bare.iter().any(|f| f.starts_with("gone: quantity of edge")),
        "{bare:#?}"
    );
}

fn told_of_edge(text: &str) -> Vec<String> {
    let line = text
        .lines()
        .find(|l| l.contains("edge") && l.contains("sheet ="))
        .expect("a board with an edge");
    let from = line.find("edge").expect("its key");
    let value = line.get(from..).and_then(|l| l.split('"').nth(1));
    let value = format!("\"{}\"", value.expect("its words"));
    let register = told(
        text,
        &text.replacen(line, &line.replacen(&value, "\"\"", 1), 1),
    );
    register
        .entries
        .into_iter()
        .flat_map(|e| e.follows)
        .collect()
}

/// A job that was frozen before parts, amounts and sums were noted differs in nothing from itself now.
#[test]
fn what_an_older_record_never_noted_is_no_change() {
    let now = job(&example()).expect("sound");
    let mut older = now.clone();
    older
        .things
        .retain(|_, t| !takes::KINDS.contains(&t.kind.as_str()));
    for thing in older.things.values_mut() {
        thing.comes.retain(|name, _| {
            let name = name.as_str();
            let noted = takes::LISTED.contains(&name) || takes::SUMS.contains(&name);
            !noted && name != "generation of the record"
        });
    }
    assert!(older != now);
    for (a, b) in [(&older, &now), (&now, &older)] {
        let register = register(a, b, "a", "b");
        assert_eq!(register.entries, []);
        assert!(register.was.is_empty() && register.new.is_empty() && register.gone.is_empty());
        holds(a, b);
        assert_eq!(altered(&subjects(a), &subjects(b)), []);
    }
}

#[test]
fn a_renamed_unit_is_the_same_unit() {
    let (from, to) = EDITS[2];
    let register = told(&example(), &edited(from, to));
    let [entry] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    assert_eq!(entry.changes, ["called W2 \u{2192} W9"]);
    assert!(register.new.is_empty() && register.gone.is_empty());
}

#[test]
fn an_inserted_unit_renumbers_the_fronts_after_it_and_they_stay_the_same_fronts() {
    let (from, to) = EDITS[3];
    let register = told(&example(), &edited(from, to));
    let [entry] = register.entries.as_slice() else {
        panic!("{:#?}", register.entries);
    };
    assert_eq!(entry.changes, ["new", "with 4 fronts"]);
    let renumbered = "fronts 9 to 42 are now numbered 13 to 46";
    assert!(
        entry.follows.iter().any(|f| f == renumbered),
        "{:#?}",
        entry.follows
    );
}

/// Units without ids are called after their place: one put in front of them pushes all on.
#[test]
fn units_known_by_their_place_are_found_again_when_one_is_put_before_them() {
    let alcove =
        std::fs::read_to_string(root().join("tests/projects/alcove.toml")).expect("alcove");
    let with = |units: &str| alcove.replace("{ doors = 2, shelves = 3 }", units);
    let two = with("{ doors = 1, shelves = 3 }, { doors = 1, shelves = 1 }");
    let three = with(
        "{ doors = 1, shelves = 2, width = 300 }, { doors = 1, shelves = 3 }, { doors = 1, shelves = 1 }",
    );
    let (a, b) = (job(&two).expect("sound"), job(&three).expect("sound"));
    holds(&a, &b);
    let all = changes(&a, &b).all;
    let added: Vec<&str> = all
        .iter()
        .filter_map(|c| match c {
            Change::Added(t) if t.kind == "unit" => Some(t.id.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(added, ["cupboard-1"]);
    let register = register(&a, &b, "a", "b");
    assert_eq!(register.entries.len(), 1, "{:#?}", register.entries);
}

/// The value on a line of the filled project, otherwise.
pub fn otherwise(value: &str) -> Option<String> {
    let inside = value.trim_matches(|c| c == '[' || c == ' ');
    let first = inside.split([',', ']']).next()?.trim();
    let now = match first {
        "true" => "false".to_owned(),
        "false" => "true".to_owned(),
        text if text.starts_with('"') => {
            let end = inside.get(1..)?.find('"')? + 1;
            let whole = inside.get(..=end)?;
            let now = format!("{}x\"", whole.get(..whole.len() - 1)?);
            return Some(value.replacen(whole, &now, 1));
        }
        date if date.len() == 10 && date.matches('-').count() == 2 => {
            let (month, day) = date.rsplit_once('-')?;
            format!("{month}-{}", if day == "28" { "27" } else { "28" })
        }
        number => {
            let n: f64 = number.parse().ok()?;
            if number.contains('.') {
                format!("{:.3}", n + 0.5)
            } else {
                format!("{}", n + 1.0)
            }
        }
    };
    Some(value.replacen(first, &now, 1))
}

/// The example, for the pages that changes stand on.
pub fn placed() -> (Job, Reckoned) {
    let mut diags = Diagnostics::default();
    let filled = fill(
        &read::project(&example(), &mut diags).expect("reads"),
        &mut diags,
    );
    let job = resolve(&filled, pictures(), &mut diags);
    let reckoned = reckon(&job, &mut diags).expect("fits");
    (job, reckoned)
}

/// Each entry has its row on the pages of both packs, with all that changed.
pub fn prints((job, reckoned): &(Job, Reckoned), register: &Register, line: &str) {
    // Where a long word may be parted is said by characters that do not print.
    let plain = |text: &str| {
        let seen = |c: &char| !c.is_whitespace() && !matches!(c, '\u{200b}' | '\u{ad}');
        text.chars().filter(seen).collect::<String>()
    };
    let standing = Standing {
        earlier: vec![Earlier {
            revision: "A".to_owned(),
            purpose: Purpose::Approval,
            date: "2026-01-12".to_owned(),
            turn: 1,
            hash: String::new(),
        }],
        register: register.clone(),
        ..Standing::default()
    };
    for pack in [Pack::Client, Pack::Fitter] {
        let rows = compose::changes_printed(job, reckoned, pack, &standing);
        let rows = rows.unwrap_or_else(|e| panic!("{line}: {e}"));
        assert_eq!(rows.len(), register.entries.len(), "{line}");
        for (entry, row) in register.entries.iter().zip(rows) {
            let row: Vec<String> = row.iter().map(|cell| plain(cell)).collect();
            let about = format!("{} ({})", entry.about, entry.sort.word());
            assert_eq!(row[0], entry.number.to_string(), "{line}");
            assert_eq!(row[1], plain(&about), "{line}");
            for change in &entry.changes {
                assert!(row[2].contains(&plain(change)), "{line}: {row:?}");
            }
            let first = entry.follows.iter().take(6);
            for follows in first {
                assert!(row[3].contains(&plain(follows)), "{line}: {row:?}");
            }
        }
    }
}

/// Every value of the example in turn is changed by machine: whatever still makes a job has an entry,
/// and every word of it can be printed. Every twentieth goes the whole way, through the reckoning.
#[test]
fn every_field_that_changes_has_an_entry_that_prints() {
    let mut diags = Diagnostics::default();
    let text = example();
    let filled = fill(
        &read::project(&text, &mut diags).expect("reads"),
        &mut diags,
    );
    let listing = read::listing(&filled, &text);
    let lines: Vec<&str> = listing.lines().collect();
    let (whole, only_said) = (
        job(&listing).expect("sound"),
        said(&listing).expect("sound"),
    );
    let (mut changed, mut refused) = (0, 0);
    let of_example = placed();
    for (n, line) in lines.iter().enumerate() {
        let Some((key, rest)) = line.split_once(" = ") else {
            continue;
        };
        let (value, from) = rest.rsplit_once("  # ").expect("where it is from");
        let Some(now) = otherwise(value) else {
            // An empty list has nothing in it to change.
            assert!(matches!(value, "[]" | "{}"), "{line}");
            continue;
        };
        let mut edited = lines.clone();
        let line = format!("{key} = {now}  # {from}");
        edited[n] = &line;
        let text = edited.join("\n");
        let in_full = n % 20 == 0;
        let (whole, other) = match in_full {
            true => (&whole, job(&text)),
            false => (&only_said, said(&text)),
        };
        let Some(other) = other else {
            refused += 1;
            continue;
        };
        changed += 1;
        if in_full {
            holds(whole, &other);
        }
        let register = register(whole, &other, "a", "b");
        assert!(!register.entries.is_empty(), "not told: {line}");
        if in_full {
            // Whoever signs for something that is otherwise now is asked by the register.
            let (a, b) = (subjects(whole), subjects(&other));
            for (_, subject) in altered(&a, &b) {
                let asked = |role: &String| {
                    let mut entries = register.entries.iter();
                    entries.any(|e| e.agree.iter().any(|r| r == role))
                };
                assert!(subject.roles.iter().all(asked), "{line}: {subject:?}");
            }
        }
        for entry in &register.entries {
            assert!(
                !entry.changes.is_empty() || !entry.follows.is_empty(),
                "{line}: {entry:?}"
            );
            for words in entry
                .changes
                .iter()
                .chain(&entry.follows)
                .chain([&entry.about])
            {
                assert!(
                    !words.is_empty() && lettering::missing(words).is_none(),
                    "{line}: {words}"
                );
            }
        }
        prints(&of_example, &register, &line);
        let caused = register.entries.iter().any(|e| !e.changes.is_empty());
        assert!(caused, "no cause: {line}: {:#?}", register.entries);
    }
    println!("{changed} changed, {refused} refused");
    // References that lead nowhere and sizes that do not fit are no jobs.
    assert!(
        changed > 600 && changed > refused,
        "{changed} changed, {refused} refused"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    /// A frozen job that somebody damaged is told off, or is compared like any other: nothing panics.
    #[test]
    fn a_damaged_frozen_job_never_panics(
        at in 0usize..9000, cut in 0usize..30, put in "[\\PC\"\\[\\]{}:,0-9-]{0,12}",
    ) {
        let (whole, text) = frozen_alcove();
        let from = text.floor_char_boundary(at % text.len());
        let to = text.floor_char_boundary((from + cut).min(text.len())).max(from);
        let damaged = format!("{}{put}{}", &text[..from], &text[to..]);
        if let Ok(frozen) = Frozen::read(&damaged) {
            holds(&whole.record, &frozen.record);
            register(&whole.record, &frozen.record, "a", "b");
            register(&frozen.record, &whole.record, "b", "a");
        }
    }
}

fn frozen_alcove() -> &'static (Frozen, String) {
    static MADE: OnceLock<(Frozen, String)> = OnceLock::new();
    MADE.get_or_init(|| {
        let alcove = std::fs::read_to_string(root().join("tests/projects/alcove.toml"));
        let record = job(&alcove.expect("alcove")).expect("sound");
        let frozen = Frozen::new("A-1", "2026-01-12", record, None, None);
        let text = frozen.canonical().expect("canonical");
        (frozen, text)
    })
}

/// Numbers so large that their difference is none are refused.
#[test]
fn a_frozen_job_with_numbers_beyond_reason_is_refused() {
    let (_, text) = frozen_alcove();
    let large = text.replacen("\"um\":330000", "\"um\":9000000000000000", 1);
    assert!(&large != text && Frozen::read(&large).is_err());
}
