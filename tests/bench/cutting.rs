//! How near to the best boards are put together again that were cut up at random, and how long it takes:
//! a section of `cargo bench`. Knows the instances; must not know how boards are cut.

#[path = "../../src/reckon/quantities/guillotine/cut_up.rs"]
mod cut_up;

use std::time::Instant;

use cut_up::{BOARD, KERF, Made, Rule, cut_up};
use rodbook::reckon::quantities::guillotine::{Piece, Stock, cut};

/// Tenths of a millimetre.
const BOARDS: [Stock; 3] = [
    BOARD,
    Stock {
        along: 28_000,
        across: 20_700,
    },
    Stock {
        along: 30_500,
        across: 12_200,
    },
];

pub fn report() {
    sweep("1 to 20 boards put together again", 1..=20, 1);
    // Every so manieth that shares no factor with the 126 kinds of cutting of each number of boards.
    sweep("21 to 40 boards put together again", 21..=40, 53);
}

/// Of all instances every so manieth.
fn sweep(name: &str, boards: std::ops::RangeInclusive<usize>, every: usize) {
    let (mut n, mut one_over, mut too_many, mut worst) = (0, 0, 0, 0);
    let (mut spent, mut longest) = (0.0, 0.0_f64);
    for made in instances(boards).into_iter().step_by(every) {
        let pieces = cut_up(made);
        let begun = Instant::now();
        let found = cut(&pieces, made.board, &[], KERF).len();
        let time = begun.elapsed().as_secs_f64() * 1000.0;
        let over = found - made.boards;
        n += 1;
        one_over += usize::from(over == 1);
        too_many += usize::from(over > (made.boards / 20).max(1));
        worst = worst.max(over);
        spent += time;
        longest = longest.max(time);
    }
    println!(
        "{name}: {n}, {one_over} one over, {too_many} more than one and a twentieth over, worst {worst}; \
         {:.0} ms each, at most {longest:.0}",
        spent / n as f64
    );
}

fn instances(boards: std::ops::RangeInclusive<usize>) -> Vec<Made> {
    let mut all = Vec::new();
    for boards in boards {
        for each in (2..=20).chain([25, 30]) {
            for (grid, turns) in [1, 10, 100]
                .into_iter()
                .flat_map(|g| [(g, false), (g, true)])
            {
                let n = all.len();
                all.push(Made {
                    board: BOARDS[n / 2 % 3],
                    boards,
                    each,
                    grid,
                    turns,
                    rule: [Rule::Mixed, Rule::Largest, Rule::Any][n / 7 % 3],
                    alike: n / 5 % 6 == 0,
                    seed: n as u64,
                });
            }
        }
    }
    all
}
