//! The inside of a unit: bays, shelves, rails, inner drawers, appliances. Knows clear sizes; must
//! not know fronts or the room.
//!
//! A carcass: sides the full height, bottom and top between them, bays parted by dividers, all of
//! the carcass's board; fixed and movable shelves too.

use super::placed::{PlacedAppliance, PlacedBay, Shelf};
use super::setting_out::Stand;
use super::{profile, share};
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::resolve::job::{Bay, Job, Unit};
use crate::units::Length;

/// The least clear width or height worth making (common practice, no source).
pub const LEAST: Length = Length::mm(40);

/// Bays left to right. Bay widths share what dividers leave, to whole half-millimetres, the last
/// bay taking what is left over.
pub fn bays(
    job: &Job,
    unit: &Unit,
    stand: &Stand,
    diags: &mut Diagnostics,
) -> Option<Vec<PlacedBay>> {
    let board = job.material(unit.carcass).thickness;
    let (bottom, top) = (stand.base + board, stand.top - board);
    let inner = stand.right - stand.left - board * 2;
    if inner < LEAST || top - bottom < LEAST {
        let what = format!(
            "unit “{}” has {inner} × {} mm left inside, width × height",
            unit.id,
            top - bottom
        );
        diags.push(no_room(
            unit.place,
            what,
            "make the unit larger, or its board thinner",
        ));
        return None;
    }
    let wanted: Vec<Option<Length>> = unit.bays.iter().map(|b| b.width).collect();
    let mut widths = bay_widths(unit, inner, &wanted, board, diags)?;
    if widths.is_empty() {
        widths.push(inner);
    }
    let mut left = stand.left + board;
    let mut out = Vec::with_capacity(widths.len());
    let mut good = true;
    for (i, width) in widths.into_iter().enumerate() {
        let mut placed = PlacedBay {
            left,
            right: left + width,
            bottom,
            top,
            shelves: Vec::new(),
            rails: Vec::new(),
            drawers: Vec::new(),
            appliances: Vec::new(),
        };
        if let Some(bay) = unit.bays.get(i) {
            let mut filler = Filler {
                job,
                unit,
                bay,
                base: stand.base,
                board,
                diags,
            };
            good &= filler.fill(&mut placed).is_some();
        }
        left += width + board;
        out.push(placed);
    }
    good.then_some(out)
}

fn bay_widths(
    unit: &Unit,
    inner: Length,
    wanted: &[Option<Length>],
    board: Length,
    diags: &mut Diagnostics,
) -> Option<Vec<Length>> {
    let shares = match share::share(inner, wanted, board) {
        Ok(shares) => shares,
        Err(missing) => {
            let what = format!(
                "the bays of unit “{}” are {missing} mm too wide for it",
                unit.id
            );
            diags.push(no_room(
                unit.place,
                what,
                "make a bay narrower, or leave out its width",
            ));
            return None;
        }
    };
    let slack = profile::HALF_MM * wanted.len() as i64;
    if !wanted.is_empty() && wanted.iter().all(Option::is_some) && shares.left_over > slack {
        diags.push(
            Diagnostic::new(
                Code::Contradiction,
                unit.place,
                format!(
                    "the bays of unit “{}” leave {} mm of its inside over",
                    unit.id, shares.left_over
                ),
            )
            .label(format!("{inner} mm wide inside"))
            .help("leave out the width of one bay, so that it takes what the others leave"),
        );
        return None;
    }
    let mut widths = shares.sizes;
    if widths.iter().any(|w| *w < LEAST) {
        let what = format!("a bay of unit “{}” has less than {LEAST} mm left", unit.id);
        diags.push(no_room(
            unit.place,
            what,
            "take out a bay, or make another narrower",
        ));
        return None;
    }
    if let Some(last) = widths.last_mut() {
        *last += shares.left_over;
    }
    Some(widths)
}

fn no_room(place: Place, what: String, help: &str) -> Diagnostic {
    Diagnostic::new(Code::NoRoom, place, what).help(help)
}

/// A clear height between two horizontal boards.
#[derive(Clone, Copy, PartialEq)]
struct Clear {
    bottom: Length,
    top: Length,
}

impl Clear {
    fn height(self) -> Length {
        self.top - self.bottom
    }
}

struct Filler<'a> {
    job: &'a Job,
    unit: &'a Unit,
    bay: &'a Bay,
    base: Length,
    board: Length,
    diags: &'a mut Diagnostics,
}

impl Filler<'_> {
    fn fill(&mut self, placed: &mut PlacedBay) -> Option<()> {
        let mut clear = self.fixed_shelves(placed)?;
        self.drawers(placed, &mut clear)?;
        self.appliances(placed, &mut clear)?;
        self.movable_shelves(placed, &clear)?;
        self.rails(placed)?;
        placed.shelves.sort_by_key(|s| s.z);
        Some(())
    }

    fn complain(&mut self, what: String, help: &str) -> Option<()> {
        let place = match self.bay.place {
            Place::NOWHERE => self.unit.place,
            place => place,
        };
        self.diags.push(no_room(place, what, help));
        None
    }

    /// Heights are of a shelf's top face above the carcass's underside.
    fn fixed_shelves(&mut self, placed: &mut PlacedBay) -> Option<Vec<Clear>> {
        let mut tops: Vec<Length> = self.bay.fixed.iter().map(|h| self.base + *h).collect();
        tops.sort();
        let mut clear = Vec::new();
        let mut bottom = placed.bottom;
        for z in tops {
            let under = z - self.board;
            if under < bottom || z > placed.top {
                let what = format!(
                    "the fixed shelf at {} mm in unit “{}” has no room: it lies on a board, or \
                     outside the carcass, which is {} mm high",
                    z - self.base,
                    self.unit.id,
                    placed.top + self.board - self.base
                );
                self.complain(
                    what,
                    "heights are of its top face, from the carcass's underside",
                )?;
            }
            clear.push(Clear { bottom, top: under });
            placed.shelves.push(Shelf {
                z,
                thickness: self.board,
                fixed: true,
            });
            bottom = z;
        }
        clear.push(Clear {
            bottom,
            top: placed.top,
        });
        Some(clear)
    }

    /// Inner drawers stand on the bottom, one on the other.
    fn drawers(&mut self, placed: &mut PlacedBay, clear: &mut [Clear]) -> Option<()> {
        let count = i64::from(self.bay.drawers);
        let (Some(lowest), 1..) = (clear.first_mut(), count) else {
            return Some(());
        };
        let (height, space) = (self.bay.drawer_height, lowest.height());
        let needed = height.in_um().saturating_mul(count);
        if height < LEAST || needed > space.in_um() {
            let what = format!(
                "{count} inner drawers of {height} mm need {} mm in unit “{}”, which has {space} mm",
                Length::um(needed),
                self.unit.id
            );
            return self.complain(
                what,
                "take fewer or lower drawers, or raise the shelf above them",
            );
        }
        for _ in 0..count {
            placed.drawers.push((lowest.bottom, lowest.bottom + height));
            lowest.bottom += height;
        }
        Some(())
    }

    /// The first on the carcass's bottom, the next on each fixed shelf, centred in the bay.
    fn appliances(&mut self, placed: &mut PlacedBay, clear: &mut [Clear]) -> Option<()> {
        let depth = self.unit.depth
            - self
                .unit
                .back
                .map_or(Length::ZERO, |b| self.job.material(b).thickness);
        let width = placed.right - placed.left;
        for (i, which) in self.bay.appliances.iter().enumerate() {
            let Some(appliance) = self.job.appliances.get(which.0) else {
                continue;
            };
            let (name, id) = (&appliance.name, &self.unit.id);
            let Some(space) = clear.get(i).copied() else {
                let what = format!("nothing in unit “{id}” carries “{name}”");
                return self.complain(what, "give it a fixed shelf to stand on");
            };
            if i == 0 && !placed.drawers.is_empty() {
                let what = format!("“{name}” and inner drawers both stand on the bottom of “{id}”");
                return self.complain(what, "put the drawers into a bay of their own");
            }
            let short = [
                ("wide", appliance.width - width),
                ("high", appliance.height - space.height()),
                ("deep", appliance.depth - depth),
            ];
            for (how, missing) in short {
                if missing > Length::ZERO {
                    let what =
                        format!("“{name}” is {missing} mm too {how} for its place in “{id}”");
                    let room = format!(
                        "its place is {width} × {} × {depth} mm, width × height × depth",
                        space.height()
                    );
                    return self.complain(what, &room);
                }
            }
            let left = placed.left + (width - appliance.width).half();
            placed.appliances.push(PlacedAppliance {
                which: *which,
                left,
                right: left + appliance.width,
                bottom: space.bottom,
                top: space.bottom + appliance.height,
            });
            if let Some(space) = clear.get_mut(i) {
                space.bottom += appliance.height;
            }
        }
        Some(())
    }

    /// Spread evenly over the tallest clear height, to half-millimetres; the top space takes what
    /// is left over.
    fn movable_shelves(&mut self, placed: &mut PlacedBay, clear: &[Clear]) -> Option<()> {
        let count = i64::from(self.bay.shelves);
        if count == 0 {
            return Some(());
        }
        let mut tallest = Clear {
            bottom: placed.bottom,
            top: placed.bottom,
        };
        for c in clear {
            if c.height() > tallest.height() {
                tallest = *c;
            }
        }
        let boards = self.board.in_um().saturating_mul(count);
        let open = Length::um(tallest.height().in_um().saturating_sub(boards));
        let each = profile::down(open / (count + 1));
        if each < LEAST {
            let what = format!(
                "{count} shelves in unit “{}” would stand {each} mm apart",
                self.unit.id
            );
            return self.complain(what, "take fewer shelves");
        }
        for i in 1..=count {
            placed.shelves.push(Shelf {
                z: tallest.bottom + (each + self.board) * i,
                thickness: self.board,
                fixed: false,
            });
        }
        Some(())
    }

    fn rails(&mut self, placed: &mut PlacedBay) -> Option<()> {
        for height in &self.bay.rails {
            let z = self.base + *height;
            if z <= placed.bottom || z >= placed.top {
                let what = format!(
                    "the rail at {height} mm in unit “{}” is outside its carcass",
                    self.unit.id
                );
                return self.complain(
                    what,
                    "heights are of its centre, from the carcass's underside",
                );
            }
            placed.rails.push(z);
        }
        placed.rails.sort();
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::resolve::job::{Appliance, ApplianceRef};

    fn stand(width: i64, height: i64) -> Stand {
        Stand {
            left: Length::ZERO,
            right: Length::mm(width),
            base: Length::mm(100),
            top: Length::mm(100 + height),
        }
    }

    fn placed(job: &Job, unit: &Unit, stand: &Stand) -> Result<Vec<PlacedBay>, String> {
        let mut diags = Diagnostics::default();
        match bays(job, unit, stand, &mut diags) {
            Some(bays) => Ok(bays),
            None => Err(diags.sorted().remove(0).message),
        }
    }

    // By hand: 1000 − 2·18 − 18 = 946; fixed 300 leaves 646 for the other.
    #[test]
    fn bays_share_what_the_dividers_leave() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays = vec![fixture::bay(), fixture::bay()];
        unit.bays[0].width = Some(Length::mm(300));
        let bays = placed(&job, &unit, &stand(1000, 1900)).unwrap();
        assert_eq!(
            (bays[0].left, bays[0].right),
            (Length::mm(18), Length::mm(318))
        );
        assert_eq!(
            (bays[1].left, bays[1].right),
            (Length::mm(336), Length::mm(982))
        );
        unit.bays[1].width = Some(Length::mm(640));
        let message = placed(&job, &unit, &stand(1000, 1900)).unwrap_err();
        assert!(message.contains("leave 6 mm"), "{message}");
        unit.bays[1].width = Some(Length::mm(660));
        let message = placed(&job, &unit, &stand(1000, 1900)).unwrap_err();
        assert!(message.contains("14 mm too wide"), "{message}");
    }

    // By hand: carcass 2000 from 100; fixed shelf top at 1850, so the clear below is 18..1832 above
    // the underside; two inner drawers of 180 take 360 of it: 378..1832 = 1454; 4 shelves of 18
    // leave 1382/5 = 276.4 → 276; first shelf top 378 + 276 + 18 = 672.
    #[test]
    fn shelves_spread_over_the_tallest_clear_height() {
        let job = fixture::job([3000; 4]);
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].fixed = vec![Length::mm(1850)];
        unit.bays[0].drawers = 2;
        unit.bays[0].shelves = 4;
        let bays = placed(&job, &unit, &stand(600, 2000)).unwrap();
        let z: Vec<Length> = bays[0]
            .shelves
            .iter()
            .map(|s| s.z - Length::mm(100))
            .collect();
        assert_eq!(z, [672, 966, 1260, 1554, 1850].map(Length::mm));
        assert_eq!(bays[0].drawers[1], (Length::mm(298), Length::mm(478)));
        unit.bays[0].shelves = u32::MAX;
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
        unit.bays[0].shelves = 0;
        unit.bays[0].drawers = u32::MAX;
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
    }

    // By hand: clear below a shelf at 1790 is 1790 − 18 − 18 = 1754, 16 short of 1770.
    #[test]
    fn an_appliance_too_high_says_by_how_much() {
        let mut job = fixture::job([3000; 4]);
        job.appliances = vec![Appliance {
            key: "fridge".into(),
            name: "Fridge".into(),
            width: Length::mm(560),
            height: Length::mm(1770),
            depth: Length::mm(550),
            supplied: String::new(),
            needs: vec![],
        }];
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].fixed = vec![Length::mm(1790)];
        unit.bays[0].appliances = vec![ApplianceRef(0)];
        let message = placed(&job, &unit, &stand(600, 2100)).unwrap_err();
        assert!(message.contains("16 mm too high"), "{message}");
        unit.bays[0].fixed = vec![Length::mm(1810)];
        let bays = placed(&job, &unit, &stand(600, 2100)).unwrap();
        let fridge = bays[0].appliances[0];
        assert_eq!(
            (fridge.left, fridge.bottom),
            (Length::mm(20), Length::mm(118))
        );
        unit.bays[0].appliances.push(ApplianceRef(0));
        let message = placed(&job, &unit, &stand(600, 2100)).unwrap_err();
        assert!(message.contains("too high"), "{message}");
    }

    #[test]
    fn a_shelf_or_rail_outside_its_carcass_is_refused() {
        let job = fixture::job([3000; 4]);
        for height in [10, 30, 2000, 5000] {
            let mut unit = fixture::run(1).units.remove(0);
            unit.bays[0].fixed = vec![Length::mm(height)];
            let got = placed(&job, &unit, &stand(600, 2000));
            assert!(got.is_err(), "{height}");
        }
        let mut unit = fixture::run(1).units.remove(0);
        unit.bays[0].rails = vec![Length::mm(2100)];
        assert!(placed(&job, &unit, &stand(600, 2000)).is_err());
    }
}
