//! What is known of the pages' room before they are laid out: which rows of a schedule are kept together, how
//! high rows are, how many lines the contents take. Knows type sizes and paper; must not change a word.
//!
//! A row whose height is given is laid out once; one without is laid out a first time to see how high it is.

use super::data::{Block, PackData, SMALL, Section, Sheet, TEXT_WIDTH, Table};
use super::fit;
use super::table::{CELL_PAD, Column, ROW_MM, Row};

/// A schedule of up to so many rows is kept whole, so that no row or two stand alone on a page; unless its
/// rows are so high, mm, that it would leave most of a page empty, or not fit one.
const KEPT_WHOLE: usize = 24;
const TOO_HIGH: f64 = 165.0;
/// A group of up to so many lines stands on one page; of a longer one up to three rows at its beginning and
/// its end do, if they have no more lines than that.
const KEPT_LINES: usize = 10;
const KEPT_ENDS: usize = 3;
/// Over and under the words of a group together, and those of the head, mm.
const GROUP_MM: f64 = 2.0;
/// A line of type in a row to write on by hand, mm.
const TYPE_MM: f64 = 3.2;
/// Levels of heading that the contents list.
const LISTED: u8 = 2;

/// Says in the data what is known.
pub fn settle(data: &mut PackData) {
    let lines = data.sheets.iter().map(listed).sum();
    let sections = data.sheets.iter_mut().flat_map(|sheet| match sheet {
        Sheet::Cover(cover) => cover.sections.as_mut_slice(),
        Sheet::Text { sections } | Sheet::Sign { sections } => sections.as_mut_slice(),
        Sheet::Drawing(_) => &mut [],
    });
    for block in sections.flat_map(|section| &mut section.blocks) {
        match block {
            Block::Contents { lines: room } => *room = lines,
            Block::Table(table) => schedule(table, &[]),
            Block::Register { table, .. } => schedule(table, &[]),
            // Its last cells are filled when the pages are numbered.
            Block::Marked { table, targets } => {
                let pages = targets.iter().map(|all| "000, ".repeat(all.len()));
                schedule(table, &pages.collect::<Vec<_>>());
            }
            _ => {}
        }
    }
}

/// Lines of the contents that a sheet has.
fn listed(sheet: &Sheet) -> usize {
    let counted = |sections: &[Section]| {
        let listed = sections.iter().filter(|s| s.listed && s.level <= LISTED);
        listed.count()
    };
    match sheet {
        Sheet::Cover(cover) => counted(&cover.sections),
        Sheet::Text { sections } | Sheet::Sign { sections } => counted(sections),
        Sheet::Drawing(_) => 1,
    }
}

/// `last`: what comes to stand in the last cell of each row, about; none where the cell says it itself.
fn schedule(table: &mut Table, last: &[String]) {
    table.breakable = table.rows.len() > KEPT_WHOLE || table.height > TOO_HIGH;
    let columns = &table.columns;
    let most = |cells: &mut dyn Iterator<Item = (&str, f64)>, bold: bool| {
        let lines = cells.map(|(cell, room)| fit::lines(cell, room, SMALL, bold));
        let most = lines.collect::<Option<Vec<usize>>>()?.into_iter().max()?;
        Some(fit::lines_mm(most, SMALL))
    };
    let heads = columns.iter().map(|c| (c.head.as_str(), c.room()));
    table.head_height = most(&mut heads.into_iter(), true).map(|words| GROUP_MM + words);
    let pads = match table.tall > 0.0 {
        true => table.tall - TYPE_MM,
        false => ROW_MM,
    };
    let together = kept(&table.rows);
    for (n, (row, together)) in table.rows.iter_mut().zip(together).enumerate() {
        match row {
            Row::Group {
                group,
                detail,
                detail_was: None,
                height,
            } => {
                let words = format!("{group} \u{a0} {detail}");
                let cell = (words.as_str(), TEXT_WIDTH - 2.0 * CELL_PAD);
                *height = most(&mut std::iter::once(cell), true).map(|words| GROUP_MM + words);
            }
            Row::Group { .. } => {}
            Row::Cells {
                cells,
                was,
                new,
                may_break,
                kept,
                height,
                ..
            } => {
                *kept = together;
                let rooms = columns.iter().map(Column::room);
                let last = last.get(n).zip(columns.last());
                let mut said = cells.iter().map(String::as_str).zip(rooms);
                let mut said = said
                    .by_ref()
                    .chain(last.map(|(words, column)| (words.as_str(), column.room())));
                let otherwise = *new || *may_break || was.iter().any(Option::is_some);
                *height = match otherwise {
                    true => None,
                    false => most(&mut said, false).map(|words| pads + words),
                };
            }
        }
    }
}

/// For each row how many from it on are kept together, 0 where one before it says.
fn kept(rows: &[Row]) -> Vec<usize> {
    let lines: Vec<Option<usize>> = rows
        .iter()
        .map(|row| match row {
            Row::Cells { lines, .. } => Some(*lines),
            Row::Group { .. } => None,
        })
        .collect();
    let mut out = Vec::with_capacity(rows.len());
    for (n, group) in lines.split(Option::is_none).enumerate() {
        // The line over the group.
        out.extend((n > 0).then_some(1));
        let (first, rest) = group.split_at(KEPT_ENDS.min(group.len()));
        match rest.len().checked_sub(KEPT_ENDS) {
            Some(more) if more > 0 && !few(group) => {
                let (middle, last) = rest.split_at(more);
                out.extend(together(first));
                out.extend(middle.iter().map(|_| 1));
                out.extend(together(last));
            }
            _ => out.extend(together(group)),
        }
    }
    out
}

fn few(rows: &[Option<usize>]) -> bool {
    rows.iter().flatten().sum::<usize>() <= KEPT_LINES
}

fn together(rows: &[Option<usize>]) -> impl Iterator<Item = usize> {
    let (all, few) = (rows.len(), few(rows));
    (0..all).map(move |n| match (few, n) {
        (false, _) => 1,
        (true, 0) => all,
        (true, _) => 0,
    })
}

#[cfg(test)]
mod tests {
    use serde_json::Value;
    use typst::foundations::Bytes;
    use typst::layout::{Frame, FrameItem};

    use super::*;
    use crate::compose::Pack;
    use crate::compose::table::Align;
    use crate::diag::Diagnostics;
    use crate::reckon::{fixture, reckon};
    use crate::resolve::job::FrontKind;

    fn table(rows: &[&str]) -> Table {
        let mut table = Table::new(&[("What", 1.0, Align::Left), ("No.", 1.0, Align::Right)]);
        for row in rows {
            match row.strip_prefix("= ") {
                Some(group) => table.group(group),
                None => table.row([row, ""]),
            }
        }
        schedule(&mut table, &[]);
        table
    }

    fn kept_of(table: &Table) -> Vec<usize> {
        let rows = table.rows.iter();
        rows.filter_map(|row| match row {
            Row::Cells { kept, .. } => Some(*kept),
            Row::Group { .. } => None,
        })
        .collect()
    }

    fn heights(table: &Table) -> Vec<Option<f64>> {
        let rows = table.rows.iter();
        rows.map(|row| match row {
            Row::Cells { height, .. } | Row::Group { height, .. } => *height,
        })
        .collect()
    }

    #[test]
    fn a_short_group_stands_together_and_a_long_one_at_its_ends() {
        let short = table(&["= A", "a", "b", "= B", "c"]);
        assert_eq!(kept_of(&short), [2, 0, 1]);
        assert!(!short.breakable);
        let mut rows = vec!["= A"];
        rows.extend(["a"; 30]);
        let long = kept_of(&table(&rows));
        assert_eq!(long.get(..5), Some([3, 0, 0, 1, 1].as_slice()));
        assert_eq!(long.get(26..), Some([1, 3, 0, 0].as_slice()));
        // Six rows of many lines: too high to be kept together, too few to have ends.
        let tale = "a long tale ".repeat(40);
        assert_eq!(kept_of(&table(&[tale.as_str(); 6])), [1; 6]);
    }

    /// Capitals of the bundled font are 0.66 of its size (its OS/2 table), so 9 pt gives 2.0955 mm; the next
    /// line is 4.5 pt under it, 1.5875 mm.
    #[test]
    fn heights_are_said_where_the_number_of_lines_is_sure() {
        let tale = "a long tale of it ".repeat(6);
        let mut rows = table(&["= A", "short", tale.trim(), "nib \u{1c4}", ""]);
        let said = heights(&rows);
        let line = 2.0955;
        let expected = [
            Some(2.0 + line),
            Some(2.4 + line),
            Some(2.4 + 2.0 * line + 1.5875),
            None,
            Some(2.4),
        ];
        for (said, expected) in said.iter().zip(expected) {
            let near = said.zip(expected).map(|(a, b)| (a - b).abs() < 1e-6);
            assert!(near.unwrap_or(*said == expected), "{said:?} {expected:?}");
        }
        assert!(
            rows.head_height
                .is_some_and(|h| (h - 2.0 - line).abs() < 1e-6)
        );
        rows.row(["changed", ""]);
        rows.was([Some("other"), None]);
        rows.row(["come", ""]);
        rows.is_new();
        schedule(&mut rows, &[]);
        assert_eq!(
            heights(&rows).get(5..),
            Some([None; 2].as_slice()),
            "what was, and what is"
        );
        // A sheet to write on: 9 mm a row.
        let mut tall = table(&["1"]).tall(9.0);
        schedule(&mut tall, &[]);
        let high = 9.0 - 3.2 + line;
        assert!(
            heights(&tall)
                .iter()
                .flatten()
                .all(|h| (h - high).abs() < 1e-6)
        );
        let pages = "000, ".repeat(40);
        schedule(&mut tall, std::slice::from_ref(&pages));
        let more = heights(&tall);
        assert!(more.iter().flatten().all(|h| *h > high + 3.0), "{more:?}");
    }

    /// Words, and where on the page they stand, pt.
    type Word = (String, f64, f64);

    fn stood(frame: &Frame, at: (f64, f64), out: &mut Vec<Word>) {
        for (place, item) in frame.items() {
            let (x, y) = (at.0 + place.x.to_pt(), at.1 + place.y.to_pt());
            match item {
                FrameItem::Group(group) => stood(&group.frame, (x, y), out),
                FrameItem::Text(text) => {
                    out.push((text.text.to_string(), x, y));
                }
                _ => {}
            }
        }
    }

    fn pages(data: crate::compose::PackData) -> Vec<Vec<Word>> {
        let pages = crate::compose::typeset(data).expect("pages").document;
        let words = pages.pages().iter().map(|page| {
            let mut words = Vec::new();
            stood(&page.frame, (0.0, 0.0), &mut words);
            words
        });
        words.collect()
    }

    /// Takes away every height that is said; how many there were.
    fn forget(value: &mut Value) -> usize {
        let heights = |(key, value): (&String, &mut Value)| match key.as_str() {
            "height" | "head_height" => usize::from(!std::mem::take(value).is_null()),
            _ => forget(value),
        };
        match value {
            Value::Array(all) => all.iter_mut().map(forget).sum(),
            // Pictures have a height too, and a width.
            Value::Object(all) if all.contains_key("width") => 0,
            Value::Object(all) => all.iter_mut().map(heights).sum(),
            _ => 0,
        }
    }

    /// Against the typesetter itself, which finds for itself how high a row is where nothing is said: every word
    /// of the fitter's pages stands at the same place.
    #[test]
    fn what_is_said_is_what_the_typesetter_finds() {
        let mut job = fixture::job([9000, 3000, 9000, 3000]);
        let mut run = fixture::run(9);
        for unit in &mut run.units {
            unit.rows = vec![fixture::row(None, FrontKind::Door, 2)];
        }
        job.runs = vec![run];
        let reckoned = reckon(&job, &mut Diagnostics::default()).expect("sizes");
        let data = || crate::compose::data(&job, &reckoned, &[], Pack::Fitter).expect("data");
        let mut unsaid = data();
        let mut json = serde_json::from_slice(unsaid.json()).expect("JSON");
        assert!(forget(&mut json) > 150);
        let bytes = Bytes::from_string(json.to_string());
        unsaid.world.put("data.json", bytes);
        for (n, (said, found)) in pages(data()).iter().zip(&pages(unsaid)).enumerate() {
            let apart = |((a, ax, ay), (b, bx, by)): &(&Word, &Word)| {
                a != b || (ax - bx).abs() > 0.05 || (ay - by).abs() > 0.05
            };
            let other = said.iter().zip(found).find(apart);
            assert_eq!(other, None, "page {}", n + 1);
        }
    }
}
