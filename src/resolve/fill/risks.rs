//! Ids of the options of risks. Must not check them.

use super::{list_mut, or};
use crate::read::project::Project;
use crate::read::value::Id;

pub(super) fn fill_risks(p: &mut Project) {
    for risk in list_mut(&mut p.risk) {
        let mut counts = [0usize; 3];
        for option in list_mut(&mut risk.option) {
            let kind = option.is().value;
            let Some(count) = counts.get_mut(kind as usize) else {
                continue;
            };
            *count += 1;
            let count = *count;
            or(&mut option.id, || match count {
                1 => Id(kind.word().to_owned()),
                n => Id(format!("{}-{n}", kind.word())),
            });
        }
    }
}
