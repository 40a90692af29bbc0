//! Arithmetic of a pattern that repeats: what is left of a jump, and what must be cut away. Knows
//! lengths and nothing else.

use crate::resolve::job::Wanted;
use crate::units::Length;

/// A jump reduced by whole repeats to the least there is: in (−P/2, P/2]. Without a repeat it is
/// what it is (handbook §5).
pub fn reduced(jump: Length, repeat: Option<Length>) -> Length {
    let Some(p) = repeat.map(Length::in_um).filter(|p| *p > 0) else {
        return jump;
    };
    let rest = jump.in_um().rem_euclid(p);
    Length::um(if rest * 2 > p { rest - p } else { rest })
}

/// The first place at or after `from` where the pattern is within `slack` of `wanted` by whole
/// repeats.
pub fn next_match(from: Length, wanted: Length, repeat: Length, slack: Length) -> Length {
    if reduced(from - wanted, Some(repeat)).abs() <= slack {
        return from;
    }
    let ahead = (wanted - slack - from)
        .in_um()
        .rem_euclid(repeat.in_um().max(1));
    from + Length::um(ahead)
}

/// What is cut away between two neighbours with `gap` between them on the wall, when the saw takes
/// `loss` at least and nothing is in the way: r = g + n·P for an exact run (handbook §5).
pub fn cut_away(gap: Length, loss: Length, repeat: Option<Length>, wanted: Wanted) -> Length {
    match (wanted, repeat) {
        (Wanted::LeastWaste, _) => loss,
        (Wanted::Exact, None) => loss.max(gap),
        (Wanted::Within(limit), None) => loss.max(gap - limit),
        (Wanted::Exact, Some(p)) => next_match(loss, gap, p, Length::ZERO),
        (Wanted::Within(limit), Some(p)) => next_match(loss, gap, p, limit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(v: i64) -> Length {
        Length::mm(v)
    }

    // Handbook §5, worked: g 3, r_min 8: P 10 → r 13, waste 5; P 5 → r 8, waste 0; P 32 → r 35,
    // waste 27.
    #[test]
    fn strips_for_an_exact_run() {
        for (p, r) in [(10, 13), (5, 8), (32, 35)] {
            let got = cut_away(mm(3), mm(8), Some(mm(p)), Wanted::Exact);
            assert_eq!(got, mm(r), "P {p}");
            assert_eq!(reduced(got - mm(3), Some(mm(p))), Length::ZERO);
        }
    }

    // Handbook §5, worked (C for the figures): cutter 8, gap 3 → the pattern jumps 5.
    #[test]
    fn a_natural_pattern_jumps_by_what_the_saw_takes_more_than_the_gap() {
        let r = cut_away(mm(3), mm(8), None, Wanted::Exact);
        assert_eq!(reduced(r - mm(3), None), mm(5));
        // A gap wider than the saw's loss can be had without a jump.
        assert_eq!(cut_away(mm(12), mm(8), None, Wanted::Exact), mm(12));
        assert_eq!(cut_away(mm(12), mm(8), None, Wanted::LeastWaste), mm(8));
    }

    // By hand: the handbook's (−P/2, P/2].
    #[test]
    fn jumps_are_reduced_to_the_least() {
        let p = Some(mm(10));
        for (jump, left) in [(5, 5), (6, -4), (-5, 5), (-4, -4), (27, -3), (10, 0)] {
            assert_eq!(reduced(mm(jump), p), mm(left), "{jump}");
        }
    }

    // By hand: within 4 of 3 + n·32, not under 8: 31 is 28 on, and 35 − 4.
    #[test]
    fn a_limit_saves_what_it_allows() {
        let r = cut_away(mm(3), mm(8), Some(mm(32)), Wanted::Within(mm(4)));
        assert_eq!(r, mm(31));
        let r = cut_away(mm(3), mm(8), Some(mm(32)), Wanted::Within(mm(5)));
        assert_eq!(r, mm(8));
    }
}
