//! Making any words fit their place on a page: chances to break inside a word that is too long for
//! its line, and shortening where a place has one line only. Knows fonts, not furniture.

use super::glue;
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

/// Height in mm of so many lines of type of `points`, half an em apart: from the last base line to the top of
/// the first line's capitals.
pub fn lines_mm(lines: usize, points: f64) -> f64 {
    let apart = 0.5 * lines.saturating_sub(1) as f64 * points * POINT;
    lines as f64 * points * POINT / lettering::size_mm(1.0) + apart
}

/// How far the typesetter's measure of a text may lie under and over ours: kerning.
const KERNING: (f64, f64) = (0.97, 1.02);

/// On how many lines of `width` mm the text comes to stand, where that is sure: whatever kerning does, and
/// wherever besides at its blanks a line may end. `None` also for signs of the fallback font, whose lines are
/// higher.
pub fn lines(text: &str, width: f64, points: f64, bold: bool) -> Option<usize> {
    if !lettering::main_family_prints(text, bold) {
        return None;
    }
    if width_mm(text, points, bold) * KERNING.1 <= width {
        return Some(usize::from(!text.is_empty()));
    }
    let filled = |parts: &mut dyn Iterator<Item = &str>, width: f64| {
        let (mut lines, mut used) = (1, 0.0);
        for part in parts {
            let seen = width_mm(part.trim_end_matches(' '), points, bold);
            if seen > width {
                return None;
            }
            if used + seen > width {
                lines += 1;
                used = 0.0;
            }
            used += width_mm(part, points, bold);
        }
        Some(lines)
    };
    let glued = glue::glued(text).unwrap_or_else(|| text.to_owned());
    let most = filled(&mut glued.split_inclusive(' '), width / KERNING.1)?;
    let may_end = |c: char| !c.is_alphanumeric() && c != '\u{a0}';
    let fewest = filled(&mut text.split_inclusive(may_end), width / KERNING.0)?;
    (fewest == most).then_some(most)
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

    /// By hand from the font's hmtx: at 9 pt a figure is 0.497 of 3.175 mm, 1.578 mm, and a blank 0.2, 0.635 mm.
    #[test]
    fn how_many_lines_is_said_only_where_it_is_sure() {
        // Three words of 7.89 mm: two on a line of 17 mm take 16.41.
        assert_eq!(lines("00000 00000 00000", 17.0, 9.0, false), Some(2));
        assert_eq!(
            lines("00000 00000 00000", 16.5, 9.0, false),
            None,
            "kerning says"
        );
        assert_eq!(lines("00000 00000 00000", 30.0, 9.0, false), Some(1));
        assert_eq!(lines("", 30.0, 9.0, false), Some(0));
        // A line may end after the stroke, or not.
        assert_eq!(lines("00000 00000/00000", 17.0, 9.0, false), None);
        // The second number is not parted from its unit.
        assert_eq!(lines("00000 00000 mm 0000", 17.0, 9.0, false), None);
        assert_eq!(
            lines("\u{1c4}", 30.0, 9.0, false),
            None,
            "the fallback font"
        );
        assert_eq!(
            lines(&"0".repeat(30), 17.0, 9.0, false),
            None,
            "wider than its line"
        );
        // 2 × 0.66 + 0.5 of 3.175 mm.
        assert!((lines_mm(2, 9.0) - 1.82 * 3.175).abs() < 1e-3);
        assert!(lines_mm(0, 9.0).abs() < 1e-9);
    }

    /// Widths of a capital H, hhea and OS/2 of the bundled font: 652 of 1000 units wide, so 9 pt
    /// gives 9 × 0.652 × 0.3528 = 2.07 mm. Worked from the font's own hmtx table.
    #[test]
    fn widths_are_those_of_the_bundled_font() {
        assert!((width_mm("H", 9.0, false) - 2.07).abs() < 0.02);
    }
}
