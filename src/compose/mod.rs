//! Job, reckoned sizes and drawings to pages: page data, the templates that lay it out, the world
//! typst sees. Must not compute a size or touch a file.

mod assemble;
mod before;
mod check;
mod context;
mod data;
mod error;
mod fit;
mod glue;
mod handover;
mod pages;
mod pictures;
mod room;
mod sections;
mod sheets;
mod square;
mod table;
mod used;
mod words;
mod world;

use rayon::prelude::*;
use std::collections::BTreeMap;

use typst::foundations::Bytes;
use typst_layout::PagedDocument;

pub use context::{Pack, Told};
pub use error::ComposeError;
pub use handover::{Handover, handover};
pub use sheets::sheets;

use crate::compare::Standing;
use crate::draw::Drawing;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::Job;
use crate::risks::Risks;
use crate::units::Date;

/// A pack laid out, ready to be written.
pub struct Pages {
    pub document: PagedDocument,
    pub pack: Pack,
    /// What the file is known by as long as the job lasts.
    pub identity: String,
    pub date: Date,
    /// What typst remarked on, which a test holds to nothing.
    pub warnings: Vec<String>,
}

/// Everything typst needs for one pack: templates, fonts, page data, drawings and pictures.
pub struct PackData {
    world: world::PackWorld,
    pack: Pack,
    identity: String,
    date: Date,
}

impl PackData {
    /// The page data in JSON, as the templates read it.
    pub fn json(&self) -> &[u8] {
        self.world.named("data.json").map_or(&[], |bytes| bytes)
    }
}

/// Lays a pack out. `drawings` are the pack's own, in the order wanted. The same input gives the
/// same pages.
///
/// # Errors
/// A character no bundled font has, or a picture that cannot be decoded, is the file's fault; all
/// else is ours: see [`ComposeError::is_input`].
pub fn pack(
    job: &Job,
    reckoned: &Reckoned,
    drawings: &[Drawing],
    pack: Pack,
) -> Result<Pages, ComposeError> {
    typeset(data(job, reckoned, drawings, pack)?)
}

/// [`pack`], whose pages say what may go wrong, and which issue they are or what they are a draft of.
///
/// # Errors
/// As [`pack`].
pub fn pack_as(
    job: &Job,
    reckoned: &Reckoned,
    told: &Told<'_>,
    drawings: &[Drawing],
    pack: Pack,
    standing: &Standing,
) -> Result<Pages, ComposeError> {
    typeset(data_as(job, reckoned, told, drawings, pack, standing)?)
}

/// The data of a pack's pages, checked: what [`typeset`] lays out.
///
/// # Errors
/// As [`pack`].
pub fn data(
    job: &Job,
    reckoned: &Reckoned,
    drawings: &[Drawing],
    pack: Pack,
) -> Result<PackData, ComposeError> {
    let risks = Risks::default();
    let told = Told {
        risks: &risks,
        keys: &[],
    };
    data_as(job, reckoned, &told, drawings, pack, &Standing::default())
}

/// [`data`] of pages that say which issue they are.
///
/// # Errors
/// As [`pack`].
pub fn data_as(
    job: &Job,
    reckoned: &Reckoned,
    told: &Told<'_>,
    drawings: &[Drawing],
    pack: Pack,
    standing: &Standing,
) -> Result<PackData, ComposeError> {
    let ctx = context::Context {
        standing,
        told,
        job,
        reckoned,
        drawings,
        pack,
    };
    for drawing in pages::drawings(&ctx).chain(pages::cards(&ctx)) {
        check::drawing(drawing, job.info.sheets)?;
    }
    let mut files: BTreeMap<String, Bytes> = BTreeMap::new();
    files.insert("data.json".to_owned(), json(assemble::pack_data(&ctx))?);
    for drawing in pages::drawings(&ctx).chain(pages::cards(&ctx)) {
        let path = assemble::drawing_path(&drawing.id);
        files.insert(path, Bytes::from_string(drawing.svg.clone()));
    }
    if !standing.frozen.is_empty() {
        let frozen = Bytes::from_string(standing.frozen.clone());
        files.insert(assemble::FROZEN.to_owned(), frozen);
    }
    if pack == Pack::Client {
        for key in told.keys {
            let path = assemble::drawing_path(&key.id);
            files.insert(path, Bytes::from_string(key.svg.clone()));
        }
        let boards: Vec<usize> = used::boards(&ctx).iter().map(|b| b.material.0).collect();
        let swatch = |at: usize| {
            let picture = job.materials.get(at)?.picture.as_ref()?;
            Some(pictures::for_page(picture).map(|bytes| (pictures::path(at), Bytes::new(bytes))))
        };
        let swatches: Result<Vec<_>, _> = boards.into_par_iter().filter_map(swatch).collect();
        files.extend(swatches?);
    }

    Ok(PackData {
        world: world::PackWorld::new(files).with_codes(assemble::square_stem(&ctx), pack.letter()),
        pack,
        identity: format!("{}/{}", job.info.number, pack.name()),
        date: job.info.date,
    })
}

/// Page data as the templates read it.
fn json(mut data: data::PackData) -> Result<Bytes, ComposeError> {
    room::settle(&mut data);
    let mut json = serde_json::to_value(&data).map_err(|e| ComposeError::Template {
        messages: vec![e.to_string()],
    })?;
    check::glyphs(&json)?;
    glue::glue(&mut json);
    Ok(Bytes::from_string(json.to_string()))
}

/// The rows of a pack's change register as they are printed, cell by cell: the very words its page is given.
///
/// # Errors
/// As [`pack`].
pub fn changes_printed(
    job: &Job,
    reckoned: &Reckoned,
    pack: Pack,
    standing: &Standing,
) -> Result<Vec<Vec<String>>, ComposeError> {
    let risks = Risks::default();
    let told = Told {
        risks: &risks,
        keys: &[],
    };
    let ctx = context::Context {
        standing,
        told: &told,
        job,
        reckoned,
        drawings: &[],
        pack,
    };
    let mut rows = Vec::new();
    for block in sections::changes::changes(&ctx) {
        let json = serde_json::to_value(&block).map_err(|e| ComposeError::Template {
            messages: vec![e.to_string()],
        })?;
        check::glyphs(&json)?;
        let data::Block::Marked { table, .. } = block else {
            continue;
        };
        rows.extend(table.rows.into_iter().filter_map(|row| match row {
            table::Row::Cells { cells, .. } => Some(cells),
            table::Row::Group { .. } => None,
        }));
    }
    Ok(rows)
}

/// Compiles the templates over a pack's data.
///
/// # Errors
/// A template failed: our own fault.
pub fn typeset(data: PackData) -> Result<Pages, ComposeError> {
    let compiled = typst::compile::<PagedDocument>(&data.world);
    let words = |d: &typst::diag::SourceDiagnostic| {
        let hints: String = d.hints.iter().map(|h| format!(" ({})", h.v)).collect();
        format!("{}{hints}", d.message)
    };
    let warnings = compiled.warnings.iter().map(words).collect();
    let document = compiled.output.map_err(|errors| ComposeError::Template {
        messages: errors.iter().map(words).collect(),
    })?;
    Ok(Pages {
        document,
        pack: data.pack,
        identity: data.identity,
        date: data.date,
        warnings,
    })
}
