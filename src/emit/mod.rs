//! Pages to bytes and files: PDF, PNG, atomic writing. Must not decide what is on a page.

pub mod issue;
pub mod ledger;
pub mod pdf;
pub mod png;
pub mod write;
