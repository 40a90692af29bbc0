//! The whole pack's data, put together from the table of pages: particulars, title block, sheets in
//! order. Knows paper sizes and the fields of a title block; must not word a section.

use super::context::{Context, Pack};
use super::data::{
    Attached, Block, Cover, Document, DrawingSheet, Foot, Margin, PackData, Section, Sheet,
    TitleBlock, running,
};
use super::pages::{self, Page};
use super::sections::reading;
use super::{fit, square, words};
use crate::compare::code::Stem;
use crate::draw::{Drawing, DrawingKind};
use crate::resolve::job::Sheets;
use crate::units::Date;

/// The sheet of ISO 216 that a drawing goes on, mm: lying down, but an A4 stands upright for a
/// drawing that is too high for it lying.
fn paper(sheets: Sheets, drawing: &Drawing) -> (f64, f64) {
    match sheets {
        Sheets::A3 => (420.0, 297.0),
        Sheets::A4 if drawing.height_mm > within((297.0, 210.0)).1 + 0.01 => (210.0, 297.0),
        Sheets::A4 => (297.0, 210.0),
    }
}

/// Within the frame of ISO 5457: 20 mm free at the left, 10 at the other sides.
fn within((width, height): (f64, f64)) -> (f64, f64) {
    (width - 30.0, height - 20.0)
}

/// Width and height that a drawing's sheet has inside its frame, mm.
pub fn drawing_space(sheets: Sheets, drawing: &Drawing) -> (f64, f64) {
    within(paper(sheets, drawing))
}

/// The attachment's name, by which it is found again.
pub const FROZEN: &str = "frozen-job.json";
/// How the pictures of the pages' codes are called, before the page's number.
pub const CODE: &str = "code-";

pub fn drawing_path(id: &str) -> String {
    format!("drawing-{id}.svg")
}

pub fn pack_data(ctx: &Context) -> PackData {
    PackData {
        document: document(ctx),
        foot: foot(ctx),
        margin: margin(ctx),
        frozen: (!ctx.standing.frozen.is_empty()).then(|| Attached {
            path: FROZEN.to_owned(),
            about: format!(
                "The job as these pages show it ({}), for comparing",
                ctx.revision_words()
            ),
        }),
        title_block: title_block(ctx),
        sheets: sheets(ctx),
    }
}

fn document(ctx: &Context) -> Document {
    let info = &ctx.job.info;
    let (lang, region) = language(&info.language);
    let keywords = [&info.number, &info.client, &info.site].map(|k| fit::clean(k));
    Document {
        title: fit::clean(&format!(
            "{} {}: {}",
            info.number,
            info.title,
            ctx.pack.title()
        )),
        author: match fit::clean(&info.workshop) {
            workshop if workshop.is_empty() => fit::clean(&info.designer),
            workshop => workshop,
        },
        keywords: keywords.into_iter().filter(|k| !k.is_empty()).collect(),
        lang,
        region,
        date: calendar_day(info.date),
    }
}

/// Language and region of a BCP 47 tag; English where it is none that a page can be marked with.
fn language(tag: &str) -> (String, Option<String>) {
    let mut parts = tag.split('-');
    let letters = |s: &str| s.chars().all(|c| c.is_ascii_alphabetic());
    let lang = parts
        .next()
        .filter(|l| (2..=3).contains(&l.len()) && letters(l));
    let region = parts
        .find(|r| r.len() == 2 && letters(r))
        .map(str::to_ascii_uppercase);
    match lang {
        Some(lang) => (lang.to_ascii_lowercase(), region),
        None => ("en".to_owned(), None),
    }
}

fn calendar_day(d: Date) -> Option<(u16, u8, u8)> {
    typst::foundations::Datetime::from_ymd(d.year.into(), d.month, d.day)
        .map(|_| (d.year, d.month, d.day))
}

fn foot(ctx: &Context) -> Foot {
    let info = &ctx.job.info;
    let job = format!("{}  {}", info.number, info.title);
    Foot {
        job: fit::one_line(&job, 62.0, 8.0, false),
        pack: ctx.pack.title().to_owned(),
        revision: fit::one_line(&ctx.revision_words(), 24.0, 8.0, false),
        status: fit::one_line(&ctx.status(), 30.0, 8.0, false),
        date: info.date.to_string(),
    }
}

/// What the filing margin says: a draft's warning, and the page's code.
fn margin(ctx: &Context) -> Margin {
    let letter = ctx.pack.letter();
    Margin {
        watermark: ctx.watermark(),
        // `CODE`, then the page's number, then `.svg`: the world draws each when it is asked for.
        code: square_stem(ctx).map(|_| CODE.to_owned()),
        side: square::SIDE_MM,
        letter: letter.to_string(),
    }
}

/// The words of the pages' codes, where they are short enough for any page's number.
pub fn square_stem(ctx: &Context) -> Option<Stem> {
    let stem = Stem::new(&ctx.job.info.number, ctx.standing)?;
    square::svg(&stem.sheet(ctx.pack.letter(), 9999)).map(|_| stem)
}

fn title_block(ctx: &Context) -> TitleBlock {
    let info = &ctx.job.info;
    let value = |text: &str, width: f64| fit::one_line(words::or_nothing(text), width, 9.5, false);
    TitleBlock {
        owner_label: match ctx.pack {
            Pack::Client => "Workshop",
            Pack::Fitter => "Legal owner",
        }
        .to_owned(),
        owner: fit::one_line(words::or_nothing(&info.workshop), 56.0, 9.5, true),
        creator: value(&info.designer, 56.0),
        approval: fit::one_line("to be signed", 27.0, 9.5, false),
        number: format!(
            "{}-{}",
            fit::one_line(&info.number, 36.0, 9.5, false),
            ctx.pack.letter()
        ),
        revision: value(&ctx.revision(), 15.0),
        revisions: revisions(ctx),
        date_label: match ctx.standing.issue {
            Some(_) => "Date of issue",
            None => "Date",
        }
        .to_owned(),
        date: info.date.to_string(),
        language: match (ctx.pack, language(&info.language).0.as_str()) {
            (Pack::Client, "en") => "English".to_owned(),
            _ => value(&info.language, 19.0),
        },
        status: value(&ctx.status(), 47.0),
        advice: vec![
            "Sizes in millimetres. The figures count: do not measure the paper.".to_owned(),
            "To scale when printed at 100 %: check the scale bar.".to_owned(),
        ],
    }
}

/// The newest two issues, this one counted, with what it changed.
fn revisions(ctx: &Context) -> Vec<String> {
    let mut all = Vec::new();
    // Each line says that it is of a revision: the field has no room for a heading over two lines.
    let changed = match ctx.standing.register.entries.len() {
        0 => String::new(),
        1 => ", change 1".to_owned(),
        n => format!(", changes 1 to {n}"),
    };
    if let Some(issue) = &ctx.standing.issue {
        let date = ctx.job.info.date;
        all.push(format!(
            "Rev. {} {date} for {}{changed}",
            issue.revision,
            issue.purpose.word()
        ));
    } else if ctx.standing.newest().is_some() {
        all.push(format!("Draft {}{changed}", ctx.job.info.date));
    }
    for earlier in ctx.standing.earlier.iter().rev() {
        let purpose = earlier.purpose.word();
        all.push(format!(
            "Rev. {} {} for {purpose}",
            earlier.revision, earlier.date
        ));
    }
    all.truncate(2);
    if all.is_empty() {
        all.push("Revisions: none issued yet".to_owned());
    }
    all.iter()
        .map(|line| fit::one_line(line, 57.0, 7.7, false))
        .collect()
}

/// Cover, text and drawings in the order of the table; what does not apply is left out.
fn sheets(ctx: &Context) -> Vec<Sheet> {
    let mut cover: Vec<Section> = Vec::new();
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut running: Vec<Section> = Vec::new();
    let mut words = None;
    for page in pages::table(ctx.pack) {
        match page {
            Page::Cover(entry) => cover.extend(pages::section(entry, ctx)),
            Page::Text(entry) => running.extend(pages::section(entry, ctx)),
            Page::Words(entry) => {
                if let Some(section) = pages::section(entry, ctx) {
                    words = Some((entry.id, section.blocks));
                    let blocks = Vec::new();
                    running.push(Section { blocks, ..section });
                }
            }
            Page::Sign(entry) => {
                if let Some(section) = pages::section(entry, ctx) {
                    text_sheet(&mut sheets, &mut running);
                    sheets.push(Sheet::Sign {
                        sections: vec![section],
                    });
                }
            }
            Page::Drawings => {
                text_sheet(&mut sheets, &mut running);
                sheets.extend(pages::drawings(ctx).map(|d| drawing(ctx, d)));
            }
        }
    }
    text_sheet(&mut sheets, &mut running);
    sheets.insert(0, Sheet::Cover(cover_sheet(ctx, cover)));
    if let Some((id, blocks)) = words {
        put_words(ctx, &mut sheets, (id, blocks));
    }
    sheets
}

/// Of words to be explained those that stand elsewhere on the pages or in the drawings go into their section,
/// which is left out if there are none.
fn put_words(ctx: &Context, sheets: &mut [Sheet], (id, mut blocks): (&str, Vec<Block>)) {
    let mut text = serde_json::to_string(sheets).unwrap_or_default();
    for drawing in pages::drawings(ctx) {
        text.push_str(&drawing.svg);
    }
    reading::only_said(&mut blocks, &text);
    for sheet in sheets {
        let Sheet::Text { sections } = sheet else {
            continue;
        };
        for section in sections.iter_mut().filter(|s| s.id == id) {
            section.blocks.append(&mut blocks);
        }
        sections.retain(|s| s.id != id || !s.blocks.is_empty());
    }
}

fn text_sheet(sheets: &mut Vec<Sheet>, running: &mut Vec<Section>) {
    if !running.is_empty() {
        sheets.push(Sheet::Text {
            sections: std::mem::take(running),
        });
    }
}

fn cover_sheet(ctx: &Context, sections: Vec<Section>) -> Cover {
    let info = &ctx.job.info;
    let mut facts = vec![
        ("Job", info.number.clone()),
        ("Client", info.client.clone()),
        ("Site", info.site.clone()),
        ("Designer", info.designer.clone()),
        ("Fitter", info.fitter.clone()),
        ("Date", words::date(info.date)),
        ("Revision", ctx.revision_words()),
    ];
    if ctx.pack == Pack::Fitter {
        facts.push(("Datum", format!("{} above finished floor", info.datum)));
    }
    let sheets = match pages::drawings(ctx).next().map(|_| info.sheets) {
        Some(Sheets::A3) => "A4, and A3 for the drawings: print at 100 %",
        Some(Sheets::A4) | None => "A4: print at 100 %",
    };
    facts.push(("Paper", sheets.to_owned()));
    facts.retain(|(_, value)| !value.trim().is_empty());
    Cover {
        workshop: running(&info.workshop, 170.0),
        title: fit::breakable(&fit::clean(&info.title), 170.0, 25.0, true),
        pack: ctx.pack.title().to_owned(),
        status: fit::one_line(&ctx.status(), 100.0, 11.0, false),
        facts: facts
            .into_iter()
            .map(|(k, v)| (k.to_owned(), running(&v, 130.0)))
            .collect(),
        sections,
    }
}

struct Title {
    text: String,
    points: f64,
}

/// One line where it fits, else up to two smaller ones, else cut short.
fn title_line(title: &str) -> Title {
    let one = fit::one_line(title, 116.0, 11.5, true);
    if one == fit::clean(title) {
        return Title {
            text: one,
            points: 11.5,
        };
    }
    // Two lines hold less than twice one: the first may end early.
    let text = fit::one_line(title, 2.0 * 116.0 - 30.0, 9.5, true);
    Title {
        text: fit::breakable(&text, 80.0, 9.5, true),
        points: 9.5,
    }
}

/// Title and supplementary title of a drawing. Each section has its own title under it: the sheet's
/// only gathers them.
pub fn titles(ctx: &Context, d: &Drawing) -> (String, String) {
    let (which, of) = d.part;
    let job = ctx.job.info.title.clone();
    match (&d.kind, of > 1) {
        (DrawingKind::Section, true) => {
            (format!("Sections, part {which} of {of}"), d.title.clone())
        }
        (DrawingKind::Section, false) => ("Sections".to_owned(), d.title.clone()),
        (DrawingKind::PatternBoards(n), several) => {
            let name = ctx.reckoned.patterns.get(*n).map_or("", |p| &p.name);
            let sheet = match several {
                true => format!(", part {which} of {of}"),
                false => String::new(),
            };
            let title = format!("Boards of the pattern \u{201c}{name}\u{201d}{sheet}");
            (title, d.title.clone())
        }
        (DrawingKind::Look(n), _) => {
            let name = ctx.reckoned.patterns.get(*n).map_or("", |p| &p.name);
            let title = format!("How the pattern \u{201c}{name}\u{201d} will look");
            (part_of(&title, d), d.title.clone())
        }
        (DrawingKind::CloseUps, _) => (part_of("Close-ups at real size", d), d.title.clone()),
        (DrawingKind::Cutting, true) => (
            format!("Cutting layouts, part {which} of {of}"),
            d.title.clone(),
        ),
        (DrawingKind::Cutting, false) => ("Cutting layouts".to_owned(), d.title.clone()),
        (_, true) => (format!("{}, part {which} of {of}", d.title), job),
        (_, false) => (d.title.clone(), job),
    }
}

fn part_of(title: &str, d: &Drawing) -> String {
    match d.part {
        (_, 1) => title.to_owned(),
        (which, of) => format!("{title}, part {which} of {of}"),
    }
}

/// The supplementary title: under a title of one line there is room for two.
fn below_line(below: &str, title_points: f64) -> String {
    if title_points < 11.0 {
        return fit::one_line(below, 116.0, 9.0, false);
    }
    let text = fit::one_line(below, 2.0 * 116.0 - 30.0, 9.0, false);
    fit::breakable(&text, 80.0, 9.0, false)
}

/// ISO 7200's document type.
pub fn kind(kind: &DrawingKind) -> &'static str {
    match kind {
        DrawingKind::Plan(_) => "Plan",
        DrawingKind::Shut(_) | DrawingKind::Open(_) => "Elevation",
        DrawingKind::Section => "Sections",
        DrawingKind::PatternWall(_) | DrawingKind::PatternBoards(_) => "Pattern map",
        DrawingKind::Look(_) | DrawingKind::CloseUps => "Picture",
        DrawingKind::Cutting => "Cutting layout",
        DrawingKind::Card(..) => "Picture",
    }
}

pub fn scale(d: &Drawing) -> String {
    format!("1:{}", d.scale)
}

fn drawing(ctx: &Context, d: &Drawing) -> Sheet {
    let (paper_width, paper_height) = paper(ctx.job.info.sheets, d);
    let (title, below) = titles(ctx, d);
    let title = title_line(&title);
    Sheet::Drawing(DrawingSheet {
        id: d.id.clone(),
        listed: d.part.0 == 1,
        title: title.text,
        title_size: title.points,
        below: below_line(&below, title.points),
        alt: fit::clean(&d.alt),
        path: drawing_path(&d.id),
        width: d.width_mm,
        height: d.height_mm,
        scale: scale(d),
        paper: ctx.job.info.sheets.word().to_owned(),
        paper_width,
        paper_height,
        kind: kind(&d.kind).to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_tag_marks_the_pages_and_nonsense_does_not() {
        assert_eq!(language("en-GB"), ("en".to_owned(), Some("GB".to_owned())));
        assert_eq!(
            language("sr-Latn-RS"),
            ("sr".to_owned(), Some("RS".to_owned()))
        );
        assert_eq!(language("#panic()"), ("en".to_owned(), None));
        assert_eq!(language(""), ("en".to_owned(), None));
    }
}
