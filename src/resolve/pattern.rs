//! Boards in hand, the saw, and how each pattern is cut. Knows what a board takes from its material
//! and what contradicts itself; must not place a front on a board.

use super::fill::list;
use super::goods::{corners_alone, picture};
use super::job::{
    Aim, Avoid, Board, BoardRef, Cutter, FixedPiece, Material, MaterialRef, PatternRule, Subject,
    Wanted,
};
use super::names::Names;
use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::pixels::lab;
use crate::read::PictureFile;
use crate::read::project as raw;
use crate::units::Length;

pub fn cutter(filled: &raw::Project) -> Cutter {
    let cutter = filled.cutter().value.with_every_default();
    Cutter {
        kerf: cutter.kerf().value,
        trim: cutter.trim().value,
        edge: cutter.edge().value,
    }
}

impl raw::Cutter {
    fn with_every_default(&self) -> raw::Cutter {
        crate::read::table::Value::with_defaults(self)
    }
}

/// In the order of the materials, so that [`BoardRef`]s count as the file does.
pub fn boards(
    names: &Names<'_>,
    materials: &[Material],
    pictures: &[PictureFile],
    diags: &mut Diagnostics,
) -> Vec<Board> {
    let named = names.project.material.iter().flat_map(|m| m.value.0.iter());
    let all: Vec<(usize, &raw::Board)> = named
        .enumerate()
        .flat_map(|(of, (_, m))| list(&m.board).iter().map(move |b| (of, b)))
        .collect();
    let mut out: Vec<Board> = Vec::new();
    for (of, b) in all {
        let id = b.id();
        if let Some(first) = out.iter().find(|o| o.id == id.value.0) {
            diags.push(
                Diagnostic::new(
                    Code::DuplicateId,
                    id.place,
                    format!("two boards are called `{}`", id.value.0),
                )
                .label("here again")
                .also(first.place, "first here")
                .help("give one of them another id"),
            );
        }
        out.push(board(b, of, materials, pictures, diags));
    }
    for of in 0..materials.len() {
        let theirs = out.iter_mut().filter(|b| b.material == MaterialRef(of));
        colours_of_pictures(theirs.collect());
    }
    out
}

/// Boards of one material of which none was measured, but each has a picture of its own: their colours are the
/// mean colours of the pictures. One measured board is enough to leave the rest as they are, for an instrument's
/// colour and a camera's cannot be held against each other.
fn colours_of_pictures(mut boards: Vec<&mut Board>) {
    let mut paths: Vec<&str> = boards
        .iter()
        .filter_map(|b| b.picture.as_ref().map(|p| p.path.as_str()))
        .collect();
    paths.sort_unstable();
    paths.dedup();
    if paths.len() < boards.len() || boards.iter().any(|b| b.lab.is_some()) {
        return;
    }
    for board in &mut boards {
        let seen = board.picture.as_ref().map(|p| lab::mean(&p.face));
        board.lab = seen.map(|lab| lab.map(|v| (v * 1000.0).round() as i64));
        board.lab_of_picture = board.lab.is_some();
    }
}

fn board(
    b: &raw::Board,
    of: usize,
    materials: &[Material],
    pictures: &[PictureFile],
    diags: &mut Diagnostics,
) -> Board {
    let id = b.id();
    let material = materials.get(of);
    let sheet = b.sheet.as_ref().map(|s| s.value);
    let sheet = sheet.or(material.and_then(|m| m.sheet));
    if sheet.is_none() {
        diags.push(
            Diagnostic::new(
                Code::MissingKey,
                id.place,
                format!("board `{}` must say its size", id.value.0),
            )
            .label("how large is it?")
            .help("add `sheet = [length, width]`, here or in its material"),
        );
    }
    let sheet = sheet.unwrap_or_default();
    corners_alone(b.picture.as_ref(), b.corners.as_ref(), diags);
    let theirs = material.and_then(|m| m.picture.as_ref());
    let said = b.shows.as_ref().map(|s| s.value);
    let shows = said.or(theirs.map(|p| p.shows)).unwrap_or(sheet);
    Board {
        id: id.value.0.clone(),
        material: MaterialRef(of),
        sheet,
        picture: match &b.picture {
            Some(at) => picture(at, b.corners.as_ref(), shows, pictures),
            None => theirs.cloned(),
        },
        first_crest: b.first_crest().value,
        lab: b.lab.as_ref().map(|l| l.value.0),
        lab_of_picture: false,
        batch: b.batch().value,
        ends_off: b.ends_off().value,
        avoid: list(&b.avoid).iter().map(|a| avoid(a, diags)).collect(),
        place: id.place,
    }
}

fn avoid(a: &raw::Avoid, diags: &mut Diagnostics) -> Avoid {
    let (from, to) = (a.from(), a.to());
    if from.value.0 >= to.value.0 || from.value.1 >= to.value.1 {
        diags.push(
            Diagnostic::new(Code::Contradiction, to.place, "this place has no size")
                .label("both numbers must be larger than those of `from`")
                .help("write [along the length, across the width], nearest corner first"),
        );
    }
    Avoid {
        from: from.value,
        to: to.value,
        what: a.what().value,
    }
}

/// Every rule the file writes; a rule for a pattern that no front has is a slip.
pub fn rules(names: &Names<'_>, boards: &[Board], diags: &mut Diagnostics) -> Vec<PatternRule> {
    let known: Vec<&str> = boards.iter().map(|b| b.id.as_str()).collect();
    let fronts = names.project.front.iter().flat_map(|f| f.value.0.iter());
    let mut used: Vec<String> = fronts
        .filter_map(|(_, f)| f.pattern.as_ref().map(|p| p.value.clone()))
        .collect();
    let panels = list(&names.project.panel).iter();
    used.extend(panels.filter_map(|p| p.pattern.as_ref().map(|p| p.value.clone())));
    let named = names.project.pattern.iter().flat_map(|p| p.value.0.iter());
    let mut out = Vec::new();
    for (name, rule) in named {
        if !used.contains(&name.value) {
            let there = match used.is_empty() {
                true => "give a kind of front a `pattern` of this name".to_owned(),
                false => format!("there are: {}", used.join(", ")),
            };
            diags.push(
                Diagnostic::new(
                    Code::DanglingReference,
                    name.place,
                    format!("no front has the pattern \"{}\"", name.value),
                )
                .label("not used")
                .help(there),
            );
        }
        let (aim, limit) = (rule.aim(), rule.limit.as_ref());
        if let (true, Some(limit)) = (aim.written(), limit) {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    limit.place,
                    "both `aim` and `limit` are given",
                )
                .label("stands instead of `aim`")
                .also(aim.place, "the aim")
                .help("take one of them out"),
            );
        }
        let wanted = match (limit, aim.value) {
            (Some(limit), _) => Wanted::Within(limit.value),
            (None, Aim::Exact) => Wanted::Exact,
            (None, Aim::LeastWaste) => Wanted::LeastWaste,
        };
        let fixed = list(&rule.fixed).iter();
        out.push(PatternRule {
            name: name.value.clone(),
            wanted,
            fixed: fixed
                .filter_map(|f| fixed_piece(f, names, &known, diags))
                .collect(),
            place: name.place,
        });
    }
    out
}

fn fixed_piece(
    f: &raw::FixedPiece,
    names: &Names<'_>,
    boards: &[&str],
    diags: &mut Diagnostics,
) -> Option<FixedPiece> {
    let board = names.board(&f.board(), boards, diags);
    let front = match names.subject(&f.front(), diags) {
        Some(Subject::Front(id)) => Some(id),
        Some(_) => {
            diags.push(
                Diagnostic::new(
                    Code::DanglingReference,
                    f.front().place,
                    format!("`{}` is no front", f.front().value.0),
                )
                .label("must be the id of one front")
                .help("the ids of fronts are in `rodbook explain`"),
            );
            None
        }
        None => None,
    };
    let at: Length = f.at().value;
    Some(FixedPiece {
        front: front?,
        board: BoardRef(board?),
        at,
        place: f.front().place,
    })
}
