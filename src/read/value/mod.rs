//! What can stand to the right of `=`. Knows how each type is read, printed and ranged; must not
//! know what any key means.

mod lists;
mod money;
mod numbers;
mod texts;

use serde_spanned::Spanned;
use toml::de::DeValue;

pub use lists::{Named, OneOrEach};
pub use numbers::Lab;
pub use texts::{Id, Ref, RefOrNot, quoted};

use super::table::nearest;
use crate::diag::{Code, Diagnostic, Diagnostics};

/// Says that a word is none of those its key takes.
pub fn wrong_word(
    value: &Spanned<DeValue<'_>>,
    key: &str,
    text: &str,
    known: &[&str],
    diags: &mut Diagnostics,
) {
    let help = match nearest(text, known) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("it takes: {}", known.join(", ")),
    };
    diags.push(
        Diagnostic::new(
            Code::WrongWord,
            value.span().into(),
            format!("`{key}` cannot be \"{}\"", shown(text)),
        )
        .label("not one of its words")
        .help(help),
    );
}

/// A text shortened for a message.
pub fn shown(text: &str) -> String {
    let mut short: String = text
        .chars()
        .take(40)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if text.chars().count() > 40 {
        short.push('…');
    }
    short
}
