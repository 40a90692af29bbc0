//! Lists, points, sizes and named tables as values. Must not know any key.

use serde_spanned::Spanned;
use toml::de::DeValue;

use super::texts::{printable, quoted};
use crate::diag::{Diagnostics, Place};
use crate::read::canon::{Canon, Fact};
use crate::read::table::{AnyTable, At, Header, Notes, TableInfo, Value, wrong_type};

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
    fn canon(&self) -> Canon {
        self.0.canon()
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
    fn canon(&self) -> Canon {
        let items = self.iter().map(T::canon);
        match T::inner() {
            Some(_) => Canon::Tables(items.collect()),
            None => Canon::Fact(Fact::List(items.map(Canon::fact).collect())),
        }
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
    fn canon(&self) -> Canon {
        let both = [&self.0, &self.1].map(|v| v.canon().fact());
        Canon::Fact(Fact::List(both.to_vec()))
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
    fn canon(&self) -> Canon {
        let all = [&self.0, &self.1, &self.2].map(|v| v.canon().fact());
        Canon::Fact(Fact::List(all.to_vec()))
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
    fn canon(&self) -> Canon {
        let each = self.0.iter();
        Canon::Named(
            each.map(|(name, v)| (name.value.clone(), v.canon()))
                .collect(),
        )
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
