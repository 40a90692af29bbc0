//! What stands beside a unit, and the face that leaves for its fronts. Knows gaps and overlays; must
//! not know how the face is divided.

use super::placed::RunPiece;
use super::setting_out::Stand;
use crate::resolve::job::{FrontCell, FrontKind, Lay, Unit};
use crate::units::Length;

/// What stands at one side of a unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Beside {
    /// Another unit with fronts over its edges: each takes half the gap.
    Fronts,
    /// A panel, filler or scribe: a full gap.
    Strip,
    /// Nothing: the front is flush with the carcass's side.
    Nothing,
}

/// Whether the unit has fronts that lap its edges.
pub fn laps(unit: &Unit) -> bool {
    cells(unit).any(|c| c.kind != FrontKind::Open && c.style.lay == Lay::Overlay)
}

/// Every cell of the unit, open ones too, top row first.
pub fn cells(unit: &Unit) -> impl Iterator<Item = &FrontCell> {
    unit.rows.iter().flat_map(|r| &r.cells)
}

/// What stands at a unit's left and right: `others` are the other units on the wall that may touch
/// it, each with whether its fronts lap; `pieces` are its own run's.
pub fn beside(stand: &Stand, others: &[(Stand, bool)], pieces: &[RunPiece]) -> (Beside, Beside) {
    let level = |bottom: Length, top: Length| bottom < stand.top && top > stand.base;
    let fronted = |at: fn(&Stand) -> Length, mine: Length| {
        others
            .iter()
            .any(|(o, laps)| *laps && at(o) == mine && level(o.base, o.top))
    };
    let strip = |at: fn(&RunPiece) -> Length, mine: Length| {
        pieces
            .iter()
            .any(|p| at(p) == mine && level(p.bottom, p.top))
    };
    let judge = |fronts: bool, strip: bool| match (fronts, strip) {
        (true, _) => Beside::Fronts,
        (_, true) => Beside::Strip,
        _ => Beside::Nothing,
    };
    (
        judge(
            fronted(|o| o.right, stand.left),
            strip(|p| p.right, stand.left),
        ),
        judge(
            fronted(|o| o.left, stand.right),
            strip(|p| p.left, stand.right),
        ),
    )
}

/// The rectangle the fronts fill, gaps round them taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
}

/// Overlay: the carcass's outline, less half a gap beside other fronts, a gap beside a strip, none
/// at a free side; a gap above, none below. Inset: the inside of the carcass less a gap all round.
pub fn face(lay: Lay, stand: &Stand, board: Length, gap: Length, beside: (Beside, Beside)) -> Face {
    match lay {
        Lay::Inset => Face {
            left: stand.left + board + gap,
            right: stand.right - board - gap,
            bottom: stand.base + board + gap,
            top: stand.top - board - gap,
        },
        Lay::Overlay => {
            let half = gap.half();
            let left = match beside.0 {
                Beside::Fronts => half,
                Beside::Strip => gap,
                Beside::Nothing => Length::ZERO,
            };
            let right = match beside.1 {
                Beside::Fronts => gap - half,
                Beside::Strip => gap,
                Beside::Nothing => Length::ZERO,
            };
            Face {
                left: stand.left + left,
                right: stand.right - right,
                bottom: stand.base,
                top: stand.top - gap,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::super::placed::PieceKind;
    use super::*;
    use crate::resolve::job::Side;
    use Beside::*;

    fn stand(width: i64, height: i64) -> Stand {
        Stand {
            left: Length::mm(1000),
            right: Length::mm(1000 + width),
            base: Length::mm(100),
            top: Length::mm(100 + height),
        }
    }

    #[test]
    fn neighbours_and_strips_are_told_apart() {
        let me = stand(600, 2000);
        let touching = Stand {
            left: me.right,
            right: me.right + Length::mm(500),
            ..me
        };
        let above = Stand {
            base: me.top,
            top: me.top + Length::mm(300),
            ..touching
        };
        let strip = RunPiece {
            kind: PieceKind::EndPanel,
            side: Side::Left,
            left: me.left - Length::mm(22),
            right: me.left,
            bottom: Length::ZERO,
            top: me.top,
            material: fixture::FRONT,
            scribe: vec![],
            blank: Length::mm(22),
        };
        let pieces = [strip];
        assert_eq!(beside(&me, &[(touching, true)], &pieces), (Strip, Fronts));
        assert_eq!(beside(&me, &[(touching, false)], &[]), (Nothing, Nothing));
        assert_eq!(beside(&me, &[(above, true)], &[]), (Nothing, Nothing));
    }
}
