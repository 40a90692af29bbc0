//! Whether a piece goes along the way in. Knows boxes, doorways, corners, stairs and lifts; must not
//! know what the piece is.
//!
//! Handbook §2. Nothing is taken off for hands, wrapping or handrails: the widths are clear ones.

use crate::resolve::job::{Obstacle, ObstacleKind};
use crate::units::Length;

use super::profile;
use super::stand_up::{CLEARANCE, reach};

/// A box to be carried: its sides from the longest to the shortest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Box3 {
    pub length: Length,
    pub breadth: Length,
    pub thickness: Length,
}

impl Box3 {
    pub fn new(a: Length, b: Length, c: Length) -> Box3 {
        let mut sides = [a, b, c];
        sides.sort();
        let [thickness, breadth, length] = sides;
        Box3 {
            length,
            breadth,
            thickness,
        }
    }
}

/// How a piece passes one obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passing {
    /// Lying or on edge.
    Passes,
    /// Only when it is raised to stand on its end there.
    Upright,
    /// Short of so much.
    Stuck { short: Length },
}

pub fn passing(piece: Box3, obstacle: &Obstacle) -> Passing {
    let (w, h) = (obstacle.width, obstacle.height);
    let after = obstacle.width_after.unwrap_or(w);
    let Box3 {
        length,
        breadth,
        thickness,
    } = piece;
    match obstacle.kind {
        // The two smaller dimensions against clear width and height, flat or on edge.
        ObstacleKind::Door | ObstacleKind::Stair => {
            let flat = (breadth - w).max(thickness - h);
            let on_edge = (thickness - w).max(breadth - h);
            outcome(flat.min(on_edge), None)
        }
        ObstacleKind::Corner => {
            let turned = |up: Length, long: Length, thick: Length| {
                (up - h).max(corner_short(long, thick, w, after))
            };
            let lying = turned(breadth, length, thickness).min(turned(thickness, length, breadth));
            let raised = Length::from_mm(reach(length.in_mm(), 0.0, thickness.in_mm(), 0.0));
            let upright = (raised + CLEARANCE - h).max(corner_short(breadth, thickness, w, after));
            outcome(lying, Some(upright))
        }
        // In it, with its door shut: any way up.
        ObstacleKind::Lift => {
            let floor = |a: Length, b: Length| (a - w).max(b - after).min((b - w).max(a - after));
            let lying = (breadth - h)
                .max(floor(length, thickness))
                .min((thickness - h).max(floor(length, breadth)));
            let upright = (length - h).max(floor(breadth, thickness));
            outcome(lying, Some(upright))
        }
    }
}

fn outcome(lying: Length, upright: Option<Length>) -> Passing {
    let least = upright.map_or(lying, |u| lying.min(u));
    if lying <= Length::ZERO {
        Passing::Passes
    } else if least <= Length::ZERO {
        Passing::Upright
    } else {
        Passing::Stuck {
            short: profile::up(least),
        }
    }
}

/// What a rectangle `long` × `thick` on plan lacks to get round a corner between corridors `a` and
/// `b` wide; not positive: it passes. One that fits across both without turning is shifted round.
fn corner_short(long: Length, thick: Length, a: Length, b: Length) -> Length {
    let shifted = (long - b).max(thick - a).min((long - a).max(thick - b));
    if shifted <= Length::ZERO {
        return shifted;
    }
    let narrow = a.min(b);
    if thick >= narrow {
        return shifted.min((thick - narrow).max(Length::um(500)));
    }
    let longest = longest_round_corner(a.in_mm(), b.in_mm(), thick.in_mm());
    shifted.min(long - Length::from_mm(longest))
}

/// Longest rectangle of thickness `t` that turns a right-angled corner between corridors `a` and
/// `b` wide, all in mm: min over θ of (a·sin θ + b·cos θ − t)/(sin θ·cos θ) (handbook §2).
pub fn longest_round_corner(a: f64, b: f64, t: f64) -> f64 {
    let at = |angle: f64| {
        let (s, c) = (libm::sin(angle), libm::cos(angle));
        (a * s + b * c - t) / (s * c).max(1e-12)
    };
    // One valley between 0 and 90 degrees, as t is less than a and b.
    let (mut low, mut high) = (1e-6, std::f64::consts::FRAC_PI_2 - 1e-6);
    for _ in 0..60 {
        let (m, n) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if at(m) < at(n) {
            high = n;
        } else {
            low = m;
        }
    }
    at((low + high) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn obstacle(kind: ObstacleKind, w: i64, h: i64, after: Option<i64>) -> Obstacle {
        Obstacle {
            kind,
            what: String::new(),
            width: Length::mm(w),
            height: Length::mm(h),
            width_after: after.map(Length::mm),
        }
    }

    fn piece(a: i64, b: i64, c: i64) -> Box3 {
        Box3::new(Length::mm(a), Length::mm(b), Length::mm(c))
    }

    // reference-values.md §10.2 and §10.3 (X: computed there, checked by sweeping a polygon).
    #[test]
    fn corners_against_a_swept_polygon() {
        for (a, b, t, wanted) in [
            (900.0, 900.0, 0.0, 2545.584),
            (900.0, 1200.0, 0.0, 2959.699),
            (750.0, 1000.0, 0.0, 2466.416),
            (800.0, 1100.0, 0.0, 2675.776),
            (900.0, 900.0, 300.0, 1945.584),
            (900.0, 1200.0, 400.0, 2153.895),
            (1000.0, 1000.0, 600.0, 1628.427),
            (800.0, 1100.0, 350.0, 1969.655),
        ] {
            assert!((longest_round_corner(a, b, t) - wanted).abs() < 0.001);
        }
    }

    // By hand, from the same figures: 1945 × 300 passes 900/900, 1947 lacks 1.416 → 1.5. On its
    // other side (600 thick) 1628 passes 1000/1000 whichever way is up.
    #[test]
    fn a_corner_in_both_orientations() {
        let corner = obstacle(ObstacleKind::Corner, 900, 1000, None);
        assert_eq!(passing(piece(1945, 800, 300), &corner), Passing::Passes);
        let short = Length::um(1_500);
        assert_eq!(
            passing(piece(1947, 800, 300), &corner),
            Passing::Stuck { short }
        );
        // Too high on edge under 700, so it would have to lie flat, 800 thick, and lacks more.
        let low = obstacle(ObstacleKind::Corner, 900, 700, None);
        assert!(matches!(
            passing(piece(1945, 800, 300), &low),
            Passing::Stuck { .. }
        ));
        // √(2000² + 600²) = 2088.1, + 10: it can be stood up under 2100 and taken round upright.
        let high = obstacle(ObstacleKind::Corner, 900, 2100, None);
        assert_eq!(passing(piece(2000, 700, 600), &high), Passing::Upright);
        let lower = obstacle(ObstacleKind::Corner, 900, 2098, None);
        assert!(matches!(
            passing(piece(2000, 700, 600), &lower),
            Passing::Stuck { .. }
        ));
    }

    #[test]
    fn doors_stairs_and_lifts() {
        let door = obstacle(ObstacleKind::Door, 800, 2000, None);
        assert_eq!(passing(piece(3000, 2000, 800), &door), Passing::Passes);
        let short = Length::mm(20);
        assert_eq!(
            passing(piece(3000, 2000, 820), &door),
            Passing::Stuck { short }
        );
        let lift = obstacle(ObstacleKind::Lift, 1000, 2100, Some(1250));
        assert_eq!(passing(piece(1240, 990, 2000), &lift), Passing::Upright);
        assert_eq!(passing(piece(1240, 990, 900), &lift), Passing::Passes);
        let short = Length::mm(100);
        assert_eq!(
            passing(piece(2200, 600, 300), &lift),
            Passing::Stuck { short }
        );
    }
}
