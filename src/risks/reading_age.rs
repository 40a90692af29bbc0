//! Whether the words of the rules can be read at twelve. Knows a published formula; must not know a rule.

use super::wording;

/// Syllables by the usual count of groups of vowels, a silent `e` at the end left out.
fn syllables(word: &str) -> usize {
    let word: String = word
        .to_lowercase()
        .chars()
        .filter(|c| c.is_alphabetic())
        .collect();
    let vowel = |c: char| "aeiouy".contains(c);
    let mut count = 0;
    let mut before = false;
    for c in word.chars() {
        if vowel(c) && !before {
            count += 1;
        }
        before = vowel(c);
    }
    let silent = word.ends_with('e') && !word.ends_with("le") && count > 1;
    let quiet_ed =
        word.ends_with("ed") && !word.ends_with("ted") && !word.ends_with("ded") && count > 1;
    (count - usize::from(silent) - usize::from(quiet_ed)).max(1)
}

/// Grade of a text: Kincaid, Fishburne, Rogers & Chissom 1975, "Derivation of new readability formulas":
/// 0.39 words a sentence + 11.8 syllables a word - 15.59 (from memory). A reader of twelve is in the
/// seventh grade, which ends at thirteen.
pub fn grade(text: &str) -> f64 {
    let sentences = text
        .split(['.', '?', '!', ':'])
        .filter(|s| s.split_whitespace().count() > 0);
    let sentences = sentences.count().max(1) as f64;
    let words: Vec<&str> = text
        .split_whitespace()
        .filter(|w| w.chars().any(char::is_alphabetic))
        .collect();
    let all: usize = words.iter().map(|w| syllables(w)).sum();
    let count = words.len().max(1) as f64;
    0.39 * count / sentences + 11.8 * all as f64 / count - 15.59
}

/// Source: plain counting; the sentences are our own.
#[test]
fn the_formula_is_kincaids() {
    assert_eq!(
        [
            "a", "board", "ceiling", "made", "table", "area", "opened", "fitted"
        ]
        .map(syllables),
        [1, 1, 2, 1, 2, 2, 2, 2]
    );
    // 6 words, 6 syllables, 1 sentence: 0.39 * 6 + 11.8 - 15.59.
    assert!((grade("The cat sat on the mat.") - -1.45).abs() < 1e-9);
}

#[test]
fn every_rules_words_can_be_read_at_twelve() {
    let all = wording::all().expect("reads");
    let mut hard = Vec::new();
    for (rule, w) in &all {
        let whole = [
            &w.text,
            &w.doing,
            &w.cannot,
            &w.nothing,
            &w.change,
            &w.contingency,
            &w.when,
        ];
        let whole: String = whole.into_iter().flat_map(|t| [t.as_str(), " "]).collect();
        let plain = |text: &str| {
            let text = text.replace("{number}", "5 mm").replace("{limit}", "4 mm");
            grade(&text.replace("{name}", "larch wall"))
        };
        // All of it in the seventh grade; a few words by themselves say little, so a part may be two up.
        if plain(&whole) > 7.0 {
            hard.push(format!("{rule}: {:.1}", plain(&whole)));
        }
        for part in [&w.text, &w.doing, &w.cannot, &w.nothing, &w.change] {
            if !part.is_empty() && plain(part) > 9.0 {
                hard.push(format!("{rule}: {:.1} {part}", plain(part)));
            }
        }
    }
    assert!(hard.is_empty(), "{hard:#?}");
}
