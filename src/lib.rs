//! rodbook compiles one project file of a fitted-furniture job into printable job packs.
//!
//! Each stage is a module that knows only those before it: see DEVELOPERS.md.

pub mod diag;
pub mod lettering;
pub mod pixels;
pub mod units;

pub mod compare;
pub mod compose;
pub mod draw;
pub mod emit;
pub mod faces;
pub mod phone;
pub mod read;
pub mod reckon;
pub mod resolve;
pub mod risks;
pub mod signoff;

pub mod app;
pub mod cli;
