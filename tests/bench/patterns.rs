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

/// Numbers that scatter, the same on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, from: i64, to: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        from + ((self.0 >> 33) % (to - from + 1) as u64) as i64
    }
}

/// A job with one wall, of units each so wide with doors of one pattern.
fn wall(units: &[(i64, usize)], repeat: i64) -> String {
    let mut out = String::from(
        "rodbook = 1\n[job]\nnumber = \"B-1\"\ntitle = \"Bench\"\nclient = \"Nobody\"\ndate = 2026-01-12\n\
         [[room]]\nid = \"hall\"\nclosed = false\n[[room.wall]]\nid = \"A\"\n",
    );
    let long = units.iter().map(|(wide, _)| wide).sum::<i64>() + 40;
    let each = units
        .iter()
        .map(|(wide, doors)| format!("{{ width = {wide}, doors = {doors} }}"));
    let mut each: Vec<String> = each.collect();
    // The last takes what the scribes leave.
    if let (Some(last), Some((_, doors))) = (each.last_mut(), units.last()) {
        *last = format!("{{ doors = {doors} }}");
    }
    let _ = write!(
        out,
        "length = {long}\n[[run]]\nid = \"R\"\nwall = \"hall.A\"\nbase = 100\ntop = 2300\nfront = \"oak\"\n\
         unit = [{}]\n",
        each.join(", ")
    );
    let _ = write!(
        out,
        "[front.oak]\nmaterial = \"oak\"\npattern = \"oak wall\"\n\
         [material.oak]\nthickness = 19\nsheet = [2800, 1220]\ngrain = \"length\"\nrepeat = [0, {repeat}]\n"
    );
    out
}

/// Boards with a picture each, of each photograph's board as many as it takes that every front has a face.
fn pictured() -> String {
    let mut out = wall(&[(900, 2); 20], 0);
    for n in 0..20 {
        let _ = writeln!(
            out,
            "[[material.oak.board]]\nid = \"b{n}\"\nlab = [{}.5, 9, 20]\npicture = \"b{}.jpg\"",
            45 + n * 5 % 9,
            n % 12
        );
    }
    out
}

/// Sixty doors and thirty boards as the dice have it: widths, crests, colours, flaws.
fn random(dice: &mut Dice, repeat: i64) -> String {
    let alike = dice.roll(0, 1) == 0;
    let mut wide = dice.roll(900, 1480);
    let units = (0..20).map(|_| {
        wide = if alike { wide } else { dice.roll(900, 1480) };
        (wide, 3)
    });
    let units: Vec<(i64, usize)> = units.collect();
    let mut out = wall(&units, repeat);
    let flaws = dice.roll(0, 2);
    for n in 0..30 {
        let crest = dice.roll(0, repeat.max(1) - 1);
        let _ = writeln!(
            out,
            "[[material.oak.board]]\nid = \"b{n}\"\nfirst_crest = [0, {crest}]\nlab = [{}.5, 9, 20]",
            45 + dice.roll(0, 8),
        );
        let flaw = |dice: &mut Dice| {
            let (up, across) = (dice.roll(50, 2600), dice.roll(100, 1100));
            let (high, wide) = (dice.roll(5, 100), dice.roll(5, 60));
            let to = (up + high, across + wide);
            format!("{{ from = [{up}, {across}], to = [{}, {}] }}", to.0, to.1)
        };
        let flaws: Vec<String> = (0..dice.roll(0, flaws)).map(|_| flaw(dice)).collect();
        let _ = writeln!(out, "avoid = [{}]", flaws.join(", "));
    }
    out
}

/// Jobs thrown of each repeat; each with every aim.
const JOBS: usize = 4;

/// Sixty columns over thirty boards, with what else could be aimed at worked out beside: milliseconds of the
/// slowest; by repeat, on the terminal.
pub fn sixty_over_thirty() -> f64 {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("job.toml");
    let mut slowest = 0.0_f64;
    let aims = ["aim = \"exact\"", "aim = \"least waste\""];
    let limits = ["0.5", "1", "2", "4", "8"].map(|mm| format!("limit = {mm}"));
    let rules: Vec<String> = aims.iter().map(ToString::to_string).chain(limits).collect();
    for repeat in [0, 64, 128, 240, 640, 1200] {
        let mut dice = Dice(7 + repeat as u64);
        let (mut worst, mut what, mut all) = (0.0_f64, String::new(), 0.0);
        let (mut stuck, mut not_best) = (0, 0);
        for job in 0..JOBS {
            let boards = random(&mut dice, repeat);
            for rule in &rules {
                let text = format!("{boards}[pattern.\"oak wall\"]\n{rule}\n");
                std::fs::write(&file, text).expect("written");
                let prepared = app::prepare(&file);
                assert!(prepared.errors.is_empty(), "{:?}", prepared.errors);
                let (job_, reckoned) = prepared.job.as_ref().expect("it is sound");
                assert_eq!(reckoned.fronts.len(), 60);
                let begun = Instant::now();
                let layouts = pattern::layouts(job_, &reckoned.fronts, &reckoned.pattern_pieces);
                let spent = begun.elapsed().as_secs_f64() * 1000.0;
                stuck += usize::from(layouts[0].stuck.is_some());
                not_best += usize::from(!layouts[0].best);
                all += spent;
                if spent > worst {
                    (worst, what) = (spent, format!("job {job}, {rule}"));
                }
            }
        }
        let many = JOBS * rules.len();
        eprintln!(
            "  repeat {repeat:>4}: at worst {worst:6.1} ms ({what}), {:5.1} on average of {many}; {stuck} cannot be cut, \
             {not_best} not every place tried",
            all / many as f64
        );
        slowest = slowest.max(worst);
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
    std::fs::write(&file, pictured()).expect("written");
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
        eprint!("{}", String::from_utf8_lossy(&done.stderr));
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
        "60 columns over 30 boards, worst   {:7.0} ms   (limit 50)",
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
