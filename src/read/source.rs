//! The project file and the pictures beside it, as bytes. Knows files; must not know their meaning.

use std::path::{Path, PathBuf};

use crate::diag::{Code, Diagnostic, Diagnostics, Place};

/// A project file's text and the folder its pictures are relative to.
#[derive(Clone, Debug)]
pub struct Source {
    /// As the designer typed it.
    pub path: String,
    pub text: String,
    pub folder: PathBuf,
}

/// Longest project file that is read: a larger one is some other file.
const MOST_BYTES: u64 = 8 << 20;

/// Reads the file. `None` after having said what is wrong with it.
#[allow(clippy::disallowed_methods)] // `read` is where files are read
pub fn load(path: &Path, diags: &mut Diagnostics) -> Option<Source> {
    let shown = path.display().to_string();
    let absent = |why: String| {
        Diagnostic::new(
            Code::FileAbsent,
            Place::NOWHERE,
            format!("cannot read {shown}: {why}"),
        )
        .help("give the path of a project file, such as example-project/project.toml")
    };
    let meta = match std::fs::metadata(path) {
        Ok(meta) => meta,
        Err(e) => {
            diags.push(absent(plain(&e)));
            return None;
        }
    };
    if !meta.is_file() {
        diags.push(absent("it is not a file".into()));
        return None;
    }
    if meta.len() > MOST_BYTES {
        diags.push(absent("it is larger than any project file".into()));
        return None;
    }
    let bytes = match std::fs::read(path) {
        Ok(bytes) => bytes,
        Err(e) => {
            diags.push(absent(plain(&e)));
            return None;
        }
    };
    let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
    match String::from_utf8(bytes) {
        Ok(text) => {
            let text = text
                .strip_prefix('\u{feff}')
                .map(str::to_string)
                .unwrap_or(text);
            Some(Source {
                path: shown,
                text,
                folder,
            })
        }
        Err(e) => {
            let good = e.utf8_error().valid_up_to();
            let line = e
                .as_bytes()
                .iter()
                .take(good)
                .filter(|b| **b == b'\n')
                .count()
                + 1;
            diags.push(
                Diagnostic::new(
                    Code::NotUtf8,
                    Place::NOWHERE,
                    format!(
                        "{shown} is not UTF-8 text: line {line} has a byte that is no character"
                    ),
                )
                .help("save it from the editor as UTF-8"),
            );
            None
        }
    }
}

/// What the system says, without its error number.
fn plain(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".into(),
        std::io::ErrorKind::PermissionDenied => "it may not be read".into(),
        _ => e.to_string(),
    }
}
