//! Files to a folder, all or nothing as far as a file system allows: each is written in full under
//! another name first, and only then are they all renamed. Knows paths, not what the files hold.

use std::fmt;
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};

use tempfile::NamedTempFile;

/// A file to be written, its path relative to the folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    pub path: String,
    pub bytes: Vec<u8>,
}

/// The machine's trouble: a full disk, a folder nobody may write to.
#[derive(Debug)]
pub struct WriteError {
    pub path: PathBuf,
    pub source: io::Error,
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot write {}: {}", self.path.display(), self.source)
    }
}

impl std::error::Error for WriteError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.source)
    }
}

/// Writes every file under `folder`, which is made if it is not there, and gives their paths.
/// Whatever can fail for want of room or of leave is tried before the first old file is replaced.
///
/// # Errors
/// The first path that could not be written. No half-written file is left.
pub fn all(folder: &Path, files: &[File]) -> Result<Vec<PathBuf>, WriteError> {
    let mut ready: Vec<(NamedTempFile, PathBuf)> = Vec::new();
    for file in files {
        let path = folder.join(&file.path);
        let at = |source| WriteError {
            path: path.clone(),
            source,
        };
        // A name that leads out of the folder is nobody's to write to.
        if !Path::new(&file.path)
            .components()
            .all(|c| matches!(c, Component::Normal(_)))
        {
            return Err(at(io::Error::from(io::ErrorKind::InvalidInput)));
        }
        let parent = path.parent().unwrap_or(folder);
        std::fs::create_dir_all(parent).map_err(at)?;
        if path.is_dir() {
            return Err(at(io::Error::from(io::ErrorKind::IsADirectory)));
        }
        let mut temporary = tempfile::Builder::new()
            .prefix(".rodbook-")
            .permissions_like_others()
            .tempfile_in(parent)
            .map_err(at)?;
        temporary.write_all(&file.bytes).map_err(at)?;
        temporary.as_file().sync_all().map_err(at)?;
        ready.push((temporary, path));
    }
    let mut written = Vec::new();
    for (temporary, path) in ready {
        temporary.persist(&path).map_err(|e| WriteError {
            path: path.clone(),
            source: e.error,
        })?;
        written.push(path);
    }
    Ok(written)
}

/// A temporary file is made for its owner only; a pack is a file like any other.
trait LikeOthers {
    fn permissions_like_others(&mut self) -> &mut Self;
}

impl LikeOthers for tempfile::Builder<'_, '_> {
    #[cfg(unix)]
    fn permissions_like_others(&mut self) -> &mut Self {
        use std::os::unix::fs::PermissionsExt;
        // Less what the user's umask takes away.
        self.permissions(std::fs::Permissions::from_mode(0o666))
    }

    #[cfg(not(unix))]
    fn permissions_like_others(&mut self) -> &mut Self {
        self
    }
}

#[cfg(test)]
// The tests lay out folders of their own to write into.
#[allow(clippy::disallowed_methods)]
pub mod tests {
    use super::*;

    fn file(path: &str, bytes: &[u8]) -> File {
        File {
            path: path.to_owned(),
            bytes: bytes.to_vec(),
        }
    }

    pub fn names(folder: &Path) -> Vec<String> {
        let entries = std::fs::read_dir(folder).expect("a folder");
        let mut names: Vec<String> = entries
            .map(|e| e.expect("an entry").file_name().to_string_lossy().into())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn folders_are_made_and_old_files_replaced() {
        let home = tempfile::tempdir().expect("a folder");
        let out = home.path().join("a/out");
        all(&out, &[file("client.pdf", b"old")]).expect("written");
        let paths = all(
            &out,
            &[file("client.pdf", b"new"), file("drawings/p.png", b"png")],
        )
        .expect("written");
        assert_eq!(paths.len(), 2);
        assert_eq!(
            std::fs::read(out.join("client.pdf")).expect("there"),
            b"new"
        );
        assert_eq!(
            std::fs::read(out.join("drawings/p.png")).expect("there"),
            b"png"
        );
        assert_eq!(names(&out), ["client.pdf", "drawings"]);
    }

    #[test]
    fn when_one_file_cannot_be_written_none_is_and_the_old_ones_stay() {
        let home = tempfile::tempdir().expect("a folder");
        let out = home.path();
        std::fs::write(out.join("client.pdf"), b"old").expect("written");
        std::fs::create_dir(out.join("fitter.pdf")).expect("made");
        let error = all(
            out,
            &[file("client.pdf", b"new"), file("fitter.pdf", b"new")],
        )
        .expect_err("a folder is in the way");
        assert!(error.to_string().contains("fitter.pdf"), "{error}");
        assert_eq!(
            std::fs::read(out.join("client.pdf")).expect("there"),
            b"old"
        );
        assert_eq!(names(out), ["client.pdf", "fitter.pdf"]);
    }

    #[test]
    fn a_name_that_leads_out_of_the_folder_is_refused() {
        let home = tempfile::tempdir().expect("a folder");
        let out = home.path().join("out");
        for name in ["../stray", "/stray", "a/../../stray", ""] {
            assert!(all(&out, &[file(name, b"x")]).is_err(), "{name}");
        }
        assert!(!home.path().join("stray").exists());
    }

    #[test]
    fn a_folder_that_is_a_file_is_the_machines_trouble() {
        let home = tempfile::tempdir().expect("a folder");
        let out = home.path().join("out");
        std::fs::write(&out, b"a file").expect("written");
        assert!(all(&out, &[file("client.pdf", b"new")]).is_err());
        assert_eq!(std::fs::read(&out).expect("there"), b"a file");
    }
}
