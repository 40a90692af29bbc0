//! Where an elevation too long for its sheet may be parted: at a boundary of units, or clear of all
//! that stands there. Knows what must stay in one piece; must not know paper.

use super::Sight;
use crate::units::Length;

/// Nearer to a corner or to another parting than this, a part would show nothing, mm.
const LEAST_MM: f64 = 200.0;
/// Bare wall may be parted about this often, mm.
const BARE_MM: f64 = 1000.0;

/// Along the wall, in order, mm.
pub fn partings(sight: &Sight) -> Vec<f64> {
    let whole = whole(sight);
    let mut xs: Vec<f64> = whole.iter().flat_map(|s| [s.0, s.1]).collect();
    let length = sight.wall.length.in_mm();
    xs.retain(|x| {
        let crossed = whole.iter().any(|s| s.0 < *x && *x < s.1);
        *x > LEAST_MM && *x < length - LEAST_MM && !crossed
    });
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|b, a| *b - *a < LEAST_MM);
    spare_openings(&mut xs, sight);
    on_bare_wall(&xs, &whole, length)
}

/// More places to part where nothing stands for a long way, so that a long bare wall is not drawn
/// too small for the sake of what stands on a little of it.
fn on_bare_wall(at: &[f64], whole: &[(f64, f64)], length: f64) -> Vec<f64> {
    let mut ends = vec![0.0];
    ends.extend(at);
    ends.push(length);
    let mut out = at.to_vec();
    for pair in ends.windows(2) {
        let &[from, to] = pair else { continue };
        let stands = whole.iter().any(|s| s.0 < to && from < s.1);
        let pieces = ((to - from) / BARE_MM).floor();
        if !stands && pieces >= 2.0 {
            out.extend((1..pieces as u32).map(|n| from + (to - from) * f64::from(n) / pieces));
        }
    }
    out.sort_by(f64::total_cmp);
    out
}

/// Leaves out places at which a window or door would be cut, unless that leaves a stretch too long for
/// any sheet.
fn spare_openings(xs: &mut Vec<f64>, sight: &Sight) {
    let doors = sight.wall.doors.iter().map(|d| (d.at, d.width));
    let windows = sight.wall.windows.iter().map(|w| (w.at, w.width));
    let openings: Vec<(f64, f64)> = (doors.chain(windows))
        .map(|(at, width)| (at.in_mm(), (at + width).in_mm()))
        .collect();
    let length = sight.wall.length.in_mm();
    for i in (0..xs.len()).rev() {
        let Some(x) = xs.get(i).copied() else {
            continue;
        };
        let before = i.checked_sub(1).and_then(|j| xs.get(j));
        let from = before.copied().unwrap_or(0.0);
        let to = xs.get(i + 1).copied().unwrap_or(length);
        if openings.iter().any(|o| o.0 < x && x < o.1) && to - from <= LONGEST_MM {
            xs.remove(i);
        }
    }
}

/// What goes on an A4 sheet at 1:20 with its chains, mm.
const LONGEST_MM: f64 = 2400.0;

/// What is not to be cut: units, the outer ones with the strips and panels at their ends; where no
/// run stands, panels, leaves and openings. A worktop may be: it runs over many units.
fn whole(sight: &Sight) -> Vec<(f64, f64)> {
    let mut spans: Vec<(Length, Length)> = Vec::new();
    for (index, _, run) in sight.runs() {
        let tops = sight.job.worktops.iter().zip(&sight.reckoned.worktops);
        let over: Vec<_> = tops
            .filter(|(made, _)| made.run == index)
            .map(|(_, t)| t)
            .collect();
        let left = over.iter().map(|t| t.left).fold(run.left, Length::min);
        let right = over.iter().map(|t| t.right).fold(run.right, Length::max);
        let first = run.units.iter().map(|u| u.left).min();
        let last = run.units.iter().map(|u| u.right).max();
        spans.extend(run.units.iter().map(|u| {
            let from = if Some(u.left) == first { left } else { u.left };
            let to = if Some(u.right) == last {
                right
            } else {
                u.right
            };
            (from, to)
        }));
    }
    if spans.is_empty() {
        let (here, r) = (sight.at, sight.reckoned);
        spans.extend(
            r.panels
                .iter()
                .filter(|p| p.wall == here)
                .flat_map(|p| p.pieces.clone()),
        );
        let leaves = r.sliding.iter().filter(|s| s.wall == here);
        spans.extend(leaves.flat_map(|s| [(s.left, s.right), (s.open_left, s.open_right)]));
        spans.extend(sight.wall.doors.iter().map(|d| (d.at, d.at + d.width)));
        spans.extend(sight.wall.windows.iter().map(|w| (w.at, w.at + w.width)));
    }
    spans
        .into_iter()
        .map(|(a, b)| (a.in_mm(), b.in_mm()))
        .collect()
}
