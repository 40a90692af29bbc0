//! What a reader in a workshop or at home must be able to tell from the example's drawings, on both papers:
//! whose mark stands where, in which order notes come, which figure is which.

use super::*;
use rodbook::draw::place::{Item, Text};
use rodbook::draw::style::Ink;
use rodbook::reckon::placed::{Reckoned, Severity};
use rodbook::reckon::quantities::stock;
use rodbook::resolve::job::{Job, WallRef};

fn example() -> (Job, Reckoned, Marks) {
    let path = crate::support::root().join("example-project/project.toml");
    let (job, placed) = prepared(&path).expect("the example is right");
    let marks = Marks::of(&job, &placed);
    (job, placed, marks)
}

/// A scene on its sheets.
fn sheets(scene: &Scene, paper: Sheets, smallest: u32) -> Vec<place::Placed> {
    let all = rodbook::draw::sheet::arrange(scene, paper, smallest).expect("it fits");
    all.into_iter().map(|s| s.placed).collect()
}

fn texts(placed: &place::Placed) -> impl Iterator<Item = &Text> {
    placed.items.iter().filter_map(|i| match i {
        Item::Text(text) => Some(text),
        Item::Shape { .. } => None,
    })
}

fn said(text: &Text) -> String {
    text.lines.join(" ")
}

fn shut(at: WallRef, reader: Reader) -> Scene {
    let (job, placed, marks) = example();
    elevation(&job, (&placed, &marks), at, Face::Shut, reader)
}

/// What strikes is marked on each front that it names, in the same words as on plan (the finding on door 29
/// and drawers 36 to 38 of the example).
#[test]
fn a_clash_is_marked_on_each_of_its_fronts() {
    let (job, placed, marks) = example();
    let mut seen = 0;
    for (n, clash) in placed.clashes.iter().enumerate() {
        let finding = marks.of_clash(n).expect("a clash is a finding");
        if !clash.is_drawn() || clash.finding.severity == Severity::Informs {
            continue;
        }
        for front in clash.fronts.iter().map(|i| &placed.fronts[*i]) {
            let scene = elevation(
                &job,
                (&placed, &marks),
                front.wall,
                Face::Shut,
                Reader::Fitter,
            );
            let number = (finding + 1).to_string();
            let own = scene.labels.iter().find(|l| {
                let numbers = l.lines[0].split_once(' ').map_or("", |w| w.1);
                l.frame == LabelFrame::Box
                    && l.lines[0].starts_with("finding")
                    && numbers.split(", ").any(|n| n == number)
                    && l.within.is_some_and(|w| {
                        (w.x0, w.x1) == (front.left.in_mm(), front.right.in_mm())
                            && w.y1 == -front.bottom.in_mm()
                    })
            });
            assert!(own.is_some(), "finding {number} on front {}", front.number);
            seen += 1;
        }
    }
    assert!(seen >= 6, "{seen}");
}

/// One finding of a row of doors stands at one height on all of them.
#[test]
fn marks_of_a_row_of_doors_stand_in_line() {
    let (job, _, _) = example();
    let scene = shut(wall_named(&job, "scullery.A"), Reader::Fitter);
    let placed = sheets(&scene, Sheets::A3, 20).remove(0);
    let marks = texts(&placed).filter(|t| t.frame == LabelFrame::Box && !t.turned);
    let heights: Vec<f64> = marks.map(|t| t.centre.y).collect();
    assert!(heights.len() >= 8, "{heights:?}");
    assert!(
        heights.iter().all(|y| (y - heights[0]).abs() < 0.01),
        "{heights:?}"
    );
}

/// The unit of open shelves has no fronts: what is found of it is marked with the fronts shut too.
#[test]
fn open_shelves_are_marked_with_the_fronts_shut() {
    let (job, placed, _) = example();
    let at = wall_named(&job, "scullery.C");
    let scene = shut(at, Reader::Client);
    let units = placed.runs.iter().flat_map(|r| &r.units);
    let shelves = units
        .clone()
        .find(|u| u.id == "N2")
        .expect("the open shelves");
    let foot = -shelves.base.in_mm();
    let marked = scene.labels.iter().any(|l| {
        l.lines[0].starts_with("risk ") && l.within.is_some_and(|w| (w.y1 - foot).abs() < 0.01)
    });
    assert!(marked);
    assert!(scene.legend.iter().all(|l| l.text != "hidden"));
}

/// At the foot of a plan numbers come in order, then letters in order; no name of a room is a letter's words,
/// every unit has its name in a box, every wall its letter, and what strikes is large enough to be seen.
#[test]
fn a_plan_can_be_read() {
    let (job, placed, marks) = example();
    for (room, reader, paper) in [0, 1].into_iter().flat_map(|r| {
        let readers = [Reader::Client, Reader::Fitter].into_iter();
        readers.flat_map(move |d| [Sheets::A3, Sheets::A4].map(|p| (r, d, p)))
    }) {
        let scene = plan(&job, (&placed, &marks), room, reader);
        let sheet = sheets(&scene, paper, 100).remove(0);
        let words: Vec<String> = texts(&sheet).map(said).collect();
        let number = |w: &String| -> Option<u32> {
            let (mark, _) = w.split_once(": ")?;
            let (kind, number) = mark.split_once(' ')?;
            ["finding", "risk", "no."].contains(&kind).then_some(())?;
            number.parse().ok()
        };
        let numbers: Vec<u32> = words.iter().filter_map(number).collect();
        assert!(numbers.is_sorted() && !numbers.is_empty(), "{words:?}");
        let letter = |w: &String| {
            let (name, rest) = w.split_once(": ")?;
            (name.len() == 1).then(|| (name.to_owned(), rest.to_owned()))
        };
        let letters: Vec<(String, String)> = words.iter().filter_map(letter).collect();
        assert!(letters.is_sorted(), "{words:?}");
        let name = job.rooms[room].name.as_str();
        assert!(letters.iter().all(|l| !l.1.starts_with(name)), "{words:?}");
        assert!(texts(&sheet).any(|t| t.lines[0] == name), "{words:?}");
        for unit in placed
            .runs
            .iter()
            .filter(|r| r.wall.room == room)
            .flat_map(|r| &r.units)
        {
            let boxed = |t: &&Text| t.frame == LabelFrame::Box && t.lines[0] == unit.id;
            assert_eq!(
                texts(&sheet).filter(boxed).count(),
                1,
                "{} {paper:?}",
                unit.id
            );
        }
        let lettered = scene.marks.iter().filter_map(|m| match m.shape {
            Shape::Symbol {
                symbol: Symbol::ElevationMark { letter, .. } | Symbol::WallLetter { letter },
                ..
            } => Some(letter),
            _ => None,
        });
        let mut lettered: Vec<char> = lettered.collect();
        lettered.sort_unstable();
        let mut walls: Vec<char> = placed.rooms[room].walls.iter().map(|w| w.letter).collect();
        walls.sort_unstable();
        assert_eq!(lettered, walls);
        for item in &sheet.items {
            if let (
                Item::Shape {
                    fill: Fill::Clash, ..
                },
                Some(b),
            ) = (item, item.bounds())
            {
                let size = b.width().max(b.height());
                assert!(size >= 4.0, "{size} mm");
            }
        }
        assert!(scene.legend.iter().all(|l| !l.text.contains("appliance")));
    }
}

/// The names at the head of a chain of heights are boxed and clear of every figure by 2 mm.
#[test]
fn the_heads_of_chains_are_no_figures() {
    let (job, placed, marks) = example();
    let mut heads = Vec::new();
    for wall in ["chamber.C", "scullery.A", "scullery.E"] {
        let at = wall_named(&job, wall);
        let scene = elevation(&job, (&placed, &marks), at, Face::Shut, Reader::Fitter);
        for paper in [Sheets::A3, Sheets::A4] {
            for sheet in sheets(&scene, paper, 20) {
                let turned = || texts(&sheet).filter(|t| t.turned);
                for head in turned().filter(|t| t.frame == LabelFrame::Box) {
                    let b = head.bounds();
                    let near = Rect::new(b.x0, b.y0 - 2.0, b.x1, b.y1 + 2.0);
                    let figures = turned().filter(|t| t.frame == LabelFrame::None);
                    for figure in figures {
                        assert!(!near.overlaps(figure.bounds()), "{head:?} {figure:?}");
                    }
                    if paper == Sheets::A3 {
                        heads.push(said(head));
                    }
                }
            }
        }
    }
    heads.sort();
    assert_eq!(
        heads,
        ["K1, K3", "K2", "L1, L3\u{2013}L5", "L2", "S1", "S2"]
    );
}

/// A leaf that lies round the corner before a wall is drawn on it (W4: 602 deep over its fronts, behind it the
/// lining, 15.5: the project says both).
#[test]
fn what_stands_round_the_corner_is_drawn() {
    let (job, _, _) = example();
    let scene = shut(wall_named(&job, "chamber.B"), Reader::Fitter);
    let outline = |m: &Mark| {
        matches!(m.shape, Shape::Rect(r)
            if m.role == Role::Fine && (r.x0, r.x1, r.y0) == (15.5, 617.5, -2380.0))
    };
    assert!(scene.marks.iter().any(outline));
    let named = |l: &Label| l.lines == ["W4 on wall\u{a0}A"];
    assert!(scene.labels.iter().any(named));
    // Nothing ends near the corner of the wall under the slope.
    let scene = shut(wall_named(&job, "chamber.C"), Reader::Fitter);
    assert!(!scene.labels.iter().any(|l| l.lines[0].contains(" on wall")));
}

/// The mark of a strip too narrow for it stands beside its board, in no blank at all.
#[test]
fn no_mark_stands_in_another_blank() {
    let (job, placed, _) = example();
    let scenes = cutting::boards(&job, &placed);
    let aside = |scene: &Scene| -> Vec<String> {
        let marks = scene.callouts.iter().filter(|c| c.aside);
        marks.map(|c| c.text.clone()).collect()
    };
    let asides: Vec<String> = scenes.iter().flat_map(aside).collect();
    assert!(asides.len() > 5, "{asides:?}");
    for paper in [Sheets::A3, Sheets::A4] {
        let all = rodbook::draw::pack::arrange_with(
            &scenes,
            (&[], &rodbook::draw::pack::BESIDE),
            paper,
            20,
        );
        let mut seen = 0;
        for (sheet, _) in all.expect("they fit") {
            let blanks = sheet.items.iter().filter_map(|i| match i {
                Item::Shape {
                    ink: Ink::Role(Role::Edge),
                    ..
                } => i.bounds(),
                _ => None,
            });
            let blanks: Vec<Rect> = blanks.collect();
            for mark in texts(&sheet).filter(|t| t.cap == 2.5 && asides.contains(&said(t))) {
                let own = mark.bounds();
                assert!(!blanks.iter().any(|b| b.overlaps(own)), "{mark:?}");
                seen += 1;
            }
        }
        assert_eq!(seen, asides.len());
    }
}

/// What a pattern leaves over is said with one size, on its own boards and where it is cut up.
#[test]
fn what_is_kept_has_one_size() {
    let (job, placed, _) = example();
    let mut kept: Vec<String> = Vec::new();
    for layout in 0..placed.patterns.len() {
        for scene in pattern::boards(&job, &placed, layout) {
            let labels = scene.labels.iter().filter(|l| l.lines[0] == "keep");
            kept.extend(labels.map(|l| l.lines[1].clone()));
        }
    }
    let mut seen = 0;
    for layout in &placed.patterns {
        let material = &job.materials[layout.material.0];
        for (source, sheet) in stock::in_hand(&job, &placed.patterns, layout.material, material) {
            if !matches!(source, stock::Source::LeftOver(..)) {
                continue;
            }
            let (a, b) = sheet.size;
            let whole = |l: Length| l.floor_to(Length::mm(1));
            let ways = [(a, b), (b, a)].map(|(a, b)| format!("{} \u{d7} {}", whole(a), whole(b)));
            assert!(kept.iter().any(|k| ways.contains(k)), "{ways:?} {kept:?}");
            seen += 1;
        }
    }
    assert!(seen > 5);
    // The saw and the trim, as the project's defaults have them.
    let notes = cutting::notes(&job).join(" ");
    let trim = format!("a trim of {}\u{a0}mm", job.cutter.trim);
    assert!(notes.contains(&trim) && notes.contains(&format!("saw takes {}", job.cutter.kerf)));
}

/// Sections say what lies between a worktop and its carcass, what is cut out of that, where the plinth is, and
/// what differs between the units that they stand for.
#[test]
fn sections_say_what_a_fitter_asks() {
    let (job, placed, _) = example();
    let all = sections(&job, &placed);
    let of = |id: &str| -> &Scene {
        all.iter()
            .find(|s| s.shows.iter().any(|u| u == id))
            .expect("a section")
    };
    let noted = |s: &Scene, words: &str| s.callouts.iter().any(|c| c.text.contains(words));
    // The project: an edge of 30 of a board of 12 and a strip of 18.
    assert!(noted(of("S1"), "slab 12 + packing 18 = 30"));
    assert!(!noted(of("S1"), "cut out") && noted(of("S2"), "top of carcass cut out for the sink"));
    // Two boards of 18 between N1 and N2.
    let inner = chains(of("N1"), ChainSide::Left, 0);
    assert_eq!(inner.len(), 1);
    assert!(inner[0].windows(2).any(|w| w[1] - w[0] == 36), "{inner:?}");
    let plinth = of("W1").chains.iter().find(|c| c.name == "plinth back");
    let plinth = plinth.expect("a plinth");
    // 40: the set-back of the handbook.
    assert_eq!(plinth.stops[1] - plinth.stops[0], Length::mm(40));
    let both = all.iter().filter(|s| s.shows == ["K2"]);
    let titles: Vec<&str> = both.map(|s| s.title.as_str()).collect();
    assert_eq!(titles.len(), 1);
    assert!(titles[0].ends_with("K2, bays 1 and 2"), "{titles:?}");
    // W1 and W3 share a section and stand under a ceiling that is not level.
    let under = of("W1").under.join("; ").replace('\u{a0}', " ");
    assert!(under.contains("to the ceiling: W1 56, W3 54"), "{under}");
    assert!(under.contains("feet: W1 "), "{under}");
}

/// The map of a pattern has its level joints and says of each figure what it is; each blank has its size.
#[test]
fn maps_of_patterns_leave_no_figure_to_guess() {
    let (job, placed, _) = example();
    let at = wall_named(&job, "chamber.A");
    let map = pattern::wall(&job, &placed, 0, at).expect("a map");
    // All doors are rows of two with gaps of 3 and trims and a kerf between: one step, said once.
    assert_eq!(map.under.len(), 1);
    assert!(
        map.under[0].starts_with("step at every level joint: "),
        "{:?}",
        map.under
    );
    let figures = map.labels.iter().filter(|l| l.lines.len() == 3);
    assert!(figures.clone().count() >= 16);
    for label in figures {
        assert!(label.lines[1].starts_with("left ") && label.lines[2].starts_with("foot "));
    }
    for layout in 0..placed.patterns.len() {
        let boards = pattern::boards(&job, &placed, layout);
        let sized = boards
            .iter()
            .flat_map(|s| &s.labels)
            .filter(|l| !l.listed.is_empty());
        assert_eq!(sized.count(), placed.patterns[layout].blanks.len());
    }
}

/// A note about bare wall stands in the stretch it is about, without a leader.
#[test]
fn a_note_on_bare_wall_stands_in_its_stretch() {
    let (job, _, _) = example();
    let scene = shut(wall_named(&job, "chamber.B"), Reader::Client);
    let about = |words: &str| words.contains("keep this stretch free");
    assert!(!scene.callouts.iter().any(|c| about(&c.text)));
    assert!(scene.labels.iter().any(|l| about(&l.lines[0])));
    for paper in [Sheets::A3, Sheets::A4] {
        for sheet in sheets(&scene, paper, 20) {
            let note = texts(&sheet).find(|t| about(&said(t)));
            assert!(note.is_some_and(|t| t.lines.len() > 1));
        }
    }
}
