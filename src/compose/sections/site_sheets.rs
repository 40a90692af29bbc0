//! Sheets filled in by hand on site: snags, and completion. Knows who is to sign; certifies nothing.

use super::super::context::Context;
use super::super::data::{Align, Block, Table, running};
use super::hardware::TICK;

pub fn snags(_: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 10.0, Align::Right),
        ("Where (front, unit, wall)", 40.0, Align::Left),
        ("What is the matter", 75.0, Align::Left),
        ("Who puts it right", 34.0, Align::Left),
        ("Done", 16.0, Align::Middle),
    ])
    .tall(11.0);
    for number in 1..=19 {
        let number = number.to_string();
        table.row([number.as_str(), "", "", "", TICK]);
    }
    vec![Block::Table(table)]
}

pub fn completion(ctx: &Context) -> Vec<Block> {
    let mut table = Table::new(&[
        ("", 10.0, Align::Middle),
        ("Before you leave", 165.0, Align::Left),
    ])
    .tall(6.0);
    for line in [
        "Every unit whose card has a line “Wall” is fixed to the wall, and pulled to try it",
        "Every front opens, shuts and clears its neighbours; gaps are even",
        "Every drawer and sliding door runs and stops as it should",
        "Feet bear, plinths and scribes are fixed, cut-outs are sealed",
        "Edges and cuts made here are sealed and finished as the board's maker says",
        "Protection is taken off, fronts are wiped of hand marks, the floor is swept, waste is taken away",
        "The instructions of the makers of appliances and hardware are handed over",
        "What is still to do is on the snag sheet",
    ] {
        table.row([TICK, line]);
    }
    let fitter = match ctx.job.info.fitter.trim() {
        "" => "Fitter",
        name => name,
    };
    let client = match ctx.job.info.client.trim() {
        "" => "Client",
        name => name,
    };
    let signature = |name: &str, role: &str| Block::Signature {
        name: running(name, 160.0),
        role: role.to_owned(),
    };
    vec![
        Block::Table(table),
        Block::paragraph(
            "Signing says that both have gone round the work together and that the snag sheet lists what \
             is still to do. It takes away no right that the contract or the law where the job is gives \
             to either.",
        ),
        signature(fitter, "fitter"),
        signature(client, "client, or somebody on the client's behalf"),
    ]
}
