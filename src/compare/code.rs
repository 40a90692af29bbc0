//! The words in the square code of a page: which job, revision, sheet and issue the paper belongs to.
//! Knows how they are written and read; must not know how a code is drawn.

use super::issue::{Earlier, Standing};

/// How the words begin, and by which form they are written.
const FORM: &str = "RB1";
/// Digits of the issue's hash that a page carries: enough that no two issues of a workshop share
/// them.
pub const DIGITS: usize = 16;
/// Stands where a revision would: the page is no issue's.
const DRAFT: &str = "DRAFT";

/// What a page's code says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    pub job: String,
    /// Nothing: a draft.
    pub revision: Option<String>,
    /// `F7`: the fitter's pack, page 7.
    pub sheet: String,
    /// The first digits of the frozen job's hash, in capitals.
    pub hash: String,
}

/// All of a page's code but its sheet, ready to be printed on each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stem {
    before: String,
    after: String,
}

impl Stem {
    /// `RB1:CW-017:B:` and `:3FA94C0D1E2B7788`, in capitals and figures where the job's number
    /// allows, which makes the code coarse and easy to read. Nothing, where no hash was made.
    pub fn new(job: &str, standing: &Standing) -> Option<Stem> {
        let hash = standing.hash.get(..DIGITS)?.to_ascii_uppercase();
        let revision = standing
            .issue
            .as_ref()
            .map_or(DRAFT, |i| i.revision.as_str());
        Some(Stem {
            before: format!("{FORM}:{}:{revision}:", escaped(job)),
            after: format!(":{hash}"),
        })
    }

    pub fn sheet(&self, pack: char, page: usize) -> String {
        format!("{}{pack}{page}{}", self.before, self.after)
    }
}

/// What would end a field early, as a percent sign and two digits.
fn escaped(text: &str) -> String {
    text.replace('%', "%25").replace(':', "%3A")
}

impl Code {
    /// Reads the words of a code. `None`: it is none of ours.
    pub fn read(text: &str) -> Option<Code> {
        let fields: Vec<&str> = text.trim().split(':').collect();
        let [form, job, revision, sheet, hash] = fields.as_slice() else {
            return None;
        };
        let hex = hash.len() == DIGITS && hash.bytes().all(|b| b.is_ascii_hexdigit());
        if *form != FORM || !hex || sheet.is_empty() {
            return None;
        }
        Some(Code {
            job: job.replace("%3A", ":").replace("%25", "%"),
            revision: (*revision != DRAFT).then(|| (*revision).to_owned()),
            sheet: (*sheet).to_owned(),
            hash: hash.to_ascii_uppercase(),
        })
    }

    fn is_of(&self, hash: &str) -> bool {
        hash.get(..DIGITS)
            .is_some_and(|digits| digits.eq_ignore_ascii_case(&self.hash))
    }
}

/// What a sheet of paper is worth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The newest issue.
    Current,
    /// An issue, but this one came after it.
    Superseded(Earlier),
    /// A draft of the project as it stands now.
    DraftAsNow,
    /// A draft of some other state of the project.
    DraftOfOther,
    /// No sheet of this job.
    OtherJob,
    /// It names an issue that there is not, or not with this content.
    Unknown,
}

/// Judges a sheet: `standing` is that of a draft of the project as it is now.
pub fn judge(code: &Code, job: &str, standing: &Standing) -> Verdict {
    if code.job != job {
        return Verdict::OtherJob;
    }
    let Some(revision) = &code.revision else {
        return match code.is_of(&standing.hash) {
            true => Verdict::DraftAsNow,
            false => Verdict::DraftOfOther,
        };
    };
    let Some(issue) = standing.earlier.iter().find(|i| i.revision == *revision) else {
        return Verdict::Unknown;
    };
    match standing.newest() {
        _ if !code.is_of(&issue.hash) => Verdict::Unknown,
        Some(newest) if newest.revision != issue.revision => Verdict::Superseded(newest.clone()),
        _ => Verdict::Current,
    }
}

#[cfg(test)]
mod tests {
    use super::super::issue::{Issue, Purpose};
    use super::*;

    fn earlier(revision: &str, turn: u32, digit: &str) -> Earlier {
        Earlier {
            revision: revision.to_owned(),
            purpose: Purpose::Approval,
            date: "2026-03-02".to_owned(),
            turn,
            hash: digit.repeat(64),
        }
    }

    fn standing() -> Standing {
        Standing {
            earlier: vec![earlier("A", 1, "a"), earlier("B", 2, "b")],
            hash: "d".repeat(64),
            ..Standing::default()
        }
    }

    fn printed(job: &str, revision: &str, turn: u32, digit: &str) -> String {
        let of = Standing {
            issue: Some(Issue {
                revision: revision.to_owned(),
                purpose: Purpose::Approval,
                turn,
            }),
            hash: digit.repeat(64),
            ..Standing::default()
        };
        Stem::new(job, &of).expect("a hash").sheet('F', 7)
    }

    fn verdict(text: &str) -> Verdict {
        judge(&Code::read(text).expect("a code"), "X:1", &standing())
    }

    #[test]
    fn a_sheet_is_current_superseded_or_unknown() {
        assert_eq!(
            printed("X:1", "B", 2, "b"),
            "RB1:X%3A1:B:F7:BBBBBBBBBBBBBBBB"
        );
        assert_eq!(verdict(&printed("X:1", "B", 2, "b")), Verdict::Current);
        assert_eq!(
            verdict(&printed("X:1", "A", 1, "a")),
            Verdict::Superseded(earlier("B", 2, "b"))
        );
        assert_eq!(verdict(&printed("X:1", "A", 1, "c")), Verdict::Unknown);
        assert_eq!(verdict(&printed("X:1", "C", 3, "c")), Verdict::Unknown);
        assert_eq!(verdict(&printed("Y", "B", 2, "b")), Verdict::OtherJob);
    }

    #[test]
    fn a_draft_is_of_the_project_as_it_stands_or_of_another_state() {
        let stem = Stem::new("X:1", &standing()).expect("a hash");
        assert_eq!(verdict(&stem.sheet('C', 1)), Verdict::DraftAsNow);
        let other = "RB1:X%3A1:DRAFT:C1:0123456789ABCDEF";
        assert_eq!(verdict(other), Verdict::DraftOfOther);
    }

    #[test]
    fn what_is_no_code_of_ours_is_not_read() {
        for text in [
            "",
            "RB1",
            "RB2:X:B:F7:BBBBBBBBBBBBBBBB",
            "RB1:X:B:F7:BBB",
            "RB1:X:B:F7:é",
        ] {
            assert_eq!(Code::read(text), None, "{text}");
        }
    }
}
