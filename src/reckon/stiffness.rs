//! How stiff boards are, how much they creep and how much they move. Knows figures and where each
//! comes from; must not know what is made of them.

use crate::resolve::job::{Core, Material};
use crate::units::Length;

/// A modulus in N/mm² and its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elastic {
    pub modulus: f64,
    pub source: &'static str,
    /// Added to 1, what the sag grows to under a load that stays; `None`: no figure.
    pub creep: Option<f64>,
}

/// Of a board; `None` where bending is not what it fails by, or nothing is known.
pub fn elastic(material: &Material) -> Option<Elastic> {
    let own = material.stiffness.map(|n| (f64::from(n), "as declared"));
    let (modulus, source) = own.or_else(|| modulus(material))?;
    Some(Elastic {
        modulus,
        source,
        creep: creep(material.core),
    })
}

/// reference-values.md §3: minima of the standards by thickness (MDF from memory, particle board
/// second-hand); for birch plywood its weaker direction (industry handbook, from memory).
fn modulus(material: &Material) -> Option<(f64, &'static str)> {
    let by_thickness = |bands: &[(i64, f64)], beyond: f64| {
        let band = bands
            .iter()
            .find(|(to, _)| material.thickness <= Length::mm(*to));
        band.map_or(beyond, |b| b.1)
    };
    Some(match material.core {
        Core::Mdf => (
            by_thickness(
                &[
                    (9, 2700.0),
                    (12, 2500.0),
                    (19, 2200.0),
                    (30, 2100.0),
                    (45, 1900.0),
                ],
                1700.0,
            ),
            "EN 622-5, from memory",
        ),
        Core::ParticleBoard => (
            by_thickness(
                &[(13, 1800.0), (20, 1600.0), (25, 1500.0), (32, 1350.0)],
                1200.0,
            ),
            "EN 312 type P2, second-hand",
        ),
        Core::BirchPlywood => (7500.0, "plywood across its faces' grain, from memory"),
        Core::SolidWood => (9000.0, "common practice, no source"),
        Core::CompactLaminate => (9000.0, "EN 438-4, from memory"),
        Core::SolidSurface | Core::Glass | Core::Other => return None,
    })
}

/// EN 1995-1-1 table 3.2, service class 1 (second-hand): figures for structural boards, a proxy for
/// these.
fn creep(core: Core) -> Option<f64> {
    match core {
        Core::Mdf | Core::ParticleBoard => Some(2.25),
        Core::BirchPlywood => Some(0.8),
        Core::SolidWood => Some(0.6),
        Core::SolidSurface | Core::CompactLaminate | Core::Glass | Core::Other => None,
    }
}

/// Strain in the plane of a board for each 1 % of moisture, least and most: published figures
/// differ by two (reference-values.md §2.2; plywood from memory).
pub fn in_plane(core: Core) -> Option<(f64, f64)> {
    match core {
        Core::Mdf | Core::ParticleBoard => Some((0.00025, 0.0005)),
        Core::BirchPlywood => Some((0.00015, 0.00015)),
        _ => None,
    }
}

/// Strain across the grain of solid wood for each 1 % of moisture: from black cherry, radial, to
/// American beech, tangential (Wood Handbook FPL-GTR-190 table 13-5).
pub const ACROSS_GRAIN: (f64, f64) = (0.00126, 0.00431);
