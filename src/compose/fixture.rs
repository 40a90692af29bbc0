//! A job for the tests of pages: the example project as read and resolved, with roughly placed units and
//! blank drawings of the right size. Its sizes are for show; nothing is tested against them.

use std::path::Path;

use crate::diag::Diagnostics;
use crate::draw::{Drawing, DrawingKind};
use crate::reckon::placed::*;
use crate::resolve::job::*;
use crate::units::{Length, Mass};

pub fn job() -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project/project.toml");
    let mut diags = Diagnostics::default();
    let source = crate::read::load(&path, &mut diags).expect("the example");
    let project = crate::read::project(&source.text, &mut diags).expect("the example reads");
    let pictures = crate::read::load_pictures(&source, &project, &mut diags);
    let filled = crate::resolve::fill(&project, &mut diags);
    crate::resolve::resolve(&filled, &pictures, &mut diags)
}

const ZERO: PlanPoint = PlanPoint { x: 0.0, y: 0.0 };

pub fn reckoned(job: &Job) -> Reckoned {
    let mm = Length::mm;
    let mut fronts = Vec::new();
    let mut runs = Vec::new();
    for (r, run) in job.runs.iter().enumerate() {
        let mut x = run.from.unwrap_or(mm(15)) + mm(47);
        let piece = |kind, side, left, width, material| RunPiece {
            kind,
            side,
            left,
            right: left + width,
            bottom: mm(90),
            top: mm(2380),
            material,
            scribe: match kind {
                PieceKind::Scribe => vec![(mm(90), mm(28)), (mm(1200), mm(31)), (mm(2380), mm(25))],
                _ => Vec::new(),
            },
            blank: mm(41),
        };
        let mut units = Vec::new();
        for (u, unit) in run.units.iter().enumerate() {
            let width = unit.width.unwrap_or(Length::um(1_130_500));
            let mut rows_up = unit.base;
            let mut own = Vec::new();
            for row in unit.rows.iter().rev() {
                let height = row.height.unwrap_or(mm(900));
                for cell in row.cells.iter().filter(|c| c.kind != FrontKind::Open) {
                    own.push(fronts.len());
                    let handle = cell.style.handle.map(|which| PlacedHandle {
                        which,
                        x,
                        z: rows_up,
                        length: mm(160),
                        out: mm(32),
                        upright: true,
                    });
                    fronts.push(PlacedFront {
                        number: fronts.len() as u32 + 1,
                        id: cell.id.clone(),
                        run: r,
                        unit: u,
                        wall: run.wall,
                        kind: cell.kind,
                        left: x,
                        right: x + width.half(),
                        bottom: rows_up,
                        top: rows_up + height,
                        y_back: mm(595),
                        y_face: mm(617),
                        hinge: cell.hinge,
                        hinges: if cell.hinge.is_some() { 5 } else { 0 },
                        mass: Mass::grams(17_400),
                        style: cell.style.clone(),
                        hides: cell.hides,
                        handle,
                    });
                }
                rows_up += height;
            }
            let feet = (0..6).map(|i| Foot {
                x: x + mm(50 + (i % 3) * 400),
                y: mm(60 + (i / 3) * 400),
                height: Length::um(90_000 + i * 700),
            });
            units.push(PlacedUnit {
                id: unit.id.clone(),
                left: x,
                right: x + width,
                base: unit.base,
                top: unit.top,
                depth: unit.depth,
                board: mm(18),
                back: mm(9),
                stands: unit.stands,
                bays: Vec::new(),
                feet: if unit.stands == Stands::Plinth {
                    feet.collect()
                } else {
                    Vec::new()
                },
                notches: match unit.id.as_str() {
                    "N2" => vec![Notch {
                        what: "boxed pipe".to_owned(),
                        left: x + mm(800),
                        right: x + width,
                        bottom: unit.base,
                        top: unit.top,
                        deep: mm(93),
                    }],
                    _ => Vec::new(),
                },
                fronts: own,
                depth_over_fronts: unit.depth + mm(22),
                mass: Mass::grams(98_312),
            });
            x += width;
        }
        let (left, right) = (mm(15), x + mm(22));
        runs.push(PlacedRun {
            wall: run.wall,
            opening: vec![
                OpeningAt {
                    z: mm(0),
                    left,
                    right,
                },
                OpeningAt {
                    z: mm(1200),
                    left,
                    right: right - mm(6),
                },
                OpeningAt {
                    z: mm(2400),
                    left,
                    right: right - mm(15),
                },
            ],
            left,
            right,
            floor_high: mm(0),
            floor_low: mm(-5),
            ceiling_low: mm(2431),
            pieces: vec![
                piece(
                    PieceKind::Scribe,
                    Side::Left,
                    left,
                    mm(25),
                    run.filler_material,
                ),
                piece(
                    PieceKind::EndPanel,
                    Side::Left,
                    mm(40),
                    mm(22),
                    run.filler_material,
                ),
                piece(
                    PieceKind::Scribe,
                    Side::Right,
                    x,
                    mm(25),
                    run.filler_material,
                ),
            ],
            units,
            y_back: mm(15),
            plinths: vec![Plinth {
                left,
                right: x,
                top: mm(90),
                y_front: mm(555),
            }],
        });
    }
    let wall = PlacedWall {
        start: ZERO,
        end: ZERO,
        along: ZERO,
        out: ZERO,
        letter: 'A',
    };
    let by_unit = |n| {
        job.runs
            .iter()
            .flat_map(|r| &r.units)
            .map(move |u| (u.id.clone(), n))
    };
    Reckoned {
        rooms: job
            .rooms
            .iter()
            .map(|room| PlacedRoom {
                walls: vec![wall; room.walls.len()],
                closure: None,
                diagonals: room
                    .diagonals
                    .iter()
                    .map(|d| DiagonalCheck {
                        from: d.from,
                        to: d.to,
                        measured: d.length,
                        computed: d.length,
                    })
                    .collect(),
            })
            .collect(),
        runs,
        panels: job
            .panels
            .iter()
            .map(|p| PlacedPanel {
                wall: p.wall,
                y_back: mm(0),
                y_face: mm(22),
                bottom: p.bottom,
                top: p.top,
                pieces: vec![(p.from, p.from + mm(60)), (p.to - mm(60), p.to)],
                gap: Length::um(15_370),
                mass: Mass::grams(31_000),
            })
            .collect(),
        sliding: job
            .sliding
            .iter()
            .map(|s| PlacedSliding {
                wall: s.wall,
                left: s.at,
                right: s.at + s.width,
                bottom: s.clear,
                top: s.clear + s.height,
                y_back: mm(25),
                y_face: mm(47),
                open_left: s.at - s.width,
                open_right: s.at,
                track_left: s.at - s.width,
                track_right: s.at + s.width,
                mass: Mass::grams(33_700),
            })
            .collect(),
        worktops: job
            .worktops
            .iter()
            .map(|w| PlacedWorktop {
                wall: job.runs[w.run].wall,
                left: mm(18),
                right: mm(1450),
                bottom: mm(870),
                top: mm(900),
                y_back: mm(3),
                y_front: mm(607),
                upstand_top: mm(960),
                cutouts: w
                    .cutouts
                    .iter()
                    .map(|c| PlacedCutout {
                        what: c.what.clone(),
                        left: c.at - c.width.half(),
                        right: c.at + c.width.half(),
                        y_back: mm(122),
                        y_front: mm(522),
                        radius: c.radius,
                    })
                    .collect(),
                mass: Mass::grams(41_000),
            })
            .collect(),
        fronts,
        hardware: (0..job.hardware.len())
            .map(|i| HardwareCount {
                which: HardwareRef(i),
                count: 40 + i as u32,
                by_unit: by_unit(i as u32 + 1).collect(),
            })
            .collect(),
        findings: vec![
            Finding {
                code: "scribe-taper-shows",
                severity: Severity::Warns,
                subject: Subject::Run(0),
                text: "the right scribe is 28 mm wide at the floor and 43 mm at the top".to_owned(),
                limit: "20 mm (common practice)".to_owned(),
                advice: "accept the taper, or have the wall made plumb first".to_owned(),
                place: Default::default(),
            },
            Finding {
                code: "unit-notched",
                severity: Severity::Informs,
                subject: Subject::Unit(5, 0),
                text: "N2 is cut out round the boxed pipe".to_owned(),
                limit: String::new(),
                advice: String::new(),
                place: Default::default(),
            },
        ],
    }
}

/// A blank drawing as large as its sheet allows.
pub fn drawings(job: &Job) -> Vec<Drawing> {
    let (width, height) = super::assemble::drawing_space(job.info.sheets);
    let height = height - super::assemble::TITLE_BLOCK;
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{width}mm' height='{height}mm' \
         viewBox='0 0 {width} {height}'><rect x='1' y='1' width='{}' height='{}' fill='none' \
         stroke='black' stroke-width='0.25'/><text x='20' y='20' font-size='3.79' \
         font-family=\"'Source Sans 3', 'Noto Sans'\">A drawing</text></svg>",
        width - 2.0,
        height - 2.0,
    );
    let one = |id: &str, title: &str, kind| Drawing {
        id: id.to_owned(),
        kind,
        title: title.to_owned(),
        alt: format!("{title}: a blank drawing."),
        svg: svg.clone(),
        width_mm: width,
        height_mm: height,
        scale: 20,
        part: (1, 1),
    };
    let wall = WallRef { room: 0, wall: 0 };
    vec![
        one("chamber-plan", "Plan of Chamber", DrawingKind::Plan(0)),
        one(
            "chamber-A-shut",
            "Chamber, elevation A, fronts shut",
            DrawingKind::Shut(wall),
        ),
        one(
            "chamber-A-open",
            "Chamber, elevation A, interiors",
            DrawingKind::Open(wall),
        ),
        one(
            "section-hanging",
            "Section, hanging wardrobe",
            DrawingKind::Section,
        ),
    ]
}
