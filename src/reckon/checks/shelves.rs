//! Shelves that sag over the limit. Knows limits and what would help; must not know beams.

use super::{finding, names};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::reckon::shelves::{Sag, Under, sag_of};
use crate::resolve::job::{Job, Load, Subject, Unit};
use crate::units::Length;

/// Lippings tried, deepest last, mm.
const LIPPINGS: std::ops::RangeInclusive<i64> = 4..=16;

/// Depth in mm of a lipping that is enough, and the sag with it.
type Helped = Option<(i64, Sag)>;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let mut over: Option<(Sag, Helped, usize)> = None;
            for (bay, inside) in unit.bays.iter().zip(&at.bays) {
                let with = |lipping| sag_of(job, unit, at, inside, lipping);
                let Some(sag) = with(bay.lipping).filter(|s| s.later > limit(job, s)) else {
                    continue;
                };
                let helped = LIPPINGS
                    .map(|n| 5 * n)
                    .filter(|d| Length::mm(*d) > bay.lipping)
                    .filter_map(|d| Some((d, with(Length::mm(d))?)))
                    .find(|(_, s)| s.later <= limit(job, s));
                if over.as_ref().is_none_or(|o| sag.later > o.0.later) {
                    over = Some((sag, helped, inside.shelves.len()));
                }
            }
            if let Some((sag, helped, count)) = over {
                found.push(told(job, unit, Subject::Unit(r, u), &sag, helped, count));
            }
        }
    }
}

/// The sag that the job allows, mm.
fn limit(job: &Job, sag: &Sag) -> f64 {
    sag.span.in_mm() / f64::from(job.info.shelf_limit.max(1))
}

fn told(
    job: &Job,
    unit: &Unit,
    subject: Subject,
    sag: &Sag,
    helped: Helped,
    count: usize,
) -> Finding {
    let shelves = match (sag.under, count) {
        (Under::Machine(_), 2..) => "A shelf".to_string(),
        (_, 1) => "The shelf".to_string(),
        (_, n) => format!("The {n} shelves"),
    };
    let (sags, they) = match shelves.starts_with("The ") && count > 1 {
        true => ("sag", "they"),
        false => ("sags", "it"),
    };
    let each = format!("{:.0} kg", sag.carries);
    let (load, for_the_client) = match sag.under {
        Under::Declared => (
            format!("{each} as declared on each metre"),
            format!("{each} on each metre"),
        ),
        Under::Use(load) => {
            let of = match load {
                Load::Books => "of books",
                Load::Clothes => "of clothes",
                Load::Crockery => "of crockery",
                Load::Machines => "of machines",
                Load::Light => "of light things",
            };
            let said = format!("{each} {of} on each metre");
            (said.clone(), said)
        }
        Under::Machine(which) => {
            let machine = job.appliances.get(which.0);
            let name = machine.map_or("", |m| m.name.as_str());
            let mass = machine.and_then(|m| m.mass).unwrap_or_default();
            (
                format!("“{name}”, {mass} kg, spread over it"),
                format!("“{name}” on it"),
            )
        }
    };
    let lipping = match sag.lipping > Length::ZERO {
        true => format!(", with a lipping {} mm deep,", sag.lipping),
        false => String::new(),
    };
    let later = match sag.elastic.creep {
        Some(creep) => format!(
            " and {:.1} mm in time, as {they} will creep ({creep} times as much again)",
            sag.later
        ),
        None => String::new(),
    };
    let text = format!(
        "{shelves} of “{}”, {} mm between supports{lipping}, {sags} {:.1} mm at once{later} under {load}.",
        unit.name, sag.span, sag.now
    );
    let board = job.material(unit.carcass);
    let proxy = match sag.elastic.creep {
        Some(_) => {
            "; creep from EN 1995-1-1 table 3.2, a figure for structural boards and only a proxy for this one"
        }
        None => "; no creep figure is known",
    };
    let in_time = match sag.elastic.creep {
        Some(_) => format!("{:.1} mm in time", sag.later),
        None => format!("{:.1} mm", sag.now),
    };
    let for_client = format!(
        "{shelves} of “{}” will bend by {in_time} in the middle with {for_the_client}. More than {:.1} mm is seen.",
        unit.name,
        limit(job, sag)
    );
    let choice = match helped {
        Some((deep, s)) => format!(
            "A strip {deep} mm deep under the front edge, which brings it to {:.1} mm; a thicker board; or an upright between. Or accept it.",
            s.later
        ),
        None => "A thicker board, an upright between, or lighter things on it. Or accept it."
            .to_string(),
    };
    let limit_told = format!(
        "{:.1} mm, span/{} ({}; common practice, no source); {} {} mm at {:.0} N/mm² ({}){proxy}; loads by use are common practice, no source",
        limit(job, sag),
        job.info.shelf_limit,
        match job.info.declared.shelf_limit {
            true => "as the project declares",
            false => "rodbook's default",
        },
        board.name,
        board.thickness,
        sag.elastic.modulus,
        sag.elastic.source
    );
    let other = ["a thicker board", "an upright between"];
    let advice = match helped {
        Some((deep, s)) => format!(
            "A lipping {deep} mm deep under the front edge brings it to {:.1} mm in time. Otherwise {}.",
            s.later,
            names(&other).replace(" and ", " or ")
        ),
        None => "Take a thicker board, an upright between, or a lighter load; no lipping up to 80 mm helps.".to_string(),
    };
    finding(("shelf-sags", Severity::Warns), subject, unit.place, text)
        .against(limit_told)
        .advise(advice)
        .number(
            in_time.replace(" in time", ""),
            format!("{:.1} mm", limit(job, sag)),
            sag.later,
        )
        .for_client(for_client, choice)
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::units::Length;

    // The shelf worked in reckon::shelves: 800 of MDF under 25 kg/m sags 15.4 mm in time against
    // 800/200 = 4.0; a lipping of 40 brings it to 0.9046·3.25 = 2.94. By hand, one of 30: A 540, axis
    // (48 600 + 540·33)/5940 = 11.18; I = 145 800 + 5400·2.18² + 40 500 + 540·21.82² = 469 100; own
    // weight 4.396 → sag 1.465, 4.76 in time: too much; 35: I = 607 850, 1.143, 3.72: enough.
    #[test]
    fn a_lipping_that_is_deep_enough_is_named() {
        let mut job = fixture::shelves(2);
        let list = found(&job, "shelf-sags");
        assert!(list[0].text.contains("15.4 mm in time"), "{}", list[0].text);
        assert!(list[0].limit.starts_with("4.0 mm"), "{}", list[0].limit);
        assert!(
            list[0].advice.contains("A lipping 35 mm deep"),
            "{}",
            list[0].advice
        );
        job.runs[0].units[0].bays[0].lipping = Length::mm(35);
        assert!(found(&job, "shelf-sags").is_empty());
    }
}
