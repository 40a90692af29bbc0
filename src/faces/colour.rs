//! What must be added to each board's picture so that neighbouring boards differ on paper as they were
//! measured to. Knows colours of boards; must not know where anything is cut.

use std::collections::BTreeMap;

use crate::pixels::{Pixels, lab};
use crate::reckon::pattern::layout::{CutBoard, PatternLayout};

type Lab = [f64; 3];

/// For each board of the layout, in the same order and in 256ths of a channel's steps; `faces` are their
/// pictures.
///
/// The mean of all measured boards keeps the mean colour of their pictures, as photographed: from it
/// each board lies as far as it was measured to lie from the mean of the boards. So the white of the
/// instrument and that of the camera need not be the same.
pub fn tints(layout: &PatternLayout, faces: &[Option<&Pixels>]) -> Vec<[i32; 3]> {
    let mut means: BTreeMap<*const Pixels, Lab> = BTreeMap::new();
    for face in faces.iter().flatten() {
        means
            .entry(std::ptr::from_ref(*face))
            .or_insert_with(|| lab::mean(face));
    }
    let seen = |face: &Option<&Pixels>| face.and_then(|f| means.get(&std::ptr::from_ref(f)));
    let measured: Vec<(Lab, Lab)> = (layout.boards.iter().zip(faces))
        .filter_map(|(board, face)| Some((real(board.lab?), *seen(face)?)))
        .collect();
    let middle = |of: fn(&(Lab, Lab)) -> Lab| {
        let sum = measured
            .iter()
            .map(of)
            .reduce(|a, b| zip(a, b, |x, y| x + y));
        sum.map(|s| s.map(|v| v / measured.len() as f64))
    };
    let (Some(boards), Some(pictures)) = (middle(|m| m.0), middle(|m| m.1)) else {
        return vec![[0; 3]; layout.boards.len()];
    };
    let one = |(board, face): (&CutBoard, _)| {
        let (Some(lab), Some(shown)) = (board.lab, seen(face)) else {
            return [0; 3];
        };
        let wanted = zip(pictures, zip(real(lab), boards, |a, b| a - b), |a, b| a + b);
        let by = zip(lab::rgb(wanted), lab::rgb(*shown), |to, from| to - from);
        by.map(|v| (v * 256.0).round().clamp(-65_280.0, 65_280.0) as i32)
    };
    layout.boards.iter().zip(faces).map(one).collect()
}

fn real(thousandths: [i64; 3]) -> Lab {
    thousandths.map(|v| v as f64 / 1000.0)
}

fn zip(a: Lab, b: Lab, with: fn(f64, f64) -> f64) -> Lab {
    let ([a0, a1, a2], [b0, b1, b2]) = (a, b);
    [with(a0, b0), with(a1, b1), with(a2, b2)]
}
