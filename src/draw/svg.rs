//! The one place that writes SVG: a placed drawing to text, in mm, with real words. Knows the
//! medium; decides neither places nor looks.

mod words;

use xmlwriter::{Options, XmlWriter};

use super::place::geometry::at_angle;
use super::place::{Item, Placed, Text, frame_of};
use super::scene::{LabelFrame, Pt, Rect, Shape};
use super::style::{self, Hatch, Ink, Paint};
use words::Words;

/// The whole drawing as an SVG of its size on paper. The same input gives the same bytes.
pub fn write(placed: &Placed) -> String {
    let mut w = XmlWriter::new(Options {
        use_single_quote: false,
        ..Options::default()
    });
    w.start_element("svg");
    w.write_attribute("xmlns", "http://www.w3.org/2000/svg");
    w.write_attribute("width", &format!("{}mm", number(placed.width)));
    w.write_attribute("height", &format!("{}mm", number(placed.height)));
    let (width, height) = (number(placed.width), number(placed.height));
    w.write_attribute("viewBox", &format!("0 0 {width} {height}"));
    hatches(&mut w, placed);
    let mut words = Words::default();
    for item in &placed.items {
        match item {
            Item::Shape { ink, fill, shape } => {
                // A white ground first: what is hatched hides what is behind it. Not in the tile,
                // between whose edges what is behind would glint.
                if matches!(style::paint(*fill), Paint::Hatch(_)) {
                    draw(&mut w, shape, Ink::None, Paint::Flat("#ffffff"));
                }
                draw(&mut w, shape, *ink, style::paint(*fill));
            }
            Item::Text(text) => {
                ground(&mut w, text);
                words.add(text);
            }
        }
    }
    // Words last: nothing covers them, and those of one style are one element.
    words.write(&mut w);
    w.end_element();
    w.end_document()
}

/// The tiles of the hatches that this drawing uses.
fn hatches(w: &mut XmlWriter, placed: &Placed) {
    let mut used: Vec<Hatch> = Vec::new();
    for item in &placed.items {
        if let Item::Shape { fill, .. } = item
            && let Paint::Hatch(hatch) = style::paint(*fill)
            && !used.contains(&hatch)
        {
            used.push(hatch);
        }
    }
    if used.is_empty() {
        return;
    }
    used.sort_by_key(|h| h.id);
    w.start_element("defs");
    for hatch in used {
        w.start_element("pattern");
        w.write_attribute("id", hatch.id);
        w.write_attribute("patternUnits", "userSpaceOnUse");
        w.write_attribute("width", &number(hatch.width));
        w.write_attribute("height", &number(hatch.height));
        if hatch.turn != 0.0 {
            w.write_attribute(
                "patternTransform",
                &format!("rotate({})", number(hatch.turn)),
            );
        }
        for (x0, y0, x1, y1, width, grey) in hatch.lines {
            w.start_element("path");
            let d = path_of(&[Pt::new(*x0, *y0), Pt::new(*x1, *y1)], false);
            w.write_attribute("d", &d);
            w.write_attribute("stroke", grey);
            w.write_attribute("stroke-width", &number(*width));
            w.end_element();
        }
        for (x, y, radius) in hatch.dots {
            w.start_element("circle");
            w.write_attribute("cx", &number(*x));
            w.write_attribute("cy", &number(*y));
            w.write_attribute("r", &number(*radius));
            w.end_element();
        }
        w.end_element();
    }
    w.end_element();
}

fn draw(w: &mut XmlWriter, shape: &Shape, ink: Ink, paint: Paint) {
    if let (Paint::Picture(at), Shape::Rect(r)) = (paint, shape) {
        picture(w, *r, at);
        if ink == Ink::None {
            return;
        }
    }
    match shape {
        Shape::Path { points, closed } => {
            w.start_element("path");
            w.write_attribute("d", &path_of(points, *closed));
        }
        Shape::Rect(r) => {
            w.start_element("rect");
            w.write_attribute("x", &number(r.x0));
            w.write_attribute("y", &number(r.y0));
            w.write_attribute("width", &number(r.x1 - r.x0));
            w.write_attribute("height", &number(r.y1 - r.y0));
        }
        Shape::Circle { centre, radius } => {
            w.start_element("circle");
            w.write_attribute("cx", &number(centre.x));
            w.write_attribute("cy", &number(centre.y));
            w.write_attribute("r", &number(*radius));
        }
        Shape::Arc {
            centre,
            radius,
            from,
            sweep,
        } => {
            w.start_element("path");
            w.write_attribute("d", &arc_of(*centre, *radius, *from, *sweep));
        }
        // Placing has turned every symbol into shapes.
        Shape::Symbol { .. } => return,
    }
    match paint {
        Paint::None | Paint::Picture(_) => w.write_attribute("fill", "none"),
        Paint::Flat(colour) => w.write_attribute("fill", colour),
        Paint::Hatch(hatch) => w.write_attribute("fill", &format!("url(#{})", hatch.id)),
    }
    let pen = style::pen(ink);
    if pen.width > 0.0 {
        w.write_attribute("stroke", "#000000");
        w.write_attribute("stroke-width", &number(pen.width));
        w.write_attribute(
            "stroke-linecap",
            if pen.dash.is_empty() { "round" } else { "butt" },
        );
        w.write_attribute("stroke-linejoin", "round");
        if !pen.dash.is_empty() {
            let dash: Vec<String> = pen.dash.iter().map(|d| number(*d)).collect();
            w.write_attribute("stroke-dasharray", &dash.join(" "));
        }
    }
    w.end_element();
}

/// By name: [`faces`](super::faces) puts the picture there.
fn picture(w: &mut XmlWriter, r: Rect, at: u32) {
    w.start_element("image");
    w.write_attribute("x", &number(r.x0));
    w.write_attribute("y", &number(r.y0));
    w.write_attribute("width", &number(r.x1 - r.x0));
    w.write_attribute("height", &number(r.y1 - r.y0));
    w.write_attribute("preserveAspectRatio", "none");
    // Cut at about the dots it is shown at: costlier ways show the same.
    w.write_attribute("style", "image-rendering:smooth");
    w.write_attribute("href", &super::faces::name(at));
    w.end_element();
}

/// The white ground of a block of words, with its frame.
fn ground(w: &mut XmlWriter, text: &Text) {
    let ground = if text.knock {
        Paint::Flat("#ffffff")
    } else {
        Paint::None
    };
    if text.frame == LabelFrame::None {
        if text.knock {
            draw(w, &Shape::Rect(text.knocked()), Ink::None, ground);
        }
    } else if let Some(frame) = frame_of(text) {
        draw(w, &frame, Ink::Frame, ground);
    }
}

fn path_of(points: &[Pt], closed: bool) -> String {
    let mut d = String::new();
    for (i, p) in points.iter().enumerate() {
        d.push_str(if i == 0 { "M" } else { "L" });
        d.push_str(&format!("{} {}", number(p.x), number(p.y)));
    }
    if closed {
        d.push('Z');
    }
    d
}

fn arc_of(centre: Pt, radius: f64, from: f64, sweep: f64) -> String {
    let (a, b) = (
        at_angle(centre, radius, from),
        at_angle(centre, radius, from + sweep),
    );
    let (large, clockwise) = (u8::from(sweep.abs() > 180.0), u8::from(sweep > 0.0));
    let r = number(radius);
    format!(
        "M{} {}A{r} {r} 0 {large} {clockwise} {} {}",
        number(a.x),
        number(a.y),
        number(b.x),
        number(b.y)
    )
}

/// Three decimals at most (a micrometre of paper), no trailing zeros, never −0.
fn number(v: f64) -> String {
    let text = format!("{v:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_string()
    } else {
        text.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::Fill;

    #[test]
    fn numbers_are_short_and_have_no_negative_zero() {
        assert_eq!(number(-0.0001), "0");
        assert_eq!(number(12.5), "12.5");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(1.0 / 3.0), "0.333");
    }

    #[test]
    fn words_are_escaped_and_families_quoted() {
        let text = Text::line("a < b & \"c\"", 2.5);
        let placed = Placed {
            width: 10.0,
            height: 5.0,
            scale: 1,
            items: vec![Item::Text(text)],
        };
        let svg = write(&placed);
        assert!(
            svg.contains("font-family=\"'Source Sans 3', 'Noto Sans'\""),
            "{svg}"
        );
        assert!(svg.contains("a &lt; b &amp; \"c\""), "{svg}");
        assert!(svg.contains("viewBox=\"0 0 10 5\""), "{svg}");
    }

    #[test]
    fn hatch_fill_none_draws_nothing_inside() {
        let shape = Shape::Circle {
            centre: Pt::new(1.0, 1.0),
            radius: 1.0,
        };
        let items = vec![Item::Shape {
            ink: Ink::Frame,
            fill: Fill::None,
            shape,
        }];
        let svg = write(&Placed {
            width: 2.0,
            height: 2.0,
            scale: 1,
            items,
        });
        assert!(
            svg.contains("fill=\"none\"") && !svg.contains("<defs>"),
            "{svg}"
        );
    }
}
