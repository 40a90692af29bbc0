//! Colours of a picture brought to sRGB by the profile it carries. Knows profiles of three tone curves and
//! a matrix, as cameras and telephones write them; must not know what a picture shows.
//!
//! ICC.1:2010 (profile version 4.3), from memory: header §7.2, tag table §7.3, curves §10.5 and §10.15,
//! XYZ §10.27. Profiles of another make (tables, other colour spaces) are not read.

use libm::pow;

use super::Pixels;

/// Of what a picture's numbers are the colours.
#[derive(Clone, Debug, PartialEq)]
pub enum Colours {
    /// Of sRGB, or of nothing that is told: then they are taken for it.
    Srgb,
    /// Of another space, which this brings to sRGB.
    Other(Box<ToSrgb>),
    /// Of a profile that is not read: they stand as if they were of sRGB.
    Unread,
}

impl Colours {
    pub fn of(profile: Option<&[u8]>) -> Colours {
        let Some(profile) = profile else {
            return Colours::Srgb;
        };
        match ToSrgb::of(profile) {
            None => Colours::Unread,
            Some(to) if to.changes_nothing() => Colours::Srgb,
            Some(to) => Colours::Other(Box::new(to)),
        }
    }

    pub fn to_srgb(&self, mut pixels: Pixels) -> Pixels {
        if let Colours::Other(to) = self {
            for pixel in pixels.rgb.chunks_exact_mut(3) {
                if let [r, g, b] = pixel {
                    [*r, *g, *b] = to.one([*r, *g, *b]);
                }
            }
        }
        pixels
    }
}

/// Steps of light between none and all.
const STEPS: i64 = 16_383;
/// Parts of one in the matrix.
const ONE: f64 = 65_536.0;

#[derive(Clone, PartialEq)]
pub struct ToSrgb {
    /// Light of each value of each channel, in steps.
    light: [Vec<i64>; 3],
    /// From its light to that of sRGB, in 65536ths.
    matrix: [[i64; 3]; 3],
    /// The value in sRGB of each step of light.
    value: Vec<u8>,
}

impl std::fmt::Debug for ToSrgb {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "ToSrgb({:?})", self.matrix)
    }
}

/// From XYZ under D50 to the light of sRGB, adapted by Bradford: from memory, as it is commonly published
/// for IEC 61966-2-1's primaries.
const FROM_XYZ: [[f64; 3]; 3] = [
    [3.133_856_1, -1.616_866_7, -0.490_614_6],
    [-0.978_768_4, 1.916_141_5, 0.033_454_0],
    [0.071_945_3, -0.228_991_4, 1.405_242_7],
];

impl ToSrgb {
    fn of(profile: &[u8]) -> Option<ToSrgb> {
        let word = |at: usize| profile.get(at..at + 4);
        if word(36)? != b"acsp" || word(16)? != b"RGB " || word(20)? != b"XYZ " {
            return None;
        }
        let column = |name: &[u8; 4]| xyz(tag(profile, name)?);
        let columns = [column(b"rXYZ")?, column(b"gXYZ")?, column(b"bXYZ")?];
        let curve = |name: &[u8; 4]| {
            let curve = Curve::of(tag(profile, name)?)?;
            let light = (0..=255_u32).map(|v| curve.at(f64::from(v) / 255.0).clamp(0.0, 1.0));
            Some(light.map(|l| (l * STEPS as f64).round() as i64).collect())
        };
        let light = [curve(b"rTRC")?, curve(b"gTRC")?, curve(b"bTRC")?];
        let matrix = FROM_XYZ.map(|[x, y, z]| {
            columns.map(|[cx, cy, cz]| ((x * cx + y * cy + z * cz) * ONE).round() as i64)
        });
        let value = (0..=STEPS).map(|l| (encoded(l as f64 / STEPS as f64) * 255.0).round() as u8);
        Some(ToSrgb {
            light,
            matrix,
            value: value.collect(),
        })
    }

    /// What lies outside sRGB is brought to its edge, channel by channel.
    fn one(&self, rgb: [u8; 3]) -> [u8; 3] {
        let [lr, lg, lb] = &self.light;
        let light = |table: &Vec<i64>, v: u8| table.get(usize::from(v)).copied().unwrap_or(0);
        let [r, g, b] = rgb;
        let (r, g, b) = (light(lr, r), light(lg, g), light(lb, b));
        self.matrix.map(|[mr, mg, mb]| {
            let sum = (mr * r + mg * g + mb * b + (1 << 15)) >> 16;
            let at = usize::try_from(sum.clamp(0, STEPS)).unwrap_or(0);
            self.value.get(at).copied().unwrap_or(0)
        })
    }

    /// Whether no colour moves by more than two steps, which is what rounding in a profile comes to.
    fn changes_nothing(&self) -> bool {
        let steps = || (0..=255_u8).step_by(17);
        let mut all =
            steps().flat_map(|r| steps().flat_map(move |g| steps().map(move |b| [r, g, b])));
        all.all(|rgb| {
            let mut pairs = self.one(rgb).into_iter().zip(rgb);
            pairs.all(|(a, b)| a.abs_diff(b) <= 2)
        })
    }
}

/// IEC 61966-2-1's curve, from memory: light to value.
fn encoded(light: f64) -> f64 {
    match light <= 0.003_130_8 {
        true => light * 12.92,
        false => 1.055 * pow(light, 1.0 / 2.4) - 0.055,
    }
}

fn number(bytes: &[u8], at: usize) -> Option<usize> {
    let four: [u8; 4] = bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
    usize::try_from(u32::from_be_bytes(four)).ok()
}

/// A signed number with 16 bits after its point.
fn fixed(bytes: &[u8], at: usize) -> Option<f64> {
    let four: [u8; 4] = bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
    Some(f64::from(i32::from_be_bytes(four)) / 65_536.0)
}

fn short(bytes: &[u8], at: usize) -> Option<u16> {
    let two: [u8; 2] = bytes.get(at..at.checked_add(2)?)?.try_into().ok()?;
    Some(u16::from_be_bytes(two))
}

fn tag<'a>(profile: &'a [u8], name: &[u8; 4]) -> Option<&'a [u8]> {
    // More tags than any profile has are not looked at.
    let count = number(profile, 128)?.min(256);
    let row = (0..count).map(|n| 132 + n * 12);
    let mut row = row.filter(|at| profile.get(*at..at + 4) == Some(name));
    let at = row.next()?;
    let (from, size) = (number(profile, at + 4)?, number(profile, at + 8)?);
    profile.get(from..from.checked_add(size)?)
}

fn xyz(tag: &[u8]) -> Option<[f64; 3]> {
    if !tag.starts_with(b"XYZ ") {
        return None;
    }
    Some([fixed(tag, 8)?, fixed(tag, 12)?, fixed(tag, 16)?])
}

/// From a value to its light, each 0 to 1.
enum Curve {
    Table(Vec<u16>),
    /// Light = (a·v + b)^g + e from `d` on, before it c·v + f.
    Formula {
        g: f64,
        a: f64,
        b: f64,
        c: f64,
        d: f64,
        e: f64,
        f: f64,
    },
}

impl Curve {
    fn of(tag: &[u8]) -> Option<Curve> {
        let power = |g: f64| Curve::Formula {
            g,
            a: 1.0,
            b: 0.0,
            c: 0.0,
            d: 0.0,
            e: 0.0,
            f: 0.0,
        };
        if tag.starts_with(b"curv") {
            return match number(tag, 8)? {
                0 => Some(power(1.0)),
                1 => Some(power(f64::from(short(tag, 12)?) / 256.0)),
                n if n <= 65_536 => {
                    let all = (0..n).map(|i| short(tag, 12 + i * 2));
                    Some(Curve::Table(all.collect::<Option<Vec<u16>>>()?))
                }
                _ => None,
            };
        }
        if !tag.starts_with(b"para") {
            return None;
        }
        let p = |n: usize| fixed(tag, 12 + n * 4);
        let g = p(0)?;
        let kind = short(tag, 8)?;
        if kind == 0 {
            return Some(power(g));
        }
        let (a, b) = (p(1)?, p(2)?);
        // Where a·v + b comes to nothing.
        let zero = if a == 0.0 { 0.0 } else { -b / a };
        let (c, d, e, f) = match kind {
            1 => (0.0, zero, 0.0, 0.0),
            2 => (0.0, zero, p(3)?, p(3)?),
            3 => (p(3)?, p(4)?, 0.0, 0.0),
            4 => (p(3)?, p(4)?, p(5)?, p(6)?),
            _ => return None,
        };
        Some(Curve::Formula {
            g,
            a,
            b,
            c,
            d,
            e,
            f,
        })
    }

    fn at(&self, v: f64) -> f64 {
        match self {
            Curve::Table(all) => {
                let place = v * all.len().saturating_sub(1) as f64;
                let low = place as usize;
                let of = |n: usize| f64::from(all.get(n).copied().unwrap_or(u16::MAX)) / 65_535.0;
                of(low)
                    + (of((low + 1).min(all.len().saturating_sub(1))) - of(low))
                        * (place - low as f64)
            }
            Curve::Formula {
                g,
                a,
                b,
                c,
                d,
                e,
                f,
            } => match v >= *d {
                true => pow((a * v + b).max(0.0), *g) + e,
                false => c * v + f,
            },
        }
    }
}

#[cfg(test)]
pub mod tests {
    use super::*;

    /// A profile of three colorants under D50 and one curve, laid out as above.
    pub fn profile(columns: [[f64; 3]; 3], curve: &[u8]) -> Vec<u8> {
        let mut head = vec![0_u8; 128];
        head[16..20].copy_from_slice(b"RGB ");
        head[20..24].copy_from_slice(b"XYZ ");
        head[36..40].copy_from_slice(b"acsp");
        let s15 = |v: f64| ((v * 65_536.0).round() as i32).to_be_bytes();
        let names = [b"rXYZ", b"gXYZ", b"bXYZ", b"rTRC", b"gTRC", b"bTRC"];
        let mut table = 6_u32.to_be_bytes().to_vec();
        let mut data = Vec::new();
        let from = 128 + 4 + 6 * 12;
        for (n, name) in names.into_iter().enumerate() {
            let mut element = Vec::new();
            match columns.get(n) {
                Some(column) => {
                    element.extend(b"XYZ \0\0\0\0");
                    element.extend(column.iter().flat_map(|v| s15(*v)));
                }
                None => element.extend(curve),
            }
            table.extend(name);
            table.extend((from as u32 + data.len() as u32).to_be_bytes());
            table.extend((element.len() as u32).to_be_bytes());
            data.extend(element);
        }
        [head, table, data].concat()
    }

    /// IEC 61966-2-1's curve as a parametric one of kind 3.
    pub fn srgb_curve() -> Vec<u8> {
        let mut out = b"para\0\0\0\0\0\x03\0\0".to_vec();
        for v in [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045] {
            out.extend(((v * 65_536.0_f64).round() as i32).to_be_bytes());
        }
        out
    }

    /// Colorants of Display P3 under D50, as published in its profile: from memory.
    pub const P3: [[f64; 3]; 3] = [
        [0.51512, 0.24120, -0.00105],
        [0.29198, 0.69225, 0.04189],
        [0.15710, 0.06657, 0.78407],
    ];
    /// Those of sRGB: from memory.
    const SRGB: [[f64; 3]; 3] = [
        [0.43607, 0.22249, 0.01392],
        [0.38515, 0.71687, 0.09708],
        [0.14307, 0.06061, 0.71410],
    ];

    // Linear Display P3 to linear sRGB as CSS Color 4 publishes it, from memory.
    #[test]
    fn display_p3_is_brought_over_by_the_published_matrix() {
        let to = ToSrgb::of(&profile(P3, &srgb_curve())).expect("a profile");
        let published = [
            [1.2249, -0.2247, 0.0],
            [-0.0420, 1.0419, 0.0],
            [-0.0197, -0.0786, 1.0979],
        ];
        for (row, right) in to.matrix.iter().zip(published) {
            for (is, right) in row.iter().zip(right) {
                assert!((*is as f64 / ONE - right).abs() < 0.001, "{is} for {right}");
            }
        }
        // A tan that lies in both, by that matrix and the curve: by hand.
        let linear = |v: u8| {
            let v = f64::from(v) / 255.0;
            pow((v + 0.055) / 1.055, 2.4)
        };
        let rgb = [180_u8, 140, 100];
        let by_hand = published.map(|[r, g, b]| {
            let light = r * linear(rgb[0]) + g * linear(rgb[1]) + b * linear(rgb[2]);
            encoded(light) * 255.0
        });
        for (is, right) in to.one(rgb).into_iter().zip(by_hand) {
            assert!((f64::from(is) - right).abs() < 1.0, "{is} for {right}");
        }
        // White is white, black is black, and grey stays grey.
        for grey in [0, 17, 128, 255] {
            let is = to.one([grey; 3]);
            assert!(is.iter().all(|v| v.abs_diff(grey) <= 1), "{grey}: {is:?}");
        }
        // Outside sRGB: at its edge.
        assert_eq!(to.one([255, 0, 0]), [255, 0, 0]);
    }

    #[test]
    fn of_srgb_nothing_is_changed() {
        let own = profile(SRGB, &srgb_curve());
        assert_eq!(Colours::of(Some(&own)), Colours::Srgb);
        assert_eq!(Colours::of(None), Colours::Srgb);
        let p3 = profile(P3, &srgb_curve());
        assert!(matches!(Colours::of(Some(&p3)), Colours::Other(_)));
    }

    // ICC.1 §10.5: no entry is identity, one is a power in 8.8, several are a table.
    #[test]
    fn curves_of_every_kind_are_read() {
        let curve = |tag: &[u8]| Curve::of(tag).expect("a curve").at(0.5);
        assert!((curve(b"curv\0\0\0\0\0\0\0\0") - 0.5).abs() < 1e-9);
        assert!((curve(b"curv\0\0\0\0\0\0\0\x01\x02\0") - 0.25).abs() < 1e-9);
        let table = b"curv\0\0\0\0\0\0\0\x03\0\0\x33\x33\xff\xff";
        assert!((curve(table) - 0.2).abs() < 1e-4);
        let mut para = b"para\0\0\0\0\0\0\0\0".to_vec();
        para.extend((3_i32 << 16).to_be_bytes());
        assert!((curve(&para) - 0.125).abs() < 1e-9);
    }

    // Whatever stands in a file.
    #[test]
    fn a_damaged_profile_is_not_read() {
        let whole = profile(P3, &srgb_curve());
        for length in 0..whole.len() {
            assert_eq!(Colours::of(Some(&whole[..length])), Colours::Unread);
        }
        for at in 0..whole.len() {
            let mut broken = whole.clone();
            broken[at] = 0xFF;
            let grey = Pixels::new(1, 1, vec![9; 3]).expect("a pixel");
            assert_eq!(Colours::of(Some(&broken)).to_srgb(grey).rgb().len(), 3);
        }
        let mut paper = whole;
        paper[16..20].copy_from_slice(b"CMYK");
        assert_eq!(Colours::of(Some(&paper)), Colours::Unread);
    }
}
