//! Every kind of wrong input has a reproducer in `errors/`, and what it prints is a snapshot.

use rodbook::diag::Code;

use crate::support::{rodbook, root};

#[test]
fn every_kind_of_error_has_a_reproducer_and_exits_with_2() {
    let folder = root().join("tests/errors");
    for code in Code::ALL {
        let file = format!("{}.toml", code.text());
        let run = rodbook(&folder, &["check", &file]);
        assert_eq!(run.code, 2, "{file}: {}{}", run.out, run.err);
        assert!(
            run.out.is_empty(),
            "{file}: errors belong on standard error"
        );
        assert!(
            run.err.contains(&format!("error[{}]", code.text())),
            "{file}: {}",
            run.err
        );
        insta::with_settings!({ snapshot_path => "errors/said", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(code.text(), run.err);
        });
    }
}

#[test]
fn no_reproducer_stands_for_nothing() {
    for entry in std::fs::read_dir(root().join("tests/errors"))
        .expect("folder")
        .flatten()
    {
        let name = entry.file_name().to_string_lossy().into_owned();
        if let Some(stem) = name.strip_suffix(".toml") {
            assert!(
                Code::ALL.iter().any(|c| c.text() == stem),
                "{name} is no code's reproducer"
            );
        }
    }
}

#[test]
fn json_says_the_same_with_line_and_column() {
    let run = rodbook(
        &root().join("tests/errors"),
        &["check", "unknown-key.toml", "--format", "json"],
    );
    assert_eq!(run.code, 2);
    let said: serde_json::Value = serde_json::from_str(&run.out).expect("JSON");
    let first = &said["errors"][0];
    assert_eq!(first["code"], "unknown-key");
    assert_eq!((&first["line"], &first["column"]), (&8.into(), &1.into()));
    assert_eq!(said["errors"].as_array().map(Vec::len), Some(2));
}

#[test]
fn a_wrong_command_line_exits_with_2_and_help_with_0() {
    let folder = root();
    assert_eq!(rodbook(&folder, &["chekc"]).code, 2);
    assert_eq!(rodbook(&folder, &["check"]).code, 2);
    assert_eq!(rodbook(&folder, &["--help"]).code, 0);
}

#[test]
fn a_word_without_quotes_is_told_plainly() {
    let desk = tempfile::tempdir().expect("a folder");
    let alcove = std::fs::read_to_string(root().join("tests/projects/alcove.toml")).expect("it");
    for word in ["ninety", "infinite", "thirty", "fifty", "ash"] {
        let text = format!("{alcove}\n[set.\"a\"]\nfront = {word}\n");
        std::fs::write(desk.path().join("project.toml"), text).expect("written");
        let run = rodbook(desk.path(), &["check", "project.toml"]);
        assert_eq!(run.code, 2);
        let told = "a value must be a number, true or false, or a text in double quotes";
        assert!(run.err.contains(told), "{word}: {}", run.err);
    }
}

/// Each finding with the number of the fitter's pack, the file named once; what programs read of one.
#[test]
fn check_tells_numbers_and_what_is_open() {
    let run = rodbook(&root(), &["check", "example-project/project.toml"]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(run.out.matches("project.toml").count(), 1);
    assert!(run.out.contains("\n1 warns: "), "{}", run.out);
    assert!(
        run.out.contains("options: nothing; not chosen yet"),
        "{}",
        run.out
    );
    assert!(run.out.ends_with("18 risks, 16 open.\n"), "{}", run.out);
    let json = rodbook(
        &root(),
        &["check", "example-project/project.toml", "--format", "json"],
    );
    let said: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    let all = said["findings"].as_array().expect("a list");
    let shelf = all.iter().find(|f| f["code"] == "shelf-sags").expect("it");
    assert_eq!(
        shelf["subject"],
        serde_json::json!({ "is": "unit", "id": "N2" })
    );
    assert_eq!(
        (&shelf["value"], &shelf["unit"]),
        (&5.9.into(), &"mm".into())
    );
    assert_eq!(shelf["limit_value"], 4.9);
    assert_eq!(all[4]["number"], 5);
}

#[test]
fn an_amount_that_is_none_hides_no_other_error() {
    let desk = tempfile::tempdir().expect("a folder");
    let alcove = root().join("tests/projects/alcove.toml");
    let mut text = std::fs::read_to_string(alcove).expect("the alcove");
    text.push_str(
        "\n[[risk]]\nid = \"pipe\"\ntitle = \"The pipe\"\ntext = \"It may leak.\"\n\
         option = [{ is = \"change\", words = \"Move it.\", price = \"many\" }]\nchoice = \"nothing\"\n",
    );
    std::fs::write(desk.path().join("project.toml"), text).expect("written");
    let run = rodbook(desk.path(), &["check", "project.toml"]);
    assert_eq!(run.code, 2);
    for code in ["not-an-amount", "dangling-reference"] {
        assert!(run.err.contains(code), "{code}: {}", run.err);
    }
}

#[test]
fn a_value_that_is_ill_written_hides_no_other_error() {
    let desk = tempfile::tempdir().expect("a folder");
    let alcove = root().join("tests/projects/alcove.toml");
    let alcove = std::fs::read_to_string(alcove).expect("the alcove");
    let said = |from: &str, to: &str| {
        let text = alcove.replace(from, to).replace("doors = 2", "dors = 2");
        std::fs::write(desk.path().join("project.toml"), text).expect("written");
        rodbook(desk.path(), &["check", "project.toml"]).err
    };
    // The 13th month, a name without quotes, a number that is none: two errors each, and none that follows
    // from the first.
    for (from, to) in [
        ("2026-01-12", "2026-13-12"),
        ("\"L\"", "Left"),
        ("ceiling = 2410", "ceiling = 2_4_10__5"),
    ] {
        let said = said(from, to);
        assert!(said.contains("error[syntax]"), "{to}: {said}");
        assert!(said.contains("`dors`"), "{to}: {said}");
        assert!(said.contains("2 things are wrong"), "{to}: {said}");
    }
    // Nor does what stands on a wall of no length lie beyond its ends.
    let wall = said("length = 1187", "length = \"long\"");
    assert!(wall.contains("2 things are wrong"), "{wall}");
    // Nor is a row empty whose count is absurd.
    let row = said(
        "doors = 2",
        "row = [{ height = 300, doors = -2 }, { doors = [1, 2, 3] }]",
    );
    assert!(!row.contains("says nothing of what is in it"), "{row}");
    assert!(row.contains("a list of 3"), "{row}");
    // Where it is the order of the file that is broken, the rest is not guessed at.
    let broken = said(
        "[[room.wall]]             # left",
        "[[room.wall]             # left",
    );
    assert!(broken.contains("1 thing is wrong"), "{broken}");
}
