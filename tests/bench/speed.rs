//! How fast the example compiles: `cargo bench`. Prints the figures of DEVELOPERS.md "Speed".
//!
//! Each figure is the middle one of several runs, each in a process of its own, so that nothing is
//! warm: typst keeps what it has laid out for as long as a process lives. `cargo bench one:stages`
//! tells where the time goes.

#![allow(clippy::disallowed_methods)] // a benchmark is where the clock is read

mod patterns;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use rodbook::app;
use rodbook::compose::{self, Pack, PackData};
use rodbook::draw::{self, Drawing};
use rodbook::emit::{pdf, png};
use rodbook::faces::faces;
use rodbook::reckon::placed::Reckoned;
use rodbook::resolve::job::Job;

const RUNS: usize = 7;

fn main() {
    // cargo passes flags of its own: only ours are looked at.
    let args: Vec<String> = std::env::args().collect();
    let wanted = |name: &str| args.iter().any(|a| a == name);
    match () {
        () if wanted("one:all") => one(all),
        () if wanted("one:packs") => one(packs),
        () if wanted("one:typst") => one_typst(),
        () if wanted("one:stages") => stages(),
        () if wanted("one:pattern") => println!("{:.1}", patterns::sixty_over_thirty()),
        () if wanted("one:photographs") => patterns::photographs(&folder(&args)),
        () if wanted("one:slices") => {
            let (spent, size) = patterns::slices(&folder(&args));
            println!("{spent:.1} {size:.2} {:.0}", most_memory());
        }
        () => report(),
    }
}

/// The one named last.
fn folder(args: &[String]) -> PathBuf {
    args.last().expect("a folder").into()
}

fn example() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project/project.toml")
}

/// Both packs and every PNG, from reading the file to the last byte.
fn all() {
    let prepared = app::prepare(&example());
    let (job, reckoned) = prepared.job.as_ref().expect("the example is sound");
    let files = app::pack(job, reckoned).expect("packs");
    assert!(files.len() > 2);
}

/// What is drawn for each pack.
fn drawn(job: &Job, reckoned: &Reckoned) -> [(Pack, Vec<Drawing>); 2] {
    let packs = [Pack::Client, Pack::Fitter];
    let readers = packs.map(Pack::reader);
    let [mut client, fitter] = draw::drawings(job, reckoned, readers).expect("drawings");
    client.extend(draw::looks(job, reckoned, &faces(job, reckoned)).expect("pictures"));
    [(packs[0], client), (packs[1], fitter)]
}

/// Both packs without the PNGs, one after the other, from reading the file to the last byte.
fn packs() {
    let prepared = app::prepare(&example());
    let (job, reckoned) = prepared.job.as_ref().expect("the example is sound");
    for (pack, drawings) in drawn(job, reckoned) {
        let pages = compose::pack(job, reckoned, &drawings, pack).expect("pages");
        assert!(!pdf::write(&pages).expect("a PDF").is_empty());
    }
}

/// Bare typst over the same page data: compile and export, nothing else on the clock.
fn one_typst() {
    let prepared = app::prepare(&example());
    let (job, reckoned) = prepared.job.as_ref().expect("the example is sound");
    let data: Vec<PackData> = drawn(job, reckoned)
        .iter()
        .map(|(pack, drawings)| compose::data(job, reckoned, drawings, *pack).expect("data"))
        .collect();
    let begun = Instant::now();
    for data in data {
        let pages = compose::typeset(data).expect("pages");
        assert!(!pdf::write(&pages).expect("a PDF").is_empty());
    }
    said(begun);
}

fn one(work: fn()) {
    let begun = Instant::now();
    work();
    said(begun);
}

/// Milliseconds, and the most memory this process ever held, in MB (Linux).
fn said(begun: Instant) {
    let spent = begun.elapsed().as_secs_f64() * 1000.0;
    println!("{spent:.1} {:.0}", most_memory());
}

/// Of this process so far, in MB (Linux).
fn most_memory() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status
        .lines()
        .find_map(|l| l.strip_prefix("VmHWM:"))
        .and_then(|l| l.trim().trim_end_matches(" kB").parse::<f64>().ok())
        .unwrap_or(f64::NAN);
    peak / 1024.0
}

/// The middle run of several in new processes: (ms, MB).
fn middle(name: &str) -> (f64, f64) {
    let this = std::env::current_exe().expect("this program");
    let mut runs: Vec<(f64, f64)> = (0..RUNS)
        .map(|_| {
            let done = Command::new(&this).arg(name).output().expect("it runs");
            let out = String::from_utf8_lossy(&done.stdout).into_owned();
            let mut words = out.split_whitespace().filter_map(|w| w.parse::<f64>().ok());
            (words.next().expect("a time"), words.next().expect("a size"))
        })
        .collect();
    runs.sort_by(|a, b| a.0.total_cmp(&b.0));
    runs[RUNS / 2]
}

fn report() {
    let (all, memory) = middle("one:all");
    let (packs, _) = middle("one:packs");
    let (typst, _) = middle("one:typst");
    println!("both packs and every PNG, cold     {all:7.0} ms   (limit 1000)");
    println!("most memory                        {memory:7.0} MB   (limit 300)");
    println!("both packs, in turn, without PNGs  {packs:7.0} ms");
    println!("bare typst over the same page data {typst:7.0} ms");
    println!(
        "ratio                              {:7.2}      (limit 1.25)",
        packs / typst
    );
    patterns::report(&std::env::current_exe().expect("this program"));
}

/// Where the time goes, one stage after another; ms.
fn stages() {
    let mut begun = Instant::now();
    let mut lap = |what: &str| {
        let spent = begun.elapsed().as_secs_f64() * 1000.0;
        println!("{what:<28} {spent:6.0} ms");
        begun = Instant::now();
    };
    let prepared = app::prepare(&example());
    let (job, reckoned) = prepared.job.as_ref().expect("the example is sound");
    lap("read, resolve, reckon");
    let [client, fitter, both] = app::drawings(job, reckoned).expect("drawings");
    lap("draw");
    for (pack, drawings) in [(Pack::Client, client), (Pack::Fitter, fitter)] {
        let data = compose::data(job, reckoned, &drawings, pack).expect("data");
        lap(&format!("{}: page data", pack.name()));
        let pages = compose::typeset(data).expect("pages");
        lap(&format!("{}: typeset", pack.name()));
        assert!(!pdf::write(&pages).expect("a PDF").is_empty());
        lap(&format!("{}: PDF", pack.name()));
    }
    for drawing in &both {
        png::png(&drawing.svg, png::DPI).expect("a PNG");
    }
    lap("PNGs");
}
