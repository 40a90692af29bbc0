//! How many hinges a leaf needs. Knows the rule by length and mass, and a hinge's own rating; must
//! not know where they go.

use crate::units::{Length, Mass};

/// (hinged edge up to mm, hinges, one more over kg): handbook §3, common practice, no source. The
/// last line carries the handbook's steps on for leaves beyond its table.
const BANDS: [(i64, u32, i64); 5] = [
    (900, 2, 7),
    (1600, 3, 13),
    (2000, 4, 18),
    (2400, 5, 23),
    (i64::MAX / 1000, 6, 28),
];

/// Hinges for a leaf by the length of its hinged edge and its mass, or, where the hinge states what
/// one carries, by that: mass/rating rounded up, at least 2.
pub fn count(edge: Length, mass: Mass, rating: Option<Mass>) -> u32 {
    if let Some(rating) = rating.filter(|r| r.in_grams() > 0) {
        let needed = mass.in_grams().max(0).unsigned_abs();
        let each = rating.in_grams().unsigned_abs();
        return u32::try_from(needed.div_ceil(each))
            .unwrap_or(u32::MAX)
            .max(2);
    }
    let band = BANDS.iter().find(|b| edge.in_um() <= b.0 * 1000);
    band.map_or(2, |(_, hinges, kg)| {
        hinges + u32::from(mass.in_grams() > kg * 1000)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Handbook §3 "Hinges" (C): 900 → 2, 1600 → 3, 2000 → 4, 2400 → 5; one more over 7, 13, 18, 23 kg.
    #[test]
    fn the_rule_of_the_handbook() {
        for (mm, kg, want) in [
            (900, 7.0, 2),
            (901, 7.0, 3),
            (900, 7.1, 3),
            (1600, 13.0, 3),
            (1600, 13.5, 4),
            (2000, 18.0, 4),
            (2001, 18.0, 5),
            (2400, 23.1, 6),
            (2600, 20.0, 6),
        ] {
            assert_eq!(
                count(Length::mm(mm), Mass::from_kg(kg), None),
                want,
                "{mm} mm, {kg} kg"
            );
        }
    }

    #[test]
    fn a_rating_decides_where_there_is_one() {
        let rated = |kg: f64| {
            count(
                Length::mm(2400),
                Mass::from_kg(kg),
                Some(Mass::grams(6_000)),
            )
        };
        assert_eq!((rated(3.0), rated(12.0), rated(12.1)), (2, 2, 3));
        assert_eq!(
            count(Length::mm(900), Mass::grams(1), Some(Mass::grams(0))),
            2
        );
    }
}
