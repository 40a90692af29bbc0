//! A disclosure in the words that a client reads, on paper and on a screen alike. Knows English; must not know
//! a page.

use super::{Disclosure, Number, Offer, OptionKind, State};
use crate::reckon::placed::{Finding, Reckoned};
use crate::units::Money;

/// The number behind it; `None` where its other words tell it.
pub fn number(reckoned: &Reckoned, d: &Disclosure) -> Option<String> {
    let Number { found, limit } = d.figure.as_ref()?;
    let told = tells(&d.text, found) || tells(&in_detail(reckoned, d), found);
    (!told).then(|| against(found, limit))
}

/// `4.3 mm, held against 4 mm`.
pub fn against(found: &str, limit: &str) -> String {
    match (found, limit) {
        (found, "") => found.to_owned(),
        ("", limit) => format!("held against {limit}"),
        (found, limit) => format!("{found}, held against {limit}"),
    }
}

/// Whether a text has this number in it, and not just the end of a longer one.
pub fn tells(text: &str, number: &str) -> bool {
    let more = |c: char| c.is_ascii_digit() || c == '.';
    let mut places = text.match_indices(number);
    !number.is_empty()
        && places.any(|(at, _)| !text.get(..at).is_some_and(|before| before.ends_with(more)))
}

/// Findings told in their own words, before the rest are counted.
const TOLD: usize = 12;

/// What was found, each in the client's words: which shelf, under which load, between which fronts; in the
/// order of the fronts. The one finding of long doors says what stands above it already.
pub fn in_detail(reckoned: &Reckoned, d: &Disclosure) -> String {
    let found = d.findings.iter();
    let mut found: Vec<&Finding> = found.filter_map(|n| reckoned.findings.get(*n)).collect();
    found.sort_by_key(|f| f.fronts.first().copied().unwrap_or(usize::MAX));
    let found = found.into_iter().filter_map(|f| f.client.as_ref());
    let told: Vec<&str> = found.map(|told| told.text.as_str()).collect();
    if d.id == "bow" && told.len() == 1 {
        return String::new();
    }
    let mut said: Vec<String> = told.iter().take(TOLD).map(|t| stopped(t)).collect();
    match told.len().saturating_sub(TOLD) {
        0 => {}
        1 => said.push("And one more like these.".to_owned()),
        more => said.push(format!("And {more} more like these.")),
    }
    said.join(" ")
}

/// When it may be called on, its last day, what became of it.
pub fn detail(offer: &Offer) -> String {
    let mut said = Vec::new();
    if let Some(when) = &offer.when {
        said.push(format!("When it may be called on: {}", stopped(when)));
    }
    match offer.state {
        State::Called(day) => said.push(format!("Called on {}.", day.in_words())),
        State::NotNeeded(day) => said.push(format!("Not needed, as of {}.", day.in_words())),
        State::Expired(day) => said.push(format!("Its last day was {}.", day.in_words())),
        State::Offered | State::NotTaken | State::Accepted => {
            said.extend(
                offer
                    .until
                    .map(|day| format!("Last day: {}.", day.in_words())),
            );
        }
    }
    said.join(" ")
}

/// What an option adds: for all that it is about, not for each.
pub fn price(offer: &Offer, currency: &str) -> String {
    match (offer.kind, offer.price) {
        (OptionKind::Nothing, _) => "nothing to pay".to_owned(),
        (_, None) => "not priced yet".to_owned(),
        (OptionKind::Contingency, Some(price)) => {
            let how = match offer.state {
                State::Called(_) => "called",
                State::NotNeeded(_) => "not needed",
                State::Expired(_) => "expired",
                State::Offered | State::NotTaken | State::Accepted => "if called on",
            };
            format!("{} in all, {how}", price.in_currency(currency))
        }
        (OptionKind::Change, Some(price)) if price < Money::ZERO => {
            let saved = Money::thousandths(price.in_thousandths().saturating_neg());
            format!("saves {} in all", saved.in_currency(currency))
        }
        (OptionKind::Change, Some(price)) => format!("adds {} in all", price.in_currency(currency)),
    }
}

/// Ended as a sentence.
fn stopped(text: &str) -> String {
    let text = text.trim();
    match text.ends_with(['.', '!', '?', '\u{2026}']) {
        true => text.to_owned(),
        false => format!("{text}."),
    }
}

#[cfg(test)]
mod tests {
    use super::tells;

    #[test]
    fn a_number_is_told_where_it_stands_by_itself() {
        assert!(tells("It jumps by 5 mm at each of them.", "5 mm"));
        assert!(!tells("It jumps by 15 mm, or 0.5 mm.", "5 mm"));
        assert!(tells("By 15 mm, and 5 mm beside it.", "5 mm"));
        assert!(!tells("It jumps.", ""));
    }
}
