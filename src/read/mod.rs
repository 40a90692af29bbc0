//! Text to project as written. Knows TOML, the names of keys and their types, and keeps the place
//! of every value. Must not fill in a default or know that two keys are related.
