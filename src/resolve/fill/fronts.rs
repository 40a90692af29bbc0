//! Kinds of front in full: what each takes from the kind it is like, and the only hinge and runner.
//! Must not know who uses a kind.

use super::{named_mut, only};
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::project::{Front, Project};
use crate::read::table::{At, Value};
use crate::read::words::HardwareKind;
use crate::resolve::stock;

pub(super) fn fill_fronts(p: &mut Project, diags: &mut Diagnostics) {
    let hinge = only(p, HardwareKind::Hinge);
    let runner = only(p, HardwareKind::Runner);
    // As written, so that what another kind says comes before a plain default.
    let mut written = Vec::new();
    std::mem::swap(&mut written, named_mut(&mut p.front));
    for (_, front) in &mut written {
        *front = front.written();
    }
    let mut filled = Vec::new();
    for (name, front) in &written {
        let mut whole = front.clone();
        let mut seen = vec![name.value.clone()];
        let mut like = front.like.clone();
        while let Some(at) = like {
            if seen.contains(&at.value.0) {
                diags.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        at.place,
                        format!("front `{}` is like itself, by way of others", name.value),
                    )
                    .label("comes back to where it began")
                    .help("let one of them stand without `like`"),
                );
                break;
            }
            seen.push(at.value.0.clone());
            let Some((_, base)) = written.iter().find(|(n, _)| n.value == at.value.0) else {
                break;
            };
            let keep = whole.like.clone();
            whole = whole.backed_by(base);
            whole.like = keep;
            like = base.like.clone();
        }
        filled.push((name.clone(), whole));
    }
    if !filled.iter().any(|(n, _)| n.value == stock::USUAL) {
        filled.push((At::default_of(stock::USUAL.into()), Front::default()));
    }
    for (_, front) in &mut filled {
        *front = front.with_defaults();
        if front.hinge_by.is_none() {
            front.hinge_by = hinge.clone().map(At::default_of);
        }
        if front.runner.is_none() {
            front.runner = runner.clone().map(At::default_of);
        }
    }
    *named_mut(&mut p.front) = filled;
}
