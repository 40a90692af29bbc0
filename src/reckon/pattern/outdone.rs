//! Ways that end in the same strip after as many columns: which of them another outdoes, so that they need
//! not be gone on with. Knows where they end and what they cost; must not know how they came there.

use std::collections::BTreeMap;

use super::allocate::Cost;
use crate::units::Length;

/// Board, and bottom and top of a strip of it.
pub type Strip = (usize, Length, Length);

/// Where a way may end, and what it costs at the nearest; each micrometre farther costs `rise` more.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    pub nearest: Length,
    pub farthest: Length,
    pub cost: Cost,
    pub rise: i64,
}

impl Stretch {
    fn waste(&self, at: Length) -> i64 {
        self.cost.waste + (at - self.nearest).in_um() * self.rise
    }
    fn part(&self, nearest: Length, farthest: Length) -> Stretch {
        let cost = Cost {
            waste: self.waste(nearest),
            ..self.cost
        };
        Stretch {
            nearest,
            farthest,
            cost,
            ..*self
        }
    }
    /// The same so much farther along, where it costs so much more.
    fn moved(&self, on: Length) -> Stretch {
        let cost = Cost {
            waste: self.cost.waste + on.in_um(),
            ..self.cost
        };
        Stretch {
            nearest: self.nearest + on,
            farthest: self.farthest + on,
            cost,
            ..*self
        }
    }
    /// From where to where the other costs no less than this.
    fn outdoes(&self, other: &Stretch) -> Option<(Length, Length)> {
        let nearest = self.nearest.max(other.nearest);
        let farthest = self.farthest.min(other.farthest);
        if nearest > farthest {
            return None;
        }
        let aims = |c: Cost| (c.boards, c.bought, c.changes, c.step);
        match aims(self.cost).cmp(&aims(other.cost)) {
            std::cmp::Ordering::Less => return Some((nearest, farthest)),
            std::cmp::Ordering::Greater => return None,
            std::cmp::Ordering::Equal => {}
        }
        // By how much it must cost less at least.
        let by = i64::from(self.cost.colour > other.cost.colour);
        let spare = |at| other.waste(at) - self.waste(at) - by;
        let rise = other.rise - self.rise;
        match (spare(nearest), spare(farthest)) {
            (0.., 0..) => Some((nearest, farthest)),
            (_, more @ 0..) => Some((farthest - Length::um(more / rise.max(1)), farthest)),
            (more @ 0.., _) => Some((nearest, nearest + Length::um(more / (-rise).max(1)))),
            _ => None,
        }
    }
}

/// A stretch and the way it ends.
type Ended = (Stretch, usize);

/// The repeat is looked at in so many shares.
const SHARES: i64 = 64;

/// The ways known to one number of columns put, by strip and, where no stretches are looked at, by place;
/// then by share of the repeat.
#[derive(Clone)]
pub struct Ways {
    repeat: Option<Length>,
    rough: bool,
    ways: BTreeMap<(Strip, Length), Vec<Vec<Ended>>>,
}

impl Ways {
    pub fn of(repeat: Option<Length>, rough: bool) -> Ways {
        Ways {
            repeat,
            rough,
            ways: BTreeMap::new(),
        }
    }

    fn key(&self, strip: Strip, nearest: Length) -> (Strip, Length) {
        match self.repeat.is_some() || self.rough {
            true => (strip, Length::ZERO),
            false => (strip, nearest),
        }
    }

    /// The shares of the repeat that a stretch lies in.
    fn shares(&self, nearest: Length, farthest: Length) -> impl Iterator<Item = usize> + use<> {
        let p = match self.repeat.filter(|_| !self.rough) {
            Some(p) => p.in_um().max(1),
            None => i64::MAX,
        };
        let wide = (p / SHARES).max(1);
        let all = match p {
            i64::MAX => 1,
            p => (p - 1) / wide + 1,
        };
        let from = nearest.in_um().rem_euclid(p);
        let to = from.saturating_add((farthest - nearest).in_um());
        let first = (from / wide).min(all - 1);
        let (last, again) = match to - from >= p || to >= p {
            true => (all - 1, ((to - p) / wide).min(first - 1)),
            false => ((to / wide).min(all - 1), -1),
        };
        let each = (first..=last).chain(0..=again);
        each.map(|share| usize::try_from(share).unwrap_or(0))
    }

    /// Whether no other way has outdone this one since it was offered.
    pub fn holds(&self, strip: Strip, nearest: Length, way: usize) -> bool {
        let ways = self.ways.get(&self.key(strip, nearest));
        let share = self.shares(nearest, nearest).next().unwrap_or(0);
        let ways = ways.and_then(|shares| shares.get(share));
        ways.is_some_and(|ways| ways.iter().any(|(_, w)| *w == way))
    }

    /// What of a stretch no known way outdoes; this is then known itself, as ways from `first` on.
    pub fn offer(
        &mut self,
        strip: Strip,
        offered: Stretch,
        first: usize,
        compared: &mut usize,
    ) -> Vec<Stretch> {
        let (repeat, rough) = (self.repeat, self.rough);
        let shares = self.shares(offered.nearest, offered.farthest);
        let shares: Vec<usize> = shares.collect();
        let key = self.key(strip, offered.nearest);
        let mut left = vec![offered];
        if let Some(known) = self.ways.get(&key) {
            let known = shares.iter().filter_map(|share| known.get(*share));
            for (known, _) in known.flatten() {
                *compared += left.len();
                let outdone = |l: &Stretch| match rough {
                    true => is_before(known, l),
                    false => meetings(known, l, repeat).any(|moved| moved.outdoes(l).is_some()),
                };
                if !left.iter().any(outdone) {
                    continue;
                }
                left = match rough {
                    true => Vec::new(),
                    false => left.iter().flat_map(|l| less(l, known, repeat)).collect(),
                };
                if left.is_empty() {
                    return left;
                }
            }
        }
        for (l, way) in left.iter().zip(first..) {
            for share in self.shares(l.nearest, l.farthest) {
                let ways = self.ways.entry(key).or_default();
                if ways.len() <= share {
                    ways.resize_with(share + 1, Vec::new);
                }
                let Some(ways) = ways.get_mut(share) else {
                    continue;
                };
                *compared += ways.len();
                ways.retain(|(known, _)| {
                    let whole = Some((known.nearest, known.farthest));
                    match rough {
                        true => !is_before(l, known),
                        false => !meetings(l, known, repeat).any(|m| m.outdoes(known) == whole),
                    }
                });
                ways.push((*l, way));
            }
        }
        left
    }
}

/// Whether one is no farther along than the other and costs no more, wherever the pattern lies.
fn is_before(one: &Stretch, other: &Stretch) -> bool {
    let on = other.nearest - one.nearest;
    on >= Length::ZERO && one.moved(on).cost <= other.cost
}

/// What is left of a stretch when each place is left out that another, whole repeats before it, outdoes.
fn less(stretch: &Stretch, other: &Stretch, repeat: Option<Length>) -> Vec<Stretch> {
    let mut left = vec![*stretch];
    for moved in meetings(other, stretch, repeat) {
        left = left.iter().flat_map(|l| without(l, &moved)).collect();
    }
    left
}

/// A stretch so many whole repeats farther along that it comes to lie over the other.
fn meetings(
    one: &Stretch,
    other: &Stretch,
    repeat: Option<Length>,
) -> impl Iterator<Item = Stretch> {
    let back = (other.nearest - one.farthest).in_um().max(0);
    let ahead = (other.farthest - one.nearest).in_um();
    let (first, last) = match repeat.map(|p| p.in_um().max(1)) {
        Some(p) => ((back + p - 1) / p, ahead.div_euclid(p)),
        None => (back, ahead.min(0)),
    };
    let one = *one;
    let repeat = repeat.unwrap_or_default();
    (first..=last).map(move |times| one.moved(repeat * times))
}

fn without(stretch: &Stretch, other: &Stretch) -> Vec<Stretch> {
    let Some((from, to)) = other.outdoes(stretch) else {
        return vec![*stretch];
    };
    if from == to && stretch.nearest < from && to < stretch.farthest {
        return vec![*stretch];
    }
    let mut left = Vec::new();
    if stretch.nearest < from {
        left.push(stretch.part(stretch.nearest, from));
    }
    if to < stretch.farthest {
        left.push(stretch.part(to, stretch.farthest));
    }
    left
}
