//! The bundled fonts and their metrics: how wide a text is and whether it can be printed at all.
//! Knows nothing of drawings or pages, and never looks at a font of the machine.

use std::sync::OnceLock;

/// The family everything is set in, as named inside the font files.
pub const FAMILY: &str = "Source Sans 3";
/// Stands in, glyph by glyph, where [`FAMILY`] has none.
pub const FALLBACK: &str = "Noto Sans";

/// One bundled font file, unmodified, under the Open Font Licence (see `fonts/`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Face {
    pub family: &'static str,
    /// CSS weight: 400, 600 or 700.
    pub weight: u16,
    pub italic: bool,
    pub bytes: &'static [u8],
}

static FACES: [Face; 5] = [
    Face {
        family: FAMILY,
        weight: 400,
        italic: false,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_400Regular.ttf"),
    },
    Face {
        family: FAMILY,
        weight: 600,
        italic: false,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_600SemiBold.ttf"),
    },
    Face {
        family: FAMILY,
        weight: 400,
        italic: true,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_400Regular_Italic.ttf"),
    },
    Face {
        family: FALLBACK,
        weight: 400,
        italic: false,
        bytes: include_bytes!("../fonts/noto-sans/NotoSans-Regular.ttf"),
    },
    Face {
        family: FALLBACK,
        weight: 700,
        italic: false,
        bytes: include_bytes!("../fonts/noto-sans/NotoSans-Bold.ttf"),
    },
];

/// Every bundled font, the main family first.
pub fn faces() -> &'static [Face] {
    &FACES
}

/// The upright faces of a weight in the order in which a character is looked for.
pub fn in_order(bold: bool) -> impl Iterator<Item = &'static Face> {
    ORDER[usize::from(bold)]
        .iter()
        .filter_map(|&i| FACES.get(i))
}

/// Places in [`FACES`], plain and bold.
const ORDER: [[usize; 2]; 2] = [[0, 3], [1, 4]];

/// Whether a family of this name is bundled.
pub fn has_family(name: &str) -> bool {
    FACES.iter().any(|f| f.family == name)
}

/// With curly apostrophes: between letters, and after an `s` that ends a word which none begins. Marks that
/// quote stay as they were written. `None`: there is nothing to curl.
pub fn curled(text: &str) -> Option<String> {
    if !text.contains('\'') {
        return None;
    }
    let mut out = String::with_capacity(text.len() + 4);
    let mut quoted = false;
    let mut before: Option<char> = None;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
        let inside = letter(before) && letter(rest.peek().copied());
        let of_several = matches!(before, Some('s' | 'S')) && !quoted;
        match c {
            '\'' if inside || of_several => out.push('\u{2019}'),
            c => out.push(c),
        }
        // One that begins a word may close after any later word.
        quoted = match c {
            '\'' if !inside => !letter(before),
            _ => quoted,
        };
        before = Some(c);
    }
    (out != text).then_some(out)
}

/// The first character that neither family can print. A newline is allowed; no other control
/// character is.
pub fn missing(text: &str) -> Option<char> {
    text.chars()
        .find(|&c| c != '\n' && (c.is_control() || !metrics(c, false).printable))
}

/// All characters that can be printed, as first and last of runs of them, in order.
pub fn printable() -> &'static [(u32, u32)] {
    static RUNS: OnceLock<Vec<(u32, u32)>> = OnceLock::new();
    RUNS.get_or_init(|| {
        let mut all = std::collections::BTreeSet::new();
        for face in ORDER[0].iter().filter_map(|&i| parsed().get(i)) {
            let tables = face.tables().cmap.iter().flat_map(|cmap| cmap.subtables);
            for table in tables.filter(|t| t.is_unicode()) {
                table.codepoints(|code| {
                    all.extend(
                        char::from_u32(code)
                            .filter(|c| missing(c.encode_utf8(&mut [0; 4])).is_none()),
                    );
                });
            }
        }
        let mut runs: Vec<(u32, u32)> = Vec::new();
        for code in all.into_iter().map(u32::from) {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == code => *last = code,
                _ => runs.push((code, code)),
            }
        }
        runs
    })
}

/// Font size (em) in mm that gives capitals of `cap_mm`.
pub fn size_mm(cap_mm: f64) -> f64 {
    cap_mm / cap_ratio()
}

/// Width in mm of one line set with capitals of `cap_mm`: the sum of advances, without kerning.
pub fn width_mm(text: &str, cap_mm: f64, bold: bool) -> f64 {
    let size = size_mm(cap_mm);
    text.chars().map(|c| metrics(c, bold).advance * size).sum()
}

/// How far a line reaches above and below its baseline, mm: at least the capital height above.
pub fn reach_mm(text: &str, cap_mm: f64, bold: bool) -> (f64, f64) {
    let size = size_mm(cap_mm);
    text.chars().fold((cap_mm, 0.0), |(up, down), c| {
        let m = metrics(c, bold);
        (up.max(m.up * size), down.max(m.down * size))
    })
}

/// Breaks `text` at spaces (and at its newlines) into lines no wider than `width`, mm; a single
/// long word that is wider is broken between characters. Sizes such as "900 × 2030" and words of a
/// usual length are never broken, even where they are wider: half a figure would be read as another.
pub fn wrap(text: &str, cap_mm: f64, bold: bool, width: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        wrap_paragraph(&glued(paragraph), cap_mm, bold, width, &mut lines);
    }
    let unglued = lines.iter().map(|l| l.replace('\u{a0}', " "));
    unglued.collect()
}

/// Units and signs that follow a number.
const AFTER: [&str; 13] = [
    "N", "mm", "m", "m\u{b2}", "m\u{b3}", "kg", "%", "\u{b0}C", "h", "min", "\u{d7}", "l", "kW",
];
/// Words and signs that a number follows.
const BEFORE: [&str; 12] = [
    "Clash", "clash", "Finding", "finding", "Front", "front", "note", "Note", "wall", "\u{d7}",
    "sheet", "revision",
];
/// In the few words of a drawing, what a figure is of or says.
const OF_FIGURES: [&str; 9] = [
    "slats", "edge", "wide", "apart", "deep", "high", "along", "up", "out",
];
const BEFORE_FIGURES: [&str; 9] = [
    "risk",
    "risks",
    "findings",
    "sill",
    "reveal",
    "blank",
    "underside",
    "upstand",
    "rail",
];

/// Whether a line may not end between two words: a number stays with its unit and with the mark before it.
pub fn together(before: &str, after: &str) -> bool {
    bound(before, after, (&AFTER, &BEFORE))
}

fn bound(before: &str, after: &str, (units, marks): (&[&str], &[&str])) -> bool {
    let first = after.split([' ', '\u{a0}']).next().unwrap_or_default();
    let first = first.trim_end_matches(['.', ',', ';', ':', ')', '?']);
    let last = before
        .rsplit([' ', '\u{a0}', '('])
        .next()
        .unwrap_or_default();
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let unit = units.contains(&first) || first.starts_with("N/");
    (digit(last.chars().next_back()) && unit)
        || (digit(first.chars().next()) && marks.contains(&last))
}

/// With spaces that do not break where a figure stands with its noun.
fn glued(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        out.push_str(word);
        if let Some(next) = words.peek() {
            let whole = together(word, next) || bound(word, next, (&OF_FIGURES, &BEFORE_FIGURES));
            out.push(if whole { '\u{a0}' } else { ' ' });
        }
    }
    out
}

/// [`wrap`] with lines as alike in width as their number allows, so that no word stands alone.
pub fn wrap_evenly(text: &str, cap_mm: f64, bold: bool, width: f64) -> Vec<String> {
    let mut best = wrap(text, cap_mm, bold, width);
    for step in 1..20 {
        let narrow = width * (1.0 - 0.03 * f64::from(step));
        // What is no wider stays as it is.
        if best.iter().all(|l| width_mm(l, cap_mm, bold) <= narrow) {
            continue;
        }
        let narrower = wrap(text, cap_mm, bold, narrow);
        if narrower.len() > best.len() {
            break;
        }
        best = narrower;
    }
    best
}

fn wrap_paragraph(paragraph: &str, cap_mm: f64, bold: bool, width: f64, lines: &mut Vec<String>) {
    let size = size_mm(cap_mm);
    let with = |width: f64, c: char| width + metrics(c, bold).advance * size;
    // The line so far, and its width.
    let (mut line, mut set) = (String::new(), 0.0);
    for word in paragraph.split(' ').filter(|w| !w.is_empty()) {
        let gap = if line.is_empty() { "" } else { " " };
        let longer = gap.chars().chain(word.chars()).fold(set, with);
        if longer <= width {
            line.push_str(gap);
            line.push_str(word);
            set = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        set = 0.0;
        for c in word.chars() {
            let longer = with(set, c);
            if longer > width && !line.is_empty() && !is_whole(word) {
                lines.push(std::mem::take(&mut line));
                set = with(0.0, c);
            } else {
                set = longer;
            }
            line.push(c);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
}

/// A word with figures in it, of a length that a size or a dimension may have, or a word of a usual
/// length: too wide a line is better than half of it.
fn is_whole(word: &str) -> bool {
    let longer = |than: usize| word.chars().nth(than).is_some();
    let figure = word.chars().any(|c| c.is_ascii_digit());
    !longer(if figure { LONGEST_FIGURE } else { LONGEST_WORD })
}

/// Longer words are broken.
const LONGEST_FIGURE: usize = 26;
const LONGEST_WORD: usize = 14;

type Parsed = ttf_parser::Face<'static>;

fn parsed() -> &'static [Parsed] {
    static PARSED: OnceLock<Vec<Parsed>> = OnceLock::new();
    PARSED.get_or_init(|| {
        FACES
            .iter()
            .filter_map(|f| ttf_parser::Face::parse(f.bytes, 0).ok())
            .collect()
    })
}

fn cap_ratio() -> f64 {
    static RATIO: OnceLock<f64> = OnceLock::new();
    *RATIO.get_or_init(|| {
        let face = parsed().first();
        face.and_then(|f| Some(f64::from(f.capital_height()?) / f64::from(f.units_per_em())))
            .unwrap_or(0.66)
    })
}

/// Whether all of `text` is printed by the main family, none by the fallback.
pub fn main_family_prints(text: &str, bold: bool) -> bool {
    text.chars().all(|c| metrics(c, bold).main)
}

/// The glyph that prints `c`: of the main family, else of the fallback.
fn glyph(c: char, bold: bool) -> Option<(&'static Parsed, ttf_parser::GlyphId)> {
    ORDER[usize::from(bold)].iter().find_map(|&i| {
        let face = parsed().get(i)?;
        Some((face, face.glyph_index(c)?))
    })
}

/// Of one character, in ems; what nobody can print counts as a wide letter.
#[derive(Clone, Copy)]
struct Metrics {
    printable: bool,
    /// By the main family.
    main: bool,
    advance: f64,
    up: f64,
    down: f64,
}

/// Remembered for every character before U+0530: Latin, Greek and Cyrillic.
const REMEMBERED: usize = 0x530;

/// Metrics of a character, remembered: drawings ask for the same few very often.
fn metrics(c: char, bold: bool) -> Metrics {
    static SEEN: [[OnceLock<Metrics>; REMEMBERED]; 2] =
        [const { [const { OnceLock::new() }; REMEMBERED] }; 2];
    let place = SEEN.get(usize::from(bold)).and_then(|s| s.get(c as usize));
    place.map_or_else(
        || read_metrics(c, bold),
        |cell| *cell.get_or_init(|| read_metrics(c, bold)),
    )
}

fn read_metrics(c: char, bold: bool) -> Metrics {
    const UNKNOWN: Metrics = Metrics {
        printable: false,
        main: false,
        advance: 0.7,
        up: 0.66,
        down: 0.0,
    };
    let Some((face, id)) = glyph(c, bold) else {
        return UNKNOWN;
    };
    let em = f64::from(face.units_per_em());
    let bounds = face.glyph_bounding_box(id);
    let main = ORDER[usize::from(bold)].first();
    Metrics {
        printable: true,
        main: main
            .and_then(|&i| parsed().get(i)?.glyph_index(c))
            .is_some(),
        advance: face
            .glyph_hor_advance(id)
            .map_or(0.0, |a| f64::from(a) / em),
        up: bounds.map_or(0.0, |b| f64::from(b.y_max) / em),
        down: bounds.map_or(0.0, |b| -f64::from(b.y_min) / em),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_font_file_parses_and_says_its_own_family_and_weight() {
        assert_eq!(parsed().len(), FACES.len());
        for (face, font) in FACES.iter().zip(parsed()) {
            // The typographic family (16) where the file has one, else the plain family (1).
            let named = |id| {
                font.names()
                    .into_iter()
                    .find(|n| n.name_id == id)
                    .and_then(|n| n.to_string())
            };
            assert_eq!(named(16).or_else(|| named(1)).as_deref(), Some(face.family));
            assert_eq!(font.weight().to_number(), face.weight);
            assert_eq!(font.is_italic(), face.italic);
        }
    }

    #[test]
    fn apostrophes_are_curled_and_quotes_are_left() {
        let said = |text: &str| curled(text);
        let curly = |text: &str| Some(text.replace('\'', "\u{2019}"));
        assert_eq!(said("Snuffer's Row"), curly("Snuffer's Row"));
        assert_eq!(said("the boards' edges"), curly("the boards' edges"));
        for kept in [
            "'q' \"Q\"",
            "it says 'yes' here",
            "<a href='x'>",
            "6' 2\"",
            "no mark",
        ] {
            assert_eq!(said(kept), None, "{kept}");
        }
        assert_eq!(said("'it's yes'").as_deref(), Some("'it\u{2019}s yes'"));
    }

    #[test]
    fn capitals_are_as_high_as_asked() {
        // The font's own outline of H, read by ttf-parser, at the size we ask for.
        let face = &parsed()[0];
        let h = face
            .glyph_index('H')
            .and_then(|id| face.glyph_bounding_box(id))
            .expect("H");
        let mm = f64::from(h.y_max) / f64::from(face.units_per_em()) * size_mm(2.5);
        assert!((mm - 2.5).abs() < 0.02, "{mm}");
    }

    #[test]
    fn figures_are_all_of_one_width() {
        let width = width_mm("0", 2.5, false);
        for digit in "123456789".chars() {
            assert!((width_mm(&digit.to_string(), 2.5, false) - width).abs() < 1e-9);
        }
    }

    #[test]
    fn names_of_europe_print_and_other_scripts_are_refused_by_character() {
        for name in [
            "Zażółć gęślą jaźń",
            "Ελένη Ώχρα",
            "Щука Ґанок",
            "Þórður Ø½ ≤ − → ☑",
        ] {
            assert_eq!(missing(name), None, "{name}");
        }
        assert_eq!(missing("two\nlines"), None);
        assert_eq!(missing("a\tb"), Some('\t'));
        assert_eq!(missing("nib 木"), Some('木'));
    }

    #[test]
    fn runs_of_what_prints_agree_with_what_is_missing() {
        let runs = printable();
        assert!(runs.windows(2).all(|w| w[0].1 + 1 < w[1].0));
        for c in ('\u{20}'..'\u{2500}').filter(|c| *c != '\n') {
            let code = u32::from(c);
            let listed = runs.iter().any(|(a, b)| (*a..=*b).contains(&code));
            assert_eq!(listed, missing(&c.to_string()).is_none(), "{c}");
        }
    }

    #[test]
    fn sizes_stay_together_and_even_lines_are_no_more() {
        let text = "opening to chamber, 900 \u{d7} 2030";
        let lines = wrap(text, 2.5, false, 45.0);
        assert_eq!(lines, ["opening to chamber,", "900 \u{d7} 2030"]);
        let title = "Shelved wardrobe: W2, W4, bay 1 of 2";
        let (plain, even) = (
            wrap(title, 3.5, true, 70.0),
            wrap_evenly(title, 3.5, true, 70.0),
        );
        assert_eq!(plain.len(), even.len());
        let widest = |l: &[String]| l.iter().map(|l| width_mm(l, 3.5, true)).fold(0.0, f64::max);
        assert!(widest(&even) <= widest(&plain));
        assert_eq!(even.join(" "), title);
    }

    #[test]
    fn a_figure_stays_with_its_noun() {
        let words = "Slatted bed front: 21 slats 60 wide, 18.5 apart; blank 34";
        for width in [18.0, 22.0, 30.0, 34.0, 40.0] {
            let lines = wrap(words, 2.5, false, width);
            for whole in ["21 slats", "60 wide", "18.5 apart", "blank 34"] {
                assert!(lines.iter().any(|l| l.contains(whole)), "{lines:?}");
            }
        }
    }

    /// Half of "1000" reads as another figure.
    #[test]
    fn a_size_is_not_broken_even_where_it_is_too_wide() {
        let lines = wrap("window 1050 \u{d7} 1000, sill 1080", 2.5, false, 18.0);
        assert!(
            lines.iter().any(|l| l.contains("1050 \u{d7} 1000")),
            "{lines:?}"
        );
        for width in [1.0, 4.0, 9.0] {
            let lines = wrap("1050 \u{d7} 1000", 2.5, false, width);
            assert_eq!(lines, ["1050 \u{d7} 1000"]);
        }
    }

    #[test]
    fn wrapped_lines_keep_every_word_and_the_width() {
        let text =
            "socket moved into the plinth by the electrician\nunbreakableunbreakableunbreakable";
        let lines = wrap(text, 2.5, false, 30.0);
        assert!(
            lines.iter().all(|l| width_mm(l, 2.5, false) <= 30.0),
            "{lines:?}"
        );
        let squeeze = |s: &str| s.replace([' ', '\n'], "");
        assert_eq!(squeeze(&lines.concat()), squeeze(text));
    }
}
