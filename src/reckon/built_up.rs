//! How the edge of a worktop is made higher than its sheet. Knows thicknesses and lengths; must not know
//! rooms, nor how parts are cut.
//!
//! Common practice, no source: strips of the same sheet, glued flat one under another where whole ones,
//! three at most, make the height; else one strip stood on edge under the slab, as high as is wanting.
//! Along the front, and back from it along each end that is seen.

use super::mass;
use super::placed::BuiltUp;
use crate::resolve::job::Material;
use crate::units::{Length, Mass};

/// Width of a strip that lies flat (common practice, no source).
const FLAT: Length = Length::mm(40);
/// Strips glued flat one under another (common practice, no source).
const MOST: i64 = 3;

/// `seen`: how many ends of the top are seen. `None`: the sheet is as thick as the edge is high.
pub fn build_up(
    (edge, thickness): (Length, Length),
    (long, deep): (Length, Length),
    seen: usize,
) -> Option<BuiltUp> {
    let wanting = edge - thickness;
    if thickness <= Length::ZERO || wanting <= Length::ZERO {
        return None;
    }
    let whole = wanting.in_um() % thickness.in_um() == 0;
    let strips = wanting.in_um() / thickness.in_um();
    let flat = whole && strips <= MOST;
    let (count, width, thick) = match flat {
        true => (u32::try_from(strips).unwrap_or(1), FLAT, FLAT),
        false => (1, wanting, thickness),
    };
    let mut lengths = vec![long];
    lengths.extend(vec![(deep - thick).max(Length::ZERO); seen]);
    Some(BuiltUp {
        wanting,
        flat,
        count,
        width,
        thick,
        lengths,
    })
}

/// Of all its strips.
pub fn weigh(built: &BuiltUp, material: &Material) -> Mass {
    let each = built.lengths.iter().map(|long| {
        let (wide, high) = (built.thick, built.wanting);
        mass::slab(*long, wide, high, material.density)
    });
    each.fold(Mass::default(), |sum, m| sum + m)
}

/// Heights near `edge` that strips laid flat do make, the lower first.
pub fn of_whole_strips(edge: Length, thickness: Length) -> Vec<Length> {
    let heights = (1..=MOST + 1).map(|n| thickness * n);
    let below = heights.clone().rfind(|h| *h < edge);
    let above = heights.clone().find(|h| *h > edge);
    below.into_iter().chain(above).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn built(edge: i64, thickness: i64) -> BuiltUp {
        let of = |l| Length::mm(l);
        build_up((of(edge), of(thickness)), (of(2000), of(600)), 1).unwrap()
    }

    // By hand; the total is the edge in every case: 12 + 12, 12 + 12 + 12, 12 + 18.
    #[test]
    fn whole_strips_lie_flat_and_any_other_height_stands_on_edge() {
        for (edge, thickness, flat, count, width) in [
            (24, 12, true, 1, 40),
            (36, 12, true, 2, 40),
            (48, 12, true, 3, 40),
            (60, 12, false, 1, 48),
            (30, 12, false, 1, 18),
            (30, 20, false, 1, 10),
        ] {
            let b = built(edge, thickness);
            assert_eq!((b.flat, b.count), (flat, count), "{edge} of {thickness}");
            assert_eq!(b.width, Length::mm(width), "{edge} of {thickness}");
            let high = match b.flat {
                true => Length::mm(thickness) * i64::from(b.count),
                false => b.width,
            };
            assert_eq!(Length::mm(thickness) + high, Length::mm(edge));
        }
        let mm = Length::mm;
        assert_eq!(build_up((mm(12), mm(12)), (mm(2000), mm(600)), 0), None);
        // Back along one end, behind the strip at the front.
        assert_eq!(built(36, 12).lengths, [mm(2000), mm(560)]);
        assert_eq!(built(30, 12).lengths, [mm(2000), mm(588)]);
    }

    #[test]
    fn heights_that_would_be_of_whole_strips() {
        let near = |edge| of_whole_strips(Length::mm(edge), Length::mm(12));
        assert_eq!(near(30), [Length::mm(24), Length::mm(36)]);
        assert_eq!(near(60), [Length::mm(48)]);
        assert_eq!(near(14), [Length::mm(12), Length::mm(24)]);
    }
}
