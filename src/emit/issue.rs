//! A folder that is whole or not there: an issue, once written, is never written again. Knows paths and
//! the order in which a disk is told; must not know what the files hold.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::write::{self, File, WriteError};

/// Unfinished folders begin so: whoever finds one may throw it away.
const UNFINISHED: &str = ".unfinished-";

#[derive(Debug)]
pub enum IssueError {
    /// Its folder is there already.
    Exists(PathBuf),
    Trouble(WriteError),
}

impl fmt::Display for IssueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            IssueError::Exists(path) => {
                write!(
                    f,
                    "{} is there already, and an issue is never written again",
                    path.display()
                )
            }
            IssueError::Trouble(e) => e.fmt(f),
        }
    }
}

impl std::error::Error for IssueError {}

/// Throws away what a run that was interrupted left behind, and says how many folders that was.
///
/// # Errors
/// A folder that cannot be removed.
pub fn mend(folder: &Path) -> Result<usize, IssueError> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Ok(0);
    };
    let mut removed = 0;
    for entry in entries.flatten() {
        let path = entry.path();
        let left = entry.file_name().to_string_lossy().starts_with(UNFINISHED);
        if left && path.is_dir() {
            std::fs::remove_dir_all(&path).map_err(|e| trouble(&path, e))?;
            removed += 1;
        }
    }
    Ok(removed)
}

/// Writes the files to `folder/name`: all of them under another name first, told to the disk, and
/// then renamed at one stroke.
///
/// # Errors
/// When the folder is there already, and when the machine cannot write it: then nothing is left.
pub fn write(folder: &Path, name: &str, files: &[File]) -> Result<PathBuf, IssueError> {
    let target = folder.join(name);
    if target.exists() {
        return Err(IssueError::Exists(target));
    }
    std::fs::create_dir_all(folder).map_err(|e| trouble(folder, e))?;
    let unfinished = folder.join(format!("{UNFINISHED}{name}"));
    let done = put(&unfinished, &target, folder, files);
    if done.is_err() {
        // As much as can be: the next run throws away the rest.
        let _ = std::fs::remove_dir_all(&unfinished);
    }
    done.map(|()| target)
}

fn put(unfinished: &Path, target: &Path, folder: &Path, files: &[File]) -> Result<(), IssueError> {
    // Fails where another run is at it.
    std::fs::create_dir(unfinished).map_err(|e| trouble(unfinished, e))?;
    let written = write::all(unfinished, files).map_err(IssueError::Trouble)?;
    let mut folders: Vec<&Path> = written.iter().filter_map(|p| p.parent()).collect();
    folders.push(unfinished);
    folders.sort();
    folders.dedup();
    for made in folders {
        sync(made)?;
    }
    if target.exists() {
        return Err(IssueError::Exists(target.to_path_buf()));
    }
    // Refuses a folder that has something in it, on every system.
    std::fs::rename(unfinished, target).map_err(|e| trouble(target, e))?;
    sync(folder)
}

/// Tells the disk of a folder's entries, where a system has a way to.
fn sync(folder: &Path) -> Result<(), IssueError> {
    #[cfg(unix)]
    std::fs::File::open(folder)
        .and_then(|f| f.sync_all())
        .map_err(|e| trouble(folder, e))?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}

fn trouble(path: &Path, source: io::Error) -> IssueError {
    let path = path.to_path_buf();
    IssueError::Trouble(WriteError { path, source })
}

#[cfg(test)]
// The tests lay out folders of their own to write into.
#[allow(clippy::disallowed_methods)]
mod tests {
    use super::super::write::tests::names;
    use super::*;

    fn file(path: &str) -> File {
        File {
            path: path.to_owned(),
            bytes: b"bytes".to_vec(),
        }
    }

    #[test]
    fn an_issue_is_whole_and_is_never_written_again() {
        let home = tempfile::tempdir().expect("a folder");
        let issued = home.path().join("issued");
        write(&issued, "A", &[file("client.pdf"), file("drawings/p.png")]).expect("written");
        assert_eq!(names(&issued.join("A")), ["client.pdf", "drawings"]);
        let again = write(&issued, "A", &[file("other.pdf")]).expect_err("it is there");
        assert!(matches!(again, IssueError::Exists(_)), "{again}");
        assert_eq!(names(&issued.join("A")), ["client.pdf", "drawings"]);
        assert_eq!(names(&issued), ["A"]);
    }

    /// What a run killed half way leaves is a folder by another name: no issue, and thrown away by
    /// the next run.
    #[test]
    fn what_an_interrupted_run_left_is_mended() {
        let home = tempfile::tempdir().expect("a folder");
        let left = home.path().join(".unfinished-B");
        std::fs::create_dir_all(left.join("drawings")).expect("made");
        std::fs::write(left.join("client.pdf"), b"half").expect("written");
        assert_eq!(mend(home.path()).expect("mended"), 1);
        assert_eq!(names(home.path()), [""; 0]);
        write(home.path(), "B", &[file("client.pdf")]).expect("written");
        assert_eq!(mend(home.path()).expect("nothing to mend"), 0);
        assert_eq!(names(home.path()), ["B"]);
    }

    #[test]
    fn an_issue_that_cannot_be_written_leaves_nothing() {
        let home = tempfile::tempdir().expect("a folder");
        let wrong = write(home.path(), "A", &[file("client.pdf"), file("../stray")]);
        assert!(matches!(wrong, Err(IssueError::Trouble(_))));
        assert_eq!(names(home.path()), [""; 0]);
    }
}
