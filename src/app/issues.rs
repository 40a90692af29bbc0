//! The order of the stages for what is issued, compared and checked. Knows which stage gives what to
//! which; must not know the inside of any.

use std::path::{Path, PathBuf};

use super::{PackError, Prepared, packs_for_signing};
use crate::compare::canonical::sha256;
use crate::compare::manifest::{self, Held};
use crate::compare::{
    Earlier, Frozen, Manifest, Purpose, Record, Register, Standing, code, register, revision,
    subjects,
};
use crate::emit::issue::{self, IssueError};
use crate::emit::write::File;
use crate::read::issued::{self, Found};
use crate::resolve::job::Job;

/// What was issued of a project before now, oldest first.
#[derive(Default)]
pub struct Ground {
    pub earlier: Vec<Earlier>,
    pub newest: Option<Frozen>,
    /// Every one before the newest.
    pub older: Vec<Frozen>,
    /// Of each issue what its folder is to hold, and where that is.
    pub manifests: Vec<(PathBuf, Manifest)>,
}

impl Ground {
    /// Each issue as named and as frozen, the oldest first.
    pub fn issues(&self) -> impl Iterator<Item = (&Earlier, &Frozen)> {
        self.earlier
            .iter()
            .zip(self.older.iter().chain(&self.newest))
    }
}

/// Reads every issue beside a project file.
///
/// # Errors
/// In words: a folder that cannot be read, or issues that are not as they were when issued.
pub fn ground(project: &Path) -> Result<Ground, String> {
    let mut all: Vec<(Frozen, Earlier, (PathBuf, Manifest))> = Vec::new();
    for found in issued::all(&issued::folder_of(project))? {
        let at = found.path.display();
        let frozen = Frozen::read(&found.text).map_err(|why| format!("cannot use {at}: {why}"))?;
        let earlier = frozen
            .as_earlier(&sha256(found.text.as_bytes()))
            .ok_or_else(|| {
                format!("cannot use {at}: it is a draft, and stands among the issues")
            })?;
        let folder = found.path.parent().unwrap_or(project).to_path_buf();
        let listed = folder.join(manifest::NAME);
        let text = issued::manifest(&listed)?;
        let manifest = Manifest::read(&text)
            .map_err(|why| format!("cannot use {}: {why}", listed.display()))?;
        if let Some(why) = manifest.against(&frozen, &earlier.hash) {
            return Err(format!("{why}: {at} was changed. Put it back as it was"));
        }
        all.push((frozen, earlier, (folder, manifest)));
    }
    all.sort_by_key(|(_, earlier, _)| earlier.turn);
    let mut before: Option<&Earlier> = None;
    for (frozen, earlier, _) in &all {
        if frozen.after.as_ref() != before {
            return Err(format!(
                "the issues beside {} do not follow one another at revision {}: one was changed, \
                 removed or renamed after it was issued. Put them back as they were",
                project.display(),
                earlier.revision
            ));
        }
        before = Some(earlier);
    }
    let mut ground = Ground::default();
    for (frozen, named, manifest) in all {
        ground.older.extend(ground.newest.replace(frozen));
        ground.earlier.push(named);
        ground.manifests.push(manifest);
    }
    Ok(ground)
}

/// The project as it would be frozen now: as a draft, or as an issue.
fn frozen(
    prepared: &Prepared,
    record: Record,
    ground: &Ground,
    purpose: Option<Purpose>,
) -> Option<Frozen> {
    let job = prepared.filled.as_ref()?.job().value;
    let issue = purpose.map(|purpose| {
        let issued: Vec<String> = ground.earlier.iter().map(|e| e.revision.clone()).collect();
        let scheme = job.revisions().value;
        (revision::next(scheme, purpose, &issued), purpose)
    });
    let date = job.date().value.to_string();
    let after = ground.earlier.last().cloned();
    Some(Frozen::new(
        &job.number().value,
        &date,
        record,
        issue,
        after,
    ))
}

/// What the pages of a project's packs are to say of themselves. `None`: the project is not sound.
///
/// # Errors
/// In words: a number that cannot be frozen.
pub fn standing(
    prepared: &Prepared,
    ground: &Ground,
    purpose: Option<Purpose>,
) -> Result<Option<Standing>, String> {
    let Some(record) = prepared.record() else {
        return Ok(None);
    };
    let Some(frozen) = frozen(prepared, record.clone(), ground, purpose) else {
        return Ok(None);
    };
    let text = frozen.canonical()?;
    let register = match &ground.newest {
        Some(newest) => register(
            &newest.record,
            &frozen.record,
            &newest.called(),
            &frozen.called(),
        ),
        None => Register::default(),
    };
    Ok(Some(Standing {
        register,
        issue: frozen.issue.clone(),
        earlier: ground.earlier.clone(),
        hash: sha256(text.as_bytes()),
        frozen: text,
        subjects: subjects::subjects(&frozen.record),
    }))
}

/// An issue written.
pub struct Issued {
    pub revision: String,
    pub folder: PathBuf,
    pub hash: String,
    pub files: usize,
    /// Unfinished folders of interrupted runs that were thrown away.
    pub mended: usize,
}

/// Why there is no issue.
#[derive(Debug)]
pub enum NotIssued {
    /// What was issued before, or the project, does not allow it.
    Wrong(String),
    Pack(PackError),
    Write(IssueError),
}

/// The pictures of a job's boards, as they are printed, each with its hash.
pub fn pictures(job: &Job) -> Vec<Held> {
    let mut all: Vec<Held> = Vec::new();
    let of_materials = job.materials.iter().filter_map(|m| m.picture.as_ref());
    let of_boards = job.boards.iter().filter_map(|b| b.picture.as_ref());
    for picture in of_materials.chain(of_boards) {
        let held = Held::of(&picture.path, &picture.bytes);
        if !all.contains(&held) {
            all.push(held);
        }
    }
    all
}

/// Freezes the project beside its file.
///
/// # Errors
/// See [`NotIssued`]: then there is no new folder.
pub fn issue(project: &Path, prepared: &Prepared, purpose: Purpose) -> Result<Issued, NotIssued> {
    let folder = issued::folder_of(project);
    let mended = issue::mend(&folder).map_err(NotIssued::Write)?;
    let ground = ground(project).map_err(NotIssued::Wrong)?;
    if let Some((folder, manifest)) = ground.manifests.last()
        && let Some(wrong) = super::verify::folder(folder, manifest).first()
    {
        return Err(NotIssued::Wrong(format!(
            "{wrong}. Put it back as it was before anything is issued after it"
        )));
    }
    let standing = standing(prepared, &ground, Some(purpose)).map_err(NotIssued::Wrong)?;
    let (Some(standing), Some((job, _))) = (standing, &prepared.job) else {
        return Err(NotIssued::Wrong("the project is not sound".into()));
    };
    let record = prepared.record();
    if let (Some(newest), Some(last)) = (&ground.newest, ground.earlier.last())
        && Some(&newest.record) == record
        && last.purpose == purpose
    {
        return Err(NotIssued::Wrong(format!(
            "nothing has changed since revision {}, issued for {}",
            last.revision,
            purpose.word()
        )));
    }
    let Some(named) = standing.issue.clone() else {
        return Err(NotIssued::Wrong("it is a draft".into()));
    };
    let asked = &standing.subjects;
    let (mut files, sheets) =
        packs_for_signing(prepared, &standing, asked).map_err(NotIssued::Pack)?;
    files.push(File {
        path: issued::FROZEN.to_owned(),
        bytes: standing.frozen.clone().into_bytes(),
    });
    let mark = super::signoff::mark(project).map_err(NotIssued::Wrong)?;
    let manifest = Manifest {
        rodbook_manifest: manifest::FORM,
        job: job.info.number.clone(),
        revision: named.revision.clone(),
        purpose,
        date: job.info.date.to_string(),
        issue: standing.hash.clone(),
        after: standing.newest().cloned(),
        files: files.iter().map(|f| Held::of(&f.path, &f.bytes)).collect(),
        pictures: pictures(job),
        sheets,
        record: mark,
        seal: String::new(),
    };
    let text = manifest.sealed().map_err(NotIssued::Wrong)?;
    files.push(File {
        path: manifest::NAME.to_owned(),
        bytes: text.into_bytes(),
    });
    let folder = issue::write(&folder, &named.revision, &files).map_err(NotIssued::Write)?;
    Ok(Issued {
        revision: named.revision,
        folder,
        hash: standing.hash,
        files: files.len(),
        mended,
    })
}

/// A job from whatever a path leads to: an issue's folder, a pack, a frozen job, a project file.
pub enum Taken {
    Frozen(Box<Frozen>),
    /// A project that is not sound, with all that is wrong with it.
    Unsound(Box<Prepared>),
}

/// Takes a job from a path, for comparing.
///
/// # Errors
/// In words: why nothing can be had from it.
pub fn take(path: &Path) -> Result<Taken, String> {
    match issued::at(path)? {
        Found::Frozen(found) => {
            let at = found.path.display();
            let frozen =
                Frozen::read(&found.text).map_err(|why| format!("cannot use {at}: {why}"))?;
            Ok(Taken::Frozen(Box::new(frozen)))
        }
        Found::Project => {
            let prepared = super::prepare(path);
            let Some(record) = prepared.record() else {
                return Ok(Taken::Unsound(Box::new(prepared)));
            };
            let ground = ground(path)?;
            Ok(match frozen(&prepared, record.clone(), &ground, None) {
                Some(frozen) => Taken::Frozen(Box::new(frozen)),
                None => Taken::Unsound(Box::new(prepared)),
            })
        }
    }
}

/// Judges a sheet of paper by the words in its code. `None`: they are no code of ours.
///
/// # Errors
/// In words: issues that cannot be read.
pub fn sheet(
    project: &Path,
    prepared: &Prepared,
    words: &str,
) -> Result<Option<(code::Code, code::Verdict)>, String> {
    let Some(read) = code::Code::read(words) else {
        return Ok(None);
    };
    let ground = ground(project)?;
    let (Some(standing), Some((job, _))) = (standing(prepared, &ground, None)?, &prepared.job)
    else {
        return Err("the project is not sound".into());
    };
    let verdict = code::judge(&read, &job.info.number, &standing);
    Ok(Some((read, verdict)))
}
