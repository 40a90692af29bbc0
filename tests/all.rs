//! All integration tests, in one program: each further one would link typst again.

#![allow(clippy::disallowed_methods)] // tests lay out folders and read them back

mod reader;
mod support;

mod comparing;
mod composed;
mod drawing;
mod errors;
mod every_key;
mod faces;
mod issuing;
mod keys;
mod known;
mod marked;
mod modules;
mod packs;
mod phone;
mod reading;
mod reckoning;
mod recut;
mod risks;
mod signing;
mod subjects;
mod told;
mod views;

/// A test file that nobody lists would never run.
#[test]
fn every_test_file_is_listed_here() {
    let here = include_str!("all.rs");
    let folder = support::root().join("tests");
    for entry in std::fs::read_dir(folder).expect("tests folder").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if let Some(module) = name.strip_suffix(".rs")
            && module != "all"
        {
            assert!(
                here.contains(&format!("mod {module};")),
                "tests/{name} is not listed in all.rs"
            );
        }
    }
}
