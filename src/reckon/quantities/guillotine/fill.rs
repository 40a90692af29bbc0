//! Boards filled one after the other, then the emptiest anew. Knows blocks, boards and how much work is
//! left; must not know the kerf, which is in every size already.

use std::rc::Rc;

use super::blocks::{Block, blocks};
use super::reach::Reach;
use super::{Piece, Put, Rect, bound, parts};

/// Fittings of a block to a place that may be tried while boards are filled in turn; afterwards for each
/// board, where it is more than one over the bound, and in all its rounds together; where fewer boards
/// might well do; of few pieces, for the square of their number; and where they could only by leaving
/// next to nothing over.
const IN_TURN: u64 = 2_400_000;
const FAR_OVER: u64 = 800_000;
const ALTOGETHER: u64 = 1_200_000;
const HOPEFUL: u64 = 60_000;
const SMALL_JOB: u64 = 50;
const HOPELESS: u64 = 40_000;
/// Fuller than this part of what the fuller half of them are, boards are hardly ever cut.
const FULL: f64 = 0.98;
/// Of the fewest boards that could do, where more than this part would be cut, large pieces do not keep
/// boards apart: the bound may well be reached.
const NEARLY_FULL: f64 = 0.99;
/// Refillings without any gain, after which no more are tried.
const STALE: usize = 120;
const STALE_FAR_OVER: usize = 1000;
/// Up to so many boards one fewer is sought for as long as it need not be very full.
const SMALL: usize = 5;
/// Boards of fewer pieces than this on average are soon settled.
const FEW: usize = 3;
/// Of fewer pieces than this there is less to try: all is filled anew once for every [`EACH`].
const FEW_PIECES: usize = 45;
const EACH: usize = 10;
/// Beyond so many boards one more or less is no longer sought for.
const MANY: usize = 60;
/// Candidates looked at closely for one place.
const CLOSELY: usize = 40;

/// What is tried.
#[derive(Clone, Copy)]
struct Pains {
    /// Fittings in all rounds together.
    most: u64,
    /// More than one over the bound, all but the last may still become as full as this part of what the
    /// fuller half of them are.
    fullest: f64,
    /// Fillings of one board before the next is begun: few at first.
    fillings: [usize; 9],
    /// Fillings of a board that is filled anew.
    anew: usize,
    /// Boards that are filled anew together: so many, and by chance up to so many more.
    together: (usize, usize),
    /// What large pieces and long ones count for, in turn: they are harder to place.
    weights: &'static [Weight],
}

/// The power of a piece's area, and how much more its length counts.
#[derive(Clone, Copy)]
struct Weight(f64, f64);

/// Large pieces keep boards apart: they stay far from full, and the bound is seldom reached.
const ORDINARY: Pains = Pains {
    most: 1_600_000,
    fullest: 0.0,
    fillings: [5, 20, 40, 80, 80, 80, 80, 80, 80],
    anew: 24,
    together: (2, 4),
    weights: &[Weight(1.05, 0.1), Weight(1.0, 0.0)],
};
const TO_THE_BOUND: Pains = Pains {
    most: u64::MAX,
    fullest: 0.995,
    fillings: [10, 80, 80, 80, 80, 80, 80, 80, 80],
    anew: 60,
    together: (3, 15),
    weights: &[Weight(1.05, 0.0), Weight(1.0, 0.0), Weight(1.1, 0.0)],
};

/// One board, filled.
#[derive(Clone, Default)]
pub struct Filled {
    pub puts: Vec<Put>,
    pub left: Vec<Rect>,
    area: i64,
    /// Area weighed so that what is hard to place counts for more.
    worth: f64,
}

/// How one filling chooses.
#[derive(Clone, Copy)]
struct Taste {
    /// What size counts for beside a good fit.
    size: f64,
    /// How far chance may sway it.
    sway: f64,
    /// Whether the smallest place is filled first, or the largest.
    smallest: bool,
}

/// The blocks that may still be cut, and what rows of them come to along and across.
struct Choice {
    board: Rect,
    kinds: Vec<usize>,
    /// The same with their sizes, the smaller first.
    sizes: Vec<Size>,
    /// Where in `sizes` those of each length and of each width are.
    by_along: Vec<(i64, usize)>,
    by_across: Vec<(i64, usize)>,
    along: Reach,
    across: Reach,
}

#[derive(Clone, Copy)]
struct Size {
    room: i64,
    along: i64,
    across: i64,
    kind: usize,
}

pub struct Saw<'a> {
    pieces: &'a [Piece],
    board: Rect,
    blocks: Vec<Block>,
    /// The choice made last, for as long as the same blocks may be cut.
    known: Option<Rc<Choice>>,
    /// Still to be cut, of each kind of piece.
    rest: Vec<usize>,
    work: u64,
    seed: u64,
    pains: Pains,
    /// The work at which all rounds end.
    end: u64,
    weight: Weight,
}

impl<'a> Saw<'a> {
    pub fn new(pieces: &'a [Piece], board: Rect) -> Saw<'a> {
        let rest: Vec<usize> = pieces.iter().map(|p| p.count).collect();
        Saw {
            pieces,
            board,
            blocks: blocks(pieces, &rest, board),
            known: None,
            rest,
            work: 0,
            seed: 0x9e37_79b9_7f4a_7c15,
            pains: ORDINARY,
            end: u64::MAX,
            weight: Weight(1.0, 0.0),
        }
    }

    /// A board in hand, filled with what it holds.
    pub fn one_in_hand(&mut self, board: Rect) -> Filled {
        let most = self.work + IN_TURN / 8;
        let [.., pains] = ORDINARY.fillings;
        self.fullest(board, pains, most)
    }

    /// All that is still to be cut, on as few new boards as are found.
    pub fn new_boards(&mut self) -> Vec<Filled> {
        let rest = self.rest.clone();
        let with = |(piece, n): (&Piece, &usize)| Piece {
            count: *n,
            ..*piece
        };
        let left: Vec<Piece> = self.pieces.iter().zip(&rest).map(with).collect();
        let least = bound::boards(&left, self.board.along, self.board.across);
        let least = (least - 1e-9).ceil().max(0.0) as usize;
        let from = self.work;
        let mut best: Vec<Filled> = Vec::new();
        let area = |p: &Piece| p.along as f64 * p.across as f64 * p.count as f64;
        let all = left.iter().map(area).sum::<f64>() / self.board.area().max(1) as f64;
        self.pains = match all >= NEARLY_FULL * least as f64 {
            true => TO_THE_BOUND,
            false => ORDINARY,
        };
        self.end = from.saturating_add(self.pains.most);
        for (n, pains) in self.pains.fillings.into_iter().enumerate() {
            self.rest.clone_from(&rest);
            let weights = self.pains.weights;
            self.weight = weights
                .get(n % weights.len())
                .copied()
                .unwrap_or(self.weight);
            let mut got = self.in_turn(least, pains);
            self.improve_all(&mut got, least);
            if n == 0 || got.len() < best.len() {
                best = got;
            }
            if self.is_far_over(&best, least) {
                match self.work < from + ALTOGETHER * best.len() as u64 {
                    true => continue,
                    false => break,
                }
            }
            let settled = best.len() <= least || !self.hope(&best);
            let pieces: usize = rest.iter().fold(0, |sum, n| sum.saturating_add(*n));
            let few = pieces < FEW_PIECES && n >= pieces / EACH;
            let done = settled || self.work >= self.end;
            if done || (is_soon_settled(&best) && n > 0) || few {
                break;
            }
        }
        self.rest = vec![0; rest.len()];
        best.sort_by_key(|b| std::cmp::Reverse(b.area));
        best
    }

    /// Whether one board fewer might do: on average they would have to be as full as the fuller half of
    /// them is, less a little.
    fn hope(&self, boards: &[Filled]) -> bool {
        let wanted = self.share_for_one_fewer(boards);
        wanted.is_some_and(|(wanted, fuller)| {
            wanted <= FULL * fuller || (boards.len() <= SMALL && wanted <= 0.93)
        })
    }

    /// Whether there are more than one over the bound that might well be fewer.
    fn is_far_over(&self, boards: &[Filled], least: usize) -> bool {
        let wanted = self.share_for_one_fewer(boards);
        boards.len() > least + 1
            && wanted.is_some_and(|(wanted, fuller)| wanted <= self.pains.fullest * fuller)
    }

    /// How full each would be with one board fewer, and how full the fuller half is now.
    fn share_for_one_fewer(&self, boards: &[Filled]) -> Option<(f64, f64)> {
        if boards.len() < 2 || boards.len() > MANY {
            return None;
        }
        let mut areas: Vec<i64> = boards.iter().map(|b| b.area).collect();
        areas.sort_unstable_by_key(|a| std::cmp::Reverse(*a));
        let whole = self.board.area().max(1) as f64;
        let all: f64 = areas.iter().map(|a| *a as f64 / whole).sum();
        let half = areas.len().div_ceil(2);
        let fuller: f64 = areas.iter().take(half).map(|a| *a as f64 / whole).sum();
        Some((all / (boards.len() - 1) as f64, fuller / half as f64))
    }

    fn improve_all(&mut self, boards: &mut Vec<Filled>, least: usize) {
        let hopeful = self.hope(boards);
        let soon = is_soon_settled(boards);
        let pieces: usize = boards.iter().map(|b| b.puts.len()).sum();
        let small = SMALL_JOB * (pieces * pieces) as u64;
        let near = match hopeful {
            true if pieces < FEW_PIECES || soon => small,
            true => HOPEFUL * boards.len() as u64,
            false => HOPELESS.min(small),
        };
        let far = near.max(FAR_OVER * boards.len() as u64);
        let from = self.work;
        let mut since = 0;
        while boards.len() > least.max(1) && boards.len() <= MANY {
            let (limit, stale) = match self.is_far_over(boards, least) {
                true => (from + far, STALE_FAR_OVER),
                false if hopeful && !self.hope(boards) => break,
                false if soon => (from + near, STALE / 4),
                false => (from + near, STALE),
            };
            let limit = limit.min(self.end);
            if since > stale || self.work > limit {
                break;
            }
            since = if self.improve(boards, limit) {
                0
            } else {
                since + 1
            };
        }
    }

    /// One board after the other; where the next can be cut just as the last, it is.
    fn in_turn(&mut self, least: usize, pains: usize) -> Vec<Filled> {
        let mut out: Vec<Filled> = Vec::new();
        let most = IN_TURN.min(self.end.saturating_sub(self.work));
        let each = most / (least.max(8) as u64);
        while self.rest.iter().any(|n| *n > 0) {
            let again = out.last().filter(|f| self.can_repeat(f)).cloned();
            let filled = match again {
                Some(same) => {
                    self.take(&same);
                    same
                }
                None => self.fullest(self.board, pains, self.work + each),
            };
            if filled.puts.is_empty() {
                break;
            }
            out.push(filled);
        }
        out
    }

    fn can_repeat(&self, filled: &Filled) -> bool {
        let mut left = self.rest.clone();
        filled.puts.iter().all(|put| match left.get_mut(put.piece) {
            Some(n) if *n > 0 => {
                *n -= 1;
                true
            }
            _ => false,
        })
    }

    fn take(&mut self, filled: &Filled) {
        for put in &filled.puts {
            if let Some(n) = self.rest.get_mut(put.piece) {
                *n = n.saturating_sub(1);
            }
        }
    }

    /// Empties the emptiest board and some others, and fills anew what was on them; keeps that only
    /// where fewer boards do, or what is empty is gathered on fewer of them (the sum of the squares of
    /// what is cut from each is larger). Whether there was such a gain.
    fn improve(&mut self, boards: &mut Vec<Filled>, limit: u64) -> bool {
        boards.sort_by_key(|b| b.area);
        let wanted =
            (self.pains.together.0 + self.below(self.pains.together.1 + 1)).min(boards.len());
        let mut taken = vec![0_usize];
        while taken.len() < wanted {
            // The emptier, the likelier.
            let at = self.below(boards.len()).min(self.below(boards.len()));
            if !taken.contains(&at) {
                taken.push(at);
            }
        }
        self.work += 50;
        let of = |at: &usize| boards.get(*at);
        self.rest = vec![0; self.pieces.len()];
        for put in taken.iter().filter_map(of).flat_map(|b| &b.puts) {
            if let Some(n) = self.rest.get_mut(put.piece) {
                *n += 1;
            }
        }
        // Among few pieces those that belong together are found.
        let few = blocks(self.pieces, &self.rest, self.board);
        let known = std::mem::replace(&mut self.blocks, few);
        self.known = None;
        self.work += 4 * self.blocks.len() as u64;
        let mut anew: Vec<Filled> = Vec::new();
        while self.rest.iter().any(|n| *n > 0) && anew.len() <= taken.len() {
            let filled = self.fullest(self.board, self.pains.anew, limit);
            if filled.puts.is_empty() {
                break;
            }
            anew.push(filled);
        }
        self.blocks = known;
        self.known = None;
        let whole = self.board.area().max(1) as f64;
        let square = |b: &Filled| {
            let full = b.area as f64 / whole;
            full * full
        };
        let before: f64 = taken.iter().filter_map(of).map(square).sum();
        let after: f64 = anew.iter().map(square).sum();
        let fewer = anew.len() < taken.len();
        let kept = fewer || (anew.len() == taken.len() && after >= before);
        if self.rest.iter().any(|n| *n > 0) || !kept {
            return false;
        }
        taken.sort_unstable();
        for at in taken.iter().rev() {
            boards.swap_remove(*at);
        }
        boards.extend(anew);
        fewer || after > before
    }

    /// The fullest of several fillings of one board, taken out of what is still to be cut.
    fn fullest(&mut self, board: Rect, pains: usize, limit: u64) -> Filled {
        let choice = self.choice(board);
        let wanted: usize = self.rest.iter().fold(0, |sum, n| sum.saturating_add(*n));
        let mut best = Filled::default();
        for n in 0..pains {
            let size = [0.35, 0.15, 0.7, 0.05].get(n % 4).copied().unwrap_or(0.35);
            let taste = Taste {
                size: size * (0.5 + self.chance()),
                sway: if n < 4 { 0.0 } else { 0.12 * self.chance() },
                smallest: n % 8 < 6,
            };
            let filled = self.fill(board, taste, &choice);
            if filled.worth > best.worth {
                best = filled;
            }
            if best.puts.len() >= wanted || self.work > limit {
                break;
            }
        }
        self.take(&best);
        best
    }

    fn choice(&mut self, board: Rect) -> Rc<Choice> {
        let wanted = |k: &usize| self.blocks.get(*k).is_some_and(|b| b.is_wanted(&self.rest));
        let kinds: Vec<usize> = (0..self.blocks.len()).filter(wanted).collect();
        self.work += kinds.len() as u64 / 32;
        if let Some(known) = &self.known
            && known.kinds == kinds
            && known.board == board
        {
            return Rc::clone(known);
        }
        let singles = kinds.iter().filter_map(|k| self.blocks.get(*k));
        let singles: Vec<&Block> = singles.filter(|b| b.members.len() == 1).collect();
        let sides = |of: fn(&Block) -> i64| {
            let mut sides: Vec<i64> = singles.iter().map(|b| of(b)).collect();
            sides.sort_unstable();
            sides.dedup();
            sides
        };
        let (along, a) = Reach::new(&sides(|b| b.along), board.along);
        let (across, b) = Reach::new(&sides(|b| b.across), board.across);
        self.work += a + b;
        let of = |k: &usize| {
            let block = self.blocks.get(*k)?;
            Some(Size {
                room: block.along * block.across,
                along: block.along,
                across: block.across,
                kind: *k,
            })
        };
        let mut sizes: Vec<Size> = kinds.iter().filter_map(of).collect();
        sizes.sort_unstable_by_key(|s| (s.room, s.kind));
        let sorted = |of: fn(&Size) -> i64| {
            let mut sorted: Vec<(i64, usize)> =
                sizes.iter().enumerate().map(|(i, s)| (of(s), i)).collect();
            sorted.sort_unstable();
            sorted
        };
        let choice = Rc::new(Choice {
            board,
            kinds,
            by_along: sorted(|s| s.along),
            by_across: sorted(|s| s.across),
            sizes,
            along,
            across,
        });
        self.known = Some(Rc::clone(&choice));
        choice
    }

    /// Fills one board once: place by place, each with what suits it best.
    fn fill(&mut self, board: Rect, taste: Taste, choice: &Choice) -> Filled {
        let mut rest = self.rest.clone();
        let mut free = vec![board];
        let mut done = Filled::default();
        loop {
            let order = |r: &Rect| (r.area(), r.x, r.y);
            let spots = free.iter().enumerate();
            let next = match taste.smallest {
                true => spots.min_by_key(|(_, r)| order(r)),
                false => spots.max_by_key(|(_, r)| order(r)),
            };
            let Some(place) = next.map(|(i, _)| i).map(|i| free.swap_remove(i)) else {
                return done;
            };
            let chosen = self.best(&rest, place, taste, choice);
            let Some((block, upright)) =
                chosen.and_then(|(k, upright)| Some((self.blocks.get(k)?, upright)))
            else {
                done.left.push(place);
                continue;
            };
            for put in &block.members {
                if let Some(n) = rest.get_mut(put.piece) {
                    *n = n.saturating_sub(1);
                }
                let at = Rect {
                    x: place.x + put.at.x,
                    y: place.y + put.at.y,
                    ..put.at
                };
                done.puts.push(Put { at, ..*put });
                done.area += at.area();
                done.worth += worth(at, board, self.weight);
            }
            free.extend(parts(place, block.along, block.across, upright));
        }
    }

    /// The block that suits a place best, and how the rest of it is parted. Those that match a side are
    /// all looked at, of the others so many as are met first when going round in strides.
    fn best(
        &mut self,
        rest: &[usize],
        place: Rect,
        taste: Taste,
        choice: &Choice,
    ) -> Option<(usize, bool)> {
        let mut best: Option<(f64, (usize, bool))> = None;
        let exact = |sorted: &[(i64, usize)], side: i64| {
            let first = sorted.partition_point(|s| s.0 < side);
            let same = sorted.iter().skip(first).take_while(|s| s.0 == side);
            same.map(|s| s.1).collect::<Vec<usize>>()
        };
        let room = place.area();
        let small = choice.sizes.partition_point(|s| s.room <= room);
        let (mut next, mut stride) = (0, 1);
        if small > CLOSELY {
            let mut at = exact(&choice.by_along, place.along);
            at.extend(exact(&choice.by_across, place.across));
            for size in at.iter().filter_map(|i| choice.sizes.get(*i)) {
                self.weigh(*size, rest, place, taste, choice, &mut best);
            }
            (next, stride) = (self.below(small), coming_round(small));
        }
        let (mut met, mut seen) = (0, 0);
        while seen < small && met < CLOSELY {
            if let Some(size) = choice.sizes.get(next)
                && self.weigh(*size, rest, place, taste, choice, &mut best)
            {
                met += 1;
            }
            next += stride;
            next -= if next >= small { small } else { 0 };
            seen += 1;
        }
        self.work += seen as u64 / 16;
        best.map(|b| b.1)
    }

    /// Whether a block may be cut from a place, which is then kept if it suits best.
    fn weigh(
        &mut self,
        size: Size,
        rest: &[usize],
        place: Rect,
        taste: Taste,
        choice: &Choice,
        best: &mut Option<(f64, (usize, bool))>,
    ) -> bool {
        let (along, across) = (size.along, size.across);
        if along > place.along || across > place.across {
            return false;
        }
        let block = self.blocks.get(size.kind).filter(|b| b.is_wanted(rest));
        let Some(area) = block.map(|b| b.area) else {
            return false;
        };
        self.work += 1;
        let sway = match taste.sway > 0.0 {
            true => taste.sway * self.chance(),
            false => 0.0,
        };
        for upright in [true, false] {
            let of_rest = parts(place, along, across, upright)
                .map(|r| r.area() - choice.along.of(r.along) * choice.across.of(r.across));
            let lost = along * across - area + of_rest.sum::<i64>();
            let whole = place.area().max(1) as f64;
            let score = (lost as f64 - taste.size * area as f64) / whole + sway;
            if best.is_none_or(|b| score < b.0) {
                *best = Some((score, (size.kind, upright)));
            }
        }
        true
    }

    /// The next of a fixed sequence that looks like chance (xorshift), 0 to 1.
    fn chance(&mut self) -> f64 {
        self.seed ^= self.seed << 13;
        self.seed ^= self.seed >> 7;
        self.seed ^= self.seed << 17;
        (self.seed >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.chance() * n as f64) as usize).min(n.saturating_sub(1))
    }
}

/// Whether there is little to choose: few boards, or few pieces on each.
fn is_soon_settled(boards: &[Filled]) -> bool {
    let pieces: usize = boards.iter().map(|b| b.puts.len()).sum();
    boards.len() <= SMALL || pieces < boards.len() * FEW
}

/// A step that comes round to every one of so many.
fn coming_round(n: usize) -> usize {
    let common = |mut a: usize, mut b: usize| {
        while b > 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    let near = n * 5 / 8;
    (near.max(1)..=n.max(1))
        .find(|s| common(*s, n) == 1)
        .unwrap_or(1)
}

/// A piece's share of the board, weighed.
fn worth(at: Rect, board: Rect, weight: Weight) -> f64 {
    let share = at.area() as f64 / board.area().max(1) as f64;
    let long = at.along as f64 / board.along.max(1) as f64;
    let long = long.max(at.across as f64 / board.across.max(1) as f64);
    libm::pow(share, weight.0) * (1.0 + weight.1 * long)
}
