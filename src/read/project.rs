//! Every key of the project file, once: its name, type, range, default and meaning. The reference
//! (`rodbook keys`) is printed from this. Must not know what follows from a value.
//!
//! To accept a new key add it here, then give it a meaning in `resolve`.

use super::table::table;
use super::value::{Id, Lab, Named, OneOrEach, Ref, RefOrNot};
use super::words::*;
use crate::units::{Angle, Date, Length, Mass, Money, Percent};

/// (along or height, value): a point of a survey.
pub type Point = (Length, Length);

table! {
    /// The whole file.
    Project "project" {
        /// Version of this file's format: 1.
        req rodbook: u32;
        /// The job, its people in charge and how it is to be drawn.
        req job: JobTable;
        /// The rooms as surveyed.
        opt room: Vec<Room>;
        /// What every piece must pass on its way in, from the street.
        opt way_in: Vec<Obstacle>;
        /// Kinds of unit, said once and used by name.
        opt kind: Named<Unit>;
        /// Kinds of front, said once and used by name.
        opt front: Named<Front>;
        /// Runs of units, each on a wall.
        opt run: Vec<Run>;
        /// Panels that are not part of a unit.
        opt panel: Vec<Panel>;
        /// Sliding doors on a track.
        opt sliding: Vec<Sliding>;
        /// Worktops, each over a run.
        opt worktop: Vec<Worktop>;
        /// Sets of materials, for a room or a run.
        opt set: Named<Set>;
        /// Boards and other sheet materials.
        opt material: Named<Material>;
        /// The saw, and what it takes away.
        def cutter: Cutter = Cutter::default();
        /// How boxes of drawers are made.
        def drawer: Drawer = Drawer::default();
        /// How a pattern is cut, by the name its fronts give it.
        opt pattern: Named<Pattern>;
        /// Finishes.
        opt finish: Named<Finish>;
        /// Hinges, handles, feet and the rest.
        opt hardware: Named<Hardware>;
        /// Appliances built in.
        opt appliance: Named<Appliance>;
        /// Work and goods by others.
        opt by_others: Vec<ByOthers>;
        /// Risks that the client agrees to: declared by hand, or more said of those that rodbook raises.
        opt risk: Vec<Risk>;
        /// Notes that are printed on drawings.
        opt note: Vec<Note>;
        /// Findings that are known, each with the reason why it may stand.
        opt known: Vec<Known>;
        /// What was shown or issued, when, and why it changed.
        opt history: Vec<HistoryEntry>;
    }
}

table! {
    /// The job.
    JobTable "job" {
        /// The workshop's number for it; goes in every title block.
        req number: String [1, 16];
        /// What it is, in a few words.
        req title: String [1, 80];
        /// Whom it is for.
        req client: String [1, 80];
        /// Where it will stand.
        def site: String [0, 160] = String::new();
        /// Who makes it: the legal owner of the drawings.
        def workshop: String [0, 80] = String::new();
        /// Who drew it.
        def designer: String [0, 80] = String::new();
        /// Who fits it.
        def fitter: String [0, 80] = String::new();
        /// Date of this revision of the file; printed, and no clock is ever asked.
        req date: Date;
        /// What the pack is for.
        def purpose: String [1, 40] = "approval".into();
        /// How its issues are called: A, B, C, without I and O; or P01 for approval and C01 for the rest.
        def revisions: Revisions = Revisions::Letters;
        /// Currency of any price, by its three letters.
        def currency: String [3, 3] = "GBP".into();
        /// Language of the words in this file, by its code.
        def language: String [2, 12] = "en-GB".into();
        /// Paper for the drawings, lying; text pages are A4 upright.
        def sheets: Sheets = Sheets::A3;
        /// Where the apex of the dashed swing triangle points, in elevations.
        def swing_apex: SwingApex = SwingApex::Hinge;
        /// Height of the level line above the highest floor point of each room.
        def datum: Length [100, 2000] = Length::mm(1000);
        /// People on site to carry and lift.
        def fitters: u32 [1, 12] = 2;
        /// A shelf may sag, in time, its span divided by this: 200, or 300 where it must look straight.
        def shelf_limit: u32 [50, 2000] = 200;
        /// A front may bow this much over its height.
        def bow_limit: Length [0, 100] = Length::mm(4);
        /// By how much the moisture content of a front's two faces may come to differ.
        def moisture_difference: Percent [0, 10] = Percent::thousandths(300);
        /// Printed on the cover of the client's pack.
        def note_to_client: String [0, 2000] = String::new();
        /// Printed on the cover of the fitter's pack.
        def note_to_fitter: String [0, 2000] = String::new();
        /// Who is involved, and who signs.
        opt person: Vec<Person>;
    }
}

table! {
    /// Somebody involved.
    Person "job.person" {
        /// Name as printed.
        req name: String [1, 80];
        /// What they are to the job.
        req role: String [1, 60];
        /// Whether they sign the client's pack.
        def signs: bool = false;
        /// How to reach them; printed for the fitter only.
        def reach: String [0, 120] = String::new();
    }
}

table! {
    /// A room, as its walls were surveyed: clockwise, each seen from inside, left to right.
    Room "room" {
        /// Short name others refer to.
        req id: Id;
        /// Name as printed.
        opt name: String [1, 60], "its id";
        /// Ceiling height where no wall says otherwise, from the zero of the floor levels.
        def ceiling: Length [1000, 12000] = Length::mm(2400);
        /// Its temperature once it is lived in, °C.
        def temperature: u32 [0, 50] = 20;
        /// Its relative humidity once it is lived in, %.
        def humidity: u32 [10, 90] = 50;
        /// Set of materials for what stands in it.
        opt set: Ref, "the set called `usual`";
        /// Day of the survey.
        opt surveyed: Date;
        /// Whether the last wall meets the first; false for part of a room.
        def closed: bool = true;
        /// Measured between two corners, each named by the wall that starts there.
        opt diagonals: Vec<Diagonal>;
        /// The walls, clockwise.
        opt wall: Vec<Wall>;
        /// Sloping ceilings.
        opt slope: Vec<Slope>;
    }
}

table! {
    /// A diagonal of the survey, a check on it.
    Diagonal "room.diagonals" {
        /// The wall at whose left end it starts.
        req from: Ref;
        /// The wall at whose left end it ends.
        req to: Ref;
        /// As measured.
        req length: Length [100, 60000];
    }
}

table! {
    /// A wall. `x` is along it from its left corner, heights are from the survey's zero.
    Wall "room.wall" {
        /// Short name, within its room.
        req id: Id;
        /// What it is, if more than a wall.
        def what: String [0, 60] = String::new();
        /// Along the floor, corner to corner, before linings.
        req length: Length [50, 30000];
        /// To the next wall: 90 an inside corner, -90 an outside one.
        def turn: Angle [-179, 179] = Angle::deg(90);
        /// Floor levels: [along, level]; straight between points.
        opt floor: Vec<Point> [-3000, 30000], "level";
        /// Ceiling heights: [along, height]; straight between points.
        opt ceiling: Vec<Point> [0, 30000], "the room's";
        /// Out of plumb: [height, lean into the room]; negative leans away.
        opt plumb: Vec<Point> [-500, 12000], "plumb";
        /// Linings still to be built onto it.
        opt lining: Vec<Lining>;
        /// Doors in it.
        opt door: Vec<WallDoor>;
        /// Windows in it.
        opt window: Vec<Window>;
        /// Bulkheads and beams along it, under the ceiling.
        opt bulkhead: Vec<Bulkhead>;
        /// Boxings, pipes and other things that stand against it.
        opt obstruction: Vec<Obstruction>;
        /// Sockets, pipes and other services.
        opt service: Vec<Service>;
    }
}

table! {
    /// A lining still to come.
    Lining "room.wall.lining" {
        /// What it is.
        req what: String [1, 60];
        /// Its whole build-up.
        req thickness: Length [0, 400];
        /// Whether it goes on wet, and must dry before wood comes near it.
        def wet: bool = false;
    }
}

table! {
    /// A door or opening in a wall.
    WallDoor "room.wall.door" {
        /// Left edge, along the wall.
        req at: Length [0, 30000];
        /// Clear width.
        req width: Length [100, 6000];
        /// Clear height.
        req height: Length [500, 6000];
        /// Where it leads.
        def leads_to: String [0, 40] = String::new();
        /// Hinge side, seen from inside the room.
        opt hinge: Side, "an opening without a leaf";
        /// Whether the leaf opens into the room.
        def opens: Opens = Opens::In;
    }
}

table! {
    /// A window in a wall.
    Window "room.wall.window" {
        /// Left edge, along the wall.
        req at: Length [0, 30000];
        /// Width of the opening.
        req width: Length [50, 10000];
        /// Height of the opening.
        req height: Length [50, 6000];
        /// Height of the sill.
        def sill: Length [0, 6000] = Length::mm(900);
        /// Depth of the reveal.
        def reveal: Length [0, 1500] = Length::ZERO;
    }
}

table! {
    /// A bulkhead or beam under the ceiling.
    Bulkhead "room.wall.bulkhead" {
        /// What it is.
        def what: String [1, 60] = "bulkhead".into();
        /// Left end, along the wall.
        opt from: Length [0, 30000], "the wall's left corner";
        /// Right end, along the wall.
        opt to: Length [0, 30000], "the wall's right corner";
        /// Height of its underside.
        req underside: Length [500, 12000];
        /// How far it stands out from the wall.
        req out: Length [10, 10000];
    }
}

table! {
    /// Something that stands against the wall and stays.
    Obstruction "room.wall.obstruction" {
        /// What it is.
        req what: String [1, 60];
        /// Left side, along the wall.
        req from: Length [0, 30000];
        /// Right side, along the wall.
        req to: Length [0, 30000];
        /// Height of its bottom.
        def bottom: Length [-1000, 12000] = Length::ZERO;
        /// Height of its top.
        opt top: Length [0, 12000], "the ceiling";
        /// How far it stands out from the wall.
        req out: Length [1, 5000];
    }
}

table! {
    /// A service point.
    Service "room.wall.service" {
        /// What it is.
        req is: ServiceKind;
        /// Centre (or left side, when it has a width), along the wall.
        req at: Length [0, 30000];
        /// Height of its centre (or bottom, when it is tall).
        req height: Length [0, 12000];
        /// Where it will be when the furniture comes: along the wall, height. It is drawn there.
        opt moved_to: Point [0, 30000], "where it is";
        /// Width, for what is more than a point.
        def width: Length [0, 6000] = Length::ZERO;
        /// Height, for what is more than a point.
        def tall: Length [0, 6000] = Length::ZERO;
        /// How far it stands out from the wall.
        def out: Length [0, 2000] = Length::ZERO;
        /// What there is to say of it.
        def note: String [0, 160] = String::new();
    }
}

table! {
    /// A ceiling that comes down to a wall.
    Slope "room.slope" {
        /// The wall it comes down to, by its id in the room.
        req wall: Ref;
        /// Height where it meets the wall.
        req low: Length [0, 12000];
        /// Height where it meets the flat ceiling.
        opt high: Length [0, 12000], "the room's ceiling";
        /// How far from the wall that is, level.
        req over: Length [10, 12000];
    }
}

table! {
    /// Something every piece must pass on its way in.
    Obstacle "way_in" {
        /// What it is.
        req is: ObstacleKind;
        /// What to call it.
        def what: String [0, 80] = String::new();
        /// Clear width (of a corner: of the corridor before it).
        req width: Length [100, 10000];
        /// Clear height; of a stair: square to the pitch.
        req height: Length [500, 10000];
        /// A corner's width after the turn; a lift's depth.
        opt width_after: Length [100, 10000], "the same";
    }
}

table! {
    /// A unit, or a kind of unit. A unit takes from its kind what it does not say itself.
    Unit "unit" {
        /// Short name others refer to.
        opt id: Id, "the run's id, a dash and its place in the run: an insertion renames those after it";
        /// Name as printed.
        opt name: String [1, 80], "its kind's, or its id";
        /// The kind it is made from.
        opt kind: Ref, "none";
        /// Outside width of the carcass.
        opt width: Length [50, 6000], "shares what the others leave";
        /// Depth of the carcass, fronts not counted.
        opt depth: Length [50, 2000], "the run's";
        /// Height of the carcass's underside above the highest floor under the run.
        opt base: Length [0, 6000], "the run's";
        /// Height of the carcass's top above the highest floor under the run.
        opt top: Length [50, 6000], "the run's";
        /// What it stands on.
        opt stands: Stands, "the run's";
        /// The unit it stands on: it takes that one's place along the wall, and its width.
        opt over: Ref, "none";
        /// Where it is put together.
        def built: Built = Built::Workshop;
        /// Board of the carcass.
        opt carcass: Ref, "the set's";
        /// Board of the back, or false for none.
        opt back: RefOrNot, "the set's";
        /// Kind of its fronts.
        opt front: Ref, "the run's";
        /// Doors side by side over the whole face.
        opt doors: u32 [1, 12];
        /// Drawers one above another over the whole face.
        opt drawers: u32 [1, 12];
        /// Flaps one above another over the whole face.
        opt flaps: u32 [1, 6];
        /// Hinge side of the doors, one or each, left to right.
        opt hinge: OneOrEach<Side>, "left, or for several left and right by turns";
        /// Rows of fronts, the top one first. Instead of doors, drawers and flaps.
        opt row: Vec<Row>;
        /// Movable shelves in a unit of one bay.
        opt shelves: u32 [0, 40];
        /// What is inside, bay by bay, left to right. Instead of shelves.
        opt bay: Vec<Bay>;
        /// What its shelves are to carry.
        def load: Load = Load::Light;
        /// Mass on each metre of a shelf, in kg.
        opt carries: Mass [0, 500], "by its load: light 25, clothes 40, crockery 60, machines 150 kg on each square metre, books 25 kg on each metre of a row 250 deep";
        /// Printed on its line of the schedule.
        def note: String [0, 300] = String::new();
    }
}

table! {
    /// A row of fronts in a unit.
    Row "unit.row" {
        /// Height it takes of the face.
        opt height: Length [20, 6000], "shares what the other rows leave";
        /// Doors side by side.
        opt doors: u32 [1, 12];
        /// Drawers side by side.
        opt drawers: u32 [1, 12];
        /// Flaps side by side.
        opt flaps: u32 [1, 12];
        /// Panels side by side that do not open.
        opt fixed: u32 [1, 12];
        /// Nothing in front: the inside shows.
        def open: bool = false;
        /// Fronts of several kinds side by side. Instead of the counts.
        opt across: Vec<Cell>;
        /// Hinge side of the doors, one or each, left to right.
        opt hinge: OneOrEach<Side>, "left, or for several left and right by turns";
        /// Kind of its fronts.
        opt front: Ref, "the unit's";
        /// The appliance behind.
        opt hides: Ref, "none";
    }
}

table! {
    /// One front of a row.
    Cell "unit.row.across" {
        /// Short name that survives any edit.
        opt id: Id, "the unit's id, then r and its row from the bottom, c and its place from the left";
        /// What it is.
        def is: FrontKind = FrontKind::Door;
        /// Width it takes of the row.
        opt width: Length [20, 6000], "shares what the others leave";
        /// Hinge side, for doors.
        opt hinge: Side, "left";
        /// Kind of front.
        opt front: Ref, "the row's";
        /// The appliance behind.
        opt hides: Ref, "the row's";
    }
}

table! {
    /// An upright compartment.
    Bay "unit.bay" {
        /// Clear width.
        opt width: Length [30, 6000], "shares what the others leave";
        /// Movable shelves, spread evenly over the tallest clear space.
        def shelves: u32 [0, 40] = 0;
        /// Depth of the lipping under the front edge of each shelf, of the shelves' own board; 0 for none.
        def lipping: Length [0, 200] = Length::ZERO;
        /// Fixed shelves: heights of their top faces above the carcass's underside.
        def fixed: Vec<Length> [0, 6000] = Vec::new();
        /// Hanging rails: heights above the carcass's underside.
        def rail: Vec<Length> [0, 6000] = Vec::new();
        /// Inner drawers, stacked from the bottom.
        def drawers: u32 [0, 20] = 0;
        /// Height of one inner drawer.
        def drawer_height: Length [40, 800] = Length::mm(180);
        /// Appliances from the bottom up: the first on the bottom, the next on each fixed shelf.
        def appliances: Vec<Ref> = Vec::new();
    }
}

table! {
    /// A kind of front.
    Front "front" {
        /// Another kind from which it takes what it does not say.
        opt like: Ref, "none";
        /// Board it is made of.
        opt material: Ref, "the set's front";
        /// Its finish.
        opt finish: Ref, "none";
        /// How it lies on the carcass.
        def lay: Lay = Lay::Overlay;
        /// Between neighbouring fronts, and above them.
        def gap: Length [0, 30] = Length::mm(3);
        /// Its handle.
        opt handle: Ref, "none";
        /// Its hinge.
        opt hinge_by: Ref, "the only hinge of the file, if there is just one";
        /// Runner of its drawers.
        opt runner: Ref, "the only runner of the file, if there is just one";
        /// Straightener let into its doors against bowing.
        opt straightener: Ref, "none";
        /// Latch that holds each of its doors and flaps shut.
        opt latch: Ref, "none";
        /// The pattern that runs on over all fronts of this name.
        opt pattern: String [1, 40], "none";
    }
}

table! {
    /// What stands between the last carcass and the wall or end of the run.
    End "run.left, run.right" {
        /// Width, at the narrowest, of the strip cut to the wall's line.
        opt scribe: Length [0, 300], "20 where the run goes to a corner and the end says nothing, else none";
        /// Fixed strip between scribe and panel.
        opt filler: Length [0, 600], "none";
        /// End panel against the carcass: true, or its material.
        opt panel: RefOrNot, "none";
        /// The pattern that runs on over its panel and its filler, as on fronts.
        opt pattern: String [1, 40], "none";
    }
}

table! {
    /// A run of units along a wall, left to right.
    Run "run" {
        /// Short name others refer to.
        req id: Id;
        /// Name as printed.
        opt name: String [1, 80], "its id";
        /// The wall it stands on: room and wall, as in "study.A".
        req wall: Ref;
        /// Left end, along the wall.
        opt from: Length [0, 30000], "the corner, less linings and lean";
        /// Right end, along the wall.
        opt to: Length [0, 30000], "the corner, less linings and lean";
        /// Space between wall and carcass.
        def off_wall: Length [0, 1000] = Length::ZERO;
        /// Height of the carcasses' underside above the highest floor under the run.
        def base: Length [0, 6000] = Length::mm(100);
        /// Height of the carcasses' top above the highest floor under the run.
        def top: Length [50, 6000] = Length::mm(870);
        /// Depth of the carcasses, fronts not counted.
        def depth: Length [50, 2000] = Length::mm(560);
        /// What its units stand on.
        def stands: Stands = Stands::Plinth;
        /// Kind of its fronts.
        opt front: Ref, "the kind of front called `usual`";
        /// Set of materials.
        opt set: Ref, "the room's";
        /// Foot under its units.
        opt foot: Ref, "the only foot of the file, if there is just one";
        /// Its turn among the runs of its room when they are fitted: 1 for the first.
        opt fit_turn: u32 [1, 1000], "after those that have one, the highest floor first";
        /// The end its units are fitted from.
        opt fit_from: Side, "a corner shared with another run, else away from a scribe, else the higher floor";
        /// What finishes its left end.
        def left: End = End::default();
        /// What finishes its right end.
        def right: End = End::default();
        /// The units, left to right.
        opt unit: Vec<Unit>;
    }
}

table! {
    /// A panel that is not part of a unit.
    Panel "panel" {
        /// Short name others refer to.
        req id: Id;
        /// Name as printed.
        opt name: String [1, 80], "its id";
        /// What it is.
        def is: PanelKind = PanelKind::Panelling;
        /// The wall it is on: room and wall, as in "study.A".
        req wall: Ref;
        /// Left edge, along the wall.
        req from: Length [0, 30000];
        /// Right edge, along the wall.
        req to: Length [0, 30000];
        /// Height of its bottom.
        def bottom: Length [0, 6000] = Length::ZERO;
        /// Height of its top.
        req top: Length [10, 6000];
        /// Board it is made of.
        opt material: Ref, "the set's panel";
        /// Its finish.
        opt finish: Ref, "none";
        /// Panelling: pieces side by side.
        def pieces: u32 [1, 60] = 1;
        /// Slats: width of one.
        def slat: Length [5, 600] = Length::mm(40);
        /// Between pieces; between slats, at least.
        opt gap: Length [0, 300], "3 between pieces, 10 between slats";
        /// Space between the lining and its back.
        def off_wall: Length [0, 500] = Length::ZERO;
        /// The pattern that runs on over all fronts of this name.
        opt pattern: String [1, 40], "none";
        /// Printed on its line of the schedule.
        def note: String [0, 300] = String::new();
    }
}

table! {
    /// A sliding door on a track.
    Sliding "sliding" {
        /// Short name others refer to.
        req id: Id;
        /// Name as printed.
        opt name: String [1, 80], "its id";
        /// The wall it slides along: room and wall, as in "study.A".
        req wall: Ref;
        /// Left edge of the leaf when shut, along the wall.
        req at: Length [0, 30000];
        /// Width of the leaf.
        req width: Length [100, 6000];
        /// Height of the leaf.
        req height: Length [300, 6000];
        /// Between floor and leaf.
        def clear: Length [0, 200] = Length::mm(10);
        /// Between the lining and the leaf's back.
        def off_wall: Length [0, 500] = Length::mm(20);
        /// Which way it opens.
        req slides: Side;
        /// Whether to reckon how far one sees into the opening past its edges when it is shut.
        def sight: bool = false;
        /// Board it is made of.
        opt material: Ref, "the set's panel";
        /// Its finish.
        opt finish: Ref, "none";
        /// Its track.
        opt track: Ref, "the only track of the file, if there is just one";
        /// Its handle.
        opt handle: Ref, "none";
        /// Printed on its line of the schedule.
        def note: String [0, 300] = String::new();
    }
}

table! {
    /// A worktop over a run.
    Worktop "worktop" {
        /// Short name others refer to.
        req id: Id;
        /// Name as printed.
        opt name: String [1, 80], "its id";
        /// The run it lies on.
        req on: Ref;
        /// What it is made of.
        req material: Ref;
        /// Its finish.
        opt finish: Ref, "none";
        /// Height of its edge as seen, build-up included.
        opt edge: Length [3, 200], "its material's thickness";
        /// Beyond the fronts.
        def front: Length [0, 600] = Length::mm(20);
        /// Beyond the run's left end.
        def left: Length [0, 1000] = Length::ZERO;
        /// Beyond the run's right end.
        def right: Length [0, 1000] = Length::ZERO;
        /// Height of the upstand at the wall.
        def upstand: Length [0, 1500] = Length::ZERO;
        /// Cut-outs in it.
        opt cutout: Vec<Cutout>;
        /// Printed on its line of the schedule.
        def note: String [0, 300] = String::new();
    }
}

table! {
    /// A cut-out in a worktop.
    Cutout "worktop.cutout" {
        /// What it is for.
        req what: String [1, 60];
        /// Its centre, from the worktop's left end.
        req at: Length [0, 30000];
        /// Along the worktop.
        req width: Length [5, 6000];
        /// From front to back.
        req depth: Length [5, 2000];
        /// Its front edge, from the worktop's front edge.
        req from_front: Length [0, 2000];
        /// Of its corners.
        def radius: Length [0, 500] = Length::ZERO;
    }
}

table! {
    /// A set of materials.
    Set "set" {
        /// Board of carcasses.
        opt carcass: Ref, "birch plywood 18";
        /// Board of backs.
        opt back: Ref, "birch plywood 9";
        /// Board of fronts whose kind names none.
        opt front: Ref, "MDF 19";
        /// Board of end panels and free panels.
        opt panel: Ref, "as front";
        /// Board of plinths.
        opt plinth: Ref, "as front";
        /// Board of fillers and scribes.
        opt filler: Ref, "as front";
    }
}

table! {
    /// A board or other sheet material.
    Material "material" {
        /// Name as printed.
        opt name: String [1, 80], "its key";
        /// What its core is.
        def core: Core = Core::Mdf;
        /// Thickness.
        req thickness: Length [1, 200];
        /// Size as bought: [length, width].
        opt sheet: (Length, Length) [100, 6000];
        /// Density, kg/m³.
        opt density: u32 [50, 9000], "its core's";
        /// Stiffness in bending (modulus of elasticity), N/mm².
        opt stiffness: u32 [100, 300000], "its core's";
        /// Moisture content as delivered, % of dry mass.
        opt moisture: Percent [1, 40], "not said, and then not checked";
        /// Solid wood: how much it moves across the grain for each 1 % of moisture, in %.
        opt movement: Percent [0, 2], "from 0.126 to 0.431, as published for common hardwoods";
        /// Which way its grain or pattern runs on the sheet.
        def grain: Grain = Grain::None;
        /// Repeat of its pattern along [length, width] of the sheet; 0 for none.
        opt repeat: (Length, Length) [0, 6000], "none";
        /// Picture of its face: a file beside this one.
        opt picture: Ref;
        /// What the picture shows: [length, width].
        opt shows: (Length, Length) [10, 6000], "the whole sheet";
        /// Four corners of what it shows, in a picture taken aslant: in its dots from its top left, as the board stands behind the fronts, bottom left first, then clockwise.
        opt corners: Vec<(u32, u32)> [0, 20000], "the picture's own";
        /// Edge band or edge treatment.
        def edge: String [0, 80] = String::new();
        /// Whether that is a band, which is bought by the metre, or a treatment, such as oil or paint.
        def edge_is: EdgeIs = EdgeIs::Band;
        /// Whether its face differs from board to board as grown: veneer, solid wood, board coloured through.
        opt varies: bool, "solid wood does, others do not";
        /// What its maker recommends it for.
        def made_for: String [0, 120] = String::new();
        /// Batch, when known.
        def batch: String [0, 40] = String::new();
        /// Boards of it in hand. More are bought as they are needed.
        opt board: Vec<Board>;
    }
}

table! {
    /// A board in hand: one sheet of its material.
    Board "material.board" {
        /// Short name others refer to, unlike that of any other board.
        req id: Id;
        /// Its size: [length, width].
        opt sheet: (Length, Length) [100, 6000], "its material's";
        /// Picture of its face: a file beside this one.
        opt picture: Ref, "its material's";
        /// What the picture shows: [length, width].
        opt shows: (Length, Length) [10, 6000], "what its material's shows, or the whole board";
        /// Four corners of what it shows, in a picture taken aslant: as in its material.
        opt corners: Vec<(u32, u32)> [0, 20000], "the picture's own";
        /// From its edges to the first crest of the pattern: [length, width].
        def first_crest: (Length, Length) [0, 6000] = (Length::ZERO, Length::ZERO);
        /// Its measured colour, CIELAB: [L, a, b].
        opt lab: Lab [-128, 128], "the mean colour of its picture, where no board of the material is measured and each has its own";
        /// Its batch.
        def batch: String [0, 40] = String::new();
        /// Out of use at the two ends of its length.
        def ends_off: (Length, Length) [0, 6000] = (Length::ZERO, Length::ZERO);
        /// Places on it that no front may show.
        opt avoid: Vec<Avoid>;
    }
}

table! {
    /// A place on a board to keep out of, as [along its length, across its width].
    Avoid "material.board.avoid" {
        /// The corner nearest the board's zero.
        req from: (Length, Length) [0, 6000];
        /// The corner farthest from it.
        req to: (Length, Length) [0, 6000];
        /// What is there.
        def what: String [0, 40] = "flaw".into();
    }
}

table! {
    /// The saw.
    Cutter "cutter" {
        /// What one cut takes away.
        def kerf: Length [0, 30] = Length::mm(4);
        /// Left on each edge of a blank, to be cut to size after.
        def trim: Length [0, 50] = Length::mm(2);
        /// Taken off all round a board before it is used.
        def edge: Length [0, 300] = Length::mm(10);
    }
}

table! {
    /// Boxes of drawers, behind their fronts or behind doors. Each is as long as its runner: the longest
    /// multiple of 50 that goes into the carcass.
    Drawer "drawer" {
        /// Board of sides, front and back.
        opt board: Ref, "the unit's carcass";
        /// Board of the bottom.
        opt bottom: Ref, "the unit's back; without one the drawer's board";
        /// What a box is lower than the room it has, half of it below.
        def clear: Length [0, 300] = Length::mm(40);
        /// Depth of the grooves its bottom lies in, all round.
        def groove: Length [0, 20] = Length::mm(6);
    }
}

table! {
    /// How a pattern is cut.
    Pattern "pattern" {
        /// What counts where the pattern runs on from front to front.
        def aim: Aim = Aim::Exact;
        /// A step up to this is as good as none. Instead of `aim`.
        opt limit: Length [0, 3000], "none";
        /// Fronts whose place on a board is settled.
        opt fixed: Vec<FixedPiece>;
    }
}

table! {
    /// A front whose place on a board is settled.
    FixedPiece "pattern.fixed" {
        /// The front.
        req front: Ref;
        /// The board it is cut from.
        req board: Ref;
        /// Its left edge, from the board's left edge as the board stands behind the fronts.
        req at: Length [0, 6000];
    }
}

table! {
    /// A finish.
    Finish "finish" {
        /// Name as printed.
        opt name: String [1, 80], "its key";
        /// How much it shines.
        def sheen: String [0, 40] = String::new();
        /// Coats.
        def coats: u32 [1, 20] = 2;
        /// Square metres for each litre and coat.
        def coverage: u32 [1, 60] = 10;
        /// Day the sample was agreed.
        opt sample: Date, "not agreed yet";
    }
}

table! {
    /// A piece of hardware.
    Hardware "hardware" {
        /// What it is.
        req is: HardwareKind;
        /// Name as printed.
        opt name: String [1, 80], "its key";
        /// Length of a handle.
        def size: Length [0, 3000] = Length::mm(128);
        /// How far a handle stands out from the front.
        def out: Length [0, 200] = Length::mm(30);
        /// Lowest and highest setting of a foot.
        opt range: (Length, Length) [0, 1000];
        /// What one of it carries.
        opt rating: Mass [0, 2000];
        /// How far a hinge lets a door open, or a stay a flap.
        opt opens: Angle [10, 270], "90, and what it opens beyond is not looked at";
        /// Hinge offset: a door that stands square comes its thickness less this beyond its hinged edge.
        opt offset: Length [0, 200], "the door's thickness: its face stands in line with that edge";
        /// How far a runner lets a drawer out.
        opt travel: Length [10, 3000], "the longest multiple of 50 that goes into the carcass";
        /// What a runner takes between the side of its drawer and the unit's.
        opt beside: Length [0, 100], "13";
        /// How stiff a hanging rail is: E·I in N·m², as its maker states.
        opt stiffness: u32 [1, 1000000], "1140, a round steel tube 25 by 1";
    }
}

table! {
    /// An appliance.
    Appliance "appliance" {
        /// Name as printed.
        opt name: String [1, 80], "its key";
        /// Its size.
        req size: (Length, Length, Length) [10, 3000];
        /// Who supplies it.
        def supplied: String [0, 60] = "client".into();
        /// Services it needs.
        def needs: Vec<ServiceKind> = Vec::new();
        /// Its mass, with what it holds.
        opt mass: Mass [0, 1000], "by what machines load a shelf with";
        /// Where its own door is hinged, seen from before it, or that it opens down.
        opt opens: OwnDoor, "not said, and then not looked at";
        /// When it goes into its unit.
        def goes_in: GoesIn = GoesIn::BeforeFronts;
        /// How far its own door stands out when open.
        opt reach: Length [10, 3000], "its width; of a door that opens down, its height";
    }
}

table! {
    /// Something done or supplied by others.
    ByOthers "by_others" {
        /// What.
        req what: String [1, 200];
        /// Who.
        req who: String [1, 120];
        /// By when.
        opt by: Date, "not said";
        /// Whether it is done before the fitting, in between, or after it.
        def turn: Turn = Turn::Before;
    }
}

table! {
    /// A risk that is agreed to before anything is made.
    Risk "risk" {
        /// Short name of a risk declared by hand.
        opt id: Id, "none: `rule` says which risk it is";
        /// A risk that rodbook raises, by the words in brackets after it when it is told. Saying `use`, `damp`, `sample` or `stays` raises that one.
        opt rule: Ref, "none: it is declared by hand";
        /// Its heading, in a few words.
        opt title: String [3, 80], "the rule's";
        /// What may happen, in the client's words.
        opt text: String [10, 900], "the rule's";
        /// What is done about it.
        opt doing: String [3, 600], "the rule's";
        /// What nobody can do about it.
        opt cannot: String [3, 600], "the rule's";
        /// What it is about, each as in a note.
        opt on: Vec<Ref>, "what it was found of; declared by hand, the whole job";
        /// The number behind it, with its unit.
        opt number: String [1, 60], "the one that was reckoned";
        /// What that number is held against.
        opt limit: String [1, 80], "the one that it was held against";
        /// Who must agree, by their roles.
        opt roles: Vec<String>, "the rule's; declared by hand, the client";
        /// Whether it must be decided, or is good to know.
        opt weight: Weight, "as it was found; declared by hand, decide";
        /// What can be chosen.
        opt option: Vec<RiskOption>, "the rule's";
        /// What was chosen: the id of an option.
        opt choice: Ref, "not chosen yet";
    }
}

table! {
    /// Something that can be chosen about a risk.
    RiskOption "risk.option" {
        /// Short name within the risk.
        opt id: Id, "what it is; from the second of a kind on, with a dash and its place among them";
        /// What it comes to.
        req is: OptionKind;
        /// What is then done, in the client's words.
        opt words: String [3, 400], "the rule's of that kind, if there is one";
        /// What it adds to what is paid, for all that the risk is about; with a minus, what it saves.
        opt price: Money, "not priced; of doing nothing, nothing";
        /// A contingency: when it may be called.
        opt when: String [3, 240], "the rule's, or that it be agreed then";
        /// The last day on which it can be chosen, or a contingency be called.
        opt until: Date, "it stays open";
        /// A contingency: the day it was called.
        opt called: Date, "not called";
        /// A contingency: the day it was clear that it is not needed.
        opt not_needed: Date, "not known yet";
    }
}

table! {
    /// A note pinned to a place on the drawings.
    Note "note" {
        /// Whom it is for.
        def to: Reader = Reader::Both;
        /// What it is about: the id of a unit, front, run, panel, sliding door, worktop, room, or a wall as in "study.A".
        req on: Ref;
        /// What it says.
        req text: String [1, 300];
        /// Where on a wall: [along, height].
        opt at: Point [0, 30000], "the middle of its subject";
    }
}

table! {
    /// A finding that is known and may stand: it warns no more, and is printed with its reason.
    Known "known" {
        /// The finding, by the word in brackets after it when it is told.
        req finding: String [1, 40];
        /// What it is about, where it is known of one thing only: as in a note.
        opt on: Ref, "whatever it was found of";
        /// Why it may stand.
        req why: String [10, 300];
    }
}

table! {
    /// What was shown or issued before.
    HistoryEntry "history" {
        /// When.
        req date: Date;
        /// Revision, once issued.
        def revision: String [0, 8] = String::new();
        /// What was shown, or issued.
        req what: String [1, 120];
        /// Why it changed then.
        def why: String [0, 300] = String::new();
    }
}
