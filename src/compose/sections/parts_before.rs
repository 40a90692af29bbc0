//! The list of parts as it was in the newest issue. Parts stand there by size, so that one of another size is
//! in another row: it is found again by what it is for and what sort of part it is. Prints nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::Table;
use super::quantities::wanted_for;
use crate::compare::Thing;
use crate::compare::takes::{self, Cut};
use crate::reckon::quantities::parts::{Part, PartKind};
use crate::resolve::job::{FrontKind, Grain};
use crate::units::Length;

/// What makes a row: kind, board, length and width.
type Row = (String, String, i64, i64);
/// One sort of part of one thing: what it is for, and its kind.
type Own = (String, String);

pub enum Was {
    Same,
    New,
    /// Cells as they were; lengths and widths where the row had none of its size.
    So {
        lengths: Option<String>,
        widths: Option<String>,
        count: u32,
        of: Vec<(String, u32)>,
    },
}

/// One that was in the list, with what it was for.
struct Old {
    cut: Cut,
    of: String,
    /// Whether a part of today was it.
    found: bool,
}

#[derive(Default)]
pub struct PartsBefore {
    /// Nothing changed, or there is nothing to compare with.
    idle: bool,
    old: BTreeMap<Own, Vec<Old>>,
    rows: BTreeMap<Row, Vec<(String, u32)>>,
    /// How many rows of today are of one size.
    now: BTreeMap<Row, usize>,
    told: BTreeSet<Row>,
}

impl PartsBefore {
    pub fn of(ctx: &Context) -> PartsBefore {
        let register = &ctx.standing.register;
        let mut all = PartsBefore {
            idle: register.entries.is_empty(),
            ..PartsBefore::default()
        };
        if all.idle {
            return all;
        }
        let mut now: BTreeMap<Own, Vec<Cut>> = BTreeMap::new();
        for part in &ctx.reckoned.quantities.parts {
            let material = ctx.job.materials.get(part.material.0);
            let material = material.map_or("", |m| m.key.as_str());
            *all.now.entry(row_of(part, material)).or_default() += 1;
            for (of, n) in &part.of {
                let own = (of.clone(), part.kind.name().to_owned());
                now.entry(own).or_default().push(cut_of(part, material, *n));
            }
        }
        all.owners(ctx, &now);
        all.fronts(ctx, &now);
        for gone in register.gone.values() {
            all.gone(ctx, gone);
        }
        for ((_, kind), olds) in &all.old {
            for old in olds {
                let row = all.rows.entry(filed(kind, &old.cut)).or_default();
                row.push((old.of.clone(), old.cut.count));
            }
        }
        all.pair(&now);
        all
    }

    fn owners(&mut self, ctx: &Context, now: &BTreeMap<Own, Vec<Cut>>) {
        let job = ctx.job;
        let units = job.runs.iter().flat_map(|r| &r.units);
        let each = (units.map(|u| ("unit", &u.id)))
            .chain(job.runs.iter().map(|r| ("run", &r.id)))
            .chain(job.panels.iter().map(|p| ("panel", &p.id)))
            .chain(job.sliding.iter().map(|s| ("sliding", &s.id)))
            .chain(job.worktops.iter().map(|w| ("worktop", &w.id)));
        for (kind, id) in each {
            let before = Before::of(ctx, kind, id);
            if before.is_new() {
                continue;
            }
            let cut = before.cut().unwrap_or_else(|| {
                let own = now.iter().filter(|((of, _), _)| of == id);
                own.flat_map(|(_, cuts)| cuts.clone()).collect()
            });
            for cut in cut {
                self.put(id, &before.id(id), cut);
            }
        }
    }

    fn fronts(&mut self, ctx: &Context, now: &BTreeMap<Own, Vec<Cut>>) {
        for front in &ctx.reckoned.fronts {
            let before = Before::of(ctx, "front", &front.id);
            if before.is_new() {
                continue;
            }
            let number = front.number.to_string();
            let Some(kind) = kind_of(&before.text("is", front.kind.word())) else {
                continue;
            };
            let same = now.get(&(number.clone(), kind.name().to_owned()));
            let material = ctx.job.materials.get(front.style.material.0);
            let material = before.text("material", material.map_or("", |m| m.key.as_str()));
            let size = (
                before.length("height", front.height()),
                before.length("width", front.width()),
            );
            let cut = match same.map(Vec::as_slice) {
                Some([one]) if !before.has_changed(&["height", "width", "material"]) => one.clone(),
                _ => cut_as(ctx, kind, material, size),
            };
            let old = before.count("number", front.number).to_string();
            self.put(&number, &old, cut);
        }
    }

    fn gone(&mut self, ctx: &Context, gone: &Thing) {
        if gone.kind == "front" {
            let size = gone.um("height").zip(gone.um("width"));
            let kind = gone.text("is").and_then(kind_of);
            let (Some((high, wide)), Some(kind), Some(number)) = (size, kind, gone.count("number"))
            else {
                return;
            };
            let material = gone.text("material").unwrap_or("").to_owned();
            let cut = cut_as(ctx, kind, material, (Length::um(high), Length::um(wide)));
            // Its number may be another's now.
            self.put(&format!("gone {number}"), &number.to_string(), cut);
        } else if let Some(fact) = gone.comes.get(takes::PARTS) {
            for cut in Cut::read(fact) {
                self.put(&format!("gone {}", gone.id), &gone.id, cut);
            }
        }
    }

    fn put(&mut self, now: &str, of: &str, cut: Cut) {
        let own = (now.to_owned(), cut.kind.clone());
        self.old.entry(own).or_default().push(Old {
            cut,
            of: of.to_owned(),
            found: false,
        });
    }

    /// Puts those of today first in each list, in their order: of one size where there is one, else in turn.
    fn pair(&mut self, now: &BTreeMap<Own, Vec<Cut>>) {
        for (own, olds) in &mut self.old {
            let Some(cuts) = now.get(own) else { continue };
            let mut left: Vec<Old> = std::mem::take(olds);
            let alike = |a: &Cut, b: &Cut| {
                (&a.material, a.length, a.width) == (&b.material, b.length, b.width)
            };
            let mut paired: Vec<Option<Old>> = cuts
                .iter()
                .map(|cut| {
                    let at = left.iter().position(|old| alike(&old.cut, cut))?;
                    Some(left.remove(at))
                })
                .collect();
            let mut rest = left.into_iter();
            for slot in paired.iter_mut().filter(|slot| slot.is_none()) {
                *slot = rest.next();
            }
            let found = paired
                .into_iter()
                .flatten()
                .map(|old| Old { found: true, ..old });
            *olds = found.chain(rest).collect();
        }
    }

    /// What a row of today was.
    pub fn row(&mut self, part: &Part, material: &str) -> Was {
        if self.idle {
            return Was::Same;
        }
        let row = row_of(part, material);
        if let (Some(of), Some(1)) = (self.rows.get(&row), self.now.get(&row)) {
            self.told.insert(row);
            let count = of.iter().fold(0, |sum, (_, n)| n.saturating_add(sum));
            return Was::So {
                lengths: None,
                widths: None,
                count,
                of: in_order(of, &part.of),
            };
        }
        if self.rows.contains_key(&row) {
            self.told.insert(row);
            return Was::Same;
        }
        let mut was: Vec<&Old> = Vec::new();
        for (of, _) in &part.of {
            let own = (of.clone(), part.kind.name().to_owned());
            let olds = self.old.get(&own).into_iter().flatten();
            // Of what had this part in several sizes, those that are in no row of today.
            was.extend(olds.filter(|old| {
                old.found && !self.now.contains_key(&filed(&old.cut.kind, &old.cut))
            }));
        }
        if was.is_empty() {
            return Was::New;
        }
        let told: Vec<Row> = was.iter().map(|o| filed(&o.cut.kind, &o.cut)).collect();
        let sizes = |pick: fn(&Cut) -> i64| {
            let all: BTreeSet<i64> = was.iter().map(|old| pick(&old.cut)).collect();
            let all = all.into_iter().rev().map(|um| Length::um(um).to_string());
            Some(all.collect::<Vec<_>>().join(", "))
        };
        let so = Was::So {
            lengths: sizes(|cut| cut.length),
            widths: sizes(|cut| cut.width),
            count: was.iter().fold(0, |sum, o| o.cut.count.saturating_add(sum)),
            of: was.iter().map(|o| (o.of.clone(), o.cut.count)).collect(),
        };
        self.told.extend(told);
        so
    }

    /// Rows of a board that are gone, below those of today.
    pub fn gone_of(&mut self, material: &str, table: &mut Table) {
        let gone: Vec<Row> = self
            .rows
            .keys()
            .filter(|row| row.1 == material && !self.now.contains_key(*row))
            .filter(|row| !self.told.contains(*row) && !self.is_found(row))
            .cloned()
            .collect();
        for row in gone {
            let of = self.rows.get(&row).map(Vec::as_slice).unwrap_or_default();
            let count = of.iter().fold(0u32, |sum, (_, n)| n.saturating_add(sum));
            table.gone([
                String::new(),
                row.0.clone(),
                Length::um(row.2).to_string(),
                Length::um(row.3).to_string(),
                count.to_string(),
                String::new(),
                wanted_for(&row.0, of),
            ]);
            self.told.insert(row);
        }
    }

    /// Whether parts of today were it: their rows say so.
    fn is_found(&self, row: &Row) -> bool {
        let mut of_it = self.old.values().flatten();
        of_it.any(|old| old.found && filed(&old.cut.kind, &old.cut) == *row)
    }

    /// The rest: of the last board, and of boards that are in use no more.
    pub fn all_gone(&mut self, ctx: &Context, table: &mut Table) {
        let last = ctx.reckoned.quantities.parts.last();
        let last = last.and_then(|part| ctx.job.materials.get(part.material.0));
        if let Some(last) = last {
            self.gone_of(&last.key, table);
        }
        let used = |key: &str| self.now.keys().any(|row| row.1 == key);
        let boards: BTreeSet<String> = self.rows.keys().map(|row| row.1.clone()).collect();
        let boards: Vec<String> = boards.into_iter().filter(|key| !used(key)).collect();
        for key in boards {
            table.group(ctx.material_called(&key));
            self.gone_of(&key, table);
        }
    }
}

fn row_of(part: &Part, material: &str) -> Row {
    filed(part.kind.name(), &cut_of(part, material, 0))
}

fn filed(kind: &str, cut: &Cut) -> Row {
    (kind.to_owned(), cut.material.clone(), cut.length, cut.width)
}

fn cut_of(part: &Part, material: &str, count: u32) -> Cut {
    Cut {
        kind: part.kind.name().to_owned(),
        material: material.to_owned(),
        length: part.length.in_um(),
        width: part.width.in_um(),
        count,
    }
}

/// A front as the list has it: of a board without grain the longer size first.
fn cut_as(ctx: &Context, kind: PartKind, material: String, (high, wide): (Length, Length)) -> Cut {
    let board = ctx.job.materials.iter().find(|m| m.key == material);
    let plain = board.is_none_or(|m| m.grain == Grain::None);
    let (length, width) = match plain && wide > high {
        true => (wide, high),
        false => (high, wide),
    };
    Cut {
        kind: kind.name().to_owned(),
        material,
        length: length.in_um(),
        width: width.in_um(),
        count: 1,
    }
}

fn kind_of(is: &str) -> Option<PartKind> {
    let all = [
        (FrontKind::Door, PartKind::Door),
        (FrontKind::Drawer, PartKind::DrawerFront),
        (FrontKind::Flap, PartKind::Flap),
        (FrontKind::Fixed, PartKind::FixedFront),
    ];
    let found = all.into_iter().find(|(front, _)| front.word() == is);
    found.map(|(_, part)| part)
}

/// As today's list has them, then what is in it no more.
fn in_order(old: &[(String, u32)], now: &[(String, u32)]) -> Vec<(String, u32)> {
    let place = |of: &str| now.iter().position(|(n, _)| n == of).unwrap_or(now.len());
    let mut all = old.to_vec();
    all.sort_by_key(|(of, _)| place(of));
    all
}
