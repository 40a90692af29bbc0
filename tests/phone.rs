//! The page a client answers on: that nothing of a project gets out of its text, that it asks for nothing
//! from outside, and that its colours can be told apart. What it does in a browser: `tests/browser`.

use std::path::PathBuf;

use rodbook::app;
use rodbook::compare::Standing;
use rodbook::phone::asked::{Asked, Choice, Figure, Group, Listed, Question, RISKS, Signer};
use rodbook::phone::{Drawn, page};
use rodbook::signoff::reply::Reply;
use rodbook::units::Money;

use crate::support::root;

/// Where the pages lie that `tests/browser/check.py` opens.
fn pages() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("reply");
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn question(key: &str, title: &str) -> Question {
    Question {
        key: key.to_owned(),
        hash: format!("{:064x}", key.len()),
        title: title.to_owned(),
        roles: vec!["client".to_owned()],
        ..Question::default()
    }
}

fn choice(id: &str, words: &str, whole: i64) -> Choice {
    Choice {
        id: id.to_owned(),
        words: words.to_owned(),
        price: match whole {
            0 => String::new(),
            n => format!("{n}.00 crowns"),
        },
        adds: Some(Money::thousandths(whole * 1000)),
        only_if: false,
        more: vec!["If nothing is done, it stays as it is.".to_owned()],
    }
}

/// Two who sign, one drawing, two risks with options. All invented.
fn small() -> Asked {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"80mm\" height=\"40mm\" viewBox=\"0 0 80 40\">\
        <rect x=\"2\" y=\"2\" width=\"76\" height=\"36\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.5\"/>\
        <text x=\"30\" y=\"20\" dx=\"0 0 -20 0\" dy=\"0 0 8 0\" font-size=\"5\">A BC</text></svg>";
    let mut wall = question("elevation hall.A", "Elevation: Hall, wall A");
    wall.figures.push(Figure {
        title: "Hall, elevation A".to_owned(),
        alt: "Wall A of the hall with two doors.".to_owned(),
        svg: svg.to_owned(),
    });
    let mut bow = question("disclosure bow", "Tall doors may bow");
    bow.words.push("A tall door can bend by 5 mm.".to_owned());
    bow.choices = vec![
        choice("none", "Do nothing", 0),
        Choice {
            price: "240.50 crowns".to_owned(),
            adds: Some(Money::thousandths(240_500)),
            ..choice("bar", "A straightening bar in each door", 0)
        },
        Choice {
            only_if: true,
            ..choice("later", "A bar for each door that bends", 12_345)
        },
        Choice {
            adds: None,
            ..choice("other", "Another door", 0)
        },
    ];
    bow.keys.push(Figure {
        title: "Hall, wall A".to_owned(),
        alt: "Hall, wall A, doors 1 and 2 filled.".to_owned(),
        svg: svg.to_owned(),
    });
    bow.seen_on = vec!["elevation hall.A".to_owned()];
    let mut step = question("disclosure step", "The pattern jumps at a joint");
    step.choices = vec![
        choice("none", "Leave it", 0),
        choice("board", "One more board", 1000),
    ];
    step.roles.push("designer".to_owned());
    Asked {
        job: "HL-3".to_owned(),
        title: "A hall".to_owned(),
        workshop: "Crooked Inch Joiners".to_owned(),
        client: "Tilda Umbrage-Fennel".to_owned(),
        site: "1 Nowhere Lane".to_owned(),
        date: "2 March 2026".to_owned(),
        revision: "B".to_owned(),
        draft: false,
        issue: "c0ffee".repeat(11)[..64].to_owned(),
        currency: "crowns".to_owned(),
        send_to: "Odelia Thrupp-Marrow".to_owned(),
        note: Vec::new(),
        signers: vec![
            Signer {
                name: "Tilda Umbrage-Fennel".to_owned(),
                role: "client".to_owned(),
            },
            Signer {
                name: "Odelia Thrupp-Marrow".to_owned(),
                role: "designer".to_owned(),
            },
        ],
        groups: vec![
            Group {
                title: "The drawings",
                lead: &[],
                questions: vec![wall],
            },
            Group {
                title: RISKS,
                lead: &[],
                questions: vec![bow, step],
            },
        ],
    }
}

/// What somebody might write into a project file to get out of a page: each stands for what it breaks out of.
const HOSTILE: &[&str] = &[
    "</script><script>window.broken = 1</script>",
    "<!--<script>",
    "\"><img src=x onerror=\"window.broken = 1\">",
    "' onfocus='window.broken = 1' autofocus='",
    "</style></title></textarea></svg>",
    "{{ 7 * 7 }}{% raw %}",
    "\u{202e}right to left\u{2066} \u{5d0}\u{5d1}\u{5d2}",
    "\u{2028}\u{2029}\u{0}\u{7f}",
    "javascript:window.broken=1",
    "\\u003c\\\"\\",
];

fn hostile() -> Asked {
    let long = "unbreakable".repeat(40);
    let all = HOSTILE.concat() + &long;
    let mut question = question("note \"<&>'", &all);
    question.words = HOSTILE.iter().map(|h| (*h).to_owned()).collect();
    question.facts = vec![(all.clone(), all.clone())];
    question.lists = vec![Listed {
        title: "Notes to you",
        rows: vec![(all.clone(), all.clone())],
    }];
    question.figures = vec![Figure {
        title: all.clone(),
        alt: all.clone(),
        svg: "<svg viewBox=\"0 0 9 9\"><text x=\"1\" y=\"5\" font-size=\"2\">&lt;script>&amp;\"</text></svg>"
            .to_owned(),
    }];
    question.choices = vec![Choice {
        id: all.clone(),
        words: all.clone(),
        price: all.clone(),
        adds: Some(Money::thousandths(i64::MAX)),
        only_if: false,
        more: vec![all.clone()],
    }];
    Asked {
        job: all.clone(),
        title: all.clone(),
        workshop: all.clone(),
        client: all.clone(),
        site: all.clone(),
        date: all.clone(),
        revision: all.clone(),
        draft: false,
        issue: all.clone(),
        currency: all.clone(),
        send_to: all.clone(),
        note: vec![all.clone()],
        signers: ["a", "b"]
            .map(|n| Signer {
                name: format!("{n}{all}"),
                role: "client".to_owned(),
            })
            .to_vec(),
        groups: vec![Group {
            title: RISKS,
            lead: &[],
            questions: vec![question],
        }],
    }
}

fn example() -> String {
    let prepared = app::prepare(&root().join("example-project/project.toml"));
    let record = prepared.record().expect("sound");
    let (job, reckoned) = prepared.job.as_ref().expect("sound");
    let [client, _, _] = app::drawings(job, reckoned).expect("drawn");
    let standing = Standing {
        hash: "0123456789abcdef".repeat(4),
        ..Standing::default()
    };
    let keys = rodbook::draw::keys(job, reckoned, &prepared.risks);
    let drawn = Drawn {
        drawings: &client,
        keys: &keys,
    };
    let asked = rodbook::phone::asked(job, reckoned, record, &prepared.risks, drawn, &standing);
    let html = page(&asked).expect("a page");
    assert_eq!(
        html,
        page(&asked).expect("a page"),
        "the same bytes each time"
    );
    html
}

#[test]
fn pages_for_the_browser_are_written() {
    for (name, html) in [
        ("small", page(&small()).expect("a page")),
        ("hostile", page(&hostile()).expect("a page")),
        ("example", example()),
    ] {
        std::fs::write(pages().join(format!("{name}.html")), html).expect("written");
    }
}

/// Every subject of the client's is asked, with its drawings, in a file that a message can carry.
#[test]
fn the_example_asks_for_all_that_the_client_signs() {
    let prepared = app::prepare(&root().join("example-project/project.toml"));
    let record = prepared.record().expect("sound");
    let html = example();
    assert!(html.len() < 1_500_000, "{} bytes", html.len());
    let island = island(&html);
    let asked = island["subjects"].as_array().expect("subjects");
    let subjects = rodbook::compare::subjects::subjects(record);
    let mine = subjects
        .iter()
        .filter(|s| s.roles.iter().any(|r| r == "client"));
    for subject in mine.clone() {
        let found = asked.iter().find(|a| a["key"] == subject.key.as_str());
        let found = found.unwrap_or_else(|| panic!("{} is not asked", subject.key));
        assert_eq!(found["hash"], subject.hash.as_str());
    }
    assert_eq!(asked.len(), mine.count());
    assert!(html.matches("<figure>").count() >= 15);
}

/// Sizes, handles, counts and notes of the client's pack stand by what he agrees to: by hand from the
/// example's file and its lists on paper.
#[test]
fn the_example_shows_the_lists_and_notes_of_the_pack() {
    let html = example();
    for said in [
        "door, 555.5 × 1954, hinged left, handle 1050 up from the floor; Smoked larch veneer, Hard oil",
        "3 drawers behind doors",
        "1450 × 604, its top at 895, its edge 30 high; Quiet grey solid surface; cut out for the sink",
        "The door slides over the wall: keep this stretch free of pictures.",
        "Nothing stands below 1700: room for brooms and a step ladder.",
        "<dt><bdi>Full-extension runner</bdi></dt><dd><bdi>17</bdi></dd>",
    ] {
        assert!(html.contains(said), "{said}");
    }
    assert!(!html.contains("Keep packing"), "the fitter's note");
}

/// What the script reads, as the browser would take it from the page.
fn island(html: &str) -> serde_json::Value {
    let (_, after) = html
        .split_once("<script type=\"application/json\" id=\"asked\">")
        .expect("an island");
    let (json, _) = after.split_once("</script>").expect("its end");
    serde_json::from_str(json).expect("JSON")
}

#[test]
fn nothing_of_a_project_gets_out_of_its_text() {
    let html = page(&hostile()).expect("a page");
    // Tags that the template has itself: one more or less, and something got out.
    let plain = page(&small()).expect("a page");
    for tag in [
        "<script", "</script", "<style", "</style", "<title", "</title", "<img", "<!--",
    ] {
        let (found, usual) = (html.matches(tag).count(), plain.matches(tag).count());
        assert_eq!(found, usual, "{tag}");
    }
    assert!(!html.contains("onerror=\""));
    // A template in a project's words is not run.
    assert!(html.contains("{{ 7 * 7 }}"));
    // And it is still what the project says.
    let told = island(&html);
    assert_eq!(told["job"], hostile().job.as_str());
    assert_eq!(
        told["subjects"][0]["options"][0]["id"],
        hostile().job.as_str()
    );
}

/// By its text: what the browser's own log of requests says is in `tests/browser`.
#[test]
fn no_address_leads_out_of_the_file() {
    for html in [page(&small()).expect("a page"), example()] {
        assert!(html.contains("default-src 'none'"));
        for mark in [
            "src=\"",
            "href=\"",
            "url(",
            "action=\"",
            "@import",
            "http:",
            "https:",
            "//#",
        ] {
            for (at, _) in html.match_indices(mark) {
                let rest: String = html[at + mark.len()..].chars().take(24).collect();
                let inside = ["#", "data:", "&#x", "blob:"]
                    .iter()
                    .any(|ok| rest.starts_with(ok));
                assert!(inside, "{mark}{rest}");
            }
        }
        assert!(
            !html.contains(" style=\""),
            "the policy lets no style stand in line"
        );
    }
}

/// WCAG 2.2, "relative luminance" and "contrast ratio" (its definitions; from memory); limits 1.4.3
/// (4.5 : 1 for text) and 1.4.11 (3 : 1 for what bounds a control).
#[test]
fn colours_that_meet_can_be_told_apart() {
    let css = include_str!("../templates/reply/page.css");
    let colour = |name: &str| -> f64 {
        let (_, after) = css.split_once(&format!("--{name}: #")).expect(name);
        let channel = |n: usize| {
            let c = u8::from_str_radix(&after[2 * n..2 * n + 2], 16).expect("hexadecimal");
            let c = f64::from(c) / 255.0;
            match c <= 0.04045 {
                true => c / 12.92,
                false => libm::pow((c + 0.055) / 1.055, 2.4),
            }
        };
        0.2126 * channel(0) + 0.7152 * channel(1) + 0.0722 * channel(2)
    };
    let ratio = |a: &str, b: &str| {
        let (a, b) = (colour(a), colour(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    };
    assert!(
        (ratio("ink", "paper") - 17.4).abs() < 0.1,
        "{}",
        ratio("ink", "paper")
    );
    for (text, ground) in [
        ("ink", "paper"),
        ("ink", "tint"),
        ("ink", "warn"),
        ("quiet", "paper"),
        ("quiet", "tint"),
        ("deed", "paper"),
        ("deed", "tint"),
        ("deed", "warn"),
        ("deed-ink", "deed"),
        ("yes", "paper"),
        ("yes", "tint"),
        ("no", "paper"),
        ("no", "tint"),
        ("part", "paper"),
        ("part", "tint"),
    ] {
        let found = ratio(text, ground);
        assert!(found >= 4.5, "{text} on {ground}: {found:.2}");
    }
    for (line, ground) in [("line", "paper"), ("line", "tint"), ("deed", "tint")] {
        let found = ratio(line, ground);
        assert!(found >= 3.0, "{line} on {ground}: {found:.2}");
    }
}

/// Saved by a real Chromium from the pages above: `drawn` on a telephone by finger, with a note; `hostile`
/// of the hostile page, signed by a typed name of odd characters.
#[test]
fn answers_that_a_browser_saved_are_read() {
    let file = |name: &str| std::fs::read_to_string(root().join("tests/answers").join(name));
    let drawn = Reply::read(&file("drawn.json").expect("a fixture")).expect("a reply");
    assert_eq!(
        (drawn.name.as_str(), drawn.role.as_str()),
        ("Tilda Umbrage-Fennel", "client")
    );
    assert_eq!(drawn.issue, small().issue);
    let png = drawn.png().expect("a picture").expect("drawn");
    let picture = image::load_from_memory(&png).expect("a PNG");
    assert_eq!((picture.width(), picture.height()), (900, 300));
    let notes: Vec<_> = drawn.answers.iter().map(|a| a.note.as_deref()).collect();
    let note = "Za\u{17c}\u{f3}\u{142}\u{107} \u{201e}here\u{201d}\nsecond line \\ \" <b>";
    assert_eq!(notes, [Some(note), None, None]);
    let options: Vec<_> = drawn.answers.iter().map(|a| a.option.as_deref()).collect();
    assert_eq!(options, [None, Some("bar"), None]);

    let odd = Reply::read(&file("hostile.json").expect("a fixture")).expect("a reply");
    assert_eq!(odd.answers.len(), 1);
    assert_eq!(
        odd.answers[0].option.as_deref(),
        Some(hostile().job.as_str())
    );
}

/// Every colour that the styles name is one of those that the test above looks at.
#[test]
fn no_colour_stands_outside_the_list() {
    let css = include_str!("../templates/reply/page.css");
    let (list, rest) = css.split_once('}').expect("the list of colours");
    assert!(list.contains(":root"));
    let rest = rest.replace("background: #ffffff", "");
    assert!(
        !rest.contains('#')
            || !rest.split('#').skip(1).any(|c| {
                let word: String = c.chars().take_while(char::is_ascii_alphanumeric).collect();
                matches!(word.len(), 3 | 6) && word.chars().all(|c| c.is_ascii_hexdigit())
            })
    );
}
