//! What issue 4 asks of speed: sixty columns over thirty boards, and twelve large photographs cut into
//! forty fronts. Knows how to make such jobs; the clock is read around what is asked for, and no more.

use std::fmt::Write;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

use rodbook::app;
use rodbook::compose::{self, Pack};
use rodbook::emit::pdf;
use rodbook::pixels::{Pixels, jpeg};
use rodbook::reckon::pattern;

/// A wall of doors of one pattern with boards in hand, each with a crest, a flaw and, if wanted, a
/// picture of its own.
fn project(units: usize, doors: usize, boards: usize, repeat: &str, pictured: bool) -> String {
    let mut out = String::from(
        "rodbook = 1\n[job]\nnumber = \"B-1\"\ntitle = \"Bench\"\nclient = \"Nobody\"\ndate = 2026-01-12\n\
         [[room]]\nid = \"hall\"\nclosed = false\n[[room.wall]]\nid = \"A\"\n",
    );
    let long = units * doors * 450 + 40;
    let _ = write!(
        out,
        "length = {long}\n[[run]]\nid = \"R\"\nwall = \"hall.A\"\nbase = 100\ntop = 2300\nfront = \"oak\"\n\
         unit = [{}]\n",
        format!("{{ doors = {doors} }}, ").repeat(units)
    );
    let _ = write!(
        out,
        "[front.oak]\nmaterial = \"oak\"\npattern = \"oak wall\"\n\
         [material.oak]\nthickness = 19\nsheet = [2800, 1220]\ngrain = \"length\"\nrepeat = [0, {repeat}]\n"
    );
    for n in 0..boards {
        let (crest, flaw) = (n * 7 % 32, 150 + n * 37 % 800);
        let _ = write!(
            out,
            "[[material.oak.board]]\nid = \"b{n}\"\nfirst_crest = [0, {crest}]\n\
             lab = [{}.5, 9, 20]\n",
            45 + n * 5 % 9,
        );
        // Of each photograph's board, as many as it takes that every front has a face.
        let _ = match pictured {
            true => writeln!(out, "picture = \"b{}.jpg\"", n % 12),
            false => writeln!(
                out,
                "avoid = [{{ from = [900, {flaw}], to = [930, {}] }}]",
                flaw + 25
            ),
        };
    }
    out
}

/// Sixty columns over thirty boards, each way an aim can be set: milliseconds of the slowest.
pub fn sixty_over_thirty() -> f64 {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("job.toml");
    let mut slowest = 0.0_f64;
    let repeats = ["0", "5", "10", "32", "64", "128", "240", "640"];
    let aims = ["aim = \"exact\"", "aim = \"least waste\""];
    let limits = ["0.5", "1", "2", "4", "8"].map(|mm| format!("limit = {mm}"));
    let rules: Vec<String> = aims.iter().map(ToString::to_string).chain(limits).collect();
    let each = repeats
        .iter()
        .flat_map(|r| rules.iter().map(move |rule| (r, rule)));
    for (repeat, rule) in each {
        let text = project(20, 3, 30, repeat, false) + "[pattern.\"oak wall\"]\n" + rule + "\n";
        std::fs::write(&file, text).expect("written");
        let prepared = app::prepare(&file);
        assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
        let (job, reckoned) = prepared.job.as_ref().expect("it is sound");
        assert_eq!(reckoned.fronts.len(), 60);
        let begun = Instant::now();
        let layouts = pattern::layouts(job, &reckoned.fronts, &reckoned.pattern_pieces);
        let spent = begun.elapsed().as_secs_f64() * 1000.0;
        assert_eq!(layouts[0].blanks.len(), 60, "{:?}", layouts[0].stuck);
        eprintln!(
            "  repeat {repeat:>3}, {rule:<21} {spent:6.1} ms, {} boards, {} changes{}",
            layouts[0].boards.len(),
            layouts[0]
                .joints
                .iter()
                .filter(|j| j.change.is_some())
                .count(),
            match layouts[0].best {
                true => "",
                false => ", not every place tried",
            }
        );
        slowest = slowest.max(spent);
    }
    slowest
}

/// Twelve photographs of 24 megapixels, made where they are wanted: in a process of its own, so that
/// what they take is not counted.
pub fn photographs(folder: &Path) {
    for n in 0..12_u32 {
        let mut rgb = Vec::with_capacity(72_000_000);
        for y in 0..4000_u32 {
            let band = ((y + n * 50) / 9 % 60) as u8;
            for x in 0..6000_u32 {
                let fibre = (x.wrapping_mul(2_654_435_761).wrapping_add(y * 977) >> 27) as u8;
                rgb.extend([120 + band + fibre, 80 + band + fibre, 50 + band / 2 + fibre]);
            }
        }
        let picture = Pixels::new(6000, 4000, rgb).expect("24 megapixels");
        let bytes = jpeg(&picture).expect("a JPEG");
        std::fs::write(folder.join(format!("b{n}.jpg")), bytes).expect("written");
    }
}

/// From the project file and its photographs to the client's PDF: milliseconds, and its megabytes.
pub fn slices(folder: &Path) -> (f64, f64) {
    let file = folder.join("job.toml");
    std::fs::write(&file, project(20, 2, 20, "0", true)).expect("written");
    let begun = Instant::now();
    let prepared = app::prepare(&file);
    assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
    let (job, reckoned) = prepared.job.as_ref().expect("it is sound");
    assert_eq!(reckoned.fronts.len(), 40);
    let [client, ..] = app::drawings(job, reckoned).expect("drawings");
    let pages = compose::pack(job, reckoned, &client, Pack::Client).expect("pages");
    let bytes = pdf::write(&pages).expect("a PDF");
    let spent = begun.elapsed().as_secs_f64() * 1000.0;
    (spent, bytes.len() as f64 / 1e6)
}

/// What the two figures are, in processes of their own.
pub fn report(this: &Path) {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |name: &str| {
        let mut command = Command::new(this);
        let done = command.arg(name).arg(folder.path()).output();
        let done = done.expect("it runs");
        let words = String::from_utf8_lossy(&done.stdout).into_owned();
        let words = words.split_whitespace();
        words
            .filter_map(|w| w.parse::<f64>().ok())
            .collect::<Vec<f64>>()
    };
    let columns = run("one:pattern");
    run("one:photographs");
    let slices = run("one:slices");
    let of = |list: &[f64], n: usize| list.get(n).copied().unwrap_or(f64::NAN);
    println!(
        "60 columns over 30 boards          {:7.0} ms   (limit 50)",
        of(&columns, 0)
    );
    println!(
        "12 photographs into 40 fronts      {:7.0} ms   (limit 3000)",
        of(&slices, 0)
    );
    println!(
        "  its most memory                  {:7.0} MB   (limit 600)",
        of(&slices, 2)
    );
    println!(
        "  the client's PDF                 {:7.1} MB   (limit 15)",
        of(&slices, 1)
    );
}
