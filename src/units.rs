//! Exact quantities. Knows arithmetic and how a quantity is written; knows nothing of furniture,
//! holds no defaults.
//!
//! A length is a whole number of micrometres, so a chain of dimensions adds up to its overall to
//! the last digit. Floats appear only inside a formula and in `draw`.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use serde::{Serialize, Serializer};

/// A length or coordinate in whole micrometres. Exact. Prints in millimetres (`12.5`), no unit.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    pub const ZERO: Length = Length(0);

    pub const fn mm(mm: i64) -> Length {
        Length(mm * 1000)
    }

    pub const fn um(um: i64) -> Length {
        Length(um)
    }

    pub const fn in_um(self) -> i64 {
        self.0
    }

    /// Millimetres as a float, for formulas and drawing only.
    pub fn in_mm(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// Nearest micrometre to a float of millimetres; a value that is no number becomes zero.
    pub fn from_mm(mm: f64) -> Length {
        Length((mm * 1000.0).round() as i64)
    }

    pub fn abs(self) -> Length {
        Length(self.0.abs())
    }

    pub fn is_negative(self) -> bool {
        self.0 < 0
    }

    pub fn half(self) -> Length {
        Length(self.0 / 2)
    }

    /// Rounded down to a whole multiple of `step` (which must be positive).
    pub fn floor_to(self, step: Length) -> Length {
        Length(self.0.div_euclid(step.0.max(1)) * step.0.max(1))
    }

    /// Rounded to the nearest multiple of `step`, halves up.
    pub fn round_to(self, step: Length) -> Length {
        (self + step.half()).floor_to(step)
    }

    /// `self` × `num` / `den`, rounded to the nearest micrometre. `den` of zero gives zero.
    pub fn scale(self, num: i64, den: i64) -> Length {
        if den == 0 {
            return Length::ZERO;
        }
        let exact = i128::from(self.0) * i128::from(num);
        let half = i128::from(den.abs()) / 2;
        let sign = if (exact < 0) == (den < 0) { 1 } else { -1 };
        Length((sign * ((exact.abs() + half) / i128::from(den.abs()))) as i64)
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "\u{2212}" } else { "" };
        let (whole, part) = (self.0.unsigned_abs() / 1000, self.0.unsigned_abs() % 1000);
        if part == 0 {
            return write!(f, "{sign}{whole}");
        }
        let digits = format!("{part:03}");
        write!(f, "{sign}{whole}.{}", digits.trim_end_matches('0'))
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}mm")
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, o: Length) -> Length {
        Length(self.0 + o.0)
    }
}
impl Sub for Length {
    type Output = Length;
    fn sub(self, o: Length) -> Length {
        Length(self.0 - o.0)
    }
}
impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, n: i64) -> Length {
        Length(self.0 * n)
    }
}
impl Div<i64> for Length {
    type Output = Length;
    /// Rounds toward zero; dividing by zero gives zero.
    fn div(self, n: i64) -> Length {
        Length(self.0.checked_div(n).unwrap_or(0))
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, o: Length) {
        self.0 += o.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, o: Length) {
        self.0 -= o.0;
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(it: I) -> Length {
        it.fold(Length::ZERO, |a, b| a + b)
    }
}

/// An angle in thousandths of a degree. Exact. Prints in degrees.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Angle(i64);

impl Angle {
    pub const fn deg(d: i64) -> Angle {
        Angle(d * 1000)
    }
    pub const fn millideg(d: i64) -> Angle {
        Angle(d)
    }
    pub const fn in_millideg(self) -> i64 {
        self.0
    }
    pub fn in_rad(self) -> f64 {
        (self.0 as f64 / 1000.0).to_radians()
    }
}

impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&Length(self.0), f)
    }
}

impl Add for Angle {
    type Output = Angle;
    fn add(self, o: Angle) -> Angle {
        Angle(self.0 + o.0)
    }
}

/// A mass in whole grams. Prints in kilograms to one decimal.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Mass(i64);

impl Mass {
    pub const fn grams(g: i64) -> Mass {
        Mass(g)
    }
    pub const fn in_grams(self) -> i64 {
        self.0
    }
    /// Nearest gram to a float of kilograms.
    pub fn from_kg(kg: f64) -> Mass {
        Mass((kg * 1000.0).round() as i64)
    }
    pub fn in_kg(self) -> f64 {
        self.0 as f64 / 1000.0
    }
}

impl Add for Mass {
    type Output = Mass;
    fn add(self, o: Mass) -> Mass {
        Mass(self.0 + o.0)
    }
}

impl fmt::Display for Mass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = (self.0 + 50).div_euclid(100);
        write!(f, "{}.{}", tenths / 10, tenths % 10)
    }
}

/// A part of a hundred, in thousandths of a percent. Exact. Prints without its sign.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Percent(i64);

impl Percent {
    pub const fn thousandths(n: i64) -> Percent {
        Percent(n)
    }
    pub const fn in_thousandths(self) -> i64 {
        self.0
    }
    /// `12.5` for 12.5 %.
    pub fn value(self) -> f64 {
        self.0 as f64 / 1000.0
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&Length(self.0), f)
    }
}

/// An amount in the job's currency, in thousandths of its unit: exact.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Money(i64);

/// Currencies whose smallest coin is the unit itself, and those of three decimals: ISO 4217, from
/// memory.
const WHOLE: &[&str] = &[
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND",
    "VUV", "XAF", "XOF", "XPF",
];
const THREE: &[&str] = &["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

/// As many as prices in it have.
pub fn decimals(currency: &str) -> usize {
    match () {
        () if WHOLE.contains(&currency) => 0,
        () if THREE.contains(&currency) => 3,
        () => 2,
    }
}

impl Money {
    pub const ZERO: Money = Money(0);
    pub const fn thousandths(n: i64) -> Money {
        Money(n)
    }
    pub const fn in_thousandths(self) -> i64 {
        self.0
    }
    /// The sum; at the end of the range it stays there.
    pub fn and(self, other: Money) -> Money {
        Money(self.0.saturating_add(other.0))
    }
    /// `1 250.00 GBP`, with as many decimals as the currency has, or as the amount needs.
    pub fn in_currency(self, currency: &str) -> String {
        format!("{}\u{a0}{currency}", self.with(decimals(currency)))
    }
    fn with(self, least: usize) -> String {
        let part = format!("{:03}", self.0.unsigned_abs() % 1000);
        let needed = part.trim_end_matches('0').len().max(least);
        let digits = (self.0.unsigned_abs() / 1000).to_string();
        let mut whole = String::new();
        for (n, digit) in digits.chars().enumerate() {
            // In threes from the right, as ISO 80000-1 has it (from memory), from five digits on.
            if n > 0 && digits.len() > 4 && (digits.len() - n).is_multiple_of(3) {
                whole.push('\u{a0}');
            }
            whole.push(digit);
        }
        let sign = if self.0 < 0 { "\u{2212}" } else { "" };
        match part.get(..needed) {
            Some(part) if needed > 0 => format!("{sign}{whole}.{part}"),
            _ => format!("{sign}{whole}"),
        }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.with(2))
    }
}

/// A calendar date, as written in the project file. No clock is ever read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Date {
    pub year: u16,
    pub month: u8,
    pub day: u8,
}

impl Date {
    /// `2 March 2026`, the day kept with its month.
    pub fn in_words(self) -> String {
        const MONTHS: [&str; 12] = [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ];
        let month = usize::from(self.month).checked_sub(1);
        match month.and_then(|m| MONTHS.get(m)) {
            Some(month) => format!("{}\u{a0}{month} {}", self.day, self.year),
            None => self.to_string(),
        }
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl Serialize for Date {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_print_as_written_on_a_drawing() {
        assert_eq!(Length::mm(600).to_string(), "600");
        assert_eq!(Length::um(562_500).to_string(), "562.5");
        assert_eq!(Length::um(-4_250).to_string(), "\u{2212}4.25");
        assert_eq!(Length::um(5).to_string(), "0.005");
    }

    #[test]
    fn rounding_goes_down_for_shares_and_to_nearest_for_scaling() {
        assert_eq!(
            Length::um(1_130_700).floor_to(Length::um(500)),
            Length::um(1_130_500)
        );
        assert_eq!(
            Length::um(-700).floor_to(Length::um(500)),
            Length::um(-1000)
        );
        assert_eq!(Length::um(10).scale(1, 3), Length::um(3));
        assert_eq!(Length::um(-10).scale(2, 3), Length::um(-7));
        assert_eq!(Length::um(10).scale(1, 0), Length::ZERO);
    }

    #[test]
    fn money_is_exact_and_has_its_currencys_decimals() {
        let m = Money::thousandths(640_000);
        assert_eq!(m.in_currency("GBP"), "640.00\u{a0}GBP");
        assert_eq!(m.in_currency("JPY"), "640\u{a0}JPY");
        assert_eq!(m.in_currency("KWD"), "640.000\u{a0}KWD");
        assert_eq!(
            Money::thousandths(-12_345_500).to_string(),
            "\u{2212}12\u{a0}345.50"
        );
        assert_eq!(Money::thousandths(1_005).to_string(), "1.005");
        assert_eq!(
            Money::thousandths(i64::MAX).and(m),
            Money::thousandths(i64::MAX)
        );
    }

    #[test]
    fn masses_round_to_a_tenth_of_a_kilogram() {
        assert_eq!(Mass::grams(20_513).to_string(), "20.5");
        assert_eq!(Mass::grams(950).to_string(), "1.0");
    }
}
