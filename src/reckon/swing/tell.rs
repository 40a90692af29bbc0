//! Strikes and meetings told as clashes: which belong in one finding, how bad it is, where it is on
//! plan. Knows severities; words are in `say`, geometry elsewhere.

use std::collections::BTreeMap;

use super::Thing;
use super::alone::{Strike, is_square, short, swept};
use super::doorway::Across;
use super::movers::{Motion, Mover};
use super::say::{self, Blocked, Pair};
use super::together::{Meet, NEARLY_SQUARE};
use crate::diag::Place;
use crate::reckon::outline::{area, common};
use crate::reckon::placed::{
    Clash, Finding, ForClient, PlacedFront, PlanPoint, Reckoned, Severity,
};
use crate::resolve::job::{Job, Subject};

/// A room door that opens less bars the way (common practice, no source).
const BARRED: f64 = 60.0;
/// Smaller than this a clash is drawn as a spot of this radius, mm of the real thing.
const SPOT: f64 = 45.0;

pub struct Teller<'a> {
    pub job: &'a Job,
    pub reckoned: &'a Reckoned,
    pub room: usize,
    pub movers: &'a [Mover],
}

/// What goes into one finding: its kind, whose it is, what is struck.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    kind: Kind,
    who: (usize, usize),
    /// A thing that is told by itself.
    alone: Option<Thing>,
    /// Whether it is a handle that strikes: a leaf that only its edge stops goes farther.
    handle: bool,
    other: (usize, usize),
    struck: Vec<Thing>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Kind {
    Leaf,
    Drawer,
    Flap,
    RoomDoor,
    Machine,
    LeavesMeet,
    RoomDoorMeets,
    MachineMeets,
    DrawerBehindDoor,
    /// Good to know only.
    LeafStopsShort,
    LeavesTouch,
    LeafTouchesDrawer,
    /// Stands open before a doorway.
    Across,
}

impl Kind {
    pub fn code(self) -> &'static str {
        match self {
            Kind::Leaf => "leaf-blocked",
            Kind::Drawer => "drawer-blocked",
            Kind::Flap => "flap-blocked",
            Kind::RoomDoor => "room-door-blocked",
            Kind::Machine => "appliance-door-blocked",
            Kind::LeavesMeet => "fronts-meet",
            Kind::RoomDoorMeets => "room-door-meets-front",
            Kind::MachineMeets => "appliance-door-meets-front",
            Kind::DrawerBehindDoor => "drawer-behind-door",
            Kind::LeafStopsShort => "leaf-stops-short",
            Kind::LeavesTouch | Kind::LeafTouchesDrawer => "open-fronts-touch",
            Kind::Across => "open-front-in-doorway",
        }
    }
}

impl Teller<'_> {
    /// Each mover by itself.
    pub fn alone(&self, strikes: &[Vec<Strike>]) -> Vec<Clash> {
        let mut groups: BTreeMap<Key, Vec<Blocked>> = BTreeMap::new();
        for (mover, all) in self.movers.iter().zip(strikes) {
            let Some(first) = all.first() else { continue };
            let before = |s: &&Strike| s.at < mover.wanted() - short(mover);
            let blocks: Vec<&Strike> = all.iter().filter(before).collect();
            let (kind, upto) = match (mover.motion, mover.what) {
                (Motion::Turn { full, .. }, Thing::Front(_)) if blocks.is_empty() => {
                    (Kind::LeafStopsShort, full)
                }
                (_, Thing::RoomDoor(..)) => (Kind::RoomDoor, mover.wanted()),
                (_, Thing::Machine(..)) => (Kind::Machine, mover.wanted()),
                (Motion::Turn { .. }, _) => (Kind::Leaf, mover.wanted()),
                (Motion::Slide { .. }, _) => (Kind::Drawer, mover.wanted()),
                (Motion::Lift { .. }, _) => (Kind::Flap, mover.wanted()),
            };
            let told: Vec<&Strike> = match blocks.is_empty() {
                true => vec![first],
                false => blocks,
            };
            let mut struck: Vec<Thing> = told.iter().map(|s| s.what).collect();
            struck.sort();
            let key = Key {
                kind,
                who: mover.unit.unwrap_or_default(),
                alone: mover.unit.is_none().then_some(mover.what),
                handle: first.handle,
                other: Default::default(),
                struck,
            };
            groups.entry(key).or_default().push(Blocked {
                mover: mover.clone(),
                at: first.at,
                handle: first.handle,
                by: Some(first.what),
                areas: told.iter().map(|s| place(mover, s, upto)).collect(),
            });
        }
        groups.iter().map(|(k, all)| self.blocked(k, all)).collect()
    }

    fn blocked(&self, key: &Key, all: &[Blocked]) -> Clash {
        let least = all.iter().map(|b| b.at).fold(f64::INFINITY, f64::min);
        let subject = match key.alone {
            None => Subject::Unit(key.who.0, key.who.1),
            Some(_) => self.subject(all.first().and_then(|b| b.by)),
        };
        let severity = match key.kind {
            Kind::LeafStopsShort => Severity::Informs,
            Kind::RoomDoor if least.to_degrees() < BARRED => Severity::Blocks,
            _ => Severity::Warns,
        };
        let told = say::blocked(self, key.kind, all, &key.struck);
        // That a leaf goes no farther than it need is told, and not drawn.
        let drawn = all.iter().filter(|_| key.kind != Kind::LeafStopsShort);
        let areas = drawn.flat_map(|b| b.areas.clone()).collect();
        let fronts = all.iter().map(|b| b.mover.what).chain(key.struck.clone());
        self.clash(key.kind, (severity, subject), told, areas, fronts)
    }

    /// Two at a time.
    pub fn together(&self, meets: &[Meet]) -> Vec<Clash> {
        let mut groups: BTreeMap<Key, Vec<Pair>> = BTreeMap::new();
        for meet in meets {
            let (Some(one), Some(other)) = (self.movers.get(meet.one), self.movers.get(meet.other))
            else {
                continue;
            };
            let is = |m: &Mover, f: fn(&Thing) -> bool| f(&m.what);
            let room = |t: &Thing| matches!(t, Thing::RoomDoor(..));
            let machine = |t: &Thing| matches!(t, Thing::Machine(..));
            let inner = |t: &Thing| matches!(t, Thing::Inner(..));
            let any = |f: fn(&Thing) -> bool| is(one, f) || is(other, f);
            let turn = |m: &Mover| matches!(m.motion, Motion::Turn { .. });
            let good = meet.angle.is_some_and(|a| a >= NEARLY_SQUARE);
            let kind = match () {
                () if any(inner) => Kind::DrawerBehindDoor,
                () if any(room) => Kind::RoomDoorMeets,
                () if any(machine) => Kind::MachineMeets,
                () if good && turn(one) && turn(other) => Kind::LeavesTouch,
                () if good && (turn(one) || turn(other)) => Kind::LeafTouchesDrawer,
                () => Kind::LeavesMeet,
            };
            // What is only good to know is told once for a run.
            let whole = |unit: Option<(usize, usize)>| match (kind, unit) {
                (Kind::LeavesTouch | Kind::LeafTouchesDrawer, Some((run, _))) => (run, 0),
                (_, unit) => unit.unwrap_or_default(),
            };
            let (one, other) = match self.rank(one) <= self.rank(other) {
                true => (one, other),
                false => (other, one),
            };
            let key = Key {
                kind,
                who: whole(one.unit),
                alone: None,
                handle: false,
                other: whole(other.unit),
                struck: if is(other, room) {
                    vec![other.what]
                } else {
                    Vec::new()
                },
            };
            groups.entry(key).or_default().push(Pair {
                one: one.clone(),
                other: other.clone(),
                angle: meet.angle,
                area: meet.area.clone(),
            });
        }
        groups.iter().map(|(k, all)| self.pairs(k, all)).collect()
    }

    /// Which of two is told first, whatever their order in the file: what turns before what slides,
    /// room doors last, then by their ids.
    fn rank<'a>(&'a self, mover: &Mover) -> (u8, &'a str, &'a str) {
        let kind = match (mover.what, mover.motion) {
            (Thing::RoomDoor(..), _) => 3,
            (_, Motion::Turn { .. }) => 0,
            (_, Motion::Slide { .. }) => 1,
            (_, Motion::Lift { .. }) => 2,
        };
        let run = mover.unit.and_then(|(r, _)| self.job.runs.get(r));
        let unit = mover.unit.and_then(|(_, u)| run?.units.get(u));
        let id = run.map_or("", |r| r.id.as_str());
        (kind, id, unit.map_or("", |u| u.id.as_str()))
    }

    fn pairs(&self, key: &Key, all: &[Pair]) -> Clash {
        let (severity, subject) = match key.kind {
            Kind::LeavesTouch | Kind::LeafTouchesDrawer => {
                (Severity::Informs, Subject::Run(key.who.0))
            }
            _ => (Severity::Warns, Subject::Unit(key.who.0, key.who.1)),
        };
        let told = say::pairs(self, key.kind, all);
        let areas = all.iter().map(|p| p.area.clone()).collect();
        let fronts = all.iter().flat_map(|p| [p.one.what, p.other.what]);
        let mut clash = self.clash(key.kind, (severity, subject), told, areas, fronts);
        clash.of_unit = self.of_each_unit(key.kind, all);
        clash
    }

    /// Of several pairs, what is told of those of each unit by themselves.
    fn of_each_unit(&self, kind: Kind, all: &[Pair]) -> Vec<((usize, usize), String)> {
        let mut units: Vec<(usize, usize)> = Vec::new();
        for unit in all
            .iter()
            .flat_map(|p| [p.one.unit, p.other.unit])
            .flatten()
        {
            if !units.contains(&unit) {
                units.push(unit);
            }
        }
        let told = |unit: (usize, usize)| {
            let its = |p: &&Pair| p.one.unit == Some(unit) || p.other.unit == Some(unit);
            let its: Vec<Pair> = all.iter().filter(its).cloned().collect();
            (unit, say::pairs(self, kind, &its).text)
        };
        units.into_iter().map(told).collect()
    }

    /// What stands open before a doorway: one finding for each.
    pub fn across(&self, all: &[Across]) -> Vec<Clash> {
        let one = |across: &Across| {
            let by = across.by.iter();
            let movers: Vec<&Mover> = by.filter_map(|(m, _)| self.movers.get(*m)).collect();
            let told = say::across(self, across, &movers);
            let things = movers.iter().map(|m| m.what);
            // Of the room, whichever of its units stand there.
            let rank = (Severity::Warns, Subject::Room(self.room));
            self.clash(Kind::Across, rank, told, across.areas.clone(), things)
        };
        all.iter().map(one).collect()
    }

    fn clash(
        &self,
        kind: Kind,
        (severity, subject): (Severity, Subject),
        told: say::Told,
        areas: Vec<Vec<PlanPoint>>,
        things: impl Iterator<Item = Thing>,
    ) -> Clash {
        let mut fronts: Vec<usize> = things
            .filter_map(|t| match t {
                Thing::Front(f) | Thing::Handle(f) => Some(f),
                _ => None,
            })
            .collect();
        fronts.sort_unstable();
        fronts.dedup();
        let mut shown: Vec<Vec<PlanPoint>> = Vec::new();
        for outline in areas.into_iter().filter_map(|a| spot(&a)) {
            // Doors above one another clash in the same place.
            if !shown.iter().any(|s| alike(s, &outline)) {
                shown.push(outline);
            }
        }
        let place = self.place_in_file(&subject);
        let client = Some(ForClient {
            text: told.text.clone(),
            choice: told.choice.unwrap_or(say::choice(kind)).to_owned(),
        });
        Clash {
            room: self.room,
            brief: told.brief,
            fronts: fronts.clone(),
            areas: shown,
            of_unit: Vec::new(),
            finding: Finding {
                code: kind.code(),
                severity,
                subject,
                text: told.text,
                limit: told.limit,
                advice: told.advice,
                client,
                fronts,
                about: Vec::new(),
                figure: told.figure,
                group: String::new(),
                known: None,
                place,
            },
        }
    }

    pub fn name(&self, thing: Thing) -> String {
        super::names::thing(self.job, self.reckoned, thing)
    }

    pub fn front(&self, mover: &Mover) -> Option<&PlacedFront> {
        match mover.what {
            Thing::Front(f) => self.reckoned.fronts.get(f),
            _ => None,
        }
    }

    /// What of ours stands in the way of a room door.
    fn subject(&self, struck: Option<Thing>) -> Subject {
        let of_front = |f: usize| self.reckoned.fronts.get(f).map(|f| (f.run, f.unit));
        match struck {
            Some(Thing::Unit(r, u)) => Subject::Unit(r, u),
            Some(Thing::Handle(f) | Thing::Front(f)) => {
                of_front(f).map_or(Subject::Job, |(r, u)| Subject::Unit(r, u))
            }
            Some(Thing::Worktop(i)) => Subject::Worktop(i),
            Some(Thing::Panel(i)) => Subject::Panel(i),
            Some(Thing::Sliding(i)) => Subject::Sliding(i),
            _ => Subject::Room(self.room),
        }
    }

    fn place_in_file(&self, subject: &Subject) -> Place {
        let job = self.job;
        let found = match subject {
            Subject::Unit(r, u) => job.runs.get(*r).and_then(|r| Some(r.units.get(*u)?.place)),
            Subject::Run(r) => job.runs.get(*r).map(|r| r.place),
            Subject::Worktop(i) => job.worktops.get(*i).map(|w| w.place),
            Subject::Panel(i) => job.panels.get(*i).map(|p| p.place),
            Subject::Sliding(i) => job.sliding.get(*i).map(|s| s.place),
            Subject::Room(i) => job.rooms.get(*i).map(|r| r.place),
            Subject::Job | Subject::Wall(_) | Subject::Front(_) => None,
        };
        found.unwrap_or(Place::NOWHERE)
    }
}

/// Where a mover and what it strikes would be in one place: of the way it should still go, and of
/// where it should end, whichever is more.
fn place(mover: &Mover, strike: &Strike, upto: f64) -> Vec<PlanPoint> {
    let way = common(&swept(mover, strike.at.min(upto), upto), &strike.quad);
    let end = mover.open_at(upto);
    let end = end.iter().map(|p| common(&p.quad, &strike.quad));
    let most = end.chain([way]).max_by(|a, b| area(a).total_cmp(&area(b)));
    let most = most.unwrap_or_default();
    if !most.is_empty() {
        return most;
    }
    // Struck in passing: there.
    let there = mover.open_at(strike.at);
    let quad = there.iter().find(|p| p.handle == strike.handle);
    quad.map(|p| p.quad.to_vec()).unwrap_or_default()
}

/// An outline large enough to be seen on plan; `None` of nothing.
fn spot(outline: &[PlanPoint]) -> Option<Vec<PlanPoint>> {
    let at = middle(outline)?;
    let box_of = crate::reckon::outline::Around::of(outline);
    let narrow = (box_of.x.1 - box_of.x.0).min(box_of.y.1 - box_of.y.0);
    if narrow >= 2.0 * SPOT {
        return Some(outline.to_vec());
    }
    let corner = |n: i32| {
        let (sin, cos) = libm::sincos(core::f64::consts::FRAC_PI_4 * f64::from(n));
        PlanPoint {
            x: at.x + SPOT * cos,
            y: at.y + SPOT * sin,
        }
    };
    Some((0..8).map(corner).collect())
}

fn middle(outline: &[PlanPoint]) -> Option<PlanPoint> {
    let n = outline.len() as f64;
    (!outline.is_empty()).then(|| PlanPoint {
        x: outline.iter().map(|p| p.x).sum::<f64>() / n,
        y: outline.iter().map(|p| p.y).sum::<f64>() / n,
    })
}

fn alike(a: &[PlanPoint], b: &[PlanPoint]) -> bool {
    match (middle(a), middle(b)) {
        (Some(p), Some(q)) => libm::hypot(p.x - q.x, p.y - q.y) < SPOT,
        _ => true,
    }
}

/// Of an angle, whole degrees, never more than it is.
pub fn whole_degrees(angle: f64) -> String {
    let whole = (angle.to_degrees() + 1e-6).floor();
    match is_square(angle) {
        true => format!("{:.0}°", whole.max(90.0)),
        false => format!("{whole:.0}°"),
    }
}
