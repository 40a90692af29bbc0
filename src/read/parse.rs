//! TOML text to [`Project`]. Knows how syntax errors are told; must not open files.

use toml::de::DeTable;

use super::project::Project;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};

/// Reads the whole text. `None` when it is not TOML: then nothing but syntax is reported, since
/// anything else might follow from it.
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
    None
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
