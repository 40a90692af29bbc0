//! Where each run's units stand along their wall. Knows openings, ends and shares; must not know
//! what is in a unit or on its front.
//!
//! Units stand carcass to carcass; the gap between fronts is taken inside their faces.

use super::ends::{self, EndWidths};
use super::opening::{self, Edge};
use super::over;
use super::placed::{OpeningAt, RunPiece};
use super::{floor, share};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{Job, Run, Side, Stands};
use crate::units::Length;

/// A unit's outside: along the wall, and from finished floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    pub left: Length,
    pub right: Length,
    pub base: Length,
    pub top: Length,
}

/// A run set out: its opening, its ends, and where its units stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    pub opening: Vec<OpeningAt>,
    pub left: Length,
    pub right: Length,
    pub floor: floor::FloorUnder,
    pub y_back: Length,
    /// Same order as the job's units.
    pub units: Vec<Stand>,
    pub pieces: Vec<RunPiece>,
}

/// Sets out every run. A run whose units stand on another's waits for that one. `None` where
/// something does not fit: why is in `diags`.
pub fn set_out(job: &Job, diags: &mut Diagnostics) -> Vec<Option<Frame>> {
    let mut frames: Vec<Option<Frame>> = vec![None; job.runs.len()];
    let mut waiting: Vec<usize> = (0..job.runs.len()).collect();
    let mut failed = vec![false; job.runs.len()];
    loop {
        let before = waiting.len();
        waiting.retain(|&index| {
            let Some(run) = job.runs.get(index) else {
                return false;
            };
            if waits_for(run, index).any(|r| failed.get(r) == Some(&true)) {
                failed[index] = true;
                return false;
            }
            let ready = waits_for(run, index).all(|r| matches!(frames.get(r), Some(Some(_))));
            if ready {
                frames[index] = set_out_run(job, index, &frames, diags);
                failed[index] = frames[index].is_none();
            }
            !ready
        });
        if waiting.is_empty() || waiting.len() == before {
            break;
        }
    }
    complain_of_circle(job, &waiting, diags);
    frames
}

fn complain_of_circle(job: &Job, waiting: &[usize], diags: &mut Diagnostics) {
    let runs: Vec<&Run> = waiting.iter().filter_map(|i| job.runs.get(*i)).collect();
    let Some(first) = runs.first() else { return };
    let names: Vec<String> = runs.iter().map(|r| format!("“{}”", r.id)).collect();
    let message = format!(
        "the units of these runs stand on one another: {}",
        names.join(", ")
    );
    diags.push(
        Diagnostic::new(Code::Contradiction, first.place, message)
            .label("stands, by way of others, on itself")
            .help("let one of these runs stand on the floor or hang on the wall"),
    );
}

/// Other runs whose units this one's stand on.
fn waits_for(run: &Run, index: usize) -> impl Iterator<Item = usize> + '_ {
    run.units
        .iter()
        .filter_map(|u| u.over.map(|(r, _)| r))
        .filter(move |r| *r != index)
}

fn set_out_run(
    job: &Job,
    index: usize,
    frames: &[Option<Frame>],
    diags: &mut Diagnostics,
) -> Option<Frame> {
    let run = job.runs.get(index)?;
    let wall = job.wall(run.wall);
    let edges = opening::run_edges(&job.rooms, run, wall.length);
    if !ends_on_wall(job, run, &edges, diags) {
        return None;
    }
    let foot = (edges.0.at(Length::ZERO), edges.1.at(Length::ZERO));
    let floor = floor::under(wall, foot.0, foot.1);
    let heights = over::heights(job, index, floor.high, frames, diags)?;
    let base = heights.iter().map(|h| h.0).min().unwrap_or(floor.high);
    let high = heights.iter().map(|h| h.1).max().unwrap_or(floor.high);
    // Plinth, panels and scribes go down to the floor, so there too the opening must be clear.
    let low = match run.units.iter().any(|u| on_floor(u.stands)) {
        true => base.min(floor.high),
        false => base,
    };
    let left = edges.0.narrowest(Side::Left, low, high);
    let right = edges.1.narrowest(Side::Right, low, high);
    let (spans, widths) = if over::all_stand_on_others(run, index) {
        over::spans(job, run, (left, right), frames, diags)?
    } else {
        spans(job, index, (left, right), frames, diags)?
    };
    let units: Vec<Stand> = spans
        .iter()
        .zip(&heights)
        .map(|(x, z)| Stand {
            left: x.0,
            right: x.1,
            base: z.0,
            top: z.1,
        })
        .collect();
    Some(Frame {
        opening: opening::at_heights(&edges, &[low, base, high]),
        left,
        right,
        floor,
        y_back: wall.lining_thickness() + run.off_wall,
        pieces: ends::pieces(job, run, &units, &widths, &edges),
        units,
    })
}

/// A given end must be on the wall, clear of the lining of the wall round the corner.
fn ends_on_wall(
    job: &Job,
    run: &Run,
    edges: &(Edge<'_>, Edge<'_>),
    diags: &mut Diagnostics,
) -> bool {
    let wall = job.wall(run.wall);
    let clear = (
        opening::wall_edge(&job.rooms, run.wall, wall.length, Side::Left).at(Length::ZERO),
        opening::wall_edge(&job.rooms, run.wall, wall.length, Side::Right).at(Length::ZERO),
    );
    let (left, right) = (edges.0.at(Length::ZERO), edges.1.at(Length::ZERO));
    let complaint = if left < clear.0 {
        format!(
            "begins at {left} mm, but the wall is clear only from {} mm",
            clear.0
        )
    } else if right > clear.1 {
        format!(
            "ends at {right} mm, but the wall is clear only to {} mm",
            clear.1
        )
    } else if left >= right {
        format!("begins at {left} mm and ends at {right} mm: nothing lies between")
    } else {
        return true;
    };
    diags.push(
        Diagnostic::new(
            Code::OffTheWall,
            run.place,
            format!("run “{}” {complaint}", run.id),
        )
        .label(format!(
            "on wall {}, {} mm long",
            job.wall_id(run.wall),
            wall.length
        ))
        .help("leave out `from` or `to` to let the run go into the corner, less linings and lean"),
    );
    false
}

type Span = (Length, Length);

/// Units that stand by themselves share the opening, less the ends; w = (W − Σ fixed − Σ panels −
/// Σ fillers − Σ scribes)/k, rounded down to 0.5 mm (handbook §1). What is left goes to a filler, else to a
/// scribe, else it stays clear, at the end the run is not fitted from (the right one unless the project
/// says otherwise) before the other. A unit over another of this or another run takes its place and, by default,
/// its width, and uses up none of the opening.
fn spans(
    job: &Job,
    index: usize,
    (left, right): Span,
    frames: &[Option<Frame>],
    diags: &mut Diagnostics,
) -> Option<(Vec<Span>, (EndWidths, EndWidths))> {
    let run = job.runs.get(index)?;
    let mut ends = (ends::widths(job, &run.left), ends::widths(job, &run.right));
    let standing = run.units.iter().filter(|u| u.over.is_none());
    let wanted: Vec<Option<Length>> = standing.map(|u| u.width).collect();
    let space = right - left - ends.0.total() - ends.1.total();
    let shares = match share::share(space, &wanted, Length::ZERO) {
        Ok(shares) if shares.sizes.iter().all(|w| *w > Length::ZERO) => shares,
        Ok(_) => {
            diags.push(too_wide(
                run,
                "leave nothing for those that share the width",
                right - left,
            ));
            return None;
        }
        Err(missing) => {
            let how = format!("are {missing} mm too wide for their opening");
            diags.push(too_wide(run, &how, right - left));
            return None;
        }
    };
    let clear = ends::take_up(&mut ends, shares.left_over, run.far());
    let mut x = left + clear + ends.0.total();
    let mut sizes = shares.sizes.into_iter();
    let mut placed: Vec<Option<Span>> = Vec::with_capacity(run.units.len());
    for unit in &run.units {
        placed.push(unit.over.is_none().then(|| {
            let from = x;
            x += sizes.next().unwrap_or_default();
            (from, x)
        }));
    }
    over::place_on_own(run, index, &mut placed, frames);
    let spans: Option<Vec<Span>> = placed.into_iter().collect();
    Some((spans?, ends))
}

pub fn too_wide(run: &Run, how: &str, opening: Length) -> Diagnostic {
    Diagnostic::new(
        Code::UnitsTooWide,
        run.place,
        format!("the units and ends of run “{}” {how}", run.id),
    )
    .label(format!("the opening is {opening} mm wide at its narrowest"))
    .help("make a unit, filler, scribe or panel narrower, or let a unit share: leave out its width")
}

/// Whether a unit stands on the floor, on feet in view or hidden.
pub fn on_floor(stands: Stands) -> bool {
    matches!(stands, Stands::Plinth | Stands::Feet)
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    fn frame(job: &Job) -> Frame {
        let mut diags = Diagnostics::default();
        let frames = set_out(job, &mut diags);
        assert!(diags.is_empty(), "{:?}", diags.sorted());
        frames.into_iter().next().unwrap().unwrap()
    }

    // Handbook §1 "shared widths", worked by hand: opening 3000; scribe 20 each side, right panel
    // 22, one unit of 600, three that share: (3000 − 20 − 20 − 22 − 600)/3 = 779.33 → 779; the 1 mm
    // left goes to the right scribe, there being no filler.
    #[test]
    fn shares_fill_the_opening_and_the_rest_goes_to_a_scribe() {
        let mut job = fixture::job([3000, 3000, 3000, 3000]);
        let mut run = fixture::run(4);
        run.units[1].width = Some(Length::mm(600));
        run.left.scribe = Some(Length::mm(20));
        run.right.scribe = Some(Length::mm(20));
        run.right.panel = Some(fixture::FRONT);
        job.runs = vec![run];
        let frame = frame(&job);
        let widths: Vec<Length> = frame.units.iter().map(|u| u.right - u.left).collect();
        assert_eq!(widths, [779, 600, 779, 779].map(Length::mm));
        assert_eq!(frame.units[0].left, Length::mm(20));
        let last = frame.pieces.last().unwrap();
        assert_eq!(last.right, Length::mm(3000));
        assert_eq!(last.right - last.left, Length::mm(21));
    }

    #[test]
    fn the_rest_goes_to_the_right_filler_before_the_left_and_before_scribes() {
        let mut job = fixture::job([1000, 3000, 1000, 3000]);
        let mut run = fixture::run(3);
        run.left.filler = Some(Length::mm(40));
        run.right.scribe = Some(Length::mm(20));
        job.runs = vec![run];
        // (1000 − 60)/3 = 313.33 → 313; 1 left over goes to the left filler.
        let got = frame(&job);
        assert_eq!(got.units[0].left, Length::mm(41));
        job.runs[0].right.filler = Some(Length::mm(30));
        // (1000 − 90)/3 = 303.33 → 303; 1 left over goes to the right filler.
        let got = frame(&job);
        assert_eq!(got.units[0].left, Length::mm(40));
        assert_eq!(got.units[2].right, Length::mm(949));
    }

    #[test]
    fn units_too_wide_say_by_how_much() {
        let mut job = fixture::job([1000, 3000, 1000, 3000]);
        let mut run = fixture::run(2);
        run.units[0].width = Some(Length::mm(700));
        run.units[1].width = Some(Length::mm(400));
        job.runs = vec![run];
        let mut diags = Diagnostics::default();
        assert_eq!(set_out(&job, &mut diags), vec![None]);
        let list = diags.sorted();
        assert_eq!(list[0].code, Code::UnitsTooWide);
        assert!(
            list[0].message.contains("100 mm too wide"),
            "{}",
            list[0].message
        );
    }

    #[test]
    fn a_run_off_its_wall_or_in_the_lining_is_refused() {
        let mut job = fixture::job([1000, 3000, 1000, 3000]);
        job.rooms[0].walls[3].linings = fixture::lining(12_500);
        for (from, to) in [(Some(10), None), (None, Some(1001)), (Some(600), Some(500))] {
            let mut run = fixture::run(1);
            run.from = from.map(Length::mm);
            run.to = to.map(Length::mm);
            job.runs = vec![run];
            let mut diags = Diagnostics::default();
            assert_eq!(set_out(&job, &mut diags), vec![None]);
            assert_eq!(diags.sorted()[0].code, Code::OffTheWall);
        }
    }

    // Heights in the file start from the highest floor under the run: handbook §1 "floor".
    #[test]
    fn heights_start_from_the_highest_floor_under_the_run() {
        let mut job = fixture::job([3000, 3000, 3000, 3000]);
        job.rooms[0].walls[0].floor = fixture::line(&[(0, -4), (3000, -10)]);
        job.runs = vec![fixture::run(2)];
        let got = frame(&job);
        assert_eq!(got.floor.high, Length::mm(-4));
        assert_eq!(got.floor.low, Length::mm(-10));
        assert_eq!(got.units[0].base, Length::mm(96));
    }
}
