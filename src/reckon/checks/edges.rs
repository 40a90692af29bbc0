//! Edges of worktops that no whole strips of their board make up. Knows tops; must not know how strips
//! are glued.

use super::{finding, names};
use crate::reckon::built_up::of_whole_strips;
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Subject};

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (top, placed)) in job.worktops.iter().zip(&reckoned.worktops).enumerate() {
        let Some(strip) = placed.built_up.as_ref().filter(|b| !b.flat) else {
            continue;
        };
        let (edge, slab) = (top.edge, placed.slab);
        let text = format!(
            "The edge of “{}” is {edge} mm high, its board {slab} thick: no whole strips of it laid flat \
             make that up. It is reckoned with one strip stood on edge under the slab: {slab} + {} = {edge}.",
            top.name, strip.wanting
        );
        let whole = of_whole_strips(edge, slab);
        let whole: Vec<String> = whole.iter().map(|h| h.to_string()).collect();
        let whole: Vec<&str> = whole.iter().map(String::as_str).collect();
        found.push(
            finding(
                ("edge-not-whole-strips", Severity::Informs),
                Subject::Worktop(i),
                top.place,
                text,
            )
            .against("whole strips of the same board, three at most, one under another (common practice, no source)")
            .advise(format!(
                "Nothing, if the strip may stand on edge; what its joint asks, a mitre too, the board's maker \
                 says. Strips laid flat make up an edge of {}.",
                names(&whole)
            )),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::reckon::fixture;

    // By hand: the fixture's board is 18 thick: 18 + 18 = 36; 18 + 12 stood on edge = 30.
    #[test]
    fn an_edge_that_strips_laid_flat_do_not_make_up_is_told() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        let mut with = |edge| {
            job.worktops = vec![fixture::worktop(edge)];
            found(&job, "edge-not-whole-strips")
        };
        assert_eq!((with(18).len(), with(36).len()), (0, 0));
        let told = with(30).remove(0);
        assert!(told.text.contains("18 + 12 = 30"), "{}", told.text);
        assert!(
            told.advice.contains("an edge of 18 and 36"),
            "{}",
            told.advice
        );
    }
}
