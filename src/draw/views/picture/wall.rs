//! The elevation of a wall with the true face of each front of a pattern in its place, gaps to scale.
//! Knows the shut elevation and puts faces over it; leaves out whatever is not seen in a room.

use super::super::pen::{Pen, box_of};
use super::super::{Face, elevation, file_word, told_faces, words};
use super::texture::{self, Fineness};
use crate::draw::scene::{
    Fill, LabelFrame, LegendItem, LegendSample, Pt, Role, Scene, Shape, Symbol,
};
use crate::faces::{Faces, gap_of, on_wall};
use crate::reckon::pattern::is_unfolded;
use crate::reckon::pattern::layout::{Joint, PatternLayout, Way};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::resolve::job::{Grain, Job, Reader, WallRef};
use crate::risks::Marks;

/// Lines of a drawn texture, at the least 0.5 mm apart on paper at 1:20.
const FINE: Fineness = Fineness(10);

/// The wall `at` with the faces of the layout at `index`.
pub fn wall(
    job: &Job,
    reckoned: &Reckoned,
    faces: &Faces,
    (index, at): (usize, WallRef),
) -> Option<Scene> {
    let layout = reckoned.patterns.get(index)?;
    let shut = elevation(
        job,
        (reckoned, &Marks::NONE),
        at,
        Face::Shut,
        Reader::Client,
    );
    let mut pen = Pen::default();
    let ours: Vec<_> = layout
        .blanks
        .iter()
        .filter_map(|b| reckoned.face(b.front).map(|f| (b, f)))
        .filter(|(_, f)| f.wall == at)
        .collect();
    for mut mark in shut.marks {
        let Shape::Rect(area) = mark.shape else {
            // A strip at the wall is a board like others here.
            if mark.fill == Fill::Scribe {
                mark.fill = Fill::White;
            }
            if seen(mark.role, &mark.shape) {
                pen.scene.marks.push(mark);
            }
            continue;
        };
        let front = ours
            .iter()
            .find(|(_, f)| box_of(f.left, f.right, f.bottom, f.top) == area);
        let Some((blank, front)) = front.filter(|_| mark.role == Role::Edge) else {
            if seen(mark.role, &Shape::Rect(area)) {
                pen.scene.marks.push(mark);
            }
            continue;
        };
        match faces.of(blank.front).and_then(|n| u32::try_from(n).ok()) {
            Some(picture) => pen.rect(Role::Bare, Fill::Picture(picture), area),
            None => drawn(
                &mut pen,
                job,
                layout,
                blank.board,
                (on_wall(front), blank.area),
            ),
        }
    }
    // A filler that the pattern runs over is no front of the elevation's.
    let fillers = ours
        .iter()
        .filter(|(_, f)| f.number == 0 && f.run < reckoned.runs.len());
    for (blank, filler) in fillers.filter(|(_, f)| !is_unfolded(&reckoned.runs, f)) {
        let area = box_of(filler.left, filler.right, filler.bottom, filler.top);
        match faces.of(blank.front).and_then(|n| u32::try_from(n).ok()) {
            Some(picture) => pen.rect(Role::Bare, Fill::Picture(picture), area),
            None => {
                let areas = (on_wall(filler), blank.area);
                drawn(&mut pen, job, layout, blank.board, areas);
            }
        }
        pen.rect(Role::Edge, Fill::None, area);
    }
    for bare in faces.bare.iter().filter(|b| b.wall == at) {
        let Ok(picture) = u32::try_from(bare.picture) else {
            continue;
        };
        let area = bare.area;
        let area = box_of(area.left, area.right, area.bottom, area.top);
        pen.rect(Role::Bare, Fill::Picture(picture), area);
        pen.rect(Role::Edge, Fill::None, area);
    }
    gaps(&mut pen, reckoned, layout, at);
    pen.scene.labels = shut.labels;
    pen.scene.labels.retain(|l| {
        let number = l.lines.first().map_or("", String::as_str);
        let of_ours = |n: u32| ours.iter().any(|(_, f)| f.number == n);
        l.frame == LabelFrame::Circle && number.parse().is_ok_and(of_ours)
    });
    // The wall's first front, at its upper left corner; an end panel shows its face round the corner.
    let shown = ours.iter().filter(|(_, f)| !is_unfolded(&reckoned.runs, f));
    let leftmost = |f: &PlacedFront| (f.left, -f.top);
    if let Some((blank, front)) = shown.min_by_key(|(_, f)| leftmost(f)) {
        let area = box_of(front.left, front.right, front.bottom, front.top);
        let spot = Pt::new(
            area.x0 + (area.width() * 0.1).min(40.0),
            area.y0 + (area.height() * 0.1).min(40.0),
        );
        pen.callout(spot, super::words::first(layout, blank.front));
    }
    changes(&mut pen, reckoned, layout, at);
    let mut scene = pen.scene;
    let room = job.rooms.get(at.room).map_or("", |r| r.name.as_str());
    let letter = words::letter(reckoned, at);
    scene.id = format!(
        "look-{}-{}",
        file_word(&layout.name),
        file_word(&job.wall_id(at))
    );
    scene.title = format!("{room}, elevation {letter}");
    scene.alt = format!(
        "{room}, elevation {letter}, with the pattern {} as it is cut. {}",
        layout.name,
        told_faces::picture(reckoned, layout, at)
    );
    scene.may_part_at = shut.may_part_at;
    scene.shows = vec![job.wall_id(at)];
    if scene
        .marks
        .iter()
        .any(|m| m.fill == Fill::Solid && m.role == Role::Bare)
    {
        scene.legend = vec![LegendItem {
            sample: LegendSample::Area(Fill::Solid),
            text: "gap between fronts, to scale".to_owned(),
        }];
    }
    Some(scene)
}

/// What stands in a room: no swing, no service behind a front, no datum, no arrow.
fn seen(role: Role, shape: &Shape) -> bool {
    let symbol = matches!(
        shape,
        Shape::Symbol {
            symbol: Symbol::HingeTick { .. }
                | Symbol::UpArrow
                | Symbol::WayArrow { .. }
                | Symbol::Level
                | Symbol::Socket
                | Symbol::Switch
                | Symbol::Light
                | Symbol::Water
                | Symbol::Waste
                | Symbol::Gas
                | Symbol::Vent
                | Symbol::Data
                | Symbol::Service,
            ..
        }
    );
    let drawn_only = [
        Role::Swing,
        Role::Hidden,
        Role::Centre,
        Role::Service,
        Role::Lining,
    ];
    !symbol && !drawn_only.contains(&role)
}

fn drawn(
    pen: &mut Pen,
    job: &Job,
    layout: &PatternLayout,
    board: usize,
    areas: (
        crate::reckon::pattern::layout::Area,
        crate::reckon::pattern::layout::Area,
    ),
) {
    let material = job.materials.get(layout.material.0);
    let grain = material.map_or(Grain::None, |m| m.grain);
    if let Some(board) = layout.boards.get(board) {
        texture::face(pen, layout, (board, grain), areas, &FINE);
    }
}

fn gaps(pen: &mut Pen, reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) {
    for joint in &layout.joints {
        let of = |n: usize| reckoned.face(n).filter(|f| f.wall == at);
        if let (Some(first), Some(second)) = (of(joint.first), of(joint.second)) {
            let gap = gap_of(first, second, joint.way);
            let area = box_of(gap.left, gap.right, gap.bottom, gap.top);
            pen.rect(Role::Bare, Fill::Solid, area);
        }
    }
}

/// More notes than this would cross one another over the fronts: they stand at the foot instead.
const MOST_NOTED: usize = 9;

/// Where the next board begins, once for joints over one another: the fronts on either side, and the joint.
fn changed<'a>(
    reckoned: &'a Reckoned,
    layout: &'a PatternLayout,
    at: WallRef,
) -> Vec<(&'a PlacedFront, &'a PlacedFront, &'a Joint)> {
    let mut out: Vec<(&PlacedFront, &PlacedFront, &Joint)> = Vec::new();
    for joint in layout.joints.iter().filter(|j| j.way == Way::Beside) {
        let of = |n: usize| reckoned.face(n).filter(|f| f.wall == at);
        let (Some(first), Some(second)) = (of(joint.first), of(joint.second)) else {
            continue;
        };
        if joint.change.is_some() && !out.iter().any(|(f, ..)| f.right == first.right) {
            out.push((first, second, joint));
        }
    }
    out
}

/// In words what a wall with too many changes does not say on itself; `None`: it does.
pub fn listed(reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) -> Option<String> {
    let changed = changed(reckoned, layout, at);
    if changed.len() <= MOST_NOTED {
        return None;
    }
    let mut each: Vec<String> = Vec::new();
    for (_, second, joint) in changed {
        let change = super::words::change(layout, joint);
        each.push(format!("at front {}: {change}", second.label()));
    }
    let letter = words::letter(reckoned, at);
    Some(format!(
        "Elevation {letter}, where boards change: at {}.",
        each.join("; at ").replace(" from here", "")
    ))
}

fn changes(pen: &mut Pen, reckoned: &Reckoned, layout: &PatternLayout, at: WallRef) {
    let changed = changed(reckoned, layout, at);
    if changed.len() > MOST_NOTED {
        return;
    }
    for (first, second, joint) in changed {
        let gap = gap_of(first, second, joint.way);
        let area = box_of(gap.left, gap.right, gap.bottom, gap.top);
        let mut spot = area.centre();
        spot.y = area.y0 + (area.height() * 0.1).min(40.0);
        pen.callout(spot, super::words::change(layout, joint));
    }
}
