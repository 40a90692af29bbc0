//! What changed since the newest issue, on a drawing: clouds, triangles, the old outline, old and new
//! figures. Knows where things stand on a wall and on plan; must not know how changes were found.

use std::collections::BTreeSet;

use super::pen::box_up;
use crate::compare::record::Fact;
use crate::compare::{Entry, Register, Thing};
use crate::draw::DrawingKind;
use crate::draw::place::cloud::union;
use crate::draw::scene::{
    Callout, Fill, Label, LabelFrame, LegendItem, LegendSample, Lettering, Mark, Pt, Rect, Role,
    Scene, Shape,
};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, WallRef};
use crate::units::Length;

/// From a thing to the cloud round it, mm of the real thing.
const AWAY: f64 = 35.0;
/// From a cloud to its triangle at most, mm of the real thing.
const ROUND: f64 = 450.0;
/// An old outline nearer to the new than this would only smear it, mm of the real thing.
const APART: f64 = 12.0;
/// Further words would fill the margin.
const MOST_LETTERS: usize = 64;

/// Facts whose change shows on an elevation of the shut fronts, of the interiors, and on plan.
const ON_SHUT: &[&str] = &[
    "left edge",
    "width",
    "bottom",
    "height",
    "hinge side",
    "is",
    "material",
    "finish",
    "handle",
    "hides",
    "pattern",
    "at",
    "tall",
    "sill",
    "underside",
    "from",
    "to",
    "open at",
    "pieces at",
    "cut-outs at",
    "what",
];
const ON_OPEN: &[&str] = &[
    "left edge",
    "width",
    "bottom",
    "height",
    "shelves at",
    "rails at",
    "inner drawers at",
    "bays",
    "appliances",
    "notches",
    "at",
    "tall",
    "sill",
    "underside",
    "from",
    "to",
    "what",
];
const ON_PLAN: &[&str] = &[
    "left edge",
    "width",
    "depth over fronts",
    "depth",
    "length",
    "turn",
    "thickness",
    "at",
    "out",
    "from",
    "to",
    "plumb",
    "what",
    "hinge",
    "opens",
    "reveal",
];

/// Of a unit cut through, and of a front on the map of its pattern.
const ON_SECTION: &[&str] = &[
    "bottom",
    "height",
    "depth over fronts",
    "depth",
    "back",
    "shelves at",
    "rails at",
    "inner drawers at",
    "appliances",
    "notches",
];
const ON_MAP: &[&str] = &[
    "left edge",
    "width",
    "bottom",
    "height",
    "number",
    "pattern",
    "cut from board",
    "across the board",
    "up the board",
];

const ON_BOARD: &[&str] = &[
    "width",
    "height",
    "number",
    "pattern",
    "cut from board",
    "across the board",
    "up the board",
];

/// What one entry of the register comes to on one drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    pub number: usize,
    /// Where things are now, in the scene's coordinates.
    clouds: Vec<Rect>,
    /// Where they were.
    was: Vec<Rect>,
    note: String,
}

/// The entries that show on a drawing, with where; `shows` as its scene has it.
fn marked(
    job: &Job,
    reckoned: &Reckoned,
    register: &Register,
    (kind, shows): (&DrawingKind, &[String]),
) -> Vec<Marked> {
    let view = View {
        job,
        reckoned,
        register,
        kind,
        shows,
    };
    let all = register.entries.iter().filter_map(|e| view.marked(e));
    all.collect()
}

/// Draws them into a scene.
pub fn overlay(
    job: &Job,
    reckoned: &Reckoned,
    register: &Register,
    kind: &DrawingKind,
    scene: &mut Scene,
) {
    let all = marked(job, reckoned, register, (kind, &scene.shows));
    if all.is_empty() {
        return;
    }
    scene.changes = all.iter().map(|m| m.number).collect();
    let mut numbers: Vec<String> = Vec::new();
    // Clouds of several entries that touch are one.
    let rects: Vec<Rect> = all
        .iter()
        .flat_map(|m| m.clouds.iter())
        .map(grown)
        .collect();
    for points in union(&rects) {
        scene.marks.push(Mark {
            role: Role::Cloud,
            fill: Fill::None,
            shape: Shape::Path {
                points,
                closed: true,
            },
        });
    }
    for m in &all {
        // One triangle at each place where the entry has a cloud of its own.
        let own: Vec<Rect> = m.clouds.iter().map(grown).collect();
        for ring in union(&own) {
            let Some(corner) = top_right(&ring) else {
                continue;
            };
            scene.labels.push(Label {
                at: Pt::new(corner.x, corner.y - 60.0),
                lines: vec![m.number.to_string()],
                lettering: Lettering::Normal,
                bold: true,
                frame: LabelFrame::Triangle,
                within: around(&ring).map(|r| r.grown(ROUND)),
                rank: 8,
                listed: String::new(),
            });
        }
    }
    let mut old = false;
    for m in &all {
        for was in &m.was {
            scene.marks.push(line(Role::Was, *was));
            old = true;
        }
        if let (Some(target), false) = (m.clouds.first(), m.note.is_empty()) {
            scene.callouts.push(Callout {
                target: Pt::new(target.centre().x, target.y0 + target.height() * 0.12),
                text: format!("Change {}: {}", m.number, m.note),
                balloon: None,
                aside: false,
            });
        }
        numbers.push(m.number.to_string());
    }
    let from = &register.from;
    scene.legend.push(LegendItem {
        sample: LegendSample::Line(Role::Cloud),
        text: format!("changed since {from}; the triangle has its number in the register"),
    });
    if old {
        scene.legend.push(LegendItem {
            sample: LegendSample::Line(Role::Was),
            text: format!("as in {from}"),
        });
    }
    scene.alt.push_str(&format!(
        " Changed since {from}: number {} of the change register.",
        numbers.join(", ")
    ));
}

fn grown(rect: &Rect) -> Rect {
    rect.grown(AWAY)
}

fn around(ring: &[Pt]) -> Option<Rect> {
    let at = |p: &Pt| Rect {
        x0: p.x,
        y0: p.y,
        x1: p.x,
        y1: p.y,
    };
    ring.iter().map(at).reduce(Rect::with)
}

/// The highest corner, and of those the farthest right.
fn top_right(ring: &[Pt]) -> Option<Pt> {
    let order = |a: &&Pt, b: &&Pt| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x));
    ring.iter().min_by(order).copied()
}

fn line(role: Role, rect: Rect) -> Mark {
    Mark {
        role,
        fill: Fill::None,
        shape: Shape::Rect(rect),
    }
}

struct View<'a> {
    job: &'a Job,
    reckoned: &'a Reckoned,
    register: &'a Register,
    kind: &'a DrawingKind,
    shows: &'a [String],
}

impl View<'_> {
    fn marked(&self, entry: &Entry) -> Option<Marked> {
        let (mut clouds, mut was, mut figures) = (Vec::new(), Vec::new(), BTreeSet::new());
        for (key, facts) in &entry.touches {
            let now = self.register.now.get(key);
            let before = self
                .register
                .before
                .get(key)
                .or(self.register.gone.get(key));
            let came = self.register.new.contains(key);
            let went = now.is_none();
            let shows = self.facts().iter().any(|f| facts.contains(*f));
            if !(came || went || shows) {
                continue;
            }
            let at_now = now.and_then(|t| self.place(t));
            let at_before = before.and_then(|t| self.place(t));
            let Some(shown) = at_now.or(at_before) else {
                continue;
            };
            clouds.push(shown);
            if let Some(old) = at_before.filter(|old| at_now.is_none_or(|now| apart(now, *old))) {
                was.push(old);
            }
            if let (Some(now), Some(before)) = (now, before) {
                figures.extend(self.figures(now, before, facts));
            }
        }
        if clouds.is_empty() {
            return None;
        }
        let ours = |key: &String| {
            let thing = self.register.now.get(key);
            thing.is_some_and(|t| t.text("on wall").is_some())
        };
        let note = match (self.kind, figures.is_empty()) {
            (DrawingKind::Section | DrawingKind::PatternWall(_) | DrawingKind::Look(_), _) => {
                String::new()
            }
            // What was surveyed has a note of its own with its new figures: here the old stand beside.
            _ if !entry.touches.keys().any(ours) => {
                entry.changes.first().cloned().unwrap_or_default()
            }
            // Its figures stand on the elevations.
            (DrawingKind::Plan(_), _) => String::new(),
            (_, false) => as_many(&figures),
            (_, true) => entry.changes.first().cloned().unwrap_or_default(),
        };
        Some(Marked {
            number: entry.number,
            clouds,
            was,
            note: shortened(&note),
        })
    }

    fn facts(&self) -> &'static [&'static str] {
        match self.kind {
            DrawingKind::Shut(_) => ON_SHUT,
            DrawingKind::Open(_) => ON_OPEN,
            DrawingKind::Plan(_) => ON_PLAN,
            DrawingKind::Section => ON_SECTION,
            DrawingKind::PatternWall(_) | DrawingKind::Look(_) => ON_MAP,
            DrawingKind::PatternBoards(_) => ON_BOARD,
            _ => &[],
        }
    }

    /// `width 557, was 558.5`: of the sizes, the old and the new.
    fn figures(&self, now: &Thing, before: &Thing, facts: &BTreeSet<String>) -> Vec<String> {
        let sized = match self.kind {
            DrawingKind::Plan(_) => &["width", "depth over fronts", "depth"][..],
            DrawingKind::PatternBoards(_) => &["across the board", "up the board"][..],
            _ => &["width", "height"][..],
        };
        let each = sized
            .iter()
            .filter(|f| facts.contains(**f))
            .filter_map(|fact| {
                let (new, old) = (now.um(fact)?, before.um(fact)?);
                let fact = fact.split(' ').next().unwrap_or(fact);
                let (new, old) = (Length::um(new), Length::um(old));
                (new != old).then(|| format!("{} {fact} {new}, was {old}", now.kind))
            });
        each.collect()
    }

    /// Where a thing stands on this drawing.
    fn place(&self, thing: &Thing) -> Option<Rect> {
        match self.kind {
            // A unit with fronts is hidden by them.
            DrawingKind::Shut(_) if thing.kind == "unit" && !self.frontless(thing) => None,
            // Behind the fronts: they stand on the drawing of the interiors.
            DrawingKind::Shut(wall) if thing.kind == "service" && self.has_run(*wall) => None,
            DrawingKind::Shut(wall) => self.on_wall(thing, *wall),
            DrawingKind::Open(wall) if thing.kind != "front" => self.on_wall(thing, *wall),
            DrawingKind::Plan(room) => self.on_plan(thing, *room),
            DrawingKind::Section => self.on_section(thing),
            DrawingKind::PatternWall(layout) | DrawingKind::Look(layout) => {
                self.on_map(thing, *layout)
            }
            DrawingKind::PatternBoards(_) => self.on_board(thing),
            _ => None,
        }
    }

    fn has_run(&self, wall: WallRef) -> bool {
        self.reckoned.runs.iter().any(|run| run.wall == wall)
    }

    fn frontless(&self, unit: &Thing) -> bool {
        let units = self.reckoned.runs.iter().flat_map(|run| &run.units);
        units
            .filter(|u| u.id == unit.id)
            .all(|u| u.fronts.is_empty())
    }

    /// Out from the wall, as far as it reaches.
    fn on_section(&self, thing: &Thing) -> Option<Rect> {
        if thing.kind != "unit" || !self.shows.contains(&thing.id) {
            return None;
        }
        let mut runs = self.reckoned.runs.iter();
        let run = runs.find(|r| r.units.iter().any(|u| u.id == thing.id))?;
        let back = run.y_back.in_um();
        let (z, h) = (thing.um("bottom")?, thing.um("height")?);
        let deep = thing.um("depth over fronts")?;
        Some(boxed(back, back + deep, z, z + h))
    }

    /// Of a board, what is cut from it: whatever the pattern runs over.
    fn on_board(&self, thing: &Thing) -> Option<Rect> {
        let from = thing.text("cut from board")?;
        if !self.shows.iter().any(|board| board == from) {
            return None;
        }
        let (x, z) = (thing.um("across the board")?, thing.um("up the board")?);
        let (w, h) = (thing.um("width")?, thing.um("height")?);
        Some(boxed(x, x + w, z, z + h))
    }

    /// A front of the pattern, or what else it runs over, on the wall that the map is of.
    fn on_map(&self, thing: &Thing, layout: usize) -> Option<Rect> {
        let layout = self.reckoned.patterns.get(layout)?;
        let mut faces = layout
            .blanks
            .iter()
            .filter_map(|b| self.reckoned.face(b.front));
        let face = faces.find(|f| f.id == thing.id)?;
        let shown = |on: &str| self.shows.iter().any(|wall| wall == on);
        // What is no front is filed without its place on the wall.
        if thing.kind == "piece" {
            let ends = [face.left, face.right, face.bottom, face.top].map(Length::in_um);
            let [left, right, bottom, top] = ends;
            return shown(&self.job.wall_id(face.wall)).then(|| boxed(left, right, bottom, top));
        }
        let on = thing.text("on wall")?;
        if thing.kind != "front" || !shown(on) {
            return None;
        }
        let (x, z) = (thing.um("left edge")?, thing.um("bottom")?);
        let (w, h) = (thing.um("width")?, thing.um("height")?);
        Some(boxed(x, x + w, z, z + h))
    }

    fn on_wall(&self, thing: &Thing, wall: WallRef) -> Option<Rect> {
        let id = self.job.wall_id(wall);
        if let Some(on) = thing.text("on wall") {
            let (x, z) = (thing.um("left edge")?, thing.um("bottom")?);
            let (w, h) = (thing.um("width")?, thing.um("height")?);
            return (on == id).then(|| boxed(x, x + w, z, z + h));
        }
        let part = thing
            .of
            .as_deref()
            .and_then(|of| of.strip_prefix("wall "))?;
        if part != id {
            return None;
        }
        let said = |fact: &str| match thing.said.get(fact) {
            Some(Fact::Um(n)) => Some(*n),
            _ => None,
        };
        let (at, width) = (said("at").or(said("from"))?, said("width").unwrap_or(0));
        let right = said("to").unwrap_or(at.saturating_add(width));
        let low = said("sill")
            .or(said("underside"))
            .or(said("bottom"))
            .unwrap_or(0);
        Some(match thing.kind.as_str() {
            "service" => {
                let z = said("height").unwrap_or(0);
                boxed(
                    at - 60_000,
                    right + 60_000,
                    z - 60_000,
                    z + said("tall").unwrap_or(0) + 60_000,
                )
            }
            "bulkhead" => boxed(at, right, low, low + 150_000),
            "obstruction" => boxed(at, right, low, said("top").unwrap_or(low + 2_000_000)),
            _ => boxed(at, right, low, low + said("height").unwrap_or(0)),
        })
    }

    fn on_plan(&self, thing: &Thing, room: usize) -> Option<Rect> {
        let of = thing.of.as_deref().and_then(|of| of.strip_prefix("wall "));
        let id = match thing.kind.as_str() {
            "wall" => thing.id.as_str(),
            "unit" | "panel" | "sliding" | "worktop" => thing.text("on wall")?,
            _ => of?,
        };
        let walls = &self.job.rooms.get(room)?.walls;
        let wall = (0..walls.len()).find(|w| self.job.wall_id(WallRef { room, wall: *w }) == id)?;
        let placed = self.reckoned.rooms.get(room)?.walls.get(wall)?;
        let long = walls.get(wall)?.length.in_mm();
        let um = |fact: &str| thing.um(fact).map(|n| Length::um(n).in_mm());
        let (from, to, out) = match thing.kind.as_str() {
            "wall" | "lining" => (0.0, long, 60.0),
            "unit" | "panel" | "sliding" | "worktop" => {
                let left = um("left edge")?;
                let deep = um("depth over fronts").or(um("depth")).unwrap_or(60.0);
                (left, left + um("width")?, deep)
            }
            _ => {
                let at = um("at").or(um("from"))?;
                let to = um("to").unwrap_or(at + um("width").unwrap_or(0.0));
                (at - 60.0, to + 60.0, um("out").unwrap_or(0.0).max(60.0))
            }
        };
        let (a, b) = (placed.at(from, -60.0), placed.at(to, out));
        Some(Rect {
            x0: a.x.min(b.x),
            y0: a.y.min(b.y),
            x1: a.x.max(b.x),
            y1: a.y.max(b.y),
        })
    }
}

fn boxed(left: i64, right: i64, bottom: i64, top: i64) -> Rect {
    let mm = |n: i64| Length::um(n).in_mm();
    box_up(mm(left), mm(right), mm(bottom), mm(top))
}

fn apart(a: Rect, b: Rect) -> bool {
    let far = |x: f64, y: f64| (x - y).abs() > APART;
    far(a.x0, b.x0) || far(a.x1, b.x1) || far(a.y0, b.y0) || far(a.y1, b.y1)
}

/// As many figures as a margin holds.
fn as_many(figures: &BTreeSet<String>) -> String {
    let mut told = String::new();
    for figure in figures {
        if told.is_empty() {
            told.push_str(figure);
        } else if told.chars().count() + figure.chars().count() < MOST_LETTERS - 12 {
            told.push_str(&format!("; {figure}"));
        } else {
            return format!("{told}; and others");
        }
    }
    told
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= MOST_LETTERS {
        return text.to_owned();
    }
    let cut: String = text.chars().take(MOST_LETTERS).collect();
    let whole = cut.rsplit_once(' ').map_or(cut.as_str(), |(head, _)| head);
    format!("{whole}\u{2026}")
}
