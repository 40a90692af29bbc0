//! Errors and findings, said to a person or a program. Knows streams and colour; must not know what
//! was found.

use std::io::Write;

use serde_json::{Value, json};

use crate::app::Prepared;
use crate::diag::{as_json, as_text, line_column};
use crate::reckon::placed::{Finding, Severity};

/// Whether a stream wants colour: a terminal, and NO_COLOR not set.
fn colour() -> bool {
    use anstream::AutoStream;
    AutoStream::choice(&std::io::stderr()) != anstream::ColorChoice::Never
}

/// To standard error: what is wrong, each with its line.
pub fn errors(prepared: &Prepared) {
    let text = as_text(&prepared.path, &prepared.text, &prepared.errors, colour());
    let count = match prepared.errors.len() {
        1 => "1 thing is wrong; nothing was written.".to_string(),
        n => format!("{n} things are wrong; nothing was written."),
    };
    // A closed pipe is nobody's trouble.
    let _ = writeln!(std::io::stderr(), "{text}{count}");
}

/// To a stream: what was found, worst first.
pub fn findings(prepared: &Prepared, out: &mut dyn Write) {
    tell(prepared, all(prepared), out);
}

/// To a stream: only what blocks the job.
pub fn blocking(prepared: &Prepared, out: &mut dyn Write) {
    let blocks = all(prepared).iter();
    tell(
        prepared,
        blocks.filter(|f| f.severity == Severity::Blocks),
        out,
    );
}

fn tell<'a>(
    prepared: &Prepared,
    findings: impl IntoIterator<Item = &'a Finding>,
    out: &mut dyn Write,
) {
    for finding in findings {
        let at = match finding.place.0 {
            Some((start, _)) => {
                format!(
                    "{}:{}",
                    prepared.path,
                    line_column(&prepared.text, start).line
                )
            }
            None => prepared.path.clone(),
        };
        let _ = writeln!(
            out,
            "{}: {} [{}]",
            word_of(finding),
            finding.text,
            finding.code
        );
        let _ = writeln!(out, "    at {at}");
        if !finding.limit.is_empty() {
            let _ = writeln!(out, "    limit: {}", finding.limit);
        }
        if let Some(why) = &finding.known {
            let _ = writeln!(out, "    known: {why}");
        } else if !finding.advice.is_empty() {
            let _ = writeln!(out, "    do: {}", finding.advice);
        }
    }
}

/// To a stream: how many findings of which weight, and where to read them.
pub fn tally(prepared: &Prepared, out: &mut dyn Write) {
    let count = |severity| {
        all(prepared)
            .iter()
            .filter(|f| f.severity == severity && f.known.is_none())
            .count()
    };
    let (blocks, warns) = (count(Severity::Blocks), count(Severity::Warns));
    let notes = count(Severity::Informs);
    let known = all(prepared).iter().filter(|f| f.known.is_some()).count();
    let known = match known {
        0 => String::new(),
        n => format!(", {n} are known"),
    };
    if blocks + warns + notes > 0 {
        let _ = writeln!(
            out,
            "{blocks} findings block, {warns} warn, {notes} are notes{known}: rodbook check {}",
            prepared.path
        );
    }
}

/// Findings in the order they are told.
pub fn all(prepared: &Prepared) -> &[Finding] {
    prepared
        .job
        .as_ref()
        .map_or(&[], |(_, reckoned)| reckoned.findings.as_slice())
}

pub fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Blocks => "blocks",
        Severity::Warns => "warns",
        Severity::Informs => "note",
    }
}

fn word_of(finding: &Finding) -> &'static str {
    match finding.known {
        Some(_) => "known",
        None => word(finding.severity),
    }
}

/// Whether anything found blocks the job.
pub fn blocked(prepared: &Prepared) -> bool {
    all(prepared)
        .iter()
        .any(|f| f.severity == Severity::Blocks && f.known.is_none())
}

/// Everything as one JSON object.
pub fn json(prepared: &Prepared) -> Value {
    let findings: Vec<Value> = all(prepared)
        .iter()
        .map(|f| {
            json!({
                "code": f.code,
                "severity": word(f.severity),
                "message": f.text,
                "limit": f.limit,
                "advice": f.advice,
                "known": f.known,
                "line": f.place.0.map(|(start, _)| line_column(&prepared.text, start).line),
            })
        })
        .collect();
    json!({
        "file": prepared.path,
        "errors": as_json(&prepared.path, &prepared.text, &prepared.errors),
        "findings": findings,
    })
}
