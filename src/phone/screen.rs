//! A drawing's SVG made fit to stand in a page among others, and which characters its words need. Knows the
//! markup that `draw` writes; must not know what a drawing shows.

use std::collections::BTreeSet;

/// Characters by weight: plain, bold.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Letters {
    pub plain: BTreeSet<char>,
    pub bold: BTreeSet<char>,
}

/// Attributes that the page's styles give to all drawings at once: its policy allows none in line.
const LEFT_OUT: &[&str] = &["xmlns", "font-family", "style", "xml:space"];

/// The SVG with its ids its own (`nth` of the page), a name to be read out, and no size of its own. Notes
/// the characters of its words.
pub fn for_screen(svg: &str, nth: usize, alt: &str, letters: &mut Letters) -> String {
    let mut out = String::with_capacity(svg.len());
    let (mut rest, mut bold) = (svg, false);
    while let Some(start) = rest.find('<') {
        let (words, tag) = rest.split_at(start);
        note(words, bold, letters);
        out.push_str(words);
        let end = tag.find('>').map_or(tag.len(), |at| at + 1);
        let (tag, after) = tag.split_at(end);
        if tag.starts_with("<text") {
            bold = tag.contains("font-weight=\"600\"");
        }
        let drawing = tag.starts_with("<svg");
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

/// No quote, no angle bracket, whatever the text says.
fn attribute(text: &str) -> String {
    let text = text.replace('&', "&amp;").replace('"', "&quot;");
    text.replace('<', "&lt;").replace('>', "&gt;")
}

fn write_tag(tag: &str, nth: usize, drawing: bool, out: &mut String) {
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
            out.push_str(&format!(" {name}=\""));
            match name {
                "id" => out.push_str(&format!("d{nth}-{value}")),
                _ => out.push_str(&value.replace("url(#", &format!("url(#d{nth}-"))),
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

    #[test]
    fn damaged_markup_is_passed_on_whole() {
        let mut letters = Letters::default();
        for text in ["<", "<svg", "<text a=\"", "a<b c=\"d\"", "é<é=\"é\">é"] {
            let said = for_screen(text, 0, "", &mut letters);
            assert!(said.len() >= text.len().saturating_sub(4), "{text}: {said}");
        }
    }
}
