//! Things, facts and changes in words. Knows the trade's terms for kinds and how a fact is written; must
//! not know which change caused which.

use super::change::FactChange;
use super::record::{Fact, Record, Thing};
use super::takes;
use crate::reckon::quantities::{Surface, Volume, metres};
pub(super) use crate::risks::words::ranges;
use crate::units::{Angle, Length, Mass, Money, Percent};

/// `unit W2 Shelved wardrobe`, `door 7 (W2-r1c1)`, `Chamber, wall A`.
pub fn thing(record: &Record, thing: &Thing) -> String {
    let name = thing
        .text("name")
        .filter(|n| *n != thing.id && !n.is_empty());
    let id = thing.id.as_str();
    let over = thing.of.as_ref().and_then(|k| record.things.get(k));
    match thing.kind.as_str() {
        "job" => "the job".to_owned(),
        "room" => name.unwrap_or(id).to_owned(),
        "wall" => {
            let (room, wall) = id.split_once('.').unwrap_or(("", id));
            let room = record.get("room", room);
            let room = room.and_then(|r| r.text("name")).unwrap_or("a room");
            format!("{room}, wall {wall}")
        }
        "front" => {
            let is = thing.text("is").unwrap_or("front");
            match thing.count("number") {
                Some(number) => format!("{is} {number} ({id})"),
                None => format!("{is} {id}"),
            }
        }
        "unit" => format!("unit {id}{}", spaced(name)),
        "row" | "bay" => {
            let place = id.rsplit_once('/').map_or(id, |(_, n)| n);
            let from = if thing.kind == "row" {
                "row {} from the bottom"
            } else {
                "bay {}"
            };
            let place = from.replacen("{}", place, 1);
            match over {
                Some(over) => format!("{}, {place}", self::thing(record, over)),
                None => place,
            }
        }
        "finding" => match over {
            Some(over) => format!("finding about {}", self::thing(record, over)),
            None => "finding".to_owned(),
        },
        "person" | "history entry" | "known finding" | "work by others" | "way in" => {
            format!("{}: \u{201c}{id}\u{201d}", thing.kind)
        }
        "disclosure" => match thing.text("title") {
            Some(title) => format!("risk \u{201c}{title}\u{201d} ({id})"),
            None => format!("risk {id}"),
        },
        "option" => {
            let own = id.rsplit_once('/').map_or(id, |(_, own)| own);
            let over = over.map_or(String::new(), |over| self::thing(record, over));
            format!("{over}, option {own}")
        }
        kind if takes::KINDS.contains(&kind) => match over {
            Some(over) => format!("{kind}: {}", self::thing(record, over)),
            None => format!("{kind}: {id}"),
        },
        "scribe" | "filler" | "end panel" | "plinth" => {
            let (run, own) = id.split_once('/').unwrap_or(("", id));
            format!("{} {own} of {run}", thing.kind)
        }
        kind => match (over, name) {
            (Some(over), _) => {
                let own = id
                    .strip_prefix(&over.id)
                    .unwrap_or(id)
                    .trim_start_matches(['/', '.']);
                format!("{}: {} {own}", self::thing(record, over), kind_word(kind))
            }
            (None, Some(name)) => format!("{} \u{201c}{name}\u{201d} ({id})", kind_word(kind)),
            (None, None) => format!("{} \u{201c}{id}\u{201d}", kind_word(kind)),
        },
    }
}

fn kind_word(kind: &str) -> &str {
    match kind {
        "sliding" => "sliding door",
        kind => kind,
    }
}

fn spaced(name: Option<&str>) -> String {
    name.map(|n| format!(" {n}")).unwrap_or_default()
}

/// A key of the project file, or a reckoned fact, as it is said.
pub fn fact(name: &str) -> String {
    match name {
        "at" => "place".to_owned(),
        "is" => "what it is".to_owned(),
        "on" => "what it is about".to_owned(),
        "hinge_by" => "hinge".to_owned(),
        "set" => "set of materials".to_owned(),
        "lab" => "measured colour".to_owned(),
        "bays" => "clear widths of bays".to_owned(),
        "shelves at" => "heights of shelves".to_owned(),
        "rails at" => "heights of rails".to_owned(),
        "inner drawers at" => "heights of inner drawers".to_owned(),
        "drawer boxes at" => "places of drawer boxes".to_owned(),
        "cut-outs at" => "places of cut-outs".to_owned(),
        "pieces at" => "places of pieces".to_owned(),
        "open at" => "left edge when open".to_owned(),
        "across the board" => "left edge on its board".to_owned(),
        "up the board" => "bottom edge on its board".to_owned(),
        "feet" => "settings of feet".to_owned(),
        name => name.replace('_', " "),
    }
}

/// A value with its unit, as it is written on a page.
pub fn value(fact: Option<&Fact>) -> String {
    match fact {
        None => "nothing".to_owned(),
        Some(fact) => written(fact),
    }
}

/// The same of this fact: edges are bought by the metre.
fn value_of(name: &str, fact: Option<&Fact>) -> String {
    match fact {
        Some(Fact::Um(n)) if takes::EDGES.contains(&name) => metres(Length::um(*n)),
        _ => value(fact),
    }
}

/// Whether both values are written alike.
pub fn is_hidden(c: &FactChange) -> bool {
    value_of(&c.fact, c.old.as_ref()) == value_of(&c.fact, c.new.as_ref())
}

/// What a fact was, shortly: `width 560 mm`. Nothing, where it says little by itself.
pub fn old(name: &str, fact: &Fact) -> Option<String> {
    let short = match fact {
        Fact::List(items) => items.len() <= 8 && !items.is_empty(),
        Fact::Text(text) => !text.is_empty() && text.len() <= 60,
        _ => true,
    };
    let inner =
        matches!(name, "after" | "on wall" | "hardware" | "kind") || takes::LISTED.contains(&name);
    (short && !inner).then(|| format!("{} {}", self::fact(name), value_of(name, Some(fact))))
}

fn written(fact: &Fact) -> String {
    match fact {
        Fact::Um(n) => format!("{} mm", Length::um(*n)),
        Fact::Grams(n) => format!("{} kg", Mass::grams(*n)),
        Fact::Millidegrees(n) => format!("{}\u{b0}", Angle::millideg(*n)),
        Fact::SquareMm(n) => format!("{} m\u{b2}", Surface::mm2(*n)),
        Fact::Millilitres(n) => format!("{} l", Volume::ml(*n)),
        Fact::PercentThousandths(n) => format!("{} %", Percent::thousandths(*n)),
        Fact::Thousandths(n) => Length::um(*n).to_string(),
        Fact::Money(n) => Money::thousandths(*n).to_string(),
        Fact::Count(n) => n.to_string(),
        Fact::Yes(true) => "yes".to_owned(),
        Fact::Yes(false) => "no".to_owned(),
        Fact::Text(text) | Fact::Name(text) if text.is_empty() => "nothing".to_owned(),
        Fact::Text(text) if text.contains(' ') => format!("\u{201c}{text}\u{201d}"),
        Fact::Text(text) | Fact::Name(text) | Fact::Day(text) => text.clone(),
        Fact::List(items) if items.is_empty() => "none".to_owned(),
        Fact::List(items) => {
            let plain = |item: &Fact| match item {
                Fact::Um(n) => Length::um(*n).to_string(),
                Fact::List(inner) => {
                    let inner: Vec<String> = inner
                        .iter()
                        .map(|i| match i {
                            Fact::Um(n) => Length::um(*n).to_string(),
                            other => written(other),
                        })
                        .collect();
                    inner.join(" / ")
                }
                other => written(other),
            };
            let items: Vec<String> = items.iter().map(plain).collect();
            items.join(", ")
        }
    }
}

/// `front: 12, unit: 1` as `12 fronts, 1 unit`.
fn counted(fact: Option<&Fact>) -> String {
    let Some(Fact::Text(text)) = fact else {
        return value(fact);
    };
    let each = text.split(", ").filter_map(|part| {
        let (kind, n) = part.split_once(": ")?;
        let s = if n == "1" { "" } else { "s" };
        Some(format!("{n} {}{s}", kind_word(kind)))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// `thickness 12.5 mm → 15 mm`.
pub fn change(change: &FactChange) -> String {
    if change.fact == "concerns" {
        let (old, new) = (counted(change.old.as_ref()), counted(change.new.as_ref()));
        return format!("concerns {old} \u{2192} {new}");
    }
    if change.fact == "after" {
        return match &change.new {
            Some(Fact::Name(key)) => format!("now comes after {key}"),
            _ => "now comes first".to_owned(),
        };
    }
    if let (Some(old), Some(new)) = (&change.old, &change.new)
        && let Some((old, new)) = apart(old, new)
    {
        return format!("{} {old} \u{2192} {new}", fact(&change.fact));
    }
    format!(
        "{} {} \u{2192} {}",
        fact(&change.fact),
        value_of(&change.fact, change.old.as_ref()),
        value_of(&change.fact, change.new.as_ref())
    )
}

/// Of two long lists only the items that differ, so that a person sees them.
fn apart(old: &Fact, new: &Fact) -> Option<(String, String)> {
    let (Fact::List(a), Fact::List(b)) = (old, new) else {
        return None;
    };
    if a.len() != b.len() || a.len() < 5 {
        return None;
    }
    let differing = || a.iter().zip(b).filter(|(a, b)| a != b);
    if differing().count() * 2 > a.len() {
        return None;
    }
    let old = Fact::List(differing().map(|(a, _)| a.clone()).collect());
    let new = Fact::List(differing().map(|(_, b)| b.clone()).collect());
    Some((format!("(of {}) {}", a.len(), written(&old)), written(&new)))
}

/// By how much a length or mass grew, as the trade says it of this fact: `0.5 mm narrower`.
pub fn by(name: &str, least: i64, most: i64, grams: bool) -> String {
    let grown = most > 0;
    let way = match (name, grown) {
        ("width", true) => " wider",
        ("width", false) => " narrower",
        ("height", true) => " taller",
        ("height", false) => " shorter",
        ("left edge" | "left end" | "right end", true) => " further right",
        ("left edge" | "left end" | "right end", false) => " further left",
        ("bottom", true) => " higher up",
        ("bottom", false) => " lower down",
        ("across the board", true) => " further right on the board",
        ("across the board", false) => " further left on the board",
        ("up the board", true) => " higher up the board",
        ("up the board", false) => " lower down the board",
        ("mass" | "carried mass", true) => " heavier",
        ("mass" | "carried mass", false) => " lighter",
        ("depth" | "depth over fronts", true) => " deeper",
        ("depth" | "depth over fronts", false) => " shallower",
        (_, true) => " more",
        (_, false) => " less",
    };
    let show = |n: i64| match grams {
        true => Mass::grams(n.abs()).to_string(),
        false => Length::um(n.abs()).to_string(),
    };
    let unit = if grams { "kg" } else { "mm" };
    let (low, high) = if grown { (least, most) } else { (most, least) };
    let amount = match show(low) == show(high) {
        true => show(low),
        false => format!("{} to {}", show(low), show(high)),
    };
    let subject = match name {
        "width" | "height" | "left edge" | "left end" | "right end" | "bottom" | "mass"
        | "depth" | "across the board" | "up the board" => String::new(),
        name => format!("{} ", fact(name)),
    };
    format!("{subject}{amount} {unit}{way}")
}

/// Several things of one kind, told shortly: `11 fronts (1 to 8, 10)`.
pub fn several(record: &Record, kind: &str, things: &[&Thing]) -> String {
    if let [one] = things {
        return thing(record, one);
    }
    let plural = match kind {
        "sliding" => "sliding doors".to_owned(),
        "bay" | "row" => format!("{kind}s"),
        "kind of unit" => "kinds of unit".to_owned(),
        kind if takes::KINDS.contains(&kind) => kind.replacen("quantity", "quantities", 1),
        "kind of front" => "kinds of front".to_owned(),
        kind => format!("{kind}s"),
    };
    let mut numbers: Vec<u32> = things.iter().filter_map(|t| t.count("number")).collect();
    numbers.sort_unstable();
    let which = match numbers.len() == things.len() {
        true => ranges(&numbers),
        false => {
            let ids: Vec<&str> = things.iter().take(6).map(|t| t.id.as_str()).collect();
            let more = if things.len() > 6 { " and others" } else { "" };
            format!("{}{more}", ids.join(", "))
        }
    };
    format!("{} {plural} ({which})", things.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_grow_and_shrink_in_the_trades_words() {
        assert_eq!(by("width", -500, -500, false), "0.5 mm narrower");
        assert_eq!(
            by("left edge", 500, 5500, false),
            "0.5 to 5.5 mm further right"
        );
        assert_eq!(by("mass", -1300, -300, true), "0.3 to 1.3 kg lighter");
        assert_eq!(by("handle at", 2000, 2000, false), "handle at 2 mm more");
    }
}
