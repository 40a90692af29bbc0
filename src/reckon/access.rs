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
    /// Only when it is held aslant there, one end up.
    Aslant,
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
            outcome(flat.min(on_edge), None, || flat.min(on_edge))
        }
        ObstacleKind::Corner => {
            let turned = |up: Length, long: Length, thick: Length| {
                (up - h).max(corner_short(long, thick, w, after))
            };
            let lying = turned(breadth, length, thickness).min(turned(thickness, length, breadth));
            let raised = Length::from_mm(reach(length.in_mm(), 0.0, thickness.in_mm(), 0.0));
            let upright = (raised + CLEARANCE - h).max(corner_short(breadth, thickness, w, after));
            let turned = |long: f64, thick: f64| {
                corner_short(Length::from_mm(long), Length::from_mm(thick), w, after).in_mm()
            };
            let aslant = || aslant(piece, (h - CLEARANCE).in_mm(), turned);
            outcome(lying, Some(upright), aslant)
        }
        // In it, with its door shut: any way up.
        ObstacleKind::Lift => {
            let floor = |a: Length, b: Length| (a - w).max(b - after).min((b - w).max(a - after));
            let lying = (breadth - h)
                .max(floor(length, thickness))
                .min((thickness - h).max(floor(length, breadth)));
            let upright = (length - h).max(floor(breadth, thickness));
            let across = |long: f64, thick: f64| across(long, thick, w.in_mm(), after.in_mm());
            outcome(lying, Some(upright), || aslant(piece, h.in_mm(), across))
        }
    }
}

/// Aslant is looked at last, as it takes longest.
fn outcome(lying: Length, upright: Option<Length>, aslant: impl Fn() -> Length) -> Passing {
    let least = upright.map_or(lying, |u| lying.min(u));
    if lying <= Length::ZERO {
        return Passing::Passes;
    }
    if least <= Length::ZERO {
        return Passing::Upright;
    }
    match least.min(aslant()) {
        short if short <= Length::ZERO => Passing::Aslant,
        short => Passing::Stuck {
            short: profile::up(short),
        },
    }
}

/// What a piece lacks when one end of it is raised: at an angle φ it is L·cos φ + b·sin φ long on plan and
/// L·sin φ + b·cos φ high; the rest is `on_plan`'s, by length and thickness there. All in mm.
fn aslant(piece: Box3, height: f64, on_plan: impl Fn(f64, f64) -> f64) -> Length {
    let sides = [piece.breadth, piece.thickness].map(Length::in_mm);
    let [broad, thick] = sides;
    let long = piece.length.in_mm();
    let short = |up: f64, flat: f64| {
        least(|angle| {
            let (s, c) = (libm::sin(angle), libm::cos(angle));
            (long * s + up * c - height).max(on_plan(long * c + up * s, flat))
        })
    };
    Length::from_mm(short(broad, thick).min(short(thick, broad)))
}

/// What a rectangle lacks to lie in another on plan, at any angle, mm.
fn across(long: f64, thick: f64, a: f64, b: f64) -> f64 {
    least(|angle| {
        let (s, c) = (libm::sin(angle), libm::cos(angle));
        (long * c + thick * s - a).max(long * s + thick * c - b)
    })
}

/// The least of a function of an angle up to 90°, which may have several valleys: by degrees, then finer
/// about the best.
fn least(of: impl Fn(f64) -> f64) -> f64 {
    let degree = std::f64::consts::PI / 180.0;
    let found = |from: f64, step: f64, count: u32| {
        let all =
            (0..=count).map(|n| (from + step * f64::from(n)).min(std::f64::consts::FRAC_PI_2));
        let each = all.map(|a| (of(a), a));
        each.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or_default()
    };
    let (_, near) = found(0.0, degree, 90);
    let (_, near) = found((near - degree).max(0.0), degree / 10.0, 20);
    found((near - degree / 10.0).max(0.0), degree / 100.0, 20).0
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
        // Under 2098 it cannot; but held at 75° it is 2000·sin φ + 600·cos φ = 2087.1 high and
        // 2000·cos φ + 600·sin φ = 1097.2 long on plan, where 2·(900·√2 − 700) = 1145.6 pass.
        let lower = obstacle(ObstacleKind::Corner, 900, 2098, None);
        assert_eq!(passing(piece(2000, 700, 600), &lower), Passing::Aslant);
        let lower = obstacle(ObstacleKind::Corner, 900, 1500, None);
        assert!(matches!(
            passing(piece(2000, 700, 600), &lower),
            Passing::Stuck { .. }
        ));
    }

    // By hand: leaned in a lift 2100 high and 1250 deep, a strip 2200 × 91 × 19, on edge, fits where
    // 2200·sin φ + 91·cos φ ≤ 2100 and 2200·cos φ + 91·sin φ ≤ 1250: at 65° 2032 and 1012. One 2600 long is
    // longer than √(2100² + 1250²) = 2443.9, or with 1000 across the floor too, 2640.5: it fits that way
    // only if it is thin. In a corner 900/900 under 2300 a strip 2600 × 50 × 19 lacks 92 lying
    // (2·(900·√2 − 19) = 2507.6); raised to 30° it is 2277 long on plan, and 1344 high.
    #[test]
    fn a_long_strip_is_held_aslant() {
        let lift = obstacle(ObstacleKind::Lift, 1000, 2100, Some(1250));
        assert_eq!(passing(piece(2200, 91, 19), &lift), Passing::Aslant);
        assert_eq!(passing(piece(2600, 10, 5), &lift), Passing::Aslant);
        assert!(matches!(
            passing(piece(2700, 10, 5), &lift),
            Passing::Stuck { .. }
        ));
        let corner = obstacle(ObstacleKind::Corner, 900, 2300, None);
        assert_eq!(passing(piece(2600, 50, 19), &corner), Passing::Aslant);
        assert_eq!(passing(piece(2500, 50, 19), &corner), Passing::Passes);
        // reference-values.md §10.2 (X), an upper bound for a thin rod: 3498.571 under 2400, here with 10 for
        // clearance √(2545.584² + 2390²) = 3491.7.
        let high = obstacle(ObstacleKind::Corner, 900, 2400, None);
        assert_eq!(passing(piece(3491, 0, 0), &high), Passing::Aslant);
        let short = Length::um(500);
        assert_eq!(passing(piece(3492, 0, 0), &high), Passing::Stuck { short });
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
        // By hand: upright it lacks 100, raised to 63.44° with 600 across 2200·sin φ + 300·cos φ = 2102.04
        // of 2100 and 2200·cos φ + 300·sin φ = 1252.04 of 1250; up to a half-millimetre.
        let short = Length::um(2_500);
        assert_eq!(
            passing(piece(2200, 600, 300), &lift),
            Passing::Stuck { short }
        );
    }
}
