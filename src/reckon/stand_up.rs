//! Whether a unit can be raised from lying under its ceiling. Knows a box, its feet and the ceiling
//! over the ground it swings through; must not know its neighbours or what is in it.
//!
//! Handbook §2: a box of height H, turned over a face of depth D about the outer edge of its feet
//! (height f, set in i), reaches √((H + f)² + (D − i)²). At a distance u from that edge it reaches
//! √(R² − u²), so that a ceiling that comes down counts only where the box is high.

use super::ceiling::{Stretch, lowest};
use super::feet::PAD;
use super::placed::{PlacedRoom, PlacedRun, PlacedUnit};
use super::setting_out::on_floor;
use super::{plan, profile};
use crate::resolve::job::{Job, Unit, WallRef};
use crate::units::Length;

/// Over the highest reach (common practice, no source).
pub const CLEARANCE: Length = Length::mm(10);
/// A corner may be eased by no more (common practice, no source).
pub const EASE: Length = Length::mm(15);
/// The ground is looked at in strips this wide.
const STRIP: f64 = 50.0;
/// How far from the wall, and to either side, a place to raise it is looked for.
const AROUND: f64 = 3000.0;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Over {
    Depth,
    Width,
}

/// In order of ease.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Raised {
    OnFeet,
    /// Feet fitted once it stands.
    FeetAfter,
    /// Feet fitted after, and the top corner eased.
    Eased {
        by: Length,
    },
    /// Cannot be raised: short of this much, feet off.
    InPlace {
        short: Length,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandUp {
    pub raised: Raised,
    pub over: Over,
    /// Clear height needed that way, clearance included; rounded up to a half-millimetre.
    pub needed: Length,
    /// Ceiling where it is tightest.
    pub ceiling: Length,
    pub laid: Laid,
    /// Between its top and what hangs lowest over its own place, where it is raised before that and
    /// pushed back under it.
    pub pushed_under: Option<Length>,
}

/// How it lies on the floor before it is raised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// Square to its wall, as it will stand.
    Square,
    /// Along its wall, before the run: square to the wall it asks for so much floor, and there is less; over
    /// its depth it is turned a quarter once it stands.
    Along { asks: Length, square: Length },
    /// No floor is as long as it is: it is brought in aslant.
    Aslant,
}

/// Highest reach in mm of a box raised over a face: √((H + f)² + (D − i)²).
pub fn reach(height: f64, foot: f64, across: f64, inset: f64) -> f64 {
    libm::hypot(height + foot, (across - inset).max(0.0))
}

/// How a unit that stands on the floor can be raised; `None` for one that hangs or stands on
/// another, which is lifted.
pub fn stand_up(
    job: &Job,
    rooms: &[PlacedRoom],
    wall: WallRef,
    run: &PlacedRun,
    unit: &Unit,
    at: &PlacedUnit,
) -> Option<StandUp> {
    if !on_floor(unit.stands) {
        return None;
    }
    let ground = Ground::new(job, rooms, wall, run, at);
    let foot = at.feet.iter().map(|f| f.height).max().unwrap_or_default();
    let inset = |to_face: Option<Length>| (to_face.unwrap_or_default() - PAD).max(Length::ZERO);
    let in_depth = inset(
        at.feet
            .iter()
            .map(|f| (f.y - run.y_back).min(run.y_back + at.depth - f.y))
            .min(),
    );
    let in_width = inset(
        at.feet
            .iter()
            .map(|f| (f.x - at.left).min(at.right - f.x))
            .min(),
    );
    let try_with = |foot: Length, in_depth: Length, in_width: Length| -> Try {
        let swing = |across: Length, inset: Length| Swing {
            high: (at.height() + foot).in_mm(),
            across: (across - inset).max(Length::ZERO).in_mm(),
        };
        let (depth, width) = (at.depth, at.width());
        let over_depth = ground.over_depth(swing(depth, in_depth));
        if over_depth.short <= 0.0 && over_depth.lies {
            return over_depth;
        }
        // Over its depth and then turned, it sweeps the diagonal of its plan.
        let turns = libm::hypot(depth.in_mm(), width.in_mm()) <= ground.deep - ground.near;
        let mut turned = ground.along(Over::Depth, swing(depth, in_depth), width);
        turned.lies &= turns;
        let over_width = ground.along(Over::Width, swing(width, in_width), depth);
        let mut best = over_depth;
        for other in [turned, over_width] {
            if other.is_better(&best) {
                best = other;
            }
        }
        best
    };
    let on_feet = try_with(foot.max(Length::ZERO), in_depth, in_width);
    let (raised, best) = if on_feet.short <= 0.0 {
        (Raised::OnFeet, on_feet)
    } else {
        let bare = try_with(Length::ZERO, Length::ZERO, Length::ZERO);
        let short = profile::up(Length::from_mm(bare.short));
        let raised = if short <= Length::ZERO {
            Raised::FeetAfter
        } else if short <= EASE {
            Raised::Eased { by: short }
        } else {
            Raised::InPlace { short }
        };
        (raised, bare)
    };
    Some(StandUp {
        raised,
        over: best.over,
        needed: profile::up(Length::from_mm(best.reach) + CLEARANCE),
        ceiling: best.ceiling,
        laid: match (best.lies, best.along) {
            (false, _) => Laid::Aslant,
            (true, false) => Laid::Square,
            (true, true) => Laid::Along {
                asks: match raised {
                    Raised::OnFeet => at.height() + foot + (at.depth - in_depth).max(Length::ZERO),
                    _ => at.height() + at.depth,
                },
                square: profile::down(Length::from_mm(ground.deep - ground.near)),
            },
        },
        pushed_under: ground.pushed_under(at, best.ceiling),
    })
}

/// A box turning about an edge: its height with feet, and what it is turned over.
#[derive(Clone, Copy)]
struct Swing {
    high: f64,
    across: f64,
}

impl Swing {
    fn reach(self) -> f64 {
        reach(self.high, 0.0, self.across, 0.0)
    }

    /// What it needs over the ground at `u` from the edge: its reach there and the clearance, of
    /// which there need be no more than what it will have over it when it stands.
    fn needs(self, u: f64) -> f64 {
        let squared = self.high * self.high + self.across * self.across - u * u;
        let there = libm::sqrt(squared.max(0.0));
        there + CLEARANCE.in_mm().min((there - self.high).max(0.0))
    }
}

/// Best of the places tried.
#[derive(Clone, Copy)]
struct Try {
    over: Over,
    along: bool,
    /// There is floor for it to lie on.
    lies: bool,
    reach: f64,
    short: f64,
    ceiling: Length,
}

impl Try {
    /// Falls short by less; or not at all, and can lie there.
    fn is_better(&self, than: &Try) -> bool {
        let (mine, its) = (self.short.max(0.0), than.short.max(0.0));
        mine < its || (mine == its && self.lies && !than.lies)
    }
}

/// Where a unit can be raised: before its place, out in the room.
struct Ground<'a> {
    job: &'a Job,
    rooms: &'a [PlacedRoom],
    wall: WallRef,
    left: Length,
    right: Length,
    near: f64,
    /// Of the run, with its fronts off.
    front: f64,
    /// Of the room before it, from its wall.
    deep: f64,
    length: f64,
}

impl<'a> Ground<'a> {
    fn new(
        job: &'a Job,
        rooms: &'a [PlacedRoom],
        wall: WallRef,
        run: &PlacedRun,
        at: &PlacedUnit,
    ) -> Ground<'a> {
        let near = run.y_back.in_mm().max(0.0);
        let xs = [at.left, at.left + at.width().half(), at.right];
        let depths = rooms.get(wall.room).into_iter().flat_map(|room| {
            xs.into_iter()
                .filter_map(move |x| plan::clear_depth(room, wall.wall, x.in_mm()))
        });
        Ground {
            job,
            rooms,
            wall,
            left: at.left,
            right: at.right,
            near,
            front: near + at.depth.in_mm(),
            deep: depths.fold(near + 2.0 * AROUND, f64::min),
            length: job.wall(wall).length.in_mm(),
        }
    }

    fn ceiling(&self, (left, right): (Length, Length), (near, far): (f64, f64)) -> Length {
        let over = Stretch {
            wall: self.wall,
            left,
            right,
            near: Length::from_mm(near),
            far: Length::from_mm(far),
        };
        lowest(self.job, self.rooms, &over)
    }

    /// Lying on its face out into the room, at its place or farther out.
    fn over_depth(&self, swing: Swing) -> Try {
        let span = (self.left, self.right);
        let far = (self.near + swing.across + swing.high)
            .min(self.deep)
            .max(self.near);
        let all = self.ceiling(span, (self.near, far));
        let simple = Try {
            over: Over::Depth,
            along: false,
            lies: self.near + swing.across + swing.high <= self.deep,
            reach: swing.reach(),
            short: swing.reach() + CLEARANCE.in_mm() - all.in_mm(),
            ceiling: all,
        };
        if simple.short <= 0.0 {
            return simple;
        }
        let end = self.deep.min(self.near + 2.0 * AROUND).max(self.near);
        let strips: Vec<Length> = cells(self.near, end)
            .map(|(a, b)| self.ceiling(span, (a, b)))
            .collect();
        best(Over::Depth, swing, &strips, false).unwrap_or(simple)
    }

    /// What hangs lower over its place than where it is raised: how far over its top.
    fn pushed_under(&self, at: &PlacedUnit, raised: Length) -> Option<Length> {
        let far = self.near + at.depth.in_mm();
        let over = self.ceiling((at.left, at.right), (self.near, far));
        (over < raised).then(|| over - at.top)
    }

    /// Lying along the wall on its back or its side, at its place or farther out, to either side. Where
    /// the run's other units may stand it is not laid.
    fn along(&self, over: Over, swing: Swing, depth: Length) -> Try {
        let from = (self.left.in_mm() - AROUND).max(0.0);
        let to = (self.right.in_mm() + AROUND).min(self.length).max(from);
        let mut found: Option<Try> = None;
        for out in 0..11 {
            let near = self.near + 300.0 * f64::from(out);
            let far = near + depth.in_mm();
            if out > 0 && far > self.deep {
                break;
            }
            let strips: Vec<Length> = cells(from, to)
                .map(|(a, b)| self.ceiling((Length::from_mm(a), Length::from_mm(b)), (near, far)))
                .collect();
            let free = near >= self.front && far <= self.deep;
            for mirrored in [false, true] {
                let here = best(over, swing, &strips, mirrored).map(|b| Try {
                    along: true,
                    lies: b.lies && free,
                    ..b
                });
                if let Some(here) = here
                    && found.is_none_or(|f| here.is_better(&f))
                {
                    found = Some(here);
                }
            }
        }
        found.unwrap_or(Try {
            over,
            along: true,
            lies: false,
            reach: swing.reach(),
            short: f64::INFINITY,
            ceiling: Length::ZERO,
        })
    }
}

fn cells(from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let count = ((to - from) / STRIP).ceil().clamp(0.0, 400.0) as u32;
    (0..count).map(move |i| {
        let a = from + f64::from(i) * STRIP;
        (a, (a + STRIP).min(to))
    })
}

/// The place along a row of strips where the box falls short by least. The box stands before the
/// edge it turns about and lies beyond it; where the row is too short for that it is brought in aslant,
/// and ground beyond the row is not looked at.
fn best(over: Over, swing: Swing, strips: &[Length], mirrored: bool) -> Option<Try> {
    let count = strips.len();
    let strip = |i: usize| match mirrored {
        true => strips.get(count - 1 - i),
        false => strips.get(i),
    };
    let stands = (swing.across / STRIP).ceil().clamp(0.0, 400.0) as usize;
    let lies = (swing.high / STRIP).ceil().clamp(0.0, 400.0) as usize;
    let mut found: Option<Try> = None;
    for edge in stands..=count {
        let fits = edge + lies <= count;
        let mut worst: Option<(f64, Length)> = None;
        for i in edge - stands..(edge + lies).min(count) {
            let Some(ceiling) = strip(i).copied() else {
                continue;
            };
            // Distance of the edge from the nearer side of the strip.
            let steps = if i >= edge { i - edge } else { edge - 1 - i };
            let short = swing.needs(steps as f64 * STRIP) - ceiling.in_mm();
            if worst.is_none_or(|w| short > w.0) {
                worst = Some((short, ceiling));
            }
        }
        let Some((short, ceiling)) = worst else {
            continue;
        };
        let here = Try {
            over,
            along: false,
            lies: fits,
            reach: swing.reach(),
            short,
            ceiling,
        };
        let more_room = |f: &Try| here.lies == f.lies && short < f.short;
        if found.is_none_or(|f| here.is_better(&f) || more_room(&f)) {
            found = Some(here);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;
    use crate::resolve::job::{Bulkhead, Slope};
    use proptest::prelude::*;

    // Handbook §2 (W) and reference-values.md §10.1 (X: computed there, checked by a rotation in
    // 200 000 steps).
    #[test]
    fn the_diagonal_is_the_published_one() {
        for (high, foot, across, inset, wanted) in [
            (2300.0, 0.0, 600.0, 0.0, 2377.0),
            (2300.0, 60.0, 600.0, 0.0, 2435.1),
            (2250.0, 100.0, 650.0, 50.0, 2425.4),
            (2400.0, 0.0, 600.0, 0.0, 2473.86),
            (2300.0, 0.0, 580.0, 0.0, 2372.00),
            (2100.0, 0.0, 350.0, 0.0, 2128.97),
            (2000.0, 0.0, 400.0, 0.0, 2039.61),
        ] {
            assert!((reach(high, foot, across, inset) - wanted).abs() < 0.06);
        }
    }

    /// One unit of this height on wall A, 600 wide, 580 deep, feet 100, ceiling 2440.
    fn unit_of(height: i64, change: impl Fn(&mut Job)) -> StandUp {
        let mut job = fixture::job([3000, 4000, 3000, 4000]);
        let mut run = fixture::run(1);
        run.units[0].width = Some(Length::mm(600));
        run.units[0].top = Length::mm(100 + height);
        job.runs = vec![run];
        change(&mut job);
        let mut diags = Diagnostics::default();
        let got = reckon(&job, &mut diags);
        let got = got.unwrap_or_else(|| panic!("{:?}", diags.sorted()));
        let at = &got.runs[0].units[0];
        let unit = &job.runs[0].units[0];
        stand_up(&job, &got.rooms, job.runs[0].wall, &got.runs[0], unit, at).unwrap()
    }

    // By hand; feet 100, set in 60 − 30 = 30, so 580 − 30 = 550 across: √(2440 − 10)² − 550²) =
    // 2366.9 → on its feet to 2266.9. Off: √(2430² − 580²) = 2359.8. The fixture's room is under
    // 2440; eased by up to 15: √(2445² − 580²) = 2375.2 high.
    #[test]
    fn the_four_outcomes() {
        let at = |h| unit_of(h, |_| {}).raised;
        assert_eq!(at(2266), Raised::OnFeet);
        assert_eq!(at(2268), Raised::FeetAfter);
        assert_eq!(at(2359), Raised::FeetAfter);
        // √(2365² + 580²) = 2435.08; + 10 − 2440 = 5.08, up to a half-millimetre.
        assert_eq!(
            at(2365),
            Raised::Eased {
                by: Length::um(5_500)
            }
        );
        assert!(matches!(at(2376), Raised::InPlace { .. }));
    }

    // By hand: 400 wide needs √(2380² + 400²) + 10 = 2423.4 where 580 deep needs 2459.7.
    #[test]
    fn a_narrow_unit_is_turned_over_its_width() {
        let narrow = |job: &mut Job| job.runs[0].units[0].width = Some(Length::mm(400));
        let got = unit_of(2380, narrow);
        assert_eq!((got.raised, got.over), (Raised::FeetAfter, Over::Width));
        assert_eq!(got.needed, Length::um(2_423_500));
    }

    // A beam 320 deep over its place, low enough to stop it there: it is stood up before the beam
    // and slid under. A slope that comes down across the whole room leaves no such place.
    #[test]
    fn what_hangs_over_only_part_of_the_ground() {
        let beam = |job: &mut Job| {
            job.rooms[0].walls[0].bulkheads = vec![Bulkhead {
                what: "beam".into(),
                from: Length::ZERO,
                to: Length::mm(3000),
                underside: Length::mm(2210),
                out: Length::mm(320),
            }]
        };
        assert_eq!(unit_of(2100, beam).raised, Raised::OnFeet);
        let slope = |job: &mut Job| {
            job.rooms[0].slopes = vec![Slope {
                wall: 0,
                low: Length::mm(2210),
                high: Length::mm(2440),
                over: Length::mm(60_000),
            }]
        };
        assert!(unit_of(2100, slope).raised > Raised::OnFeet);
    }

    // By hand: 2100 high on feet of 100, 580 deep; 550 and 2200 square to the wall need 2750 of floor. In a
    // room 2600 deep it is laid along the wall, 3000 long, before the run; in one only 2200 long and 1500
    // deep there is no such floor. Raised before a beam at 2236 it is pushed under it: 2236 − 2200 = 36.
    #[test]
    fn where_it_lies_and_what_it_is_pushed_under() {
        let with = |length: i64, deep: i64| {
            unit_of(2100, |job| {
                job.rooms[0].walls = fixture::job([length, deep, length, deep]).rooms[0]
                    .walls
                    .clone();
                job.rooms[0].walls[0].bulkheads = vec![Bulkhead {
                    what: "beam".into(),
                    from: Length::ZERO,
                    to: Length::mm(length),
                    underside: Length::mm(2236),
                    out: Length::mm(320),
                }];
            })
        };
        let got = with(3000, 4000);
        assert_eq!((got.raised, got.laid), (Raised::OnFeet, Laid::Square));
        assert_eq!(got.pushed_under, Some(Length::mm(36)));
        let got = with(3000, 2600);
        let (asks, square) = (Length::mm(2750), Length::mm(2600));
        assert_eq!((got.raised, got.over), (Raised::OnFeet, Over::Depth));
        assert_eq!(got.laid, Laid::Along { asks, square });
        assert_eq!(with(2200, 1500).laid, Laid::Aslant);
        assert_eq!(unit_of(2100, |_| {}).pushed_under, None);
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            rng_seed: proptest::test_runner::RngSeed::Fixed(29),
            failure_persistence: None,
            cases: 96,
            ..ProptestConfig::default()
        })]

        #[test]
        fn a_taller_unit_never_stands_up_more_easily(
            height in 700i64..2330,
            more in 1i64..200,
            low in 1500i64..2430,
            over in 200i64..3500,
            beam in (1900i64..2430, 50i64..900),
        ) {
            let change = |job: &mut Job| {
                job.rooms[0].slopes = vec![Slope {
                    wall: 2,
                    low: Length::mm(low),
                    high: Length::mm(2440),
                    over: Length::mm(over),
                }];
                job.rooms[0].walls[0].bulkheads = vec![Bulkhead {
                    what: "beam".into(),
                    from: Length::ZERO,
                    to: Length::mm(1500),
                    underside: Length::mm(beam.0),
                    out: Length::mm(beam.1),
                }];
            };
            let (lower, taller) = (unit_of(height, change), unit_of(height + more, change));
            prop_assert!(taller.raised >= lower.raised, "{:?} {:?}", lower, taller);
        }
    }
}
