//! What the workshop orders and cuts: boards with their yield, edges, finishes, and every part with its
//! size. Prints what was reckoned.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use crate::reckon::quantities::parts::{Banded, Part, PartKind, SHELF_EASE};
use crate::reckon::quantities::{BAND_MORE, BoardQuantity, Quantities};
use crate::resolve::job::Grain;
use crate::units::Length;

/// Boards, bands and finishes, with what is counted and what is added.
pub fn quantities(ctx: &Context) -> Vec<Block> {
    let all = &ctx.reckoned.quantities;
    let mut blocks = Vec::new();
    let boards = boards(ctx, all);
    if boards.has_rows() {
        blocks.push(Block::paragraph(
            "Boards for everything but the fronts whose places their pattern settles: those have their \
             own maps and their boards stand in the last column. By area and by sizes are the fewest \
             there could be, the saw counted; laid out is what the drawings of the boards come to. The \
             yield is finished area of all that is cut up. Drawer boxes are not in it: their parts follow \
             from the runner.",
        ));
        blocks.push(Block::Table(boards));
    }
    let bands = bands(ctx, all);
    if bands.has_rows() {
        blocks.push(Block::paragraph(format!(
            "Edges, with {BAND_MORE} % more for cutting (common practice, no source). Fronts, panels and \
             sliding doors count all round, slats their long edges, boards of carcasses and end panels \
             the edge that is seen."
        )));
        blocks.push(Block::Table(bands));
    }
    let finishes = finishes(ctx, all);
    if finishes.has_rows() {
        blocks.push(Block::paragraph(
            "Finish for both faces and the edges, all coats, without what stays in brush and pot. End \
             panels, fillers, scribes and plinths count with the fronts of the same board.",
        ));
        blocks.push(Block::Table(finishes));
    }
    blocks
}

fn boards(ctx: &Context, all: &Quantities) -> Table {
    let mut table = Table::new(&[
        ("", 8.0, Align::Left),
        ("Board", 50.0, Align::Left),
        ("Parts, m\u{b2}", 18.0, Align::Right),
        ("By area", 16.0, Align::Right),
        ("By sizes", 16.0, Align::Right),
        ("Laid out", 16.0, Align::Right),
        ("Yield", 18.0, Align::Right),
        ("For patterns", 33.0, Align::Left),
    ]);
    for (n, board) in all.boards.iter().enumerate() {
        let layout = board.layout.as_ref();
        let number = |n: Option<usize>| n.map_or(words::NOTHING.to_owned(), |n| n.to_string());
        let new = layout.map(|l| l.new_boards());
        table.row([
            all.letter(n),
            described(ctx, board),
            board.parts.to_string(),
            number(layout.map(|l| l.by_area)),
            number(layout.map(|l| l.by_size)),
            new.map_or(words::NOTHING.to_owned(), |n| n.to_string()),
            yields(board),
            for_patterns(ctx, board),
        ]);
        table.was([None, described_before(ctx, board)]);
    }
    table
}

fn described(ctx: &Context, board: &BoardQuantity) -> String {
    let Some(material) = ctx.job.materials.get(board.material.0) else {
        return words::NOTHING.to_owned();
    };
    in_words(&material.name, material.thickness, material.sheet)
}

fn in_words(name: &str, thickness: Length, sheet: Option<(Length, Length)>) -> String {
    let size = match sheet {
        Some((a, b)) => format!("{a}\u{a0}\u{d7}\u{a0}{b}"),
        None => "size of the board not given".to_owned(),
    };
    format!("{name}, {thickness} thick, {size}")
}

fn described_before(ctx: &Context, board: &BoardQuantity) -> Option<String> {
    let material = ctx.job.materials.get(board.material.0)?;
    let old = Before::of(ctx, "material", &material.key);
    Some(in_words(
        &old.text("name", &material.name),
        old.length("thickness", material.thickness),
        match old.lengths("sheet").as_deref() {
            Some([a, b]) => Some((*a, *b)),
            _ => material.sheet,
        },
    ))
}

fn yields(board: &BoardQuantity) -> String {
    let share = board.parts.per_mille(board.cut_up);
    share.map_or(words::NOTHING.to_owned(), |n| {
        format!("{}.{} %", n / 10, n % 10)
    })
}

/// `4 in hand, 1 to buy`.
fn for_patterns(ctx: &Context, board: &BoardQuantity) -> String {
    let layouts = ctx.reckoned.patterns.iter();
    let of_it: Vec<_> = layouts.filter(|l| l.material == board.material).collect();
    let to_buy: usize = of_it.iter().map(|l| l.to_buy()).sum();
    let in_hand = of_it.iter().map(|l| l.boards.len()).sum::<usize>() - to_buy;
    let mut said = Vec::new();
    if in_hand > 0 {
        said.push(format!("{in_hand} in hand"));
    }
    if to_buy > 0 {
        said.push(format!("{to_buy} to buy"));
    }
    words::or_nothing(&said.join(", ")).to_owned()
}

/// Metres to a tenth, upwards.
fn metres(length: Length) -> String {
    let tenths = (length.in_um() + 99_999) / 100_000;
    format!("{}.{} m", tenths / 10, tenths % 10)
}

fn bands(ctx: &Context, all: &Quantities) -> Table {
    let mut table = Table::new(&[
        ("Board", 60.0, Align::Left),
        ("Edges", 55.0, Align::Left),
        ("Counted", 30.0, Align::Right),
        ("To have", 30.0, Align::Right),
    ]);
    for band in &all.bands {
        let edge = ctx.job.materials.get(band.material.0).map(|m| &m.edge);
        table.row([
            ctx.material(band.material),
            edge.map_or(words::NOTHING, |e| words::or_nothing(e)),
            &metres(band.counted),
            &metres(band.wanted),
        ]);
    }
    table
}

fn finishes(ctx: &Context, all: &Quantities) -> Table {
    let mut table = Table::new(&[
        ("Finish", 75.0, Align::Left),
        ("Area, m\u{b2}", 22.0, Align::Right),
        ("Coats", 18.0, Align::Right),
        ("m\u{b2} a litre and coat", 30.0, Align::Right),
        ("Litres", 22.0, Align::Right),
    ]);
    for one in &all.finishes {
        let Some(finish) = ctx.job.finishes.get(one.finish.0) else {
            continue;
        };
        table.row([
            finish.name.clone(),
            one.area.to_string(),
            finish.coats.to_string(),
            finish.coverage.to_string(),
            one.volume.to_string(),
        ]);
        let old = Before::of(ctx, "finish", &finish.key);
        table.was([
            Some(old.text("name", &finish.name)),
            None,
            Some(old.count("coats", finish.coats).to_string()),
            Some(old.count("coverage", finish.coverage).to_string()),
        ]);
    }
    table
}

/// Every part, board by board.
pub fn parts(ctx: &Context) -> Vec<Block> {
    let all = &ctx.reckoned.quantities;
    let mut table = Table::new(&[
        ("Mark", 14.0, Align::Left),
        ("Part", 27.0, Align::Left),
        ("Length", 17.0, Align::Right),
        ("Width", 17.0, Align::Right),
        ("Number", 17.0, Align::Right),
        ("Edges", 24.0, Align::Left),
        ("For", 59.0, Align::Left),
    ]);
    let mut over = None;
    for (n, part) in all.parts.iter().enumerate() {
        if over != Some(part.material) {
            over = Some(part.material);
            let material = ctx.job.materials.get(part.material.0);
            let grain = match material.map(|m| m.grain) {
                Some(Grain::Length | Grain::Width) => "length along the grain",
                _ => "",
            };
            table.group_with(ctx.material(part.material), grain);
        }
        let by_pattern = match part.by_pattern {
            true => ", by the pattern map",
            false => "",
        };
        table.row([
            all.mark(n),
            part.kind.name().to_owned(),
            part.length.to_string(),
            part.width.to_string(),
            part.count().to_string(),
            edges(part.banded).to_owned(),
            format!("{}{by_pattern}", wanted_for(part)),
        ]);
    }
    match table.has_rows() {
        true => vec![
            Block::paragraph(format!(
                "Finished sizes; each blank is sawn {} larger both ways. Movable shelves are {SHELF_EASE} \
                 narrower than their bay (common practice, no source); scribes and plinths are blanks, to \
                 be cut to the wall and the floor on site; notches and cut-outs are cut afterwards. Long \
                 plinths are joined of equal lengths.",
                ctx.job.cutter.trim * 2
            )),
            Block::Table(table),
        ],
        false => Vec::new(),
    }
}

/// `W1 (2), W2 (2)`; fronts by their numbers.
fn wanted_for(part: &Part) -> String {
    let front = matches!(
        part.kind,
        PartKind::Door | PartKind::DrawerFront | PartKind::Flap | PartKind::FixedFront
    );
    let each: Vec<String> = part
        .of
        .iter()
        .map(|(id, n)| match n {
            1 => id.clone(),
            n => format!("{id} ({n})"),
        })
        .collect();
    let prefix = match (front, each.len()) {
        (false, _) => "",
        (true, 1) => "front ",
        (true, _) => "fronts ",
    };
    format!("{prefix}{}", each.join(", "))
}

fn edges(banded: Banded) -> &'static str {
    match (banded.long, banded.short) {
        (0, 0) => words::NOTHING,
        (1, 0) => "one long",
        (2, 0) => "both long",
        (0, 1) => "one short",
        (0, _) => "both short",
        _ => "all round",
    }
}
