//! In what order things are fitted, and why. Knows what stands on what, floors and corners; must not
//! know how anything is fixed.
//!
//! Common practice, no source: the room farthest from the way in first, so that nothing is carried past
//! what is finished; in a room the run on the highest floor first, as it sets the level; along a run
//! from a corner it shares, else away from a scribe, so that the scribed end is cut last; what stands
//! on others after those; then strips and tops, machines before fronts close them in, panels, what was
//! taken out of units to carry them, and what swings or slides last of all. A panel that a run will
//! close in goes before that run.

use super::checks::names;
use super::placed::{PieceKind, PlacedBay, PlacedRoom, PlacedRun};
use super::setting_out::on_floor;
use super::{floor, plan};
use crate::resolve::job::{ApplianceRef, GoesIn, Job, Panel, Room, Run, Side, Subject, Unit};
use crate::units::Length;

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub subject: Subject,
    pub what: Work,
    pub why: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    Stand,
    Build,
    Hang,
    /// On the unit under it.
    Lift,
    /// End panels, fillers, scribes and plinths of a run.
    Strips,
    Worktop,
    /// What goes into a worktop's cut-outs.
    CutOuts,
    /// Loose shelves, drawers and rails of a run.
    Insides,
    /// Appliances into a unit.
    Machines(GoesIn),
    Panel,
    /// Doors, flaps and drawer fronts of a run.
    Fronts,
    Sliding,
}

pub fn order(job: &Job, rooms: &[PlacedRoom], runs: &[PlacedRun]) -> Vec<Step> {
    let mut steps = Vec::new();
    for (room, deep) in farthest_first(job) {
        let begun = steps.len();
        let here: Vec<usize> = (0..job.runs.len().min(runs.len()))
            .filter(|i| job.runs.get(*i).is_some_and(|r| r.wall.room == room))
            .collect();
        units(job, rooms, runs, &here, &mut steps);
        let closed = closed_in(job, rooms, runs, &here, room, &mut steps, begun);
        for r in &here {
            strips(*r, runs, &mut steps);
        }
        for (i, top) in job.worktops.iter().enumerate() {
            if here.contains(&top.run) {
                steps.push(Step {
                    subject: Subject::Worktop(i),
                    what: Work::Worktop,
                    why: "once the units under it are level and fixed".into(),
                });
                if !top.cutouts.is_empty() {
                    steps.push(Step {
                        subject: Subject::Worktop(i),
                        what: Work::CutOuts,
                        why: "once the top lies and its cut edges are sealed; connecting is for whoever is licensed"
                            .into(),
                    });
                }
            }
        }
        machines(job, &here, GoesIn::BeforeFronts, &mut steps);
        for (i, panel) in job.panels.iter().enumerate() {
            if panel.wall.room == room && !closed.contains(&i) {
                steps.push(Step {
                    subject: Subject::Panel(i),
                    what: Work::Panel,
                    why: match beside(panel, runs) {
                        true => "to what stands beside it",
                        false => "once no unit is carried past it any more",
                    }
                    .into(),
                });
            }
        }
        for r in &here {
            if let Some(run) = runs.get(*r).filter(|run| has_insides(run)) {
                let drawers = run.units.iter().any(|u| !u.boxes.is_empty());
                steps.push(Step {
                    subject: Subject::Run(*r),
                    what: Work::Insides,
                    why: match drawers {
                        true => "units are carried in without them; drawers before their fronts",
                        false => "units are carried in without them",
                    }
                    .into(),
                });
            }
            if job.runs.get(*r).is_some_and(has_fronts) {
                steps.push(Step {
                    subject: Subject::Run(*r),
                    what: Work::Fronts,
                    why: "when nothing more is carried past them; unwrap by number".into(),
                });
            }
        }
        machines(job, &here, GoesIn::Last, &mut steps);
        for (i, leaf) in job.sliding.iter().enumerate() {
            if leaf.wall.room == room {
                steps.push(Step {
                    subject: Subject::Sliding(i),
                    what: Work::Sliding,
                    why: "last: until then the doorway is the way in".into(),
                });
            }
        }
        if deep > 0
            && let Some(first) = steps.get_mut(begun)
        {
            first.why = format!(
                "this room before the others, as one goes through another to it; {}",
                first.why
            );
        }
    }
    steps
}

/// Each room with the number of rooms one goes through to it from a door that leads to none of the
/// job's own; the farthest first, else in the order of the file.
fn farthest_first(job: &Job) -> Vec<(usize, usize)> {
    let leads = |room: &Room| -> Vec<Option<usize>> {
        let doors = room.walls.iter().flat_map(|w| &w.doors);
        let to = doors.map(|d| {
            let named = |r: &Room| r.id == d.leads_to || r.name == d.leads_to;
            job.rooms.iter().position(named)
        });
        to.collect()
    };
    let outside = |room: &Room| leads(room).contains(&None);
    let mut deep: Vec<Option<usize>> = job.rooms.iter().map(|r| outside(r).then_some(0)).collect();
    // One round more for each room that is reached through another.
    for _ in 1..job.rooms.len() {
        for (at, room) in job.rooms.iter().enumerate() {
            let Some(here) = deep.get(at).copied().flatten() else {
                continue;
            };
            for next in leads(room).into_iter().flatten() {
                if let Some(there) = deep.get_mut(next)
                    && there.is_none_or(|d| d > here + 1)
                {
                    *there = Some(here + 1);
                }
            }
        }
    }
    let mut rooms: Vec<(usize, usize)> = deep
        .into_iter()
        .enumerate()
        .map(|(room, deep)| (room, deep.unwrap_or(0)))
        .collect();
    rooms.sort_by_key(|(_, deep)| std::cmp::Reverse(*deep));
    rooms
}

/// Whether a run of the panel's wall ends at it (within 50 mm: common practice, no source).
fn beside(panel: &Panel, runs: &[PlacedRun]) -> bool {
    let near = |a: Length, b: Length| (a - b).abs() <= Length::mm(50);
    let mut here = runs.iter().filter(|r| r.wall == panel.wall);
    here.any(|r| near(r.right, panel.from) || near(r.left, panel.to))
}

/// Panels that a run on another wall of the room will stand before, each put before that run's first
/// unit: there must be room to work (600 mm: common practice, no source). Which they are.
fn closed_in(
    job: &Job,
    rooms: &[PlacedRoom],
    runs: &[PlacedRun],
    here: &[usize],
    room: usize,
    steps: &mut Vec<Step>,
    begun: usize,
) -> Vec<usize> {
    const TO_WORK: Length = Length::mm(600);
    let wall = |w: usize| rooms.get(room)?.walls.get(w);
    let mut closed = Vec::new();
    for (i, panel) in job.panels.iter().enumerate() {
        let Some(own) = wall(panel.wall.wall).filter(|_| panel.wall.room == room) else {
            continue;
        };
        let before = plan::footprint(own, panel.from, panel.to, Length::ZERO, TO_WORK);
        let closes = |r: &usize| {
            let at = runs.get(*r)?;
            let stands = plan::footprint(
                wall(at.wall.wall)?,
                at.left,
                at.right,
                at.y_back,
                at.y_back + at.depth_over_fronts(),
            );
            (at.wall != panel.wall && plan::overlap(&stands, &before, 0.5)).then_some(*r)
        };
        let by: Vec<usize> = here.iter().filter_map(closes).collect();
        let first = steps
            .iter()
            .skip(begun)
            .position(|s| matches!(s.subject, Subject::Unit(r, _) if by.contains(&r)));
        let Some(first) = first.map(|n| n + begun) else {
            continue;
        };
        let run = match steps.get(first).map(|s| &s.subject) {
            Some(Subject::Unit(r, _)) => job.runs.get(*r).map_or("", |run| run.name.as_str()),
            _ => "",
        };
        let why = format!("before \u{201c}{run}\u{201d} leaves no room to work there");
        let step = Step {
            subject: Subject::Panel(i),
            what: Work::Panel,
            why,
        };
        steps.insert(first, step);
        closed.push(i);
    }
    closed
}

/// Whether anything is taken out of its units before they are carried, or is hung in them.
fn has_insides(run: &PlacedRun) -> bool {
    run.units.iter().any(|u| {
        let in_bays = |b: &PlacedBay| !b.rails.is_empty() || b.shelves.iter().any(|s| !s.fixed);
        !u.boxes.is_empty() || u.bays.iter().any(in_bays)
    })
}

fn has_fronts(run: &Run) -> bool {
    run.units
        .iter()
        .any(|u| u.rows.iter().any(|r| !r.cells.is_empty()))
}

fn strips(r: usize, runs: &[PlacedRun], steps: &mut Vec<Step>) {
    let any = runs
        .get(r)
        .is_some_and(|run| !run.pieces.is_empty() || !run.plinths.is_empty());
    if any {
        steps.push(Step {
            subject: Subject::Run(r),
            what: Work::Strips,
            why: "scribed to the wall once the units no longer move".into(),
        });
    }
}

/// Appliances of a unit that go in at that time.
pub fn goes_in(job: &Job, unit: &Unit, when: GoesIn) -> Vec<ApplianceRef> {
    let all = unit.bays.iter().flat_map(|b| &b.appliances);
    let then = all.filter(|a| job.appliances.get(a.0).is_some_and(|a| a.goes_in == when));
    then.copied().collect()
}

fn machines(job: &Job, here: &[usize], when: GoesIn, steps: &mut Vec<Step>) {
    for (r, run) in here.iter().filter_map(|r| Some((*r, job.runs.get(*r)?))) {
        let with = run.units.iter().enumerate();
        for (u, unit) in with.filter(|(_, unit)| !goes_in(job, unit, when).is_empty()) {
            steps.push(machine(job, (r, u), unit, when));
        }
    }
}

fn machine(job: &Job, (r, u): (usize, usize), unit: &Unit, when: GoesIn) -> Step {
    let mut needs: Vec<&str> = Vec::new();
    for which in goes_in(job, unit, when) {
        let of_it = job.appliances.get(which.0).map(|a| &a.needs);
        for need in of_it.into_iter().flatten().map(|n| n.name()) {
            if !needs.contains(&need) {
                needs.push(need);
            }
        }
    }
    let services = match needs.is_empty() {
        true => String::new(),
        false => format!("; {} must be there and tested", names(&needs)),
    };
    let why = match when {
        GoesIn::WithUnit => "with its unit, as the project says",
        GoesIn::BeforeFronts => "once units and tops are fixed, before fronts close it in",
        GoesIn::Last => "after the fronts, as the project says",
    };
    Step {
        subject: Subject::Unit(r, u),
        what: Work::Machines(when),
        why: format!("{why}{services}"),
    }
}

fn units(
    job: &Job,
    rooms: &[PlacedRoom],
    runs: &[PlacedRun],
    here: &[usize],
    steps: &mut Vec<Step>,
) {
    let mut by_floor = here.to_vec();
    let turn = |r: &usize| job.runs.get(*r).and_then(|run| run.fit_turn);
    by_floor.sort_by_key(|r| {
        let high = std::cmp::Reverse(runs.get(*r).map(|run| run.floor_high));
        (turn(r).unwrap_or(u32::MAX), high)
    });
    let mut later = Vec::new();
    for (place, r) in by_floor.iter().enumerate() {
        let (Some(run), Some(at)) = (job.runs.get(*r), runs.get(*r)) else {
            continue;
        };
        let (side, along) = start(job, rooms, runs, here, *r);
        let from = match side {
            Side::Left => "left",
            Side::Right => "right",
        };
        let mut standing: Vec<usize> = (0..run.units.len().min(at.units.len())).collect();
        standing.sort_by_key(|u| at.units.get(*u).map(|p| p.left));
        if side == Side::Right {
            standing.reverse();
        }
        let mut first = true;
        for u in standing {
            let Some(unit) = run.units.get(u) else {
                continue;
            };
            let subject = Subject::Unit(*r, u);
            if let Some((lower, under)) = unit.over {
                let below = job.runs.get(lower).and_then(|run| run.units.get(under));
                let id = below.map_or("", |b| b.id.as_str());
                later.push(Step {
                    subject,
                    what: Work::Lift,
                    why: format!("once {id} under it stands and is fixed"),
                });
                continue;
            }
            let what = match (on_floor(unit.stands), unit.build_in_place) {
                (_, true) => Work::Build,
                (true, false) => Work::Stand,
                (false, false) => Work::Hang,
            };
            let begun = match run.units.len() {
                1 => String::new(),
                _ => format!("; begun at its {from} end: {along}"),
            };
            let why = match (first, place) {
                (true, _) if turn(r).is_some() => {
                    format!("this run in its turn, as the project says{begun}")
                }
                (true, 0) if by_floor.len() > 1 => {
                    format!("first, as the room's highest floor is under this run{begun}")
                }
                (true, _) if run.units.len() == 1 => "the only unit of its run".to_string(),
                (true, _) => format!("begun at the {from} end of its run: {along}"),
                (false, _) if what == Work::Build => {
                    "before the next one closes its side".to_string()
                }
                (false, _) => "next along its run".to_string(),
            };
            first = false;
            steps.push(Step { subject, what, why });
            if !goes_in(job, unit, GoesIn::WithUnit).is_empty() {
                steps.push(machine(job, (*r, u), unit, GoesIn::WithUnit));
            }
        }
    }
    steps.extend(later);
}

/// Which end of a run is begun at, and why.
fn start(
    job: &Job,
    rooms: &[PlacedRoom],
    runs: &[PlacedRun],
    here: &[usize],
    r: usize,
) -> (Side, &'static str) {
    let (Some(run), Some(at)) = (job.runs.get(r), runs.get(r)) else {
        return (Side::Left, "");
    };
    if let Some(side) = run.fit_from {
        return (side, "as the project says");
    }
    let meets = |side| {
        here.iter()
            .any(|other| *other != r && runs.get(*other).is_some_and(|o| touch(rooms, at, side, o)))
    };
    match (meets(Side::Left), meets(Side::Right)) {
        (true, false) => return (Side::Left, "the corner before what stands beside it"),
        (false, true) => return (Side::Right, "the corner before what stands beside it"),
        _ => {}
    }
    let scribed = |side| {
        let mut of = at.pieces.iter().filter(|p| p.side == side);
        of.any(|p| p.kind == PieceKind::Scribe)
    };
    match (scribed(Side::Left), scribed(Side::Right)) {
        (false, true) => return (Side::Left, "the scribed end is cut last"),
        (true, false) => return (Side::Right, "the scribed end is cut last"),
        _ => {}
    }
    let wall = job.wall(run.wall);
    let level = |x: Length| floor::under(wall, x, x).high;
    if level(at.right) > level(at.left) {
        (
            Side::Right,
            "the floor is higher there than at the other end",
        )
    } else if level(at.right) < level(at.left) {
        (
            Side::Left,
            "the floor is higher there than at the other end",
        )
    } else {
        (Side::Left, "nothing speaks for the other end")
    }
}

/// Whether another run stands within 100 mm (common practice, no source) of the end of this one.
fn touch(rooms: &[PlacedRoom], at: &PlacedRun, side: Side, other: &PlacedRun) -> bool {
    const NEAR: Length = Length::mm(100);
    let placed = |run: &PlacedRun| {
        let wall = rooms.get(run.wall.room)?.walls.get(run.wall.wall)?;
        let far = run.units.iter().map(|u| u.depth_over_fronts).max()?;
        Some((wall, run.y_back, run.y_back + far))
    };
    if other.wall == at.wall {
        return false;
    }
    let (Some((wall, near, far)), Some((across, from, to))) = (placed(at), placed(other)) else {
        return false;
    };
    let end = match side {
        Side::Left => (at.left - NEAR, at.left),
        Side::Right => (at.right, at.right + NEAR),
    };
    let a = plan::footprint(wall, end.0, end.1, near, far);
    let b = plan::footprint(across, other.left, other.right, from, to);
    plan::overlap(&a, &b, 0.5)
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;
    use crate::resolve::job::{Appliance, FrontKind, ServiceKind, Stands, WallDoor, WallRef};

    fn sequence(job: &Job) -> Vec<String> {
        let mut diags = Diagnostics::default();
        let got = reckon(job, &mut diags);
        let got = got.unwrap_or_else(|| panic!("{:?}", diags.sorted()));
        let name = |s: &Step| match &s.subject {
            Subject::Unit(r, u) => format!("{}{u}", job.runs[*r].id),
            other => format!("{other:?} {:?}", s.what),
        };
        got.order.iter().map(name).collect()
    }

    // Each order below by the rules of the header (common practice, no source).
    #[test]
    fn away_from_the_scribe_and_up_from_what_carries() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut lower = fixture::run(3);
        lower.id = "a".into();
        lower.left.scribe = Some(Length::mm(20));
        let mut upper = fixture::run(1);
        upper.id = "b".into();
        upper.units[0].over = Some((0, 1));
        upper.units[0].stands = Stands::Unit;
        upper.units[0].base = Length::mm(2000);
        upper.units[0].top = Length::mm(2300);
        job.runs = vec![lower, upper];
        let got = sequence(&job);
        assert_eq!(got[..4], ["a2", "a1", "a0", "b0"]);
        assert_eq!(got[4], "Run(0) Strips");
        job.runs[0].fit_from = Some(Side::Left);
        assert_eq!(sequence(&job)[..3], ["a0", "a1", "a2"]);
    }

    // Common practice, no source: a machine goes in when nothing heavy is carried past it any more and
    // before its front is hung; the project may say otherwise.
    #[test]
    fn machines_go_in_between_tops_and_fronts() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut run = fixture::run(2);
        run.id = "a".into();
        let machine = |key: &str, goes_in| Appliance {
            key: key.into(),
            name: key.into(),
            width: Length::mm(500),
            height: Length::mm(500),
            depth: Length::mm(500),
            supplied: "client".into(),
            needs: vec![ServiceKind::Water, ServiceKind::Socket],
            goes_in,
            mass: None,
            opens: None,
            reach: None,
        };
        job.appliances = vec![machine("m", GoesIn::BeforeFronts)];
        run.units[1].bays[0].appliances = vec![ApplianceRef(0)];
        run.units[1].rows = vec![fixture::row(None, FrontKind::Door, 1)];
        run.left.panel = Some(fixture::FRONT);
        job.runs = vec![run];
        let steps = |job: &Job| {
            let got = reckon(job, &mut Diagnostics::default())
                .expect("fits")
                .order;
            got.into_iter().map(|s| (s.what, s.why)).collect::<Vec<_>>()
        };
        let got = steps(&job);
        let at =
            |got: &[(Work, String)], what| got.iter().position(|s| s.0 == what).expect("a step");
        let machines = Work::Machines(GoesIn::BeforeFronts);
        assert!(at(&got, Work::Strips) < at(&got, machines));
        assert!(at(&got, machines) < at(&got, Work::Fronts));
        assert!(
            got[at(&got, machines)]
                .1
                .contains("water and socket must be there")
        );
        job.appliances[0].goes_in = GoesIn::WithUnit;
        let got = steps(&job);
        let with = at(&got, Work::Machines(GoesIn::WithUnit));
        assert_eq!(
            with,
            got.iter()
                .rposition(|s| s.0 == Work::Stand)
                .expect("a unit")
                + 1
        );
        job.appliances[0].goes_in = GoesIn::Last;
        let got = steps(&job);
        assert!(at(&got, Work::Fronts) < at(&got, Work::Machines(GoesIn::Last)));
    }

    // By hand: the panel on wall B ends 20 before the corner to C, where a run begins 300 along and is 580
    // deep: its ground lies 300 to the side of the panel's wall, within the 600 to work.
    #[test]
    fn a_panel_goes_before_the_run_that_closes_it_in() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut run = fixture::run(1);
        run.id = "a".into();
        run.wall = WallRef { room: 0, wall: 2 };
        run.from = Some(Length::mm(300));
        job.runs = vec![run];
        job.panels = vec![fixture::panel(WallRef { room: 0, wall: 1 }, 3400, 3980)];
        let panel = |job: &Job| {
            let got = reckon(job, &mut Diagnostics::default())
                .expect("fits")
                .order;
            got.iter()
                .position(|s| s.what == Work::Panel)
                .expect("a step")
        };
        assert_eq!(panel(&job), 0);
        job.runs[0].from = Some(Length::mm(700));
        assert!(panel(&job) > 0);
    }

    #[test]
    fn what_was_taken_out_goes_back_before_the_fronts() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut run = fixture::run(1);
        run.units[0].bays[0].shelves = 2;
        run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
        job.runs = vec![run];
        let got = reckon(&job, &mut Diagnostics::default())
            .expect("fits")
            .order;
        let what: Vec<Work> = got.iter().map(|s| s.what).collect();
        assert_eq!(
            what,
            [Work::Stand, Work::Strips, Work::Insides, Work::Fronts]
        );
        assert_eq!(got[0].why, "the only unit of its run");
    }

    fn door_to(room: &str) -> WallDoor {
        WallDoor {
            at: Length::mm(300),
            width: Length::mm(900),
            height: Length::mm(2000),
            leads_to: room.into(),
            hinge: None,
            opens_in: true,
        }
    }

    #[test]
    fn the_room_one_goes_through_comes_after_the_one_beyond() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        job.rooms[0].id = "outer".into();
        job.rooms[0].walls[1].doors = vec![door_to("inner"), door_to("landing")];
        let mut inner = job.rooms[0].clone();
        inner.id = "inner".into();
        inner.name = "Inner".into();
        inner.walls[1].doors = vec![door_to("outer")];
        job.rooms.push(inner);
        let mut first = fixture::run(1);
        first.id = "a".into();
        let mut second = fixture::run(1);
        second.id = "b".into();
        second.wall = WallRef { room: 1, wall: 0 };
        job.runs = vec![first, second];
        assert_eq!(sequence(&job)[0], "b0");
        let mut diags = Diagnostics::default();
        let why = reckon(&job, &mut diags).expect("fits").order[0].why.clone();
        assert!(why.starts_with("this room before the others"), "{why}");
        // Whichever way is in: from the other side the outer room lies beyond.
        job.rooms[0].walls[1].doors.pop();
        job.rooms[1].walls[1].doors.push(door_to("yard"));
        assert_eq!(sequence(&job)[0], "a0");
    }

    #[test]
    fn highest_floor_first_and_from_a_shared_corner() {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut first = fixture::run(2);
        first.id = "a".into();
        first.left.scribe = Some(Length::mm(20));
        first.to = Some(Length::mm(2400));
        let mut second = fixture::run(2);
        second.id = "b".into();
        second.wall = WallRef { room: 0, wall: 1 };
        // It begins beside the end of the first, which is 580 deep, and the floor falls under a.
        second.from = Some(Length::mm(20));
        second.to = Some(Length::mm(1500));
        job.rooms[0].walls[0].floor = fixture::line(&[(0, -5)]);
        job.runs = vec![first, second];
        assert_eq!(sequence(&job)[..4], ["b0", "b1", "a1", "a0"]);
        job.runs[0].fit_turn = Some(1);
        assert_eq!(sequence(&job)[..4], ["a1", "a0", "b0", "b1"]);
    }
}
