//! What must never be on a sheet: words over words, words under lines, words off the paper. Knows
//! the placed drawing alone, so it judges every placer alike.

use super::geometry::{Segment, segments};
use super::{Item, Placed, Text};
use crate::draw::scene::{Fill, Pt, Rect, Shape};
use crate::draw::style::{Ink, Weight, hides, weight};

#[derive(Clone, Debug, PartialEq)]
pub enum Collision {
    /// Two texts share paper.
    Texts(String, String),
    /// A line runs through a text and is not interrupted beneath it.
    Crossed(String, Ink),
    /// A line that must not be interrupted is knocked out under a text.
    Hidden(String, Ink),
    /// A text is not wholly on the paper.
    OffPaper(String),
    /// Words or a line where the title block goes.
    OnTitleBlock(String),
    /// A leader runs through words: it would strike out a figure, or point from it.
    Led(String),
    /// Two leaders cross; the points where they end.
    Leaders(Pt, Pt),
    /// A leader crosses a line of a dimension chain; the point where it ends.
    Chain(Pt),
}

/// Every collision of a drawing, in drawing order.
pub fn collisions(placed: &Placed) -> Vec<Collision> {
    let paper = Rect::new(0.0, 0.0, placed.width, placed.height).grown(1e-6);
    let mut found = on_title_block(placed);
    let texts: Vec<(usize, &Text)> = placed
        .items
        .iter()
        .enumerate()
        .filter_map(|(i, item)| match item {
            Item::Text(t) => Some((i, t)),
            Item::Shape { .. } => None,
        })
        .collect();
    for (n, (index, text)) in texts.iter().enumerate() {
        let name = || text.lines.join(" ");
        let bounds = text.bounds();
        if !paper.contains(bounds) {
            found.push(Collision::OffPaper(name()));
        }
        for (_, other) in texts.iter().skip(n + 1) {
            if bounds.grown(-0.02).overlaps(other.bounds()) {
                found.push(Collision::Texts(name(), other.lines.join(" ")));
            }
        }
        for (i, item) in placed.items.iter().enumerate() {
            let Item::Shape { ink, fill, shape } = item else {
                continue;
            };
            let drawn = *ink != Ink::None || *fill == Fill::Solid;
            let hit = || {
                segments(shape)
                    .iter()
                    .any(|s| s.enters(bounds.grown(-0.02)))
            };
            let beneath = i < *index && text.knock;
            if !drawn || covered(placed, i, *index, bounds) || !hit() {
                continue;
            }
            if !beneath {
                found.push(Collision::Crossed(name(), *ink));
            } else if weight(*ink) == Weight::Heavy {
                found.push(Collision::Hidden(name(), *ink));
            }
        }
    }
    found
}

/// Words that a leader runs through, leaders that cross, and leaders over the lines of dimension chains
/// (ISO 129-1, from memory: leaders keep off all three).
pub fn faulty_leaders(items: &[Item]) -> Vec<Collision> {
    let mut found = Vec::new();
    each_fault(items, |fault, _| found.push(fault));
    found
}

/// Where the leaders end that [`faulty_leaders`] tells of, each once.
pub fn faulty_ends(items: &[Item]) -> Vec<Pt> {
    let mut ends: Vec<Pt> = Vec::new();
    each_fault(items, |_, at| {
        let fresh = at.iter().filter(|p| !ends.contains(p));
        let fresh: Vec<Pt> = fresh.copied().collect();
        ends.extend(fresh);
    });
    ends
}

/// Where the leaders end that are too long to be followed.
pub fn far_ends(items: &[Item]) -> Vec<Pt> {
    let long = |line: &[Segment]| line.iter().map(|s| s.length()).sum::<f64>() > FAR;
    let far = leaders(items).into_iter().filter(|(_, line)| long(line));
    far.map(|(end, _)| end).collect()
}

/// A leader is no longer than this where there is another way, mm (common practice, no source).
const FAR: f64 = 80.0;

fn each_fault(items: &[Item], mut tell: impl FnMut(Collision, &[Pt])) {
    let leaders = leaders(items);
    let texts = || {
        items.iter().filter_map(|item| match item {
            Item::Text(t) => Some(t),
            Item::Shape { .. } => None,
        })
    };
    let own: Vec<&Segment> = leaders.iter().flat_map(|(_, line)| line).collect();
    let chains: Vec<Segment> = items
        .iter()
        .filter_map(|item| match item {
            Item::Shape {
                ink: Ink::Dimension,
                shape,
                ..
            } => Some(segments(shape)),
            _ => None,
        })
        .flatten()
        .filter(|s| !own.contains(&s))
        .collect();
    for (i, (end, line)) in leaders.iter().enumerate() {
        for text in texts() {
            let bounds = text.bounds().grown(-0.02);
            if line.iter().any(|s| s.enters(bounds)) {
                tell(Collision::Led(text.lines.join(" ")), &[*end]);
            }
        }
        for (other_end, other) in leaders.iter().skip(i + 1) {
            if line.iter().any(|s| other.iter().any(|o| s.crosses(*o))) {
                tell(Collision::Leaders(*end, *other_end), &[*end, *other_end]);
            }
        }
        if line.iter().any(|s| chains.iter().any(|c| c.crosses(*s))) {
            tell(Collision::Chain(*end), &[*end]);
        }
    }
}

/// Values and names of chains that another chain's line runs under. Not among the collisions that never
/// may be: the line is interrupted there, and some values have no other place.
pub fn struck_values(placed: &Placed) -> Vec<String> {
    let leaders = leaders(&placed.items);
    let own: Vec<&Segment> = leaders.iter().flat_map(|(_, line)| line).collect();
    let lines = placed.items.iter().filter_map(|item| match item {
        Item::Shape {
            ink: Ink::Dimension,
            shape,
            ..
        } => Some(segments(shape)),
        _ => None,
    });
    let lines: Vec<Segment> = lines.flatten().filter(|s| !own.contains(&s)).collect();
    let texts = placed.items.iter().filter_map(|item| match item {
        Item::Text(t) => Some(t),
        Item::Shape { .. } => None,
    });
    texts
        .filter(|t| {
            let bounds = t.bounds().grown(-0.02);
            lines.iter().any(|s| s.enters(bounds))
        })
        .map(|t| t.lines.join(" "))
        .collect()
}

/// Whether an opaque fill laid after shape `from` and before text `to` covers all of `bounds`.
fn covered(placed: &Placed, from: usize, to: usize, bounds: Rect) -> bool {
    let between = placed.items.iter().take(to).skip(from + 1);
    between.into_iter().any(|later| match later {
        Item::Shape {
            fill,
            shape: Shape::Rect(r),
            ..
        } => hides(*fill) && r.contains(bounds),
        Item::Shape {
            fill,
            shape: Shape::Circle { centre, radius },
            ..
        } => {
            let far = |p: &Pt| libm::hypot(p.x - centre.x, p.y - centre.y);
            hides(*fill) && bounds.corners().iter().all(|p| far(p) <= *radius)
        }
        _ => false,
    })
}

/// Every leader with the point it ends at: a thin line with a dot at its end, drawn straight after it.
fn leaders(items: &[Item]) -> Vec<(Pt, Vec<Segment>)> {
    let pairs = items.iter().zip(items.iter().skip(1));
    pairs
        .filter_map(|pair| match pair {
            (
                Item::Shape {
                    ink: Ink::Dimension,
                    shape: line @ Shape::Path { points, .. },
                    ..
                },
                Item::Shape {
                    fill: Fill::Solid,
                    shape: Shape::Circle { centre, .. },
                    ..
                },
            ) => {
                let ends = [points.first(), points.last()].into_iter().flatten();
                let mut dotted =
                    ends.filter(|p| libm::hypot(p.x - centre.x, p.y - centre.y) < 0.01);
                dotted.next().map(|_| (*centre, segments(line)))
            }
            _ => None,
        })
        .collect()
}

/// What stands where the page puts the title block; a drawing narrower than one has none.
fn on_title_block(placed: &Placed) -> Vec<Collision> {
    let block = super::TITLE_BLOCK;
    if placed.width < block.width {
        return Vec::new();
    }
    let (x0, y0) = (placed.width - block.width, placed.height - block.height);
    let corner = Rect::new(x0, y0, placed.width, placed.height).grown(-0.01);
    let hit = placed
        .items
        .iter()
        .filter(|i| i.bounds().is_some_and(|b| b.overlaps(corner)));
    hit.map(|item| match item {
        Item::Text(text) => Collision::OnTitleBlock(text.lines.join(" ")),
        Item::Shape { ink, .. } => Collision::OnTitleBlock(format!("a line: {ink:?}")),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::Role;

    fn placed(items: Vec<Item>) -> Placed {
        Placed {
            width: 100.0,
            height: 100.0,
            scale: 1,
            items,
        }
    }

    fn word(x: f64, y: f64) -> Text {
        Text::line("600", 2.5).at(Pt::new(x, y))
    }

    fn line(role: Role) -> Item {
        let points = vec![Pt::new(0.0, 50.0), Pt::new(100.0, 50.0)];
        let shape = Shape::Path {
            points,
            closed: false,
        };
        Item::Shape {
            ink: Ink::Role(role),
            fill: Fill::None,
            shape,
        }
    }

    /// From one corner of the sheet to `to`, with its dot.
    fn leader(from: Pt, to: Pt) -> [Item; 2] {
        let item = |ink, fill, shape| Item::Shape { ink, fill, shape };
        let line = Shape::Path {
            points: vec![from, to],
            closed: false,
        };
        let dot = Shape::Circle {
            centre: to,
            radius: 0.5,
        };
        [
            item(Ink::Dimension, Fill::None, line),
            item(Ink::None, Fill::Solid, dot),
        ]
    }

    #[test]
    fn leaders_that_cross_are_found_and_leaders_side_by_side_are_not() {
        let two = |x: f64| {
            let first = leader(Pt::new(0.0, 0.0), Pt::new(80.0, 80.0));
            let second = leader(Pt::new(x, 0.0), Pt::new(x - 50.0, 80.0));
            placed(first.into_iter().chain(second).collect())
        };
        let crossed = faulty_leaders(&two(80.0).items);
        assert!(
            matches!(crossed[..], [Collision::Leaders(..)]),
            "{crossed:?}"
        );
        assert_eq!(faulty_leaders(&two(180.0).items), []);
    }

    #[test]
    fn a_line_of_a_chain_under_a_figure_is_found() {
        let line = |x: f64| {
            let points = vec![Pt::new(x, 0.0), Pt::new(x, 100.0)];
            let closed = false;
            Item::Shape {
                ink: Ink::Dimension,
                fill: Fill::None,
                shape: Shape::Path { points, closed },
            }
        };
        let sheet = |x: f64| placed(vec![line(x), Item::Text(word(50.0, 50.0))]);
        assert_eq!(struck_values(&sheet(50.0)), ["600"]);
        assert_eq!(struck_values(&sheet(60.0)), [""; 0]);
    }

    #[test]
    fn planted_faults_are_found_and_sound_sheets_pass() {
        let sound = placed(vec![line(Role::Swing), Item::Text(word(50.0, 50.0))]);
        assert_eq!(collisions(&sound), []);
        let over = placed(vec![
            Item::Text(word(50.0, 50.0)),
            Item::Text(word(51.0, 50.0)),
        ]);
        assert!(matches!(collisions(&over)[..], [Collision::Texts(..)]));
        let crossed = placed(vec![Item::Text(word(50.0, 50.0)), line(Role::Swing)]);
        assert!(matches!(collisions(&crossed)[..], [Collision::Crossed(..)]));
        let hidden = placed(vec![line(Role::Edge), Item::Text(word(50.0, 50.0))]);
        assert!(matches!(collisions(&hidden)[..], [Collision::Hidden(..)]));
        let off = placed(vec![Item::Text(word(99.0, 50.0))]);
        assert!(matches!(collisions(&off)[..], [Collision::OffPaper(..)]));
    }
}
