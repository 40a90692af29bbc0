//! Every key that a project file may have, by the tables that read it and by no list of ours: each is changed or
//! added by machine, and the change register must have it, in words that print.

use std::collections::{BTreeMap, BTreeSet};

use rodbook::compare::register;
use rodbook::diag::Diagnostics;
use rodbook::read::{self, project::Project, table::Key, table::TableInfo};
use rodbook::resolve::fill;
use toml::{Table, Value};

use crate::comparing::{example, placed, prints, said};

/// What the example has no table for, or nothing that a key could be of.
const FURTHER: &str = r#"
[pattern."larch wall"]
fixed = [{ front = "W4-r1c1", board = "Lb", at = 40 }]
"#;

/// Keys whose every other value needs something else to be otherwise too: edits of the example, each made wherever
/// its words stand, and what the register must then say.
type ByHand = (
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
);
const BY_HAND: &[ByHand] = &[
    (
        "job.currency",
        &[(
            "date     = 2026-03-02",
            "date     = 2026-03-02\ncurrency = \"CHF\"",
        )],
        "currency",
    ),
    (
        "material.board.corners",
        &[(
            "{ id = \"La\", lab = [47.2, 9.6, 19.1] }",
            "{ id = \"La\", lab = [47.2, 9.6, 19.1], picture = \"boards/smoked-larch.jpg\", corners = [[0, 0], [300, 0], [300, 200], [0, 200]] }",
        )],
        "corners",
    ),
    (
        "pattern.limit",
        &[(
            "# ── The runs",
            "[pattern.\"larch wall\"]\nlimit = 4\n\n# ── The runs",
        )],
        "new: limit 4 mm",
    ),
    (
        "room.id",
        &[("\"chamber\"", "\"bower\""), ("\"chamber.", "\"bower.")],
        "called chamber \u{2192} bower",
    ),
    (
        "room.wall.turn",
        &[
            ("turn   = -90", "turn   = -89"),
            ("id      = \"E\"", "id      = \"E\"\nturn    = 89"),
        ],
        "turn \u{2212}90\u{b0} \u{2192} \u{2212}89\u{b0}",
    ),
    (
        "sliding.id",
        &[("\"slider\"", "\"glider\"")],
        "called slider \u{2192} glider",
    ),
];

/// Keys of which another value is no other job.
const NOT_COMPARED: &[(&str, &str, &str)] = &[(
    "project",
    "rodbook",
    "the version of the file's form: only one is read",
)];

/// Values that are tried for one key.
const MOST_TRIES: usize = 160;

/// A place in a project file: keys and turns.
#[derive(Clone, Debug)]
enum Step {
    Key(String),
    Turn(usize),
}

/// A key, with a table that has it or might.
struct Spot {
    table: Vec<Step>,
    key: Key,
    is_there: bool,
}

/// Of each key of each kind of table where it stands, and where it might.
fn spots(
    info: &TableInfo,
    at: &Table,
    path: &[Step],
    out: &mut BTreeMap<(&'static str, &'static str), Vec<Spot>>,
) {
    for key in &info.keys {
        let own = out.entry((info.path, key.name)).or_default();
        let value = at.get(key.name);
        own.push(Spot {
            table: path.to_vec(),
            key: key.clone(),
            is_there: value.is_some(),
        });
        let (Some(inner), Some(value)) = (key.inner, value) else {
            continue;
        };
        let mut within = path.to_vec();
        within.push(Step::Key(key.name.to_owned()));
        let named = key.takes.starts_with("tables by name");
        match value {
            Value::Table(table) if named => {
                for (name, item) in table {
                    let mut within = within.clone();
                    within.push(Step::Key(name.clone()));
                    spots(&inner(), item.as_table().expect("a table"), &within, out);
                }
            }
            Value::Table(table) => spots(&inner(), table, &within, out),
            Value::Array(items) => {
                for (turn, item) in items.iter().enumerate() {
                    let mut within = within.clone();
                    within.push(Step::Turn(turn));
                    spots(&inner(), item.as_table().expect("a table"), &within, out);
                }
            }
            _ => {}
        }
    }
}

/// Every key of every kind of table, whether the project has such a table or not.
fn all_keys(
    info: &TableInfo,
    seen: &mut BTreeSet<&'static str>,
    out: &mut BTreeSet<(&'static str, &'static str)>,
) {
    if !seen.insert(info.path) {
        return;
    }
    for key in &info.keys {
        match key.inner {
            Some(inner) => all_keys(&inner(), seen, out),
            None => drop(out.insert((info.path, key.name))),
        }
    }
}

fn table_at<'t>(table: &'t mut Table, path: &[Step]) -> &'t mut Table {
    match path {
        [] => table,
        [Step::Key(key), rest @ ..] => inside(table.get_mut(key).expect("it is there"), rest),
        [Step::Turn(turn), ..] => panic!("no list: {turn}"),
    }
}

fn inside<'t>(value: &'t mut Value, path: &[Step]) -> &'t mut Table {
    match (value, path) {
        (Value::Table(table), path) => table_at(table, path),
        (Value::Array(items), [Step::Turn(turn), rest @ ..]) => inside(&mut items[*turn], rest),
        (other, _) => panic!("no way into {other}"),
    }
}

/// Names that a key may take: of the table called like it first.
fn names(whole: &Table, key: &str) -> Vec<String> {
    let (mut near, mut far) = (Vec::new(), Vec::new());
    fn ids(value: &Value, far: &mut Vec<String>, room: &str) {
        match value {
            Value::Table(table) => {
                let id = table.get("id").and_then(Value::as_str).unwrap_or_default();
                far.extend([id.to_owned(), format!("{room}.{id}")]);
                let room = if table.contains_key("wall") { id } else { room };
                table.values().for_each(|v| ids(v, far, room));
            }
            Value::Array(items) => items.iter().for_each(|v| ids(v, far, room)),
            _ => {}
        }
    }
    for (name, value) in whole {
        if let Value::Table(table) = value {
            for (own, item) in table {
                let is = item.get("is").and_then(Value::as_str).unwrap_or_default();
                match name == key || key.starts_with(is) && !is.is_empty() {
                    true => near.push(own.clone()),
                    false => far.push(own.clone()),
                }
            }
        }
        ids(value, &mut far, "");
    }
    near.append(&mut far);
    near.retain(|name| !name.is_empty() && !name.starts_with('.'));
    near
}

/// Values of what a key takes, however it is now.
fn made(takes: &str, range: Option<(i64, i64)>, key: &str, whole: &Table) -> Vec<Value> {
    let whole_numbers = || {
        let (low, high) = range.unwrap_or((0, 1000));
        let some = [
            low,
            low + 1,
            2,
            7,
            12,
            45,
            90,
            310,
            620,
            905,
            1500,
            2075,
            high,
        ];
        let fits = some.into_iter().filter(|n| *n >= low && *n <= high);
        fits.map(Value::Integer).collect::<Vec<_>>()
    };
    let words = |text: &str| -> Vec<Value> {
        let words = text.split('"').skip(1).step_by(2);
        words.map(|w| Value::String(w.to_owned())).collect()
    };
    let listed = |inner: Vec<Value>| inner.into_iter().map(|v| Value::Array(vec![v])).collect();
    match takes {
        "text" => vec![Value::String("other words".into())],
        "a date such as 2026-03-02" => vec![Value::Datetime("2026-03-17".parse().expect("a day"))],
        "true or false" => vec![true.into(), false.into()],
        "an amount such as \"120.00\", of the job's currency" => vec!["77.70".into()],
        "[width, height, depth]" => vec![Value::Array(vec![590.into(), 800.into(), 500.into()])],
        "[L, a, b]" => vec![Value::Array(vec![50.into(), 9.into(), 20.into()])],
        t if t.starts_with("an id") => vec!["other-id".into()],
        t if t.starts_with("a list, each ") => listed(made(
            t.trim_start_matches("a list, each "),
            range,
            key,
            whole,
        )),
        t if t.starts_with('[') => {
            let pair = |a: i64, b: i64| Value::Array(vec![a.into(), b.into()]);
            vec![
                pair(0, 12),
                pair(150, 155),
                pair(300, 700),
                pair(2440, 1220),
                pair(60, 140),
            ]
        }
        t if t.starts_with("true, false or") => {
            let named = names(whole, key).into_iter().map(Value::String);
            [true.into(), false.into()]
                .into_iter()
                .chain(named)
                .collect()
        }
        t if t.starts_with("the name of one") => {
            names(whole, key).into_iter().map(Value::String).collect()
        }
        t if t.starts_with('"') => words(t),
        _ => whole_numbers(),
    }
}

/// The same value, slightly otherwise; then whatever its key takes.
fn otherwise(value: &Value) -> Vec<Value> {
    match value {
        Value::Integer(n) => [n + 1, n - 1, n + 10, n - 10].map(Value::Integer).to_vec(),
        Value::Float(n) => [n + 0.5, n - 0.5].map(Value::Float).to_vec(),
        Value::String(text) => vec![Value::String(format!("{text}x"))],
        Value::Array(items) => {
            let first = items.first().map(otherwise).unwrap_or_default();
            let changed = first.into_iter().map(|v| {
                let mut items = items.clone();
                items[0] = v;
                Value::Array(items)
            });
            changed.collect()
        }
        _ => Vec::new(),
    }
}

#[test]
fn every_key_there_is_has_an_entry_that_prints() {
    let mut diags = Diagnostics::default();
    let text = example() + FURTHER;
    let filled = fill(
        &read::project(&text, &mut diags).expect("reads"),
        &mut diags,
    );
    let whole: Table = toml::from_str(&read::listing(&filled, &text)).expect("TOML");
    let before = said(&toml::to_string(&whole).expect("TOML")).expect("sound");
    let (mut places, mut keys) = (BTreeMap::new(), BTreeSet::new());
    spots(&Project::info(), &whole, &[], &mut places);
    all_keys(&Project::info(), &mut BTreeSet::new(), &mut keys);
    let of_example = placed();
    let mut untold: Vec<String> = Vec::new();
    let mut told = 0;
    for (path, name) in &keys {
        let by_hand = format!("{path}.{name}");
        if BY_HAND.iter().any(|(key, ..)| *key == by_hand) {
            untold.push(by_hand);
            continue;
        }
        if NOT_COMPARED.iter().any(|(p, n, _)| p == path && n == name) {
            continue;
        }
        let mut spots: Vec<&Spot> = places.get(&(*path, *name)).into_iter().flatten().collect();
        spots.sort_by_key(|spot| !spot.is_there);
        let mut tries = 0;
        let found = spots.iter().find_map(|spot| {
            let mut edited = whole.clone();
            let now = table_at(&mut edited, &spot.table).get(*name).cloned();
            let mut values = now.as_ref().map(otherwise).unwrap_or_default();
            values.extend(made(&spot.key.takes, spot.key.range, name, &whole));
            values.retain(|v| Some(v) != now.as_ref());
            values.into_iter().find_map(|value| {
                tries += 1;
                if tries > MOST_TRIES {
                    return None;
                }
                let shown = format!("{path}.{name} = {value}, was {now:?}");
                table_at(&mut edited, &spot.table).insert((*name).to_owned(), value);
                let after = said(&toml::to_string(&edited).expect("TOML"))?;
                (after != before).then_some((after, shown))
            })
        });
        let Some((after, shown)) = found else {
            untold.push(format!("{path}.{name}"));
            continue;
        };
        let register = register(&before, &after, "a", "b");
        let caused = register.entries.iter().any(|e| !e.changes.is_empty());
        assert!(caused, "{shown}: {:#?}", register.entries);
        prints(&of_example, &register, &shown);
        told += 1;
    }
    let by_hand: Vec<&str> = BY_HAND.iter().map(|(key, ..)| *key).collect();
    assert_eq!(
        untold, by_hand,
        "{told} told; a key that no machine can change needs an edit by hand"
    );
    assert!(told > 250, "{told}");
}

#[test]
fn what_no_machine_can_change_has_an_entry_too() {
    let before = said(&example()).expect("sound");
    let of_example = placed();
    for (key, edits, words) in BY_HAND {
        let edited = edits.iter().fold(example(), |text, (from, to)| {
            assert!(text.contains(from), "{key}: {from}");
            text.replace(from, to)
        });
        let after = said(&edited).unwrap_or_else(|| panic!("{key}: not sound"));
        let register = register(&before, &after, "a", "b");
        let mut changes = register.entries.iter().flat_map(|e| &e.changes);
        assert!(
            changes.any(|c| c.contains(words)),
            "{key}: {:#?}",
            register.entries
        );
        prints(&of_example, &register, key);
    }
}
