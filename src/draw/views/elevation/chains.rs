//! Dimension chains of an elevation: widths below, heights on the left, levels on the right.
//! Knows how faces become chains; every stop is a face that was surveyed or reckoned.

use super::super::survey;
use super::{Sight, heights, widths};
use crate::draw::scene::ChainSide;
use crate::resolve::job::Reader;
use crate::units::Length;

/// A front's edges left and right, or bottom and top.
pub type Span = (Length, Length);

pub fn chains(sight: &mut Sight) {
    widths::widths(sight);
    heights::heights(sight);
    if sight.reader != Reader::Client {
        heights::levels(sight);
    }
}

/// One short chain to each span: the gaps between fronts are said once, not 3 mm at a time. The
/// name stands at the longest, where there is room for it.
pub fn each(
    sight: &mut Sight,
    side: ChainSide,
    tier: u8,
    spans: &[Span],
    reach: Length,
    name: &str,
) {
    let longest = spans.iter().map(|(a, b)| *b - *a).max();
    let mut name = name;
    for (a, b) in spans {
        let here = if Some(*b - *a) == longest {
            std::mem::take(&mut name)
        } else {
            ""
        };
        sight.pen.chain(side, tier, vec![*a, *b], reach, here);
    }
}

/// In order, dropping what overlaps one already there.
pub fn apart(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort();
    let mut out: Vec<Span> = Vec::new();
    for span in spans {
        if out.last().is_none_or(|last| span.0 >= last.1) {
            out.push(span);
        }
    }
    out
}

impl Sight<'_> {
    pub(super) fn extent_low(&self) -> Length {
        self.wall
            .floor
            .iter()
            .map(|p| p.1)
            .min()
            .unwrap_or(Length::ZERO)
    }

    pub(super) fn extent_high(&self) -> Length {
        Length::from_mm(-self.extent().y0)
    }

    /// Whether the ceiling is this high all along the wall.
    pub(super) fn is_level(&self, ceiling: Length) -> bool {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        line.iter().all(|p| (p.1 - ceiling.in_mm()).abs() < 1.0)
    }

    pub(super) fn ceiling_left(&self) -> Length {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        Length::from_mm(line.first().map_or(0.0, |p| p.1.round()))
    }

    pub(super) fn ceiling_right(&self) -> Length {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        Length::from_mm(line.last().map_or(0.0, |p| p.1.round()))
    }
}
