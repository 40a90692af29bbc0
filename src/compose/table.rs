//! A schedule as the templates get it: columns with their widths, rows of worded cells that fit them.
//! Knows type sizes and paper, nothing of what it lists.

use serde::Serialize;

use super::data::{SMALL, TEXT_WIDTH};
use super::fit;

/// Between a table cell's edge and its words, each side; figures ranged right stand further from
/// the next column.
pub const CELL_PAD: f64 = 1.4;
const FIGURE_PAD: f64 = 3.0;
/// Round the words of a row, and of each line of it, mm.
pub const ROW_MM: f64 = 2.4;
const LINE_MM: f64 = 4.3;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Align {
    Left,
    Right,
    Middle,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Column {
    pub head: String,
    pub width: f64,
    pub align: Align,
    pub pad_left: f64,
    pub pad_right: f64,
}

impl Column {
    /// Between its cells' pads, mm.
    pub fn room(&self) -> f64 {
        self.width - self.pad_left - self.pad_right
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Row {
    /// A line over the rows that follow it, repeated where they run on over a page.
    Group {
        group: String,
        detail: String,
        /// What the detail was in the newest issue, if it is otherwise now.
        detail_was: Option<String>,
        /// In mm, where it is known beforehand: see `room`.
        height: Option<f64>,
    },
    Cells {
        cells: Vec<String>,
        /// What a cell was in the newest issue, for those that are otherwise now.
        was: Vec<Option<String>>,
        /// Not in the newest issue at all.
        new: bool,
        may_break: bool,
        /// That it takes, about.
        #[serde(skip)]
        lines: usize,
        /// How many rows from this one on are kept together; 0 where a row before it says.
        kept: usize,
        /// In mm, where it is known beforehand: see `room`.
        height: Option<f64>,
    },
}

/// A schedule. Its header is repeated on each page it runs over.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    pub columns: Vec<Column>,
    /// Of the line that names the columns, in mm, where it is known beforehand: see `room`.
    pub head_height: Option<f64>,
    pub rows: Vec<Row>,
    /// Height in mm of each row at least: room to write by hand.
    pub tall: f64,
    /// About as high as its rows come to, mm.
    #[serde(skip)]
    pub height: f64,
    /// Whether it may run on over a page.
    pub breakable: bool,
}

impl Table {
    /// Columns as (head, share of the width, alignment); shares are scaled to the text's width.
    pub fn new(columns: &[(&str, f64, Align)]) -> Table {
        let shares: f64 = columns.iter().map(|c| c.1).sum();
        let scale = TEXT_WIDTH / shares.max(1.0);
        let columns = columns.iter().map(|&(head, share, align)| {
            let pad_right = if align == Align::Right {
                FIGURE_PAD
            } else {
                CELL_PAD
            };
            let mut column = Column {
                head: String::new(),
                width: share * scale,
                align,
                pad_left: if align == Align::Right { 0.4 } else { CELL_PAD },
                pad_right,
            };
            column.head = fit::breakable(head, column.room(), SMALL, true);
            column
        });
        Table {
            columns: columns.collect(),
            head_height: None,
            rows: Vec::new(),
            tall: 0.0,
            height: 0.0,
            breakable: true,
        }
    }

    pub fn tall(mut self, mm: f64) -> Table {
        self.tall = mm;
        self
    }

    pub fn group(&mut self, title: impl AsRef<str>) {
        self.group_with(title, "");
    }

    /// A group with what all of its rows have in common.
    pub fn group_with(&mut self, title: impl AsRef<str>, detail: impl AsRef<str>) {
        let line = |text: &str| {
            fit::breakable(&fit::clean(text), TEXT_WIDTH - 2.0 * CELL_PAD, SMALL, true)
        };
        let (group, detail) = (line(title.as_ref()), line(detail.as_ref()));
        self.height += ROW_MM + LINE_MM;
        self.rows.push(Row::Group {
            group,
            detail,
            detail_was: None,
            height: None,
        });
    }

    /// Says of the last group what its detail was in the newest issue.
    pub fn group_was(&mut self, old: impl AsRef<str>) {
        if let Some(Row::Group {
            detail, detail_was, ..
        }) = self.rows.last_mut()
        {
            let room = TEXT_WIDTH - 2.0 * CELL_PAD;
            let old = fit::breakable(&fit::clean(old.as_ref()), room, SMALL, true);
            *detail_was = (old != *detail && !old.is_empty()).then_some(old);
        }
    }

    /// One cell for each column; missing ones are blank, further ones are dropped.
    pub fn row<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let mut given = cells.into_iter();
        let mut long = 0;
        let cells = self.columns.iter().map(|column| {
            let text = given
                .next()
                .map(|c| fit::clean(c.as_ref()))
                .unwrap_or_default();
            let width = column.room();
            long = long.max((fit::width_mm(&text, SMALL, false) / width) as usize);
            fit::breakable(&text, width, SMALL, false)
        });
        let cells: Vec<String> = cells.collect();
        self.height += (ROW_MM + LINE_MM * (long + 1) as f64).max(self.tall);
        // A row stays on one page unless it would fill much of one.
        self.rows.push(Row::Cells {
            was: vec![None; cells.len()],
            cells,
            new: false,
            may_break: long > 24,
            lines: long + 1,
            kept: 1,
            height: None,
        });
    }

    /// Says of the last row that the newest issue did not have it.
    pub fn is_new(&mut self) {
        if let Some(Row::Cells { new, .. }) = self.rows.last_mut() {
            *new = true;
        }
    }

    /// A row of the newest issue that is gone.
    pub fn gone<T: AsRef<str>>(&mut self, old: impl IntoIterator<Item = T>) {
        self.row([""; 0]);
        self.was_row(old);
        if let Some(Row::Cells { was, .. }) = self.rows.last_mut() {
            was.iter_mut().for_each(|old| {
                old.take_if(|old| old.is_empty());
            });
        }
    }

    /// Rows of the newest issue that are gone, under a heading that says so.
    pub fn taken_out<T: AsRef<str>>(&mut self, rows: impl IntoIterator<Item = Vec<T>>) {
        let mut headed = false;
        for cells in rows {
            if !headed {
                self.group("Taken out");
                headed = true;
            }
            self.gone(cells);
        }
    }

    /// Says of the last row what it was in the newest issue, all its cells written anew.
    pub fn was_row<T: AsRef<str>>(&mut self, old: impl IntoIterator<Item = T>) {
        self.was(old.into_iter().map(Some));
    }

    /// Says of the last row what its cells were: those that were the same are left alone.
    pub fn was<T: AsRef<str>>(&mut self, old: impl IntoIterator<Item = Option<T>>) {
        let Some(Row::Cells { cells, was, .. }) = self.rows.last_mut() else {
            return;
        };
        let columns = self.columns.iter().zip(cells.iter());
        for (((column, now), was), old) in columns.zip(was).zip(old) {
            let text =
                old.map(|o| fit::breakable(&fit::clean(o.as_ref()), column.room(), SMALL, false));
            *was = text.filter(|text| text != now);
        }
    }

    /// Whether it has a row of cells.
    pub fn has_rows(&self) -> bool {
        self.rows.iter().any(|row| matches!(row, Row::Cells { .. }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_fill_the_page_and_rows_have_a_cell_for_each() {
        let mut table = Table::new(&[("No.", 1.0, Align::Right), ("What", 3.0, Align::Left)]);
        let total: f64 = table.columns.iter().map(|c| c.width).sum();
        assert!((total - TEXT_WIDTH).abs() < 1e-9);
        assert!(!table.has_rows());
        table.group("A run");
        assert!(!table.has_rows(), "a group alone lists nothing");
        table.row(["1"]);
        table.row(["2", "door", "one too many"]);
        let cells: Vec<usize> = table
            .rows
            .iter()
            .filter_map(|row| match row {
                Row::Cells { cells, .. } => Some(cells.len()),
                Row::Group { .. } => None,
            })
            .collect();
        assert_eq!(cells, [2, 2]);
    }

    // By hand: a group of one line, a row of one and a row of two: 3·2.4 + 4·4.3 = 24.4 mm.
    #[test]
    fn how_high_it_will_be() {
        let mut table = Table::new(&[("What", 1.0, Align::Left)]);
        table.group("A run");
        table.row(["short"]);
        table.row(["a long tale ".repeat(12)]);
        assert!((table.height - 24.4).abs() < 1e-9, "{}", table.height);
    }

    #[test]
    fn only_a_very_long_row_may_be_parted_over_pages() {
        let mut table = Table::new(&[("What", 1.0, Align::Left)]);
        table.row(["short"]);
        table.row(["a long tale ".repeat(400)]);
        let parted: Vec<bool> = table
            .rows
            .iter()
            .map(|row| {
                matches!(
                    row,
                    Row::Cells {
                        may_break: true,
                        ..
                    }
                )
            })
            .collect();
        assert_eq!(parted, [false, true]);
    }
}
