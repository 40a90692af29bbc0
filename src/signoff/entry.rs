//! One entry of the record: one act of one person. Knows its fields and its one line of text; must not
//! know the entries around it.

use serde::{Deserialize, Serialize};

use crate::compare::canonical;

/// The form in which an entry is written.
pub const FORM: u32 = 1;

/// What the first entry names as the one before it.
pub const NOTHING_BEFORE: &str = "0000000000000000000000000000000000000000000000000000000000000000";

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    pub rodbook_entry: u32,
    /// From 1.
    pub seq: u32,
    /// SHA-256 of the line before, without the end of the line.
    pub before: String,
    /// The workshop's number for the job.
    pub job: String,
    /// When it was done, as whoever recorded it says: `2026-03-05`.
    pub day: String,
    /// Nothing: the program found it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub who: Option<Who>,
    /// The issue that it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<OnIssue>,
    pub what: What,
    /// Scans, photographs, signatures: kept beside the record by their hashes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<Held>,
    /// The public half of the key that signed, in hexadecimal digits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signature: Option<String>,
}

/// As the person signed, and as what.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Who {
    pub name: String,
    pub role: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub place: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OnIssue {
    pub revision: String,
    /// Hash of the frozen job.
    pub hash: String,
}

/// How an answer came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Means {
    /// Ink on the pages of a pack.
    Paper,
    /// A reply file.
    Reply,
    /// A letter or a message.
    Letter,
    /// By word of mouth: whoever recorded it heard it.
    Spoken,
}

impl Means {
    pub fn word(self) -> &'static str {
        match self {
            Means::Paper => "on paper",
            Means::Reply => "by a reply file",
            Means::Letter => "by letter or message",
            Means::Spoken => "by word of mouth",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum What {
    /// An issue was put before somebody.
    Presented { subjects: Vec<About> },
    /// Somebody answered: agreed, declined, chose.
    Answered {
        means: Means,
        answers: Vec<Answered>,
        /// What was written under it all.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        remark: String,
    },
    /// An issue altered what had been agreed.
    Lapsed { subjects: Vec<About> },
    /// What became of a contingency that was accepted.
    Contingency {
        /// `DISCLOSURE/OPTION`.
        option: String,
        title: String,
        becomes: Becomes,
        words: String,
    },
    /// Something to be put right, or that has been.
    Snag {
        number: u32,
        /// Of a unit, a front, a room: as the pack calls it.
        about: String,
        words: String,
        put_right: bool,
    },
    /// The work is done, and somebody says so.
    Completed { words: String },
}

/// A subject at the content it had.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    pub subject: String,
    pub title: String,
    pub hash: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answered {
    pub subject: String,
    pub title: String,
    /// Of the subject, as it was shown.
    pub hash: String,
    pub answer: Answer,
    /// The option chosen of a disclosure, by its own id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub option: Option<String>,
    /// The sheet it stood on, such as `C7`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub page: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub initials: String,
    /// What was written beside it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    Agreed,
    Declined,
    /// Agreed, with an option chosen.
    Chosen,
}

impl Answer {
    pub fn word(self) -> &'static str {
        match self {
            Answer::Agreed => "agreed",
            Answer::Declined => "declined",
            Answer::Chosen => "chosen",
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Becomes {
    Called,
    NotNeeded,
    Expired,
}

impl Becomes {
    pub fn word(self) -> &'static str {
        match self {
            Becomes::Called => "called",
            Becomes::NotNeeded => "not needed",
            Becomes::Expired => "expired",
        }
    }
}

/// A file kept beside the record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// What it was called when it was taken in.
    pub name: String,
    /// What it is: `scan`, `signature`, `reply`.
    pub is: String,
    pub sha256: String,
    pub bytes: u64,
    /// The end of its name: `png`.
    pub ending: String,
}

impl Held {
    /// Its name in the folder of held files.
    pub fn file(&self) -> String {
        format!("{}.{}", self.sha256, self.ending)
    }
}

impl Entry {
    /// Its one line, without the end of the line.
    ///
    /// # Errors
    /// A number too large to be exact.
    pub fn line(&self) -> Result<String, String> {
        canonical::json(self)
    }

    /// What a key signs: the line without the signature.
    ///
    /// # Errors
    /// As [`line`](Entry::line).
    pub fn unsigned(&self) -> Result<String, String> {
        Entry {
            signature: None,
            ..self.clone()
        }
        .line()
    }

    /// In a few words, for lists and faults: `3 answers by Ann Body, client, 2026-03-05`.
    pub fn called(&self) -> String {
        let what = match &self.what {
            What::Presented { .. } => "issue presented".to_owned(),
            What::Answered { answers, .. } => match answers.len() {
                1 => "1 answer".to_owned(),
                n => format!("{n} answers"),
            },
            What::Lapsed { subjects } => match subjects.len() {
                1 => "1 agreement lapsed".to_owned(),
                n => format!("{n} agreements lapsed"),
            },
            What::Contingency { title, becomes, .. } => {
                format!("contingency \u{201c}{title}\u{201d} {}", becomes.word())
            }
            What::Snag {
                number, put_right, ..
            } => match put_right {
                true => format!("snag {number} put right"),
                false => format!("snag {number}"),
            },
            What::Completed { .. } => "work completed".to_owned(),
        };
        match &self.who {
            Some(who) => format!("{what}, {}, {}, {}", who.name, who.role, self.day),
            None => format!("{what}, {}", self.day),
        }
    }
}

/// Whether it is a day of the calendar, written as `2026-03-05`.
pub fn is_day(text: &str) -> bool {
    let bytes = text.as_bytes();
    let shape = bytes.len() == 10
        && bytes.iter().enumerate().all(|(n, b)| match n {
            4 | 7 => *b == b'-',
            _ => b.is_ascii_digit(),
        });
    let part = |range: std::ops::Range<usize>| -> u32 {
        text.get(range).and_then(|t| t.parse().ok()).unwrap_or(0)
    };
    if !shape {
        return false;
    }
    let (year, month, day) = (part(0..4), part(5..7), part(8..10));
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_those_of_the_calendar() {
        // 2000 was a leap year and 1900 was none: the Gregorian rule.
        for day in ["2026-03-05", "2024-02-29", "2000-02-29", "2026-12-31"] {
            assert!(is_day(day), "{day}");
        }
        for day in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-04-31",
            "2026-3-5",
            "",
            "2026-00-10",
            "２026-03-05",
        ] {
            assert!(!is_day(day), "{day}");
        }
    }
}
