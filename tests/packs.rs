//! Whole packs of the example, read back by a reader that is not ours.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;

use crate::reader;
use crate::support::{rodbook, root};

/// Every file of a folder by its path in it.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(next) = folders.pop() {
        for entry in std::fs::read_dir(next).expect("folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path
                    .strip_prefix(folder)
                    .expect("inside")
                    .to_string_lossy()
                    .into_owned();
                found.insert(name, std::fs::read(&path).expect("file"));
            }
        }
    }
    found
}

/// Copies the example somewhere, makes its packs there, and returns what was written.
fn made_afresh() -> BTreeMap<String, Vec<u8>> {
    let temp = tempfile::tempdir().expect("a folder");
    let example = root().join("example-project");
    std::fs::create_dir(temp.path().join("boards")).expect("boards");
    std::fs::copy(
        example.join("project.toml"),
        temp.path().join("project.toml"),
    )
    .expect("project");
    for entry in std::fs::read_dir(example.join("boards"))
        .expect("boards")
        .flatten()
    {
        std::fs::copy(
            entry.path(),
            temp.path().join("boards").join(entry.file_name()),
        )
        .expect("board");
    }
    let run = rodbook(temp.path(), &["pack", "project.toml"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    files(&temp.path().join("out"))
}

/// Made once for all tests of this file.
fn example() -> &'static BTreeMap<String, Vec<u8>> {
    static MADE: OnceLock<BTreeMap<String, Vec<u8>>> = OnceLock::new();
    MADE.get_or_init(made_afresh)
}

fn pack(name: &str) -> &'static [u8] {
    example().get(name).expect("that pack")
}

#[test]
fn the_same_project_gives_the_same_bytes_in_any_folder() {
    let again = made_afresh();
    assert_eq!(
        example().keys().collect::<Vec<_>>(),
        again.keys().collect::<Vec<_>>()
    );
    for (name, bytes) in example() {
        assert!(
            again.get(name) == Some(bytes),
            "{name} differs between two folders"
        );
    }
}

#[test]
fn every_page_says_something_and_every_glyph_has_its_character() {
    for name in ["client.pdf", "fitter.pdf"] {
        for (n, text) in reader::text(pack(name)).iter().enumerate() {
            assert!(
                text.len() > 60,
                "{name} page {} is all but empty: {text}",
                n + 1
            );
            assert!(
                !text.contains('\u{fffd}'),
                "{name} page {}: a glyph of no character",
                n + 1
            );
        }
    }
}

#[test]
fn pages_are_a3_lying_or_a4_upright() {
    // ISO 216 trimmed sizes, from reference-values §6.1: A3 297 × 420 mm, A4 210 × 297 mm.
    for name in ["client.pdf", "fitter.pdf"] {
        for (w, h) in reader::sizes(pack(name)) {
            let is = |a: f64, b: f64| (w - a).abs() < 0.2 && (h - b).abs() < 0.2;
            assert!(is(420.0, 297.0) || is(210.0, 297.0), "{name}: {w} × {h} mm");
        }
    }
}

#[test]
fn every_front_number_stands_on_an_elevation_and_in_the_schedule() {
    let file = root().join("example-project/project.toml");
    let prepared = rodbook::app::prepare(&file);
    let (job, reckoned) = prepared.job.expect("the example is sound");
    let fitter = reader::text(pack("fitter.pdf")).concat();
    assert!(reckoned.fronts.len() >= 24);
    for front in &reckoned.fronts {
        let unit = &job.runs[front.run].units[front.unit];
        let line = reader::squeeze(&format!("{}{}", front.number, unit.id));
        assert!(
            fitter.contains(&line),
            "front {} of {} is in no schedule",
            front.number,
            unit.id
        );
    }
}

#[test]
fn sizes_on_the_pages_are_those_reckoned() {
    let file = root().join("example-project/project.toml");
    let prepared = rodbook::app::prepare(&file);
    let (_, reckoned) = prepared.job.expect("the example is sound");
    let fitter = reader::text(pack("fitter.pdf")).concat();
    for run in &reckoned.runs {
        for unit in &run.units {
            let size = format!("{}×{}×{}", unit.width(), unit.height(), unit.depth);
            assert!(fitter.contains(&size), "{}: {size} is on no page", unit.id);
        }
    }
}

#[test]
fn a_project_that_is_wrong_writes_nothing_and_leaves_an_earlier_pack_alone() {
    let temp = tempfile::tempdir().expect("a folder");
    let alcove =
        std::fs::read_to_string(root().join("tests/projects/alcove.toml")).expect("alcove");
    let file = temp.path().join("project.toml");
    std::fs::write(&file, &alcove).expect("project");
    assert_eq!(rodbook(temp.path(), &["pack", "project.toml"]).code, 0);
    let before = files(&temp.path().join("out"));
    std::fs::write(&file, alcove.replace("doors = 2", "dors = 2")).expect("project");
    assert_eq!(rodbook(temp.path(), &["pack", "project.toml"]).code, 2);
    assert_eq!(
        rodbook(temp.path(), &["pack", "project.toml", "--out", "elsewhere"]).code,
        2
    );
    assert!(before == files(&temp.path().join("out")));
    assert!(!temp.path().join("elsewhere").exists());
}

#[test]
fn what_explain_prints_makes_the_same_packs() {
    let temp = tempfile::tempdir().expect("a folder");
    let alcove = root().join("tests/projects/alcove.toml");
    std::fs::copy(alcove, temp.path().join("short.toml")).expect("project");
    let explained = rodbook(temp.path(), &["explain", "short.toml"]);
    assert_eq!(explained.code, 0, "{}", explained.err);
    std::fs::write(temp.path().join("long.toml"), explained.out).expect("project");
    for name in ["short", "long"] {
        let project = format!("{name}.toml");
        let run = rodbook(temp.path(), &["pack", &project, "--out", name]);
        assert_eq!(run.code, 0, "{}", run.err);
    }
    assert!(files(&temp.path().join("short")) == files(&temp.path().join("long")));
}

/// The same of a job with nearly every key: a default that is written out stays a default, and what a unit
/// takes from its run is told by the run's line.
#[test]
fn what_explain_prints_of_the_example_makes_the_same_packs() {
    let temp = tempfile::tempdir().expect("a folder");
    let folder = root().join("example-project");
    std::fs::create_dir(temp.path().join("boards")).expect("boards");
    let boards = std::fs::read_dir(folder.join("boards")).expect("boards");
    for entry in boards.flatten() {
        let to = temp.path().join("boards").join(entry.file_name());
        std::fs::copy(entry.path(), to).expect("board");
    }
    let explained = rodbook(&folder, &["explain", "project.toml"]);
    assert_eq!(explained.code, 0, "{}", explained.err);
    let text = std::fs::read_to_string(folder.join("project.toml")).expect("project");
    let line = 1 + text
        .lines()
        .position(|l| l.starts_with("depth = 580"))
        .expect("a depth");
    let of_w1 = explained.out.split("\"W1\"").nth(1).expect("W1");
    let depth = of_w1
        .lines()
        .find(|l| l.starts_with("depth"))
        .expect("a depth");
    assert!(depth.ends_with(&format!("# line {line}")), "{depth}");
    std::fs::write(temp.path().join("project.toml"), explained.out).expect("project");
    let run = rodbook(temp.path(), &["pack", "project.toml"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    let made = files(&temp.path().join("out"));
    for (name, bytes) in example() {
        let same = made.get(name) == Some(bytes);
        assert!(
            same || !name.ends_with(".pdf"),
            "{name}: {}",
            first_difference(bytes, &made[name])
        );
        assert!(same, "{name}");
    }
}

/// In two packs, the words of the first page that differs.
fn first_difference(one: &[u8], other: &[u8]) -> String {
    let pages = reader::text(one).into_iter().zip(reader::text(other));
    let differ = (1..).zip(pages).find(|(_, (a, b))| a != b);
    differ.map_or_else(String::new, |(n, (a, b))| format!("page {n}\n{a}\n{b}"))
}

/// Names with the signs of markup and of four alphabets print as they were written.
#[test]
fn names_of_every_kind_print_as_they_were_written() {
    let temp = tempfile::tempdir().expect("a folder");
    let project = root().join("tests/projects/names-of-every-kind.toml");
    std::fs::copy(project, temp.path().join("project.toml")).expect("project");
    let run = rodbook(temp.path(), &["pack", "project.toml"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    let written = files(&temp.path().join("out"));
    let fitter = reader::text(&written["fitter.pdf"]).concat();
    for name in [
        "Φούρνος #pagebreak()",
        "Zażółć Gęślą Jaźń @ref",
        "Őrült Űrhajó ~ --- ...",
        "Пригоните план`ку` к стене <label> @nowhere; ș ț ă î â",
        "Świątynia #1 <Ω>",
        "πόρτα #4 <x>",
        "ξ_#6_$y$ [Ő]",
        "Ящик @7 \\ `ț` <&>",
        "Sklejka #9 $ *Ű* & <sklejka>",
        "ηλεκτρολόγος @15 <e>",
        "Первый #17 <чертёж>",
    ] {
        assert!(
            fitter.contains(&reader::squeeze(name)),
            "{name} is on no page"
        );
    }
}

#[test]
fn a_folder_that_cannot_be_written_is_the_machines_trouble() {
    let temp = tempfile::tempdir().expect("a folder");
    let alcove = root().join("tests/projects/alcove.toml");
    std::fs::copy(alcove, temp.path().join("project.toml")).expect("project");
    std::fs::write(temp.path().join("out"), "a file stands in the way").expect("file");
    let run = rodbook(temp.path(), &["pack", "project.toml"]);
    assert_eq!(run.code, 3, "{}", run.err);
}

/// Pages held as pictures: those the README shows. A changed page is accepted by
/// `RODBOOK_ACCEPT_PAGES=1 cargo test pages`, after looking at it.
#[test]
fn pages_look_as_they_did() {
    let folder = root().join("tests/pages");
    let seen = [
        (
            "client-cover",
            "client.pdf",
            "Thesedrawingsarenotaquotation",
            50.0,
        ),
        (
            "chamber-shut",
            "client.pdf",
            "Chamber,elevationA,frontsshut",
            72.0,
        ),
        ("scullery-plan", "fitter.pdf", "PlanofScullery", 72.0),
        ("fitter-units", "fitter.pdf", "Carcasssizes", 50.0),
    ];
    let accept = std::env::var_os("RODBOOK_ACCEPT_PAGES").is_some();
    for (name, file, words, dpi) in seen {
        let texts = reader::text(pack(file));
        // The contents page names every drawing: take the last page with the words.
        let page = texts
            .iter()
            .rposition(|t| t.contains(words))
            .unwrap_or_else(|| panic!("{words}"));
        let now = reader::picture(pack(file), page, dpi);
        let path = folder.join(format!("{name}.png"));
        if accept {
            now.save(&path).expect("saved");
        }
        let kept = image::open(&path)
            .unwrap_or_else(|e| panic!("{}: {e}", path.display()))
            .to_luma8();
        let differing = reader::differing(&now, &kept);
        if differing > 40 {
            let new = root().join("target").join(format!("{name}.new.png"));
            now.save(&new).expect("saved");
            panic!(
                "{name}: {differing} pixels differ; look at {}",
                new.display()
            );
        }
    }
}

/// What may go wrong stands in the client's pack with its options and prices; the fitter is told what was
/// accepted, and no price.
#[test]
fn risks_stand_in_both_packs() {
    let files = example();
    let text = |name: &str| reader::text(&files[name]).concat();
    let (client, fitter) = (text("client.pdf"), text("fitter.pdf"));
    let risks = rodbook::app::prepare(&root().join("example-project/project.toml")).risks;
    for d in risks.of("client") {
        assert!(client.contains(&reader::squeeze(&d.title)), "{}", d.title);
        assert!(fitter.contains(&reader::squeeze(&d.title)), "{}", d.title);
    }
    for words in [
        "What may go wrong",
        "This is no quotation.",
        "adds 64.00 GBP in all",
        "380.00 GBP in all, if called on",
        "380.00 GBP",
        "Your agreement",
        "Initials",
    ] {
        assert!(client.contains(&reader::squeeze(words)), "{words}");
    }
    assert!(fitter.contains(&reader::squeeze("What the client has accepted")));
    assert!(!fitter.contains("GBP"));
}

/// How the top's edge is made up, what drawers are cut of, when machines go in, how high a handle sits, and
/// what initials to the job and to its fittings stand for. Sums by hand.
#[test]
fn what_is_cut_fitted_and_initialled_is_told() {
    let files = example();
    let text = |name: &str| reader::text(&files[name]).concat();
    let (client, fitter) = (text("client.pdf"), text("fitter.pdf"));
    for words in [
        "12 + 18 = 30",
        "drawer side",
        "drawer bottom",
        "Put into L1 Laundry tower: washing machine and dryer.",
        "water, waste and socket must be there and tested",
        "under “At” from finished floor",
        // By hand from the parts list: 18 sides of 550 and 16 of 450, two to a drawer; from 700 to 2700.
        "9 of 550, 8 of 450",
        "1 of 2000",
        "Connectors to W2",
        "At its back right corner, round boxed pipe: 80.5 wide",
        "fridge: Must be stood on end at the half landing",
        "Socket, moved here",
        "surveyed 16 February 2026",
        "Into the cut-outs of Sink worktop: sink",
        // Across the room nothing can be filled.
        "Finding 3: With any of drawers 36, 37 and 38 pulled out, door 29 opens",
        // On its own card without its name, and only its own pairs of doors.
        ": Door 1 opens to 94",
        "Doors 3 and 5, 4 and 6, 7 and 9, 8 and 10 touch when both",
    ] {
        assert!(fitter.contains(&reader::squeeze(words)), "{words}");
    }
    for words in [
        "Handle's height",
        "door before the built-in fridge",
        "1 shelf, washing machine and dryer",
        "its edge 30 high, built up of a board 12 thick",
        "a shelf may bend by 1/200 of its length, a front by 4 mm; prices are in GBP",
        "Full-extension runner, pairs",
        "Levelling foot",
        "Elevation: Chamber, wall A, pp. 5, 6",
        "Hatched on the plans of Chamber and Scullery, with “risk",
        // Two units of which the same is said share a row.
        "N1 Alcove cupboard; N2 Open shelves, notched round the pipe",
    ] {
        assert!(client.contains(&reader::squeeze(words)), "{words}");
    }
    for words in ["What you may choose", "to compare", "hides:"] {
        assert!(!client.contains(&reader::squeeze(words)), "{words}");
    }
}

/// Nor in words of the project file, nor with what is out of date.
#[test]
fn fitters_are_not_told_what_only_a_designer_can_do() {
    let fitter = reader::text(&example()["fitter.pdf"]).concat();
    for words in [
        "as the project declares none",
        "“edge = ",
        "put a filler between them",
        "to compare:",
    ] {
        assert!(!fitter.contains(&reader::squeeze(words)), "{words}");
    }
}

/// Three corners of a page to be signed bear a mark, a ring of 5 mm with a dot, its centre 8 mm from the
/// edges of the paper; no other page does. (The figures are the template's own: a scan is put right by
/// them.)
#[test]
fn pages_to_sign_have_marks_by_which_a_scan_is_put_right() {
    const DPI: f64 = 200.0;
    let pdf = &example()["client.pdf"];
    let texts = reader::text(pdf);
    let signed = |text: &String| text.contains("initialsintheboxbesideeachline");
    let (width, height) = (210.0, 297.0);
    let mut seen = 0;
    for (page, text) in texts.iter().enumerate().skip(texts.len() - 2) {
        let picture = reader::picture(pdf, page, DPI);
        let dark = |x: f64, y: f64| {
            let at = |mm: f64| (mm / 25.4 * DPI).round() as u32;
            picture.get_pixel(at(x), at(y)).0[0] < 100
        };
        for (x, y) in [(8.0, 8.0), (width - 8.0, 8.0), (width - 8.0, height - 8.0)] {
            let mark = dark(x, y) && !dark(x + 1.4, y) && dark(x + 2.5, y) && dark(x, y - 2.5);
            assert_eq!(mark, signed(text), "page {}, mark at {x}, {y}", page + 1);
            seen += usize::from(mark);
        }
    }
    assert_eq!(seen, 3);
}
