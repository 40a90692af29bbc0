//! The file that a client's telephone saves: read, and checked against the issue that it answers. Knows its
//! format and limits; must not know the page that writes it.
//!
//! It is one object of canonical JSON (RFC 8785): the job, revision and hash of the issue, an answer for each
//! subject with the hash that was shown, who answers, a signature as a PNG or a typed name, and `check`, the
//! SHA-256 of all the rest in canonical form: what was damaged on its way is told from what was not.

use serde::{Deserialize, Serialize};

use super::act::{self, Given};
use super::base64;
use super::entry::{Answer, is_day};
use crate::compare::Subject;
use crate::compare::canonical;

/// The form in which it is written.
const FORM: u32 = 1;
/// Most answers: no job has so many subjects.
const MOST_ANSWERS: usize = 20_000;
/// Largest signature, in bytes of PNG.
const MOST_SIGNATURE: usize = 1 << 20;
/// Widest and highest signature, in dots.
const MOST_DOTS: u32 = 4000;
const PNG: &str = "data:image/png;base64,";

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reply {
    rodbook_reply: u32,
    pub job: String,
    pub revision: String,
    /// The page was of no issue.
    pub draft: bool,
    /// Hash of the frozen job.
    pub issue: String,
    pub answers: Vec<Marked>,
    pub name: String,
    pub role: String,
    pub place: String,
    /// Empty: none was put in.
    pub day: String,
    pub signed: Signed,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    signature: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub typed: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
    /// When the telephone says it was made: not trusted, and kept.
    pub made: String,
    check: String,
}

/// One answer, as the telephone has it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Marked {
    pub subject: String,
    /// Of the subject, as the page showed it.
    pub hash: String,
    pub answer: Said,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub option: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub initials: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Said {
    Agreed,
    Declined,
    /// Not answered.
    Left,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Signed {
    No,
    Drawn,
    Typed,
}

/// A reply that answers its issue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    pub given: Vec<Given>,
    /// Keys of what was left unanswered.
    pub left: Vec<String>,
}

impl Reply {
    /// Reads a reply file.
    ///
    /// # Errors
    /// In words: it is none, or was damaged.
    pub fn read(text: &str) -> Result<Reply, String> {
        // A message may have put an end of line behind it.
        let text = text.trim_ascii();
        let reply: Reply =
            serde_json::from_str(text).map_err(|e| format!("it is no reply file: {e}"))?;
        if reply.rodbook_reply != FORM {
            return Err(format!(
                "it is a reply of form {}, not {FORM}",
                reply.rodbook_reply
            ));
        }
        if canonical::json(&reply)? != text {
            return Err(
                "it is not written as the page writes it: it was changed after it was saved".into(),
            );
        }
        let mut rest = serde_json::to_value(&reply).map_err(|e| e.to_string())?;
        if let Some(fields) = rest.as_object_mut() {
            fields.remove("check");
        }
        if canonical::sha256(canonical::json(&rest)?.as_bytes()) != reply.check {
            return Err(
                "its check does not fit: it was changed or damaged after it was saved".into(),
            );
        }
        if reply.answers.len() > MOST_ANSWERS {
            return Err("it has more answers than any job has subjects".into());
        }
        if !reply.day.is_empty() && !is_day(&reply.day) {
            return Err(format!(
                "its day, \u{201c}{}\u{201d}, is no day",
                short(&reply.day)
            ));
        }
        if reply.name.trim().is_empty() {
            return Err("it does not say who answers".into());
        }
        act::name("name", &reply.name)?;
        act::name("role", &reply.role)?;
        act::name("place", &reply.place)?;
        act::name("made", &reply.made)?;
        for text in [&reply.typed, &reply.remark].into_iter().flatten() {
            lines("remark", text, 4000)?;
        }
        for note in reply.answers.iter().filter_map(|a| a.note.as_ref()) {
            lines("note", note, 2000)?;
        }
        match (reply.signed, &reply.signature, &reply.typed) {
            (Signed::No, None, None) => {}
            (Signed::Drawn, Some(_), None) => drop(reply.png()?),
            (Signed::Typed, None, Some(typed)) if !typed.trim().is_empty() => {}
            _ => return Err("how it is signed does not fit what it is signed with".into()),
        }
        Ok(reply)
    }

    /// The signature that was drawn.
    ///
    /// # Errors
    /// In words: it is no picture, or too large.
    pub fn png(&self) -> Result<Option<Vec<u8>>, String> {
        let Some(text) = &self.signature else {
            return Ok(None);
        };
        let bytes = text.strip_prefix(PNG).and_then(base64::decode);
        let bytes = bytes.ok_or("its signature is no picture")?;
        if bytes.len() > MOST_SIGNATURE {
            return Err("its signature is larger than any".into());
        }
        match size(&bytes) {
            Some((w, h)) if (1..=MOST_DOTS).contains(&w) && (1..=MOST_DOTS).contains(&h) => {
                Ok(Some(bytes))
            }
            Some(_) => Err("its signature has more dots than any".into()),
            None => Err("its signature is no picture".into()),
        }
    }

    /// Whether it answers this very issue, and each subject as the issue has it.
    ///
    /// # Errors
    /// In words, everything that does not fit.
    pub fn answers(
        &self,
        job: &str,
        revision: &str,
        hash: &str,
        subjects: &[Subject],
    ) -> Result<Taken, Vec<String>> {
        if self.job != job {
            return Err(vec![format!(
                "it is about job {}, not {job}",
                short(&self.job)
            )]);
        }
        if self.draft {
            return Err(vec![
                "it answers a draft: nothing is agreed to by a draft. Send the page of an issue"
                    .into(),
            ]);
        }
        if self.issue != hash || self.revision != revision {
            return Err(vec![format!(
                "it answers revision {} with another content than the one issued: its hash begins {}, the \
                 issue's {}",
                short(&self.revision),
                self.issue.get(..16).unwrap_or("otherwise"),
                hash.get(..16).unwrap_or(hash)
            )]);
        }
        let mut wrong = Vec::new();
        let mut taken = Taken {
            given: Vec::new(),
            left: Vec::new(),
        };
        let asked = |s: &&Subject| s.roles.contains(&self.role);
        let asked: Vec<&Subject> = subjects.iter().filter(asked).collect();
        if asked.is_empty() {
            wrong.push(format!(
                "nothing is asked of the role \u{201c}{}\u{201d}",
                short(&self.role)
            ));
        }
        for subject in &asked {
            match self
                .answers
                .iter()
                .filter(|a| a.subject == subject.key)
                .count()
            {
                0 => wrong.push(format!("{} was left out of it", subject.named())),
                1 => {}
                _ => wrong.push(format!("{} is answered twice", subject.named())),
            }
        }
        for answer in &self.answers {
            let Some(subject) = asked.iter().find(|s| s.key == answer.subject) else {
                wrong.push(format!(
                    "it answers \u{201c}{}\u{201d}, which the issue does not ask of the {}",
                    short(&answer.subject),
                    short(&self.role)
                ));
                continue;
            };
            if answer.hash != subject.hash {
                wrong.push(format!(
                    "{} was shown with another content",
                    subject.named()
                ));
                continue;
            }
            let kind = match (answer.answer, &answer.option) {
                (Said::Left, None) => {
                    taken.left.push(subject.key.clone());
                    continue;
                }
                (Said::Agreed, Some(_)) => Answer::Chosen,
                (Said::Agreed, None) => Answer::Agreed,
                (Said::Declined, None) => Answer::Declined,
                (Said::Left | Said::Declined, Some(_)) => {
                    wrong.push(format!(
                        "{}: an option without an agreement",
                        subject.named()
                    ));
                    continue;
                }
            };
            taken.given.push(Given {
                subject: subject.key.clone(),
                answer: kind,
                option: answer.option.clone(),
                initials: answer.initials.clone().unwrap_or_default(),
                note: answer.note.clone().unwrap_or_default(),
            });
        }
        match wrong.is_empty() {
            true => Ok(taken),
            false => Err(wrong),
        }
    }
}

/// Width and height that a PNG says it has (ISO/IEC 15948: the first chunk is IHDR).
fn size(png: &[u8]) -> Option<(u32, u32)> {
    let rest = png.strip_prefix(b"\x89PNG\r\n\x1a\n")?;
    let rest = rest.strip_prefix(b"\0\0\0\rIHDR")?;
    let (width, rest) = rest.split_first_chunk::<4>()?;
    let (height, _) = rest.split_first_chunk::<4>()?;
    Some((u32::from_be_bytes(*width), u32::from_be_bytes(*height)))
}

/// Words that may go over several lines.
fn lines(what: &str, text: &str, most: usize) -> Result<(), String> {
    if text.chars().count() > most {
        return Err(format!("{what}: it is longer than {most} characters"));
    }
    match text.chars().any(|c| c.is_control() && c != '\n') {
        true => Err(format!(
            "{what}: it has a character that is no letter and no sign"
        )),
        false => Ok(()),
    }
}

/// A text of a file that cannot be trusted, for a message.
fn short(text: &str) -> String {
    let plain = text.chars().map(|c| if c.is_control() { ' ' } else { c });
    plain.take(40).collect()
}
