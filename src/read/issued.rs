//! What was issued before: the folders beside a project, and the frozen job of a folder, a PDF or a
//! file. Knows where things lie; must not know what a frozen job holds.

use std::path::{Path, PathBuf};

use super::attached;

/// The folder beside a project that holds its issues.
pub const FOLDER: &str = "issued";
/// The frozen job in an issue's folder.
pub const FROZEN: &str = "frozen-job.json";

/// Largest file that is opened.
const MOST_BYTES: u64 = 256 << 20;

/// A frozen job as it lies in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FrozenText {
    /// Where it was found.
    pub path: PathBuf,
    pub text: String,
}

/// `issued`, beside a project file.
pub fn folder_of(project: &Path) -> PathBuf {
    project.parent().unwrap_or(Path::new("")).join(FOLDER)
}

/// The frozen job of every issue in the folder, by the folders' names. What was never finished
/// begins with a dot and is passed over.
///
/// # Errors
/// A folder that cannot be read, or an issue without its frozen job.
#[allow(clippy::disallowed_methods)] // `read` is where files are read
pub fn all(folder: &Path) -> Result<Vec<FrozenText>, String> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let entries =
        std::fs::read_dir(folder).map_err(|e| format!("cannot read {}: {e}", folder.display()))?;
    let mut names: Vec<PathBuf> = entries
        .flatten()
        .map(|e| e.path())
        .filter(|p| {
            let hidden = p
                .file_name()
                .is_none_or(|n| n.to_string_lossy().starts_with('.'));
            p.is_dir() && !hidden
        })
        .collect();
    names.sort();
    names.iter().map(|p| of_folder(p)).collect()
}

fn of_folder(folder: &Path) -> Result<FrozenText, String> {
    let path = folder.join(FROZEN);
    let text = text(&path)?;
    Ok(FrozenText { path, text })
}

/// What a path leads to, for comparing.
pub enum Found {
    Frozen(FrozenText),
    /// Some other file: a project.
    Project,
}

/// Looks whether a path is an issue's folder, a PDF, a frozen job or a project file.
///
/// # Errors
/// Why nothing can be had from it.
pub fn at(path: &Path) -> Result<Found, String> {
    if path.is_dir() {
        return of_folder(path).map(Found::Frozen);
    }
    let ends = |ending: &str| {
        path.extension()
            .is_some_and(|e| e.to_string_lossy().eq_ignore_ascii_case(ending))
    };
    if ends("pdf") {
        let text = attached::frozen_job(bytes(path)?)
            .map_err(|why| format!("cannot use {}: {why}", path.display()))?;
        let path = path.to_path_buf();
        return Ok(Found::Frozen(FrozenText { path, text }));
    }
    if ends("json") {
        let text = text(path)?;
        let path = path.to_path_buf();
        return Ok(Found::Frozen(FrozenText { path, text }));
    }
    Ok(Found::Project)
}

/// The text of an issue's manifest.
///
/// # Errors
/// One that is absent or cannot be read.
pub fn manifest(path: &Path) -> Result<String, String> {
    text(path)
}

fn text(path: &Path) -> Result<String, String> {
    String::from_utf8(bytes(path)?)
        .map_err(|_| format!("cannot use {}: it is not UTF-8 text", path.display()))
}

#[allow(clippy::disallowed_methods)] // `read` is where files are read
fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    let why = |e: &dyn std::fmt::Display| format!("cannot read {}: {e}", path.display());
    let meta = std::fs::metadata(path).map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound => why(&"there is no such file"),
        _ => why(&e),
    })?;
    if !meta.is_file() || meta.len() > MOST_BYTES {
        return Err(why(&"it is no file of usable size"));
    }
    std::fs::read(path).map_err(|e| why(&e))
}

/// One file of an issue's folder.
///
/// # Errors
/// One that is absent or cannot be read.
pub fn file(path: &Path) -> Result<Vec<u8>, String> {
    bytes(path)
}

/// Every file in an issue's folder and the folders in it, by its path from there.
///
/// # Errors
/// A folder that cannot be read.
pub fn files(folder: &Path) -> Result<Vec<String>, String> {
    let mut found = Vec::new();
    gather(folder, "", 0, &mut found)?;
    found.sort();
    Ok(found)
}

fn gather(folder: &Path, within: &str, deep: u32, found: &mut Vec<String>) -> Result<(), String> {
    let why = |e: std::io::Error| format!("cannot read {}: {e}", folder.display());
    for entry in std::fs::read_dir(folder).map_err(why)? {
        let entry = entry.map_err(why)?;
        let name = format!("{within}{}", entry.file_name().to_string_lossy());
        // A link is a file here, wherever it leads; nothing of ours lies deeper than two folders.
        let is_folder = entry.file_type().map_err(why)?.is_dir();
        match is_folder && deep < 8 {
            true => gather(&entry.path(), &format!("{name}/"), deep + 1, found)?,
            false => found.push(name),
        }
    }
    Ok(())
}
