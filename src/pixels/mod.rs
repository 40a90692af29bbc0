//! Pictures as pixels: decoding, putting right, sampling, colour, JPEG. Knows rasters and their
//! arithmetic; knows nothing of furniture and touches no file.

mod decode;
mod icc;
mod jpeg;
pub mod lab;
mod perspective;
mod sample;

pub use decode::{BadPicture, Decoded, decode};
pub use icc::Colours;
pub use jpeg::jpeg;
pub use perspective::{Corners, put_right};
pub use sample::{Axis, Fold, sampled};

use image::DynamicImage;

/// A picture in sRGB, 8 bits a channel, rows from the top.
#[derive(Clone, PartialEq)]
pub struct Pixels {
    width: u32,
    height: u32,
    rgb: Vec<u8>,
}

impl std::fmt::Debug for Pixels {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Pixels({}x{})", self.width, self.height)
    }
}

impl Pixels {
    /// `None` where there are not three bytes for each pixel, or no pixel at all.
    pub fn new(width: u32, height: u32, rgb: Vec<u8>) -> Option<Pixels> {
        let wanted = u64::from(width) * u64::from(height) * 3;
        (wanted > 0 && rgb.len() as u64 == wanted).then_some(Pixels { width, height, rgb })
    }
    pub fn width(&self) -> u32 {
        self.width
    }
    pub fn height(&self) -> u32 {
        self.height
    }
    pub fn rgb(&self) -> &[u8] {
        &self.rgb
    }
    /// The nearest pixel there is.
    pub fn at(&self, x: u32, y: u32) -> [u8; 3] {
        let (x, y) = (x.min(self.width - 1), y.min(self.height - 1));
        let from = (y as usize * self.width as usize + x as usize) * 3;
        match self.rgb.get(from..from + 3) {
            Some([r, g, b]) => [*r, *g, *b],
            _ => [0; 3],
        }
    }
    /// No side longer than `most`: the same picture where none is. Each new pixel is the mean of those
    /// that fall into it.
    pub fn shrunk(self, most: u32) -> Pixels {
        match self.width.max(self.height) <= most.max(1) {
            true => self,
            false => self.smaller(most),
        }
    }
    /// The same, of a picture that is kept.
    pub fn smaller(&self, most: u32) -> Pixels {
        let long = self.width.max(self.height);
        if long <= most.max(1) {
            return self.clone();
        }
        let part = |n: u32| (u64::from(n) * u64::from(most.max(1)) / u64::from(long)).max(1) as u32;
        let (width, height) = (part(self.width), part(self.height));
        let place = |n: u32, of: u32, into: u32| u64::from(n) * u64::from(into) / u64::from(of);
        let mut across = vec![0_u32; width as usize];
        for x in 0..self.width {
            if let Some(count) = across.get_mut(place(x, self.width, width) as usize) {
                *count += 1;
            }
        }
        let mut rgb = Vec::with_capacity(width as usize * height as usize * 3);
        let mut sums = vec![0_u32; width as usize * 3];
        let (mut rows, mut row) = (0_u32, 0);
        let mut flush = |sums: &mut Vec<u32>, rows: &mut u32| {
            for (pixel, count) in sums.chunks_exact(3).zip(&across) {
                let of = (count * *rows).max(1);
                rgb.extend(pixel.iter().map(|sum| ((sum + of / 2) / of) as u8));
            }
            sums.fill(0);
            *rows = 0;
        };
        for (y, line) in (0..).zip(self.rgb.chunks_exact(self.width as usize * 3)) {
            let now = place(y, self.height, height);
            if now != row {
                flush(&mut sums, &mut rows);
                row = now;
            }
            let mut line = line;
            for (sum, count) in sums.chunks_exact_mut(3).zip(&across) {
                let Some((here, rest)) = line.split_at_checked(*count as usize * 3) else {
                    break;
                };
                line = rest;
                let (mut r, mut g, mut b) = (0, 0, 0);
                for pixel in here.chunks_exact(3) {
                    if let [pr, pg, pb] = pixel {
                        r += u32::from(*pr);
                        g += u32::from(*pg);
                        b += u32::from(*pb);
                    }
                }
                for (sum, more) in sum.iter_mut().zip([r, g, b]) {
                    *sum += more;
                }
            }
            rows += 1;
        }
        flush(&mut sums, &mut rows);
        Pixels::new(width, height, rgb).unwrap_or_else(Pixels::blank)
    }
    fn blank() -> Pixels {
        Pixels {
            width: 1,
            height: 1,
            rgb: vec![0; 3],
        }
    }
    fn from_image(image: DynamicImage) -> Pixels {
        let (width, height) = (image.width(), image.height());
        let rgb = match image.color().has_alpha() {
            false => image.into_rgb8().into_raw(),
            // What is seen through lies on white paper.
            true => {
                let over = |c: u8, a: u8| {
                    let (c, a) = (u32::from(c), u32::from(a));
                    u8::try_from((c * a + 255 * (255 - a) + 127) / 255).unwrap_or(255)
                };
                let dots = image.into_rgba8().into_raw();
                let each = dots.as_chunks::<4>().0.iter();
                each.flat_map(|[r, g, b, a]| [over(*r, *a), over(*g, *a), over(*b, *a)])
                    .collect()
            }
        };
        Pixels::new(width, height, rgb).unwrap_or_else(Pixels::blank)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: means of 2 × 2, and of 3 × 1 where the sides do not divide.
    #[test]
    fn a_shrunk_picture_has_the_mean_of_what_was_there() {
        let grey = |v: &[u8]| v.iter().flat_map(|v| [*v; 3]).collect::<Vec<u8>>();
        let four = Pixels::new(4, 2, grey(&[0, 10, 100, 104, 20, 30, 108, 112])).expect("4 x 2");
        assert_eq!(four.shrunk(2).rgb(), grey(&[15, 106]));
        let seven = Pixels::new(7, 1, grey(&[3, 6, 9, 10, 10, 20, 20])).expect("7 x 1");
        let small = seven.shrunk(3);
        assert_eq!((small.width(), small.height()), (3, 1));
        assert_eq!(small.rgb(), grey(&[6, 10, 20]));
        let same = Pixels::new(2, 1, grey(&[1, 2])).expect("2 x 1");
        assert_eq!(same.clone().shrunk(2), same);
    }
}
