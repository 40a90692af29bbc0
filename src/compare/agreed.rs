//! Disclosures and their options as things: what people agree to. Knows which of their words and numbers
//! are facts; must not know what raised them.
//!
//! A disclosure's facts: `title`, `text`, `about` (keys of things), `concerns` (how many
//! of each kind), `number`, `limit`, `doing`, `cannot`,
//! `severity`, `raised by`, `roles`, and `choice` where there is one. An option's: `is`, `words`, `price`
//! (none: not priced), `when`, `until`, `state`, which follows from the choice and the day.

use std::collections::BTreeMap;

use super::comes::subject;
use super::record::{Fact, Facts, Record, Thing, key};
use crate::reckon::placed::Severity;
use crate::resolve::job::Job;
use crate::risks::{Disclosure, Offer, Risks};

pub fn note(job: &Job, risks: &Risks, record: &mut Record) {
    for disclosure in &risks.disclosures {
        let comes = facts(job, disclosure);
        record.entry("disclosure", &disclosure.id).comes = comes;
        let of = key("disclosure", &disclosure.id);
        for offer in &disclosure.options {
            let id = format!("{}/{}", disclosure.id, offer.id);
            let said = match record.get("option", &id) {
                Some(known) => known.said.clone(),
                None => Facts::new(),
            };
            record.add(Thing {
                kind: "option".to_owned(),
                id,
                of: Some(of.clone()),
                said,
                comes: offered(offer),
            });
        }
    }
}

fn put(facts: &mut Facts, name: &str, text: &str) {
    if !text.is_empty() {
        facts.insert(name.to_owned(), text.into());
    }
}

fn facts(job: &Job, d: &Disclosure) -> Facts {
    let mut facts = Facts::new();
    put(&mut facts, "title", &d.title);
    put(&mut facts, "text", &d.text);
    put(&mut facts, "doing", &d.doing);
    put(&mut facts, "cannot", &d.cannot);
    if let Some(figure) = &d.figure {
        put(&mut facts, "number", &figure.found);
        put(&mut facts, "limit", &figure.limit);
    }
    put(&mut facts, "known", d.known.as_deref().unwrap_or(""));
    put(&mut facts, "raised by", &d.raised_by());
    let severity = match d.severity {
        Severity::Blocks => "must be settled",
        Severity::Warns => "to be decided",
        Severity::Informs => "good to know",
    };
    put(&mut facts, "severity", severity);
    let about = d.subjects.iter().map(|s| {
        let (kind, id) = subject(job, s);
        Fact::Text(key(kind, &id))
    });
    facts.insert("about".to_owned(), Fact::List(about.collect()));
    let mut kinds: BTreeMap<&str, u32> = BTreeMap::new();
    for s in &d.subjects {
        *kinds.entry(subject(job, s).0).or_default() += 1;
    }
    let kinds = kinds.into_iter().map(|(kind, n)| format!("{kind}: {n}"));
    put(
        &mut facts,
        "concerns",
        &kinds.collect::<Vec<_>>().join(", "),
    );
    let roles = d.roles.iter().map(|r| Fact::Text(r.clone()));
    facts.insert("roles".to_owned(), Fact::List(roles.collect()));
    if let Some(chosen) = d.chosen() {
        facts.insert("choice".to_owned(), Fact::Name(chosen.id.clone()));
    }
    facts
}

fn offered(offer: &Offer) -> Facts {
    let mut facts = Facts::new();
    put(&mut facts, "is", offer.kind.word());
    put(&mut facts, "words", &offer.words);
    put(&mut facts, "when", offer.when.as_deref().unwrap_or(""));
    put(&mut facts, "state", offer.state.word());
    if let Some(price) = offer.price {
        facts.insert("price".to_owned(), price.into());
    }
    if let Some(until) = offer.until {
        facts.insert("until".to_owned(), until.into());
    }
    facts
}
