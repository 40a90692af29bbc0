//! How to read the drawings of this pack, in plain words: only the kinds of drawing that are in it.
//! Knows the project's swing convention; draws nothing.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::{assemble, pages, words};
use crate::draw::DrawingKind;
use crate::resolve::job::HardwareKind;

pub fn reading(ctx: &Context) -> Vec<Block> {
    let kinds = || pages::drawings(ctx).map(|d| &d.kind);
    let client = ctx.pack == Pack::Client;
    let mut terms: Vec<(&str, String)> = Vec::new();
    if kinds().any(|k| matches!(k, DrawingKind::Plan(_))) {
        terms.push((
            "Plan",
            format!(
                "The room seen from above, as if the ceiling were off{}. A door is drawn standing open and its arc \
                 shows the way it goes: a quarter turn, or less where something stops it before. A circle with a \
                 letter names a wall; with a point it stands before one of which there is an elevation. Where \
                 fronts, open, touch or stand in the way the place is hatched; its number is that of {}.",
                match ctx.job.rooms.len() {
                    0 | 1 => "",
                    _ => ", its wall A at the top: so two rooms may be turned against one another",
                },
                marked(ctx.pack)
            ),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::Shut(_))) {
        terms.push((
            "Elevation, fronts shut",
            format!(
                "A wall seen from straight in front, all fronts shut. Each front has a number in a circle: the lists \
                 use the same number. {} {}",
                match ctx.pack {
                    Pack::Client => {
                        "\u{201c}risk 3\u{201d} is number 3 under \u{201c}What may go wrong\u{201d}."
                    }
                    Pack::Fitter => {
                        "\u{201c}finding 3\u{201d} is number 3 under \u{201c}What the reckoning found\u{201d}."
                    }
                },
                words::swing(ctx.job.info.swing_apex)
            ),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::Open(_))) {
        terms.push((
            "Elevation, interiors",
            "The same wall with the fronts taken away: shelves, rails, drawers and appliances. The small \
             figure on a shelf is the height of its upper face above finished floor, on a rail that \
             of its middle."
                .to_owned(),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::Section)) {
        terms.push((
            "Section",
            "A unit cut from top to bottom and seen from its side, one for each kind.".to_owned(),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::PatternWall(_))) {
        let unfolded = match ctx.reckoned.pattern_pieces.is_empty() {
            true => "",
            false => {
                " An end panel lies unfolded beside its run, its face towards you; what is no front has \
                 its name in a box."
            }
        };
        terms.push((
            "Pattern map, wall",
            format!(
                "The fronts over which a pattern runs, each with its board and where its left and bottom \
                 edges lie on it. Unwrap and hang them by this map, arrows up. Under each upright joint \
                 stands how far the pattern jumps there, for level joints it is said at the foot; 0 runs \
                 on, \u{201c}new\u{201d} begins anew.{unfolded}"
            ),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::PatternBoards(_))) {
        terms.push((
            "Pattern map, boards",
            "Each board as it stands behind its fronts, face towards you: what is cut from it and \
             where. Sizes and edges are those of the finished fronts; each blank is cut larger by the \
             trim all round."
                .to_owned(),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::Look(_))) {
        terms.push((
            "How it will look",
            "Fronts over which a pattern runs: where it runs on, where it steps and where the next board \
             begins. Gaps and steps are to scale. Each face is that of the place on its board that the \
             front is cut from; where it is only an example, the foot of the sheet says so, and what you \
             agree to."
                .to_owned(),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::CloseUps)) {
        terms.push((
            "Close-up",
            "The joint of each pattern that is seen most, where it steps, changes or runs on, at its real size when \
             printed at 100 %."
                .to_owned(),
        ));
    }
    if kinds().any(|k| matches!(k, DrawingKind::Cutting)) {
        let cutter = ctx.job.cutter;
        terms.push((
            "Cutting layout",
            format!(
                "Boards as they are sawn, by cuts from edge to edge, the grain along the board. Each blank \
                 has the mark and the finished size of its part in the list of parts: it is drawn, and \
                 sawn, {} larger each way. The saw takes {}; {} is taken off all round.",
                cutter.trim * 2,
                cutter.kerf,
                cutter.edge
            ),
        ));
    }
    if terms.is_empty() {
        return Vec::new();
    }
    terms.push((
        "Scale",
        "Each drawing is to the scale in its title block when it is printed at 100 %, not fitted to \
         the page. Check a print against the scale bar."
            .to_owned(),
    ));
    let sizes = match client {
        true => "All sizes are in millimetres. Heights are from finished floor, the highest point of the \
         room's floor. Where a figure and the drawing seem to differ, the figure \
         counts: do not measure the paper."
            .to_owned(),
        false => format!(
            "All sizes are in millimetres. Heights are from finished floor, which is the highest \
             surveyed floor point of the room; the datum is {} above it. Small figures along the \
             ceiling and the floor of an elevation are their heights as surveyed. Where a figure and the drawing \
             seem to differ, the figure counts: do not measure the paper.",
            ctx.job.info.datum
        ),
    };
    let mut blocks = vec![Block::terms(terms), Block::paragraph(sizes)];
    if pages::drawings(ctx).any(|d| d.part.1 > 1 && parted(&d.kind)) {
        blocks.push(Block::paragraph(
            "A drawing too long for one sheet goes on in the next part, at the broken line with a letter \
             in a circle: the same letter marks the same place on both.",
        ));
    }
    if assemble::square_stem(ctx).is_some() {
        blocks.push(Block::paragraph(
            "The square in the margin of each page holds the job's number, the revision, the page, and a \
             mark of what the pages say, for the workshop to tell which pack a loose sheet belongs to.",
        ));
    }
    // The contents list a client's drawings already.
    match client {
        true => {}
        false => blocks.push(register(ctx)),
    }
    blocks
}

/// Words of the trade, of which those stay that [`only_said`] finds in the rest of the pack.
pub fn trade_words(ctx: &Context) -> Vec<Block> {
    let mut hardware = ctx.job.hardware.iter();
    // "Stay" is a word of everybody's too.
    let stay = hardware.any(|h| h.kind == HardwareKind::Stay);
    let words = WORDS.iter().filter(|w| stay || w.term != "Stay");
    vec![Block::terms(words.map(|w| (w.term, w.means)))]
}

/// Of words of the trade those that stand in a text.
pub fn only_said(blocks: &mut Vec<Block>, text: &str) {
    let text = text.to_lowercase();
    let said = |term: &str| {
        let word = WORDS.iter().find(|w| w.term == term);
        word.is_some_and(|w| w.said_as.iter().any(|said| stands_in(&text, said)))
    };
    blocks.retain_mut(|block| match block {
        Block::Terms { items } => {
            items.retain(|(term, _)| said(term));
            !items.is_empty()
        }
        _ => true,
    });
}

/// By itself, or with the ending of several.
fn stands_in(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text.get(..at).and_then(|t| t.chars().next_back());
        let after = text.get(at + word.len()..).unwrap_or_default();
        let after = after.strip_prefix('s').unwrap_or(after).chars().next();
        let parted = |c: Option<char>| !c.is_some_and(char::is_alphanumeric);
        parted(before) && parted(after)
    })
}

/// Where the numbers of a plan's hatched places lead.
fn marked(pack: Pack) -> &'static str {
    match pack {
        Pack::Client => "the risk under \u{201c}What may go wrong\u{201d}",
        Pack::Fitter => "the finding under \u{201c}What the reckoning found\u{201d}",
    }
}

/// A word of the trade, what it means, and how it is said, in small letters.
struct Word {
    term: &'static str,
    means: &'static str,
    said_as: &'static [&'static str],
}

const fn word(term: &'static str, means: &'static str, said_as: &'static [&'static str]) -> Word {
    Word {
        term,
        means,
        said_as,
    }
}

/// How colours are read is common practice, no source.
const WORDS: &[Word] = &[
    word(
        "Unit",
        "A cupboard, chest or set of shelves that is made as one box.",
        &["unit"],
    ),
    word(
        "Run",
        "Units that stand or hang side by side on one wall.",
        &["run"],
    ),
    word("Front", "Any door, drawer front or flap.", &["front"]),
    word(
        "Carcass",
        "The box of a unit, behind its fronts.",
        &["carcass", "carcasse"],
    ),
    word(
        "End panel",
        "The board that closes the side of a run.",
        &["end panel"],
    ),
    word(
        "Filler, scribed strip",
        "A strip between a unit and the wall; scribed: cut to the line of the wall.",
        &["filler", "scribed", "scribe"],
    ),
    word(
        "Plinth",
        "The board under the units, down to the floor.",
        &["plinth"],
    ),
    word(
        "Lining",
        "What is still to be put on a wall: plasterboard, plaster.",
        &["lining", "lined"],
    ),
    word(
        "Skim",
        "The thin last coat of plaster.",
        &["skim", "skimmed"],
    ),
    word(
        "Screed",
        "The layer of mortar that makes a floor level.",
        &["screed"],
    ),
    word(
        "Let in",
        "Set into the wood, flush with its face or nearly so.",
        &["let in", "let-in"],
    ),
    word("Runner", "What a drawer slides on.", &["runner"]),
    word("Stay", "The arm that holds a flap up.", &["stay"]),
    word(
        "Reveal, sill",
        "The depth of the wall at a window; the height of its lower edge.",
        &["reveal", "sill"],
    ),
    word(
        "Upstand",
        "The low strip that runs up the wall behind a worktop.",
        &["upstand"],
    ),
    word(
        "Bulkhead, boxed in",
        "Boards round a beam or a pipe.",
        &["bulkhead", "boxed"],
    ),
    word(
        "MDF",
        "Board pressed of fine wood fibres, without grain.",
        &["mdf"],
    ),
    word(
        "Plywood",
        "Board glued up of thin layers of wood.",
        &["plywood"],
    ),
    word(
        "Veneer",
        "A thin sheet of real wood, glued on a board.",
        &["veneer"],
    ),
    word(
        "Solid surface",
        "A board for worktops, of one stone-like material all through.",
        &["solid surface"],
    ),
    word(
        "Through-coloured",
        "Of one colour all through, not only at its face.",
        &["through-coloured"],
    ),
    word(
        "Water-borne",
        "Of paint or lacquer: thinned with water.",
        &["water-borne"],
    ),
    word(
        "CIEDE2000",
        "A measure of how far apart two colours are for the eye, worked out from both. Side by side, a \
         trained eye just sees about 1; 3 is plain to anybody.",
        &["ciede2000"],
    ),
];

/// Whether its parts are one drawing, and not several things on several sheets.
fn parted(kind: &DrawingKind) -> bool {
    matches!(
        kind,
        DrawingKind::Plan(_)
            | DrawingKind::Shut(_)
            | DrawingKind::Open(_)
            | DrawingKind::PatternWall(_)
    )
}

/// Every drawing of the pack with its scale; the first column is filled by the layout.
fn register(ctx: &Context) -> Block {
    let mut table = Table::new(&[
        ("Page", 14.0, Align::Right),
        ("Drawing", 146.0, Align::Left),
        ("Scale", 16.0, Align::Left),
    ]);
    let mut targets = Vec::new();
    let mut drawings = pages::drawings(ctx).peekable();
    while let Some(drawing) = drawings.next() {
        // Boards cut up go on from page to page.
        let mut more = 0;
        while drawing.kind == DrawingKind::Cutting
            && drawings
                .next_if(|d| d.kind == DrawingKind::Cutting && d.scale == drawing.scale)
                .is_some()
        {
            more += 1;
        }
        let (title, below) = assemble::titles(ctx, drawing);
        let title = match drawing.kind {
            DrawingKind::Cutting if more == 1 => {
                "Cutting layouts: that sheet and the next".to_owned()
            }
            DrawingKind::Cutting if more > 1 => {
                format!("Cutting layouts: that sheet and the {more} after it")
            }
            DrawingKind::Section
            | DrawingKind::PatternBoards(_)
            | DrawingKind::Look(_)
            | DrawingKind::CloseUps
            | DrawingKind::Cutting
            | DrawingKind::Card(..) => {
                format!("{title}. {below}")
            }
            _ => title,
        };
        table.row([String::new(), title, assemble::scale(drawing)]);
        targets.push(drawing.id.clone());
    }
    Block::Register { table, targets }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_words_that_are_said_are_explained() {
        let left = |text: &str| {
            let all = WORDS.iter().map(|w| (w.term, w.means));
            let mut blocks = vec![Block::terms(all)];
            only_said(&mut blocks, text);
            match blocks.as_slice() {
                [Block::Terms { items }] => items.iter().map(|i| i.0.clone()).collect(),
                _ => Vec::new(),
            }
        };
        assert_eq!(
            left("Two Units of MDF; scribed strips. Through-coloured."),
            ["Unit", "Filler, scribed strip", "MDF", "Through-coloured"]
        );
        assert_eq!(left("A frontier, united; prune the runnel."), [""; 0]);
        assert_eq!(left("Carcasses (of plywood)"), ["Carcass", "Plywood"]);
    }
}
