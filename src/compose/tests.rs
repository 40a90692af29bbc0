//! Whole packs, laid out and exported.

use super::*;
use crate::emit;

fn pdf(job: &Job, which: Pack) -> Vec<u8> {
    let pages = pack(job, &fixture::reckoned(job), &fixture::drawings(job), which)
        .unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(pages.warnings, Vec::<String>::new());
    emit::pdf::write(&pages).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn two_compiles_give_the_same_bytes() {
    let job = fixture::job();
    for which in [Pack::Client, Pack::Fitter] {
        let once = pdf(&job, which);
        assert!(once == pdf(&job, which));
        let file = emit::write::File {
            path: format!("{}.pdf", which.name()),
            bytes: once,
        };
        emit::write::all(&std::env::temp_dir().join("compose-look"), &[file]).expect("written");
    }
}
