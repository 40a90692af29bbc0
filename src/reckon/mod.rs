//! [`Job`](crate::resolve::job::Job) to [`placed::Reckoned`]: places, sizes, masses, findings. Pure
//! functions, one subject a file, units and source in each doc comment. Must not know pages,
//! scales or the wording of templates.

pub mod placed;
