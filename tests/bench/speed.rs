//! How fast the example compiles: `cargo bench`. Prints the figures of DEVELOPERS.md "Speed".
//!
//! Each figure is the middle one of several runs, each in a process of its own, so that nothing is
//! warm: typst keeps what it has laid out for as long as a process lives. `cargo bench one:stages`
//! tells where the time goes.

#![allow(clippy::disallowed_methods)] // a benchmark is where the clock is read

mod cutting;
mod patterns;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use rodbook::app::{self, issues};
use rodbook::compare::{Purpose, Record, record, register};
use rodbook::compose::{self, Pack, PackData};
use rodbook::diag::Diagnostics;
use rodbook::draw::{self, Drawing};
use rodbook::emit::{pdf, png};
use rodbook::faces::faces;
use rodbook::read;
use rodbook::reckon::placed::Reckoned;
use rodbook::reckon::reckon;
use rodbook::resolve::job::Job;
use rodbook::resolve::{fill, resolve};

const RUNS: usize = 7;

fn main() {
    // cargo passes flags of its own: only ours are looked at.
    let args: Vec<String> = std::env::args().collect();
    let wanted = |name: &str| args.iter().any(|a| a == name);
    match () {
        () if wanted("one:all") => one(all),
        () if wanted("one:packs") => one(packs),
        () if wanted("one:typst") => one_typst(),
        () if wanted("one:issue") => issue(&folder(&args)),
        () if wanted("one:compare") => one_compare(),
        () if wanted("one:marked") => one_marked(),
        () if wanted("one:reckon") => one_reckon(),
        () if wanted("one:stages") => stages(),
        () if wanted("one:pattern") => println!("{:.1}", patterns::sixty_over_thirty()),
        () if wanted("one:cutting") => cutting::report(),
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
    let ground = issues::ground(&example()).expect("issues");
    let standing = issues::standing(&prepared, &ground, None).expect("a standing");
    let files = app::packs(&prepared, &standing.expect("sound")).expect("packs");
    assert!(files.len() > 2);
}

/// What is drawn for each pack.
fn drawn(job: &Job, reckoned: &Reckoned) -> [(Pack, Vec<Drawing>); 2] {
    let packs = [Pack::Client, Pack::Fitter];
    let readers = packs.map(Pack::reader);
    // Side by side, as the program does it.
    let (drawings, looks) = rayon::join(
        || draw::drawings(job, reckoned, readers),
        || {
            draw::looks(
                job,
                reckoned,
                &faces(job, reckoned),
                &rodbook::compare::Register::default(),
            )
        },
    );
    let [mut client, fitter] = drawings.expect("drawings");
    client.extend(looks.expect("pictures"));
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

/// Freezes a project for approval.
fn issue(project: &Path) {
    let prepared = app::prepare(project);
    issues::issue(project, &prepared, Purpose::Approval).expect("issued");
}

/// Both packs and every PNG of the example with one lining thicker than in its newest issue, which
/// moves and narrows sixteen fronts: from reading the file to the last byte.
fn one_marked() {
    let home = tempfile::tempdir().expect("a folder");
    let example = example();
    let folder = example.parent().expect("a folder");
    std::fs::create_dir(home.path().join("boards")).expect("boards");
    for name in ["boards/fluted-linden.jpg", "boards/smoked-larch.jpg"] {
        std::fs::copy(folder.join(name), home.path().join(name)).expect(name);
    }
    let project = home.path().join("project.toml");
    std::fs::copy(&example, &project).expect("the example");
    // In a process of its own, so that nothing is warm.
    let this = std::env::current_exe().expect("this program");
    let issued = Command::new(this).arg("one:issue").arg(&project).status();
    assert!(issued.expect("it runs").success());
    let text = std::fs::read_to_string(&project).expect("the example");
    let edited = text.replacen(
        "what = \"skim\", thickness = 3",
        "what = \"skim\", thickness = 15",
        1,
    );
    assert!(edited != text);
    std::fs::write(&project, edited).expect("edited");
    let begun = Instant::now();
    let prepared = app::prepare(&project);
    let ground = issues::ground(&project).expect("issues");
    let standing = issues::standing(&prepared, &ground, None).expect("a standing");
    let standing = standing.expect("sound");
    assert_eq!(standing.register.entries.len(), 1);
    assert!(app::packs(&prepared, &standing).expect("packs").len() > 2);
    said(begun);
}

/// A job of 1500 doors, in 30 rooms; on every wall a lining of so many micrometres.
fn large(lining: &str) -> Record {
    let mut text = String::from(
        "rodbook = 1\n[job]\nnumber = \"L-1\"\ntitle = \"Large\"\nclient = \"Client\"\ndate = 2026-01-12\n",
    );
    for n in 0..30 {
        text.push_str(&format!(
            "[[room]]\nid = \"r{n}\"\nclosed = false\n\
             [[room.wall]]\nid = \"L\"\nlength = 800\nlining = [{{ what = \"skim\", thickness = {lining} }}]\n\
             [[room.wall]]\nid = \"A\"\nlength = 24000\n\
             [[room.wall]]\nid = \"R\"\nlength = 800\n"
        ));
        let units = (0..25).map(|u| format!("{{ id = \"u{n}-{u}\", doors = 2 }}"));
        let units: Vec<String> = units.collect();
        text.push_str(&format!(
            "[[run]]\nid = \"run{n}\"\nwall = \"r{n}.A\"\nunit = [{}]\n",
            units.join(", ")
        ));
    }
    let mut diags = Diagnostics::default();
    let filled = fill(
        &read::project(&text, &mut diags).expect("reads"),
        &mut diags,
    );
    let job = resolve(&filled, &[], &mut diags);
    let reckoned = reckon(&job, &mut diags).expect("fits");
    assert_eq!(reckoned.fronts.len(), 1500);
    let risks = rodbook::risks::risks(&job, &reckoned, &mut diags);
    record(&filled, &job, &reckoned, &risks)
}

/// Comparing two jobs of 1500 fronts, all of which differ, with entries and their consequences.
fn one_compare() {
    let (a, b) = (large("3"), large("12.5"));
    let begun = Instant::now();
    let register = register(&a, &b, "a", "b");
    said(begun);
    // Each lining, and what they all come to.
    assert_eq!(register.entries.len(), 31);
    assert!(register.was.len() > 1500);
}

/// All reckoning of a large job, nothing else on the clock: 5 rooms of 100 units and 300 fronts.
fn one_reckon() {
    let mut diags = Diagnostics::default();
    let project = read::project(&large_job(), &mut diags).expect("it reads");
    let filled = fill(&project, &mut diags);
    let job = resolve(&filled, &[], &mut diags);
    assert!(diags.is_empty(), "{:?}", diags.sorted());
    let begun = Instant::now();
    let reckoned = reckon(&job, &mut diags);
    let spent = begun.elapsed();
    let reckoned = reckoned.unwrap_or_else(|| panic!("{:?}", diags.sorted()));
    let units: usize = reckoned.runs.iter().map(|r| r.units.len()).sum();
    assert_eq!((units, reckoned.fronts.len()), (500, 1500));
    assert!(!reckoned.clashes.is_empty() && !reckoned.patterns.is_empty());
    said(Instant::now() - spent);
}

/// A made-up job: rooms 18 m long and 12 wide, a run of 25 units on each wall; doors of one pattern a
/// room, drawers, flaps, shelves, rails, a room door.
fn large_job() -> String {
    let mut text = String::from(
        "rodbook = 1\n[job]\nnumber = \"1\"\ntitle = \"Large\"\nclient = \"Nobody\"\ndate = 2026-01-01\n\
         [hardware]\nhandle = { is = \"handle\", out = 32 }\nhinge = { is = \"hinge\", opens = 110 }\n\
         runner = { is = \"runner\" }\nstay = { is = \"stay\" }\nfoot = { is = \"foot\", range = [70, 140], rating = 100 }\n\
         rail = { is = \"rail\" }\n[material]\nveneer = { thickness = 19, sheet = [2800, 1220], grain = \"length\" }\n\
         [[way_in]]\nis = \"corner\"\nwidth = 1000\nheight = 2300\n",
    );
    for room in 0..5 {
        text += &format!(
            "[front.f{room}]\nmaterial = \"veneer\"\nhandle = \"handle\"\npattern = \"p{room}\"\n\
             [[room]]\nid = \"r{room}\"\nceiling = 2600\n"
        );
        for (wall, length) in [("A", 18_000), ("B", 16_000), ("C", 18_000), ("D", 16_000)] {
            let door = match wall {
                "B" => "door = [{ at = 700, width = 800, height = 2000, hinge = \"left\" }]\n",
                _ => "",
            };
            text += &format!(
                "[[room.wall]]\nid = \"{wall}\"\nlength = {length}\nplumb = [[0, 0], [1200, 5], [2400, 3]]\n\
                 floor = [[0, 0], [{length}, -9]]\n{door}"
            );
        }
        for wall in ["A", "B", "C", "D"] {
            text += &format!(
                "[[run]]\nid = \"{wall}{room}\"\nwall = \"r{room}.{wall}\"\nfront = \"f{room}\"\nfrom = 1700\n\
                 to = {}\ntop = 2200\nright = {{ filler = 40 }}\nunit = [\n",
                if matches!(wall, "A" | "C") {
                    16_300
                } else {
                    14_300
                },
            );
            for unit in 0..25 {
                let what = match unit % 3 {
                    0 => "row = [{ height = 300, flaps = 1 }, { doors = 2 }], shelves = 4",
                    1 => "drawers = 3",
                    _ => {
                        "row = [{ height = 400, doors = 1 }, { doors = 2 }], bay = [{ fixed = [1700], rail = [1600] }]"
                    }
                };
                text += &format!("  {{ id = \"{wall}{room}-{unit}\", {what} }},\n");
            }
            text += "]\n";
        }
    }
    text
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
    let (compared, _) = middle("one:compare");
    let (marked, _) = middle("one:marked");
    let (reckoning, _) = middle("one:reckon");
    println!("both packs and every PNG, cold     {all:7.0} ms   (limit 1000)");
    println!("most memory                        {memory:7.0} MB   (limit 300)");
    println!("the same, with changes marked       {marked:7.0} ms   (limit 1200)");
    println!("comparing two jobs of 1500 fronts  {compared:7.0} ms   (limit 100)");
    println!("both packs, in turn, without PNGs  {packs:7.0} ms");
    println!("bare typst over the same page data {typst:7.0} ms");
    println!("500 units and 1500 fronts reckoned  {reckoning:6.0} ms   (limit 200)");
    println!(
        "ratio                              {:7.2}      (limit 1.25)",
        packs / typst
    );
    patterns::report(&std::env::current_exe().expect("this program"));
    cutting::report();
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
