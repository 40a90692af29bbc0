//! Rules of risks against the findings there are, their words against a published measure of how hard they
//! are to read, and the example's own risks on its pages.

use std::collections::BTreeSet;

use proptest::prelude::*;

use rodbook::diag::Diagnostics;
use rodbook::read;
use rodbook::reckon::reckon;
use rodbook::resolve::{fill, resolve};
use rodbook::risks::rules::RULES;
use rodbook::risks::{Risks, risks, wording};

use crate::support::root;

/// Codes in the table are codes of findings: each stands in the source of the reckoning, and raises one
/// rule.
#[test]
fn rules_take_findings_that_there_are() {
    let mut sources = String::new();
    let mut folders = vec![root().join("src/reckon")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("folder").flatten() {
            match entry.path() {
                path if path.is_dir() => folders.push(path),
                path => sources.push_str(&std::fs::read_to_string(path).expect("text")),
            }
        }
    }
    let mut seen = BTreeSet::new();
    for code in RULES.iter().flat_map(|r| r.codes) {
        assert!(sources.contains(&format!("\"{code}\"")), "{code}");
        assert!(seen.insert(*code), "{code} raises two rules");
    }
}

fn example() -> Risks {
    let path = root().join("example-project/project.toml");
    let prepared = rodbook::app::prepare(&path);
    assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
    prepared.risks
}

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
fn grade(text: &str) -> f64 {
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
            let mut text = text.replace("{name}", "larch wall");
            // Of one thing and of several: several is the longer.
            while let Some((before, after)) = text.split_once('{') {
                let (pair, rest) = after.split_once('}').expect("closed");
                let several = wording::by_number(pair, true).expect("a pair");
                text = format!("{before}{several}{rest}");
            }
            grade(&text)
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

/// What a client reads of the example, its own words and the designer's, in the same measure.
#[test]
fn the_examples_risks_can_be_read_at_twelve() {
    let all = example();
    assert!(all.disclosures.len() >= 10);
    let mut hard = Vec::new();
    for d in all.of("client") {
        let mut whole = format!("{} {} {} ", d.text, d.doing, d.cannot);
        for offer in &d.options {
            whole.push_str(&format!("{}. ", offer.words.trim_end_matches('.')));
            whole.push_str(offer.when.as_deref().unwrap_or(""));
        }
        if grade(&whole) > 7.0 {
            hard.push(format!("{}: {:.1}: {whole}", d.id, grade(&whole)));
        }
        assert!(!whole.contains(['{', '}']), "{whole}");
        assert!(!d.roles.is_empty() && !d.title.is_empty());
    }
    assert!(hard.is_empty(), "{hard:#?}");
}

/// The sums of the example by hand: no change, and a contingency of 380.00.
#[test]
fn what_the_example_accepts_adds_up() {
    let all = example();
    let of = |amount: rodbook::units::Money| amount.in_currency(&all.currency);
    assert_eq!(of(all.sums.certain()), "0.00\u{a0}GBP");
    assert_eq!(of(all.sums.put_aside), "380.00\u{a0}GBP");
    assert_eq!(of(all.sums.at_most()), "380.00\u{a0}GBP");
}

fn alcove() -> String {
    let text = std::fs::read_to_string(root().join("tests/projects/alcove.toml")).expect("alcove");
    format!(
        "{text}\n[[risk]]\nid = \"cat\"\ntitle = \"Claws\"\ntext = \"The cat may scratch it all.\"\nroles = [\"client\"]\noption = [{{ is = \"nothing\", words = \"Let it.\" }}, {{ is = \"contingency\", words = \"Mend it.\", price = \"12.50\", until = 2026-05-01, called = 2026-04-01 }}]\nchoice = \"contingency\"\n[[risk]]\nrule = \"damp\"\nweight = \"know\"\nnumber = \"80 %\"\n"
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Hostile input: anything cut out of, or put into, what is said of risks. Nothing may panic, and
    /// every message points into the file.
    #[test]
    fn damaged_risks_are_told_off_and_never_panic(
        back in 0usize..520, cut in 0usize..40, put in "[\\PC\"\\[\\]{}=\\n0-9.-]{0,12}",
    ) {
        let text = alcove();
        let from = text.floor_char_boundary(text.len().saturating_sub(back));
        let to = text.floor_char_boundary((from + cut).min(text.len())).max(from);
        let damaged = format!("{}{put}{}", &text[..from], &text[to..]);
        let mut diags = Diagnostics::default();
        if let Some(project) = read::project(&damaged, &mut diags) {
            let filled = fill(&project, &mut diags);
            let job = resolve(&filled, &[], &mut diags);
            if diags.sizes_can_be_trusted()
                && let Some(reckoned) = reckon(&job, &mut diags)
            {
                risks(&job, &reckoned, &mut diags);
            }
        }
        for d in diags.sorted() {
            if let Some((start, end)) = d.place.0 {
                prop_assert!(start <= end && end <= damaged.len(), "{d:?}");
            }
        }
    }
}

#[test]
fn the_alcoves_risks_are_sound() {
    let mut diags = Diagnostics::default();
    let project = read::project(&alcove(), &mut diags).expect("reads");
    let filled = fill(&project, &mut diags);
    let job = resolve(&filled, &[], &mut diags);
    let reckoned = reckon(&job, &mut diags).expect("reckons");
    let all = risks(&job, &reckoned, &mut diags);
    assert!(diags.is_empty(), "{:?}", diags.sorted());
    assert!(all.disclosures.iter().any(|d| d.id == "cat"));
}
