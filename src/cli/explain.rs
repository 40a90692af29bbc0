//! `rodbook explain` and `rodbook keys`: what a project means, and what one can say.

use std::io::Write;
use std::path::Path;

use super::{Outcome, report};
use crate::{app, read};

pub fn run(file: &Path) -> Outcome {
    let prepared = app::prepare(file);
    if !prepared.errors.is_empty() {
        report::errors(&prepared);
        return Outcome::WrongInput;
    }
    if let Some(filled) = &prepared.filled {
        let _ = write!(
            anstream::stdout(),
            "{}",
            read::listing(filled, &prepared.text)
        );
    }
    Outcome::Fine
}

pub fn keys() -> Outcome {
    let _ = write!(anstream::stdout(), "{}", read::reference());
    Outcome::Fine
}
