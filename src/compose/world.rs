//! The world typst sees: the embedded templates, the bundled fonts, this pack's data, drawings and
//! pictures, all from memory. Must not reach a disk, a system font, a network or a clock.

use std::collections::BTreeMap;
use std::sync::{LazyLock, Mutex, OnceLock};

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::{assemble, square};
use crate::compare::code::Stem;
use crate::lettering;

/// Every template, by the path the others import it under.
const TEMPLATES: &[(&str, &str)] = &[
    (MAIN, include_str!("../../templates/pack.typ")),
    ("sheet.typ", include_str!("../../templates/sheet.typ")),
    ("blocks.typ", include_str!("../../templates/blocks.typ")),
    ("cover.typ", include_str!("../../templates/cover.typ")),
    ("drawing.typ", include_str!("../../templates/drawing.typ")),
];
const MAIN: &str = "pack.typ";

/// The bundled fonts, read once: the same for every pack.
static FONTS: LazyLock<(LazyHash<FontBook>, Vec<Font>)> = LazyLock::new(|| {
    let fonts: Vec<Font> = lettering::faces()
        .iter()
        .filter_map(|face| Font::new(Bytes::new(face.bytes), 0))
        .collect();
    (LazyHash::new(FontBook::from_fonts(&fonts)), fonts)
});

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// One pack's files, by path without a leading slash.
pub struct PackWorld {
    main: FileId,
    files: BTreeMap<String, Bytes>,
    sources: BTreeMap<&'static str, OnceLock<Source>>,
    /// What the pages' codes say, and the pack's letter.
    stem: Option<(Stem, char)>,
    /// Those drawn so far, by page.
    codes: Mutex<BTreeMap<usize, Bytes>>,
}

impl PackWorld {
    pub fn named(&self, path: &str) -> Option<&Bytes> {
        self.files.get(path)
    }

    /// `files`: the page data, drawings and pictures the templates name.
    pub fn new(mut files: BTreeMap<String, Bytes>) -> PackWorld {
        for (path, text) in TEMPLATES {
            files.insert((*path).to_owned(), Bytes::from_string(*text));
        }
        PackWorld {
            main: file_id(MAIN),
            files,
            sources: TEMPLATES
                .iter()
                .map(|(path, _)| (*path, OnceLock::new()))
                .collect(),
            stem: None,
            codes: Mutex::default(),
        }
    }

    /// With a code for each page, drawn when the page asks for it.
    pub fn with_codes(mut self, stem: Option<Stem>, letter: char) -> PackWorld {
        self.stem = stem.map(|stem| (stem, letter));
        self
    }

    /// Another file in the place of the one that the pages were given.
    #[cfg(test)]
    pub fn put(&mut self, path: &str, bytes: Bytes) {
        self.files.insert(path.to_owned(), bytes);
    }

    fn code(&self, path: &str) -> Option<Bytes> {
        let page = path.strip_prefix(assemble::CODE)?.strip_suffix(".svg")?;
        let page: usize = page.parse().ok()?;
        let (stem, letter) = self.stem.as_ref()?;
        let mut codes = self.codes.lock().ok()?;
        if let Some(known) = codes.get(&page) {
            return Some(known.clone());
        }
        let drawn = Bytes::from_string(square::svg(&stem.sheet(*letter, page))?);
        codes.insert(page, drawn.clone());
        Some(drawn)
    }
}

/// `path` is one of our own, written in this file: never input.
fn file_id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("a template's path");
    FileId::new(RootedPath::new(VirtualRoot::Project, path))
}

impl World for PackWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.0
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let path = id.vpath().get_without_slash();
        let (Some(cell), Some((_, text))) = (
            self.sources.get(path),
            TEMPLATES.iter().find(|(known, _)| *known == path),
        ) else {
            return Err(FileError::NotFound(path.into()));
        };
        Ok(cell
            .get_or_init(|| Source::new(id, (*text).to_owned()))
            .clone())
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.vpath().get_without_slash();
        self.files
            .get(path)
            .cloned()
            .or_else(|| self.code(path))
            .ok_or_else(|| FileError::NotFound(path.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.1.get(index).cloned()
    }

    /// No clock: a page that wants a date takes it from the job.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bundled_face_is_one_typst_can_read() {
        assert_eq!(FONTS.1.len(), lettering::faces().len());
    }

    #[test]
    fn a_file_nobody_put_there_is_not_found_and_there_is_no_clock() {
        let world = PackWorld::new(BTreeMap::new());
        assert!(world.file(file_id("etc/passwd")).is_err());
        assert!(world.source(file_id("pack.typ")).is_ok());
        assert!(world.today(None).is_none());
    }
}
