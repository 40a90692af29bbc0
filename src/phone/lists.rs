//! What the client's pack lists and notes of a wall: units, fronts, what is no unit, notes. Knows which of
//! them an elevation shows; must not know HTML.

use super::asked::Listed;
use crate::compare::subjects::{Subject, SubjectKind};
use crate::reckon::placed::{PlacedFront, PlacedUnit, Reckoned};
use crate::resolve::job::Subject as About;
use crate::resolve::job::{FrontKind, HardwareKind, Job, Reader, Unit, WallRef};

type Rows = Vec<(String, String)>;

/// None is empty.
pub fn of(job: &Job, reckoned: &Reckoned, subject: &Subject) -> Vec<Listed> {
    let all = match subject.kind {
        SubjectKind::Elevation => {
            let here = |at: &WallRef| job.wall_id(*at) == subject.id;
            vec![
                Listed {
                    title: "Units",
                    rows: units(job, reckoned, &here),
                },
                Listed {
                    title: "Fronts",
                    rows: fronts(job, reckoned, &here),
                },
                Listed {
                    title: "Sliding doors, worktops, panels",
                    rows: loose(job, reckoned, &here),
                },
                Listed {
                    title: "Notes to you",
                    rows: notes(job, reckoned, &here),
                },
            ]
        }
        SubjectKind::Plan => {
            let of_room = |n: &About| matches!(n, About::Room(r) if job.rooms.get(*r).is_some_and(|r| r.id == subject.id));
            vec![Listed {
                title: "Notes to you",
                rows: pinned(job, &of_room),
            }]
        }
        SubjectKind::Fittings => vec![Listed {
            title: "How many",
            rows: fittings(job, reckoned),
        }],
        _ => Vec::new(),
    };
    all.into_iter().filter(|l| !l.rows.is_empty()).collect()
}

type Here<'a> = &'a dyn Fn(&WallRef) -> bool;

fn called(id: &str, name: &str) -> String {
    match name.is_empty() || name == id {
        true => id.to_owned(),
        false => format!("{id} {name}"),
    }
}

fn each_unit<'a>(
    job: &'a Job,
    reckoned: &'a Reckoned,
    here: Here<'a>,
) -> impl Iterator<Item = (&'a Unit, &'a PlacedUnit)> + 'a {
    let runs = job.runs.iter().zip(&reckoned.runs);
    let runs = runs.filter(move |(_, at)| here(&at.wall));
    runs.flat_map(|(run, at)| run.units.iter().zip(&at.units))
}

fn units(job: &Job, reckoned: &Reckoned, here: Here) -> Rows {
    let all = each_unit(job, reckoned, here).map(|(unit, put)| {
        let (high, deep) = (put.height(), put.depth_over_fronts);
        let mut text = format!("{} × {high} × {deep}", put.width());
        let inside = inside(job, reckoned, put);
        if !inside.is_empty() {
            text.push_str(&format!("; in it {}", inside.join(", ")));
        }
        (called(&unit.id, &unit.name), text)
    });
    all.collect()
}

fn inside(job: &Job, reckoned: &Reckoned, put: &PlacedUnit) -> Vec<String> {
    let own = put.fronts.iter().filter_map(|f| reckoned.fronts.get(*f));
    let bays = || put.bays.iter();
    let counts = [
        (bays().map(|b| b.shelves.len()).sum(), "shelf", "shelves"),
        (
            bays().map(|b| b.rails.len()).sum(),
            "hanging rail",
            "hanging rails",
        ),
        (
            bays().map(|b| b.drawers.len()).sum(),
            "drawer behind doors",
            "drawers behind doors",
        ),
        (
            own.filter(|f| f.kind == FrontKind::Drawer).count(),
            "drawer",
            "drawers",
        ),
    ];
    let counted = counts.into_iter().filter_map(|(n, one, many)| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    });
    let machines = bays().flat_map(|b| &b.appliances);
    let machines = machines.filter_map(|a| Some(job.appliances.get(a.which.0)?.name.clone()));
    counted.chain(machines).collect()
}

fn fronts(job: &Job, reckoned: &Reckoned, here: Here) -> Rows {
    let all = reckoned.fronts.iter().filter(|f| here(&f.wall));
    all.map(|f| (f.number.to_string(), front(job, f))).collect()
}

/// `door, 597 × 2097, hinged left; handle 1050 up; painted, paint`.
fn front(job: &Job, f: &PlacedFront) -> String {
    let mut text = format!("{}, {} × {}", f.kind.word(), f.width(), f.height());
    if let Some(side) = f.hinge {
        text.push_str(&format!(", hinged {}", side.word()));
    }
    if let Some(handle) = f.handle {
        text.push_str(&format!(", handle {} up from the floor", handle.z));
    }
    let made = job.material(f.style.material);
    text.push_str(&format!("; {}", made.name));
    if let Some(finish) = f.style.finish.and_then(|at| job.finishes.get(at.0)) {
        text.push_str(&format!(", {}", finish.name));
    }
    text
}

fn loose(job: &Job, reckoned: &Reckoned, here: Here) -> Rows {
    let mut rows = Rows::new();
    for (door, put) in job.sliding.iter().zip(&reckoned.sliding) {
        if here(&put.wall) {
            let size = format!(
                "{} × {}, slides to the {}; {}",
                put.right - put.left,
                put.top - put.bottom,
                door.slides.word(),
                job.material(door.material).name
            );
            rows.push((door.name.clone(), size));
        }
    }
    for (top, put) in job.worktops.iter().zip(&reckoned.worktops) {
        if here(&put.wall) {
            let mut size = format!(
                "{} × {}, its top at {}, its edge {} high; {}",
                put.right - put.left,
                put.y_front - put.y_back,
                put.top,
                top.edge,
                job.material(top.material).name
            );
            for cut in &put.cutouts {
                let (wide, deep) = (cut.right - cut.left, cut.y_front - cut.y_back);
                size.push_str(&format!("; cut out for the {}, {wide} × {deep}", cut.what));
            }
            rows.push((top.name.clone(), size));
        }
    }
    for (panel, put) in job.panels.iter().zip(&reckoned.panels) {
        if here(&put.wall) {
            let size = format!(
                "from {} to {} along the wall, {} high, {} in all; {}",
                panel.from,
                panel.to,
                put.top - put.bottom,
                put.pieces.len(),
                job.material(panel.material).name
            );
            rows.push((panel.name.clone(), size));
        }
    }
    rows
}

/// Pinned to the wall or to anything on it, and those written on the things themselves.
fn notes(job: &Job, reckoned: &Reckoned, here: Here) -> Rows {
    let run_here = |r: usize| reckoned.runs.get(r).is_some_and(|run| here(&run.wall));
    let on = |about: &About| match about {
        About::Wall(at) => here(at),
        About::Run(r) | About::Unit(r, _) => run_here(*r),
        About::Front(id) => reckoned.fronts.iter().any(|f| f.id == *id && here(&f.wall)),
        About::Panel(n) => job.panels.get(*n).is_some_and(|p| here(&p.wall)),
        About::Sliding(n) => job.sliding.get(*n).is_some_and(|s| here(&s.wall)),
        About::Worktop(n) => reckoned.worktops.get(*n).is_some_and(|w| here(&w.wall)),
        About::Job | About::Room(_) => false,
    };
    let mut rows = pinned(job, &on);
    let own = each_unit(job, reckoned, here).map(|(u, _)| (called(&u.id, &u.name), &u.note));
    let panels = job.panels.iter().filter(|p| here(&p.wall));
    let sliding = job.sliding.iter().filter(|s| here(&s.wall));
    let tops = job.worktops.iter().zip(&reckoned.worktops);
    let tops = tops.filter(|(_, at)| here(&at.wall));
    let own = own
        .chain(panels.map(|p| (p.name.clone(), &p.note)))
        .chain(sliding.map(|s| (s.name.clone(), &s.note)))
        .chain(tops.map(|(w, _)| (w.name.clone(), &w.note)));
    rows.extend(
        own.filter(|(_, text)| !text.trim().is_empty())
            .map(|(name, text)| (name, text.clone())),
    );
    rows
}

fn pinned(job: &Job, on: &dyn Fn(&About) -> bool) -> Rows {
    let all = job
        .notes
        .iter()
        .filter(|n| n.to.is_for(Reader::Client) && on(&n.on));
    all.map(|n| (about(job, &n.on), n.text.clone())).collect()
}

fn about(job: &Job, of: &About) -> String {
    let name = match of {
        About::Job => None,
        About::Room(r) => job.rooms.get(*r).map(|r| r.name.clone()),
        About::Wall(at) => Some(format!("wall {}", job.wall_id(*at))),
        About::Run(r) => job.runs.get(*r).map(|r| r.name.clone()),
        About::Unit(r, u) => {
            let unit = job.runs.get(*r).and_then(|run| run.units.get(*u));
            unit.map(|u| called(&u.id, &u.name))
        }
        About::Front(id) => Some(format!("front {id}")),
        About::Panel(n) => job.panels.get(*n).map(|p| p.name.clone()),
        About::Sliding(n) => job.sliding.get(*n).map(|s| s.name.clone()),
        About::Worktop(n) => job.worktops.get(*n).map(|w| w.name.clone()),
    };
    name.unwrap_or_default()
}

fn fittings(job: &Job, reckoned: &Reckoned) -> Rows {
    let counts = reckoned.hardware.iter().filter(|h| h.count > 0);
    let named = counts.filter_map(|h| Some((job.hardware.get(h.which.0)?, h.count)));
    let rest = named.filter(|(h, _)| h.kind != HardwareKind::Handle);
    rest.map(|(h, n)| (h.name.clone(), n.to_string())).collect()
}
