//! Made-up scenes for the tests of placing: an elevation, a plan, a section. Knows only the scene.

use rodbook::draw::scene::*;
use rodbook::units::Length;

pub fn mm(v: f64) -> Length {
    Length::from_mm(v)
}

pub fn rect(role: Role, fill: Fill, x0: f64, y0: f64, x1: f64, y1: f64) -> Mark {
    Mark {
        role,
        fill,
        shape: Shape::Rect(Rect::new(x0, y0, x1, y1)),
    }
}

pub fn path(role: Role, points: &[(f64, f64)]) -> Mark {
    let points = points.iter().map(|p| Pt::new(p.0, p.1)).collect();
    Mark {
        role,
        fill: Fill::None,
        shape: Shape::Path {
            points,
            closed: false,
        },
    }
}

pub fn symbol(x: f64, y: f64, symbol: Symbol) -> Mark {
    let shape = Shape::Symbol {
        at: Pt::new(x, y),
        symbol,
    };
    Mark {
        role: Role::Service,
        fill: Fill::None,
        shape,
    }
}

pub fn label(words: &str, x: f64, y: f64, within: Option<Rect>) -> Label {
    Label {
        at: Pt::new(x, y),
        lines: words.split('\n').map(String::from).collect(),
        lettering: Lettering::Normal,
        bold: false,
        frame: LabelFrame::None,
        within,
        rank: 2,
        listed: String::new(),
    }
}

pub fn chain(side: ChainSide, tier: u8, stops: &[f64], reach: f64) -> Chain {
    Chain {
        side,
        tier,
        stops: stops.iter().map(|s| mm(*s)).collect(),
        reach: vec![mm(reach)],
        name: String::new(),
        running_from: None,
        stands: Vec::new(),
        silent: Vec::new(),
        named: Vec::new(),
    }
}

pub fn note(words: &str, x: f64, y: f64) -> Callout {
    Callout {
        target: Pt::new(x, y),
        text: words.to_string(),
        balloon: None,
        aside: false,
    }
}

/// A wall 4620 long with a run of seven tall units: fronts shut.
pub fn elevation() -> Scene {
    let (length, ceiling) = (4620.0, 2438.0);
    let mut s = Scene {
        id: "elevation-a".into(),
        title: "Elevation A, fronts shut".into(),
        alt: "A run of seven tall units.".into(),
        ..Scene::default()
    };
    s.marks.push(path(
        Role::Survey,
        &[(0.0, 3.0), (2300.0, 0.0), (4620.0, 5.0)],
    ));
    s.marks.push(path(
        Role::Survey,
        &[(0.0, -ceiling), (2300.0, -2431.0), (4620.0, -2442.0)],
    ));
    s.marks
        .push(path(Role::Survey, &[(0.0, 3.0), (0.0, -ceiling)]));
    s.marks.push(path(
        Role::Survey,
        &[
            (length, 5.0),
            (length - 6.0, -1200.0),
            (length - 15.0, -2442.0),
        ],
    ));
    s.marks
        .push(rect(Role::Lining, Fill::Lining, 0.0, -ceiling, 15.5, 3.0));
    let (left, right, base, top) = (37.0, 4560.0, 100.0, 2350.0);
    s.marks
        .push(rect(Role::Edge, Fill::Scribe, 15.5, -top, left, 0.0));
    s.marks
        .push(rect(Role::Edge, Fill::Scribe, right, -top, 4604.0, 0.0));
    s.marks
        .push(rect(Role::Edge, Fill::None, left, -base, right, 0.0));
    let width = (right - left) / 7.0;
    let mut fronts = vec![left];
    for i in 0..7 {
        let (x0, x1) = (left + width * f64::from(i), left + width * f64::from(i + 1));
        fronts.push(x1);
        s.marks
            .push(rect(Role::Edge, Fill::White, x0, -top, x1, -base));
        let rows: &[(f64, f64)] = if i == 3 {
            &[(100.0, 380.0), (380.0, 660.0), (660.0, 2350.0)]
        } else {
            &[(100.0, 2350.0)]
        };
        for (n, (z0, z1)) in rows.iter().enumerate() {
            let front = Rect::new(x0 + 1.5, -z1 + 1.5, x1 - 1.5, -z0 - 1.5);
            s.marks.push(rect(
                Role::Edge,
                Fill::White,
                front.x0,
                front.y0,
                front.x1,
                front.y1,
            ));
            if z1 - z0 > 500.0 {
                s.marks.push(Mark {
                    role: Role::Fine,
                    fill: Fill::GrainUp,
                    shape: Shape::Rect(front),
                });
                let (hinge, other) = if i % 2 == 0 {
                    (front.x0, front.x1)
                } else {
                    (front.x1, front.x0)
                };
                let middle = front.centre().y;
                s.marks.push(path(
                    Role::Swing,
                    &[(other, front.y0), (hinge, middle), (other, front.y1)],
                ));
                for y in [front.y0 + 110.0, front.y1 - 110.0] {
                    let turn = if i % 2 == 0 { 0.0 } else { 180.0 };
                    s.marks.push(symbol(hinge, y, Symbol::HingeTick { turn }));
                }
                let x = if i % 2 == 0 {
                    front.x1 - 40.0
                } else {
                    front.x0 + 40.0
                };
                s.marks.push(rect(
                    Role::Fine,
                    Fill::White,
                    x - 6.0,
                    middle - 80.0,
                    x + 6.0,
                    middle + 80.0,
                ));
            }
            s.labels.push(Label {
                at: front.centre(),
                lines: vec![format!("{}", i * 2 + n as i32 + 1)],
                lettering: Lettering::Strong,
                bold: true,
                frame: LabelFrame::Circle,
                within: Some(front),
                rank: 0,
                listed: String::new(),
            });
            s.labels.push(label(
                "larch",
                front.centre().x,
                front.y1 - 200.0,
                Some(front),
            ));
        }
    }
    s.marks.push(symbol(2310.0, -450.0, Symbol::Socket));
    s.marks
        .push(path(Role::Centre, &[(-100.0, -1000.0), (4720.0, -1000.0)]));
    let mut units = vec![15.5, left];
    units.extend(fronts.iter().skip(1));
    units.push(4604.0);
    s.chains.push(chain(ChainSide::Below, 0, &fronts, 0.0));
    s.chains.push(chain(ChainSide::Below, 1, &units, 0.0));
    s.chains.push(Chain {
        name: "opening".into(),
        ..chain(ChainSide::Below, 2, &[15.5, 4604.0], 0.0)
    });
    s.chains
        .push(chain(ChainSide::Above, 0, &[0.0, 2300.0, 4620.0], -2442.0));
    s.chains.push(chain(
        ChainSide::Left,
        0,
        &[0.0, -100.0, -2350.0, -2438.0],
        0.0,
    ));
    s.chains
        .push(chain(ChainSide::Left, 1, &[0.0, -2438.0], 0.0));
    s.chains.push(Chain {
        running_from: Some(mm(-1000.0)),
        ..chain(
            ChainSide::Right,
            0,
            &[0.0, -100.0, -380.0, -660.0, -1000.0, -2350.0, -2442.0],
            4604.0,
        )
    });
    s.callouts.push(note(
        "Scribe to the wall: 22 at the floor, 37 at the top",
        4580.0,
        -1800.0,
    ));
    s.callouts.push(note(
        "Socket moved into the plinth by the electrician",
        2310.0,
        -450.0,
    ));
    s.callouts
        .push(note("Datum 1000 above finished floor", 200.0, -1000.0));
    s.legend = vec![
        LegendItem {
            sample: LegendSample::Swing {
                apex_at_hinge: true,
            },
            text: "hinged: apex and ticks at the hinges".into(),
        },
        LegendItem {
            sample: LegendSample::Area(Fill::Scribe),
            text: "scribed to the wall".into(),
        },
        LegendItem {
            sample: LegendSample::Area(Fill::Lining),
            text: "lining to come".into(),
        },
        LegendItem {
            sample: LegendSample::Line(Role::Centre),
            text: "datum, 1000 above finished floor".into(),
        },
        LegendItem {
            sample: LegendSample::Symbol(Symbol::Socket),
            text: "socket".into(),
        },
    ];
    s.may_part_at = fronts[1..7].to_vec();
    s
}

/// A room 4620 × 3380 with a run on its upper wall.
pub fn plan() -> Scene {
    let mut s = Scene {
        id: "plan".into(),
        title: "Plan of the chamber".into(),
        alt: "A room with a run of units.".into(),
        ..Scene::default()
    };
    let (w, h) = (4620.0, 3380.0);
    let wall = |x0: f64, y0: f64, x1: f64, y1: f64| rect(Role::Fine, Fill::Masonry, x0, y0, x1, y1);
    s.marks.extend([
        wall(-120.0, -120.0, w + 120.0, 0.0),
        wall(-120.0, h, w + 120.0, h + 120.0),
        wall(-120.0, 0.0, 0.0, h),
        wall(w, 0.0, w + 120.0, 1650.0),
        wall(w, 2550.0, w + 120.0, h),
    ]);
    let room = [(0.0, 0.0), (w, 0.0), (w, 1650.0)];
    s.marks.push(path(Role::Survey, &room));
    s.marks.push(path(
        Role::Survey,
        &[(w, 2550.0), (w, h), (0.0, h), (0.0, 0.0)],
    ));
    s.marks.push(Mark {
        role: Role::Swing,
        fill: Fill::None,
        shape: Shape::Arc {
            centre: Pt::new(w, 1650.0),
            radius: 900.0,
            from: 90.0,
            sweep: 90.0,
        },
    });
    s.marks
        .push(path(Role::Edge, &[(w, 1650.0), (w - 900.0, 1650.0)]));
    s.marks
        .push(rect(Role::Lining, Fill::Lining, 0.0, 0.0, w, 15.5));
    for i in 0..7 {
        let x = 37.0 + 646.0 * f64::from(i);
        let unit = Rect::new(x, 15.5, x + 646.0, 600.0);
        s.marks.push(rect(
            Role::Edge,
            Fill::White,
            unit.x0,
            unit.y0,
            unit.x1,
            unit.y1,
        ));
        s.marks.push(Mark {
            role: Role::Swing,
            fill: Fill::None,
            shape: Shape::Arc {
                centre: Pt::new(x, 600.0),
                radius: 646.0,
                from: 0.0,
                sweep: 90.0,
            },
        });
        s.marks.push(path(Role::Swing, &[(x, 600.0), (x, 1246.0)]));
        s.labels.push(Label {
            frame: LabelFrame::Box,
            ..label(
                &format!("robe{}", i + 1),
                unit.centre().x,
                unit.centre().y,
                Some(unit),
            )
        });
    }
    s.marks
        .push(path(Role::Above, &[(0.0, 1460.0 + 500.0), (w, 1960.0)]));
    s.labels
        .push(label("slope comes down to 1380", 2000.0, 2000.0, None));
    s.labels.push(Label {
        lettering: Lettering::Title,
        bold: true,
        rank: 1,
        listed: String::new(),
        ..label("Chamber", 2200.0, 2600.0, None)
    });
    for (x, y, letter, turn) in [
        (2310.0, 1600.0, 'A', 0.0),
        (4200.0, 2000.0, 'B', 90.0),
        (2310.0, 3000.0, 'C', 180.0),
        (400.0, 2200.0, 'D', -90.0),
    ] {
        s.marks
            .push(symbol(x, y, Symbol::ElevationMark { letter, turn }));
    }
    s.marks.push(symbol(3700.0, 3300.0, Symbol::Water));
    s.marks.push(symbol(3900.0, 3300.0, Symbol::Waste));
    s.marks.push(symbol(1000.0, 3300.0, Symbol::Vent));
    s.marks.push(symbol(1400.0, 3300.0, Symbol::Switch));
    s.marks.push(symbol(1800.0, 3300.0, Symbol::Light));
    s.marks
        .push(symbol(1500.0, 2400.0, Symbol::WayArrow { turn: 0.0 }));
    s.chains.push(chain(
        ChainSide::Above,
        0,
        &[
            0.0, 37.0, 683.0, 1329.0, 1975.0, 2621.0, 3267.0, 3913.0, 4559.0, 4620.0,
        ],
        -120.0,
    ));
    s.chains.push(chain(ChainSide::Above, 1, &[0.0, w], -120.0));
    s.chains.push(chain(
        ChainSide::Right,
        0,
        &[0.0, 1650.0, 2550.0, h],
        w + 120.0,
    ));
    s.chains
        .push(chain(ChainSide::Left, 0, &[0.0, 15.5, 600.0, h], -120.0));
    s.chains.push(Chain {
        running_from: Some(mm(0.0)),
        ..chain(
            ChainSide::Below,
            0,
            &[0.0, 1000.0, 1400.0, 1800.0, 3700.0, 3900.0, w],
            h + 120.0,
        )
    });
    s.callouts.push(Callout {
        balloon: Some("1".into()),
        aside: false,
        ..note("Door to the scullery", w - 450.0, 1650.0)
    });
    s.callouts.push(note(
        "Radiator moved by the plumber before the units come",
        3700.0,
        3250.0,
    ));
    s.legend = vec![
        LegendItem {
            sample: LegendSample::Area(Fill::Masonry),
            text: "wall".into(),
        },
        LegendItem {
            sample: LegendSample::Line(Role::Above),
            text: "above the cut: slope".into(),
        },
        LegendItem {
            sample: LegendSample::Symbol(Symbol::Water),
            text: "water".into(),
        },
        LegendItem {
            sample: LegendSample::Symbol(Symbol::Waste),
            text: "waste".into(),
        },
        LegendItem {
            sample: LegendSample::Symbol(Symbol::ElevationMark {
                letter: 'A',
                turn: 0.0,
            }),
            text: "elevation".into(),
        },
    ];
    s
}

/// Through a tall unit 600 deep.
pub fn section(name: &str) -> Scene {
    let mut s = Scene {
        id: format!("section-{name}"),
        title: format!("Section through {name}"),
        alt: format!("Section through {name}."),
        ..Scene::default()
    };
    s.marks
        .push(rect(Role::Cut, Fill::Masonry, -100.0, -2438.0, 0.0, 0.0));
    s.marks
        .push(path(Role::Survey, &[(-100.0, 0.0), (900.0, 0.0)]));
    for (x0, z0, x1, z1) in [
        (10.0, 100.0, 560.0, 118.0),
        (10.0, 2332.0, 560.0, 2350.0),
        (10.0, 118.0, 18.0, 2332.0),
        (30.0, 700.0, 540.0, 718.0),
        (30.0, 1300.0, 540.0, 1318.0),
        (562.0, 102.0, 584.0, 2348.0),
    ] {
        s.marks.push(rect(Role::Cut, Fill::Board, x0, -z1, x1, -z0));
    }
    s.marks
        .push(path(Role::Hidden, &[(500.0, 0.0), (500.0, -100.0)]));
    s.chains
        .push(chain(ChainSide::Below, 0, &[0.0, 10.0, 560.0, 584.0], 0.0));
    s.chains.push(chain(
        ChainSide::Right,
        0,
        &[0.0, -100.0, -700.0, -1300.0, -2350.0],
        584.0,
    ));
    s.callouts.push(note(
        "Clearance over the top 88, tilted up from 2299",
        300.0,
        -2350.0,
    ));
    s.legend = vec![LegendItem {
        sample: LegendSample::Area(Fill::Board),
        text: "board cut through".into(),
    }];
    s
}

/// Many narrow units, many notes, values that fit nowhere.
pub fn crowded() -> Scene {
    let mut s = Scene {
        id: "crowded".into(),
        title: "Crowded".into(),
        alt: "Many narrow units.".into(),
        ..Scene::default()
    };
    let mut stops = vec![0.0];
    for i in 0..16 {
        let last = stops.last().copied().unwrap_or(0.0);
        let width = [30.0, 150.0, 18.0, 300.0][i % 4];
        let unit = Rect::new(last, -2000.0, last + width, 0.0);
        s.marks.push(rect(
            Role::Edge,
            Fill::None,
            unit.x0,
            unit.y0,
            unit.x1,
            unit.y1,
        ));
        s.labels.push(Label {
            frame: LabelFrame::Circle,
            lettering: Lettering::Strong,
            bold: true,
            rank: 0,
            listed: String::new(),
            ..label(&(i + 1).to_string(), unit.centre().x, -1000.0, Some(unit))
        });
        s.labels.push(label(
            &format!("unit of {width}"),
            unit.centre().x,
            -400.0,
            Some(unit),
        ));
        stops.push(last + width);
        if i % 2 == 0 {
            let words = format!("Note {i}: keep this one clear of the pipe and of its neighbour");
            s.callouts.push(note(
                &words,
                last + width / 2.0,
                -300.0 - 190.0 * i as f64 % 1700.0,
            ));
        }
    }
    let heights: Vec<f64> = (0..12).map(|i| -2000.0 + f64::from(i * i) * 15.0).collect();
    s.chains.push(chain(ChainSide::Below, 0, &stops, 0.0));
    s.chains.push(Chain {
        name: "units".into(),
        ..chain(ChainSide::Above, 0, &stops, -2000.0)
    });
    s.chains
        .push(chain(ChainSide::Below, 1, &[0.0, stops[16]], 0.0));
    s.chains.push(chain(ChainSide::Left, 0, &heights, 0.0));
    s.chains.push(Chain {
        running_from: Some(mm(-1000.0)),
        name: "datum".into(),
        ..chain(ChainSide::Right, 0, &heights, stops[16])
    });
    s.chains.push(chain(
        ChainSide::Right,
        1,
        &[0.0, -40.0, -80.0, -2000.0],
        stops[16],
    ));
    s
}
