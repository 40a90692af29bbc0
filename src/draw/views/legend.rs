//! The legend of a drawing: one line for each kind of mark that the drawing does use.
//! Knows what each mark stands for in which view; must not know furniture or paper.

use crate::draw::gaps;
use crate::draw::scene::{Fill, LegendItem, LegendSample, Mark, Role, Scene, Shape, Symbol};
use crate::resolve::job::{Job, SwingApex};

/// What of the lines and fills that may stand for several things there is on a wall.
pub struct Facts {
    pub hidden: bool,
    pub slid_open: bool,
    pub notched: bool,
    /// A sink or hob in a worktop.
    pub cut_out: bool,
    pub rails: bool,
    /// A lining thick enough to be seen.
    pub lined: bool,
}

/// Those of these words that hold; the first where none does.
fn words(all: &[(bool, &str)]) -> String {
    let held: Vec<&str> = all.iter().filter(|a| a.0).map(|a| a.1).collect();
    match (held.is_empty(), all.first()) {
        (true, Some((_, first))) => (*first).to_owned(),
        _ => held.join("; "),
    }
}

/// For an elevation; declares the swing convention wherever something swings.
pub fn elevation(job: &Job, scene: &Scene, facts: &Facts) -> Vec<LegendItem> {
    let mut out = Vec::new();
    if uses_role(scene, Role::Swing) {
        let apex_at_hinge = job.info.swing_apex == SwingApex::Hinge;
        let side = if apex_at_hinge { "hinge" } else { "handle" };
        let text = format!("opens; lines meet at the {side}; heavy tick: hinge");
        out.push(item(LegendSample::Swing { apex_at_hinge }, text));
    }
    if let Some(gaps) = gaps::words(&scene.gaps.iter().collect::<Vec<_>>()) {
        out.push(item(LegendSample::Gap, gaps));
    }
    let hidden = words(&[
        (facts.hidden, "hidden"),
        (facts.slid_open, "slid open"),
        (facts.notched, "cut out"),
        (facts.cut_out, "side of a cut-out"),
    ]);
    roles(scene, &[(Role::Hidden, &hidden)], &mut out);
    let centre = |m: &&Mark| m.role == Role::Centre;
    let lines = |m: &&Mark| matches!(m.shape, Shape::Path { .. });
    let marks = || scene.marks.iter().filter(centre);
    let datum = usize::from(marks().any(|m| !lines(&m)));
    let others = words(&[
        (facts.rails, "rail"),
        (facts.cut_out, "centre of a cut-out"),
    ]);
    let mut said = Vec::new();
    if datum > 0 {
        said.push(format!("datum, {} above floor", job.info.datum));
    }
    if marks().filter(lines).count() > datum {
        said.push(others);
    }
    if !said.is_empty() {
        out.push(item(LegendSample::Line(Role::Centre), said.join("; ")));
    }
    fills(scene, &mut out);
    // What is too thin to be seen is not in the legend.
    out.retain(|i| facts.lined || i.sample != LegendSample::Area(Fill::Lining));
    for item in &mut out {
        if item.sample == LegendSample::Area(Fill::Lining) {
            item.text.push_str("; the wall is measured bare");
        }
    }
    handles(scene, &mut out);
    symbols(scene, &mut out);
    out
}

/// Handles as `fronts` marks them, told from the furniture's edges by their fine line and white or
/// solid fill.
fn handles(scene: &Scene, out: &mut Vec<LegendItem>) {
    let mark = |fill: Fill| {
        let is = |m: &Mark| match m.shape {
            Shape::Rect(r) => {
                m.role == Role::Fine
                    && m.fill == fill
                    && (r.width().min(r.height()) - super::HANDLE_MARK_MM).abs() < 0.01
            }
            _ => false,
        };
        scene.marks.iter().any(is)
    };
    for (fill, text) in [(Fill::Solid, "handle"), (Fill::White, "handle, let in")] {
        if mark(fill) {
            out.push(item(LegendSample::Handle(fill), text));
        }
    }
}

pub fn plan(scene: &Scene) -> Vec<LegendItem> {
    let mut out = Vec::new();
    let table = [
        (Role::Swing, "swing; drawer out"),
        (Role::Hidden, "hidden beneath; slid open"),
        (Role::Above, "overhead"),
        (Role::Centre, "track"),
    ];
    roles(scene, &table, &mut out);
    fills(scene, &mut out);
    for item in &mut out {
        if item.sample == LegendSample::Area(Fill::Lining) {
            item.text.push_str("; chains run between bare walls");
        }
    }
    symbols(scene, &mut out);
    out
}

pub fn section(scene: &Scene) -> Vec<LegendItem> {
    let mut out = Vec::new();
    roles(scene, &[(Role::Hidden, "beyond the cut")], &mut out);
    fills(scene, &mut out);
    for item in &mut out {
        if item.sample == LegendSample::Area(Fill::Masonry) {
            item.text = "wall, floor".into();
        }
    }
    out
}

fn item(sample: LegendSample, text: impl Into<String>) -> LegendItem {
    LegendItem {
        sample,
        text: text.into(),
    }
}

fn uses_role(scene: &Scene, role: Role) -> bool {
    scene
        .marks
        .iter()
        .any(|m| m.role == role && !matches!(m.shape, Shape::Symbol { .. }))
}

fn roles(scene: &Scene, table: &[(Role, &str)], out: &mut Vec<LegendItem>) {
    for (role, text) in table {
        if uses_role(scene, *role) {
            out.push(item(LegendSample::Line(*role), *text));
        }
    }
}

fn fills(scene: &Scene, out: &mut Vec<LegendItem>) {
    let table = [
        (Fill::Masonry, "wall"),
        (Fill::Lining, "lining to come"),
        (Fill::Scribe, "scribed strip"),
        (Fill::Board, "board cut through"),
        (Fill::Clash, "in the way when open, with its number"),
        (Fill::GrainUp, "grain upright"),
        (Fill::GrainFlat, "grain across"),
    ];
    for (fill, text) in table {
        if scene.marks.iter().any(|m| m.fill == fill) {
            out.push(item(LegendSample::Area(fill), text));
        }
    }
    // A machine is drawn as a service.
    let tinted = |machine: bool| {
        let is = |m: &&Mark| m.fill == Fill::Tint && (m.role == Role::Service) == machine;
        scene.marks.iter().any(|m| is(&m))
    };
    let (boxed, machines) = (tinted(false), tinted(true));
    if boxed || machines {
        let text = words(&[(boxed, "boxed in"), (machines, "appliance")]);
        out.push(item(LegendSample::Area(Fill::Tint), text));
    }
}

fn symbols(scene: &Scene, out: &mut Vec<LegendItem>) {
    let mut seen: Vec<&'static str> = Vec::new();
    for mark in &scene.marks {
        let Shape::Symbol { symbol, .. } = &mark.shape else {
            continue;
        };
        let Some(text) = meaning(symbol) else {
            continue;
        };
        if !seen.contains(&text) {
            seen.push(text);
            out.push(item(LegendSample::Symbol(*symbol), text));
        }
    }
}

/// `None`: said elsewhere in the legend, or says it itself.
fn meaning(symbol: &Symbol) -> Option<&'static str> {
    Some(match symbol {
        Symbol::UpArrow => "this way up",
        Symbol::WayArrow { .. } => "the way it slides",
        Symbol::Socket => "socket",
        Symbol::Switch => "switch",
        Symbol::Light => "light",
        Symbol::Water => "water",
        Symbol::Waste => "waste",
        Symbol::Gas => "gas",
        Symbol::Vent => "vent",
        Symbol::Data => "data",
        Symbol::Service => "other service",
        Symbol::ElevationMark { .. } => "elevation",
        Symbol::WallLetter { .. } => "letter of a wall",
        Symbol::Level => "datum level",
        Symbol::HingeTick { .. } | Symbol::Terminator | Symbol::Dot | Symbol::MatchMark { .. } => {
            return None;
        }
    })
}
