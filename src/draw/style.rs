//! Looks: what each kind of line and fill is on paper, in millimetres. Knows no scene and no place.
//!
//! Line widths are those of ISO 128 line group 0.5 (wide 0.5, narrow 0.25, with 0.35 and 0.18 of
//! the same series between); dash lengths are its multiples of the width d. Everything is told
//! apart in black and white.

use super::scene::{Fill, Role};

/// What a line on paper is: a line of the scene, or one that placing added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ink {
    Role(Role),
    /// Dimension and extension lines, leaders.
    Dimension,
    /// Terminators: the oblique strokes of ISO 129-1.
    Tick,
    /// Frames round labels, boxes of the scale bar, outlines of symbols.
    Frame,
    /// No outline at all.
    None,
}

/// Width and dashes, mm; no dashes: continuous.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    pub width: f64,
    pub dash: &'static [f64],
}

/// Width and dashes of each line.
pub fn pen(ink: Ink) -> Pen {
    let (width, dash): (f64, &'static [f64]) = match ink {
        Ink::Role(role) => match role {
            Role::Survey | Role::Cut => (0.5, &[]),
            Role::Edge => (0.35, &[]),
            Role::Fine => (0.18, &[]),
            // Dashed: 12d dash, 3d gap.
            Role::Hidden => (0.25, &[3.0, 0.75]),
            Role::Swing => (0.18, &[2.16, 0.9]),
            // Long-dash double-dot: 24d dash, dots of 0.5d, gaps of 3d.
            Role::Above => (0.25, &[6.0, 0.75, 0.13, 0.75, 0.13, 0.75]),
            // Long-dash dot.
            Role::Centre => (0.18, &[4.3, 0.54, 0.09, 0.54]),
            Role::Lining => (0.25, &[]),
            Role::Service => (0.35, &[]),
            Role::Match => (0.5, &[12.0, 1.5, 0.25, 1.5, 0.25, 1.5]),
            Role::Bare => (0.0, &[]),
            Role::Cloud => (0.35, &[]),
            // Initial outlines (ISO 128 line 05.1, from memory): long-dash double-dot.
            Role::Was => (0.25, &[6.0, 0.75, 0.13, 0.75, 0.13, 0.75]),
        },
        Ink::Dimension => (0.18, &[]),
        Ink::Tick => (0.35, &[]),
        Ink::Frame => (0.25, &[]),
        Ink::None => (0.0, &[]),
    };
    Pen { width, dash }
}

/// How strictly a label keeps off a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// A label may interrupt it where nothing better is found.
    Light,
    /// Never under a label.
    Heavy,
}

pub fn weight(ink: Ink) -> Weight {
    match ink {
        Ink::Role(
            Role::Fine
            | Role::Hidden
            | Role::Swing
            | Role::Above
            | Role::Centre
            | Role::Lining
            | Role::Bare
            | Role::Cloud
            | Role::Was,
        )
        | Ink::Dimension
        | Ink::None => Weight::Light,
        Ink::Role(Role::Survey | Role::Cut | Role::Edge | Role::Service | Role::Match)
        | Ink::Tick
        | Ink::Frame => Weight::Heavy,
    }
}

/// What fills an area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Paint {
    None,
    Flat(&'static str),
    /// A tile repeated over the area.
    Hatch(Hatch),
    /// A photograph, stretched over the area.
    Picture(u32),
}

/// A tile of `width` × `height` mm, turned by `turn` degrees, with lines and dots in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    pub id: &'static str,
    pub width: f64,
    pub height: f64,
    pub turn: f64,
    /// x0, y0, x1, y1, width, grey.
    pub lines: &'static [(f64, f64, f64, f64, f64, &'static str)],
    /// x, y, radius.
    pub dots: &'static [(f64, f64, f64)],
}

const BLACK: &str = "#000000";
const GREY: &str = "#8c8c8c";

/// How each fill is painted.
pub fn paint(fill: Fill) -> Paint {
    match fill {
        Fill::None => Paint::None,
        Fill::White => Paint::Flat("#ffffff"),
        Fill::Tint => Paint::Flat("#ebebeb"),
        Fill::Solid => Paint::Flat(BLACK),
        Fill::Picture(at) => Paint::Picture(at),
        // Pairs of slanting lines: walls.
        Fill::Masonry => Paint::Hatch(Hatch {
            id: "masonry",
            width: 3.0,
            height: 3.0,
            turn: -45.0,
            lines: &[
                (0.0, 1.0, 3.0, 1.0, 0.18, BLACK),
                (0.0, 1.8, 3.0, 1.8, 0.18, BLACK),
            ],
            dots: &[],
        }),
        // Stipple: plaster and board still to come.
        Fill::Lining => Paint::Hatch(Hatch {
            id: "lining",
            width: 1.2,
            height: 1.2,
            turn: 0.0,
            lines: &[],
            dots: &[(0.3, 0.3, 0.13), (0.9, 0.9, 0.13)],
        }),
        // Crossed lines: wood that is cut away on site.
        Fill::Scribe => Paint::Hatch(Hatch {
            id: "scribe",
            width: 1.1,
            height: 1.1,
            turn: 45.0,
            lines: &[
                (0.0, 0.55, 1.1, 0.55, 0.15, BLACK),
                (0.55, 0.0, 0.55, 1.1, 0.15, BLACK),
            ],
            dots: &[],
        }),
        // Single close lines slanting the other way: board cut through.
        Fill::Board => Paint::Hatch(Hatch {
            id: "board",
            width: 0.9,
            height: 0.9,
            turn: 45.0,
            lines: &[(0.0, 0.45, 0.9, 0.45, 0.15, BLACK)],
            dots: &[],
        }),
        // Heavy level lines, unlike any hatch of a material: two things in one place.
        Fill::Clash => Paint::Hatch(Hatch {
            id: "clash",
            width: 1.0,
            height: 1.0,
            turn: 0.0,
            lines: &[(0.0, 0.5, 1.0, 0.5, 0.35, BLACK)],
            dots: &[],
        }),
        Fill::GrainUp => Paint::Hatch(Hatch {
            id: "grain-up",
            width: 9.0,
            height: 37.0,
            turn: 0.0,
            lines: &[
                (0.6, 0.0, 0.6, 27.0, 0.1, GREY),
                (2.3, 9.0, 2.3, 37.0, 0.1, GREY),
                (3.6, 0.0, 3.6, 11.0, 0.1, GREY),
                (3.6, 15.0, 3.6, 37.0, 0.1, GREY),
                (5.7, 3.0, 5.7, 31.0, 0.1, GREY),
                (7.5, 0.0, 7.5, 19.0, 0.1, GREY),
                (7.5, 24.0, 7.5, 37.0, 0.1, GREY),
            ],
            dots: &[],
        }),
        Fill::GrainFlat => Paint::Hatch(Hatch {
            id: "grain-flat",
            width: 37.0,
            height: 9.0,
            turn: 0.0,
            lines: &[
                (0.0, 0.6, 27.0, 0.6, 0.1, GREY),
                (9.0, 2.3, 37.0, 2.3, 0.1, GREY),
                (0.0, 3.6, 11.0, 3.6, 0.1, GREY),
                (15.0, 3.6, 37.0, 3.6, 0.1, GREY),
                (3.0, 5.7, 31.0, 5.7, 0.1, GREY),
                (0.0, 7.5, 19.0, 7.5, 0.1, GREY),
                (24.0, 7.5, 37.0, 7.5, 0.1, GREY),
            ],
            dots: &[],
        }),
    }
}

/// Whether the fill hides what was drawn before it.
pub fn hides(fill: Fill) -> bool {
    fill != Fill::None
}

/// From a text's own outline to the edge of the white it knocks out, mm.
pub const KNOCK_MM: f64 = 0.5;
/// Between baselines, as a multiple of the capital height (ISO 3098-1 type B: at least 1.5).
pub const LINE_PITCH: f64 = 1.6;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_of_the_iso_128_series() {
        // ISO 128 line widths, group 0.5 and its neighbours: 0.18 0.25 0.35 0.5.
        let series = [0.18, 0.25, 0.35, 0.5];
        for role in [
            Role::Survey,
            Role::Cut,
            Role::Edge,
            Role::Fine,
            Role::Hidden,
            Role::Swing,
            Role::Above,
            Role::Centre,
            Role::Lining,
            Role::Service,
            Role::Match,
        ] {
            assert!(series.contains(&pen(Ink::Role(role)).width), "{role:?}");
        }
        assert!(pen(Ink::Role(Role::Cut)).width >= 2.0 * pen(Ink::Dimension).width);
        // ISO 128-2: a dashed line has dashes of 12d and gaps of 3d.
        let hidden = pen(Ink::Role(Role::Hidden));
        assert_eq!(hidden.dash, [12.0 * hidden.width, 3.0 * hidden.width]);
    }

    #[test]
    fn fills_are_all_told_apart() {
        let all = [
            Fill::None,
            Fill::White,
            Fill::Tint,
            Fill::Solid,
            Fill::Masonry,
            Fill::Lining,
            Fill::Scribe,
            Fill::Board,
            Fill::Clash,
            Fill::GrainUp,
            Fill::GrainFlat,
        ];
        for (i, a) in all.iter().enumerate() {
            for b in &all[i + 1..] {
                assert_ne!(paint(*a), paint(*b));
            }
        }
    }
}
