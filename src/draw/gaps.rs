//! The gaps round fronts in words, for as much of a drawing as is on a sheet. Knows sizes and the numbers of
//! fronts; must not know where gaps come from, nor paper.

use crate::units::Length;

/// Where a gap is: how it is told with its fronts, and how where all of its kind are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    Between,
    AtEnd,
    BetweenRows,
    Over,
    Under,
}

const PLACES: [Place; 5] = [
    Place::Between,
    Place::AtEnd,
    Place::BetweenRows,
    Place::Over,
    Place::Under,
];

/// One gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    pub place: Place,
    pub size: Length,
    /// The front or fronts it is at: `15`, or `3 and 5`.
    pub by: String,
    /// The middle of the first of these, real mm along the drawing.
    pub at: f64,
}

impl Place {
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Place::Between => ("between", "side by side"),
            Place::AtEnd => ("beside", "at the ends"),
            Place::BetweenRows => ("between", "one over another"),
            Place::Over => ("over", "at the top"),
            Place::Under => ("under", "at the foot"),
        }
    }
}

/// The commonest size, then whatever differs: a kind of gap as a whole, or by the fronts it stands by.
/// Nothing where there is no gap.
pub fn words(gaps: &[&Gap]) -> Option<String> {
    let count = |size: Length| gaps.iter().filter(|g| g.size == size).count();
    let sizes = gaps.iter().map(|g| g.size);
    let usual = sizes.max_by_key(|s| (count(*s), std::cmp::Reverse(*s)))?;
    let mut others: Vec<(Length, Vec<String>)> = Vec::new();
    for place in PLACES {
        let found = || gaps.iter().filter(|g| g.place == place);
        let (by, all) = place.words();
        let mut sizes: Vec<Length> = found().map(|g| g.size).collect();
        sizes.sort();
        sizes.dedup();
        for size in sizes.iter().copied().filter(|s| *s != usual) {
            let at: Vec<&str> = (found().filter(|g| g.size == size))
                .map(|g| g.by.as_str())
                .collect();
            // Where a run is cut by a sheet's edge, one of its ends is elsewhere.
            let some = place == Place::AtEnd && found().count() < 2;
            let said = match sizes.len() {
                1 if !some => all.to_owned(),
                _ => format!("{by} {}", fronts(&at)),
            };
            match others.iter_mut().find(|(s, _)| *s == size) {
                Some((_, all)) => all.push(said),
                None => others.push((size, vec![said])),
            }
        }
    }
    let others = others.iter().map(|(size, at)| match *size {
        Length::ZERO => format!("; none {}", at.join(", ")),
        size => format!("; {size} mm {}", at.join(", ")),
    });
    Some(format!(
        "gaps round fronts {usual} mm{}",
        others.collect::<String>()
    ))
}

/// `front 15`, `fronts 15 and 16`, `fronts 3 and 5, 4 and 6`.
fn fronts(by: &[&str]) -> String {
    match by {
        [one] if one.parse::<u32>().is_ok() => format!("front {one}"),
        [first, last] if [first, last].iter().all(|n| n.parse::<u32>().is_ok()) => {
            format!("fronts {first} and {last}")
        }
        all => format!("fronts {}", all.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: counted by hand.
    #[test]
    fn the_usual_gap_is_said_once_and_each_other_with_its_fronts() {
        let gap = |place: Place, um: i64, by: &str, at: f64| Gap {
            place,
            size: Length::um(um),
            by: by.to_owned(),
            at,
        };
        let all = [
            gap(Place::Between, 3000, "1 and 3", 100.0),
            gap(Place::Between, 3500, "3 and 5", 200.0),
            gap(Place::Between, 3000, "5 and 7", 300.0),
            gap(Place::AtEnd, 3000, "1", 100.0),
            gap(Place::AtEnd, 3500, "7", 400.0),
            gap(Place::Under, 0, "1", 100.0),
            gap(Place::Under, 0, "3", 200.0),
        ];
        let said = |from: f64, to: f64| {
            let here = all.iter().filter(|g| from < g.at && g.at < to);
            words(&here.collect::<Vec<_>>())
        };
        assert_eq!(
            said(0.0, 500.0).as_deref(),
            Some(
                "gaps round fronts 3 mm; 3.5 mm between fronts 3 and 5, beside front 7; none at the foot"
            )
        );
        // A part says only what is on it.
        assert_eq!(
            said(0.0, 150.0).as_deref(),
            Some("gaps round fronts 3 mm; none at the foot")
        );
        assert_eq!(said(0.0, 50.0), None);
    }
}
