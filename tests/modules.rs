//! Data flows one way: each stage imports only from those before it.

use std::path::Path;

use crate::support::root;

/// (module, what it may import from the crate). `crate::x::y` counts as `x`.
const MAY: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("lettering", &[]),
    ("diag", &[]),
    ("pixels", &[]),
    ("read", &["diag", "lettering", "pixels", "units"]),
    ("resolve", &["diag", "lettering", "pixels", "read", "units"]),
    ("reckon", &["diag", "lettering", "resolve", "units"]),
    ("risks", &["diag", "reckon", "resolve", "units"]),
    ("faces", &["diag", "pixels", "reckon", "resolve", "units"]),
    (
        "compare",
        &[
            "diag",
            "lettering",
            "read",
            "reckon",
            "resolve",
            "risks",
            "units",
        ],
    ),
    (
        "draw",
        &[
            "compare",
            "diag",
            "faces",
            "lettering",
            "reckon",
            "resolve",
            "risks",
            "units",
        ],
    ),
    (
        "compose",
        &[
            "compare",
            "diag",
            "draw",
            "lettering",
            "pixels",
            "reckon",
            "resolve",
            "risks",
            "signoff",
            "units",
        ],
    ),
    (
        "phone",
        &[
            "compare",
            "draw",
            "lettering",
            "reckon",
            "resolve",
            "risks",
            "units",
        ],
    ),
    (
        "emit",
        &[
            "compare",
            "compose",
            "diag",
            "draw",
            "lettering",
            "pixels",
            "read",
            "units",
        ],
    ),
    ("signoff", &["compare", "lettering", "units"]),
    (
        "app",
        &[
            "compare", "compose", "diag", "draw", "emit", "faces", "phone", "read", "reckon",
            "resolve", "risks", "signoff",
        ],
    ),
    (
        "cli",
        &[
            "app", "compare", "diag", "emit", "read", "reckon", "risks", "signoff", "units",
        ],
    ),
    ("main", &[]),
];

fn rust_files(folder: &Path, found: &mut Vec<std::path::PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn stages_import_only_from_stages_before_them() {
    let src = root().join("src");
    let mut files = Vec::new();
    rust_files(&src, &mut files);
    let mut wrong = Vec::new();
    for file in &files {
        let inside = file
            .strip_prefix(&src)
            .expect("in src")
            .to_string_lossy()
            .into_owned();
        let module = inside
            .split(['/', '.'])
            .next()
            .unwrap_or_default()
            .to_string();
        if module == "lib" {
            continue;
        }
        let (_, may) = MAY
            .iter()
            .find(|(name, _)| *name == module)
            .unwrap_or_else(|| panic!("src/{inside} belongs to no stage: add it to this table"));
        let text = std::fs::read_to_string(file).expect("source");
        for (n, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default();
            for used in code.split("crate::").skip(1) {
                let name: String = used
                    .chars()
                    .take_while(|c| c.is_alphanumeric() || *c == '_')
                    .collect();
                if !name.is_empty() && name != module && !may.contains(&name.as_str()) {
                    wrong.push(format!(
                        "src/{inside}:{}: {module} must not use {name}",
                        n + 1
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_read_emit_and_the_command_line_touch_the_outside() {
    let src = root().join("src");
    let mut files = Vec::new();
    rust_files(&src, &mut files);
    let outside = [
        "std::fs",
        "std::env",
        "SystemTime",
        "Instant::now",
        "println!",
        "eprintln!",
    ];
    for file in &files {
        let inside = file
            .strip_prefix(&src)
            .expect("in src")
            .to_string_lossy()
            .into_owned();
        if ["read/", "emit/", "cli/"]
            .iter()
            .any(|m| inside.starts_with(m))
        {
            continue;
        }
        let text = std::fs::read_to_string(file).expect("source");
        let code: String = text
            .lines()
            .map(|l| l.split("//").next().unwrap_or_default())
            .collect::<Vec<_>>()
            .join("\n");
        let code = code.split("#[cfg(test)]").next().unwrap_or_default();
        for word in outside {
            assert!(!code.contains(word), "src/{inside} must not use {word}");
        }
    }
}

#[test]
fn every_module_begins_with_what_it_knows() {
    let src = root().join("src");
    let mut files = Vec::new();
    rust_files(&src, &mut files);
    for file in &files {
        let text = std::fs::read_to_string(file).expect("source");
        assert!(text.starts_with("//! "), "{} has no header", file.display());
    }
}
