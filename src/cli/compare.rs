//! `rodbook compare`: what differs between two jobs, in words or as JSON. Knows how it is told; must
//! not know how it was found.

use std::io::Write;
use std::path::Path;

use serde_json::json;

use super::args::Format;
use super::{Outcome, report};
use crate::app::issues::{self, Taken};
use crate::compare::subjects::{Fares, altered};
use crate::compare::{Frozen, changes, register, subjects};

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
    let (was, is) = (subjects(&old.record), subjects(&new.record));
    let again = altered(&was, &is);
    let mut out = anstream::stdout().lock();
    if format == Format::Json {
        let told = json!({
            "from": register.from,
            "to": register.to,
            "reasons": register.reasons,
            "entries": register.entries,
            "to_be_agreed": again.iter().map(|(fares, s)| json!({
                "subject": s.key,
                "title": s.named(),
                "fares": fares,
                "roles": s.roles,
            })).collect::<Vec<_>>(),
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
    if !again.is_empty() {
        let _ = writeln!(out, "\nOf what people sign for:");
    }
    for (fares, subject) in &again {
        let asked = match fares {
            Fares::Gone => "nothing is asked".to_owned(),
            _ => format!("asked of the {}", subject.roles.join(" and the ")),
        };
        let _ = writeln!(out, "  {}: {}; {asked}", fares.word(), subject.named());
    }
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
