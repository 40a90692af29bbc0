//! On what a finding is about, its number in the list of findings. Knows which findings matter on an
//! elevation; must not know how a callout is laid out.

use super::super::Face;
use super::Sight;
use super::notes::target;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Reader, Subject};

/// Those that block or warn, of what stands on this wall; clashes have marks of their own.
pub fn findings(sight: &mut Sight) {
    let reckoned = sight.reckoned;
    let mut told: Vec<(&Subject, Vec<String>)> = Vec::new();
    for (n, finding) in reckoned.findings.iter().enumerate() {
        let client = sight.reader == Reader::Client && finding.is_workshops();
        if !matters(reckoned, finding) || client {
            continue;
        }
        let number = (n + 1).to_string();
        match told.iter_mut().find(|(on, _)| *on == &finding.subject) {
            Some((_, numbers)) => numbers.push(number),
            None => told.push((&finding.subject, vec![number])),
        }
    }
    for (on, numbers) in told {
        // What a run as a whole has is told once, on the drawing of its fronts.
        let spot = match (on, sight.face) {
            (Subject::Run(_) | Subject::Wall(_), Face::Open) => None,
            (Subject::Run(run), Face::Shut) => first_unit(sight, *run),
            _ => target(sight, on, None),
        };
        let word = if numbers.len() == 1 {
            "finding"
        } else {
            "findings"
        };
        if let Some(spot) = spot {
            sight
                .pen
                .callout(spot, format!("{word} {}", numbers.join(", ")));
        }
    }
}

fn matters(reckoned: &Reckoned, finding: &Finding) -> bool {
    let is_clash = |c: &crate::reckon::placed::Clash| {
        c.finding.code == finding.code && c.finding.subject == finding.subject
    };
    finding.known.is_none()
        && finding.severity != Severity::Informs
        && !reckoned.clashes.iter().any(is_clash)
}

fn first_unit(sight: &Sight, run: usize) -> Option<crate::draw::scene::Pt> {
    let placed = sight
        .reckoned
        .runs
        .get(run)
        .filter(|r| r.wall == sight.at)?;
    let unit = placed.units.first()?;
    let x = unit.left + (unit.right - unit.left).scale(1, 4);
    let z = unit.base + (unit.top - unit.base).scale(1, 8);
    Some(crate::draw::scene::Pt::up(x, z))
}
