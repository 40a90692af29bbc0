//! The signature page: who signs, and what signing means. Gives no legal advice and defers to the law
//! of the place.

use super::super::context::Context;
use super::super::data::{Block, running};
use super::super::words;

pub fn agree(ctx: &Context) -> Vec<Block> {
    let info = &ctx.job.info;
    let mut blocks = vec![
        Block::paragraph(match ctx.standing.issue {
            Some(_) => format!(
                "Signing here says that you have read all the pages of this pack, job {}, {}, of {}, and that \
                 what they show and list is what is to be made, with anything written on them by hand and \
                 signed beside it.",
                info.number,
                ctx.revision_words(),
                words::date(info.date),
            ),
            None => format!(
                "This pack is a draft of job {}, of {}, and nothing is made from a draft. Signing here \
                 says that you have read all its pages, and that the pack to be made from may be drawn up \
                 from them, with anything written on them by hand and signed beside it. That pack will \
                 bear the number of its revision: what you agree to have made is what you sign there.",
                info.number,
                words::date(info.date),
            ),
        }),
        Block::paragraph(
            "It is not a quotation, an order or a certificate, and it takes none of your rights from \
             you. What a signature binds you to is for your contract and for the law where you live. If \
             you are unsure, ask before you sign.",
        ),
    ];
    for person in ctx.job.people.iter().filter(|p| p.signs) {
        blocks.push(Block::Signature {
            name: running(&person.name, 160.0),
            role: running(&person.role, 160.0),
        });
    }
    match ctx.job.people.iter().any(|p| p.signs) {
        true => blocks,
        false => Vec::new(),
    }
}
