//! How many boards there must be at least, whatever the cutting. Knows sizes alone.
//!
//! A size may be exchanged for another by any rule under which no row of sizes that fits a board comes
//! to more than the board (a dual feasible function; the two families used are those of Fekete and
//! Schepers, 2001, from memory). The areas of the exchanged sizes then still bound the boards.

use super::{Piece, Stock};

/// Rules tried for each side of the board.
const RULES: usize = 14;

/// Fewest boards that the pieces could ever be cut from.
pub fn least_boards(pieces: &[Piece], new: Stock, kerf: i64) -> usize {
    let grow = |n: i64| n.saturating_add(kerf.max(0));
    let grown: Vec<Piece> = pieces
        .iter()
        .map(|p| Piece {
            along: grow(p.along),
            across: grow(p.across),
            ..*p
        })
        .collect();
    let boards = boards(&grown, grow(new.along), grow(new.across));
    (boards - 1e-9).ceil().max(0.0) as usize
}

/// The same as a number that need not be whole, for sizes that hold their kerf.
pub fn boards(pieces: &[Piece], along: i64, across: i64) -> f64 {
    if along <= 0 || across <= 0 {
        return 0.0;
    }
    let mut sides: (Vec<i64>, Vec<i64>) = (Vec::new(), Vec::new());
    for piece in pieces.iter().filter(|p| p.count > 0) {
        sides.0.push(piece.along);
        sides.1.push(piece.across);
        if piece.turns {
            sides.0.push(piece.across);
            sides.1.push(piece.along);
        }
    }
    let rules = (rules(sides.0, along), rules(sides.1, across));
    let mut most = 0.0_f64;
    for f in &rules.0 {
        for g in &rules.1 {
            let share = |a: i64, b: i64| f.share(a, along) * g.share(b, across);
            let all = pieces.iter().map(|p| {
                let one = share(p.along, p.across);
                let one = match p.turns {
                    true => one.min(share(p.across, p.along)),
                    false => one,
                };
                one * p.count as f64
            });
            most = most.max(all.sum());
        }
    }
    most
}

#[derive(Clone, Copy, Debug)]
enum Rule {
    Plain,
    /// What is shorter counts for nothing, what leaves less than that for the whole board.
    Threshold(i64),
    /// Down to whole parts: more than 1/(k+1) of the board counts for 1/k, and so on.
    Parts(i64),
}

impl Rule {
    /// Of the board's side, 0 to 1.
    fn share(self, size: i64, side: i64) -> f64 {
        let plain = size as f64 / side as f64;
        match self {
            Rule::Plain => plain,
            Rule::Threshold(e) if size > side - e => 1.0,
            Rule::Threshold(e) if size < e => 0.0,
            Rule::Threshold(_) => plain,
            Rule::Parts(k) => {
                let times = size.saturating_mul(k + 1);
                match times % side {
                    0 => plain,
                    _ => (times / side) as f64 / k as f64,
                }
            }
        }
    }
}

fn rules(mut sides: Vec<i64>, side: i64) -> Vec<Rule> {
    for size in &mut sides {
        // Just enough for a long piece to count for the whole.
        if *size * 2 > side {
            *size = side - *size + 1;
        }
    }
    sides.retain(|e| *e > 0 && *e * 2 <= side);
    sides.sort_unstable();
    sides.dedup();
    let every = sides.len().div_ceil(RULES).max(1);
    let thresholds = sides
        .iter()
        .rev()
        .step_by(every)
        .map(|e| Rule::Threshold(*e));
    let mut all = vec![Rule::Plain];
    all.extend((1..=4).map(Rule::Parts));
    all.extend(thresholds);
    all
}
