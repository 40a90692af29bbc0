//! Worked values of what opens, through the whole reckoning. Knows small rooms; each number is by
//! hand or from the handbook.

use crate::diag::Diagnostics;
use crate::reckon::checks::tests::found;
use crate::reckon::fixture;
use crate::reckon::reckon;
use crate::resolve::job::{
    Appliance, ApplianceRef, FrontKind, Job, Obstruction, OwnDoor, Service, ServiceKind, Side,
    Slope, WallDoor, WallRef, Window,
};
use crate::units::{Angle, Length};

fn mm(mm: i64) -> Length {
    Length::mm(mm)
}

/// One door hinged left, its unit beside wall D with a filler of so many mm between.
fn beside_a_wall(filler: i64, offset: Option<i64>) -> Job {
    let mut job = fixture::job([3000; 4]);
    let mut run = fixture::run(1);
    run.left.filler = Some(mm(filler));
    run.units[0].width = Some(mm(600));
    run.to = Some(mm(600 + filler));
    run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
    job.hardware[fixture::HINGE.0].offset = offset.map(mm);
    job.runs = vec![run];
    job
}

// Handbook §3: a leaf beside a return wall opens to 90° only where the filler ≥ handle projection +
// leaf thickness − hinge offset. The fixture's handle stands 32 out, its leaf is 22 thick, and the
// gap of 3 beside the filler counts with it. Without an offset it needs 32 + 22 =
// 54: a filler of 51 and the gap. An offset of
// 10 needs 44; one of the thickness, the default, 32.
#[test]
fn the_filler_beside_a_leaf() {
    let with = |filler, offset| found(&beside_a_wall(filler, offset), "leaf-blocked");
    for (enough, offset) in [(51, Some(0)), (41, Some(10)), (29, None), (29, Some(22))] {
        assert!(with(enough, offset).is_empty(), "{enough} {offset:?}");
        let short = with(enough - 1, offset);
        assert_eq!(short.len(), 1, "{enough} {offset:?}");
        assert!(
            short[0].text.contains("handle strikes wall D"),
            "{}",
            short[0].text
        );
    }
    let said = &with(46, Some(0))[0].advice;
    let want =
        "needs 54 mm (handle 32 + leaf 22 − hinge offset 0) and has 49: make the filler 5 mm wider";
    assert!(said.contains(want), "{said}");
}

// By trigonometry: hinged left, 597 wide (600 less the gap of 3 at its filler; its free side flush), the handle
// 18 wide with its centre 40 from the free edge and 32 out. Against the wall 13 beside its edge the
// handle's far corner, 566 along and 32 out (566.90 away, 3.236° ahead of the leaf), is first:
// sin⁻¹(13/566.90) = 1.314° past square, so the leaf stands at 90 + 1.314 − 3.236 = 88.07°.
#[test]
fn how_far_a_handle_lets_it_open() {
    let list = found(&beside_a_wall(10, None), "leaf-blocked");
    assert!(
        list[0].text.contains("opens to 88° only"),
        "{}",
        list[0].text
    );
}

// By hand: on wall A a pair of doors over 2400 mm, each about 1200 wide, so the right-hand one
// hinges near x 2400 and sweeps to about 1800 out there. A run on wall B, 580 deep, reaches back
// to x 2420 in a room 3000 long: clear. In a room 2600 long it reaches to 2020, and stands before
// the leaf if it begins 700 along wall B; one that begins 2200 along is beyond the leaf's tip.
#[test]
fn a_run_round_the_corner_stands_before_a_door() {
    let with = |long, from| {
        let mut job = fixture::job([long, 3600, long, 3600]);
        let mut other = fixture::run(1);
        other.wall = WallRef { room: 0, wall: 1 };
        other.from = Some(mm(from));
        job.runs = vec![fixture::run(1), other];
        job.runs[0].to = Some(mm(2400));
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
        job.hardware[fixture::HANDLE.0].out = Length::ZERO;
        found(&job, "leaf-blocked").len()
    };
    assert_eq!(
        (with(3000, 700), with(2600, 700), with(2600, 2200)),
        (0, 1, 0)
    );
}

// By hand: a drawer 22 thick before a carcass 580 deep comes out 550 from 602, its handle 32 more:
// to 1184. A room 1184 deep is enough; one of 1100 stops its handle at 1100 − 602 − 32 = 466.
#[test]
fn a_drawer_comes_out_as_far_as_the_room_lets_it() {
    let with = |deep| {
        let mut job = fixture::job([3000, deep, 3000, deep]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
        found(&job, "drawer-blocked")
    };
    assert!(with(1184).is_empty());
    let list = with(1100);
    assert!(
        list[0].text.contains("comes out 466 of 550 mm"),
        "{}",
        list[0].text
    );
    assert!(
        list[0].text.contains("handle strikes wall C"),
        "{}",
        list[0].text
    );
}

// By hand: in a corner the drawers of wall A reach 602 + 550 + 32 out; those of wall B, whose fronts
// stand at x = 3000 − 602, begin 700 along it and come out over x 1816…2398. The run on wall A goes
// to 2400: its drawer comes out under the handle of the other. One to 1800 is clear of both.
#[test]
fn drawers_across_a_corner() {
    let with = |to, code| {
        let mut job = fixture::job([3000; 4]);
        let mut other = fixture::run(1);
        other.wall = WallRef { room: 0, wall: 1 };
        other.from = Some(mm(700));
        other.to = Some(mm(1600));
        job.runs = vec![fixture::run(1), other];
        job.runs[0].to = Some(mm(to));
        for run in &mut job.runs {
            run.units[0].rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
        }
        found(&job, code).len()
    };
    assert_eq!(
        (with(2380, "drawer-blocked"), with(2350, "drawer-blocked")),
        (1, 0)
    );
    assert_eq!(
        (with(2350, "fronts-meet"), with(1810, "fronts-meet")),
        (1, 0)
    );
}

// By hand: a flap 400 high at a top of 2000, its stay opening 90°, comes to stand level at 2000, its
// handle 32 higher; opened to 110° its tip rises to 2000 + 400·sin 20° = 2136.8, and more by the
// handle. Under a ceiling of 2440 both go; under one of 2100 only the first.
#[test]
fn a_flap_under_a_ceiling_and_a_light() {
    let job = |ceiling, opens: Option<i64>| {
        let mut job = fixture::job([3000; 4]);
        for wall in &mut job.rooms[0].walls {
            wall.ceiling = fixture::line(&[(0, ceiling)]);
        }
        job.hardware[fixture::STAY.0].opens = opens.map(Angle::deg);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows = vec![
            fixture::row(Some(400), FrontKind::Flap, 1),
            fixture::row(None, FrontKind::Door, 2),
        ];
        job
    };
    let count = |ceiling, opens| found(&job(ceiling, opens), "flap-blocked").len();
    assert_eq!(
        (
            count(2440, Some(110)),
            count(2100, None),
            count(2100, Some(110))
        ),
        (0, 0, 1)
    );
    assert_eq!(count(2025, None), 1, "its handle");
    // A light that hangs from 1950 to 2000, 700 to 900 out: struck; one above 2050 is not.
    let lit = |height| {
        let mut job = job(2440, None);
        job.rooms[0].walls[0].services = vec![Service {
            kind: ServiceKind::Light,
            was: None,
            at: mm(1500),
            height: mm(height),
            width: mm(100),
            tall: mm(50),
            out: mm(900),
            note: String::new(),
        }];
        found(&job, "flap-blocked")
    };
    assert!(lit(1900)[0].text.contains("the light on wall A"));
    assert!(lit(2050).is_empty());
}

fn with_room_door(hinge: Side, opens_in: bool) -> Job {
    let mut job = fixture::job([3000; 4]);
    job.runs = vec![fixture::run(1)];
    job.runs[0].to = Some(mm(2600));
    job.rooms[0].walls[1].doors = vec![WallDoor {
        at: mm(700),
        width: mm(800),
        height: mm(2000),
        leads_to: "landing".into(),
        hinge: Some(hinge),
        opens_in,
    }];
    job
}

// By hand: the run on wall A stands 580 deep to x = 2600; the door in wall B, hinged at 700 along it,
// stands open square at 700 from wall A: clear of a run 580 deep.
// A deeper run, 900, is in its way: square it would stand at y = 700 < 900, from x = 2200
// to 3000. Its tip is at 900 along the wall at cos⁻¹((900 − 700)/800) = 75.5°, where x = 3000 −
// 800·sin 75.5° = 2225 < 2600: it has struck the corner (2600, 900) by then, at tan⁻¹(400/200) = 63.4°. Hinged on its right, at 1500, its
// tip meets the run's side x = 2600 at sin⁻¹(400/800) = 30°, where y = 1500 − 693 = 807 < 900.
#[test]
fn a_room_door_before_a_run() {
    let with = |depth, hinge, opens_in| {
        let mut job = with_room_door(hinge, opens_in);
        job.runs[0].units[0].depth = mm(depth);
        found(&job, "room-door-blocked")
    };
    assert!(with(580, Side::Left, true).is_empty());
    let right = &with(900, Side::Right, true)[0];
    assert!(right.text.contains("opens to 30° only"), "{}", right.text);
    assert_eq!(right.severity, crate::reckon::placed::Severity::Blocks);
    assert!(with(900, Side::Left, false).is_empty(), "it opens out");
    let list = with(900, Side::Left, true);
    assert!(
        list[0].text.contains("opens to 63° only"),
        "{}",
        list[0].text
    );
    assert_eq!(list[0].severity, crate::reckon::placed::Severity::Warns);
}

// By hand: the door of wall B hinged right sweeps from (3000, 700) to (2200, 1500); the pair of doors
// of the run on wall A, hinged at its two ends, comes out to about 602 + 1300 at x ≤ 2600.
#[test]
fn a_room_door_and_a_front() {
    let mut job = with_room_door(Side::Right, true);
    job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
    assert_eq!(found(&job, "room-door-meets-front").len(), 1);
    job.runs[0].to = Some(mm(1000));
    assert_eq!(found(&job, "room-door-meets-front").len(), 0);
}

// By hand: two units with a pair of doors each; at the joint stand two leaves hinged there, 3 apart,
// each with a handle 32 out at the same height: open square the handles would lie 61 in one another.
// At the angle a at which they touch, each handle's corner, r = 566… from the axis, is 1.5 from the
// middle: 32·sin a − (w − 31)·cos a = −1.5 with its far corner w − 31 out and leaves w = 595.5 or so:
// tan a = (564.5·cos a − 1.5)/(32·cos a)… solved: 86.6°. With handles let in they stand square.
#[test]
fn leaves_that_stand_open_at_one_joint() {
    let mut job = fixture::job([2400, 3000, 2400, 3000]);
    job.runs = vec![fixture::run(2)];
    for unit in &mut job.runs[0].units {
        unit.rows = vec![fixture::row(None, FrontKind::Door, 2)];
    }
    let list = found(&job, "open-fronts-touch");
    assert_eq!(list.len(), 1);
    assert!(
        list[0].text.starts_with("Doors 2 and 3 touch"),
        "{}",
        list[0].text
    );
    assert!(
        list[0].text.contains("further than 86°"),
        "{}",
        list[0].text
    );
    job.hardware[fixture::HANDLE.0].out = Length::ZERO;
    assert!(found(&job, "open-fronts-touch").is_empty());
}

// By hand: runs face one another 1400 apart, leaves 597 wide on both: 602 + 597 and as much again is
// 2398 in a room 2000 deep: open square they would lie 398 in one another; alone each has 1398.
#[test]
fn leaves_across_the_room() {
    let with = |deep| {
        let mut job = fixture::job([600, deep, 600, deep]);
        let mut other = fixture::run(1);
        other.wall = WallRef { room: 0, wall: 2 };
        job.runs = vec![fixture::run(1), other];
        for (run, side) in job.runs.iter_mut().zip([Side::Left, Side::Right]) {
            run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
            run.units[0].rows[0].cells[0].hinge = Some(side);
        }
        job.hardware[fixture::HANDLE.0].out = Length::ZERO;
        (
            found(&job, "fronts-meet").len(),
            found(&job, "leaf-blocked").len(),
        )
    };
    assert_eq!((with(2000), with(2420)), ((1, 0), (0, 0)));
}

// By hand: 30 from its hinged edge stands a boxed pipe 700 out: square, the leaf's handle, 32 out,
// strikes it; one 40 away it clears. A window there whose reveal is 300 deep lets it by, and one that
// is too low does not.
#[test]
fn a_return_and_a_reveal() {
    let pipe = |from: i64| {
        let mut job = beside_a_wall(100, None);
        job.rooms[0].walls[0].obstructions = vec![Obstruction {
            what: "boxed pipe".into(),
            from: mm(0),
            to: mm(from),
            bottom: Length::ZERO,
            top: mm(2400),
            out: mm(1300),
        }];
        found(&job, "leaf-blocked").len()
    };
    assert_eq!((pipe(73), pipe(71)), (1, 0));
    let reveal = |sill, height| {
        let mut job = beside_a_wall(5, None);
        job.rooms[0].walls[3].windows = vec![Window {
            at: mm(1500),
            width: mm(890),
            height: mm(height),
            sill: mm(sill),
            reveal: mm(300),
        }];
        found(&job, "leaf-blocked").len()
    };
    // Wall D ends at wall A's corner: 602 to 1200 out of A is 1800 to 2398 along D.
    assert_eq!((reveal(0, 2300), reveal(0, 900)), (0, 1));
}

// By hand: a slope from wall D (low 1400 at it, 2440 at 1000 out) is as high as the leaf's top, 2000,
// at 577 out. A leaf that hinges 500 from wall D, toward it, would stand under it; one 600 from it not.
#[test]
fn a_leaf_under_a_slope() {
    let with = |from| {
        let mut job = fixture::job([3000; 4]);
        job.rooms[0].slopes = vec![Slope {
            wall: 3,
            low: mm(1400),
            high: mm(2440),
            over: mm(1000),
        }];
        job.runs = vec![fixture::run(1)];
        job.runs[0].from = Some(mm(from));
        job.runs[0].to = Some(mm(from + 600));
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
        found(&job, "leaf-blocked").len()
    };
    assert_eq!((with(500), with(600)), (1, 0));
}

// By hand: a machine 540 wide in a unit 600 wide begins 30 from its side. The cupboard door, square,
// stands within 3 + 22 of it: the machine's own door is clear, hinged left, right or opening down. With
// a filler of 1 the handle stops the cupboard door at 87.2° (as above: sin⁻¹(4/566.9) = 0.40°), and its
// tip leans 597·sin 2.8° = 29 inward, before the machine's door as it comes down.
#[test]
fn the_own_door_of_a_machine() {
    let with = |filler, opens| {
        let mut job = beside_a_wall(filler, None);
        job.appliances = vec![Appliance {
            key: "m".into(),
            name: "Machine".into(),
            width: mm(540),
            height: mm(850),
            depth: mm(500),
            supplied: String::new(),
            needs: vec![],
            goes_in: crate::resolve::job::GoesIn::BeforeFronts,
            mass: None,
            opens: Some(opens),
            reach: None,
        }];
        job.runs[0].units[0].bays[0].appliances = vec![ApplianceRef(0)];
        found(&job, "appliance-door-meets-front").len()
    };
    assert_eq!((with(60, OwnDoor::Left), with(60, OwnDoor::Right)), (0, 0));
    assert_eq!(with(60, OwnDoor::Down), 0);
    assert_eq!(with(1, OwnDoor::Down), 1);
}

// By hand: an inner drawer 13 off the side clears a leaf 22 thick that laps the side of 18 by 15 and
// stands square: it reaches 25 from the unit's side, the drawer begins at 31. One 40 thick does not.
#[test]
fn an_inner_drawer_past_its_door() {
    let with = |thick| {
        let mut job = beside_a_wall(100, None);
        job.materials[fixture::FRONT.0].thickness = mm(thick);
        job.runs[0].units[0].bays[0].drawers = 2;
        found(&job, "drawer-behind-door").len()
    };
    assert_eq!((with(22), with(40)), (0, 1));
}

// By trigonometry: the leaf of `beside_a_wall`, its handle let in, is 597 wide; beside a filler of 60 and
// the gap it turns past square until its tip is 63 − 0 beyond its edge: sin⁻¹(63/597) = 6.06°, at 96°.
#[test]
fn a_leaf_that_would_open_farther_than_it_can() {
    let mut job = beside_a_wall(60, None);
    job.hardware[fixture::HANDLE.0].out = Length::ZERO;
    job.hardware[fixture::HINGE.0].opens = Some(Angle::deg(110));
    let list = found(&job, "leaf-stops-short");
    assert!(
        list[0].text.contains(
            "opens to 96° of the 110° that its hinges allow; then wall D stands in the way"
        ),
        "{}",
        list[0].text
    );
    assert!(list[0].advice.contains("no more than 96°"));
    job.hardware[fixture::HINGE.0].opens = Some(Angle::deg(95));
    assert!(found(&job, "leaf-stops-short").is_empty());
}

// By hand: in a unit 580 deep whose machine stands at its front edge, its door comes out 500 to 1080
// where it opens down; a wall 1000 away lets it 420.
#[test]
fn the_own_door_of_a_machine_before_a_wall() {
    let with = |deep| {
        let mut job = fixture::job([600, deep, 600, deep]);
        job.runs = vec![fixture::run(1)];
        job.appliances = vec![Appliance {
            key: "m".into(),
            name: "Machine".into(),
            width: mm(540),
            height: mm(850),
            depth: mm(500),
            supplied: String::new(),
            needs: vec![],
            goes_in: crate::resolve::job::GoesIn::BeforeFronts,
            mass: None,
            opens: Some(OwnDoor::Down),
            reach: Some(mm(500)),
        }];
        job.runs[0].units[0].bays[0].appliances = vec![ApplianceRef(0)];
        found(&job, "appliance-door-blocked")
    };
    assert!(with(1081).is_empty());
    let list = with(1000);
    assert!(
        list[0].text.contains("comes 420 of 500 mm out: wall C"),
        "{}",
        list[0].text
    );
}

// By hand: a drawer comes out 600 beside a leaf hinged at their joint, 3 between them, whose handle stands
// 40 out and 549 to 567 along it: it meets the drawer's side, 3 from its edge, at about
// tan⁻¹((40 − 3)/549) = 3.9° short of square. A drawer that comes out 500 ends before the handle.
#[test]
fn a_leaf_beside_a_drawer_that_is_out() {
    let mut job = fixture::job([1200, 3000, 1200, 3000]);
    job.runs = vec![fixture::run(2)];
    job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Drawer, 1)];
    job.runs[0].units[1].rows = vec![fixture::row(None, FrontKind::Door, 1)];
    job.hardware[fixture::HANDLE.0].out = mm(40);
    job.hardware[fixture::RUNNER.0].travel = Some(mm(600));
    let list = found(&job, "open-fronts-touch");
    assert_eq!(list.len(), 1);
    assert!(
        list[0]
            .text
            .starts_with("With drawer 1 pulled out, door 2 opens to 86° only"),
        "{}",
        list[0].text
    );
    job.hardware[fixture::RUNNER.0].travel = Some(mm(500));
    assert!(found(&job, "open-fronts-touch").is_empty());
}

// The place of a clash lies where both are: wall D is at x < 0 on plan.
#[test]
fn a_clash_has_its_place_on_plan() {
    let got = reckon(&beside_a_wall(10, None), &mut Diagnostics::default()).unwrap();
    assert_eq!(got.clashes.len(), 1);
    let clash = &got.clashes[0];
    assert!(clash.is_drawn() && clash.room == 0);
    assert_eq!(clash.brief, "door 1 strikes wall D");
    assert!(clash.finding.text.ends_with("The plan shows where."));
    let xs = clash.areas[0].iter().map(|p| p.x);
    assert!((xs.clone().sum::<f64>() / xs.count() as f64) < 15.0);
}

// A hinge offset less than the thickness brings a leaf sideways before its neighbour, not into it: by
// hand, 22 − 6 = 16 beyond its edge when it stands square, before fronts flush with its own.
#[test]
fn a_leaf_passes_its_neighbour() {
    let mut job = fixture::job([1200, 3000, 1200, 3000]);
    job.runs = vec![fixture::run(2)];
    for unit in &mut job.runs[0].units {
        unit.rows = vec![fixture::row(None, FrontKind::Door, 1)];
    }
    job.runs[0].units[0].rows[0].cells[0].hinge = Some(Side::Right);
    job.hardware[fixture::HANDLE.0].out = Length::ZERO;
    job.hardware[fixture::HINGE.0].offset = Some(mm(6));
    assert!(found(&job, "leaf-blocked").is_empty());
    // Hinged at one joint with 3 between, both square would want 16 each: not both.
    let list = found(&job, "fronts-meet");
    assert!(
        list[0]
            .text
            .starts_with("Doors 1 and 2 cannot both be open"),
        "{}",
        list[0].text
    );
    // A neighbour 200 deeper is a return: it needs 16 beside the leaf, and there are 1.5.
    job.runs[0].units[0].depth = mm(780);
    job.runs[0].units[0].rows.clear();
    assert_eq!(found(&job, "leaf-blocked").len(), 1);
}

// By hand: the leaf of `beside_a_wall`, its handle let in, stands from 602 to 602 + 597 = 1199 out of wall A
// when it is open, 60 off wall D: of a doorway there from 700 to 1500 it covers 499 and leaves 301. Wall D
// ends at wall A's corner, so the doorway begins at 3000 − 1500 along it. A doorway whose head is under the
// leaf's foot, and one that begins beyond 1199 − 50, are free; so is one on the far wall.
#[test]
fn a_leaf_that_stands_open_in_a_doorway() {
    let with = |wall: usize, from: i64, height: i64| {
        let mut job = beside_a_wall(60, None);
        job.hardware[fixture::HANDLE.0].out = Length::ZERO;
        job.rooms[0].walls[wall].doors = vec![WallDoor {
            at: mm(3000 - from - 800),
            width: mm(800),
            height: mm(height),
            leads_to: "landing".into(),
            hinge: None,
            opens_in: false,
        }];
        found(&job, "open-front-in-doorway")
    };
    let list = with(3, 700, 2000);
    assert_eq!(list.len(), 1);
    assert!(
        list[0].text.contains(
            "door 1 stands before the doorway to “landing” and covers 499 mm of its 800 mm; 301 mm stay free"
        ),
        "{}",
        list[0].text
    );
    assert!(list[0].client.is_some());
    assert!(with(3, 700, 90).is_empty());
    assert!(with(3, 1160, 2000).is_empty());
    assert!(with(1, 700, 2000).is_empty());
}

// By hand, of `beside_a_wall` with a filler of 10: the handle, which strikes wall D short of square, lies 1151 to
// 1169 out of wall A, in a doorway there from 610 or 700. Where its leaf hangs at the far face, 100 deep, nothing
// stops it at a quarter turn; where the head is lower than the handle, or the leaf hangs in the wall's near face,
// all is as without the doorway. Past square the leaf meets the jamb at 700, 98 along from its axis and 13 beside
// it: tan⁻¹(13/98) = 7.56°, at 97°. With the jamb at 610 its handle meets the shut room door, 113 beside the axis:
// sin⁻¹(113/566.90) = 11.50°, less the 3.24° it is ahead, at 98°.
#[test]
fn a_doorway_is_no_wall_as_high_as_its_head() {
    let with = |from: i64, height: i64, opens_in: bool| {
        let mut job = beside_a_wall(10, None);
        job.hardware[fixture::HINGE.0].opens = Some(Angle::deg(110));
        job.rooms[0].walls[3].doors = vec![WallDoor {
            at: mm(3000 - from - 800),
            width: mm(800),
            height: mm(height),
            leads_to: "landing".into(),
            hinge: Some(Side::Left),
            opens_in,
        }];
        job
    };
    let text = |job: &Job, code: &str| found(job, code).first().map(|f| f.text.clone());
    let has = |job: &Job, code: &str, part: &str| {
        let said = text(job, code).unwrap_or_default();
        assert!(said.contains(part), "{said}");
    };
    assert_eq!(text(&with(700, 2000, false), "leaf-blocked"), None);
    has(
        &with(700, 2000, false),
        "leaf-stops-short",
        "opens to 97° of the 110° that its hinges allow; then wall D stands in the way",
    );
    has(
        &with(610, 2000, false),
        "leaf-stops-short",
        "opens to 98° of the 110° that its hinges allow; then its handle strikes the room door to “landing”",
    );
    has(
        &with(700, 90, false),
        "leaf-blocked",
        "opens to 88° only: its handle strikes wall D",
    );
    has(
        &with(700, 2000, true),
        "leaf-blocked",
        "opens to 88° only: its handle strikes the room door to “landing”",
    );
}

// By trigonometry, two doors above one another beside a filler of 60, the head of a doorway over the lower one's
// handle and below its top edge: the upper one's handle strikes wall D at 90 + sin⁻¹(63/566.90) − 3.24 = 93.1°; the
// lower one is stopped by its leaf alone, over the head, at 90 + sin⁻¹(63/597) = 96.1°. Each is told of itself.
#[test]
fn doors_of_a_unit_stopped_by_handle_and_by_leaf_are_told_apart() {
    let mut job = beside_a_wall(60, None);
    job.hardware[fixture::HINGE.0].opens = Some(Angle::deg(110));
    job.runs[0].units[0].rows = vec![
        fixture::row(Some(300), FrontKind::Door, 1),
        fixture::row(None, FrontKind::Door, 1),
    ];
    let got = reckon(&job, &mut Diagnostics::default()).unwrap();
    let lower = &got.fronts[0];
    let head = lower.handle.expect("a handle").z + mm(120);
    assert!(head < lower.top && head < got.fronts[1].handle.expect("a handle").z - mm(120));
    job.rooms[0].walls[3].doors = vec![WallDoor {
        at: mm(1500),
        width: mm(800),
        height: head,
        leads_to: "landing".into(),
        hinge: Some(Side::Left),
        opens_in: false,
    }];
    let list = found(&job, "leaf-stops-short");
    let said: Vec<&str> = list.iter().map(|f| f.text.as_str()).collect();
    let has = |part: &str| assert!(said.iter().any(|s| s.contains(part)), "{said:?}");
    has("opens to 96° of the 110° that its hinges allow; then wall D stands in the way");
    has("opens to 93° of the 110° that its hinges allow; then its handle strikes wall D");
}

// As above: 96° is more than a quarter turn, which is as far as a plan shows; 88.07° is less, held to 0.06°,
// half a millimetre at the handle.
#[test]
fn how_far_each_leaf_is_drawn_open() {
    let opens = |job: &Job| {
        let got = reckon(job, &mut Diagnostics::default()).unwrap();
        got.opens[0].expect("it turns").to_degrees()
    };
    let mut job = beside_a_wall(60, None);
    job.hardware[fixture::HANDLE.0].out = Length::ZERO;
    assert!((opens(&job) - 90.0).abs() < 1e-9);
    let stopped = opens(&beside_a_wall(10, None));
    assert!((stopped - 88.07).abs() < 0.06, "{stopped}");
}
