//! Values without the way they were written: what two projects are compared by. Knows types and
//! units; must not know a key or what follows from a value.

use serde::{Deserialize, Serialize};

use crate::units::{Angle, Date, Length, Mass, Money, Percent};

/// One value, in whole units of its kind, so that it stands in JSON exactly.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fact {
    /// A length in micrometres.
    Um(i64),
    /// A mass in grams.
    Grams(i64),
    /// An angle in thousandths of a degree.
    Millidegrees(i64),
    /// An area.
    SquareMm(i64),
    /// A volume.
    Millilitres(i64),
    /// In thousandths of a percent.
    PercentThousandths(i64),
    /// In thousandths of a unit that has no name.
    Thousandths(i64),
    /// In thousandths of the unit of the job's currency.
    Money(i64),
    Count(u32),
    Yes(bool),
    /// Words of the designer, or one of a key's words.
    Text(String),
    /// What something is called, or is referred to by.
    Name(String),
    Day(String),
    List(Vec<Fact>),
}

impl Fact {
    /// Whether its numbers are such as a job can have, so that sums and differences of them are safe.
    pub fn is_sane(&self) -> bool {
        match self {
            Fact::Um(n)
            | Fact::Grams(n)
            | Fact::Millidegrees(n)
            | Fact::SquareMm(n)
            | Fact::Millilitres(n)
            | Fact::PercentThousandths(n)
            | Fact::Thousandths(n)
            | Fact::Money(n) => n.unsigned_abs() < MOST,
            Fact::List(items) => items.iter().all(Fact::is_sane),
            Fact::Count(_) | Fact::Yes(_) | Fact::Text(_) | Fact::Name(_) | Fact::Day(_) => true,
        }
    }
}

/// A thousand kilometres, or tonnes: nothing that was reckoned from a job comes near.
const MOST: u64 = 1_000_000_000_000;

/// A value of the project file as a tree: a fact, or tables of them.
#[derive(Clone, Debug, PartialEq)]
pub enum Canon {
    Fact(Fact),
    Table(Vec<(&'static str, Canon)>),
    /// A list of tables.
    Tables(Vec<Canon>),
    /// Tables by name.
    Named(Vec<(String, Canon)>),
}

impl Canon {
    /// The fact it is; tables, which stand for no one value, give an empty list.
    pub fn fact(self) -> Fact {
        match self {
            Canon::Fact(fact) => fact,
            _ => Fact::List(Vec::new()),
        }
    }
}

impl From<Length> for Fact {
    fn from(length: Length) -> Fact {
        Fact::Um(length.in_um())
    }
}
impl From<Mass> for Fact {
    fn from(mass: Mass) -> Fact {
        Fact::Grams(mass.in_grams())
    }
}
impl From<Angle> for Fact {
    fn from(angle: Angle) -> Fact {
        Fact::Millidegrees(angle.in_millideg())
    }
}
impl From<Percent> for Fact {
    fn from(percent: Percent) -> Fact {
        Fact::PercentThousandths(percent.in_thousandths())
    }
}
impl From<Money> for Fact {
    fn from(money: Money) -> Fact {
        Fact::Money(money.in_thousandths())
    }
}
impl From<u32> for Fact {
    fn from(count: u32) -> Fact {
        Fact::Count(count)
    }
}
impl From<bool> for Fact {
    fn from(yes: bool) -> Fact {
        Fact::Yes(yes)
    }
}
impl From<&str> for Fact {
    fn from(text: &str) -> Fact {
        Fact::Text(text.to_owned())
    }
}
impl From<Date> for Fact {
    fn from(date: Date) -> Fact {
        Fact::Day(date.to_string())
    }
}
