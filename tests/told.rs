//! The texts of drawings for those who cannot see them, held against the numbers of the example's job:
//! what a text says stands somewhere must be what was reckoned, and everything must be said.

use crate::support::root;
use rodbook::app;
use rodbook::draw::{Drawing, DrawingKind};
use rodbook::reckon::placed::Reckoned;
use rodbook::resolve::job::{Job, Sheets, WallRef};

fn example() -> (Job, Reckoned) {
    let prepared = app::prepare(&root().join("example-project/project.toml"));
    prepared.job.expect("the example is sound")
}

fn fitters(job: &Job, reckoned: &Reckoned) -> Vec<Drawing> {
    let [_, fitter, _] = app::drawings(job, reckoned).expect("it is drawn");
    fitter
}

/// All that is said of one wall, open or shut.
fn said(drawings: &[Drawing], of: &DrawingKind) -> String {
    let texts = drawings.iter().filter(|d| d.kind == *of);
    texts.map(|d| d.alt.as_str()).collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn has(text: &str, part: &str) {
    assert!(text.contains(part), "“{part}” is not in: {text}");
}

fn walls_with_runs(reckoned: &Reckoned) -> Vec<WallRef> {
    let mut walls: Vec<WallRef> = reckoned.runs.iter().map(|r| r.wall).collect();
    walls.dedup();
    walls
}

#[test]
fn interiors_name_every_shelf_rail_drawer_and_machine_at_its_height() {
    let (job, reckoned) = example();
    let drawings = fitters(&job, &reckoned);
    for wall in walls_with_runs(&reckoned) {
        let text = said(&drawings, &DrawingKind::Open(wall));
        let runs = reckoned.runs.iter().filter(|r| r.wall == wall);
        for unit in runs.flat_map(|r| &r.units) {
            has(&text, &format!("{} ", unit.id));
            let size = format!(
                "({} wide, {} to {} high)",
                unit.width(),
                unit.base,
                unit.top
            );
            has(&text, &size);
            for bay in &unit.bays {
                for z in bay.shelves.iter().map(|s| s.z).chain(bay.rails.clone()) {
                    has(&text, &z.to_string());
                }
                for drawer in bay.drawers.iter().take(1) {
                    has(&text, &format!("inner drawers from {} to ", drawer.0));
                }
                for machine in &bay.appliances {
                    let name = &job.appliances[machine.which.0].name;
                    let at = format!("{name} from {} to {}", machine.bottom, machine.top);
                    has(&text, &at);
                }
            }
        }
        let surveyed = job.wall(wall);
        for service in &surveyed.services {
            let at = format!(
                "{} at {}, {} up",
                service.kind.name(),
                service.at,
                service.height
            );
            has(&text, &at);
        }
    }
}

#[test]
fn plans_tell_rooms_openings_and_what_is_no_unit() {
    let (job, reckoned) = example();
    let drawings = fitters(&job, &reckoned);
    for (r, room) in job.rooms.iter().enumerate() {
        let text = said(&drawings, &DrawingKind::Plan(r));
        for wall in &room.walls {
            has(&text, &format!(" {}", wall.length));
            for d in &wall.doors {
                has(
                    &text,
                    &format!("{} × {}, at {} to ", d.width, d.height, d.at),
                );
            }
            for w in &wall.windows {
                has(&text, &format!("window, {} × {}", w.width, w.height));
            }
        }
        for (s, at) in job.sliding.iter().zip(&reckoned.sliding) {
            if at.wall.room == r {
                has(&text, &format!("shut at {} to {}", at.left, at.right));
                has(&text, &s.name);
            }
        }
        for panel in job.panels.iter().filter(|p| p.wall.room == r) {
            let stands = format!("{}, {} to {} along", panel.name, panel.from, panel.to);
            has(&text, &stands);
        }
        for clash in reckoned
            .clashes
            .iter()
            .filter(|c| c.room == r && c.is_drawn())
        {
            let found = reckoned.findings.iter().position(|f| clash.is(f));
            let number = found.expect("a clash is a finding") + 1;
            has(
                &text,
                &format!("Hatched, finding {number}: {}", clash.brief),
            );
        }
    }
}

#[test]
fn sections_tell_what_is_inside_and_what_stands_on_it() {
    let (job, reckoned) = example();
    let text = said(&fitters(&job, &reckoned), &DrawingKind::Section);
    for unit in reckoned.runs.iter().flat_map(|r| &r.units) {
        has(&text, &format!("{} to {} high", unit.base, unit.top));
        for shelf in unit.bays.iter().flat_map(|b| &b.shelves) {
            has(&text, &shelf.z.to_string());
        }
        for notch in &unit.notches {
            // Only of what stands on another is its notch in the section that is cut.
            let over = job.runs.iter().flat_map(|r| &r.units);
            if over
                .into_iter()
                .any(|u| u.id == unit.id && u.over.is_some())
            {
                has(&text, &format!("notched round the {}", notch.what));
            }
        }
    }
    // Drawers are told by the numbers of their fronts: 17 to 19 are K1's, 21 and 23 K2's, 36 to 38
    // S1's, as the lists of the pack have them.
    for drawers in ["drawers 17 to 19", "drawers 21, 23", "drawers 36 to 38"] {
        has(&text, drawers);
    }
    assert!(
        !text.contains("1 machines") && !text.contains("1 shelves"),
        "{text}"
    );
}

/// `(from, to)` of "Part 1 of 3: from 0 to 1173 mm along."
fn range(alt: &str) -> (f64, f64) {
    let (_, rest) = alt.split_once(": from ").expect("a range");
    let (range, _) = rest.split_once(" mm along").expect("its unit");
    let (from, to) = range.split_once(" to ").expect("two ends");
    (from.parse().expect("mm"), to.parse().expect("mm"))
}

/// Parts are counted from the wall's left corner, and each tells only the units it shows.
#[test]
fn a_part_of_an_elevation_tells_its_own_stretch_of_the_wall() {
    let (mut job, reckoned) = example();
    job.info.sheets = Sheets::A4;
    let drawings = fitters(&job, &reckoned);
    let mut parted = 0;
    for wall in walls_with_runs(&reckoned) {
        for kind in [DrawingKind::Shut(wall), DrawingKind::Open(wall)] {
            let parts: Vec<&Drawing> = drawings.iter().filter(|d| d.kind == kind).collect();
            if parts.len() < 2 {
                continue;
            }
            parted += 1;
            let length = job.wall(wall).length.in_mm();
            let ranges: Vec<(f64, f64)> = parts.iter().map(|d| range(&d.alt)).collect();
            assert_eq!(ranges.first().map(|r| r.0), Some(0.0), "{ranges:?}");
            let end = ranges.last().map_or(0.0, |r| r.1);
            assert!((end - length).abs() <= 1.0, "{ranges:?} of {length}");
            let runs = reckoned.runs.iter().filter(|r| r.wall == wall);
            for unit in runs.flat_map(|r| &r.units) {
                for (part, (from, to)) in parts.iter().zip(&ranges) {
                    let shown = unit.left.in_mm() < to - 2.0 && unit.right.in_mm() > from + 2.0;
                    let told = part.alt.contains(&format!(" {} ", unit.id))
                        || part.alt.contains(&format!(" {},", unit.id));
                    assert_eq!(told, shown, "{} in: {}", unit.id, part.alt);
                }
            }
        }
    }
    assert!(parted > 0, "on A4 the example's long walls are parted");
}

#[test]
fn pictures_and_maps_name_the_board_of_every_front() {
    let (job, reckoned) = example();
    let drawings = fitters(&job, &reckoned);
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        let boards = said(&drawings, &DrawingKind::PatternBoards(n));
        let maps = said(&drawings, &DrawingKind::PatternWall(n));
        for blank in &layout.blanks {
            let board = &layout.boards[blank.board].name;
            let front = reckoned.face(blank.front).expect("a face").label();
            let area = blank.area;
            has(
                &maps,
                &format!("{front} from {board} at {}, {}", area.left, area.bottom),
            );
            has(&boards, &format!("Board {board}, "));
        }
    }
}
