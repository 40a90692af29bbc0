//! What a unit comes to when it is full: on its feet, at the wall, on its rails. Knows masses and
//! levers; must not judge, nor choose a fixing.
//!
//! Contents are by the load the unit names, on every shelf, on the bottom and in every drawer: what it
//! may come to hold, not what it holds. Handbook §4: choosing a fixing needs somebody competent who has
//! seen the wall.

use super::bending::{self, GRAVITY};
use super::placed::{PlacedBay, PlacedFront, PlacedRun, PlacedUnit, PlacedWorktop};
use super::setting_out::on_floor;
use super::shelves;
use crate::resolve::job::{FrontKind, HardwareKind, Job, Load, Stands, Unit};
use crate::units::{Length, Mass};

/// Clothes on a rail, kg a metre (common practice, no source).
const CLOTHES: f64 = 35.0;
/// A unit on the floor this high, or this many times as high as deep, is to be held at its top
/// (common practice, no source).
const TALL: Length = Length::mm(1200);
const SLENDER: i64 = 3;
/// A chest of drawers this high is to be held at its top: 27 inches, as ASTM F2057-23 has it for clothing
/// storage units (from memory).
const CHEST: Length = Length::um(685_800);
/// Somebody pulling at a front, N, and how high, mm (common practice, no source).
const PULL: f64 = 250.0;
const PULLED_AT: f64 = 1500.0;
/// The least that a tall unit's fixings are asked to hold, N (common practice, no source).
const LEAST: f64 = 200.0;
/// Of the fixings under the top of the carcass, mm (common practice, no source).
const FIXED_UNDER_TOP: f64 = 60.0;

#[derive(Clone, Debug, PartialEq)]
pub struct Loads {
    /// What it may come to hold.
    pub contents: Mass,
    pub feet: Option<FeetLoad>,
    pub wall: Option<WallLoad>,
    pub rails: Vec<RailLoad>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeetLoad {
    /// Unit, fronts, contents, what stands and lies on it.
    pub whole: Mass,
    pub feet: u32,
    /// On the foot that carries most.
    pub most: Mass,
    pub rating: Option<Mass>,
}

/// N, rounded up to ten.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallLoad {
    /// Hung: the whole of it, down, and out of the wall at its top.
    Hung { whole: Mass, down: u32, out: u32 },
    /// Stands, and is held at its top against tipping.
    Held { out: u32 },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RailLoad {
    pub span: Length,
    pub load: Mass,
    pub rating: Option<Mass>,
    /// In its middle under that load, mm; on two supports, its own weight left out.
    pub sag: f64,
    /// E·I, N·m², and whether the project says so.
    pub stiffness: (u32, bool),
}

/// E·I in N·m² of a round steel tube 25 by 1: 210 000 N/mm² (EN 1993-1-1, from memory) and
/// π/64·(25⁴ − 23⁴) = 5438 mm⁴; that rails are such tubes is common practice, no source.
pub const USUAL_RAIL: u32 = 1140;

/// By run and unit, as the job has them.
pub fn loads(
    job: &Job,
    runs: &[PlacedRun],
    fronts: &[PlacedFront],
    worktops: &[PlacedWorktop],
) -> Vec<Vec<Loads>> {
    let each = |r: usize, u: usize| {
        let unit = job.runs.get(r)?.units.get(u)?;
        let at = runs.get(r)?.units.get(u)?;
        Some((unit, at))
    };
    let mut out = Vec::with_capacity(runs.len());
    for (r, (run, placed)) in job.runs.iter().zip(runs).enumerate() {
        let foot = run.foot.and_then(|f| job.hardware.get(f.0));
        let tops: f64 = (job.worktops.iter().zip(worktops))
            .filter(|(top, _)| top.run == r)
            .map(|(_, at)| at.mass.in_kg())
            .sum();
        let under = placed.units.iter().filter(|u| on_floor(u.stands));
        let wide: f64 = under.map(|u| u.width().in_mm()).sum();
        let mut of_run = Vec::with_capacity(placed.units.len());
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            let own: Vec<&PlacedFront> = at.fronts.iter().filter_map(|i| fronts.get(*i)).collect();
            let holds = contents(job, unit, at, &own);
            let above = over(job, (r, u)).filter_map(|(r, u)| {
                let (unit, at) = each(r, u)?;
                let own: Vec<&PlacedFront> =
                    at.fronts.iter().filter_map(|i| fronts.get(*i)).collect();
                Some(at.mass.in_kg() + contents(job, unit, at, &own))
            });
            let mut lies: f64 = above.sum();
            if on_floor(at.stands) && wide > 0.0 {
                lies += tops * at.width().in_mm() / wide;
            }
            let body = Body::of(placed, at, &own, holds, lies);
            of_run.push(Loads {
                contents: Mass::from_kg(holds),
                feet: body.on_feet(at, foot.and_then(|f| f.rating)),
                wall: body.at_wall(at),
                rails: rails(job, at),
            });
        }
        out.push(of_run);
    }
    out
}

/// Units that stand on this one.
fn over(job: &Job, on: (usize, usize)) -> impl Iterator<Item = (usize, usize)> + '_ {
    job.runs.iter().enumerate().flat_map(move |(r, run)| {
        let units = run.units.iter().enumerate();
        units
            .filter(move |(_, unit)| unit.over == Some(on))
            .map(move |(u, _)| (r, u))
    })
}

/// kg, when every shelf, the bottom, every drawer and rail is loaded. An appliance loads what it
/// stands on by its own mass, and where that is not said as machines load a shelf.
fn contents(job: &Job, unit: &Unit, at: &PlacedUnit, own: &[&PlacedFront]) -> f64 {
    let depth = (at.depth - at.back).in_mm().max(0.0);
    let metre = match unit.carries {
        Some(declared) => declared.in_kg(),
        None => shelves::carried(unit.load, depth),
    };
    let drawers: Vec<&&PlacedFront> = own.iter().filter(|f| f.kind == FrontKind::Drawer).collect();
    let in_drawers: f64 = drawers.iter().map(|f| f.width().in_mm()).sum();
    let in_bays = at.bays.iter().map(|bay| {
        let wide = (bay.right - bay.left).in_mm().max(0.0);
        let machines = bay.appliances.iter().map(|a| {
            let said = job.appliances.get(a.which.0).and_then(|a| a.mass);
            let usual = shelves::carried(Load::Machines, depth);
            said.map_or(usual * (a.right - a.left).in_mm() / 1000.0, Mass::in_kg)
        });
        let hung = bay.rails.len() as f64 * CLOTHES * wide / 1000.0;
        levels(bay, &drawers) * metre * wide / 1000.0 + machines.sum::<f64>() + hung
    });
    in_bays.sum::<f64>() + in_drawers * metre / 1000.0
}

/// Shelves, inner drawers, and the bottom where nothing else takes it.
fn levels(bay: &PlacedBay, drawers: &[&&PlacedFront]) -> f64 {
    let taken = !bay.drawers.is_empty()
        || drawers
            .iter()
            .any(|d| d.bottom <= bay.bottom && d.left < bay.right && d.right > bay.left);
    let count = bay.shelves.len() + bay.drawers.len() + usize::from(!taken);
    count.saturating_sub(bay.appliances.len()) as f64
}

/// A unit as a weight before its back: kg and mm from the back of the carcass.
struct Body {
    /// Carcass, contents and what is on it, at half its depth.
    bulk: f64,
    /// The carcass alone.
    empty: f64,
    doors: f64,
    depth: f64,
    face: f64,
    /// How far the front that comes out most does, when open.
    widest: f64,
    y_back: f64,
    drawers: bool,
}

impl Body {
    fn of(run: &PlacedRun, at: &PlacedUnit, own: &[&PlacedFront], holds: f64, lies: f64) -> Body {
        let doors: f64 = own.iter().map(|f| f.mass.in_kg()).sum();
        let empty = (at.mass.in_kg() - doors).max(0.0);
        let swung = own.iter().map(|f| match f.kind {
            FrontKind::Door => f.width().in_mm(),
            FrontKind::Drawer => 2.0 * f.travel.in_mm(),
            FrontKind::Flap => f.height().in_mm(),
            FrontKind::Fixed | FrontKind::Open => 0.0,
        });
        Body {
            bulk: empty + holds + lies,
            empty,
            doors,
            depth: at.depth.in_mm().max(1.0),
            face: at.depth_over_fronts.in_mm(),
            widest: swung.fold(0.0, f64::max),
            y_back: run.y_back.in_mm(),
            drawers: own.iter().any(|f| f.kind == FrontKind::Drawer),
        }
    }

    /// By moments about the back row of feet: the front row takes more, as the fronts hang before it.
    /// In a row of two each takes half; in one of three the middle one does.
    fn on_feet(&self, at: &PlacedUnit, rating: Option<Mass>) -> Option<FeetLoad> {
        let back = at.feet.iter().map(|f| f.y.in_mm()).reduce(f64::min)?;
        let front = at.feet.iter().map(|f| f.y.in_mm()).reduce(f64::max)?;
        let whole = self.bulk + self.doors;
        let moment = self.bulk * (self.y_back + self.depth / 2.0 - back)
            + self.doors * (self.y_back + (self.depth + self.face) / 2.0 - back);
        let row = match front - back > 1.0 {
            true => {
                let before = moment / (front - back);
                before.max(whole - before).min(whole).max(0.0)
            }
            false => whole,
        };
        let most = if at.feet.len() > 1 { row / 2.0 } else { row };
        Some(FeetLoad {
            whole: Mass::from_kg(whole),
            feet: u32::try_from(at.feet.len()).unwrap_or(u32::MAX),
            most: Mass::from_kg(most),
            rating,
        })
    }

    /// Hung: moments about the foot of its back, its fronts open. Tall: a pull at a front, and the
    /// fronts open, about its front feet or edge, against the empty carcass.
    fn at_wall(&self, at: &PlacedUnit) -> Option<WallLoad> {
        let height = at.height().in_mm();
        let up = (height - FIXED_UNDER_TOP).max(height / 2.0).max(1.0);
        let open = self.face + self.widest / 2.0;
        match at.stands {
            Stands::Wall => {
                let whole = self.bulk + self.doors;
                let moment = self.bulk * self.depth / 2.0 + self.doors * open;
                Some(WallLoad::Hung {
                    whole: Mass::from_kg(whole),
                    down: tens(whole * GRAVITY),
                    out: tens(moment * GRAVITY / up),
                })
            }
            Stands::Plinth | Stands::Feet | Stands::Unit => {
                let stacked = at.stands == Stands::Unit;
                let tall = stacked
                    || at.height() >= TALL
                    || at.height() >= at.depth * SLENDER
                    || (self.drawers && at.top >= CHEST);
                let edge = at.feet.iter().map(|f| f.y.in_mm() - self.y_back);
                let edge = edge.reduce(f64::max).unwrap_or(self.depth);
                // Heights from what it stands on, as it tips about its front feet or edge.
                let (base, under) = match stacked {
                    true => (0.0, at.base.in_mm().max(0.0)),
                    false => (at.base.in_mm().max(0.0), 0.0),
                };
                let pull = PULL * (PULLED_AT - under).clamp(0.0, base + height);
                let tips = pull + self.doors * GRAVITY * (open - edge).max(0.0);
                let stays = self.empty * GRAVITY * (edge - self.depth / 2.0).max(0.0);
                let out = ((tips - stays) / (base + up).max(1.0)).max(LEAST);
                tall.then(|| WallLoad::Held { out: tens(out) })
            }
        }
    }
}

/// Newtons, rounded up to ten.
fn tens(newtons: f64) -> u32 {
    (newtons / 10.0).ceil().clamp(0.0, 1e8) as u32 * 10
}

/// Each rail loaded over the clear width of its bay.
fn rails(job: &Job, at: &PlacedUnit) -> Vec<RailLoad> {
    let first = job
        .hardware
        .iter()
        .position(|h| h.kind == HardwareKind::Rail);
    let rail = first.and_then(|h| job.hardware.get(h));
    let rating = rail.and_then(|r| r.rating);
    let declared = rail.and_then(|r| r.stiffness);
    let stiffness = (declared.unwrap_or(USUAL_RAIL), declared.is_some());
    // N·m² are 10⁶ N·mm².
    let sags = move |span: Length| {
        let load = CLOTHES * GRAVITY / 1000.0;
        bending::sag(load, span.in_mm(), f64::from(stiffness.0) * 1e6)
    };
    let bays = at.bays.iter();
    bays.flat_map(|bay| {
        let span = bay.right - bay.left;
        bay.rails.iter().map(move |_| RailLoad {
            span,
            load: Mass::from_kg(CLOTHES * span.in_mm() / 1000.0),
            rating,
            sag: sags(span),
            stiffness,
        })
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    fn one(job: &Job) -> Loads {
        let got = reckon(job, &mut Diagnostics::default()).expect("sound");
        got.loads[0][0].clone()
    }

    // By hand. The carcass 600 × 1900 × 580 of reckon::mass with a shelf: 45.361 kg. Clear width 564,
    // depth 571: clothes at 40 kg/m² are 22.84 kg/m; shelf and bottom: 2·0.564·22.84 = 25.76 kg.
    // Together 71.12; without fronts half on each row, as the feet stand 60 from back and front: 35.56,
    // and half of that on each foot: 17.78.
    #[test]
    fn a_carcass_on_its_feet() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].shelves = 1;
        let got = one(&job);
        assert!((got.contents.in_kg() - 25.76).abs() < 0.01, "{got:?}");
        let feet = got.feet.expect("it has feet");
        assert_eq!(feet.feet, 4);
        assert!((feet.whole.in_kg() - 71.12).abs() < 0.01, "{feet:?}");
        assert!((feet.most.in_kg() - 17.78).abs() < 0.01, "{feet:?}");
        assert_eq!(feet.rating, Some(Mass::grams(130_000)));
    }

    // By hand, the same with a door of 22 mm before it, 597 wide or so, 1.897 m high: its mass m hangs
    // at 591 from the back, 531 from the back feet, which are 460 from the front ones: the front row
    // takes 35.56 + m·531/460.
    #[test]
    fn fronts_hang_before_the_front_feet() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].shelves = 1;
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
        let got = reckon(&job, &mut Diagnostics::default()).expect("sound");
        let m = got.fronts[0].mass.in_kg();
        let feet = got.loads[0][0].feet.expect("feet");
        let want = (35.561 + m * 531.0 / 460.0) / 2.0;
        assert!((feet.most.in_kg() - want).abs() < 0.01, "{feet:?} {want}");
    }

    // By hand: hung, the first unit's 71.12 kg pull down 697.5 N → 700, and out at 1840 over its foot
    // 71.12·9.80665·290/1840 = 109.9 N → 110.
    #[test]
    fn a_unit_hung_on_the_wall() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].shelves = 1;
        job.runs[0].units[0].stands = Stands::Wall;
        let got = one(&job);
        assert_eq!(got.feet, None);
        let Some(WallLoad::Hung { down, out, .. }) = got.wall else {
            panic!("{got:?}");
        };
        assert_eq!((down, out), (700, 110));
    }

    // By hand: the carcass without its shelf, 41.42 kg, tips about feet 520 from its back. 250 N at
    // 1500 are 375 000 N·mm; the empty carcass holds 41.42·9.80665·(520 − 290) = 93 420. Held 1840
    // over its underside, which is 100 over the floor: 281 580/1940 = 145.1, so the least asked, 200.
    // One 900 high and 300 deep is slender: 13.73 kg hold 13.73·9.80665·(240 − 150) = 12 120 against
    // 250 N at its top, 1000 up; 237 880/940 = 253.1 → 260. 900 high and 580 deep it is neither.
    #[test]
    fn a_tall_unit_held_at_its_top() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        assert_eq!(one(&job).wall, Some(WallLoad::Held { out: 200 }));
        job.runs[0].units[0].depth = Length::mm(300);
        job.runs[0].units[0].top = Length::mm(1000);
        assert_eq!(one(&job).wall, Some(WallLoad::Held { out: 260 }));
        job.runs[0].units[0].depth = Length::mm(580);
        assert_eq!(one(&job).wall, None);
    }

    // By hand: 564 of rail at 35 kg/m: 19.74 kg.
    #[test]
    fn a_rail_of_clothes() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].bays[0].rails = vec![Length::mm(1700)];
        let got = one(&job);
        assert_eq!(got.rails[0].load, Mass::grams(19_740));
        // 5·0.343233·564⁴/(384·1140·10⁶) = 0.3967 (handbook §4's formula, by hand).
        assert!(
            (got.rails[0].sag - 0.3967).abs() < 0.0005,
            "{}",
            got.rails[0].sag
        );
        assert!(got.contents > Mass::grams(19_740));
    }
}
