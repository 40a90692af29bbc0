//! Dimension chains of a section: clear heights by the wall, heights from the floor, depths below.
//! Knows which faces of a section are worth a dimension; every stop is surveyed or reckoned.

use super::super::pen::up;
use super::super::survey;
use super::{Cut, cut};
use crate::draw::scene::ChainSide::{Below, Left, Right};
use crate::units::Length;

pub fn chains(cut: &mut Cut) {
    inside(cut);
    outside(cut);
    depths(cut);
}

/// Shelves and machines from the underside of each carcass up, at the wall's side.
/// One chain through units that stand over one another, with what lies between them.
fn inside(cut: &mut Cut) {
    let mut all: Vec<Length> = Vec::new();
    for (run, _, bay) in cut.met.clone() {
        let mut stops = vec![bay.bottom, bay.top];
        stops.extend(bay.shelves.iter().flat_map(|s| [s.z, s.z - s.thickness]));
        stops.extend(bay.drawers.iter().flat_map(|d| [d.0, d.1]));
        stops.extend(bay.appliances.iter().map(|a| a.top));
        stops.retain(|z| *z >= bay.bottom && *z <= bay.top);
        all.extend(stops.into_iter().map(|z| -z));
        for z in &bay.rails {
            let at = up(run.y_back.in_mm() + 120.0, z.in_mm() + 45.0);
            cut.pen.words(at, format!("rail {z}"), None);
        }
    }
    cut.pen.chain(Left, 0, all, Length::ZERO, "");
}

/// From finished floor: underside, fronts, top, ceiling; then the whole.
fn outside(cut: &mut Cut) {
    let reach = Length::from_mm(cut.far());
    let mut stops = vec![Length::ZERO];
    for (_, unit, _) in cut.met.clone() {
        let column = cut::column(cut, unit);
        let mut fronts: Vec<_> = column.iter().map(|f| (-f.top, -f.bottom)).collect();
        fronts.sort();
        if !fronts.is_empty() {
            cut.pen.stack(Right, 0, &fronts, reach, "");
        }
        stops.extend([-unit.base, -unit.top]);
    }
    for (t, made) in cut.reckoned.worktops.iter().zip(&cut.job.worktops) {
        let here = cut
            .job
            .runs
            .get(made.run)
            .is_some_and(|r| std::ptr::eq(r, cut.made));
        if here {
            stops.push(-t.top);
        }
    }
    let ceiling = survey::ceiling_at(cut.job, cut.reckoned, cut.run.wall, cut.x, 0.0);
    let ceiling = Length::from_mm(ceiling.round());
    stops.push(-ceiling);
    cut.pen.chain(Right, 1, stops, reach, "");
}

/// Out of the surveyed face of the wall.
fn depths(cut: &mut Cut) {
    let floor = Length::from_mm(-survey::between(&cut.wall.floor, cut.x));
    let mut stops = vec![Length::ZERO, cut.wall.lining_thickness()];
    let mut faces: Vec<Length> = Vec::new();
    for (run, unit, _) in &cut.met {
        stops.extend([
            run.y_back,
            run.y_back + unit.depth,
            run.y_back + unit.depth_over_fronts,
        ]);
        faces.push(run.y_back + unit.depth_over_fronts);
    }
    let tops = cut.reckoned.worktops.iter().zip(&cut.job.worktops);
    for (t, made) in tops {
        if cut
            .job
            .runs
            .get(made.run)
            .is_some_and(|r| std::ptr::eq(r, cut.made))
        {
            stops.push(t.y_front);
            faces.push(t.y_front);
        }
    }
    // How far the plinth stands back from the fronts over it.
    let here = |x: Length, y: Length| x.in_mm() <= cut.x && cut.x <= y.in_mm();
    let plinth = cut.run.plinths.iter().find(|p| here(p.left, p.right));
    let unit = cut.met.first();
    let face = unit.map(|(run, unit, _)| run.y_back + unit.depth_over_fronts);
    if let (Some(plinth), Some(face)) = (plinth, face)
        && plinth.y_front < face
    {
        let back = vec![plinth.y_front, face];
        cut.pen.chain(Below, 0, back, floor, "plinth back");
    }
    cut.pen.chain(Below, 1, stops, floor, "");
    let most = faces.into_iter().max().unwrap_or_default();
    cut.pen.chain(Below, 2, vec![Length::ZERO, most], floor, "");
}
