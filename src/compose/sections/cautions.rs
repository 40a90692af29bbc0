//! What can hurt somebody on this job, said before anything is unloaded. Names the heavy pieces; defers
//! to local rules and licensed people, and certifies nothing.

use super::super::context::Context;
use super::super::data::Block;
use super::super::words;
use super::mind;
use crate::units::Mass;

/// Guideline figure for one person lifting close to the body at waist height: HSE, INDG143 and L23,
/// from memory (handbook §2, status M). A filter for an assessment, not a limit.
const ONE_PERSON: Mass = Mass::grams(25_000);

pub fn cautions(ctx: &Context) -> Vec<Block> {
    let mut blocks = vec![
        Block::paragraph(
            "The usual cautions, for somebody who knows the trade. Local rules, the makers' instructions \
             and your own assessment on the day come first. rodbook reckons sizes and masses; it \
             certifies no lift, no fixing and no load.",
        ),
        Block::caution("Lifting.", lifting(ctx)),
    ];
    let rest: &[(&str, &str)] = &[
        (
            "Tipping.",
            "Fix each unit whose card has a line “Wall” to the wall, with a fixing chosen for that wall by \
             somebody competent who has seen it, before any front is hung and before anything is put inside. Never leave a \
             unit standing loose. An open drawer or door can pull a unit over.",
        ),
        (
            "Hidden services.",
            "Find cables, pipes and ducts with a detector before you drill, nail or screw into a wall, \
             floor or ceiling. The drawings show only what was seen at the survey.",
        ),
        (
            "Electricity, gas, water.",
            "Work on these, connecting an appliance included, is for people licensed for it where the \
             job is. Isolate nothing and open nothing that is not yours to open.",
        ),
        (
            "Dust.",
            "Wood and board dust harms the lungs. Cut with extraction or outside, and wear a mask that \
             is made for fine dust and fits your face.",
        ),
        (
            "Old buildings.",
            "Old paint may hold lead; old boards, tiles, textured coatings and pipe lagging may hold \
             asbestos. If you suspect either, stop, keep others away and ask: testing and removing are \
             for licensed people.",
        ),
        (
            "Glass and stone.",
            "Carry on edge, with gloves, two people to a pane or slab. Glass near the floor or in a door \
             must be safety glass as local rules say.",
        ),
        (
            "Fire.",
            "Do not alter, plane, wedge or block a fire door, a smoke detector or a way out. Oily rags \
             heat up by themselves: dry them flat or keep them in water.",
        ),
    ];
    blocks.extend(rest.iter().map(|(title, text)| Block::caution(title, text)));
    blocks
}

fn lifting(ctx: &Context) -> String {
    let mut heavy: Vec<(Mass, String)> = Vec::new();
    for (run, placed) in ctx.runs() {
        for (unit, put) in ctx.units(run, placed) {
            heavy.push((put.mass, unit.id.clone()));
        }
    }
    let others = ctx.reckoned.carried.iter();
    heavy.extend(others.filter_map(|c| Some((c.mass?, c.name.clone()))));
    heavy.retain(|(mass, _)| *mass > ONE_PERSON);
    heavy.sort_by_key(|(mass, _)| std::cmp::Reverse(*mass));
    let named: Vec<String> = heavy
        .into_iter()
        .map(|(mass, what)| format!("{what} {}", words::kg(mass)))
        .collect();
    let named = match named.is_empty() {
        true => "No piece of this job is reckoned heavier than 25 kg.".to_owned(),
        false => format!(
            "Heavier than 25 kg, as reckoned by volume and density, units with their fronts: {}.",
            words::and_list(&named)
        ),
    };
    let machines = machines(ctx);
    format!(
        "{named} {machines}Guideline figures for one person, close to the body at waist height, are 25 kg (men) and \
         16 kg (women); they fall with reach and height, and two people lift about two thirds of what \
         they could singly. They are filters for an assessment, not limits; each unit's card tells how many \
         people, and what helps. Carry long pieces on edge, two people on stairs, the way cleared first."
    )
}

/// Each appliance with its mass and how high it is lifted, and a word of those whose mass nobody gave.
fn machines(ctx: &Context) -> String {
    let mut said: Vec<String> = Vec::new();
    for (run, placed) in ctx.runs() {
        for (unit, put) in ctx.units(run, placed) {
            let inside = mind::machines(ctx, put);
            if !inside.is_empty() {
                said.push(format!("{}: {}", unit.id, inside.trim_end_matches('.')));
            }
        }
    }
    let unweighed = ctx.job.appliances.iter().any(|a| a.mass.is_none());
    match said.is_empty() {
        true => String::new(),
        false => format!(
            "Machines, heights from finished floor: {}.{} ",
            said.join("; "),
            match unweighed {
                true => " Where no mass is given, read the machine's plate before it is lifted.",
                false => "",
            }
        ),
    }
}
