//! Packs that show what changed: every change in the register and on paper, nothing over anything else.

use rodbook::compare::record::Fact;
use rodbook::compare::{Register, record, register};
use rodbook::diag::Diagnostics;
use rodbook::draw::place;
use rodbook::draw::scene::{Role, Scene, Shape};
use rodbook::draw::sheet;
use rodbook::draw::views::{all, changes};
use rodbook::draw::{self, DrawingKind};
use rodbook::faces::faces;
use rodbook::read;
use rodbook::reckon::{placed::Reckoned, reckon};
use rodbook::resolve::job::{Job, Reader, Sheets};
use rodbook::resolve::{fill, resolve};
use rodbook::risks::Marks;

use crate::issuing::Desk;
use crate::reader;
use crate::support::root;

/// Edits of many kinds at once.
const EDITS: &[(&str, &str)] = &[
    (
        "thickness = 3 }]\ndoor   = [{ at = 1880",
        "thickness = 15 }]\ndoor   = [{ at = 1880",
    ),
    ("hinge = \"right\", hides", "hinge = \"left\", hides"),
    (
        "width = 1200, row = [{ height = 260",
        "width = 1000, row = [{ height = 320",
    ),
    ("at = 1300, height = 2100", "at = 1350, height = 2100"),
    ("finish = \"paint\"", "finish = \"lacquer\""),
    (
        "width    = 1000\nheight   = 2070",
        "width    = 980\nheight   = 2070",
    ),
    (
        "{ id = \"L5\", kind = \"larder\", name = \"Broom cupboard\", width = 480",
        "{ id = \"L5\", kind = \"larder\", name = \"Broom cupboard\", width = 450",
    ),
    ("sill = 1080", "sill = 1100"),
    (
        "is = \"waste\", at = 520, height = 600",
        "is = \"waste\", at = 560, height = 640",
    ),
];

/// Of what stands only in lists.
const LISTED: &[(&str, &str)] = &[
    ("by   = 2026-04-10", "by   = 2026-04-14"),
    ("size = [556, 1770, 550]", "size = [556, 1760, 550]"),
    ("at = 980, width = 520", "at = 980, width = 540"),
    ("\"145.00\"", "\"160.50\""),
    ("{ id = \"W2\"", "{ id = \"W9\""),
    ("coats = 2, coverage", "coats = 1, coverage"),
];

fn text() -> String {
    std::fs::read_to_string(root().join("example-project/project.toml")).expect("example")
}

fn edited(edits: &[(&str, &str)]) -> String {
    edits.iter().fold(text(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    })
}

fn compared(edits: &[(&str, &str)]) -> (Job, Reckoned, Register) {
    differing(text(), edited(edits))
}

fn differing(a: String, b: String) -> (Job, Reckoned, Register) {
    let mut diags = Diagnostics::default();
    let path = root().join("example-project/project.toml");
    let source = read::load(&path, &mut diags).expect("example");
    let mut made = [a, b].into_iter().map(|text| {
        let project = read::project(&text, &mut diags).expect("reads");
        let pictures = read::load_pictures(&source, &project, &mut diags);
        let filled = fill(&project, &mut diags);
        let job = resolve(&filled, &pictures, &mut diags);
        let reckoned = reckon(&job, &mut diags).expect("fits");
        let risks = rodbook::risks::risks(&job, &reckoned, &mut diags);
        let record = record(&filled, &job, &reckoned, &risks);
        (job, reckoned, record)
    });
    let (_, _, a) = made.next().expect("the first");
    let (job, reckoned, b) = made.next().expect("the second");
    drop(made);
    assert!(diags.is_empty(), "{:?}", diags.sorted());
    (job, reckoned, register(&a, &b, "revision A", "revision B"))
}

/// The edits one at a time and all at once, on both papers: clouds keep off words, triangles have a
/// place of their own, no label is pushed onto another.
#[test]
fn marked_drawings_have_no_collision() {
    let mut sets: Vec<&[(&str, &str)]> = EDITS.chunks(3).collect();
    sets.push(EDITS);
    let mut triangles = 0;
    let mut found: Vec<String> = Vec::new();
    for edits in sets {
        let (job, reckoned, register) = compared(edits);
        for (kind, mut scene, smallest) in all(&job, &reckoned, &Marks::NONE, Reader::Fitter) {
            let before = scene.labels.len();
            changes::overlay(&job, &reckoned, &register, &kind, &mut scene);
            if scene.labels.len() == before {
                continue;
            }
            triangles += scene.labels.len() - before;
            for paper in [Sheets::A3, Sheets::A4] {
                let sheets = sheet::arrange(&scene, paper, smallest).expect("it fits");
                for sheet in sheets {
                    let mut here = place::collisions(&sheet.placed);
                    let led = place::faulty_leaders(&sheet.placed.items).into_iter();
                    here.extend(led.filter(|c| matches!(c, place::Collision::Leaders(..))));
                    let about = || format!("{} on {paper:?} with {edits:?}", scene.id);
                    found.extend(here.iter().map(|c| format!("{}: {c:?}", about())));
                }
            }
        }
    }
    assert_eq!(found, [""; 0]);
    assert!(triangles > 20, "{triangles}");
}

/// A scene of the example with changes marked, by its id.
fn marked(job: &Job, reckoned: &Reckoned, register: &Register, id: &str) -> Scene {
    let every = all(job, reckoned, &Marks::NONE, Reader::Fitter).into_iter();
    let found = every.into_iter().find(|(_, scene, _)| scene.id == id);
    let (kind, mut scene, _) = found.unwrap_or_else(|| panic!("{id}"));
    changes::overlay(job, reckoned, register, &kind, &mut scene);
    scene
}

/// Rectangles of what was, to the millimetre: left, right, bottom, top.
fn ghosts(scene: &Scene) -> Vec<[i64; 4]> {
    let was = scene.marks.iter().filter(|m| m.role == Role::Was);
    let each = was.filter_map(|m| match m.shape {
        Shape::Rect(r) => Some([r.x0, r.x1, -r.y1, -r.y0].map(|n| n.round() as i64)),
        _ => None,
    });
    each.collect()
}

/// Of a filler that is gone the old outline stands on the elevation, and the note points at a front whose figure it
/// tells. By hand: the filler was 40 wide from 18, from the floor at -11 to 2200; the fronts of L3 and L4 share its
/// 40, 10 each.
#[test]
fn loose_pieces_that_are_gone_are_ghosted_and_notes_point_at_what_they_tell() {
    let edits = [(
        "left  = { filler = 40, scribe = 15 }",
        "left  = { scribe = 15 }",
    )];
    let (job, reckoned, register) = compared(&edits);
    let scene = marked(&job, &reckoned, &register, "scullery-A-shut");
    let ghosts = ghosts(&scene);
    assert!(ghosts.contains(&[18, 58, -11, 2200]), "{ghosts:?}");
    let mut notes = scene
        .callouts
        .iter()
        .filter(|c| c.text.starts_with("Change"));
    let note = notes.next().expect("a note");
    assert!(
        note.text
            .starts_with("Change 1: fronts 31 to 34 width 393.5, was 383.5"),
        "{}",
        note.text
    );
    let front = reckoned
        .fronts
        .iter()
        .find(|f| f.number == 31)
        .expect("front 31");
    assert!((front.left.in_mm()..front.right.in_mm()).contains(&note.target.x));
}

/// What a plan has a figure of, or draws, is marked on it: the height of a sill, a cut-out where it is and was, a
/// door that opens the other way.
#[test]
fn what_a_plan_shows_is_marked_on_it() {
    let edits = [
        ("sill = 1080", "sill = 1100"),
        ("at = 980, width = 520", "at = 1010, width = 520"),
        ("hinge = \"right\", hides", "hinge = \"left\", hides"),
    ];
    for edit in edits {
        let (job, reckoned, register) = compared(&[edit]);
        let plan = marked(&job, &reckoned, &register, "scullery-plan");
        assert_eq!(plan.changes, [1], "{edit:?}");
    }
    let (job, reckoned, register) = compared(&edits[1..2]);
    let plan = marked(&job, &reckoned, &register, "scullery-plan");
    let [old] = ghosts(&plan)[..] else {
        panic!("{:?}", ghosts(&plan));
    };
    // 520 along the wall and 400 out of it.
    assert_eq!((old[1] - old[0], old[3] - old[2]), (520, 400));
}

/// The map of a wall and the boards say of each blank where it was cut from.
#[test]
fn maps_have_the_old_place_of_every_blank_that_moved() {
    let edits = [(
        "left  = { filler = 40, scribe = 15 }",
        "left  = { scribe = 15 }",
    )];
    let (job, mut reckoned, register) = compared(&edits);
    let drawn = draw::drawings_since(&job, &reckoned, [Reader::Fitter], &register);
    let [drawn] = drawn.expect("drawn");
    let svg = |kind: DrawingKind| -> String {
        let some = drawn.iter().filter(|d| d.kind == kind);
        some.map(|d| d.svg.as_str()).collect()
    };
    let flute = reckoned
        .patterns
        .iter()
        .position(|p| p.name == "flute wall");
    let flute = flute.expect("the pattern");
    let layout = reckoned.patterns.swap_remove(flute);
    let (map, boards) = (
        svg(DrawingKind::PatternWall(flute)),
        svg(DrawingKind::PatternBoards(flute)),
    );
    let mut moved = 0;
    for blank in &layout.blanks {
        let front = &reckoned.fronts[blank.front];
        // What lies over another in one strip is told with it.
        let high = front.top - front.bottom > rodbook::units::Length::mm(1000);
        let key = (format!("front {}", front.id), "across the board".to_owned());
        let Some(Some(Fact::Um(was))) = register.was.get(&key).filter(|_| high) else {
            continue;
        };
        moved += 1;
        let words = format!("was {},", rodbook::units::Length::um(*was));
        assert!(
            map.contains(&words) && boards.contains(&words),
            "{}: {words}",
            front.id
        );
    }
    assert!(moved >= 6, "{moved}");
}

/// A unit taken out stands in the lists struck through; one put in is marked new. So do pieces that are no units.
#[test]
fn what_came_and_what_went_stand_in_the_lists() {
    let desk = Desk::of_example();
    desk.issue("approval");
    let whole = text();
    let block = |from: &str, until: &str| -> String {
        let start = whole.find(from).expect(from);
        let long = whole[start..].find(until).expect(until);
        whole[start..start + long].to_owned()
    };
    for (from, until) in [
        ("[[panel]]\nid       = \"dado\"", "[[sliding]]"),
        ("[[sliding]]", "[[worktop]]"),
        ("[[worktop]]", "# ── Boards"),
        ("[[note]]\nto   = \"client\"", "[[history]]"),
    ] {
        desk.edit(&block(from, until), "");
    }
    desk.edit(
        "left  = { filler = 40, scribe = 15 }",
        "left  = { scribe = 15 }",
    );
    let unit = " { id = \"W2\", kind = \"shelved\" },";
    let another = " { id = \"W5\", kind = \"shelved\" },";
    let mut last = unit.to_owned();
    for (now, told) in [
        (String::new(), "TakenoutW2Shelvedwardrobe"),
        (format!("{unit}{another}"), "newW5"),
    ] {
        let first = "{ id = \"W1\", kind = \"hanging\" },";
        desk.edit(&format!("{first}{last}"), &format!("{first}{now}"));
        desk.run(&["pack", "project.toml", "--out", "draft"]);
        for pack in ["client", "fitter"] {
            let path = desk.path("draft").join(format!("{pack}.pdf"));
            let words = reader::text(&std::fs::read(path).expect("a pack")).concat();
            assert!(words.contains(told), "{pack}: {told}");
            let loose: &[&str] = match pack {
                "client" => &[
                    "SlidingdoortothesculleryChamber,wallB1000\u{d7}2070Smokedlarchveneer;Hardoil",
                    "SinkworktopScullery,wallE(gardenwall)1450\u{d7}604Quietgreysolidsurface",
                    "PanellingbesidetheslopeChamber,wallB600\u{d7}1060MDFforpainting",
                ],
                _ => &[
                    "filleroflaundryleft402211MDFforpainting",
                    "Slidingdoortothescullery(slider)Chamber,wallB",
                    "Sinkworktop(sinktop)1450\u{d7}604",
                    "Panellingbesidetheslope(dado)Chamber,wallB",
                    "Top-hungtrackwithsoftstop1",
                    "Slidingdoortothescullery(slider)(takenout)",
                ],
            };
            for gone in loose {
                assert!(words.contains(gone), "{pack}: {gone}");
            }
        }
        last = now;
    }
}

/// A front moved along its board by hand: the map of the wall, the board it is cut from and the picture that
/// the client signs each say so, and it is the client who must agree.
#[test]
fn a_place_settled_by_hand_is_marked_wherever_it_is_seen() {
    let settled = |at: u32| {
        let rule = "[pattern.\"larch wall\"]\nfixed";
        let front = "{ front = \"W4-r1c1\", board = \"Lb\"";
        format!("{}\n{rule} = [{front}, at = {at} }}]\n", text())
    };
    for paper in [Sheets::A3, Sheets::A4] {
        let (mut job, reckoned, register) = differing(settled(40), settled(55));
        job.info.sheets = paper;
        let [entry] = register.entries.as_slice() else {
            panic!("{:#?}", register.entries);
        };
        assert_eq!(entry.changes, ["place 40 mm \u{2192} 55 mm"]);
        assert_eq!(entry.agree, ["client"]);
        let [mut drawn] =
            draw::drawings_since(&job, &reckoned, [Reader::Fitter], &register).expect("drawn");
        let faces = faces(&job, &reckoned);
        drawn.extend(draw::looks(&job, &reckoned, &faces, &register).expect("pictures"));
        let mut marked: Vec<DrawingKind> = Vec::new();
        for drawing in drawn.iter().filter(|d| !d.changes.is_empty()) {
            assert_eq!(drawing.changes, [1], "{}", drawing.id);
            if !marked.contains(&drawing.kind) {
                marked.push(drawing.kind.clone());
            }
        }
        let all = [
            DrawingKind::PatternWall(0),
            DrawingKind::PatternBoards(0),
            DrawingKind::Look(0),
        ];
        assert_eq!(marked, all, "{paper:?}");
        // The old place beside the new, on the board.
        let board = drawn.iter().filter(|d| d.kind == all[1]);
        let svg: String = board.map(|d| d.svg.as_str()).collect();
        assert!(svg.contains("was 40"), "{paper:?}");
    }
}

/// Every entry prints in both packs, the sizes with the old beside the new, and each marked drawing
/// says so to those who cannot see it.
#[test]
fn every_change_is_on_the_pages_of_both_packs() {
    let desk = Desk::of_example();
    desk.issue("approval");
    let edits = [EDITS, LISTED].concat();
    for (from, to) in &edits {
        desk.edit(from, to);
    }
    desk.issue("approval");
    let (_, _, register) = compared(&edits);
    assert!(
        register.entries.len() >= edits.len(),
        "{:#?}",
        register.entries
    );
    for pack in ["client", "fitter"] {
        let path = desk.path("issued/B").join(format!("{pack}.pdf"));
        let pages = reader::text(&std::fs::read(path).expect("a pack"));
        let whole = pages.concat();
        for entry in &register.entries {
            let row = format!("{}{}({})", entry.number, entry.about, entry.sort.word());
            assert!(whole.contains(&reader::squeeze(&row)), "{pack}: {row}");
            for words in &entry.changes {
                assert!(whole.contains(&reader::squeeze(words)), "{pack}: {words}");
            }
        }
        assert!(
            whole.contains("RevisionBDateofissue") || whole.contains("changes1to"),
            "{pack}"
        );
        // The old width stands before the new one, struck through: 1200 less 200 over two doors.
        let marks = pages
            .iter()
            .filter(|p| p.contains("changedsincerevisionA"))
            .count();
        assert!(marks >= 6, "{pack}: {marks} drawings are marked");
    }
    let fitter = reader::text(&std::fs::read(desk.path("issued/B/fitter.pdf")).expect("a pack"));
    assert!(
        fitter.concat().contains("597497"),
        "the old width of drawers 21 and 23 is not shown"
    );
    // The old before the new, in every list that has it. Of front 5: 12 mm over 4 units of 2 fronts.
    let client = reader::text(&std::fs::read(desk.path("issued/B/client.pdf")).expect("a pack"));
    for (pack, struck) in [
        (&fitter, "556.55551954"),
        (&fitter, "560.5\u{d7}1958559\u{d7}1958"),
        (&fitter, "W2W9Shelvedwardrobe"),
        (&fitter, "556\u{d7}1770\u{d7}550556\u{d7}1760\u{d7}550"),
        (&fitter, "10April202614April2026"),
        (&fitter, "720to1240710to1250"),
        (&fitter, "Was,inAcalledW2"),
        (&client, "145.00GBP160.50GBP"),
        (&client, "W2ShelvedwardrobeW9Shelvedwardrobe"),
        (&fitter, "deadmatt21"),
        // Of the list of parts: a side board 30 narrower between two of 18.
        (&fitter, "444414"),
        // Of what is measured on arrival: 12 off the opening.
        (&fitter, "4586.54574.5"),
    ] {
        assert!(pack.concat().contains(struck), "{struck}");
    }
    // Nothing of it where nothing was issued before.
    let first = reader::text(&std::fs::read(desk.path("issued/A/fitter.pdf")).expect("a pack"));
    assert!(!first.concat().contains("changedsince"));
}
