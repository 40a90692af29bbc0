//! `rodbook verify`: whether everything is as it was written. Knows how it is told; must not know how it was
//! found.

use std::io::Write;
use std::path::Path;

use serde_json::json;

use super::Outcome;
use super::args::Format;
use crate::app::verify;

pub fn run(file: &Path, format: Format) -> Outcome {
    let mut out = anstream::stdout().lock();
    let found = match verify::all(file) {
        Ok(found) => found,
        Err(e) => {
            let _ = writeln!(anstream::stderr(), "error: {e}");
            return Outcome::WrongInput;
        }
    };
    let outcome = match found.wrong.is_empty() && found.lapsed.is_empty() {
        true => Outcome::Fine,
        false => Outcome::Blocked,
    };
    if format == Format::Json {
        let told = json!(found);
        let _ = writeln!(out, "{told:#}");
        return outcome;
    }
    for words in &found.holds {
        let _ = writeln!(out, "holds: {words}.");
    }
    for (key, count) in &found.keys {
        let entries = if *count == 1 {
            "entry is"
        } else {
            "entries are"
        };
        let _ = writeln!(
            out,
            "holds: {count} {entries} signed by the key {}: one hand made them; whose it is, it cannot say.",
            key.get(..16).unwrap_or(key)
        );
    }
    for words in &found.torn {
        let _ = writeln!(out, "torn: {words}.");
    }
    for words in &found.lapsed {
        let _ = writeln!(out, "lapsed: {words}.");
    }
    for words in &found.wrong {
        let _ = writeln!(out, "WRONG: {words}.");
    }
    let nothing = found.holds.is_empty() && found.wrong.is_empty();
    let _ = match (nothing, found.wrong.len(), found.lapsed.len()) {
        (true, ..) => writeln!(out, "Nothing is issued or recorded yet."),
        (_, 0, 0) => writeln!(out, "Everything is as it was written."),
        (_, 0, 1) => writeln!(
            out,
            "Everything is as it was written; 1 agreement has lapsed."
        ),
        (_, 0, n) => writeln!(
            out,
            "Everything is as it was written; {n} agreements have lapsed."
        ),
        (_, 1, _) => writeln!(out, "1 thing is not as it was written."),
        (_, n, _) => writeln!(out, "{n} things are not as they were written."),
    };
    outcome
}
