//! One definition of a table gives its type, its reader and its page in the reference of keys.
//!
//! Knows how to walk TOML with every value's place kept, and collects all that is wrong instead of
//! stopping at the first. Must not know any particular key.

use serde_spanned::Spanned;
use toml::de::{DeTable, DeValue};

use super::canon::{Canon, Fact};
use crate::diag::{Code, Diagnostic, Diagnostics, Place};

/// A value with its place in the file; nowhere, when a default stands in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct At<T> {
    pub value: T,
    pub place: Place,
}

impl<T> At<T> {
    pub fn default_of(value: T) -> At<T> {
        At {
            value,
            place: Place::NOWHERE,
        }
    }
    pub fn new(value: T, place: Place) -> At<T> {
        At { value, place }
    }
    /// Whether the designer wrote it.
    pub fn written(&self) -> bool {
        self.place != Place::NOWHERE
    }
}

/// One key of a table, for the reference.
#[derive(Clone, Debug)]
pub struct Key {
    pub name: &'static str,
    /// The type of its value in the reference's words.
    pub takes: String,
    pub unit: &'static str,
    pub range: Option<(i64, i64)>,
    pub presence: Presence,
    pub about: &'static str,
    /// The table its value holds, if it holds one.
    pub inner: Option<fn() -> TableInfo>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Presence {
    Required,
    /// Left out, it means this.
    Default(String),
    Optional,
}

#[derive(Clone, Debug)]
pub struct TableInfo {
    pub path: &'static str,
    pub about: &'static str,
    pub keys: Vec<Key>,
}

/// Something that can stand to the right of `=`.
pub trait Value: Sized + Clone {
    /// In the reference's words, e.g. `length`.
    fn takes() -> String;
    const UNIT: &'static str = "";
    fn inner() -> Option<fn() -> TableInfo> {
        None
    }
    /// `None` after having said what is wrong.
    fn read(value: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Self>;
    /// As TOML.
    fn write(&self, notes: &Notes<'_>) -> String;
    /// Without the way it was written: what two projects are compared by.
    fn canon(&self) -> Canon {
        Canon::Fact(Fact::Text(self.write(&Notes { source: "" })))
    }
    /// Whether it lies in a range given in its own unit; `None` for what has no size.
    fn outside(&self, _low: i64, _high: i64) -> Option<String> {
        None
    }
    /// With every plain default inside it filled in.
    fn with_defaults(&self) -> Self {
        self.clone()
    }
    /// Whether it is to be written on lines of its own, under a `[header]`.
    fn as_tables(&self) -> Option<Vec<(Header, &dyn AnyTable)>> {
        None
    }
}

/// How a table is headed when a whole project is written out.
pub enum Header {
    Single,
    Listed,
    Named(String),
}

/// What `explain` says of where values come from.
pub struct Notes<'a> {
    pub source: &'a str,
}

pub trait AnyTable {
    /// (key, value as TOML, its place, nested tables under it) of every key that has a value.
    fn lines(&self, notes: &Notes<'_>) -> Vec<Line<'_>>;
}

pub struct Line<'a> {
    pub key: &'static str,
    pub text: String,
    pub place: Place,
    pub tables: Option<Vec<(Header, &'a dyn AnyTable)>>,
}

/// Reads one key of a table: says so if it must be there and is not, or is out of range.
pub fn read_key<T: Value>(
    table: &DeTable<'_>,
    within: (&str, Place),
    key: &'static str,
    range: Option<(i64, i64)>,
    required: bool,
    diags: &mut Diagnostics,
) -> Option<At<T>> {
    let Some(value) = table.get(key) else {
        if required {
            let (path, place) = within;
            let place = header_of(place);
            diags.push(
                Diagnostic::new(
                    Code::MissingKey,
                    place,
                    format!("`{path}` must say its `{key}`"),
                )
                .label("here")
                .help(format!("add a line `{key} = …` ({})", T::takes())),
            );
        }
        return None;
    };
    let place = Place::from(value.span());
    let read = T::read(value, key, diags)?;
    if let Some((low, high)) = range
        && let Some(found) = read.outside(low, high)
    {
        let unit = T::UNIT;
        diags.push(
            Diagnostic::new(
                Code::AbsurdSize,
                place,
                format!("`{key}` cannot be {found}"),
            )
            .label(
                format!("must lie between {low} and {high} {unit}")
                    .trim_end()
                    .to_string(),
            )
            .help(if found.ends_with("characters long") {
                format!("say it in {low} to {high} characters")
            } else {
                "check the number and its unit: lengths are millimetres".to_string()
            }),
        );
        return None;
    }
    Some(At { value: read, place })
}

/// A table's place is its whole body; a message about it points at its first line.
fn header_of(place: Place) -> Place {
    match place.0 {
        Some((start, end)) => Place::span(start, end.min(start + 1).max(start)),
        None => Place::span(0, 0),
    }
}

/// Says of every key that the table does not have what it might have been meant for.
pub fn refuse_unknown(table: &DeTable<'_>, path: &str, known: &[&str], diags: &mut Diagnostics) {
    for (key, _) in table.iter() {
        let name = key.get_ref().as_ref();
        if known.contains(&name) {
            continue;
        }
        let place = Place::from(key.span());
        let help = match nearest(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None if known.len() <= 14 => format!("`{path}` takes: {}", known.join(", ")),
            None => format!("`rodbook keys` lists what `{path}` takes"),
        };
        diags.push(
            Diagnostic::new(
                Code::UnknownKey,
                place,
                format!("`{path}` has no key `{name}`"),
            )
            .label("not known")
            .help(help),
        );
    }
}

/// The nearest of several names, if any is near enough to have been meant.
pub fn nearest<'a>(name: &str, known: &[&'a str]) -> Option<&'a str> {
    let allowed = (name.chars().count() / 3).max(1);
    known
        .iter()
        .map(|k| {
            (
                strsim::damerau_levenshtein(&name.to_lowercase(), &k.to_lowercase()),
                *k,
            )
        })
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, k)| k)
}

/// Says that a value is of another type than its key takes.
pub fn wrong_type<T: Value>(value: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) {
    let found = match value.get_ref() {
        DeValue::String(_) => "text in quotes".to_owned(),
        DeValue::Integer(_) | DeValue::Float(_) => "a number".to_owned(),
        DeValue::Boolean(_) => "true or false".to_owned(),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(all) => format!("a list of {}", all.len()),
        DeValue::Table(_) => "a table".to_owned(),
    };
    diags.push(
        Diagnostic::new(
            Code::WrongType,
            value.span().into(),
            format!("`{key}` takes {}, not {found}", T::takes()),
        )
        .label(format!("this is {found}"))
        .help(format!("write {}", T::takes())),
    );
}

/// Declares a table: its Rust type, its reader, its keys for the reference, and its printing.
///
/// Each key is `req` (must be there), `opt` (may be absent) or `def` (absent means the value after
/// `=`), with an optional range in its unit and, for `opt`, words that say what absence means.
/// `req` and `def` keys get a method of the key's name that returns the value in force.
macro_rules! table {
    (
        $(#[doc = $about:literal])+
        $table:ident $path:literal {
            $( $(#[doc = $doc:literal])+
               $how:ident $field:ident : $ty:ty $([$low:expr, $high:expr])? $(= $def:expr)? $(, $other:literal)? ; )*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $table {
            pub place: $crate::diag::Place,
            $( $(#[doc = $doc])+ pub $field: Option<$crate::read::table::At<$ty>>, )*
        }

        impl $table {
            $( table!(@method $how $field $ty $(, $def)?); )*

            /// Each key from here or, where absent, from `base`.
            pub fn backed_by(&self, base: &$table) -> $table {
                $table {
                    place: self.place,
                    $( $field: self.$field.clone().or_else(|| base.$field.clone()), )*
                }
            }

            /// Only what was written: plain defaults filled in are dropped again.
            pub fn written(&self) -> $table {
                $table {
                    place: self.place,
                    $( $field: self.$field.clone().filter($crate::read::table::At::written), )*
                }
            }

            pub fn info() -> $crate::read::table::TableInfo {
                use $crate::read::table::{Key, TableInfo, Value};
                TableInfo {
                    path: $path,
                    about: concat!($($about,)+).trim(),
                    keys: vec![$( Key {
                        name: stringify!($field),
                        takes: <$ty as Value>::takes(),
                        unit: <$ty as Value>::UNIT,
                        range: table!(@range $($low, $high)?),
                        presence: table!(@presence $how $ty $(, $def)? $(; $other)?),
                        about: concat!($($doc,)+).trim(),
                        inner: <$ty as Value>::inner(),
                    }, )*],
                }
            }
        }

        impl $crate::read::table::Value for $table {
            fn takes() -> String { concat!("a table: ", $path).to_string() }
            fn inner() -> Option<fn() -> $crate::read::table::TableInfo> { Some($table::info) }
            fn read(
                value: &serde_spanned::Spanned<toml::de::DeValue<'_>>,
                key: &str,
                diags: &mut $crate::diag::Diagnostics,
            ) -> Option<$table> {
                let Some(table) = value.get_ref().as_table() else {
                    $crate::read::table::wrong_type::<$table>(value, key, diags);
                    return None;
                };
                Some($table::read_table(table, value.span().into(), diags))
            }
            fn write(&self, notes: &$crate::read::table::Notes<'_>) -> String {
                use $crate::read::table::AnyTable;
                let inside: Vec<String> =
                    self.lines(notes).into_iter().map(|l| format!("{} = {}", l.key, l.text)).collect();
                format!("{{ {} }}", inside.join(", "))
            }
            fn canon(&self) -> $crate::read::canon::Canon {
                use $crate::read::table::Value;
                let mut keys = Vec::new();
                $( if let Some(at) = &self.$field {
                    keys.push((stringify!($field), Value::canon(&at.value)));
                } )*
                $crate::read::canon::Canon::Table(keys)
            }
            fn with_defaults(&self) -> $table {
                use $crate::read::table::{At, Value};
                $table {
                    place: self.place,
                    $( $field: {
                        let given: Option<At<$ty>> = table!(@filled $how self $field);
                        given.map(|at| At { value: Value::with_defaults(&at.value), place: at.place })
                    }, )*
                }
            }
            fn as_tables(
                &self,
            ) -> Option<Vec<($crate::read::table::Header, &dyn $crate::read::table::AnyTable)>> {
                Some(vec![($crate::read::table::Header::Single, self)])
            }
        }

        impl $table {
            pub fn read_table(
                table: &toml::de::DeTable<'_>,
                place: $crate::diag::Place,
                diags: &mut $crate::diag::Diagnostics,
            ) -> $table {
                $crate::read::table::refuse_unknown(
                    table, $path, &[$(stringify!($field),)*], diags);
                $table {
                    place,
                    $( $field: $crate::read::table::read_key::<$ty>(
                        table, ($path, place), stringify!($field),
                        table!(@range $($low, $high)?), table!(@required $how), diags), )*
                }
            }
        }

        impl $crate::read::table::AnyTable for $table {
            fn lines(&self, notes: &$crate::read::table::Notes<'_>) -> Vec<$crate::read::table::Line<'_>> {
                use $crate::read::table::{Line, Value};
                let mut lines = Vec::new();
                $( if let Some(at) = &self.$field {
                    lines.push(Line {
                        key: stringify!($field),
                        text: at.value.write(notes),
                        place: at.place,
                        tables: at.value.as_tables(),
                    });
                } )*
                lines
            }
        }
    };
    (@filled def $self:ident $field:ident) => { Some($self.$field()) };
    (@filled $how:ident $self:ident $field:ident) => { $self.$field.clone() };
    (@range) => { None };
    (@range $low:expr, $high:expr) => { Some(($low, $high)) };
    (@required req) => { true };
    (@required $how:ident) => { false };
    (@presence req $ty:ty $(; $other:literal)?) => { $crate::read::table::Presence::Required };
    (@presence opt $ty:ty) => { $crate::read::table::Presence::Optional };
    (@presence opt $ty:ty ; $other:literal) => {
        $crate::read::table::Presence::Default($other.to_string())
    };
    (@presence def $ty:ty, $def:expr) => {
        $crate::read::table::Presence::Default(
            <$ty as $crate::read::table::Value>::write(
                &$def, &$crate::read::table::Notes { source: "" }))
    };
    (@method req $field:ident $ty:ty) => {
        /// As written; an empty value where the key was missing, which has been reported.
        pub fn $field(&self) -> $crate::read::table::At<$ty> {
            self.$field.clone().unwrap_or_default()
        }
    };
    (@method def $field:ident $ty:ty, $def:expr) => {
        /// As written, or the default.
        pub fn $field(&self) -> $crate::read::table::At<$ty> {
            self.$field.clone().unwrap_or_else(|| $crate::read::table::At::default_of($def))
        }
    };
    (@method opt $field:ident $ty:ty) => {};
}
pub(crate) use table;
