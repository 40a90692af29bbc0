//! Small pictures for the cards of units: open as it is carried, and with its fronts and their numbers.
//! Knows what is placed, and how small is small; must not know what else a card says.

use super::place::{Item, Placed, Text};
use super::scene::{Fill, Pt, Rect, Role, Shape};
use super::style::Ink;
use super::{Drawing, DrawingKind, svg};
use crate::reckon::placed::{PlacedFront, PlacedUnit, Reckoned};
use crate::resolve::job::{FrontKind, Job};
use crate::units::Length;

/// On a card, mm of paper: both views side by side, and their height.
const WIDE: f64 = 54.0;
const HIGH: f64 = 46.0;
/// Between the two, and round them.
const APART: f64 = 3.0;
const ROUND: f64 = 0.5;
/// Height of a front's number, mm.
const NUMBER: f64 = 2.5;
/// How much smaller than its front a drawer is hinted at.
const DRAWER_IN: Length = Length::mm(22);
/// ISO 5455.
const SCALES: [u32; 6] = [10, 20, 50, 100, 200, 500];

/// One for each unit that any of these scales holds.
pub fn cards(job: &Job, reckoned: &Reckoned) -> Vec<Drawing> {
    let mut out = Vec::new();
    for (r, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for (u, (unit, at)) in run.units.iter().zip(&placed.units).enumerate() {
            out.extend(card(reckoned, at, (r, u), &unit.name));
        }
    }
    out
}

fn card(
    reckoned: &Reckoned,
    unit: &PlacedUnit,
    (r, u): (usize, usize),
    name: &str,
) -> Option<Drawing> {
    let fronts = unit.fronts.iter().filter_map(|i| reckoned.fronts.get(*i));
    let fronts: Vec<&PlacedFront> = fronts.collect();
    let feet = unit.feet.iter().map(|f| unit.base - f.height).min();
    let all = |of: fn(&PlacedFront) -> Length| fronts.iter().map(move |f| of(f));
    let left = all(|f| f.left).chain([unit.left]).min()?.in_mm();
    let right = all(|f| f.right).chain([unit.right]).max()?.in_mm();
    let top = all(|f| f.top).chain([unit.top]).max()?.in_mm();
    let low = all(|f| f.bottom)
        .chain([unit.base])
        .chain(feet)
        .min()?
        .in_mm();
    let views = if fronts.is_empty() { 1.0 } else { 2.0 };
    let (width, height) = (right - left, top - low);
    if !(width > 0.0 && height > 0.0) {
        return None;
    }
    let gaps = APART * (views - 1.0);
    let fits = |scale: &u32| {
        let scale = f64::from(*scale);
        width * views / scale + gaps <= WIDE && height / scale <= HIGH
    };
    let scale = SCALES.into_iter().find(fits)?;
    let mm = f64::from(scale);
    let view = |from: f64| View {
        from: ROUND + from,
        left,
        top,
        mm,
        items: Vec::new(),
    };
    let mut open = view(0.0);
    open.carcass(unit);
    open.drawers(unit, &fronts);
    let mut items = open.items;
    if !fronts.is_empty() {
        let mut shut = view(width / mm + APART);
        shut.shut(unit, &fronts);
        items.extend(shut.items);
    }
    let placed = Placed {
        width: width * views / mm + gaps + 2.0 * ROUND,
        height: height / mm + 2.0 * ROUND,
        scale,
        items,
    };
    let alt = match fronts.is_empty() {
        true => format!("{name} from the front, open, at 1:{scale}."),
        false => format!("{name} from the front at 1:{scale}: open, and with its fronts."),
    };
    Some(Drawing {
        id: format!("card-{}-{}", r + 1, u + 1),
        kind: DrawingKind::Card(r, u),
        title: name.to_owned(),
        alt,
        svg: svg::write(&placed),
        width_mm: placed.width,
        height_mm: placed.height,
        scale,
        part: (1, 1),
        changes: Vec::new(),
    })
}

/// One of the two, in mm of paper from the picture's left.
struct View {
    from: f64,
    /// What lies at its upper left corner, mm of the real thing.
    left: f64,
    top: f64,
    mm: f64,
    items: Vec<Item>,
}

impl View {
    fn area(&self, (left, right): (Length, Length), (bottom, top): (Length, Length)) -> Rect {
        let x = |l: Length| self.from + (l.in_mm() - self.left) / self.mm;
        let y = |l: Length| ROUND + (self.top - l.in_mm()) / self.mm;
        Rect {
            x0: x(left),
            x1: x(right),
            y0: y(top),
            y1: y(bottom),
        }
    }

    fn rect(&mut self, role: Role, fill: Fill, x: (Length, Length), z: (Length, Length)) {
        let shape = Shape::Rect(self.area(x, z));
        let ink = Ink::Role(role);
        self.items.push(Item::Shape { ink, fill, shape });
    }

    fn line(&mut self, role: Role, x: (Length, Length), z: Length) {
        let area = self.area(x, (z, z));
        let shape = Shape::Path {
            points: vec![Pt::new(area.x0, area.y0), Pt::new(area.x1, area.y0)],
            closed: false,
        };
        let ink = Ink::Role(role);
        let fill = Fill::None;
        self.items.push(Item::Shape { ink, fill, shape });
    }

    fn outline(&mut self, unit: &PlacedUnit) {
        for foot in &unit.feet {
            let half = Length::mm(20);
            let x = (foot.x - half, foot.x + half);
            self.rect(
                Role::Fine,
                Fill::None,
                x,
                (unit.base - foot.height, unit.base),
            );
        }
        let (x, z) = ((unit.left, unit.right), (unit.base, unit.top));
        self.rect(Role::Edge, Fill::White, x, z);
    }

    fn carcass(&mut self, unit: &PlacedUnit) {
        self.outline(unit);
        for bay in &unit.bays {
            let x = (bay.left, bay.right);
            self.rect(Role::Fine, Fill::None, x, (bay.bottom, bay.top));
            for shelf in &bay.shelves {
                self.rect(
                    Role::Fine,
                    Fill::None,
                    x,
                    (shelf.z - shelf.thickness, shelf.z),
                );
            }
            for rail in &bay.rails {
                self.line(Role::Centre, x, *rail);
            }
            for z in &bay.drawers {
                self.rect(Role::Fine, Fill::White, x, *z);
            }
            for a in &bay.appliances {
                self.rect(
                    Role::Service,
                    Fill::Tint,
                    (a.left, a.right),
                    (a.bottom, a.top),
                );
            }
        }
    }

    /// Drawers whose fronts are off.
    fn drawers(&mut self, unit: &PlacedUnit, fronts: &[&PlacedFront]) {
        for front in fronts.iter().filter(|f| f.kind == FrontKind::Drawer) {
            let x = (
                front.left.max(unit.left + unit.board) + DRAWER_IN,
                front.right.min(unit.right - unit.board) - DRAWER_IN,
            );
            let z = (front.bottom + DRAWER_IN, front.top - DRAWER_IN);
            if x.0 < x.1 && z.0 < z.1 {
                self.rect(Role::Fine, Fill::White, x, z);
            }
        }
    }

    fn shut(&mut self, unit: &PlacedUnit, fronts: &[&PlacedFront]) {
        self.outline(unit);
        for front in fronts {
            let (x, z) = ((front.left, front.right), (front.bottom, front.top));
            self.rect(Role::Edge, Fill::White, x, z);
            let area = self.area(x, z);
            let mut number = Text::new(vec![front.number.to_string()], NUMBER, true);
            let room = (area.width() - 1.2, area.height() - 1.2);
            if number.width <= room.0 && number.height <= room.1 {
                number.centre = area.centre();
                self.items.push(Item::Text(number));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Diagnostics;
    use crate::reckon::{fixture, reckon};

    // By hand: two units of 1500 on a wall of 3000, two doors each of about 2000: side by side at 1:50
    // they would be 63 wide, so 1:100. ISO 5455 has no scale between.
    #[test]
    fn a_card_holds_both_views_and_every_number() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(2)];
        let row = fixture::row(None, crate::resolve::job::FrontKind::Door, 2);
        for unit in &mut job.runs[0].units {
            unit.rows = vec![row.clone()];
        }
        let reckoned = reckon(&job, &mut Diagnostics::default()).expect("it fits");
        let cards = cards(&job, &reckoned);
        assert_eq!(cards.len(), 2);
        for (card, numbers) in cards.iter().zip(["1 2", "3 4"]) {
            assert_eq!(card.scale, 100);
            assert!(card.width_mm <= WIDE + 2.0 * ROUND && card.height_mm <= HIGH + 2.0 * ROUND);
            // Words of one style are one element, in reading order.
            assert!(card.svg.contains(&format!(">{numbers}<")), "{}", card.svg);
        }
        for unit in &mut job.runs[0].units {
            unit.rows.clear();
        }
        let bare = reckon(&job, &mut Diagnostics::default()).expect("it fits");
        assert!(!super::cards(&job, &bare)[0].svg.contains("<text"));
    }
}
