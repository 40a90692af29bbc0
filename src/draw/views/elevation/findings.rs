//! On what a finding is about, its number in words, as plans have it. Knows which findings matter on an
//! elevation; must not know how words find their place.

use super::super::pen::box_of;
use super::super::{Face, plan};
use super::Sight;
use super::notes::target;
use crate::draw::scene::{Callout, LabelFrame, Lettering, Pt, Rect};
use crate::reckon::placed::{Finding, PlacedFront, Reckoned, Severity};
use crate::resolve::job::Subject;

/// From the foot of what is marked to the middle of its mark: on all that stands on one line marks stand
/// on one line too, below where swing lines meet, mm.
const OVER_FOOT_MM: f64 = 62.0;

/// Those that block or warn, of what stands on this wall, and clashes that plans hatch, on each front that
/// they name; what is only good to know is told on plans alone.
pub fn findings(sight: &mut Sight) {
    let reckoned = sight.reckoned;
    let mut told: Vec<(&Subject, Vec<usize>)> = Vec::new();
    let mut on_fronts: Vec<(usize, Vec<usize>)> = Vec::new();
    let mut on_front =
        |front: usize, n: usize| match on_fronts.iter_mut().find(|(on, _)| *on == front) {
            Some((_, numbers)) => numbers.push(n),
            None => on_fronts.push((front, vec![n])),
        };
    let marks = sight.marks;
    for (clash, n) in plan::told(reckoned, marks, sight.at.room, sight.reader) {
        if clash.finding.severity != Severity::Informs {
            clash.fronts.iter().for_each(|front| on_front(*front, n));
        }
    }
    for (n, finding) in reckoned.findings.iter().enumerate() {
        if !matters(reckoned, finding) {
            continue;
        }
        match &finding.subject {
            Subject::Run(_) if !finding.fronts.is_empty() => {
                finding.fronts.iter().for_each(|front| on_front(*front, n));
            }
            Subject::Front(id) => {
                let at = reckoned.fronts.iter().position(|f| f.id == *id);
                at.into_iter().for_each(|front| on_front(front, n));
            }
            subject => match told.iter_mut().find(|(on, _)| *on == subject) {
                Some((_, numbers)) => numbers.push(n),
                None => told.push((subject, vec![n])),
            },
        }
    }
    if sight.face == Face::Shut {
        let at = sight.at;
        let named = on_fronts.iter();
        let named = named.filter_map(|(i, n)| Some((reckoned.fronts.get(*i)?, n)));
        for (front, numbers) in named.filter(|(f, _)| f.wall == at) {
            mark(sight, area_of(front), numbers);
        }
    }
    for (on, numbers) in told {
        match (on, sight.face) {
            // What a run as a whole has is told once, on its first unit, fronts shut.
            (Subject::Run(run), Face::Shut) => {
                if let Some(area) = first_unit(sight, *run) {
                    mark(sight, area, &numbers);
                }
            }
            (Subject::Run(_) | Subject::Wall(_), _) => {}
            (Subject::Unit(run, unit), face) => {
                let run = reckoned.runs.get(*run).filter(|r| r.wall == sight.at);
                let unit = run.and_then(|r| r.units.get(*unit));
                // Open shelves are seen with the fronts shut too.
                if let Some(u) = unit.filter(|u| face == Face::Open || u.fronts.is_empty()) {
                    mark(sight, box_of(u.left, u.right, u.base, u.top), &numbers);
                }
            }
            _ => {
                let words = sight.marks.words(sight.reader, &numbers);
                if let (Some(target), Some(_)) = (target(sight, on, None), &words) {
                    sight.pen.scene.callouts.push(Callout {
                        target,
                        text: String::new(),
                        balloon: words,
                        aside: false,
                    });
                }
            }
        }
    }
}

/// A number in a circle is a front's: these are words in a box.
fn mark(sight: &mut Sight, area: Rect, numbers: &[usize]) {
    let Some(words) = sight.marks.words(sight.reader, numbers) else {
        return;
    };
    let low = Pt::new(
        area.centre().x,
        area.y1 - OVER_FOOT_MM.min(area.height() / 2.0),
    );
    let (normal, frame) = (Lettering::Normal, LabelFrame::Box);
    sight
        .pen
        .label(low, vec![words], normal, frame, Some(area), 5);
}

fn matters(reckoned: &Reckoned, finding: &Finding) -> bool {
    finding.known.is_none()
        && finding.severity != Severity::Informs
        && !reckoned.clashes.iter().any(|c| c.is(finding))
}

fn area_of(front: &PlacedFront) -> Rect {
    box_of(front.left, front.right, front.bottom, front.top)
}

fn first_unit(sight: &Sight, run: usize) -> Option<Rect> {
    let runs = &sight.reckoned.runs;
    let placed = runs.get(run).filter(|r| r.wall == sight.at)?;
    let unit = placed.units.first()?;
    let front = sight.fronts_of(unit).into_iter().next();
    Some(match front {
        Some(f) => area_of(f),
        None => box_of(unit.left, unit.right, unit.base, unit.top),
    })
}
