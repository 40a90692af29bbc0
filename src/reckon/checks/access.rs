//! Pieces that do not go along the way in as declared. Knows what is carried in; must not know how
//! a passing is reckoned.

use super::{finding, names};
use crate::diag::Place;
use crate::reckon::access::{Box3, Passing};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Obstacle, ObstacleKind, Subject};
use crate::units::Length;

struct Piece<'a> {
    name: &'a str,
    subject: Subject,
    /// What it is part of, for pieces told of together.
    whole: Subject,
    place: Place,
    size: Box3,
    way_in: &'a [Passing],
    is: Is,
}

/// What can be done about it depends on this.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Is {
    Unit,
    Machine,
    Part,
}

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let pieces = pieces(job, reckoned);
    for (n, obstacle) in job.way_in.iter().enumerate() {
        let mut stuck: Vec<(&Piece, Length)> = Vec::new();
        for piece in &pieces {
            if let Some(Passing::Stuck { short }) = piece.way_in.get(n) {
                stuck.push((piece, *short));
            }
        }
        let mut told: Vec<(&Subject, Is, Box3)> = Vec::new();
        for (piece, short) in &stuck {
            let key = (&piece.whole, piece.is, piece.size);
            if told.contains(&key) {
                continue;
            }
            told.push(key);
            let of_key = |p: &Piece| (&p.whole, p.is, p.size) == key;
            let alike = stuck.iter().filter(|(p, _)| of_key(p));
            let ids: Vec<&str> = alike.map(|(p, _)| p.name).collect();
            let subject = match ids.len() {
                1 => piece.subject.clone(),
                _ => piece.whole.clone(),
            };
            let each = stuck.iter().filter(|(p, _)| of_key(p));
            let each = each.map(|(p, _)| p.subject.clone());
            found.push(stuck_finding(obstacle, piece, *short, &ids, subject).of_each(each));
        }
    }
}

fn stuck_finding(
    obstacle: &Obstacle,
    piece: &Piece,
    short: Length,
    ids: &[&str],
    subject: Subject,
) -> Finding {
    let Box3 {
        length,
        breadth,
        thickness,
    } = piece.size;
    let size = match breadth > Length::ZERO {
        true => format!("{length} \u{d7} {breadth} \u{d7} {thickness} mm as carried"),
        false => format!("{length} mm long"),
    };
    let text = format!(
        "{}, {size}, lacks {short} mm to pass the {}.",
        names(ids),
        called(obstacle)
    );
    let text = match ids.len() {
        1 => text,
        _ => text.replace(" lacks ", " each lack "),
    };
    let after = obstacle
        .width_after
        .map_or_else(String::new, |w| format!(", {w} mm wide after the turn"));
    let clear = match obstacle.kind {
        ObstacleKind::Lift => obstacle
            .width_after
            .map_or_else(String::new, |w| format!(", {w} mm deep")),
        _ => after,
    };
    let limit = format!(
        "{} \u{d7} {} mm clear, width \u{d7} height{clear}, as declared; lying, on edge, upright and aslant tried, nothing taken off for hands or wrapping",
        obstacle.width, obstacle.height
    );
    let (severity, advice) = match piece.is {
        Is::Unit => (
            Severity::Blocks,
            "Put it together on site, make it in two, or find another way in.",
        ),
        Is::Machine => (
            Severity::Warns,
            "Choose a smaller one, or find another way in; measure the way again first.",
        ),
        Is::Part => (
            Severity::Warns,
            "Make it in two and join it on site, or find another way in; measure the way again first.",
        ),
    };
    let (they, choice) = match piece.is {
        Is::Unit => (
            "It must come in parts and be put together in the room, or come in another way.",
            "We will propose which: please tell us of any other way in.",
        ),
        Is::Machine => (
            "It must be another one, or come in another way.",
            "A smaller machine, or another way in: please tell us which.",
        ),
        Is::Part => (
            "It must be made in two, with a joint that is seen, or come in another way.",
            "A joint, something smaller, or another way in: please tell us which.",
        ),
    };
    let told = format!(
        "{} is too large to be carried in: {short} mm are lacking at the {}. {they}",
        names(ids),
        called(obstacle)
    );
    let told = match ids.len() {
        1 => told,
        _ => told
            .replace(" is too large", " are too large")
            .replace("It must", "They must"),
    };
    finding(("does-not-pass", severity), subject, piece.place, text)
        .against(limit)
        .advise(advice)
        .number(
            format!("{short} mm too large"),
            format!("{} \u{d7} {} mm clear", obstacle.width, obstacle.height),
            short.in_mm(),
        )
        .for_client(told, choice)
}

/// `half landing`, or what kind of thing it is.
pub fn called(obstacle: &Obstacle) -> String {
    match obstacle.what.trim() {
        "" => obstacle.kind.word().to_string(),
        what => what.to_string(),
    }
}

fn pieces<'a>(job: &'a Job, reckoned: &'a Reckoned) -> Vec<Piece<'a>> {
    let mut out = Vec::new();
    for (r, (run, handling)) in job.runs.iter().zip(&reckoned.handling).enumerate() {
        for (u, (unit, h)) in run.units.iter().zip(handling).enumerate() {
            out.push(Piece {
                name: &unit.id,
                subject: Subject::Unit(r, u),
                whole: Subject::Run(r),
                place: unit.place,
                size: h.carried,
                way_in: &h.way_in,
                is: Is::Unit,
            });
            out.extend(h.machines.iter().filter_map(|m| {
                Some(Piece {
                    name: &job.appliances.get(m.which.0)?.name,
                    subject: Subject::Unit(r, u),
                    whole: Subject::Unit(r, u),
                    place: unit.place,
                    size: m.size,
                    way_in: &m.way_in,
                    is: Is::Machine,
                })
            }));
        }
    }
    out.extend(reckoned.carried.iter().map(|c| Piece {
        name: &c.name,
        subject: c.subject.clone(),
        whole: c.whole.clone(),
        place: c.place,
        size: c.size,
        way_in: &c.way_in,
        is: Is::Part,
    }));
    out
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{Obstacle, ObstacleKind};
    use crate::units::Length;

    // By hand: 1900 × 600 × 580 through a door: 580 and 600 count. 570 wide lacks 10; the fronts,
    // 22 thick, pass. Told once for two units alike.
    #[test]
    fn a_unit_too_thick_for_a_door() {
        let mut job = fixture::job([1200, 3000, 1200, 3000]);
        job.runs = vec![fixture::run(2)];
        let mut with = |width| {
            job.way_in = vec![Obstacle {
                kind: ObstacleKind::Door,
                what: "street door".into(),
                width: Length::mm(width),
                height: Length::mm(1980),
                width_after: None,
            }];
            found(&job, "does-not-pass")
        };
        assert!(with(580).is_empty());
        let list = with(570);
        assert_eq!(list.len(), 1);
        let text = &list[0].text;
        assert!(text.starts_with("U1 and U2, 1900 × 600 × 580"), "{text}");
        assert!(text.contains("lack 10 mm"), "{text}");
    }
}
