//! A drawing's SVG to PNG bytes, with the bundled fonts and no others. Knows rasters; must not
//! change what is drawn, and refuses what it cannot draw whole.

use std::fmt;
use std::sync::{Arc, Mutex, OnceLock};

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{self, FontFamily, FontResolver, Options, Tree, fontdb};

use crate::lettering;

/// Dots per inch of a drawing's PNG, which is for the screen: a CSS pixel is 1/96 inch, capitals of 2.5 mm
/// are 9 dots high.
pub const DPI: f64 = 96.0;
/// No side of a PNG has more pixels.
const LARGEST: u32 = 20_000;

/// Why an SVG does not become a PNG.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PngError {
    /// It is not SVG.
    NotSvg(String),
    /// It names a font family that is not bundled.
    NoFamily(String),
    /// It has a character that no bundled font can print.
    NoGlyph(char),
    /// Its size on paper is nothing, or too much.
    Size,
    /// The PNG could not be written.
    Encoding(String),
}

impl fmt::Display for PngError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PngError::NotSvg(why) => write!(f, "the drawing is not SVG: {why}"),
            PngError::NoFamily(name) => write!(f, "font family '{name}' is not bundled"),
            PngError::NoGlyph(c) => {
                write!(
                    f,
                    "no bundled font can print '{c}' (U+{:04X})",
                    u32::from(*c)
                )
            }
            PngError::Size => write!(f, "the drawing has no size that can be printed"),
            PngError::Encoding(why) => write!(f, "the PNG could not be written: {why}"),
        }
    }
}

impl std::error::Error for PngError {}

/// The picture on white at `dpi` dots per inch of paper.
pub fn png(svg: &str, dpi: f64) -> Result<Vec<u8>, PngError> {
    let wrong: Arc<Mutex<Option<PngError>>> = Arc::default();
    let options = Options {
        font_family: lettering::FAMILY.to_string(),
        fontdb: fonts(),
        font_resolver: resolver(&wrong),
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options).map_err(|e| PngError::NotSvg(e.to_string()))?;
    if let Some(error) = wrong.lock().ok().and_then(|mut w| w.take()) {
        return Err(error);
    }
    // usvg counts a millimetre as 96/25.4 units.
    let zoom = dpi / 96.0;
    let pixels = |units: f32| (f64::from(units) * zoom).round();
    let (w, h) = (pixels(tree.size().width()), pixels(tree.size().height()));
    let largest = f64::from(LARGEST);
    if !(w >= 1.0 && h >= 1.0 && w <= largest && h <= largest) {
        return Err(PngError::Size);
    }
    let mut map = Pixmap::new(w as u32, h as u32).ok_or(PngError::Size)?;
    map.fill(Color::WHITE);
    resvg::render(
        &tree,
        Transform::from_scale(zoom as f32, zoom as f32),
        &mut map.as_mut(),
    );
    encoded(&map)
}

/// Greys as one channel, a quarter of the bytes; anything coloured as three. The picture is opaque:
/// it was drawn on white.
fn encoded(map: &Pixmap) -> Result<Vec<u8>, PngError> {
    let (pixels, _) = map.data().as_chunks::<4>();
    let words = || pixels.iter().map(|p| u32::from_le_bytes(*p));
    // Red against green, and green against blue.
    let tint = words().fold(0, |t, rgba| t | (rgba ^ (rgba >> 8)) & 0xffff);
    let (samples, kind): (Vec<u8>, ExtendedColorType) = if tint == 0 {
        let greys = words().map(|rgba| (rgba & 0xff) as u8);
        (greys.collect(), ExtendedColorType::L8)
    } else {
        let colours: Vec<[u8; 3]> = pixels.iter().map(|[r, g, b, _]| [*r, *g, *b]).collect();
        (colours.into_flattened(), ExtendedColorType::Rgb8)
    };
    let mut bytes = Vec::new();
    PngEncoder::new_with_quality(&mut bytes, CompressionType::Level(1), FilterType::NoFilter)
        .write_image(&samples, map.width(), map.height(), kind)
        .map_err(|e| PngError::Encoding(e.to_string()))?;
    Ok(bytes)
}

fn fonts() -> Arc<fontdb::Database> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut db = fontdb::Database::new();
        for face in lettering::faces() {
            db.load_font_source(fontdb::Source::Binary(Arc::new(face.bytes)));
        }
        Arc::new(db)
    });
    Arc::clone(fonts)
}

/// Picks faces by family alone, never a substitute, and notes the first thing that has none.
fn resolver(wrong: &Arc<Mutex<Option<PngError>>>) -> FontResolver<'static> {
    let (no_family, no_glyph) = (Arc::clone(wrong), Arc::clone(wrong));
    let note = |cell: &Mutex<Option<PngError>>, error: PngError| {
        if let Ok(mut first) = cell.lock() {
            first.get_or_insert(error);
        }
    };
    FontResolver {
        select_font: Box::new(move |font, db| {
            for family in font.families() {
                let FontFamily::Named(name) = family else {
                    note(&no_family, PngError::NoFamily(family.to_string()));
                    return None;
                };
                if !lettering::has_family(name) {
                    note(&no_family, PngError::NoFamily(name.clone()));
                    return None;
                }
            }
            let FontFamily::Named(first) = font.families().first()? else {
                return None;
            };
            db.query(&fontdb::Query {
                families: &[fontdb::Family::Name(first)],
                weight: fontdb::Weight(font.weight()),
                stretch: fontdb::Stretch::Normal,
                style: match font.style() {
                    usvg::FontStyle::Normal => fontdb::Style::Normal,
                    _ => fontdb::Style::Italic,
                },
            })
        }),
        select_fallback: Box::new(move |c, used, db| {
            let bold = used
                .first()
                .and_then(|id| db.face(*id))
                .is_some_and(|f| f.weight.0 >= 600);
            let same_weight = |f: &&fontdb::FaceInfo| (f.weight.0 >= 600) == bold;
            let free: Vec<&fontdb::FaceInfo> =
                db.faces().filter(|f| !used.contains(&f.id)).collect();
            let able = |f: &&&fontdb::FaceInfo| has_char(db, f.id, c);
            let found = free
                .iter()
                .filter(|f| same_weight(f))
                .find(able)
                .or_else(|| free.iter().find(able))
                .map(|f| f.id);
            if found.is_none() {
                note(&no_glyph, PngError::NoGlyph(c));
            }
            found
        }),
    }
}

fn has_char(db: &fontdb::Database, id: fontdb::ID, c: char) -> bool {
    db.with_face_data(id, |data, index| {
        ttf_parser::Face::parse(data, index).is_ok_and(|f| f.glyph_index(c).is_some())
    })
    .unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn svg(family: &str, words: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60mm\" height=\"10mm\" \
             viewBox=\"0 0 60 10\"><text x=\"1\" y=\"8\" font-family=\"{family}\" \
             font-size=\"6\">{words}</text></svg>"
        )
    }

    /// Dark pixels of the decoded PNG.
    fn ink(bytes: &[u8]) -> usize {
        let picture = image::load_from_memory(bytes).expect("a PNG").to_luma8();
        picture.pixels().filter(|p| p.0[0] < 128).count()
    }

    const OURS: &str = "'Source Sans 3', 'Noto Sans'";

    #[test]
    fn the_picture_has_the_size_of_its_paper() {
        // 60 × 10 mm at 254 dpi is 10 dots a millimetre, by the inch of 25.4 mm.
        let bytes = png(&svg(OURS, "A"), 254.0).expect("png");
        let picture = image::load_from_memory(&bytes).expect("a PNG");
        assert_eq!((picture.width(), picture.height()), (600, 100));
    }

    #[test]
    fn names_in_other_scripts_are_inked_and_not_dropped() {
        for name in ["Zażółć", "Ελένη", "Щука", "Ґанок", "ȘȚ"] {
            let bytes = png(&svg(OURS, name), 200.0).expect(name);
            assert!(ink(&bytes) > 200, "{name}: {}", ink(&bytes));
        }
        // U+1D63 is in the fallback alone.
        assert!(ink(&png(&svg(OURS, "\u{a7b5}"), 200.0).expect("fallback")) > 20);
    }

    #[test]
    fn what_cannot_be_printed_is_an_error_by_name() {
        let error = |family: &str, words: &str| png(&svg(family, words), 200.0).expect_err(words);
        assert_eq!(
            error("'Imaginary Grotesk'", "A"),
            PngError::NoFamily("Imaginary Grotesk".into())
        );
        assert_eq!(error("serif", "A"), PngError::NoFamily("serif".into()));
        assert_eq!(error(OURS, "nib 木"), PngError::NoGlyph('木'));
        assert!(matches!(png("no svg", 200.0), Err(PngError::NotSvg(_))));
    }
}
