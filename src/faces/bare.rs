//! Plinths and end pieces beside a pattern, over which it does not run: their faces out of the picture of
//! their material, as an example of it. Knows where they stand; must not know boards or blanks.

use super::cut::{Bench, along, fineness};
use crate::pixels::{Pixels, sampled};
use crate::reckon::pattern::layout::Area;
use crate::reckon::pattern::{self, stand};
use crate::reckon::placed::{PieceKind, Reckoned};
use crate::resolve::job::{Job, MaterialRef, Picture, WallRef};
use crate::units::Length;

/// A rectangle on a wall to be shown so.
#[derive(Clone, Debug, PartialEq)]
pub struct Bare {
    pub wall: WallRef,
    pub area: Area,
    /// Into [`Faces::pictures`](super::Faces).
    pub picture: usize,
}

pub struct Wanted {
    pub wall: WallRef,
    pub area: Area,
    material: MaterialRef,
    /// Whether the sheet's first dimension runs along the wall.
    lies: bool,
}

/// Those on walls where a pattern runs, of a material with a picture.
pub fn wanted(job: &Job, reckoned: &Reckoned) -> Vec<Wanted> {
    let fronts = reckoned.patterns.iter().flat_map(|l| &l.blanks);
    let mut walls: Vec<WallRef> = fronts
        .filter_map(|b| reckoned.face(b.front))
        .map(|f| f.wall)
        .collect();
    walls.sort();
    walls.dedup();
    let mut out = Vec::new();
    for (run, placed) in job.runs.iter().zip(&reckoned.runs) {
        if !walls.contains(&placed.wall) {
            continue;
        }
        // Down to the highest floor under it: what is cut to the floor below is hardly seen.
        let plinths = placed.plinths.iter().map(|p| Wanted {
            wall: placed.wall,
            area: Area {
                left: p.left,
                right: p.right,
                bottom: placed.floor_high,
                top: p.top,
            },
            material: run.plinth_material,
            lies: true,
        });
        out.extend(plinths);
        // A strip no wider than it is anywhere; an end panel by its front edge, veneered as its face is.
        let pieces = placed
            .pieces
            .iter()
            .filter(|p| p.kind == PieceKind::Scribe || pattern::end(run, p.side).pattern.is_none());
        out.extend(pieces.map(|p| Wanted {
            wall: placed.wall,
            area: Area {
                left: p.left,
                right: p.right,
                bottom: p.bottom,
                top: p.top,
            },
            material: p.material,
            lies: false,
        }));
    }
    out.retain(|w| {
        let material = job.materials.get(w.material.0);
        let pictured = material.is_some_and(|m| m.picture.is_some());
        pictured && w.area.width() > Length::ZERO && w.area.height() > Length::ZERO
    });
    out
}

impl Wanted {
    /// What the picture shows, across and up of the piece as it is seen.
    fn shown(&self, picture: &Picture) -> (Length, Length) {
        match self.lies {
            true => picture.shows,
            false => (picture.shows.1, picture.shows.0),
        }
    }

    pub fn cut(&self, job: &Job, bench: &Bench<'_>, dots: f64) -> Option<Pixels> {
        let material = job.materials.get(self.material.0)?;
        let picture = material.picture.as_ref()?;
        let (across, up) = self.shown(picture);
        let pixels = bench.ready(picture, fineness(picture, (across, up), dots));
        let turned = match picture.corners {
            Some(_) => (across, up) != stand(material, picture.shows),
            None => (pixels.width() >= pixels.height()) != (across >= up),
        };
        let axis = |size: Length, shows| along((Length::ZERO, size), shows, None, dots);
        let (wide, high) = (self.area.width(), self.area.height());
        sampled(
            &pixels,
            turned,
            axis(wide, across)?,
            axis(high, up)?,
            [0; 3],
        )
    }
}
