//! One face out of a board's picture: which part of it, at how many dots, in which tint. Knows how a
//! picture lies on its board; must not know the wall.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::colour;
use crate::pixels::{Axis, Fold, Pixels, decode, put_right, sampled};
use crate::reckon::pattern::layout::{Area, CutBoard, PatternLayout};
use crate::reckon::pattern::stand;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Picture};
use crate::units::Length;

/// What is to be cut out.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Indices into the layouts and the layout's boards.
    pub layout: usize,
    pub board: usize,
    /// On the board.
    pub area: Area,
    /// For each millimetre.
    pub dots: f64,
    /// Whether the file's own pixels are wanted.
    pub close: bool,
}

/// The same picture, as fine as it is wanted. Pictures are told apart by the pixels they share.
type Kind = (*const Pixels, u32);

/// Every picture made ready, once.
pub struct Bench<'a> {
    job: &'a Job,
    reckoned: &'a Reckoned,
    tints: Vec<Vec<[i32; 3]>>,
    ready: BTreeMap<KeyOf, Arc<Pixels>>,
}

/// A [`Kind`] by its address, which is only compared.
type KeyOf = (usize, u32);

fn key((picture, most): Kind) -> KeyOf {
    (picture as usize, most)
}

/// Dots of a close-up for each pixel the picture has, and at least for each millimetre.
const SOFTENED: f64 = 3.0;
const LEAST_CLOSE: f64 = 2.5;

/// Wanted of a picture: itself made small (or not), or the file's own pixels.
const WHOLE: u32 = 0;

impl<'a> Bench<'a> {
    pub fn of(job: &'a Job, reckoned: &'a Reckoned, orders: &[Order]) -> Bench<'a> {
        let tints = reckoned.patterns.iter().map(|layout| {
            let faces = layout.boards.iter();
            let faces: Vec<_> = faces
                .map(|b| picture(job, layout, b).map(|p| &*p.face))
                .collect();
            colour::tints(layout, &faces)
        });
        let mut bench = Bench {
            job,
            reckoned,
            tints: tints.collect(),
            ready: BTreeMap::new(),
        };
        let mut wanted: BTreeMap<KeyOf, (&Picture, u32)> = BTreeMap::new();
        for order in orders {
            if let Some((picture, most)) = bench.fineness(order) {
                wanted.insert(key((Arc::as_ptr(&picture.face), most)), (picture, most));
            }
        }
        let made: Vec<(KeyOf, Arc<Pixels>)> = wanted
            .into_par_iter()
            .map(|(key, (picture, most))| (key, made(picture, most)))
            .collect();
        bench.ready = made.into_iter().collect();
        bench
    }

    fn board(&self, order: &Order) -> Option<(&'a PatternLayout, &'a CutBoard, &'a Picture)> {
        let layout = self.reckoned.patterns.get(order.layout)?;
        let board = layout.boards.get(order.board)?;
        Some((layout, board, picture(self.job, layout, board)?))
    }

    /// The picture and its longest side in pixels, so that there are at most twice the dots wanted.
    fn fineness(&self, order: &Order) -> Option<(&'a Picture, u32)> {
        let (layout, _, picture) = self.board(order)?;
        if order.close && picture.finer {
            return Some((picture, WHOLE));
        }
        let shows = shown(self.job, layout, picture);
        Some((picture, fineness(picture, shows, order.dots)))
    }

    /// A picture so fine, made ready now if it is not yet.
    pub fn ready(&self, picture: &Picture, most: u32) -> Arc<Pixels> {
        let known = self.ready.get(&key((Arc::as_ptr(&picture.face), most)));
        known.cloned().unwrap_or_else(|| made(picture, most))
    }

    pub fn cut(&self, order: &Order) -> Option<Pixels> {
        let (layout, board, picture) = self.board(order)?;
        let (_, most) = self.fineness(order)?;
        let pixels = self.ready.get(&key((Arc::as_ptr(&picture.face), most)))?;
        let (across, up) = shown(self.job, layout, picture);
        let lies = pixels.width() >= pixels.height();
        let turned = picture.corners.is_none() && lies != (across >= up);
        // A picture that stands for several boards begins with a crest on each.
        let zero = match own(self.job, layout, board) {
            true => (Length::ZERO, Length::ZERO),
            false => board.first_crest,
        };
        let has = f64::from(pixels.width().max(pixels.height())) / across.max(up).in_mm().max(1.0);
        let dots = match order.close {
            // Softened, where the picture is coarse, so that its pixels do not show as boxes.
            true => order.dots.min((has * SOFTENED).max(LEAST_CLOSE)),
            false => order.dots,
        };
        let area = order.area;
        let axis = |from: Length, to: Length, zero, shows, repeat: Option<Length>| {
            let zero = if repeat.is_some() { zero } else { Length::ZERO };
            along((from - zero, to - zero), shows, repeat, dots)
        };
        let tint = self.tints.get(order.layout)?.get(order.board)?;
        sampled(
            pixels,
            turned,
            axis(area.left, area.right, zero.0, across, layout.repeat.across)?,
            axis(area.bottom, area.top, zero.1, up, layout.repeat.up)?,
            *tint,
        )
    }
}

/// The longest side in pixels, so that there are at most twice the dots wanted.
pub(super) fn fineness(picture: &Picture, (across, up): (Length, Length), dots: f64) -> u32 {
    let long = across.max(up).in_mm();
    let has = picture.pixels.0.max(picture.pixels.1);
    let needs = (long * dots * 2.0).ceil().clamp(1.0, 20_000.0) as u32;
    needs.min(has)
}

pub(super) fn along(
    (from, to): (Length, Length),
    shows: Length,
    repeat: Option<Length>,
    dots: f64,
) -> Option<Axis> {
    let (whole, size) = (shows.in_mm(), (to - from).in_mm());
    if whole <= 0.0 || size <= 0.0 {
        return None;
    }
    let inside = from >= Length::ZERO && to <= shows;
    let fold = match repeat {
        Some(p) if !inside && p <= shows => Fold::Again(shows.floor_to(p).in_mm() / whole),
        _ => Fold::Back,
    };
    Some(Axis {
        from: from.in_mm() / whole,
        to: to.in_mm() / whole,
        fold,
        pixels: (size * dots).round().clamp(1.0, 8000.0) as u32,
    })
}

fn made(picture: &Picture, most: u32) -> Arc<Pixels> {
    let has = picture.pixels.0.max(picture.pixels.1);
    if most != WHOLE && most >= has {
        return picture.face.clone();
    }
    if most != WHOLE {
        return Arc::new(picture.face.smaller(most));
    }
    // It could be read once: it can be again, and if not, what was kept will do.
    let again = decode(&picture.bytes).ok();
    let right = again.and_then(|again| {
        let right = match picture.corners {
            Some(corners) => put_right(&again.pixels, corners)?,
            None => again.pixels,
        };
        Some(again.colours.to_srgb(right))
    });
    right.map_or_else(|| picture.face.clone(), Arc::new)
}

/// What the picture shows, across and up of the board as it stands.
fn shown(job: &Job, layout: &PatternLayout, picture: &Picture) -> (Length, Length) {
    let material = job.materials.get(layout.material.0);
    material.map_or(picture.shows, |m| stand(m, picture.shows))
}

/// The board's own picture, or its material's.
fn picture<'a>(job: &'a Job, layout: &PatternLayout, board: &CutBoard) -> Option<&'a Picture> {
    let theirs = board.in_hand.and_then(|at| job.boards.get(at.0));
    let theirs = theirs.and_then(|b| b.picture.as_ref());
    let material = job.materials.get(layout.material.0);
    theirs.or_else(|| material.and_then(|m| m.picture.as_ref()))
}

/// Whether the board has a picture of its own.
pub fn own(job: &Job, layout: &PatternLayout, board: &CutBoard) -> bool {
    let material = job.materials.get(layout.material.0);
    let shared = material.and_then(|m| m.picture.as_ref());
    match (picture(job, layout, board), shared) {
        (Some(theirs), Some(shared)) => !Arc::ptr_eq(&theirs.face, &shared.face),
        (Some(_), None) => true,
        (None, _) => false,
    }
}

pub fn has_picture(job: &Job, layout: &PatternLayout) -> bool {
    let mut boards = layout.boards.iter();
    boards.any(|b| picture(job, layout, b).is_some())
}
