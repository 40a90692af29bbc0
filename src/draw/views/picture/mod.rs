//! Pictures for the client: walls as their fronts will look, and the worst joint at its real size.
//! Knows faces and layouts; must not know paper, nor cut a face.

mod close;
mod texture;
mod wall;
mod words;

pub use close::close_up;
pub use wall::{listed, wall};
pub use words::agreed;
