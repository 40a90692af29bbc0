//! What comes of a project: the reckoned numbers that people act on, as facts about things. Knows which
//! those are; must not work out any of them.

use super::canonical::sha256;
use super::record::{Fact, Facts, Record, Thing, key};
use super::said::JOB;
use crate::reckon::lifting;
use crate::reckon::placed::{
    Finding, PieceKind, PlacedFront, PlacedRun, PlacedUnit, Reckoned, Severity,
};
use crate::resolve::job::{Job, Side, Subject};
use crate::units::Length;

pub fn note(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    rooms(job, reckoned, record);
    for (run, placed) in job.runs.iter().zip(&reckoned.runs) {
        run_facts(job, &run.id, placed, record);
    }
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let facts = &mut record.entry("unit", &unit.id).comes;
            unit_facts(job, at, facts);
            put(facts, "on wall", job.wall_id(placed.wall).as_str());
            let handling = reckoned.handling.get(r).and_then(|run| run.get(u));
            if let Some(handling) = handling {
                put(facts, "carried mass", handling.mass);
                match lifting::people(handling.mass) {
                    Some(people) => put(facts, "people to carry it", people),
                    None => put(
                        facts,
                        "people to carry it",
                        "more than the guideline covers",
                    ),
                }
            }
        }
    }
    for front in &reckoned.fronts {
        front_facts(job, front, &mut record.entry("front", &front.id).comes);
    }
    loose(job, reckoned, record);
    patterns(reckoned, record);
    goods(job, reckoned, record);
    for finding in &reckoned.findings {
        record_finding(job, finding, record);
    }
    let order = reckoned.order.iter();
    let order = order.map(|step| Fact::Text(super::order::told(job, step)));
    let order = Fact::List(order.collect());
    record
        .entry(JOB, JOB)
        .comes
        .insert("order of work".to_owned(), order);
}

fn put(facts: &mut Facts, name: &str, value: impl Into<Fact>) {
    facts.insert(name.to_owned(), value.into());
}

fn lengths(of: impl IntoIterator<Item = Length>) -> Fact {
    Fact::List(of.into_iter().map(Fact::from).collect())
}

fn side(side: Side) -> &'static str {
    side.word()
}

/// Left, width, bottom and height: a place on a wall and a size.
fn place(facts: &mut Facts, left: Length, right: Length, bottom: Length, top: Length) {
    put(facts, "left edge", left);
    put(facts, "width", right - left);
    put(facts, "bottom", bottom);
    put(facts, "height", top - bottom);
}

fn rooms(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    for (room, placed) in job.rooms.iter().zip(&reckoned.rooms) {
        let facts = &mut record.entry("room", &room.id).comes;
        if let Some(closure) = placed.closure {
            put(facts, "closure error", closure.error);
        }
        let each = placed.diagonals.iter();
        let computed = each.map(|d| d.computed - d.measured);
        facts.insert(
            "diagonals, reckoned less measured".to_owned(),
            lengths(computed),
        );
    }
}

fn run_facts(job: &Job, id: &str, placed: &PlacedRun, record: &mut Record) {
    let wall = job.wall_id(placed.wall);
    let facts = &mut record.entry("run", id).comes;
    put(facts, "on wall", wall.as_str());
    put(facts, "left end", placed.left);
    put(facts, "right end", placed.right);
    put(facts, "highest floor", placed.floor_high);
    put(facts, "lowest floor", placed.floor_low);
    put(facts, "lowest ceiling", placed.ceiling_low);
    for piece in &placed.pieces {
        let kind = match piece.kind {
            PieceKind::Scribe => "scribe",
            PieceKind::Filler => "filler",
            PieceKind::EndPanel => "end panel",
        };
        let mut facts = Facts::new();
        place(&mut facts, piece.left, piece.right, piece.bottom, piece.top);
        put(
            &mut facts,
            "material",
            job.material(piece.material).key.as_str(),
        );
        put(&mut facts, "blank to cut", piece.blank);
        let scribe = piece.scribe.iter().flat_map(|(z, width)| [*z, *width]);
        facts.insert("scribed to".to_owned(), lengths(scribe));
        part(
            record,
            kind,
            &format!("{id}/{}", side(piece.side)),
            id,
            facts,
        );
    }
    for (n, plinth) in placed.plinths.iter().enumerate() {
        let mut facts = Facts::new();
        put(&mut facts, "left edge", plinth.left);
        put(&mut facts, "width", plinth.right - plinth.left);
        put(&mut facts, "height", plinth.top);
        part(record, "plinth", &format!("{id}/{}", n + 1), id, facts);
    }
}

fn part(record: &mut Record, kind: &str, id: &str, run: &str, comes: Facts) {
    let mut id = id.to_owned();
    while record.get(kind, &id).is_some() {
        id.push_str(" again");
    }
    record.add(Thing {
        kind: kind.to_owned(),
        id,
        of: Some(key("run", run)),
        said: Facts::new(),
        comes,
    });
}

fn unit_facts(job: &Job, at: &PlacedUnit, facts: &mut Facts) {
    place(facts, at.left, at.right, at.base, at.top);
    put(facts, "depth over fronts", at.depth_over_fronts);
    put(facts, "mass", at.mass);
    facts.insert("feet".to_owned(), lengths(at.feet.iter().map(|f| f.height)));
    let bays = || at.bays.iter();
    let shelves = bays().flat_map(|b| b.shelves.iter().map(|s| s.z));
    facts.insert("shelves at".to_owned(), lengths(shelves));
    let rails = bays().flat_map(|b| b.rails.iter().copied());
    facts.insert("rails at".to_owned(), lengths(rails));
    let drawers = bays().flat_map(|b| b.drawers.iter().map(|d| d.0));
    facts.insert("inner drawers at".to_owned(), lengths(drawers));
    let boxes = at.boxes.iter();
    let boxes = boxes.flat_map(|b| [b.left - at.left, b.right - at.left, b.bottom, b.top]);
    facts.insert("drawer boxes at".to_owned(), lengths(boxes));
    if let Some(made) = at.boxes.first() {
        put(facts, "drawer boxes", job.material(made.board).key.as_str());
        put(
            facts,
            "drawer bottoms",
            job.material(made.thin).key.as_str(),
        );
    }
    let bay_widths = bays().map(|b| b.right - b.left);
    facts.insert("bays".to_owned(), lengths(bay_widths));
    let machines = bays().flat_map(|b| &b.appliances).map(|a| {
        let name = job.appliances.get(a.which.0).map_or("", |a| a.key.as_str());
        Fact::Text(format!("{name} at {}", a.bottom))
    });
    facts.insert("appliances".to_owned(), Fact::List(machines.collect()));
    let notches = at.notches.iter().map(|n| {
        let size = format!(
            "{} \u{d7} {} \u{d7} {}",
            n.right - n.left,
            n.top - n.bottom,
            n.deep
        );
        Fact::Text(format!("{} {size} at {}", n.what, n.left))
    });
    facts.insert("notches".to_owned(), Fact::List(notches.collect()));
}

fn front_facts(job: &Job, f: &PlacedFront, facts: &mut Facts) {
    put(facts, "number", f.number);
    put(facts, "on wall", job.wall_id(f.wall).as_str());
    put(facts, "is", f.kind.word());
    place(facts, f.left, f.right, f.bottom, f.top);
    put(facts, "thickness", f.y_face - f.y_back);
    put(facts, "face from the wall", f.y_face);
    if let Some(hinge) = f.hinge {
        put(facts, "hinge side", side(hinge));
    }
    put(facts, "hinges", f.hinges);
    put(facts, "mass", f.mass);
    let style = &f.style;
    put(facts, "material", job.material(style.material).key.as_str());
    if let Some(finish) = style.finish.and_then(|at| job.finishes.get(at.0)) {
        put(facts, "finish", finish.key.as_str());
    }
    for (name, which) in [
        ("handle", style.handle),
        ("hinge", style.hinge),
        ("runner", style.runner),
        ("straightener", style.straightener),
        ("latch", style.latch.filter(|_| f.kind.is_latched())),
    ] {
        if let Some(hardware) = which.and_then(|at| job.hardware.get(at.0)) {
            put(facts, name, hardware.key.as_str());
        }
    }
    if let Some(handle) = f.handle {
        put(facts, "handle at", handle.x - f.left);
        put(facts, "handle up", handle.z - f.bottom);
    }
    if let Some(hidden) = f.hides.and_then(|at| job.appliances.get(at.0)) {
        put(facts, "hides", hidden.key.as_str());
    }
    if let Some(pattern) = &style.pattern {
        put(facts, "pattern", pattern.as_str());
    }
}

fn loose(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    for (panel, at) in job.panels.iter().zip(&reckoned.panels) {
        let facts = &mut record.entry("panel", &panel.id).comes;
        put(facts, "on wall", job.wall_id(at.wall).as_str());
        let left = at.pieces.first().map_or(panel.from, |p| p.0);
        let right = at.pieces.last().map_or(panel.to, |p| p.1);
        place(facts, left, right, at.bottom, at.top);
        facts.insert(
            "pieces at".to_owned(),
            lengths(at.pieces.iter().map(|p| p.0)),
        );
        put(facts, "between pieces", at.gap);
        put(facts, "mass", at.mass);
    }
    for (door, at) in job.sliding.iter().zip(&reckoned.sliding) {
        let facts = &mut record.entry("sliding", &door.id).comes;
        put(facts, "on wall", job.wall_id(at.wall).as_str());
        place(facts, at.left, at.right, at.bottom, at.top);
        put(facts, "open at", at.open_left);
        put(facts, "track from", at.track_left);
        put(facts, "track to", at.track_right);
        put(facts, "mass", at.mass);
    }
    for (top, at) in job.worktops.iter().zip(&reckoned.worktops) {
        let facts = &mut record.entry("worktop", &top.id).comes;
        put(facts, "on wall", job.wall_id(at.wall).as_str());
        place(facts, at.left, at.right, at.bottom, at.top);
        put(facts, "depth", at.y_front - at.y_back);
        put(facts, "top of the upstand", at.upstand_top);
        put(facts, "mass", at.mass);
        let holes = at
            .cutouts
            .iter()
            .flat_map(|c| [c.left, c.right, c.y_back, c.y_front]);
        facts.insert("cut-outs at".to_owned(), lengths(holes));
    }
}

fn patterns(reckoned: &Reckoned, record: &mut Record) {
    for layout in &reckoned.patterns {
        let facts = &mut record.entry("pattern", &layout.name).comes;
        let boards = layout.boards.iter().map(|b| b.name.as_str().into());
        facts.insert("cut from".to_owned(), Fact::List(boards.collect()));
        put(
            facts,
            "to be bought",
            u32::try_from(layout.to_buy()).unwrap_or(u32::MAX),
        );
        let steps = layout.joints.iter().map(|j| match j.jump {
            Some((square, along)) => square.abs().max(along.abs()).into(),
            None => Fact::Text("does not run on".to_owned()),
        });
        facts.insert(
            "steps at the joints".to_owned(),
            Fact::List(steps.collect()),
        );
        for blank in &layout.blanks {
            let (Some(face), Some(board)) =
                (reckoned.face(blank.front), layout.boards.get(blank.board))
            else {
                continue;
            };
            let facts = match reckoned.fronts.get(blank.front) {
                Some(front) => &mut record.entry("front", &front.id).comes,
                // An end panel, a filler, a piece of panelling: its pattern's, for it has no number.
                None => {
                    let piece = record.entry("piece", &face.id);
                    piece.of = Some(key("pattern", &layout.name));
                    put(&mut piece.comes, "width", face.width());
                    put(&mut piece.comes, "height", face.height());
                    &mut piece.comes
                }
            };
            put(facts, "cut from board", board.name.as_str());
            put(facts, "across the board", blank.area.left);
            put(facts, "up the board", blank.area.bottom);
        }
    }
}

fn goods(job: &Job, reckoned: &Reckoned, record: &mut Record) {
    for count in &reckoned.hardware {
        if let Some(hardware) = job.hardware.get(count.which.0) {
            put(
                &mut record.entry("hardware", &hardware.key).comes,
                "in all",
                count.count,
            );
        }
    }
    for material in &job.materials {
        if let Some(picture) = &material.picture {
            let hash = sha256(&picture.bytes);
            put(
                &mut record.entry("material", &material.key).comes,
                "picture's hash",
                &*hash,
            );
        }
    }
    for board in &job.boards {
        if let Some(picture) = &board.picture {
            let hash = sha256(&picture.bytes);
            put(
                &mut record.entry("board", &board.id).comes,
                "picture's hash",
                &*hash,
            );
        }
    }
}

fn record_finding(job: &Job, finding: &Finding, record: &mut Record) {
    let (kind, id) = subject(job, &finding.subject);
    let mut own = format!("{} {id}", finding.code);
    let mut n = 1;
    while record.get("finding", &own).is_some() {
        n += 1;
        own = format!("{} {id} {n}", finding.code);
    }
    let mut comes = Facts::new();
    let severity = match finding.severity {
        Severity::Blocks => "blocks the job",
        Severity::Warns => "warns",
        Severity::Informs => "is a note",
    };
    put(&mut comes, "severity", severity);
    put(&mut comes, "text", finding.text.as_str());
    put(&mut comes, "limit", finding.limit.as_str());
    put(&mut comes, "advice", finding.advice.as_str());
    record.add(Thing {
        kind: "finding".to_owned(),
        id: own,
        of: Some(key(kind, &id)),
        said: Facts::new(),
        comes,
    });
}

/// Kind and id of what a step, a finding or a disclosure is about.
pub fn subject(job: &Job, subject: &Subject) -> (&'static str, String) {
    let or_job = |found: Option<(&'static str, String)>| found.unwrap_or((JOB, JOB.to_owned()));
    or_job(match subject {
        Subject::Job => None,
        Subject::Room(r) => job.rooms.get(*r).map(|r| ("room", r.id.clone())),
        Subject::Wall(at) => job.rooms.get(at.room).and_then(|room| {
            let wall = room.walls.get(at.wall)?;
            Some(("wall", format!("{}.{}", room.id, wall.id)))
        }),
        Subject::Run(r) => job.runs.get(*r).map(|r| ("run", r.id.clone())),
        Subject::Unit(r, u) => {
            let unit = job.runs.get(*r).and_then(|r| r.units.get(*u));
            unit.map(|u| ("unit", u.id.clone()))
        }
        Subject::Front(id) => Some(("front", id.clone())),
        Subject::Panel(p) => job.panels.get(*p).map(|p| ("panel", p.id.clone())),
        Subject::Sliding(s) => job.sliding.get(*s).map(|s| ("sliding", s.id.clone())),
        Subject::Worktop(w) => job.worktops.get(*w).map(|w| ("worktop", w.id.clone())),
    })
}
