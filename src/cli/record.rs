//! `rodbook record`: one act of one person, written down. Knows flags, the dialogue and today's date; must not
//! know how an entry is kept.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::{Duration, UNIX_EPOCH};

use super::Outcome;
use super::args::{Became, By, Common, RecordAct};
use super::asking::{Dialogue, Gone};
use crate::app::signoff::{self, Act, Asked, Desk, Does, NotRecorded, Recorded};
use crate::signoff::act::Given;
use crate::signoff::entry::{Answer, Becomes};
use crate::signoff::{Means, What, Who};

pub fn run(act: RecordAct) -> Outcome {
    match act {
        RecordAct::Signed {
            file,
            agree,
            all,
            decline,
            choose,
            means,
            initials,
            common,
        } => {
            let said = Said {
                agree,
                all,
                decline,
                choose,
                initials,
            };
            signed(&file, said, means, common)
        }
        RecordAct::Reply { file, answer, key } => {
            let act = Act {
                // A reply without a day was put in today.
                day: today(),
                who: None,
                revision: None,
                does: Does::Replies(answer),
                scans: Vec::new(),
                key,
            };
            write(&file, act)
        }
        RecordAct::Presented { file, common } => plain(&file, Does::Presents, common),
        RecordAct::Contingency {
            file,
            option,
            becomes,
            words,
            common,
        } => {
            let becomes = match becomes {
                Became::Called => Becomes::Called,
                Became::NotNeeded => Becomes::NotNeeded,
                Became::Expired => Becomes::Expired,
            };
            let does = Does::Becomes {
                option,
                becomes,
                words,
            };
            plain(&file, does, common)
        }
        RecordAct::Snag {
            file,
            about,
            words,
            common,
        } => plain(&file, Does::Snag { about, words }, common),
        RecordAct::PutRight {
            file,
            number,
            common,
        } => plain(&file, Does::PutsRight { number }, common),
        RecordAct::Completed {
            file,
            words,
            common,
        } => plain(&file, Does::Completes { words }, common),
    }
}

/// `rodbook key`.
pub fn key(path: &Path) -> Outcome {
    match signoff::new_key(path) {
        Ok(public) => {
            let _ = writeln!(
                anstream::stderr(),
                "wrote {}\nits public half is {public}",
                path.display()
            );
            Outcome::Fine
        }
        Err(e) => {
            let _ = writeln!(anstream::stderr(), "error: {e}");
            Outcome::Trouble
        }
    }
}

/// What flags say of answers.
struct Said {
    agree: Vec<String>,
    all: bool,
    decline: Vec<String>,
    choose: Vec<String>,
    initials: String,
}

impl Said {
    fn is_nothing(&self) -> bool {
        self.agree.is_empty() && self.decline.is_empty() && self.choose.is_empty() && !self.all
    }

    fn given(&self, asked: &Asked) -> Result<Vec<Given>, String> {
        let one = |subject: &str, answer, option: Option<&str>| Given {
            subject: subject.to_owned(),
            answer,
            option: option.map(str::to_owned),
            initials: self.initials.clone(),
            note: String::new(),
        };
        let subjects: Vec<_> = asked.subjects.iter().map(|(s, ..)| s.clone()).collect();
        let mut given = Vec::new();
        for key in &self.decline {
            let subject = crate::signoff::act::find(&subjects, key)?;
            given.push(one(&subject.key, Answer::Declined, None));
        }
        for words in &self.choose {
            let (disclosure, option) = words
                .split_once('=')
                .ok_or_else(|| format!("write \u{201c}{words}\u{201d} as DISCLOSURE=OPTION"))?;
            given.push(one(disclosure.trim(), Answer::Chosen, Some(option.trim())));
        }
        for key in &self.agree {
            given.push(one(key, Answer::Agreed, None));
        }
        if self.all {
            for (subject, choices, agreed) in &asked.subjects {
                let named = given
                    .iter()
                    .any(|g| g.subject == subject.key || g.subject == subject.id);
                if choices.is_empty() && !agreed && !named {
                    given.push(one(&subject.key, Answer::Agreed, None));
                }
            }
        }
        Ok(given)
    }
}

fn signed(file: &Path, said: Said, means: By, common: Common) -> Outcome {
    let asked = Desk::open(file).and_then(|d| d.asked(common.revision.as_deref(), &common.role));
    let asked = match asked {
        Ok(asked) if asked.subjects.is_empty() => {
            return wrong(&[format!(
                "nothing is asked of the role \u{201c}{}\u{201d}",
                common.role
            )]);
        }
        Ok(asked) => asked,
        Err(e) => return wrong(&[e]),
    };
    let means = match means {
        By::Paper => Means::Paper,
        By::Letter => Means::Letter,
        By::Spoken => Means::Spoken,
    };
    let mut common = common;
    let given = match said.is_nothing() {
        false => said.given(&asked),
        true => match dialogue(&asked, &mut common) {
            Ok(given) => Ok(given),
            Err(Gone) => Err("the dialogue was broken off".to_owned()),
        },
    };
    match given {
        Ok(given) => plain(file, Does::Answers { means, given }, common),
        Err(e) => wrong(&[e]),
    }
}

fn dialogue(asked: &Asked, common: &mut Common) -> Result<Vec<Given>, Gone> {
    let mut hears = std::io::stdin().lock();
    let mut says = anstream::stderr();
    let mut dialogue = Dialogue {
        hears: &mut hears,
        says: &mut says,
    };
    let _ = writeln!(
        dialogue.says,
        "Revision {} asks {} things of the {}. An empty line takes what stands in brackets.",
        asked.revision,
        asked.subjects.len(),
        common.role
    );
    let usual = asked.signers.first().map_or("", String::as_str).to_owned();
    let by = common.by.clone().unwrap_or(usual);
    common.by = Some(dialogue.ask("Who signed?", &by)?);
    common.place = dialogue.ask("Where?", &common.place)?;
    let day = common.day.clone().unwrap_or_else(today);
    common.day = Some(dialogue.ask("On which day?", &day)?);
    let given = dialogue.answers(asked)?;
    loop {
        let path = dialogue.ask(
            "A scan or photograph to keep with it? Its path, or nothing",
            "",
        )?;
        if path.is_empty() {
            break;
        }
        common.scan.push(PathBuf::from(path));
    }
    let count = |answer: Answer| given.iter().filter(|g| g.answer == answer).count();
    let words = format!(
        "Record {} agreed, {} chosen, {} declined?",
        count(Answer::Agreed),
        count(Answer::Chosen),
        count(Answer::Declined)
    );
    match dialogue.yes(&words, true)? {
        true => Ok(given),
        false => Err(Gone),
    }
}

/// Anything that needs no dialogue.
fn plain(file: &Path, does: Does, common: Common) -> Outcome {
    let name = match common.by {
        Some(name) => name,
        None => {
            let asked =
                Desk::open(file).and_then(|d| d.asked(common.revision.as_deref(), &common.role));
            match asked.as_ref().map(|a| a.signers.as_slice()) {
                Ok([one]) => one.clone(),
                Ok(_) => {
                    return wrong(&[format!(
                        "who it was must be said: --by NAME (as {})",
                        common.role
                    )]);
                }
                Err(e) => return wrong(std::slice::from_ref(e)),
            }
        }
    };
    let act = Act {
        day: common.day.unwrap_or_else(today),
        who: Some(Who {
            name,
            role: common.role,
            place: common.place,
        }),
        revision: common.revision,
        does,
        scans: common.scan,
        key: common.key,
    };
    write(file, act)
}

fn write(file: &Path, act: Act) -> Outcome {
    let recorded = match signoff::record(file, act) {
        Ok(recorded) => recorded,
        Err(NotRecorded::Wrong(why)) => return wrong(&why),
        Err(NotRecorded::Trouble(e)) => {
            let _ = writeln!(anstream::stderr(), "error: {e}\nNothing more was recorded.");
            return Outcome::Trouble;
        }
    };
    tell(&recorded);
    Outcome::Fine
}

fn tell(recorded: &Recorded) {
    let mut said = anstream::stderr();
    if let Some((path, bytes)) = &recorded.mended {
        let _ = writeln!(
            said,
            "a line of {bytes} bytes was never finished by whoever wrote last: it is put aside in {}",
            path.display()
        );
    }
    let entry = &recorded.entry;
    let _ = writeln!(said, "recorded entry {}: {}", entry.seq, entry.called());
    if let What::Answered {
        answers, remark, ..
    } = &entry.what
    {
        for a in answers.iter().filter(|a| a.answer != Answer::Agreed) {
            let option = a
                .option
                .as_deref()
                .map(|o| format!(" \u{201c}{o}\u{201d}"))
                .unwrap_or_default();
            let _ = writeln!(
                said,
                "  {}{option}: {} [{}]",
                a.answer.word(),
                a.title,
                a.subject
            );
        }
        for a in answers.iter().filter(|a| !a.note.is_empty()) {
            let _ = writeln!(
                said,
                "  written beside {} [{}]: {}",
                a.title, a.subject, a.note
            );
        }
        if !remark.is_empty() {
            let _ = writeln!(said, "  written under it: {remark}");
        }
    }
    for key in &recorded.left {
        let _ = writeln!(said, "  left unanswered: {key}");
    }
    for held in &entry.held {
        let _ = writeln!(said, "  kept: {} as held/{}", held.name, held.file());
    }
}

fn wrong(why: &[String]) -> Outcome {
    let mut said = anstream::stderr();
    for words in why {
        let _ = writeln!(said, "error: {words}");
    }
    let _ = writeln!(said, "Nothing was recorded.");
    Outcome::WrongInput
}

/// Today, by SOURCE_DATE_EPOCH if that is set and by the machine's clock if not, in universal time: only where
/// a person records what happens now, and `--day` says otherwise.
#[allow(clippy::disallowed_methods)]
fn today() -> String {
    let set = std::env::var("SOURCE_DATE_EPOCH").ok();
    let set = set
        .and_then(|s| s.parse::<u64>().ok())
        .map(Duration::from_secs);
    let now = std::time::SystemTime::now().duration_since(UNIX_EPOCH);
    let since = set.or(now.ok()).unwrap_or_default();
    day_of(since.as_secs() / 86_400)
}

/// The day of the Gregorian calendar a number of days after 1 January 1970.
fn day_of(days: u64) -> String {
    let (mut year, mut rest) = (1970u64, days.min(2_900_000));
    let leap = |y: u64| y.is_multiple_of(4) && (!y.is_multiple_of(100) || y.is_multiple_of(400));
    loop {
        let length = if leap(year) { 366 } else { 365 };
        if rest < length {
            break;
        }
        rest -= length;
        year += 1;
    }
    let months = [
        31,
        if leap(year) { 29 } else { 28 },
        31,
        30,
        31,
        30,
        31,
        31,
        30,
        31,
        30,
        31,
    ];
    let mut month = 1;
    for length in months {
        if rest < length {
            break;
        }
        rest -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", rest + 1)
}

#[cfg(test)]
mod tests {
    use super::day_of;

    /// Days since 1970 as POSIX counts them: 1 000 000 000 s was on 9 September 2001, 2 000 000 000 s
    /// will be on 18 May 2033 (from memory).
    #[test]
    fn days_are_those_of_the_calendar() {
        assert_eq!(day_of(0), "1970-01-01");
        assert_eq!(day_of(1_000_000_000 / 86_400), "2001-09-09");
        assert_eq!(day_of(2_000_000_000 / 86_400), "2033-05-18");
        assert_eq!(day_of(11_016), "2000-02-29");
    }
}
