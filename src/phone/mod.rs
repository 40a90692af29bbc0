//! The client's answer without paper: one HTML file that a telephone opens from its own storage, shows what is
//! asked, and makes an answer file of what was said. Knows subjects, drawings and HTML; must not read an answer.
//!
//! - [`asked`] gathers what is asked of whom from the job and its subjects; `told` words what is no drawing,
//!   `lists` has what the client's pack lists of a wall.
//! - `screen` makes a drawing's SVG fit for a page, `font` the one small font its words need.
//! - `html` lays the page out from `templates/reply`. Whatever the project says is escaped there; the page's
//!   own policy allows only the script and the styles it was made with, and no address outside itself.

pub mod asked;
mod font;
mod html;
mod lists;
mod screen;
mod told;

pub use asked::{Asked, Drawn, asked};
pub use html::page;

/// The file's name among those of a pack.
pub const NAME: &str = "reply.html";
