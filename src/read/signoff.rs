//! The record of signatures as it lies beside a project, and what is taken into it. Knows where things lie and
//! how large they may be; must not know what an entry says.

use std::path::{Path, PathBuf};

/// The folder beside a project that holds its record.
pub const FOLDER: &str = "signoff";
/// The lines of the record.
pub const RECORD: &str = "record.jsonl";
/// Which of them is the last.
pub const HEAD: &str = "record.head";
/// Where what was taken in is kept.
pub const HELD: &str = "held";

/// Largest record that is opened.
const MOST_RECORD: u64 = 64 << 20;
/// Largest scan or photograph that is taken in.
const MOST_HELD: u64 = 64 << 20;
/// Largest reply file: a signature, and words.
const MOST_REPLY: u64 = 4 << 20;
/// A key is two lines.
const MOST_KEY: u64 = 4096;

/// `signoff`, beside a project file.
pub fn folder_of(project: &Path) -> PathBuf {
    project.parent().unwrap_or(Path::new("")).join(FOLDER)
}

/// The record as it lies there.
#[derive(Default)]
pub struct Found {
    pub record: Vec<u8>,
    pub head: Option<String>,
}

/// Everything in the folder but what is kept; nothing, where there is no record.
///
/// # Errors
/// What cannot be read.
pub fn record(folder: &Path) -> Result<Option<Found>, String> {
    let path = folder.join(RECORD);
    if !path.exists() {
        return Ok(None);
    }
    let head = folder.join(HEAD);
    let head = match head.exists() {
        true => Some(String::from_utf8_lossy(&bytes(&head, MOST_KEY)?).into_owned()),
        false => None,
    };
    Ok(Some(Found {
        record: bytes(&path, MOST_RECORD)?,
        head,
    }))
}

/// The names of the files that are kept.
///
/// # Errors
/// A folder that cannot be read.
pub fn held_names(folder: &Path) -> Result<Vec<String>, String> {
    names(&folder.join(HELD))
}

/// The names of everything in a folder, in order; none, where there is no folder. What is unfinished begins
/// with a dot and is passed over.
///
/// # Errors
/// A folder that cannot be read.
pub fn names(folder: &Path) -> Result<Vec<String>, String> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let why = |e: std::io::Error| format!("cannot read {}: {e}", folder.display());
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(why)? {
        let name = entry
            .map_err(why)?
            .file_name()
            .to_string_lossy()
            .into_owned();
        if !name.starts_with('.') {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

/// One kept file.
///
/// # Errors
/// One that cannot be read.
pub fn held(folder: &Path, name: &str) -> Result<Vec<u8>, String> {
    bytes(&folder.join(HELD).join(name), MOST_HELD)
}

/// A scan or photograph to be taken in.
///
/// # Errors
/// One that is absent, or larger than any scan.
pub fn scan(path: &Path) -> Result<Vec<u8>, String> {
    bytes(path, MOST_HELD)
}

/// A reply file.
///
/// # Errors
/// One that is absent, too large, or no text.
pub fn reply(path: &Path) -> Result<String, String> {
    text(path, MOST_REPLY)
}

/// A signing key.
///
/// # Errors
/// One that is absent or no text.
pub fn key(path: &Path) -> Result<String, String> {
    text(path, MOST_KEY)
}

fn text(path: &Path, most: u64) -> Result<String, String> {
    String::from_utf8(bytes(path, most)?)
        .map_err(|_| format!("cannot use {}: it is not UTF-8 text", path.display()))
}

/// A file of an issue's folder, or any other, up to a size.
///
/// # Errors
/// Why not.
#[allow(clippy::disallowed_methods)] // `read` is where files are read
pub fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let why = |e: &dyn std::fmt::Display| format!("cannot read {}: {e}", path.display());
    let meta = std::fs::metadata(path).map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound => why(&"there is no such file"),
        _ => why(&e),
    })?;
    if !meta.is_file() {
        return Err(why(&"it is no file"));
    }
    if meta.len() > most {
        return Err(format!(
            "cannot use {}: it is {} bytes large, and {most} is the most",
            path.display(),
            meta.len()
        ));
    }
    std::fs::read(path).map_err(|e| why(&e))
}
