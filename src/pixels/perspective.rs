//! A picture taken aslant put right from the four corners of what it shows. Knows plane perspective;
//! must not know what was photographed.

use super::Pixels;

/// Of what the picture shows: bottom left, then clockwise: top left, top right, bottom right. In
/// pixels from the picture's top left.
pub type Corners = [(f64, f64); 4];

/// Longest side of what comes of it, in pixels.
const MOST: f64 = 8000.0;

/// Upright and square, as large as the corners lie apart; `None` where they make no four-cornered
/// figure that a picture can show (three in a line, or crossed).
pub fn put_right(picture: &Pixels, corners: Corners) -> Option<Pixels> {
    let [bl, tl, tr, br] = corners;
    if !turns_one_way(&corners) {
        return None;
    }
    let apart = |a: (f64, f64), b: (f64, f64)| libm::hypot(a.0 - b.0, a.1 - b.1);
    let side = |a: f64, b: f64| a.max(b).round().clamp(1.0, MOST);
    let (w, h) = (
        side(apart(tl, tr), apart(bl, br)),
        side(apart(tl, bl), apart(tr, br)),
    );
    let unit = [(0.0, h), (0.0, 0.0), (w, 0.0), (w, h)];
    let to = homography(unit, [bl, tl, tr, br])?;
    let (width, height) = (w as u32, h as u32);
    let mut rgb = Vec::with_capacity(width as usize * height as usize * 3);
    let [a, b, c, d, e, f, g, i] = to;
    for y in 0..height {
        let v = f64::from(y) + 0.5;
        for x in 0..width {
            let u = f64::from(x) + 0.5;
            let below = g * u + i * v + 1.0;
            let at = ((a * u + b * v + c) / below, (d * u + e * v + f) / below);
            rgb.extend(bilinear(picture, at.0 - 0.5, at.1 - 0.5));
        }
    }
    Pixels::new(width, height, rgb)
}

/// Convex, and named clockwise as seen (or all the other way, as in a mirror, which is not).
fn turns_one_way(corners: &Corners) -> bool {
    let next = |i: usize| corners.get(i % 4).copied().unwrap_or_default();
    (0..4).all(|i| {
        let (a, b, c) = (next(i), next(i + 1), next(i + 2));
        (b.0 - a.0) * (c.1 - b.1) - (b.1 - a.1) * (c.0 - b.0) > 1.0
    })
}

/// The eight numbers of the projection that takes each of `from` to its fellow in `to`:
/// x = (a·u + b·v + c)/(g·u + i·v + 1), y = (d·u + e·v + f)/(g·u + i·v + 1).
fn homography(from: Corners, to: Corners) -> Option<[f64; 8]> {
    let mut rows: Vec<[f64; 9]> = Vec::new();
    for ((u, v), (x, y)) in from.into_iter().zip(to) {
        rows.push([u, v, 1.0, 0.0, 0.0, 0.0, -u * x, -v * x, x]);
        rows.push([0.0, 0.0, 0.0, u, v, 1.0, -u * y, -v * y, y]);
    }
    solved(rows)
}

/// Eight equations in eight unknowns, by elimination with the largest pivot.
fn solved(mut rows: Vec<[f64; 9]>) -> Option<[f64; 8]> {
    let cell = |row: &[f64; 9], n: usize| row.get(n).copied().unwrap_or(0.0);
    for n in 0..8 {
        let by_size = |a: &usize, b: &usize| {
            let size = |i: &usize| rows.get(*i).map_or(0.0, |r| cell(r, n).abs());
            size(a).total_cmp(&size(b))
        };
        let pivot = (n..8).max_by(by_size)?;
        rows.swap(n, pivot);
        let lead = *rows.get(n)?;
        let by = cell(&lead, n);
        if by.abs() < 1e-9 {
            return None;
        }
        for (m, row) in rows.iter_mut().enumerate() {
            if m != n {
                let times = cell(row, n) / by;
                for (value, above) in row.iter_mut().zip(lead) {
                    *value -= times * above;
                }
            }
        }
    }
    let mut out = [0.0; 8];
    for (n, (value, row)) in out.iter_mut().zip(&rows).enumerate() {
        *value = cell(row, 8) / cell(row, n);
    }
    out.iter().all(|v| v.is_finite()).then_some(out)
}

fn bilinear(picture: &Pixels, x: f64, y: f64) -> [u8; 3] {
    let (x, y) = (
        x.clamp(0.0, f64::from(picture.width() - 1)),
        y.clamp(0.0, f64::from(picture.height() - 1)),
    );
    let (left, top) = (x as u32, y as u32);
    let (fx, fy) = (x - f64::from(left), y - f64::from(top));
    let mix = |a: u8, b: u8, t: f64| f64::from(a) + (f64::from(b) - f64::from(a)) * t;
    let (p, q) = (picture.at(left, top), picture.at(left + 1, top));
    let (r, s) = (picture.at(left, top + 1), picture.at(left + 1, top + 1));
    let mut out = [0; 3];
    for (n, value) in out.iter_mut().enumerate() {
        let of = |pixel: [u8; 3]| pixel.get(n).copied().unwrap_or(0);
        let (above, below) = (mix(of(p), of(q), fx), mix(of(r), of(s), fx));
        *value = (above + (below - above) * fy).round() as u8;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const FROM: Corners = [(0.0, 100.0), (0.0, 0.0), (200.0, 0.0), (200.0, 100.0)];
    const TO: Corners = [(10.0, 190.0), (30.0, 20.0), (260.0, 40.0), (290.0, 170.0)];

    fn taken(p: (f64, f64), [a, b, c, d, e, f, g, i]: [f64; 8]) -> (f64, f64) {
        let below = g * p.0 + i * p.1 + 1.0;
        let x = (a * p.0 + b * p.1 + c) / below;
        (x, (d * p.0 + e * p.1 + f) / below)
    }

    // By hand: a projection takes corners to corners, and the meeting of the diagonals to the
    // meeting of the diagonals, which it keeps (projective geometry).
    #[test]
    fn corners_and_the_meeting_of_the_diagonals_are_kept() {
        let by = homography(FROM, TO).expect("a projection");
        for (from, to) in FROM.into_iter().zip(TO) {
            let got = taken(from, by);
            assert!((got.0 - to.0).abs() < 1e-6 && (got.1 - to.1).abs() < 1e-6);
        }
        let [bl, tl, tr, br] = TO;
        // bl + t·(tr − bl) on tl + s·(br − tl)
        let (d1, d2) = ((tr.0 - bl.0, tr.1 - bl.1), (br.0 - tl.0, br.1 - tl.1));
        let cross = d1.0 * d2.1 - d1.1 * d2.0;
        let t = ((tl.0 - bl.0) * d2.1 - (tl.1 - bl.1) * d2.0) / cross;
        let meet = (bl.0 + t * d1.0, bl.1 + t * d1.1);
        let got = taken((100.0, 50.0), by);
        assert!((got.0 - meet.0).abs() < 1e-6 && (got.1 - meet.1).abs() < 1e-6);
    }

    // A chequer of 4 × 2 photographed aslant by the projection itself comes back square: every
    // field's middle has its colour.
    #[test]
    fn a_chequer_taken_aslant_comes_back_square() {
        let back = homography(TO, FROM).expect("a projection");
        let (width, height) = (300, 200);
        let mut rgb = Vec::new();
        for y in 0..height {
            for x in 0..width {
                let (u, v) = taken((f64::from(x) + 0.5, f64::from(y) + 0.5), back);
                let on = ((u / 50.0).floor() + (v / 50.0).floor()) as i64 % 2 == 0;
                rgb.extend(if on { [240; 3] } else { [10; 3] });
            }
        }
        let photo = Pixels::new(width, height, rgb).expect("300 x 200");
        let right = put_right(&photo, TO).expect("put right");
        let (w, h) = (right.width(), right.height());
        for (column, row) in [
            (0, 0),
            (1, 0),
            (2, 0),
            (3, 0),
            (0, 1),
            (1, 1),
            (2, 1),
            (3, 1),
        ] {
            let at = right.at((column * 2 + 1) * w / 8, (row * 2 + 1) * h / 4);
            let bright = at[0] > 128;
            assert_eq!(bright, (column + row) % 2 == 0, "field {column}, {row}");
        }
    }

    #[test]
    fn corners_that_make_no_figure_are_refused() {
        let picture = Pixels::new(2, 2, vec![9; 12]).expect("2 x 2");
        let line = [(0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (30.0, 0.0)];
        assert!(put_right(&picture, line).is_none());
        let [bl, tl, tr, br] = TO;
        assert!(put_right(&picture, [bl, tr, tl, br]).is_none(), "crossed");
        assert!(put_right(&picture, [br, tr, tl, bl]).is_none(), "mirrored");
    }

    proptest::proptest! {
        // Whatever four corners a file names.
        #[test]
        fn any_corners_are_put_right_or_refused(all in proptest::array::uniform8(-3.0_f64..70.0)) {
            let picture = Pixels::new(64, 48, vec![90; 64 * 48 * 3]).expect("a picture");
            let [a, b, c, d, e, f, g, h] = all;
            for corners in [
                [(a, b), (c, d), (e, f), (g, h)],
                [(a.round(), b.round()), (a.round(), d), (e, d), (e, b.round())],
            ] {
                if let Some(right) = put_right(&picture, corners) {
                    proptest::prop_assert!(right.rgb().iter().all(|v| *v == 90));
                }
            }
        }
    }
}
