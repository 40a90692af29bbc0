//! Project as written to [`job::Job`]. Knows references, what inherits from what, and every
//! default. Must not give anything a place in the room or judge it.

mod fill;
mod goods;
pub mod job;
mod names;
mod pattern;
mod risks;
mod rooms;
mod runs;
mod stock;

pub use crate::read::table::nearest;
pub use fill::fill;

use crate::diag::Diagnostics;
use crate::read::PictureFile;
use crate::read::project::Project;
use job::{ByOthers, Declared, HistoryEntry, Info, Job, Known, Note, Person};
use names::Names;

/// The job of a project that [`fill`] has filled. Whatever refers to nothing is reported, and the
/// job must then not be used further.
pub fn resolve(filled: &Project, pictures: &[PictureFile], diags: &mut Diagnostics) -> Job {
    let names = Names::new(filled, diags);
    goods::check_unused(&names, diags);
    let materials = goods::materials(filled, pictures, diags);
    let boards = pattern::boards(&names, &materials, pictures, diags);
    let patterns = pattern::rules(&names, &boards, diags);
    let worktops = goods::worktops(&names, &materials, diags);
    Job {
        info: info(filled),
        people: fill::list(&filled.job().value.person)
            .iter()
            .map(|p| Person {
                name: p.name().value,
                role: p.role().value,
                signs: p.signs().value,
                reach: p.reach().value,
            })
            .collect(),
        rooms: rooms::rooms(&names, diags),
        way_in: goods::way_in(filled),
        runs: runs::runs(&names, diags),
        panels: goods::panels(&names, diags),
        sliding: goods::sliding(&names, diags),
        worktops,
        materials,
        boards,
        cutter: pattern::cutter(filled),
        drawer: goods::drawer(&names, diags),
        patterns,
        finishes: goods::finishes(filled),
        hardware: goods::hardware(filled, diags),
        appliances: goods::appliances(filled),
        by_others: fill::list(&filled.by_others)
            .iter()
            .map(|b| ByOthers {
                what: b.what().value,
                who: b.who().value,
                by: b.by.as_ref().map(|d| d.value),
                turn: b.turn().value,
            })
            .collect(),
        notes: fill::list(&filled.note)
            .iter()
            .filter_map(|n| {
                let on = names.subject(&n.on(), diags)?;
                let at = n.at.as_ref().map(|a| a.value);
                Some(Note {
                    to: n.to().value,
                    on,
                    text: n.text().value,
                    at,
                })
            })
            .collect(),
        known: fill::list(&filled.known)
            .iter()
            .filter_map(|k| {
                let on = match &k.on {
                    Some(on) => Some(names.subject(on, diags)?),
                    None => None,
                };
                Some(Known {
                    finding: k.finding().value,
                    on,
                    on_name: k.on.as_ref().map_or(String::new(), |on| on.value.0.clone()),
                    why: k.why().value,
                    place: k.finding().place,
                })
            })
            .collect(),
        risks: risks::risks(&names, diags),
        history: fill::list(&filled.history)
            .iter()
            .map(|h| HistoryEntry {
                date: h.date().value,
                revision: h.revision().value,
                what: h.what().value,
                why: h.why().value,
            })
            .collect(),
    }
}

fn info(filled: &Project) -> Info {
    let job = filled.job().value;
    let usual = crate::read::project::JobTable::default();
    Info {
        number: job.number().value,
        title: job.title().value,
        client: job.client().value,
        site: job.site().value,
        workshop: job.workshop().value,
        designer: job.designer().value,
        fitter: job.fitter().value,
        date: job.date().value,
        currency: job.currency().value,
        purpose: job.purpose().value,
        language: job.language().value,
        note_to_client: job.note_to_client().value,
        note_to_fitter: job.note_to_fitter().value,
        sheets: job.sheets().value,
        swing_apex: job.swing_apex().value,
        datum: job.datum().value,
        fitters: job.fitters().value,
        shelf_limit: job.shelf_limit().value,
        bow_limit: job.bow_limit().value,
        moisture_difference: job.moisture_difference().value,
        // By value: a default that is written out, as `explain` does, stays one.
        declared: Declared {
            shelf_limit: job.shelf_limit().value != usual.shelf_limit().value,
            bow_limit: job.bow_limit().value != usual.bow_limit().value,
            moisture_difference: job.moisture_difference().value
                != usual.moisture_difference().value,
        },
    }
}
