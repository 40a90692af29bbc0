//! Where a thing stands on a drawing, as it is and as it was. Knows each kind of drawing's coordinates; must not
//! know what changed of it.

use super::facts::OF_WALL;
use crate::compare::record::Fact;
use crate::compare::{Register, Thing};
use crate::draw::DrawingKind;
use crate::draw::scene::Rect;
use crate::draw::views::pen::box_up;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, WallRef};
use crate::units::Length;

/// Of what has no height of its own, mm: a bulkhead up from its underside, a thing that stands to the ceiling.
const BULKHEAD_UM: i64 = 150_000;
const TO_CEILING_UM: i64 = 2_000_000;
/// Round a service point, and a line of a floor or a ceiling, micrometres.
const ROUND_POINT_UM: i64 = 60_000;
const ROUND_LINE_UM: i64 = 45_000;

/// One drawing, and what there was before.
pub(super) struct View<'a> {
    pub job: &'a Job,
    pub reckoned: &'a Reckoned,
    pub register: &'a Register,
    pub kind: &'a DrawingKind,
    pub shows: &'a [String],
}

/// Whether a thing is looked for where it is, or where it was.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum When {
    Now,
    Before,
}

impl View<'_> {
    /// Where a thing stands on this drawing.
    pub fn place(&self, thing: &Thing, when: When) -> Option<Rect> {
        match self.kind {
            // A unit with fronts is hidden by them.
            DrawingKind::Shut(_) if thing.kind == "unit" && !self.frontless(thing) => None,
            // Behind the fronts: they stand on the drawing of the interiors.
            DrawingKind::Shut(wall) if thing.kind == "service" && self.has_run(*wall) => None,
            DrawingKind::Open(_) if matches!(thing.kind.as_str(), "front" | "cutout") => None,
            DrawingKind::Shut(wall) | DrawingKind::Open(wall) => self.on_wall(thing, *wall, when),
            DrawingKind::Plan(room) => self.on_plan(thing, *room, when),
            DrawingKind::Section => self.on_section(thing),
            DrawingKind::PatternWall(layout) | DrawingKind::Look(layout) => {
                self.on_map(thing, *layout)
            }
            DrawingKind::PatternBoards(layout) => self.on_board(thing, *layout),
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

    /// Of a board, what is cut from it: whatever the pattern runs over. Of the board itself, and of a flaw in it,
    /// all of it.
    fn on_board(&self, thing: &Thing, layout: usize) -> Option<Rect> {
        let shown = |name: &str| self.shows.iter().any(|board| board == name);
        let board = match thing.kind.as_str() {
            "board" => Some(thing.id.as_str()),
            "flaw" => thing.of.as_deref().and_then(|of| of.strip_prefix("board ")),
            _ => None,
        };
        if let Some(name) = board {
            let boards = &self.reckoned.patterns.get(layout)?.boards;
            let board = boards.iter().find(|b| b.name == name)?;
            let size = (board.across.in_um(), board.up.in_um());
            return shown(name).then(|| boxed(0, size.0, 0, size.1));
        }
        if !shown(thing.text("cut from board")?) {
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

    /// The wall that a scribe, a filler, an end panel or a plinth of a run stood or stands on.
    fn wall_of_run(&self, thing: &Thing, when: When) -> Option<String> {
        let run = thing.of.as_deref()?;
        let before = || {
            self.register
                .before
                .get(run)
                .or(self.register.gone.get(run))
        };
        let old = match when {
            When::Before => before().and_then(|t| t.text("on wall")),
            When::Now => None,
        };
        if let Some(old) = old {
            return Some(old.to_owned());
        }
        let id = run.strip_prefix("run ")?;
        let mut runs = self.job.runs.iter();
        runs.find(|r| r.id == id).map(|r| self.job.wall_id(r.wall))
    }

    fn on_wall(&self, thing: &Thing, wall: WallRef, when: When) -> Option<Rect> {
        let id = self.job.wall_id(wall);
        let strip = matches!(
            thing.kind.as_str(),
            "scribe" | "filler" | "end panel" | "plinth"
        );
        let of_run = strip.then(|| self.wall_of_run(thing, when)).flatten();
        if let Some(on) = thing.text("on wall").or(of_run.as_deref()) {
            let (x, z) = (thing.um("left edge")?, thing.um("bottom").unwrap_or(0));
            let (w, h) = (thing.um("width")?, thing.um("height")?);
            return (on == id).then(|| boxed(x, x + w, z, z + h));
        }
        if thing.kind == "cutout" {
            let hole = self.hole(thing, when)?;
            let (top, put) = self.top_of(thing)?;
            let on = self.job.wall_id(put.wall);
            let low = top.map_or(put.bottom, |t| {
                t.um("bottom").map_or(put.bottom, Length::um)
            });
            return (on == id).then(|| {
                boxed(
                    hole[0],
                    hole[1],
                    low.in_um(),
                    low.in_um() + (put.top - put.bottom).in_um(),
                )
            });
        }
        if thing.kind == "wall" {
            return (thing.id == id)
                .then(|| self.floor_or_ceiling(&thing.key(), wall))
                .flatten();
        }
        let part = thing
            .of
            .as_deref()
            .and_then(|of| of.strip_prefix("wall "))?;
        if part != id || !OF_WALL.contains(&thing.kind.as_str()) {
            return None;
        }
        let said = |fact: &str| match thing.said.get(fact) {
            Some(Fact::Um(n)) => Some(*n),
            _ => None,
        };
        let at = said("at").or(said("from")).unwrap_or(0);
        let right = match (said("to"), said("width"), thing.kind.as_str()) {
            (Some(to), ..) => to,
            (_, Some(width), _) => at.saturating_add(width),
            (_, None, "bulkhead") => self.job.wall(wall).length.in_um(),
            (_, None, _) => at,
        };
        let low = said("sill")
            .or(said("underside"))
            .or(said("bottom"))
            .unwrap_or(0);
        Some(match thing.kind.as_str() {
            "service" => {
                let (at, z, right) = match thing.said.get("moved_to") {
                    Some(Fact::List(to)) => match to.as_slice() {
                        [Fact::Um(x), Fact::Um(z)] => (*x, *z, x.saturating_add(right - at)),
                        _ => (at, said("height").unwrap_or(0), right),
                    },
                    _ => (at, said("height").unwrap_or(0), right),
                };
                boxed(
                    at - ROUND_POINT_UM,
                    right + ROUND_POINT_UM,
                    z - ROUND_POINT_UM,
                    z + said("tall").unwrap_or(0) + ROUND_POINT_UM,
                )
            }
            "bulkhead" => boxed(at, right, low, low + BULKHEAD_UM),
            "obstruction" => boxed(at, right, low, said("top").unwrap_or(low + TO_CEILING_UM)),
            _ => boxed(at, right, low, low + said("height").unwrap_or(0)),
        })
    }

    /// Along the line of a wall's floor, or of its ceiling, whichever is otherwise.
    fn floor_or_ceiling(&self, wall: &str, at: WallRef) -> Option<Rect> {
        let own = self.job.wall(at);
        let differs = |fact: &str| {
            let was = &self.register.was;
            was.contains_key(&(wall.to_owned(), fact.to_owned()))
        };
        let line = match (differs("floor"), differs("ceiling")) {
            (true, _) => &own.floor,
            (false, true) => &own.ceiling,
            (false, false) => return None,
        };
        let heights = || line.iter().map(|(_, z)| z.in_um());
        let (low, high) = (heights().min()?, heights().max()?);
        Some(boxed(
            0,
            own.length.in_um(),
            low - ROUND_LINE_UM,
            high + ROUND_LINE_UM,
        ))
    }

    /// The worktop that a cut-out is in: as it was, if that is known and otherwise, and as it is placed.
    fn top_of(
        &self,
        hole: &Thing,
    ) -> Option<(Option<&Thing>, &crate::reckon::placed::PlacedWorktop)> {
        let top = hole.of.as_deref()?;
        let id = top.strip_prefix("worktop ")?;
        let at = self.job.worktops.iter().position(|t| t.id == id)?;
        let put = self.reckoned.worktops.get(at)?;
        Some((self.register.before.get(top), put))
    }

    /// A cut-out's left, right, back and front, along its wall and out from it: as it is, or as it was in the
    /// list that its worktop kept.
    fn hole(&self, thing: &Thing, when: When) -> Option<[i64; 4]> {
        let (_, put) = self.top_of(thing)?;
        let top = thing.of.clone()?;
        let each = put.cutouts.iter();
        let now: Vec<[i64; 4]> = each
            .map(|c| [c.left, c.right, c.y_back, c.y_front].map(Length::in_um))
            .collect();
        let mut turns = std::collections::BTreeMap::new();
        let id = top.strip_prefix("worktop ").unwrap_or_default();
        let at = put.cutouts.iter().position(|c| {
            let turn: &mut u32 = turns.entry(c.what.as_str()).or_default();
            *turn += 1;
            let own = match *turn {
                1 => format!("{id}/{}", c.what),
                n => format!("{id}/{} {n}", c.what),
            };
            own == thing.id
        });
        if when == When::Now {
            return now.get(at?).copied();
        }
        let was = self.register.was.get(&(top, "cut-outs at".to_owned()));
        let Some(Some(Fact::List(items))) = was else {
            return at.and_then(|at| now.get(at).copied());
        };
        let ends: Vec<i64> = items
            .iter()
            .filter_map(|i| match i {
                Fact::Um(n) => Some(*n),
                _ => None,
            })
            .collect();
        let old: Vec<[i64; 4]> = ends
            .chunks_exact(4)
            .filter_map(|c| c.try_into().ok())
            .collect();
        match at {
            Some(at) => old.get(at).copied(),
            None => old.into_iter().find(|o| !now.contains(o)),
        }
    }

    fn on_plan(&self, thing: &Thing, room: usize, when: When) -> Option<Rect> {
        let of = thing.of.as_deref().and_then(|of| of.strip_prefix("wall "));
        let slope = thing.text("wall").filter(|_| thing.kind == "slope");
        let sloped = slope.and_then(|w| Some(format!("{}.{w}", self.job.rooms.get(room)?.id)));
        let (hole, under) = match thing.kind.as_str() {
            "cutout" => (
                self.hole(thing, when),
                self.top_of(thing).map(|(_, put)| put.wall),
            ),
            _ => (None, None),
        };
        let of_hole = under.map(|wall| self.job.wall_id(wall));
        let id = match thing.kind.as_str() {
            "wall" => thing.id.as_str(),
            "cutout" => of_hole.as_deref()?,
            "slope" => sloped.as_deref()?,
            "front" | "unit" | "panel" | "sliding" | "worktop" => thing.text("on wall")?,
            _ => of?,
        };
        let walls = &self.job.rooms.get(room)?.walls;
        let wall = (0..walls.len()).find(|w| self.job.wall_id(WallRef { room, wall: *w }) == id)?;
        let placed = self.reckoned.rooms.get(room)?.walls.get(wall)?;
        let long = walls.get(wall)?.length.in_mm();
        let um = |fact: &str| thing.um(fact).map(|n| Length::um(n).in_mm());
        let (from, to, back, out) = match (thing.kind.as_str(), hole) {
            (_, Some(hole)) => {
                let [left, right, back, front] = hole.map(|n| Length::um(n).in_mm());
                (left, right, back, front)
            }
            // The line where it meets the flat ceiling.
            ("slope", _) => (0.0, long, um("over")? - 60.0, um("over")? + 60.0),
            ("wall" | "lining", _) => (0.0, long, -60.0, 60.0),
            ("unit" | "panel" | "sliding" | "worktop", _) => {
                let left = um("left edge")?;
                let deep = um("depth over fronts").or(um("depth")).unwrap_or(60.0);
                (left, left + um("width")?, -60.0, deep)
            }
            ("front", _) => {
                let left = um("left edge")?;
                let face = um("face from the wall")?;
                (left, left + um("width")?, face - um("thickness")?, face)
            }
            _ => {
                let at = um("at").or(um("from")).unwrap_or(0.0);
                let to = um("to").or(um("width").map(|width| at + width));
                let to = match thing.kind.as_str() {
                    "bulkhead" => to.unwrap_or(long),
                    _ => to.unwrap_or(at),
                };
                (
                    at - 60.0,
                    to + 60.0,
                    -60.0,
                    um("out").unwrap_or(0.0).max(60.0),
                )
            }
        };
        let (a, b) = (placed.at(from, back), placed.at(to, out));
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
