//! The signature pages: who signs for what, and what signing means. Gives no legal advice and defers to
//! the law of the place.

use super::super::context::{Context, Pack};
use super::super::data::{Block, Initials, InitialsLine, running};
use super::super::words;
use crate::compare::subjects::{Subject, SubjectKind};
use crate::draw::{Drawing, DrawingKind};
use crate::resolve::job::Person;
use crate::risks::{CLIENT, Disclosure, FITTER, told};

/// Width of a subject's words, mm.
const SUBJECT: f64 = 60.0;
/// And of a name.
const NAME: f64 = 46.0;

pub fn agree(ctx: &Context) -> Vec<Block> {
    let signs = |p: &&Person| p.signs && (p.role == FITTER) == (ctx.pack == Pack::Fitter);
    let people: Vec<&Person> = ctx.job.people.iter().filter(signs).collect();
    if people.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![
        Block::paragraph(meaning(ctx)),
        Block::paragraph(
            "It is not a quotation, an order or a certificate, and it takes none of your rights from you. What a \
             signature binds you to is for your contract and for the law where you live. If you are unsure, ask \
             before you sign.",
        ),
    ];
    let mut last: Option<&str> = None;
    for person in people {
        let lines = lines(ctx, &person.role);
        // People of one role agree to the same; each signs for himself.
        if !lines.is_empty() && last != Some(person.role.as_str()) {
            let of_risks = match ctx.pack {
                Pack::Client => {
                    " Initials beside a risk agree to what is chosen here, or ticked on its page."
                }
                Pack::Fitter => "",
            };
            let who = match person.role == CLIENT {
                true => "As the client you put your initials".to_owned(),
                false => format!("The {} puts initials", person.role),
            };
            blocks.push(Block::paragraph(format!(
                "{who} in the box beside each line. A line without initials is not agreed.{of_risks}"
            )));
            blocks.push(Block::Initials(Initials { lines }));
        }
        last = Some(person.role.as_str());
        let signs = (running(&person.name, NAME), running(&person.role, NAME));
        match blocks.last_mut() {
            Some(Block::Signatures { people }) => people.push(signs),
            _ => blocks.push(Block::Signatures {
                people: vec![signs],
            }),
        }
    }
    blocks
}

fn meaning(ctx: &Context) -> String {
    let info = &ctx.job.info;
    match ctx.standing.issue {
        Some(_) => format!(
            "Signing here says that you have read all the pages of this pack, job {}, {}, of {}; that what they show \
             and list is what is to be made, with anything written on them by hand and signed beside it; and that \
             you know what may go wrong and have chosen as is ticked there.",
            info.number,
            ctx.revision_words(),
            words::date(info.date),
        ),
        None => format!(
            "This pack is a draft of job {}, of {}, and nothing is made from a draft. Signing here says that you \
             have read all its pages, and that the pack to be made from may be drawn up from them, with anything \
             written on them by hand and signed beside it. That pack will bear the number of its revision: what \
             you agree to have made is what you sign there.",
            info.number,
            words::date(info.date),
        ),
    }
}

/// What a role agrees to, in the order of the job's subjects.
fn lines(ctx: &Context, role: &str) -> Vec<InitialsLine> {
    let subjects = ctx.standing.subjects.iter();
    let own = subjects.filter(|s| s.roles.iter().any(|r| r == role));
    let mut own: Vec<&Subject> = own.collect();
    // Risks by their numbers, after all else, which has none; patterns as the pack shows them.
    let look = |s: &Subject| {
        let is_one = s.kind == SubjectKind::Look;
        let mut all = ctx.reckoned.patterns.iter();
        is_one.then(|| all.position(|p| p.name == s.id))
    };
    own.sort_by_key(|s| (disclosure(ctx, s).map(|d| d.number), s.kind, look(s)));
    own.into_iter().map(|subject| line(ctx, subject)).collect()
}

fn line(ctx: &Context, subject: &Subject) -> InitialsLine {
    let risk = disclosure(ctx, subject);
    let (words, detail) = match risk {
        Some(d) => (format!("Risk {}: {}", d.number, d.title), chosen(ctx, d)),
        None => (subject.named(), covers(ctx, subject)),
    };
    let targets = match risk {
        Some(d) if ctx.pack == Pack::Client => vec![format!("disclosure {}", d.id)],
        Some(_) => Vec::new(),
        None => drawings(ctx, subject)
            .map(|d| format!("drawing {}", d.id))
            .collect(),
    };
    InitialsLine {
        subject: running(&words, SUBJECT),
        detail: running(&detail, SUBJECT),
        targets,
    }
}

/// What a line stands for that no drawing of the pack shows and no page has to itself.
fn covers(ctx: &Context, subject: &Subject) -> String {
    let info = &ctx.job.info;
    match subject.kind {
        SubjectKind::Job => format!(
            "a shelf may bend by 1/{} of its length, a front by {} mm; prices are in {}",
            info.shelf_limit,
            info.bow_limit,
            words::or_nothing(&info.currency)
        ),
        SubjectKind::Fittings => "as listed under “Handles and fittings”".to_owned(),
        _ => String::new(),
    }
}

fn disclosure<'a>(ctx: &Context<'a>, subject: &Subject) -> Option<&'a Disclosure> {
    let mut all = ctx.told.risks.disclosures.iter();
    all.find(|d| subject.kind == SubjectKind::Disclosure && d.id == subject.id)
}

/// `choice a: Leave the doors as drawn. Nothing to pay`. Nothing, where nothing is chosen yet.
fn chosen(ctx: &Context, d: &Disclosure) -> String {
    let letter = d.choice.and_then(|n| ('a'..='z').nth(n));
    match (d.chosen(), letter) {
        (Some(offer), Some(letter)) => {
            let price = told::price(offer, &ctx.told.risks.currency);
            let price = words::capital(&price);
            format!("choice {letter}: {} {price}", words::sentence(&offer.words))
        }
        _ => String::new(),
    }
}

/// The pack's drawings that a subject is shown on.
fn drawings<'a>(
    ctx: &Context<'a>,
    subject: &'a Subject,
) -> impl Iterator<Item = &'a Drawing> + use<'a> {
    let job = ctx.job;
    let reckoned = ctx.reckoned;
    super::super::pages::drawings(ctx).filter(move |d| match (&d.kind, subject.kind) {
        (DrawingKind::Plan(room), SubjectKind::Plan) => {
            job.rooms.get(*room).is_some_and(|r| r.id == subject.id)
        }
        (DrawingKind::Shut(at) | DrawingKind::Open(at), SubjectKind::Elevation) => {
            job.wall_id(*at) == subject.id
        }
        // Its joint at real size: a sheet's title names the patterns on it.
        (DrawingKind::CloseUps, SubjectKind::Look) => {
            d.title.contains(&format!("\u{201c}{}\u{201d}", subject.id))
        }
        (DrawingKind::Look(n), SubjectKind::Look) => {
            let layout = reckoned.patterns.get(*n);
            layout.is_some_and(|p| p.name == subject.id)
        }
        _ => false,
    })
}
