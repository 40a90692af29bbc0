//! Pictures of boards as the pack carries them: small, upright, and without whatever a camera wrote into
//! the file. Knows pixels; must not know which page shows them.

use std::io::Cursor;

use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use super::error::ComposeError;
use crate::resolve::job::Picture;

/// Enough for a swatch 72 mm wide at 300 dots to the inch.
const LARGEST: u32 = 860;

/// Where the picture of the material at `index` lies among a pack's files.
pub fn path(index: usize) -> String {
    format!("board-{index}.png")
}

/// The picture as PNG, no larger than a page needs. Decoding it again drops the camera's own notes,
/// the place where it was taken among them.
pub fn for_page(picture: &Picture) -> Result<Vec<u8>, ComposeError> {
    let bad = |why: &dyn std::fmt::Display| ComposeError::Picture {
        path: picture.path.clone(),
        why: why.to_string(),
    };
    let mut reader = ImageReader::new(Cursor::new(&picture.bytes[..]));
    reader.limits(Limits::default());
    let reader = reader.with_guessed_format().map_err(|e| bad(&e))?;
    let mut decoder = reader.into_decoder().map_err(|e| bad(&e))?;
    let orientation = decoder.orientation().map_err(|e| bad(&e))?;
    let mut image = DynamicImage::from_decoder(decoder).map_err(|e| bad(&e))?;
    image.apply_orientation(orientation);
    if image.width() > LARGEST || image.height() > LARGEST {
        image = image.thumbnail(LARGEST, LARGEST);
    }
    let mut out = Vec::new();
    DynamicImage::ImageRgb8(image.to_rgb8())
        .write_to(&mut Cursor::new(&mut out), ImageFormat::Png)
        .map_err(|e| bad(&e))?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn picture(bytes: Vec<u8>) -> Picture {
        let shows = (Length::mm(100), Length::mm(100));
        Picture {
            path: "a.png".to_owned(),
            bytes: bytes.into(),
            pixels: (1, 1),
            shows,
        }
    }

    #[test]
    fn a_large_picture_is_made_small_and_keeps_its_shape() {
        let mut bytes = Vec::new();
        let big = DynamicImage::new_rgb8(2000, 500);
        big.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
            .expect("a PNG");
        let small = for_page(&picture(bytes)).expect("a picture");
        let small = image::load_from_memory(&small).expect("a PNG");
        assert_eq!((small.width(), small.height()), (860, 215));
    }

    #[test]
    fn what_is_no_picture_is_an_error_that_names_it() {
        let error = for_page(&picture(vec![1, 2, 3])).expect_err("no picture");
        assert!(
            error.is_input() && error.to_string().contains("a.png"),
            "{error}"
        );
    }
}
