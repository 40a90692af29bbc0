//! What changed since the newest issue, on a drawing: clouds, triangles, the old outline, old and new
//! figures. Must not know how changes were found.
//!
//! `facts` says what shows on which drawing, `place` where a thing stands on it, `notes` what is written.

mod facts;
mod notes;
mod place;

use crate::compare::{Entry, Register};
use crate::draw::DrawingKind;
use crate::draw::place::cloud::union;
use crate::draw::scene::{
    Callout, Fill, Label, LabelFrame, LegendItem, LegendSample, Lettering, Mark, Pt, Rect, Role,
    Scene, Shape,
};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;
use place::{View, When};

/// From a thing to the cloud round it, mm of the real thing.
const AWAY: f64 = 35.0;
/// From a cloud to its triangle at most, mm of the real thing.
const ROUND: f64 = 450.0;
/// An old outline nearer to the new than this would only smear it, mm of the real thing.
const APART: f64 = 12.0;
/// What one entry of the register comes to on one drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    pub number: usize,
    /// Where things are now, in the scene's coordinates.
    clouds: Vec<Rect>,
    /// Where they were.
    was: Vec<Rect>,
    /// What is written of it, and what that points at.
    note: Option<(Rect, String)>,
}

/// Draws them into a scene.
pub fn overlay(
    job: &Job,
    reckoned: &Reckoned,
    register: &Register,
    kind: &DrawingKind,
    scene: &mut Scene,
) {
    let view = View {
        job,
        reckoned,
        register,
        kind,
        shows: &scene.shows,
    };
    let entries = register.entries.iter();
    let all: Vec<Marked> = entries.filter_map(|e| view.marked(e)).collect();
    if all.is_empty() {
        return;
    }
    let moved = notes::moved_blanks(&view);
    if !moved.is_empty() {
        scene.labels.extend(moved);
        scene.legend.push(LegendItem {
            sample: LegendSample::Area(Fill::White),
            text: format!(
                "\u{201c}was\u{201d}: board, left, bottom edge on it in {}",
                register.from
            ),
        });
    }
    scene.changes = all.iter().map(|m| m.number).collect();
    let mut numbers: Vec<String> = Vec::new();
    // Clouds of several entries that touch are one.
    let rects: Vec<Rect> = all
        .iter()
        .flat_map(|m| m.clouds.iter())
        .map(grown)
        .collect();
    for points in union(&rects) {
        scene.marks.push(Mark {
            role: Role::Cloud,
            fill: Fill::None,
            shape: Shape::Path {
                points,
                closed: true,
            },
        });
    }
    for m in &all {
        // One triangle at each place where the entry has a cloud of its own.
        let own: Vec<Rect> = m.clouds.iter().map(grown).collect();
        for ring in union(&own) {
            let Some(corner) = top_right(&ring) else {
                continue;
            };
            scene.labels.push(Label {
                at: Pt::new(corner.x, corner.y - 60.0),
                lines: vec![m.number.to_string()],
                lettering: Lettering::Normal,
                bold: true,
                frame: LabelFrame::Triangle,
                within: around(&ring).map(|r| r.grown(ROUND)),
                rank: 8,
                listed: String::new(),
            });
        }
    }
    let mut old = false;
    for m in &all {
        for was in &m.was {
            scene.marks.push(line(Role::Was, *was));
            old = true;
        }
        if let Some((target, words)) = &m.note {
            scene.callouts.push(Callout {
                target: Pt::new(target.centre().x, target.y0 + target.height() * 0.12),
                text: format!("Change {}: {words}", m.number),
                balloon: None,
                aside: false,
            });
        }
        numbers.push(m.number.to_string());
    }
    let from = &register.from;
    scene.legend.push(LegendItem {
        sample: LegendSample::Line(Role::Cloud),
        text: format!("changed since {from}; the triangle has its number in the register"),
    });
    if old {
        scene.legend.push(LegendItem {
            sample: LegendSample::Line(Role::Was),
            text: format!("as in {from}"),
        });
    }
    scene.alt.push_str(&format!(
        " Changed since {from}: number {} of the change register.",
        numbers.join(", ")
    ));
}

fn grown(rect: &Rect) -> Rect {
    rect.grown(AWAY)
}

fn around(ring: &[Pt]) -> Option<Rect> {
    let at = |p: &Pt| Rect {
        x0: p.x,
        y0: p.y,
        x1: p.x,
        y1: p.y,
    };
    ring.iter().map(at).reduce(Rect::with)
}

/// The highest corner, and of those the farthest right.
fn top_right(ring: &[Pt]) -> Option<Pt> {
    let order = |a: &&Pt, b: &&Pt| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x));
    ring.iter().min_by(order).copied()
}

fn line(role: Role, rect: Rect) -> Mark {
    Mark {
        role,
        fill: Fill::None,
        shape: Shape::Rect(rect),
    }
}

impl View<'_> {
    fn marked(&self, entry: &Entry) -> Option<Marked> {
        let (mut clouds, mut was, mut figures) =
            (Vec::new(), Vec::new(), notes::Figures::default());
        for (key, facts) in &entry.touches {
            let now = self.register.now.get(key);
            let before = self
                .register
                .before
                .get(key)
                .or(self.register.gone.get(key));
            let came = self.register.new.contains(key);
            let went = now.is_none();
            let Some(thing) = now.or(before) else {
                continue;
            };
            let shown = facts::shown(self.kind, &thing.kind);
            if !(came || went || shown.iter().any(|f| facts.contains(*f))) {
                continue;
            }
            let at_now = now.and_then(|t| self.place(t, When::Now));
            let at_before = before.and_then(|t| self.place(t, When::Before));
            let Some(shown) = at_now.or(at_before) else {
                continue;
            };
            clouds.push(shown);
            // On plan a front's leaf stands open: where it was shut is no line of the drawing.
            let drawn = !(thing.kind == "front" && matches!(self.kind, DrawingKind::Plan(_)));
            let moved = |old: &Rect| at_now.is_none_or(|now| apart(now, *old));
            was.extend(at_before.filter(|old| drawn && moved(old)));
            if let (Some(now), Some(before)) = (now, before) {
                figures.add(self, (now, before), facts, shown);
            }
        }
        let first = *clouds.first()?;
        Some(Marked {
            number: entry.number,
            note: self.note(entry, &figures, first),
            clouds,
            was,
        })
    }
}

fn apart(a: Rect, b: Rect) -> bool {
    let far = |x: f64, y: f64| (x - y).abs() > APART;
    far(a.x0, b.x0) || far(a.x1, b.x1) || far(a.y0, b.y0) || far(a.y1, b.y1)
}
