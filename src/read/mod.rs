//! Text to project as written. Knows TOML, the names of keys and their types, and keeps the place
//! of every value. Must not fill in a default or know that two keys are related.

mod attached;
pub mod canon;
pub mod issued;
mod parse;
mod picture;
mod print;
pub mod project;
mod reference;
pub mod signoff;
mod source;
pub mod table;
pub mod value;
pub mod words;

pub use parse::project;
pub use picture::{PictureFile, four, load_pictures};
pub use print::listing;
pub use reference::reference;
pub use source::{Source, load};
