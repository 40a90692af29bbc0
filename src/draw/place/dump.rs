//! A scene or a placed drawing as text, one line for each thing, for snapshots. Knows how to say
//! it, not what it means.

use std::fmt::Write;

use super::{Item, Placed};
use crate::draw::scene::{Pt, Scene, Shape};

/// One line a mark, label, chain and callout; real mm.
pub fn scene_dump(scene: &Scene) -> String {
    let mut out = format!("scene {} \"{}\"\n", scene.id, scene.title);
    for m in &scene.marks {
        line(&mut out, format_args!("mark {:?} {:?} {}", m.role, m.fill, shape(&m.shape)));
    }
    for l in &scene.labels {
        let words = l.lines.join(" / ");
        let (at, frame, size) = (pt(l.at), l.frame, l.lettering);
        line(&mut out, format_args!("label \"{words}\" {at} {size:?} {frame:?} rank {}", l.rank));
    }
    for c in &scene.chains {
        let stops: Vec<String> = c.stops.iter().map(ToString::to_string).collect();
        let from = c.running_from.map_or(String::new(), |l| format!(" running from {l}"));
        let stops = stops.join(" ");
        line(&mut out, format_args!("chain {:?} {} {:?}{from}: {stops}", c.side, c.tier, c.name));
    }
    for c in &scene.callouts {
        let balloon = c.balloon.as_deref().unwrap_or("-");
        line(&mut out, format_args!("callout {} ({balloon}) \"{}\"", pt(c.target), c.text));
    }
    for l in &scene.legend {
        line(&mut out, format_args!("legend {:?} \"{}\"", l.sample, l.text));
    }
    for x in &scene.may_part_at {
        line(&mut out, format_args!("may part at {}", number(*x)));
    }
    out
}

/// One line an item; mm of paper.
pub fn placed_dump(placed: &Placed) -> String {
    let (w, h) = (number(placed.width), number(placed.height));
    let mut out = format!("placed {w} x {h} at 1:{}\n", placed.scale);
    for item in &placed.items {
        match item {
            Item::Shape { ink, fill, shape: s } => {
                line(&mut out, format_args!("{ink:?} {fill:?} {}", shape(s)));
            }
            Item::Text(t) => {
                let turned = if t.turned { " turned" } else { "" };
                let words = t.lines.join(" / ");
                line(&mut out, format_args!("text \"{words}\" {} {}{turned}", pt(t.centre), t.cap));
            }
        }
    }
    out
}

fn line(out: &mut String, args: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = out.write_fmt(args);
    out.push('\n');
}

fn shape(s: &Shape) -> String {
    match s {
        Shape::Path { points, closed } => {
            let points: Vec<String> = points.iter().map(|p| pt(*p)).collect();
            format!("{} {}", if *closed { "area" } else { "line" }, points.join(" "))
        }
        Shape::Rect(r) => format!("rect {} {}", pt(Pt::new(r.x0, r.y0)), pt(Pt::new(r.x1, r.y1))),
        Shape::Circle { centre, radius } => format!("circle {} r {}", pt(*centre), number(*radius)),
        Shape::Arc { centre, radius, from, sweep } => format!(
            "arc {} r {} from {} sweep {}",
            pt(*centre),
            number(*radius),
            number(*from),
            number(*sweep)
        ),
        Shape::Symbol { at, symbol } => format!("{symbol:?} {}", pt(*at)),
    }
}

fn pt(p: Pt) -> String {
    format!("{},{}", number(p.x), number(p.y))
}

/// At most two decimals and never −0.
fn number(v: f64) -> String {
    let text = format!("{v:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_string() } else { text.to_string() }
}
