//! Boards and finishes: what each is, what it is used for, what its face looks like. Knows whether a
//! sample was agreed; judges no material.

use super::super::before::Before;
use super::super::context::{Context, Pack};
use super::super::data::{Align, BODY, Block, Board, Swatch, Table};
use super::super::{fit, pictures, used, words};
use super::gone;
use crate::resolve::job::{FinishRef, Grain, Material, Picture};
use crate::units::Length;

/// With pictures, for the client.
pub fn for_client(ctx: &Context) -> Vec<Block> {
    let boards = used::boards(ctx);
    if boards.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::paragraph(
        "A picture shows the pattern and not the true colour: print and screen change it. Veneer, solid \
         wood and through-coloured board vary from sheet to sheet; a sample in the hand, looked at in \
         the room, is what counts.",
    )];
    for one in boards {
        let Some(material) = ctx.job.materials.get(one.material.0) else {
            continue;
        };
        let old = Before::of(ctx, "material", &material.key);
        let mut facts = vec![
            ("Used for", words::and_list(&strings(&one.for_what)), None),
            (
                "Board",
                make_up(material.core.word(), material.thickness),
                Some(make_up(
                    &old.text("core", material.core.word()),
                    old.length("thickness", material.thickness),
                )),
            ),
        ];
        let edge = old.text("edge", &material.edge);
        if !material.edge.trim().is_empty() || !edge.trim().is_empty() {
            let edge = words::or_nothing(&edge).to_owned();
            let now = words::or_nothing(&material.edge).to_owned();
            facts.push(("Edges", now, Some(edge)));
        }
        for finish in &one.finishes {
            let was = finish_before(ctx, *finish);
            facts.push(("Finish", finish_words(ctx, *finish), was));
        }
        facts.extend(repeats(material).map(|every| ("Pattern", every, None)));
        let fitted = |(term, text, was): (&str, String, Option<String>)| {
            let fitted = |text: &str| fit::breakable(&fit::clean(text), 58.0, BODY, false);
            let was = was.filter(|was| *was != text);
            (term.to_owned(), fitted(&text), was.map(|was| fitted(&was)))
        };
        let picture = material.picture.as_ref().map(|p| {
            let shows = words::by(p.shows.0, p.shows.1);
            let (width, height) = swatch_size(p.pixels);
            Swatch {
                path: pictures::path(one.material.0),
                alt: fit::clean(&face(material, &shows)),
                caption: format!(
                    "The picture shows {shows} of the face{}.",
                    lying(material, p)
                ),
                width,
                height,
                column: 72.0,
                right: false,
            }
        });
        blocks.push(Block::Board(Board {
            drawings: Vec::new(),
            title: fit::breakable(&fit::clean(&material.name), 170.0, 12.0, true),
            picture,
            facts: facts.into_iter().map(fitted).collect(),
        }));
    }
    blocks
}

/// `comes again every 32 mm across the board`; of one that does not, nothing.
fn repeats(material: &Material) -> Option<String> {
    let (along, across) = material.repeat;
    let ways = [(along, "along"), (across, "across")];
    let every = ways
        .into_iter()
        .filter_map(|(every, way)| Some(format!("every {} mm {way}", every?)));
    let every: Vec<String> = every.collect();
    (!every.is_empty()).then(|| format!("comes again {} the board", words::and_list(&every)))
}

/// A board longer than wide is shown lying; what is cut from it mostly stands.
fn lying(material: &Material, picture: &Picture) -> &'static str {
    let lies = picture.pixels.0 > picture.pixels.1;
    match material.grain {
        Grain::None => "",
        _ if lies => ", lying on its side: on upright fronts its lines stand up",
        _ => "",
    }
}

/// As a list, for the fitter.
pub fn for_fitter(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Board", 40.0, Align::Left),
        ("Core", 24.0, Align::Left),
        ("Thick", 13.0, Align::Right),
        ("Sheet", 26.0, Align::Left),
        ("Used for", 44.0, Align::Left),
        ("Edges", 28.0, Align::Left),
    ]);
    for one in used::boards(ctx) {
        let Some(material) = ctx.job.materials.get(one.material.0) else {
            continue;
        };
        table.row([
            match material.batch.trim() {
                "" => material.name.clone(),
                batch => format!("{}, batch {batch}", material.name),
            },
            material.core.word().to_owned(),
            material.thickness.to_string(),
            material
                .sheet
                .map_or(words::NOTHING.to_owned(), |(a, b)| words::by(a, b)),
            words::and_list(&strings(&one.for_what)),
            words::or_nothing(&material.edge).to_owned(),
        ]);
        let old = Before::of(ctx, "material", &material.key);
        let batch = old.text("batch", &material.batch);
        let name = old.text("name", &material.name);
        table.was([
            Some(match batch.trim() {
                "" => name,
                batch => format!("{name}, batch {batch}"),
            }),
            Some(old.text("core", material.core.word())),
            Some(old.length("thickness", material.thickness).to_string()),
            match old.lengths("sheet").as_deref() {
                Some([a, b]) => Some(words::by(*a, *b)),
                _ => None,
            },
            None,
            Some(words::or_nothing(&old.text("edge", &material.edge)).to_owned()),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "material").map(|material| {
        let thick = gone::length(material, "thickness");
        vec![
            gone::name(material),
            material.text("core").unwrap_or_default().to_owned(),
            thick.map_or(String::new(), |l| l.to_string()),
        ]
    }));
    table_or_nothing(table)
}

pub fn finishes(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("Finish", 48.0, Align::Left),
        ("Sheen", 22.0, Align::Left),
        ("Coats", 13.0, Align::Right),
        ("On", 50.0, Align::Left),
        ("Sample", 42.0, Align::Left),
    ]);
    for (index, finish) in ctx.job.finishes.iter().enumerate() {
        let on = used::finished_boards(ctx, FinishRef(index));
        if on.is_empty() {
            continue;
        }
        table.row([
            finish.name.clone(),
            words::or_nothing(&finish.sheen).to_owned(),
            finish.coats.to_string(),
            words::and_list(&on),
            sample(ctx, FinishRef(index)),
        ]);
        let old = Before::of(ctx, "finish", &finish.key);
        table.was([
            Some(old.text("name", &finish.name)),
            Some(words::or_nothing(&old.text("sheen", &finish.sheen)).to_owned()),
            Some(old.count("coats", finish.coats).to_string()),
            None,
            old.day("sample")
                .map(|day| format!("sample agreed {}", words::written_day(&day))),
        ]);
        if old.is_new() {
            table.is_new();
        }
    }
    table.taken_out(Before::gone(ctx, "finish").map(|finish| {
        let sheen = finish.text("sheen").unwrap_or_default();
        vec![gone::name(finish), sheen.to_owned()]
    }));
    table_or_nothing(table)
}

/// What the picture of a face shows, in words.
fn face(material: &Material, shows: &str) -> String {
    let grain = match material.grain {
        Grain::None => "",
        Grain::Length => ", its grain or pattern along the length of the sheet",
        Grain::Width => ", its grain or pattern across the sheet",
    };
    let every: Vec<String> = [material.repeat.0, material.repeat.1]
        .into_iter()
        .flatten()
        .map(|l| l.to_string())
        .collect();
    let repeat = match every.is_empty() {
        true => String::new(),
        false => format!(", repeating every {} mm", every.join(" and ")),
    };
    format!(
        "Face of {}: {shows} mm of it{grain}{repeat}.",
        material.name
    )
}

/// As large as 72 × 42 mm of paper allow.
fn swatch_size((across, down): (u32, u32)) -> (f64, f64) {
    let ratio = f64::from(across.max(1)) / f64::from(down.max(1));
    match ratio > 72.0 / 42.0 {
        true => (72.0, (72.0 / ratio).max(1.0)),
        false => ((42.0 * ratio).max(1.0), 42.0),
    }
}

fn make_up(core: &str, thickness: Length) -> String {
    format!("{core}, {thickness} mm thick")
}

fn finish_before(ctx: &Context, at: FinishRef) -> Option<String> {
    let finish = ctx.job.finishes.get(at.0)?;
    let old = Before::of(ctx, "finish", &finish.key);
    let mut parts = vec![old.text("name", &finish.name)];
    let sheen = old.text("sheen", &finish.sheen);
    if !sheen.trim().is_empty() {
        parts.push(sheen);
    }
    parts.push(match old.day("sample") {
        Some(day) => format!("sample agreed {}", words::written_day(&day)),
        None => sample(ctx, at),
    });
    Some(parts.join("; "))
}

fn finish_words(ctx: &Context, at: FinishRef) -> String {
    let Some(finish) = ctx.job.finishes.get(at.0) else {
        return words::NOTHING.to_owned();
    };
    let mut parts = vec![finish.name.clone()];
    if !finish.sheen.trim().is_empty() {
        parts.push(finish.sheen.clone());
    }
    parts.push(sample(ctx, at));
    parts.join("; ")
}

fn sample(ctx: &Context, at: FinishRef) -> String {
    let agreed = ctx.job.finishes.get(at.0).and_then(|f| f.sample);
    match (agreed, ctx.pack) {
        (Some(day), _) => format!("sample agreed {}", words::date(day)),
        (None, Pack::Client) => "no sample agreed yet: please ask for one".to_owned(),
        (None, Pack::Fitter) => "no sample agreed yet".to_owned(),
    }
}

fn strings(list: &[&str]) -> Vec<String> {
    list.iter().map(|s| (*s).to_owned()).collect()
}

fn table_or_nothing(table: Table) -> Vec<Block> {
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}
