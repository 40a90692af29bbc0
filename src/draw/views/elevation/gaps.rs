//! The gaps round fronts in words, so that the sizes of fronts add up to their unit's. Knows where
//! fronts and units stand; must not know dimension chains or paper.

use super::Sight;
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedUnit};
use crate::units::Length;

/// More than this between two faces is no gap, mm.
const WIDEST: Length = Length::mm(20);

/// One kind of gap: each size with what it stands by.
type Found = Vec<(Length, String)>;

/// All gaps on the wall, or nothing where no front stands.
pub fn said(sight: &Sight) -> Option<String> {
    let (mut between, mut ends, mut rows, mut over, mut under) = (
        Found::new(),
        Found::new(),
        Found::new(),
        Found::new(),
        Found::new(),
    );
    for (_, _, run) in sight.runs() {
        let units = run.units.iter();
        let of_run: Vec<(&PlacedUnit, &PlacedFront)> = units
            .flat_map(|u| sight.fronts_of(u).into_iter().map(move |f| (u, f)))
            .collect();
        for (unit, front) in &of_run {
            let by = || front.number.to_string();
            let to = |other: &PlacedFront| format!("{} and {}", front.number, other.number);
            let others = || of_run.iter().map(|(_, o)| *o);
            let beside = |o: &&PlacedFront| o.bottom < front.top && front.bottom < o.top;
            let right = others().filter(beside).filter(|o| o.left >= front.right);
            match right.min_by_key(|o| o.left) {
                Some(o) => add(&mut between, o.left - front.right, to(o)),
                None => add(&mut ends, edge_after(run, front.right) - front.right, by()),
            }
            if !others().filter(beside).any(|o| o.right <= front.left) {
                add(&mut ends, front.left - edge_before(run, front.left), by());
            }
            let across = |o: &&PlacedFront| o.left < front.right && front.left < o.right;
            let above = others().filter(across).filter(|o| o.bottom >= front.top);
            match above.min_by_key(|o| o.bottom) {
                Some(o) => add(&mut rows, o.bottom - front.top, to(o)),
                None => add(&mut over, unit.top - front.top, by()),
            }
            if !others().filter(across).any(|o| o.top <= front.bottom) {
                add(&mut under, front.bottom - unit.base, by());
            }
        }
    }
    let kinds = [
        (between, "between", "side by side"),
        (ends, "beside", "at the ends"),
        (rows, "between", "one over another"),
        (over, "over", "at the top"),
        (under, "under", "at the foot"),
    ];
    words(&kinds)
}

fn add(found: &mut Found, gap: Length, by: String) {
    if gap >= Length::ZERO && gap <= WIDEST {
        found.push((gap, by));
    }
}

/// The next face of the run's own chain of widths.
fn edge_after(run: &PlacedRun, x: Length) -> Length {
    let after = edges(run).filter(|e| *e >= x).min();
    after.unwrap_or(x - Length::mm(1))
}

fn edge_before(run: &PlacedRun, x: Length) -> Length {
    let before = edges(run).filter(|e| *e <= x).max();
    before.unwrap_or(x + Length::mm(1))
}

fn edges(run: &PlacedRun) -> impl Iterator<Item = Length> {
    let pieces = run.pieces.iter().flat_map(|p| [p.left, p.right]);
    pieces.chain(run.units.iter().flat_map(|u| [u.left, u.right]))
}

/// The commonest size, then whatever differs: a kind of gap as a whole, or by the numbers of the fronts
/// it stands by.
fn words(kinds: &[(Found, &str, &str)]) -> Option<String> {
    let all = || kinds.iter().flat_map(|k| k.0.iter().map(|(size, _)| *size));
    let count = |size: Length| all().filter(|s| *s == size).count();
    let usual = all().max_by_key(|s| (count(*s), std::cmp::Reverse(*s)))?;
    let mut others: Vec<(Length, Vec<String>)> = Vec::new();
    for (found, by, place) in kinds {
        let mut sizes: Vec<Length> = found.iter().map(|f| f.0).collect();
        sizes.sort();
        sizes.dedup();
        for size in sizes.iter().copied().filter(|s| *s != usual) {
            let at = found.iter().filter(|f| f.0 == size).map(|f| f.1.as_str());
            let said = match sizes.len() {
                1 => (*place).to_owned(),
                _ => format!("{by} {}", at.collect::<Vec<_>>().join(", ")),
            };
            match others.iter_mut().find(|(s, _)| *s == size) {
                Some((_, all)) => all.push(said),
                None => others.push((size, vec![said])),
            }
        }
    }
    let others = others.iter().map(|(size, at)| match *size {
        Length::ZERO => format!("; none {}", at.join(", ")),
        size => format!("; {size} {}", at.join(", ")),
    });
    Some(format!(
        "gaps round fronts {usual}{}",
        others.collect::<String>()
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_gap_is_said_once_and_each_other_with_its_fronts() {
        let gap = |um: i64, by: &str| (Length::um(um), by.to_owned());
        let kinds = [
            (
                vec![
                    gap(3000, "1 and 3"),
                    gap(3500, "3 and 5"),
                    gap(3000, "5 and 7"),
                ],
                "between",
                "side by side",
            ),
            (
                vec![gap(3000, "1"), gap(3500, "7")],
                "beside",
                "at the ends",
            ),
            (vec![gap(0, "1"), gap(0, "3")], "under", "at the foot"),
        ];
        assert_eq!(
            words(&kinds).as_deref(),
            Some("gaps round fronts 3; 3.5 between 3 and 5, beside 7; none at the foot")
        );
        assert_eq!(words(&[(Vec::new(), "", "")]), None);
    }
}
