//! Pieces that together make a rectangle with next to nothing lost. Knows sizes and how many are
//! wanted; must not know boards but for their size.

use super::{Piece, Put, Rect};

/// One piece as it may lie, or several.
#[derive(Clone, Debug)]
pub struct Block {
    pub along: i64,
    pub across: i64,
    /// Of its pieces.
    pub area: i64,
    pub members: Vec<Put>,
}

/// Blocks of several pieces kept at each round: as many as there are pieces, within these.
const KEPT: (usize, usize) = (100, 300);
/// Rounds: blocks of blocks of blocks.
const ROUNDS: usize = 4;
/// Of so many single pieces no blocks of blocks are made.
const MANY: usize = 800;
/// Pieces in a block, at most.
const MEMBERS: usize = 10;
/// Neighbours in height tried with each.
const NEIGHBOURS: usize = 12;
/// Heights that differ by less than one part in so many count as one.
const ALIKE: i64 = 400;

impl Block {
    /// Whether all that it is made of is still wanted.
    pub fn is_wanted(&self, rest: &[usize]) -> bool {
        let left = |m: &Put| rest.get(m.piece).copied().unwrap_or(0);
        match &self.members[..] {
            [one] => left(one) > 0,
            all => all.iter().all(|m| {
                let of_it = all.iter().filter(|o| o.piece == m.piece);
                of_it.count() <= left(m)
            }),
        }
    }

    fn joined(a: &Block, b: &Block, beside: bool, board: Rect) -> Option<Block> {
        let (along, across) = match beside {
            true => (a.along + b.along, a.across.max(b.across)),
            false => (a.along.max(b.along), a.across + b.across),
        };
        let many = a.members.len() + b.members.len() > MEMBERS;
        if along > board.along || across > board.across || many {
            return None;
        }
        let moved = b.members.iter().map(|m| Put {
            at: match beside {
                true => Rect {
                    x: m.at.x + a.along,
                    ..m.at
                },
                false => Rect {
                    y: m.at.y + a.across,
                    ..m.at
                },
            },
            ..*m
        });
        Some(Block {
            along,
            across,
            area: a.area + b.area,
            members: a.members.iter().copied().chain(moved).collect(),
        })
    }

    /// Millionths of it that are lost, then the larger first.
    fn order(&self) -> (i64, i64) {
        let lost = self.along * self.across - self.area;
        (
            lost.saturating_mul(1_000_000) / self.area.max(1),
            -self.area,
        )
    }
}

/// Every piece as it may lie, then pieces beside or over one another that are equally high or wide,
/// and blocks of these.
pub fn blocks(pieces: &[Piece], wanted: &[usize], board: Rect) -> Vec<Block> {
    let mut all = singles(pieces, wanted, board);
    let kept = all.len().clamp(KEPT.0, KEPT.1);
    let mut newest = 0;
    let rounds = if all.len() > MANY { 1 } else { ROUNDS };
    for _ in 0..rounds {
        let mut made = Vec::new();
        for beside in [true, false] {
            pairs(&all, newest, beside, |a, b| {
                let block = Block::joined(a, b, beside, board);
                made.extend(block.filter(|m| m.is_wanted(wanted)));
            });
        }
        if made.is_empty() {
            break;
        }
        made.sort_by_key(Block::order);
        made.truncate(kept);
        newest = all.len();
        all.extend(made);
    }
    all
}

fn singles(pieces: &[Piece], wanted: &[usize], board: Rect) -> Vec<Block> {
    let mut all = Vec::new();
    for (n, (piece, count)) in pieces.iter().zip(wanted).enumerate() {
        let plain = (piece.along, piece.across);
        let turned = (piece.across, piece.along);
        let either = piece.turns && plain != turned;
        for (along, across) in [Some(plain), either.then_some(turned)]
            .into_iter()
            .flatten()
        {
            if *count > 0 && along <= board.along && across <= board.across {
                let at = Rect {
                    x: 0,
                    y: 0,
                    along,
                    across,
                };
                all.push(Block {
                    along,
                    across,
                    area: at.area(),
                    members: vec![Put { piece: n, at }],
                });
            }
        }
    }
    all
}

/// Pairs that are alike in the side they would meet with, of which one at least is new.
fn pairs(all: &[Block], newest: usize, beside: bool, mut met: impl FnMut(&Block, &Block)) {
    let side = |b: &Block| if beside { b.across } else { b.along };
    let mut sorted: Vec<(i64, usize, &Block)> = all
        .iter()
        .enumerate()
        .map(|(i, b)| (side(b), i, b))
        .collect();
    sorted.sort_unstable_by_key(|(side, i, _)| (*side, *i));
    for (k, (low, i, a)) in sorted.iter().enumerate() {
        for (high, j, b) in sorted.iter().skip(k).take(NEIGHBOURS) {
            if (high - low).saturating_mul(ALIKE) > *high {
                break;
            }
            if *i.max(j) >= newest {
                met(a, b);
            }
        }
    }
}
