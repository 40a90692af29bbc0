//! What strikes what when it opens, on plan: the place hatched, with its finding or risk in words.
//! Knows who is told what; must not judge a swing.

use super::{Sheet, bounds, pt};
use crate::draw::scene::{Callout, Fill, Pt, Rect, Role};
use crate::reckon::placed::{Clash, Reckoned};
use crate::resolve::job::Reader;
use crate::risks::Marks;

/// Kept free round a clash by marks that may stand anywhere, mm of the real thing.
const CLEAR_MM: f64 = 120.0;
/// The clashes of a room that are drawn and that a reader is told of, each with its finding.
pub fn told<'a>(
    reckoned: &'a Reckoned,
    marks: &'a Marks,
    room: usize,
    reader: Reader,
) -> impl Iterator<Item = (&'a Clash, usize)> {
    let all = reckoned.clashes.iter().enumerate();
    let here = all.filter(move |(_, c)| c.room == room && c.is_drawn());
    here.filter_map(move |(n, clash)| {
        let finding = marks.of_clash(n)?;
        marks.number(reader, finding)?;
        Some((clash, finding))
    })
}

/// Places of one clash that get its mark, clashes of a room that do, and that are told in words
/// beside it: all are hatched, and the list of findings has all their words.
const PLACES: usize = 3;
const NUMBERED: usize = 12;
const WORDED: usize = 6;

pub fn clashes(sheet: &mut Sheet) {
    let reckoned = sheet.reckoned;
    let mut numbered = 0;
    let all = told(reckoned, sheet.marks, sheet.index, sheet.reader);
    for (n, (clash, finding)) in all.enumerate() {
        // In words, as on elevations: a number in a circle is a front's.
        let mark = sheet.marks.words(sheet.reader, &[finding]);
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
            // Said once, marked at each place.
            sheet.pen.scene.callouts.push(Callout {
                target: area.centre(),
                text: std::mem::take(&mut text),
                balloon: mark.clone(),
                aside: false,
            });
        }
    }
}
