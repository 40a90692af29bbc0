//! Panelling, slats and bed fronts on a wall. Knows how a width is parted into pieces; must not
//! know units.

use super::placed::PlacedPanel;
use super::share::share;
use super::{floor, mass, opening};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{Job, Panel, PanelKind, Side};
use crate::units::{Length, Mass};

/// Between pieces of panelling where the file gives none (handbook §3, C).
const GAP: Length = Length::mm(3);
/// The least a piece or slat may come to (common practice, no source).
const LEAST: Length = Length::mm(5);

/// Places every panel; heights start from the highest floor under it, as a run's do.
pub fn place(job: &Job, diags: &mut Diagnostics) -> Vec<PlacedPanel> {
    job.panels
        .iter()
        .filter_map(|panel| one(job, panel, diags))
        .collect()
}

fn one(job: &Job, panel: &Panel, diags: &mut Diagnostics) -> Option<PlacedPanel> {
    let wall = job.wall(panel.wall);
    let material = job.material(panel.material);
    let high = floor::under(wall, panel.from, panel.to).high;
    let (bottom, top) = (high + panel.bottom, high + panel.top);
    let clear = (
        opening::wall_edge(&job.rooms, panel.wall, wall.length, Side::Left).narrowest(
            Side::Left,
            bottom,
            top,
        ),
        opening::wall_edge(&job.rooms, panel.wall, wall.length, Side::Right).narrowest(
            Side::Right,
            bottom,
            top,
        ),
    );
    if panel.from < clear.0 || panel.to > clear.1 || panel.from >= panel.to || bottom >= top {
        diags.push(
            Diagnostic::new(
                Code::OffTheWall,
                panel.place,
                format!(
                    "panel “{}” reaches from {} to {} mm, beyond what the wall has clear",
                    panel.id, panel.from, panel.to
                ),
            )
            .label(format!("clear from {} to {} mm", clear.0, clear.1))
            .help("change `from` and `to`; linings and lean of the walls at the corners count"),
        );
        return None;
    }
    let pieces = match panel.kind {
        PanelKind::Slats => slats(panel.to - panel.from, panel.slat, panel.gap),
        PanelKind::Panelling | PanelKind::BedFront => {
            boards(panel.to - panel.from, panel.pieces, panel.gap)
        }
    };
    let Some(Pieces { width, count, gap }) = pieces else {
        diags.push(
            Diagnostic::new(
                Code::NoRoom,
                panel.place,
                format!("panel “{}” has no room for its pieces", panel.id),
            )
            .label(format!("{} mm wide", panel.to - panel.from))
            .help("take fewer or narrower pieces"),
        );
        return None;
    };
    let y_back = wall.lining_thickness() + panel.off_wall;
    let bare = panel.to - panel.from - width * count;
    let pieces: Vec<(Length, Length)> = (0..count)
        .map(|i| panel.from + width * i + bare.scale(i, count - 1))
        .map(|left| (left, left + width))
        .collect();
    let each = mass::board(width, top - bottom, material);
    Some(PlacedPanel {
        wall: panel.wall,
        y_back,
        y_face: y_back + material.thickness,
        bottom,
        top,
        pieces,
        gap,
        mass: Mass::grams(each.in_grams().saturating_mul(count)),
    })
}

#[derive(Debug, PartialEq)]
struct Pieces {
    width: Length,
    count: i64,
    gap: Length,
}

/// n = ⌊(W + gap)/(slat + gap)⌋ slats; the gap as it comes out is (W − n·slat)/(n − 1), so that both
/// ends are flush.
fn slats(space: Length, slat: Length, gap: Length) -> Option<Pieces> {
    if slat < LEAST || gap.is_negative() {
        return None;
    }
    let count = (space + gap).in_um() / (slat + gap).in_um();
    evened(space, slat, count)
}

/// Pieces of equal width, to a half-millimetre, the rest spread over the gaps.
fn boards(space: Length, pieces: u32, gap: Length) -> Option<Pieces> {
    let gap = if gap > Length::ZERO { gap } else { GAP };
    let count = i64::from(pieces.max(1));
    // Refused before anything is built of so many.
    if space.in_um() < LEAST.in_um().saturating_mul(count) {
        return None;
    }
    if count == 1 {
        return evened(space, space, 1);
    }
    let wanted = vec![None; usize::try_from(count).ok()?];
    let shares = share(space, &wanted, gap).ok()?;
    let width = shares.sizes.first().copied().filter(|w| *w >= LEAST)?;
    evened(space, width, count)
}

fn evened(space: Length, width: Length, count: i64) -> Option<Pieces> {
    (count >= 1).then(|| Pieces {
        width,
        count,
        gap: (space - width * count).scale(1, count - 1),
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::diag::Place;
    use crate::resolve::job::WallRef;

    fn panel(kind: PanelKind) -> Panel {
        Panel {
            id: "p".into(),
            name: "P".into(),
            kind,
            wall: WallRef { room: 0, wall: 0 },
            from: Length::mm(150),
            to: Length::mm(2250),
            bottom: Length::ZERO,
            top: Length::mm(1150),
            material: fixture::FRONT,
            finish: None,
            pieces: 2,
            slat: Length::mm(60),
            gap: Length::mm(15),
            off_wall: Length::ZERO,
            pattern: None,
            note: String::new(),
            place: Place::NOWHERE,
        }
    }

    // By hand: (2100 + 15)/(60 + 15) = 28.2 → 28 slats; gap (2100 − 1680)/27 = 15.556.
    #[test]
    fn slats_end_flush() {
        let mut job = fixture::job([3000; 4]);
        job.panels = vec![panel(PanelKind::Slats)];
        let mut diags = Diagnostics::default();
        let got = place(&job, &mut diags);
        assert_eq!(got[0].pieces.len(), 28);
        assert_eq!(got[0].gap, Length::um(15_556));
        assert_eq!(got[0].pieces[0].0, Length::mm(150));
        assert_eq!(got[0].pieces[27].1, Length::mm(2250));
    }

    // By hand: (2100 − 3)/2 = 1048.5. Mass, MDF 740: 2·1.0485·1.15·0.022·740 = 39.3 kg.
    #[test]
    fn panelling_shares_its_width() {
        let mut job = fixture::job([3000; 4]);
        let mut board = panel(PanelKind::Panelling);
        board.gap = Length::ZERO;
        job.panels = vec![board];
        let got = place(&job, &mut Diagnostics::default());
        let half = Length::um(1_048_500);
        assert_eq!(got[0].pieces[0], (Length::mm(150), Length::mm(150) + half));
        assert_eq!(
            got[0].pieces[1],
            (Length::mm(2250) - half, Length::mm(2250))
        );
        assert_eq!(got[0].mass.to_string(), "39.3");
    }

    #[test]
    fn a_panel_off_its_wall_or_without_room_is_refused() {
        let mut job = fixture::job([3000; 4]);
        let mut off = panel(PanelKind::Slats);
        off.to = Length::mm(3001);
        let mut many = panel(PanelKind::Panelling);
        many.pieces = u32::MAX;
        let mut thin = panel(PanelKind::Slats);
        thin.slat = Length::ZERO;
        job.panels = vec![off, many, thin];
        let mut diags = Diagnostics::default();
        assert_eq!(place(&job, &mut diags), vec![]);
        let codes: Vec<Code> = diags.sorted().iter().map(|d| d.code).collect();
        assert_eq!(codes, [Code::NoRoom, Code::OffTheWall]);
    }
}
