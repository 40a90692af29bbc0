//! Bending of beams and bowing of boards. Knows mechanics in newtons and millimetres; must not know
//! shelves or fronts.

/// Standard gravity, m/s².
pub const GRAVITY: f64 = 9.80665;

/// A rectangle of a section: modulus N/mm², width and height mm, and the height of its middle.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    pub modulus: f64,
    pub width: f64,
    pub height: f64,
    pub middle: f64,
}

/// Bending stiffness in N·mm² about the common axis: the transformed section (handbook §4). For one
/// part it is E·b·t³/12.
pub fn stiffness(parts: &[Part]) -> f64 {
    let axial = |p: &Part| p.modulus * p.width * p.height;
    let all: f64 = parts.iter().map(axial).sum();
    if all <= 0.0 {
        return 0.0;
    }
    let axis = parts.iter().map(|p| axial(p) * p.middle).sum::<f64>() / all;
    parts
        .iter()
        .map(|p| {
            let off = p.middle - axis;
            p.modulus * p.width * p.height * p.height * p.height / 12.0 + axial(p) * off * off
        })
        .sum()
}

/// Sag in mm of a simply supported beam under `load` N/mm along its span: 5·w·L⁴/(384·E·I).
pub fn sag(load: f64, span: f64, stiffness: f64) -> f64 {
    if stiffness <= 0.0 {
        return 0.0;
    }
    5.0 * load * span * span * span * span / (384.0 * stiffness)
}

/// How far a board bows over a length when its faces' strains differ: L²·Δε/(8·t), mm (handbook §3).
pub fn bow(length: f64, thickness: f64, strain: f64) -> f64 {
    if thickness <= 0.0 {
        return 0.0;
    }
    length * length * strain / (8.0 * thickness)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(b: f64, t: f64, modulus: f64) -> f64 {
        stiffness(&[Part {
            modulus,
            width: b,
            height: t,
            middle: t / 2.0,
        }])
    }

    // reference-values.md §4.2 A, B, C (X: three general-purpose solvers agree) and handbook §4 (W).
    #[test]
    fn sag_against_independent_solvers() {
        for (b, t, modulus, span, load, wanted) in [
            (300.0, 18.0, 2200.0, 800.0, 0.2451663, 4.07642),
            (300.0, 18.0, 2200.0, 1000.0, 0.196133, 7.96176),
            (560.0, 18.0, 1600.0, 900.0, 0.28, 5.49316),
        ] {
            let got = sag(load, span, plain(b, t, modulus));
            assert!((got - wanted).abs() < 0.0001, "{got} {wanted}");
        }
        // Longest spans for a limit of L/200 and L/300: the same table, §4.2.
        for (t, span, n) in [
            (18.0, 789.8, 200.0),
            (22.0, 843.3, 300.0),
            (30.0, 1316.4, 200.0),
        ] {
            let got = sag(0.25, span, plain(300.0, t, 2200.0));
            assert!((got - span / n).abs() < 0.01, "{got}");
        }
    }

    // Two parts glued into one are one; a lipping by hand: shelf 300 × 18, strip 18 × 40 under its
    // front edge, E 1. A 5400 and 720; axis from the top (5400·9 + 720·38)/6120 = 12.41176;
    // I = 145 800 + 5400·3.41176² + 96 000 + 720·25.58824² = 776 082.
    #[test]
    fn a_lipping_by_the_transformed_section() {
        let half = |middle| Part {
            modulus: 2200.0,
            width: 300.0,
            height: 9.0,
            middle,
        };
        let whole = plain(300.0, 18.0, 2200.0);
        assert!((stiffness(&[half(4.5), half(13.5)]) - whole).abs() < 1e-3);
        let shelf = Part {
            modulus: 1.0,
            width: 300.0,
            height: 18.0,
            middle: 9.0,
        };
        let strip = Part {
            modulus: 1.0,
            width: 18.0,
            height: 40.0,
            middle: 38.0,
        };
        let got = stiffness(&[shelf, strip]);
        assert!((got - 776_082.0).abs() < 2.0, "{got}");
    }

    // Handbook §3 (W) and reference-values.md §2.3 (X).
    #[test]
    fn bow_against_worked_values() {
        for (length, t, strain, wanted) in [
            (2300.0, 19.0, 1e-4, 3.48),
            (2300.0, 22.0, 1e-4, 3.01),
            (900.0, 19.0, 1e-4, 0.53),
            (2000.0, 18.0, 0.0005, 13.8889),
            (2400.0, 22.0, 0.0003, 9.8182),
            (600.0, 18.0, 0.0005, 1.25),
        ] {
            let got = bow(length, t, strain);
            assert!((got - wanted).abs() < 0.005, "{got} {wanted}");
        }
    }
}
