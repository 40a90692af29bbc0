//! Whether everything is as it was written: issues, their files, the record, what is kept beside it. Knows what
//! is compared with what; must not say it to a person.

use std::collections::BTreeSet;
use std::path::Path;

use serde::Serialize;

use super::issues;
use crate::compare::manifest::{self, Held, Manifest};
use crate::read::{issued, signoff};
use crate::signoff::state::{self, Where};
use crate::signoff::{Entry, Ledger};

/// Everything that was looked at.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Verified {
    /// What holds, in words.
    pub holds: Vec<String>,
    /// What was changed, lost or put in.
    pub wrong: Vec<String>,
    /// What an interrupted writer left, to be mended at the next writing.
    pub torn: Vec<String>,
    /// Agreements that lapsed and were not given again.
    pub lapsed: Vec<String>,
    /// Each key that signed, and how many entries.
    pub keys: Vec<(String, usize)>,
}

/// Looks at everything that was issued and recorded beside a project.
///
/// # Errors
/// In words: a folder that cannot be read at all.
pub fn all(project: &Path) -> Result<Verified, String> {
    let mut out = Verified::default();
    let (ground, whole) = match issues::ground(project) {
        Ok(ground) => (ground, true),
        Err(why) => {
            out.wrong.push(why);
            one_by_one(project, &mut out)?;
            (issues::Ground::default(), false)
        }
    };
    for (n, (path, manifest)) in ground.manifests.iter().enumerate() {
        let wrong = folder(path, manifest);
        let revision = &manifest.revision;
        if wrong.is_empty() {
            let count = manifest.files.len();
            out.holds.push(format!(
                "revision {revision}: its {count} files and its manifest are as they were issued"
            ));
        }
        out.wrong.extend(wrong);
        if n + 1 == ground.manifests.len() && ground.manifests.len() > 1 {
            let first = ground
                .manifests
                .first()
                .map_or("", |(_, m)| m.revision.as_str());
            out.holds.push(format!(
                "revisions {first} to {revision} follow one another"
            ));
        }
    }
    if let Some((_, newest)) = ground.manifests.last() {
        pictures(project, newest, &mut out);
    }
    let beside = signoff::folder_of(project);
    let Some((ledger, held)) = super::signoff::read(&beside)? else {
        if !signoff::names(&beside)?.is_empty() {
            out.wrong
                .push("the record is missing, though its folder is there".to_owned());
        }
        for (_, manifest) in ground.manifests.iter().filter(|(_, m)| m.record.is_some()) {
            let revision = &manifest.revision;
            out.wrong.push(format!(
                "the record is missing: revision {revision} was issued with one"
            ));
        }
        return Ok(out);
    };
    record(&ledger, &ground, &mut out);
    kept(&beside, &ledger, &held, &mut out)?;
    // What entries are about cannot be told where the issues are not what they were.
    if whole {
        about(&ledger, &ground, &mut out);
    }
    Ok(out)
}

/// Where the issues do not follow one another: each folder by itself, so that nothing hides behind the
/// first thing that is wrong.
fn one_by_one(project: &Path, out: &mut Verified) -> Result<(), String> {
    let beside = issued::folder_of(project);
    for name in signoff::names(&beside)? {
        let path = beside.join(&name);
        if !path.is_dir() {
            continue;
        }
        let text = issued::manifest(&path.join(manifest::NAME));
        match text.and_then(|text| Manifest::read(&text)) {
            Ok(manifest) => out.wrong.extend(folder(&path, &manifest)),
            Err(why) => {
                let words = format!("revision {name}: its manifest cannot be used: {why}");
                if !out.wrong.contains(&words) {
                    out.wrong.push(words);
                }
            }
        }
    }
    Ok(())
}

/// Whether the boards' pictures beside the project are those that the newest issue shows. A project that is
/// not sound uses none, and `check` says why.
fn pictures(project: &Path, newest: &Manifest, out: &mut Verified) {
    let Some((job, _)) = super::prepare(project).job else {
        return;
    };
    let now = issues::pictures(&job);
    let revision = &newest.revision;
    let used = |held: &&Held| now.iter().any(|p| p.path == held.path);
    let changed = newest.pictures.iter().filter(used);
    let changed: Vec<&Held> = changed.filter(|held| !now.contains(held)).collect();
    for held in &changed {
        let words = format!(
            "the picture {} is not the one that revision {revision} shows",
            held.path
        );
        if !out.wrong.contains(&words) {
            out.wrong.push(words);
        }
    }
    if changed.is_empty() && !newest.pictures.is_empty() {
        let count = newest.pictures.iter().filter(used).count();
        out.holds.push(format!(
            "pictures of boards: the {count} that are used are those that revision {revision} shows"
        ));
    }
}

/// What is otherwise in an issue's folder than its manifest says; nothing, where all is as it was issued.
pub fn folder(path: &Path, manifest: &Manifest) -> Vec<String> {
    let revision = &manifest.revision;
    let mut wrong = Vec::new();
    for file in &manifest.files {
        let at = path.join(&file.path);
        match issued::file(&at) {
            Ok(bytes) if !file.differs(&bytes) => {}
            Ok(_) => wrong.push(format!(
                "revision {revision}: {} was changed after it was issued",
                file.path
            )),
            Err(_) if !at.exists() => {
                wrong.push(format!("revision {revision}: {} is missing", file.path))
            }
            Err(why) => wrong.push(format!("revision {revision}: {why}")),
        }
    }
    let known: BTreeSet<&str> = manifest.files.iter().map(|f| f.path.as_str()).collect();
    match issued::files(path) {
        Ok(found) => {
            let strange = found
                .iter()
                .filter(|f| *f != manifest::NAME && !known.contains(f.as_str()));
            wrong.extend(
                strange.map(|f| format!("revision {revision}: {f} was put in after it was issued")),
            );
        }
        Err(why) => wrong.push(format!("revision {revision}: {why}")),
    }
    wrong
}

fn record(ledger: &Ledger, ground: &issues::Ground, out: &mut Verified) {
    out.wrong
        .extend(ledger.faults.iter().map(|f| format!("record: {}", f.words)));
    if ledger.torn > 0 {
        out.torn.push(format!(
            "record: {} bytes after the last entry: a writer was interrupted. The next thing recorded puts \
             them aside",
            ledger.torn
        ));
    }
    if ledger.behind {
        out.torn.push(
            "record: record.head does not know the last entry yet: whoever wrote it was interrupted, or it \
             was put in by hand. The next thing recorded mends the head"
                .to_owned(),
        );
    }
    let count = ledger.entries.len();
    for (_, manifest) in &ground.manifests {
        let Some(mark) = &manifest.record else {
            continue;
        };
        let at = usize::try_from(mark.entries).unwrap_or(usize::MAX);
        let named = match at.checked_sub(1) {
            Some(n) => ledger.hashes.get(n).map(String::as_str),
            None => Some(crate::signoff::entry::NOTHING_BEFORE),
        };
        if named != Some(mark.last.as_str()) {
            out.wrong.push(format!(
                "record: revision {} was issued when it had {at} entries, and entry {at} is not the one that \
                 was then the last",
                manifest.revision
            ));
        }
    }
    let mut keys: Vec<(String, usize)> = Vec::new();
    for key in ledger.entries.iter().filter_map(|e| e.key.as_ref()) {
        match keys.iter_mut().find(|(k, _)| k == key) {
            Some((_, n)) => *n += 1,
            None => keys.push((key.clone(), 1)),
        }
    }
    out.keys = keys;
    if ledger.faults.is_empty() && count > 0 {
        out.holds.push(match count {
            1 => "record: its one entry is whole".to_owned(),
            n => format!("record: its {n} entries follow one another, none missing, none changed"),
        });
    }
}

/// Kept files against the entries that name them.
fn kept(
    beside: &Path,
    ledger: &Ledger,
    names: &[String],
    out: &mut Verified,
) -> Result<(), String> {
    let mut good = 0;
    let mut named: BTreeSet<String> = BTreeSet::new();
    for (entry, held) in ledger
        .entries
        .iter()
        .flat_map(|e| e.held.iter().map(move |h| (e, h)))
    {
        let file = held.file();
        if !named.insert(file.clone()) {
            continue;
        }
        let of = format!("of entry {} ({})", entry.seq, entry.called());
        if !names.contains(&file) {
            out.wrong
                .push(format!("the {} {of} is missing: held/{file}", held.is));
            continue;
        }
        let bytes = signoff::held(beside, &file)?;
        let listed = manifest::Held::of(&file, &bytes);
        match listed.sha256 == held.sha256 && listed.bytes == held.bytes {
            true => good += 1,
            false => out
                .wrong
                .push(format!("the {} {of} was changed: held/{file}", held.is)),
        }
    }
    for name in names.iter().filter(|n| !named.contains(*n)) {
        out.wrong.push(format!("no entry names held/{name}"));
    }
    if good > 0 {
        out.holds.push(match good {
            1 => "the one file kept with it is as it was taken in".to_owned(),
            n => format!("the {n} files kept with it are as they were taken in"),
        });
    }
    Ok(())
}

/// Entries against the issues that they are about, and what lapsed.
fn about(ledger: &Ledger, ground: &issues::Ground, out: &mut Verified) {
    let issues = state::issued(ground.issues());
    let job = ground.newest.as_ref().map(|f| f.job.as_str());
    let strange = |e: &&Entry| job.is_some_and(|j| e.job != j);
    if let Some(entry) = ledger.entries.iter().find(strange) {
        out.wrong.push(format!(
            "record: it is of job {}, not {}",
            entry.job,
            job.unwrap_or("")
        ));
    }
    for entry in &ledger.entries {
        let Some(on) = &entry.on else { continue };
        match issues.iter().find(|i| i.named.hash == on.hash) {
            None => out.wrong.push(format!(
                "entry {} ({}) is about revision {}, which is not there as it was",
                entry.seq,
                entry.called(),
                on.revision
            )),
            Some(issue) => {
                for words in super::signoff::astray(entry, issue) {
                    out.wrong
                        .push(format!("entry {} ({}): {words}", entry.seq, entry.called()));
                }
            }
        }
    }
    let Some(newest) = issues.len().checked_sub(1) else {
        return;
    };
    let state = state::state(&issues, &ledger.entries, newest, None);
    for a in &state.agreements {
        if let Where::Lapsed { by, altered_by } = &a.stands {
            out.lapsed.push(format!(
                "{}: {} by {} on {} (revision {}), altered by revision {altered_by}",
                crate::compare::subjects::named(a.kind.word(), &a.title),
                by.answer.word(),
                by.name,
                by.day,
                by.revision
            ));
        }
    }
    let stands = state.count(|w| matches!(w, Where::Agreed { .. } | Where::Chosen { .. }));
    if stands > 0 {
        out.holds.push(format!(
            "{stands} of {} agreements asked for by revision {} stand",
            state.agreements.len(),
            state.revision
        ));
    }
}
