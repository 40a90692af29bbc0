//! How to read the drawings of this pack, in plain words: only the kinds of drawing that are in it.
//! Knows the project's swing convention; draws nothing.

use super::super::context::{Context, Pack};
use super::super::data::{Align, Block, Table};
use super::super::{assemble, pages, words};
use crate::draw::DrawingKind;

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
                 letter names a wall; with a point it stands before one of which there is an elevation. Where things \
                 strike or meet as they open the place is hatched; its number is that of {}.",
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
            "Fronts over which a pattern runs, each with the face that it is cut with: where the \
             pattern runs on, where it steps and where the next board begins. Gaps and steps are to \
             scale. What you agree to stands at the foot of the sheet."
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
        true => {
            blocks.push(Block::heading("Words of the trade"));
            blocks.push(Block::terms(WORDS.iter().copied()));
        }
        false => blocks.push(register(ctx)),
    }
    blocks
}

/// Where the numbers of a plan's hatched places lead.
fn marked(pack: Pack) -> &'static str {
    match pack {
        Pack::Client => "the risk under \u{201c}What may go wrong\u{201d}",
        Pack::Fitter => "the finding under \u{201c}What the reckoning found\u{201d}",
    }
}

/// Words of the trade that stand in a client's pack.
const WORDS: &[(&str, &str)] = &[
    ("Front", "Any door, drawer front or flap."),
    ("Carcass", "The box of a unit, behind its fronts."),
    (
        "End panel",
        "The board that closes the side of a row of units.",
    ),
    (
        "Filler, scribed strip",
        "A strip between a unit and the wall; scribed: cut to the line of the wall.",
    ),
    ("Plinth", "The board under the units, down to the floor."),
    (
        "Lining",
        "What is still to be put on a wall: plasterboard, plaster.",
    ),
    (
        "Let in",
        "Set into the wood, flush with its face or nearly so.",
    ),
    (
        "Reveal, sill",
        "The depth of the wall at a window; the height of its lower edge.",
    ),
    (
        "Upstand",
        "The low strip that runs up the wall behind a worktop.",
    ),
    ("Bulkhead, boxed in", "Boards round a beam or a pipe."),
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

/// Every drawing of the pack with its kind and scale; the first column is filled by the layout.
fn register(ctx: &Context) -> Block {
    let mut table = Table::new(&[
        ("Sheet", 16.0, Align::Right),
        ("Drawing", 112.0, Align::Left),
        ("Kind", 32.0, Align::Left),
        ("Scale", 16.0, Align::Left),
    ]);
    let mut targets = Vec::new();
    for drawing in pages::drawings(ctx) {
        let (title, below) = assemble::titles(ctx, drawing);
        let title = match drawing.kind {
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
        table.row([
            String::new(),
            title,
            assemble::kind(&drawing.kind).to_owned(),
            assemble::scale(drawing),
        ]);
        targets.push(drawing.id.clone());
    }
    Block::Register { table, targets }
}
