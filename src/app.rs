//! The order of the stages, on one screen. Knows nothing of the inside of any.

pub mod issues;
pub mod signoff;
pub mod verify;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;

use rayon::prelude::*;

use crate::compare::{self, Record, Register, Standing, Subject};
use crate::compose::{self, ComposeError, Pack};
use crate::diag::{Diagnostic, Diagnostics};
use crate::draw::{self, DrawError, Drawing};
use crate::emit::pdf::{self, PdfError};
use crate::emit::png::{self, PngError};
use crate::emit::write::File;
use crate::faces::faces;
use crate::phone;
use crate::read::project::Project;
use crate::read::{self, Source};
use crate::reckon::pattern::recut::{self, Recut};
use crate::reckon::placed::Reckoned;
use crate::reckon::reckon;

use crate::resolve::job::{Job, Reader};
use crate::resolve::{fill, resolve};
use crate::risks::{self, Risks};

/// A project as far as it makes sense, and everything that is wrong with it.
pub struct Prepared {
    /// As typed, for messages.
    pub path: String,
    pub text: String,
    pub filled: Option<Project>,
    /// Only when nothing at all is wrong.
    pub job: Option<(Job, Reckoned)>,
    /// What may go wrong and is to be agreed; of a job that is not sound, nothing.
    pub risks: Risks,
    /// In order of their place in the file.
    pub errors: Vec<Diagnostic>,
    /// Made when first asked for.
    record: OnceLock<Option<Record>>,
}

impl Prepared {
    /// The job as it is compared and frozen. `None`: it is not sound.
    pub fn record(&self) -> Option<&Record> {
        let make = || {
            let ((job, reckoned), filled) = (self.job.as_ref()?, self.filled.as_ref()?);
            Some(compare::record(filled, job, reckoned, &self.risks))
        };
        self.record.get_or_init(make).as_ref()
    }
}

/// Reads, resolves and reckons one project file.
pub fn prepare(path: &Path) -> Prepared {
    let mut diags = Diagnostics::default();
    let Some(source) = read::load(path, &mut diags) else {
        let path = path.display().to_string();
        return Prepared {
            path,
            text: String::new(),
            filled: None,
            job: None,
            risks: Risks::default(),
            errors: diags.sorted(),
            record: OnceLock::new(),
        };
    };
    let (filled, job, risks) = match read::project(&source.text, &mut diags) {
        Some(project) => through(&source, &project, &mut diags),
        None => (None, None, Risks::default()),
    };
    let job = if diags.is_empty() { job } else { None };
    Prepared {
        path: source.path,
        text: source.text,
        filled,
        job,
        risks,
        errors: diags.sorted(),
        record: OnceLock::new(),
    }
}

fn through(
    source: &Source,
    project: &Project,
    diags: &mut Diagnostics,
) -> (Option<Project>, Option<(Job, Reckoned)>, Risks) {
    let pictures = read::load_pictures(source, project, diags);
    let filled = fill(project, diags);
    let job = resolve(&filled, &pictures, diags);
    if !diags.sizes_can_be_trusted() {
        return (Some(filled), None, Risks::default());
    }
    let Some(reckoned) = reckon(&job, diags) else {
        return (Some(filled), None, Risks::default());
    };
    let risks = risks::risks(&job, &reckoned, diags);
    (Some(filled), Some((job, reckoned)), risks)
}

/// What can be done about a spoiled front, by its place among the fronts.
pub fn recut(job: &Job, reckoned: &Reckoned, front: usize) -> Option<Recut> {
    recut::recut(job, reckoned, front)
}

/// Why a job that is sound could not be printed.
#[derive(Debug)]
pub enum PackError {
    Draw(DrawError),
    Compose(ComposeError),
    Pdf(PdfError),
    Png(PngError),
    /// The page to answer on: our own fault.
    Reply(String),
}

impl PackError {
    /// Whether the project file can mend it; if not, it is our own fault.
    pub fn is_input(&self) -> bool {
        match self {
            PackError::Draw(DrawError::TooMuch { .. }) => true,
            PackError::Compose(e) => e.is_input(),
            PackError::Draw(_) | PackError::Pdf(_) | PackError::Png(_) | PackError::Reply(_) => {
                false
            }
        }
    }
}

/// Everything `pack` writes, with paths relative to its folder: the two packs, and a picture of
/// every drawing. Work goes on side by side; the order of the files is always the same.
pub fn pack(job: &Job, reckoned: &Reckoned) -> Result<Vec<File>, PackError> {
    let risks = risks::risks(job, reckoned, &mut Diagnostics::default());
    packed(job, reckoned, (&risks, None), &Standing::default(), &[]).map(|(files, _)| files)
}

/// [`pack`] of a project whose pages say what they are an issue or a draft of.
pub fn packs(prepared: &Prepared, standing: &Standing) -> Result<Vec<File>, PackError> {
    packs_for_signing(prepared, standing, &[]).map(|(files, _)| files)
}

/// [`packs`], and for each subject the sheets that show it.
pub fn packs_for_signing(
    prepared: &Prepared,
    standing: &Standing,
    subjects: &[Subject],
) -> Result<(Vec<File>, Sheets), PackError> {
    match &prepared.job {
        Some((job, reckoned)) => {
            let asked = (&prepared.risks, prepared.record());
            packed(job, reckoned, asked, standing, subjects)
        }
        None => Ok((Vec::new(), Sheets::new())),
    }
}

/// Subjects by key, each with the sheets that show it: `C5, C6`.
pub type Sheets = BTreeMap<String, String>;

/// Without a record there is no page to answer on.
fn packed(
    job: &Job,
    reckoned: &Reckoned,
    (risks, record): (&Risks, Option<&Record>),
    standing: &Standing,
    subjects: &[Subject],
) -> Result<(Vec<File>, Sheets), PackError> {
    let keys = draw::keys(job, reckoned, risks);
    let told = compose::Told { risks, keys: &keys };
    let [client, fitter, both] = drawings_since(job, reckoned, &standing.register)?;
    let one = |drawings: &[Drawing], pack| {
        one_pack(job, reckoned, &told, drawings, pack, (standing, subjects))
    };
    let drawn = phone::Drawn {
        drawings: &client,
        keys: &keys,
    };
    let reply = || record.map(|record| reply(job, reckoned, (record, risks), drawn, standing));
    let (packs, (pictures, reply)) = rayon::join(
        || rayon::join(|| one(&fitter, Pack::Fitter), || one(&client, Pack::Client)),
        || rayon::join(|| pictures(&both), reply),
    );
    let ((fitter, mut sheets), (client, shown)) = (packs.0?, packs.1?);
    sheets.extend(shown);
    let mut files = vec![client, fitter];
    files.extend(reply.transpose()?);
    files.extend(pictures?);
    Ok((files, sheets))
}

/// For the client, for the fitter, and for whoever has no pack at hand: those carry the notes to both.
pub fn drawings(job: &Job, reckoned: &Reckoned) -> Result<[Vec<Drawing>; 3], PackError> {
    drawings_since(job, reckoned, &Register::default())
}

fn drawings_since(
    job: &Job,
    reckoned: &Reckoned,
    since: &Register,
) -> Result<[Vec<Drawing>; 3], PackError> {
    let readers = [Reader::Client, Reader::Fitter, Reader::Both];
    let (drawn, looks) = rayon::join(
        || draw::drawings_since(job, reckoned, readers, since),
        || draw::looks(job, reckoned, &faces(job, reckoned), since),
    );
    let [mut client, mut fitter, mut both] = drawn.map_err(PackError::Draw)?;
    fitter.extend(draw::cards(job, reckoned));
    let looks = looks.map_err(PackError::Draw)?;
    client.extend(looks.iter().cloned());
    both.extend(looks);
    Ok([client, fitter, both])
}

fn one_pack(
    job: &Job,
    reckoned: &Reckoned,
    told: &compose::Told<'_>,
    drawings: &[Drawing],
    pack: Pack,
    (standing, subjects): (&Standing, &[Subject]),
) -> Result<(File, Sheets), PackError> {
    let pages = compose::pack_as(job, reckoned, told, drawings, pack, standing)
        .map_err(PackError::Compose)?;
    let bytes = pdf::write(&pages).map_err(PackError::Pdf)?;
    let file = File {
        path: format!("{}.pdf", pack.name()),
        bytes,
    };
    let sheets = compose::sheets(job, reckoned, drawings, &pages, subjects);
    Ok((file, sheets))
}

/// The page on which the client answers without paper.
fn reply(
    job: &Job,
    reckoned: &Reckoned,
    (record, risks): (&Record, &Risks),
    drawn: phone::Drawn,
    standing: &Standing,
) -> Result<File, PackError> {
    let asked = phone::asked(job, reckoned, record, risks, drawn, standing);
    Ok(File {
        path: phone::NAME.to_owned(),
        bytes: phone::page(&asked).map_err(PackError::Reply)?.into_bytes(),
    })
}

fn pictures(drawings: &[Drawing]) -> Result<Vec<File>, PackError> {
    drawings
        .par_iter()
        .map(|drawing| {
            let bytes = png::png(&drawing.svg, png::DPI).map_err(PackError::Png)?;
            Ok(File {
                path: format!("drawings/{}.png", drawing.id),
                bytes,
            })
        })
        .collect()
}
