//! Reading: what was written is what is meant, whatever else is in the file.

use proptest::prelude::*;

use rodbook::diag::Diagnostics;
use rodbook::read;
use rodbook::resolve::{fill, resolve};

use crate::support::root;

fn example() -> String {
    std::fs::read_to_string(root().join("example-project/project.toml")).expect("example")
}

/// Feeding `explain`'s listing back gives the same job, with nothing left to default.
#[test]
fn the_filled_project_reads_back_as_itself() {
    for path in ["example-project/project.toml", "tests/projects/alcove.toml"] {
        let text = std::fs::read_to_string(root().join(path)).expect(path);
        let mut diags = Diagnostics::default();
        let first = fill(
            &read::project(&text, &mut diags).expect("reads"),
            &mut diags,
        );
        let listing = read::listing(&first, &text);
        let second = fill(
            &read::project(&listing, &mut diags).expect("reads back"),
            &mut diags,
        );
        let again = read::listing(&second, &listing);
        let values = |listing: &str| -> Vec<String> {
            let line = |l: &str| {
                l.rsplit_once("  # ")
                    .map_or(l, |(value, _)| value)
                    .to_string()
            };
            listing.lines().map(line).collect()
        };
        assert_eq!(values(&listing), values(&again), "{path}");
        assert!(
            !again.contains("# default"),
            "{path}: a default was left unsaid"
        );
        assert!(diags.is_empty(), "{path}: {:?}", diags.sorted());
    }
}

/// What the example does not write.
const MORE: &str = r#"
[[known]]
finding = "does-not-pass"
on      = "chamber"
why     = "Carried in by the window."

[material.photographed]
thickness = 19
sheet     = [2800, 1220]
picture   = "boards/smoked-larch.jpg"
corners   = [[0, 30], [0, 0], [40, 0], [40, 30]]

[[run]]
id    = "more"
wall  = "chamber.A"
right = { panel = "larch", pattern = "larch wall" }
unit  = [{ doors = 1, bay = [{ fixed = [1700], rail = [1600] }] }]
"#;

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Hostile input: any bytes cut out of, or put into, a real project. Nothing may panic.
    #[test]
    fn a_damaged_project_is_told_off_and_never_panics(
        at in any::<prop::sample::Index>(), cut in 0usize..60, put in "[\\PC\"\\[\\]{}=\\n0-9.-]{0,12}",
    ) {
        let text = example() + MORE;
        let from = text.floor_char_boundary(at.index(text.len()));
        let to = text.floor_char_boundary((from + cut).min(text.len())).max(from);
        let damaged = format!("{}{put}{}", &text[..from], &text[to..]);
        let mut diags = Diagnostics::default();
        if let Some(project) = read::project(&damaged, &mut diags) {
            let filled = fill(&project, &mut diags);
            resolve(&filled, &[], &mut diags);
        }
        for d in diags.sorted() {
            if let Some((start, end)) = d.place.0 {
                prop_assert!(start <= end && end <= damaged.len(), "{d:?}");
            }
        }
    }
}
