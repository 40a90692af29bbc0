//! Texts, ids and references as values; every text that will be printed can be. Must not know any key.

use serde_spanned::Spanned;
use toml::de::DeValue;

use super::shown;
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::lettering;
use crate::read::canon::{Canon, Fact};
use crate::read::table::{Notes, Value, wrong_type};

/// A text in TOML's basic quotes.
pub fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", c as u32)),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// Says so if a text has a character that no bundled font can print.
pub(super) fn printable(text: &str, place: Place, diags: &mut Diagnostics) -> bool {
    let Some(c) = lettering::missing(text) else {
        return true;
    };
    let named = if c.is_control() {
        format!("the control character U+{:04X}", c as u32)
    } else {
        format!("\u{201c}{c}\u{201d} (U+{:04X})", c as u32)
    };
    diags.push(
        Diagnostic::new(Code::NoGlyph, place, format!("{named} cannot be printed"))
            .label("no bundled font has it")
            .help("Latin, Greek and Cyrillic print; write it in one of them"),
    );
    false
}

/// Words that are printed as they stand.
impl Value for String {
    fn takes() -> String {
        "text".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<String> {
        let Some(text) = v.get_ref().as_str() else {
            wrong_type::<String>(v, key, diags);
            return None;
        };
        printable(text, v.span().into(), diags).then(|| text.trim().to_string())
    }
    fn canon(&self) -> Canon {
        Canon::Fact(self.as_str().into())
    }
    fn write(&self, _: &Notes<'_>) -> String {
        quoted(self)
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        let n = self.chars().count() as i64;
        (n < low || n > high).then(|| format!("{n} characters long"))
    }
}

/// A short stable name by which other things refer to this one.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Id(pub String);

impl Value for Id {
    fn takes() -> String {
        "an id (letters, digits, - and _)".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Id> {
        let Some(text) = v.get_ref().as_str() else {
            wrong_type::<Id>(v, key, diags);
            return None;
        };
        if !printable(text, v.span().into(), diags) {
            return None;
        }
        let good = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
        if text.is_empty() || text.chars().count() > 24 || !text.chars().all(good) {
            diags.push(
                Diagnostic::new(
                    Code::WrongWord,
                    v.span().into(),
                    format!("\"{}\" cannot be an id", shown(text)),
                )
                .label("1 to 24 letters, digits, - or _")
                .help("keep ids short; the `name` may say more"),
            );
            return None;
        }
        Some(Id(text.to_string()))
    }
    fn canon(&self) -> Canon {
        Canon::Fact(Fact::Name(self.0.clone()))
    }
    fn write(&self, _: &Notes<'_>) -> String {
        quoted(&self.0)
    }
}

/// The name of something said elsewhere in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ref(pub String);

impl Value for Ref {
    fn takes() -> String {
        "the name of one".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Ref> {
        let text = v.get_ref().as_str();
        if text.is_none() {
            wrong_type::<Ref>(v, key, diags);
        }
        text.map(|t| Ref(t.to_string()))
    }
    fn canon(&self) -> Canon {
        Canon::Fact(Fact::Name(self.0.clone()))
    }
    fn write(&self, _: &Notes<'_>) -> String {
        quoted(&self.0)
    }
}

/// `true` for the usual one, `false` for none, or the name of one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RefOrNot {
    Usual,
    Not,
    Named(String),
}

impl Value for RefOrNot {
    fn takes() -> String {
        "true, false or the name of one".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<RefOrNot> {
        match v.get_ref() {
            DeValue::Boolean(true) => Some(RefOrNot::Usual),
            DeValue::Boolean(false) => Some(RefOrNot::Not),
            DeValue::String(s) => Some(RefOrNot::Named(s.to_string())),
            _ => {
                wrong_type::<RefOrNot>(v, key, diags);
                None
            }
        }
    }
    fn canon(&self) -> Canon {
        Canon::Fact(match self {
            RefOrNot::Usual => true.into(),
            RefOrNot::Not => false.into(),
            RefOrNot::Named(name) => Fact::Name(name.clone()),
        })
    }
    fn write(&self, _: &Notes<'_>) -> String {
        match self {
            RefOrNot::Usual => "true".into(),
            RefOrNot::Not => "false".into(),
            RefOrNot::Named(name) => quoted(name),
        }
    }
}
