//! Whole packs of the example, laid out and exported: read back by independent readers, compiled
//! twice, and fed with hostile words.

use std::path::PathBuf;
use std::process::Command;

use rodbook::compose::{self, ComposeError, Pack};
use rodbook::diag::Diagnostics;
use rodbook::draw::{self, Drawing, DrawingKind};
use rodbook::emit;
use rodbook::emit::write::File;
use rodbook::reckon::placed::Reckoned;
use rodbook::resolve::job::{Job, Person, Sheets, WallRef};
use rodbook::{app, reckon};

use crate::support::root;

const BOTH: [Pack; 2] = [Pack::Client, Pack::Fitter];

fn example() -> Job {
    let prepared = app::prepare(&root().join("example-project/project.toml"));
    let (job, _) = prepared
        .job
        .unwrap_or_else(|| panic!("{:#?}", prepared.errors));
    job
}

fn reckoned(job: &Job) -> Reckoned {
    let mut diags = Diagnostics::default();
    let reckoned = reckon::reckon(job, &mut diags);
    reckoned.unwrap_or_else(|| panic!("{:#?}", diags.sorted()))
}

/// Blank drawings as large as their sheet allows, one of each kind: ISO 5457 leaves 390 × 277 of
/// A3 and 267 × 190 of A4 lying, of which 34 are the title block's.
fn blanks(job: &Job) -> Vec<Drawing> {
    let (width, height) = match job.info.sheets {
        Sheets::A3 => (390.0, 243.0),
        Sheets::A4 => (267.0, 156.0),
    };
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{width}mm' height='{height}mm' \
         viewBox='0 0 {width} {height}'><rect x='1' y='1' width='{}' height='{}' fill='none' \
         stroke='black' stroke-width='0.25'/><text x='20' y='20' font-size='3.79' \
         font-family=\"'Source Sans 3', 'Noto Sans'\">A blank for Жук</text></svg>",
        width - 2.0,
        height - 2.0,
    );
    let one = |id: &str, title: &str, kind| Drawing {
        id: id.to_owned(),
        kind,
        title: title.to_owned(),
        alt: format!("{title}, a blank."),
        svg: svg.clone(),
        width_mm: width,
        height_mm: height,
        scale: 20,
        part: (1, 1),
    };
    let wall = WallRef { room: 0, wall: 0 };
    vec![
        one("chamber-plan", "Plan of Chamber", DrawingKind::Plan(0)),
        one(
            "chamber-A-shut",
            "Chamber, elevation A, fronts shut",
            DrawingKind::Shut(wall),
        ),
        one(
            "chamber-A-open",
            "Chamber, elevation A, interiors",
            DrawingKind::Open(wall),
        ),
        one("sections", "Sections", DrawingKind::Section),
    ]
}

/// The drawings as they are, for one reader.
fn drawn(job: &Job, reckoned: &Reckoned, which: Pack) -> Vec<Drawing> {
    draw::drawings(job, reckoned, which.reader()).unwrap_or_else(|error| panic!("{error}"))
}

fn pdf(job: &Job, which: Pack) -> Vec<u8> {
    let pages = compose::pack(job, &reckoned(job), &blanks(job), which)
        .unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(pages.warnings, Vec::<String>::new());
    emit::pdf::write(&pages).unwrap_or_else(|error| panic!("{error}"))
}

/// Under the target folder, so that the pages can be looked at.
fn kept(name: &str, bytes: Vec<u8>) -> PathBuf {
    let folder = root().join("target/packs");
    let file = File {
        path: format!("{name}.pdf"),
        bytes,
    };
    emit::write::all(&folder, &[file])
        .expect("written")
        .remove(0)
}

/// The words of a PDF as another program reads them, blanks run together.
fn words(path: &PathBuf) -> String {
    let out = Command::new("pdftotext")
        .arg("-layout")
        .arg(path)
        .arg("-")
        .output();
    let out = out.expect("pdftotext is installed");
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_drawings_of_the_example_are_placed_with_their_titles_and_sizes() {
    let job = example();
    let reckoned = reckoned(&job);
    for which in BOTH {
        let drawings = drawn(&job, &reckoned, which);
        let pages = compose::pack(&job, &reckoned, &drawings, which);
        let pages = pages.unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(pages.warnings, Vec::<String>::new());
        let bytes = emit::pdf::write(&pages).unwrap_or_else(|error| panic!("{error}"));
        let text = words(&kept(&format!("drawn-{}", which.name()), bytes));
        for drawing in drawings.iter().filter(|d| d.kind != DrawingKind::Section) {
            assert!(
                text.contains(&drawing.title),
                "{} is missing",
                drawing.title
            );
        }
    }
}

#[test]
fn packs_are_sound_for_an_independent_reader_and_say_what_they_must() {
    let job = example();
    for which in BOTH {
        let path = kept(which.name(), pdf(&job, which));
        let checked = Command::new("qpdf").arg("--check").arg(&path).output();
        let checked = checked.expect("qpdf is installed");
        assert!(
            checked.status.success(),
            "{}",
            String::from_utf8_lossy(&checked.stdout)
        );
        let text = words(&path);
        for said in [
            &job.info.title,
            &job.info.site,
            &job.info.client,
            &job.info.workshop,
        ] {
            assert!(
                text.contains(said.as_str()),
                "{said} is missing from {}",
                which.title()
            );
        }
        assert!(text.contains("page 1 of "), "no page count");
        let own = match which {
            Pack::Client => ["not a quotation", "Your agreement"],
            Pack::Fitter => ["Check on arrival", "Settings of the feet"],
        };
        for said in own {
            assert!(
                text.contains(said),
                "{said} is missing from {}",
                which.title()
            );
        }
    }
}

#[test]
fn every_front_is_in_both_packs_with_its_size() {
    let job = example();
    let reckoned = reckoned(&job);
    assert!(reckoned.fronts.len() >= 24);
    let client = words(&kept("client-fronts", pdf(&job, Pack::Client)));
    for front in &reckoned.fronts {
        let row = format!("{} \u{d7} {}", front.width(), front.height());
        assert!(
            client.contains(&row),
            "front {} of {row} is missing",
            front.number
        );
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let job = example();
    for which in BOTH {
        assert!(
            pdf(&job, which) == pdf(&job, which),
            "{} differs",
            which.title()
        );
    }
}

/// Markup, quotes, scripts, words no line can hold, and emptiness: data are words, never evaluated.
#[test]
fn hostile_words_are_printed_as_they_are() {
    let markup = "#panic(\"no\") $x^2$ *bold* _it_ [a] <b> @c \\d `e` ~ -- ... 'q' \"Q\" // /* {f}";
    let long = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft";
    let scripts = "Zażółć gęślą jaźń · Φιλοξενία · Жуковка ő ř ž ț ð þ";
    let mut job = example();
    job.info.title = format!("{markup} {long}{long}");
    job.info.client = scripts.to_owned();
    job.info.site = format!("{long}{long}{long} {markup}");
    job.info.number = long.to_owned();
    job.info.workshop = format!("{long} {long} {long}");
    job.info.designer = markup.to_owned();
    job.info.purpose = long.to_owned();
    job.info.language = "#let".to_owned();
    job.info.note_to_client = format!("{markup}\n\n{long}{long}{long}\nmore\u{7}\u{202e}");
    job.info.note_to_fitter = job.info.note_to_client.clone();
    let many = (0..9).map(|i| Person {
        name: format!("{scripts} {i} {long}"),
        role: markup.to_owned(),
        signs: true,
        reach: format!("{long}{long}"),
    });
    job.people.extend(many);
    for room in &mut job.rooms {
        room.name = format!("{long} {markup}");
    }
    for run in &mut job.runs {
        run.name = format!("{long}{long} {markup}");
        for unit in &mut run.units {
            unit.name = format!("{markup} {long}");
            unit.note = format!("{long} {markup}").repeat(14);
        }
    }
    for material in &mut job.materials {
        material.name = format!("{long}{markup}");
        material.edge = long.repeat(3);
    }
    for finish in &mut job.finishes {
        finish.name = format!("{long} {scripts}");
        finish.sheen = long.to_owned();
    }
    for hardware in &mut job.hardware {
        hardware.name = long.repeat(2);
    }
    for appliance in &mut job.appliances {
        appliance.name = format!("{long}{markup}");
        appliance.supplied = long.to_owned();
    }
    for other in &mut job.by_others {
        other.who = long.repeat(4);
    }
    for which in BOTH {
        let text = words(&kept(
            &format!("hostile-{}", which.name()),
            pdf(&job, which),
        ));
        assert!(
            text.contains("#panic(\"no\") $x^2$ *bold* _it_ [a] <b> @c \\d `e`"),
            "{text}"
        );
        assert!(text.contains("Φιλοξενία · Жуковка"), "{text}");
    }
}

#[test]
fn a_job_that_says_next_to_nothing_still_makes_both_packs() {
    let mut job = example();
    job.people.clear();
    job.notes.clear();
    job.history.clear();
    job.by_others.clear();
    job.way_in.clear();
    job.panels.clear();
    job.sliding.clear();
    job.worktops.clear();
    for text in [
        &mut job.info.number,
        &mut job.info.title,
        &mut job.info.client,
        &mut job.info.site,
        &mut job.info.workshop,
        &mut job.info.designer,
        &mut job.info.fitter,
        &mut job.info.purpose,
        &mut job.info.language,
        &mut job.info.note_to_client,
        &mut job.info.note_to_fitter,
    ] {
        text.clear();
    }
    job.info.sheets = Sheets::A4;
    for which in BOTH {
        kept(&format!("bare-{}", which.name()), pdf(&job, which));
    }
    job.runs.clear();
    let none = reckoned(&job);
    for which in BOTH {
        let pages = compose::pack(&job, &none, &[], which).unwrap_or_else(|e| panic!("{e}"));
        let bytes = emit::pdf::write(&pages).unwrap_or_else(|e| panic!("{e}"));
        kept(&format!("empty-{}", which.name()), bytes);
    }
}

#[test]
fn a_character_nobody_can_print_is_named_and_is_the_files_fault() {
    let mut job = example();
    job.notes[0].text = "mind the \u{1F408}".to_owned();
    job.notes[0].to = rodbook::resolve::job::Reader::Both;
    let error = compose::pack(&job, &reckoned(&job), &blanks(&job), Pack::Client).err();
    let error = error.expect("a cat is not in the fonts");
    assert!(
        error.is_input() && error.to_string().contains("U+1F408"),
        "{error}"
    );
}

#[test]
fn a_drawing_whose_words_would_vanish_is_refused() {
    let job = example();
    let mut drawings = blanks(&job);
    drawings[0].svg = drawings[0].svg.replace("Source Sans 3", "Fog Gothic");
    let error = compose::pack(&job, &reckoned(&job), &drawings, Pack::Client).err();
    assert!(
        matches!(error, Some(ComposeError::UnknownFamily { .. })),
        "{error:?}"
    );
}
