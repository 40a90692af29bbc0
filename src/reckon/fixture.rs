//! Small jobs for the tests of this stage. Knows how to fill every field with something plain;
//! must not hold a number that a test is about.

use crate::diag::Place;
use crate::resolve::job::*;
use crate::units::{Angle, Date, Length, Mass, Percent};

pub const CARCASS: MaterialRef = MaterialRef(0);
pub const FRONT: MaterialRef = MaterialRef(1);
pub const BACK: MaterialRef = MaterialRef(2);

pub const HINGE: HardwareRef = HardwareRef(0);
pub const HANDLE: HardwareRef = HardwareRef(1);
pub const FOOT: HardwareRef = HardwareRef(2);
pub const RUNNER: HardwareRef = HardwareRef(3);
pub const STAY: HardwareRef = HardwareRef(5);

/// Points in whole millimetres.
pub fn line(points: &[(i64, i64)]) -> Vec<(Length, Length)> {
    let mm = |p: &(i64, i64)| (Length::mm(p.0), Length::mm(p.1));
    points.iter().map(mm).collect()
}

/// One lining, of so many micrometres.
pub fn lining(um: i64) -> Vec<Lining> {
    vec![Lining {
        wet: false,
        what: "lining".into(),
        thickness: Length::um(um),
    }]
}

fn wall(id: &str, length: i64) -> Wall {
    Wall {
        id: id.into(),
        name: String::new(),
        length: Length::mm(length),
        turn: Angle::deg(90),
        floor: line(&[(0, 0)]),
        ceiling: line(&[(0, 2440)]),
        plumb: line(&[(0, 0)]),
        linings: vec![],
        doors: vec![],
        windows: vec![],
        bulkheads: vec![],
        obstructions: vec![],
        services: vec![],
        place: Place::NOWHERE,
    }
}

/// Four walls at right angles, of these lengths in mm.
pub fn room(lengths: [i64; 4]) -> Room {
    Room {
        id: "room".into(),
        name: "Room".into(),
        ceiling: Length::mm(2440),
        temperature: 20,
        humidity: 50,
        surveyed: None,
        closed: true,
        walls: ["A", "B", "C", "D"]
            .iter()
            .zip(lengths)
            .map(|(id, length)| wall(id, length))
            .collect(),
        diagonals: vec![],
        slopes: vec![],
        place: Place::NOWHERE,
    }
}

fn board(key: &str, um: i64, density: u32) -> Material {
    Material {
        key: key.into(),
        name: key.into(),
        core: Core::Mdf,
        thickness: Length::um(um),
        sheet: None,
        density,
        density_given: true,
        stiffness: None,
        moisture: None,
        movement: None,
        grain: Grain::None,
        repeat: (None, None),
        picture: None,
        edge: String::new(),
        edge_is: EdgeIs::Band,
        varies: false,
        made_for: String::new(),
        batch: String::new(),
        place: Place::NOWHERE,
    }
}

fn part(key: &str, kind: HardwareKind) -> Hardware {
    Hardware {
        key: key.into(),
        kind,
        name: key.into(),
        size: Length::ZERO,
        out: Length::ZERO,
        range: None,
        rating: None,
        opens: None,
        offset: None,
        travel: None,
        beside: None,
        stiffness: None,
    }
}

/// One room, three boards, one part of each common kind, no runs.
pub fn job(lengths: [i64; 4]) -> Job {
    let handle = Hardware {
        size: Length::mm(160),
        out: Length::mm(32),
        ..part("handle", HardwareKind::Handle)
    };
    let foot = Hardware {
        range: Some((Length::mm(90), Length::mm(120))),
        rating: Some(Mass::grams(130_000)),
        ..part("foot", HardwareKind::Foot)
    };
    Job {
        info: Info {
            number: "T".into(),
            title: "T".into(),
            client: String::new(),
            site: String::new(),
            workshop: String::new(),
            designer: String::new(),
            fitter: String::new(),
            date: Date {
                year: 2026,
                month: 1,
                day: 1,
            },
            currency: String::new(),
            purpose: String::new(),
            language: "en".into(),
            note_to_client: String::new(),
            note_to_fitter: String::new(),
            sheets: Sheets::A3,
            swing_apex: SwingApex::Hinge,
            datum: Length::mm(1000),
            fitters: 2,
            shelf_limit: 200,
            bow_limit: Length::mm(4),
            moisture_difference: Percent::thousandths(300),
            declared: Declared::default(),
        },
        people: vec![],
        rooms: vec![room(lengths)],
        way_in: vec![],
        runs: vec![],
        panels: vec![],
        sliding: vec![],
        worktops: vec![],
        materials: vec![
            board("carcass", 18_000, 680),
            board("front", 22_000, 740),
            board("back", 9_000, 680),
        ],
        boards: vec![],
        cutter: Cutter {
            kerf: Length::mm(4),
            trim: Length::mm(2),
            edge: Length::mm(10),
        },
        drawer: DrawerRule {
            board: None,
            bottom: None,
            clear: Length::mm(40),
            groove: Length::mm(6),
        },
        patterns: vec![],
        finishes: vec![],
        hardware: vec![
            part("hinge", HardwareKind::Hinge),
            handle,
            foot,
            part("runner", HardwareKind::Runner),
            part("rail", HardwareKind::Rail),
            part("stay", HardwareKind::Stay),
        ],
        appliances: vec![],
        by_others: vec![],
        notes: vec![],
        known: vec![],
        risks: vec![],
        history: vec![],
    }
}

const NO_END: RunEnd = RunEnd {
    scribe: None,
    filler: None,
    panel: None,
    pattern: None,
    place: Place::NOWHERE,
};

/// A run of so many sharing units on wall A, 100 to 2000 high and 580 deep, without fronts.
pub fn run(units: usize) -> Run {
    Run {
        id: "run".into(),
        name: "Run".into(),
        wall: WallRef { room: 0, wall: 0 },
        from: None,
        to: None,
        off_wall: Length::ZERO,
        left: NO_END,
        right: NO_END,
        units: (1..=units).map(unit).collect(),
        foot: Some(FOOT),
        fit_turn: None,
        fit_from: None,
        filler_material: FRONT,
        plinth_material: FRONT,
        place: Place::NOWHERE,
    }
}

fn unit(number: usize) -> Unit {
    Unit {
        id: format!("U{number}"),
        name: format!("Unit {number}"),
        kind: None,
        width: None,
        depth: Length::mm(580),
        base: Length::mm(100),
        top: Length::mm(2000),
        stands: Stands::Plinth,
        over: None,
        build_in_place: false,
        carcass: CARCASS,
        back: Some(BACK),
        bays: vec![bay()],
        rows: vec![],
        load: Load::Clothes,
        carries: None,
        note: String::new(),
        place: Place::NOWHERE,
    }
}

/// A run of one unit with four doors of a pattern.
pub fn four_doors_of(pattern: &str) -> Run {
    let mut run = run(1);
    let mut row = row(None, FrontKind::Door, 4);
    for cell in &mut row.cells {
        cell.style.pattern = Some(pattern.into());
    }
    if let Some(unit) = run.units.first_mut() {
        unit.rows = vec![row];
    }
    run
}

pub fn bay() -> Bay {
    Bay {
        width: None,
        shelves: 0,
        lipping: Length::ZERO,
        fixed: vec![],
        rails: vec![],
        drawers: 0,
        drawer_height: Length::mm(180),
        appliances: vec![],
        place: Place::NOWHERE,
    }
}

/// Cells of one kind side by side, sharing the width; doors in pairs, hinged at the outer sides.
pub fn row(height: Option<i64>, kind: FrontKind, count: usize) -> FrontRow {
    let hinge = |i: usize| match kind {
        FrontKind::Door if i.is_multiple_of(2) => Some(Side::Left),
        FrontKind::Door => Some(Side::Right),
        _ => None,
    };
    FrontRow {
        height: height.map(Length::mm),
        cells: (0..count)
            .map(|i| FrontCell {
                id: format!("{kind:?}{}", i + 1),
                kind,
                width: None,
                hinge: hinge(i),
                style: FrontStyle {
                    name: None,
                    material: FRONT,
                    finish: None,
                    lay: Lay::Overlay,
                    gap: Length::mm(3),
                    handle: Some(HANDLE),
                    hinge: Some(HINGE),
                    runner: Some(RUNNER),
                    straightener: None,
                    latch: None,
                    pattern: None,
                },
                hides: None,
                place: Place::NOWHERE,
            })
            .collect(),
        place: Place::NOWHERE,
    }
}

/// One unit of MDF shelves 800 long and 300 deep, each to carry 25 kg on a metre: the shelf of the
/// reference values (§4.2 A).
pub fn shelves(count: u32) -> Job {
    let mut job = job([836, 3000, 836, 3000]);
    let mut run = run(1);
    job.materials[0].core = crate::resolve::job::Core::Mdf;
    job.materials[0].density = 740;
    run.units[0].depth = Length::mm(309);
    run.units[0].carries = Some(crate::units::Mass::grams(25_000));
    run.units[0].bays[0].shelves = count;
    job.runs = vec![run];
    job
}

/// On the first run, of the carcass's board, with this edge.
pub fn worktop(edge: i64) -> Worktop {
    Worktop {
        id: "top".into(),
        name: "Top".into(),
        run: 0,
        material: CARCASS,
        finish: None,
        edge: Length::mm(edge),
        front: Length::ZERO,
        left: Length::ZERO,
        right: Length::ZERO,
        upstand: Length::ZERO,
        cutouts: Vec::new(),
        note: String::new(),
        place: Place::NOWHERE,
    }
}

/// On the first wall, from 1600 to 2600 when shut.
pub fn sliding(slides: Side) -> Sliding {
    Sliding {
        id: "s".into(),
        name: "S".into(),
        wall: WallRef { room: 0, wall: 0 },
        at: Length::mm(1600),
        width: Length::mm(1000),
        height: Length::mm(2070),
        clear: Length::mm(12),
        off_wall: Length::mm(20),
        slides,
        sight: false,
        material: FRONT,
        finish: None,
        track: None,
        handle: None,
        note: String::new(),
        place: Place::NOWHERE,
    }
}

/// Panelling of one piece, 1000 high.
pub fn panel(wall: WallRef, from: i64, to: i64) -> Panel {
    Panel {
        id: "p".into(),
        name: "P".into(),
        kind: PanelKind::Panelling,
        wall,
        from: Length::mm(from),
        to: Length::mm(to),
        bottom: Length::ZERO,
        top: Length::mm(1000),
        material: FRONT,
        finish: None,
        pieces: 1,
        slat: Length::ZERO,
        gap: Length::ZERO,
        off_wall: Length::ZERO,
        pattern: None,
        note: String::new(),
        place: Place::NOWHERE,
    }
}

/// A machine of this width, height and depth that needs nothing.
pub fn appliance(key: &str, [width, height, depth]: [i64; 3]) -> Appliance {
    Appliance {
        key: key.into(),
        name: key.into(),
        width: Length::mm(width),
        height: Length::mm(height),
        depth: Length::mm(depth),
        supplied: String::new(),
        needs: Vec::new(),
        goes_in: GoesIn::BeforeFronts,
        mass: None,
        opens: None,
        reach: None,
    }
}

/// A point in a wall, flush with it.
pub fn service(kind: ServiceKind, at: i64, height: i64) -> Service {
    Service {
        kind,
        was: None,
        at: Length::mm(at),
        height: Length::mm(height),
        width: Length::ZERO,
        tall: Length::ZERO,
        out: Length::ZERO,
        note: String::new(),
    }
}
