//! The order of the stages, on one screen. Knows nothing of the inside of any.
