//! Small key drawings: a wall with what a disclosure is about filled black. Knows outlines on walls; must
//! not draw a size, a number or anything that needs room on paper.
//!
//! One drawing serves every disclosure about the same things on the same wall. They have no scale bar and
//! are said not to be to scale: they point, they do not measure.

use std::collections::{BTreeMap, BTreeSet};

use super::place::{Item, Placed};
use super::scene::{Fill, Pt, Rect, Role, Shape};
use super::style::Ink;
use super::svg;
use super::views::pen::{box_of, up};
use super::views::survey;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Subject, WallRef};
use crate::risks::{Disclosure, Risks};

/// A key, at its size on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Key {
    /// `key-1`: also the name of its picture.
    pub id: String,
    /// The wall it shows: `Chamber, wall A`.
    pub title: String,
    pub alt: String,
    pub svg: String,
    pub width_mm: f64,
    pub height_mm: f64,
    /// Ids of the disclosures it belongs to.
    pub of: Vec<String>,
}

/// Room for one, mm of paper.
const WIDE: f64 = 50.0;
const HIGH: f64 = 32.0;
/// Scales of ISO 5455 that are small enough.
const SCALES: [f64; 6] = [50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0];
/// Of the paper round the drawing, for the thickness of its lines, mm.
const EDGE: f64 = 0.4;
/// Walls shown of one disclosure; what is on more is told in words.
const MOST: usize = 9;

/// The keys of all disclosures, each once, wall by wall in the order of the job.
pub fn keys(job: &Job, reckoned: &Reckoned, risks: &Risks) -> Vec<Key> {
    let mut found: Vec<(Shown, Vec<String>)> = Vec::new();
    for disclosure in &risks.disclosures {
        let walls = walls(job, reckoned, disclosure);
        for (wall, rects) in walls.into_iter().take(MOST) {
            let shown = (wall, rects.into_iter().collect());
            match found.iter_mut().find(|(known, _)| *known == shown) {
                Some((_, of)) => of.push(disclosure.id.clone()),
                None => found.push((shown, vec![disclosure.id.clone()])),
            }
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    let numbered = (1..).zip(found);
    numbered
        .filter_map(|(n, ((wall, filled), of))| key(job, reckoned, n, wall, &filled, of))
        .collect()
}

/// Walls that a disclosure is about and that no key of it shows: `Chamber, wall A`.
pub fn not_shown(job: &Job, reckoned: &Reckoned, disclosure: &Disclosure) -> Vec<String> {
    let walls = walls(job, reckoned, disclosure);
    let rest = walls.keys().skip(MOST);
    rest.filter_map(|at| called(job, *at)).collect()
}

/// What a disclosure is about, by the wall it is on.
fn walls(
    job: &Job,
    reckoned: &Reckoned,
    disclosure: &Disclosure,
) -> BTreeMap<WallRef, BTreeSet<Rect4>> {
    let mut walls: BTreeMap<WallRef, BTreeSet<Rect4>> = BTreeMap::new();
    for subject in &disclosure.subjects {
        for (wall, rect) in boxes(job, reckoned, subject) {
            walls.entry(wall).or_default().insert(rect);
        }
    }
    walls
}

fn called(job: &Job, at: WallRef) -> Option<String> {
    let room = job.rooms.get(at.room)?;
    let wall = room.walls.get(at.wall)?;
    Some(format!("{}, wall {}", room.name, wall.id))
}

/// A wall, and what is filled on it.
type Shown = (WallRef, Vec<Rect4>);

/// Left, right, bottom and top, in order of place.
type Rect4 = [crate::units::Length; 4];

/// What of a subject stands on which wall.
fn boxes(job: &Job, reckoned: &Reckoned, subject: &Subject) -> Vec<(WallRef, Rect4)> {
    let unit = |r: usize, u: usize| -> Vec<(WallRef, Rect4)> {
        let Some(placed) = reckoned.runs.get(r).and_then(|r| r.units.get(u)) else {
            return Vec::new();
        };
        let Some(wall) = reckoned.runs.get(r).map(|r| r.wall) else {
            return Vec::new();
        };
        let fronts = placed.fronts.iter();
        let fronts = fronts.filter_map(|f| reckoned.fronts.get(*f));
        let all: Vec<_> = fronts
            .map(|f| (wall, [f.left, f.right, f.bottom, f.top]))
            .collect();
        match all.is_empty() {
            true => vec![(wall, [placed.left, placed.right, placed.base, placed.top])],
            false => all,
        }
    };
    match subject {
        Subject::Front(id) => {
            let front = reckoned.fronts.iter().find(|f| f.id == *id);
            front
                .map(|f| (f.wall, [f.left, f.right, f.bottom, f.top]))
                .into_iter()
                .collect()
        }
        Subject::Unit(r, u) => unit(*r, *u),
        Subject::Run(r) => {
            let units = job.runs.get(*r).map_or(0, |run| run.units.len());
            (0..units).flat_map(|u| unit(*r, u)).collect()
        }
        Subject::Panel(n) => {
            let panel = reckoned.panels.get(*n);
            panel
                .map(|p| {
                    let at = |piece: Option<&(_, _)>| piece.copied().unwrap_or_default();
                    let (left, right) = (at(p.pieces.first()).0, at(p.pieces.last()).1);
                    (p.wall, [left, right, p.bottom, p.top])
                })
                .into_iter()
                .collect()
        }
        Subject::Sliding(n) => {
            let door = reckoned.sliding.get(*n);
            door.map(|d| (d.wall, [d.left, d.right, d.bottom, d.top]))
                .into_iter()
                .collect()
        }
        Subject::Worktop(n) => {
            let top = reckoned.worktops.get(*n);
            top.map(|t| (t.wall, [t.left, t.right, t.bottom, t.top]))
                .into_iter()
                .collect()
        }
        Subject::Job | Subject::Room(_) | Subject::Wall(_) => Vec::new(),
    }
}

fn key(
    job: &Job,
    reckoned: &Reckoned,
    number: usize,
    at: WallRef,
    filled: &[Rect4],
    of: Vec<String>,
) -> Option<Key> {
    let title = called(job, at)?;
    let outline = outline(job, reckoned, at);
    let fits = |scale: &f64| {
        let around = Rect::around(outline.iter().copied());
        around.is_some_and(|r| r.width() / scale <= WIDE && r.height() / scale <= HIGH)
    };
    let scale = SCALES.iter().copied().find(fits)?;
    let around = Rect::around(outline.iter().copied())?;
    let paper = |p: Pt| {
        Pt::new(
            (p.x - around.x0) / scale + EDGE,
            (p.y - around.y0) / scale + EDGE,
        )
    };
    let mut items = Vec::new();
    let mut draw = |role: Role, fill: Fill, rect: Rect, by: f64| {
        let (a, b) = (
            paper(Pt::new(rect.x0, rect.y0)),
            paper(Pt::new(rect.x1, rect.y1)),
        );
        let rect = Rect {
            x0: a.x + by,
            y0: a.y + by,
            x1: b.x - by,
            y1: b.y - by,
        };
        if rect.x1 > rect.x0 && rect.y1 > rect.y0 {
            items.push(Item::Shape {
                ink: Ink::Role(role),
                fill,
                shape: Shape::Rect(rect),
            });
        }
    };
    let of4 = |r: &Rect4| {
        let [left, right, bottom, top] = *r;
        box_of(left, right, bottom, top)
    };
    for run in reckoned.runs.iter().filter(|run| run.wall == at) {
        for unit in &run.units {
            let rect = box_of(unit.left, unit.right, unit.base, unit.top);
            draw(Role::Fine, Fill::White, rect, 0.0);
        }
    }
    let fronts = reckoned.fronts.iter().filter(|f| f.wall == at);
    for front in fronts {
        let rect = box_of(front.left, front.right, front.bottom, front.top);
        draw(Role::Fine, Fill::White, rect, 0.0);
    }
    let tops = reckoned.worktops.iter().filter(|t| t.wall == at);
    for top in tops {
        let rect = box_of(top.left, top.right, top.bottom, top.top);
        draw(Role::Fine, Fill::White, rect, 0.0);
    }
    // A little smaller than they are, so that neighbours stay apart.
    for rect in filled {
        draw(Role::Bare, Fill::Solid, of4(rect), 0.3);
    }
    let mut all = vec![Item::Shape {
        ink: Ink::Role(Role::Edge),
        fill: Fill::None,
        shape: Shape::Path {
            points: outline.iter().copied().map(paper).collect(),
            closed: true,
        },
    }];
    all.append(&mut items);
    let placed = Placed {
        width: around.width() / scale + 2.0 * EDGE,
        height: around.height() / scale + 2.0 * EDGE,
        scale: scale as u32,
        items: all,
    };
    Some(Key {
        id: format!("key-{number}"),
        alt: format!("Key, not to scale: {title}, with what this is about filled black."),
        title,
        svg: svg::write(&placed),
        width_mm: placed.width,
        height_mm: placed.height,
        of,
    })
}

/// The wall from floor to ceiling, corner to corner.
fn outline(job: &Job, reckoned: &Reckoned, at: WallRef) -> Vec<Pt> {
    let floor = survey::floor_line(job.wall(at));
    let ceiling = survey::ceiling_line(job, reckoned, at);
    let there = ceiling.iter().map(|p| up(p.0, p.1));
    let back = floor.iter().rev().map(|p| up(p.0, p.1));
    there.chain(back).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Diagnostics;
    use crate::reckon::{fixture, reckon};
    use crate::risks::risks;

    fn said(id: &str, on: Vec<Subject>) -> crate::resolve::job::Risk {
        crate::resolve::job::Risk {
            id: id.into(),
            declared: false,
            title: None,
            text: None,
            doing: None,
            cannot: None,
            on,
            number: None,
            limit: None,
            roles: None,
            weight: None,
            options: vec![],
            choice: None,
            place: crate::diag::Place::NOWHERE,
        }
    }

    #[test]
    fn every_wall_has_its_key_in_the_order_of_the_job_or_its_name() {
        let mut job = fixture::job([3000; 4]);
        job.rooms = (0..11)
            .map(|n| crate::resolve::job::Room {
                id: format!("r{n}"),
                name: format!("Room {n}"),
                ..job.rooms[0].clone()
            })
            .collect();
        job.runs = (0..11)
            .map(|n| {
                let mut run = fixture::run(1);
                run.wall.room = n;
                run
            })
            .collect();
        // The last comes first: what else is about its wall alone was found before.
        let all = |n: usize| (0..n).map(|r| Subject::Unit(r, 0)).collect();
        job.risks = vec![
            said("use", vec![Subject::Unit(4, 0)]),
            said("damp", all(11)),
        ];
        let mut diags = Diagnostics::default();
        let reckoned = reckon(&job, &mut diags).expect("reckons");
        let all = risks(&job, &reckoned, &mut diags);
        let keys = keys(&job, &reckoned, &all);
        let of = |id: &str| all.disclosures.iter().find(|d| d.id == id).expect("raised");
        let shown = keys.iter().filter(|k| k.of.contains(&"damp".to_owned()));
        let shown: Vec<&str> = shown.map(|k| k.title.as_str()).collect();
        let want: Vec<String> = (0..9).map(|n| format!("Room {n}, wall A")).collect();
        assert_eq!(shown, want);
        let rest = not_shown(&job, &reckoned, of("damp"));
        assert_eq!(rest, ["Room 9, wall A", "Room 10, wall A"]);
        assert!(not_shown(&job, &reckoned, of("use")).is_empty());
    }

    #[test]
    fn a_key_is_shared_by_disclosures_about_the_same_things() {
        let mut job = fixture::shelves(2);
        job.finishes.clear();
        let said = |id: &str| said(id, vec![Subject::Unit(0, 0)]);
        job.risks = vec![said("damp"), said("use"), said("stays")];
        let mut diags = Diagnostics::default();
        let reckoned = reckon(&job, &mut diags).expect("reckons");
        let all = risks(&job, &reckoned, &mut diags);
        assert!(diags.is_empty());
        let keys = keys(&job, &reckoned, &all);
        assert_eq!(keys.len(), 1);
        assert!(keys[0].of.len() >= 3, "{:?}", keys[0].of);
        assert!(keys[0].width_mm <= WIDE + 2.0 * EDGE && keys[0].height_mm <= HIGH + 2.0 * EDGE);
        assert_eq!(keys[0].svg.matches("<text").count(), 0);
    }
}
