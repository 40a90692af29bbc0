//! What each symbol looks like on paper: a few shapes about its point, in mm, the same at every
//! scale. Knows no scene and no collisions.
//!
//! Socket, switch, light, water and the rest are plain geometric marks explained by the legend on
//! the same sheet (common practice, no source); the level mark is the filled triangle of ISO 129-1
//! (from memory).

use super::{Item, Text};
use crate::draw::scene::{Fill, Pt, Role, Shape, Symbol};
use crate::draw::style::Ink;

/// The shapes of `symbol` with its point at `at`.
pub fn items(at: Pt, symbol: Symbol) -> Vec<Item> {
    let mut pen = Pencil {
        at,
        turn: 0.0,
        items: Vec::new(),
    };
    pen.draw(symbol);
    pen.items
}

struct Pencil {
    at: Pt,
    turn: f64,
    items: Vec<Item>,
}

impl Pencil {
    fn draw(&mut self, symbol: Symbol) {
        match symbol {
            Symbol::HingeTick { turn } => {
                self.turn = turn;
                self.shape(
                    Ink::None,
                    Fill::Solid,
                    &[(0.0, -1.6), (0.9, -1.6), (0.9, 1.6), (0.0, 1.6)],
                );
            }
            Symbol::UpArrow => self.arrow(4.0),
            Symbol::WayArrow { turn } => {
                self.turn = turn + 90.0;
                self.arrow(7.0);
            }
            Symbol::Socket => {
                self.circle(2.0, Fill::White);
                self.line(&[(-2.0, 0.0), (2.0, 0.0)]);
                self.line(&[(0.0, 0.0), (0.0, -2.0)]);
            }
            Symbol::Switch => {
                self.circle(1.0, Fill::Solid);
                self.line(&[(0.7, -0.7), (2.4, -2.4), (3.2, -1.6)]);
            }
            Symbol::Light => {
                self.circle(2.0, Fill::White);
                self.line(&[(-1.41, -1.41), (1.41, 1.41)]);
                self.line(&[(-1.41, 1.41), (1.41, -1.41)]);
            }
            Symbol::Water => {
                self.shape(
                    Ink::Frame,
                    Fill::Solid,
                    &[(0.0, -2.0), (1.4, 0.6), (0.0, 2.0), (-1.4, 0.6)],
                );
            }
            Symbol::Waste => {
                self.circle(2.0, Fill::White);
                self.circle(0.9, Fill::Solid);
            }
            Symbol::Gas => self.lettered('G'),
            Symbol::Data => self.lettered('D'),
            Symbol::Service => self.lettered('S'),
            Symbol::Vent => {
                self.shape(
                    Ink::Frame,
                    Fill::White,
                    &[(-2.2, -1.6), (2.2, -1.6), (2.2, 1.6), (-2.2, 1.6)],
                );
                for y in [-0.8, 0.0, 0.8] {
                    self.line(&[(-1.5, y), (1.5, y)]);
                }
            }
            Symbol::ElevationMark { letter, turn } => {
                // The pointer first, so that the circle covers its base.
                self.turn = turn;
                self.shape(
                    Ink::Frame,
                    Fill::Solid,
                    &[(-2.7, -2.7), (0.0, -5.8), (2.7, -2.7)],
                );
                self.turn = 0.0;
                self.circle(3.8, Fill::White);
                self.letter(letter, 3.5);
            }
            Symbol::WallLetter { letter } => {
                self.circle(2.3, Fill::White);
                self.letter(letter, 2.5);
            }
            Symbol::Level => {
                self.shape(
                    Ink::Frame,
                    Fill::Solid,
                    &[(0.0, 0.0), (-1.5, -2.4), (1.5, -2.4)],
                );
            }
            Symbol::Terminator => {
                let shape = Shape::Path {
                    points: vec![self.place((-1.2, 1.2)), self.place((1.2, -1.2))],
                    closed: false,
                };
                self.items.push(Item::Shape {
                    ink: Ink::Tick,
                    fill: Fill::None,
                    shape,
                });
            }
            Symbol::Dot => self.circle(0.6, Fill::Solid),
            Symbol::MatchMark { letter } => {
                self.circle(3.2, Fill::White);
                self.letter(letter, 3.5);
            }
        }
    }

    fn place(&self, (x, y): (f64, f64)) -> Pt {
        let (sin, cos) = libm::sincos(self.turn.to_radians());
        Pt::new(self.at.x + x * cos - y * sin, self.at.y + x * sin + y * cos)
    }

    fn shape(&mut self, ink: Ink, fill: Fill, points: &[(f64, f64)]) {
        let points = points.iter().map(|p| self.place(*p)).collect();
        self.items.push(Item::Shape {
            ink,
            fill,
            shape: Shape::Path {
                points,
                closed: true,
            },
        });
    }

    fn line(&mut self, points: &[(f64, f64)]) {
        let points = points.iter().map(|p| self.place(*p)).collect();
        let shape = Shape::Path {
            points,
            closed: false,
        };
        self.items.push(Item::Shape {
            ink: Ink::Frame,
            fill: Fill::None,
            shape,
        });
    }

    fn circle(&mut self, radius: f64, fill: Fill) {
        let shape = Shape::Circle {
            centre: self.at,
            radius,
        };
        self.items.push(Item::Shape {
            ink: Ink::Frame,
            fill,
            shape,
        });
    }

    /// An arrow of `length` about the point, its tip up when not turned.
    fn arrow(&mut self, length: f64) {
        let half = length / 2.0;
        self.line(&[(0.0, half), (0.0, -half + 1.5)]);
        self.shape(
            Ink::None,
            Fill::Solid,
            &[(0.0, -half), (0.8, -half + 2.2), (-0.8, -half + 2.2)],
        );
    }

    fn lettered(&mut self, letter: char) {
        self.circle(2.2, Fill::White);
        self.letter(letter, 2.5);
    }

    fn letter(&mut self, letter: char, cap: f64) {
        let mut text = Text::new(vec![letter.to_string()], cap, true).at(self.at);
        text.knock = false;
        self.items.push(Item::Text(text));
    }
}

/// A hinged front's swing in the legend: a front 12 × 8 mm with the dashed triangle, the hinge
/// tick and a handle, apex where the project's convention has it. Hinged on the left.
pub fn swing_sample(at: Pt, apex_at_hinge: bool) -> Vec<Item> {
    let corner = |x: f64, y: f64| Pt::new(at.x + x, at.y + y);
    let path = |ink, points: Vec<Pt>, closed| Item::Shape {
        ink,
        fill: Fill::None,
        shape: Shape::Path { points, closed },
    };
    let outline = vec![
        corner(-6.0, -4.0),
        corner(6.0, -4.0),
        corner(6.0, 4.0),
        corner(-6.0, 4.0),
    ];
    let (apex, base) = if apex_at_hinge {
        (-6.0, 6.0)
    } else {
        (6.0, -6.0)
    };
    let swing = vec![corner(base, -4.0), corner(apex, 0.0), corner(base, 4.0)];
    let mut items = vec![
        path(Ink::Role(Role::Edge), outline, true),
        path(Ink::Role(Role::Swing), swing, false),
        path(
            Ink::Role(Role::Fine),
            vec![corner(5.0, -1.6), corner(5.0, 1.6)],
            false,
        ),
    ];
    for y in [-2.6, 2.6] {
        let tick = Symbol::HingeTick { turn: 0.0 };
        items.extend(self::items(corner(-6.0, y * 0.8), tick));
    }
    items
}
