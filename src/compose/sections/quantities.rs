//! What the workshop orders and cuts: boards with their yield, edges, finishes, and every part with its
//! size. Prints what was reckoned.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{Align, Block, Table};
use super::super::words;
use super::parts_before::{PartsBefore, Was};
use crate::compare::record::Fact;
use crate::compare::takes;
use crate::reckon::drawers::BESIDE;
use crate::reckon::ends::SCRIBE_ALLOWANCE;
use crate::reckon::quantities::parts::{Banded, PartKind, SHELF_EASE};
use crate::reckon::quantities::{BAND_MORE, BoardQuantity, Quantities, Surface, Volume, metres};
use crate::resolve::job::{EdgeIs, Grain, HardwareKind, MaterialRef};
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
             yield is finished area of all that is cut up.",
        ));
        blocks.push(Block::Table(boards));
    }
    let bands = bands(ctx, all);
    if bands.has_rows() {
        blocks.push(Block::paragraph(format!(
            "Edge bands, with {BAND_MORE} % more for cutting (common practice, no source). Fronts, panels and \
             sliding doors count all round, slats their long edges, boards of carcasses and end panels \
             the edge that is seen."
        )));
        blocks.push(Block::Table(bands));
    }
    let treated = treated(ctx, all);
    if !treated.is_empty() {
        blocks.push(Block::paragraph(format!(
            "Edges that take no band, counted in the same way: {}.",
            treated.join("; ")
        )));
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
        let Some(material) = ctx.job.materials.get(board.material.0) else {
            continue;
        };
        let old = Before::of(ctx, takes::BOARD, &material.key);
        if old.is_new() {
            table.is_new();
        }
        let number = |fact: &str, n: Option<u32>| n.map(|now| old.count(fact, now).to_string());
        let (in_hand, to_buy) = of_patterns(ctx, board);
        table.was([
            None,
            described_before(ctx, board),
            Some(old.surface("area of parts", board.parts).to_string()),
            number("by area", layout.map(|l| small(l.by_area))),
            number("by sizes", layout.map(|l| small(l.by_size))),
            number("laid out", new),
            Some(percent(
                old.share("yield", board.parts.per_mille(board.cut_up)),
            )),
            Some(in_hand_or_bought(
                old.count("in hand, for patterns", in_hand),
                old.count("to buy, for patterns", to_buy),
            )),
        ]);
    }
    for gone in Before::gone(ctx, takes::BOARD) {
        let number = |fact: &str| gone.count(fact).map_or(String::new(), |n| n.to_string());
        let area = match gone.comes.get("area of parts") {
            Some(Fact::SquareMm(mm2)) => Surface::mm2(*mm2).to_string(),
            _ => String::new(),
        };
        table.gone([
            String::new(),
            ctx.material_called(&gone.id),
            area,
            number("by area"),
            number("by sizes"),
            number("laid out"),
        ]);
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
    percent(board.parts.per_mille(board.cut_up))
}

fn percent(tenths: Option<i64>) -> String {
    tenths.map_or(words::NOTHING.to_owned(), |n| {
        format!("{}.{} %", n / 10, n % 10)
    })
}

fn for_patterns(ctx: &Context, board: &BoardQuantity) -> String {
    let (in_hand, to_buy) = of_patterns(ctx, board);
    in_hand_or_bought(in_hand, to_buy)
}

/// Boards in hand, and to buy.
fn of_patterns(ctx: &Context, board: &BoardQuantity) -> (u32, u32) {
    let layouts = ctx.reckoned.patterns.iter();
    let of_it: Vec<_> = layouts.filter(|l| l.material == board.material).collect();
    let to_buy: usize = of_it.iter().map(|l| l.to_buy()).sum();
    let all: usize = of_it.iter().map(|l| l.boards.len()).sum();
    (small(all.saturating_sub(to_buy)), small(to_buy))
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// `4 in hand, 1 to buy`.
fn in_hand_or_bought(in_hand: u32, to_buy: u32) -> String {
    let mut said = Vec::new();
    if in_hand > 0 {
        said.push(format!("{in_hand} in hand"));
    }
    if to_buy > 0 {
        said.push(format!("{to_buy} to buy"));
    }
    words::or_nothing(&said.join(", ")).to_owned()
}

fn is_band(ctx: &Context, of: MaterialRef) -> bool {
    let material = ctx.job.materials.get(of.0);
    material.is_some_and(|m| m.edge_is == EdgeIs::Band)
}

/// `Birch plywood (oiled) 145.9 m`: edges for which nothing is bought by the metre.
fn treated(ctx: &Context, all: &Quantities) -> Vec<String> {
    let these = all.bands.iter().filter(|b| !is_band(ctx, b.material));
    let told = these.filter_map(|b| {
        let edge = &ctx.job.materials.get(b.material.0)?.edge;
        let name = ctx.material(b.material);
        Some(format!("{name} ({edge}) {}", metres(b.counted)))
    });
    told.collect()
}

fn bands(ctx: &Context, all: &Quantities) -> Table {
    let mut table = Table::new(&[
        ("Board", 60.0, Align::Left),
        ("Edges", 55.0, Align::Left),
        ("Counted", 30.0, Align::Right),
        ("To have", 30.0, Align::Right),
    ]);
    for band in all.bands.iter().filter(|b| is_band(ctx, b.material)) {
        let edge = ctx.job.materials.get(band.material.0).map(|m| &m.edge);
        table.row([
            ctx.material(band.material),
            edge.map_or(words::NOTHING, |e| words::or_nothing(e)),
            &metres(band.counted),
            &metres(band.wanted),
        ]);
        let Some(material) = ctx.job.materials.get(band.material.0) else {
            continue;
        };
        let old = Before::of(ctx, takes::EDGE, &material.key);
        if old.is_new() {
            table.is_new();
        }
        let board = Before::of(ctx, "material", &material.key);
        table.was_row([
            board.text("name", &material.name),
            words::or_nothing(&board.text("edge", &material.edge)).to_owned(),
            metres(old.length("counted", band.counted)),
            metres(old.length("to have", band.wanted)),
        ]);
    }
    for gone in Before::gone(ctx, takes::EDGE) {
        let long = |fact: &str| {
            gone.um(fact)
                .map_or(String::new(), |n| metres(Length::um(n)))
        };
        table.gone([
            ctx.material_called(&gone.id),
            String::new(),
            long("counted"),
            long("to have"),
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
        let amount = Before::of(ctx, takes::FINISH, &finish.key);
        if amount.is_new() {
            table.is_new();
        }
        table.was_row([
            old.text("name", &finish.name),
            amount.surface("area", one.area).to_string(),
            old.count("coats", finish.coats).to_string(),
            old.count("coverage", finish.coverage).to_string(),
            amount.volume("volume", one.volume).to_string(),
        ]);
    }
    for gone in Before::gone(ctx, takes::FINISH) {
        let amount = |fact: &str| match gone.comes.get(fact) {
            Some(Fact::SquareMm(n)) => Surface::mm2(*n).to_string(),
            Some(Fact::Millilitres(n)) => Volume::ml(*n).to_string(),
            _ => String::new(),
        };
        table.gone([
            ctx.finish_called(&gone.id),
            amount("area"),
            String::new(),
            String::new(),
            amount("volume"),
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
    let mut before = PartsBefore::of(ctx);
    let mut over = None;
    for (n, part) in all.parts.iter().enumerate() {
        let material = ctx.job.materials.get(part.material.0);
        if over != Some(part.material) {
            if let Some(last) = over.and_then(|of: MaterialRef| ctx.job.materials.get(of.0)) {
                before.gone_of(&last.key, &mut table);
            }
            over = Some(part.material);
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
            format!("{}{by_pattern}", wanted_for(part.kind.name(), &part.of)),
        ]);
        let key = material.map_or("", |m| m.key.as_str());
        match before.row(part, key) {
            Was::Same => {}
            Was::New => table.is_new(),
            Was::So {
                lengths,
                widths,
                count,
                of,
            } => table.was([
                None,
                None,
                lengths,
                widths,
                Some(count.to_string()),
                None,
                Some(format!("{}{by_pattern}", wanted_for(part.kind.name(), &of))),
            ]),
        }
    }
    before.all_gone(ctx, &mut table);
    if !table.has_rows() {
        return Vec::new();
    }
    let mut blocks = vec![Block::paragraph(format!(
        "Sizes are finished sizes: each part is sawn {} larger both ways. Scribes are {SCRIBE_ALLOWANCE} wider and \
                 plinths {SCRIBE_ALLOWANCE} higher than surveyed, to be cut to the wall and the floor on site. Long plinths \
                 are joined of equal lengths. Movable shelves are {SHELF_EASE} narrower than their bay. Notches and \
                 cut-outs are cut afterwards. (Common practice, no source.)",
        ctx.job.cutter.trim * 2
    ))];
    blocks.extend(Block::paragraphs(&boxes(ctx)));
    blocks.push(Block::Table(table));
    blocks
}

/// How boxes of drawers are reckoned, where there are any.
fn boxes(ctx: &Context) -> String {
    let mut units = ctx.reckoned.runs.iter().flat_map(|r| &r.units);
    if !units.any(|u| !u.boxes.is_empty()) {
        return String::new();
    }
    let runners = ctx
        .job
        .hardware
        .iter()
        .filter(|h| h.kind == HardwareKind::Runner);
    let mut aside: Vec<Length> = runners.map(|h| h.beside.unwrap_or(BESIDE)).collect();
    aside.sort();
    aside.dedup();
    let aside: Vec<String> = aside.iter().map(Length::to_string).collect();
    let aside = match aside.is_empty() {
        true => BESIDE.to_string(),
        false => words::and_list(&aside),
    };
    format!(
        "Drawers: a box leaves {aside} at each side for its runner and is {} lower than the room it has; it is as \
         long as its runner, the longest by fifties that goes in. Its ends stand between its sides, its bottom \
         lies in grooves {} deep. (Common practice, no source.) Hold these against the runner's own sheet before sawing.",
        ctx.job.drawer.clear, ctx.job.drawer.groove
    )
}

/// `W1 (2), W2 (2)`; fronts by their numbers.
pub fn wanted_for(kind: &str, of: &[(String, u32)]) -> String {
    let front = PartKind::FRONTS.iter().any(|f| f.name() == kind);
    let each: Vec<String> = of
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
