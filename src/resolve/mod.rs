//! Project as written to [`job::Job`]. Knows references, what inherits from what, and every
//! default. Must not give anything a place in the room or judge it.

pub mod job;
