//! `rodbook agreements`: where every agreement stands. Knows how it is told; must not know how it was
//! reckoned.

use std::io::Write;
use std::path::Path;

use serde_json::json;

use super::Outcome;
use super::args::Format;
use crate::app::signoff::Desk;
use crate::compare::subjects::named;
use crate::signoff::state::{By, State, Where};

pub fn run(file: &Path, revision: Option<&str>, day: Option<&str>, format: Format) -> Outcome {
    let state = match Desk::open(file).and_then(|desk| desk.state(revision, day)) {
        Ok(state) => state,
        Err(e) => {
            let _ = writeln!(anstream::stderr(), "error: {e}");
            return Outcome::WrongInput;
        }
    };
    let outcome = if state.holds() {
        Outcome::Fine
    } else {
        Outcome::Blocked
    };
    let mut out = anstream::stdout().lock();
    match format {
        Format::Json => {
            let told = json!(state);
            let _ = writeln!(out, "{told:#}");
        }
        Format::Text => tell(&state, &mut out),
    }
    outcome
}

fn tell(state: &State, out: &mut dyn Write) {
    let upto = match &state.day {
        Some(day) => format!(", by what was recorded up to {day}"),
        None => String::new(),
    };
    let _ = writeln!(out, "Revision {}{upto}:", state.revision);
    let mut roles: Vec<(&str, &str)> = Vec::new();
    for a in &state.agreements {
        let who = (a.role.as_str(), a.name.as_str());
        if !roles.contains(&who) {
            roles.push(who);
        }
    }
    for (role, name) in roles {
        let _ = match name {
            "" => writeln!(
                out,
                "\nfor the {role}, as which nobody signs: asked of nobody"
            ),
            name => writeln!(out, "\nasked of {name}, {role}"),
        };
        for a in state
            .agreements
            .iter()
            .filter(|a| a.role == role && a.name == name)
        {
            let what = named(a.kind.word(), &a.title);
            let _ = match &a.stands {
                Where::Open if a.options.is_empty() => {
                    writeln!(out, "  open      {what} [{}]", a.subject)
                }
                Where::Open => writeln!(
                    out,
                    "  open      {what} [{}]: {}",
                    a.subject,
                    a.options.join(" or ")
                ),
                Where::Agreed { by } => {
                    writeln!(out, "  agreed    {what} [{}]: {}", a.subject, said(by))
                }
                Where::Declined { by } => {
                    writeln!(out, "  DECLINED  {what} [{}]: {}", a.subject, said(by))
                }
                Where::Chosen { by } => writeln!(
                    out,
                    "  chosen    {what} [{}]: \u{201c}{}\u{201d}, {}",
                    a.subject,
                    by.option.as_deref().unwrap_or(""),
                    said(by)
                ),
                Where::Lapsed { by, altered_by } => writeln!(
                    out,
                    "  LAPSED    {what} [{}]: {} {}; altered by revision {altered_by}",
                    a.subject,
                    by.answer.word(),
                    said(by)
                ),
            };
        }
    }
    if !state.gone.is_empty() {
        let _ = writeln!(out, "\nagreed once, and no part of the job any more");
    }
    for gone in &state.gone {
        let _ = writeln!(
            out,
            "  {}: {}; gone since revision {}",
            gone.subject,
            said(&gone.by),
            gone.since
        );
    }
    if !state.contingencies.is_empty() {
        let _ = writeln!(out, "\ncontingencies accepted");
    }
    for c in &state.contingencies {
        let became = match (c.became, &c.until) {
            (Some(became), _) => format!("{} on {}", became.word(), c.day),
            (None, Some(until)) if c.over => {
                format!("not called, and its last day, {until}, is over")
            }
            (None, Some(until)) => format!("not called so far; it may be until {until}"),
            (None, None) => "not called so far".to_owned(),
        };
        let _ = writeln!(out, "  {} [{}]: {became}. {}", c.title, c.option, c.words);
    }
    for d in &state.differs {
        let project = match &d.project {
            Some(choice) => format!("the project file of this revision says {choice}"),
            None => "the project file of this revision says nothing".to_owned(),
        };
        let _ = writeln!(
            out,
            "\nnote: {} [{}]: {} was chosen, and {project}: write the choice into it",
            d.title, d.subject, d.recorded
        );
    }
    if !state.snags.is_empty() {
        let _ = writeln!(out, "\nsnags");
    }
    for snag in &state.snags {
        let stands = match &snag.put_right {
            Some(day) => format!("put right on {day}"),
            None => "to be put right".to_owned(),
        };
        let _ = writeln!(
            out,
            "  {}. {}: {} ({}): {stands}",
            snag.number, snag.about, snag.words, snag.day
        );
    }
    for done in &state.completed {
        let _ = writeln!(
            out,
            "\ncompleted: said by {}, {}, {}. {}",
            done.name, done.role, done.day, done.words
        );
    }
    let agreed = state.count(|w| matches!(w, Where::Agreed { .. } | Where::Chosen { .. }));
    let lapsed = state.count(|w| matches!(w, Where::Lapsed { .. }));
    let declined = state.count(|w| matches!(w, Where::Declined { .. }));
    let open = state.count(|w| matches!(w, Where::Open));
    let _ = writeln!(
        out,
        "\n{agreed} agreed, {open} open, {lapsed} lapsed, {declined} declined."
    );
}

/// `Ann Body, 2026-03-05, on paper, revision A, sheet C7 (entry 3)`.
fn said(by: &By) -> String {
    let page = match by.page.as_str() {
        "" => String::new(),
        page if page.contains(',') => format!(", sheets {page}"),
        page => format!(", sheet {page}"),
    };
    format!(
        "{}, {}, {}, revision {}{page} (entry {})",
        by.name,
        by.day,
        by.means.word(),
        by.revision,
        by.entry
    )
}
