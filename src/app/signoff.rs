//! The order of steps in which something is recorded and looked up. Knows which stage gives what to which; must
//! not know how a person is asked or told.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::PackError;
use super::issues::{self, Ground};
use crate::compare::canonical::sha256;
use crate::compare::manifest::Mark;
use crate::compare::{Frozen, Subject};
use crate::compose;
use crate::emit::ledger::{self, LedgerError};
use crate::emit::pdf;
use crate::read::signoff as files;
use crate::signoff::act::{self, Given};
use crate::signoff::entry::{self, About, Becomes, is_day};
use crate::signoff::key::Key;
use crate::signoff::reply::{Reply, Signed};
use crate::signoff::state::{self, By, Issued, State, Where};
use crate::signoff::{Answered, Entry, Held, Ledger, Means, OnIssue, What, Who, chain};

/// The record in a folder and the names of what is kept with it; nothing, where there is none.
///
/// # Errors
/// In words: what cannot be read.
pub fn read(folder: &Path) -> Result<Option<(Ledger, Vec<String>)>, String> {
    let Some(found) = files::record(folder)? else {
        return Ok(None);
    };
    let ledger = chain::read(&found.record, found.head.as_deref());
    Ok(Some((ledger, files::held_names(folder)?)))
}

/// The record's last line, for an issue to name.
///
/// # Errors
/// In words: a record that does not hold.
pub fn mark(project: &Path) -> Result<Option<Mark>, String> {
    let Some((ledger, _)) = read(&files::folder_of(project))? else {
        return Ok(None);
    };
    sound(&ledger)?;
    let head = ledger.head();
    Ok((head.entries > 0).then_some(Mark {
        entries: head.entries,
        last: head.last,
    }))
}

fn sound(ledger: &Ledger) -> Result<(), String> {
    match ledger.faults.first() {
        None => Ok(()),
        Some(fault) => Err(format!(
            "the record does not hold, and nothing is built on it: {}. `rodbook verify` says everything \
             that is wrong",
            fault.words
        )),
    }
}

/// What an entry says that its issue does not: subjects it has not, or not with that content.
pub fn astray(entry: &Entry, issue: &Issued) -> Vec<String> {
    let has = |subject: &str, hash: &str| {
        issue
            .subjects
            .iter()
            .any(|s| s.key == subject && s.hash == hash)
    };
    let named: Vec<(&str, &str)> = match &entry.what {
        What::Answered { answers, .. } => answers
            .iter()
            .map(|a| (a.subject.as_str(), a.hash.as_str()))
            .collect(),
        What::Presented { subjects } => subjects
            .iter()
            .map(|a| (a.subject.as_str(), a.hash.as_str()))
            .collect(),
        _ => Vec::new(),
    };
    let strange = named
        .into_iter()
        .filter(|(subject, hash)| !has(subject, hash));
    let words = |(subject, _): (&str, &str)| {
        format!(
            "revision {} has no {subject} with that content",
            issue.named.revision
        )
    };
    strange.map(words).collect()
}

/// Everything recorded of a project, with its issues.
pub struct Desk {
    ground: Ground,
    ledger: Ledger,
}

impl Desk {
    /// # Errors
    /// In words: issues or a record that are not as they were.
    pub fn open(project: &Path) -> Result<Desk, String> {
        let ground = issues::ground(project)?;
        let ledger = match read(&files::folder_of(project))? {
            Some((ledger, _)) => ledger,
            None => Ledger::default(),
        };
        sound(&ledger)?;
        Ok(Desk { ground, ledger })
    }

    fn issues(&self) -> Vec<Issued<'_>> {
        state::issued(self.ground.issues())
    }

    /// Place of a revision among the issues: the newest, where none is named.
    fn place(&self, revision: Option<&str>) -> Result<usize, String> {
        let all = &self.ground.earlier;
        let Some(wanted) = revision else {
            return all.len().checked_sub(1).ok_or_else(|| {
                "nothing is issued yet: `rodbook issue` freezes what can be agreed to".to_owned()
            });
        };
        all.iter()
            .position(|e| e.revision == wanted)
            .ok_or_else(|| {
                let names: Vec<&str> = all.iter().map(|e| e.revision.as_str()).collect();
                match names.is_empty() {
                    true => "nothing is issued yet".to_owned(),
                    false => format!(
                        "there is no revision {wanted}: there is {}",
                        names.join(", ")
                    ),
                }
            })
    }

    /// Where every agreement stands.
    ///
    /// # Errors
    /// In words: no such revision, no such day.
    pub fn state(&self, revision: Option<&str>, day: Option<&str>) -> Result<State, String> {
        let at = self.place(revision)?;
        if let Some(day) = day.filter(|d| !is_day(d)) {
            return Err(format!(
                "\u{201c}{day}\u{201d} is no day: write it as 2026-03-05"
            ));
        }
        Ok(state::state(&self.issues(), &self.ledger.entries, at, day))
    }

    /// What is asked of a role by a revision, with the options each offers, and where it stands.
    ///
    /// # Errors
    /// In words: no such revision.
    pub fn asked(&self, revision: Option<&str>, role: &str) -> Result<Asked, String> {
        let at = self.place(revision)?;
        let issues = self.issues();
        let issue = issues.get(at).ok_or("nothing is issued yet")?;
        let state = state::state(&issues, &self.ledger.entries, at, None);
        let stands = |s: &Subject| {
            let of = state
                .agreements
                .iter()
                .filter(|a| a.subject == s.key && a.role == role);
            of.clone().count() > 0
                && of
                    .into_iter()
                    .all(|a| matches!(a.stands, Where::Agreed { .. } | Where::Chosen { .. }))
        };
        let for_role = issue
            .subjects
            .iter()
            .filter(|s| s.roles.iter().any(|r| r == role));
        Ok(Asked {
            revision: issue.named.revision.clone(),
            signers: state::signers(issue.frozen, role),
            subjects: for_role
                .map(|s| (s.clone(), act::choices(&issue.frozen.record, s), stands(s)))
                .collect(),
        })
    }

    /// Roles that something is asked of.
    ///
    /// # Errors
    /// In words: no such revision.
    pub fn roles(&self, revision: Option<&str>) -> Result<Vec<String>, String> {
        let at = self.place(revision)?;
        let issues = self.issues();
        let mut roles: Vec<String> = Vec::new();
        for role in issues
            .get(at)
            .iter()
            .flat_map(|i| &i.subjects)
            .flat_map(|s| &s.roles)
        {
            if !roles.contains(role) {
                roles.push(role.clone());
            }
        }
        Ok(roles)
    }

    /// The record itself, for handing over.
    pub fn entries(&self) -> &[Entry] {
        &self.ledger.entries
    }

    /// The newest issue, if there is one.
    pub fn newest(&self) -> Option<&Frozen> {
        self.ground.newest.as_ref()
    }
}

/// What is asked of a role: each subject, its options, and whether it is agreed already.
pub struct Asked {
    pub revision: String,
    /// People who sign in the role.
    pub signers: Vec<String>,
    pub subjects: Vec<(Subject, Vec<act::Choice>, bool)>,
}

/// Something to be recorded.
pub struct Act {
    pub day: String,
    pub who: Option<Who>,
    /// The newest, where none is named.
    pub revision: Option<String>,
    pub does: Does,
    /// Scans and photographs, to be taken in.
    pub scans: Vec<PathBuf>,
    /// A signing key's file.
    pub key: Option<PathBuf>,
}

pub enum Does {
    Presents,
    Answers {
        means: Means,
        given: Vec<Given>,
    },
    /// A reply file, by its path: who, day, role are in it.
    Replies(PathBuf),
    Becomes {
        option: String,
        becomes: Becomes,
        words: String,
    },
    Snag {
        about: String,
        words: String,
    },
    PutsRight {
        number: u32,
    },
    Completes {
        words: String,
    },
}

/// What was recorded.
pub struct Recorded {
    pub entry: Entry,
    pub file: PathBuf,
    /// Where a torn line was put aside.
    pub mended: Option<(PathBuf, usize)>,
    /// Keys of what a reply left unanswered.
    pub left: Vec<String>,
}

#[derive(Debug)]
pub enum NotRecorded {
    /// What was given, or what is there, does not allow it.
    Wrong(Vec<String>),
    Trouble(LedgerError),
}

impl From<String> for NotRecorded {
    fn from(why: String) -> NotRecorded {
        NotRecorded::Wrong(vec![why])
    }
}

/// A file on its way into the record.
struct Brought {
    held: Held,
    bytes: Vec<u8>,
}

fn brought(name: &str, is: &str, ending: &str, bytes: Vec<u8>) -> Brought {
    let held = Held {
        name: name.to_owned(),
        is: is.to_owned(),
        sha256: sha256(&bytes),
        bytes: bytes.len() as u64,
        ending: ending.to_owned(),
    };
    Brought { held, bytes }
}

fn scan(path: &Path) -> Result<Brought, String> {
    let bytes = files::scan(path)?;
    let name = path
        .file_name()
        .map_or(String::new(), |n| n.to_string_lossy().into_owned());
    let plain =
        |e: &str| e.len() <= 8 && !e.is_empty() && e.bytes().all(|b| b.is_ascii_alphanumeric());
    let ending = path
        .extension()
        .map(|e| e.to_string_lossy().to_ascii_lowercase());
    let ending = ending
        .filter(|e| plain(e))
        .unwrap_or_else(|| "file".to_owned());
    let name: String = name.chars().filter(|c| !c.is_control()).take(120).collect();
    Ok(brought(&name, "scan", &ending, bytes))
}

/// Records one act: when this returns, the disk has it.
///
/// # Errors
/// See [`NotRecorded`]: then nothing was added.
pub fn record(project: &Path, act: Act) -> Result<Recorded, NotRecorded> {
    let ground = issues::ground(project)?;
    let key = match &act.key {
        Some(path) => {
            let text = files::key(path)?;
            let key =
                Key::read(&text).map_err(|why| format!("cannot use {}: {why}", path.display()))?;
            Some(key)
        }
        None => None,
    };
    let mut kept: Vec<Brought> = act
        .scans
        .iter()
        .map(|p| scan(p))
        .collect::<Result<_, _>>()?;
    let replied = match &act.does {
        Does::Replies(path) => Some(reply(path)?),
        _ => None,
    };
    let folder = files::folder_of(project);
    // Looked at before anything is made: a project that was never issued gets no folder.
    let before = read(&folder)?;
    let desk = Desk {
        ground,
        ledger: before.map(|(ledger, _)| ledger).unwrap_or_default(),
    };
    let revision = replied
        .as_ref()
        .map(|(r, ..)| r.revision.as_str())
        .or(act.revision.as_deref());
    let at = desk.place(revision)?;
    // What cannot be is told before a folder is made for it.
    sound(&desk.ledger)?;
    let mut made = entry(&desk, at, &act, replied.as_ref())?;
    let left = made.left.clone();
    if let Some((_, brought)) = replied {
        made.entry
            .held
            .extend(brought.iter().map(|b| b.held.clone()));
        kept.extend(brought);
    }
    let mut ledger = ledger::open(&folder).map_err(NotRecorded::Trouble)?;
    let head = ledger.head().map_err(NotRecorded::Trouble)?;
    let known = chain::read(ledger.whole(), head.as_deref());
    sound(&known)?;
    // Somebody else may have recorded something meanwhile: what was made is made again on top of it.
    let held = kept.iter().map(|b| b.held.clone()).collect();
    let made = match known.last() == desk.ledger.last() {
        true => made.entry,
        false => {
            let desk = Desk {
                ledger: known,
                ..desk
            };
            again(&desk, at, &act, made.entry)?
        }
    };
    let entry = Entry { held, ..made };
    add(&mut ledger, entry, &kept, key.as_ref(), left, &folder)
}

/// An entry that follows what is recorded, and what a reply left out of it.
struct Made {
    entry: Entry,
    left: Vec<String>,
}

fn entry(
    desk: &Desk,
    at: usize,
    act: &Act,
    replied: Option<&(Reply, Vec<Brought>)>,
) -> Result<Made, NotRecorded> {
    let issues = desk.issues();
    let issue = issues
        .get(at)
        .ok_or_else(|| "nothing is issued yet".to_owned())?;
    let (mut who, mut day, mut left) = (act.who.clone(), act.day.clone(), Vec::new());
    let what = match replied {
        Some((reply, _)) => {
            let taken = reply
                .answers(
                    &issue.frozen.job,
                    &issue.named.revision,
                    &issue.named.hash,
                    &issue.subjects,
                )
                .map_err(NotRecorded::Wrong)?;
            if !reply.day.is_empty() {
                day = reply.day.clone();
            }
            who = Some(Who {
                name: reply.name.clone(),
                role: reply.role.clone(),
                place: reply.place.clone(),
            });
            left = taken.left.clone();
            What::Answered {
                means: Means::Reply,
                answers: answers(desk, issue, &reply.role, &taken.given)?,
                remark: reply.remark.clone().unwrap_or_default(),
            }
        }
        None => what(desk, &issues, at, act)?,
    };
    if let Some(who) = &who {
        act::name("name", &who.name)?;
        act::name("place", &who.place)?;
        if who.name.trim().is_empty() || who.role.trim().is_empty() {
            return Err("who it was, and in which role, must be said"
                .to_owned()
                .into());
        }
    }
    if !is_day(&day) {
        return Err(format!("\u{201c}{day}\u{201d} is no day: write it as 2026-03-05").into());
    }
    let entry = Entry {
        rodbook_entry: entry::FORM,
        seq: desk.ledger.next(),
        before: desk.ledger.last().to_owned(),
        job: issue.frozen.job.clone(),
        day,
        who,
        on: Some(OnIssue {
            revision: issue.named.revision.clone(),
            hash: issue.named.hash.clone(),
        }),
        what,
        held: Vec::new(),
        key: None,
        signature: None,
    };
    Ok(Made { entry, left })
}

/// The same act on top of what was recorded meanwhile.
fn again(desk: &Desk, at: usize, act: &Act, made: Entry) -> Result<Entry, NotRecorded> {
    let what = match &act.does {
        Does::Replies(_) => made.what,
        _ => what(desk, &desk.issues(), at, act)?,
    };
    Ok(Entry {
        seq: desk.ledger.next(),
        before: desk.ledger.last().to_owned(),
        what,
        ..made
    })
}

/// Signs, keeps the files, adds the line: in this order, so that a line never names what is not there.
fn add(
    ledger: &mut ledger::Ledger,
    mut entry: Entry,
    kept: &[Brought],
    key: Option<&Key>,
    left: Vec<String>,
    folder: &Path,
) -> Result<Recorded, NotRecorded> {
    if let Some(key) = key {
        key.sign(&mut entry)?;
    }
    for one in kept {
        ledger
            .hold(&one.held.file(), &one.bytes)
            .map_err(NotRecorded::Trouble)?;
    }
    let line = entry.line()?;
    ledger.append(&line).map_err(NotRecorded::Trouble)?;
    let head = chain::Head {
        rodbook_record: entry::FORM,
        entries: entry.seq,
        last: sha256(line.as_bytes()),
    };
    ledger
        .set_head(&head.text()?)
        .map_err(NotRecorded::Trouble)?;
    Ok(Recorded {
        entry,
        file: folder.to_path_buf(),
        mended: ledger.mended.clone(),
        left,
    })
}

/// A reply file, read, with what is kept of it.
fn reply(path: &Path) -> Result<(Reply, Vec<Brought>), String> {
    let text = files::reply(path)?;
    let reply =
        Reply::read(&text).map_err(|why| format!("cannot use {}: {why}", path.display()))?;
    let mut kept = vec![brought("answer.json", "reply", "json", text.into_bytes())];
    if reply.signed == Signed::Drawn
        && let Some(png) = reply.png()?
    {
        kept.push(brought("signature.png", "signature", "png", png));
    }
    Ok((reply, kept))
}

fn answers(
    desk: &Desk,
    issue: &Issued,
    role: &str,
    given: &[Given],
) -> Result<Vec<Answered>, String> {
    let pages = desk.ground.manifests.iter().map(|(_, m)| m);
    let pages = pages.into_iter().find(|m| m.issue == issue.named.hash);
    let pages = pages.map(|m| m.sheets.clone()).unwrap_or_default();
    act::answers(&issue.frozen.record, &issue.subjects, role, given, &pages)
}

fn what(desk: &Desk, issues: &[Issued], at: usize, act: &Act) -> Result<What, String> {
    let issue = issues.get(at).ok_or("nothing is issued yet")?;
    let entries = &desk.ledger.entries;
    let role = act.who.as_ref().map_or("", |w| w.role.as_str());
    Ok(match &act.does {
        Does::Presents => {
            let theirs = issue
                .subjects
                .iter()
                .filter(|s| s.roles.iter().any(|r| r == role));
            let subjects = act::about(theirs);
            if subjects.is_empty() {
                return Err(format!(
                    "nothing is asked of the role \u{201c}{role}\u{201d}"
                ));
            }
            What::Presented { subjects }
        }
        Does::Answers { means, given } => What::Answered {
            means: *means,
            answers: answers(desk, issue, role, given)?,
            remark: String::new(),
        },
        // Has its own way: see `record`.
        Does::Replies(_) => return Err("a reply is read before it is recorded".into()),
        Does::Becomes {
            option,
            becomes,
            words,
        } => {
            act::words("words", words)?;
            let state = state::state(issues, entries, at, None);
            let known = state.contingencies.iter().find(|c| c.option == *option);
            act::becomes(option, known, *becomes, &act.day)?;
            let title = known.map_or(option.as_str(), |c| c.title.as_str());
            What::Contingency {
                option: option.clone(),
                title: title.to_owned(),
                becomes: *becomes,
                words: words.clone(),
            }
        }
        Does::Snag { about, words } => {
            act::name("what it is about", about)?;
            act::words("words", words)?;
            let numbers = entries.iter().filter_map(|e| match &e.what {
                What::Snag { number, .. } => Some(*number),
                _ => None,
            });
            What::Snag {
                number: numbers.max().unwrap_or(0).saturating_add(1),
                about: about.clone(),
                words: words.clone(),
                put_right: false,
            }
        }
        Does::PutsRight { number } => {
            let state = state::state(issues, entries, at, None);
            let snag = state.snags.iter().find(|s| s.number == *number);
            let snag = snag.ok_or_else(|| format!("there is no snag {number}"))?;
            if let Some(day) = &snag.put_right {
                return Err(format!("snag {number} was put right on {day}"));
            }
            What::Snag {
                number: *number,
                about: snag.about.clone(),
                words: snag.words.clone(),
                put_right: true,
            }
        }
        Does::Completes { words } => {
            act::words("words", words)?;
            What::Completed {
                words: words.clone(),
            }
        }
    })
}

/// What the newest issue made lapse: each subject, and whose agreement it was.
pub type Lapsed = Vec<(About, Vec<By>)>;

/// After an issue: writes down which agreements it made lapse, where there is a record. What lapses follows from
/// the hashes alone: this line only says on which day it was found.
///
/// # Errors
/// See [`NotRecorded`].
pub fn lapse(project: &Path) -> Result<Lapsed, NotRecorded> {
    let folder = files::folder_of(project);
    if read(&folder)?.is_none_or(|(ledger, _)| ledger.entries.is_empty()) {
        return Ok(Vec::new());
    }
    let ground = issues::ground(project)?;
    let mut ledger = ledger::open(&folder).map_err(NotRecorded::Trouble)?;
    let head = ledger.head().map_err(NotRecorded::Trouble)?;
    let known = chain::read(ledger.whole(), head.as_deref());
    sound(&known)?;
    let issues = state::issued(ground.issues());
    let Some(at) = issues.len().checked_sub(1) else {
        return Ok(Vec::new());
    };
    let lapsed = state::lapsing(&issues, &known.entries, at);
    let (Some(issue), false) = (issues.get(at), lapsed.is_empty()) else {
        return Ok(lapsed);
    };
    let entry = Entry {
        rodbook_entry: entry::FORM,
        seq: known.next(),
        before: known.last().to_owned(),
        job: issue.frozen.job.clone(),
        day: issue.frozen.date.clone(),
        who: None,
        on: Some(OnIssue {
            revision: issue.named.revision.clone(),
            hash: issue.named.hash.clone(),
        }),
        what: What::Lapsed {
            subjects: lapsed.iter().map(|(about, _)| about.clone()).collect(),
        },
        held: Vec::new(),
        key: None,
        signature: None,
    };
    add(&mut ledger, entry, &[], None, Vec::new(), &folder)?;
    Ok(lapsed)
}

/// Makes a signing key where there is no file yet, and gives its public half.
///
/// # Errors
/// In words.
pub fn new_key(path: &Path) -> Result<String, String> {
    let key = Key::new(&ledger::chance()?);
    ledger::new_key(path, &key.text()).map_err(|e| e.to_string())?;
    Ok(key.public())
}

/// Why there is nothing to hand over.
#[derive(Debug)]
pub enum NotHanded {
    Wrong(String),
    Pack(PackError),
}

/// What was agreed, as a PDF with the signatures on it.
///
/// # Errors
/// See [`NotHanded`].
pub fn handover(
    project: &Path,
    revision: Option<&str>,
    day: Option<&str>,
) -> Result<Vec<u8>, NotHanded> {
    let wrong = NotHanded::Wrong;
    let desk = Desk::open(project).map_err(wrong)?;
    let at = desk.place(revision).map_err(wrong)?;
    let state = desk.state(revision, day).map_err(wrong)?;
    let issues = desk.issues();
    let issue = issues
        .get(at)
        .ok_or_else(|| wrong("nothing is issued yet".to_owned()))?;
    let folder = files::folder_of(project);
    let mut kept = BTreeMap::new();
    for held in desk.ledger.entries.iter().flat_map(|e| &e.held) {
        let bytes = files::held(&folder, &held.file()).map_err(wrong)?;
        if sha256(&bytes) != held.sha256 {
            return Err(wrong(format!(
                "held/{} was changed: `rodbook verify` says everything that is wrong",
                held.file()
            )));
        }
        kept.insert(held.sha256.clone(), bytes);
    }
    let pages = compose::handover(&compose::Handover {
        frozen: issue.frozen,
        state: &state,
        ledger: &desk.ledger,
        kept: &kept,
    });
    let pages = pages.map_err(|e| NotHanded::Pack(PackError::Compose(e)))?;
    pdf::write(&pages).map_err(|e| NotHanded::Pack(PackError::Pdf(e)))
}
