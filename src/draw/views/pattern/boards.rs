//! Each board of a pattern as it stands behind its fronts: blanks with numbers and way up, strips
//! lost, flaws, offcuts worth keeping. Knows one layout; must not know the wall.

use super::super::cutting::KEEP;
use super::super::pen::{Pen, box_of, up};
use super::super::told_faces;
use super::{file_word, legend, named};
use crate::draw::scene::{
    ChainSide, Fill, LabelFrame, LegendSample, Lettering, Pt, Rect, Role, Scene, Symbol,
};
use crate::reckon::pattern::layout::{Area, Blank, CutBoard, PatternLayout};
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;
use crate::units::Length;

/// A blank higher than this has its arrow over its number.
const HIGH_MM: f64 = 500.0;

/// One scene for each board of the layout at `index`, in the order they are cut.
pub fn boards(job: &Job, reckoned: &Reckoned, index: usize) -> Vec<Scene> {
    let Some(layout) = reckoned.patterns.get(index) else {
        return Vec::new();
    };
    let each = layout.boards.iter().enumerate();
    // Off the saw, what is left has the trim of the fronts that it might have been.
    let more = job.cutter.trim * 2;
    each.map(|(n, board)| one(reckoned, layout, (n, board), more))
        .collect()
}

fn rect(area: Area) -> Rect {
    box_of(area.left, area.right, area.bottom, area.top)
}

fn one(
    reckoned: &Reckoned,
    layout: &PatternLayout,
    (n, board): (usize, &CutBoard),
    more: Length,
) -> Scene {
    let mut pen = Pen::default();
    let whole = box_of(Length::ZERO, board.across, Length::ZERO, board.up);
    pen.rect(Role::Cut, Fill::White, whole);
    for area in &board.offcuts {
        pen.rect(Role::Fine, Fill::Tint, rect(*area));
        let words = vec![
            "keep".to_owned(),
            format!(
                "{} \u{d7} {}",
                whole_mm(area.width() + more),
                whole_mm(area.height() + more)
            ),
        ];
        let within = Some(rect(*area));
        pen.label(
            rect(*area).centre(),
            words,
            Lettering::Minor,
            LabelFrame::None,
            within,
            3,
        );
    }
    for area in &board.wasted {
        pen.rect(Role::Fine, Fill::Scribe, rect(*area));
    }
    let blanks: Vec<&Blank> = layout.blanks.iter().filter(|b| b.board == n).collect();
    for blank in &blanks {
        blank_mark(&mut pen, reckoned, blank);
    }
    for (area, what) in &board.avoid {
        let flaw = rect(*area);
        pen.rect(Role::Fine, Fill::Solid, flaw);
        pen.callout(flaw.centre(), what.clone());
    }
    if layout.repeat.across.is_some() {
        let x = board.first_crest.0.in_mm();
        let high = board.up.in_mm();
        pen.line(Role::Centre, vec![up(x, 0.0), up(x, high)]);
        let stops = vec![Length::ZERO, board.first_crest.0];
        pen.running(ChainSide::Above, 0, stops, -board.up, "", Length::ZERO);
    }
    let mut lefts: Vec<Length> = blanks.iter().map(|b| b.area.left).collect();
    lefts.sort();
    lefts.dedup();
    lefts.extend([Length::ZERO, board.across]);
    let bottoms = blanks.iter().map(|b| -b.area.bottom);
    let ends = blanks.iter().map(|b| -b.area.top);
    let mut heights: Vec<Length> = bottoms.chain(ends).chain([-board.up]).collect();
    heights.sort();
    thin(&mut heights);
    pen.running(ChainSide::Below, 0, lefts, Length::ZERO, "", Length::ZERO);
    pen.running(ChainSide::Left, 0, heights, Length::ZERO, "", Length::ZERO);
    let mut scene = pen.scene;
    scene.id = format!("board-{}-{}", file_word(&layout.name), n + 1);
    let bought = match board.in_hand {
        Some(_) => "",
        None => " (to buy)",
    };
    scene.title = format!(
        "Board {}{bought}, {} of {}",
        board.name,
        n + 1,
        layout.boards.len()
    );
    scene.listed = board.name.clone();
    scene.shows = vec![board.name.clone()];
    scene.alt = told_faces::cut(reckoned, layout, n, more);
    scene.legend = vec![legend(LegendSample::Symbol(Symbol::UpArrow), "this way up")];
    let fills = [
        (Fill::Scribe, "lost to the pattern"),
        (Fill::Tint, KEEP),
        (Fill::Solid, "flaw"),
    ];
    for (fill, text) in fills {
        if scene.marks.iter().any(|m| m.fill == fill) {
            scene.legend.push(legend(LegendSample::Area(fill), text));
        }
    }
    if scene.marks.iter().any(|m| m.role == Role::Centre) {
        let text = "first crest of the pattern, its distance over the board";
        scene
            .legend
            .push(legend(LegendSample::Line(Role::Centre), text));
    }
    scene
}

/// Heights closer than the figures are high leave the first standing.
fn thin(heights: &mut Vec<Length>) {
    let mut kept: Vec<Length> = Vec::new();
    for h in heights.drain(..) {
        if kept.last().is_none_or(|last| h - *last > Length::mm(60)) {
            kept.push(h);
        }
    }
    *heights = kept;
}

fn whole_mm(l: Length) -> Length {
    l.floor_to(Length::mm(1))
}

fn blank_mark(pen: &mut Pen, reckoned: &Reckoned, blank: &Blank) {
    let area = rect(blank.area);
    pen.rect(Role::Edge, Fill::White, area);
    let Some(face) = reckoned.face(blank.front) else {
        return;
    };
    let middle = area.centre();
    let arrow = match area.height() > HIGH_MM {
        true => Pt::new(middle.x, middle.y - 170.0),
        false => Pt::new(middle.x + area.width() * 0.28, middle.y),
    };
    let spot = match area.height() > HIGH_MM {
        true => middle,
        false => Pt::new(middle.x - area.width() * 0.15, middle.y),
    };
    named(pen, face, spot, area);
    pen.symbol(Role::Fine, arrow, Symbol::UpArrow);
    let size = format!("{} \u{d7} {}", blank.area.width(), blank.area.height());
    let spot = match area.height() > HIGH_MM {
        true => Pt::new(middle.x, middle.y + 200.0),
        false => Pt::new(middle.x, area.y1 - 60.0),
    };
    let listed = format!("{}: {size}", face.label());
    pen.words(spot, size, Some(area));
    pen.else_listed(listed);
}
