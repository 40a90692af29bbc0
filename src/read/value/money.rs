//! Prices as values: exact decimals, in quotes or not. Must not know any key, nor the currency.

use serde_spanned::Spanned;
use toml::de::DeValue;

use super::numbers::thousandths;
use super::shown;
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::canon::Canon;
use crate::read::table::{Notes, Value, wrong_type};
use crate::units::Money;

/// Greatest amount, in thousandths of the currency's unit.
const MOST: i64 = 100_000_000_000;

impl Value for Money {
    fn takes() -> String {
        "an amount such as \"120.00\"".into()
    }
    const UNIT: &'static str = "of the job's currency";
    fn read(v: &Spanned<DeValue<'_>>, key: &str, diags: &mut Diagnostics) -> Option<Money> {
        let text = match v.get_ref() {
            DeValue::String(text) => text.trim().to_string(),
            DeValue::Integer(i) if i.radix() == 10 => i.as_str().to_string(),
            DeValue::Float(f) => f.as_str().to_string(),
            _ => {
                wrong_type::<Money>(v, key, diags);
                return None;
            }
        };
        match thousandths(&text) {
            Some(n) if n.abs() <= MOST => Some(Money::thousandths(n)),
            _ => {
                diags.push(
                    Diagnostic::new(
                        Code::NotAnAmount,
                        v.span().into(),
                        format!("`{key}` cannot be \"{}\"", shown(&text)),
                    )
                    .label("not an amount of money")
                    .help("write digits and up to three decimals, without the currency, such as \"120.00\""),
                );
                None
            }
        }
    }
    fn canon(&self) -> Canon {
        Canon::Fact((*self).into())
    }
    fn write(&self, _: &Notes<'_>) -> String {
        let plain = self.to_string().replace('\u{a0}', "");
        format!("\"{}\"", plain.replace('\u{2212}', "-"))
    }
}
