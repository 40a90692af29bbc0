//! [`Job`](crate::resolve::job::Job) to [`placed::Reckoned`]: places, sizes, masses, findings. Pure
//! functions, one subject a file, units and source in each doc comment. Must not know pages,
//! scales or the wording of templates.

pub mod access;
mod bending;
mod beside;
pub mod built_up;
pub mod carried;
mod ceiling;
mod checks;
mod contents;
pub mod drawers;
pub mod ends;
pub mod feet;
mod floor;
mod fronts;
mod handles;
pub mod handling;
mod hardware;
mod hinges;
mod inside;
pub mod joints;
pub mod lifting;
pub mod loads;
mod mass;
mod moisture;
mod notches;
mod opening;
pub mod order;
mod outline;
mod over;
mod panels;
pub mod pattern;
pub mod placed;
mod plan;
pub mod points;
mod profile;
pub mod quantities;
mod runs;
mod setting_out;
mod share;
mod shelves;
mod sliding;
pub mod stand_up;
mod stiffness;
mod swing;
mod travel;
pub mod walls;
mod worktops;

#[cfg(test)]
pub(crate) mod fixture;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod properties;

use crate::diag::Diagnostics;
use crate::resolve::job::Job;
use placed::Reckoned;

/// Gives everything in the job its place and size, and judges the result.
///
/// `None` when something does not fit together: all such errors are in `diags`, each at its place
/// in the project file. What can be made but should be looked at is a finding, not an error.
pub fn reckon(job: &Job, diags: &mut Diagnostics) -> Option<Reckoned> {
    let mut wrong = Diagnostics::default();
    let rooms = walls::place_rooms(job);
    let frames = setting_out::set_out(job, &mut wrong);
    let (mut runs, mut fronts) = runs::build(job, &rooms, &frames, &mut wrong);
    fronts::number(&mut fronts);
    runs::adopt_fronts(job, &mut runs, &fronts);
    let panels = panels::place(job, &mut wrong);
    let sliding = sliding::place(job, &mut wrong);
    let worktops = worktops::place(job, &runs, &fronts, &mut wrong);
    if !wrong.is_empty() {
        for d in wrong.sorted() {
            diags.push(d);
        }
        return None;
    }
    let hardware = hardware::count(job, &runs, &fronts, &sliding);
    let pattern_pieces = pattern::pieces(job, &runs, &fronts, &panels);
    let patterns = pattern::layouts(job, &fronts, &pattern_pieces);
    let handling = handling::handle(job, &rooms, &runs, &fronts);
    let carried = carried::carried(
        job,
        &carried::Placed {
            runs: &runs,
            fronts: &fronts,
            panels: &panels,
            sliding: &sliding,
            worktops: &worktops,
        },
    );
    let order = order::order(job, &rooms, &runs);
    let loads = loads::loads(job, &runs, &fronts, &worktops);
    let quantities = quantities::quantities(&quantities::parts::Placed {
        job,
        runs: &runs,
        fronts: &fronts,
        panels: &panels,
        sliding: &sliding,
        worktops: &worktops,
        patterns: &patterns,
        pattern_pieces: &pattern_pieces,
    });
    let mut reckoned = Reckoned {
        patterns,
        pattern_pieces,
        rooms,
        runs,
        panels,
        sliding,
        worktops,
        fronts,
        hardware,
        carried,
        handling,
        order,
        loads,
        clashes: Vec::new(),
        opens: Vec::new(),
        quantities,
        findings: Vec::new(),
    };
    let swings = swing::swings(job, &reckoned);
    (reckoned.clashes, reckoned.opens) = (swings.clashes, swings.opens);
    reckoned.findings = checks::run(job, &reckoned);
    if !checks::known::mark(job, &mut reckoned.findings, diags) {
        return None;
    }
    // Worst first: their numbers in lists and on drawings are their places here.
    reckoned
        .findings
        .sort_by_key(|f| (f.known.is_some(), f.severity));
    Some(reckoned)
}
