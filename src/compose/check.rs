//! What must hold before typst sees anything: every character printable, every font bundled, every
//! drawing within its frame. Knows paper and fonts, not pages.

use serde_json::Value;

use super::assemble::drawing_space;
use super::error::ComposeError;
use crate::draw::Drawing;
use crate::lettering;
use crate::resolve::job::Sheets;

/// Every character of the page data has a glyph.
pub fn glyphs(data: &Value) -> Result<(), ComposeError> {
    match data {
        // Chances to break a line, which `fit` puts in, are no characters to print.
        Value::String(text) => glyphs_of(&text.replace('\u{200B}', "")),
        Value::Array(items) => items.iter().try_for_each(glyphs),
        Value::Object(fields) => fields.values().try_for_each(glyphs),
        _ => Ok(()),
    }
}

fn glyphs_of(text: &str) -> Result<(), ComposeError> {
    match lettering::missing(text) {
        None => Ok(()),
        Some(character) => {
            let text = text.chars().take(60).collect();
            Err(ComposeError::NoGlyph { character, text })
        }
    }
}

/// A drawing that can be placed: within its frame, and in letters that will appear.
pub fn drawing(drawing: &Drawing, paper: Sheets) -> Result<(), ComposeError> {
    let (width, height) = drawing_space(paper, drawing);
    let fits = drawing.width_mm <= width + 0.01 && drawing.height_mm <= height + 0.01;
    // A size that is no number is none that fits.
    if !fits || drawing.width_mm <= 0.0 || drawing.height_mm <= 0.0 {
        return Err(ComposeError::Oversize {
            drawing: drawing.id.clone(),
        });
    }
    for family in families(&drawing.svg) {
        if !lettering::has_family(&family) {
            let drawing = drawing.id.clone();
            return Err(ComposeError::UnknownFamily { family, drawing });
        }
    }
    Ok(())
}

/// Every family that a `font-family`, as attribute or in a style, names.
fn families(svg: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for (at, key) in svg.match_indices("font-family") {
        let before = svg.get(..at).and_then(|s| s.chars().next_back());
        let rest = svg.get(at + key.len()..).unwrap_or("").trim_start();
        let value = if let Some(rest) = rest.strip_prefix('=') {
            let rest = rest.trim_start();
            let quote = rest.chars().next().unwrap_or('"');
            rest.get(quote.len_utf8()..)
                .and_then(|r| r.split(quote).next())
        } else if let Some(rest) = rest.strip_prefix(':') {
            // The quote that opened a style attribute cannot be inside it, so whichever of these
            // comes first ends the value; quotes round a name are taken off below.
            rest.split([';', '}', '<', '>'])
                .next()
                .map(|v| v.split("\" ").next().unwrap_or(v))
        } else {
            None
        };
        let named_so = before.is_some_and(|c| c.is_alphanumeric() || c == '-');
        for name in value.filter(|_| !named_so).unwrap_or("").split(',') {
            let name = name
                .replace("&apos;", "")
                .replace("&quot;", "")
                .replace("&#39;", "");
            let name = name.trim_matches([' ', '\'', '"', '\n', '/']).to_owned();
            if !name.is_empty() && !found.contains(&name) {
                found.push(name);
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::DrawingKind;

    fn with(svg: &str) -> Drawing {
        Drawing {
            id: "d".to_owned(),
            kind: DrawingKind::Plan(0),
            title: "Plan".to_owned(),
            alt: "A plan".to_owned(),
            svg: svg.to_owned(),
            width_mm: 100.0,
            height_mm: 100.0,
            scale: 20,
            part: (1, 1),
            changes: Vec::new(),
        }
    }

    #[test]
    fn a_family_nobody_has_is_an_error_however_it_is_written() {
        for svg in [
            "<text font-family=\"'Fog Gothic'\">a</text>",
            "<text font-family='Fog Gothic'>a</text>",
            "<text style=\"fill:red;font-family:'Fog Gothic'\" x=\"1\">a</text>",
            "<style>text { font-family: \"Fog Gothic\", 'Noto Sans'; }</style>",
        ] {
            let error = drawing(&with(svg), Sheets::A3).expect_err(svg);
            assert!(error.to_string().contains("'Fog Gothic'"), "{error}");
            assert!(!error.is_input());
        }
    }

    #[test]
    fn bundled_families_pass() {
        let svg = "<text font-family=\"'Source Sans 3', 'Noto Sans'\">a</text>";
        assert_eq!(drawing(&with(svg), Sheets::A3), Ok(()));
    }

    /// ISO 5457 drawing space, from reference-values §6.1: A3 390 × 277, A4 lying 267 × 190, upright 180 × 277.
    #[test]
    fn a_drawing_larger_than_its_frame_is_refused_and_never_shrunk() {
        let large = |w, h| Drawing {
            width_mm: w,
            height_mm: h,
            ..with("<svg/>")
        };
        assert!(drawing(&large(390.0, 277.0), Sheets::A3).is_ok());
        assert!(drawing(&large(391.0, 100.0), Sheets::A3).is_err());
        assert!(drawing(&large(267.0, 190.0), Sheets::A4).is_ok());
        assert!(drawing(&large(267.0, 191.0), Sheets::A4).is_err());
        assert!(drawing(&large(180.0, 277.0), Sheets::A4).is_ok());
        assert!(drawing(&large(181.0, 200.0), Sheets::A4).is_err());
        assert!(drawing(&large(f64::NAN, 10.0), Sheets::A4).is_err());
    }

    #[test]
    fn a_character_no_font_has_is_named() {
        let data = serde_json::json!({ "a": ["Żółć Ωμέγα Жук", "candle \u{1F56F} works"] });
        let error = glyphs(&data).expect_err("a candle");
        assert!(error.to_string().contains("U+1F56F"), "{error}");
        assert!(error.is_input());
    }
}
