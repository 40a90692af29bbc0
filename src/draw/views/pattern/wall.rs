//! The map of one wall: fronts with number, board, place and way up; steps under the joints; where a
//! board changes. Knows which fronts belong to the pattern; leaves out all else but outlines.

use super::super::pen::{Pen, box_of, up};
use super::super::told_faces;
use super::{file_word, legend, named};
use crate::draw::scene::{Fill, LabelFrame, LegendSample, Lettering, Pt, Role, Scene, Symbol};
use crate::reckon::pattern::layout::{Joint, PatternLayout, Way};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{Job, WallRef};
use crate::units::Length;

/// Under the fronts: where the steps are written; over them: the boards. Real mm.
const STEPS_BELOW_MM: f64 = 90.0;
const BOARDS_ABOVE_MM: f64 = 110.0;
/// How far a line where the board changes runs up beyond the fronts.
const BEYOND_MM: f64 = 180.0;
/// A front higher than this has its arrow over its number.
const HIGH_FRONT_MM: f64 = 700.0;

/// The wall `at` of the layout at `index`.
pub fn wall(job: &Job, reckoned: &Reckoned, index: usize, at: WallRef) -> Option<Scene> {
    let layout = reckoned.patterns.get(index)?;
    let on_wall = |i: &usize| reckoned.face(*i).filter(|f| f.wall == at);
    let members: Vec<(usize, &PlacedFront)> = layout
        .blanks
        .iter()
        .filter_map(|b| on_wall(&b.front).map(|f| (b.front, f)))
        .collect();
    let bottom = members.iter().map(|(_, f)| f.bottom).min()?;
    let top = members.iter().map(|(_, f)| f.top).max()?;
    let mut pen = Pen::default();
    for front in reckoned.fronts.iter().filter(|f| f.wall == at) {
        let ours = members.iter().any(|(_, f)| f.id == front.id);
        if !ours {
            let area = box_of(front.left, front.right, front.bottom, front.top);
            pen.rect(Role::Fine, Fill::Tint, area);
        }
    }
    for (i, front) in &members {
        one(&mut pen, layout, *i, front);
    }
    for joint in &layout.joints {
        let (Some(first), Some(second)) = (on_wall(&joint.first), on_wall(&joint.second)) else {
            continue;
        };
        if joint.change.is_some() && joint.way == Way::Beside {
            let x = (first.right + second.left).half().in_mm();
            let z = top.in_mm();
            let line = vec![up(x, z), up(x, z + BEYOND_MM)];
            if !has_line(&pen, &line) {
                pen.line(Role::Cut, line);
            }
        }
    }
    steps(&mut pen, reckoned, layout, at, bottom);
    spans(&mut pen, reckoned, layout, &members, top);
    pen.scene.under.extend(level_joints(reckoned, layout, at));
    let mut scene = pen.scene;
    let room = job.rooms.get(at.room).map_or("", |r| r.name.as_str());
    scene.id = format!(
        "pattern-{}-{}",
        file_word(&layout.name),
        file_word(&job.wall_id(at))
    );
    scene.title = format!(
        "Pattern \u{201c}{}\u{201d}: {room}, wall\u{a0}{}",
        layout.name,
        job.wall(at).id
    );
    scene.alt = format!("{}. {}", scene.title, told_faces::map(reckoned, layout, at));
    scene.legend = vec![
        legend(LegendSample::Symbol(Symbol::UpArrow), "this way up"),
        legend(
            LegendSample::Area(Fill::White),
            "board; where the front's left edge and foot lie on it",
        ),
    ];
    if scene.marks.iter().any(|m| m.role == Role::Cut) {
        let text = "another board, or another strip, from here";
        scene
            .legend
            .push(legend(LegendSample::Line(Role::Cut), text));
    }
    if scene.marks.iter().any(|m| m.fill == Fill::Tint) {
        scene.legend.push(legend(
            LegendSample::Area(Fill::Tint),
            "not of this pattern",
        ));
    }
    scene.may_part_at = partings(&members);
    scene.shows = vec![job.wall_id(at)];
    Some(scene)
}

fn has_line(pen: &Pen, line: &[Pt]) -> bool {
    use crate::draw::scene::Shape;
    pen.scene
        .marks
        .iter()
        .any(|m| matches!(&m.shape, Shape::Path { points, .. } if points == line))
}

/// A front narrower than this has its figures in three lines, where it is as high as those.
const NARROW_MM: f64 = 700.0;
const THREE_LINES_MM: f64 = 250.0;

fn one(pen: &mut Pen, layout: &PatternLayout, index: usize, front: &PlacedFront) {
    let Some(blank) = layout.blank_of(index) else {
        return;
    };
    let board = layout.boards.get(blank.board);
    let area = box_of(front.left, front.right, front.bottom, front.top);
    pen.rect(Role::Edge, Fill::White, area);
    let middle = area.centre();
    let high = area.height() > HIGH_FRONT_MM;
    let (spot, arrow, words) = if high {
        (
            middle,
            Pt::new(middle.x, middle.y - 160.0),
            Pt::new(middle.x, middle.y + 220.0),
        )
    } else {
        let at = |share: f64| Pt::new(area.x0 + area.width() * share, middle.y);
        (at(0.27), at(0.07), at(0.7))
    };
    named(pen, front, spot, area);
    pen.symbol(Role::Fine, arrow, Symbol::UpArrow);
    let name = board.map_or("", |b| b.name.as_str());
    let (left, bottom) = (blank.area.left, blank.area.bottom);
    let narrow = area.width() < NARROW_MM && area.height() > THREE_LINES_MM;
    let mut lines = vec![name.to_owned()];
    // Each figure says whose it is: two under one another would be read as one.
    let (left, foot) = (format!("left {left}"), format!("foot {bottom}"));
    match narrow {
        true => lines.extend([left, foot]),
        false => lines.push(format!("{left}, {foot}")),
    }
    pen.label(
        words,
        lines,
        Lettering::Normal,
        LabelFrame::None,
        Some(area),
        1,
    );
}

/// What is written at a joint: nothing where the pattern runs on.
fn step_words(joint: &Joint) -> String {
    match joint.jump {
        None => "new".to_owned(),
        Some((square, along)) => {
            let plain = |l: Length| l.round_to(Length::um(100)).abs().to_string();
            match (square, along) {
                (s, Length::ZERO) => plain(s),
                (s, a) => format!("{}, {} up", plain(s), plain(a)),
            }
        }
    }
}

/// Under each upright joint its step, once where the joints over one another agree.
fn steps(pen: &mut Pen, reckoned: &Reckoned, layout: &PatternLayout, at: WallRef, bottom: Length) {
    let mut said: Vec<(Length, Vec<String>)> = Vec::new();
    for joint in layout.joints.iter().filter(|j| j.way == Way::Beside) {
        let of = |i: usize| reckoned.face(i).filter(|f| f.wall == at);
        let (Some(first), Some(second)) = (of(joint.first), of(joint.second)) else {
            continue;
        };
        let x = (first.right + second.left).half();
        let words = step_words(joint);
        match said.iter_mut().find(|(place, _)| *place == x) {
            Some((_, list)) if list.contains(&words) => {}
            Some((_, list)) => list.push(words),
            None => said.push((x, vec![words])),
        }
    }
    let z = bottom.in_mm() - STEPS_BELOW_MM;
    for (x, words) in &said {
        let lettering = Lettering::Normal;
        let list = words.clone();
        pen.label(up(x.in_mm(), z), list, lettering, LabelFrame::None, None, 2);
    }
    if let Some((first, _)) = said.iter().min_by_key(|(x, _)| *x) {
        let spot = up(first.in_mm() - 330.0, z);
        let words = vec!["step at joint:".to_owned()];
        pen.label(spot, words, Lettering::Minor, LabelFrame::None, None, 3);
    }
}

/// The steps at level joints: once where all are alike, else each with its fronts.
fn level_joints(reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) -> Option<String> {
    let mut said: Vec<(String, Vec<String>)> = Vec::new();
    for joint in layout.joints.iter().filter(|j| j.way == Way::Above) {
        let of = |i: usize| reckoned.face(i).filter(|f| f.wall == at);
        let (Some(lower), Some(upper)) = (of(joint.first), of(joint.second)) else {
            continue;
        };
        let (step, fronts) = (
            step_words(joint),
            format!("{} and {}", lower.label(), upper.label()),
        );
        match said.iter_mut().find(|(words, _)| *words == step) {
            Some((_, all)) => all.push(fronts),
            None => said.push((step, vec![fronts])),
        }
    }
    match said.as_slice() {
        [] => None,
        [(step, all)] if all.len() > 1 => Some(format!("step at every level joint: {step}")),
        all => {
            let each = all
                .iter()
                .map(|(step, at)| format!("{step} between {}", at.join(", ")));
            let each: Vec<String> = each.collect();
            Some(format!("step at level joints: {}", each.join("; ")))
        }
    }
}

/// Over the fronts, the board that each stretch is cut from.
fn spans(
    pen: &mut Pen,
    reckoned: &Reckoned,
    layout: &PatternLayout,
    members: &[(usize, &PlacedFront)],
    top: Length,
) {
    let mut spans: Vec<(usize, usize, Length, Length)> = Vec::new();
    let mut sorted: Vec<_> = members.to_vec();
    sorted.sort_by_key(|(_, f)| (f.run, f.left, f.bottom));
    for (i, front) in sorted {
        let Some(blank) = layout.blank_of(i) else {
            continue;
        };
        let run = reckoned.face(i).map_or(0, |f| f.run);
        match spans.last_mut() {
            Some((board, r, _, right)) if *board == blank.board && *r == run => {
                *right = front.right.max(*right);
            }
            _ => spans.push((blank.board, run, front.left, front.right)),
        }
    }
    for (board, _, left, right) in spans {
        let name = layout.boards.get(board).map_or("", |b| b.name.as_str());
        let x = (left + right).half().in_mm();
        pen.label(
            up(x, top.in_mm() + BOARDS_ABOVE_MM),
            vec![format!("board {name}")],
            Lettering::Strong,
            LabelFrame::Box,
            None,
            2,
        );
    }
}

/// Between columns that stand apart.
fn partings(members: &[(usize, &PlacedFront)]) -> Vec<f64> {
    let mut edges: Vec<(Length, Length)> = members.iter().map(|(_, f)| (f.left, f.right)).collect();
    edges.sort();
    let mut out = Vec::new();
    let mut reach: Option<Length> = None;
    for (left, right) in edges {
        if let Some(r) = reach
            && left > r
        {
            out.push((left + r).half().in_mm());
        }
        reach = Some(reach.map_or(right, |r| r.max(right)));
    }
    out
}
