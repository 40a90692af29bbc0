//! What is cut from what: blanks in the order they are cut, joints with their steps, what another aim
//! would come to; for the fitter. The layouts are reckoned: nothing is worked out here.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::compare::record::{Fact, key};
use crate::compare::takes;
use crate::reckon::pattern::layout::{Change, Choice, Joint, MOST_LIMIT, PatternLayout, Way};
use crate::reckon::pattern::said::colour;
use crate::resolve::job::Wanted;
use crate::units::Length;

/// What holds for each pattern, and what was chosen.
pub fn summary(ctx: &Context) -> Vec<Block> {
    let mut blocks = Vec::new();
    for layout in laid_out(ctx) {
        blocks.push(Block::paragraph(described(ctx, layout)));
        blocks.push(choices(layout));
        let limited = |c: &Choice| matches!(c.wanted, Wanted::Within(_));
        if !layout.choices.iter().any(limited) {
            blocks.push(Block::paragraph(format!(
                "No limit on the step up to {MOST_LIMIT} mm needs fewer boards than an exact run."
            )));
        }
    }
    blocks
}

fn laid_out<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a PatternLayout> + use<'a> {
    let all = ctx.reckoned.patterns.iter();
    all.filter(|l| !l.blanks.is_empty())
}

fn described(ctx: &Context, layout: &PatternLayout) -> String {
    let cutter = ctx.job.cutter;
    let repeat = match (layout.repeat.across, layout.repeat.up) {
        (None, None) => "The pattern does not repeat".to_owned(),
        (Some(a), None) => format!("The pattern repeats every {a} across the board"),
        (None, Some(u)) => format!("The pattern repeats every {u} up the board"),
        (Some(a), Some(u)) => {
            format!("The pattern repeats every {a} across the board and {u} up it")
        }
    };
    let bought = match layout.to_buy() {
        0 => String::new(),
        n => format!(
            " {n} of the boards {} still to be bought: before cutting, measure where the first crest \
             lies and put it into the project file.",
            if n == 1 { "is" } else { "are" }
        ),
    };
    let order = match &layout.colour {
        None => String::new(),
        Some(order) => format!(
            " The boards are in the order that shows their colours least: the worst neighbours differ by \
             {} (CIEDE2000), in the order in which the project lists them by {}{}.{}",
            colour(order.worst),
            colour(order.worst_in_file_order),
            match order.exact {
                true => "",
                false => "; with so many boards not every order was tried",
            },
            match order.of_pictures {
                true => {
                    " None was measured: these are the colours of their pictures, and right only if all \
                     were taken in one light."
                }
                false => "",
            }
        ),
    };
    let tried = match layout.best {
        true => "",
        false => {
            " There are too many places at which fronts could be cut for all to be tried: another layout \
             may serve the aim a little better."
        }
    };
    format!(
        "\u{201c}{}\u{201d}, {}: {} fronts from {} boards, {}. {repeat}. The saw takes {} and each edge \
         of a blank {} of trim, so that {} at least is lost between two fronts; {} is taken off all \
         round each board.{bought}{order}{tried}",
        layout.name,
        ctx.material(layout.material),
        layout.blanks.len(),
        layout.boards.len(),
        aim(layout),
        cutter.kerf,
        cutter.trim,
        layout.loss,
        cutter.edge,
    )
}

fn aim(layout: &PatternLayout) -> String {
    match layout.wanted {
        Wanted::Exact if layout.repeat.is_natural() => {
            "cut so that the pattern runs on as nearly as the saw allows".to_owned()
        }
        Wanted::Exact => "cut so that the pattern runs on exactly wherever it can".to_owned(),
        Wanted::LeastWaste => "cut for the least waste".to_owned(),
        Wanted::Within(limit) => {
            format!("cut so that no step is over {limit} where it can be helped")
        }
    }
}

fn choices(layout: &PatternLayout) -> Block {
    let mut table = Table::new(&[
        ("Aim", 70.0, Align::Left),
        ("Boards", 20.0, Align::Right),
        (
            "Joints where the board or strip changes",
            36.0,
            Align::Right,
        ),
        ("Worst step", 25.0, Align::Right),
        ("Strips lost, in all", 25.0, Align::Right),
    ]);
    let own = layout.choices.iter().find(|c| c.wanted == layout.wanted);
    for Choice { wanted, comes_to } in &layout.choices {
        // Another aim that comes to the same is no choice.
        if *wanted != layout.wanted && own.is_some_and(|own| own.comes_to == *comes_to) {
            continue;
        }
        let chosen = if *wanted == layout.wanted {
            " (as drawn)"
        } else {
            ""
        };
        let name = match wanted {
            Wanted::Exact if layout.repeat.is_natural() => {
                format!("as exact a run as the saw allows{chosen}")
            }
            Wanted::Exact => format!("an exact run{chosen}"),
            Wanted::LeastWaste => format!("the least waste{chosen}"),
            Wanted::Within(limit) => format!("steps up to {limit}{chosen}"),
        };
        match comes_to {
            Some(o) => table.row([
                name,
                o.boards.to_string(),
                o.changes.to_string(),
                tenths(o.worst_step),
                tenths(o.wasted),
            ]),
            None => table.row([name, "cannot be done".to_owned()]),
        }
    }
    Block::Table(table)
}

fn tenths(l: Length) -> String {
    l.round_to(Length::um(100)).abs().to_string()
}

/// Every blank in the order it is cut.
pub fn blanks(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Cut", 14.0, Align::Right),
        ("Front", 16.0, Align::Right),
        ("Width", 22.0, Align::Right),
        ("Height", 22.0, Align::Right),
        ("Left edge at", 28.0, Align::Right),
        ("Bottom edge at", 30.0, Align::Right),
        ("Blank, with its trim", 38.0, Align::Left),
    ]);
    for layout in laid_out(ctx) {
        let trim = ctx.job.cutter.trim * 2;
        let mut before = None;
        for (n, blank) in (1..).zip(&layout.blanks) {
            if before != Some(blank.board) {
                before = Some(blank.board);
                if let Some(board) = layout.boards.get(blank.board) {
                    let batch = match board.batch.is_empty() {
                        true => String::new(),
                        false => format!("batch {}", board.batch),
                    };
                    let title = format!("{}: board {}", layout.name, board.name);
                    table.group_with(title, batch);
                }
            }
            table.row([
                n.to_string(),
                number(ctx, blank.front),
                blank.area.width().to_string(),
                blank.area.height().to_string(),
                blank.area.left.to_string(),
                blank.area.bottom.to_string(),
                words::by(blank.area.width() + trim, blank.area.height() + trim),
            ]);
            let Some(face) = ctx.reckoned.face(blank.front) else {
                continue;
            };
            // What is no front is filed by itself, as the pattern has it.
            let is_front = blank.front < ctx.reckoned.fronts.len();
            let old = Before::of(ctx, if is_front { "front" } else { "piece" }, &face.id);
            let (wide, high) = (blank.area.width(), blank.area.height());
            let (wide, high) = (old.length("width", wide), old.length("height", high));
            let left = old.length("across the board", blank.area.left);
            let now = layout.boards.get(blank.board).map_or("", |b| &b.name);
            let board = old.text("cut from board", now);
            table.was([
                None,
                is_front.then(|| old.count("number", face.number).to_string()),
                Some(wide.to_string()),
                Some(high.to_string()),
                Some(match board == now {
                    true => left.to_string(),
                    false => format!("{board}: {left}"),
                }),
                Some(old.length("up the board", blank.area.bottom).to_string()),
                Some(words::by(wide + trim, high + trim)),
            ]);
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(format!(
                "Edges are those of the finished front, from the board's left and bottom edges as it \
                 stands behind the fronts{}. Mark number and way up on each blank before it leaves the saw.",
                match ctx.standing.register.was.is_empty() {
                    true => "",
                    false => {
                        "; one that was cut from another board has that board's name before the place \
                         struck through"
                    }
                }
            )),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

fn number(ctx: &Context, front: usize) -> String {
    let front = ctx.reckoned.face(front);
    front.map_or(words::NOTHING.to_owned(), |f| f.label())
}

/// Every joint with its step and, where board or strip changes, why.
pub fn joints(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Fronts", 20.0, Align::Left),
        ("Meet", 30.0, Align::Left),
        ("Gap", 14.0, Align::Right),
        ("Step across", 22.0, Align::Right),
        ("Step along", 22.0, Align::Right),
        ("Colour", 18.0, Align::Right),
        ("Another board or strip because", 49.0, Align::Left),
    ]);
    for layout in laid_out(ctx) {
        table.group(&layout.name);
        let old = Before::of(ctx, "pattern", &layout.name);
        let changed = old.has_differed(takes::JOINTS);
        let mut before: Vec<&[Fact]> = old.lists(takes::JOINTS).unwrap_or_default();
        for joint in &layout.joints {
            let (square, along) = match joint.jump {
                None => ("new".to_owned(), "new".to_owned()),
                Some((s, a)) => (tenths(s), tenths(a)),
            };
            table.row([
                two(ctx, joint, None),
                match joint.way {
                    Way::Beside => "side by side",
                    Way::Above => "one above the other",
                }
                .to_owned(),
                joint.gap.to_string(),
                square,
                along,
                joint.colour.map_or(words::NOTHING.to_owned(), colour),
                why(joint.change.as_ref()),
            ]);
            let named = |face: usize| {
                let is_front = face < ctx.reckoned.fronts.len();
                let face = ctx.reckoned.face(face)?;
                let kind = if is_front { "front" } else { "piece" };
                Some(Before::of(ctx, kind, &face.id).id(&face.id))
            };
            let (first, second) = (named(joint.first), named(joint.second));
            let same = |cells: &&[Fact]| match cells {
                [Fact::Text(a), Fact::Text(b), ..] => {
                    first.as_deref() == Some(a) && second.as_deref() == Some(b)
                }
                _ => false,
            };
            match before.iter().position(same) {
                Some(at) => {
                    let cells = joint_before(before.remove(at));
                    let mut was = vec![Some(two(ctx, joint, Some(()))), None];
                    was.extend(cells.into_iter().map(Some));
                    table.was(was);
                }
                None if changed => table.is_new(),
                None => {}
            }
        }
        for gone in before {
            let [Fact::Text(a), Fact::Text(b), ..] = gone else {
                continue;
            };
            let called = |id: &str| {
                let (key, none) = (key("front", id), Before::of(ctx, "front", id));
                let front = ctx.reckoned.fronts.iter().find(|f| f.id == id);
                let now = front.map(|f| none.count("number", f.number));
                let then = ctx.standing.register.gone.get(&key);
                let number = now.or_else(|| then?.count("number"));
                number.map_or_else(|| id.to_owned(), |n| n.to_string())
            };
            let mut cells = vec![format!("{} and {}", called(a), called(b)), String::new()];
            cells.extend(joint_before(gone));
            table.gone(cells);
        }
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(
                "Step across: how far the pattern jumps square to the joint; along: how far it shifts \
                 along it; new: it begins anew. Colour: difference between the two boards, CIEDE2000.",
            ),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// `7 and 8`; or as they were numbered.
fn two(ctx: &Context, joint: &Joint, before: Option<()>) -> String {
    let called = |at: usize| match (before, ctx.reckoned.fronts.get(at)) {
        (Some(()), Some(front)) => {
            let old = Before::of(ctx, "front", &front.id);
            old.count("number", front.number).to_string()
        }
        _ => number(ctx, at),
    };
    format!("{} and {}", called(joint.first), called(joint.second))
}

/// Gap, steps and colour of a joint, as the newest issue had them.
fn joint_before(cells: &[Fact]) -> Vec<String> {
    let [_, _, Fact::Um(gap), Fact::List(jump), shade, change] = cells else {
        return Vec::new();
    };
    let change = match change {
        Fact::Text(word) if word == "settled" => Some(Change::Settled),
        Fact::Text(_) => Some(Change::Better),
        Fact::List(two) => match two.as_slice() {
            [Fact::Um(left), Fact::Um(needs)] => Some(Change::Full {
                left: Length::um(*left),
                needs: Length::um(*needs),
            }),
            _ => None,
        },
        _ => None,
    };
    let step = |n: usize| match jump.get(n) {
        Some(Fact::Um(um)) => tenths(Length::um(*um)),
        _ => "new".to_owned(),
    };
    vec![
        Length::um(*gap).to_string(),
        step(0),
        step(1),
        match shade {
            Fact::Thousandths(n) => colour(*n),
            _ => words::NOTHING.to_owned(),
        },
        why(change.as_ref()),
    ]
}

fn why(change: Option<&Change>) -> String {
    match change {
        None => words::NOTHING.to_owned(),
        Some(Change::Full { left, needs }) => {
            format!(
                "{} left beside it, {} needed",
                tenths(*left),
                tenths(*needs)
            )
        }
        Some(Change::Settled) => "the designer settled it".to_owned(),
        Some(Change::Better) => "costs less here than later".to_owned(),
    }
}
