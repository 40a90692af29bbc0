//! A drawing before it has paper: typed primitives in millimetres of the real thing.
//!
//! Knows meaning (a line's role, a label's importance, what a dimension measures), not looks: line
//! widths and dashes are in `style`, scale and collisions in `place`, SVG in `svg`. `x` runs to the
//! right and `y` DOWN, so a view that has heights writes `y = -z`.

use super::gaps::Gap;
use crate::units::Length;

/// A point in millimetres of the real thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pt {
    pub x: f64,
    pub y: f64,
}

impl Pt {
    pub fn new(x: f64, y: f64) -> Pt {
        Pt { x, y }
    }
    /// From exact lengths: along, and height ABOVE the floor.
    pub fn up(x: Length, z: Length) -> Pt {
        Pt {
            x: x.in_mm(),
            y: -z.in_mm(),
        }
    }
}

/// An upright rectangle, `y0` above `y1` on paper (so `y0 <= y1`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    pub x0: f64,
    pub y0: f64,
    pub x1: f64,
    pub y1: f64,
}

/// What a line is. `style` gives each its width and dashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// The room as surveyed: walls, floor, ceiling.
    Survey,
    /// What a section or plan cuts through.
    Cut,
    /// A visible edge of the furniture.
    Edge,
    /// A lesser visible edge: shelf fronts, handles, worktop lines.
    Fine,
    /// Behind something.
    Hidden,
    /// Swing of a front: dashed triangle or arc.
    Swing,
    /// Above the cut of a plan: bulkheads, slopes.
    Above,
    /// Centre and datum lines.
    Centre,
    /// Edge of a lining still to come.
    Lining,
    /// Services and appliances.
    Service,
    /// Where a drawing goes on, on another sheet.
    Match,
    /// Round what changed since the newest issue.
    Cloud,
    /// As something was in it.
    Was,
    /// No line at all: the edge of a picture or of a gap.
    Bare,
}

/// How a closed shape is filled. Every one is told apart in black and white.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fill {
    None,
    /// Paper white: hides what was drawn before.
    White,
    /// Light grey tint.
    Tint,
    /// Solid black.
    Solid,
    /// Wall in plan or section.
    Masonry,
    /// A lining still to come.
    Lining,
    /// A strip to scribe.
    Scribe,
    /// Board cut through.
    Board,
    /// Where two things would be in one place.
    Clash,
    /// Along the grain: fine lines upright or flat.
    GrainUp,
    GrainFlat,
    /// A photograph of the face, by its place among [`Faces`](crate::faces::Faces): rectangles only.
    Picture(u32),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Open (`closed == false`) or closed run of straight lines.
    Path {
        points: Vec<Pt>,
        closed: bool,
    },
    Rect(Rect),
    Circle {
        centre: Pt,
        radius: f64,
    },
    /// Part of a circle; angles in degrees, 0 to the right, growing clockwise on paper.
    Arc {
        centre: Pt,
        radius: f64,
        from: f64,
        sweep: f64,
    },
    /// Something drawn at a size on paper, whatever the scale.
    Symbol {
        at: Pt,
        symbol: Symbol,
    },
}

/// Drawn at a fixed size on paper. `turn` in degrees clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Symbol {
    /// Short heavy tick on the hinge edge of a front.
    HingeTick {
        turn: f64,
    },
    /// Arrow pointing up: this edge is the top.
    UpArrow,
    /// Arrow the way a drawer or a sliding leaf goes.
    WayArrow {
        turn: f64,
    },
    Socket,
    Switch,
    Light,
    Water,
    Waste,
    Gas,
    Vent,
    Data,
    Service,
    /// Elevation mark on plan: a circle with the wall's letter, pointing at the wall.
    ElevationMark {
        letter: char,
        turn: f64,
    },
    /// The letter of a wall without an elevation, on its body.
    WallLetter {
        letter: char,
    },
    /// Level mark on a floor or datum line.
    Level,
    /// Oblique stroke that ends a dimension line.
    Terminator,
    /// Filled dot that ends a leader inside an area.
    Dot,
    /// Break line at a match line's end.
    MatchMark {
        letter: char,
    },
}

#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    pub role: Role,
    pub fill: Fill,
    pub shape: Shape,
}

/// ISO 3098 nominal heights.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lettering {
    /// 1.8 mm where 2.5 finds no place: minor labels only.
    Minor,
    /// 2.5 mm: dimensions and labels.
    Normal,
    /// 3.5 mm: front numbers, headings.
    Strong,
    /// 5 mm.
    Title,
}

impl Lettering {
    /// Capital height on paper, mm.
    pub fn cap_mm(self) -> f64 {
        match self {
            Lettering::Minor => 1.8,
            Lettering::Normal => 2.5,
            Lettering::Strong => 3.5,
            Lettering::Title => 5.0,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LabelFrame {
    None,
    /// In a circle: the number of a front.
    Circle,
    /// In a box: the id of a unit, the number of a finding or a risk in words.
    Box,
    /// In a triangle: the number of a change.
    Triangle,
}

/// Words that belong to a place in the drawing. `place` keeps them clear of one another and of
/// lines: it tries the anchor, then other spots inside `within`, then turned, then smaller, and at
/// last outside with a leader.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    pub at: Pt,
    pub lines: Vec<String>,
    pub lettering: Lettering,
    pub bold: bool,
    pub frame: LabelFrame,
    /// The area it should stay inside, real mm.
    pub within: Option<Rect>,
    /// Lower is placed first and keeps its place.
    pub rank: u8,
    /// Said at the foot of the sheet where it finds no place; nothing: it is led out by a leader.
    pub listed: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChainSide {
    Above,
    Below,
    Left,
    Right,
}

/// A chain of dimensions outside the object. Exact: the texts are differences of `stops`, so they
/// add up to the overall.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    pub side: ChainSide,
    /// Nearest to the object first: 0 fronts, 1 units, 2 overall and so on.
    pub tier: u8,
    /// Along the axis measured, in scene coordinates (so `-z` for heights), in order.
    pub stops: Vec<Length>,
    /// Where the object's edge is at each stop, across the axis: extension lines begin there. One
    /// value for all, or one each.
    pub reach: Vec<Length>,
    /// Printed before the first value of the chain, e.g. "opening"; may be empty.
    pub name: String,
    /// Running heights from a datum (`+ 1000`) rather than a chain of differences: each stop gets
    /// its own distance from this origin.
    pub running_from: Option<Length>,
    /// Which stop belongs to what stands from where to where (real mm), so that a part of a drawing
    /// keeps the heights of what it shows. A stop that is not here belongs to the whole.
    pub stands: Vec<(Length, f64, f64)>,
    /// Spaces that get no value, such as the joints between the fronts of one stack.
    pub silent: Vec<(Length, Length)>,
    /// Names of what is measured, by its extent along `x`. Widths: printed before the value between those
    /// two stops. Heights: the names of all that are on its sheet stand at the head of the chain.
    pub named: Vec<(Length, Length, String)>,
}

/// A note with a leader. `place` stacks callouts in the margins so that leaders never cross.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout {
    pub target: Pt,
    pub text: String,
    /// A short mark that stands close by, its words at the foot of the sheet; a note is plain text.
    pub balloon: Option<String>,
    /// Stands beside the object, never in it.
    pub aside: bool,
}

/// One line of the legend on the sheet, only for what the drawing uses.
#[derive(Clone, Debug, PartialEq)]
pub struct LegendItem {
    pub sample: LegendSample,
    pub text: String,
}

#[derive(Clone, Debug, PartialEq)]
pub enum LegendSample {
    Line(Role),
    Area(Fill),
    Symbol(Symbol),
    /// A handle's mark, in this fill.
    Handle(Fill),
    /// Two fronts with the gap between them.
    Gap,
    /// The swing triangle with its hinge tick and handle mark.
    Swing {
        apex_at_hinge: bool,
    },
}

/// What stands between two `x`, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    pub left: f64,
    pub right: f64,
    pub text: String,
}

impl Scene {
    /// [`Scene::alt`] of what stands between two `x`.
    pub fn alt_between(&self, left: f64, right: f64) -> String {
        if self.told.is_empty() {
            return self.alt.clone();
        }
        // What only touches the cut is on the other part.
        let here = |t: &&Told| match t.left == t.right {
            true => t.left >= left && t.left <= right,
            false => t.left < right - 1.0 && t.right > left + 1.0,
        };
        let said: Vec<&str> = self
            .told
            .iter()
            .filter(here)
            .map(|t| t.text.as_str())
            .collect();
        format!("{}. {}. Millimetres.", self.title, said.join("; "))
    }
}

#[derive(Clone, Debug, PartialEq, Default)]
pub struct Scene {
    /// Stable; also its file name.
    pub id: String,
    pub title: String,
    /// What a list of the scenes on a sheet calls it, where its title would say too much; those of one
    /// name are listed once. Empty: its title.
    pub listed: String,
    /// Says in words what the drawing says, for those who cannot see it.
    pub alt: String,
    /// What of those words belongs to one stretch: a part of a long drawing says only its own.
    pub told: Vec<Told>,
    /// Between which `x` the thing drawn reaches, a wall's corners say: what parts are counted from.
    pub along: Option<(f64, f64)>,
    /// In drawing order.
    pub marks: Vec<Mark>,
    pub labels: Vec<Label>,
    pub chains: Vec<Chain>,
    pub callouts: Vec<Callout>,
    /// Listed under it: what the marks stand for that its small parts bear.
    pub under: Vec<String>,
    pub legend: Vec<LegendItem>,
    /// The gaps that the legend tells of, of which a part tells its own.
    pub gaps: Vec<Gap>,
    /// Where a drawing that is too long may be parted, in `x`; in order. Empty: never.
    pub may_part_at: Vec<f64>,
    /// Ids of what it is of, where its kind does not say: units of a section, the wall of a map.
    pub shows: Vec<String>,
    /// Numbers of the changes marked on it.
    pub changes: Vec<usize>,
}
