//! Where a pattern jumps, breaks or cannot be cut at all. Knows layouts of patterns; must not lay
//! anything out.

use super::finding;
use crate::diag::Place;
use crate::reckon::pattern::layout::{Joint, Missing, PatternLayout, Stuck, Unfit};
use crate::reckon::pattern::{self, said};
use crate::reckon::placed::{Finding, Reckoned, Severity};
use crate::resolve::job::{Job, Side, Subject};
use crate::units::Length;

/// A jump of a repeating pattern up to this is hardly seen (common practice, no source).
const STEP_SEEN: Length = Length::mm(1);
/// CIEDE2000 between neighbours, in thousandths: under about 1 is hardly seen side by side, over
/// 2–3 plainly (handbook §5: common practice, no source).
const COLOUR_SEEN: i64 = 1000;
const COLOUR_PLAIN: i64 = 2000;

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for layout in &reckoned.patterns {
        let place = place(job, layout);
        if let Some(stuck) = &layout.stuck {
            found.push(cannot(reckoned, layout, stuck, place));
            continue;
        }
        found.extend(short_of_boards(job, reckoned, layout, place));
        found.extend(steps(reckoned, layout, place));
        found.extend(changes(reckoned, layout, place));
        found.extend(colours(reckoned, layout, place));
    }
}

/// An end that is to carry a pattern on, and has nothing that can.
pub fn ends(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (n, (run, placed)) in job.runs.iter().zip(&reckoned.runs).enumerate() {
        for side in [Side::Left, Side::Right] {
            let end = pattern::end(run, side);
            let Some(name) = end.pattern.as_deref() else {
                continue;
            };
            let mut pieces = placed.pieces.iter().filter(|p| p.side == side);
            if pieces.any(|p| pattern::goes_with(&reckoned.fronts, name, p)) {
                continue;
            }
            let text = format!(
                "The pattern “{name}” is to run on over the {} end of {}, which has no panel and no filler \
                 of the board that the pattern's fronts are cut from.",
                side.word(),
                run.name
            );
            let what = ("pattern-not-carried", Severity::Warns);
            found.push(
                finding(what, Subject::Run(n), end.place, text)
                    .against("the board of the pattern's fronts")
                    .advise("Give that end a panel or a filler of this board, or take the pattern from it."),
            );
        }
    }
}

fn place(job: &Job, layout: &PatternLayout) -> Place {
    let rule = job.patterns.iter().find(|p| p.name == layout.name);
    let material = job.materials.get(layout.material.0);
    rule.map(|r| r.place)
        .or(material.map(|m| m.place))
        .unwrap_or_default()
}

/// The fronts that a pattern runs over.
fn faces<'a>(
    reckoned: &'a Reckoned,
    layout: &'a PatternLayout,
) -> impl Iterator<Item = Subject> + 'a {
    let blanks = layout.blanks.iter();
    blanks.filter_map(|b| front_of(reckoned, b.front))
}

fn front_of(reckoned: &Reckoned, face: usize) -> Option<Subject> {
    let front = reckoned.fronts.get(face)?;
    Some(Subject::Front(front.id.clone()))
}

fn number(reckoned: &Reckoned, front: usize) -> String {
    reckoned.face(front).map_or(String::new(), |f| f.label())
}

/// Where a client sees it.
fn picture(layout: &PatternLayout) -> String {
    format!("the drawing “How the pattern “{}” will look”", layout.name)
}

fn cannot(reckoned: &Reckoned, layout: &PatternLayout, stuck: &Stuck, place: Place) -> Finding {
    let name = &layout.name;
    let who = |front: &usize| number(reckoned, *front);
    let (text, limit, advice) = match stuck {
        Stuck::NoSize => (
            format!("The pattern “{name}” cannot be laid out: its board has no size."),
            "the size of the sheet as bought".to_owned(),
            "Give the material a `sheet`, or list the boards in hand.",
        ),
        Stuck::TooWide {
            front,
            needs,
            offers,
            board,
        } => (
            format!(
                "Front {} of the pattern “{name}” needs {needs} mm across a board; the widest, board \
                 {board}, offers {offers} mm: {} mm are missing.",
                who(front),
                *needs - *offers
            ),
            format!("the widest board, less its edges: {offers} mm"),
            "Make the fronts narrower, use a wider board, or turn the grain.",
        ),
        Stuck::TooHigh {
            front,
            needs,
            offers,
            board,
        } => (
            format!(
                "Front {} of the pattern “{name}” needs {needs} mm of a board's height; the longest, \
                 board {board}, offers {offers} mm: {} mm are missing.",
                who(front),
                *needs - *offers
            ),
            format!("the longest board, less its ends: {offers} mm"),
            "Part the front in its height, use a longer board, or turn the grain.",
        ),
        Stuck::Settled {
            front,
            board,
            at,
            why,
        } => (
            format!(
                "Front {} of the pattern “{name}” cannot be cut from board {board} with its left \
                 edge at {at} mm: {}.",
                who(front),
                unfit(reckoned, *front, why)
            ),
            "boards are cut in one order, left to right".to_owned(),
            "Move it, or let it be placed with the others.",
        ),
        Stuck::NoBoardLeft {
            front,
            needs,
            board,
            missing,
        } => (
            format!(
                "No board is left for front {} of the pattern “{name}”, which needs {needs} mm clear \
                 of flaws: on board {board}, where the least is missing, it is {}.",
                who(front),
                match missing {
                    Missing::Across(by) => format!("{by} mm of its width"),
                    Missing::Up(by) => format!("{by} mm of its height"),
                }
            ),
            "the boards in hand, and those that can be bought".to_owned(),
            "Get another board, or give the material a `sheet` so that more can be bought.",
        ),
    };
    let what = ("pattern-cannot-be-cut", Severity::Blocks);
    finding(what, Subject::Job, place, text)
        .against(limit)
        .advise(advice)
}

/// What is wrong with a settled place.
fn unfit(reckoned: &Reckoned, front: usize, why: &Unfit) -> String {
    let who = |front: &usize| number(reckoned, *front);
    match why {
        Unfit::Elsewhere => {
            "that board is of another material, or another pattern is cut from it".to_owned()
        }
        Unfit::Off(Missing::Across(by)) => {
            format!("it would lie {by} mm beyond what can be used of the board's width")
        }
        Unfit::Off(Missing::Up(by)) => {
            format!("it would lie {by} mm beyond what can be used of the board's height")
        }
        Unfit::Flaw { what, by } => format!("it would take in {by} mm of a flaw ({what})"),
        Unfit::Taken { front, by } => format!(
            "front {} before it, at its nearest, reaches {by} mm into it with what the saw takes",
            who(front)
        ),
        Unfit::Order { front } => format!(
            "front {} before it cannot be cut from this board or one before it",
            who(front)
        ),
        Unfit::With { front: other, .. } if *other == front => {
            "it is settled in another place too".to_owned()
        }
        Unfit::With { front, by } => format!(
            "front {}, cut in one piece with it, is settled {}",
            who(front),
            match by {
                Some(by) => format!("{by} mm away from there"),
                None => "on another board".to_owned(),
            }
        ),
    }
}

fn short_of_boards(
    job: &Job,
    reckoned: &Reckoned,
    layout: &PatternLayout,
    place: Place,
) -> Option<Finding> {
    let first = layout.boards.iter().position(|b| b.in_hand.is_none())?;
    if layout.in_hand == 0 {
        return None;
    }
    let blank = layout.blanks.iter().find(|b| b.board == first)?;
    let more = layout.to_buy();
    let of = job
        .materials
        .get(layout.material.0)
        .map_or("", |m| m.name.as_str());
    let boards = if more == 1 { "board" } else { "boards" };
    let text = format!(
        "The boards in hand do not reach for the pattern “{}”: from front {} on, {more} more {boards} \
         of {of} must be bought.",
        layout.name,
        number(reckoned, blank.front),
    );
    let what = ("pattern-short-of-boards", Severity::Warns);
    Some(
        finding(what, Subject::Job, place, text)
            .against(format!("{} in hand", layout.in_hand))
            .advise(
                "Buy them from the same batch and measure pattern and colour before anything is cut.",
            )
            .of_group(&layout.name)
            .of_each(faces(reckoned, layout))
            .number(format!("{more} {boards}"), String::new(), more as f64)
            .for_client(
                format!(
                    "From front {} on, the pattern “{}” is cut from boards still to be bought, which may \
                     look a little different.",
                    number(reckoned, blank.front),
                    layout.name
                ),
                "Ask to see them before they are cut, if it matters to you.",
            ),
    )
}

fn steps(reckoned: &Reckoned, layout: &PatternLayout, place: Place) -> Option<Finding> {
    let seen = |j: &Joint| said::step(j).is_some_and(|s| s > STEP_SEEN);
    if !layout.joints.iter().any(seen) {
        return None;
    }
    let told = said::steps(reckoned, layout)?;
    let worst = layout.joints.iter().filter_map(said::step).max();
    let worst = worst.unwrap_or_default();
    let natural = layout.repeat.is_natural();
    let severity = match natural {
        true => Severity::Informs,
        false => Severity::Warns,
    };
    let name = &layout.name;
    let text = format!("The pattern “{name}” jumps {told}.");
    let limit = format!("{STEP_SEEN} mm, hardly seen (common practice, no source)");
    let (advice, why, choice) = match natural {
        true => (
            "The saw takes more than the gap shows: unavoidable in a pattern that does not repeat. \
             Have it agreed on the client's picture of it before anything is cut.",
            "",
            format!(
                "Look at it on {}, and tell us if you would not like it so.",
                picture(layout)
            ),
        ),
        false => (
            "Have it cut for an exact run, or have it agreed on the client's picture of it before \
             anything is cut.",
            " It could be cut so that it runs on exactly, perhaps from more boards.",
            format!("The exact run, or the steps as on {}.", picture(layout)),
        ),
    };
    Some(
        finding(("pattern-step", severity), Subject::Job, place, text)
            .against(limit)
            .advise(advice)
            .of_group(name)
            .of_each(faces(reckoned, layout))
            .number(
                format!("{} mm", worst.round_to(Length::um(100))),
                format!("{STEP_SEEN} mm"),
                worst.in_mm(),
            )
            .for_client(format!("It jumps {told}.{why}"), choice),
    )
}

fn changes(reckoned: &Reckoned, layout: &PatternLayout, place: Place) -> Option<Finding> {
    let first = layout.joints.iter().find(|j| j.jump.is_none())?;
    let places = said::begins_anew(reckoned, layout)?;
    let name = &layout.name;
    let text = format!(
        "The pattern “{name}” does not run on where the board changes: between fronts {places}."
    );
    let subject = reckoned
        .face(first.first)
        .map_or(Subject::Job, |f| Subject::Run(f.run));
    let what = ("pattern-changes-board", Severity::Informs);
    let anew: Vec<&Joint> = layout.joints.iter().filter(|j| j.jump.is_none()).collect();
    let each = anew.iter().flat_map(|j| [j.first, j.second]);
    let count = match anew.len() {
        1 => "1 joint".to_owned(),
        n => format!("{n} joints"),
    };
    Some(
        finding(what, subject, place, text)
            .of_group(name)
            .of_each(each.filter_map(|face| front_of(reckoned, face)))
            .number(count.clone(), String::new(), anew.len() as f64)
            .against("one board's width")
            .advise("Have it agreed on the client's picture of it before anything is cut.")
            .for_client(
                format!("The next board begins at {count}: between fronts {places}."),
                format!("Look at it on {}.", picture(layout)),
            ),
    )
}

fn colours(reckoned: &Reckoned, layout: &PatternLayout, place: Place) -> Option<Finding> {
    let of = |j: &Joint| j.colour.unwrap_or(0);
    let mut worst: Option<&Joint> = None;
    for joint in layout.joints.iter().filter(|j| of(j) > COLOUR_SEEN) {
        if worst.is_none_or(|w| of(joint) > of(w)) {
            worst = Some(joint);
        }
    }
    let worst = worst?;
    let plain = of(worst) > COLOUR_PLAIN;
    let severity = match plain {
        true => Severity::Warns,
        false => Severity::Informs,
    };
    let alike = layout.joints.iter().filter(|j| of(j) == of(worst));
    let alike: Vec<&Joint> = alike.collect();
    let pairs = alike.iter().map(|j| said::pair(reckoned, j));
    let between = pairs.collect::<Vec<_>>().join(", ");
    let ends = alike.iter().flat_map(|j| [j.first, j.second]);
    let text = format!(
        "Neighbouring boards of the pattern “{}” differ in colour by {} (CIEDE2000), between fronts {between}.",
        layout.name,
        said::colour(of(worst)),
    );
    let how = match plain {
        true => "anybody will see it who looks for it",
        false => "somebody who looks for it may see it",
    };
    let of_pictures = layout.colour.as_ref().is_some_and(|c| c.of_pictures);
    let basis = match of_pictures {
        true => "These are the colours of their pictures: none was measured.",
        false => "The colour of each board was measured.",
    };
    Some(
        finding(("pattern-colour", severity), Subject::Job, place, text)
            .against(format!(
                "under about 1 hardly seen, over 2 to 3 plainly (common practice, no source){}",
                match of_pictures {
                    true => "; by the boards' pictures, as none was measured",
                    false => "",
                }
            ))
            .advise("The boards are in the order that shows it least; change boards, or have it agreed.")
            .of_group(&layout.name)
            .of_each(ends.filter_map(|f| front_of(reckoned, f)))
            .number(said::colour(of(worst)), "about 1", of(worst) as f64)
            .for_client(
                format!("Side by side, the boards of fronts {between} differ most: {how}. {basis}"),
                "They already stand in the order that shows it least. Ask to see the boards if it matters to you.",
            ),
    )
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::diag::{Diagnostics, Place};
    use crate::reckon::{fixture, reckon};
    use crate::resolve::job::{
        Avoid, Board, BoardRef, FixedPiece, Grain, Job, PatternRule, Wanted,
    };
    use crate::units::Length;

    /// One unit on a wall of 3 m with four doors of one pattern, 747 wide by hand below.
    fn job(repeat: Option<i64>, wanted: Wanted) -> Job {
        let mut job = fixture::job([3000; 4]);
        let board = &mut job.materials[fixture::FRONT.0];
        board.sheet = Some((Length::mm(2800), Length::mm(1600)));
        board.grain = Grain::Length;
        board.repeat = (None, repeat.map(Length::mm));
        job.runs = vec![fixture::four_doors_of("P")];
        job.patterns = vec![PatternRule {
            wanted,
            ..PatternRule::usual("P")
        }];
        job
    }

    // Handbook §5, worked: the saw takes 8, the gap is 3, the pattern jumps 5. Two doors a board of
    // 1600: 2 × 747 + 8 = 1502; the second board breaks the pattern between doors 2 and 3.
    #[test]
    fn a_natural_pattern_jumps_and_breaks() {
        let job = job(None, Wanted::Exact);
        let steps = found(&job, "pattern-step");
        assert!(
            steps[0]
                .text
                .contains("at 2 of its 3 joints, by 5 mm at each of them"),
            "{}",
            steps[0].text
        );
        let changes = found(&job, "pattern-changes-board");
        assert!(
            changes[0].text.ends_with("between fronts 2 and 3."),
            "{}",
            changes[0].text
        );
    }

    // Handbook §5: with a repeat of 32 the run is exact; for the least waste it jumps by 5, and the
    // change of board by what its edges come to.
    #[test]
    fn a_repeat_runs_on_exactly_or_is_reported() {
        assert!(found(&job(Some(32), Wanted::Exact), "pattern-step").is_empty());
        let waste = job(Some(32), Wanted::LeastWaste);
        assert_eq!(found(&waste, "pattern-step").len(), 1);
        assert!(found(&waste, "pattern-changes-board").is_empty());
    }

    // By hand: for an exact run at 32 two doors need 2 × 747.5 + 35 = 1530 of a board, and with 31 between, within
    // 4 of that, 1526; within 5 the saw's 8 will do, and 1503. A board of 1544 offers 1520, one of 1600 all.
    #[test]
    fn the_least_limit_that_saves_a_board_is_offered() {
        let mut job = job(Some(32), Wanted::Exact);
        let offered = |job: &Job| {
            let reckoned = reckon(job, &mut Diagnostics::default()).expect("it can be reckoned");
            let choices = reckoned.patterns[0].choices.iter();
            let each = choices.map(|c| (c.wanted, c.comes_to.map_or(0, |o| o.boards)));
            each.collect::<Vec<_>>()
        };
        let (exact, least) = (Wanted::Exact, Wanted::LeastWaste);
        assert_eq!(offered(&job), [(exact, 2), (least, 2)]);
        job.materials[fixture::FRONT.0].sheet = Some((Length::mm(2800), Length::mm(1544)));
        let limit = Wanted::Within(Length::mm(5));
        assert_eq!(offered(&job), [(exact, 4), (least, 2), (limit, 2)]);
        job.patterns[0].wanted = least;
        assert_eq!(offered(&job), [(least, 2), (exact, 4), (limit, 2)]);
    }

    // By hand: doors are 1900 − 3 high; boards of 1800 offer 1800 − 2 × 12 = 1776.
    #[test]
    fn too_high_a_front_says_by_how_much() {
        let mut job = job(None, Wanted::Exact);
        job.materials[fixture::FRONT.0].sheet = Some((Length::mm(1800), Length::mm(1600)));
        let list = found(&job, "pattern-cannot-be-cut");
        assert!(
            list[0].text.contains("needs 1897 mm")
                && list[0]
                    .text
                    .contains(", board front 1, offers 1776 mm: 121 mm are missing"),
            "{}",
            list[0].text
        );
    }

    /// Boards in hand of these widths, and none to be bought.
    fn in_hand(job: &mut Job, widths: &[i64]) {
        job.materials[fixture::FRONT.0].sheet = None;
        let board = |(n, width): (usize, &i64)| Board {
            material: fixture::FRONT,
            id: format!("b{n}"),
            sheet: (Length::mm(2800), Length::mm(*width)),
            first_crest: (Length::ZERO, Length::ZERO),
            batch: String::new(),
            lab: None,
            lab_of_picture: false,
            picture: None,
            ends_off: (Length::ZERO, Length::ZERO),
            avoid: vec![],
            place: Place::NOWHERE,
        };
        job.boards = widths.iter().enumerate().map(board).collect();
    }

    /// The doors' ids, left to right.
    fn doors(job: &Job) -> Vec<String> {
        let reckoned = reckon(job, &mut Diagnostics::default()).expect("it can be reckoned");
        reckoned.fronts.iter().map(|f| f.id.clone()).collect()
    }

    fn settle(job: &mut Job, front: &str, board: usize, at: i64) {
        job.patterns[0].fixed.push(FixedPiece {
            front: front.into(),
            board: BoardRef(board),
            at: Length::mm(at),
            place: Place::NOWHERE,
        });
    }

    fn cannot(job: &Job) -> String {
        let list = found(job, "pattern-cannot-be-cut");
        list.first().map_or(String::new(), |f| f.text.clone())
    }

    // By hand: doors are 747.5 wide; of a board of 1600 less 12 either side 1588 − 747.5 = 840.5 is the last place,
    // so that at 900 the door lies 59.5 beyond; a flaw from 300 to 320 is taken in whole from 200 on.
    #[test]
    fn a_settled_front_that_cannot_be_cut_says_why() {
        let mut job = job(None, Wanted::Exact);
        in_hand(&mut job, &[1600, 1600, 1600]);
        let doors = doors(&job);
        let with = |settled: &[(usize, usize, i64)], avoid: Vec<Avoid>| {
            let mut job = job.clone();
            job.boards[0].avoid = avoid;
            for (door, board, at) in settled {
                settle(&mut job, &doors[*door], *board, *at);
            }
            cannot(&job)
        };
        assert_eq!(with(&[(0, 0, 840)], vec![]), "");
        let said = with(&[(0, 0, 900)], vec![]);
        assert!(said.starts_with("Front 1 of"), "{said}");
        assert!(
            said.contains("board b0 with its left edge at 900 mm"),
            "{said}"
        );
        assert!(
            said.contains("59.5 mm beyond what can be used of the board's width"),
            "{said}"
        );
        let knot = Avoid {
            from: (Length::mm(100), Length::mm(300)),
            to: (Length::mm(150), Length::mm(320)),
            what: "knot".into(),
        };
        let said = with(&[(0, 0, 200)], vec![knot]);
        assert!(said.contains("20 mm of a flaw (knot)"), "{said}");
        // The first door ends at 12 + 747.5 at the nearest, the saw takes 8, and 767.5 − 700 = 67.5.
        let said = with(&[(1, 0, 700)], vec![]);
        assert!(said.starts_with("Front 2 of"), "{said}");
        assert!(
            said.contains("front 1 before it, at its nearest, reaches 67.5 mm into it"),
            "{said}"
        );
        // Two doors a board: the third cannot come from the first board.
        let said = with(&[(3, 0, 840)], vec![]);
        assert!(
            said.contains("front 3 before it cannot be cut from this board or one before"),
            "{said}"
        );
        let said = with(&[(0, 0, 12), (0, 1, 12)], vec![]);
        assert!(said.contains("settled in another place too"), "{said}");
    }

    // By hand: two doors take 2 × 747.5 + 8 = 1503 of a board, so that the third needs 747.5 of the second,
    // which offers 700 less 24: 71.5 are missing; the first would need 12 + 3 × 747.5 + 2 × 8 − 1588 = 682.5.
    // With a flaw 740 from its edge, a board of 1000 has its first clear place at 760: 760 + 747.5 − 988 = 519.5.
    #[test]
    fn a_front_without_a_board_says_how_much_is_missing_and_where() {
        let mut job = job(None, Wanted::Exact);
        in_hand(&mut job, &[1600, 700]);
        let said = cannot(&job);
        assert!(said.starts_with("No board is left for front 3 "), "{said}");
        assert!(
            said.contains("on board b1, where the least is missing, it is 71.5 mm of its width"),
            "{said}"
        );
        in_hand(&mut job, &[1600, 1000]);
        job.boards[1].avoid = vec![Avoid {
            from: (Length::mm(100), Length::mm(740)),
            to: (Length::mm(150), Length::mm(760)),
            what: "knot".into(),
        }];
        let said = cannot(&job);
        assert!(
            said.contains("on board b1, where the least is missing, it is 519.5 mm of its width"),
            "{said}"
        );
        in_hand(&mut job, &[1600, 1000]);
        job.boards[1].sheet.0 = Length::mm(1800);
        let said = cannot(&job);
        assert!(
            said.contains("on board b1, where the least is missing, it is 121 mm of its height"),
            "{said}"
        );
    }

    // By hand: an end without a panel or filler has nothing that could carry a pattern on; with a
    // panel of another board the saw cannot give it the fronts' pattern.
    #[test]
    fn an_end_that_cannot_carry_the_pattern_on_is_reported() {
        let mut job = job(Some(32), Wanted::Exact);
        assert!(found(&job, "pattern-not-carried").is_empty());
        job.runs[0].right.pattern = Some("P".into());
        let list = found(&job, "pattern-not-carried");
        assert!(
            list[0].text.contains("over the right end of Run"),
            "{}",
            list[0].text
        );
        job.runs[0].right.panel = Some(fixture::CARCASS);
        assert_eq!(found(&job, "pattern-not-carried").len(), 1);
        job.runs[0].right.panel = Some(fixture::FRONT);
        assert!(found(&job, "pattern-not-carried").is_empty());
    }
}
