//! Makes the pictures of the example's two boards, so that nobody's real board is in the
//! repository: `cargo run --example make_boards`. Uses only sums and products, so that every
//! machine makes the same pictures.

#![allow(clippy::disallowed_methods)] // makes files, and is no part of the program

use std::path::Path;

use image::{Rgb, RgbImage};

/// Pixels for each millimetre of board.
const PX_PER_MM: f64 = 0.5;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project/boards");
    std::fs::create_dir_all(&folder)?;
    std::fs::write(
        folder.join("smoked-larch.jpg"),
        jpeg(&larch(2800.0, 1220.0))?,
    )?;
    std::fs::write(
        folder.join("fluted-linden.jpg"),
        jpeg(&flutes(2440.0, 1220.0))?,
    )?;
    Ok(())
}

fn jpeg(picture: &RgbImage) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 85).encode_image(picture)?;
    Ok(bytes)
}

/// A fixed scatter of numbers from 0 to 1 over whole places.
fn scatter(x: i64, y: i64, seed: u64) -> f64 {
    let mut h = seed ^ (x as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    h ^= (y as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F);
    h = (h ^ (h >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    h = (h ^ (h >> 32)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((h >> 40) & 0xFFFF) as f64 / 65535.0
}

/// Smooth noise from 0 to 1.
fn noise(x: f64, y: f64, seed: u64) -> f64 {
    let (xi, yi) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * (3.0 - 2.0 * t);
    let (u, v) = (ease(x - xi), ease(y - yi));
    let (xi, yi) = (xi as i64, yi as i64);
    let mix = |a: f64, b: f64, t: f64| a + (b - a) * t;
    mix(
        mix(scatter(xi, yi, seed), scatter(xi + 1, yi, seed), u),
        mix(scatter(xi, yi + 1, seed), scatter(xi + 1, yi + 1, seed), u),
        v,
    )
}

fn shade(light: [f64; 3], dark: [f64; 3], t: f64) -> Rgb<u8> {
    let t = t.clamp(0.0, 1.0);
    let one = |n: usize| (light[n] + (dark[n] - light[n]) * t).clamp(0.0, 255.0) as u8;
    Rgb([one(0), one(1), one(2)])
}

fn paint(length: f64, width: f64, colour: impl Fn(f64, f64) -> Rgb<u8>) -> RgbImage {
    let (w, h) = ((length * PX_PER_MM) as u32, (width * PX_PER_MM) as u32);
    RgbImage::from_fn(w, h, |x, y| {
        colour(f64::from(x) / PX_PER_MM, f64::from(y) / PX_PER_MM)
    })
}

/// Grain along the board, in bands that wander and never repeat.
fn larch(length: f64, width: f64) -> RgbImage {
    paint(length, width, |x, y| {
        let wander = 90.0 * noise(x / 900.0, y / 260.0, 1) + 24.0 * noise(x / 240.0, y / 90.0, 2);
        let ring = (y + wander) / 21.0;
        let saw = ring - ring.floor();
        let band = if saw < 0.72 {
            saw / 0.72
        } else {
            (1.0 - saw) / 0.28
        };
        let fibre = noise(x / 130.0, y / 1.6, 3) * 0.5 + noise(x / 40.0, y / 2.4, 4) * 0.25;
        shade(
            [176.0, 132.0, 92.0],
            [88.0, 58.0, 38.0],
            0.15 + 0.55 * band * band + 0.4 * fibre - 0.1,
        )
    })
}

/// Round flutes along the board, every 32 mm.
fn flutes(length: f64, width: f64) -> RgbImage {
    paint(length, width, |x, y| {
        let t = (y / 32.0) - (y / 32.0).floor();
        let hollow = 4.0 * t * (1.0 - t);
        let edge = if !(0.05..=0.95).contains(&t) {
            0.45
        } else {
            0.0
        };
        let fibre = noise(x / 160.0, y / 1.8, 9);
        shade(
            [226.0, 205.0, 170.0],
            [128.0, 104.0, 76.0],
            0.7 - 0.55 * hollow + edge + 0.18 * fibre,
        )
    })
}
