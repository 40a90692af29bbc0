//! Parts that no board is large enough for. Knows parts and boards as bought; must not know how parts
//! are laid out. Fronts of a pattern are the pattern's own affair.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::quantities::parts::{Part, PartKind};
use crate::reckon::quantities::stock;
use crate::resolve::job::{Grain, Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for board in &reckoned.quantities.boards {
        let Some(layout) = &board.layout else {
            continue;
        };
        for part in &layout.too_large {
            let Some(part) = reckoned.quantities.parts.get(*part) else {
                continue;
            };
            for (id, _) in &part.of {
                found.extend(told(job, reckoned, part, id));
            }
        }
    }
}

fn told(job: &Job, reckoned: &Reckoned, part: &Part, id: &str) -> Option<Finding> {
    let material = job.materials.get(part.material.0)?;
    let usable = stock::of(job, material)?.usable;
    let trim = job.cutter.trim * 2;
    let grain = match material.grain {
        Grain::None => "",
        _ => " along and across the grain",
    };
    let whose = match is_front(part.kind) {
        true => format!("number {id}"),
        false => format!("of “{id}”"),
    };
    let text = format!(
        "The {} {whose}, {} × {} mm{grain}, is larger than a board of “{}” has usable: {} × {} mm.",
        part.kind.name(),
        part.length,
        part.width,
        material.name,
        usable.0 - trim,
        usable.1 - trim
    );
    let limit = format!(
        "sheet of the material as given, less the saw's edge of {} all round and a trim of {} at each edge",
        job.cutter.edge, job.cutter.trim
    );
    let advice = "Join it of two where no one sees it, take a larger board, or change the size.";
    let (subject, place) = subject(job, reckoned, part, id);
    Some(
        finding(("larger-than-board", Severity::Warns), subject, place, text)
            .against(limit)
            .advise(advice)
            .for_client(
                format!(
                    "The {} {whose}, {} × {} mm, is larger than the boards it is cut from.",
                    part.kind.name(),
                    part.length,
                    part.width
                ),
                "A joint where it shows least, another board, or another size.",
            ),
    )
}

/// What the first of them belongs to, with its place in the file.
fn subject(job: &Job, reckoned: &Reckoned, part: &Part, id: &str) -> (Subject, crate::diag::Place) {
    if is_front(part.kind) {
        let front = reckoned.fronts.iter().find(|f| f.number.to_string() == id);
        if let Some(front) = front {
            let unit = job
                .runs
                .get(front.run)
                .and_then(|r| r.units.get(front.unit));
            let place = unit.map_or_else(Default::default, |u| u.place);
            return (Subject::Front(front.id.clone()), place);
        }
    }
    for (r, run) in job.runs.iter().enumerate() {
        if run.id == id {
            return (Subject::Run(r), run.place);
        }
        for (u, unit) in run.units.iter().enumerate() {
            if unit.id == id {
                return (Subject::Unit(r, u), unit.place);
            }
        }
    }
    if let Some((n, p)) = job.panels.iter().enumerate().find(|(_, p)| p.id == id) {
        return (Subject::Panel(n), p.place);
    }
    if let Some((n, s)) = job.sliding.iter().enumerate().find(|(_, s)| s.id == id) {
        return (Subject::Sliding(n), s.place);
    }
    if let Some((n, w)) = job.worktops.iter().enumerate().find(|(_, w)| w.id == id) {
        return (Subject::Worktop(n), w.place);
    }
    (Subject::Job, crate::diag::Place::NOWHERE)
}

fn is_front(kind: PartKind) -> bool {
    use PartKind::{Door, DrawerFront, FixedFront, Flap};
    matches!(kind, Door | DrawerFront | FixedFront | Flap)
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    // By hand: a unit 1300 wide and 1900 high has a back of 1900 × 1300; a sheet of 2500 × 1250 less 10
    // all round and 2 of trim at each edge has 2476 × 1226.
    #[test]
    fn a_back_wider_than_its_board_is_told_with_both_sizes() {
        let mut job = fixture::job([1300, 3000, 1300, 3000]);
        job.materials[2].sheet = Some((Length::mm(2500), Length::mm(1250)));
        job.runs = vec![fixture::run(1)];
        let list = found(&job, "larger-than-board");
        assert_eq!(list.len(), 1);
        let text = &list[0].text;
        assert!(text.contains("The back of “U1”, 1900 × 1300 mm"), "{text}");
        assert!(text.contains("2476 × 1226 mm"), "{text}");
        job.materials[2].sheet = Some((Length::mm(2500), Length::mm(1324)));
        assert!(found(&job, "larger-than-board").is_empty(), "1300 + 4 + 20");
    }
}
