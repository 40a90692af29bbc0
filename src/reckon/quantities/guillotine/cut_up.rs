//! Boards cut up by random cuts from edge to edge, of which the best cutting is therefore known: for the
//! tests and for `cargo bench`. Knows sizes; must not know how they are put together again.

use super::{Piece, Stock};

/// A fixed sequence (splitmix64), so that every run sees the same boards.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low + 1) as u64) as i64
    }
}

/// Tenths of a millimetre: 2480 × 1230, and what the saw takes.
pub const BOARD: Stock = Stock {
    along: 24_800,
    across: 12_300,
};
pub const KERF: i64 = 40;
const LEAST: i64 = 800;

/// Which piece is cut next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// This leaves no small ones.
    Largest,
    Any,
    /// Either, half the time each.
    Mixed,
}

/// How an instance is made.
#[derive(Clone, Copy, Debug)]
pub struct Made {
    pub board: Stock,
    pub boards: usize,
    pub each: usize,
    pub grid: i64,
    pub turns: bool,
    pub rule: Rule,
    /// Of three boards two are cut as the first.
    pub alike: bool,
    pub seed: u64,
}

/// So many boards cut into so many pieces each, to the last saw cut: nothing is left over.
pub fn cut_up(made: Made) -> Vec<Piece> {
    let (each, grid, turns) = (made.each, made.grid, made.turns);
    let dice = &mut Dice(made.seed);
    let mut all: Vec<Piece> = Vec::new();
    let mut last = Vec::new();
    for n in 0..made.boards {
        let again = made.alike && n % 3 != 0;
        let mut pieces = match again {
            true => last,
            false => vec![(made.board.along, made.board.across)],
        };
        let mut tries = if again { 1000 } else { 0 };
        while pieces.len() < each && tries < 1000 {
            tries += 1;
            let largest = (0..pieces.len()).max_by_key(|i| pieces[*i].0 * pieces[*i].1);
            let any = dice.between(0, pieces.len() as i64 - 1) as usize;
            let i = match made.rule {
                Rule::Any => any,
                Rule::Mixed if dice.between(0, 1) == 1 => any,
                _ => largest.unwrap(),
            };
            let (a, b) = pieces[i];
            let along = dice.between(0, a + b) < a;
            let side = if along { a } else { b };
            if side < 2 * LEAST + KERF {
                continue;
            }
            let cut = dice.between(LEAST, side - LEAST - KERF) / grid * grid;
            if cut < LEAST || side - cut - KERF < LEAST {
                continue;
            }
            pieces.swap_remove(i);
            if along {
                pieces.extend([(cut, b), (a - cut - KERF, b)]);
            } else {
                pieces.extend([(a, cut), (a, b - cut - KERF)]);
            }
        }
        last = pieces.clone();
        for (a, b) in pieces {
            let swap = turns && dice.between(0, 1) == 0;
            let (along, across) = if swap { (b, a) } else { (a, b) };
            let same = |p: &&mut Piece| made.alike && (p.along, p.across) == (along, across);
            match all.iter_mut().find(same) {
                Some(like) => like.count += 1,
                None => all.push(Piece {
                    along,
                    across,
                    turns,
                    count: 1,
                }),
            }
        }
    }
    all
}
