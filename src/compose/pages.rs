//! The table of pages of each pack: id, title, level, and who builds it. Knows their order and nothing of
//! their insides.

use super::context::{Context, Pack};
use super::data::{Block, Section};
use super::sections::{
    accepted, agree, arrival, asked, boards, cards, carried, cautions, changes, contacts, feet,
    findings, for_client, fronts, hardware, others, pattern, quantities, reading, risks, sequence,
    site_sheets, strips, tops, units,
};
use crate::draw::{Drawing, DrawingKind};

/// A page, or a section of one.
pub enum Page {
    /// On the cover, under the particulars.
    Cover(Entry),
    Text(Entry),
    /// Words, of which those stay that all the rest says.
    Words(Entry),
    /// Pages to be written on by hand, and found again on a scan.
    Sign(Entry),
    /// Every drawing of the pack, each on its own sheet.
    Drawings,
}

pub struct Entry {
    pub id: &'static str,
    pub title: &'static str,
    pub level: u8,
    /// Begins a page of its own.
    pub fresh: bool,
    pub listed: bool,
    /// No blocks: it does not apply to the job and is left out.
    pub build: fn(&Context) -> Vec<Block>,
}

type Build = fn(&Context) -> Vec<Block>;

const fn entry(id: &'static str, title: &'static str, level: u8, build: Build) -> Entry {
    Entry {
        id,
        title,
        level,
        fresh: false,
        listed: true,
        build,
    }
}

const fn text(id: &'static str, title: &'static str, level: u8, build: Build) -> Page {
    Page::Text(entry(id, title, level, build))
}

const fn fresh(id: &'static str, title: &'static str, level: u8, build: Build) -> Page {
    Page::Text(Entry {
        fresh: true,
        ..entry(id, title, level, build)
    })
}

const fn cover(id: &'static str, title: &'static str, level: u8, build: Build) -> Page {
    Page::Cover(entry(id, title, level, build))
}

const fn sign(id: &'static str, title: &'static str, level: u8, build: Build) -> Page {
    Page::Sign(entry(id, title, level, build))
}

const CONTENTS: Page = Page::Text(Entry {
    listed: false,
    ..entry("contents", "Contents", 1, contents)
});

const CLIENT: &[Page] = &[
    cover("note", "To you", 1, asked::note),
    cover("asked", "What is asked of you", 1, asked::asked),
    CONTENTS,
    text("changes", "What has changed", 1, changes::changes),
    text("notes", "Notes to you", 1, findings::notes),
    text("history", "History of this job", 1, others::history),
    Page::Words(entry(
        "words",
        "Words of the trade",
        1,
        reading::trade_words,
    )),
    text("drawings", "The drawings", 1, reading::reading),
    Page::Drawings,
    text("schedules", "The lists", 1, lists),
    text("units", "Units", 2, for_client::units),
    text(
        "loose",
        "Sliding doors, worktops, panels",
        2,
        for_client::loose,
    ),
    text("fronts", "Fronts", 2, fronts::for_client),
    text("round", "Round the fronts", 2, for_client::round),
    text("boards", "Boards and finishes", 2, boards::for_client),
    text("hardware", "Handles and fittings", 2, hardware::for_client),
    text("appliances", "Appliances", 2, others::appliances),
    text("by-others", "Work by others", 2, others::by_others),
    text("risks", "What may go wrong", 1, risks::risks),
    text("findings", "What else we found", 2, findings::findings),
    text(
        "accepted",
        "What you have accepted so far",
        2,
        risks::accepted,
    ),
    sign("agree", "Your agreement", 1, agree::agree),
];

const FITTER: &[Page] = &[
    cover("note", "Note to you", 1, contacts::note),
    cover("people", "Who is who", 1, contacts::people),
    cover("way-in", "The way in", 1, contacts::way_in),
    CONTENTS,
    text("changes", "What has changed", 1, changes::changes),
    fresh("cautions", "Before you begin", 1, cautions::cautions),
    text("notes", "Notes", 1, findings::notes),
    text(
        "findings",
        "What the reckoning found",
        1,
        findings::findings,
    ),
    text(
        "accepted",
        "What the client has accepted",
        1,
        accepted::accepted,
    ),
    text("not-yet", "Not agreed yet", 1, accepted::not_yet),
    text("judge", "For you to judge", 1, accepted::to_judge),
    text("arrival", "Check on arrival", 1, arrival::arrival),
    text("order", "Order of work", 1, sequence::sequence),
    text("drawings", "The drawings", 1, reading::reading),
    Page::Drawings,
    text("schedules", "Schedules", 1, lists),
    text("cards", "A card for each unit", 2, cards::cards),
    text("carried", "What else is carried in", 2, carried::carried),
    text("units", "Units", 2, units::units),
    text("feet", "Settings of the feet", 2, feet::feet),
    text("fronts", "Fronts", 2, fronts::for_fitter),
    text("pattern", "Patterns", 2, pattern::summary),
    text(
        "blanks",
        "Patterns: what is cut from what",
        2,
        pattern::blanks,
    ),
    text("joints", "Patterns: joints", 2, pattern::joints),
    text("notches", "Notches", 2, units::notches),
    text("strips", "End panels, fillers, scribes", 2, strips::strips),
    text("plinths", "Plinths", 2, strips::plinths),
    text("worktops", "Worktops", 2, tops::worktops),
    text("panels", "Panels", 2, tops::panels),
    text("sliding", "Sliding doors", 2, tops::sliding),
    text("boards", "Boards", 2, boards::for_fitter),
    text("finishes", "Finishes", 2, boards::finishes),
    text("quantities", "Quantities", 2, quantities::quantities),
    text("parts", "Parts to cut", 2, quantities::parts),
    text("hardware", "Hardware in all", 2, hardware::totals),
    text("pick", "Hardware to pick, by unit", 2, hardware::by_unit),
    text("appliances", "Appliances", 2, others::appliances),
    text("by-others", "Work by others", 2, others::by_others),
    text("history", "History of this job", 1, others::history),
    sign("agree", "Your agreement", 1, agree::agree),
    fresh("completion", "Completion", 1, site_sheets::completion),
    fresh("snags", "Snag sheet", 1, site_sheets::snags),
];

pub fn table(pack: Pack) -> &'static [Page] {
    match pack {
        Pack::Client => CLIENT,
        Pack::Fitter => FITTER,
    }
}

/// The pack's drawings: sections are for the fitter.
pub fn drawings<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a Drawing> + use<'a> {
    let client = ctx.pack == Pack::Client;
    let sheets = ctx.drawings.iter();
    let sheets = sheets.filter(|d| !matches!(d.kind, DrawingKind::Card(..)));
    sheets.filter(move |d| {
        !client
            || !matches!(
                d.kind,
                DrawingKind::Section
                    | DrawingKind::PatternWall(_)
                    | DrawingKind::PatternBoards(_)
                    | DrawingKind::Cutting
            )
    })
}

/// What stands on cards and not on sheets.
pub fn cards<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a Drawing> + use<'a> {
    let of = |d: &&Drawing| matches!(d.kind, DrawingKind::Card(..));
    ctx.drawings.iter().filter(of)
}

/// The entry built, or nothing where it does not apply.
pub fn section(entry: &Entry, ctx: &Context) -> Option<Section> {
    let blocks = (entry.build)(ctx);
    if blocks.is_empty() {
        return None;
    }
    Some(Section {
        id: entry.id.to_owned(),
        title: entry.title.to_owned(),
        level: entry.level,
        fresh: entry.fresh,
        listed: entry.listed,
        blocks,
    })
}

fn contents(_: &Context) -> Vec<Block> {
    vec![Block::Contents { lines: 0 }]
}

/// Stands over the schedules, and says what holds for all of them.
fn lists(ctx: &Context) -> Vec<Block> {
    vec![Block::paragraph(match ctx.pack {
        Pack::Client => "All sizes are in millimetres.",
        Pack::Fitter => {
            "Sizes in millimetres, masses in kilograms. Left and right are as seen facing the wall. A dash \
             means none."
        }
    })]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unique_and_no_heading_level_is_skipped() {
        for pack in [Pack::Client, Pack::Fitter] {
            let mut ids = std::collections::BTreeSet::new();
            let mut level = 0;
            for page in table(pack) {
                let (Page::Cover(entry)
                | Page::Text(entry)
                | Page::Words(entry)
                | Page::Sign(entry)) = page
                else {
                    assert_eq!(level, 1, "drawings stand at level 2, under a heading");
                    continue;
                };
                assert!(ids.insert(entry.id), "{} twice", entry.id);
                assert!(entry.level <= level + 1, "{} skips a level", entry.id);
                level = entry.level;
            }
        }
    }
}
