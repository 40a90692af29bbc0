//! A pattern's steps and new beginnings in words, said once for findings, lists and pictures. Knows
//! layouts; must not know who reads it.

use super::layout::{Joint, PatternLayout};
use crate::reckon::placed::Reckoned;
use crate::units::Length;

/// Joints named singly, before the rest are counted.
const NAMED: usize = 8;

/// How far a pattern jumps at a joint, the farther way; `None` where it begins anew.
pub fn step(joint: &Joint) -> Option<Length> {
    joint.jump.map(|(a, b)| a.abs().max(b.abs()))
}

/// `1 and 3`.
pub fn pair(reckoned: &Reckoned, joint: &Joint) -> String {
    let label = |face: usize| reckoned.face(face).map_or(String::new(), |f| f.label());
    format!("{} and {}", label(joint.first), label(joint.second))
}

/// `at 16 of its 22 joints, by 5 mm at each of them`, or `by 5 mm at the most (1 and 3)`; `None`
/// where it runs on exactly wherever it runs on.
pub fn steps(reckoned: &Reckoned, layout: &PatternLayout) -> Option<String> {
    let size = |j: &Joint| step(j).unwrap_or_default().round_to(Length::um(100));
    let stepped: Vec<&Joint> = layout
        .joints
        .iter()
        .filter(|j| size(j) > Length::ZERO)
        .collect();
    let most = stepped.iter().map(|j| size(j)).max()?;
    let worst: Vec<&&Joint> = stepped.iter().filter(|j| size(j) == most).collect();
    let how = match (stepped.len(), worst.as_slice()) {
        (1, _) => format!("by {most} mm"),
        (_, [only]) => format!("by {most} mm at the most ({})", pair(reckoned, only)),
        (all, worst) if worst.len() == all => format!("by {most} mm at each of them"),
        (_, worst) => format!("by {most} mm at the most, which it is at {}", worst.len()),
    };
    Some(format!(
        "at {} of its {} {}, {how}",
        stepped.len(),
        layout.joints.len(),
        match layout.joints.len() {
            1 => "joint",
            _ => "joints",
        }
    ))
}

/// `3 and 5, 4 and 6`: between which it begins anew; `None` where it does nowhere.
pub fn begins_anew(reckoned: &Reckoned, layout: &PatternLayout) -> Option<String> {
    let anew = || layout.joints.iter().filter(|j| j.jump.is_none());
    let mut named: Vec<String> = anew().take(NAMED).map(|j| pair(reckoned, j)).collect();
    match anew().count().checked_sub(NAMED) {
        Some(more @ 1..) => named.push(format!("and at {more} more joints")),
        _ if named.is_empty() => return None,
        _ => {}
    }
    Some(named.join(", "))
}

/// A difference of colour, given in thousandths, to hundredths: the nearest.
pub fn colour(thousandths: i64) -> String {
    Length::um(thousandths).round_to(Length::um(10)).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: plain arithmetic; the first pair of figures is CIEDE2000 of the example's boards.
    #[test]
    fn a_difference_of_colour_is_rounded_to_the_nearest_hundredth() {
        assert_eq!(colour(736), "0.74");
        assert_eq!(colour(3017), "3.02");
        assert_eq!(colour(1420), "1.42");
        assert_eq!(colour(0), "0");
    }
}
