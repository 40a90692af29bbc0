//! What can stand to the right of `=`. Knows how each type is read, printed and ranged; must not
//! know what any key means.

use serde_spanned::Spanned;
use toml::de::DeValue;

use super::table::{AnyTable, At, Header, Notes, TableInfo, Value, nearest, wrong_type};
use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::lettering;
use crate::units::{Angle, Date, Length, Mass, Percent};

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

/// A decimal number as written, in thousandths: exact, or `None` if finer or far too large.
fn thousandths(text: &str) -> Option<i64> {
    let clean = text.replace('_', "");
    let (negative, digits) = match clean.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, clean.strip_prefix('+').unwrap_or(&clean)),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let part = part.trim_end_matches('0');
    if part.len() > 3 || whole.is_empty() || !whole.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let whole: i64 = whole.parse().ok()?;
    let part: i64 = if part.is_empty() {
        0
    } else {
        format!("{part:0<3}").parse().ok()?
    };
    let value = whole.checked_mul(1000)?.checked_add(part)?;
    Some(if negative { -value } else { value })
}

/// Greatest magnitude of any number in a project, in thousandths of its unit: 100 m.
const MOST: i64 = 100_000_000;

fn read_thousandths<T: Value>(
    value: &Spanned<DeValue<'_>>,
    key: &str,
    diags: &mut Diagnostics,
) -> Option<i64> {
    let text = match value.get_ref() {
        DeValue::Integer(i) => i128::from_str_radix(i.as_str(), i.radix())
            .ok()?
            .to_string(),
        DeValue::Float(f) => f.as_str().to_string(),
        _ => {
            wrong_type::<T>(value, key, diags);
            return None;
        }
    };
    match thousandths(&text) {
        Some(n) if n.abs() <= MOST => Some(n),
        found => {
            let why = match found {
                Some(_) => "larger than anything in a room",
                None => "not a plain decimal to 0.001",
            };
            diags.push(
                Diagnostic::new(
                    Code::AbsurdSize,
                    value.span().into(),
                    format!("`{key}` cannot be {}", shown(&text)),
                )
                .label(why)
                .help("write millimetres as a whole number or with up to three decimals"),
            );
            None
        }
    }
}

fn outside_thousandths(n: i64, low: i64, high: i64, unit: &str) -> Option<String> {
    (n < low * 1000 || n > high * 1000).then(|| format!("{} {unit}", Length::um(n)))
}

fn plain(n: i64) -> String {
    Length::um(n).to_string().replace('\u{2212}', "-")
}

impl Value for Length {
    fn takes() -> String {
        "a length".into()
    }
    const UNIT: &'static str = "mm";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Length> {
        read_thousandths::<Length>(v, key, diags).map(Length::um)
    }
    fn write(&self, _: &Notes<'_>) -> String {
        plain(self.in_um())
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        outside_thousandths(self.in_um(), low, high, "mm")
    }
}

impl Value for Angle {
    fn takes() -> String {
        "an angle".into()
    }
    const UNIT: &'static str = "degrees";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Angle> {
        read_thousandths::<Angle>(v, key, diags).map(Angle::millideg)
    }
    fn write(&self, _: &Notes<'_>) -> String {
        plain(self.in_millideg())
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        outside_thousandths(self.in_millideg(), low, high, "degrees")
    }
}

impl Value for Mass {
    fn takes() -> String {
        "a mass".into()
    }
    const UNIT: &'static str = "kg";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Mass> {
        read_thousandths::<Mass>(v, key, diags).map(Mass::grams)
    }
    fn write(&self, _: &Notes<'_>) -> String {
        plain(self.in_grams())
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        outside_thousandths(self.in_grams(), low, high, "kg")
    }
}

impl Value for Percent {
    fn takes() -> String {
        "a percentage".into()
    }
    const UNIT: &'static str = "%";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Percent> {
        read_thousandths::<Percent>(v, key, diags).map(Percent::thousandths)
    }
    fn write(&self, _: &Notes<'_>) -> String {
        plain(self.in_thousandths())
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        outside_thousandths(self.in_thousandths(), low, high, "%")
    }
}

impl Value for u32 {
    fn takes() -> String {
        "a whole number".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<u32> {
        let DeValue::Integer(i) = v.get_ref() else {
            wrong_type::<u32>(v, key, diags);
            return None;
        };
        match i64::from_str_radix(i.as_str(), i.radix())
            .ok()
            .and_then(|n| u32::try_from(n).ok())
        {
            Some(n) => Some(n),
            None => {
                diags.push(
                    Diagnostic::new(
                        Code::AbsurdSize,
                        v.span().into(),
                        format!("`{key}` cannot be {}", shown(i.as_str())),
                    )
                    .label("not a count")
                    .help("write a whole number, 0 or more"),
                );
                None
            }
        }
    }
    fn write(&self, _: &Notes<'_>) -> String {
        self.to_string()
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        let n = i64::from(*self);
        (n < low || n > high).then(|| n.to_string())
    }
}

impl Value for bool {
    fn takes() -> String {
        "true or false".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<bool> {
        let read = v.get_ref().as_bool();
        if read.is_none() {
            wrong_type::<bool>(v, key, diags);
        }
        read
    }
    fn write(&self, _: &Notes<'_>) -> String {
        self.to_string()
    }
}

impl Value for Date {
    fn takes() -> String {
        "a date such as 2026-03-02".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Date> {
        let date = v.get_ref().as_datetime().and_then(|d| d.date);
        if date.is_none() {
            wrong_type::<Date>(v, key, diags);
        }
        date.map(|d| Date {
            year: d.year,
            month: d.month,
            day: d.day,
        })
    }
    fn write(&self, _: &Notes<'_>) -> String {
        self.to_string()
    }
}

impl Default for Date {
    fn default() -> Date {
        Date {
            year: 1970,
            month: 1,
            day: 1,
        }
    }
}

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
fn printable(text: &str, place: Place, diags: &mut Diagnostics) -> bool {
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
    fn write(&self, _: &Notes<'_>) -> String {
        match self {
            RefOrNot::Usual => "true".into(),
            RefOrNot::Not => "false".into(),
            RefOrNot::Named(name) => quoted(name),
        }
    }
}

/// One value, or a list with one for each.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OneOrEach<T>(pub Vec<T>);

impl<T: Value> Value for OneOrEach<T> {
    fn takes() -> String {
        format!("{}, or a list of them", T::takes())
    }
    const UNIT: &'static str = T::UNIT;
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Self> {
        match v.get_ref() {
            DeValue::Array(_) => Vec::<T>::read(v, key, diags).map(OneOrEach),
            _ => T::read(v, key, diags).map(|one| OneOrEach(vec![one])),
        }
    }
    fn write(&self, notes: &Notes<'_>) -> String {
        match self.0.as_slice() {
            [one] => one.write(notes),
            _ => self.0.write(notes),
        }
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        self.0.outside(low, high)
    }
}

impl<T: Value> Value for Vec<T> {
    fn takes() -> String {
        match T::inner() {
            Some(info) => format!("a list of tables: {}", info().path),
            None => format!("a list, each {}", T::takes()),
        }
    }
    const UNIT: &'static str = T::UNIT;
    fn inner() -> Option<fn() -> TableInfo> {
        T::inner()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Vec<T>> {
        let Some(list) = v.get_ref().as_array() else {
            wrong_type::<Vec<T>>(v, key, diags);
            return None;
        };
        let read: Vec<Option<T>> = list.iter().map(|item| T::read(item, key, diags)).collect();
        read.into_iter().collect()
    }
    fn write(&self, notes: &Notes<'_>) -> String {
        let items: Vec<String> = self.iter().map(|v| v.write(notes)).collect();
        format!("[{}]", items.join(", "))
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        self.iter().find_map(|v| v.outside(low, high))
    }
    fn with_defaults(&self) -> Vec<T> {
        self.iter().map(T::with_defaults).collect()
    }
    fn as_tables(&self) -> Option<Vec<(Header, &dyn AnyTable)>> {
        T::inner()?;
        let mut all = Vec::new();
        for item in self {
            all.extend(
                item.as_tables()?
                    .into_iter()
                    .map(|(_, t)| (Header::Listed, t)),
            );
        }
        Some(all)
    }
}

/// Two values in brackets: a point, or a size.
impl<T: Value> Value for (T, T) {
    fn takes() -> String {
        format!("[{0}, {0}]", T::takes())
    }
    const UNIT: &'static str = T::UNIT;
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<(T, T)> {
        match v.get_ref().as_array() {
            Some(list) if list.len() == 2 => {
                let mut it = list.iter().map(|item| T::read(item, key, diags));
                let (a, b) = (it.next()?, it.next()?);
                Some((a?, b?))
            }
            _ => {
                wrong_type::<(T, T)>(v, key, diags);
                None
            }
        }
    }
    fn write(&self, notes: &Notes<'_>) -> String {
        format!("[{}, {}]", self.0.write(notes), self.1.write(notes))
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        self.0
            .outside(low, high)
            .or_else(|| self.1.outside(low, high))
    }
}

/// Width, height and depth in brackets.
impl<T: Value> Value for (T, T, T) {
    fn takes() -> String {
        "[width, height, depth]".into()
    }
    const UNIT: &'static str = T::UNIT;
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<(T, T, T)> {
        match v.get_ref().as_array() {
            Some(list) if list.len() == 3 => {
                let mut it = list.iter().map(|item| T::read(item, key, diags));
                let (a, b, c) = (it.next()?, it.next()?, it.next()?);
                Some((a?, b?, c?))
            }
            _ => {
                wrong_type::<(T, T, T)>(v, key, diags);
                None
            }
        }
    }
    fn write(&self, notes: &Notes<'_>) -> String {
        format!(
            "[{}, {}, {}]",
            self.0.write(notes),
            self.1.write(notes),
            self.2.write(notes)
        )
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        [&self.0, &self.1, &self.2]
            .into_iter()
            .find_map(|v| v.outside(low, high))
    }
}

/// Tables by name, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Named<T>(pub Vec<(At<String>, T)>);

impl<T> Default for Named<T> {
    fn default() -> Self {
        Named(Vec::new())
    }
}

impl<T: Value + AnyTable> Value for Named<T> {
    fn takes() -> String {
        "tables by name".into()
    }
    fn inner() -> Option<fn() -> TableInfo> {
        T::inner()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Named<T>> {
        let Some(table) = v.get_ref().as_table() else {
            wrong_type::<Named<T>>(v, key, diags);
            return None;
        };
        let mut all = Vec::new();
        for (name, inner) in table.iter() {
            let place = Place::from(name.span());
            let path = format!("{key}.{}", name.get_ref());
            if printable(name.get_ref(), place, diags)
                && let Some(read) = T::read(inner, &path, diags)
            {
                all.push((At::new(name.get_ref().to_string(), place), read));
            }
        }
        all.sort_by_key(|(name, _)| name.place.start());
        Some(Named(all))
    }
    fn write(&self, notes: &Notes<'_>) -> String {
        let items: Vec<String> = self
            .0
            .iter()
            .map(|(name, v)| format!("{} = {}", quoted(&name.value), v.write(notes)))
            .collect();
        format!("{{ {} }}", items.join(", "))
    }
    fn with_defaults(&self) -> Named<T> {
        Named(
            self.0
                .iter()
                .map(|(name, v)| (name.clone(), v.with_defaults()))
                .collect(),
        )
    }
    fn as_tables(&self) -> Option<Vec<(Header, &dyn AnyTable)>> {
        Some(
            self.0
                .iter()
                .map(|(name, t)| (Header::Named(name.value.clone()), t as &dyn AnyTable))
                .collect(),
        )
    }
}
