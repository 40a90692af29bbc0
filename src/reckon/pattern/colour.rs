//! How different two colours look, and the order of boards that shows it least. Knows CIELAB; must
//! not know boards or fronts.

use libm::{atan2, cos, exp, fabs, hypot, pow, sin, sqrt};

/// CIELAB, in thousandths.
pub type Lab = [i64; 3];

/// Above this many, orders are not all looked at.
pub const EXACT_TO: usize = 12;

/// CIEDE2000 with all weights 1: Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula:
/// implementation notes, supplementary test data, and mathematical observations", Color Research
/// and Application 30 (2005). No unit.
pub fn difference(one: [f64; 3], two: [f64; 3]) -> f64 {
    let (l1, l2) = (one[0], two[0]);
    let chroma = (hypot(one[1], one[2]) + hypot(two[1], two[2])) / 2.0;
    let g = 0.5 * (1.0 - sqrt(seventh(chroma)));
    let (a1, a2) = (one[1] * (1.0 + g), two[1] * (1.0 + g));
    let (c1, c2) = (hypot(a1, one[2]), hypot(a2, two[2]));
    let (h1, h2) = (hue(a1, one[2]), hue(a2, two[2]));
    let no_hue = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if no_hue => 0.0,
        d if d > 180.0 => d - 360.0,
        d if d < -180.0 => d + 360.0,
        d => d,
    };
    let dl = l2 - l1;
    let dc = c2 - c1;
    let dh = 2.0 * sqrt(c1 * c2) * sin((turn / 2.0).to_radians());
    let l = (l1 + l2) / 2.0;
    let c = (c1 + c2) / 2.0;
    let h = if no_hue {
        h1 + h2
    } else if fabs(h1 - h2) <= 180.0 {
        (h1 + h2) / 2.0
    } else if h1 + h2 < 360.0 {
        (h1 + h2 + 360.0) / 2.0
    } else {
        (h1 + h2 - 360.0) / 2.0
    };
    let wave = |times: f64, off: f64| cos((times * h + off).to_radians());
    let t = 1.0 - 0.17 * wave(1.0, -30.0) + 0.24 * wave(2.0, 0.0) + 0.32 * wave(3.0, 6.0)
        - 0.20 * wave(4.0, -63.0);
    let bend = 30.0 * exp(-((h - 275.0) / 25.0) * ((h - 275.0) / 25.0));
    let off = (l - 50.0) * (l - 50.0);
    let sl = 1.0 + 0.015 * off / sqrt(20.0 + off);
    let sc = 1.0 + 0.045 * c;
    let sh = 1.0 + 0.015 * c * t;
    let rt = -sin((2.0 * bend).to_radians()) * 2.0 * sqrt(seventh(c));
    let (x, y, z) = (dl / sl, dc / sc, dh / sh);
    sqrt((x * x + y * y + z * z + rt * y * z).max(0.0))
}

/// c⁷ / (c⁷ + 25⁷)
fn seventh(c: f64) -> f64 {
    let c7 = pow(c, 7.0);
    c7 / (c7 + pow(25.0, 7.0))
}

/// Degrees in 0..360; 0 for grey.
fn hue(a: f64, b: f64) -> f64 {
    if a == 0.0 && b == 0.0 {
        return 0.0;
    }
    let h = atan2(b, a).to_degrees();
    if h < 0.0 { h + 360.0 } else { h }
}

/// The same in thousandths, of colours in thousandths.
pub fn thousandths(one: Lab, two: Lab) -> i64 {
    let real = |lab: Lab| lab.map(|v| v as f64 / 1000.0);
    (difference(real(one), real(two)) * 1000.0).round() as i64
}

/// An order of `labs` in which the worst two neighbours differ as little as can be, and of those
/// one whose differences add up to the least: exact up to [`EXACT_TO`]. Between an order and its
/// reverse the one that begins with the earlier stands.
pub fn order(labs: &[Lab]) -> (Vec<usize>, bool) {
    let n = labs.len();
    let apart: Vec<Vec<i64>> = labs
        .iter()
        .map(|a| labs.iter().map(|b| thousandths(*a, *b)).collect())
        .collect();
    if n < 3 {
        return ((0..n).collect(), true);
    }
    let exact = n <= EXACT_TO;
    let mut found = if exact {
        let limit = least(&apart, i64::MAX).map_or(i64::MAX, |(worst, ..)| worst);
        least(&apart, limit).map(|(_, _, order)| order)
    } else {
        None
    }
    .unwrap_or_else(|| by_insertion(&apart));
    if found.first() > found.last() {
        found.reverse();
    }
    (found, exact)
}

/// Greatest difference between neighbours in this order.
pub fn worst(labs: &[Lab], order: &[usize]) -> i64 {
    let lab = |i: &usize| labs.get(*i).copied().unwrap_or_default();
    let pairs = order.iter().zip(order.iter().skip(1));
    pairs
        .map(|(a, b)| thousandths(lab(a), lab(b)))
        .max()
        .unwrap_or(0)
}

/// Paths over all, by subsets: with no limit the least worst step (ties by sum), with a limit the
/// least sum among steps up to it. (worst, sum, order)
fn least(apart: &[Vec<i64>], limit: i64) -> Option<(i64, i64, Vec<usize>)> {
    let n = apart.len();
    let bottleneck = limit == i64::MAX;
    let size = 1_usize << n;
    // (key, worst, sum, before), for each subset and last of it.
    let mut best: Vec<Option<(i64, i64, i64, usize)>> = vec![None; size * n];
    for last in 0..n {
        if let Some(slot) = best.get_mut((1 << last) * n + last) {
            *slot = Some((0, 0, 0, last));
        }
    }
    for set in 1..size {
        for last in 0..n {
            let Some((_, worst, sum, _)) = best.get(set * n + last).copied().flatten() else {
                continue;
            };
            for next in (0..n).filter(|next| set & (1 << next) == 0) {
                let step = apart.get(last).and_then(|row| row.get(next)).copied();
                let Some(step) = step.filter(|s| *s <= limit) else {
                    continue;
                };
                let (worst, sum) = (worst.max(step), sum + step);
                let key = if bottleneck { worst } else { sum };
                if let Some(slot) = best.get_mut((set | (1 << next)) * n + next)
                    && slot.is_none_or(|(old, ..)| key < old)
                {
                    *slot = Some((key, worst, sum, last));
                }
            }
        }
    }
    let whole = size - 1;
    let end = (0..n)
        .filter_map(|last| Some((best.get(whole * n + last).copied().flatten()?, last)))
        .min_by_key(|((key, ..), last)| (*key, *last))?;
    let ((_, worst, sum, _), mut last) = end;
    let (mut set, mut order) = (whole, Vec::new());
    loop {
        order.push(last);
        let (.., before) = best.get(set * n + last).copied().flatten()?;
        set &= !(1 << last);
        if set == 0 {
            break;
        }
        last = before;
    }
    order.reverse();
    Some((worst, sum, order))
}

/// Each in turn put where it makes the worst step least, then the sum: good, not proved.
fn by_insertion(apart: &[Vec<i64>]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    for next in 0..apart.len() {
        let cost = |place: usize| {
            let mut tried = order.clone();
            tried.insert(place, next);
            let steps = tried.iter().zip(tried.iter().skip(1));
            let steps = steps.map(|(a, b)| {
                let row = apart.get(*a);
                row.and_then(|row| row.get(*b)).copied().unwrap_or(0)
            });
            let steps: Vec<i64> = steps.collect();
            (
                steps.iter().max().copied().unwrap_or(0),
                steps.iter().sum::<i64>(),
            )
        };
        let place = (0..=order.len()).min_by_key(|p| cost(*p)).unwrap_or(0);
        order.insert(place, next);
    }
    order
}

#[cfg(test)]
mod tests;
