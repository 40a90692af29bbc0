//! What stands between the last carcass and the end of a run: scribe, filler, end panel, from the
//! wall inward. Knows widths and the wall's line; must not know the inside of units.

use super::opening::Edge;
use super::placed::{PieceKind, RunPiece};
use super::setting_out::{Stand, on_floor};
use super::{floor, profile};
use crate::resolve::job::{Job, MaterialRef, Run, RunEnd, Side};
use crate::units::Length;

/// What is added to the widest place of a scribe for cutting its blank (handbook §1, C).
pub const SCRIBE_ALLOWANCE: Length = Length::mm(10);

/// Widths of one end's pieces, as they come out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndWidths {
    pub scribe: Option<Length>,
    pub filler: Option<Length>,
    pub panel: Option<Length>,
}

impl EndWidths {
    pub fn total(&self) -> Length {
        [self.scribe, self.filler, self.panel]
            .into_iter()
            .flatten()
            .sum()
    }

    /// Adds to the filler, else to the scribe; with neither it stays clear.
    pub fn take(&mut self, more: Length) {
        if let Some(strip) = self.filler.as_mut().or(self.scribe.as_mut()) {
            *strip += more;
        }
    }
}

/// As given; a panel is as thick as its material.
pub fn widths(job: &Job, end: &RunEnd) -> EndWidths {
    EndWidths {
        scribe: end.scribe,
        filler: end.filler,
        panel: end.panel.map(|m| job.material(m).thickness),
    }
}

/// Gives what is left over to the filler at the far end, else the other filler, else the scribe at the
/// far end, else the other scribe. With none of them it stays clear at the far end: what is returned is
/// to be left free before the left end.
pub fn take_up(ends: &mut (EndWidths, EndWidths), left_over: Length, far: Side) -> Length {
    let (near, last) = match far {
        Side::Left => (&mut ends.1, &mut ends.0),
        Side::Right => (&mut ends.0, &mut ends.1),
    };
    let strip = last
        .filler
        .as_mut()
        .or(near.filler.as_mut())
        .or(last.scribe.as_mut())
        .or(near.scribe.as_mut());
    match (strip, far) {
        (Some(strip), _) => *strip += left_over,
        (None, Side::Left) => return left_over,
        (None, Side::Right) => {}
    }
    Length::ZERO
}

/// The pieces of both ends, left to right. Those beside units that stand on the floor go down to
/// it where they stand; others are as tall as the units beside them.
pub fn pieces(
    job: &Job,
    run: &Run,
    units: &[Stand],
    widths: &(EndWidths, EndWidths),
    edges: &(Edge<'_>, Edge<'_>),
) -> Vec<RunPiece> {
    let first = units.iter().map(|u| u.left).min();
    let last = units.iter().map(|u| u.right).max();
    let (Some(first), Some(last)) = (first, last) else {
        return Vec::new();
    };
    let beside = |side: Side| {
        let at_end = units
            .iter()
            .zip(&run.units)
            .filter(move |(s, _)| match side {
                Side::Left => s.left == first,
                Side::Right => s.right == last,
            });
        let (mut low, mut high, mut floor) = (None::<Length>, Length::ZERO, false);
        for (stand, unit) in at_end {
            low = Some(low.map_or(stand.base, |z| z.min(stand.base)));
            high = high.max(stand.top);
            floor |= on_floor(unit.stands);
        }
        (low.unwrap_or_default(), high, floor)
    };
    let wall = job.wall(run.wall);
    let mut out = Vec::new();
    for (side, end, size, edge) in [
        (Side::Left, &run.left, &widths.0, &edges.0),
        (Side::Right, &run.right, &widths.1, &edges.1),
    ] {
        let (low, top, on_floor) = beside(side);
        let mut inner = match side {
            Side::Left => first,
            Side::Right => last,
        };
        let inward = [
            (PieceKind::EndPanel, size.panel, end.panel),
            (PieceKind::Filler, size.filler, Some(run.filler_material)),
            (PieceKind::Scribe, size.scribe, Some(run.filler_material)),
        ];
        let mut placed = Vec::new();
        for (kind, width, material) in inward {
            let (Some(width), Some(material)) = (width, material) else {
                continue;
            };
            let outer = match side {
                Side::Left => inner - width,
                Side::Right => inner + width,
            };
            let bottom = if on_floor {
                profile::near(floor::at(wall, inner))
            } else {
                low
            };
            let (left, right) = (inner.min(outer), inner.max(outer));
            placed.push(piece(
                kind,
                side,
                (left, right),
                (bottom, top),
                material,
                edge,
            ));
            inner = outer;
        }
        if side == Side::Left {
            placed.reverse();
        }
        out.append(&mut placed);
    }
    out
}

fn piece(
    kind: PieceKind,
    side: Side,
    (left, right): (Length, Length),
    (bottom, top): (Length, Length),
    material: MaterialRef,
    edge: &Edge<'_>,
) -> RunPiece {
    let scribe = match kind {
        PieceKind::Scribe => scribe_line(side, (left, right), (bottom, top), edge),
        PieceKind::Filler | PieceKind::EndPanel => Vec::new(),
    };
    let widest = scribe.iter().map(|p| p.1).max();
    RunPiece {
        kind,
        side,
        left,
        right,
        bottom,
        top,
        material,
        blank: widest.map_or(right - left, |w| w + SCRIBE_ALLOWANCE),
        scribe,
    }
}

/// Width at the surveyed heights from bottom to top, both included: s(z) = |x(z) − x₀| from the
/// plumb side x₀ to the wall's line (handbook §1), to the nearest half-millimetre.
fn scribe_line(
    side: Side,
    (left, right): (Length, Length),
    (bottom, top): (Length, Length),
    edge: &Edge<'_>,
) -> Vec<(Length, Length)> {
    edge.told(bottom, top)
        .into_iter()
        .map(|z| {
            let width = match side {
                Side::Left => right - edge.at(z),
                Side::Right => edge.at(z) - left,
            };
            (z, profile::near(width))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::super::setting_out::set_out;
    use super::*;
    use crate::diag::Diagnostics;

    // Handbook §1 "scribe": s(z) = |x(z) − x₀|, blank = max s + 10 mm (C). By hand: right wall
    // leans 6 at 1200 and 15 at 2400; the run is 0..2400 tall, so the narrowest is at the top:
    // scribe 25 there, 34 at 1200, 40 at the floor; blank 50.
    #[test]
    fn scribe_follows_the_wall() {
        let mut job = fixture::job([3000, 3000, 3000, 3000]);
        job.rooms[0].walls[1].plumb = fixture::line(&[(0, 0), (1200, 6), (2400, 15)]);
        let mut run = fixture::run(1);
        run.units[0].top = Length::mm(2400);
        run.right.scribe = Some(Length::mm(25));
        run.right.panel = Some(fixture::FRONT);
        job.runs = vec![run];
        let mut diags = Diagnostics::default();
        let frames = set_out(&job, &mut diags);
        let pieces = &frames[0].as_ref().unwrap().pieces;
        let kinds: Vec<_> = pieces.iter().map(|p| p.kind).collect();
        assert_eq!(kinds, [PieceKind::EndPanel, PieceKind::Scribe]);
        assert_eq!(
            pieces[1].scribe,
            fixture::line(&[(0, 40), (1200, 34), (2400, 25)])
        );
        assert_eq!(pieces[1].blank, Length::mm(50));
        assert_eq!(pieces[1].right, Length::mm(2985));
    }
}
