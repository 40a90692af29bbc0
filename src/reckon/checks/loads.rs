//! Feet and rails that are asked to carry more than they are rated for, and what is asked of the wall.
//! Knows ratings; must not choose a fixing.

use super::{finding, names};
use crate::reckon::bending::GRAVITY;
use crate::reckon::loads::{Loads, WallLoad};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject, Unit};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, all)) in job.runs.iter().zip(&reckoned.loads).enumerate() {
        for (u, (unit, loads)) in run.units.iter().zip(all).enumerate() {
            let subject = Subject::Unit(r, u);
            found.extend(feet(unit, subject.clone(), loads));
            found.extend(rail(unit, subject.clone(), loads));
            found.extend(rail_sag(job, unit, subject, loads));
        }
    }
    on_wall(job, reckoned, found);
}

/// A unit that the wall must hold: where it is in the job, what it pulls at most, N, and that in words.
type OnWall<'a> = ((usize, usize), &'a Unit, u32, String);

/// What is asked of the walls, each kind told once for the whole job.
fn on_wall(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    let (mut hung, mut held): (Vec<OnWall>, Vec<OnWall>) = (Vec::new(), Vec::new());
    for (r, (run, all)) in job.runs.iter().zip(&reckoned.loads).enumerate() {
        for (u, (unit, loads)) in run.units.iter().zip(all).enumerate() {
            match loads.wall {
                Some(WallLoad::Hung { down, out, .. }) => {
                    let said = format!("{} {down} N down and {out} N out", unit.id);
                    hung.push(((r, u), unit, down.max(out), said));
                }
                Some(WallLoad::Held { out }) => {
                    held.push(((r, u), unit, out, format!("{} {out} N", unit.id)));
                }
                None => {}
            }
        }
    }
    for (units, hang, what, limit) in [
        (
            hung,
            true,
            "Hung on the wall, loaded, at the top",
            "the unit and what it may come to hold, its fronts open; moments about the foot of its back",
        ),
        (
            held,
            false,
            "To be held to the wall near the top, against tipping",
            "a pull of 250 N at 1500 mm up, or at the top of what is lower, fronts open where it has any and the unit empty; 200 N at the least (common practice, no source)",
        ),
    ] {
        let Some((_, first, ..)) = units.first() else {
            continue;
        };
        let said: Vec<&str> = units.iter().map(|(.., s)| s.as_str()).collect();
        let worst = units.iter().map(|(_, _, pull, _)| *pull).max();
        let worst = worst.unwrap_or_default();
        let pulls = f64::from(worst);
        let one = finding(
            ("wall-fixing-load", Severity::Informs),
            Subject::Job,
            first.place,
            format!("{what}: {}.", names(&said)),
        )
        .against(limit)
        .of_each(units.iter().map(|((r, u), ..)| Subject::Unit(*r, *u)))
        .number(
            format!("{worst} N, about the weight of {:.0} kg", pulls / GRAVITY),
            "",
            pulls,
        )
        .advise("Choosing the fixings needs somebody competent who has seen the wall: what it is made of, and what runs in it. Follow their makers' instructions.");
        found.push(match hang {
            false => one,
            true => one.for_client(hanging(&units), ""),
        });
    }
}

/// `“Wall cupboard” hangs on the wall, and can fall if the wall does not hold it.`
fn hanging(units: &[OnWall]) -> String {
    let said = units.iter().map(|(_, unit, ..)| format!("“{}”", unit.name));
    let said: Vec<String> = said.collect();
    let said: Vec<&str> = said.iter().map(String::as_str).collect();
    let (hang, it) = match said.len() {
        1 => ("hangs", "it"),
        _ => ("hang", "them"),
    };
    format!(
        "{} {hang} on the wall, and can fall if the wall does not hold {it}.",
        names(&said)
    )
}

fn feet(unit: &Unit, subject: Subject, loads: &Loads) -> Option<Finding> {
    let feet = loads.feet?;
    let rating = feet.rating.filter(|r| feet.most > *r)?;
    let text = format!(
        "Loaded, “{}” comes to {} kg on {} feet, and {} kg of that on one; each carries {rating} kg.",
        unit.name, feet.whole, feet.feet, feet.most
    );
    Some(
        finding(("foot-overloaded", Severity::Warns), subject, unit.place, text)
            .against("what its hardware states; contents by the unit's load on every shelf, the bottom and in every drawer (common practice, no source)")
            .advise("Take a foot that carries more, or more of them."),
    )
}

fn rail(unit: &Unit, subject: Subject, loads: &Loads) -> Option<Finding> {
    let over = |l: &&crate::reckon::loads::RailLoad| l.rating.is_some_and(|r| l.load > r);
    let worst = loads.rails.iter().filter(over).max_by_key(|l| l.load)?;
    let rating = worst.rating?;
    let text = format!(
        "A rail of “{}” spans {} mm: full of clothes that is {} kg, and it carries {rating} kg.",
        unit.name, worst.span, worst.load
    );
    Some(
        finding(
            ("rail-overloaded", Severity::Warns),
            subject,
            unit.place,
            text,
        )
        .against(
            "what its hardware states; 35 kg of clothes on a metre (common practice, no source)",
        )
        .advise("Take a stronger rail, a bracket in its middle, or an upright between.")
        .for_client(
            format!(
                "A clothes rail of “{}”, {} mm long, comes to {} kg when it is full, and is made for {rating} kg.",
                unit.name, worst.span, worst.load
            ),
            "A stronger rail, a bracket in its middle, or an upright between.",
        ),
    )
}

fn rail_sag(job: &Job, unit: &Unit, subject: Subject, loads: &Loads) -> Option<Finding> {
    let worst = loads.rails.iter().max_by(|a, b| a.sag.total_cmp(&b.sag))?;
    let limit = worst.span.in_mm() / f64::from(job.info.shelf_limit.max(1));
    if worst.sag <= limit {
        return None;
    }
    let text = format!(
        "A rail of “{}” spans {} mm and sags {:.1} mm in its middle under 35 kg of clothes on each metre.",
        unit.name, worst.span, worst.sag
    );
    let (stiffness, declared) = worst.stiffness;
    let of = match declared {
        true => "as the project declares",
        false => "rodbook's default, a round steel tube 25 by 1 (from memory)",
    };
    let choice = "A bracket in its middle, a stiffer rail, or an upright between.";
    Some(
        finding(("rail-sags", Severity::Warns), subject, unit.place, text)
            .against(format!(
                "{limit:.1} mm, span/{} as for shelves (common practice, no source); {stiffness} N·m² ({of}); 35 kg of \
                 clothes on a metre (common practice, no source)",
                job.info.shelf_limit
            ))
            .advise(choice)
            .for_client(
                format!(
                    "A clothes rail of “{}”, {} mm long, will bend by {:.1} mm in the middle when it is full. We keep \
                     to {limit:.1} mm: more is seen.",
                    unit.name, worst.span, worst.sag
                ),
                format!("{choice} Or accept it."),
            ),
    )
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::Stands;
    use crate::units::{Length, Mass};

    // The carcass worked in reckon::loads: 17.78 kg on a foot.
    #[test]
    fn feet_and_rails_within_and_over_their_rating() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].shelves = 1;
        let mut with = |grams| {
            job.hardware[fixture::FOOT.0].rating = Some(Mass::grams(grams));
            found(&job, "foot-overloaded")
        };
        assert!(with(18_000).is_empty());
        assert!(
            with(17_000)[0]
                .text
                .contains("17.8 kg of that on one; each carries 17.0 kg")
        );
        // 564 mm at 35 kg/m: 19.74 kg.
        job.runs[0].units[0].bays[0].rails = vec![Length::mm(1700)];
        let rail = fixture::RUNNER.0 + 1;
        let mut with = |grams| {
            job.hardware[rail].rating = Some(Mass::grams(grams));
            found(&job, "rail-overloaded").len()
        };
        assert_eq!((with(19_000), with(20_000)), (1, 0));
    }

    // By hand: 1164 of rail under 35 kg/m: 5·0.343233·1164⁴/(384·1140·10⁶) = 7.197 mm over 1164/200 =
    // 5.82; twice as stiff it is 3.60. One of 564 sags 0.4 of 2.8.
    #[test]
    fn a_long_rail_sags() {
        let job = |wide, stiffness| {
            let mut job = fixture::job([wide, 3000, wide, 3000]);
            job.runs = vec![fixture::run(1)];
            job.runs[0].units[0].bays[0].rails = vec![Length::mm(1700)];
            job.hardware[fixture::RUNNER.0 + 1].stiffness = stiffness;
            job
        };
        let list = found(&job(1200, None), "rail-sags");
        assert!(
            list[0].text.contains("1164 mm and sags 7.2 mm"),
            "{}",
            list[0].text
        );
        assert!(list[0].limit.starts_with("5.8 mm"), "{}", list[0].limit);
        assert!(found(&job(1200, Some(2280)), "rail-sags").is_empty());
        assert!(found(&job(600, None), "rail-sags").is_empty());
    }

    #[test]
    fn the_wall_is_told_what_it_must_hold() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].shelves = 1;
        let list = found(&job, "wall-fixing-load");
        assert!(list[0].text.contains("U1 200 N"), "{}", list[0].text);
        assert!(list[0].advice.contains("competent"));
        // Of two runs it is one finding, about each unit.
        let mut second = fixture::run(1);
        second.id = "second".into();
        second.wall.wall = 1;
        second.units[0].id = "V1".into();
        second.from = Some(crate::units::Length::mm(900));
        job.runs.push(second);
        let both = found(&job, "wall-fixing-load");
        assert_eq!((both.len(), both[0].about.len()), (1, 2));
        assert_eq!(both[0].subject, crate::resolve::job::Subject::Job);
        job.runs.pop();
        job.runs[0].units[0].stands = Stands::Wall;
        let list = found(&job, "wall-fixing-load");
        assert!(
            list[0].text.contains("U1 700 N down and 110 N out"),
            "{}",
            list[0].text
        );
    }
}
