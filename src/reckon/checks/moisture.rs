//! Wood and board whose moisture is out of balance with the room. Knows what is where; must not know
//! how balance is reckoned.

use std::collections::BTreeSet;

use super::finding;
use crate::reckon::moisture::{equilibrium, movement, of_board};
use crate::reckon::placed::{Finding, PieceKind, Reckoned, Severity};
use crate::reckon::stiffness::ACROSS_GRAIN;
use crate::resolve::job::{Core, Job, Material, MaterialRef, Room, Subject};
use crate::units::Length;

/// Out of balance by more (common practice, no source), % of dry mass.
const APART: f64 = 2.0;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (r, room) in job.rooms.iter().enumerate() {
        for at in used(job, reckoned, r) {
            let Some(material) = job.materials.get(at.0) else {
                continue;
            };
            let Some(delivered) = material.moisture else {
                continue;
            };
            let (low, high) = balance(room, material);
            let delivered = delivered.value();
            if delivered >= low - APART && delivered <= high + APART {
                continue;
            }
            let goal = if delivered > high { high } else { low };
            let width = widest(job, reckoned, r, at);
            found.push(told(
                room,
                r,
                material,
                (low, high),
                goal - delivered,
                width,
            ));
        }
    }
}

/// Least and most moisture content that it comes to in the room, %.
fn balance(room: &Room, material: &Material) -> (f64, f64) {
    let humidity = f64::from(room.humidity);
    match material.core {
        Core::Mdf | Core::ParticleBoard => of_board(humidity),
        _ => {
            let wood = equilibrium(f64::from(room.temperature), humidity);
            (wood, wood)
        }
    }
}

/// Wood and board in a room, in the order of the file.
fn used(job: &Job, reckoned: &Reckoned, room: usize) -> BTreeSet<MaterialRef> {
    let mut all = BTreeSet::new();
    for run in job.runs.iter().filter(|run| run.wall.room == room) {
        all.extend([run.filler_material, run.plinth_material]);
        all.extend([run.left.panel, run.right.panel].into_iter().flatten());
        for unit in &run.units {
            all.insert(unit.carcass);
            all.extend(unit.back);
            all.extend([job.drawer.board, job.drawer.bottom].into_iter().flatten());
        }
    }
    let here = reckoned.fronts.iter().filter(|f| f.wall.room == room);
    all.extend(here.map(|f| f.style.material));
    let panels = job.panels.iter().filter(|p| p.wall.room == room);
    all.extend(panels.map(|p| p.material));
    let sliding = job.sliding.iter().filter(|s| s.wall.room == room);
    all.extend(sliding.map(|s| s.material));
    let tops = job.worktops.iter().zip(&reckoned.worktops);
    all.extend(
        tops.filter(|(_, at)| at.wall.room == room)
            .map(|(t, _)| t.material),
    );
    let wood = |m: &MaterialRef| {
        let core = job.materials.get(m.0).map(|m| m.core);
        matches!(
            core,
            Some(Core::Mdf | Core::ParticleBoard | Core::BirchPlywood | Core::SolidWood)
        )
    };
    all.into_iter().filter(wood).collect()
}

/// Across the grain, which runs along a top and up whatever stands: the deepest or widest of solid wood.
fn widest(job: &Job, reckoned: &Reckoned, room: usize, of: MaterialRef) -> Length {
    let mut all: Vec<Length> = Vec::new();
    let tops = job.worktops.iter().zip(&reckoned.worktops);
    let tops = tops.filter(|(t, at)| t.material == of && at.wall.room == room);
    all.extend(tops.map(|(_, at)| at.y_front - at.y_back));
    let fronts = reckoned.fronts.iter();
    let fronts = fronts.filter(|f| f.style.material == of && f.wall.room == room);
    all.extend(fronts.map(|f| f.width()));
    for (run, at) in job.runs.iter().zip(&reckoned.runs) {
        if run.wall.room != room {
            continue;
        }
        let panels = at.pieces.iter().filter(|p| p.kind == PieceKind::EndPanel);
        let panels = panels.filter(|p| p.material == of);
        all.extend(panels.map(|_| at.depth_over_fronts()));
        let units = run.units.iter().zip(&at.units);
        let units = units.filter(|(unit, _)| unit.carcass == of);
        all.extend(units.map(|(_, put)| put.depth - put.back));
    }
    let panels = job.panels.iter().zip(&reckoned.panels);
    let panels = panels.filter(|(p, _)| p.material == of && p.wall.room == room);
    all.extend(panels.flat_map(|(_, at)| at.pieces.iter().map(|(l, r)| *r - *l)));
    let sliding = job.sliding.iter();
    let sliding = sliding.filter(|s| s.material == of && s.wall.room == room);
    all.extend(sliding.map(|s| s.width));
    all.into_iter().max().unwrap_or_default()
}

fn told(
    room: &Room,
    r: usize,
    material: &Material,
    (low, high): (f64, f64),
    change: f64,
    width: Length,
) -> Finding {
    let comes_to = match format!("{low:.1}") == format!("{high:.1}") {
        true => format!("{low:.1}"),
        false => format!("{low:.1} to {high:.1}"),
    };
    let delivered = material.moisture.unwrap_or_default();
    let mut text = format!(
        "“{}” is delivered at {delivered} % moisture; in “{}”, at {} °C and {} % humidity, it comes to {comes_to} %.",
        material.name, room.name, room.temperature, room.humidity
    );
    if material.core == Core::SolidWood && width > Length::ZERO {
        let (least, most) = material
            .movement
            .map_or(ACROSS_GRAIN, |m| (m.value() / 100.0, m.value() / 100.0));
        let by = |c: f64| movement(width.in_mm(), c, change).abs();
        let amount = match material.movement {
            Some(_) => format!("{:.1}", by(most)),
            None => format!("{:.1} to {:.1}", by(least), by(most)),
        };
        let how = if change < 0.0 { "shrinks" } else { "swells" };
        text =
            format!("{text} Its widest piece, {width} mm across the grain, {how} by {amount} mm.");
    }
    let told = match change < 0.0 {
        true => "dry and shrink",
        false => "take up moisture and swell",
    };
    let told = format!(
        "“{}” will {told} a little when it comes into “{}”.",
        material.name, room.name
    );
    finding(
        ("wood-out-of-balance", Severity::Warns),
        Subject::Room(r),
        material.place,
        text,
    )
    .against(match material.core {
        Core::Mdf | Core::ParticleBoard => {
            "2 % from balance (common practice, no source); a board association's table"
        }
        _ => "2 % from balance (common practice, no source); equilibrium and movement from the Wood Handbook, FPL-GTR-190 chapters 4 and 13",
    })
    .of_group(&material.name)
    .number(
        format!("{delivered} %"),
        format!("{comes_to} %"),
        change.abs(),
    )
    .advise("Let it lie in the heated room, in stacks with air between, until it no longer changes; leave solid wood free to move across its grain.")
    .for_client(
        told,
        "It should lie in the room before it is fitted: please have the room dry and heated by then.",
    )
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;
    use crate::resolve::job::{Core, FrontKind, MaterialRef};
    use crate::units::Percent;

    // reference-values.md §1 (X): 20 °C and 50 % → 9.271 %. Across a door of 600, flush with
    // both free ends, from 14 % by −4.729 %: 600·0.00365·4.729 = 10.4 mm (white oak, table 13-5).
    #[test]
    fn solid_wood_that_is_too_wet() {
        let mut job = fixture::job([600, 3000, 600, 3000]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 1)];
        let front = &mut job.materials[1];
        front.core = Core::SolidWood;
        front.movement = Some(Percent::thousandths(365));
        assert!(found(&job, "wood-out-of-balance").is_empty());
        job.materials[1].moisture = Some(Percent::thousandths(11_000));
        assert!(found(&job, "wood-out-of-balance").is_empty());
        job.materials[1].moisture = Some(Percent::thousandths(14_000));
        let list = found(&job, "wood-out-of-balance");
        let text = &list[0].text;
        assert!(text.contains("comes to 9.3 %"), "{text}");
        assert!(
            text.contains("600 mm across the grain, shrinks by 10.4 mm"),
            "{text}"
        );
    }

    // By hand, of a carcass 580 deep with a door of 22 and its bumper before it: an end panel of solid wood
    // 602 deep, at 14 % where it comes to 9.271: 602·0.00365·4.729 = 10.4 mm.
    #[test]
    fn an_end_panel_of_solid_wood_moves_too() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
        let mut wood = job.materials[1].clone();
        wood.core = Core::SolidWood;
        wood.movement = Some(Percent::thousandths(365));
        wood.moisture = Some(Percent::thousandths(14_000));
        job.materials.push(wood);
        job.runs[0].left.panel = Some(MaterialRef(job.materials.len() - 1));
        let list = found(&job, "wood-out-of-balance");
        let text = &list[0].text;
        assert!(
            text.contains("across the grain, shrinks by 10.4 mm"),
            "{text}"
        );
    }
}
