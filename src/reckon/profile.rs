//! A surveyed line: heights or leans at places, straight between them. Knows interpolation; must
//! not know what was surveyed.

use crate::units::Length;

/// A surveyed value is worth half a millimetre at best; positions derived from one are kept to it.
pub const HALF_MM: Length = Length::um(500);

/// Value at `x`: straight between the points, level beyond the first and the last. No points: zero.
pub fn at(points: &[(Length, Length)], x: Length) -> Length {
    let after = points.iter().position(|p| p.0 >= x);
    match after {
        None => points.last().map_or(Length::ZERO, |p| p.1),
        Some(0) => points.first().map_or(Length::ZERO, |p| p.1),
        Some(i) => match (points.get(i - 1), points.get(i)) {
            (Some(a), Some(b)) => between(*a, *b, x),
            _ => Length::ZERO,
        },
    }
}

/// To the nearest micrometre, halves up: the same from either end, so that a line and its mirror image
/// say the same.
fn between(a: (Length, Length), b: (Length, Length), x: Length) -> Length {
    let wide = |l: Length| i128::from(l.in_um());
    let (before, after) = (wide(x - a.0), wide(b.0 - x));
    let whole = before + after;
    if whole <= 0 {
        return a.1;
    }
    let sum = wide(a.1) * after + wide(b.1) * before;
    let nearest = (sum * 2 + whole).div_euclid(whole * 2);
    Length::um(i64::try_from(nearest).unwrap_or_default())
}

/// Lowest and highest value over `from..=to`. A line straight between points has its extremes at
/// a point or at an end.
pub fn extremes(points: &[(Length, Length)], from: Length, to: Length) -> (Length, Length) {
    let (a, b) = (at(points, from), at(points, to));
    points
        .iter()
        .filter(|p| p.0 > from && p.0 < to)
        .fold((a.min(b), a.max(b)), |(lo, hi), p| {
            (lo.min(p.1), hi.max(p.1))
        })
}

/// Rounded up to a half-millimetre.
pub fn up(x: Length) -> Length {
    -((-x).floor_to(HALF_MM))
}

/// Rounded down to a half-millimetre.
pub fn down(x: Length) -> Length {
    x.floor_to(HALF_MM)
}

/// Rounded to the nearest half-millimetre.
pub fn near(x: Length) -> Length {
    x.round_to(HALF_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Linear interpolation by hand.
    #[test]
    fn straight_between_points_and_level_beyond() {
        let p = [
            (Length::mm(0), Length::mm(0)),
            (Length::mm(1200), Length::mm(6)),
            (Length::mm(2400), Length::mm(15)),
        ];
        assert_eq!(at(&p, Length::mm(600)), Length::mm(3));
        assert_eq!(at(&p, Length::mm(1800)), Length::um(10_500));
        assert_eq!(at(&p, Length::mm(3000)), Length::mm(15));
        assert_eq!(at(&p, Length::mm(-5)), Length::mm(0));
        assert_eq!(at(&[], Length::mm(1)), Length::ZERO);
        assert_eq!(
            extremes(&p, Length::mm(600), Length::mm(1800)),
            (Length::mm(3), Length::um(10_500))
        );
    }

    #[test]
    fn half_millimetres_up_and_down() {
        assert_eq!(up(Length::um(4_426)), Length::um(4_500));
        assert_eq!(up(Length::um(-24)), Length::ZERO);
        assert_eq!(up(Length::um(4_500)), Length::um(4_500));
        assert_eq!(down(Length::um(-24)), Length::um(-500));
        assert_eq!(near(Length::um(103_740)), Length::um(103_500));
    }
}
