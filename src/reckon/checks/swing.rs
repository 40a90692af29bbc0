//! What strikes what when it opens. Knows that the swings were judged; must not judge them again.

use crate::reckon::placed::{Finding, Reckoned};
use crate::resolve::job::Job;

pub fn check(_: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    found.extend(reckoned.clashes.iter().map(|c| c.finding.clone()));
}
