//! Units that stand on other units. Knows how they take place and height from what is beneath;
//! must not know openings but by their narrowest.

use super::ends::{self, EndWidths};
use super::profile;
use super::setting_out::{Frame, too_wide};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{Job, Run, Side};
use crate::units::Length;

type Span = (Length, Length);

/// Whether every unit of the run stands on a unit of another run.
pub fn all_stand_on_others(run: &Run, index: usize) -> bool {
    !run.units.is_empty()
        && run
            .units
            .iter()
            .all(|u| u.over.is_some_and(|o| o.0 != index))
}

/// Base and top of each unit from finished floor. A unit over another starts exactly at the top
/// of that one and keeps its own height; in the file both heights must say the same.
pub fn heights(
    job: &Job,
    index: usize,
    floor_high: Length,
    frames: &[Option<Frame>],
    diags: &mut Diagnostics,
) -> Option<Vec<Span>> {
    let run = job.runs.get(index)?;
    let mut found: Vec<Option<Span>> = run
        .units
        .iter()
        .map(|u| {
            u.over
                .is_none()
                .then(|| (floor_high + u.base, floor_high + u.top))
        })
        .collect();
    loop {
        let mut progress = false;
        for (i, unit) in run.units.iter().enumerate() {
            let (None, Some((r, u))) = (found.get(i).copied().flatten(), unit.over) else {
                continue;
            };
            let beneath = if r == index {
                found.get(u).copied().flatten().map(|z| z.1)
            } else {
                stand(frames, (r, u)).map(|s| s.top)
            };
            if let (Some(base), Some(slot)) = (beneath, found.get_mut(i)) {
                *slot = Some((base, base + (unit.top - unit.base)));
                progress = true;
            }
        }
        if !progress {
            break;
        }
    }
    let mut good = true;
    for (unit, found) in run.units.iter().zip(&found) {
        if found.is_none() {
            let message = format!("unit “{}” stands, by way of others, on itself", unit.id);
            diags.push(
                Diagnostic::new(Code::Contradiction, unit.place, message)
                    .help("let one of the units stand on the floor or hang on the wall"),
            );
            good = false;
        }
        let beneath = unit
            .over
            .and_then(|(r, u)| job.runs.get(r).and_then(|run| run.units.get(u)));
        if let Some(under) = beneath.filter(|under| under.top != unit.base) {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    unit.place,
                    format!(
                        "unit “{}” begins at {} mm, but stands on “{}”, which ends at {} mm",
                        unit.id, unit.base, under.id, under.top
                    ),
                )
                .label("these two heights must be the same")
                .also(under.place, "it stands on this one")
                .help(format!("write `base = {}` for the upper one", under.top)),
            );
            good = false;
        }
    }
    let all: Option<Vec<Span>> = found.into_iter().collect();
    all.filter(|_| good)
}

/// Gives the units over others, in a run where others stand by themselves, their place.
pub fn place_on_own(
    run: &Run,
    index: usize,
    placed: &mut [Option<Span>],
    frames: &[Option<Frame>],
) {
    loop {
        let mut progress = false;
        for (i, unit) in run.units.iter().enumerate() {
            let (None, Some((r, u))) = (placed.get(i).copied().flatten(), unit.over) else {
                continue;
            };
            let beneath = if r == index {
                placed.get(u).copied().flatten()
            } else {
                stand(frames, (r, u)).map(|s| (s.left, s.right))
            };
            if let (Some((left, right)), Some(slot)) = (beneath, placed.get_mut(i)) {
                *slot = Some((left, unit.width.map_or(right, |w| left + w)));
                progress = true;
            }
        }
        if !progress {
            break;
        }
    }
}

/// Places a run whose units all stand on another run's. Each takes left, right from the unit
/// beneath; one without a width of its own gives way to this run's ends, keeping its inner edge on
/// the joint beneath and a width of whole half-millimetres. The ends stand against the units, and
/// filler, else scribe, takes what remains to the opening.
pub fn spans(
    job: &Job,
    run: &Run,
    (left, right): Span,
    frames: &[Option<Frame>],
    diags: &mut Diagnostics,
) -> Option<(Vec<Span>, (EndWidths, EndWidths))> {
    let mut ends = (ends::widths(job, &run.left), ends::widths(job, &run.right));
    let (low, high) = (left + ends.0.total(), right - ends.1.total());
    let mut spans = Vec::with_capacity(run.units.len());
    for unit in &run.units {
        let beneath = stand(frames, unit.over?)?;
        let (mut from, mut to) = (beneath.left, beneath.right);
        match unit.width {
            Some(width) => to = from + width,
            None => {
                let (cut_left, cut_right) = (from < low, to > high);
                from = from.max(low);
                to = to.min(high);
                let width = profile::down(to - from);
                let whole = cut_left == cut_right;
                if cut_left && !cut_right || whole && run.far() == Side::Left {
                    from = to - width;
                } else {
                    to = from + width;
                }
            }
        }
        let over = (low - from).max(to - high).max(from - to);
        if over > Length::ZERO || to <= from {
            let how = format!("are {over} mm too wide for their opening");
            diags.push(too_wide(run, &how, right - left));
            return None;
        }
        spans.push((from, to));
    }
    let first = spans.iter().map(|s| s.0).min().unwrap_or(low);
    let last = spans.iter().map(|s| s.1).max().unwrap_or(high);
    ends.0.take(first - low);
    ends.1.take(high - last);
    Some((spans, ends))
}

fn stand(
    frames: &[Option<Frame>],
    (run, unit): (usize, usize),
) -> Option<super::setting_out::Stand> {
    frames.get(run)?.as_ref()?.units.get(unit).copied()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::super::setting_out::set_out;
    use super::*;
    use crate::resolve::job::Stands;

    fn stacked() -> Job {
        let mut job = fixture::job([1062, 3000, 1062, 3000]);
        job.rooms[0].walls[3].linings = fixture::lining(3_000);
        job.rooms[0].walls[3].plumb = fixture::line(&[(0, 0), (2300, 4)]);
        let lower = fixture::run(1);
        let mut upper = fixture::run(1);
        upper.id = "upper".into();
        upper.left.scribe = Some(Length::mm(5));
        upper.right.scribe = Some(Length::mm(5));
        upper.units[0].over = Some((0, 0));
        upper.units[0].stands = Stands::Unit;
        upper.units[0].base = lower.units[0].top;
        upper.units[0].top = lower.units[0].top + Length::mm(500);
        job.runs = vec![upper, lower];
        job.runs[0].units[0].over = Some((1, 0));
        job
    }

    // By hand. Lower: top at 2000, lean there 4·2000/2300 = 3.478, so left = 3 + 3.478 → 6.5;
    // width 1062 − 6.5 = 1055.5. Upper, to 2500: lean 4, left 7, + scribe 5 = 12; right 1057.
    #[test]
    fn a_run_over_another_gives_way_to_its_own_ends() {
        let job = stacked();
        let mut diags = Diagnostics::default();
        let frames = set_out(&job, &mut diags);
        assert!(diags.is_empty(), "{:?}", diags.sorted());
        let lower = frames[1].as_ref().unwrap();
        assert_eq!(lower.units[0].left, Length::um(6_500));
        assert_eq!(lower.units[0].right, Length::mm(1062));
        let upper = frames[0].as_ref().unwrap();
        assert_eq!(upper.units[0].left, Length::mm(12));
        assert_eq!(upper.units[0].right, Length::mm(1057));
        assert_eq!(upper.units[0].base, lower.units[0].top);
        assert_eq!(upper.pieces.len(), 2);
    }

    #[test]
    fn heights_that_disagree_and_circles_are_refused() {
        let mut job = stacked();
        job.runs[0].units[0].base += Length::mm(1);
        let mut diags = Diagnostics::default();
        set_out(&job, &mut diags);
        assert_eq!(diags.sorted()[0].code, Code::Contradiction);

        let mut job = stacked();
        job.runs[1].units[0].over = Some((0, 0));
        let mut diags = Diagnostics::default();
        assert_eq!(set_out(&job, &mut diags), vec![None, None]);
        assert_eq!(diags.sorted().len(), 1, "one message, not one for each");
    }
}
