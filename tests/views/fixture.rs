//! A small made-up job for the tests of the views: one room, one run of two units, one note each.
//! Knows sizes worked out by hand; must not use the reckoning, so that views are tested alone.

use rodbook::diag::Diagnostics;
use rodbook::draw::views::Face;
use rodbook::reckon::placed::*;
use rodbook::resolve::job::{
    FrontKind, HardwareRef, Job, MaterialRef, Reader, Side, Stands, SwingApex, WallRef,
};
use rodbook::risks::Marks;
use rodbook::units::{Length, Mass};

const PROJECT: &str = r#"
rodbook = 1
[job]
number = "T-1"
title = "Trial"
client = "Nobody Atall"
site = "Nowhere"
workshop = "No Joiners"
designer = "Noone Inparticular"
date = 2026-01-01
[[room]]
id = "den"
name = "Den"
ceiling = 2400
set = "plain"
[[room.wall]]
id = "A"
length = 1300
floor = [[0, 0], [1300, -6]]
service = [{ is = "socket", at = 300, height = 450 }]
[[room.wall]]
id = "B"
length = 2000
plumb = [[0, 0], [2400, 12]]
lining = [{ what = "skim", thickness = 10 }]
[[room.wall]]
id = "C"
length = 1300
[[room.wall]]
id = "D"
length = 2000
[[room.slope]]
wall = "D"
low = 2000
high = 2400
over = 400
[set.plain]
carcass = "ply"
back = "ply"
panel = "ply"
plinth = "ply"
filler = "ply"
[material.ply]
name = "Plywood"
core = "birch plywood"
thickness = 20
sheet = [2500, 1250]
grain = "length"
[hardware.bow]
is = "handle"
name = "Bow"
size = 160
out = 30
[front.ply]
material = "ply"
handle = "bow"
[[run]]
id = "press"
name = "Press"
wall = "den.A"
base = 100
top = 1900
depth = 500
front = "ply"
right = { scribe = 20, panel = true }
unit = [
  { id = "P1", doors = 1, width = 600, hinge = "left" },
  { id = "P2", row = [{ height = 400, drawers = 1 }, { doors = 1, hinge = "right" }] },
]
[[note]]
to = "client"
on = "P1"
text = "For the client alone."
[[note]]
to = "fitter"
on = "P1"
text = "For the fitter alone."
"#;

pub fn job() -> Job {
    let mut diags = Diagnostics::default();
    let read = rodbook::read::project(PROJECT, &mut diags);
    let job = read.map(|p| {
        let filled = rodbook::resolve::fill(&p, &mut diags);
        rodbook::resolve::resolve(&filled, &[], &mut diags)
    });
    let wrong = diags.sorted();
    assert!(wrong.is_empty(), "{wrong:#?}");
    let mut job = job.expect("a project without errors resolves");
    job.info.swing_apex = SwingApex::Hinge;
    job
}

pub const WALL: WallRef = WallRef { room: 0, wall: 0 };

fn mm(v: i64) -> Length {
    Length::mm(v)
}

/// Worked by hand: opening 0 to 1278, scribe 20, panel 20, so the carcasses end at 1238.
pub fn reckoned(job: &Job) -> Reckoned {
    let p = |x: f64, y: f64| PlanPoint { x, y };
    let wall = |start, end, along, out, letter| PlacedWall {
        start,
        end,
        along,
        out,
        letter,
    };
    let walls = vec![
        wall(p(0.0, 0.0), p(1300.0, 0.0), p(1.0, 0.0), p(0.0, 1.0), 'A'),
        wall(
            p(1300.0, 0.0),
            p(1300.0, 2000.0),
            p(0.0, 1.0),
            p(-1.0, 0.0),
            'B',
        ),
        wall(
            p(1300.0, 2000.0),
            p(0.0, 2000.0),
            p(-1.0, 0.0),
            p(0.0, -1.0),
            'C',
        ),
        wall(p(0.0, 2000.0), p(0.0, 0.0), p(0.0, -1.0), p(1.0, 0.0), 'D'),
    ];
    let board = MaterialRef(0);
    let piece = |kind, left: i64, right: i64, scribe| RunPiece {
        kind,
        side: Side::Right,
        left: mm(left),
        right: mm(right),
        bottom: mm(100),
        top: mm(1900),
        material: board,
        scribe,
        blank: mm(40),
    };
    let tapering = vec![(mm(100), mm(31)), (mm(1900), mm(22))];
    let run = PlacedRun {
        wall: WALL,
        opening: vec![OpeningAt {
            z: mm(2400),
            left: mm(0),
            right: mm(1278),
        }],
        left: mm(0),
        right: mm(1278),
        floor_high: mm(0),
        floor_low: mm(-6),
        fall: mm(6),
        ceiling_low: mm(2000),
        pieces: vec![
            piece(PieceKind::EndPanel, 1238, 1258, Vec::new()),
            piece(PieceKind::Scribe, 1258, 1278, tapering),
        ],
        units: vec![
            unit("P1", 0, 600, vec![0]),
            unit("P2", 600, 1238, vec![1, 2]),
        ],
        y_back: mm(0),
        plinths: vec![Plinth {
            left: mm(0),
            right: mm(1238),
            top: mm(100),
            y_front: mm(480),
        }],
    };
    let style = job.runs[0].units[0].rows[0].cells[0].style.clone();
    let front = |number: u32, kind, x: (i64, i64), z: (i64, i64), hinge| PlacedFront {
        number,
        id: format!("F{number}"),
        run: 0,
        unit: usize::from(number > 1),
        wall: WALL,
        kind,
        left: mm(x.0),
        right: mm(x.1),
        bottom: mm(z.0),
        top: mm(z.1),
        y_back: mm(500),
        y_face: mm(520),
        hinge,
        hinges: 3,
        mass: Mass::grams(9000),
        style: style.clone(),
        hides: None,
        handle: Some(PlacedHandle {
            which: HardwareRef(0),
            x: mm(if hinge == Some(Side::Right) {
                x.0 + 40
            } else {
                x.1 - 40
            }),
            z: mm((z.0 + z.1) / 2),
            length: mm(160),
            out: mm(30),
            upright: kind == FrontKind::Door,
        }),
        travel: Length::mm(500),
    };
    Reckoned {
        quantities: Default::default(),
        rooms: vec![PlacedRoom {
            walls,
            closure: None,
            diagonals: Vec::new(),
        }],
        runs: vec![run],
        panels: Vec::new(),
        sliding: Vec::new(),
        worktops: Vec::new(),
        fronts: vec![
            front(1, FrontKind::Door, (0, 598), (100, 1897), Some(Side::Left)),
            front(
                2,
                FrontKind::Door,
                (602, 1235),
                (100, 1494),
                Some(Side::Right),
            ),
            front(3, FrontKind::Drawer, (602, 1235), (1497, 1897), None),
        ],
        patterns: Vec::new(),
        pattern_pieces: Vec::new(),
        hardware: Vec::new(),
        carried: Vec::new(),
        handling: Vec::new(),
        order: Vec::new(),
        clashes: Vec::new(),
        opens: Vec::new(),
        loads: Vec::new(),
        findings: Vec::new(),
    }
}

fn unit(id: &str, left: i64, right: i64, fronts: Vec<usize>) -> PlacedUnit {
    let foot = |x, y| Foot {
        x: mm(x),
        y: mm(y),
        height: mm(100),
    };
    PlacedUnit {
        id: id.into(),
        left: mm(left),
        right: mm(right),
        base: mm(100),
        top: mm(1900),
        depth: mm(500),
        board: mm(20),
        back: mm(20),
        stands: Stands::Plinth,
        bays: vec![PlacedBay {
            left: mm(left + 20),
            right: mm(right - 20),
            bottom: mm(120),
            top: mm(1880),
            shelves: vec![Shelf {
                z: mm(1000),
                thickness: mm(20),
                lipping: Length::ZERO,
                fixed: true,
            }],
            rails: vec![mm(1700)],
            drawers: Vec::new(),
            appliances: Vec::new(),
        }],
        feet: vec![
            foot(left + 50, 60),
            foot(right - 50, 60),
            foot(left + 50, 440),
        ],
        notches: Vec::new(),
        fronts,
        depth_over_fronts: mm(520),
        boxes: Vec::new(),
        mass: Mass::grams(50_000),
    }
}

/// An elevation of the fixture's wall for one reader.
pub fn seen(face: Face, reader: Reader) -> rodbook::draw::scene::Scene {
    let job = job();
    rodbook::draw::views::elevation(&job, (&reckoned(&job), &Marks::NONE), WALL, face, reader)
}
