//! Builders of the sections of text pages: one function a section, from the context to blocks. An
//! empty list means that the section does not apply to the job.

pub mod accepted;
pub mod agree;
pub mod arrival;
pub mod asked;
pub mod boards;
pub mod cards;
pub mod carried;
pub mod cautions;
pub mod changes;
pub mod contacts;
pub mod feet;
pub mod findings;
pub mod for_client;
pub mod fronts;
mod gone;
pub mod hardware;
mod loads;
mod mind;
mod on_site;
pub mod others;
mod parts_before;
pub mod pattern;
pub mod quantities;
pub mod reading;
pub mod risks;
pub mod sequence;
pub mod site_sheets;
pub mod strips;
pub mod tops;
pub mod units;
