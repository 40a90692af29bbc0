//! Issues: frozen whole, never written again, chained, and known by the code on each page.

use std::path::{Path, PathBuf};

use rodbook::compare::Frozen;
use rodbook::compare::canonical::sha256;

use crate::reader;
use crate::support::{Run, rodbook, root};

/// A folder with the small project in it.
pub struct Desk(tempfile::TempDir);

impl Desk {
    pub fn new() -> Desk {
        let temp = tempfile::tempdir().expect("a folder");
        let alcove = root().join("tests/projects/alcove.toml");
        std::fs::copy(alcove, temp.path().join("project.toml")).expect("project");
        Desk(temp)
    }

    /// The example, with its pictures.
    pub fn of_example() -> Desk {
        let temp = tempfile::tempdir().expect("a folder");
        let example = root().join("example-project");
        std::fs::create_dir(temp.path().join("boards")).expect("boards");
        for name in [
            "project.toml",
            "boards/fluted-linden.jpg",
            "boards/smoked-larch.jpg",
        ] {
            std::fs::copy(example.join(name), temp.path().join(name)).expect(name);
        }
        Desk(temp)
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn run(&self, args: &[&str]) -> Run {
        rodbook(self.0.path(), args)
    }

    pub fn edit(&self, from: &str, to: &str) {
        let file = self.path("project.toml");
        let text = std::fs::read_to_string(&file).expect("project");
        assert!(text.contains(from), "{from}");
        std::fs::write(file, text.replacen(from, to, 1)).expect("project");
    }

    pub fn issue(&self, purpose: &str) -> Run {
        let run = self.run(&["issue", "project.toml", "--for", purpose]);
        assert_eq!(run.code, 0, "{}{}", run.out, run.err);
        run
    }

    fn frozen(&self, revision: &str) -> String {
        let path = self.path("issued").join(revision).join("frozen-job.json");
        std::fs::read_to_string(path).expect("a frozen job")
    }
}

fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|e| e.expect("an entry").file_name().to_string_lossy().into())
        .collect();
    names.sort();
    names
}

#[test]
fn revisions_follow_one_another_and_name_the_one_before() {
    let desk = Desk::new();
    desk.issue("approval");
    desk.edit("shelves = 3", "shelves = 4");
    desk.issue("fitting");
    assert_eq!(names(&desk.path("issued")), ["A", "B"]);
    let (a, b) = (desk.frozen("A"), desk.frozen("B"));
    let second = Frozen::read(&b).expect("reads");
    let before = second.after.as_ref().expect("an earlier one");
    assert_eq!(
        (before.revision.as_str(), &before.hash),
        ("A", &sha256(a.as_bytes()))
    );
    // Typed, and back to the same bytes.
    assert_eq!(second.canonical().expect("canonical"), b);
    let unchanged = desk.run(&["issue", "project.toml", "--for", "fitting"]);
    assert_eq!(unchanged.code, 2, "{}", unchanged.err);
    assert_eq!(names(&desk.path("issued")), ["A", "B"]);
}

#[test]
fn the_manifest_has_the_hash_of_every_file() {
    let desk = Desk::new();
    desk.issue("approval");
    let folder = desk.path("issued/A");
    let manifest = std::fs::read_to_string(folder.join("manifest.json")).expect("manifest");
    let manifest: serde_json::Value = serde_json::from_str(&manifest).expect("JSON");
    assert_eq!(manifest["issue"], sha256(desk.frozen("A").as_bytes()));
    let files = manifest["files"].as_array().expect("files");
    assert!(files.iter().any(|f| f["path"] == "client.pdf"));
    for file in files {
        let path = file["path"].as_str().expect("a path");
        let bytes = std::fs::read(folder.join(path)).expect(path);
        assert_eq!(file["sha256"], sha256(&bytes), "{path}");
    }
    // The manifest itself is the only file that it cannot name.
    let drawings = names(&folder.join("drawings")).len();
    assert_eq!(files.len() + 2, names(&folder).len() + drawings);
}

#[test]
fn an_interrupted_run_is_mended_and_a_folder_in_the_way_is_left_alone() {
    let desk = Desk::new();
    let left = desk.path("issued/.unfinished-A");
    std::fs::create_dir_all(&left).expect("made");
    std::fs::write(left.join("client.pdf"), "half").expect("written");
    let run = desk.issue("approval");
    assert!(run.err.contains("unfinished"), "{}", run.err);
    assert_eq!(names(&desk.path("issued")), ["A"]);
}

#[test]
fn an_issue_that_was_changed_or_taken_away_is_noticed() {
    let desk = Desk::new();
    desk.issue("approval");
    desk.edit("shelves = 3", "shelves = 4");
    desk.issue("approval");
    let whole = desk.frozen("A");
    let file = desk.path("issued/A/frozen-job.json");
    std::fs::write(&file, whole.replacen("\"count\":3", "\"count\":2", 1)).expect("written");
    let run = desk.run(&["pack", "project.toml"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("revision A"), "{}", run.err);
    std::fs::write(&file, whole).expect("written");
    std::fs::remove_dir_all(desk.path("issued/A")).expect("removed");
    assert_eq!(
        desk.run(&["issue", "project.toml", "--for", "record"]).code,
        2
    );
    assert_eq!(names(&desk.path("issued")), ["B"]);
}

#[test]
fn the_frozen_job_travels_in_each_pack() {
    let desk = Desk::new();
    desk.issue("approval");
    for pack in ["client", "fitter"] {
        let path = desk.path("issued/A").join(format!("{pack}.pdf"));
        let found = rodbook::read::issued::at(&path).expect("an attachment");
        let rodbook::read::issued::Found::Frozen(found) = found else {
            panic!("a pack is no project");
        };
        assert_eq!(found.text, desk.frozen("A"), "{pack}");
    }
}

#[test]
fn a_draft_says_so_on_every_page_and_an_issue_does_not() {
    let desk = Desk::new();
    desk.issue("approval");
    desk.edit("shelves = 3", "shelves = 4");
    assert_eq!(desk.run(&["pack", "project.toml"]).code, 0);
    let read = |path: &str| reader::text(&std::fs::read(desk.path(path)).expect(path));
    for page in read("out/client.pdf") {
        assert!(page.contains("DRAFTafterrevisionA"), "{page}");
    }
    for page in read("issued/A/client.pdf") {
        assert!(!page.contains("DRAFT"), "{page}");
        assert!(page.contains("issuedforapproval"), "{page}");
    }
}

#[test]
fn a_sheet_in_hand_is_judged_by_its_code() {
    let desk = Desk::new();
    desk.issue("approval");
    let hash = sha256(desk.frozen("A").as_bytes())[..16].to_uppercase();
    let number = Frozen::read(&desk.frozen("A")).expect("reads").job;
    let code = format!("RB1:{number}:A:F3:{hash}");
    let now = desk.run(&["sheet", "project.toml", &code]);
    assert_eq!(
        (now.code, now.out.contains("current")),
        (0, true),
        "{}",
        now.out
    );
    desk.edit("shelves = 3", "shelves = 4");
    desk.issue("approval");
    let later = desk.run(&["sheet", "project.toml", &code]);
    assert_eq!(later.code, 1);
    assert!(
        later.out.contains("superseded: revision B"),
        "{}",
        later.out
    );
    let other = code.replace(&hash, "0000000000000000");
    let other = desk.run(&["sheet", "project.toml", &other]);
    assert_eq!((other.code, other.out.contains("unknown")), (1, true));
    assert_eq!(desk.run(&["sheet", "project.toml", "nonsense"]).code, 2);
}
