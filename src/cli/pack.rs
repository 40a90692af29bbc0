//! `rodbook pack`: the two packs, the page to answer on, and a picture of every drawing.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::{Outcome, report};
use crate::app::{self, PackError, issues};
use crate::emit::write;

pub fn run(file: &Path, out: Option<&Path>) -> Outcome {
    let prepared = app::prepare(file);
    if prepared.job.is_none() {
        report::errors(&prepared);
        return Outcome::WrongInput;
    }
    let mut said = anstream::stderr();
    let standing = issues::ground(file).and_then(|g| issues::standing(&prepared, &g, None));
    let standing = match standing {
        Ok(standing) => standing.unwrap_or_default(),
        Err(e) => {
            let _ = writeln!(said, "error: {e}\nNothing was written.");
            return Outcome::WrongInput;
        }
    };
    let folder = match out {
        Some(folder) => folder.to_path_buf(),
        None => beside(file),
    };
    let files = match app::packs(&prepared, &standing) {
        Ok(files) => files,
        Err(e) => {
            let _ = writeln!(said, "error: {e}\nNothing was written.");
            return if e.is_input() {
                Outcome::WrongInput
            } else {
                Outcome::Trouble
            };
        }
    };
    match write::all(&folder, &files) {
        Ok(written) => {
            let is_png = |p: &&PathBuf| p.extension().is_some_and(|e| e == "png");
            for path in written.iter().filter(|p| !is_png(p)) {
                let _ = writeln!(said, "wrote {}", path.display());
            }
            let pictures = written.iter().filter(is_png).count();
            let _ = writeln!(
                said,
                "wrote {pictures} drawings to {}",
                folder.join("drawings").display()
            );
        }
        Err(e) => {
            let _ = writeln!(said, "error: {e}");
            return Outcome::Trouble;
        }
    }
    report::tally(&prepared, &mut said);
    if report::blocked(&prepared) {
        Outcome::Blocked
    } else {
        Outcome::Fine
    }
}

/// `out` beside the project file.
fn beside(file: &Path) -> PathBuf {
    file.parent().unwrap_or(Path::new("")).join("out")
}

impl std::fmt::Display for PackError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            PackError::Draw(e) => e.fmt(f),
            PackError::Compose(e) => e.fmt(f),
            PackError::Pdf(e) => e.fmt(f),
            PackError::Png(e) => e.fmt(f),
            PackError::Reply(e) => write!(f, "the page to answer on failed: {e}"),
        }
    }
}
