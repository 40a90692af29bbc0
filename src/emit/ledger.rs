//! A file that lines are only ever added to, and files kept beside it by their hash. Knows locks, torn
//! lines and the order in which a disk is told; must not know what a line says.
//!
//! A line is one write to a file opened for appending, told to the disk before it counts as written. The lock is
//! the system's and binds those who ask for it: on some network drives it binds nobody.

use std::fmt;
use std::fs::{File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use super::write::WriteError;
use crate::read::signoff::{HEAD, HELD, RECORD};

/// Largest record that is opened.
const MOST_BYTES: u64 = 64 << 20;

/// An open record that nobody else can add to.
pub struct Ledger {
    file: File,
    folder: PathBuf,
    whole: Vec<u8>,
    /// Where what an interrupted writer left was put, and how many bytes that is.
    pub mended: Option<(PathBuf, usize)>,
}

/// The machine's trouble with it.
#[derive(Debug)]
pub struct LedgerError(pub WriteError);

impl fmt::Display for LedgerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::error::Error for LedgerError {}

fn at(path: &Path) -> impl FnOnce(io::Error) -> LedgerError + '_ {
    move |source| {
        LedgerError(WriteError {
            path: path.to_path_buf(),
            source,
        })
    }
}

/// Opens the record in a folder, both made if they are not there, and waits for whoever is writing. A last
/// line that was never finished is put aside in a file of its own, and the record ends before it.
///
/// # Errors
/// What the machine cannot do.
pub fn open(folder: &Path) -> Result<Ledger, LedgerError> {
    let path = folder.join(RECORD);
    let new = !path.exists();
    std::fs::create_dir_all(folder.join(HELD)).map_err(at(folder))?;
    let mut file = OpenOptions::new()
        .read(true)
        .append(true)
        .create(true)
        .open(&path)
        .map_err(at(&path))?;
    file.lock().map_err(at(&path))?;
    let size = file.metadata().map_err(at(&path))?.len();
    if size > MOST_BYTES {
        let large = io::Error::other("it is larger than any record");
        return Err(at(&path)(large));
    }
    let mut whole = Vec::new();
    file.read_to_end(&mut whole).map_err(at(&path))?;
    if new {
        sync_folder(folder)?;
        sync_folder(
            folder
                .parent()
                .filter(|p| !p.as_os_str().is_empty())
                .unwrap_or(Path::new(".")),
        )?;
    }
    let end = whole.iter().rposition(|b| *b == b'\n').map_or(0, |n| n + 1);
    let torn = whole.split_off(end);
    let mut mended = None;
    if !torn.is_empty() {
        let aside = put_aside(folder, &torn)?;
        let end = u64::try_from(end).unwrap_or(u64::MAX);
        file.set_len(end).map_err(at(&path))?;
        file.sync_all().map_err(at(&path))?;
        mended = Some((aside, torn.len()));
    }
    Ok(Ledger {
        file,
        folder: folder.to_path_buf(),
        whole,
        mended,
    })
}

/// Keeps the torn bytes under the first name that is free.
fn put_aside(folder: &Path, torn: &[u8]) -> Result<PathBuf, LedgerError> {
    for n in 1..10_000u32 {
        let path = folder.join(format!("torn-{n}.txt"));
        match OpenOptions::new().write(true).create_new(true).open(&path) {
            Ok(mut file) => {
                file.write_all(torn).map_err(at(&path))?;
                file.sync_all().map_err(at(&path))?;
                sync_folder(folder)?;
                return Ok(path);
            }
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(at(&path)(e)),
        }
    }
    let full = io::Error::other("there are too many torn lines beside it");
    Err(at(folder)(full))
}

impl Ledger {
    /// The record's whole lines.
    pub fn whole(&self) -> &[u8] {
        &self.whole
    }

    /// The head's text, if there is one.
    ///
    /// # Errors
    /// One that cannot be read.
    pub fn head(&self) -> Result<Option<String>, LedgerError> {
        let path = self.folder.join(HEAD);
        match File::open(&path) {
            Ok(file) => {
                let mut bytes = Vec::new();
                file.take(4096).read_to_end(&mut bytes).map_err(at(&path))?;
                Ok(Some(String::from_utf8_lossy(&bytes).into_owned()))
            }
            Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(e) => Err(at(&path)(e)),
        }
    }

    /// Adds one line, which has no end of line in it. When this returns the disk has it.
    ///
    /// # Errors
    /// What the machine cannot do: a part of the line may then stand at the end, for the next to mend.
    pub fn append(&mut self, line: &str) -> Result<(), LedgerError> {
        let path = self.folder.join(RECORD);
        let mut bytes = line.as_bytes().to_vec();
        bytes.push(b'\n');
        self.file.write_all(&bytes).map_err(at(&path))?;
        self.file.sync_data().map_err(at(&path))?;
        self.whole.extend(bytes);
        Ok(())
    }

    /// Replaces the head, whole or not at all.
    ///
    /// # Errors
    /// What the machine cannot do: the old head then stands.
    pub fn set_head(&self, text: &str) -> Result<(), LedgerError> {
        let path = self.folder.join(HEAD);
        let mut temporary = tempfile::Builder::new()
            .prefix(".rodbook-")
            .tempfile_in(&self.folder)
            .map_err(at(&path))?;
        temporary.write_all(text.as_bytes()).map_err(at(&path))?;
        temporary.as_file().sync_all().map_err(at(&path))?;
        temporary.persist(&path).map_err(|e| at(&path)(e.error))?;
        sync_folder(&self.folder)
    }

    /// Keeps a file under a name that its hash makes. One that is there already is left as it is.
    ///
    /// # Errors
    /// What the machine cannot do.
    pub fn hold(&self, name: &str, bytes: &[u8]) -> Result<(), LedgerError> {
        let folder = self.folder.join(HELD);
        let path = folder.join(name);
        if path.exists() {
            return Ok(());
        }
        let mut temporary = tempfile::Builder::new()
            .prefix(".rodbook-")
            .tempfile_in(&folder)
            .map_err(at(&path))?;
        temporary.write_all(bytes).map_err(at(&path))?;
        temporary.as_file().sync_all().map_err(at(&path))?;
        temporary.persist(&path).map_err(|e| at(&path)(e.error))?;
        sync_folder(&folder)
    }
}

/// Writes a key for its owner's eyes only, where there is no file yet.
///
/// # Errors
/// What the machine cannot do, and a file that is there.
pub fn new_key(path: &Path, text: &str) -> Result<(), LedgerError> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    let mut file = options.open(path).map_err(at(path))?;
    file.write_all(text.as_bytes()).map_err(at(path))?;
    file.sync_all().map_err(at(path))
}

/// 32 bytes of the system's chance: the only chance in the program, for a new key.
///
/// # Errors
/// A system that has none.
pub fn chance() -> Result<[u8; 32], String> {
    let mut bytes = [0u8; 32];
    getrandom::fill(&mut bytes).map_err(|e| format!("this machine gives no chance: {e}"))?;
    Ok(bytes)
}

fn sync_folder(folder: &Path) -> Result<(), LedgerError> {
    #[cfg(unix)]
    File::open(folder)
        .and_then(|f| f.sync_all())
        .map_err(at(folder))?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}

#[cfg(test)]
// The tests lay out folders of their own to write into.
#[allow(clippy::disallowed_methods)]
mod tests {
    use super::super::write::tests::names;
    use super::*;

    #[test]
    fn a_torn_line_is_put_aside_and_no_whole_one_is_lost() {
        let home = tempfile::tempdir().expect("a folder");
        let folder = home.path().join("signoff");
        let mut ledger = open(&folder).expect("made");
        ledger.append("one").expect("added");
        ledger.append("two").expect("added");
        drop(ledger);
        let path = folder.join(RECORD);
        let mut text = std::fs::read(&path).expect("there");
        text.extend(b"thr");
        std::fs::write(&path, &text).expect("torn");
        let mut ledger = open(&folder).expect("opens");
        let (aside, bytes) = ledger.mended.clone().expect("mended");
        assert_eq!(
            (std::fs::read(aside).expect("kept"), bytes),
            (b"thr".to_vec(), 3)
        );
        ledger.append("three").expect("added");
        assert_eq!(ledger.whole(), b"one\ntwo\nthree\n");
        assert_eq!(std::fs::read(&path).expect("there"), b"one\ntwo\nthree\n");
        assert_eq!(names(&folder), ["held", "record.jsonl", "torn-1.txt"]);
    }

    #[test]
    fn a_key_is_its_owners_and_is_never_written_over() {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("key");
        new_key(&path, "secret").expect("written");
        assert!(new_key(&path, "another").is_err());
        assert_eq!(std::fs::read(&path).expect("there"), b"secret");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = std::fs::metadata(&path)
                .expect("there")
                .permissions()
                .mode();
            assert_eq!(mode & 0o777, 0o600);
        }
    }
}
