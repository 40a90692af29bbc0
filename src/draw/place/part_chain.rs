//! The part of a dimension chain that is on a sheet: its stops in order, and whether it runs on
//! beyond. Knows exact lengths; nothing of paper.

use crate::draw::scene::{Chain, ChainSide};
use crate::units::Length;

/// A chain cut to the part of the object that is on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct PartChain {
    pub side: ChainSide,
    pub tier: u8,
    /// Stops on this sheet, ascending, with where the object's edge is there (real mm).
    pub stops: Vec<(Length, Option<f64>)>,
    /// The first or last value runs on beyond the sheet: from a stop that is not on it.
    pub open_before: Option<Length>,
    pub open_after: Option<Length>,
    /// The sheet's edge, where the line of an open chain ends (real mm).
    pub window: Option<(f64, f64)>,
    pub name: String,
    pub running_from: Option<Length>,
    /// Spaces that get no value.
    pub silent: Vec<(Length, Length)>,
    /// What stands between two stops.
    pub named: Vec<(Length, Length, String)>,
}

impl PartChain {
    /// The whole chain: stops in order, those that coincide dropped.
    pub fn whole(chain: &Chain) -> PartChain {
        let reach = |i: usize| match chain.reach.len() {
            n if n == chain.stops.len() => chain.reach.get(i).copied(),
            _ => chain.reach.first().copied(),
        };
        let mut stops: Vec<(Length, Option<f64>)> = chain
            .stops
            .iter()
            .enumerate()
            .map(|(i, s)| (*s, reach(i).map(Length::in_mm)))
            .collect();
        stops.sort_by_key(|(s, _)| *s);
        stops.dedup_by_key(|(s, _)| *s);
        PartChain {
            side: chain.side,
            tier: chain.tier,
            stops,
            open_before: None,
            open_after: None,
            window: None,
            name: match chain.side {
                ChainSide::Left | ChainSide::Right if !chain.named.is_empty() => {
                    together(chain.named.iter().map(|n| n.2.as_str()))
                }
                _ => chain.name.clone(),
            },
            running_from: chain.running_from,
            silent: chain.silent.clone(),
            named: chain.named.clone(),
        }
    }

    /// For chains across `x`: what belongs to the part between two places; `None` where nothing of it
    /// stands there.
    pub fn of_part(chain: &Chain, left: f64, right: f64) -> Option<PartChain> {
        const NEAR: f64 = 1.0;
        let mut part = PartChain::whole(chain).pulled_to(left, right);
        part.stops.retain(|(stop, _)| {
            let mut own = chain.stands.iter().filter(|(s, ..)| s == stop).peekable();
            let here = |(_, from, to): &(Length, f64, f64)| {
                let middle = (from + to) / 2.0;
                (*from < right - NEAR && *to > left + NEAR) || (left < middle && middle < right)
            };
            own.peek().is_none() || own.any(here)
        });
        let shows =
            |n: &&(Length, Length, String)| n.0.in_mm() < right - NEAR && n.1.in_mm() > left + NEAR;
        if !chain.named.is_empty() {
            let shown = chain.named.iter().filter(shows);
            part.name = together(shown.map(|n| n.2.as_str()));
        }
        (part.stops.len() > 1).then_some(part)
    }

    /// For chains across `x`: extension lines begin no further than the sheet's part.
    pub fn pulled_to(mut self, left: f64, right: f64) -> PartChain {
        for (_, reach) in &mut self.stops {
            *reach = reach.map(|r| r.max(left).min(right));
        }
        self
    }

    /// The part between two match lines (real mm); `None` where nothing of it is there. Only for
    /// chains along `x`.
    pub fn between(mut self, left: f64, right: f64) -> Option<PartChain> {
        const NEAR: f64 = 0.01;
        let before = self
            .stops
            .iter()
            .rev()
            .find(|(s, _)| s.in_mm() < left - NEAR)
            .copied();
        let after = self
            .stops
            .iter()
            .find(|(s, _)| s.in_mm() > right + NEAR)
            .copied();
        let within = |s: Length| s.in_mm() >= left - NEAR && s.in_mm() <= right + NEAR;
        self.stops.retain(|(s, _)| within(*s));
        if self.running_from.is_some() {
            return (!self.stops.is_empty()).then_some(self);
        }
        let starts_at = |edge: f64, s: Option<&(Length, Option<f64>)>| {
            s.is_some_and(|(s, _)| (s.in_mm() - edge).abs() <= NEAR)
        };
        if !starts_at(left, self.stops.first()) {
            self.open_before = before.map(|(s, _)| s);
        }
        if !starts_at(right, self.stops.last()) {
            self.open_after = after.map(|(s, _)| s);
        }
        self.window = Some((left, right));
        let values = (self.stops.len() + usize::from(self.open_before.is_some()))
            + usize::from(self.open_after.is_some());
        (values >= 2).then_some(self)
    }
}

/// So many names, or runs of them, are written out at the head of a chain.
const MOST_NAMES: usize = 4;

/// `L1, L3\u{2013}L5`: names that count on from one another as a run.
fn together<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut runs: Vec<(&str, &str, usize)> = Vec::new();
    for name in names {
        match runs.last_mut() {
            Some(run) if counts_on(run.1, name) => (run.1, run.2) = (name, run.2 + 1),
            _ => runs.push((name, name, 1)),
        }
    }
    let more = runs.len() > MOST_NAMES;
    let told = runs
        .iter()
        .take(MOST_NAMES)
        .map(|(first, last, n)| match n {
            1 => (*first).to_owned(),
            2 => format!("{first}, {last}"),
            _ => format!("{first}\u{2013}{last}"),
        });
    let mut told: Vec<String> = told.collect();
    if more {
        told.push("others".to_owned());
    }
    told.join(", ")
}

/// Whether a name is the other with the next number.
fn counts_on(first: &str, then: &str) -> bool {
    let stem = |name: &str| name.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (a, b) = (first.split_at(stem(first)), then.split_at(stem(then)));
    let number = |digits: &str| digits.parse::<u32>().ok();
    let next = number(a.1).and_then(|n| n.checked_add(1));
    a.0 == b.0 && next.is_some() && next == number(b.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: plain counting.
    #[test]
    fn names_that_count_on_are_said_as_a_run() {
        let said = |names: &[&str]| together(names.iter().copied());
        assert_eq!(said(&["L1", "L3", "L4", "L5"]), "L1, L3\u{2013}L5");
        assert_eq!(said(&["K1", "K3"]), "K1, K3");
        assert_eq!(said(&["K1", "K2"]), "K1, K2");
        assert_eq!(said(&["S9", "S10", "S11"]), "S9\u{2013}S11");
        assert_eq!(said(&["a", "b", "c", "d", "e"]), "a, b, c, d, others");
        assert_eq!(said(&["A4294967295", "A0"]), "A4294967295, A0");
    }
}
