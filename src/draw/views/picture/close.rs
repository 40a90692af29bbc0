//! The close-up of a joint at its real size. Knows one window of one layout; must not know how it was
//! chosen.

use super::super::file_word;
use super::super::pen::{Pen, box_of};
use super::texture::{self, Fineness};
use super::words;
use crate::draw::scene::{Fill, Pt, Rect, Role, Scene};
use crate::faces::{CloseUp, Piece};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Grain, Job};

/// Lines of a drawn texture: at real size every crest is drawn, down to 2 mm.
const FINE: Fineness = Fineness(1);

pub fn close_up(job: &Job, reckoned: &Reckoned, close: &CloseUp) -> Option<Scene> {
    let layout = reckoned.patterns.get(close.layout)?;
    let material = job.materials.get(layout.material.0);
    let grain = material.map_or(Grain::None, |m| m.grain);
    let mut pen = Pen::default();
    let gap = box_of(
        close.gap.left,
        close.gap.right,
        close.gap.bottom,
        close.gap.top,
    );
    for piece in &close.pieces {
        let area = of(piece);
        match piece.picture.and_then(|n| u32::try_from(n).ok()) {
            Some(picture) => pen.rect(Role::Bare, Fill::Picture(picture), area),
            None => {
                if let Some(board) = layout.boards.get(piece.board) {
                    let areas = (piece.on_wall, piece.on_board);
                    texture::face(&mut pen, layout, (board, grain), areas, &FINE);
                }
            }
        }
    }
    pen.rect(Role::Bare, Fill::Solid, gap);
    let window = close.window;
    let frame = box_of(window.left, window.right, window.bottom, window.top);
    pen.rect(Role::Fine, Fill::None, frame);
    let number = |front: usize| reckoned.face(front).map_or(String::new(), |f| f.label());
    for piece in &close.pieces {
        if piece.front == close.joint.first || piece.front == close.joint.second {
            let area = of(piece);
            let spot = away_from(gap, area);
            pen.callout(spot, words::piece(layout, piece, &number(piece.front)));
        }
    }
    pen.callout(highest(gap), words::joint(job, layout, &close.joint));
    let (a, b) = (number(close.joint.first), number(close.joint.second));
    let mut scene = pen.scene;
    scene.id = format!("close-up-{}", file_word(&layout.name));
    scene.title = format!(
        "\u{201c}{}\u{201d}: where fronts {a} and {b} meet",
        layout.name
    );
    scene.alt = format!(
        "The joint between fronts {a} and {b} of the pattern {} at its real size. {}",
        layout.name,
        words::joint(job, layout, &close.joint)
    );
    Some(scene)
}

fn of(piece: &Piece) -> Rect {
    let area = piece.on_wall;
    box_of(area.left, area.right, area.bottom, area.top)
}

/// Near the top of a piece, on its side that is away from the gap.
fn away_from(gap: Rect, area: Rect) -> Pt {
    let (g, a) = (gap.centre(), area.centre());
    let x = a.x + (a.x - g.x) * 0.5;
    let y = match gap.height() > gap.width() {
        true => area.y0 + area.height().min(30.0) * 0.5,
        false => a.y + (a.y - g.y) * 0.5,
    };
    Pt::new(x, y)
}

fn highest(gap: Rect) -> Pt {
    let middle = gap.centre();
    match gap.height() > gap.width() {
        true => Pt::new(middle.x, gap.y0 + gap.height().min(30.0) * 0.5),
        false => Pt::new(gap.x0 + gap.width() * 0.15, middle.y),
    }
}
