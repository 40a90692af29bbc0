//! Pixels to JPEG with nothing in it but the picture. Knows how finely; must not know for which page.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;

use super::{BadPicture, Pixels};

/// Fine enough that the mean colour of a face is kept to less than anybody sees: at 82 it moved by a
/// whole unit of CIELAB (measured here), and boards are told apart by one.
const QUALITY: u8 = 92;

/// # Errors
/// A side over 65535 pixels, which no JPEG can have.
pub fn jpeg(picture: &Pixels) -> Result<Vec<u8>, BadPicture> {
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode(
            picture.rgb(),
            picture.width(),
            picture.height(),
            ExtendedColorType::Rgb8,
        )
        .map_err(|e| BadPicture::Damaged(e.to_string()))?;
    Ok(out)
}
