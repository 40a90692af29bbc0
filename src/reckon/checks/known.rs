//! Findings that the project says are known, with its reason. Knows which may stand; must not know how
//! anything is found.

use super::names;
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::reckon::placed::{Finding, Severity};
use crate::resolve::job::{Job, Known};
use crate::resolve::nearest;

/// Findings that block and may be known all the same: somebody on site can make the room that the survey
/// says is not there.
const MAY_STAND: &[&str] = &["does-not-pass", "doorway-blocked"];

/// Gives each finding that is known its reason. False when one is not there to be known, or must be
/// settled: that is said in `diags`.
pub fn mark(job: &Job, findings: &mut [Finding], diags: &mut Diagnostics) -> bool {
    let mut good = true;
    for known in &job.known {
        let mut found = false;
        for finding in findings.iter_mut().filter(|f| is_meant(known, f)) {
            found = true;
            let blocks = finding.severity == Severity::Blocks;
            if blocks && !MAY_STAND.contains(&finding.code) {
                diags.push(must_be_settled(known));
                good = false;
            } else {
                finding.known = Some(known.why.clone());
            }
        }
        if !found {
            diags.push(not_found(known, findings));
            good = false;
        }
    }
    good
}

fn is_meant(known: &Known, finding: &Finding) -> bool {
    finding.code == known.finding && known.on.as_ref().is_none_or(|on| *on == finding.subject)
}

fn must_be_settled(known: &Known) -> Diagnostic {
    let what = format!(
        "`{}` blocks the job and cannot stand, whatever the reason",
        known.finding
    );
    Diagnostic::new(Code::MustBeSettled, known.place, what)
        .label("found, and it blocks")
        .help(format!(
            "settle it in the job; of findings that block only {} may stand",
            names(MAY_STAND)
        ))
}

fn not_found(known: &Known, findings: &[Finding]) -> Diagnostic {
    let mut codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    codes.sort_unstable();
    codes.dedup();
    let elsewhere = codes.contains(&known.finding.as_str());
    let of = match known.on_name.as_str() {
        "" => String::new(),
        name => format!(" of \"{name}\""),
    };
    let help = match nearest(&known.finding, &codes) {
        _ if elsewhere => {
            "it was found of something else: leave out `on`, or name what it was found of; \
             `rodbook check` tells"
                .to_owned()
        }
        Some(near) => format!("did you mean \"{near}\"?"),
        None if codes.is_empty() => "nothing was found: take the entry out".to_owned(),
        None => format!(
            "take the entry out if it is settled; found were: {}",
            codes.join(", ")
        ),
    };
    let what = format!("there is no finding `{}`{of} to be known", known.finding);
    Diagnostic::new(Code::NotFound, known.place, what)
        .label("not found")
        .help(help)
}

#[cfg(test)]
mod tests {
    use crate::diag::{Code, Diagnostics, Place};
    use crate::reckon::{fixture, placed::Finding, reckon};
    use crate::resolve::job::{Job, Known, Subject};

    fn known(finding: &str, on: Option<Subject>) -> Known {
        Known {
            finding: finding.into(),
            on,
            on_name: String::new(),
            why: "Paperbacks only.".into(),
            place: Place::NOWHERE,
        }
    }

    fn reckoned(job: &Job) -> Result<Vec<Finding>, Vec<Code>> {
        let mut diags = Diagnostics::default();
        match reckon(job, &mut diags) {
            Some(reckoned) => Ok(reckoned.findings),
            None => Err(diags.sorted().iter().map(|d| d.code).collect()),
        }
    }

    #[test]
    fn a_known_finding_keeps_its_reason_and_others_do_not() {
        let mut job = fixture::shelves(2);
        job.known = vec![known("shelf-sags", Some(Subject::Unit(0, 0)))];
        let findings = reckoned(&job).unwrap();
        for finding in findings {
            let wanted = (finding.code == "shelf-sags").then_some("Paperbacks only.");
            assert_eq!(finding.known.as_deref(), wanted, "{}", finding.code);
        }
    }

    #[test]
    fn what_was_not_found_cannot_be_known() {
        let mut job = fixture::shelves(2);
        for wrong in [
            known("shelf-sag", None),
            known("shelf-sags", Some(Subject::Run(0))),
        ] {
            job.known = vec![wrong];
            assert_eq!(reckoned(&job), Err(vec![Code::NotFound]));
        }
    }

    // A unit 2600 high under a ceiling of 2440: it blocks, and no reason lowers it.
    #[test]
    fn what_blocks_must_be_settled() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        job.runs[0].units[0].top = crate::units::Length::mm(2600);
        job.known = vec![known("top-above-ceiling", None)];
        assert_eq!(reckoned(&job), Err(vec![Code::MustBeSettled]));
    }
}
