//! On which sheets of a pack a subject is shown: what a signature stands on the strength of. Knows drawings and
//! sections by their labels; must not know what is on a page.

use std::collections::BTreeMap;

use typst::foundations::Label;
use typst::utils::PicoStr;

use super::{Pack, Pages};
use crate::compare::{Subject, SubjectKind};
use crate::draw::{Drawing, DrawingKind};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;

/// Sections that show what no drawing shows, by kind of subject.
const SECTIONS: &[(SubjectKind, &str)] = &[
    (SubjectKind::Job, "asked"),
    (SubjectKind::WayIn, "way-in"),
    (SubjectKind::Material, "boards"),
    (SubjectKind::Finish, "boards"),
    (SubjectKind::Handle, "hardware"),
    (SubjectKind::Fittings, "hardware"),
    (SubjectKind::Appliances, "appliances"),
    (SubjectKind::Others, "by-others"),
];

/// For each subject of this pack's reader the sheets that show it: `C5, C6`. A subject that no sheet of its
/// own shows is left out.
pub fn sheets(
    job: &Job,
    reckoned: &Reckoned,
    drawings: &[Drawing],
    laid: &Pages,
    subjects: &[Subject],
) -> BTreeMap<String, String> {
    let letter = laid.pack.letter();
    let mut out = BTreeMap::new();
    for subject in subjects.iter().filter(|s| reader(s) == laid.pack) {
        let shown = drawings.iter().filter(|d| shows(job, reckoned, d, subject));
        let mut numbers: Vec<usize> = shown
            .filter_map(|d| page_of(laid, &format!("drawing {}", d.id)))
            .collect();
        let section = SECTIONS.iter().find(|(kind, _)| *kind == subject.kind);
        numbers.extend(section.and_then(|(_, id)| page_of(laid, &format!("section {id}"))));
        if subject.kind == SubjectKind::Disclosure {
            numbers.extend(page_of(laid, &format!("disclosure {}", subject.id)));
        }
        numbers.sort_unstable();
        numbers.dedup();
        let words: Vec<String> = numbers.iter().map(|n| format!("{letter}{n}")).collect();
        if !words.is_empty() {
            out.insert(subject.key.clone(), words.join(", "));
        }
    }
    out
}

/// The pack in which somebody reads what he agrees to.
fn reader(subject: &Subject) -> Pack {
    match subject.roles.iter().all(|r| r == "fitter") {
        true => Pack::Fitter,
        false => Pack::Client,
    }
}

fn shows(job: &Job, reckoned: &Reckoned, drawing: &Drawing, subject: &Subject) -> bool {
    match (subject.kind, &drawing.kind) {
        (SubjectKind::Plan | SubjectKind::Survey, DrawingKind::Plan(room)) => {
            job.rooms.get(*room).is_some_and(|r| r.id == subject.id)
        }
        (SubjectKind::Elevation, DrawingKind::Shut(wall) | DrawingKind::Open(wall)) => {
            job.wall_id(*wall) == subject.id
        }
        (SubjectKind::Look, DrawingKind::Look(pattern)) => {
            let layout = reckoned.patterns.get(*pattern);
            layout.is_some_and(|p| p.name == subject.id)
        }
        _ => false,
    }
}

/// The page that a label of the templates stands on, from 1.
fn page_of(laid: &Pages, label: &str) -> Option<usize> {
    let label = Label::new(PicoStr::intern(label))?;
    let found = laid.document.introspector();
    let element = found.elements().query_label(label).ok()?;
    let position = found.position(element.location()?)?;
    Some(position.page.get())
}
