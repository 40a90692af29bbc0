//! Boards turned to stand behind the fronts, in the order they are to be cut. Knows sheets, edges,
//! flaws and colours; must not know fronts.

use super::colour;
use super::layout::{Area, ColourOrder, CutBoard, Repeat};
use crate::resolve::job::{Board, BoardRef, Cutter, Grain, Job, Material, MaterialRef};
use crate::units::Length;

/// A pair of (length, width) of a sheet as (across, up) of the same sheet stood up.
pub fn stand(material: &Material, (length, width): (Length, Length)) -> (Length, Length) {
    match material.grain {
        Grain::Width => (length, width),
        Grain::Length | Grain::None => (width, length),
    }
}

/// How the material's pattern repeats once it stands.
pub fn repeat(material: &Material) -> Repeat {
    let zero = |l: Option<Length>| l.unwrap_or_default();
    let (across, up) = stand(material, (zero(material.repeat.0), zero(material.repeat.1)));
    let some = |l: Length| (l > Length::ZERO).then_some(l);
    Repeat {
        across: some(across),
        up: some(up),
    }
}

/// A sheet yet to be bought: nothing known of it but its size.
pub fn to_buy(material: &Material, cutter: Cutter, number: usize) -> Option<CutBoard> {
    let sheet = stand(material, material.sheet?);
    let ends = (Length::ZERO, Length::ZERO);
    Some(CutBoard {
        name: format!("{} {number}", material.key),
        in_hand: None,
        across: sheet.0,
        up: sheet.1,
        usable: usable(material, sheet, ends, cutter),
        first_crest: (Length::ZERO, Length::ZERO),
        avoid: Vec::new(),
        wasted: Vec::new(),
        offcuts: Vec::new(),
        lab: None,
        batch: material.batch.clone(),
    })
}

fn usable(
    material: &Material,
    (across, up): (Length, Length),
    ends: (Length, Length),
    cutter: Cutter,
) -> Area {
    let in_from = cutter.edge + cutter.trim;
    let least = |off: Length| cutter.edge.max(off) + cutter.trim;
    let along_up = material.grain != Grain::Width;
    let (start, end) = (least(ends.0), least(ends.1));
    let (x, y) = match along_up {
        true => ((in_from, in_from), (start, end)),
        false => ((start, end), (in_from, in_from)),
    };
    Area {
        left: x.0,
        right: across - x.1,
        bottom: y.0,
        top: up - y.1,
    }
}

fn in_hand(board: &Board, at: usize, material: &Material, cutter: Cutter) -> CutBoard {
    let (across, up) = stand(material, board.sheet);
    let avoid = board.avoid.iter().map(|a| {
        let (from, to) = (stand(material, a.from), stand(material, a.to));
        let area = Area {
            left: from.0,
            right: to.0,
            bottom: from.1,
            top: to.1,
        };
        (area, a.what.clone())
    });
    CutBoard {
        name: board.id.clone(),
        in_hand: Some(BoardRef(at)),
        across,
        up,
        usable: usable(material, (across, up), board.ends_off, cutter),
        first_crest: stand(material, board.first_crest),
        avoid: avoid.collect(),
        wasted: Vec::new(),
        offcuts: Vec::new(),
        lab: board.lab,
        batch: match board.batch.is_empty() {
            true => material.batch.clone(),
            false => board.batch.clone(),
        },
    }
}

/// The boards in hand of a material, by colour where all are measured, else as in the file; the
/// boards that settled fronts come from (`settled`, in the order wanted) keep that order among
/// themselves. Those `taken` are left out.
pub fn boards_in_hand(
    job: &Job,
    of: MaterialRef,
    settled: &[BoardRef],
    taken: &[BoardRef],
) -> (Vec<CutBoard>, Option<ColourOrder>) {
    let Some(material) = job.materials.get(of.0) else {
        return (Vec::new(), None);
    };
    let all = job.boards.iter().enumerate();
    let mut boards: Vec<CutBoard> = all
        .filter(|(at, b)| b.material == of && !taken.contains(&BoardRef(*at)))
        .map(|(at, b)| in_hand(b, at, material, job.cutter))
        .collect();
    let labs: Vec<colour::Lab> = boards.iter().filter_map(|b| b.lab).collect();
    let mut ordered = None;
    if labs.len() == boards.len() && labs.len() > 1 {
        let (order, exact) = colour::order(&labs);
        let filed: Vec<usize> = (0..labs.len()).collect();
        let by_colour = order.iter().filter_map(|i| boards.get(*i).cloned());
        ordered = Some(ColourOrder {
            worst: colour::worst(&labs, &order),
            worst_in_file_order: colour::worst(&labs, &filed),
            exact,
            of_pictures: job
                .boards
                .iter()
                .any(|b| b.material == of && b.lab_of_picture),
        });
        boards = by_colour.collect();
    }
    let is_settled = |b: &CutBoard| b.in_hand.is_some_and(|at| settled.contains(&at));
    let mut pinned: Vec<CutBoard> = boards.iter().filter(|b| is_settled(b)).cloned().collect();
    pinned.sort_by_key(|b| settled.iter().position(|s| Some(*s) == b.in_hand));
    let mut pinned = pinned.into_iter();
    for slot in boards.iter_mut().filter(|b| is_settled(b)) {
        if let Some(board) = pinned.next() {
            *slot = board;
        }
    }
    (boards, ordered)
}

#[cfg(test)]
mod tests;
