//! What an issue's folder holds: each file with its hash, what the frozen job is, on which sheets each subject
//! is shown. Knows its one text; must not know a folder.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::canonical::{self, sha256};
use super::issue::{Earlier, Frozen, Purpose};

/// Its name in the folder.
pub const NAME: &str = "manifest.json";

/// The form in which it is written.
pub const FORM: u32 = 2;

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    pub rodbook_manifest: u32,
    pub job: String,
    pub revision: String,
    pub purpose: Purpose,
    pub date: String,
    /// Hash of the frozen job: what the pages carry the first digits of.
    pub issue: String,
    pub after: Option<Earlier>,
    pub files: Vec<Held>,
    /// Of the boards' faces, as they are printed.
    pub pictures: Vec<Held>,
    /// Subjects by key, each with the sheets that show it: `C5, C6`.
    pub sheets: BTreeMap<String, String>,
    /// The last line of the record of signatures when this was issued, and its number: who cuts the record
    /// short afterwards must change this too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub record: Option<Mark>,
    /// SHA-256 of all the rest in canonical form: no guard against who means it, but every slip is seen.
    pub seal: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    pub path: String,
    pub sha256: String,
    pub bytes: u64,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mark {
    pub entries: u32,
    pub last: String,
}

impl Held {
    pub fn of(path: &str, bytes: &[u8]) -> Held {
        Held {
            path: path.to_owned(),
            sha256: sha256(bytes),
            bytes: bytes.len() as u64,
        }
    }

    /// What is wrong with a file that stands in its place; nothing: it is the one.
    pub fn differs(&self, bytes: &[u8]) -> bool {
        self.bytes != bytes.len() as u64 || self.sha256 != sha256(bytes)
    }
}

impl Manifest {
    /// Its text, sealed.
    ///
    /// # Errors
    /// A number too large to be exact.
    pub fn sealed(mut self) -> Result<String, String> {
        self.seal = self.seal()?;
        canonical::json(&self)
    }

    fn seal(&self) -> Result<String, String> {
        let bare = Manifest {
            seal: String::new(),
            ..self.clone()
        };
        Ok(sha256(canonical::json(&bare)?.as_bytes()))
    }

    /// Reads a manifest back.
    ///
    /// # Errors
    /// In words: it is none, or is not as it was written.
    pub fn read(text: &str) -> Result<Manifest, String> {
        let read: Manifest =
            serde_json::from_str(text).map_err(|e| format!("it is no manifest: {e}"))?;
        if read.rodbook_manifest != FORM {
            return Err(format!(
                "it is a manifest of form {}, not {FORM}",
                read.rodbook_manifest
            ));
        }
        if canonical::json(&read)? != text || read.seal()? != read.seal {
            return Err("it was changed after it was written".into());
        }
        Ok(read)
    }

    /// What it says otherwise than the frozen job beside it, whose hash is given.
    pub fn against(&self, frozen: &Frozen, hash: &str) -> Option<String> {
        let issue = frozen.issue.as_ref();
        let same = self.issue == hash
            && self.job == frozen.job
            && self.date == frozen.date
            && self.after == frozen.after
            && issue.is_some_and(|i| i.revision == self.revision && i.purpose == self.purpose);
        (!same).then(|| {
            format!(
                "the frozen job of revision {} is not the one that was issued",
                self.revision
            )
        })
    }
}
