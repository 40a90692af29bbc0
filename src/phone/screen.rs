//! A drawing's SVG made fit to stand in a page among others, and which characters its words need. Knows the
//! markup that `draw` writes; must not know what a drawing shows.

use std::collections::BTreeSet;

use crate::lettering;

/// Characters by weight: plain, bold.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Letters {
    pub plain: BTreeSet<char>,
    pub bold: BTreeSet<char>,
}

/// Attributes that the page's styles give to all drawings at once: its policy allows none in line.
const LEFT_OUT: &[&str] = &["xmlns", "font-family", "style", "xml:space", "dx", "dy"];

/// What is changed or left out in elements that are no words and not the drawing itself.
const MINDED: &[&str] = &[" id=\"", "url(#", " style=\"", " xmlns=\""];

/// The SVG with its ids its own (`nth` of the page), a name to be read out, and no size of its own. Notes
/// the characters of its words.
pub fn for_screen(svg: &str, nth: usize, alt: &str, letters: &mut Letters) -> String {
    let mut out = String::with_capacity(svg.len());
    let mut rest = svg;
    // The element whose words come next.
    let mut text = "";
    while let Some(start) = rest.find('<') {
        let (words, tag) = rest.split_at(start);
        note(words, is_bold(text), letters);
        match lines(text, words) {
            Some(lines) => lines.iter().for_each(|l| l.write(&mut out)),
            None => out.push_str(words),
        }
        let end = tag.find('>').map_or(tag.len(), |at| at + 1);
        let (tag, after) = tag.split_at(end);
        text = if tag.starts_with("<text") { tag } else { "" };
        let drawing = tag.starts_with("<svg ");
        write_tag(tag, nth, drawing, &mut out);
        if drawing && out.ends_with('>') {
            out.pop();
            out.push_str(" role=\"img\" aria-label=\"");
            out.push_str(&attribute(alt));
            out.push_str("\">");
        }
        rest = after;
    }
    out
}

fn is_bold(text: &str) -> bool {
    text.contains("font-weight=\"600\"")
}

/// Words that begin at a place of their own.
struct Line {
    x: f64,
    y: f64,
    words: String,
}

impl Line {
    fn write(&self, out: &mut String) {
        let (x, y) = (self.x, self.y);
        let words = attribute(self.words.trim_end());
        out.push_str(&format!("<tspan x=\"{x:.2}\" y=\"{y:.2}\">{words}</tspan>"));
    }
}

/// The words of an element parted where they move. Browsers put the leftmost of all words that move
/// relatively at the element's place (SVG 2, "Text layout algorithm", resolve text anchoring), and
/// other readers the first. `None`: nothing moves.
fn lines(text: &str, words: &str) -> Option<Vec<Line>> {
    let steps = |name| -> Option<Vec<f64>> {
        let listed = value(text, name)?.split(' ');
        Some(listed.map(number).collect())
    };
    let (dx, dy) = (steps("dx")?, steps("dy")?);
    let size = number(value(text, "font-size")?);
    let cap = size / lettering::size_mm(1.0).max(f64::EPSILON);
    let (mut x, mut y) = (number(value(text, "x")?), number(value(text, "y")?));
    let mut all: Vec<Line> = Vec::new();
    for (n, c) in plain(words).chars().enumerate() {
        let step = |all: &[f64]| all.get(n).copied().unwrap_or(0.0);
        let moved = step(&dx) != 0.0 || step(&dy) != 0.0;
        (x, y) = (x + step(&dx), y + step(&dy));
        match all.last_mut() {
            Some(line) if !moved => line.words.push(c),
            _ => all.push(Line {
                x,
                y,
                words: c.to_string(),
            }),
        }
        x += lettering::width_mm(c.encode_utf8(&mut [0; 4]), cap, is_bold(text));
    }
    Some(all)
}

/// Of an attribute.
fn value<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let (_, after) = tag.split_once(&format!(" {name}=\""))?;
    Some(after.split_once('"')?.0)
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or(0.0)
}

/// As they are read: `draw` writes these two so, and no others.
fn plain(words: &str) -> String {
    words.replace("&lt;", "<").replace("&amp;", "&")
}

/// No quote, no angle bracket, whatever the text says.
fn attribute(text: &str) -> String {
    let text = text.replace('&', "&amp;").replace('"', "&quot;");
    text.replace('<', "&lt;").replace('>', "&gt;")
}

fn write_tag(tag: &str, nth: usize, drawing: bool, out: &mut String) {
    // Most are lines of a drawing, with nothing that this page minds.
    if !drawing && !tag.starts_with("<text") && !MINDED.iter().any(|m| tag.contains(m)) {
        out.push_str(tag);
        return;
    }
    let mut rest = tag;
    // Each attribute: a blank, its name, its value in double quotes.
    while let Some((before, after)) = rest.split_once("=\"") {
        let Some((value, next)) = after.split_once('"') else {
            break;
        };
        let (head, name) = before.rsplit_once([' ', '\n']).unwrap_or(("", before));
        out.push_str(head.trim_end());
        let own_size = drawing && matches!(name, "width" | "height");
        if !LEFT_OUT.contains(&name) && !own_size {
            let own = || format!("d{nth}-");
            out.extend([" ", name, "=\""]);
            match (name, value.split_once("url(#")) {
                ("id", _) => out.extend([&own(), value]),
                (_, Some((before, after))) => out.extend([before, "url(#", &own(), after]),
                (_, None) => out.push_str(value),
            }
            out.push('"');
        }
        rest = next;
    }
    out.push_str(rest);
}

fn note(words: &str, bold: bool, letters: &mut Letters) {
    let set = if bold {
        &mut letters.bold
    } else {
        &mut letters.plain
    };
    // What stands for `&` and `<` adds letters that are in every text anyway.
    set.extend(words.chars().filter(|c| !c.is_control()));
    if words.contains('&') {
        set.extend(['&', '<', '>']);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_keeps_its_lines_and_loses_what_the_page_gives_to_all() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"20mm\" \
            viewBox=\"0 0 40 20\">\n<defs>\n<pattern id=\"lining\" width=\"2\"/>\n</defs>\n\
            <rect x=\"1\" width=\"3\" fill=\"url(#lining)\"/>\n\
            <text x=\"2\" font-family=\"'Source Sans 3', 'Noto Sans'\" font-weight=\"600\" \
            style=\"font-kerning:none\" xml:space=\"preserve\">id=\"a\" &amp; 5</text>\n</svg>";
        let mut letters = Letters::default();
        let said = for_screen(svg, 7, "a \"wall\" <b>", &mut letters);
        assert!(
            said.starts_with(
                "<svg viewBox=\"0 0 40 20\" role=\"img\" aria-label=\"a &quot;wall&quot; &lt;b&gt;\">"
            ),
            "{said}"
        );
        assert!(said.contains("<pattern id=\"d7-lining\" width=\"2\"/>"));
        assert!(said.contains("<rect x=\"1\" width=\"3\" fill=\"url(#d7-lining)\"/>"));
        assert!(said.contains("<text x=\"2\" font-weight=\"600\">id=\"a\" &amp; 5</text>"));
        assert!(said.ends_with("</svg>"));
        assert!(letters.bold.contains(&'5') && letters.bold.contains(&'&'));
        assert!(!letters.plain.contains(&'5'));
    }

    /// Widths are those of the layout, so that each line begins where it was laid out.
    #[test]
    fn words_that_move_are_given_their_places() {
        let svg =
            "<text x=\"10\" y=\"5\" dx=\"0 0 -4.5\" dy=\"0 0 3\" font-size=\"4\">A &lt;b</text>";
        let cap = 4.0 / lettering::size_mm(1.0);
        let second = 10.0 + lettering::width_mm("A ", cap, false) - 4.5;
        let said = for_screen(svg, 0, "", &mut Letters::default());
        assert_eq!(
            said,
            format!(
                "<text x=\"10\" y=\"5\" font-size=\"4\"><tspan x=\"10.00\" y=\"5.00\">A</tspan>\
                 <tspan x=\"{second:.2}\" y=\"8.00\">&lt;b</tspan></text>"
            )
        );
    }

    #[test]
    fn damaged_markup_is_passed_on_whole() {
        let mut letters = Letters::default();
        for text in ["<", "<svg", "<text a=\"", "a<b c=\"d\"", "é<é=\"é\">é"] {
            let said = for_screen(text, 0, "", &mut letters);
            assert!(said.len() >= text.len().saturating_sub(4), "{text}: {said}");
        }
    }
}
