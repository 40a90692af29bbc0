//! The schedule of fronts: plain for the client, complete for the fitter. Numbers and sizes are those
//! reckoned; nothing is added up here.

use super::super::before::Before;
use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::hardware::TICK;
use crate::compare::Thing;
use crate::reckon::placed::{PlacedFront, PlacedHandle};
use crate::units::Length;

pub fn for_client(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 12.0, Align::Right),
        ("On", 60.0, Align::Left),
        ("Front", 31.0, Align::Left),
        ("Width \u{d7} height", 28.0, Align::Left),
        ("Opens", 24.0, Align::Left),
        ("Handle's height", 20.0, Align::Right),
    ]);
    each(
        ctx,
        &mut table,
        |f| {
            let unit = ctx.unit_of(f);
            vec![
                f.number.to_string(),
                unit.map(|u| words::unit_name(&u.id, &u.name))
                    .unwrap_or_default(),
                what(ctx, f),
                words::by(f.width(), f.height()),
                words::opens(f),
                handle_up(f),
            ]
        },
        |f| {
            let old = Before::of(ctx, "front", &f.id);
            vec![
                Some(old.count("number", f.number).to_string()),
                unit_was(ctx, f, true),
                what_was(ctx, f, &old),
                Some(words::by(
                    old.length("width", f.width()),
                    old.length("height", f.height()),
                )),
                hinge_was(f, &old).map(|side| format!("hinged {side}")),
                handle_was(ctx, f),
            ]
        },
        |thing| gone_cells(thing, |w, h| vec![words::by(w, h)]),
    );
    wrap(
        table,
        "The number is the one in the circle on the drawings: column by column from the left, each from \
         the bottom up. Hinged left or right is as seen from the front. A handle's height is that of its \
         middle above the finished floor.",
    )
}

pub fn for_fitter(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 9.0, Align::Right),
        ("Unit", 12.0, Align::Left),
        ("Front", 18.0, Align::Left),
        ("Width", 13.0, Align::Right),
        ("Height", 14.0, Align::Right),
        ("Thick", 12.0, Align::Right),
        ("Bottom", 17.0, Align::Right),
        ("Hinged", 14.5, Align::Left),
        ("Hinges", 14.5, Align::Right),
        ("Handle", 30.0, Align::Left),
        ("At", 12.0, Align::Right),
        ("kg", 11.0, Align::Right),
        ("Hung", 13.0, Align::Middle),
    ]);
    each(
        ctx,
        &mut table,
        |f| {
            let unit = ctx.unit_of(f);
            vec![
                f.number.to_string(),
                unit.map(|u| u.id.clone()).unwrap_or_default(),
                what(ctx, f),
                f.width().to_string(),
                f.height().to_string(),
                (f.y_face - f.y_back).to_string(),
                f.bottom.to_string(),
                words::hinged(f).to_owned(),
                match f.hinges {
                    0 => words::NOTHING.to_owned(),
                    n => n.to_string(),
                },
                f.handle
                    .map_or(words::NOTHING.to_owned(), |h| handle_of(f, &h)),
                handle_up(f),
                f.mass.to_string(),
                TICK.to_owned(),
            ]
        },
        |f| {
            let old = Before::of(ctx, "front", &f.id);
            let thick = f.y_face - f.y_back;
            vec![
                Some(old.count("number", f.number).to_string()),
                unit_was(ctx, f, false),
                what_was(ctx, f, &old),
                Some(old.length("width", f.width()).to_string()),
                Some(old.length("height", f.height()).to_string()),
                Some(old.length("thickness", thick).to_string()),
                Some(old.length("bottom", f.bottom).to_string()),
                hinge_was(f, &old),
                Some(match old.count("hinges", f.hinges) {
                    0 => words::NOTHING.to_owned(),
                    n => n.to_string(),
                }),
                f.handle.map(|h| {
                    let along = old.length("handle at", h.x - f.left);
                    let up = old.length("handle up", h.z - f.bottom);
                    handle_at(along, old.length("width", f.width()) - along, up)
                }),
                handle_was(ctx, f),
                Some(old.mass("mass", f.mass).to_string()),
                None,
            ]
        },
        |thing| gone_cells(thing, |w, h| vec![w.to_string(), h.to_string()]),
    );
    wrap(
        table,
        "Numbers run column by column from the left, each from the bottom up; a front bears its number on \
         its bottom edge. Hinge sides are as seen from the front; the bottom edge is given from finished \
         floor. A handle's place is that of its middle: from the nearer side, and up from the front's own \
         bottom edge; under “At” from finished floor. Fronts of one pattern hang as \
         its map shows.",
    )
}

/// A row for each front in order, under a line for each run that says what its fronts are made of;
/// a new line where that changes.
fn each(
    ctx: &Context,
    table: &mut Table,
    cells: impl Fn(&PlacedFront) -> Vec<String>,
    was: impl Fn(&PlacedFront) -> Vec<Option<String>>,
    gone: impl Fn(&Thing) -> Vec<String>,
) {
    let mut above = None;
    for front in &ctx.reckoned.fronts {
        let made = (made_of(ctx, front), made_before(ctx, front));
        let here = Some((front.run, made.clone()));
        if above != here {
            let run = ctx.job.runs.get(front.run);
            table.group_with(run.map(|r| ctx.run_title(r)).unwrap_or_default(), made.0);
            table.group_was(made.1);
            above = here;
        }
        table.row(cells(front));
        table.was(was(front));
        if Before::of(ctx, "front", &front.id).is_new() {
            table.is_new();
        }
    }
    let mut out: Vec<&Thing> = Before::gone(ctx, "front").collect();
    out.sort_by_key(|thing| thing.count("number"));
    table.taken_out(out.into_iter().map(gone));
}

/// Number, unit and what it is, then its sizes as they are written.
fn gone_cells(thing: &Thing, sizes: fn(Length, Length) -> Vec<String>) -> Vec<String> {
    let number = thing.count("number").map(|n| n.to_string());
    let unit = thing.id.split_once("-r").map_or("", |(unit, _)| unit);
    let is = thing.text("is").unwrap_or_default();
    let mut cells = vec![number.unwrap_or_default(), unit.to_owned(), is.to_owned()];
    let size = thing.um("width").zip(thing.um("height"));
    cells.extend(size.map_or_else(Vec::new, |(w, h)| sizes(Length::um(w), Length::um(h))));
    cells
}

/// `Smoked larch veneer; Hard oil, two coats; handle: bow; pattern: larch wall`.
fn made_of(ctx: &Context, front: &PlacedFront) -> String {
    let mut made = ctx.material_and_finish(front.style.material, front.style.finish);
    if let Some(handle) = front.handle {
        made.push_str("; ");
        made.push_str(ctx.hardware(Some(handle.which)));
    }
    if let (Pack::Fitter, Some(pattern)) = (ctx.pack, &front.style.pattern) {
        made.push_str("; pattern: ");
        made.push_str(pattern);
    }
    made
}

fn made_before(ctx: &Context, front: &PlacedFront) -> String {
    let old = Before::of(ctx, "front", &front.id);
    let mut made = old.material_and_finish(front.style.material, front.style.finish);
    if let Some(handle) = front.handle {
        made.push_str("; ");
        made.push_str(&old.hardware("handle", Some(handle.which)));
    }
    let pattern = old.text("pattern", front.style.pattern.as_deref().unwrap_or(""));
    if ctx.pack == Pack::Fitter && !pattern.is_empty() {
        made.push_str("; pattern: ");
        made.push_str(&pattern);
    }
    made
}

fn unit_was(ctx: &Context, front: &PlacedFront, named: bool) -> Option<String> {
    let unit = ctx.unit_of(front)?;
    let old = Before::of(ctx, "unit", &unit.id);
    let id = old.id(&unit.id);
    Some(match named {
        true => words::unit_name(&id, &old.text("name", &unit.name)),
        false => id,
    })
}

fn hinge_was(front: &PlacedFront, old: &Before) -> Option<String> {
    front
        .hinge
        .map(|side| old.text("hinge side", words::side(side)))
}

fn what_was(ctx: &Context, front: &PlacedFront, old: &Before) -> Option<String> {
    let is = match old.text("is", front.kind.word()).as_str() {
        "fixed" => "fixed panel".to_owned(),
        is => is.to_owned(),
    };
    let hides = front.hides.and_then(|at| ctx.appliance(at));
    let hides = old.text("hides", hides.map_or("", |a| &a.key));
    let known = ctx.job.appliances.iter().find(|a| a.key == hides);
    Some(match (hides.as_str(), known) {
        ("", _) => is,
        (_, Some(hidden)) => format!("{is} before the {}", hidden.name),
        (gone, None) => format!("{is} before the {gone}"),
    })
}

/// `door before the built-in fridge`.
fn what(ctx: &Context, front: &PlacedFront) -> String {
    let kind = words::front_kind(front.kind);
    match front.hides.and_then(|at| ctx.appliance(at)) {
        Some(hidden) => format!("{kind} before the {}", hidden.name),
        None => kind.to_owned(),
    }
}

/// `right 40, up 1027`: of its middle, from the nearer side and from the bottom edge.
fn handle_of(front: &PlacedFront, handle: &PlacedHandle) -> String {
    handle_at(
        handle.x - front.left,
        front.right - handle.x,
        handle.z - front.bottom,
    )
}

fn handle_at(left: Length, right: Length, up: Length) -> String {
    let along = match left.cmp(&right) {
        std::cmp::Ordering::Less => format!("left {}", words::to_half(left)),
        std::cmp::Ordering::Equal => "middle".to_owned(),
        std::cmp::Ordering::Greater => format!("right {}", words::to_half(right)),
    };
    format!("{along}, up {}", words::to_half(up))
}

/// Of a handle's middle, from finished floor.
fn handle_up(front: &PlacedFront) -> String {
    let up = front.handle.map(|h| words::to_half(h.z));
    up.unwrap_or_else(|| words::NOTHING.to_owned())
}

/// The same of the front as it was, where its own place or its handle's on it is another.
fn handle_was(ctx: &Context, front: &PlacedFront) -> Option<String> {
    let handle = front.handle?;
    let old = Before::of(ctx, "front", &front.id);
    let up = old.length("handle up", handle.z - front.bottom);
    let was = old.length("bottom", front.bottom) + up;
    (was != handle.z).then(|| words::to_half(was))
}

fn wrap(table: Table, lead: &str) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::paragraph(lead), Block::Table(table)],
        false => Vec::new(),
    }
}
