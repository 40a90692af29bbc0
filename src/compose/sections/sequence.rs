//! The order of work, each step with its reason, as reckoned. Must not put anything in order itself.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::compare::order;
use crate::reckon::order::{Step, Work, goes_in};
use crate::reckon::placed::PieceKind;
use crate::resolve::job::{FrontKind, GoesIn, Job, Subject};

pub fn sequence(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("", 8.0, Align::Middle),
        ("Step", 12.0, Align::Right),
        ("What is done", 80.0, Align::Left),
        ("Why now", 75.0, Align::Left),
    ]);
    let before = Before::of(ctx, "job", "job").texts("order of work");
    let mut room = None;
    for (i, step) in ctx.reckoned.order.iter().enumerate() {
        let here = room_of(ctx.job, &step.subject);
        if here != room {
            room = here;
            let name = here.and_then(|r| ctx.job.rooms.get(r)).map(|r| &r.name);
            table.group(name.map_or("", |n| n));
        }
        table.row([
            super::hardware::TICK.to_owned(),
            (i + 1).to_string(),
            work(ctx, step),
            words::sentence(&step.why),
        ]);
        let told = order::told(ctx.job, step);
        let at = before
            .as_ref()
            .and_then(|all| all.iter().position(|s| *s == told));
        table.was([None, at.map(|at| (at + 1).to_string())]);
    }
    if !table.has_rows() {
        return Vec::new();
    }
    vec![
        Block::paragraph(
            "A proposal, derived from what stands on what, where the floor is highest and which ends \
             are scribed (common practice). The site decides. Fix each unit whose card has a \
             line “Wall” to the wall before the next is brought in.",
        ),
        Block::Table(table),
    ]
}

fn work(ctx: &Context, step: &Step) -> String {
    let subject = words::subject_name(ctx.job, &step.subject);
    match step.what {
        Work::Stand => format!("Stand, level and fix {subject}"),
        Work::Build => format!("Put together in place {subject}"),
        Work::Hang => format!("Hang {subject}"),
        Work::Lift => format!("Lift into place {subject}"),
        Work::Strips => format!("{}: {subject}", strips(ctx, &step.subject)),
        Work::Worktop => format!("Lay {subject}"),
        Work::CutOuts => format!(
            "Into the cut-outs of {subject}: {}",
            cutouts(ctx, &step.subject)
        ),
        Work::Insides => format!("{}: {subject}", insides(ctx, &step.subject)),
        Work::Machines(when) => {
            let names = machines(ctx, &step.subject, when);
            format!(
                "Put into {subject}: {names}. Connected then by whoever is licensed, as the makers say"
            )
        }
        Work::Panel => format!("Fix {subject}"),
        Work::Fronts => format!("{}: {subject}", fronts(ctx, &step.subject)),
        Work::Sliding => format!("Hang {subject}"),
    }
}

/// `End panels, scribes and plinths`: those the run has.
fn strips(ctx: &Context, subject: &Subject) -> String {
    let run = match subject {
        Subject::Run(r) => ctx.reckoned.runs.get(*r),
        _ => None,
    };
    let has = |kind| run.is_some_and(|r| r.pieces.iter().any(|p| p.kind == kind));
    let plinths = run.is_some_and(|r| !r.plinths.is_empty());
    named(&[
        (has(PieceKind::EndPanel), "end panels"),
        (has(PieceKind::Scribe), "scribes"),
        (has(PieceKind::Filler), "fillers"),
        (plinths, "plinths"),
    ])
}

/// `Doors and flaps`: those the run has.
fn fronts(ctx: &Context, subject: &Subject) -> String {
    let has = |kind: FrontKind| {
        let mut all = ctx.reckoned.fronts.iter();
        all.any(|f| *subject == Subject::Run(f.run) && f.kind == kind)
    };
    named(&[
        (has(FrontKind::Door), "doors"),
        (has(FrontKind::Drawer), "drawer fronts"),
        (has(FrontKind::Flap), "flaps"),
        (has(FrontKind::Fixed), "fixed panels"),
    ])
}

/// `Loose shelves and drawers`: what of them the run has.
fn insides(ctx: &Context, subject: &Subject) -> String {
    let Subject::Run(r) = subject else {
        return String::new();
    };
    let units = || ctx.reckoned.runs.get(*r).into_iter().flat_map(|r| &r.units);
    let bays = || units().flat_map(|u| &u.bays);
    named(&[
        (
            bays().any(|b| b.shelves.iter().any(|s| !s.fixed)),
            "loose shelves",
        ),
        (units().any(|u| !u.boxes.is_empty()), "drawers"),
        (bays().any(|b| !b.rails.is_empty()), "rails"),
    ])
}

fn cutouts(ctx: &Context, subject: &Subject) -> String {
    let top = match subject {
        Subject::Worktop(i) => ctx.job.worktops.get(*i),
        _ => None,
    };
    let all = top.into_iter().flat_map(|t| &t.cutouts);
    words::and_list(&all.map(|c| c.what.clone()).collect::<Vec<_>>())
}

/// Those that are there, as the beginning of a sentence.
fn named(all: &[(bool, &str)]) -> String {
    let there = all.iter().filter(|(there, _)| *there);
    let names: Vec<String> = there.map(|(_, name)| (*name).to_owned()).collect();
    let said = words::sentence(&words::and_list(&names));
    said.trim_end_matches('.').to_owned()
}

fn machines(ctx: &Context, subject: &Subject, when: GoesIn) -> String {
    let unit = match subject {
        Subject::Unit(r, u) => ctx.job.runs.get(*r).and_then(|run| run.units.get(*u)),
        _ => None,
    };
    let which = unit.map(|u| goes_in(ctx.job, u, when)).unwrap_or_default();
    let names = which
        .iter()
        .filter_map(|a| ctx.appliance(*a).map(|a| a.name.clone()));
    words::and_list(&names.collect::<Vec<_>>())
}

fn room_of(job: &Job, subject: &Subject) -> Option<usize> {
    let run = |r: usize| job.runs.get(r).map(|run| run.wall.room);
    match subject {
        Subject::Run(r) | Subject::Unit(r, _) => run(*r),
        Subject::Room(r) => Some(*r),
        Subject::Wall(at) => Some(at.room),
        Subject::Panel(i) => job.panels.get(*i).map(|p| p.wall.room),
        Subject::Sliding(i) => job.sliding.get(*i).map(|s| s.wall.room),
        Subject::Worktop(i) => job.worktops.get(*i).and_then(|w| run(w.run)),
        Subject::Front(_) | Subject::Job => None,
    }
}
