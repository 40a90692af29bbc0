//! The job: the project file with every reference followed and every default filled in.
//!
//! What a later stage may rely on: no text stands where a number belongs, no name where an index
//! belongs, and nothing is optional unless its absence is a real choice. Heights are from finished
//! floor, which is the highest surveyed floor point of the room. Nothing here has a place in the
//! room yet beyond what was surveyed: `reckon::setting_out` gives it one.

use crate::diag::Place;
use crate::pixels::{Corners, Pixels};
pub use crate::read::words::{
    Aim, Core, EdgeIs, FrontKind, GoesIn, Grain, HardwareKind, Lay, Load, ObstacleKind, OptionKind,
    OwnDoor, PanelKind, Reader, ServiceKind, Sheets, Side, Stands, SwingApex, Turn, Weight,
};
use crate::units::{Angle, Date, Length, Mass, Money, Percent};

/// Index into [`Job::materials`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct MaterialRef(pub usize);
/// Index into [`Job::finishes`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct FinishRef(pub usize);
/// Index into [`Job::hardware`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct HardwareRef(pub usize);
/// Index into [`Job::appliances`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct ApplianceRef(pub usize);
/// Index into [`Job::boards`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct BoardRef(pub usize);
/// A wall: index of its room, index of the wall in the room.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct WallRef {
    pub room: usize,
    pub wall: usize,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    pub info: Info,
    pub people: Vec<Person>,
    pub rooms: Vec<Room>,
    pub way_in: Vec<Obstacle>,
    pub runs: Vec<Run>,
    pub panels: Vec<Panel>,
    pub sliding: Vec<Sliding>,
    pub worktops: Vec<Worktop>,
    pub materials: Vec<Material>,
    /// Boards in hand, in the order of the file.
    pub boards: Vec<Board>,
    pub cutter: Cutter,
    pub drawer: DrawerRule,
    /// How patterns are cut; one that is not here is cut as [`PatternRule::usual`] says.
    pub patterns: Vec<PatternRule>,
    pub finishes: Vec<Finish>,
    pub hardware: Vec<Hardware>,
    pub appliances: Vec<Appliance>,
    pub by_others: Vec<ByOthers>,
    pub notes: Vec<Note>,
    pub known: Vec<Known>,
    pub risks: Vec<Risk>,
    pub history: Vec<HistoryEntry>,
}

impl Job {
    pub fn wall(&self, at: WallRef) -> &Wall {
        &self.rooms[at.room].walls[at.wall]
    }
    pub fn material(&self, at: MaterialRef) -> &Material {
        &self.materials[at.0]
    }
    /// `chamber.A`, as the project file refers to a wall.
    pub fn wall_id(&self, at: WallRef) -> String {
        format!("{}.{}", self.rooms[at.room].id, self.wall(at).id)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Info {
    pub number: String,
    pub title: String,
    pub client: String,
    pub site: String,
    pub workshop: String,
    pub designer: String,
    pub fitter: String,
    pub date: Date,
    pub currency: String,
    pub purpose: String,
    /// BCP 47 language of the words in the file, for the PDF.
    pub language: String,
    pub note_to_client: String,
    pub note_to_fitter: String,
    pub sheets: Sheets,
    pub swing_apex: SwingApex,
    /// The level line, above finished floor, from which the fitter's heights are also given.
    pub datum: Length,
    /// People on site to carry and lift.
    pub fitters: u32,
    /// A shelf may sag, in time, its span divided by this.
    pub shelf_limit: u32,
    /// A front may bow so much over its height.
    pub bow_limit: Length,
    /// Between a front's two faces, % of dry mass.
    pub moisture_difference: Percent,
    pub declared: Declared,
}

/// Which limits the designer wrote; the others are the keys' defaults.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Declared {
    pub shelf_limit: bool,
    pub bow_limit: bool,
    pub moisture_difference: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    pub name: String,
    pub role: String,
    pub signs: bool,
    pub reach: String,
}

// ── rooms ───────────────────────────────────────────────────────────────────────────────────────

#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    pub id: String,
    pub name: String,
    /// Ceiling height from finished floor where no wall says otherwise.
    pub ceiling: Length,
    /// Once it is lived in: °C, and relative humidity in %.
    pub temperature: u32,
    pub humidity: u32,
    pub surveyed: Option<Date>,
    /// Whether the last wall turns back to the first; if not, only part of the room was surveyed.
    pub closed: bool,
    /// Clockwise as seen from above; each seen from inside, left to right.
    pub walls: Vec<Wall>,
    pub diagonals: Vec<Diagonal>,
    pub slopes: Vec<Slope>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    pub id: String,
    pub name: String,
    /// Along the floor, left corner to right corner, as measured, before linings.
    pub length: Length,
    /// To the next wall: 90° is an ordinary inside corner, −90° an outside one.
    pub turn: Angle,
    /// (along the wall, level): finished floor is 0, so none is above 0. At least one point.
    pub floor: Vec<(Length, Length)>,
    /// (along the wall, height from finished floor). At least one point.
    pub ceiling: Vec<(Length, Length)>,
    /// (height, lean into the room). At least one point; a wall said to be plumb has one of zero.
    pub plumb: Vec<(Length, Length)>,
    pub linings: Vec<Lining>,
    pub doors: Vec<WallDoor>,
    pub windows: Vec<Window>,
    pub bulkheads: Vec<Bulkhead>,
    pub obstructions: Vec<Obstruction>,
    pub services: Vec<Service>,
    pub place: Place,
}

impl Wall {
    /// Everything still to be built onto the wall.
    pub fn lining_thickness(&self) -> Length {
        self.linings.iter().map(|l| l.thickness).sum()
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Lining {
    pub what: String,
    pub thickness: Length,
    /// Goes on wet, and must dry.
    pub wet: bool,
}

impl ServiceKind {
    /// As drawings and schedules call it.
    pub fn name(self) -> &'static str {
        match self {
            ServiceKind::Data => "data point",
            ServiceKind::Other => "service",
            plain => plain.word(),
        }
    }
}

/// Measured between two corners, each named by the wall that starts there.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagonal {
    pub from: usize,
    pub to: usize,
    pub length: Length,
    pub place: Place,
}

/// A ceiling that comes down to `low` at a wall and reaches `high` at `over` from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Slope {
    pub wall: usize,
    pub low: Length,
    pub high: Length,
    pub over: Length,
}

impl Side {
    pub fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct WallDoor {
    pub at: Length,
    pub width: Length,
    pub height: Length,
    pub leads_to: String,
    /// Seen from inside the room. `None`: an opening without a leaf.
    pub hinge: Option<Side>,
    pub opens_in: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    pub at: Length,
    pub width: Length,
    pub height: Length,
    pub sill: Length,
    pub reveal: Length,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Bulkhead {
    pub what: String,
    pub from: Length,
    pub to: Length,
    pub underside: Length,
    pub out: Length,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Obstruction {
    pub what: String,
    pub from: Length,
    pub to: Length,
    pub bottom: Length,
    pub top: Length,
    pub out: Length,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Service {
    pub kind: ServiceKind,
    /// Where it will be when the furniture comes.
    pub at: Length,
    pub height: Length,
    /// Along and up, as surveyed, of one that somebody is to move.
    pub was: Option<(Length, Length)>,
    /// Size on the wall and out of it; zero for a point.
    pub width: Length,
    pub tall: Length,
    pub out: Length,
    pub note: String,
}

/// Something every piece must pass on its way in.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    pub kind: ObstacleKind,
    pub what: String,
    pub width: Length,
    pub height: Length,
    /// A corner's second corridor, or a lift's depth.
    pub width_after: Option<Length>,
}

// ── runs ────────────────────────────────────────────────────────────────────────────────────────

#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    pub id: String,
    pub name: String,
    pub wall: WallRef,
    /// Along the wall. `None`: to the corner, less the linings of the wall round it.
    pub from: Option<Length>,
    pub to: Option<Length>,
    /// Of the carcass's back from the wall's lining.
    pub off_wall: Length,
    pub left: RunEnd,
    pub right: RunEnd,
    pub units: Vec<Unit>,
    pub foot: Option<HardwareRef>,
    /// Its turn among the runs of its room, where the project says.
    pub fit_turn: Option<u32>,
    /// The end its units are fitted from, where the project says.
    pub fit_from: Option<Side>,
    pub filler_material: MaterialRef,
    pub plinth_material: MaterialRef,
    pub place: Place,
}

impl Run {
    /// The end away from which it is set out: what halves of millimetres leave over lies there.
    pub fn far(&self) -> Side {
        match self.fit_from {
            Some(Side::Right) => Side::Left,
            Some(Side::Left) | None => Side::Right,
        }
    }
}

/// What stands between the last carcass and the end of the run. All absent: the run stops there.
#[derive(Clone, Debug, PartialEq)]
pub struct RunEnd {
    /// Width, at the narrowest, of the strip cut to the wall's line.
    pub scribe: Option<Length>,
    /// Fixed strip between scribe and panel.
    pub filler: Option<Length>,
    /// End panel against the carcass.
    pub panel: Option<MaterialRef>,
    /// Runs on over panel and filler.
    pub pattern: Option<String>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    pub id: String,
    pub name: String,
    /// Name of the kind it was made from, if any.
    pub kind: Option<String>,
    /// `None`: shares what the others leave.
    pub width: Option<Length>,
    pub depth: Length,
    /// Underside and top of the carcass, from the highest floor under the run.
    pub base: Length,
    pub top: Length,
    pub stands: Stands,
    /// The unit it stands on: run and unit index.
    pub over: Option<(usize, usize)>,
    /// `true`: put together on site, not stood up.
    pub build_in_place: bool,
    pub carcass: MaterialRef,
    pub back: Option<MaterialRef>,
    pub bays: Vec<Bay>,
    /// Top row first, as on the drawing. Empty: an open unit.
    pub rows: Vec<FrontRow>,
    pub load: Load,
    /// On each metre of a shelf, where the project says.
    pub carries: Option<Mass>,
    pub note: String,
    pub place: Place,
}

/// An upright compartment of a unit, left to right.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    pub width: Option<Length>,
    /// Movable shelves, spread evenly over the tallest clear space.
    pub shelves: u32,
    /// Depth of the strip under each shelf's front edge; zero: none.
    pub lipping: Length,
    /// Fixed shelves: height of the top face above the carcass's underside.
    pub fixed: Vec<Length>,
    /// Hanging rails: height of the centre above the carcass's underside.
    pub rails: Vec<Length>,
    /// Inner drawers, from the bottom up.
    pub drawers: u32,
    pub drawer_height: Length,
    /// From the bottom up; one on each fixed shelf.
    pub appliances: Vec<ApplianceRef>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FrontRow {
    /// `None`: shares what the other rows leave.
    pub height: Option<Length>,
    /// Left to right.
    pub cells: Vec<FrontCell>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FrontCell {
    pub id: String,
    pub kind: FrontKind,
    pub width: Option<Length>,
    /// Doors: the side; flaps: see `hinge_low`. Drawers and fixed panels have none.
    pub hinge: Option<Side>,
    pub style: FrontStyle,
    pub hides: Option<ApplianceRef>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FrontStyle {
    pub name: Option<String>,
    pub material: MaterialRef,
    pub finish: Option<FinishRef>,
    pub lay: Lay,
    /// Between neighbouring fronts, and above.
    pub gap: Length,
    pub handle: Option<HardwareRef>,
    pub hinge: Option<HardwareRef>,
    pub runner: Option<HardwareRef>,
    pub straightener: Option<HardwareRef>,
    /// Of doors and flaps.
    pub latch: Option<HardwareRef>,
    /// Fronts over which one pattern runs share this name.
    pub pattern: Option<String>,
}

// ── what is not a unit ──────────────────────────────────────────────────────────────────────────

#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    pub id: String,
    pub name: String,
    pub kind: PanelKind,
    pub wall: WallRef,
    pub from: Length,
    pub to: Length,
    pub bottom: Length,
    pub top: Length,
    pub material: MaterialRef,
    pub finish: Option<FinishRef>,
    /// Panelling: how many pieces side by side.
    pub pieces: u32,
    /// Slats: width of one, and at least this between them.
    pub slat: Length,
    pub gap: Length,
    pub off_wall: Length,
    pub pattern: Option<String>,
    pub note: String,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Sliding {
    pub id: String,
    pub name: String,
    pub wall: WallRef,
    /// Left edge of the leaf when shut.
    pub at: Length,
    pub width: Length,
    pub height: Length,
    /// Between floor and leaf.
    pub clear: Length,
    /// Between the lining and the leaf.
    pub off_wall: Length,
    pub slides: Side,
    /// Whether to reckon what is seen past it.
    pub sight: bool,
    pub material: MaterialRef,
    pub finish: Option<FinishRef>,
    pub track: Option<HardwareRef>,
    pub handle: Option<HardwareRef>,
    pub note: String,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Worktop {
    pub id: String,
    pub name: String,
    /// The run it lies on, all of it.
    pub run: usize,
    pub material: MaterialRef,
    pub finish: Option<FinishRef>,
    /// As seen from the front, build-up included.
    pub edge: Length,
    /// Beyond the fronts' face, and beyond each end of the run.
    pub front: Length,
    pub left: Length,
    pub right: Length,
    pub upstand: Length,
    pub cutouts: Vec<Cutout>,
    pub note: String,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cutout {
    pub what: String,
    /// Centre, from the worktop's left end.
    pub at: Length,
    pub width: Length,
    pub depth: Length,
    /// Front edge of the cut-out from the worktop's front edge.
    pub from_front: Length,
    pub radius: Length,
    pub place: Place,
}

// ── boards, finishes, hardware ──────────────────────────────────────────────────────────────────

#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    pub key: String,
    pub name: String,
    pub core: Core,
    pub thickness: Length,
    pub sheet: Option<(Length, Length)>,
    /// kg/m³.
    pub density: u32,
    pub density_given: bool,
    /// N/mm², where the project says.
    pub stiffness: Option<u32>,
    /// As delivered, % of dry mass.
    pub moisture: Option<Percent>,
    /// Solid wood, across the grain: % for each 1 % of moisture.
    pub movement: Option<Percent>,
    pub grain: Grain,
    /// Pattern repeat along the sheet's first and second dimension; `None`: it does not repeat.
    pub repeat: (Option<Length>, Option<Length>),
    pub picture: Option<Picture>,
    pub edge: String,
    pub edge_is: EdgeIs,
    /// Its face differs from board to board, as grown.
    pub varies: bool,
    pub made_for: String,
    pub batch: String,
    pub place: Place,
}

/// One sheet of a material, in the workshop.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    pub id: String,
    pub material: MaterialRef,
    /// Length and width, which is how the pairs below go too.
    pub sheet: (Length, Length),
    pub picture: Option<Picture>,
    pub first_crest: (Length, Length),
    /// CIELAB in thousandths.
    pub lab: Option<[i64; 3]>,
    /// Whether that was taken from its picture, for want of a measurement.
    pub lab_of_picture: bool,
    pub batch: String,
    /// Out of use at the start and at the end of its length.
    pub ends_off: (Length, Length),
    pub avoid: Vec<Avoid>,
    pub place: Place,
}

/// A place on a board that no front may show; `from` is nearer the board's zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Avoid {
    pub from: (Length, Length),
    pub to: (Length, Length),
    pub what: String,
}

/// What is lost between two neighbours on a board is the kerf and the trim of each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cutter {
    pub kerf: Length,
    pub trim: Length,
    pub edge: Length,
}

impl Cutter {
    pub fn loss(self) -> Length {
        self.kerf + self.trim * 2
    }
}

/// How boxes of drawers are made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawerRule {
    /// `None`: as the unit's carcass, and as its back.
    pub board: Option<MaterialRef>,
    pub bottom: Option<MaterialRef>,
    /// What a box is lower than the room it has.
    pub clear: Length,
    /// Depth of the groove for its bottom.
    pub groove: Length,
}

/// How the fronts of one pattern are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternRule {
    pub name: String,
    pub wanted: Wanted,
    pub fixed: Vec<FixedPiece>,
    pub place: Place,
}

impl PatternRule {
    /// Exact, nothing settled.
    pub fn usual(name: &str) -> PatternRule {
        PatternRule {
            name: name.to_owned(),
            wanted: Wanted::Exact,
            fixed: Vec::new(),
            place: Place::NOWHERE,
        }
    }
}

/// What counts at a joint within a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    Exact,
    LeastWaste,
    /// A step up to this is as good as none.
    Within(Length),
}

/// A front whose left edge is settled: so far from its board's edge.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedPiece {
    /// The front's id.
    pub front: String,
    pub board: BoardRef,
    pub at: Length,
    pub place: Place,
}

/// A picture of a board's face: read and checked, its bytes kept as they were.
#[derive(Clone, PartialEq)]
pub struct Picture {
    pub path: String,
    /// The file as it was, a camera's notes and all: never to be put into a pack.
    pub bytes: std::sync::Arc<[u8]>,
    /// Of the face below.
    pub pixels: (u32, u32),
    /// What it shows, along the sheet's first and second dimension.
    pub shows: (Length, Length),
    /// Put right, and made small enough for a whole board on a page.
    pub face: std::sync::Arc<Pixels>,
    /// Whether the file has more pixels than `face`.
    pub finer: bool,
    /// Whether its colours are of a profile that is not read: they stand as if they were of sRGB.
    pub colours_unread: bool,
    /// From which it was put right; it then stands as the board does.
    pub corners: Option<Corners>,
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "Picture({} {}x{}px)",
            self.path, self.pixels.0, self.pixels.1
        )
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    pub key: String,
    pub name: String,
    pub sheen: String,
    pub coats: u32,
    /// m² for each litre and coat.
    pub coverage: u32,
    pub sample: Option<Date>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Hardware {
    pub key: String,
    pub kind: HardwareKind,
    pub name: String,
    /// Handles: length, and how far it stands out from the front.
    pub size: Length,
    pub out: Length,
    /// Feet: lowest and highest setting.
    pub range: Option<(Length, Length)>,
    /// What one carries.
    pub rating: Option<Mass>,
    /// Hinges and stays: how far what hangs on them opens, where the project says.
    pub opens: Option<Angle>,
    /// Hinges: square, a leaf comes its thickness less this beyond its edge. `None`: not at all.
    pub offset: Option<Length>,
    /// Runners: how far they let a drawer out, where the project says.
    pub travel: Option<Length>,
    /// Runners: what one takes beside its drawer, where the project says.
    pub beside: Option<Length>,
    /// Rails: E·I in N·m², where the project says.
    pub stiffness: Option<u32>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Appliance {
    pub key: String,
    pub name: String,
    pub width: Length,
    pub height: Length,
    pub depth: Length,
    pub supplied: String,
    pub needs: Vec<ServiceKind>,
    pub goes_in: GoesIn,
    /// With what it holds, where the project says.
    pub mass: Option<Mass>,
    /// Its own door, where the project says.
    pub opens: Option<OwnDoor>,
    /// Of its own door when open, where the project says.
    pub reach: Option<Length>,
}

// ── words ───────────────────────────────────────────────────────────────────────────────────────

#[derive(Clone, Debug, PartialEq)]
pub struct ByOthers {
    pub what: String,
    pub who: String,
    pub by: Option<Date>,
    pub turn: Turn,
}

impl Reader {
    pub fn is_for(self, reader: Reader) -> bool {
        self == Reader::Both || reader == Reader::Both || self == reader
    }
}

/// What a note, and later a finding or a change, is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Subject {
    Job,
    Room(usize),
    Wall(WallRef),
    Run(usize),
    Unit(usize, usize),
    /// By the front's id.
    Front(String),
    Panel(usize),
    Sliding(usize),
    Worktop(usize),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    pub to: Reader,
    pub on: Subject,
    pub text: String,
    /// Place on a wall's elevation, (along, height), when the subject is a wall.
    pub at: Option<(Length, Length)>,
}

/// A finding that may stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// Its code.
    pub finding: String,
    /// `None`: whatever it was found of.
    pub on: Option<Subject>,
    /// As the file names it.
    pub on_name: String,
    pub why: String,
    /// Of the code in the file.
    pub place: Place,
}

/// A risk declared by hand, or more said of one that is raised by rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Risk {
    /// Declared: its id. Raised: the rule's, with what it is about.
    pub id: String,
    pub declared: bool,
    pub title: Option<String>,
    pub text: Option<String>,
    pub doing: Option<String>,
    pub cannot: Option<String>,
    pub on: Vec<Subject>,
    pub number: Option<String>,
    pub limit: Option<String>,
    pub roles: Option<Vec<String>>,
    pub weight: Option<Weight>,
    pub options: Vec<RiskOption>,
    /// Id of the option chosen, and where that is said.
    pub choice: Option<(String, Place)>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct RiskOption {
    pub id: String,
    pub kind: OptionKind,
    pub words: Option<String>,
    pub price: Option<Money>,
    pub when: Option<String>,
    pub until: Option<Date>,
    pub called: Option<Date>,
    pub not_needed: Option<Date>,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct HistoryEntry {
    pub date: Date,
    pub revision: String,
    pub what: String,
    pub why: String,
}
