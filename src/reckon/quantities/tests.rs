//! Quantities of small jobs worked by hand.

use super::super::{fixture, reckon};
use super::parts::PartKind;
use super::*;
use crate::diag::Diagnostics;
use crate::resolve::job::{Finish, FrontKind, Job};

fn counted(job: &Job) -> Quantities {
    let mut diags = Diagnostics::default();
    let reckoned = reckon(job, &mut diags);
    reckoned
        .unwrap_or_else(|| panic!("{:?}", diags.sorted()))
        .quantities
}

/// One unit 600 wide, 1900 high, 580 deep over its back of 9, board 18, two bays, a shelf in the first
/// with a lipping, a fixed shelf in the second, a pair of doors of 22.
fn job() -> Job {
    let mut job = fixture::job([600, 3000, 600, 3000]);
    let mut run = fixture::run(1);
    let mut other = fixture::bay();
    other.fixed = vec![Length::mm(1000)];
    run.units[0].bays[0].shelves = 1;
    run.units[0].bays[0].lipping = Length::mm(40);
    run.units[0].bays.push(other);
    run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
    job.runs = vec![run];
    let edged = [(0, "bare"), (1, "larch 1 mm")];
    for (material, edge) in edged {
        job.materials[material].edge = edge.into();
    }
    for material in &mut job.materials {
        material.sheet = Some((Length::mm(2500), Length::mm(1250)));
    }
    job
}

fn sizes(all: &Quantities, kind: PartKind) -> Vec<(Length, Length, u32)> {
    let of_it = all.parts.iter().filter(|p| p.kind == kind);
    of_it.map(|p| (p.length, p.width, p.count())).collect()
}

// By hand, mm: 564 between sides; bays (564 − 18)/2 = 273; clear 1864; all before the back, 571. The shelf is
// 2 narrower than its bay, 271, and so is its lipping.
#[test]
fn a_unit_comes_apart_into_its_boards() {
    let all = counted(&job());
    let mm = Length::mm;
    assert_eq!(sizes(&all, PartKind::Side), [(mm(1900), mm(571), 2)]);
    assert_eq!(sizes(&all, PartKind::Bottom), [(mm(571), mm(564), 1)]);
    assert_eq!(sizes(&all, PartKind::Divider), [(mm(1864), mm(571), 1)]);
    assert_eq!(sizes(&all, PartKind::FixedShelf), [(mm(571), mm(273), 1)]);
    assert_eq!(sizes(&all, PartKind::Shelf), [(mm(571), mm(271), 1)]);
    assert_eq!(sizes(&all, PartKind::Lipping), [(mm(271), mm(40), 1)]);
    assert_eq!(sizes(&all, PartKind::Back), [(mm(1900), mm(600), 1)]);
    let plinths = sizes(&all, PartKind::Plinth);
    // 100 to the floor, and the allowance of a scribe (handbook §1, C): 10.
    assert_eq!(plinths, [(mm(600), mm(110), 1)]);
    assert_eq!(all.mark(0), "a1");
}

// By hand, one front edge each: sides 2·1900, bottom and top 2·564, divider 1864, fixed shelf 273, shelf
// 271, lipping 271: 7607 mm; with 10 % 8367.7. Fronts, all round: two of 1897 × 298.5, each 4391,
// together 8782; the plinth none.
#[test]
fn bands_are_the_edges_seen_and_a_tenth_more() {
    let all = counted(&job());
    assert_eq!(all.bands[0].counted, Length::mm(7607));
    assert_eq!(all.bands[0].wanted, Length::um(8_367_700));
    assert_eq!(all.bands[1].counted, Length::mm(8782));
    assert_eq!(all.bands.len(), 2, "backs have no edge to treat");
}

// Handbook §6 by hand: two doors of 1897 × (600 − 3)/2 = 298.5, both faces (each to a whole mm²) 2.265020 m², edges 22 thick
// 0.193204; a plinth of 600 × 110, 0.132 and 0.03124, goes with them: 2.621464 m² twice at 10 m² a litre:
// 524.3 ml.
#[test]
fn finish_is_area_times_coats_over_coverage() {
    let mut job = job();
    job.finishes = vec![Finish {
        key: "oil".into(),
        name: "Oil".into(),
        sheen: String::new(),
        coats: 2,
        coverage: 10,
        sample: None,
    }];
    for cell in &mut job.runs[0].units[0].rows[0].cells {
        cell.style.finish = Some(FinishRef(0));
    }
    let all = counted(&job);
    let doors = sizes(&all, PartKind::Door);
    assert_eq!(doors, [(Length::mm(1897), Length::um(298_500), 2)]);
    let one = all.finishes[0];
    assert_eq!(one.area.in_mm2(), 2_621_464);
    assert_eq!(one.volume.in_ml(), 525);
    assert_eq!(one.volume.to_string(), "0.6");
    assert_eq!(one.area.to_string(), "2.62");
}

// By hand: backs of 1900 × 600 go two to a board of 2480 × 1230 usable (1904 and 2·604 + 4 = 1212).
#[test]
fn boards_are_counted_with_their_yield() {
    let mut job = fixture::job([1800, 3000, 1800, 3000]);
    job.materials[2].sheet = Some((Length::mm(2500), Length::mm(1250)));
    job.runs = vec![fixture::run(3)];
    let all = counted(&job);
    let backs = all
        .boards
        .iter()
        .find(|b| b.material == fixture::BACK)
        .unwrap();
    let layout = backs.layout.as_ref().unwrap();
    assert_eq!((layout.by_area, layout.new_boards()), (2, 2));
    // 3·1.14 of 2·3.125 m².
    assert_eq!(backs.parts.per_mille(backs.cut_up), Some(547));
    let others = all.boards.iter().filter(|b| b.material != fixture::BACK);
    assert!(others.clone().count() > 0);
    assert!(others.clone().all(|b| b.layout.is_none()), "no size given");
}

#[test]
fn letters_go_on_after_z() {
    let none = Quantities::default();
    let of = |n: usize| none.letter(n);
    assert_eq!([of(0), of(25), of(26), of(53)], ["a", "z", "aa", "bb"]);
}
