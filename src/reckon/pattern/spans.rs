//! Where a column may lie of a pattern that repeats and is to run on: whole stretches of a board, each
//! place of which answers to one place of the column before. Knows edges, flaws, settled places and the
//! pattern; must not know what a place costs.
//!
//! A stretch is never longer than a repeat: what lies a repeat farther along looks the same and only takes
//! more. For the same reason nothing lies farther along than the nearest place that is clear.

use super::allocate::{End, Problem, Put};
use super::columns::Column;
use super::layout::CutBoard;
use super::phase::next_match;
use crate::resolve::job::Wanted;
use crate::units::Length;

/// Where the last column of a way may end: from the nearest to the farthest. Each micrometre farther costs
/// `rise` micrometres of waste more.
#[derive(Clone, Copy, Debug)]
pub struct Reach {
    /// The nearest.
    pub end: End,
    pub farthest: Length,
    pub rise: i64,
}

/// A stretch in which a column may begin.
#[derive(Clone, Copy, Debug)]
pub struct Move {
    /// The nearest.
    pub put: Put,
    pub farthest: Length,
    pub rise: i64,
    pub from: From,
}

/// Where the column before ends, of all its places the nearest that will do: at `nearest` or, if that is
/// farther, `less` before this column's left edge.
#[derive(Clone, Copy, Debug, Default)]
pub struct From {
    nearest: Length,
    less: Length,
}

impl From {
    pub fn fixed(right: Length, left: Length) -> From {
        From {
            nearest: right,
            less: left - right,
        }
    }
    pub fn at(self, left: Length) -> Length {
        self.nearest.max(left - self.less)
    }
}

/// A stretch of left edges.
#[derive(Clone, Copy)]
struct Span {
    nearest: Length,
    farthest: Length,
    rise: i64,
    from: From,
}

/// What a left edge may not lie between.
type Barred = (Length, Length);

impl Problem<'_> {
    /// The repeat, where places are found as stretches.
    pub(super) fn spanned(&self) -> Option<Length> {
        let runs_on = self.wanted != Wanted::LeastWaste;
        self.repeat.filter(|p| runs_on && *p > Length::ZERO)
    }

    /// Where column `n` may lie in a strip, which goes on from `reach` if `same`.
    pub(super) fn spans(
        &self,
        n: usize,
        reach: Option<&Reach>,
        strip: (usize, Length),
        repeat: Length,
    ) -> Vec<Move> {
        let (Some(column), Some(board)) = (self.columns.get(n), self.boards.get(strip.0)) else {
            return Vec::new();
        };
        if strip.1 + column.height > board.usable.top {
            return Vec::new();
        }
        let same = reach.filter(|r| (r.end.board, r.end.bottom) == strip);
        let edge = same.map_or(board.usable.left, |r| r.end.right + self.loss);
        let spans = match (column.settled, reach, column.gap_before) {
            (Some((wanted, left)), ..) => match board.in_hand == Some(wanted) && left >= edge {
                true => self.settled(left, reach, (same.is_some(), board), repeat, column),
                false => Vec::new(),
            },
            (None, Some(reach), Some(gap)) if self.slack() * 2 < repeat => match same {
                Some(_) => self.on(reach, gap, repeat),
                None => self.anew(reach, gap + self.crests(reach, board), repeat, edge),
            },
            // Wherever it begins it fits what stands before.
            (None, ..) => vec![Span {
                nearest: edge,
                farthest: edge + repeat,
                rise: 1,
                from: From {
                    nearest: reach.map_or(Length::ZERO, |r| r.end.right),
                    less: Length::um(i64::MAX / 4),
                },
            }],
        };
        let mut barred = vec![(Length::um(i64::MIN / 4), board.usable.left)];
        let top = strip.1 + column.height;
        let in_way = board.avoid.iter().map(|(flaw, _)| flaw);
        let in_way = in_way.filter(|f| f.bottom < top && strip.1 < f.top);
        barred.extend(in_way.map(|f| (f.left - column.width, f.right)));
        let last = board.usable.right - column.width;
        let moves = clear(
            spans,
            &barred,
            last,
            column.settled.is_none().then_some(repeat),
        );
        let put = |left| Put {
            board: strip.0,
            left,
            bottom: strip.1,
        };
        let moves = moves.into_iter().map(|span| Move {
            put: put(span.nearest),
            farthest: span.farthest,
            rise: span.rise,
            from: span.from,
        });
        moves.collect()
    }

    /// From the last column's pattern to that of a board.
    fn crests(&self, reach: &Reach, board: &CutBoard) -> Length {
        let before = self.boards.get(reach.end.board);
        let before = before.map_or(Length::ZERO, |b| b.first_crest.0);
        board.first_crest.0 - before
    }

    /// On in the same strip: with the least cut that the aim allows, on to the most; and if part of that is
    /// less than the saw takes, that part a repeat farther along.
    fn on(&self, reach: &Reach, gap: Length, repeat: Length) -> Vec<Span> {
        let slack = self.slack();
        let least = next_match(self.loss, gap, repeat, slack);
        let middle = next_match(least - slack, gap, repeat, Length::ZERO);
        let mut cuts = vec![(least, middle + slack)];
        if least > middle - slack {
            cuts.push((middle + repeat - slack, least + repeat));
        }
        let spans = cuts.into_iter().flat_map(|(least, most)| {
            let from = From {
                nearest: reach.end.right,
                less: most,
            };
            let (first, last) = (reach.end.right + least, reach.farthest + most);
            bent((first, reach.end.right + most, last), (1, reach.rise), from)
        });
        spans.collect()
    }

    /// At the beginning of a strip: as far from the last column's end, on the pattern, as `on` and the aim
    /// say, before the edge at the first.
    fn anew(&self, reach: &Reach, on: Length, repeat: Length, edge: Length) -> Vec<Span> {
        let slack = self.slack();
        let right = reach.end.right;
        let first = next_match(edge, right + on - slack, repeat, Length::ZERO) - repeat;
        let on = first + slack - right;
        let from = From {
            nearest: right,
            less: on + slack,
        };
        let last = reach.farthest + on + slack;
        let bend = right + on + slack;
        let mut out = bent((first, bend, last), (1, reach.rise + 1), from);
        for span in &mut out {
            span.farthest = span.farthest.min(first + repeat);
        }
        out.retain(|span| span.nearest <= span.farthest);
        out
    }

    /// Where the designer wants it: its step is what it comes to, least where the column before ends at its
    /// nearest, at its farthest, or at the first place that lies right.
    fn settled(
        &self,
        left: Length,
        reach: Option<&Reach>,
        (same, board): (bool, &CutBoard),
        repeat: Length,
        column: &Column,
    ) -> Vec<Span> {
        let Some(reach) = reach else {
            return at(left, &[left]);
        };
        let nearest = reach.end.right;
        let farthest = match same {
            true => reach.farthest.min(left - self.loss),
            false => reach.farthest,
        };
        let Some(gap) = column.gap_before else {
            return at(left, &[nearest]);
        };
        let wanted = match same {
            true => left - gap,
            false => left - gap - self.crests(reach, board),
        };
        let fits = next_match(nearest, wanted, repeat, self.slack());
        match fits <= farthest {
            true => at(left, &[fits]),
            false => at(left, &[nearest, farthest]),
        }
    }
}

/// One place, for each end of the column before.
fn at(left: Length, ends: &[Length]) -> Vec<Span> {
    let span = |right: &Length| Span {
        nearest: left,
        farthest: left,
        rise: 1,
        from: From::fixed(*right, left),
    };
    ends.iter().map(span).collect()
}

/// A stretch that rises by one step up to `bend` and by another after it.
fn bent((first, bend, last): (Length, Length, Length), rises: (i64, i64), from: From) -> Vec<Span> {
    let span = |nearest, farthest, rise| Span {
        nearest,
        farthest,
        rise,
        from,
    };
    if rises.0 == rises.1 || bend >= last {
        return vec![span(first, last, rises.0)];
    }
    let mut out = vec![span(bend, last, rises.1)];
    if first < bend {
        out.push(span(first, bend, rises.0));
    }
    out
}

/// What is clear of each stretch, up to the `last` place; what is barred, a repeat farther along, if that
/// will do.
fn clear(spans: Vec<Span>, barred: &[Barred], last: Length, repeat: Option<Length>) -> Vec<Span> {
    let mut out = Vec::new();
    let mut waiting = spans;
    while let Some(mut span) = waiting.pop() {
        if span.nearest > last {
            continue;
        }
        span.farthest = span.farthest.min(last);
        if let Some(repeat) = repeat {
            span.farthest = span.farthest.min(span.nearest + repeat);
        }
        let meets = |(from, to): &&Barred| span.nearest < *to && *from < span.farthest;
        let Some((from, to)) = barred.iter().find(meets) else {
            out.push(span);
            continue;
        };
        if span.nearest <= *from {
            waiting.push(Span {
                farthest: *from,
                ..span
            });
        }
        if *to <= span.farthest {
            waiting.push(Span {
                nearest: *to,
                ..span
            });
        }
        if let Some(repeat) = repeat {
            let (nearest, farthest) = (span.nearest.max(*from), span.farthest.min(*to));
            let times = (*to - farthest).in_um() / repeat.in_um().max(1);
            let on = repeat * times.max(1);
            waiting.push(Span {
                nearest: nearest + on,
                farthest: farthest + on,
                rise: span.rise,
                from: From {
                    less: span.from.less + on,
                    ..span.from
                },
            });
        }
    }
    out
}
