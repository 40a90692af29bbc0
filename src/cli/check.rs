//! `rodbook check`: everything wrong and everything found, and nothing written.

use std::io::Write;
use std::path::Path;

use super::args::Format;
use super::{Outcome, report};
use crate::app;

pub fn run(file: &Path, format: Format) -> Outcome {
    let prepared = app::prepare(file);
    let outcome = match () {
        () if !prepared.errors.is_empty() => Outcome::WrongInput,
        () if report::blocked(&prepared) => Outcome::Blocked,
        () => Outcome::Fine,
    };
    let mut out = anstream::stdout().lock();
    match format {
        Format::Json => {
            let _ = writeln!(out, "{:#}", report::json(&prepared));
        }
        Format::Text if outcome == Outcome::WrongInput => report::errors(&prepared),
        Format::Text => {
            report::findings(&prepared, &mut out);
            report::risks(&prepared, &mut out);
            let _ = writeln!(out, "{}", summary(&prepared));
        }
    }
    outcome
}

fn summary(prepared: &app::Prepared) -> String {
    let Some((job, reckoned)) = &prepared.job else {
        return String::new();
    };
    let risks = &prepared.risks.disclosures;
    let open = risks.iter().filter(|d| d.chosen().is_none()).count();
    let units: usize = job.runs.iter().map(|r| r.units.len()).sum();
    format!(
        "{}: {} rooms, {} runs, {units} units, {} fronts; {} findings; {} risks, {open} open.",
        job.info.number,
        job.rooms.len(),
        job.runs.len(),
        reckoned.fronts.len(),
        reckoned.findings.len(),
        risks.len()
    )
}
