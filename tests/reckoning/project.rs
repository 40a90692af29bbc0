//! Small projects made up by machine, as the text a designer would write, and their mirror image.
//! Every name is invented.

use std::fmt::Write;

use proptest::prelude::*;

/// All of a project that varies; lengths in mm.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Of the room along wall A, and along wall B.
    pub size: (i64, i64),
    pub ceiling: i64,
    /// By wall, A to D.
    pub linings: [i64; 4],
    pub leans: [i64; 4],
    /// How far the floor falls along wall A, from its left end to its right; negative: it rises.
    pub fall: i64,
    pub tall: Run,
    /// On wall C, if any.
    pub low: Option<Run>,
    /// On wall B: from its left end, hinge at the right, opens in.
    pub door: (i64, bool, bool),
    /// A pipe on wall A: at, out.
    pub pipe: Option<(i64, i64)>,
    /// A slope down to wall C: low, over.
    pub slope: Option<(i64, i64)>,
    pub handle: i64,
    pub opens: i64,
}

#[derive(Clone, Debug)]
pub struct Run {
    pub depth: i64,
    pub top: i64,
    pub left: i64,
    pub right: i64,
    pub units: Vec<Unit>,
}

#[derive(Clone, Debug)]
pub struct Unit {
    pub name: char,
    pub what: What,
    pub width: Option<i64>,
    pub shelves: u32,
}

#[derive(Clone, Copy, Debug)]
pub enum What {
    Doors,
    HungLeft,
    HungRight,
    Drawers,
    FlapOver,
    Open,
}

fn what() -> impl Strategy<Value = What> {
    prop_oneof![
        Just(What::Doors),
        Just(What::HungLeft),
        Just(What::HungRight),
        Just(What::Drawers),
        Just(What::FlapOver),
        Just(What::Open),
    ]
}

fn run(first: char, tops: std::ops::Range<i64>) -> impl Strategy<Value = Run> {
    let unit = (what(), proptest::option::of(300i64..600), 0u32..4);
    (
        300i64..620,
        tops,
        5i64..90,
        5i64..90,
        proptest::collection::vec(unit, 1..4),
    )
        .prop_map(move |(depth, top, left, right, units)| Run {
            depth,
            top,
            left,
            right,
            units: (first..)
                .zip(units)
                .map(|(name, (what, width, shelves))| Unit {
                    name,
                    what,
                    width,
                    shelves,
                })
                .collect(),
        })
}

pub fn plan() -> impl Strategy<Value = Plan> {
    let walls = || (0i64..30, 0i64..30, 0i64..30, 0i64..30);
    let leans = || (-8i64..9, -8i64..9, -8i64..9, -8i64..9);
    (
        ((2400i64..4200, 1900i64..3600), 2300i64..2700),
        (walls(), leans(), -14i64..15),
        (
            run('A', 1800..2290),
            proptest::option::of(run('P', 700..1100)),
        ),
        (150i64..900, any::<bool>(), any::<bool>()),
        proptest::option::of((0i64..2200, 30i64..120)),
        proptest::option::of((1500i64..2000, 400i64..900)),
        (0i64..45, 85i64..125),
    )
        .prop_map(
            |(
                (size, ceiling),
                (linings, leans, fall),
                (tall, low),
                door,
                pipe,
                slope,
                (handle, opens),
            )| Plan {
                size,
                ceiling,
                linings: linings.into(),
                leans: leans.into(),
                fall,
                tall,
                low,
                door,
                pipe,
                slope,
                handle,
                opens,
            },
        )
}

impl Plan {
    /// Its project file; `mirrored`: of the room as a mirror on wall A's middle shows it, every wall
    /// and unit keeping its name.
    pub fn text(&self, mirrored: bool) -> String {
        let mut out = String::from(HEAD);
        let _ = writeln!(
            out,
            "handle = {{ is = \"handle\", size = 160, out = {} }}\nhinge = {{ is = \"hinge\", opens = {} }}\n",
            self.handle, self.opens
        );
        let _ = writeln!(out, "[[room]]\nid = \"r\"\nceiling = {}", self.ceiling);
        if let Some((low, over)) = self.slope {
            let _ = writeln!(
                out,
                "slope = [{{ wall = \"C\", low = {low}, over = {over} }}]"
            );
        }
        let order = if mirrored { [0, 3, 2, 1] } else { [0, 1, 2, 3] };
        for wall in order {
            self.wall(wall, mirrored, &mut out);
        }
        self.run("tall", 'A', &self.tall, mirrored, &mut out);
        if let Some(low) = &self.low {
            self.run("low", 'C', low, mirrored, &mut out);
        }
        out
    }

    fn wall(&self, index: usize, mirrored: bool, out: &mut String) {
        let length = if index.is_multiple_of(2) {
            self.size.0
        } else {
            self.size.1
        };
        let id = ["A", "B", "C", "D"][index];
        let at = |x: i64, wide: i64| if mirrored { length - x - wide } else { x };
        let _ = writeln!(out, "[[room.wall]]\nid = \"{id}\"\nlength = {length}");
        let _ = writeln!(out, "plumb = [[0, 0], [2300, {}]]", self.leans[index]);
        let thick = self.linings[index];
        let _ = writeln!(
            out,
            "lining = [{{ what = \"board\", thickness = {thick} }}]"
        );
        if index == 0 {
            let (left, right) = (self.fall.min(0), (-self.fall).min(0));
            let (left, right) = if mirrored {
                (right, left)
            } else {
                (left, right)
            };
            let _ = writeln!(out, "floor = [[0, {left}], [{length}, {right}]]");
            if let Some((x, deep)) = self.pipe {
                let from = at(x, 80);
                let to = from + 80;
                let _ = writeln!(
                    out,
                    "obstruction = [{{ what = \"pipe\", from = {from}, to = {to}, top = 2200, out = {deep} }}]"
                );
            }
        }
        if index == 1 {
            let (x, right, opens_in) = self.door;
            let (x, hinge) = (at(x, 800), side(right != mirrored));
            let opens = if opens_in { "in" } else { "out" };
            let _ = writeln!(
                out,
                "door = [{{ at = {x}, width = 800, height = 2000, leads_to = \"hall\", hinge = \"{hinge}\", opens = \"{opens}\" }}]"
            );
        }
    }

    fn run(&self, id: &str, wall: char, run: &Run, mirrored: bool, out: &mut String) {
        let _ = writeln!(
            out,
            "[[run]]\nid = \"{id}\"\nwall = \"r.{wall}\"\nbase = 100\ntop = {}\ndepth = {}",
            run.top, run.depth
        );
        let (left, right) = match mirrored {
            true => (run.right, run.left),
            false => (run.left, run.right),
        };
        let _ = writeln!(
            out,
            "left = {{ scribe = {left} }}\nright = {{ scribe = {right} }}\nfit_from = \"{}\"\nunit = [",
            side(mirrored)
        );
        let mut units: Vec<&Unit> = run.units.iter().collect();
        // One shares what the others leave, so that the run always fills its wall.
        let shares = units.iter().position(|u| u.width.is_none()).unwrap_or(0);
        let shares = units.get(shares).map(|u| u.name);
        if mirrored {
            units.reverse();
        }
        for unit in units {
            let width = match unit.width.filter(|_| shares != Some(unit.name)) {
                Some(width) => format!(", width = {width}"),
                None => String::new(),
            };
            let fronts = match unit.what {
                What::Doors => "doors = 2".to_string(),
                What::HungLeft => format!("doors = 1, hinge = \"{}\"", side(mirrored)),
                What::HungRight => format!("doors = 1, hinge = \"{}\"", side(!mirrored)),
                What::Drawers => "drawers = 3".to_string(),
                What::FlapOver => "row = [{ height = 300, flaps = 1 }, { doors = 2 }]".to_string(),
                What::Open => String::new(),
            };
            let comma = if fronts.is_empty() { "" } else { ", " };
            let shelves = match unit.what {
                What::Drawers => 0,
                _ => unit.shelves,
            };
            let _ = writeln!(
                out,
                "  {{ id = \"{}\"{width}, shelves = {shelves}{comma}{fronts} }},",
                unit.name
            );
        }
        out.push_str("]\n");
    }
}

fn side(right: bool) -> &'static str {
    if right { "right" } else { "left" }
}

const HEAD: &str = "rodbook = 1
[job]
number = \"1\"
title = \"Made up\"
client = \"Nobody\"
date = 2026-01-01

[front]
usual = { handle = \"handle\" }

[[way_in]]
is = \"door\"
width = 820
height = 1990

[hardware]
foot = { is = \"foot\", range = [70, 140], rating = 100 }
runner = { is = \"runner\" }
stay = { is = \"stay\", opens = 100 }
";
