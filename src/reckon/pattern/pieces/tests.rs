//! End panels, fillers and panelling among the faces of a pattern. Knows small jobs, worked by hand.

use super::*;
use crate::diag::{Diagnostics, Place};
use crate::reckon::fixture;
use crate::reckon::placed::Reckoned;
use crate::reckon::reckon;
use crate::resolve::job::{Grain, Panel, WallRef};

fn mm(v: i64) -> Length {
    Length::mm(v)
}

/// A unit with two doors of a pattern that repeats every 32, and an end at its left.
fn job(end: RunEnd) -> Job {
    let mut job = fixture::job([2000; 4]);
    let material = &mut job.materials[fixture::FRONT.0];
    material.sheet = Some((mm(2400), mm(1600)));
    material.grain = Grain::Length;
    material.repeat = (None, Some(mm(32)));
    let mut run = fixture::run(1);
    let mut row = fixture::row(None, FrontKind::Door, 2);
    for cell in &mut row.cells {
        cell.style.pattern = Some("P".into());
    }
    run.units[0].rows = vec![row];
    run.left = end;
    job.runs = vec![run];
    job
}

fn reckoned(job: &Job) -> Reckoned {
    reckon(job, &mut Diagnostics::default()).expect("it can be reckoned")
}

fn end(filler: Option<i64>, panel: bool) -> RunEnd {
    RunEnd {
        scribe: None,
        filler: filler.map(mm),
        panel: panel.then_some(fixture::FRONT),
        pattern: Some("P".into()),
        place: Place::NOWHERE,
    }
}

// By hand: a carcass 580 deep with fronts of the board's thickness over it; nothing is seen of the
// panel in one line with the fronts, so that there is no joint.
#[test]
fn an_end_panel_is_cut_with_the_fronts_and_meets_none_of_them() {
    let job = job(end(None, true));
    let reckoned = reckoned(&job);
    let piece = &reckoned.pattern_pieces[0];
    let deep = reckoned.runs[0].units[0].depth_over_fronts;
    assert_eq!(
        (piece.label(), piece.width()),
        ("run left panel".into(), deep)
    );
    let layout = &reckoned.patterns[0];
    let at = reckoned.fronts.len();
    let blank = layout.blank_of(at).expect("it has a blank");
    assert_eq!(blank.area.width(), deep);
    assert_eq!(blank.area.height(), piece.height());
    assert!(
        layout
            .joints
            .iter()
            .all(|j| j.first != at && j.second != at)
    );
    assert_eq!(reckoned.face(at), Some(piece));
}

// By hand: a filler stands in the fronts' plane, with the fronts' own gap or less beside it; the
// pattern runs on exactly from it to the first door.
#[test]
fn the_pattern_runs_on_from_a_filler_to_the_first_front() {
    let job = job(end(Some(60), false));
    let reckoned = reckoned(&job);
    let at = reckoned.fronts.len();
    let layout = &reckoned.patterns[0];
    let met: Vec<_> = layout.joints.iter().filter(|j| j.first == at).collect();
    assert_eq!(met.len(), 1, "{:?}", layout.joints);
    assert_eq!(met[0].second, 0);
    assert_eq!(met[0].jump, Some((Length::ZERO, Length::ZERO)));
    let wide = layout.blank_of(at).map(|b| b.area.width());
    assert_eq!(wide, Some(reckoned.pattern_pieces[0].width()));
}

// By hand: 3 pieces over 1206 with 3 between are 400 wide; one pattern, two joints, no step.
#[test]
fn a_panelled_wall_has_a_pattern_of_its_own() {
    let mut job = job(end(None, false));
    job.panels = vec![Panel {
        id: "dado".into(),
        name: "Dado".into(),
        kind: PanelKind::Panelling,
        wall: WallRef { room: 0, wall: 1 },
        from: mm(100),
        to: mm(1306),
        bottom: mm(90),
        top: mm(1190),
        material: fixture::FRONT,
        finish: None,
        pieces: 3,
        slat: mm(40),
        gap: mm(3),
        off_wall: Length::ZERO,
        pattern: Some("Q".into()),
        note: String::new(),
        place: Place::NOWHERE,
    }];
    let reckoned = reckoned(&job);
    assert_eq!(reckoned.patterns.len(), 2);
    let layout = &reckoned.patterns[1];
    assert_eq!(layout.blanks.len(), 3);
    assert!(layout.blanks.iter().all(|b| b.area.width() == mm(400)));
    let exact = |j: &crate::reckon::pattern::layout::Joint| {
        j.gap == mm(3) && j.jump == Some((Length::ZERO, Length::ZERO))
    };
    assert_eq!(layout.joints.iter().filter(|j| exact(j)).count(), 2);
    assert_eq!(
        reckoned.face(layout.blanks[1].front).map(|f| f.label()),
        Some("dado 2".into())
    );
}
