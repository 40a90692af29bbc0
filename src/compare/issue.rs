//! A frozen job: its record with a revision, a purpose and the issue before it. Knows what is hashed;
//! must not know folders, PDFs or pages.
//!
//! The hash of an issue is that of its frozen job in canonical form, so the job can travel inside the
//! packs it belongs to. It holds the hash of the issue before it: a chain that nobody can shorten
//! unseen.

use serde::{Deserialize, Serialize};

use super::canonical;
use super::record::{Fact, Record};
use super::register::Register;
use super::subjects::Subject;

/// What an issue is given out for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// The client is to agree to it.
    Approval,
    /// The fitter is to work from it.
    Fitting,
    /// As it was built.
    Record,
}

impl Purpose {
    pub fn word(self) -> &'static str {
        match self {
            Purpose::Approval => "approval",
            Purpose::Fitting => "fitting",
            Purpose::Record => "record",
        }
    }
}

/// The form a frozen job is written in.
const FORM: u32 = 1;

/// A job as it was on one day: what an issue holds, and what travels in each PDF.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Frozen {
    pub rodbook_frozen_job: u32,
    /// The workshop's number for the job.
    pub job: String,
    /// The date in the project file.
    pub date: String,
    /// Nothing: a draft, which is no issue.
    pub issue: Option<Issue>,
    /// The newest issue when this was made.
    pub after: Option<Earlier>,
    pub record: Record,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Issue {
    pub revision: String,
    pub purpose: Purpose,
    /// 1 for the first of the job.
    pub turn: u32,
}

/// An issue as a later one names it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Earlier {
    pub revision: String,
    pub purpose: Purpose,
    pub date: String,
    pub turn: u32,
    pub hash: String,
}

impl Frozen {
    /// `after`: the newest issue, if there is any.
    pub fn new(
        job: &str,
        date: &str,
        record: Record,
        issue: Option<(String, Purpose)>,
        after: Option<Earlier>,
    ) -> Frozen {
        let turn = after.as_ref().map_or(0, |a| a.turn).saturating_add(1);
        Frozen {
            rodbook_frozen_job: FORM,
            job: job.to_owned(),
            date: date.to_owned(),
            issue: issue.map(|(revision, purpose)| Issue {
                revision,
                purpose,
                turn,
            }),
            after,
            record,
        }
    }

    /// As frozen: the same bytes on every machine.
    ///
    /// # Errors
    /// A number too large to be exact, which no job that was resolved has.
    pub fn canonical(&self) -> Result<String, String> {
        canonical::json(self)
    }

    /// Reads a frozen job back.
    ///
    /// # Errors
    /// What is wrong with the text, in words.
    pub fn read(text: &str) -> Result<Frozen, String> {
        let frozen: Frozen =
            serde_json::from_str(text).map_err(|e| format!("it is no frozen job: {e}"))?;
        if frozen.rodbook_frozen_job != FORM {
            let found = frozen.rodbook_frozen_job;
            return Err(format!("it is a frozen job of form {found}, not {FORM}"));
        }
        let facts = frozen.record.things.values();
        let mut facts = facts.flat_map(|t| t.said.values().chain(t.comes.values()));
        if !facts.all(Fact::is_sane) {
            return Err("it is no frozen job: a number in it is larger than anything".into());
        }
        let misfiled = frozen
            .record
            .things
            .iter()
            .find(|(key, t)| **key != t.key());
        match misfiled {
            Some((key, _)) => Err(format!(
                "it is no frozen job: \u{201c}{key}\u{201d} is misfiled"
            )),
            None => Ok(frozen),
        }
    }

    /// How a later issue names this one; nothing, for a draft.
    pub fn as_earlier(&self, hash: &str) -> Option<Earlier> {
        let issue = self.issue.as_ref()?;
        Some(Earlier {
            revision: issue.revision.clone(),
            purpose: issue.purpose,
            date: self.date.clone(),
            turn: issue.turn,
            hash: hash.to_owned(),
        })
    }

    /// `revision B`, or `draft after revision B`.
    pub fn called(&self) -> String {
        match (&self.issue, &self.after) {
            (Some(issue), _) => format!("revision {}", issue.revision),
            (None, Some(after)) => format!("draft after revision {}", after.revision),
            (None, None) => "draft, nothing issued yet".to_owned(),
        }
    }
}

/// What a pack's pages say of themselves: which issue they are, or a draft of what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    pub issue: Option<Issue>,
    /// Every earlier issue, the oldest first.
    pub earlier: Vec<Earlier>,
    /// Of the frozen job, in hexadecimal digits; empty where none was made.
    pub hash: String,
    /// The frozen job, to travel in the pack.
    pub frozen: String,
    /// What changed since the newest earlier issue; empty where there is none.
    pub register: Register,
    /// What is to be agreed, each by itself; empty where no record was made.
    pub subjects: Vec<Subject>,
}

impl Standing {
    pub fn newest(&self) -> Option<&Earlier> {
        self.earlier.last()
    }
}
