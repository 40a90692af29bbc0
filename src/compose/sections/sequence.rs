//! The order of work, each step with its reason, as reckoned. Must not put anything in order itself.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::compare::order;
use crate::reckon::order::Work;
use crate::resolve::job::{Job, Subject};

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
            work(step.what, &words::subject(ctx.job, &step.subject)),
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
             are scribed (common practice). The site decides. Fix each tall unit to the wall before \
             the next is brought in.",
        ),
        Block::Table(table),
    ]
}

fn work(what: Work, subject: &str) -> String {
    match what {
        Work::Stand => format!("Stand, level and fix {subject}"),
        Work::Build => format!("Put together in place {subject}"),
        Work::Hang => format!("Hang {subject}"),
        Work::Lift => format!("Lift into place {subject}"),
        Work::Strips => format!("End panels, scribes, fillers, plinths: {subject}"),
        Work::Worktop => format!("Lay {subject}"),
        Work::Panel => format!("Fix {subject}"),
        Work::Fronts => format!("Doors and drawer fronts: {subject}"),
        Work::Sliding => format!("Hang {subject}"),
    }
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
