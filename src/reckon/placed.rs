//! Everything with its place and size: what the drawings draw and the schedules list.
//!
//! Complete: a number shown on a page is a field here or in the job. Coordinates of a wall: `x`
//! along it from its left corner (as surveyed, at the floor), `z` up from finished floor, `y` out
//! of the wall into the room from its surveyed face. Plan coordinates of a room: the first corner at the
//! origin, `x` along the wall that carries the first run, `y` to the right of it, into the room.

use super::carried::Carried;
use super::handling::Handling;
use super::loads::Loads;
use super::order::Step;
use super::pattern::layout::PatternLayout;
use super::quantities::Quantities;
use crate::diag::Place;
use crate::resolve::job::{
    ApplianceRef, FrontKind, FrontStyle, HardwareRef, MaterialRef, Side, Stands, Subject, WallRef,
};
use crate::units::{Length, Mass};

#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    pub rooms: Vec<PlacedRoom>,
    pub runs: Vec<PlacedRun>,
    pub panels: Vec<PlacedPanel>,
    pub sliding: Vec<PlacedSliding>,
    pub worktops: Vec<PlacedWorktop>,
    /// Every front of the job in order of its number: the first is number 1.
    pub fronts: Vec<PlacedFront>,
    /// What the fronts of each pattern are cut from.
    pub patterns: Vec<PatternLayout>,
    /// What patterns run over besides fronts. A layout counts these on from the fronts: see
    /// [`Reckoned::face`].
    pub pattern_pieces: Vec<PlacedFront>,
    pub hardware: Vec<HardwareCount>,
    /// What is carried in besides units.
    pub carried: Vec<Carried>,
    /// By run and unit.
    pub handling: Vec<Vec<Handling>>,
    /// By run and unit: what it comes to when it is full.
    pub loads: Vec<Vec<Loads>>,
    /// What is fitted, first to last.
    pub order: Vec<Step>,
    /// What strikes what when it opens.
    pub clashes: Vec<Clash>,
    /// By front: how far it opens by itself, at most a quarter turn, rad; `None`: it does not turn.
    pub opens: Vec<Option<f64>>,
    /// What it takes: parts, boards, edges, finishes.
    pub quantities: Quantities,
    pub findings: Vec<Finding>,
}

impl Reckoned {
    /// A front, or another face that a pattern runs over, as a [`PatternLayout`] counts them.
    pub fn face(&self, index: usize) -> Option<&PlacedFront> {
        let further = index.checked_sub(self.fronts.len());
        let piece = || self.pattern_pieces.get(further?);
        self.fronts.get(index).or_else(piece)
    }
}

/// A point on plan, in millimetres of the room: derived from angles, so not exact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanPoint {
    pub x: f64,
    pub y: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedRoom {
    /// Same order as the job's walls.
    pub walls: Vec<PlacedWall>,
    /// Distance between where the last wall ends and the first begins; `None` for a part survey.
    pub closure: Option<Closure>,
    pub diagonals: Vec<DiagonalCheck>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedWall {
    /// Left and right corner at the floor, seen from inside the room.
    pub start: PlanPoint,
    pub end: PlanPoint,
    /// Unit vector along the wall.
    pub along: PlanPoint,
    /// Unit vector out of the wall into the room.
    pub out: PlanPoint,
    /// What its elevation is called: its own id where that is one character, else a letter.
    pub letter: char,
}

impl PlacedWall {
    /// Plan point `x` along the wall and `y` out of it, both in mm.
    pub fn at(&self, x: f64, y: f64) -> PlanPoint {
        PlanPoint {
            x: self.start.x + self.along.x * x + self.out.x * y,
            y: self.start.y + self.along.y * x + self.out.y * y,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closure {
    pub error: Length,
    pub perimeter: Length,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiagonalCheck {
    pub from: usize,
    pub to: usize,
    pub measured: Length,
    pub computed: Length,
}

/// The clear width at one height: survey less leaning neighbours less linings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpeningAt {
    pub z: Length,
    pub left: Length,
    pub right: Length,
}

impl OpeningAt {
    pub fn width(self) -> Length {
        self.right - self.left
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedRun {
    pub wall: WallRef,
    /// From the foot of the wall up; at each height where something changes.
    pub opening: Vec<OpeningAt>,
    /// What the units are set out on: the narrowest over their height.
    pub left: Length,
    pub right: Length,
    /// Highest and lowest floor under it, along the wall.
    pub floor_high: Length,
    pub floor_low: Length,
    /// Between the two, to the nearest half-millimetre: they are rounded outward, it is not.
    pub fall: Length,
    /// Lowest ceiling (slopes and bulkheads included) over its footprint.
    pub ceiling_low: Length,
    /// Left to right: strips, panels and units in the order they stand.
    pub pieces: Vec<RunPiece>,
    /// Same order as the job's units.
    pub units: Vec<PlacedUnit>,
    /// Back of the carcasses from the surveyed face.
    pub y_back: Length,
    /// One board under the units that stand on it: x from, x to, its top; set back from the fronts.
    pub plinths: Vec<Plinth>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plinth {
    pub left: Length,
    pub right: Length,
    pub top: Length,
    pub y_front: Length,
}

impl PlacedRun {
    /// From the back of its deepest unit to the face of its fronts: how deep end panels are.
    pub fn depth_over_fronts(&self) -> Length {
        let deep = self.units.iter().map(|u| u.depth_over_fronts).max();
        deep.unwrap_or_default()
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct RunPiece {
    pub kind: PieceKind,
    pub side: Side,
    /// A strip's faces: on the wall side the nominal (narrowest) line.
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    pub material: MaterialRef,
    /// Strips cut to a wall: (height, width there), from the bottom up.
    pub scribe: Vec<(Length, Length)>,
    /// Width to cut the blank: the widest plus the allowance.
    pub blank: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceKind {
    Scribe,
    Filler,
    EndPanel,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedUnit {
    pub id: String,
    pub left: Length,
    pub right: Length,
    /// Underside and top of the carcass, from finished floor.
    pub base: Length,
    pub top: Length,
    /// Of the carcass, front thickness not counted.
    pub depth: Length,
    /// Thickness of the carcass's boards and of the back (zero: none).
    pub board: Length,
    pub back: Length,
    pub stands: Stands,
    pub bays: Vec<PlacedBay>,
    pub feet: Vec<Foot>,
    pub notches: Vec<Notch>,
    /// Indices into [`Reckoned::fronts`], bottom left first.
    pub fronts: Vec<usize>,
    /// Depth from the back to the face of its fronts.
    pub depth_over_fronts: Length,
    /// Boxes of its drawers: those behind its fronts, then those in its bays.
    pub boxes: Vec<PlacedDrawer>,
    /// Carcass, shelves, boxes of drawers and fronts, by volume and density.
    pub mass: Mass,
}

impl PlacedUnit {
    pub fn width(&self) -> Length {
        self.right - self.left
    }
    pub fn height(&self) -> Length {
        self.top - self.base
    }
}

/// The box of a drawer, shut.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedDrawer {
    /// The id of the front it has; empty: it stands in a bay, behind doors.
    pub front: String,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    /// Its face from the surveyed wall, and how far it goes back.
    pub y_front: Length,
    pub long: Length,
    /// Of sides and ends, and of the bottom.
    pub board: MaterialRef,
    pub thin: MaterialRef,
}

/// Inside faces, and what is in it. Heights from finished floor.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedBay {
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    pub shelves: Vec<Shelf>,
    pub rails: Vec<Length>,
    /// Bottom and top of each inner drawer.
    pub drawers: Vec<(Length, Length)>,
    pub appliances: Vec<PlacedAppliance>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shelf {
    /// Top face.
    pub z: Length,
    pub thickness: Length,
    /// Depth of the strip under its front edge, of its own board; zero: none.
    pub lipping: Length,
    pub fixed: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedAppliance {
    pub which: ApplianceRef,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    pub x: Length,
    /// From the surveyed face of the wall.
    pub y: Length,
    /// Setting: underside of carcass less floor there.
    pub height: Length,
}

/// A piece cut out of a unit's back or side where something on the wall stands in its way.
#[derive(Clone, Debug, PartialEq)]
pub struct Notch {
    pub what: String,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    /// From the back of the unit.
    pub deep: Length,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedFront {
    /// From 1: by run in file order, then left to right, then bottom to top.
    pub number: u32,
    pub id: String,
    pub run: usize,
    pub unit: usize,
    pub wall: WallRef,
    pub kind: FrontKind,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    /// Back and face of the front, out from the surveyed wall.
    pub y_back: Length,
    pub y_face: Length,
    pub hinge: Option<Side>,
    pub hinges: u32,
    pub mass: Mass,
    pub style: FrontStyle,
    pub hides: Option<ApplianceRef>,
    pub handle: Option<PlacedHandle>,
    /// How far a drawer comes out; zero for what does not.
    pub travel: Length,
}

impl PlacedFront {
    /// Its number; of what is no front, its name.
    pub fn label(&self) -> String {
        match self.number {
            0 => self.id.clone(),
            n => n.to_string(),
        }
    }
    pub fn width(&self) -> Length {
        self.right - self.left
    }
    pub fn height(&self) -> Length {
        self.top - self.bottom
    }
    /// A flap turns about the long edge away from its handle; without one, about its top.
    pub fn lifts(&self) -> bool {
        let handle = self.handle.as_ref();
        handle.is_none_or(|h| h.z <= (self.bottom + self.top).half())
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedHandle {
    pub which: HardwareRef,
    /// Centre.
    pub x: Length,
    pub z: Length,
    pub length: Length,
    pub out: Length,
    pub upright: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPanel {
    pub wall: WallRef,
    pub y_back: Length,
    pub y_face: Length,
    pub bottom: Length,
    pub top: Length,
    /// (left, right) of each piece or slat.
    pub pieces: Vec<(Length, Length)>,
    /// Between pieces, as it comes out.
    pub gap: Length,
    pub mass: Mass,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedSliding {
    pub wall: WallRef,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    pub y_back: Length,
    pub y_face: Length,
    /// Where the leaf stands when open.
    pub open_left: Length,
    pub open_right: Length,
    pub track_left: Length,
    pub track_right: Length,
    /// Its back off the lined wall at its foot and at its head: it hangs plumb, the wall may not stand so.
    pub off_foot: Length,
    pub off_head: Length,
    /// At the edge that stays before the opening when it is slid open.
    pub handle: Option<PlacedHandle>,
    pub mass: Mass,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedWorktop {
    pub wall: WallRef,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
    pub y_back: Length,
    pub y_front: Length,
    pub upstand_top: Length,
    /// Of its sheet: what lies on top.
    pub slab: Length,
    pub built_up: Option<BuiltUp>,
    /// In wall coordinates: left, right, y from, y to.
    pub cutouts: Vec<PlacedCutout>,
    pub mass: Mass,
}

/// Strips of a worktop's own sheet that make its edge as high as it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct BuiltUp {
    /// Height under the slab.
    pub wanting: Length,
    /// One under another; else a single one stood on edge.
    pub flat: bool,
    pub count: u32,
    /// As cut from the sheet.
    pub width: Length,
    /// From front to back, as it is glued on.
    pub thick: Length,
    /// Along the front, then back along each end that is seen; so many of each as the count says.
    pub lengths: Vec<Length>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlacedCutout {
    pub what: String,
    pub left: Length,
    pub right: Length,
    pub y_back: Length,
    pub y_front: Length,
    pub radius: Length,
}

/// Counted from the units and fronts, never typed.
#[derive(Clone, Debug, PartialEq)]
pub struct HardwareCount {
    pub which: HardwareRef,
    pub count: u32,
    /// (unit id, count), in order of the runs.
    pub by_unit: Vec<(String, u32)>,
    /// Of runners, rails and tracks: how long, and how many so long, the longest first.
    pub lengths: Vec<(Length, u32)>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord)]
pub enum Severity {
    /// The job cannot be made or signed as it stands.
    Blocks,
    Warns,
    Informs,
}

/// Something the reckoning found that somebody should know before the saw starts.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Named after the fault, stable for ever.
    pub code: &'static str,
    pub severity: Severity,
    pub subject: Subject,
    /// What is the matter, with the number and its unit.
    pub text: String,
    /// The limit it is held against, with where that comes from.
    pub limit: String,
    pub advice: String,
    /// What a client is told of it; `None`: it is the workshop's business alone.
    pub client: Option<ForClient>,
    /// Of [`Reckoned::fronts`], those it names besides its subject.
    pub fronts: Vec<usize>,
    /// Each thing that it is about, where its subject only gathers them.
    pub about: Vec<Subject>,
    /// The number behind it.
    pub figure: Option<Figure>,
    /// What of a kind it was found of, such as a pattern's name; mostly empty.
    pub group: String,
    /// Why it may stand, where the project says so: it then neither blocks nor warns.
    pub known: Option<String>,
    pub place: Place,
}

/// The number behind a finding, with its unit, and what it is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub found: String,
    pub limit: String,
    /// Of two of one kind the greater is the worse.
    pub weight: f64,
}

/// A finding for somebody who builds nothing: no grounds, no trade terms.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ForClient {
    /// What it is and what it means, with its number.
    pub text: String,
    /// What may be chosen instead; empty where there is nothing to choose.
    pub choice: String,
}

/// Something that opens strikes something: its finding, and where it is on plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    pub room: usize,
    /// In a few words, for the plan.
    pub brief: String,
    /// Of [`Reckoned::fronts`], those that strike or are struck.
    pub fronts: Vec<usize>,
    /// Convex outlines on plan of what would be in one place; without any it is not drawn.
    pub areas: Vec<Vec<PlanPoint>>,
    /// Of several pairs, what is told of each unit's own: by run and unit.
    pub of_unit: Vec<((usize, usize), String)>,
    pub finding: Finding,
}

impl Clash {
    pub fn is_drawn(&self) -> bool {
        !self.areas.is_empty()
    }

    /// Whether this finding is its own: what is said later of the one is not said of the other.
    pub fn is(&self, finding: &Finding) -> bool {
        let own = &self.finding;
        (own.code, &own.subject, &own.text) == (finding.code, &finding.subject, &finding.text)
    }
}
