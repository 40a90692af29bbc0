//! What several test files need: the program as a user runs it, and where things are.

use std::path::{Path, PathBuf};
use std::process::Command;

pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

/// What the program said and how it ended.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program in a folder, without the caller's environment.
pub fn rodbook(folder: &Path, args: &[&str]) -> Run {
    let done = Command::new(env!("CARGO_BIN_EXE_rodbook"))
        .args(args)
        .current_dir(folder)
        .env_clear()
        .output()
        .expect("the program starts");
    Run {
        code: done.status.code().expect("it ends by itself"),
        out: String::from_utf8(done.stdout).expect("UTF-8"),
        err: String::from_utf8(done.stderr).expect("UTF-8"),
    }
}
