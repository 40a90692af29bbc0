//! Sizes and numbers of fronts: a unit's face divided into rows and cells. Knows gaps and shares;
//! must not know hardware or masses.

use super::beside::{Beside, cells, face};
use super::placed::PlacedFront;
use super::profile::HALF_MM;
use super::setting_out::Stand;
use super::share;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::resolve::job::{FrontKind, FrontRow, Side, Unit};
use crate::units::Length;

/// The least a front may come to by sharing (common practice, no source).
const LEAST: Length = Length::mm(40);

/// A front's place in its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontBox {
    pub row: usize,
    pub cell: usize,
    pub left: Length,
    pub right: Length,
    pub bottom: Length,
    pub top: Length,
}

/// Fronts of one unit, open cells left out. Rows and cells share what the fixed ones leave, rounded
/// down to 0.5 mm; what is left over widens the gap at the top and at the far side, never a front. One
/// gap holds for the unit: the widest any of its fronts asks for.
pub fn fronts(
    unit: &Unit,
    stand: &Stand,
    board: Length,
    (beside, far): ((Beside, Beside), Side),
    diags: &mut Diagnostics,
) -> Option<Vec<FrontBox>> {
    let mut lays = cells(unit).filter(|c| c.kind != FrontKind::Open);
    let Some(first) = lays.next() else {
        return Some(Vec::new());
    };
    let lay = first.style.lay;
    if let Some(odd) = lays.find(|c| c.style.lay != lay) {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                place(odd.place, unit.place),
                format!("unit “{}” has both inset and overlay fronts", unit.id),
            )
            .label("lies otherwise than the fronts before it")
            .help("make two units of it, or lay all its fronts alike"),
        );
        return None;
    }
    let gaps = cells(unit).map(|c| c.style.gap);
    let gap = gaps.max().unwrap_or_default();
    let face = face(lay, stand, board, gap, beside);
    let wanted: Vec<Option<Length>> = unit.rows.iter().map(|r| r.height).collect();
    let line = Line {
        unit,
        gap,
        what: ("rows", "high"),
        place: unit.place,
    };
    let heights = line.divide(face.top - face.bottom, &wanted, diags)?;
    // What rounding leaves over goes under the lowest row, so that neighbours' top edges are level.
    let filled: Length =
        heights.iter().copied().sum::<Length>() + gap * (heights.len().saturating_sub(1) as i64);
    let left_over = face.top - face.bottom - filled;
    let mut out = Vec::new();
    let mut bottom = face.bottom + left_over;
    let mut good = true;
    for ((row, from_below), height) in unit.rows.iter().enumerate().rev().zip(heights.iter().rev())
    {
        let line = Line {
            unit,
            gap,
            what: ("fronts", "wide"),
            place: place(from_below.place, unit.place),
        };
        match cell_widths(from_below, &line, face.right - face.left, diags) {
            Some(widths) => {
                let gaps = gap * (widths.len().saturating_sub(1) as i64);
                let mut left = match far {
                    Side::Left => face.right - gaps - widths.iter().copied().sum(),
                    Side::Right => face.left,
                };
                for (cell, width) in widths.into_iter().enumerate() {
                    let opens = from_below.cells.get(cell).map(|c| c.kind);
                    if opens.is_some_and(|k| k != FrontKind::Open) {
                        out.push(FrontBox {
                            row,
                            cell,
                            left,
                            right: left + width,
                            bottom,
                            top: bottom + *height,
                        });
                    }
                    left += width + gap;
                }
            }
            None => good = false,
        }
        bottom += *height + gap;
    }
    good.then_some(out)
}

fn cell_widths(
    row: &FrontRow,
    line: &Line<'_>,
    space: Length,
    diags: &mut Diagnostics,
) -> Option<Vec<Length>> {
    let wanted: Vec<Option<Length>> = row.cells.iter().map(|c| c.width).collect();
    line.divide(space, &wanted, diags)
}

fn place(own: Place, unit: Place) -> Place {
    match own {
        Place::NOWHERE => unit,
        place => place,
    }
}

/// A row of fronts, or a column of rows, to be divided.
struct Line<'a> {
    unit: &'a Unit,
    gap: Length,
    what: (&'static str, &'static str),
    place: Place,
}

impl Line<'_> {
    fn divide(
        &self,
        space: Length,
        wanted: &[Option<Length>],
        diags: &mut Diagnostics,
    ) -> Option<Vec<Length>> {
        let (parts, how) = self.what;
        let id = &self.unit.id;
        let say = |code, message: String| {
            Diagnostic::new(code, self.place, message).label(format!(
                "{space} mm to fill, gaps of {} mm between",
                self.gap
            ))
        };
        let shares = match share::share(space, wanted, self.gap) {
            Ok(shares) => shares,
            Err(missing) => {
                let message =
                    format!("the {parts} of unit “{id}” are {missing} mm too {how} for it");
                diags.push(
                    say(Code::FrontsTooLarge, message)
                        .help("make one smaller, or leave its size out so that it takes the rest"),
                );
                return None;
            }
        };
        let all_fixed = !wanted.is_empty() && wanted.iter().all(Option::is_some);
        if all_fixed && shares.left_over > HALF_MM * wanted.len() as i64 {
            let message = format!(
                "the {parts} of unit “{id}” leave {} mm of it bare",
                shares.left_over
            );
            diags.push(
                say(Code::FrontsTooSmall, message)
                    .help("make one larger, or leave its size out so that it takes the rest"),
            );
            return None;
        }
        let shared = wanted
            .iter()
            .zip(&shares.sizes)
            .filter(|(w, _)| w.is_none());
        if let Some((_, size)) = shared.into_iter().find(|(_, size)| **size < LEAST) {
            let message = format!("one of the {parts} of unit “{id}” comes out {size} mm {how}");
            diags.push(say(Code::NoRoom, message).help(format!(
                "leave it {LEAST} mm at least: take one out or make another smaller"
            )));
            return None;
        }
        Some(shares.sizes)
    }
}

/// Numbers them from 1 over the whole job: runs in file order, in a run by left edge, then by
/// bottom edge, so column by column, from the bottom up.
pub fn number(fronts: &mut [PlacedFront]) {
    fronts.sort_by_key(|f| (f.run, f.left, f.bottom, f.unit));
    for (number, front) in (1..).zip(fronts.iter_mut()) {
        front.number = number;
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::resolve::job::Lay;

    fn stand(width: i64, height: i64) -> Stand {
        Stand {
            left: Length::mm(1000),
            right: Length::mm(1000 + width),
            base: Length::mm(100),
            top: Length::mm(100 + height),
        }
    }

    fn of(rows: Vec<FrontRow>, beside: (Beside, Beside)) -> Result<Vec<FrontBox>, (Code, String)> {
        let mut unit = fixture::run(1).units.remove(0);
        unit.rows = rows;
        let mut diags = Diagnostics::default();
        match fronts(
            &unit,
            &stand(1000, 2000),
            Length::mm(18),
            (beside, Side::Right),
            &mut diags,
        ) {
            Some(fronts) => Ok(fronts),
            None => {
                let d = diags.sorted().remove(0);
                Err((d.code, d.message))
            }
        }
    }

    use Beside::*;
    use FrontKind::*;

    // Handbook §3: gap 3 mm (C). By hand: 1000 wide, fronts at its left, panel at its right:
    // 1000 − 1.5 − 3 − 3 = 992.5, two doors of 496.25 → 496, 0.5 left over to the right gap.
    // 2000 high: 2000 − 3 above − 330 − 3 between = 1664.
    #[test]
    fn overlay_doors_under_fixed_ones() {
        let got = of(
            vec![
                fixture::row(Some(330), Door, 2),
                fixture::row(None, Door, 2),
            ],
            (Fronts, Strip),
        )
        .unwrap();
        let sizes: Vec<_> = got
            .iter()
            .map(|f| (f.left, f.right - f.left, f.bottom, f.top - f.bottom))
            .collect();
        let um = |a: i64, b: i64, c: i64, d: i64| {
            (Length::um(a), Length::um(b), Length::um(c), Length::um(d))
        };
        assert_eq!(
            sizes,
            [
                um(1_001_500, 496_000, 100_000, 1_664_000),
                um(1_500_500, 496_000, 100_000, 1_664_000),
                um(1_001_500, 496_000, 1_767_000, 330_000),
                um(1_500_500, 496_000, 1_767_000, 330_000),
            ]
        );
        assert_eq!(got[2].top, Length::mm(2100 - 3));
    }

    // By hand: inset in 18 boards with 3 all round: 1000 − 36 − 6 = 958 × 2000 − 36 − 6 = 1958.
    #[test]
    fn inset_fronts_lie_between_the_boards() {
        let mut row = fixture::row(None, Door, 1);
        row.cells[0].style.lay = Lay::Inset;
        let got = of(vec![row], (Fronts, Strip)).unwrap();
        assert_eq!(got[0].right - got[0].left, Length::mm(958));
        assert_eq!(got[0].top - got[0].bottom, Length::mm(1958));
        assert_eq!(got[0].left, Length::mm(1021));
    }

    #[test]
    fn a_free_side_is_flush_and_an_open_cell_takes_space_without_a_front() {
        let mut row = fixture::row(None, Drawer, 2);
        row.cells[0].kind = Open;
        row.cells[0].width = Some(Length::mm(300));
        let got = of(vec![row], (Nothing, Nothing)).unwrap();
        assert_eq!(got.len(), 1);
        assert_eq!(got[0].left, Length::mm(1303));
        assert_eq!(got[0].right, Length::mm(2000));
    }

    #[test]
    fn misfits_say_by_how_much() {
        let rows = |a, b| vec![fixture::row(Some(a), Drawer, 1), fixture::row(b, Drawer, 1)];
        let both = (Nothing, Nothing);
        let (code, message) = of(rows(1500, Some(600)), both).unwrap_err();
        assert_eq!(code, Code::FrontsTooLarge);
        assert!(message.contains("106 mm too high"), "{message}");
        let (code, message) = of(rows(1500, Some(400)), both).unwrap_err();
        assert_eq!(code, Code::FrontsTooSmall);
        assert!(message.contains("leave 94 mm"), "{message}");
        let (code, message) = of(rows(1980, None), both).unwrap_err();
        assert_eq!(code, Code::NoRoom);
        assert!(message.contains("14 mm high"), "{message}");
        assert!(of(rows(1500, Some(494)), both).is_ok());
        let mut mixed = fixture::row(None, Door, 2);
        mixed.cells[1].style.lay = Lay::Inset;
        assert_eq!(of(vec![mixed], both).unwrap_err().0, Code::Contradiction);
    }
}
