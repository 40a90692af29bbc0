//! Lengths, angles, masses, counts, dates and yes or no, as values. Must not know any key.

use serde_spanned::Spanned;
use toml::de::DeValue;

use super::shown;
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::canon::{Canon, Fact};
use crate::read::table::{Notes, Value, wrong_type};
use crate::units::{Angle, Date, Length, Mass, Percent};

/// A decimal number as written, in thousandths: exact, or `None` if finer or far too large.
pub(super) fn thousandths(text: &str) -> Option<i64> {
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

/// A measured colour, CIELAB as its instrument gives it, in thousandths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lab(pub [i64; 3]);

impl Value for Lab {
    fn takes() -> String {
        "[L, a, b]".into()
    }
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Lab> {
        let list = v.get_ref().as_array().filter(|list| list.len() == 3);
        let Some(list) = list else {
            wrong_type::<Lab>(v, key, diags);
            return None;
        };
        let mut it = list
            .iter()
            .map(|item| read_thousandths::<Lab>(item, key, diags));
        let (l, a, b) = (it.next()?, it.next()?, it.next()?);
        Some(Lab([l?, a?, b?]))
    }
    fn canon(&self) -> Canon {
        Canon::Fact(Fact::List(self.0.map(Fact::Thousandths).to_vec()))
    }
    fn write(&self, _: &Notes<'_>) -> String {
        let parts: Vec<String> = self.0.iter().map(|n| plain(*n)).collect();
        format!("[{}]", parts.join(", "))
    }
    fn outside(&self, low: i64, high: i64) -> Option<String> {
        self.0
            .iter()
            .find_map(|n| outside_thousandths(*n, low, high, ""))
    }
}

impl Value for Length {
    fn takes() -> String {
        "a length".into()
    }
    const UNIT: &'static str = "mm";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Length> {
        read_thousandths::<Length>(v, key, diags).map(Length::um)
    }
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
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
