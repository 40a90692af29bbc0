//! The order of the stages, on one screen. Knows nothing of the inside of any.

use std::path::Path;

use crate::diag::{Diagnostic, Diagnostics};
use crate::read::project::Project;
use crate::read::{self, Source};
use crate::reckon::placed::Reckoned;

use crate::resolve::job::Job;
use crate::resolve::{fill, resolve};

/// A project as far as it makes sense, and everything that is wrong with it.
pub struct Prepared {
    /// As typed, for messages.
    pub path: String,
    pub text: String,
    pub filled: Option<Project>,
    /// Only when nothing at all is wrong.
    pub job: Option<(Job, Reckoned)>,
    /// In order of their place in the file.
    pub errors: Vec<Diagnostic>,
}

/// Reads, resolves and reckons one project file.
pub fn prepare(path: &Path) -> Prepared {
    let mut diags = Diagnostics::default();
    let Some(source) = read::load(path, &mut diags) else {
        let path = path.display().to_string();
        return Prepared {
            path,
            text: String::new(),
            filled: None,
            job: None,
            errors: diags.sorted(),
        };
    };
    let (filled, job) = match read::project(&source.text, &mut diags) {
        Some(project) => through(&source, &project, &mut diags),
        None => (None, None),
    };
    let job = if diags.is_empty() { job } else { None };
    Prepared {
        path: source.path,
        text: source.text,
        filled,
        job,
        errors: diags.sorted(),
    }
}

fn through(
    source: &Source,
    project: &Project,
    diags: &mut Diagnostics,
) -> (Option<Project>, Option<(Job, Reckoned)>) {
    let pictures = read::load_pictures(source, project, diags);
    let filled = fill(project, diags);
    let job = resolve(&filled, &pictures, diags);
    if !diags.sizes_can_be_trusted() {
        return (Some(filled), None);
    }
    let reckoned = reckon(&job, diags);
    (Some(filled), reckoned.map(|r| (job, r)))
}

fn reckon(_: &Job, _: &mut Diagnostics) -> Option<Reckoned> {
    None
}
