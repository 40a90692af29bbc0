//! Bytes of a picture file to pixels, upright as the camera was held. Knows image formats and what a
//! camera says of its own; carries nothing of that on but the pixels.

use std::fmt;
use std::io::Cursor;

use image::{DynamicImage, ImageDecoder, ImageReader, Limits};

use super::{Colours, Pixels};

/// Most pixels along a side, and bytes of one picture laid open.
const MOST_SIDE: u32 = 20_000;
const MOST_BYTES: u64 = 512 << 20;

/// Why bytes are no picture that can be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadPicture {
    /// Neither JPEG nor PNG, as far as their first bytes say.
    Format,
    /// More pixels than are opened.
    TooLarge,
    /// Damaged; what the decoder says.
    Damaged(String),
}

impl fmt::Display for BadPicture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BadPicture::Format => write!(f, "it is neither JPEG nor PNG"),
            BadPicture::TooLarge => {
                write!(
                    f,
                    "it has more than {MOST_SIDE} dots along a side, or too many in all"
                )
            }
            BadPicture::Damaged(why) => write!(f, "it is damaged ({why})"),
        }
    }
}

/// A picture as it was stored, upright.
#[derive(Clone, Debug, PartialEq)]
pub struct Decoded {
    pub pixels: Pixels,
    pub colours: Colours,
}

/// # Errors
/// [`BadPicture`], whatever the bytes.
pub fn decode(bytes: &[u8]) -> Result<Decoded, BadPicture> {
    let wrong = |e: image::ImageError| match e {
        image::ImageError::Limits(_) => BadPicture::TooLarge,
        image::ImageError::Unsupported(_) => BadPicture::Format,
        e => BadPicture::Damaged(e.to_string()),
    };
    let reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format();
    let mut reader = reader.map_err(|e| BadPicture::Damaged(e.to_string()))?;
    if reader.format().is_none() {
        return Err(BadPicture::Format);
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(wrong)?;
    let orientation = decoder.orientation().map_err(wrong)?;
    let profile = decoder.icc_profile().map_err(wrong)?;
    let colours = Colours::of(profile.as_deref());
    if decoder.total_bytes() > MOST_BYTES {
        return Err(BadPicture::TooLarge);
    }
    let mut picture = DynamicImage::from_decoder(decoder).map_err(wrong)?;
    picture.apply_orientation(orientation);
    Ok(Decoded {
        pixels: Pixels::from_image(picture),
        colours,
    })
}

#[cfg(test)]
mod tests {
    use super::super::jpeg;
    use super::*;

    /// Left half red, right half blue.
    fn halves() -> Pixels {
        let row = |_| (0..32).flat_map(|x| if x < 16 { [200, 20, 20] } else { [20, 20, 200] });
        Pixels::new(32, 16, (0..16).flat_map(row).collect()).expect("32 x 16")
    }

    /// An APP1 segment as EXIF 2.3 (CIPA DC-008) lays it out, from memory: orientation, and a GPS
    /// directory whose latitude reference is "N".
    fn exif(orientation: u8) -> Vec<u8> {
        let mut tiff = b"MM\0*\0\0\0\x08".to_vec();
        tiff.extend([0, 2]);
        tiff.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
        tiff.extend([0x88, 0x25, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38]);
        tiff.extend([0, 0, 0, 0]);
        tiff.extend([0, 1, 0, 1, 0, 2, 0, 0, 0, 2, b'N', 0, 0, 0, 0, 0, 0, 0]);
        let mut out = vec![0xFF, 0xE1];
        let length = (tiff.len() + 8) as u16;
        out.extend(length.to_be_bytes());
        out.extend(b"Exif\0\0");
        out.extend(tiff);
        out
    }

    fn with_exif(orientation: u8) -> Vec<u8> {
        let plain = jpeg(&halves()).expect("a JPEG");
        let mut bytes = plain[..2].to_vec();
        bytes.extend(exif(orientation));
        bytes.extend(&plain[2..]);
        bytes
    }

    // EXIF 2.3, tag 0x0112, from memory: 1 as stored; 3 turned by half; 6 the stored top is the
    // right side of what was seen; 8 the stored top is its left side.
    #[test]
    fn a_picture_stands_as_the_camera_was_held() {
        let red = |p: [u8; 3]| p[0] > p[2];
        let seen = |orientation| decode(&with_exif(orientation)).expect("a picture").pixels;
        let upright = seen(1);
        assert!(red(upright.at(2, 8)) && !red(upright.at(29, 8)));
        assert!(!red(seen(3).at(2, 8)));
        let turned = seen(6);
        assert_eq!((turned.width(), turned.height()), (16, 32));
        assert!(red(turned.at(8, 2)) && !red(turned.at(8, 29)));
        assert!(!red(seen(8).at(8, 2)));
    }

    #[test]
    fn nothing_of_where_it_was_taken_is_written_again() {
        let bytes = with_exif(6);
        let holds = |b: &[u8]| b.windows(4).any(|w| w == b"Exif");
        assert!(holds(&bytes));
        let again = jpeg(&decode(&bytes).expect("a picture").pixels).expect("a JPEG");
        assert!(!holds(&again));
        assert!(!again.windows(2).any(|w| w == [0xFF, 0xE1]));
    }

    // ICC.1 Annex B, from memory: a JPEG carries a profile in APP2, after its name and which part it is of
    // how many.
    #[test]
    fn the_profile_in_a_photograph_is_followed() {
        use super::super::icc::tests::{P3, profile, srgb_curve};
        let plain = jpeg(&halves()).expect("a JPEG");
        let profile = profile(P3, &srgb_curve());
        let mut bytes = plain[..2].to_vec();
        bytes.extend([0xFF, 0xE2]);
        bytes.extend((profile.len() as u16 + 16).to_be_bytes());
        bytes.extend(b"ICC_PROFILE\0\x01\x01");
        bytes.extend(profile);
        bytes.extend(&plain[2..]);
        let decoded = decode(&bytes).expect("a picture");
        assert!(matches!(decoded.colours, Colours::Other(_)));
        let was = decoded.pixels.at(2, 8);
        let is = decoded.colours.to_srgb(decoded.pixels).at(2, 8);
        // A red of Display P3 is a stronger red of sRGB.
        assert!(is[0] > was[0] + 5, "{was:?} to {is:?}");
    }

    #[test]
    fn what_is_no_picture_says_why() {
        assert_eq!(decode(b"[job]\n"), Err(BadPicture::Format));
        assert_eq!(decode(&[]), Err(BadPicture::Format));
        let whole = jpeg(&halves()).expect("a JPEG");
        let head = decode(&whole[..40]);
        assert!(matches!(head, Err(BadPicture::Damaged(_))), "{head:?}");
    }
}
