//! Making any words fit their place on a page: chances to break inside a word that is too long for
//! its line, and shortening where a place has one line only. Knows fonts, not furniture.

use crate::lettering;

/// Millimetres in a typographic point.
const POINT: f64 = 25.4 / 72.0;
/// A chance to break a line, with no width and no hyphen.
const BREAK: char = '\u{200B}';

/// Width in mm of `text` set at `points`.
pub fn width_mm(text: &str, points: f64, bold: bool) -> f64 {
    // The floor measures by the height of capitals, a page is set by the size of type.
    lettering::width_mm(text, points * POINT / lettering::size_mm(1.0), bold)
}

/// The text as it may be set: one line, control characters and other invisible marks made blank
/// or dropped, so that no word of a job can upset a page.
pub fn clean(text: &str) -> String {
    let blanked = text.chars().filter_map(|c| match c {
        // Bidirectional overrides, joiners and byte-order marks print nothing.
        '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' => None,
        '\u{FEFF}' | '\u{00AD}' | '\u{FFF9}'..='\u{FFFB}' => None,
        c if c.is_control() || c.is_whitespace() && c != '\u{00A0}' => Some(' '),
        c => Some(c),
    });
    let mut out = String::with_capacity(text.len());
    for c in blanked {
        if c != ' ' || !out.is_empty() && !out.ends_with(' ') {
            out.push(c);
        }
    }
    out.trim_end().to_owned()
}

/// Paragraphs of a text written over several lines: a blank line parts them.
pub fn paragraphs(text: &str) -> Vec<String> {
    text.replace("\r\n", "\n")
        .split("\n\n")
        .map(clean)
        .filter(|p| !p.is_empty())
        .collect()
}

/// `text` with chances to break put into each word wider than `width_mm`; other words stay whole.
pub fn breakable(text: &str, width: f64, points: f64, bold: bool) -> String {
    let mut out = String::with_capacity(text.len());
    // A line may break after a hyphen already.
    for word in text.split_inclusive([' ', '-', '\u{2013}']) {
        // 2 % for the difference between our measure and the typesetter's kerning.
        if width_mm(word.trim_end(), points, bold) * 1.02 <= width {
            out.push_str(word);
            continue;
        }
        for c in word.chars() {
            out.push(c);
            if c != ' ' {
                out.push(BREAK);
            }
        }
    }
    out
}

/// As much of `text` as fits on one line of `width` mm, with `…` where it was cut.
pub fn one_line(text: &str, width: f64, points: f64, bold: bool) -> String {
    let text = clean(text);
    if width_mm(&text, points, bold) * 1.02 <= width {
        return text;
    }
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if width_mm(&format!("{kept}\u{2026}"), points, bold) * 1.02 > width {
            kept.pop();
            break;
        }
    }
    format!("{}\u{2026}", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_words_too_wide_for_their_line_may_break_inside() {
        let text = "short Donaudampfschifffahrtsgesellschaft end";
        let out = breakable(text, 20.0, 9.0, false);
        assert!(out.starts_with("short D\u{200B}o\u{200B}"), "{out:?}");
        assert!(out.ends_with(" end"));
        assert_eq!(out.replace('\u{200B}', ""), text);
        assert_eq!(breakable(text, 200.0, 9.0, false), text);
    }

    #[test]
    fn a_shortened_line_fits_and_says_that_it_was_shortened() {
        let long = "The Old Candle Works ".repeat(20);
        let out = one_line(&long, 60.0, 9.0, true);
        assert!(width_mm(&out, 9.0, true) <= 60.0);
        assert!(out.ends_with('\u{2026}'));
        assert_eq!(one_line("short", 60.0, 9.0, true), "short");
    }

    #[test]
    fn invisible_characters_are_dropped_and_line_ends_become_blanks() {
        assert_eq!(clean(" a\r\n\tb\u{202E}c\u{FEFF}\u{7}d  "), "a bc d");
        assert_eq!(
            paragraphs("one\nline\n\ntwo\r\n\r\n\r\n"),
            vec!["one line", "two"]
        );
    }

    /// Widths of a capital H, hhea and OS/2 of the bundled font: 652 of 1000 units wide, so 9 pt
    /// gives 9 × 0.652 × 0.3528 = 2.07 mm. Worked from the font's own hmtx table.
    #[test]
    fn widths_are_those_of_the_bundled_font() {
        assert!((width_mm("H", 9.0, false) - 2.07).abs() < 0.02);
    }
}
