//! `rodbook sheet`: whether the paper in hand is the newest. Knows how a verdict is worded; must not
//! know how it was reached.

use std::io::Write;
use std::path::Path;

use super::{Outcome, report};
use crate::app;
use crate::app::issues;
use crate::compare::code::Verdict;

pub fn run(file: &Path, words: &str) -> Outcome {
    let prepared = app::prepare(file);
    if prepared.job.is_none() {
        report::errors(&prepared);
        return Outcome::WrongInput;
    }
    let (code, verdict) = match issues::sheet(file, &prepared, words) {
        Ok(Some(judged)) => judged,
        Ok(None) => {
            let _ = writeln!(
                anstream::stderr(),
                "error: these are not the words of a sheet's code, which begin with RB1:"
            );
            return Outcome::WrongInput;
        }
        Err(e) => {
            let _ = writeln!(anstream::stderr(), "error: {e}");
            return Outcome::WrongInput;
        }
    };
    let sheet = match &code.revision {
        Some(revision) => format!("sheet {} of revision {revision}", code.sheet),
        None => format!("sheet {} of a draft", code.sheet),
    };
    let (outcome, said) = match verdict {
        Verdict::Current => (
            Outcome::Fine,
            "current: nothing newer is issued".to_owned(),
        ),
        Verdict::Superseded(by) => (
            Outcome::Blocked,
            format!(
                "superseded: revision {} was issued for {} on {}. Do not work from this sheet",
                by.revision,
                by.purpose.word(),
                by.date
            ),
        ),
        Verdict::DraftAsNow => (
            Outcome::Fine,
            "a draft of the project as the file is now; it is not issued".to_owned(),
        ),
        Verdict::DraftOfOther => (
            Outcome::Blocked,
            "a draft, and the project file has changed since. Do not work from this sheet".to_owned(),
        ),
        Verdict::OtherJob => (
            Outcome::Blocked,
            format!("of another job: {}", code.job),
        ),
        Verdict::Unknown => (
            Outcome::Blocked,
            "unknown: no issue beside this project file has that revision and hash. Do not work from \
             this sheet"
                .to_owned(),
        ),
    };
    let _ = writeln!(anstream::stdout(), "{sheet}: {said}.");
    outcome
}
