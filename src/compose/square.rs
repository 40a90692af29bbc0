//! A square code (ISO/IEC 18004) as a picture. Knows modules and paper; must not know the words in it.

use qrcode::{Color, EcLevel, QrCode};

/// Light modules round the code that a reader needs: four, by the standard.
const QUIET: usize = 4;
/// Side of a module at least, mm: what a telephone reads from a dusty sheet (common practice, no
/// source).
pub const MODULE_MM: f64 = 0.4;
/// Side that the picture is given on every page, mm: within the filing margin of ISO 5457, which is
/// 20 mm.
pub const SIDE_MM: f64 = 18.0;

/// The code as an SVG of one path, its quiet zone included; `None` for words that are too long to be
/// read at this size.
pub fn svg(words: &str) -> Option<String> {
    let level = EcLevel::M;
    let code = QrCode::with_error_correction_level(words, level).ok()?;
    let width = code.width();
    let side = width + 2 * QUIET;
    if SIDE_MM / (side as f64) < MODULE_MM {
        return None;
    }
    let colours = code.to_colors();
    let mut path = String::new();
    for (y, row) in colours.chunks(width).enumerate() {
        let mut x = 0;
        while let Some(first) = row.get(x) {
            let run = row.iter().skip(x).take_while(|c| *c == first).count();
            if *first == Color::Dark {
                path.push_str(&format!("M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET));
            }
            x += run;
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{SIDE_MM}mm\" height=\"{SIDE_MM}mm\" \
         viewBox=\"0 0 {side} {side}\"><path d=\"{path}\"/></svg>"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 18004: a version v code has 17 + 4v modules a side; 25 alphanumeric characters at
    /// level M are held by version 2 up to 38 (table of capacities, from memory).
    #[test]
    fn a_code_has_its_modules_and_its_quiet_zone() {
        let svg = svg("RB1:A:B:F7:0123456789ABCD").expect("short");
        let side = 17 + 4 * 2 + 2 * 4;
        assert!(
            svg.contains(&format!("viewBox=\"0 0 {side} {side}\"")),
            "{svg}"
        );
        // The finder pattern begins with seven dark modules after the quiet zone.
        assert!(svg.contains("<path d=\"M4 4h7v1h-7z"), "{svg}");
    }

    #[test]
    fn modules_are_never_finer_than_a_telephone_reads() {
        let words = "a".repeat(62);
        assert!(
            svg(&words).is_some(),
            "the longest job number of one script"
        );
        assert!(svg(&"a".repeat(200)).is_none());
    }
}
