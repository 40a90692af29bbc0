//! Pictures of boards as the pack carries them: small, upright, and without whatever a camera wrote into
//! the file. Knows pixels; must not know which page shows them.

use super::error::ComposeError;
use crate::pixels::{Pixels, jpeg};
use crate::resolve::job::Picture;

/// Enough for a swatch 72 mm wide at 200 dots to the inch.
const LARGEST: u32 = 570;

/// Where the picture of the material at `index` lies among a pack's files.
pub fn path(index: usize) -> String {
    format!("board-{index}.jpg")
}

/// The picture as JPEG, no larger than a page needs. It is made of its pixels alone: the camera's own
/// notes, the place where it was taken among them, are not in it.
pub fn for_page(picture: &Picture) -> Result<Vec<u8>, ComposeError> {
    let small = Pixels::clone(&picture.face).shrunk(LARGEST);
    jpeg(&small).map_err(|e| ComposeError::Picture {
        path: picture.path.clone(),
        why: e.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    #[test]
    fn a_large_picture_is_made_small_and_keeps_its_shape() {
        let face = Pixels::new(2000, 500, vec![99; 3_000_000]).expect("2000 x 500");
        let small = for_page(&Picture {
            path: "a.png".to_owned(),
            bytes: Vec::new().into(),
            pixels: (2000, 500),
            shows: (Length::mm(100), Length::mm(100)),
            face: face.into(),
            finer: false,
            colours_unread: false,
            corners: None,
        });
        let small = image::load_from_memory(&small.expect("a picture")).expect("a JPEG");
        assert_eq!((small.width(), small.height()), (570, 142));
    }
}
