//! Tall thin fronts, and leaves that slide, against the flatness asked for. Knows the moisture difference declared; must
//! not know what paints or seals a face.

use super::{finding, names};
use crate::diag::Place;
use crate::reckon::bending::bow;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::stiffness::in_plane;
use crate::resolve::job::{FrontKind, Job, MaterialRef, Subject};
use crate::units::Length;

/// Fronts of a run that bow alike, or one leaf that slides.
struct Kind {
    subject: Subject,
    place: Place,
    material: MaterialRef,
    length: Length,
    straightener: bool,
    /// As it is told of, after `Front` or `Fronts`; of a leaf its own name.
    numbers: Vec<String>,
    /// Of the fronts reckoned.
    indices: Vec<usize>,
    least: f64,
    most: f64,
}

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let mut kinds: Vec<Kind> = Vec::new();
    for (index, front) in reckoned.fronts.iter().enumerate() {
        // Others are held flat by what they are screwed to.
        if !matches!(front.kind, FrontKind::Door | FrontKind::Flap) {
            continue;
        }
        let length = front.height().max(front.width());
        let Some((least, most)) = range(job, front.style.material, length) else {
            continue;
        };
        if most <= job.info.bow_limit.in_mm() {
            continue;
        }
        let straightener = front.style.straightener.is_some() && front.kind == FrontKind::Door;
        let whole = Subject::Run(front.run);
        let alike = kinds.iter_mut().find(|k| {
            let first = k.indices.first().and_then(|n| reckoned.fronts.get(*n));
            first.is_some_and(|f| f.run == front.run)
                && k.material == front.style.material
                && k.length == length
                && k.straightener == straightener
        });
        match alike {
            Some(kind) => {
                kind.subject = whole;
                kind.numbers.push(front.number.to_string());
                kind.indices.push(index);
            }
            None => kinds.push(Kind {
                subject: Subject::Front(front.id.clone()),
                place: job.runs.get(front.run).map(|r| r.place).unwrap_or_default(),
                material: front.style.material,
                length,
                straightener,
                numbers: vec![front.number.to_string()],
                indices: vec![index],
                least,
                most,
            }),
        }
    }
    for (n, leaf) in job.sliding.iter().enumerate() {
        let length = leaf.height.max(leaf.width);
        let Some((least, most)) = range(job, leaf.material, length) else {
            continue;
        };
        if most > job.info.bow_limit.in_mm() {
            kinds.push(Kind {
                subject: Subject::Sliding(n),
                place: leaf.place,
                material: leaf.material,
                length,
                straightener: false,
                numbers: vec![format!("“{}”", leaf.name)],
                indices: Vec::new(),
                least,
                most,
            });
        }
    }
    for kind in &kinds {
        found.extend(told(job, kind));
    }
}

/// mm, as published figures for the movement of boards differ.
fn range(job: &Job, of: MaterialRef, length: Length) -> Option<(f64, f64)> {
    let material = job.materials.get(of.0)?;
    let (low, high) = in_plane(material.core)?;
    let of = |strain: f64| {
        let strain = strain * job.info.moisture_difference.value();
        bow(length.in_mm(), material.thickness.in_mm(), strain)
    };
    Some((of(low), of(high)))
}

/// The limit and the difference of moisture, with who set each.
fn held_against(job: &Job) -> String {
    let (limit, differs) = (job.info.bow_limit, job.info.moisture_difference);
    let declared = (
        job.info.declared.bow_limit,
        job.info.declared.moisture_difference,
    );
    match declared {
        (false, false) => format!(
            "{limit} mm, at a difference of moisture of {differs} %: both are rodbook's defaults (common practice, no \
             source)"
        ),
        (true, false) => format!(
            "{limit} mm, as the project declares; a difference of moisture of {differs} %, rodbook's default (common \
             practice, no source)"
        ),
        (false, true) => format!(
            "{limit} mm, rodbook's default (common practice, no source); a difference of moisture of {differs} %, as \
             the project declares"
        ),
        (true, true) => format!(
            "{limit} mm, at a difference of moisture of {differs} %, as the project declares"
        ),
    }
}

fn for_client(which: &str, numbers: &[&str], kind: &Kind) -> (String, &'static str) {
    let long = match which {
        "" => "",
        _ => "Long thin ",
    };
    let told = format!(
        "{long}{which}{} may bend by up to {:.1} mm if one side becomes damper than the other.",
        names(numbers),
        kind.most
    );
    match kind.straightener {
        true => (
            format!("{told} Each has a fitting inside that pulls it straight again."),
            "",
        ),
        false if kind.indices.is_empty() => (
            told,
            "A thicker door. Or accept it: an evenly heated, dry room keeps it small.",
        ),
        false => (
            told,
            "Thicker fronts, fronts divided in their height, or a fitting inside each that pulls it \
             straight. Or accept it: an evenly heated, dry room keeps it small.",
        ),
    }
}

fn told(job: &Job, kind: &Kind) -> Option<Finding> {
    let material = job.materials.get(kind.material.0)?;
    let numbers: Vec<&str> = kind.numbers.iter().map(String::as_str).collect();
    let which = match kind.indices.len() {
        0 => "",
        1 => "Front ",
        _ => "Fronts ",
    };
    let amount = match format!("{:.1}", kind.least) == format!("{:.1}", kind.most) {
        true => format!("{:.1}", kind.most),
        false => format!("{:.1} to {:.1}", kind.least, kind.most),
    };
    let text = format!(
        "{which}{}, {} mm long and {} mm thick, may bow {amount} mm if the moisture content of the two faces comes to differ by {} %.{}",
        names(&numbers),
        kind.length,
        material.thickness,
        job.info.moisture_difference,
        match kind.straightener {
            true => " Each has a straightener, which can be set against it.",
            false => "",
        }
    );
    let limit = format!(
        "{}; published figures for the movement of board differ by two",
        held_against(job)
    );
    let (told, choice) = for_client(&which.to_lowercase(), &numbers, kind);
    let (severity, advice) = match kind.straightener {
        true => (
            Severity::Informs,
            "Set the straighteners when the room has been heated for a season.",
        ),
        false if kind.indices.is_empty() => (
            Severity::Warns,
            "Take a thicker board, or one made to stay flat; finish both faces and all edges alike, and store it flat.",
        ),
        false => (
            Severity::Warns,
            "Take a thicker board, divide the height, or let a straightener into each; in any case finish both faces and all edges alike, and store them flat.",
        ),
    };
    let mut told_of = finding(
        ("front-may-bow", severity),
        kind.subject.clone(),
        kind.place,
        text,
    );
    told_of.fronts.clone_from(&kind.indices);
    Some(
        told_of
            .against(limit)
            .advise(advice)
            .number(
                format!("{:.1} mm", kind.most),
                format!("{} mm", job.info.bow_limit),
                kind.most,
            )
            .for_client(told, choice),
    )
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::reckon::placed::Severity;
    use crate::resolve::job::{FrontKind, Side, Subject};
    use crate::units::{Length, Percent};

    // By hand, L²Δε/8t: the door of a unit 1900 high is 1897 high: 1897²/(8·22) = 20 447; with 0.4 %
    // between its faces and 0.025 to 0.05 % movement: 2.04 to 4.09 mm against 4; with 0.3 % 3.07.
    #[test]
    fn a_tall_door_over_the_limit() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
        assert!(found(&job, "front-may-bow").is_empty());
        job.info.moisture_difference = Percent::thousandths(400);
        let list = found(&job, "front-may-bow");
        assert_eq!((list.len(), list[0].severity), (1, Severity::Warns));
        let text = &list[0].text;
        assert!(text.starts_with("Fronts 1 and 2, 1897 mm long"), "{text}");
        assert!(text.contains("bow 2.0 to 4.1 mm"), "{text}");
        for cell in &mut job.runs[0].units[0].rows[0].cells {
            cell.style.straightener = Some(fixture::STAY);
        }
        assert_eq!(found(&job, "front-may-bow")[0].severity, Severity::Informs);
    }

    // By hand: a leaf 2300 high and 22 thick: 2300²/(8·22) = 30 057; with 0.3 % between its faces and 0.025
    // to 0.05 % movement 2.25 to 4.51 mm against 4.
    #[test]
    fn a_leaf_that_slides_is_held_flat_by_nothing() {
        let mut job = fixture::job([3000; 4]);
        job.sliding = vec![fixture::sliding(Side::Left)];
        assert!(found(&job, "front-may-bow").is_empty());
        job.sliding[0].height = Length::mm(2300);
        let list = found(&job, "front-may-bow");
        assert_eq!(list[0].subject, Subject::Sliding(0));
        assert!(
            list[0].text.contains("may bow 2.3 to 4.5 mm"),
            "{}",
            list[0].text
        );
        assert!(list[0].text.starts_with('“'), "{}", list[0].text);
    }
}
