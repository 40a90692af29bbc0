//! Tops that lie on a run. Knows the run's units, ends and fronts; must not know how a top is cut
//! from its sheet.

use super::placed::{PlacedCutout, PlacedFront, PlacedRun, PlacedUnit, PlacedWorktop};
use super::setting_out::on_floor;
use super::{built_up, mass, opening};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{Job, Side, Worktop};
use crate::units::{Length, Mass};

/// An end nearer than this to what stands beside it is not seen (common practice, no source).
const HIDDEN: Length = Length::mm(50);

/// Places every worktop: over the run's units on the floor and the ends beside them, with its
/// overhangs; from the lining to the fronts' face and the front overhang.
pub fn place(
    job: &Job,
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
    diags: &mut Diagnostics,
) -> Vec<PlacedWorktop> {
    if runs.len() != job.runs.len() {
        return Vec::new();
    }
    job.worktops
        .iter()
        .filter_map(|top| one(job, runs, fronts, top, diags))
        .collect()
}

fn one(
    job: &Job,
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
    top: &Worktop,
    diags: &mut Diagnostics,
) -> Option<PlacedWorktop> {
    let run = runs.get(top.run)?;
    // A unit that could not be placed has its own error.
    if run.units.len() != job.runs.get(top.run)?.units.len() {
        return None;
    }
    let under: Vec<&PlacedUnit> = run.units.iter().filter(|u| on_floor(u.stands)).collect();
    let bottom = under.iter().map(|u| u.top).max();
    let Some(bottom) = bottom.filter(|z| under.iter().all(|u| u.top == *z)) else {
        let what = format!("worktop “{}” has no level row of units to lie on", top.id);
        diags.push(
            Diagnostic::new(Code::Contradiction, top.place, what)
                .help("give the run's units on the floor one top height, or put the tall ones into a run of their own"),
        );
        return None;
    };
    let strips = run.pieces.iter().filter(|p| p.bottom < bottom);
    let left = under
        .iter()
        .map(|u| u.left)
        .chain(strips.clone().map(|p| p.left))
        .min()?;
    let right = under
        .iter()
        .map(|u| u.right)
        .chain(strips.map(|p| p.right))
        .max()?;
    let (left, right) = (left - top.left, right + top.right);
    let faces = under
        .iter()
        .flat_map(|u| &u.fronts)
        .filter_map(|i| fronts.get(*i));
    let carcasses = under.iter().map(|u| run.y_back + u.depth);
    let y_front = faces.map(|f| f.y_face).chain(carcasses).max()? + top.front;
    let y_back = job.wall(run.wall).lining_thickness();
    let slab = job.material(top.material).thickness;
    let seen = [Side::Left, Side::Right];
    let seen = seen
        .iter()
        .filter(|s| is_seen(job, runs, run, (left, right), bottom, **s));
    let size = (right - left, y_front - y_back);
    let built_up = built_up::build_up((top.edge, slab), size, seen.count());
    let cutouts = top
        .cutouts
        .iter()
        .map(|c| {
            let centre = left + c.at;
            let front = y_front - c.from_front;
            PlacedCutout {
                what: c.what.clone(),
                left: centre - c.width.half(),
                right: centre - c.width.half() + c.width,
                y_back: front - c.depth,
                y_front: front,
                radius: c.radius,
            }
        })
        .collect();
    let mut placed = PlacedWorktop {
        wall: run.wall,
        left,
        right,
        bottom,
        top: bottom + top.edge,
        y_back,
        y_front,
        upstand_top: Length::ZERO,
        slab,
        built_up,
        cutouts,
        mass: Mass::default(),
    };
    placed.upstand_top = placed.top + top.upstand;
    placed.mass = weigh(job, top, &placed);
    cutouts_inside(top, &placed, diags).then_some(placed)
}

/// Whether neither a wall nor another run hides that end of a top.
fn is_seen(
    job: &Job,
    runs: &[PlacedRun],
    run: &PlacedRun,
    (left, right): (Length, Length),
    bottom: Length,
    side: Side,
) -> bool {
    let corner = opening::wall_edge(&job.rooms, run.wall, job.wall(run.wall).length, side);
    let corner = corner.at(bottom);
    let gap = match side {
        Side::Left => left - corner,
        Side::Right => corner - right,
    };
    let beside = runs
        .iter()
        .filter(|r| r.wall == run.wall)
        .flat_map(|r| &r.units);
    let mut beside = beside
        .filter(|u| u.base <= bottom && u.top > bottom)
        .map(|u| match side {
            Side::Left => (left - u.right).abs(),
            Side::Right => (u.left - right).abs(),
        });
    gap >= HIDDEN && !beside.any(|gap| gap < HIDDEN)
}

/// Slab less cut-outs, upstand, and the strips that build up its edge.
fn weigh(job: &Job, top: &Worktop, placed: &PlacedWorktop) -> Mass {
    let material = job.material(top.material);
    let length = placed.right - placed.left;
    let slab = mass::board(length, placed.y_front - placed.y_back, material);
    let upstand = mass::board(length, top.upstand, material);
    let strips = placed.built_up.as_ref();
    let strips = strips.map_or(Mass::default(), |b| built_up::weigh(b, material));
    let cut = placed.cutouts.iter().fold(0, |sum: i64, c| {
        let gone = mass::board(c.right - c.left, c.y_front - c.y_back, material);
        sum.saturating_add(gone.in_grams())
    });
    let whole = slab + upstand + strips;
    Mass::grams((whole.in_grams() - cut).max(0))
}

fn cutouts_inside(top: &Worktop, placed: &PlacedWorktop, diags: &mut Diagnostics) -> bool {
    let mut good = true;
    for (given, cut) in top.cutouts.iter().zip(&placed.cutouts) {
        let inside = cut.left > placed.left
            && cut.right < placed.right
            && cut.y_back > placed.y_back
            && cut.y_front < placed.y_front
            && cut.left < cut.right
            && cut.y_back < cut.y_front;
        if !inside {
            let what = format!(
                "the cut-out “{}” is not inside worktop “{}”",
                cut.what, top.id
            );
            let size = format!(
                "the top is {} × {} mm; the cut-out is {} × {} mm, its centre {} mm from the left",
                placed.right - placed.left,
                placed.y_front - placed.y_back,
                given.width,
                given.depth,
                given.at
            );
            diags.push(
                Diagnostic::new(Code::Contradiction, given.place, what)
                    .label(size)
                    .help("`at` is its centre from the worktop's left end; `from_front` its front edge from the worktop's"),
            );
            good = false;
        }
    }
    good
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Place;
    use crate::resolve::job::{Cutout, FrontKind};

    fn job() -> Job {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].walls[0].linings = fixture::lining(10_000);
        let mut run = fixture::run(2);
        run.to = Some(Length::mm(1440));
        run.left.scribe = Some(Length::mm(20));
        for unit in &mut run.units {
            unit.top = Length::mm(870);
            unit.rows = vec![fixture::row(None, FrontKind::Door, 2)];
        }
        job.runs = vec![run];
        job.worktops = vec![Worktop {
            front: Length::mm(25),
            right: Length::mm(10),
            cutouts: vec![Cutout {
                what: "sink".into(),
                at: Length::mm(900),
                width: Length::mm(520),
                depth: Length::mm(400),
                from_front: Length::mm(85),
                radius: Length::mm(12),
                place: Place::NOWHERE,
            }],
            ..fixture::worktop(30)
        }];
        job
    }

    // By hand: 0..1440 + 10; depth from the lining, 10, to 10 + 580 + 22 + 25 = 637; bottom 870.
    // Cut-out 640..1160, its front 637 − 85 = 552, its back 152. The edge is 18 and a strip 12 high on edge,
    // along the front and back from it along the right end, which no wall hides. Mass, 18 of 680: (1.45·0.627 −
    // 0.52·0.4)·0.018·680 + (1.45 + 0.609)·0.018·0.012·680 = 8.885 kg.
    #[test]
    fn a_top_lies_on_the_whole_run() {
        let got = reckon(&job(), &mut Diagnostics::default()).unwrap();
        let top = &got.worktops[0];
        assert_eq!((top.left, top.right), (Length::ZERO, Length::mm(1450)));
        assert_eq!((top.y_back, top.y_front), (Length::mm(10), Length::mm(637)));
        assert_eq!((top.bottom, top.top), (Length::mm(870), Length::mm(900)));
        let cut = &top.cutouts[0];
        assert_eq!((cut.left, cut.right), (Length::mm(640), Length::mm(1160)));
        assert_eq!(
            (cut.y_back, cut.y_front),
            (Length::mm(152), Length::mm(552))
        );
        assert_eq!(top.mass.to_string(), "8.9");
        let strips = top.built_up.as_ref().map(|b| b.lengths.clone());
        assert_eq!(strips, Some(vec![Length::mm(1450), Length::mm(609)]));
    }

    #[test]
    fn a_cutout_off_the_top_and_a_top_on_uneven_units_are_refused() {
        let mut wrong = job();
        wrong.worktops[0].cutouts[0].at = Length::mm(1300);
        let mut diags = Diagnostics::default();
        assert!(reckon(&wrong, &mut diags).is_none());
        assert_eq!(diags.sorted()[0].code, Code::Contradiction);
        let mut wrong = job();
        wrong.runs[0].units[1].top = Length::mm(1200);
        let mut diags = Diagnostics::default();
        assert!(reckon(&wrong, &mut diags).is_none());
        assert_eq!(diags.sorted()[0].code, Code::Contradiction);
    }
}
