//! What is put into a bay: fixed shelves, inner drawers, appliances, movable shelves, rails. Knows
//! one bay's clear heights; must not know its neighbours.

use super::inside::{Behind, LEAST};
use super::placed::{PlacedAppliance, PlacedBay, Shelf};
use super::profile;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::resolve::job::{Bay, Job, Unit};
use crate::units::Length;

pub fn no_room(place: Place, what: String, help: &str) -> Diagnostic {
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

/// Fills one bay, telling what has no room.
pub struct Filler<'a> {
    pub job: &'a Job,
    pub unit: &'a Unit,
    pub bay: &'a Bay,
    /// Underside of the carcass, from finished floor.
    pub base: Length,
    pub board: Length,
    pub behind: &'a [Behind],
    pub diags: &'a mut Diagnostics,
}

impl Filler<'_> {
    /// `None` when something has no room: it is in the diagnostics.
    pub fn fill(&mut self, placed: &mut PlacedBay) -> Option<()> {
        let mut clear = self.fixed_shelves(placed)?;
        self.drawers(placed, &mut clear)?;
        self.appliances(placed, &mut clear)?;
        let clear = self.clear_of_drawers(placed, clear);
        self.movable_shelves(placed, &clear)?;
        self.rails(placed)?;
        placed.shelves.sort_by_key(|s| s.z);
        Some(())
    }

    fn complain(&mut self, what: String, help: &str) -> Option<()> {
        self.diags.push(no_room(self.place(), what, help));
        None
    }

    fn place(&self) -> Place {
        match self.bay.place {
            Place::NOWHERE => self.unit.place,
            place => place,
        }
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
                lipping: self.bay.lipping,
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
                    let label = format!(
                        "its place is {width} × {} × {depth} mm, width × height × depth",
                        space.height()
                    );
                    let help = "make room: move the fixed shelf above it, or change the unit";
                    self.diags
                        .push(no_room(self.place(), what, help).label(label));
                    return None;
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

    /// What is left of clear heights where the drawers of drawer fronts run.
    fn clear_of_drawers(&self, placed: &PlacedBay, mut clear: Vec<Clear>) -> Vec<Clear> {
        let in_bay = |b: &&Behind| b.left < placed.right && b.right > placed.left;
        for drawer in self.behind.iter().filter(in_bay) {
            clear = clear
                .iter()
                .flat_map(|c| {
                    [
                        Clear {
                            bottom: c.bottom,
                            top: c.top.min(drawer.bottom),
                        },
                        Clear {
                            bottom: c.bottom.max(drawer.top),
                            top: c.top,
                        },
                    ]
                })
                .filter(|c| c.bottom < c.top)
                .collect();
        }
        clear
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
        // The second guards against boards of no thickness, whose number nothing else would bound.
        if each < LEAST || LEAST.in_um().saturating_mul(count) > tallest.height().in_um() {
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
                lipping: self.bay.lipping,
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
