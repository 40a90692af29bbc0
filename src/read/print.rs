//! A project written out again as TOML, each line saying where its value comes from. Knows the look
//! of the listing; must not know any particular key.

use super::project::Project;
use super::table::{AnyTable, Header, Line, Notes};
use super::value::quoted;
use crate::diag::line_column;

/// The whole project: feeding it back gives the same job.
pub fn listing(project: &Project, source: &str) -> String {
    let notes = Notes { source };
    let mut out = String::new();
    table(project.lines(&notes), "", source, &mut out);
    out
}

fn bare(key: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    if !key.is_empty() && key.chars().all(plain) {
        key.to_string()
    } else {
        quoted(key)
    }
}

fn table(lines: Vec<Line<'_>>, path: &str, source: &str, out: &mut String) {
    let mut inner = Vec::new();
    let width = lines
        .iter()
        .filter(|l| l.tables.is_none())
        .map(|l| l.key.len())
        .max()
        .unwrap_or(0);
    for line in lines {
        match line.tables {
            Some(tables) => inner.push((line.key, tables)),
            None => {
                let from = match line.place.0 {
                    Some((start, _)) => format!("line {}", line_column(source, start).line),
                    None => "default".to_string(),
                };
                out.push_str(&format!("{:width$} = {}  # {from}\n", line.key, line.text));
            }
        }
    }
    let notes = Notes { source };
    for (key, tables) in inner {
        let path = if path.is_empty() {
            key.to_string()
        } else {
            format!("{path}.{key}")
        };
        for (header, inside) in tables {
            let (head, path) = match header {
                Header::Single => (format!("[{path}]"), path.clone()),
                Header::Listed => (format!("[[{path}]]"), path.clone()),
                Header::Named(name) => {
                    let full = format!("{path}.{}", bare(&name));
                    (format!("[{full}]"), full)
                }
            };
            out.push_str(&format!("\n{head}\n"));
            table(inside.lines(&notes), &path, source, out);
        }
    }
}
