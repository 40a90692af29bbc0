//! What strikes what when it opens, on plan: the place hatched, with the number of its finding.
//! Knows who is told what; must not judge a swing.

use super::{Sheet, bounds, pt, spots};
use crate::draw::scene::{Callout, Fill, LabelFrame, Lettering, Pt, Rect, Role};
use crate::reckon::placed::{Clash, Reckoned, Severity};
use crate::resolve::job::Reader;
use crate::risks::Marks;

/// Kept free round a clash by marks that may stand anywhere, mm of the real thing.
const CLEAR_MM: f64 = 120.0;
/// A number would stand this far from its clash, toward the middle of the room, and no farther than
/// that, mm of the real thing.
const BESIDE_MM: f64 = 210.0;
const NEAR_MM: f64 = 420.0;

/// The clashes of a room that are drawn, each with its finding and the number that one reader knows it by.
pub fn told<'a>(
    reckoned: &'a Reckoned,
    marks: &'a Marks,
    room: usize,
    reader: Reader,
) -> impl Iterator<Item = (&'a Clash, usize, usize)> {
    let all = reckoned.clashes.iter().enumerate();
    let here = all.filter(move |(_, c)| c.room == room && c.is_drawn());
    here.filter_map(move |(n, clash)| {
        let finding = marks.of_clash(n)?;
        Some((clash, finding, marks.number(reader, finding)?))
    })
}

/// Places of one clash that get its number, clashes of a room that do, and that are told in words
/// beside it: all are hatched, and the list of findings has all their words.
const PLACES: usize = 3;
const NUMBERED: usize = 12;
const WORDED: usize = 6;

pub fn clashes(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    let middle = spots::middle(sheet).map(pt);
    let mut numbered = 0;
    let all = told(reckoned, sheet.marks, sheet.index, sheet.reader);
    for (n, (clash, _, number)) in all.enumerate() {
        let mut text = match n < WORDED {
            true => clash.brief.clone(),
            false => String::new(),
        };
        let outlines = clash
            .areas
            .iter()
            .map(|a| a.iter().map(|p| pt(*p)).collect());
        for (i, points) in outlines.enumerate() {
            let points: Vec<Pt> = points;
            let Some(area) = bounds(&points) else {
                continue;
            };
            sheet.pen.area(Role::Edge, Fill::Clash, points);
            sheet.busy.push(Rect {
                x0: area.x0 - CLEAR_MM,
                y0: area.y0 - CLEAR_MM,
                x1: area.x1 + CLEAR_MM,
                y1: area.y1 + CLEAR_MM,
            });
            if i >= PLACES || numbered >= NUMBERED {
                continue;
            }
            numbered += 1;
            if clash.finding.severity == Severity::Informs {
                // Good to know: its number beside it, and its words at the foot.
                let near = spots::about(area.centre(), NEAR_MM, NEAR_MM);
                let (own, circle) = (vec![number.to_string()], LabelFrame::Circle);
                let at = beside(area.centre(), middle);
                sheet
                    .pen
                    .label(at, own, Lettering::Normal, circle, Some(near), 3);
                let text = std::mem::take(&mut text);
                if !text.is_empty() {
                    let said = format!("number {number}: {text}");
                    sheet.pen.scene.under.push(said);
                }
                continue;
            }
            // Said once, numbered at each place.
            sheet.pen.scene.callouts.push(Callout {
                target: area.centre(),
                text: std::mem::take(&mut text),
                balloon: Some(number.to_string()),
            });
        }
    }
}

/// A little off a clash, on the side of the free floor.
fn beside(at: Pt, middle: Option<Pt>) -> Pt {
    let Some(middle) = middle else {
        return at;
    };
    let (x, y) = (middle.x - at.x, middle.y - at.y);
    let far = libm::hypot(x, y).max(1.0);
    Pt::new(at.x + x / far * BESIDE_MM, at.y + y / far * BESIDE_MM)
}
