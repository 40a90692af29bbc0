//! `rodbook handover`: what was agreed, as a PDF. Knows where it is written; must not know what is on it.

use std::io::Write;
use std::path::Path;

use super::Outcome;
use crate::app::signoff::{self, NotHanded};
use crate::emit::write::{self, File};

pub fn run(file: &Path, out: Option<&Path>, revision: Option<&str>, day: Option<&str>) -> Outcome {
    let mut said = anstream::stderr();
    let bytes = match signoff::handover(file, revision, day) {
        Ok(bytes) => bytes,
        Err(not) => {
            let (outcome, why) = match not {
                NotHanded::Wrong(why) => (Outcome::WrongInput, why),
                NotHanded::Pack(e) if e.is_input() => (Outcome::WrongInput, e.to_string()),
                NotHanded::Pack(e) => (Outcome::Trouble, e.to_string()),
            };
            let _ = writeln!(said, "error: {why}\nNothing was written.");
            return outcome;
        }
    };
    let usual = file
        .parent()
        .unwrap_or(Path::new(""))
        .join("out/agreed.pdf");
    let path = out.unwrap_or(&usual);
    let name = path.file_name().map(|n| n.to_string_lossy().into_owned());
    let Some(name) = name else {
        let _ = writeln!(said, "error: {} is no name of a file", path.display());
        return Outcome::WrongInput;
    };
    let folder = path.parent().unwrap_or(Path::new(""));
    let folder = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    match write::all(folder, &[File { path: name, bytes }]) {
        Ok(_) => {
            let _ = writeln!(said, "wrote {}", path.display());
            Outcome::Fine
        }
        Err(e) => {
            let _ = writeln!(said, "error: {e}");
            Outcome::Trouble
        }
    }
}
