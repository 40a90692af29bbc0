//! TOML text to [`Project`]. Knows how syntax errors are told; must not open files.

use std::ops::Range;

use toml::de::DeTable;

use super::project::Project;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};

/// Reads the whole text. `None` when it is not TOML: then nothing but syntax is reported, since
/// anything else might follow from it. Where only values are ill written, the rest is read without them.
pub fn project(text: &str, diags: &mut Diagnostics) -> Option<Project> {
    if text.trim().is_empty() {
        diags.push(
            Diagnostic::new(Code::FileEmpty, Place::NOWHERE, "the project file is empty").help(
                "begin with `rodbook = 1` and a `[job]` table; `rodbook keys` lists every key",
            ),
        );
        return None;
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        let place = Place::span(0, 0);
        let project = Project::read_table(table.get_ref(), place, diags);
        check_version(&project, diags);
        return Some(project);
    }
    let spans = errors.iter().map(|e| e.span().unwrap_or(0..0));
    let project = without(text, spans.collect(), diags);
    let mut seen = Vec::new();
    let mut errors: Vec<_> = errors
        .iter()
        .map(|e| (e.span().unwrap_or(0..0), e.message().to_string()))
        .collect();
    errors.sort_by_key(|(span, _)| (span.start, span.end));
    for (span, message) in errors {
        // One slip often causes several complaints: the first of each line is the true one.
        let line = text.get(..span.start).unwrap_or(text).matches('\n').count();
        if seen.contains(&line) {
            continue;
        }
        seen.push(line);
        let duplicate = message.contains("duplicate key");
        // A word without quotes is taken for the beginning of a number or of a truth value.
        let bare = ["nan", "inf", "true", "false"];
        let bare = bare
            .iter()
            .any(|word| message.contains(&format!("expected `{word}`")))
            || message.contains("must be quoted");
        let message = match bare {
            true => {
                "a value must be a number, true or false, or a text in double quotes".to_owned()
            }
            false => message,
        };
        let help = if duplicate {
            "say it once; a list of several things is written with [[double brackets]]"
        } else {
            "texts stand in double quotes, lists in [ ], and each line is `key = value`"
        };
        let end = span.end.min(text.len());
        diags.push(
            Diagnostic::new(Code::Syntax, Place::span(span.start.min(end), end), message)
                .label("here")
                .help(help),
        );
    }
    project
}

/// The project read without the values at these places, if that leaves nothing ill written. What is said of
/// the places themselves is left out: it is known that they are wrong.
fn without(text: &str, spans: Vec<Range<usize>>, diags: &mut Diagnostics) -> Option<Project> {
    let mut rest = text.to_owned();
    let mut gone = Vec::new();
    for span in spans {
        let span = whole_word(text, span)?;
        // A table: of the wrong type for whatever value stood there.
        let filler = format!("{{}}{}", " ".repeat(span.len().checked_sub(2)?));
        rest.replace_range(span.clone(), &filler);
        gone.push(span);
    }
    let (table, errors) = DeTable::parse_recoverable(&rest);
    if !errors.is_empty() {
        return None;
    }
    let mut said = Diagnostics::default();
    let project = Project::read_table(table.get_ref(), Place::span(0, 0), &mut said);
    check_version(&project, &mut said);
    for one in said.sorted() {
        let overlaps = |span: &Range<usize>| match one.place.0 {
            Some((start, end)) => start < span.end && span.start < end,
            None => false,
        };
        if !gone.iter().any(overlaps) {
            diags.push(one);
        }
    }
    Some(project)
}

/// What stands in one piece round a place: letters, digits and whatever else is no mark of TOML's.
fn whole_word(text: &str, span: Range<usize>) -> Option<Range<usize>> {
    let mark = |c: char| c.is_whitespace() || ",=[]{}#\"'".contains(c);
    let (before, after) = (text.get(..span.start)?, text.get(span.start..)?);
    let start = before.rfind(mark).map_or(0, |at| {
        at + before
            .get(at..)
            .and_then(|b| b.chars().next())
            .map_or(1, char::len_utf8)
    });
    let end = span.start + after.find(mark).unwrap_or(after.len());
    (span.end <= end && start < end).then_some(start..end)
}

/// Version of the format that this program reads.
const VERSION: u32 = 1;

fn check_version(project: &Project, diags: &mut Diagnostics) {
    if let Some(at) = &project.rodbook
        && at.value != VERSION
    {
        diags.push(
            Diagnostic::new(
                Code::WrongVersion,
                at.place,
                format!("this program reads format {VERSION}, not {}", at.value),
            )
            .label("written for another version")
            .help("use the program the file was written for, or bring the file up to format 1"),
        );
    }
}
