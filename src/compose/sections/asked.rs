//! What the client's cover asks: read, check, say. Knows the people who sign; must not promise or price
//! anything.

use super::super::context::Context;
use super::super::data::Block;
use super::super::words;
use crate::risks::CLIENT;

pub fn note(ctx: &Context) -> Vec<Block> {
    Block::paragraphs(&ctx.job.info.note_to_client)
}

pub fn asked(ctx: &Context) -> Vec<Block> {
    let designer = words::or_nothing(&ctx.job.info.designer);
    let mut steps = vec![
        "Read. Begin with the drawings of the shut fronts, then the open ones, then the lists."
            .to_owned(),
        "Check. Does every door open the way you want it to? Are the handles where your hand goes? \
         Will what you own fit inside? Are the boards, the finishes and the appliances the ones you \
         chose?"
            .to_owned(),
        format!(
            "Say. Write on these pages, or tell {designer}, whatever is wrong, missing or not clear. \
             Nothing is too small to ask about now; much is hard to change once a board is cut."
        ),
    ];
    let risks = ctx.told.risks.of(CLIENT).count();
    if risks > 0 {
        steps.push(format!(
            "Choose. \u{201c}What may go wrong\u{201d} tells you of {risks} {}, in plain words, with what it may cost where \
             it has a price. Tick what you choose for each, and ask for each price that you need.",
            if risks == 1 { "risk" } else { "risks" }
        ));
    }
    if ctx.job.people.iter().any(|p| p.signs) {
        steps.push(
            "Sign \u{201c}Your agreement\u{201d} at the end, with your initials beside each line, once all of it is as you want it."
                .to_owned(),
        );
    }
    vec![
        Block::list(true, steps),
        Block::caution(
            "These drawings are not a quotation.",
            "They show what would be made and fitted, and put no price on it. Sizes come from the \
             survey and are in millimetres. Whatever touches electricity, gas, water, fire safety or \
             the building itself stays with the licensed people who do that work and with the rules \
             where you live.",
        ),
    ]
}
