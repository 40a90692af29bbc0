//! How many people a piece asks for. Knows guideline figures; must not call them limits, nor know
//! what is lifted.
//!
//! HSE, INDG143 and L23: 25 kg for one man, 16 kg for one woman, close to the body at waist height
//! (from memory); two people lift about two thirds and three about half of the sum of what each
//! could (L23 paragraph 120, seen). Filters for an assessment: reach, height, stairs and repetition
//! bring them down.

use crate::units::Mass;

/// One person, kilograms: men and women.
pub const ONE: (i64, i64) = (25, 16);
/// Beyond a team of three there is no figure.
pub const MOST: u32 = 3;

/// Guideline mass for a team, each of whom alone could lift `one` kg.
pub fn team(people: u32, one: i64) -> Mass {
    let each = 1000 * one;
    Mass::grams(match people {
        0 => 0,
        1 => each,
        2 => each * 2 * 2 / 3,
        _ => each * 3 / 2,
    })
}

/// Fewest men whose guideline mass it does not exceed; `None`: more than any figure covers, so an aid
/// or a plan of its own is needed.
pub fn people(mass: Mass) -> Option<u32> {
    of(mass, ONE.0)
}

/// The same of women.
pub fn women(mass: Mass) -> Option<u32> {
    of(mass, ONE.1)
}

fn of(mass: Mass, one: i64) -> Option<u32> {
    (1..=MOST).find(|n| mass <= team(*n, one))
}

#[cfg(test)]
mod tests {
    use super::*;

    // reference-values.md §5 (X): 2 × 25 → 33.33, 3 × 25 → 37.5, 2 × 16 → 21.33 kg. So the 39.65 kg
    // sheet of §3.4 exceeds two and three people's figure.
    #[test]
    fn teams_lift_less_than_their_sum() {
        assert_eq!(team(2, 25), Mass::grams(33_333));
        assert_eq!(team(3, 25), Mass::grams(37_500));
        assert_eq!(team(2, 16), Mass::grams(21_333));
        assert_eq!(people(Mass::grams(25_000)), Some(1));
        assert_eq!(people(Mass::grams(25_001)), Some(2));
        assert_eq!(people(Mass::grams(33_334)), Some(3));
        assert_eq!(people(Mass::grams(39_651)), None);
        // 3 × 16, half: 24.
        assert_eq!(women(Mass::grams(16_001)), Some(2));
        assert_eq!(women(Mass::grams(24_000)), Some(3));
        assert_eq!(women(Mass::grams(24_001)), None);
    }
}
