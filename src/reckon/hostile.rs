//! The reckoning never panics, whatever sizes the job holds within what `resolve` lets through.
//! Knows every length that the reckoning reads; says nothing of right results.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::{fixture, reckon};
use crate::diag::Diagnostics;
use crate::resolve::job::*;
use crate::units::{Angle, Length};

/// A job with one of everything.
fn full() -> Job {
    let mut job = fixture::job([4000, 3000, 4000, 3000]);
    let room = &mut job.rooms[0];
    room.slopes = vec![Slope {
        wall: 2,
        low: Length::mm(1400),
        high: Length::mm(2440),
        over: Length::mm(900),
    }];
    room.diagonals = vec![Diagonal {
        from: 0,
        to: 2,
        length: Length::mm(5000),
        place: Default::default(),
    }];
    for wall in &mut room.walls {
        wall.linings = fixture::lining(12_500);
        wall.floor = fixture::line(&[(0, 0), (1500, -4)]);
        wall.plumb = fixture::line(&[(0, 0), (2300, 5)]);
        wall.ceiling = fixture::line(&[(0, 2440), (1500, 2430)]);
        wall.bulkheads = vec![Bulkhead {
            what: "beam".into(),
            from: Length::ZERO,
            to: Length::mm(900),
            underside: Length::mm(2300),
            out: Length::mm(300),
        }];
        wall.obstructions = vec![Obstruction {
            what: "pipe".into(),
            from: Length::mm(50),
            to: Length::mm(120),
            bottom: Length::ZERO,
            top: Length::mm(2400),
            out: Length::mm(90),
        }];
    }
    let room_door = WallDoor {
        at: Length::mm(1700),
        width: Length::mm(800),
        height: Length::mm(2000),
        leads_to: String::new(),
        hinge: Some(Side::Right),
        opens_in: true,
    };
    let window = Window {
        at: Length::mm(1000),
        width: Length::mm(600),
        height: Length::mm(900),
        sill: Length::mm(1000),
        reveal: Length::mm(200),
    };
    let light = Service {
        kind: ServiceKind::Light,
        was: None,
        at: Length::mm(500),
        height: Length::mm(2200),
        width: Length::mm(80),
        tall: Length::mm(60),
        out: Length::mm(700),
        note: String::new(),
    };
    for wall in &mut job.rooms[0].walls {
        wall.doors = vec![room_door.clone()];
        wall.windows = vec![window.clone()];
        wall.services = vec![light.clone()];
    }
    job.hardware[fixture::HINGE.0].offset = Some(Length::mm(10));
    job.hardware[fixture::HINGE.0].opens = Some(Angle::deg(110));
    job.hardware[fixture::STAY.0].opens = Some(Angle::deg(120));
    job.hardware[fixture::RUNNER.0].travel = Some(Length::mm(480));
    job.appliances = vec![Appliance {
        key: "fridge".into(),
        name: "Fridge".into(),
        width: Length::mm(500),
        height: Length::mm(900),
        depth: Length::mm(500),
        supplied: String::new(),
        needs: vec![],
        mass: None,
        opens: Some(OwnDoor::Left),
        reach: Some(Length::mm(700)),
    }];
    for material in &mut job.materials {
        material.sheet = Some((Length::mm(2500), Length::mm(2100)));
        material.edge = "band".into();
        material.repeat = (Some(Length::mm(90)), Some(Length::mm(32)));
    }
    patterned(&mut job);
    let mut lower = fixture::run(3);
    lower.left.scribe = Some(Length::mm(20));
    lower.right.filler = Some(Length::mm(40));
    lower.right.panel = Some(fixture::FRONT);
    lower.right.pattern = Some("P".into());
    for unit in &mut lower.units {
        unit.rows = vec![
            fixture::row(Some(250), FrontKind::Flap, 1),
            fixture::row(None, FrontKind::Drawer, 1),
            fixture::row(Some(700), FrontKind::Door, 2),
        ];
        let cells = unit.rows.iter_mut().flat_map(|r| &mut r.cells);
        cells.for_each(|c| c.style.pattern = Some("P".into()));
    }
    lower.units[0].width = Some(Length::mm(600));
    lower.units[0].bays[0].shelves = 2;
    lower.units[0].bays[0].lipping = Length::mm(40);
    lower.units[1].bays[0].drawers = 2;
    lower.units[2].bays[0].fixed = vec![Length::mm(1000)];
    lower.units[2].bays[0].appliances = vec![ApplianceRef(0)];
    lower.units[2].bays.push(fixture::bay());
    let mut upper = fixture::run(1);
    upper.units[0].over = Some((0, 1));
    upper.units[0].base = Length::mm(2000);
    upper.units[0].top = Length::mm(2300);
    upper.units[0].stands = Stands::Unit;
    job.runs = vec![lower, upper];
    job.panels = vec![Panel {
        id: "p".into(),
        name: "P".into(),
        kind: PanelKind::Slats,
        wall: WallRef { room: 0, wall: 1 },
        from: Length::mm(700),
        to: Length::mm(1500),
        bottom: Length::ZERO,
        top: Length::mm(1000),
        material: fixture::FRONT,
        finish: None,
        pieces: 3,
        slat: Length::mm(60),
        gap: Length::mm(10),
        off_wall: Length::ZERO,
        pattern: None,
        note: String::new(),
        place: Default::default(),
    }];
    job.sliding = vec![Sliding {
        id: "s".into(),
        name: "S".into(),
        wall: WallRef { room: 0, wall: 2 },
        at: Length::mm(1600),
        width: Length::mm(900),
        height: Length::mm(1300),
        clear: Length::mm(10),
        off_wall: Length::mm(10),
        slides: Side::Left,
        sight: false,
        material: fixture::FRONT,
        finish: None,
        track: None,
        handle: None,
        note: String::new(),
        place: Default::default(),
    }];
    job.worktops = vec![Worktop {
        id: "t".into(),
        name: "T".into(),
        run: 0,
        material: fixture::FRONT,
        finish: None,
        edge: Length::mm(30),
        front: Length::mm(20),
        left: Length::ZERO,
        right: Length::ZERO,
        upstand: Length::mm(60),
        cutouts: vec![Cutout {
            what: "sink".into(),
            at: Length::mm(900),
            width: Length::mm(500),
            depth: Length::mm(400),
            from_front: Length::mm(80),
            radius: Length::mm(10),
            place: Default::default(),
        }],
        note: String::new(),
        place: Default::default(),
    }];
    job
}

/// Boards in hand, a rule for their pattern, and findings that are known.
fn patterned(job: &mut Job) {
    job.boards = ["a", "b"]
        .map(|id| Board {
            id: id.into(),
            material: fixture::FRONT,
            sheet: (Length::mm(2500), Length::mm(2100)),
            picture: None,
            first_crest: (Length::mm(10), Length::mm(7)),
            lab: Some([50_000, 0, 0]),
            lab_of_picture: false,
            batch: String::new(),
            ends_off: (Length::mm(20), Length::mm(30)),
            avoid: vec![Avoid {
                from: (Length::mm(900), Length::mm(300)),
                to: (Length::mm(930), Length::mm(330)),
                what: "knot".into(),
            }],
            place: Default::default(),
        })
        .into();
    job.patterns = vec![PatternRule {
        wanted: Wanted::Within(Length::mm(2)),
        ..PatternRule::usual("P")
    }];
    let known = |finding: &str, on| Known {
        finding: finding.into(),
        on,
        on_name: String::new(),
        why: "settled".into(),
        place: Default::default(),
    };
    job.known = vec![
        known("larger-than-board", None),
        known("does-not-pass", Some(Subject::Unit(7, 9))),
        known("", Some(Subject::Front("nobody".into()))),
    ];
}

fn lengths(job: &mut Job) -> Vec<&mut Length> {
    let mut out: Vec<&mut Length> = Vec::new();
    for room in &mut job.rooms {
        for s in &mut room.slopes {
            out.extend([&mut s.low, &mut s.high, &mut s.over]);
        }
        for w in &mut room.walls {
            out.push(&mut w.length);
            let lines = [&mut w.floor, &mut w.ceiling, &mut w.plumb];
            for point in lines.into_iter().flatten() {
                out.extend([&mut point.0, &mut point.1]);
            }
            out.extend(w.linings.iter_mut().map(|l| &mut l.thickness));
            for b in &mut w.bulkheads {
                out.extend([&mut b.from, &mut b.to, &mut b.underside, &mut b.out]);
            }
            for d in &mut w.doors {
                out.extend([&mut d.at, &mut d.width, &mut d.height]);
            }
            for h in &mut w.windows {
                out.extend([
                    &mut h.at,
                    &mut h.width,
                    &mut h.height,
                    &mut h.sill,
                    &mut h.reveal,
                ]);
            }
            for s in &mut w.services {
                out.extend([
                    &mut s.at,
                    &mut s.height,
                    &mut s.width,
                    &mut s.tall,
                    &mut s.out,
                ]);
            }
            for o in &mut w.obstructions {
                out.extend([
                    &mut o.from,
                    &mut o.to,
                    &mut o.bottom,
                    &mut o.top,
                    &mut o.out,
                ]);
            }
        }
    }
    for part in &mut job.hardware {
        out.extend([&mut part.size, &mut part.out]);
        out.extend(part.offset.iter_mut().chain(&mut part.travel));
    }
    for appliance in &mut job.appliances {
        let sizes = [
            &mut appliance.width,
            &mut appliance.height,
            &mut appliance.depth,
        ];
        out.extend(sizes);
        out.extend(appliance.reach.iter_mut());
    }
    for run in &mut job.runs {
        out.extend([&mut run.off_wall]);
        out.extend(run.from.iter_mut().chain(&mut run.to));
        for end in [&mut run.left, &mut run.right] {
            out.extend(end.scribe.iter_mut().chain(&mut end.filler));
        }
        for unit in &mut run.units {
            out.extend(unit.width.iter_mut());
            out.extend([&mut unit.depth, &mut unit.base, &mut unit.top]);
            for bay in &mut unit.bays {
                out.extend([&mut bay.drawer_height, &mut bay.lipping]);
                out.extend(bay.fixed.iter_mut().chain(&mut bay.width));
            }
            for row in &mut unit.rows {
                out.extend(row.height.iter_mut());
                out.extend(row.cells.iter_mut().map(|c| &mut c.style.gap));
            }
        }
    }
    for p in &mut job.panels {
        out.extend([&mut p.from, &mut p.to, &mut p.bottom, &mut p.top]);
        out.extend([&mut p.slat, &mut p.gap, &mut p.off_wall]);
    }
    for s in &mut job.sliding {
        out.extend([&mut s.at, &mut s.width, &mut s.height, &mut s.clear]);
    }
    for t in &mut job.worktops {
        out.extend([
            &mut t.edge,
            &mut t.front,
            &mut t.left,
            &mut t.right,
            &mut t.upstand,
        ]);
        for c in &mut t.cutouts {
            out.extend([&mut c.at, &mut c.width, &mut c.depth, &mut c.from_front]);
        }
    }
    for material in &mut job.materials {
        out.push(&mut material.thickness);
        out.extend(material.sheet.iter_mut().flat_map(|s| [&mut s.0, &mut s.1]));
        out.extend(material.repeat.0.iter_mut().chain(&mut material.repeat.1));
    }
    for b in &mut job.boards {
        out.extend([&mut b.sheet.0, &mut b.sheet.1, &mut b.first_crest.0]);
        out.extend([&mut b.first_crest.1, &mut b.ends_off.0, &mut b.ends_off.1]);
        for a in &mut b.avoid {
            out.extend([&mut a.from.0, &mut a.from.1, &mut a.to.0, &mut a.to.1]);
        }
    }
    for rule in &mut job.patterns {
        if let Wanted::Within(limit) = &mut rule.wanted {
            out.push(limit);
        }
    }
    let cutter = &mut job.cutter;
    out.extend([&mut cutter.kerf, &mut cutter.trim, &mut cutter.edge]);
    out
}

/// Sizes within ±100 m, extremes and small ones often.
fn size() -> impl Strategy<Value = i64> {
    prop_oneof![
        -100_000_000i64..=100_000_000,
        -5_000_000i64..=5_000_000,
        Just(0),
        Just(1),
        Just(-1),
        Just(100_000_000),
        Just(-100_000_000),
    ]
}

#[test]
fn the_full_job_reckons() {
    let mut diags = Diagnostics::default();
    let mut job = full();
    job.known.truncate(1);
    let reckoned = reckon(&job, &mut diags);
    let reckoned = reckoned.unwrap_or_else(|| panic!("{:?}", diags.sorted()));
    assert!(reckoned.patterns.iter().any(|l| l.stuck.is_none()));
}

proptest! {
    #![proptest_config(ProptestConfig {
        rng_seed: RngSeed::Fixed(23),
        failure_persistence: None,
        cases: 512,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_sizes_are_reckoned_or_refused(
        changes in proptest::collection::vec((any::<prop::sample::Index>(), size()), 1..12),
        turns in proptest::collection::vec(-360_000i64..360_000, 4),
        (counts, closed) in ((any::<u32>(), any::<u32>(), any::<u32>()), any::<bool>()),
    ) {
        let mut job = full();
        {
            let mut all = lengths(&mut job);
            let count = all.len();
            for (index, um) in &changes {
                *all[index.index(count)] = Length::um(*um);
            }
        }
        if changes.len() > 6 {
            for (wall, turn) in job.rooms[0].walls.iter_mut().zip(&turns) {
                wall.turn = Angle::millideg(*turn);
            }
            job.rooms[0].closed = closed;
            job.runs[0].units[0].bays[0].shelves = counts.0;
            job.runs[0].units[1].bays[0].drawers = counts.1;
            job.panels[0].pieces = counts.2;
        }
        // What is known and not found is told of, whatever else there is.
        if changes.len() % 4 != 0 {
            job.known.clear();
        }
        let mut diags = Diagnostics::default();
        let got = reckon(&job, &mut diags);
        prop_assert!(got.is_some() || !diags.is_empty());
        prop_assert!(got.is_none() || diags.is_empty() || !job.known.is_empty());
    }
}
