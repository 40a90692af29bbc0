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
            name: chain.name.clone(),
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
        if let Some((.., name)) = chain.named.iter().find(shows) {
            part.name.clone_from(name);
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
