//! Pictures of boards from file to pack: what is shown, and what must never be.

use rodbook::app;
use rodbook::compare::Register;
use rodbook::draw::place::collisions;
use rodbook::draw::scene::{Role, Shape};
use rodbook::draw::{pack, views};
use rodbook::faces::{Faces, faces};
use rodbook::pixels::{Pixels, jpeg};
use rodbook::resolve::job::{Job, Sheets};
use rodbook::{draw, reckon::placed::Reckoned};

use crate::reader;
use crate::support::{rodbook, root};

fn example() -> (Job, Reckoned) {
    let prepared = app::prepare(&root().join("example-project/project.toml"));
    prepared.job.expect("the example is sound")
}

#[test]
fn the_client_sees_the_faces_and_what_is_agreed_by_them_and_the_fitter_the_maps() {
    let (job, reckoned) = example();
    let files = app::pack(&job, &reckoned).expect("packs");
    let text = |name: &str| {
        let file = files.iter().find(|f| f.path == name);
        reader::text(&file.expect("a pack").bytes).concat()
    };
    let (client, fitter) = (text("client.pdf"), text("fitter.pdf"));
    for words in [
        "How the pattern \u{201c}larch wall\u{201d} will look",
        "Agreed by this sheet: \u{201c}larch wall\u{201d}",
        "Close-ups at real size",
        "SCALE 1:1",
    ] {
        let words = reader::squeeze(words);
        assert!(client.contains(&words), "{words} is missing");
        assert!(!fitter.contains(&words), "{words} is for the client");
    }
}

/// Every sheet of the pictures, with faces and with drawn textures, on both papers.
#[test]
fn no_word_on_the_pictures_touches_another_or_a_line() {
    let (job, reckoned) = example();
    for faces in [faces(&job, &reckoned), drawn(&job, &reckoned)] {
        for (n, layout) in reckoned.patterns.iter().enumerate() {
            let walls = views::pattern::walls(&reckoned, n);
            let scenes: Vec<_> = walls
                .into_iter()
                .filter_map(|at| views::picture::wall(&job, &reckoned, &faces, (n, at)))
                .collect();
            let notes = views::picture::agreed(&job, &reckoned, layout);
            for paper in [Sheets::A3, Sheets::A4] {
                let with = (notes.as_slice(), pack::TOP.as_slice());
                let sheets = pack::arrange_with(&scenes, with, paper, 20).expect("it fits");
                for (sheet, _) in sheets {
                    assert_eq!(collisions(&sheet), [], "{}", layout.name);
                }
            }
        }
        let close: Vec<_> = faces
            .close_ups
            .iter()
            .filter_map(|c| views::picture::close_up(&job, &reckoned, c))
            .collect();
        for paper in [Sheets::A3, Sheets::A4] {
            let with = (&[][..], pack::TOP.as_slice());
            let sheets = pack::arrange_with(&close, with, paper, 1).expect("it fits");
            for (sheet, _) in sheets {
                assert_eq!(sheet.scale, 1, "a close-up is at real size");
                assert_eq!(collisions(&sheet), []);
            }
        }
    }
}

/// The same job without a picture of any board.
fn drawn(job: &Job, reckoned: &Reckoned) -> Faces {
    let mut bare = job.clone();
    for material in &mut bare.materials {
        material.picture = None;
    }
    for board in &mut bare.boards {
        board.picture = None;
    }
    faces(&bare, reckoned)
}

#[test]
fn where_there_is_no_picture_a_texture_is_drawn() {
    let (job, reckoned) = example();
    let sheets = draw::looks(
        &job,
        &reckoned,
        &drawn(&job, &reckoned),
        &Register::default(),
    )
    .expect("drawn");
    assert!(sheets.len() >= 3);
    for sheet in sheets {
        assert!(!sheet.svg.contains("<image"), "{}", sheet.id);
        assert!(sheet.svg.matches("<path").count() > 8, "{}", sheet.id);
    }
}

/// EXIF 2.3 (CIPA DC-008, from memory): a block with the place where a picture was taken.
fn with_place(plain: &[u8]) -> Vec<u8> {
    let mut tiff = b"MM\0*\0\0\0\x08\0\x01\x88\x25\0\x04\0\0\0\x01\0\0\0\x1a\0\0\0\0".to_vec();
    tiff.extend(b"\0\x01\0\x01\0\x02\0\0\0\x02N\0\0\0\0\0\0\0SECRETPLACE");
    let mut out = plain[..2].to_vec();
    out.extend([0xFF, 0xE1]);
    out.extend((tiff.len() as u16 + 8).to_be_bytes());
    out.extend(b"Exif\0\0");
    out.extend(tiff);
    out.extend(&plain[2..]);
    out
}

/// A wall of doors over which one pattern runs.
const OAK: &str = r#"rodbook = 1

[job]
number = "P-3"
title  = "Oak doors"
client = "Ms Ottoline Brackwater"
date   = 2026-01-12
sheets = "A4"

[[room]]
id     = "study"
closed = false
[[room.wall]]
id     = "B"
length = 2400

[[run]]
id   = "doors"
wall = "study.B"
from = 200
to   = 2200
front = "oak"
unit = [{ doors = 2 }, { doors = 2 }]

[front.oak]
material = "oak"
pattern  = "oak wall"

[material.oak]
thickness = 19
sheet     = [2800, 1220]
grain     = "length"
picture   = "oak.jpg"
"#;

#[test]
fn nothing_says_where_a_board_was_photographed() {
    let folder = tempfile::tempdir().expect("a folder");
    let spot = |n: u32| [(n % 200) as u8, (n % 90) as u8, 40];
    let board = Pixels::new(280, 122, (0..280 * 122).flat_map(spot).collect()).expect("a board");
    let photo = with_place(&jpeg(&board).expect("a JPEG"));
    let says = |bytes: &[u8], word: &[u8]| bytes.windows(word.len()).any(|w| w == word);
    assert!(says(&photo, b"SECRETPLACE"));
    let write = |name: &str, bytes: &[u8]| {
        std::fs::write(folder.path().join(name), bytes).expect("written");
    };
    write("oak.jpg", &photo);
    write("job.toml", OAK.as_bytes());
    let run = rodbook(folder.path(), &["pack", "job.toml"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let mut looked_at = 0;
    for part in ["out", "out/drawings"] {
        for file in std::fs::read_dir(folder.path().join(part))
            .expect("out")
            .flatten()
        {
            if file.path().is_file() {
                let bytes = std::fs::read(file.path()).expect("read");
                for word in [b"SECRETPLACE".as_slice(), b"Exif\0"] {
                    assert!(!says(&bytes, word), "{}", file.path().display());
                }
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 5);
    let client = std::fs::read(folder.path().join("out/client.pdf")).expect("read");
    assert!(says(&client, b"DCTDecode"), "the board's face is in it");
}

/// The mean colour of a plain grey picture is that grey: sRGB 119 is CIELAB L* 50.0 (CIE 15 with
/// IEC 61966-2-1, from memory), black 0 and white 100 by definition.
#[test]
fn boards_that_nobody_measured_have_the_colours_of_their_own_pictures() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, bytes: &[u8]| {
        std::fs::write(folder.path().join(name), bytes).expect("written");
    };
    let boards = [("light", 255), ("dark", 0), ("between", 119)];
    let mut text = OAK.replace("picture   = \"oak.jpg\"\n", "");
    for (id, grey) in boards {
        let face = Pixels::new(280, 122, vec![grey; 280 * 122 * 3]).expect("a board");
        write(&format!("{id}.jpg"), &jpeg(&face).expect("a JPEG"));
        text += &format!("[[material.oak.board]]\nid = \"{id}\"\npicture = \"{id}.jpg\"\n");
    }
    let prepared = |text: &str| {
        write("job.toml", text.as_bytes());
        let prepared = app::prepare(&folder.path().join("job.toml"));
        assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
        prepared.job.expect("it is sound")
    };
    let (job, reckoned) = prepared(&text);
    for (board, wanted) in job.boards.iter().zip([100_000, 0, 50_000]) {
        let [lightness, ..] = board.lab.expect("a colour");
        assert!(
            (lightness - wanted).abs() < 300,
            "{}: {lightness}",
            board.id
        );
    }
    let order = reckoned.patterns[0].colour.as_ref().expect("an order");
    assert!(order.of_pictures);
    assert!(
        order.worst < order.worst_in_file_order,
        "the one between stands between"
    );
    // One that was measured: cameras are not held against instruments.
    let measured = text.replace("\"dark.jpg\"\n", "\"dark.jpg\"\nlab = [4, 0, 0]\n");
    let (job, reckoned) = prepared(&measured);
    assert_eq!(job.boards.iter().filter(|b| b.lab.is_some()).count(), 1);
    assert!(reckoned.patterns[0].colour.is_none());
    // Nor do two boards of one picture have colours of their own.
    let (job, _) = prepared(&text.replace("\"dark.jpg\"", "\"light.jpg\""));
    assert!(job.boards.iter().all(|b| b.lab.is_none()));
}

/// A wall of its own: an end panel that shows its face round the corner, and a filler, both of the pattern.
const ENDS: &str = r#"
rodbook = 1
[job]
number = "F-1"
title = "Ends"
client = "Nobody"
date = 2026-01-12
[[room]]
id = "hall"
closed = false
ceiling = 2600
[[room.wall]]
id = "A"
length = 2000
[[run]]
id = "R"
wall = "hall.A"
base = 100
top = 2500
front = "oak"
left = { panel = true, pattern = "oak wall" }
right = { filler = 60, pattern = "oak wall" }
set = "oak"
unit = [{ doors = 2 }, { doors = 2 }]
[set]
oak = { carcass = "board", back = "board", panel = "oak", filler = "oak", plinth = "oak" }
[material]
board = { core = "MDF", thickness = 18, sheet = [2800, 2070] }
oak = { thickness = 19, sheet = [2800, 1220], grain = "length" }
[front]
oak = { material = "oak", pattern = "oak wall" }
"#;

/// By the words of the issue: the elevation, with the face of what the pattern runs over where it is seen.
#[test]
fn a_picture_shows_what_is_seen_of_a_wall_and_nothing_beside_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("project.toml");
    std::fs::write(&file, ENDS).expect("written");
    let prepared = app::prepare(&file);
    assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
    let (job, reckoned) = prepared.job.expect("it is sound");
    let layout = &reckoned.patterns[0];
    let of = |end: &str| {
        let mut blanks = layout.blanks.iter();
        let blank = blanks.find(|b| reckoned.face(b.front).is_some_and(|f| f.id.ends_with(end)));
        reckoned.face(blank.expect(end).front).expect(end)
    };
    let (panel, filler) = (of("panel"), of("filler"));
    let at = views::pattern::walls(&reckoned, 0)[0];
    let none = Faces::default();
    let scene = views::picture::wall(&job, &reckoned, &none, (0, at)).expect("a picture");
    let right = panel.right.in_mm();
    for callout in &scene.callouts {
        assert!(callout.target.x > right, "{}", callout.text);
    }
    let (left, right) = (filler.left.in_mm(), filler.right.in_mm());
    let grain = scene.marks.iter().filter(|m| match &m.shape {
        Shape::Path { points, .. } if m.role == Role::Fine => {
            points.iter().all(|p| p.x > left && p.x < right)
        }
        _ => false,
    });
    assert!(grain.count() > 0, "the filler's grain is drawn");
}
