//! Pictures of boards: read, put right, made small enough to work with. Knows files and what may not
//! be opened; must not know what a picture is for.

use std::path::{Component, Path};
use std::sync::Arc;

use rayon::prelude::*;

use super::project::Project;
use super::source::Source;
use super::table::At;
use super::value::Ref;
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::pixels::{self, Colours, Corners, Pixels};

/// A picture as it was, and its face as pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureFile {
    pub path: String,
    /// As written, if four are.
    pub corners: Option<Corners>,
    /// The file, with all that a camera wrote into it.
    pub bytes: Arc<[u8]>,
    /// Upright, put right, no side over [`MOST_PIXELS`].
    pub face: Arc<Pixels>,
    /// Whether the file has more pixels than that.
    pub finer: bool,
    /// Whether its colours are of a profile that is not read.
    pub colours_unread: bool,
}

/// Longest side kept, in pixels: a board 2800 long prints at 200 dots to the inch at 1:10.
const MOST_PIXELS: u32 = 2400;
/// Largest file that is opened.
const MOST_BYTES: u64 = 256 << 20;

/// A picture that is named, and the corners given with it.
type Named<'a> = (&'a At<Ref>, Option<&'a At<Vec<(u32, u32)>>>);

/// Every picture that a material or a board names. Says which are missing or unreadable.
pub fn load_pictures(
    source: &Source,
    project: &Project,
    diags: &mut Diagnostics,
) -> Vec<PictureFile> {
    let materials = project.material.iter().flat_map(|m| m.value.0.iter());
    let named = materials.flat_map(|(_, m)| {
        let boards = m.board.iter().flat_map(|b| b.value.iter());
        let theirs = boards.filter_map(|b| Some((b.picture.as_ref()?, b.corners.as_ref())));
        let own = m.picture.as_ref().map(|p| (p, m.corners.as_ref()));
        own.into_iter().chain(theirs)
    });
    let mut distinct: Vec<Named<'_>> = Vec::new();
    for (at, corners) in named {
        let same = |(a, c): &Named<'_>| a.value == at.value && values(*c) == values(corners);
        if !distinct.iter().any(same) {
            distinct.push((at, corners));
        }
    }
    let loaded: Vec<Result<PictureFile, Box<Diagnostic>>> = distinct
        .par_iter()
        .map(|(at, corners)| load(source, at, *corners))
        .collect();
    let mut all = Vec::new();
    for one in loaded {
        match one {
            Ok(picture) => all.push(picture),
            Err(wrong) => diags.push(*wrong),
        }
    }
    all
}

fn values(corners: Option<&At<Vec<(u32, u32)>>>) -> Option<&Vec<(u32, u32)>> {
    corners.map(|c| &c.value)
}

/// Four corners as places in a picture; `None` where there are not four.
pub fn four(corners: &[(u32, u32)]) -> Option<Corners> {
    let at = |(x, y): &(u32, u32)| (f64::from(*x), f64::from(*y));
    match corners {
        [a, b, c, d] => Some([at(a), at(b), at(c), at(d)]),
        _ => None,
    }
}

fn load(
    source: &Source,
    at: &At<Ref>,
    corners: Option<&At<Vec<(u32, u32)>>>,
) -> Result<PictureFile, Box<Diagnostic>> {
    let unusable = |why: String| {
        let said = format!("the picture cannot be used: {why}");
        let said = Diagnostic::new(Code::BadPicture, at.place, said).label("this file");
        let help = "give a JPEG or PNG file in the project's folder, such as \"boards/oak.jpg\"";
        Box::new(said.help(help))
    };
    let bytes = bytes(source, &at.value.0).map_err(unusable)?;
    let decoded = pixels::decode(&bytes).map_err(|e| unusable(e.to_string()))?;
    let (picture, colours) = (decoded.pixels, decoded.colours);
    let (right, named) = match corners {
        None => (picture, None),
        Some(corners) => {
            let (right, named) = put_right(&picture, corners)?;
            (right, Some(named))
        }
    };
    let finer = right.width().max(right.height()) > MOST_PIXELS;
    Ok(PictureFile {
        path: at.value.0.clone(),
        corners: named,
        bytes,
        // Made small first: fewer colours are to be brought over, and what is large is given back at once.
        face: Arc::new(colours.to_srgb(right.shrunk(MOST_PIXELS))),
        colours_unread: colours == Colours::Unread,
        finer,
    })
}

fn put_right(
    picture: &Pixels,
    corners: &At<Vec<(u32, u32)>>,
) -> Result<(Pixels, Corners), Box<Diagnostic>> {
    let wrong = |message: String, label: &str| {
        let said = Diagnostic::new(Code::BadPicture, corners.place, message).label(label);
        Box::new(said.help(
            "write [[x, y], …] for bottom left, top left, top right, bottom right of the board as it \
             stands, counting dots from the picture's top left",
        ))
    };
    let Some(named) = four(&corners.value) else {
        let n = corners.value.len();
        return Err(wrong(
            format!("the picture cannot be put right: {n} corners are given"),
            "four are needed",
        ));
    };
    let (width, height) = (picture.width(), picture.height());
    let outside = |(x, y): &&(u32, u32)| *x > width || *y > height;
    if let Some((x, y)) = corners.value.iter().find(outside) {
        return Err(wrong(
            format!(
                "the picture cannot be put right: the corner [{x}, {y}] lies outside it, it has {width} \
                 dots across and {height} down"
            ),
            "not in the picture",
        ));
    }
    let right = pixels::put_right(picture, named).ok_or_else(|| {
        wrong(
            "the picture cannot be put right: these corners make no four-sided figure".to_owned(),
            "in this order they cross, or lie in a line",
        )
    })?;
    Ok((right, named))
}

#[allow(clippy::disallowed_methods)] // `read` is where files are read
fn bytes(source: &Source, path: &str) -> Result<Arc<[u8]>, String> {
    let inside = Path::new(path)
        .components()
        .all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    if !inside || path.is_empty() {
        return Err("its path leads out of the project's folder".into());
    }
    let full = source.folder.join(path);
    let meta = std::fs::metadata(&full).map_err(|_| "there is no such file".to_string())?;
    if !meta.is_file() || meta.len() > MOST_BYTES {
        return Err("it is not a picture file of usable size".into());
    }
    let bytes = std::fs::read(&full).map_err(|e| e.to_string())?;
    Ok(bytes.into())
}
