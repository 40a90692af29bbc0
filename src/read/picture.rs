//! Pictures of boards, decoded, put upright, made small enough to print and stripped of all that a
//! camera writes into them. Knows image formats; must not know what a picture is for.

use std::io::Cursor;
use std::path::{Component, Path};
use std::sync::Arc;

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};

use super::project::Project;
use super::source::Source;
use super::table::At;
use super::value::Ref;
use crate::diag::{Code, Diagnostic, Diagnostics};

/// A picture as the pack will hold it: JPEG, no metadata.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureFile {
    pub path: String,
    pub bytes: Arc<[u8]>,
    pub pixels: (u32, u32),
}

/// Longest side kept, in pixels: of a board 2800 long, fronts at 1:5 still print at 190 dots an inch.
const MOST_PIXELS: u32 = 4200;
/// Largest picture that is opened.
const MOST_BYTES: u64 = 256 << 20;

/// Every picture that a material or a board names. Says which are missing or unreadable.
pub fn load_pictures(
    source: &Source,
    project: &Project,
    diags: &mut Diagnostics,
) -> Vec<PictureFile> {
    let mut all: Vec<PictureFile> = Vec::new();
    let materials = project.material.iter().flat_map(|m| m.value.0.iter());
    let named = materials.flat_map(|(_, m)| {
        let boards = m.board.iter().flat_map(|b| b.value.iter());
        let theirs = boards.filter_map(|b| b.picture.as_ref());
        m.picture.iter().chain(theirs)
    });
    for at in named {
        if all.iter().any(|p| p.path == at.value.0) {
            continue;
        }
        match load_one(source, at) {
            Ok(picture) => all.push(picture),
            Err(why) => diags.push(
                Diagnostic::new(
                    Code::BadPicture,
                    at.place,
                    format!("the picture cannot be used: {why}"),
                )
                .label("this file")
                .help(
                    "give a JPEG or PNG file in the project's folder, such as \"boards/oak.jpg\"",
                ),
            ),
        }
    }
    all
}

#[allow(clippy::disallowed_methods)] // `read` is where files are read
fn load_one(source: &Source, at: &At<Ref>) -> Result<PictureFile, String> {
    let path = Path::new(&at.value.0);
    let inside = path
        .components()
        .all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    if !inside || at.value.0.is_empty() {
        return Err("its path leads out of the project's folder".into());
    }
    let full = source.folder.join(path);
    let meta = std::fs::metadata(&full).map_err(|_| "there is no such file".to_string())?;
    if !meta.is_file() || meta.len() > MOST_BYTES {
        return Err("it is not a picture file of usable size".into());
    }
    let bytes = std::fs::read(&full).map_err(|e| e.to_string())?;
    let picture = decode(&bytes).map_err(|e| format!("it is no readable JPEG or PNG ({e})"))?;
    let small = shrink(picture);
    let pixels = (small.width(), small.height());
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, 88)
        .encode_image(&small.to_rgb8())
        .map_err(|e| e.to_string())?;
    Ok(PictureFile {
        path: at.value.0.clone(),
        bytes: jpeg.into(),
        pixels,
    })
}

fn decode(bytes: &[u8]) -> Result<DynamicImage, image::ImageError> {
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format()?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(20_000);
    limits.max_image_height = Some(20_000);
    reader.limits(limits);
    let mut decoder = reader.into_decoder()?;
    let orientation = decoder.orientation()?;
    let mut picture = DynamicImage::from_decoder(decoder)?;
    picture.apply_orientation(orientation);
    Ok(picture)
}

fn shrink(picture: DynamicImage) -> DynamicImage {
    if picture.width().max(picture.height()) <= MOST_PIXELS {
        return picture;
    }
    picture.resize(
        MOST_PIXELS,
        MOST_PIXELS,
        image::imageops::FilterType::Triangle,
    )
}
