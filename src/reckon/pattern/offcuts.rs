//! What is left of a board: strips lost to the pattern, and pieces large enough to keep. Knows
//! rectangles; must not know the wall.

use super::layout::Area;
use crate::units::Length;

/// Smaller than this either way is not kept (common practice, no source).
pub const KEEP: (Length, Length) = (Length::mm(150), Length::mm(300));

/// Whether a piece is worth its place in the rack.
pub fn worth_keeping(area: Area) -> bool {
    let (w, h) = (area.width(), area.height());
    w.min(h) >= KEEP.0 && w.max(h) >= KEEP.1
}

/// One strip of a board: its columns left to right, all standing on its bottom.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    pub bottom: Length,
    pub columns: Vec<Area>,
}

impl Strip {
    fn top(&self) -> Length {
        let tops = self.columns.iter().map(|c| c.top);
        tops.max().unwrap_or(self.bottom)
    }
}

/// Strips lost within the rows of columns, from finished edge to finished edge, where more goes
/// than the saw's `loss`; the saw's own part is left out.
pub fn wasted(strips: &[Strip], usable: Area, loss: Length) -> Vec<Area> {
    let mut out = Vec::new();
    for strip in strips {
        let mut from = usable.left;
        for (n, column) in strip.columns.iter().enumerate() {
            let lost = if n == 0 { Length::ZERO } else { loss };
            if column.left - from > lost {
                out.push(Area {
                    left: from + lost,
                    right: column.left,
                    bottom: strip.bottom,
                    top: strip.top(),
                });
            }
            from = column.right;
        }
    }
    out
}

/// Pieces left beside the last column of each strip, over low columns, and over the topmost strip:
/// as large as they come off the saw, none overlapping another, largest first.
pub fn offcuts(strips: &[Strip], usable: Area, loss: Length) -> Vec<Area> {
    let mut out = Vec::new();
    for strip in strips {
        let top = strip.top();
        let right = strip.columns.last().map_or(usable.left, |c| c.right);
        out.push(Area {
            left: right + loss,
            right: usable.right,
            bottom: strip.bottom,
            top,
        });
        for column in &strip.columns {
            out.push(Area {
                left: column.left,
                right: column.right,
                bottom: column.top + loss,
                top,
            });
        }
        // In front of the first, where a crest had to be met.
        let left = strip.columns.first().map_or(usable.left, |c| c.left);
        out.push(Area {
            left: usable.left,
            right: left - loss,
            bottom: strip.bottom,
            top,
        });
    }
    let highest = strips.iter().map(Strip::top).max();
    out.push(Area {
        bottom: highest.map_or(usable.bottom, |top| top + loss),
        ..usable
    });
    out.retain(|area| worth_keeping(*area));
    let size = |a: &Area| i128::from(a.width().in_um()) * i128::from(a.height().in_um());
    out.sort_by_key(|a| (-size(a), *a));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(left: i64, right: i64, bottom: i64, top: i64) -> Area {
        Area {
            left: Length::mm(left),
            right: Length::mm(right),
            bottom: Length::mm(bottom),
            top: Length::mm(top),
        }
    }

    // By hand: 1200 × 2400 usable, two columns of 400 × 1000 with 30 lost between where the saw
    // takes 8: 22 wasted, 362 left beside, 1392 over all.
    #[test]
    fn what_is_left_of_a_board() {
        let strips = [Strip {
            bottom: Length::ZERO,
            columns: vec![area(0, 400, 0, 1000), area(430, 830, 0, 1000)],
        }];
        let usable = area(0, 1200, 0, 2400);
        let loss = Length::mm(8);
        assert_eq!(
            wasted(&strips, usable, loss),
            [area(408, 430, 0, 1000)],
            "the strip lost"
        );
        assert_eq!(
            offcuts(&strips, usable, loss),
            [area(0, 1200, 1008, 2400), area(838, 1200, 0, 1000)]
        );
    }

    #[test]
    fn scraps_are_not_kept() {
        assert!(!worth_keeping(area(0, 149, 0, 2000)));
        assert!(!worth_keeping(area(0, 200, 0, 299)));
        assert!(worth_keeping(area(0, 300, 0, 150)));
        assert!(!worth_keeping(area(0, -400, 0, 500)));
    }
}
