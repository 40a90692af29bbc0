//! `rodbook compare`: what differs between two jobs, in words or as JSON. Knows how it is told; must
//! not know how it was found.

use std::io::Write;
use std::path::Path;

use serde_json::json;

use super::args::Format;
use super::{Outcome, report};
use crate::app::issues::{self, Taken};
use crate::compare::{Frozen, changes, register};

pub fn run(a: &Path, b: &Path, format: Format) -> Outcome {
    let (old, new) = match (take(a), take(b)) {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            for wrong in [old, new].into_iter().filter_map(Result::err) {
                match wrong {
                    Wrong::Unsound(prepared) => report::errors(&prepared),
                    Wrong::Other(why) => drop(writeln!(anstream::stderr(), "error: {why}")),
                }
            }
            return Outcome::WrongInput;
        }
    };
    let register = register(&old.record, &new.record, &old.called(), &new.called());
    let mut out = anstream::stdout().lock();
    if format == Format::Json {
        let told = json!({
            "from": register.from,
            "to": register.to,
            "reasons": register.reasons,
            "entries": register.entries,
            "changes": changes(&old.record, &new.record).all,
        });
        let _ = writeln!(out, "{told:#}");
        return Outcome::Fine;
    }
    if old.job != new.job {
        let _ = writeln!(out, "These are two jobs: {} and {}.", old.job, new.job);
    }
    let _ = writeln!(out, "From {} to {}:", register.from, register.to);
    for reason in &register.reasons {
        let _ = writeln!(out, "  why: {reason}");
    }
    for entry in &register.entries {
        let _ = writeln!(
            out,
            "\n{}. {} [{}]",
            entry.number,
            entry.about,
            entry.sort.word()
        );
        for change in &entry.changes {
            let _ = writeln!(out, "     {change}");
        }
        for follows in &entry.follows {
            let _ = writeln!(out, "   - {follows}");
        }
        if !entry.agree.is_empty() {
            let _ = writeln!(out, "     to be agreed by: {}", entry.agree.join(" and "));
        }
    }
    let _ = match register.entries.len() {
        0 => writeln!(out, "nothing differs."),
        1 => writeln!(out, "\n1 change."),
        n => writeln!(out, "\n{n} changes."),
    };
    Outcome::Fine
}

enum Wrong {
    Unsound(Box<crate::app::Prepared>),
    Other(String),
}

fn take(path: &Path) -> Result<Box<Frozen>, Wrong> {
    match issues::take(path) {
        Ok(Taken::Frozen(frozen)) => Ok(frozen),
        Ok(Taken::Unsound(prepared)) => Err(Wrong::Unsound(prepared)),
        Err(why) => Err(Wrong::Other(why)),
    }
}
