//! Rules, words, options, sums: what is raised, what may be said of it, what is refused.

use std::collections::BTreeSet;

use super::*;
use crate::diag::{Code, Place};
use crate::reckon::{fixture, reckon};
use crate::resolve::job::{FrontKind, Risk, RiskOption};
use crate::units::Length;

fn of(job: &Job) -> (Risks, Vec<Code>) {
    let mut diags = Diagnostics::default();
    let reckoned = reckon(job, &mut diags).expect("reckons");
    let risks = risks(job, &reckoned, &mut diags);
    (risks, diags.sorted().iter().map(|d| d.code).collect())
}

fn said(id: &str, declared: bool) -> Risk {
    Risk {
        id: id.into(),
        declared,
        title: declared.then(|| "The cat".into()),
        text: declared.then(|| "The cat may scratch it.".into()),
        doing: None,
        cannot: None,
        on: vec![],
        number: None,
        limit: None,
        roles: None,
        weight: None,
        options: vec![],
        choice: None,
        place: Place::NOWHERE,
    }
}

fn option(id: &str, kind: OptionKind, price: i64) -> RiskOption {
    RiskOption {
        id: id.into(),
        kind,
        words: Some("We do something.".into()),
        price: Some(Money::thousandths(price * 1000)),
        when: None,
        until: None,
        called: None,
        not_needed: None,
        place: Place::NOWHERE,
    }
}

#[test]
fn a_latch_is_told_of_the_fronts_that_have_one() {
    let mut job = fixture::job([3000, 3000, 3000, 3000]);
    let mut run = fixture::run(2);
    run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
    run.units[1].rows = vec![fixture::row(None, FrontKind::Drawer, 2)];
    job.runs = vec![run];
    let raised = |job: &Job| {
        let (risks, codes) = of(job);
        assert!(codes.is_empty());
        let latch = risks.disclosures.iter().find(|d| d.id == "latch");
        latch.map(|d| d.subjects.len())
    };
    assert_eq!(raised(&job), None);
    for row in job.runs[0].units.iter_mut().flat_map(|u| &mut u.rows) {
        for cell in &mut row.cells {
            cell.style.latch = Some(fixture::HANDLE);
        }
    }
    assert_eq!(raised(&job), Some(2), "the doors, not the drawers");
}

fn day(year: u16, month: u8, day: u8) -> Date {
    Date { year, month, day }
}

/// Every rule has words, its words name only what the rule has, and no words are without a rule.
#[test]
fn every_rule_has_words_and_every_name_in_braces_is_supplied() {
    let all = wording::all().expect("templates/disclosures.toml reads");
    let rules: BTreeSet<&str> = rules::RULES.iter().map(|r| r.id).collect();
    assert_eq!(rules, all.keys().map(String::as_str).collect());
    for rule in rules::RULES {
        let w = &all[rule.id];
        for must in [&w.title, &w.text, &w.doing, &w.cannot] {
            assert!(!must.is_empty(), "{}: {w:?}", rule.id);
        }
        assert!(!w.nothing.is_empty() || !w.change.is_empty(), "{}", rule.id);
        assert_eq!(w.contingency.is_empty(), w.when.is_empty(), "{}", rule.id);
        for text in [
            &w.title,
            &w.text,
            &w.doing,
            &w.cannot,
            &w.nothing,
            &w.change,
            &w.contingency,
            &w.when,
        ] {
            for name in text.split('{').skip(1) {
                let name = name.split_once('}').expect("closed").0;
                if let Some(one) = wording::by_number(name, false) {
                    let several = wording::by_number(name, true);
                    assert!(
                        !one.is_empty() && several != Some(one),
                        "{}: {text}",
                        rule.id
                    );
                    continue;
                }
                // A number is reckoned of what a finding raised; facts alone have none.
                let known = match name {
                    "number" | "limit" => !rule.codes.is_empty(),
                    "name" => matches!(
                        rule.id,
                        "step" | "boards" | "colour" | "moisture" | "variation"
                    ),
                    _ => false,
                };
                assert!(known, "{}: {{{name}}}", rule.id);
            }
        }
    }
}

#[test]
fn findings_of_one_rule_make_one_disclosure_with_the_worst_number() {
    let job = fixture::shelves(2);
    let (risks, codes) = of(&job);
    assert!(codes.is_empty());
    let shelf: Vec<&Disclosure> = risks
        .disclosures
        .iter()
        .filter(|d| d.id == "shelf")
        .collect();
    assert_eq!(shelf.len(), 1);
    let number = shelf[0].figure.as_ref().expect("number");
    assert!(number.found.ends_with(" mm") && number.limit.ends_with(" mm"));
    assert!(!shelf[0].text.contains(['{', '}']));
    // Told once: by what was found, and not again by itself.
    let mut diags = Diagnostics::default();
    let reckoned = reckon(&job, &mut diags).expect("reckons");
    assert!(told::tells(
        &told::in_detail(&reckoned, shelf[0]),
        &number.found
    ));
    assert_eq!(told::number(&reckoned, shelf[0]), None);
    let mut own = shelf[0].clone();
    own.figure = Some(Number {
        found: "80 %".into(),
        limit: "60 %".into(),
    });
    let said = told::number(&reckoned, &own);
    assert_eq!(said.as_deref(), Some("80 %, held against 60 %"));
}

/// One front that stands open before a doorway is told of as one, two as several: by what is asked for in the
/// wording.
#[test]
fn a_risk_of_several_things_is_worded_so() {
    let words = |several| {
        let fill = build::Fill {
            figure: None,
            name: "",
            several,
        };
        fill.words(&wording::of("across").title)
    };
    assert_eq!(words(false), "An open door stands before a doorway");
    assert_eq!(words(true), "Open doors stand before a doorway");
}

/// A board that varies is named, with the end panels and plinths that are of it.
#[test]
fn what_varies_is_named_with_all_that_is_made_of_it() {
    let mut job = fixture::job([3000; 4]);
    let mut run = fixture::run(1);
    run.name = "Long wall".into();
    run.left.panel = Some(fixture::FRONT);
    run.units[0].rows = vec![fixture::row(None, FrontKind::Door, 2)];
    job.runs = vec![run];
    let varies = fixture::FRONT.0;
    job.materials[varies].name = "Burr elm".into();
    job.materials[varies].varies = true;
    let (risks, codes) = of(&job);
    assert!(codes.is_empty(), "{codes:?}");
    let all = risks.disclosures.iter();
    let one = all.clone().find(|d| d.id == "variation").expect("raised");
    assert!(
        one.text.starts_with("Of \u{201c}Burr elm\u{201d} no two"),
        "{}",
        one.text
    );
    assert_eq!(one.about, "fronts 1, 2; end panels and plinth of Long wall");
}

#[test]
fn what_is_said_goes_over_the_rules_words_and_a_choice_is_priced() {
    let mut job = fixture::shelves(2);
    let mut risk = said("shelf", false);
    risk.title = Some("Books are heavy".into());
    risk.options = vec![
        option("change", OptionKind::Change, 120),
        option("later", OptionKind::Contingency, 80),
    ];
    risk.choice = Some(("later".into(), Place::NOWHERE));
    job.risks = vec![risk];
    let (risks, codes) = of(&job);
    assert!(codes.is_empty(), "{codes:?}");
    let d = risks
        .disclosures
        .iter()
        .find(|d| d.id == "shelf")
        .expect("raised");
    assert_eq!(d.title, "Books are heavy");
    let states: Vec<(&str, State)> = d.options.iter().map(|o| (o.id.as_str(), o.state)).collect();
    assert_eq!(
        states,
        [
            ("nothing", State::NotTaken),
            ("change", State::NotTaken),
            ("later", State::Accepted)
        ]
    );
    assert_eq!(risks.sums.put_aside, Money::thousandths(80_000));
    assert_eq!(risks.sums.certain(), Money::ZERO);
    assert_eq!(risks.sums.at_most(), Money::thousandths(80_000));
}

/// Offered, accepted, called, not needed, expired: by the day of the file.
#[test]
fn a_contingency_keeps_its_life() {
    let mut job = fixture::shelves(2);
    job.info.date = day(2026, 6, 1);
    let state = |job: &Job| {
        let (risks, codes) = of(job);
        assert!(codes.is_empty(), "{codes:?}");
        let d = risks
            .disclosures
            .iter()
            .find(|d| d.id == "cat")
            .expect("declared");
        (d.options[0].state, risks.sums)
    };
    let mut risk = said("cat", true);
    risk.options = vec![option("glass", OptionKind::Contingency, 200)];
    job.risks = vec![risk];
    assert_eq!(state(&job).0, State::Offered);
    job.risks[0].options[0].until = Some(day(2026, 5, 31));
    assert_eq!(state(&job).0, State::Expired(day(2026, 5, 31)));
    job.risks[0].options[0].until = Some(day(2026, 6, 1));
    assert_eq!(state(&job).0, State::Offered);
    job.risks[0].choice = Some(("glass".into(), Place::NOWHERE));
    assert_eq!(state(&job).0, State::Accepted);
    job.risks[0].options[0].called = Some(day(2026, 5, 20));
    let (called, sums) = state(&job);
    assert_eq!(called, State::Called(day(2026, 5, 20)));
    assert_eq!(sums.certain(), Money::thousandths(200_000));
    job.risks[0].options[0].called = None;
    job.risks[0].options[0].not_needed = Some(day(2026, 5, 20));
    let (over, sums) = state(&job);
    assert_eq!(over, State::NotNeeded(day(2026, 5, 20)));
    assert_eq!(sums.at_most(), Money::ZERO);
    job.risks[0].options[0].not_needed = None;
    job.info.date = day(2026, 6, 2);
    assert_eq!(state(&job).0, State::Expired(day(2026, 6, 1)));
}

#[test]
fn what_is_not_raised_or_not_offered_is_refused() {
    let mut job = fixture::shelves(2);
    job.risks = vec![said("bow", false)];
    assert_eq!(of(&job).1, [Code::RiskNotRaised]);
    // A rule's own word is no id of somebody else's risk, raised or not.
    for id in ["shelf", "bow"] {
        job.risks = vec![said(id, true)];
        assert_eq!(of(&job).1, [Code::DuplicateId]);
    }
    let mut risk = said("shelf", false);
    risk.choice = Some(("glue".into(), Place::NOWHERE));
    job.risks = vec![risk];
    assert_eq!(of(&job).1, [Code::DanglingReference]);
    // What no survey tells is raised by naming it.
    for id in ["damp", "use", "sample", "stays"] {
        job.risks = vec![said(id, false)];
        let (risks, codes) = of(&job);
        assert!(codes.is_empty());
        assert!(risks.disclosures.iter().any(|d| d.id == id), "{id}");
    }
}

/// Units 2400 high on feet under a ceiling of 2440 blocks, and no client can agree to it; a way in that is too
/// small somebody on site may know better.
#[test]
fn only_some_of_what_blocks_may_be_agreed_away() {
    let mut job = fixture::job([3000, 4000, 3000, 4000]);
    job.runs = vec![fixture::run(2)];
    for unit in &mut job.runs[0].units {
        unit.top = Length::mm(2500);
    }
    let (risks, _) = of(&job);
    let tall = risks
        .disclosures
        .iter()
        .find(|d| d.id == "stand-up")
        .expect("too tall");
    assert!(!tall.may_be_agreed && tall.severity == Severity::Blocks);
    assert!(tall.options.iter().all(|o| o.kind != OptionKind::Nothing));
    let mut risk = said("stand-up", false);
    risk.options = vec![option("nothing", OptionKind::Nothing, 0)];
    job.risks = vec![risk];
    assert_eq!(of(&job).1, [Code::MustBeSettled]);
}

#[test]
fn a_way_in_that_is_too_small_may_be_agreed() {
    let mut job = fixture::job([3000; 4]);
    job.runs = vec![fixture::run(1)];
    job.way_in = vec![crate::resolve::job::Obstacle {
        kind: crate::resolve::job::ObstacleKind::Door,
        what: "hatch".into(),
        width: Length::mm(300),
        height: Length::mm(300),
        width_after: None,
    }];
    let (risks, _) = of(&job);
    let d = risks
        .disclosures
        .iter()
        .find(|d| d.id == "way-in")
        .expect("stuck");
    assert!(d.may_be_agreed && d.severity == Severity::Blocks);
    assert!(risks.agreed_away.is_empty());
    for (choice, away) in [("nothing", true), ("change", false)] {
        let mut risk = said("way-in", false);
        risk.choice = Some((choice.into(), Place::NOWHERE));
        job.risks = vec![risk];
        assert_eq!(!of(&job).0.agreed_away.is_empty(), away, "{choice}");
    }
}

/// The longest, the largest and the oddest that a file can say.
#[test]
fn hostile_words_and_amounts_are_only_words_and_amounts() {
    let mut job = fixture::shelves(2);
    let mut risk = said("shelf", false);
    risk.title = Some("{number}{limit}{{name}}{".into());
    risk.number = Some("{limit}".into());
    let mut option = option("x", OptionKind::Change, 0);
    option.price = Some(Money::thousandths(i64::MAX));
    let mut twin = option.clone();
    twin.id = "y".into();
    twin.kind = OptionKind::Contingency;
    risk.options = vec![option, twin];
    risk.choice = Some(("x".into(), Place::NOWHERE));
    let mut other = said("cat", true);
    other.options.clone_from(&risk.options);
    other.choice = Some(("y".into(), Place::NOWHERE));
    other.on = vec![
        Subject::Unit(9, 9),
        Subject::Run(99),
        Subject::Front("none".into()),
    ];
    job.risks = vec![risk, other];
    let (risks, codes) = of(&job);
    assert!(codes.is_empty(), "{codes:?}");
    assert_eq!(risks.sums.at_most(), Money::thousandths(i64::MAX));
    let shelf = risks
        .disclosures
        .iter()
        .find(|d| d.id == "shelf")
        .expect("raised");
    assert_eq!(shelf.title, "{number}{limit}{{name}}{");
    let reckoned = reckon(&job, &mut Diagnostics::default()).expect("reckons");
    assert!(words::about(&job, &reckoned, &[Subject::Unit(9, 9)]).contains("the whole job"));
}

#[test]
fn somebody_must_be_there_to_agree() {
    let mut job = fixture::shelves(2);
    let mut risk = said("shelf", false);
    risk.roles = Some(vec!["harbour master".into()]);
    job.risks = vec![risk];
    assert_eq!(of(&job).1, [Code::DanglingReference]);
    job.risks[0].roles = Some(vec![FITTER.into()]);
    assert!(of(&job).1.is_empty());
}
