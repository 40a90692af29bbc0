//! Says which units are cut round something on the wall. Knows notches; must not know what they
//! do to strength.

use super::finding;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            for notch in &at.notches {
                let through = notch.deep >= at.depth;
                let text = format!(
                    "“{}” is notched round the {}: {} mm wide, {} mm high, {} mm deep from its back.",
                    unit.name,
                    notch.what,
                    notch.right - notch.left,
                    notch.top - notch.bottom,
                    notch.deep
                );
                let what = if through {
                    ("notch-through-unit", Severity::Blocks)
                } else {
                    ("unit-notched", Severity::Informs)
                };
                found.push(
                    finding(what, Subject::Unit(r, u), unit.place, text)
                        .against("3 mm clear all round (common practice, no source)")
                        .advise(if through {
                            "Nothing of the unit is left before it: make the unit deeper, or stop short of it."
                        } else {
                            "Check its place and size on site before the notch is cut."
                        })
                        .for_client(
                            format!(
                                "Cut out at the back round the {}, {} mm wide and {} mm deep. You see the cut when \
                                 you look inside.",
                                notch.what,
                                notch.right - notch.left,
                                notch.deep
                            ),
                            if through {
                                "It must become deeper, or end beside it."
                            } else {
                                ""
                            },
                        ),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::Obstruction;
    use crate::units::Length;

    #[test]
    fn a_pipe_in_a_unit() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |out| {
            job.rooms[0].walls[0].obstructions = vec![Obstruction {
                what: "pipe".into(),
                from: Length::mm(500),
                to: Length::mm(600),
                bottom: Length::ZERO,
                top: Length::mm(2440),
                out: Length::mm(out),
            }];
            let informs = found(&job, "unit-notched").len();
            (informs, found(&job, "notch-through-unit").len())
        };
        assert_eq!((with(90), with(577)), ((1, 0), (0, 1)));
    }
}
