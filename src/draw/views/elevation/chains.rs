//! Dimension chains of an elevation: widths below, heights on the left, levels on the right.
//! Knows how faces become chains; every stop is a face that was surveyed or reckoned.

use super::super::survey;
use super::{Sight, heights, widths};
use crate::draw::scene::ChainSide;
use crate::reckon::placed::PlacedRun;
use crate::resolve::job::Reader;
use crate::units::Length;

/// How high the ceiling is, from where to where along the wall (mm), and whether that is its least.
pub(super) struct Ceiling {
    pub height: Length,
    pub from: f64,
    pub to: f64,
    pub least: bool,
}

/// A ceiling out by no more than this is one ceiling, not a slope, mm.
const NEARLY_LEVEL_MM: f64 = 40.0;

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

    /// The ceiling's height for the chain of heights. Where it is nearly level, its least over what
    /// stands there: what must go under it. Where it slopes, that at the left, as far as it goes.
    pub(super) fn ceiling(&self) -> Ceiling {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        let left = line.first().map_or(0.0, |p| p.1);
        let off = |p: &&(f64, f64)| (p.1 - left).abs() > NEARLY_LEVEL_MM;
        if line.iter().any(|p| off(&p)) {
            let as_high = line.iter().take_while(|p| (p.1 - left).abs() < 1.0);
            return Ceiling {
                height: Length::from_mm(left.round()),
                from: 0.0,
                to: as_high.last().map_or(1.0, |p| p.0.max(1.0)),
                least: false,
            };
        }
        let runs = self.runs();
        let stands = |x: f64| {
            let over = |r: &PlacedRun| r.left.in_mm() <= x && x <= r.right.in_mm();
            runs.is_empty() || runs.iter().any(|(.., r)| over(r))
        };
        let points: Vec<(Length, Length)> = (line.iter())
            .map(|p| (Length::from_mm(p.0), Length::from_mm(p.1)))
            .collect();
        let ends = runs
            .iter()
            .flat_map(|(.., r)| [r.left.in_mm(), r.right.in_mm()]);
        let xs = line.iter().map(|p| p.0).chain(ends).filter(|x| stands(*x));
        let least = xs
            .map(|x| survey::between(&points, x))
            .fold(f64::INFINITY, f64::min);
        let most = line.iter().map(|p| p.1).fold(left, f64::max);
        let least = if least.is_finite() { least } else { left };
        Ceiling {
            height: Length::from_mm(least.floor()),
            from: 0.0,
            to: self.wall.length.in_mm(),
            least: most - least >= 1.0,
        }
    }

    pub(super) fn ceiling_right(&self) -> Length {
        let line = survey::ceiling_line(self.job, self.reckoned, self.at);
        Length::from_mm(line.last().map_or(0.0, |p| p.1.round()))
    }
}
