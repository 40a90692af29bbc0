//! `rodbook issue`: a revision frozen. Knows how it is told; must not know what an issue holds.

use std::io::Write;
use std::path::Path;

use super::args::For;
use super::{Outcome, report};
use crate::app;
use crate::app::issues::{self, NotIssued};
use crate::app::signoff::{self, Lapsed, NotRecorded};
use crate::compare::Purpose;

pub fn run(file: &Path, purpose: For) -> Outcome {
    let prepared = app::prepare(file);
    if prepared.job.is_none() {
        report::errors(&prepared);
        return Outcome::WrongInput;
    }
    let purpose = match purpose {
        For::Approval => Purpose::Approval,
        For::Fitting => Purpose::Fitting,
        For::Record => Purpose::Record,
    };
    let mut said = anstream::stderr();
    // What was built is recorded as it is.
    if purpose != Purpose::Record && report::blocked(&prepared) {
        report::blocking(&prepared, &mut said);
        let _ = writeln!(
            said,
            "Not issued: something found blocks the job. `rodbook pack` still makes a draft."
        );
        return Outcome::Blocked;
    }
    match issues::issue(file, &prepared, purpose) {
        Ok(issued) => {
            if issued.mended > 0 {
                let _ = writeln!(
                    said,
                    "threw away what an interrupted run had left unfinished"
                );
            }
            let _ = writeln!(
                said,
                "issued revision {} for {}: {} files in {}\nits hash is {}",
                issued.revision,
                purpose.word(),
                issued.files,
                issued.folder.display(),
                issued.hash
            );
            match signoff::lapse(file) {
                Ok(lapsed) => tell(&lapsed, &mut said),
                Err(e) => {
                    let why = match e {
                        NotRecorded::Wrong(why) => why.join("; "),
                        NotRecorded::Trouble(e) => e.to_string(),
                    };
                    let _ = writeln!(said, "the record could not be told of it: {why}");
                }
            }
            if purpose == Purpose::Approval {
                report::unpriced(&prepared, &mut said);
            }
            report::tally(&prepared, &mut said);
            Outcome::Fine
        }
        Err(not) => {
            let (outcome, why) = match not {
                NotIssued::Wrong(why) => (Outcome::WrongInput, why),
                NotIssued::Pack(e) if e.is_input() => (Outcome::WrongInput, e.to_string()),
                NotIssued::Pack(e) => (Outcome::Trouble, e.to_string()),
                NotIssued::Write(e) => (Outcome::Trouble, e.to_string()),
            };
            let _ = writeln!(said, "error: {why}\nNothing was issued.");
            outcome
        }
    }
}

/// Which agreements it made lapse, and whose they were.
fn tell(lapsed: &Lapsed, said: &mut dyn Write) {
    for (about, whose) in lapsed {
        let each: Vec<String> = whose
            .iter()
            .map(|by| format!("{}, {}, on {}", by.name, by.role, by.day))
            .collect();
        let _ = writeln!(
            said,
            "lapsed: {} [{}], {} by {}",
            about.title,
            about.subject,
            whose.first().map_or("agreed", |by| by.answer.word()),
            each.join("; ")
        );
    }
    let _ = match lapsed.len() {
        0 => Ok(()),
        1 => writeln!(
            said,
            "1 agreement lapsed and is asked for again; all others stand"
        ),
        n => writeln!(
            said,
            "{n} agreements lapsed and are asked for again; all others stand"
        ),
    };
}
