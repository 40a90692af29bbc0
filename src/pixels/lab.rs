//! Colours of sRGB as CIELAB and back, and the mean colour of a picture. Knows IEC 61966-2-1 and CIE 15;
//! knows no board.

use std::sync::LazyLock;

use libm::{cbrt, pow};

use super::Pixels;

/// The white of sRGB, D65, as its matrix makes it.
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];

/// IEC 61966-2-1: what each 8-bit value stands for, 0 to 1.
static LINEAR: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let one = |v: u32| {
        let c = f64::from(v) / 255.0;
        match c <= 0.040_45 {
            true => c / 12.92,
            false => pow((c + 0.055) / 1.055, 2.4),
        }
    };
    (0..=255).map(one).collect()
});

fn linear(v: u8) -> f64 {
    LINEAR.get(usize::from(v)).copied().unwrap_or(0.0)
}

fn encoded(v: f64) -> f64 {
    let c = match v <= 0.003_130_8 {
        true => 12.92 * v.max(0.0),
        false => 1.055 * pow(v.min(1.0), 1.0 / 2.4) - 0.055,
    };
    c * 255.0
}

/// CIELAB of light given as linear red, green and blue, 0 to 1.
pub fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
    let xyz = [
        0.412_456_4 * r + 0.357_576_1 * g + 0.180_437_5 * b,
        0.212_672_9 * r + 0.715_152_2 * g + 0.072_175_0 * b,
        0.019_333_9 * r + 0.119_192_0 * g + 0.950_304_1 * b,
    ];
    let f = |t: f64| match t > 216.0 / 24_389.0 {
        true => cbrt(t),
        false => (24_389.0 / 27.0 * t + 16.0) / 116.0,
    };
    let [x, y, z] = [0, 1, 2].map(|i: usize| {
        let (value, white) = (xyz.get(i), WHITE.get(i));
        f(value.copied().unwrap_or(0.0) / white.copied().unwrap_or(1.0))
    });
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// Red, green and blue of sRGB, 0 to 255, not yet rounded; what sRGB cannot show is clipped.
pub fn rgb([l, a, b]: [f64; 3]) -> [f64; 3] {
    let y = (l + 16.0) / 116.0;
    let back = |t: f64| match t * t * t > 216.0 / 24_389.0 {
        true => t * t * t,
        false => (116.0 * t - 16.0) * 27.0 / 24_389.0,
    };
    let [wx, wy, wz] = WHITE;
    let (x, y, z) = (
        wx * back(y + a / 500.0),
        wy * back(y),
        wz * back(y - b / 200.0),
    );
    [
        encoded(3.240_454_2 * x - 1.537_138_5 * y - 0.498_531_4 * z),
        encoded(-0.969_266_0 * x + 1.876_010_8 * y + 0.041_556_0 * z),
        encoded(0.055_643_4 * x - 0.204_025_9 * y + 1.057_225_2 * z),
    ]
}

/// Of a picture seen from so far that its pattern runs together: the mean of its light. Pixels are
/// counted on a grid of at most 128 × 128.
pub fn mean(picture: &Pixels) -> [f64; 3] {
    let step = |n: u32| (n / 128).max(1) as usize;
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    for y in (0..picture.height()).step_by(step(picture.height())) {
        for x in (0..picture.width()).step_by(step(picture.width())) {
            let [r, g, b] = picture.at(x, y).map(linear);
            let [sr, sg, sb] = sum;
            sum = [sr + r, sg + g, sb + b];
            count += 1.0;
        }
    }
    lab(sum.map(|s| s / f64::max(count, 1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    // CIE 15 with the matrix of IEC 61966-2-1, D65: widely published values of sRGB's corners,
    // from memory: red 53.24, 80.09, 67.20; green 87.73, −86.18, 83.18; blue 32.30, 79.19, −107.86.
    #[test]
    fn the_corners_of_srgb_lie_where_they_are_published() {
        let corners = [
            ([1.0, 0.0, 0.0], [53.24, 80.09, 67.20]),
            ([0.0, 1.0, 0.0], [87.73, -86.18, 83.18]),
            ([0.0, 0.0, 1.0], [32.30, 79.19, -107.86]),
            ([1.0, 1.0, 1.0], [100.0, 0.0, 0.0]),
        ];
        for (light, published) in corners {
            for (got, said) in lab(light).iter().zip(published) {
                assert!((got - said).abs() < 0.02, "{light:?}: {got} {said}");
            }
        }
    }

    #[test]
    fn there_and_back_is_the_same_colour() {
        for colour in [[12_u8, 200, 90], [3, 3, 4], [250, 128, 0], [88, 58, 38]] {
            let back = rgb(lab(colour.map(linear)));
            for (was, is) in colour.iter().zip(back) {
                assert!((f64::from(*was) - is).abs() < 0.05, "{colour:?} {back:?}");
            }
        }
    }
}
