//! Whole drawings, judged by the collision finder. Knows the samples, not how they are placed.

mod samples;

use rodbook::draw::pack;
use rodbook::draw::place::{self, Item, Part, Placed, Text, collisions};
use rodbook::draw::scene::Pt;
use rodbook::draw::{sheet, svg};
use rodbook::emit::png;
use rodbook::resolve::job::Sheets;

#[test]
fn sheets_that_sections_share_have_no_collision() {
    let scenes: Vec<_> = ["robe", "larder", "sink"].map(samples::section).into();
    for paper in [Sheets::A3, Sheets::A4] {
        let sheets = pack::arrange(&scenes, paper, 20).expect("they fit");
        assert_eq!(sheets.iter().map(|s| s.1).sum::<usize>(), scenes.len());
        for (placed, _) in sheets {
            assert_eq!(collisions(&placed), [], "{paper:?}");
        }
    }
}

#[test]
fn samples_have_no_collision() {
    for scene in [
        samples::crowded(),
        samples::elevation(),
        samples::plan(),
        samples::section("robe"),
    ] {
        for paper in [Sheets::A3, Sheets::A4] {
            for scale in [20, 50, 100] {
                let area = sheet::frame(paper);
                let part = Part::whole(&scene);
                let room = place::room_above(part.footer(scale), area);
                let Some(base) = place::base(&part, scale, room, place::Care::Usual) else {
                    continue;
                };
                for margins in place::callouts::Notes::ALL {
                    let Some(figure) = base.noted(margins, room) else {
                        continue;
                    };
                    let placed = place::sheet(&[figure], part.footer(scale), area).expect("sheet");
                    assert_eq!(
                        collisions(&placed),
                        [],
                        "{} 1:{scale} {paper:?} {margins:?}",
                        scene.id
                    );
                }
            }
        }
    }
}

/// Lines of one style share an element of SVG and are moved from one to the next: each must stand where
/// it would stand alone. Reference: the same line in an element of its own, read by usvg.
#[test]
fn words_that_share_an_element_stand_where_they_would_alone() {
    const WORDS: [&str; 9] = [
        "1954",
        "scribe: 25 at foot, 30 at head",
        "Ta VA offset & left",
        "Żółć \u{2212}910",
        "Жук, Ώχρα",
        "a  b",
        "\u{e9} e\u{301}",
        "900 \u{d7} 2030",
        "W1",
    ];
    for first in 0..WORDS.len() {
        let texts: Vec<Item> = (0..12_usize)
            .map(|row| {
                let words = WORDS[(first + row * (first % 2)) % WORDS.len()];
                let mut text = Text::line(words, if row % 5 == 0 { 3.5 } else { 2.5 });
                text.turned = row % 4 == 3;
                text.knock = false;
                let row = row as f64;
                let down = 6.0 * row;
                let along = if text.turned { 120.0 } else { 40.0 };
                Item::Text(text.at(Pt::new(along + row, 6.0 + down)))
            })
            .collect();
        let together = ink(&texts);
        let mut alone = vec![255_u8; together.len()];
        for text in &texts {
            for (dot, one) in alone.iter_mut().zip(ink(std::slice::from_ref(text))) {
                *dot = (*dot).min(one);
            }
        }
        let inked = alone.iter().filter(|d| **d < 128).count();
        let differ = together.iter().zip(&alone);
        let differ = differ.filter(|(a, b)| a.abs_diff(**b) > 48).count();
        assert!(inked > 500, "{first}: {inked}");
        assert!(differ * 50 < inked, "{first}: {differ} of {inked}");
    }
}

/// The dots of these items on a sheet by themselves.
fn ink(items: &[Item]) -> Vec<u8> {
    let svg = svg::write(&Placed {
        width: 160.0,
        height: 80.0,
        scale: 1,
        items: items.to_vec(),
    });
    let bytes = png::png(&svg, 150.0).expect("a PNG");
    let picture = image::load_from_memory(&bytes).expect("a PNG");
    picture.to_luma8().into_raw()
}

mod any {
    //! Scenes at random: units of any width, chains of any stops, notes anywhere.

    use proptest::prelude::*;

    use rodbook::draw::scene::*;

    use super::samples::{self, mm};

    fn unit() -> impl Strategy<Value = (f64, f64, bool)> {
        (1u32..900, 100u32..2300, any::<bool>())
            .prop_map(|(w, h, swing)| (f64::from(w), f64::from(h), swing))
    }

    fn words() -> impl Strategy<Value = String> {
        prop::collection::vec("[a-zĄ-žα-ω]{1,11}", 1..14).prop_map(|w| w.join(" "))
    }

    fn chain() -> impl Strategy<Value = Chain> {
        let side = prop::sample::select(vec![
            ChainSide::Above,
            ChainSide::Below,
            ChainSide::Left,
            ChainSide::Right,
        ]);
        let stops = prop::collection::vec(-2_400_000_i64..6_000_000, 0..14);
        (side, 0u8..4, stops, any::<bool>(), "[a-z]{0,9}").prop_map(
            |(side, tier, stops, run, name)| {
                // Heights lie between ceiling and floor, widths along the wall.
                let fold = |um: i64| match side {
                    ChainSide::Above | ChainSide::Below => um.abs(),
                    ChainSide::Left | ChainSide::Right => -um.abs() * 2 / 5,
                };
                let stops = stops
                    .into_iter()
                    .map(|s| rodbook::units::Length::um(fold(s)))
                    .collect();
                Chain {
                    side,
                    tier,
                    stops,
                    reach: vec![mm(0.0)],
                    name,
                    running_from: run.then_some(mm(0.0)),
                    stands: Vec::new(),
                    silent: Vec::new(),
                    named: Vec::new(),
                }
            },
        )
    }

    pub fn scene() -> impl Strategy<Value = Scene> {
        let units = prop::collection::vec(unit(), 1..24);
        let chains = prop::collection::vec(chain(), 0..6);
        let notes = prop::collection::vec((0.0..1.0f64, 0.0..1.0f64, words(), any::<bool>()), 0..9);
        (units, chains, notes).prop_map(|(units, chains, notes)| {
            let mut s = Scene {
                id: "any".into(),
                ..Scene::default()
            };
            let (mut x, mut stops, mut top) = (0.0, vec![0.0], 0.0_f64);
            for (i, (w, h, swing)) in units.into_iter().enumerate() {
                let r = Rect {
                    x0: x,
                    y0: -h,
                    x1: x + w,
                    y1: 0.0,
                };
                s.marks.push(samples::rect(
                    Role::Edge,
                    Fill::White,
                    r.x0,
                    r.y0,
                    r.x1,
                    r.y1,
                ));
                if swing {
                    let lines = [(r.x1, r.y0), (r.x0, r.centre().y), (r.x1, r.y1)];
                    s.marks.push(samples::path(Role::Swing, &lines));
                }
                s.labels.push(Label {
                    frame: LabelFrame::Circle,
                    lettering: Lettering::Strong,
                    bold: true,
                    rank: 0,
                    listed: String::new(),
                    ..samples::label(&(i + 1).to_string(), r.centre().x, r.centre().y, Some(r))
                });
                s.labels.push(samples::label(
                    "washer and dryer",
                    r.centre().x,
                    -90.0,
                    Some(r),
                ));
                x += w;
                stops.push(x);
                top = top.max(h);
            }
            s.chains
                .push(samples::chain(ChainSide::Below, 0, &stops, 0.0));
            s.chains
                .push(samples::chain(ChainSide::Below, 1, &[0.0, x], 0.0));
            s.chains.extend(chains);
            s.callouts = notes
                .into_iter()
                .map(|(u, v, text, balloon)| Callout {
                    target: Pt::new(u * x, -v * top),
                    text,
                    balloon: balloon.then(|| "7".to_string()),
                    aside: false,
                })
                .collect();
            s.may_part_at = stops[1..stops.len() - 1].to_vec();
            s.legend = vec![LegendItem {
                sample: LegendSample::Line(Role::Swing),
                text: "swing".into(),
            }];
            s
        })
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig {
        cases: 12,
        max_shrink_iters: 300,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(17),
        ..proptest::prelude::ProptestConfig::default()
    })]

    #[test]
    fn no_scene_collides(scene in any::scene(), a3 in proptest::bool::ANY) {
        let paper = if a3 { Sheets::A3 } else { Sheets::A4 };
        if let Ok(sheets) = sheet::arrange(&scene, paper, 20) {
            for s in sheets {
                let found = collisions(&s.placed);
                let dump = place::scene_dump(&scene);
                proptest::prop_assert!(found.is_empty(), "{:?}\n{}", found, dump);
            }
        }
    }
}
