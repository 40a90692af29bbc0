//! What must hold of all reckoning, on real projects and on projects made up by machine: a mirror
//! image has mirrored numbers, a larger copy larger ones; the order of the file changes nothing; a
//! taller unit never stands up more easily.

mod project;

use std::collections::BTreeMap;

use proptest::prelude::*;

use project::{Plan, plan};
use rodbook::diag::Diagnostics;
use rodbook::read;
use rodbook::reckon::drawers::weigh;
use rodbook::reckon::placed::{PieceKind, Reckoned};
use rodbook::reckon::reckon;
use rodbook::resolve::job::{ApplianceRef, Job, Side, Subject};
use rodbook::resolve::{fill, resolve};
use rodbook::units::Length;

use crate::support::root;

/// The job and what is reckoned of it; what is wrong with it otherwise. Pictures are left out.
fn reckoned(text: &str) -> Result<(Job, Reckoned), String> {
    let mut diags = Diagnostics::default();
    let project = read::project(text, &mut diags).ok_or("not TOML")?;
    let filled = fill(&project, &mut diags);
    let job = resolve(&filled, &[], &mut diags);
    let got = match diags.is_empty() {
        true => reckon(&job, &mut diags),
        false => None,
    };
    let wrong = || format!("{:#?}\n{text}", diags.clone().sorted());
    got.map(|r| (job, r)).ok_or_else(wrong)
}

/// The same cases on every machine and day.
fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        rng_seed: proptest::test_runner::RngSeed::Fixed(41),
        failure_persistence: None,
        cases,
        ..ProptestConfig::default()
    }
}

/// A subject by ids, whatever its place in the file.
fn subject(job: &Job, subject: &Subject) -> String {
    match subject {
        Subject::Job => "job".into(),
        Subject::Room(r) => job.rooms[*r].id.clone(),
        Subject::Wall(at) => job.wall_id(*at),
        Subject::Run(r) => job.runs[*r].id.clone(),
        Subject::Unit(r, u) => job.runs[*r].units[*u].id.clone(),
        Subject::Front(id) => id.clone(),
        Subject::Panel(p) => job.panels[*p].id.clone(),
        Subject::Sliding(s) => job.sliding[*s].id.clone(),
        Subject::Worktop(w) => job.worktops[*w].id.clone(),
    }
}

/// Every finding as severity, code and subject, sorted.
fn findings(job: &Job, reckoned: &Reckoned) -> Vec<String> {
    let told = reckoned
        .findings
        .iter()
        .map(|f| format!("{:?} {} {}", f.severity, f.code, subject(job, &f.subject)));
    let mut all: Vec<String> = told.collect();
    all.sort();
    all
}

/// Numbers of each unit, by id, that a mirror does not change: sizes, masses, feet, fronts, strips.
fn numbers(job: &Job, reckoned: &Reckoned) -> BTreeMap<String, String> {
    let mut out = BTreeMap::new();
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let mut feet: Vec<_> = at.feet.iter().map(|f| (f.y, f.height)).collect();
            feet.sort();
            let fronts = at.fronts.iter().map(|i| &reckoned.fronts[*i]);
            let mut fronts: Vec<_> = fronts
                .map(|f| (f.bottom, f.width(), f.height(), f.hinges, f.mass, f.travel))
                .collect();
            fronts.sort();
            let mut handling = reckoned.handling[r][u].clone();
            // By their place in the file, not by what they are.
            for machine in &mut handling.machines {
                machine.which = ApplianceRef(0);
            }
            let said = format!(
                "{} {} {} {:?} {:?} {feet:?} {fronts:?} {handling:?}",
                at.width(),
                at.base,
                at.top,
                at.mass,
                at.notches.len()
            );
            out.insert(unit.id.clone(), said);
        }
    }
    out
}

/// Widths and blank of each scribe, by run and side.
fn scribes(job: &Job, reckoned: &Reckoned, mirrored: bool) -> BTreeMap<String, Vec<Length>> {
    let mut out = BTreeMap::new();
    for (run, placed) in job.runs.iter().zip(&reckoned.runs) {
        for piece in placed.pieces.iter().filter(|p| p.kind == PieceKind::Scribe) {
            let side = match (piece.side == Side::Left) != mirrored {
                true => "left",
                false => "right",
            };
            let mut widths: Vec<Length> = piece.scribe.iter().map(|s| s.1).collect();
            widths.push(piece.blank);
            out.insert(format!("{} {side}", run.id), widths);
        }
    }
    out
}

fn made(plan: &Plan, mirrored: bool) -> Option<(Job, Reckoned)> {
    reckoned(&plan.text(mirrored)).ok()
}

proptest! {
    #![proptest_config(config(192))]

    // The image is fitted from the other end, as its file says: what halves of millimetres leave over lies
    // at the far end, and a foot between two places as near stands nearer the end begun at.
    #[test]
    fn a_mirrored_job_has_mirrored_numbers_and_the_same_findings(plan in plan()) {
        let (one, other) = (made(&plan, false), made(&plan, true));
        prop_assert_eq!(one.is_some(), other.is_some());
        let (Some((job, got)), Some((job2, got2))) = (one, other) else { return Ok(()) };
        prop_assert_eq!(numbers(&job, &got), numbers(&job2, &got2));
        prop_assert_eq!(scribes(&job, &got, false), scribes(&job2, &got2, true));
        prop_assert_eq!(findings(&job, &got), findings(&job2, &got2));
    }

    #[test]
    fn a_taller_unit_never_stands_up_more_easily(plan in plan(), more in 1i64..200) {
        let mut taller = plan.clone();
        taller.tall.top += more;
        let (Some((_, low)), Some((_, high))) = (made(&plan, false), made(&taller, false)) else {
            return Ok(());
        };
        for (a, b) in low.handling[0].iter().zip(&high.handling[0]) {
            let (Some(a), Some(b)) = (a.stand_up, b.stand_up) else { continue };
            prop_assert!(a.raised <= b.raised, "{a:?} {b:?}");
        }
    }
}

#[test]
fn most_of_the_made_up_projects_are_sound() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::new(config(96));
    let plans = (0..96).map(|_| plan().new_tree(&mut runner).expect("a plan").current());
    let texts: Vec<String> = plans.map(|p| p.text(false)).collect();
    let sound: Vec<(Job, Reckoned)> = texts.iter().filter_map(|t| reckoned(t).ok()).collect();
    assert!(
        sound.len() > 60,
        "{}: {}",
        sound.len(),
        reckoned(&texts[0]).err().unwrap_or_default()
    );
    let mut codes: Vec<&str> = sound
        .iter()
        .flat_map(|(_, r)| &r.findings)
        .map(|f| f.code)
        .collect();
    codes.sort_unstable();
    codes.dedup();
    // They reach what opens, what stands and what is carried.
    for code in [
        "leaf-blocked",
        "leaf-stops-short",
        "room-door-blocked",
        "fronts-meet",
    ] {
        assert!(
            codes.contains(&code),
            "{code} is never found among {codes:?}"
        );
    }
}

/// A project's text with its lists and named tables in the order `rank` gives them.
fn shuffled(text: &str, rank: &mut dyn FnMut(&str) -> u64) -> String {
    let table: toml::Table = text.parse().expect("TOML");
    let mut first = toml::Table::new();
    let mut pieces: Vec<(u64, String)> = Vec::new();
    let wrap = |key: &str, value: toml::Value| {
        let mut one = toml::Table::new();
        one.insert(key.to_string(), value);
        one
    };
    for (key, value) in table {
        match value {
            toml::Value::Array(items)
                if ["room", "run", "panel", "sliding", "worktop", "by_others"]
                    .contains(&key.as_str()) =>
            {
                for item in items {
                    let name = format!(
                        "{key} {}",
                        item.get("id").map(ToString::to_string).unwrap_or_default()
                    );
                    let one = wrap(&key, toml::Value::Array(vec![item]));
                    pieces.push((rank(&name), toml::to_string(&one).expect("writes")));
                }
            }
            toml::Value::Table(named)
                if [
                    "kind",
                    "front",
                    "set",
                    "material",
                    "finish",
                    "hardware",
                    "appliance",
                ]
                .contains(&key.as_str()) =>
            {
                for (name, item) in named {
                    let one = wrap(&key, toml::Value::Table(wrap(&name, item)));
                    pieces.push((
                        rank(&format!("{key} {name}")),
                        toml::to_string(&one).expect("writes"),
                    ));
                }
            }
            other => {
                first.insert(key, other);
            }
        }
    }
    pieces.sort();
    let pieces: Vec<String> = pieces.into_iter().map(|p| p.1).collect();
    format!(
        "{}\n{}",
        toml::to_string(&first).expect("writes"),
        pieces.join("\n")
    )
}

/// A number from a name and a seed: an order that is odd and always the same.
fn order(seed: u64) -> impl FnMut(&str) -> u64 {
    move |name| {
        name.bytes()
            .fold(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15), |h, b| {
                (h ^ u64::from(b)).wrapping_mul(0x100_0000_01B3)
            })
    }
}

#[test]
fn the_order_of_the_file_changes_no_finding() {
    for path in [
        "example-project/project.toml",
        "tests/projects/names-of-every-kind.toml",
    ] {
        let text = std::fs::read_to_string(root().join(path)).expect(path);
        // Pictures are not looked at here.
        let text: String = text
            .lines()
            .filter(|l| !l.trim_start().starts_with("picture"))
            .flat_map(|l| [l, "\n"])
            .collect();
        let (job, got) = reckoned(&text).unwrap_or_else(|e| panic!("{path}: {e}"));
        let (found, sizes) = (findings(&job, &got), numbers(&job, &got));
        assert!(!found.is_empty());
        for seed in 1..12 {
            let other = shuffled(&text, &mut order(seed));
            let (job, got) = reckoned(&other).unwrap_or_else(|e| panic!("{path}: {e}"));
            assert_eq!(findings(&job, &got), found, "{path} shuffled by {seed}");
            assert_eq!(numbers(&job, &got), sizes, "{path} shuffled by {seed}");
        }
    }
}

proptest! {
    #![proptest_config(config(48))]

    #[test]
    fn the_order_of_a_made_up_file_changes_no_finding(plan in plan(), seed in 1u64..1000) {
        let text = plan.text(false);
        let Ok((job, got)) = reckoned(&text) else { return Ok(()) };
        let (job2, got2) = reckoned(&shuffled(&text, &mut order(seed))).map_err(TestCaseError::fail)?;
        prop_assert_eq!(findings(&job, &got), findings(&job2, &got2));
        prop_assert_eq!(numbers(&job, &got), numbers(&job2, &got2));
    }
}

/// A room and a run of so many times the size, gaps and boards too, with nothing that shares.
fn scaled(n: i64) -> String {
    let [wall, other, side, door, height, board, gap, depth] =
        [3000, 2000, 60, 200, 1500, 18, 3, 500].map(|l| l * n);
    let (out, widths) = (20 * n, Length::um(600_500) * n);
    format!(
        "rodbook = 1
[job]
number = \"1\"
title = \"Made up\"
client = \"Nobody\"
date = 2026-01-01
[[room]]
id = \"r\"
ceiling = {ceiling}
[[room.wall]]
id = \"A\"
length = {wall}
[[room.wall]]
id = \"B\"
length = {other}
[[room.wall]]
id = \"C\"
length = {c}
[[room.wall]]
id = \"D\"
length = {other}
[material]
ply = {{ core = \"birch plywood\", thickness = {board}, sheet = [{sheet}, {sheet}] }}
[set.usual]
carcass = \"ply\"
back = \"ply\"
front = \"ply\"
panel = \"ply\"
[front]
usual = {{ gap = {gap} }}
[[run]]
id = \"run\"
wall = \"r.A\"
from = {side}
to = {to}
base = {door}
top = {top}
depth = {depth}
stands = \"wall\"
off_wall = {out}
unit = [{{ id = \"U\", width = {widths}, doors = 2, shelves = 1 }}, {{ id = \"V\", width = {widths}, drawers = 2 }}]
",
        ceiling = 2400 * n,
        c = (3000 + 12) * n,
        sheet = 2000 * n,
        to = Length::mm(side) + widths * 2,
        top = door + height,
    )
}

// Geometry: lengths go with the factor, exactly: the units are so wide that their fronts share no halves
// of half-millimetres. Masses of boards go with its cube; each board's own is rounded to the gram. Boxes of
// drawers are left out: runners are bought by fifties.
#[test]
fn a_larger_copy_has_larger_numbers() {
    let (job, one) = reckoned(&scaled(1)).unwrap_or_else(|e| panic!("{e}"));
    let closure = |r: &Reckoned| r.rooms[0].closure.expect("closed").error;
    assert_eq!(
        closure(&one),
        Length::mm(12),
        "by hand: wall C is 12 too long"
    );
    let boards = |job: &Job, r: &Reckoned, u: usize| {
        let unit = &r.runs[0].units[u];
        let boxes: i64 = unit.boxes.iter().map(|b| weigh(job, b).in_grams()).sum();
        unit.mass.in_grams() - boxes
    };
    for n in [2, 3] {
        let (more_job, more) = reckoned(&scaled(n)).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(closure(&one) * n, closure(&more));
        let cube = n * n * n;
        for (a, b) in one.fronts.iter().zip(&more.fronts) {
            assert_eq!((a.width() * n, a.height() * n), (b.width(), b.height()));
            let rounded = (a.mass.in_grams() * cube - b.mass.in_grams()).abs();
            assert!(rounded <= cube, "{rounded} g of {:?}", b.mass);
        }
        for (u, (a, b)) in (one.runs[0].units.iter().zip(&more.runs[0].units)).enumerate() {
            assert_eq!(a.width() * n, b.width());
            assert_eq!(a.depth_over_fronts * n, b.depth_over_fronts);
            let rounded = (boards(&job, &one, u) * cube - boards(&more_job, &more, u)).abs();
            assert!(rounded <= 9 * cube, "{rounded} g of {:?}", b.mass);
        }
    }
}
