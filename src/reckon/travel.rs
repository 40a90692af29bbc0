//! How far a drawer comes out. Knows runners and carcass depths; must not know what is before it.

use crate::resolve::job::{FrontCell, FrontKind, HardwareKind, HardwareRef, Job, Lay, Unit};
use crate::units::Length;

/// Between the lengths runners are made in (common practice, no source).
const STEP: Length = Length::mm(50);

/// Of a front: zero unless it is a drawer's.
pub fn of_front(job: &Job, unit: &Unit, cell: &FrontCell) -> Length {
    if cell.kind != FrontKind::Drawer {
        return Length::ZERO;
    }
    let inset = match cell.style.lay {
        Lay::Inset => job.material(cell.style.material).thickness,
        Lay::Overlay => Length::ZERO,
    };
    travel(job, unit, cell.style.runner, inset)
}

/// Of an inner drawer on this runner, or on the first of the file.
pub fn of_inner(job: &Job, unit: &Unit, runner: Option<HardwareRef>) -> Length {
    travel(job, unit, runner.or_else(|| usual(job)), Length::ZERO)
}

/// The runner of a drawer that names none: the first of the file.
pub fn usual(job: &Job) -> Option<HardwareRef> {
    let is = |h: &crate::resolve::job::Hardware| h.kind == HardwareKind::Runner;
    job.hardware.iter().position(is).map(HardwareRef)
}

/// Length of the longest runner, by fifties, that goes into the carcass before its back and behind a
/// front let in so far (common practice, no source).
pub fn runner(job: &Job, unit: &Unit, inset: Length) -> Length {
    let back = unit
        .back
        .map_or(Length::ZERO, |b| job.material(b).thickness);
    let clear = (unit.depth - back - inset).max(Length::ZERO);
    match clear < STEP {
        true => clear,
        false => clear.floor_to(STEP),
    }
}

/// As the runner says; else all of its length.
fn travel(job: &Job, unit: &Unit, runner: Option<HardwareRef>, inset: Length) -> Length {
    let declared = runner
        .and_then(|r| job.hardware.get(r.0))
        .and_then(|h| h.travel);
    declared.unwrap_or_else(|| self::runner(job, unit, inset))
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    // By hand: the fixture's carcass is 580 deep with a back of 9: 571, so runners of 550; an inset
    // front of 22 leaves 549, so 500. Declared: as declared.
    #[test]
    fn the_longest_runner_that_goes_in() {
        let mut job = fixture::job([3000; 4]);
        let unit = fixture::run(1).units.remove(0);
        let mut cell = fixture::row(None, FrontKind::Drawer, 1).cells.remove(0);
        assert_eq!(of_front(&job, &unit, &cell), Length::mm(550));
        cell.style.lay = Lay::Inset;
        assert_eq!(of_front(&job, &unit, &cell), Length::mm(500));
        job.hardware[fixture::RUNNER.0].travel = Some(Length::mm(480));
        assert_eq!(of_front(&job, &unit, &cell), Length::mm(480));
        cell.kind = FrontKind::Door;
        assert_eq!(of_front(&job, &unit, &cell), Length::ZERO);
    }
}
