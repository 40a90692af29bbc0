//! Doors that slide along a wall on a track. Knows where the leaf stands shut and open; must not
//! know what it passes.

use super::handles::{self, Face};
use super::placed::PlacedSliding;
use super::{floor, mass, opening, profile};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::resolve::job::{FrontKind, Job, Side, Sliding};
use crate::units::Length;

/// Places every leaf: open, it stands its own width to the side; the track reaches over both; the
/// leaf hangs plumb, clear of the highest floor under either, and off the wall by what is asked where
/// the wall leans in the furthest over its height.
pub fn place(job: &Job, diags: &mut Diagnostics) -> Vec<PlacedSliding> {
    job.sliding
        .iter()
        .filter_map(|leaf| one(job, leaf, diags))
        .collect()
}

fn one(job: &Job, leaf: &Sliding, diags: &mut Diagnostics) -> Option<PlacedSliding> {
    let wall = job.wall(leaf.wall);
    let material = job.material(leaf.material);
    let (left, right) = (leaf.at, leaf.at + leaf.width);
    let open_left = match leaf.slides {
        Side::Left => left - leaf.width,
        Side::Right => right,
    };
    let open_right = open_left + leaf.width;
    let (from, to) = (left.min(open_left), right.max(open_right));
    let bottom = floor::under(wall, from, to).high + leaf.clear;
    let top = bottom + leaf.height;
    let clear = (
        opening::wall_edge(&job.rooms, leaf.wall, wall.length, Side::Left).narrowest(
            Side::Left,
            bottom,
            top,
        ),
        opening::wall_edge(&job.rooms, leaf.wall, wall.length, Side::Right).narrowest(
            Side::Right,
            bottom,
            top,
        ),
    );
    if from < clear.0 || to > clear.1 {
        let what = format!(
            "sliding door “{}” needs its wall from {from} to {to} mm, shut and open",
            leaf.id
        );
        diags.push(
            Diagnostic::new(Code::OffTheWall, leaf.place, what)
                .label(format!("clear from {} to {} mm", clear.0, clear.1))
                .help("slide it to the other side, make it narrower, or move it along"),
        );
        return None;
    }
    let leans = |z: Length| profile::at(&wall.plumb, z);
    let furthest = profile::up(profile::extremes(&wall.plumb, bottom, top).1);
    let y_back = wall.lining_thickness() + leaf.off_wall + furthest;
    let off = |z: Length| profile::near(leaf.off_wall + furthest - leans(z));
    // As on a door that is hung on the side to which it slides.
    let face = Face {
        left,
        right,
        bottom,
        top,
        floor: bottom - leaf.clear,
    };
    let handle = leaf.handle.and_then(|at| {
        let made = job.hardware.get(at.0)?;
        handles::place(FrontKind::Door, Some(leaf.slides), &face, at, made)
    });
    Some(PlacedSliding {
        wall: leaf.wall,
        left,
        right,
        bottom,
        top,
        y_back,
        y_face: y_back + material.thickness,
        off_foot: off(bottom),
        off_head: off(top),
        open_left,
        open_right,
        track_left: from,
        track_right: to,
        handle,
        mass: mass::board(leaf.height, leaf.width, material),
    })
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    // By hand: 1600..2600, slides left to 600..1600; clear 12 above the highest floor there, 0.
    #[test]
    fn a_leaf_slides_its_own_width() {
        let mut job = fixture::job([3000; 4]);
        let mut leaf = fixture::sliding(Side::Left);
        job.sliding = vec![leaf.clone()];
        let got = place(&job, &mut Diagnostics::default());
        assert_eq!(
            (got[0].open_left, got[0].open_right),
            (Length::mm(600), Length::mm(1600))
        );
        assert_eq!(
            (got[0].bottom, got[0].top),
            (Length::mm(12), Length::mm(2082))
        );
        assert_eq!(
            (got[0].track_left, got[0].track_right),
            (Length::mm(600), Length::mm(2600))
        );
        leaf.slides = Side::Right;
        job.sliding = vec![leaf.clone()];
        let mut diags = Diagnostics::default();
        assert!(place(&job, &mut diags).is_empty());
        assert_eq!(diags.sorted()[0].code, Code::OffTheWall);
        leaf.slides = Side::Left;
        job.sliding = vec![leaf];
        leaning(&mut job);
    }

    // By hand: 6 at 1200 and 15 at 2400; at the leaf's top, 2082, 6 + 9·882/1200 = 12.615, up to 13;
    // at its foot, 12, 0.06. Asked for 20: the back stands 33 out, 33 off at the foot and 20.5 at the
    // head (20.385). Where the wall leans most halfway up, there it is 20 off, and more above.
    fn leaning(job: &mut Job) {
        job.rooms[0].walls[0].plumb = fixture::line(&[(0, 0), (1200, 6), (2400, 15)]);
        let got = place(job, &mut Diagnostics::default());
        let lining = job.rooms[0].walls[0].lining_thickness();
        assert_eq!(got[0].y_back, lining + Length::mm(33));
        assert_eq!(
            (got[0].off_foot, got[0].off_head),
            (Length::mm(33), Length::um(20_500))
        );
        job.rooms[0].walls[0].plumb = fixture::line(&[(0, 0), (1200, 10), (2400, 0)]);
        let got = place(job, &mut Diagnostics::default());
        assert_eq!(got[0].y_back, lining + Length::mm(30));
    }

    // By hand: it slides to the right, so its handle is 40 in from its left edge, 1050 above the floor (common
    // practice, no source), and upright.
    #[test]
    fn its_handle_is_at_the_edge_that_stays() {
        let mut job = fixture::job([6000, 3000, 6000, 3000]);
        let leaf = |slides| Sliding {
            handle: Some(fixture::HANDLE),
            ..fixture::sliding(slides)
        };
        for (slides, x) in [(Side::Right, 1640), (Side::Left, 2560)] {
            job.sliding = vec![leaf(slides)];
            let got = place(&job, &mut Diagnostics::default());
            let handle = got[0].handle.expect("it has one");
            assert_eq!((handle.x, handle.z), (Length::mm(x), Length::mm(1050)));
            assert!(handle.upright);
        }
    }
}
