//! The schedule of fronts: plain for the client, complete for the fitter. Numbers and sizes are those
//! reckoned; nothing is added up here.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::hardware::TICK;
use crate::reckon::placed::{PlacedFront, PlacedHandle};

pub fn for_client(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 12.0, Align::Right),
        ("On", 70.0, Align::Left),
        ("Front", 35.0, Align::Left),
        ("Width \u{d7} height", 30.0, Align::Left),
        ("Opens", 28.0, Align::Left),
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
            ]
        },
        |f| {
            let was = |fact| ctx.was("front", &f.id, fact);
            let size = match (was("width"), was("height")) {
                (None, None) => None,
                (width, height) => Some(format!(
                    "{} \u{d7} {}",
                    width.unwrap_or_else(|| f.width().to_string()),
                    height.unwrap_or_else(|| f.height().to_string())
                )),
            };
            let hinged = was("hinge side").map(|side| format!("hinged {side}"));
            vec![was("number"), None, None, size, hinged]
        },
    );
    wrap(
        table,
        "The number is the one in the circle on the drawings: column by column from the left, each from \
         the bottom up. Hinged left or right is as seen from the front.",
    )
}

pub fn for_fitter(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 10.0, Align::Right),
        ("Unit", 14.0, Align::Left),
        ("Front", 27.0, Align::Left),
        ("Width", 14.0, Align::Right),
        ("Height", 15.0, Align::Right),
        ("Thick", 13.0, Align::Right),
        ("Bottom", 15.0, Align::Right),
        ("Hinged", 15.0, Align::Left),
        ("Hinges", 15.0, Align::Right),
        ("Handle", 31.0, Align::Left),
        ("kg", 11.0, Align::Right),
        ("Hung", 12.0, Align::Middle),
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
                    .map_or(words::NOTHING.to_owned(), |h| handle_at(f, &h)),
                f.mass.to_string(),
                TICK.to_owned(),
            ]
        },
        |f| {
            let was = |fact| ctx.was("front", &f.id, fact);
            vec![
                was("number"),
                None,
                None,
                was("width"),
                was("height"),
                was("thickness"),
                was("bottom"),
                was("hinge side"),
                was("hinges"),
                None,
                was("mass"),
                None,
            ]
        },
    );
    wrap(
        table,
        "Numbers run column by column from the left, each from the bottom up; a front bears its number on \
         its bottom edge. Hinge sides are as seen from the front; the bottom edge is given from finished \
         floor. A handle's place is that of its middle: from the nearer side, and up from the front's own \
         bottom edge. Fronts of one pattern belong \
         side by side in the order of their numbers.",
    )
}

/// A row for each front in order, under a line for each run that says what its fronts are made of;
/// a new line where that changes.
fn each(
    ctx: &Context,
    table: &mut Table,
    cells: impl Fn(&PlacedFront) -> Vec<String>,
    was: impl Fn(&PlacedFront) -> Vec<Option<String>>,
) {
    let mut above = None;
    for front in &ctx.reckoned.fronts {
        let made = made_of(ctx, front);
        let here = Some((front.run, made.clone()));
        if above != here {
            let run = ctx.job.runs.get(front.run);
            table.group_with(run.map(|r| ctx.run_title(r)).unwrap_or_default(), made);
            above = here;
        }
        table.row(cells(front));
        table.was(was(front));
    }
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

/// `door, hides the built-in fridge`.
fn what(ctx: &Context, front: &PlacedFront) -> String {
    let kind = words::front_kind(front.kind);
    match front.hides.and_then(|at| ctx.appliance(at)) {
        Some(hidden) => format!("{kind}, hides: {}", hidden.name),
        None => kind.to_owned(),
    }
}

/// `right 40, up 1027`: of its middle, from the nearer side and from the bottom edge.
fn handle_at(front: &PlacedFront, handle: &PlacedHandle) -> String {
    let (left, right) = (handle.x - front.left, front.right - handle.x);
    let along = match left.cmp(&right) {
        std::cmp::Ordering::Less => format!("left {}", words::to_half(left)),
        std::cmp::Ordering::Equal => "middle".to_owned(),
        std::cmp::Ordering::Greater => format!("right {}", words::to_half(right)),
    };
    format!("{along}, up {}", words::to_half(handle.z - front.bottom))
}

fn wrap(table: Table, lead: &str) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::paragraph(lead), Block::Table(table)],
        false => Vec::new(),
    }
}
