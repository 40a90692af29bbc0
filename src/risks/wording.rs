//! The words of every rule, from `templates/disclosures.toml`. Knows the file; must not know what a
//! name in braces stands for.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// What a rule says, with names in braces where a value goes, and `{one|many}` where the number of things
/// that it is about decides. Empty: it offers no such thing.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Wording {
    pub title: String,
    pub text: String,
    pub doing: String,
    pub cannot: String,
    pub nothing: String,
    pub change: String,
    pub contingency: String,
    pub when: String,
}

const FILE: &str = include_str!("../../templates/disclosures.toml");

/// Nothing at all if the file is wrong, which a test would say.
static ALL: LazyLock<BTreeMap<String, Wording>> = LazyLock::new(|| all().unwrap_or_default());

static NONE: LazyLock<Wording> = LazyLock::new(Wording::default);

/// What stands in braces, where it is a pair for one thing and for several.
pub fn by_number(braced: &str, several: bool) -> Option<&str> {
    let (one, many) = braced.split_once('|')?;
    Some(if several { many } else { one })
}

pub fn of(rule: &str) -> &'static Wording {
    ALL.get(rule).unwrap_or(&NONE)
}

/// All of them, or what is wrong with the file.
///
/// # Errors
/// The file is no such table: our own fault.
pub fn all() -> Result<BTreeMap<String, Wording>, toml::de::Error> {
    toml::from_str(FILE)
}
