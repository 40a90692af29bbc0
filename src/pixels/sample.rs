//! A piece of a picture at another size, upright or turned, running on beyond the picture's edges.
//! Knows places in parts of the picture; must not know millimetres.

use super::Pixels;

/// How a picture goes on beyond its edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fold {
    /// Again from the beginning, after so much of the picture (1: all of it).
    Again(f64),
    /// Back the way it came, so that no seam is seen.
    Back,
}

impl Fold {
    /// Into 0 to 1.
    fn folded(self, t: f64) -> f64 {
        match self {
            Fold::Again(every) if every > 0.0 => t - (t / every).floor() * every,
            Fold::Again(_) | Fold::Back => {
                let t = t - (t / 2.0).floor() * 2.0;
                if t > 1.0 { 2.0 - t } else { t }
            }
        }
    }
}

/// What one axis of the piece shows of the picture, as parts of it: `from` at its beginning, `to` at
/// its end; either may lie outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    pub from: f64,
    pub to: f64,
    pub fold: Fold,
    /// Pixels of the piece.
    pub pixels: u32,
}

/// Two neighbouring places and how much of the second, in 256ths.
type Tap = (usize, usize, u32);

impl Axis {
    /// `back`: over the picture's axis from its far end.
    fn taps(self, of: u32, back: bool) -> Vec<Tap> {
        let last = f64::from(of - 1);
        let step = (self.to - self.from) / f64::from(self.pixels.max(1));
        let one = |n: u32| {
            let t = self.fold.folded(self.from + step * (f64::from(n) + 0.5));
            let t = if back { 1.0 - t } else { t };
            let at = (t * f64::from(of) - 0.5).clamp(0.0, last);
            let low = at as usize;
            let part = ((at - low as f64) * 256.0) as u32;
            (low, (low + 1).min(of as usize - 1), part)
        };
        (0..self.pixels).map(one).collect()
    }
}

/// Where a value is rounded up, by turns over 4 × 4 pixels, in 65536ths: Bayer's ordered dither (1973,
/// from memory).
const SCATTER: [[i32; 4]; 4] = [
    [2048, 34_816, 10_240, 43_008],
    [51_200, 18_432, 59_392, 26_624],
    [14_336, 47_104, 6144, 38_912],
    [63_488, 30_720, 55_296, 22_528],
];

/// `across` runs to the right and `up` upwards, of a picture seen upright, or, where `turned`, of
/// the picture turned a quarter counter-clockwise. `tint` is added to each channel, in 256ths of its
/// steps: what no step can show is scattered over neighbouring pixels.
pub fn sampled(
    picture: &Pixels,
    turned: bool,
    across: Axis,
    up: Axis,
    tint: [i32; 3],
) -> Option<Pixels> {
    let (of_across, of_up) = match turned {
        false => (picture.width(), picture.height()),
        true => (picture.height(), picture.width()),
    };
    let columns = across.taps(of_across, false);
    // Upright, the picture's rows run down; turned, its own width runs up.
    let mut rows = up.taps(of_up, !turned);
    rows.reverse();
    let stride = picture.width() as usize * 3;
    let (dx, dy) = match turned {
        false => (3, stride),
        true => (stride, 3),
    };
    let source = picture.rgb();
    let mut rgb = Vec::with_capacity(rows.len() * columns.len() * 3);
    let [tr, tg, tb] = tint.map(|t| t * 256);
    for ((top, below, fy), scatter) in rows.into_iter().zip(SCATTER.iter().cycle()) {
        let (top, below) = (top * dy, below * dy);
        for ((left, right, fx), round) in columns.iter().zip(scatter.iter().cycle()) {
            let (left, right) = (left * dx, right * dx);
            let corners = [
                source.get(top + left..),
                source.get(top + right..),
                source.get(below + left..),
                source.get(below + right..),
            ];
            let [
                Some([ar, ag, ab, ..]),
                Some([br, bg, bb, ..]),
                Some([cr, cg, cb, ..]),
                Some([er, eg, eb, ..]),
            ] = corners
            else {
                return None;
            };
            let mix = |a: u8, b: u8, c: u8, d: u8, tint: i32| {
                let over = u32::from(a) * (256 - fx) + u32::from(b) * fx;
                let under = u32::from(c) * (256 - fx) + u32::from(d) * fx;
                let value = (over * (256 - fy) + under * fy) as i32;
                ((value + tint + round) >> 16).clamp(0, 255) as u8
            };
            rgb.push(mix(*ar, *br, *cr, *er, tr));
            rgb.push(mix(*ag, *bg, *cg, *eg, tg));
            rgb.push(mix(*ab, *bb, *cb, *eb, tb));
        }
    }
    Pixels::new(across.pixels, up.pixels, rgb)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Red grows to the right, green grows downwards, by 10 a pixel.
    fn ramp(width: u32, height: u32) -> Pixels {
        let row = |y: u32| (0..width).flat_map(move |x| [(x * 10) as u8, (y * 10) as u8, 0]);
        Pixels::new(width, height, (0..height).flat_map(row).collect()).expect("a ramp")
    }

    fn axis(from: f64, to: f64, pixels: u32, fold: Fold) -> Axis {
        Axis {
            from,
            to,
            fold,
            pixels,
        }
    }

    // By hand, on ramps: pixel x of 20 stands for 10·x.
    #[test]
    fn a_piece_is_what_stands_there() {
        let picture = ramp(20, 10);
        // Columns 5 to 10, the lowest two rows.
        let (across, up) = (
            axis(0.25, 0.5, 5, Fold::Back),
            axis(0.0, 0.2, 2, Fold::Back),
        );
        let piece = sampled(&picture, false, across, up, [0; 3]).expect("a piece");
        assert_eq!(piece.at(0, 0), [50, 80, 0]);
        assert_eq!(piece.at(4, 1), [90, 90, 0]);
    }

    // By hand: turned a quarter counter-clockwise the right end comes up, and what was the top lies
    // at the left.
    #[test]
    fn turned_its_right_end_comes_up() {
        let picture = ramp(20, 10);
        let (across, up) = (
            axis(0.0, 1.0, 10, Fold::Back),
            axis(0.0, 1.0, 20, Fold::Back),
        );
        let piece = sampled(&picture, true, across, up, [0; 3]).expect("a piece");
        assert_eq!((piece.width(), piece.height()), (10, 20));
        assert_eq!(piece.at(0, 0), [190, 0, 0]);
        assert_eq!(piece.at(0, 19), [0, 0, 0]);
        assert_eq!(piece.at(9, 19), [0, 90, 0]);
    }

    #[test]
    fn beyond_its_edge_it_runs_on_again_or_back() {
        let picture = ramp(20, 10);
        let up = axis(0.0, 1.0, 10, Fold::Back);
        let again = axis(0.5, 1.5, 20, Fold::Again(1.0));
        let piece = sampled(&picture, false, again, up, [0; 3]).expect("a piece");
        assert_eq!((piece.at(9, 0)[0], piece.at(10, 0)[0]), (190, 0));
        let back = axis(0.5, 1.5, 20, Fold::Back);
        let piece = sampled(&picture, false, back, up, [0; 3]).expect("a piece");
        assert_eq!((piece.at(9, 0)[0], piece.at(10, 0)[0]), (190, 190));
        let part = axis(0.0, 1.0, 20, Fold::Again(0.25));
        let piece = sampled(&picture, false, part, up, [0; 3]).expect("a piece");
        assert_eq!((piece.at(4, 0)[0], piece.at(5, 0)[0]), (40, 0));
    }

    #[test]
    fn a_tint_is_added_and_kept_within_what_can_be_shown() {
        let picture = ramp(20, 10);
        let (across, up) = (
            axis(0.0, 1.0, 20, Fold::Back),
            axis(0.0, 1.0, 10, Fold::Back),
        );
        let piece =
            sampled(&picture, false, across, up, [7 * 256, -200 * 256, 5 * 256]).expect("a piece");
        assert_eq!(piece.at(3, 0), [37, 0, 5]);
        // A quarter of a step: four of sixteen pixels are a step brighter.
        let piece = sampled(&picture, false, across, up, [64, 0, 0]).expect("a piece");
        let mut raised = 0;
        for n in 0..16 {
            let x = n % 4 + 4;
            raised += u32::from(piece.at(x, n / 4)[0] - (x * 10) as u8);
        }
        assert_eq!(raised, 4);
    }
}
