//! The true face of each front of a pattern, cut out of the picture of its board where the blank lies.
//! Knows layouts and pixels; must not know paper beyond how fine its print is, nor draw a line.

mod bare;
mod close_up;
mod colour;
mod cut;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

pub use bare::Bare;
pub use close_up::{CloseUp, Piece, gap_of, on_wall};

use crate::pixels::jpeg;
use crate::reckon::pattern::layout::PatternLayout;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Sheets, WallRef};
use cut::{Bench, Order};

/// Dots to the millimetre of paper, 127 to the inch: at reading distance a printed photograph looks
/// whole (common practice, no source).
pub const DOTS_ON_PAPER: f64 = 5.0;

/// Cut-out faces as JPEG, and which shows what.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Faces {
    pub pictures: Vec<Arc<[u8]>>,
    /// By front.
    fronts: BTreeMap<usize, usize>,
    /// The worst joint of each layout that has one.
    pub close_ups: Vec<CloseUp>,
    /// What stands beside a pattern, of a material with a picture.
    pub bare: Vec<Bare>,
}

impl Faces {
    /// The picture of the front at this index, where its board has one.
    pub fn of(&self, front: usize) -> Option<usize> {
        self.fronts.get(&front).copied()
    }
}

/// Every front of every pattern, and the close-ups. Each board's picture is made small once. A face
/// that cannot be cut is left to be drawn.
pub fn faces(job: &Job, reckoned: &Reckoned) -> Faces {
    let mut close_ups = Vec::new();
    let mut orders: Vec<Order> = Vec::new();
    let mut whose: Vec<Whose> = Vec::new();
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        for blank in &layout.blanks {
            let Some(front) = reckoned.face(blank.front) else {
                continue;
            };
            orders.push(Order {
                layout: n,
                board: blank.board,
                area: blank.area,
                dots: dots(job, front.wall),
                close: false,
            });
            whose.push(Whose::Front(blank.front));
        }
        if let Some(close) = close_up::close_up(reckoned, n, layout) {
            for (p, piece) in close.pieces.iter().enumerate() {
                orders.push(Order {
                    layout: n,
                    board: piece.board,
                    area: piece.on_board,
                    dots: DOTS_ON_PAPER,
                    close: true,
                });
                whose.push(Whose::Close(close_ups.len(), p));
            }
            close_ups.push(close);
        }
    }
    let bench = Bench::of(job, reckoned, &orders);
    let cut: Vec<Option<Vec<u8>>> = orders
        .par_iter()
        .map(|order| jpeg(&bench.cut(order)?).ok())
        .collect();
    let mut out = Faces {
        close_ups,
        ..Faces::default()
    };
    for (bytes, whose) in cut.into_iter().zip(whose) {
        let Some(bytes) = bytes else { continue };
        let at = out.pictures.len();
        out.pictures.push(bytes.into());
        match whose {
            Whose::Front(front) => {
                out.fronts.insert(front, at);
            }
            Whose::Close(n, p) => {
                let close = out.close_ups.get_mut(n);
                if let Some(piece) = close.and_then(|c| c.pieces.get_mut(p)) {
                    piece.picture = Some(at);
                }
            }
        }
    }
    for wanted in bare::wanted(job, reckoned) {
        let dots = dots(job, wanted.wall);
        let cut = wanted.cut(job, &bench, dots);
        let Some(bytes) = cut.and_then(|c| jpeg(&c).ok()) else {
            continue;
        };
        out.bare.push(Bare {
            wall: wanted.wall,
            area: wanted.area,
            picture: out.pictures.len(),
        });
        out.pictures.push(bytes.into());
    }
    out
}

enum Whose {
    Front(usize),
    /// Which close-up, and which piece of it.
    Close(usize, usize),
}

/// Dots for each millimetre of what hangs on a wall: as that wall will be drawn at the largest scale of ISO 5455 that
/// can hold it.
fn dots(job: &Job, at: WallRef) -> f64 {
    let room = job.rooms.get(at.room);
    let wall = room.and_then(|r| r.walls.get(at.wall));
    let long = wall.map_or(0.0, |w| w.length.in_mm());
    let high = room.map_or(0.0, |r| r.ceiling.in_mm());
    let (wide, tall) = match job.info.sheets {
        Sheets::A3 => (370.0, 210.0),
        Sheets::A4 => (250.0, 140.0),
    };
    let fits = |scale: &f64| long / scale <= wide && high / scale <= tall;
    let scale = [5.0, 10.0, 20.0].into_iter().find(fits).unwrap_or(20.0);
    DOTS_ON_PAPER / scale
}

/// Whether any board of a layout has a picture of its own or of its material.
pub fn has_picture(job: &Job, layout: &PatternLayout) -> bool {
    cut::has_picture(job, layout)
}

/// The layouts whose boards have pictures that stand for more than one board of them: what is seen
/// there is a likeness.
pub fn stands_for_several(job: &Job, layout: &PatternLayout) -> bool {
    let own = layout.boards.iter().filter(|b| cut::own(job, layout, b));
    layout.boards.len() > own.count() && has_picture(job, layout)
}
