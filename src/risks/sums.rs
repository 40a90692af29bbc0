//! What was accepted comes to: changes, and contingencies by where they stand. Knows options; must not
//! price anything.

use super::{Disclosure, State};
use crate::resolve::job::OptionKind;
use crate::units::Money;

/// Only what was chosen, and has a price.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// Changes that were chosen.
    pub changes: Money,
    /// Contingencies that were accepted and may still be called.
    pub put_aside: Money,
    /// Contingencies that were called.
    pub called: Money,
    /// What was chosen and has no price yet.
    pub unpriced: usize,
}

impl Sums {
    /// To be paid whatever happens from now on.
    pub fn certain(self) -> Money {
        self.changes.and(self.called)
    }
    /// To be paid if every contingency is called that still may be.
    pub fn at_most(self) -> Money {
        self.certain().and(self.put_aside)
    }
}

pub fn sums(disclosures: &[Disclosure]) -> Sums {
    let mut sums = Sums::default();
    for offer in disclosures.iter().filter_map(Disclosure::chosen) {
        let into = match (offer.kind, offer.state) {
            (OptionKind::Nothing, _) | (_, State::NotNeeded(_) | State::Expired(_)) => continue,
            (OptionKind::Change, _) => &mut sums.changes,
            (OptionKind::Contingency, State::Called(_)) => &mut sums.called,
            (OptionKind::Contingency, _) => &mut sums.put_aside,
        };
        match offer.price {
            Some(price) => *into = into.and(price),
            None => sums.unpriced += 1,
        }
    }
    sums
}
