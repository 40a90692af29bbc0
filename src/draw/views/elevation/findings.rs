//! On what a finding is about, its number. Knows which findings matter on an
//! elevation; must not know how a callout is laid out.

use super::super::Face;
use super::super::pen::box_of;
use super::Sight;
use super::notes::target;
use crate::draw::scene::{Pt, Rect};
use crate::reckon::placed::{Finding, PlacedFront, Reckoned, Severity};
use crate::resolve::job::Subject;

/// Those that block or warn, of what stands on this wall; clashes have marks of their own.
pub fn findings(sight: &mut Sight) {
    let reckoned = sight.reckoned;
    let mut told: Vec<(&Subject, Vec<usize>)> = Vec::new();
    // A run's finding that names fronts stands on each of them.
    let mut each: Vec<(&PlacedFront, Vec<usize>)> = Vec::new();
    for (n, finding) in reckoned.findings.iter().enumerate() {
        if !matters(reckoned, finding) {
            continue;
        }
        if matches!(finding.subject, Subject::Run(_)) && !finding.fronts.is_empty() {
            let named = finding
                .fronts
                .iter()
                .filter_map(|f| reckoned.fronts.get(*f));
            for front in named.filter(|f| f.wall == sight.at) {
                match each.iter_mut().find(|(on, _)| on.id == front.id) {
                    Some((_, numbers)) => numbers.push(n),
                    None => each.push((front, vec![n])),
                }
            }
            continue;
        }
        match told.iter_mut().find(|(on, _)| *on == &finding.subject) {
            Some((_, numbers)) => numbers.push(n),
            None => told.push((&finding.subject, vec![n])),
        }
    }
    if sight.face == Face::Shut {
        for (front, numbers) in each {
            let area = box_of(front.left, front.right, front.bottom, front.top);
            if let Some(words) = sight.marks.words(sight.reader, &numbers) {
                low_in(sight, area, words);
            }
        }
    }
    for (on, numbers) in told {
        let Some(words) = sight.marks.words(sight.reader, &numbers) else {
            continue;
        };
        // What a run as a whole has is told once, in words on its first unit, fronts shut.
        match (on, sight.face) {
            (Subject::Run(_) | Subject::Wall(_), Face::Open) => {}
            (Subject::Run(run), Face::Shut) => {
                if let Some(area) = first_unit(sight, *run) {
                    low_in(sight, area, words);
                }
            }
            // A unit's notch or shelf is not what it is about: in words, low in it.
            (Subject::Unit(run, unit), _) if target(sight, on, None).is_some() => {
                let run = reckoned.runs.get(*run);
                if let Some(unit) = run.and_then(|r| r.units.get(*unit)) {
                    let area = box_of(unit.left, unit.right, unit.base, unit.top);
                    low_in(sight, area, words);
                }
            }
            _ => {
                if let Some(spot) = target(sight, on, None) {
                    sight.pen.callout(spot, words);
                }
            }
        }
    }
}

fn low_in(sight: &mut Sight, area: Rect, words: String) {
    let low = Pt::new(area.centre().x, area.y1 - area.height() * 0.12);
    sight.pen.words(low, words, Some(area));
}

fn matters(reckoned: &Reckoned, finding: &Finding) -> bool {
    finding.known.is_none()
        && finding.severity != Severity::Informs
        && !reckoned.clashes.iter().any(|c| c.is(finding))
}

fn first_unit(sight: &Sight, run: usize) -> Option<Rect> {
    let runs = &sight.reckoned.runs;
    let placed = runs.get(run).filter(|r| r.wall == sight.at)?;
    let unit = placed.units.first()?;
    let front = sight.fronts_of(unit).into_iter().next();
    Some(match front {
        Some(f) => box_of(f.left, f.right, f.bottom, f.top),
        None => box_of(unit.left, unit.right, unit.base, unit.top),
    })
}
