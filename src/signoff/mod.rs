//! Who agreed to what, when, and on the strength of which page: the record of a job's signatures. Knows
//! entries, their chain and what they say about each subject; must not touch a file, a clock or a page.
//!
//! - [`entry`]: one act of one person as one line of canonical JSON (RFC 8785).
//! - [`chain`]: the lines of a record, each bound to the one before by its hash, and what is wrong with them.
//! - [`key`]: an optional Ed25519 signature on each entry. A key that lies beside the record shows that one
//!   hand kept it, not whose hand that was.
//! - [`state`]: entries and issues to where every agreement stands. An agreement holds while every issue
//!   after it shows the same; the first that does not makes it lapse.
//! - [`reply`]: the file that a client's telephone saves, checked against the issue that it answers.
//! - [`act`]: answers, as a person gives them, checked against the subjects they are about.

pub mod act;
pub mod base64;
pub mod chain;
pub mod entry;
pub mod key;
pub mod reply;
pub mod state;

pub use chain::{Fault, Head, Ledger};
pub use entry::{Answer, Answered, Entry, Held, Means, OnIssue, What, Who};
pub use state::{State, Where};
