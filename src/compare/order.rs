//! Steps of the order of work as facts: by what they are done to, so that a step is found again when others
//! come before it. Must not put anything in order.

use super::comes::subject;
use crate::reckon::order::{Step, Work};
use crate::resolve::job::Job;

/// `stand up W1`.
pub fn told(job: &Job, step: &Step) -> String {
    let what = match step.what {
        Work::Stand => "stand up",
        Work::Build => "put together",
        Work::Hang => "hang",
        Work::Lift => "lift",
        Work::Strips => "strips of",
        Work::Worktop => "lay",
        Work::CutOuts => "into the cut-outs of",
        Work::Insides => "shelves, drawers and rails of",
        Work::Machines(_) => "machines into",
        Work::Panel => "fix",
        Work::Fronts => "fronts of",
        Work::Sliding => "hang",
    };
    format!("{what} {}", subject(job, &step.subject).1)
}
