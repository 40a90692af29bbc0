//! Diagnostics as text for people and as JSON. Knows the look of an error, not its cause.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use serde::Serialize;

use super::{Diagnostic, LineColumn, line_column};

/// All of them, each with its line quoted and the value underlined; `colour` adds terminal escapes.
pub fn as_text(path: &str, source: &str, list: &[Diagnostic], colour: bool) -> String {
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let mut out = String::new();
    for d in list {
        let title = Level::ERROR
            .primary_title(d.message.as_str())
            .id(d.code.text());
        let mut group = match d.place.0 {
            Some((start, end)) => {
                let mut snippet = Snippet::source(source).path(path).fold(true).annotation(
                    AnnotationKind::Primary
                        .span(start..end.max(start))
                        .label(d.label.as_str()),
                );
                if let Some((also, what)) = &d.also
                    && let Some((start, end)) = also.0
                {
                    snippet = snippet.annotation(
                        AnnotationKind::Context
                            .span(start..end)
                            .label(what.as_str()),
                    );
                }
                title.element(snippet)
            }
            None => title.element(annotate_snippets::Origin::path(path)),
        };
        if !d.help.is_empty() {
            group = group.element(Level::HELP.message(d.help.as_str()));
        }
        out.push_str(&renderer.render(&[group]));
        out.push_str("\n\n");
    }
    out
}

#[derive(Serialize)]
struct Entry<'a> {
    code: &'static str,
    message: &'a str,
    file: &'a str,
    #[serde(flatten)]
    at: Option<LineColumn>,
    help: &'a str,
}

/// A JSON array value, one object for each.
pub fn as_json(path: &str, source: &str, list: &[Diagnostic]) -> serde_json::Value {
    let entries: Vec<Entry> = list
        .iter()
        .map(|d| Entry {
            code: d.code.text(),
            message: &d.message,
            file: path,
            at: d.place.0.map(|(start, _)| line_column(source, start)),
            help: &d.help,
        })
        .collect();
    serde_json::to_value(entries).unwrap_or_default()
}
