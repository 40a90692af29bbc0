//! Which sections a job needs: one for each make-up of unit, however many stand for it.
//! Knows when two units are made alike; must not know how a section is drawn.

use super::super::{file_word, told};
use super::section;
use crate::draw::scene::{Chain, ChainSide, Scene};
use crate::reckon::placed::{PlacedBay, PlacedUnit, Reckoned};
use crate::resolve::job::{FrontKind, Job, Stands};
use crate::units::Length;

/// What a section shows of a unit: heights from its own base, nothing of its width.
#[derive(PartialEq)]
struct MakeUp {
    wall: crate::resolve::job::WallRef,
    sizes: [Length; 5],
    stands: Stands,
    fronts: Vec<(FrontKind, Length, Length)>,
    inside: Vec<Inside>,
}

#[derive(PartialEq, Clone)]
struct Inside {
    /// Top face, whether fixed, depth of its lipping.
    shelves: Vec<(Length, bool, Length)>,
    rails: Vec<Length>,
    drawers: Vec<(Length, Length)>,
    boxes: Vec<(Length, Length, Length)>,
    machines: Vec<usize>,
}

/// Units of one make-up, by (run, unit).
struct Group {
    makeup: MakeUp,
    units: Vec<(usize, usize)>,
}

/// In order of the runs: one section for each make-up, and for each bay of it that differs.
pub fn sections(job: &Job, reckoned: &Reckoned) -> Vec<Scene> {
    let mut out = Vec::new();
    let mut named: Vec<&str> = Vec::new();
    for group in groups(job, reckoned) {
        let Some(&(run, unit)) = group.units.first() else {
            continue;
        };
        let Some(made) = job.runs.get(run).and_then(|r| r.units.get(unit)) else {
            continue;
        };
        // The first make-up of a kind bears its name in the file, the others their unit's id.
        let kind = made.kind.as_deref().filter(|k| !named.contains(k));
        named.extend(kind);
        let stem = file_word(kind.unwrap_or(&made.id));
        let bays = differing(&group.makeup.inside);
        for bay in &bays {
            let Some(mut scene) = section(job, reckoned, run, unit, *bay) else {
                continue;
            };
            scene.id = match bays.len() {
                1 => format!("section-{stem}"),
                _ => format!("section-{stem}-bay-{}", bay + 1),
            };
            let of = match group.makeup.inside.len() {
                0 | 1 => String::new(),
                n => bays_said(&group.makeup.inside, *bay, n),
            };
            let ids = ids(job, &group.units);
            let what = if made.name == made.id {
                String::new()
            } else {
                format!("{}: ", made.name)
            };
            let over = over(job, &group.units);
            scene.listed = format!("{}{over}", ids.join(", "));
            scene.title = format!("{what}{}{of}{over}", ids.join(", "));
            scene.shows = ids;
            let all = job.runs.iter().flat_map(|r| &r.units);
            let on = all.filter(|u| u.over.is_some_and(|under| group.units.contains(&under)));
            scene.shows.extend(on.map(|u| u.id.clone()));
            let each = feet_and_ceiling(job, reckoned, (&scene, &group.units), *bay);
            scene.under.extend(each);
            scene.alt = told::section(job, reckoned, &scene.title, (run, unit, *bay));
            out.push(scene);
        }
    }
    out
}

/// `, bay 1 of 2`, or `, bays 1 and 2` where these are alike.
fn bays_said(all: &[Inside], bay: usize, count: usize) -> String {
    let own = all.get(bay);
    let alike = all.iter().enumerate().filter(|(_, b)| Some(*b) == own);
    let alike: Vec<String> = alike.map(|(i, _)| (i + 1).to_string()).collect();
    match alike.split_last() {
        Some((last, others)) if !others.is_empty() => {
            format!(", bays {} and {last}", others.join(", "))
        }
        _ => format!(", bay {} of {count}", bay + 1),
    }
}

/// What differs between units of one make-up: what is over each, and what its feet come to on the floor as
/// it is there.
fn feet_and_ceiling(
    job: &Job,
    reckoned: &Reckoned,
    (drawn, units): (&Scene, &[(usize, usize)]),
    bay: usize,
) -> Vec<String> {
    let named = |(r, u): &(usize, usize)| {
        let unit = reckoned.runs.get(*r)?.units.get(*u)?;
        Some((unit.id.as_str(), unit, (*r, *u)))
    };
    let units: Vec<(&str, &PlacedUnit, (usize, usize))> = units.iter().filter_map(named).collect();
    let over: Vec<(&str, Length)> = (units.iter())
        .filter_map(|(id, _, (r, u))| {
            Some((*id, clear_over(&section(job, reckoned, *r, *u, bay)?)?))
        })
        .collect();
    let own = clear_over(drawn);
    let clear = over.iter().map(|(id, clear)| (*id, *clear, *clear));
    let feet = units.iter().filter_map(|(id, unit, _)| {
        let heights = || unit.feet.iter().map(|f| f.height.round_to(Length::um(500)));
        Some((*id, heights().min()?, heights().max()?))
    });
    let mut out = Vec::new();
    if over.iter().any(|(_, clear)| Some(*clear) != own) {
        out.extend(each_said("to the ceiling", &clear.collect::<Vec<_>>()));
    }
    out.extend(each_said("feet", &feet.collect::<Vec<_>>()));
    out
}

/// More units than this are told of together.
const MOST_APART: usize = 4;

/// `feet: W1 92 to 93, W3 90`; of many units only from what to what.
fn each_said(what: &str, all: &[(&str, Length, Length)]) -> Option<String> {
    let span = |low: Length, high: Length| match low == high {
        true => low.to_string(),
        false => format!("{low}\u{a0}to\u{a0}{high}"),
    };
    let low = all.iter().map(|a| a.1).min()?;
    let high = all.iter().map(|a| a.2).max()?;
    if all.len() > MOST_APART {
        return Some(format!("{what}: {}", span(low, high)));
    }
    let each = all
        .iter()
        .map(|(id, low, high)| format!("{id}\u{a0}{}", span(*low, *high)));
    Some(format!("{what}: {}", each.collect::<Vec<_>>().join(", ")))
}

/// From the highest thing of a section to the ceiling: the last space of its heights.
fn clear_over(scene: &Scene) -> Option<Length> {
    let heights = |c: &&Chain| (c.side, c.tier) == (ChainSide::Right, 1);
    let stops = &scene.chains.iter().find(heights)?.stops;
    Some(*stops.get(1)? - *stops.first()?)
}

fn ids(job: &Job, units: &[(usize, usize)]) -> Vec<String> {
    let found = units
        .iter()
        .filter_map(|(r, u)| job.runs.get(*r)?.units.get(*u));
    found.map(|u| u.id.clone()).collect()
}

/// ", under N2": what stands on the units of a group.
fn over(job: &Job, units: &[(usize, usize)]) -> String {
    let all = job.runs.iter().flat_map(|r| &r.units);
    let on = all.filter(|u| u.over.is_some_and(|under| units.contains(&under)));
    let ids: Vec<String> = on.map(|u| u.id.clone()).collect();
    if ids.is_empty() {
        String::new()
    } else {
        format!(", under {}", ids.join(", "))
    }
}

/// A unit that stands on another is shown with that one.
fn groups(job: &Job, reckoned: &Reckoned) -> Vec<Group> {
    let mut out: Vec<Group> = Vec::new();
    for (r, (run, made)) in reckoned.runs.iter().zip(&job.runs).enumerate() {
        for (u, (unit, told)) in run.units.iter().zip(&made.units).enumerate() {
            if told.over.is_some() {
                continue;
            }
            let makeup = MakeUp {
                wall: run.wall,
                sizes: [
                    unit.base,
                    unit.top,
                    unit.depth,
                    unit.back,
                    unit.depth_over_fronts,
                ],
                stands: unit.stands,
                fronts: fronts(reckoned, unit),
                inside: unit.bays.iter().map(|b| inside(unit, b)).collect(),
            };
            match out.iter_mut().find(|g| g.makeup == makeup) {
                Some(group) => group.units.push((r, u)),
                None => out.push(Group {
                    makeup,
                    units: vec![(r, u)],
                }),
            }
        }
    }
    out
}

fn fronts(reckoned: &Reckoned, unit: &PlacedUnit) -> Vec<(FrontKind, Length, Length)> {
    let found = unit.fronts.iter().filter_map(|i| reckoned.fronts.get(*i));
    let mut rows: Vec<_> = found.map(|f| (f.bottom, f.kind, f.top)).collect();
    rows.sort();
    rows.dedup();
    rows.into_iter()
        .map(|(bottom, kind, top)| (kind, bottom, top))
        .collect()
}

fn inside(unit: &PlacedUnit, bay: &PlacedBay) -> Inside {
    let boxes = unit.boxes.iter();
    let here = boxes.filter(|b| b.left < bay.right && b.right > bay.left);
    Inside {
        shelves: bay
            .shelves
            .iter()
            .map(|s| (s.z, s.fixed, s.lipping))
            .collect(),
        rails: bay.rails.clone(),
        drawers: bay.drawers.clone(),
        boxes: here.map(|b| (b.bottom, b.top, b.long)).collect(),
        machines: bay.appliances.iter().map(|a| a.which.0).collect(),
    }
}

/// Indices of the bays of which no earlier one is the same.
fn differing(bays: &[Inside]) -> Vec<usize> {
    let seen = |i: usize, bay: &Inside| bays.iter().take(i).any(|b| b == bay);
    bays.iter()
        .enumerate()
        .filter(|(i, b)| !seen(*i, b))
        .map(|(i, _)| i)
        .collect()
}
