//! Errors and findings, said to a person or a program. Knows streams and colour; must not know what
//! was found.

use std::io::Write;

use serde_json::{Value, json};

use crate::app::Prepared;
use crate::diag::{as_json, as_text, line_column};
use crate::reckon::placed::{Finding, Severity};
use crate::risks::{CLIENT, Disclosure, OptionKind};

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

/// To a stream: what was found, worst first, each with the number that the fitter's pack gives it.
pub fn findings(prepared: &Prepared, out: &mut dyn Write) {
    tell(prepared, (1..).zip(all(prepared)), out);
}

/// To a stream: only what blocks the job.
pub fn blocking(prepared: &Prepared, out: &mut dyn Write) {
    let all = (1..).zip(all(prepared));
    tell(
        prepared,
        all.filter(|(_, f)| f.severity == Severity::Blocks),
        out,
    );
}

fn tell<'a>(
    prepared: &Prepared,
    findings: impl Iterator<Item = (u32, &'a Finding)>,
    out: &mut dyn Write,
) {
    for (n, (number, finding)) in findings.enumerate() {
        if n == 0 {
            let _ = writeln!(out, "{}", prepared.path);
        }
        let _ = writeln!(
            out,
            "{number} {}: {} [{}]",
            word_of(prepared, finding),
            finding.text,
            finding.code
        );
        if let Some((start, _)) = finding.place.0 {
            let line = line_column(&prepared.text, start).line;
            let _ = writeln!(out, "    at line {line}");
        }
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

/// To a stream: what is to be agreed, each with what can be chosen.
pub fn risks(prepared: &Prepared, out: &mut dyn Write) {
    for d in &prepared.risks.disclosures {
        let _ = writeln!(out, "risk: {} [{}]", d.title, d.id);
        let number = match &d.figure {
            Some(n) if n.limit.is_empty() => format!("{}; ", n.found),
            Some(n) => format!("{}, held against {}; ", n.found, n.limit),
            None => String::new(),
        };
        let _ = writeln!(out, "    {number}about {}", d.about);
        let offers: Vec<String> = d
            .options
            .iter()
            .map(|o| match (o.kind, o.price) {
                (OptionKind::Nothing, _) => o.id.clone(),
                (_, Some(price)) => {
                    format!("{} {}", o.id, price.in_currency(&prepared.risks.currency))
                }
                (_, None) => format!("{} (no price)", o.id),
            })
            .collect();
        let offers = match offers.is_empty() {
            true => "nothing offered".to_owned(),
            false => offers.join(", "),
        };
        let chosen = match d.chosen() {
            Some(chosen) => format!("chosen: {} ({})", chosen.id, chosen.state.word()),
            None => "not chosen yet".to_owned(),
        };
        let _ = writeln!(
            out,
            "    agreed by {}; options: {offers}; {chosen}",
            d.roles.join(", ")
        );
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
    let said = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    let known = match known {
        0 => String::new(),
        n => format!(", {}", said(n, "is known", "are known")),
    };
    if blocks + warns + notes > 0 {
        let _ = writeln!(
            out,
            "{}, {}, {}{known}: rodbook check {}",
            said(blocks, "finding blocks", "findings block"),
            said(warns, "warns", "warn"),
            said(notes, "is a note", "are notes"),
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

fn word_of(prepared: &Prepared, finding: &Finding) -> &'static str {
    let mut agreed = prepared.risks.agreed_away.iter();
    let is = |n: &usize| {
        let found = all(prepared).get(*n);
        found.is_some_and(|f| std::ptr::eq(f, finding))
    };
    match finding.known {
        Some(_) => "known",
        None if agreed.any(is) => "agreed",
        None => word(finding.severity),
    }
}

/// Whether anything found blocks the job.
pub fn blocked(prepared: &Prepared) -> bool {
    all(prepared).iter().enumerate().any(|(n, f)| {
        let agreed = prepared.risks.agreed_away.contains(&n);
        f.severity == Severity::Blocks && f.known.is_none() && !agreed
    })
}

/// Options that a client is offered without a price: each must have one before it can be chosen.
pub fn unpriced(prepared: &Prepared, said: &mut dyn Write) {
    let all = prepared.risks.of(CLIENT);
    let without: Vec<String> = all
        .flat_map(|d| d.options.iter().map(move |o| (d, o)))
        .filter(|(_, o)| o.price.is_none())
        .map(|(d, o)| format!("{} ({})", d.id, o.id))
        .collect();
    if !without.is_empty() {
        let _ = writeln!(
            said,
            "no price yet, so that nobody can choose it: {}; give each a `price` under its [[risk]], or write it on the \
             paper before it is signed",
            without.join(", ")
        );
    }
}

/// One disclosure for a program.
fn disclosure(d: &Disclosure, currency: &str) -> Value {
    let options: Vec<Value> = d
        .options
        .iter()
        .map(|o| {
            json!({
                "id": o.id,
                "is": o.kind.word(),
                "words": o.words,
                "price": o.price.map(|p| p.in_currency(currency)),
                "when": o.when,
                "until": o.until,
                "state": o.state.word(),
            })
        })
        .collect();
    json!({
        "id": d.id,
        "raised_by": d.raised_by(),
        "title": d.title,
        "text": d.text,
        "about": d.about,
        "number": d.figure,
        "doing": d.doing,
        "cannot": d.cannot,
        "roles": d.roles,
        "severity": word(d.severity),
        "known": d.known,
        "options": options,
        "choice": d.chosen().map(|o| &o.id),
    })
}

/// What a finding is about: its kind and its id.
fn subject(prepared: &Prepared, finding: &Finding) -> Value {
    let (job, _) = match &prepared.job {
        Some(both) => both,
        None => return Value::Null,
    };
    let (kind, id) = crate::compare::subject(job, &finding.subject);
    json!({ "is": kind, "id": id })
}

/// `4.3` and `mm` of `4.3 mm`: a number, and what it is of; none of words that begin with none.
fn amount(said: &str) -> (Option<f64>, &str) {
    let end = said
        .find(|c: char| !c.is_ascii_digit() && c != '.' && c != '-')
        .unwrap_or(said.len());
    let (number, unit) = said.split_at(end);
    let number: Option<f64> = number.parse().ok();
    let unit = unit.trim_start();
    let unit = unit.split([' ', ',']).next().unwrap_or_default();
    (number, unit)
}

/// Everything as one JSON object.
pub fn json(prepared: &Prepared) -> Value {
    let findings: Vec<Value> = (1..)
        .zip(all(prepared))
        .map(|(number, f): (u32, _)| {
            let figure = f.figure.as_ref();
            let found = figure.map(|n| amount(&n.found));
            let limit = figure.map(|n| amount(&n.limit));
            json!({
                "number": number,
                "subject": subject(prepared, f),
                "value": found.and_then(|n| n.0),
                "unit": found.filter(|n| n.0.is_some()).map(|n| n.1),
                "limit_value": limit.and_then(|n| n.0),
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
    let risks = &prepared.risks;
    let disclosures = risks.disclosures.iter();
    let disclosures: Vec<Value> = disclosures
        .map(|d| disclosure(d, &risks.currency))
        .collect();
    json!({
        "risks": disclosures,
        "file": prepared.path,
        "errors": as_json(&prepared.path, &prepared.text, &prepared.errors),
        "findings": findings,
    })
}

#[cfg(test)]
mod tests {
    use super::amount;

    #[test]
    fn a_number_is_parted_from_its_unit() {
        assert_eq!(amount("4.3 mm"), (Some(4.3), "mm"));
        assert_eq!(amount("36\u{b0}"), (Some(36.0), "\u{b0}"));
        assert_eq!(amount("33.3 kg for 2 people"), (Some(33.3), "kg"));
        assert_eq!(amount("about 1"), (None, "about"));
        assert_eq!(amount(""), (None, ""));
    }
}
