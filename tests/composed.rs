//! Packs laid out from jobs that the example does not show: hostile words, next to nothing, and what
//! must be refused. Read back by a reader that is not ours.

use rodbook::compose::{self, ComposeError, Pack};
use rodbook::diag::Diagnostics;
use rodbook::draw::{self, Drawing, DrawingKind};
use rodbook::emit;
use rodbook::reckon::placed::Reckoned;
use rodbook::resolve::job::{Job, Person, Reader, Sheets, WallRef};
use rodbook::{app, reckon};

use crate::reader;
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
        changes: Vec::new(),
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

fn pdf(job: &Job, which: Pack) -> Vec<u8> {
    let pages = compose::pack(job, &reckoned(job), &blanks(job), which)
        .unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(pages.warnings, Vec::<String>::new());
    emit::pdf::write(&pages).unwrap_or_else(|error| panic!("{error}"))
}

/// A word as the independent reader gives it back.
fn said(pages: &[String], words: &str) -> bool {
    pages.concat().contains(&reader::squeeze(words))
}

#[test]
fn every_front_is_on_the_clients_list_with_its_size_and_every_drawing_with_its_title() {
    let job = example();
    let reckoned = reckoned(&job);
    let [drawings] = draw::drawings(&job, &reckoned, [Reader::Client]).expect("drawn");
    let pages = compose::pack(&job, &reckoned, &drawings, Pack::Client).expect("composed");
    assert_eq!(pages.warnings, Vec::<String>::new());
    let text = reader::text(&emit::pdf::write(&pages).expect("written"));
    for front in &reckoned.fronts {
        let row = format!("{} \u{d7} {}", front.width(), front.height());
        assert!(
            said(&text, &row),
            "front {} of {row} is missing",
            front.number
        );
    }
    for drawing in drawings.iter().filter(|d| d.kind != DrawingKind::Section) {
        assert!(said(&text, &drawing.title), "{} is missing", drawing.title);
    }
    for words in ["not a quotation", "Your agreement", "page 1 of "] {
        assert!(said(&text, words), "{words} is missing");
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
        let text = reader::text(&pdf(&job, which));
        assert!(said(&text, markup), "{}", which.title());
        assert!(said(&text, "Φιλοξενία · Жуковка"), "{}", which.title());
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
        assert!(
            reader::text(&pdf(&job, which)).len() > 4,
            "{}",
            which.title()
        );
    }
    job.runs.clear();
    job.known.clear();
    let none = reckoned(&job);
    for which in BOTH {
        let pages = compose::pack(&job, &none, &[], which).unwrap_or_else(|e| panic!("{e}"));
        let bytes = emit::pdf::write(&pages).unwrap_or_else(|e| panic!("{e}"));
        for (n, text) in reader::text(&bytes).iter().enumerate() {
            assert!(
                text.len() > 60,
                "{} page {} is all but empty: {text}",
                which.title(),
                n + 1
            );
        }
    }
}

#[test]
fn a_character_nobody_can_print_is_named_and_is_the_files_fault() {
    let mut job = example();
    job.notes[0].text = "mind the \u{1F408}".to_owned();
    job.notes[0].to = Reader::Both;
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

/// A row is written twice, as it is and as it was: where nothing was issued before, both say the same.
#[test]
fn nothing_was_otherwise_where_nothing_was_issued() {
    use serde_json::Value;
    fn was(value: &Value, found: &mut Vec<String>) {
        match value {
            Value::Object(keys) => {
                for (key, inner) in keys {
                    let old = key == "was" || key.ends_with("_was");
                    let each = inner.as_array().map_or(std::slice::from_ref(inner), |a| a);
                    if old {
                        let said = each.iter().filter(|v| !v.is_null());
                        found.extend(said.map(Value::to_string));
                    }
                    was(inner, found);
                }
            }
            Value::Array(all) => all.iter().for_each(|inner| was(inner, found)),
            _ => {}
        }
    }
    let job = example();
    let reckoned = reckoned(&job);
    for pack in BOTH {
        let data = compose::data(&job, &reckoned, &blanks(&job), pack).expect("page data");
        let data: Value = serde_json::from_slice(data.json()).expect("JSON");
        let mut found = Vec::new();
        was(&data, &mut found);
        assert_eq!(found, [""; 0], "{pack:?}");
        assert!(
            data.to_string().contains("\"was\""),
            "rows have what they were"
        );
    }
}
