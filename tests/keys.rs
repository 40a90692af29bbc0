//! The reference of all keys, and the example held to what the project file promises.

use crate::support::{rodbook, root};

#[test]
fn the_committed_reference_is_what_the_program_prints() {
    let run = rodbook(&root(), &["keys"]);
    let kept = std::fs::read_to_string(root().join("example-project/KEYS.md")).unwrap_or_default();
    assert!(
        kept == run.out,
        "example-project/KEYS.md is stale: cargo run -- keys > example-project/KEYS.md"
    );
}

#[test]
fn the_files_are_as_short_as_promised() {
    let lines = |path: &str| {
        std::fs::read_to_string(root().join(path))
            .expect(path)
            .lines()
            .count()
    };
    assert!(lines("tests/projects/alcove.toml") <= 30);
    assert!(lines("example-project/project.toml") <= 400);
}
