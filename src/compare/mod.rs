//! What a job is, frozen, and how two of them differ. Knows the filled project and what was reckoned
//! from it as facts about things with stable ids; must not draw, lay out or touch a file.
//!
//! The shape, each step in a file of its own:
//! - [`record`]: a job as things (`unit W2`, `front W2-r1c1`) with two sets of facts: what the project
//!   file **says** and what **comes** of it. `said` walks the tables that read the file, so a new key is
//!   compared the day it is accepted; `comes` picks the reckoned numbers that people act on, `takes` what
//!   is ordered and cut.
//! - [`canonical`]: a record as bytes that are the same on every machine (RFC 8785), and their hash.
//! - [`issue`]: a frozen record with its revision and purpose, and what the next revision is called.
//! - [`change`]: two records to the changes between them. Applying them to the first gives the second.
//!   `pair` finds what was only renamed.
//! - [`register`]: changes to entries for people: what the designer changed, each with what came of it.
//!   `view`, `reach` and `cause` find which comes of which, `amounts` what several share; `entry`,
//!   `consequences` and `words` say them.
//! - [`subjects`](mod@subjects): a record to what people sign for, each with the hash of what it shows.

mod agreed;
mod amounts;
pub mod canonical;
mod cause;
pub mod change;
pub mod code;
mod comes;
mod consequences;
mod entry;
pub mod issue;
pub mod manifest;
pub mod order;
mod pair;
mod reach;
pub mod record;
pub mod register;
pub mod revision;
mod said;
pub mod sort;
pub mod subjects;
pub mod takes;
mod view;
mod words;

pub use change::{Change, Changes, changes};
pub use comes::subject;
pub use issue::{Earlier, Frozen, Purpose, Standing};
pub use manifest::Manifest;
pub use record::{Record, Thing};
pub use register::{Entry, Register, register};
pub use subjects::{Subject, SubjectKind, subjects};

use crate::read::project::Project;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;
use crate::risks::Risks;

/// What a project file says, without what comes of it: enough to tell what a designer changed.
pub fn record_said(filled: &Project) -> Record {
    let mut record = Record::default();
    said::note(filled, &mut record);
    record
}

/// Everything that makes a job what it is.
pub fn record(filled: &Project, job: &Job, reckoned: &Reckoned, risks: &Risks) -> Record {
    let mut record = record_said(filled);
    comes::note(job, reckoned, &mut record);
    agreed::note(job, risks, &mut record);
    takes::note(job, reckoned, risks, &mut record);
    record
}
