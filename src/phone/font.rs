//! One small TrueType font with just the characters that drawings need, so that their words stand where they
//! were measured. Knows outlines and the tables a browser asks for; must not know the words.
//!
//! Tables and fields are those of the OpenType specification 1.9 (ISO/IEC 14496-22). The outlines are those of
//! the bundled fonts, unhinted; the font carries no name of theirs, as their licence asks of what is changed.

use std::collections::{BTreeMap, BTreeSet};

use ttf_parser::{Face, GlyphId, OutlineBuilder};

use crate::lettering;

/// A font of these characters, bold or not. Characters that no bundled font has are left out.
pub fn subset(letters: &BTreeSet<char>, bold: bool) -> Vec<u8> {
    let faces: Vec<Face> = lettering::in_order(bold)
        .filter_map(|face| Face::parse(face.bytes, 0).ok())
        .collect();
    let Some(main) = faces.first() else {
        return Vec::new();
    };
    let em = main.units_per_em();
    // Glyph 0 is what stands for a character that is missing.
    let mut glyphs = vec![glyph(main, GlyphId(0), em)];
    let mut places: BTreeMap<u16, u16> = BTreeMap::new();
    for &c in letters {
        let found = faces.iter().find_map(|f| Some((f, f.glyph_index(c)?)));
        // Beyond 16 bits there are a few signs, left to the reader's own fonts.
        if let (Some((face, id)), Ok(code), Ok(place)) = (
            found,
            u16::try_from(u32::from(c)),
            u16::try_from(glyphs.len()),
        ) {
            glyphs.push(glyph(face, id, em));
            places.insert(code, place);
        }
    }
    let tables = tables(main, &glyphs, &places);
    file(&tables)
}

/// An outline in font units, y up.
#[derive(Default)]
struct Glyph {
    advance: u16,
    contours: Vec<Vec<Point>>,
}

#[derive(Clone, Copy, PartialEq)]
struct Point {
    x: f32,
    y: f32,
    on: bool,
}

fn glyph(face: &Face, id: GlyphId, em: u16) -> Glyph {
    let scale = f32::from(em) / f32::from(face.units_per_em().max(1));
    let mut drawn = Contours {
        scale,
        all: Vec::new(),
    };
    face.outline_glyph(id, &mut drawn);
    let mut contours = drawn.all;
    contours.iter_mut().for_each(tidy);
    contours.retain(|c| c.len() > 1);
    let advance = f32::from(face.glyph_hor_advance(id).unwrap_or(0)) * scale;
    Glyph {
        advance: advance.round() as u16,
        contours,
    }
}

struct Contours {
    scale: f32,
    all: Vec<Vec<Point>>,
}

impl Contours {
    fn add(&mut self, x: f32, y: f32, on: bool) {
        let (x, y) = (x * self.scale, y * self.scale);
        if let Some(last) = self.all.last_mut() {
            last.push(Point { x, y, on });
        }
    }
}

impl OutlineBuilder for Contours {
    fn move_to(&mut self, x: f32, y: f32) {
        self.all.push(Vec::new());
        self.add(x, y, true);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.add(x, y, true);
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.add(x1, y1, false);
        self.add(x, y, true);
    }
    /// The bundled fonts have no cubic curves; a quadratic one through the middle of its handles is near.
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.add((x1 + x2) / 2.0, (y1 + y2) / 2.0, false);
        self.add(x, y, true);
    }
    fn close(&mut self) {}
}

/// Without the end that is its beginning again, and without points on the curve that are implied between
/// two that are off it.
fn tidy(contour: &mut Vec<Point>) {
    if contour.len() > 1 && contour.first() == contour.last() {
        contour.pop();
    }
    let all = contour.clone();
    let mut n = 0;
    contour.retain(|p| {
        let (before, after) = (n.max(1) - 1, (n + 1) % all.len().max(1));
        let implied = match (all.get(before), all.get(after)) {
            (Some(a), Some(b)) if n > 0 => {
                let middle = ((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
                p.on && !a.on && !b.on && middle == (p.x, p.y)
            }
            _ => false,
        };
        n += 1;
        !implied
    });
}

/// Big-endian bytes.
#[derive(Default)]
struct Bytes(Vec<u8>);

impl Bytes {
    fn u16s(mut self, all: &[u16]) -> Bytes {
        for n in all {
            self.0.extend(n.to_be_bytes());
        }
        self
    }
    fn i16s(mut self, all: &[i16]) -> Bytes {
        for n in all {
            self.0.extend(n.to_be_bytes());
        }
        self
    }
    fn u32s(mut self, all: &[u32]) -> Bytes {
        for n in all {
            self.0.extend(n.to_be_bytes());
        }
        self
    }
    fn raw(mut self, bytes: &[u8]) -> Bytes {
        self.0.extend_from_slice(bytes);
        self
    }
}

fn whole(v: f32) -> i16 {
    v.round() as i16
}

/// Left, bottom, right, top.
fn bounds(glyph: &Glyph) -> [i16; 4] {
    let points = || glyph.contours.iter().flatten();
    let x = || points().map(|p| whole(p.x));
    let y = || points().map(|p| whole(p.y));
    [x().min(), y().min(), x().max(), y().max()].map(|v| v.unwrap_or(0))
}

/// As `glyf` has it: nothing for a blank, else its ends, flags and steps from point to point.
fn outline(glyph: &Glyph) -> Vec<u8> {
    if glyph.contours.is_empty() {
        return Vec::new();
    }
    let mut ends = Vec::new();
    let mut points = 0u16;
    for contour in &glyph.contours {
        points = points.saturating_add(contour.len() as u16);
        ends.push(points.saturating_sub(1));
    }
    let mut flags = Vec::new();
    let (mut across, mut up) = (Vec::new(), Vec::new());
    let mut pen = (0i16, 0i16);
    for point in glyph.contours.iter().flatten() {
        let to = (whole(point.x), whole(point.y));
        let step = (to.0.saturating_sub(pen.0), to.1.saturating_sub(pen.1));
        let short = coordinate(step.0, 0x02, 0x10, &mut across);
        flags.push(u8::from(point.on) | short | coordinate(step.1, 0x04, 0x20, &mut up));
        pen = to;
    }
    Bytes::default()
        .i16s(&[glyph.contours.len() as i16])
        .i16s(&bounds(glyph))
        .u16s(&ends)
        // No instructions.
        .u16s(&[0])
        .raw(&flags)
        .raw(&across)
        .raw(&up)
        .0
}

/// One step: nothing where it is none, a byte where that is enough. Gives the flags that say so.
fn coordinate(step: i16, short: u8, same: u8, out: &mut Vec<u8>) -> u8 {
    match (step, u8::try_from(step.unsigned_abs())) {
        (0, _) => same,
        (step, Ok(size)) => {
            out.push(size);
            if step > 0 { short | same } else { short }
        }
        (step, Err(_)) => {
            out.extend(step.to_be_bytes());
            0
        }
    }
}

type Table = (&'static [u8; 4], Vec<u8>);

/// In the order of their tags.
fn tables(main: &Face, glyphs: &[Glyph], places: &BTreeMap<u16, u16>) -> Vec<Table> {
    let count = glyphs.len() as u16;
    let (mut glyf, mut loca, mut hmtx) = (Vec::new(), vec![0u32], Bytes::default());
    for glyph in glyphs {
        glyf.extend(outline(glyph));
        // Each begins at a multiple of four.
        glyf.resize(glyf.len().next_multiple_of(4), 0);
        loca.push(glyf.len() as u32);
        hmtx = hmtx.u16s(&[glyph.advance]).i16s(&[bounds(glyph)[0]]);
    }
    let all: Vec<[i16; 4]> = glyphs.iter().map(bounds).collect();
    let least = |n: usize| all.iter().filter_map(|b| b.get(n)).min().map_or(0, |v| *v);
    let most = |n: usize| all.iter().filter_map(|b| b.get(n)).max().map_or(0, |v| *v);
    let widest = glyphs.iter().map(|g| g.advance).max().unwrap_or(0);
    let contours = glyphs.iter().map(|g| g.contours.len()).max().unwrap_or(0) as u16;
    let points = |g: &Glyph| g.contours.iter().map(Vec::len).sum::<usize>();
    let points = glyphs.iter().map(points).max().unwrap_or(0) as u16;
    let (up, down) = (main.ascender(), main.descender());
    let first = places.keys().next().copied().unwrap_or(0);
    let last = places.keys().next_back().copied().unwrap_or(0);
    let head = Bytes::default()
        // Version 1.0, revision, check sum to come, magic number.
        .u32s(&[0x0001_0000, 0x0001_0000, 0, 0x5F0F_3CF5])
        // Baseline at 0, left edge at 0; units to the em; made at no time.
        .u16s(&[0x0003, main.units_per_em()])
        .u32s(&[0; 4])
        .i16s(&[least(0), least(1), most(2), most(3)])
        // Plain, no smallest size, left to right, long offsets, and a nought.
        .i16s(&[0, 6, 2, 1, 0]);
    let hhea = Bytes::default()
        .u32s(&[0x0001_0000])
        .i16s(&[up, down, 0])
        .u16s(&[widest])
        .i16s(&[least(0), 0, most(2), 1, 0, 0, 0, 0, 0, 0, 0])
        .u16s(&[count]);
    let maxp = Bytes::default()
        .u32s(&[0x0001_0000])
        .u16s(&[count, points, contours, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0]);
    let os2 = Bytes::default()
        .u16s(&[4, 500, 400, 5, 0])
        .i16s(&[0; 11])
        .raw(&[0; 10])
        .u32s(&[0; 4])
        .raw(b"NONE")
        .u16s(&[0x40, first, last])
        .i16s(&[up, down, 0])
        .u16s(&[up.unsigned_abs(), down.unsigned_abs()])
        .u32s(&[1, 0])
        .i16s(&[
            main.x_height().unwrap_or(0),
            main.capital_height().unwrap_or(0),
        ])
        .u16s(&[0, 0x20, 1]);
    // Version 3: no names of glyphs.
    let post = Bytes::default().u32s(&[0x0003_0000, 0, 0, 0, 0, 0, 0, 0]);
    vec![
        (b"OS/2", os2.0),
        (b"cmap", cmap(places)),
        (b"glyf", glyf),
        (b"head", head.0),
        (b"hhea", hhea.0),
        (b"hmtx", hmtx.0),
        (b"loca", Bytes::default().u32s(&loca).0),
        (b"maxp", maxp.0),
        (b"name", name()),
        (b"post", post.0),
    ]
}

/// Format 4: runs of characters that follow one another, as their glyphs do.
fn cmap(places: &BTreeMap<u16, u16>) -> Vec<u8> {
    let mut runs: Vec<(u16, u16, u16)> = Vec::new();
    for (&code, &place) in places {
        match runs.last_mut() {
            Some((_, end, _)) if end.checked_add(1) == Some(code) => *end = code,
            _ => runs.push((code, code, place.wrapping_sub(code))),
        }
    }
    runs.push((0xFFFF, 0xFFFF, 1));
    let n = runs.len() as u16;
    let half = n.checked_ilog2().unwrap_or(0);
    let search = 2 << half;
    let column = |of: fn(&(u16, u16, u16)) -> u16| runs.iter().map(of).collect::<Vec<u16>>();
    Bytes::default()
        // One table, for Windows and Unicode, after these 12 bytes.
        .u16s(&[0, 1, 3, 1, 0, 12])
        .u16s(&[4, 16 + 8 * n, 0, 2 * n, search, half as u16, 2 * n - search])
        .u16s(&column(|r| r.1))
        .u16s(&[0])
        .u16s(&column(|r| r.0))
        .u16s(&column(|r| r.2))
        .u16s(&vec![0; runs.len()])
        .0
}

/// Family `Rod`, style `Drawing`.
fn name() -> Vec<u8> {
    let texts: [(u16, &str); 4] = [(1, "Rod"), (2, "Regular"), (4, "Rod"), (6, "Rod")];
    let mut table = Bytes::default().u16s(&[0, 4, 6 + 12 * 4]);
    let mut words = Bytes::default();
    for (id, text) in texts {
        let units: Vec<u16> = text.encode_utf16().collect();
        let at = words.0.len() as u16;
        table = table.u16s(&[3, 1, 0x409, id, 2 * units.len() as u16, at]);
        words = words.u16s(&units);
    }
    table.raw(&words.0).0
}

/// Tables in a file, each with its sum, and the sum of all in `head`.
fn file(tables: &[Table]) -> Vec<u8> {
    let n = tables.len() as u16;
    let half = n.checked_ilog2().unwrap_or(0);
    let search = 16u16 << half;
    let mut directory =
        Bytes::default()
            .u32s(&[0x0001_0000])
            .u16s(&[n, search, half as u16, 16 * n - search]);
    let mut at = 12 + 16 * tables.len();
    let mut body = Vec::new();
    let mut head = None;
    for (tag, table) in tables {
        if *tag == b"head" {
            head = Some(at);
        }
        directory = directory
            .raw(*tag)
            .u32s(&[sum(table), at as u32, table.len() as u32]);
        body.extend_from_slice(table);
        body.resize(body.len().next_multiple_of(4), 0);
        at = 12 + 16 * tables.len() + body.len();
    }
    let mut all = directory.raw(&body).0;
    let adjustment = 0xB1B0_AFBAu32.wrapping_sub(sum(&all));
    if let Some(place) = head.and_then(|at| all.get_mut(at + 8..at + 12)) {
        place.copy_from_slice(&adjustment.to_be_bytes());
    }
    all
}

/// Of 32-bit words, the last filled up with zeros.
fn sum(bytes: &[u8]) -> u32 {
    let word = |c: &[u8]| {
        (0..4).fold(0u32, |w, n| {
            w << 8 | u32::from(c.get(n).copied().unwrap_or(0))
        })
    };
    bytes.chunks(4).fold(0u32, |s, c| s.wrapping_add(word(c)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Read back by ttf-parser, which is not ours: the same outlines' boxes and the same widths as in the
    /// bundled fonts, for letters with accents, of three scripts, and one that only the fallback has.
    #[test]
    fn letters_are_those_of_the_bundled_fonts() {
        let letters: BTreeSet<char> = "Abgé8ŻλЖ×Ɯ →".chars().collect();
        for bold in [false, true] {
            let bytes = subset(&letters, bold);
            let font = Face::parse(&bytes, 0).expect("a font");
            for &c in &letters {
                let id = font.glyph_index(c).unwrap_or_else(|| panic!("{c}"));
                let (face, there) = lettering::in_order(bold)
                    .filter_map(|f| Face::parse(f.bytes, 0).ok())
                    .find_map(|f| f.glyph_index(c).map(|id| (f, id)))
                    .expect("bundled");
                assert_eq!(font.glyph_hor_advance(id), face.glyph_hor_advance(there));
                let (here, there) = (font.glyph_bounding_box(id), face.glyph_bounding_box(there));
                let near = |a: i16, b: i16| (a - b).abs() <= 1;
                match (here, there) {
                    (Some(a), Some(b)) => assert!(
                        near(a.x_min, b.x_min)
                            && near(a.y_min, b.y_min)
                            && near(a.x_max, b.x_max)
                            && near(a.y_max, b.y_max),
                        "{c}: {a:?} {b:?}"
                    ),
                    (a, b) => assert_eq!(a.is_some(), b.is_some(), "{c}"),
                }
            }
            assert_eq!(font.glyph_index('Q'), None);
        }
    }

    /// The file's own sum, as the specification's chapter on `head` tells to check it.
    #[test]
    fn the_file_sums_up_to_the_constant() {
        let bytes = subset(&"rod 12".chars().collect(), false);
        assert_eq!(sum(&bytes), 0xB1B0_AFBA);
        assert!(bytes.len() < 4000, "{}", bytes.len());
    }

    #[test]
    fn no_letters_are_a_font_too() {
        let bytes = subset(&BTreeSet::new(), true);
        assert!(Face::parse(&bytes, 0).is_ok());
    }
}
