//! Words in SVG. Knows that a reader of SVG loads the font anew for each element and each place given
//! outright, so that lines of one style share an element and stand apart by relative moves; must not
//! know what the words are for.

use xmlwriter::XmlWriter;

use super::number;
use crate::draw::place::{Align, Text};
use crate::draw::scene::Pt;
use crate::draw::style::LINE_PITCH;
use crate::lettering;

/// Longer elements are slower again: their readers count from the start for each character.
const LONGEST: usize = 200;

/// The words of a drawing, sorted by how they are set.
#[derive(Default)]
pub struct Words {
    styles: Vec<(Style, Vec<Line>)>,
}

#[derive(Clone, Copy, PartialEq)]
struct Style {
    cap: f64,
    bold: bool,
    turned: bool,
}

/// One line, by the left end of its baseline in the turned or unturned sheet, mm.
struct Line {
    start: Pt,
    words: String,
}

impl Words {
    pub fn add(&mut self, text: &Text) {
        let style = Style {
            cap: text.cap,
            bold: text.bold,
            turned: text.turned,
        };
        let lines = lines(text);
        match self.styles.iter_mut().find(|(s, _)| *s == style) {
            Some((_, all)) => all.extend(lines),
            None => self.styles.push((style, lines)),
        }
    }

    pub fn write(self, w: &mut XmlWriter) {
        for (style, lines) in self.styles {
            let (plain, odd): (Vec<Line>, Vec<Line>) =
                lines.into_iter().partition(|l| is_plain(&l.words));
            let mut rest = plain.as_slice();
            while !rest.is_empty() {
                let mut length = 0;
                let fits = rest.iter().take_while(|l| {
                    length += l.words.chars().count() + 1;
                    length <= LONGEST
                });
                let (head, tail) = rest.split_at(fits.count().max(1));
                style.element(w, head);
                rest = tail;
            }
            for line in &odd {
                style.element(w, std::slice::from_ref(line));
            }
        }
    }
}

impl Style {
    /// Lines one after the other, a blank between two, each moved from where the last one ended.
    fn element(self, w: &mut XmlWriter, lines: &[Line]) {
        let Some(first) = lines.first() else { return };
        let mut words = String::new();
        let (mut along, mut down) = (Vec::new(), Vec::new());
        let mut pen = first.start;
        for line in lines {
            if !words.is_empty() {
                words.push(' ');
                along.push("0".to_string());
                down.push("0".to_string());
                pen.x += self.width(" ");
            }
            // As written, so that roundings do not add up.
            let (dx, dy) = (number(line.start.x - pen.x), number(line.start.y - pen.y));
            let moved = |d: &str| d.parse().unwrap_or(0.0);
            pen = Pt::new(
                pen.x + moved(&dx) + self.width(&line.words),
                pen.y + moved(&dy),
            );
            along.push(dx);
            down.push(dy);
            let more = line.words.chars().count().saturating_sub(1);
            along.extend(std::iter::repeat_n("0".to_string(), more));
            down.extend(std::iter::repeat_n("0".to_string(), more));
            words.push_str(&line.words);
        }
        w.start_element("text");
        w.write_attribute("x", &number(first.start.x));
        w.write_attribute("y", &number(first.start.y));
        if lines.len() > 1 {
            w.write_attribute("dx", &along.join(" "));
            w.write_attribute("dy", &down.join(" "));
        }
        if self.turned {
            w.write_attribute("transform", "rotate(-90)");
        }
        // Quoted: a family that ends in a digit is no CSS identifier.
        let families = format!("'{}', '{}'", lettering::FAMILY, lettering::FALLBACK);
        w.write_attribute("font-family", &families);
        w.write_attribute("font-size", &self.size());
        // Widths are sums of advances, here as in the layout.
        w.write_attribute("style", "font-kerning:none");
        if self.bold {
            w.write_attribute("font-weight", "600");
        }
        w.write_attribute("xml:space", "preserve");
        w.set_preserve_whitespaces(true);
        // The writer escapes `<` and leaves `&` to us.
        w.write_text(&words.replace('&', "&amp;"));
        w.end_element();
        w.set_preserve_whitespaces(false);
    }

    /// The font's size, as written.
    fn size(self) -> String {
        number(lettering::size_mm(self.cap))
    }

    /// At the size as written.
    fn width(self, words: &str) -> f64 {
        let exact = lettering::size_mm(self.cap);
        let written = self.size().parse().unwrap_or(exact);
        lettering::width_mm(words, self.cap, self.bold) * written / exact
    }
}

fn lines(text: &Text) -> Vec<Line> {
    // The block's own box before it is turned.
    let (left, top) = (
        text.centre.x - text.width / 2.0,
        text.centre.y - text.height / 2.0,
    );
    let line = |(i, words): (usize, &String)| {
        let spare = text.width - lettering::width_mm(words, text.cap, text.bold);
        let x = match text.align {
            Align::Left => left,
            Align::Centre => left + spare / 2.0,
            Align::Right => left + spare,
        };
        let y = top + text.ascent + i as f64 * LINE_PITCH * text.cap;
        let start = if text.turned {
            // What a quarter turn of the whole sheet brings to where the block is turned to.
            let c = text.centre;
            Pt::new(x - c.x - c.y, c.x + y - c.y)
        } else {
            Pt::new(x, y)
        };
        Line {
            start,
            words: lettering::curled(words).unwrap_or_else(|| words.clone()),
        }
    };
    text.lines.iter().enumerate().map(line).collect()
}

/// Whether the line is as wide as its letters whatever stands before it: no ligature of the bundled
/// fonts (ff, ft), no mark that combines, and letters of one script, Latin.
fn is_plain(words: &str) -> bool {
    let latin = |c: char| c < '\u{300}' || ('\u{2000}'..'\u{2500}').contains(&c);
    !words.contains("ff") && !words.contains("ft") && words.chars().all(latin)
}
