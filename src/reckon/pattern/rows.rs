//! How high up a board strips of columns may begin. Knows the heights of columns and boards; must not know what
//! it costs to begin there.

use super::allocate::Problem;
use super::columns::Column;
use super::layout::Area;
use crate::units::Length;

/// How far up a board columns may begin strips, by column; more than so many for one are not told apart.
pub struct Rows {
    pub each: Vec<Vec<Length>>,
    /// Whether strips begin nowhere else, so that what lies in their way is known.
    pub exact: bool,
}

const MOST_ROWS: usize = 24;

impl Rows {
    /// The highest row of column `n` that is no higher than this.
    pub fn below(&self, n: usize, height: Length) -> Option<usize> {
        let rows = self.each.get(n)?;
        rows.partition_point(|row| *row <= height).checked_sub(1)
    }

    /// How high that is.
    pub fn at(&self, n: usize, height: Length) -> Option<Length> {
        let row = self.below(n, height)?;
        self.each.get(n)?.get(row).copied()
    }

    pub fn of(problem: &Problem<'_>) -> Rows {
        let (columns, loss) = (problem.columns, problem.loss);
        let most = |of: fn(Area) -> Length| problem.boards.iter().map(|b| of(b.usable)).max();
        let wide = most(Area::width).unwrap_or_default();
        let high = most(Area::height).unwrap_or_default();
        let mut each = vec![vec![Length::ZERO]; columns.len()];
        for n in 0..columns.len() {
            let mut begun = each.get(n).cloned().unwrap_or_default();
            begun.sort();
            begun.dedup();
            if begun.len() > MOST_ROWS {
                return Rows::roughly(columns, loss, high);
            }
            let (mut width, mut height) = (Length::ZERO - loss, Length::ZERO);
            for (m, column) in (n + 1..).zip(columns.iter().skip(n)) {
                width += column.width + loss;
                height = height.max(column.height);
                if width > wide {
                    break;
                }
                let Some(next) = each.get_mut(m) else {
                    break;
                };
                let tops = begun.iter().map(|b| *b + height + loss);
                next.extend(tops.filter(|top| *top < high));
            }
            if let Some(slot) = each.get_mut(n) {
                *slot = begun;
            }
        }
        Rows { each, exact: true }
    }

    /// As if each strip were as low as the lowest column.
    fn roughly(columns: &[Column], loss: Length, high: Length) -> Rows {
        let low = columns.iter().map(|c| c.height).min().unwrap_or_default();
        let pitch = (low + loss).max(Length::um(1));
        let rows = usize::try_from(high.in_um() / pitch.in_um()).unwrap_or(0);
        let row = |n: usize| pitch * i64::try_from(n).unwrap_or(0);
        let all: Vec<Length> = (0..=rows.min(MOST_ROWS)).map(row).collect();
        Rows {
            each: vec![all; columns.len()],
            exact: false,
        }
    }
}
