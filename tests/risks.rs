//! Rules of risks against the findings there are, and the example's own risks.

use std::collections::BTreeSet;

use rodbook::risks::rules::RULES;

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
