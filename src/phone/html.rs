//! The page itself: what is asked, through the templates, as one file. Knows escaping and the page's policy;
//! must not decide what is asked.

use minijinja::value::{Serde, Value};
use minijinja::{Environment, context};
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::asked::{Asked, Figure, Question, RISKS};
use super::font;
use super::screen::{Letters, for_screen};
use crate::draw::base64;
use crate::lettering;
use crate::units::{Money, decimals};

/// Its name ends so that whatever is put into it is escaped.
const PAGE: &str = "page.html";
const TEMPLATE: &str = include_str!("../../templates/reply/page.html");
const STYLE: &str = include_str!("../../templates/reply/page.css");
const SCRIPTS: [&str; 4] = [
    include_str!("../../templates/reply/sha256.js"),
    include_str!("../../templates/reply/ink.js"),
    include_str!("../../templates/reply/answer.js"),
    include_str!("../../templates/reply/page.js"),
];

const CAUTIONS: &[&str] = &[
    "These pages are not a quotation. Sizes come from the survey. Whatever touches electricity, gas, water, \
     fire safety or the building itself stays with the licensed people who do that work and with the rules \
     where you live.",
    "The paper pack that came with this page has all drawings and lists. Where the two differ, ask before you \
     answer.",
];

/// The whole file: the same bytes each time.
///
/// # Errors
/// In words: a template failed, which is our own fault.
pub fn page(asked: &Asked) -> Result<String, String> {
    let mut letters = Letters::default();
    let (mut groups, mut nth, mut drawing) = (Vec::new(), 0, 0);
    let titles: Vec<(&str, &str)> = questions(asked).map(|q| (&*q.key, &*q.title)).collect();
    for group in &asked.groups {
        let mut subjects = Vec::new();
        for question in &group.questions {
            subjects.push(subject(question, nth, &titles, &mut drawing, &mut letters));
            nth += 1;
        }
        let sum = group.title == RISKS
            && group
                .questions
                .iter()
                .any(|q| q.choices.iter().any(|c| c.adds != Some(Money::ZERO)));
        let (title, lead) = (group.title, group.lead);
        groups.push(context! { title, lead => said(&lead), subjects, sum });
    }
    let signers = asked.signers.iter();
    let signers: Vec<Value> = signers
        .map(|s| context! { name => said(&s.name), role => said(&s.role) })
        .collect();
    let listed: Vec<Value> = titles
        .iter()
        .map(|(_, title)| context! { title => said(title) })
        .collect();
    let style = format!("{}{STYLE}", fonts(&letters));
    let script = SCRIPTS.concat();
    let view = context! {
        job => said(&asked.job),
        title => said(&asked.title),
        workshop => said(&asked.workshop),
        client => said(&asked.client),
        site => said(&asked.site),
        date => said(&asked.date),
        draft => said(&asked.draft),
        issue => said(&asked.issue),
        send_to => said(&asked.send_to),
        note => said(&asked.note),
        called => called(asked),
        cautions => said(&CAUTIONS),
        signers,
        groups,
        titles => listed,
    };
    let mut env = Environment::new();
    env.add_template(PAGE, TEMPLATE)
        .map_err(|e| e.to_string())?;
    let template = env.get_template(PAGE).map_err(|e| e.to_string())?;
    let whole = template.render(context! {
        asked => view,
        style_hash => hash(&style),
        script_hash => hash(&script),
        style => Value::from_safe_string(style),
        script => Value::from_safe_string(script),
        island => Value::from_safe_string(island(asked)?),
    });
    whole.map_err(|e| format!("{e:#}"))
}

/// For the templates, and escaped by them.
fn said(value: &impl Serialize) -> Value {
    Value::from(Serde(value))
}

fn questions(asked: &Asked) -> impl Iterator<Item = &Question> {
    asked.groups.iter().flat_map(|g| &g.questions)
}

/// `revision B`, or `a draft`.
fn called(asked: &Asked) -> String {
    match asked.draft {
        true => "a draft".to_owned(),
        false => format!("revision {}", asked.revision),
    }
}

/// `drawing` counts those of the whole page.
fn subject(
    q: &Question,
    n: usize,
    titles: &[(&str, &str)],
    drawing: &mut usize,
    letters: &mut Letters,
) -> Value {
    let mut shown = |all: &[Figure]| -> Vec<Value> {
        let shown = all.iter().map(|figure| {
            let svg = for_screen(&figure.svg, *drawing, &figure.alt, letters);
            *drawing += 1;
            context! { title => said(&figure.title), svg => Value::from_safe_string(svg) }
        });
        shown.collect()
    };
    let lists = q.lists.iter();
    let lists: Vec<Value> = lists
        .map(|l| context! { title => said(&l.title), rows => said(&l.rows) })
        .collect();
    let (figures, keys) = (shown(&q.figures), shown(&q.keys));
    let numbered = || titles.iter().enumerate();
    let seen = q.seen_on.iter();
    let seen = seen.filter_map(|key| numbered().find(|(_, (known, _))| known == key));
    let seen: Vec<Value> = seen
        .map(|(n, (_, title))| context! { n, title => said(title) })
        .collect();
    let options: Vec<Value> = q
        .choices
        .iter()
        .map(|c| context! { words => said(&c.words), price => said(&c.price), more => said(&c.more) })
        .collect();
    context! {
        n,
        title => said(&q.title),
        words => said(&q.words),
        facts => said(&q.facts),
        lists,
        figures,
        keys,
        seen,
        options,
    }
}

/// What the script is told.
#[derive(Serialize)]
struct Island<'a> {
    job: &'a str,
    revision: &'a str,
    draft: bool,
    issue: &'a str,
    currency: &'a str,
    decimals: usize,
    /// Runs of characters that a name may have: those that the record can be printed with.
    prints: &'a [(u32, u32)],
    signers: Vec<IslandSigner<'a>>,
    subjects: Vec<IslandSubject<'a>>,
}

#[derive(Serialize)]
struct IslandSigner<'a> {
    name: &'a str,
    role: &'a str,
}

#[derive(Serialize)]
struct IslandSubject<'a> {
    key: &'a str,
    hash: &'a str,
    title: &'a str,
    roles: &'a [String],
    options: Vec<IslandOption<'a>>,
}

#[derive(Serialize)]
struct IslandOption<'a> {
    id: &'a str,
    /// In thousandths, as text: the script's own numbers are exact only so far. Empty: no price yet.
    adds: String,
    only_if: bool,
}

/// JSON that cannot end its element or begin another: no `<`, `>` or `&` in it as such.
fn island(asked: &Asked) -> Result<String, String> {
    let subjects = questions(asked).map(|q| IslandSubject {
        key: &q.key,
        hash: &q.hash,
        title: &q.title,
        roles: &q.roles,
        options: q
            .choices
            .iter()
            .map(|c| IslandOption {
                id: &c.id,
                adds: c
                    .adds
                    .map_or(String::new(), |m| m.in_thousandths().to_string()),
                only_if: c.only_if,
            })
            .collect(),
    });
    let signers = asked.signers.iter().map(|s| IslandSigner {
        name: &s.name,
        role: &s.role,
    });
    let island = Island {
        job: &asked.job,
        revision: &asked.revision,
        draft: asked.draft,
        issue: &asked.issue,
        currency: &asked.currency,
        decimals: decimals(&asked.currency),
        prints: lettering::printable(),
        signers: signers.collect(),
        subjects: subjects.collect(),
    };
    let json = serde_json::to_string(&island).map_err(|e| e.to_string())?;
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        match c {
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' => {
                out.push_str(&format!("\\u{:04x}", u32::from(c)));
            }
            c => out.push(c),
        }
    }
    Ok(out)
}

/// The two weights that drawings are lettered in.
fn fonts(letters: &Letters) -> String {
    let face = |weight: u16, bytes: &[u8]| {
        let mut face = format!(
            "@font-face {{ font-family: Rod; font-weight: {weight}; src: url(data:font/ttf;base64,"
        );
        base64(bytes, &mut face);
        face.push_str(") format(\"truetype\"); }\n");
        face
    };
    let mut all = String::new();
    for (weight, set, bold) in [(400, &letters.plain, false), (600, &letters.bold, true)] {
        if !set.is_empty() {
            all.push_str(&face(weight, &font::subset(set, bold)));
        }
    }
    all
}

/// As a page's policy names a script or a style (CSP level 2, "hash-source").
fn hash(text: &str) -> String {
    let mut out = "sha256-".to_owned();
    base64(&Sha256::digest(text.as_bytes()), &mut out);
    out
}
