//! What was agreed, for handing over: every risk with what was chosen about it and by whom, every other
//! agreement, the signatures themselves, and how the record behind it can be held to its word. Knows the
//! frozen job and where its agreements stand; must not know the project as it is now.

use std::collections::BTreeMap;

use typst::foundations::Bytes;

use super::data::{
    Align, Attached, Block, Cover, Document, Foot, Margin, PackData, Picture, Risk, RiskOption,
    Section, Sheet, TEXT_WIDTH, Table, TitleBlock, running,
};
use super::{ComposeError, Pack, Pages, assemble, fit, typeset, words, world};
use crate::compare::record::{Fact, Thing};
use crate::compare::subjects::named;
use crate::compare::{Frozen, SubjectKind};
use crate::lettering;
use crate::pixels::{decode, jpeg};
use crate::risks::told;
use crate::signoff::entry::is_day;
use crate::signoff::state::{Agreement, By, State, Where};
use crate::signoff::{Entry, Ledger, What};
use crate::units::{Date, Money};

/// Widest and highest that a signature or a scan is shown, mm, and its most dots along a side.
const SIGNATURE: (f64, f64, u32) = (70.0, 26.0, 800);
const SCAN: (f64, f64, u32) = (150.0, 205.0, 1600);

/// All that the pages are made of.
pub struct Handover<'a> {
    pub frozen: &'a Frozen,
    pub state: &'a State,
    pub ledger: &'a Ledger,
    /// Kept files by their hash; what is no picture is only named.
    pub kept: &'a BTreeMap<String, Vec<u8>>,
}

/// Lays the pages out: the same record gives the same pages.
///
/// # Errors
/// Our own fault: see [`ComposeError`].
pub fn handover(of: &Handover) -> Result<Pages, ComposeError> {
    let mut files: BTreeMap<String, Bytes> = BTreeMap::new();
    let data = data(of, &mut files)?;
    if let Some(frozen) = &data.frozen {
        let text = of
            .frozen
            .canonical()
            .map_err(|e| ComposeError::Template { messages: vec![e] })?;
        files.insert(frozen.path.clone(), Bytes::from_string(text));
    }
    files.insert("data.json".to_owned(), super::json(data)?);
    typeset(super::PackData {
        world: world::PackWorld::new(files),
        pack: Pack::Client,
        identity: format!("{}/agreed", of.frozen.job),
        date: day(of).unwrap_or(Date {
            year: 1970,
            month: 1,
            day: 1,
        }),
    })
}

/// The last day that anything was recorded of, or that was asked about.
fn day(of: &Handover) -> Option<Date> {
    let recorded = of.ledger.entries.iter().map(|e| e.day.as_str()).max();
    let text = of
        .state
        .day
        .as_deref()
        .or(recorded)
        .unwrap_or(&of.frozen.date);
    if !is_day(text) {
        return None;
    }
    let part = |range: std::ops::Range<usize>| text.get(range)?.parse::<u16>().ok();
    Some(Date {
        year: part(0..4)?,
        month: u8::try_from(part(5..7)?).ok()?,
        day: u8::try_from(part(8..10)?).ok()?,
    })
}

/// Words that somebody else wrote, as far as they can be printed.
fn printed(text: &str) -> String {
    let shown = |c: char| match lettering::missing(c.encode_utf8(&mut [0; 4])) {
        None => c,
        Some(_) => '?',
    };
    fit::clean(text).chars().map(shown).collect()
}

fn job<'a>(of: &'a Handover, fact: &str) -> &'a str {
    let job = of.frozen.record.get("job", "job");
    job.and_then(|j| j.text(fact)).unwrap_or("")
}

fn data(of: &Handover, files: &mut BTreeMap<String, Bytes>) -> Result<PackData, ComposeError> {
    let date = day(of);
    let title = printed(job(of, "title"));
    let until = date.map_or(String::new(), words::date);
    let status = format!("as recorded up to {until}");
    let mut text = vec![
        section(
            "risks",
            "What may go wrong, and what was agreed about it",
            1,
            risks(of),
        ),
        section(
            "agreements",
            "Everything else that was agreed",
            1,
            agreements(of),
        ),
        section("contingencies", "Contingencies", 1, contingencies(of)),
        section("snags", "Snags and completion", 1, site(of)),
        section("record", "The record behind this", 1, record(of)),
        section("signatures", "Signatures", 1, signatures(of, files)?),
    ];
    text.retain(|s| !s.blocks.is_empty());
    let facts = [
        ("Job", of.frozen.job.clone()),
        ("Client", job(of, "client").to_owned()),
        ("Site", job(of, "site").to_owned()),
        ("Revision", of.state.revision.clone()),
        ("Recorded", format!("up to {until}")),
    ];
    let facts = facts
        .into_iter()
        .map(|(term, what)| (term.to_owned(), running(&printed(&what), 130.0)));
    let cover = Cover {
        workshop: printed(job(of, "workshop")),
        title: title.clone(),
        pack: "What was agreed".to_owned(),
        status: status.clone(),
        facts: facts.filter(|(_, what)| !what.is_empty()).collect(),
        sections: vec![section("about", "What this is", 1, about(of))],
    };
    Ok(PackData {
        document: Document {
            title: format!("{} {title}: what was agreed", printed(&of.frozen.job)),
            author: printed(job(of, "workshop")),
            keywords: Vec::new(),
            lang: "en".to_owned(),
            region: None,
            date: date.map(|d| (d.year, d.month, d.day)),
        },
        foot: Foot {
            job: fit::one_line(
                &printed(&format!("{}  {title}", of.frozen.job)),
                62.0,
                8.0,
                false,
            ),
            pack: "What was agreed".to_owned(),
            revision: fit::one_line(
                &printed(&format!("revision {}", of.state.revision)),
                24.0,
                8.0,
                false,
            ),
            status: "from the record".to_owned(),
            date: date.map_or(String::new(), |d| d.to_string()),
        },
        margin: Margin {
            watermark: None,
            code: None,
            side: 0.0,
            letter: String::new(),
        },
        frozen: Some(Attached {
            path: assemble::FROZEN.to_owned(),
            about: format!(
                "The job as revision {} froze it",
                printed(&of.state.revision)
            ),
        }),
        title_block: TitleBlock::default(),
        sheets: vec![Sheet::Cover(cover), Sheet::Text { sections: text }],
    })
}

fn section(id: &str, title: &str, level: u8, blocks: Vec<Block>) -> Section {
    Section {
        id: id.to_owned(),
        title: title.to_owned(),
        level,
        fresh: false,
        listed: true,
        blocks,
    }
}

fn about(of: &Handover) -> Vec<Block> {
    let state = of.state;
    let asked: Vec<&Agreement> = state
        .agreements
        .iter()
        .filter(|a| !a.name.is_empty())
        .collect();
    let count = |pick: fn(&Where) -> bool| asked.iter().filter(|a| pick(&a.stands)).count();
    let agreed = count(|w| matches!(w, Where::Agreed { .. } | Where::Chosen { .. }));
    let lapsed = count(|w| matches!(w, Where::Lapsed { .. }));
    let declined = count(|w| matches!(w, Where::Declined { .. }));
    let open = count(|w| matches!(w, Where::Open));
    vec![
        Block::paragraph(format!(
            "This is a copy of what the workshop has recorded of this job: who agreed to what, on which day, and \
             on the strength of which sheet. Of {} things asked for by revision {}: agreed {agreed}, open {open}, \
             lapsed because a later revision altered them {lapsed}, declined {declined}.",
            asked.len(),
            printed(&state.revision),
        )),
        Block::caution(
            "What this is not.",
            "It is no contract, no certificate and no quotation, and it takes none of anybody's rights. What a \
             signature binds somebody to is for the contract and for the law of the place. The pictures of \
             signatures are copies: keep the paper.",
        ),
    ]
}

/// `Ann Body, client, 5 March 2026, on paper, revision A, sheet C7 (entry 3)`.
fn said(by: &By) -> String {
    let sheet = match by.page.as_str() {
        "" => String::new(),
        page if page.contains(',') => format!(", sheets {page}"),
        page => format!(", sheet {page}"),
    };
    printed(&format!(
        "{}, {}, {}, {}, revision {}{sheet} (entry {})",
        by.name,
        by.role,
        by.day,
        by.means.word(),
        by.revision,
        by.entry
    ))
}

/// How an agreement stands, in a line.
fn stands(a: &Agreement) -> String {
    let asked = match a.name.as_str() {
        "" => format!("for the {}, as which nobody signs", a.role),
        name => format!("asked of {name}, {}", a.role),
    };
    match &a.stands {
        Where::Open => printed(&format!("open: {asked}")),
        Where::Agreed { by } | Where::Chosen { by } => format!("agreed by {}", said(by)),
        Where::Declined { by } => format!("declined by {}", said(by)),
        Where::Lapsed { by, altered_by } => printed(&format!(
            "lapsed, altered by revision {altered_by}: {} by {}",
            by.answer.word(),
            said(by)
        )),
    }
}

fn risks(of: &Handover) -> Vec<Block> {
    let mut keys: Vec<&str> = Vec::new();
    for a in of
        .state
        .agreements
        .iter()
        .filter(|a| a.kind == SubjectKind::Disclosure)
    {
        if !keys.contains(&a.subject.as_str()) {
            keys.push(&a.subject);
        }
    }
    let each = keys
        .iter()
        .enumerate()
        .filter_map(|(n, key)| risk(of, n + 1, key));
    each.map(Block::Risk).collect()
}

fn risk(of: &Handover, number: usize, key: &str) -> Option<Risk> {
    let thing = of.frozen.record.things.get(key)?;
    let theirs: Vec<&Agreement> = of
        .state
        .agreements
        .iter()
        .filter(|a| a.subject == key)
        .collect();
    let chosen = theirs.iter().find_map(|a| match &a.stands {
        Where::Chosen { by } => by.option.clone(),
        _ => None,
    });
    let fact = |name: &str| thing.text(name).unwrap_or("");
    let mut facts: Vec<(String, String)> = Vec::new();
    let mut put = |term: &str, text: String| {
        if !text.is_empty() {
            facts.push((term.to_owned(), running(&text, TEXT_WIDTH - 32.0)));
        }
    };
    let (found, limit) = (fact("number"), fact("limit"));
    if !found.is_empty() && !told::tells(fact("text"), found) {
        put("The number", printed(&told::against(found, limit)));
    }
    put("What we do", printed(fact("doing")));
    put("What we cannot do", printed(fact("cannot")));
    for a in &theirs {
        put("Stands", words::sentence(&stands(a)));
    }
    let options = of
        .frozen
        .record
        .things
        .values()
        .filter(|t| t.kind == "option" && t.of.as_deref() == Some(key));
    let options: Vec<RiskOption> = options
        .map(|option| {
            let own = option
                .id
                .strip_prefix(&thing.id)
                .unwrap_or(&option.id)
                .trim_start_matches('/');
            RiskOption {
                // Those of the pages follow an order that no frozen job has.
                letter: String::new(),
                chosen: chosen.as_deref() == Some(own),
                words: running(&printed(option.text("words").unwrap_or("")), 120.0),
                detail: running(&printed(&detail(option)), 120.0),
                price: price(of, option),
                price_was: None,
            }
        })
        .collect();
    Some(Risk {
        id: thing.id.clone(),
        number: number.to_string(),
        title: printed(fact("title")),
        text: running(&printed(fact("text")), TEXT_WIDTH),
        facts,
        keys: Vec::new(),
        lead: match (options.is_empty(), &chosen) {
            (true, _) => String::new(),
            (false, Some(_)) => "Chosen".to_owned(),
            (false, None) => "Offered; none is chosen".to_owned(),
        },
        options,
    })
}

fn detail(option: &Thing) -> String {
    let mut said = Vec::new();
    if let Some(when) = option.text("when") {
        said.push(format!("When: {when}."));
    }
    if let Some(until) = option.text("until") {
        said.push(format!("Until {until}."));
    }
    said.join(" ")
}

/// In the words of the pages that it was agreed on.
fn price(of: &Handover, option: &Thing) -> String {
    let currency = printed(job(of, "currency"));
    let shown = |n: i64| Money::thousandths(n).in_currency(&currency);
    match (option.text("is"), option.comes.get("price")) {
        (_, Some(Fact::Money(0))) => "nothing to pay".to_owned(),
        (Some("contingency"), Some(Fact::Money(n))) => {
            format!("{} in all, if called on", shown(*n))
        }
        (_, Some(Fact::Money(n))) if *n < 0 => {
            format!("saves {} in all", shown(n.saturating_neg()))
        }
        (_, Some(Fact::Money(n))) => format!("adds {} in all", shown(*n)),
        _ => "not priced".to_owned(),
    }
}

fn agreements(of: &Handover) -> Vec<Block> {
    let mut table = Table::new(&[
        ("What", 68.0, Align::Left),
        ("How it stands", 37.0, Align::Left),
        ("Day", 22.0, Align::Left),
        ("Revision", 18.0, Align::Left),
        ("Sheets", 17.0, Align::Left),
        ("Entry", 13.0, Align::Right),
    ]);
    let others = || {
        let all = of.state.agreements.iter();
        all.filter(|a| a.kind != SubjectKind::Disclosure)
    };
    let mut people: Vec<(&str, &str)> = Vec::new();
    for a in others() {
        let who = (a.role.as_str(), a.name.as_str());
        if !people.contains(&who) {
            people.push(who);
        }
    }
    for (role, name) in people {
        table.group(printed(&match name {
            "" => format!("for the {role}, as which nobody signs"),
            name => format!("{name}, {role}"),
        }));
        for a in others().filter(|a| (a.role.as_str(), a.name.as_str()) == (role, name)) {
            table.row(row(&named(a.kind.word(), &a.title), a));
        }
    }
    if !of.state.gone.is_empty() {
        table.group("answered once, and no part of the job any more");
    }
    for gone in &of.state.gone {
        let by = &gone.by;
        let stands = format!("{}; gone since revision {}", by.answer.word(), gone.since);
        table.row(cells(&gone.title, &stands, by));
    }
    match table.has_rows() {
        true => vec![Block::Table(table)],
        false => Vec::new(),
    }
}

fn row(what: &str, a: &Agreement) -> [String; 6] {
    // Somebody else than who was asked may have answered for the role.
    let other = |by: &By| match a.name.is_empty() || a.name == by.name {
        true => String::new(),
        false => format!(", by {}", by.name),
    };
    match &a.stands {
        Where::Open => [what, "open", "", "", "", ""].map(printed),
        Where::Lapsed { by, altered_by } => cells(
            what,
            &format!("lapsed: altered by revision {altered_by}"),
            by,
        ),
        Where::Agreed { by } | Where::Chosen { by } | Where::Declined { by } => {
            let stands = format!("{} {}{}", by.answer.word(), by.means.word(), other(by));
            cells(what, &stands, by)
        }
    }
}

fn cells(what: &str, stands: &str, by: &By) -> [String; 6] {
    let entry = by.entry.to_string();
    [what, stands, &by.day, &by.revision, &by.page, &entry].map(printed)
}

fn contingencies(of: &Handover) -> Vec<Block> {
    if of.state.contingencies.is_empty() {
        return Vec::new();
    }
    let mut table = Table::new(&[
        ("Accepted", 60.0, Align::Left),
        ("What became of it", 30.0, Align::Left),
        ("Since", 24.0, Align::Left),
        ("Words", 61.0, Align::Left),
    ]);
    for c in &of.state.contingencies {
        let became = match c.became {
            Some(became) => became.word(),
            None if c.over => "not called: its last day is over",
            None => "not called so far",
        };
        table.row([
            printed(&c.title),
            became.to_owned(),
            c.day.clone(),
            printed(&c.words),
        ]);
    }
    vec![Block::Table(table)]
}

fn site(of: &Handover) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut table = Table::new(&[
        ("No.", 12.0, Align::Right),
        ("About", 40.0, Align::Left),
        ("What", 73.0, Align::Left),
        ("Found", 24.0, Align::Left),
        ("Put right", 26.0, Align::Left),
    ]);
    for snag in &of.state.snags {
        table.row([
            snag.number.to_string(),
            printed(&snag.about),
            printed(&snag.words),
            snag.day.clone(),
            snag.put_right.clone().unwrap_or_else(|| "open".to_owned()),
        ]);
    }
    if table.has_rows() {
        blocks.push(Block::Table(table));
    }
    for done in &of.state.completed {
        blocks.push(Block::paragraph(printed(&format!(
            "Completed, says {}, {}, on {}. {}",
            done.name,
            done.role,
            done.day,
            words::sentence(&done.words)
        ))));
    }
    blocks
}

/// Every act that answers something, with the pictures kept with it.
fn signatures(
    of: &Handover,
    files: &mut BTreeMap<String, Bytes>,
) -> Result<Vec<Block>, ComposeError> {
    let mut blocks = Vec::new();
    let within = |e: &&Entry| of.state.day.as_deref().is_none_or(|d| e.day.as_str() <= d);
    for entry in of.ledger.entries.iter().filter(within) {
        let What::Answered {
            means,
            answers,
            remark,
        } = &entry.what
        else {
            continue;
        };
        let who = entry.who.as_ref();
        let name = who.map_or("", |w| w.name.as_str());
        let mut facts = vec![
            (
                "Who",
                format!("{name}, {}", who.map_or("", |w| w.role.as_str())),
            ),
            ("When", entry.day.clone()),
            ("Where", who.map_or(String::new(), |w| w.place.clone())),
            ("How", means.word().to_owned()),
            (
                "What",
                format!(
                    "{} of revision {}",
                    match answers.len() {
                        1 => "1 answer about what is shown by sheets".to_owned(),
                        n => format!("{n} answers about what is shown by sheets"),
                    },
                    entry.on.as_ref().map_or("", |o| o.revision.as_str())
                ),
            ),
            ("Remark", remark.clone()),
        ];
        for answer in answers.iter().filter(|a| !a.note.is_empty()) {
            facts.push(("Note", format!("{}: {}", answer.title, answer.note)));
        }
        facts.retain(|(_, what)| !what.trim().is_empty());
        blocks.push(Block::heading(&printed(&format!(
            "Entry {}: {name}",
            entry.seq
        ))));
        blocks.push(Block::terms(facts.iter().map(|(t, w)| (*t, printed(w)))));
        for held in &entry.held {
            let about = format!(
                "{} kept with entry {}: {}, SHA-256 {}",
                held.is, entry.seq, held.name, held.sha256
            );
            let caption = running(&words::sentence(&printed(&about)), TEXT_WIDTH);
            let pixels = of.kept.get(&held.sha256).map(|bytes| decode(bytes));
            let Some(Ok(decoded)) = pixels else {
                blocks.push(Block::paragraph(caption));
                continue;
            };
            let pixels = decoded.pixels;
            let (wide, high, dots) = if held.is == "signature" {
                SIGNATURE
            } else {
                SCAN
            };
            let (w, h) = (
                f64::from(pixels.width().max(1)),
                f64::from(pixels.height().max(1)),
            );
            let scale = (wide / w).min(high / h);
            // The typesetter gets it small; the file itself stays as it came.
            let small = jpeg(&pixels.shrunk(dots)).map_err(|e| ComposeError::Picture {
                path: held.name.clone(),
                why: e.to_string(),
            })?;
            let path = format!("held-{}.jpg", held.sha256);
            files.insert(path.clone(), Bytes::new(small));
            blocks.push(Block::Picture(Picture {
                path,
                alt: printed(&format!(
                    "The {} of {name}, {}, as it was taken in.",
                    held.is, entry.day
                )),
                caption,
                width: w * scale,
                height: h * scale,
            }));
        }
    }
    Ok(blocks)
}

fn record(of: &Handover) -> Vec<Block> {
    let mut table = Table::new(&[
        ("No.", 12.0, Align::Right),
        ("Entry", 78.0, Align::Left),
        ("Signed by the key", 40.0, Align::Left),
        ("Its hash begins", 45.0, Align::Left),
    ]);
    for (entry, hash) in of.ledger.entries.iter().zip(&of.ledger.hashes) {
        table.row([
            entry.seq.to_string(),
            printed(&entry.called()),
            entry
                .key
                .as_deref()
                .and_then(|k| k.get(..16))
                .unwrap_or("none")
                .to_owned(),
            hash.get(..16).unwrap_or(hash).to_owned(),
        ]);
    }
    if !table.has_rows() {
        return vec![Block::paragraph("Nothing is recorded yet.")];
    }
    vec![
        Block::paragraph(format!(
            "The record has {} entries, each of which names the hash of the one before; the last is {}. Whoever \
             keeps this sheet can tell whether the record was changed up to there afterwards: rodbook verify \
             looks at every entry, every issue and every kept file. A chain and a key show that one hand kept \
             the record and did not change it since; they do not show whose hand that was.",
            of.ledger.entries.len(),
            of.ledger.last(),
        )),
        Block::Table(table),
    ]
}
