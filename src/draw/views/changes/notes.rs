//! What is written beside a change on a drawing: the old figure with the new, and the old place of a blank in the
//! blank. Knows which figures a drawing has; must not place what it writes.

use std::collections::BTreeSet;

use super::place::View;
use crate::compare::record::{Fact, key};
use crate::compare::{Entry, Register, Thing};
use crate::draw::DrawingKind;
use crate::draw::scene::{Label, LabelFrame, Lettering, Pt, Rect};
use crate::draw::views::pen::box_of;
use crate::draw::views::words::ranges;
use crate::reckon::pattern::layout::{Blank, PatternLayout};
use crate::reckon::placed::{PlacedFront, Reckoned};
use crate::units::Length;

/// Further words would fill the margin.
const MOST_LETTERS: usize = 64;
/// Whose figures are told, the first of these first: those of strips stand in a list.
const FIRST: &[&str] = &["front", "unit", "panel", "sliding", "worktop"];
/// A blank as high as this has room for its old place under what else stands in it; one narrower than that has
/// it in two lines. Real mm.
const HIGH_MM: f64 = 960.0;
const NARROW_MM: f64 = 700.0;
/// From its middle to where that is written, real mm.
const UNDER_MM: f64 = 400.0;

/// New and old figures, those of the same words together, in the order in which things stand.
#[derive(Default)]
pub(super) struct Figures {
    told: Vec<Told>,
}

struct Told {
    /// `width 557, was 558.5`.
    words: String,
    kind: String,
    ids: Vec<String>,
    numbers: Vec<u32>,
    /// The first of them.
    at: Rect,
}

impl Figures {
    /// Of the sizes that are otherwise, the old and the new.
    pub fn add(
        &mut self,
        view: &View<'_>,
        (now, before): (&Thing, &Thing),
        facts: &BTreeSet<String>,
        at: Rect,
    ) {
        // On boards and maps the old stands in each blank; on plan it stands on the elevations.
        let sized: &[&str] = match view.kind {
            DrawingKind::Shut(_) | DrawingKind::Open(_) if FIRST.contains(&now.kind.as_str()) => {
                &["width", "height"]
            }
            _ => return,
        };
        let mut fronts = view.reckoned.fronts.iter();
        let number = fronts.find(|f| now.kind == "front" && f.id == now.id);
        for fact in sized.iter().filter(|f| facts.contains(**f)) {
            let (Some(new), Some(old)) = (now.um(fact), before.um(fact)) else {
                continue;
            };
            if new == old {
                continue;
            }
            let words = format!("{fact} {}, was {}", Length::um(new), Length::um(old));
            let same = |t: &&mut Told| t.words == words && t.kind == now.kind;
            let told = match self.told.iter_mut().find(same) {
                Some(told) => told,
                None => {
                    self.told.push(Told {
                        words,
                        kind: now.kind.clone(),
                        ids: Vec::new(),
                        numbers: Vec::new(),
                        at,
                    });
                    let Some(last) = self.told.last_mut() else {
                        continue;
                    };
                    last
                }
            };
            told.ids.push(now.id.clone());
            told.numbers.extend(number.map(|f| f.number));
        }
    }

    /// As many as a margin holds, and what the first is of.
    fn words(&self) -> Option<(Rect, String)> {
        let rank = |told: &&Told| {
            FIRST
                .iter()
                .position(|kind| *kind == told.kind)
                .unwrap_or(FIRST.len())
        };
        let mut all: Vec<&Told> = self.told.iter().collect();
        all.sort_by_key(rank);
        let first = all.first()?;
        let mut told = String::new();
        for one in &all {
            let said = one.said();
            if told.is_empty() {
                told = said;
            } else if told.chars().count() + said.chars().count() < MOST_LETTERS - 12 {
                told.push_str(&format!("; {said}"));
            } else {
                told.push_str("; and others");
                break;
            }
        }
        Some((first.at, told))
    }
}

impl Told {
    /// `fronts 31 to 34 width 393.5, was 383.5`; what has no number and no short name, by its kind.
    fn said(&self) -> String {
        let who = match (self.kind.as_str(), self.ids.as_slice()) {
            ("front", [_]) => format!("front {}", ranges(self.numbers.clone())),
            ("front", _) => format!("fronts {}", ranges(self.numbers.clone())),
            ("unit", [one]) => format!("unit {one}"),
            ("unit", all) => format!("units {}", all.join(", ")),
            ("sliding", [_]) => "sliding door".to_owned(),
            (kind, [_]) => kind.to_owned(),
            (kind, _) => format!("{kind}s"),
        };
        format!("{who} {}", self.words)
    }
}

impl View<'_> {
    /// What is written beside an entry's clouds, the first of which is given.
    pub(super) fn note(
        &self,
        entry: &Entry,
        figures: &Figures,
        first: Rect,
    ) -> Option<(Rect, String)> {
        let own = || entry.changes.first().map(|words| (first, words.clone()));
        let on_a_wall = |key: &String| {
            let thing = self.register.now.get(key).or(self.register.gone.get(key));
            thing.is_some_and(|t| t.text("on wall").is_some())
        };
        let found = match self.kind {
            DrawingKind::Section | DrawingKind::PatternWall(_) | DrawingKind::Look(_) => None,
            // Blanks say it each for itself; a board's own figures stand nowhere else.
            DrawingKind::PatternBoards(_) => {
                let own_of_board = ["board ", "flaw "];
                let is_own = |k: &String| own_of_board.iter().any(|kind| k.starts_with(kind));
                entry.touches.keys().find(|k| is_own(k)).and_then(|_| own())
            }
            // What was surveyed has a note of its own with its new figures: here the old stand beside.
            _ if !entry.touches.keys().any(on_a_wall) => own(),
            // Its figures stand on the elevations.
            DrawingKind::Plan(_) => None,
            _ => figures.words().or_else(own),
        };
        found
            .map(|(at, words)| (at, shortened(&words)))
            .filter(|(_, words)| !words.is_empty())
    }
}

/// In each blank that is cut from another board or place than it was, or over it, where that was; on the map of a
/// wall and on the boards. What lies over another in one strip is told with it, where both moved alike.
pub(super) fn moved_blanks(view: &View<'_>) -> Vec<Label> {
    let View {
        job,
        reckoned,
        register,
        kind,
        shows,
    } = view;
    let (DrawingKind::PatternWall(at) | DrawingKind::PatternBoards(at)) = kind else {
        return Vec::new();
    };
    let Some(layout) = reckoned.patterns.get(*at) else {
        return Vec::new();
    };
    let on_map = matches!(kind, DrawingKind::PatternWall(_));
    let mut moved: Vec<Moved> = layout
        .blanks
        .iter()
        .filter_map(|blank| Moved::of(reckoned, register, layout, blank))
        .filter(|m| match on_map {
            true => shows.contains(&job.wall_id(m.face.wall)),
            false => shows.iter().any(|board| board == m.board),
        })
        .collect();
    // The highest first: what is over it may leave it to say so.
    moved.sort_by_key(|m| (-(m.face.top - m.face.bottom), m.face.left, m.face.bottom));
    let mut said: Vec<(&str, Length, &str, Length)> = Vec::new();
    let mut labels = Vec::new();
    for m in &moved {
        let strip = (m.old_board, m.old_left, m.board, m.blank.area.left);
        if m.old_bottom == m.blank.area.bottom && said.contains(&strip) {
            continue;
        }
        said.push(strip);
        labels.push(m.label(on_map));
    }
    labels
}

/// A blank that was cut from elsewhere.
struct Moved<'a> {
    face: &'a PlacedFront,
    blank: &'a Blank,
    board: &'a str,
    old_board: &'a str,
    old_left: Length,
    old_bottom: Length,
}

impl<'a> Moved<'a> {
    fn of(
        reckoned: &'a Reckoned,
        register: &'a Register,
        layout: &'a PatternLayout,
        blank: &'a Blank,
    ) -> Option<Moved<'a>> {
        let face = reckoned.face(blank.front)?;
        let is_front = blank.front < reckoned.fronts.len();
        let own = key(if is_front { "front" } else { "piece" }, &face.id);
        let was = |fact: &str| register.was.get(&(own.clone(), fact.to_owned()));
        let facts = ["cut from board", "across the board", "up the board"].map(was);
        // What is cut from a board for the first time was nowhere before.
        if facts.iter().all(Option::is_none) || facts.iter().any(|f| f.is_some_and(Option::is_none))
        {
            return None;
        }
        let length = |fact: Option<&Option<Fact>>, now: Length| match fact {
            Some(Some(Fact::Um(um))) => Length::um(*um),
            _ => now,
        };
        let [on, across, up] = facts;
        let board = layout.boards.get(blank.board)?.name.as_str();
        Some(Moved {
            face,
            blank,
            board,
            old_board: match on {
                Some(Some(Fact::Text(name) | Fact::Name(name))) => name,
                _ => board,
            },
            old_left: length(across, blank.area.left),
            old_bottom: length(up, blank.area.bottom),
        })
    }

    fn label(&self, on_map: bool) -> Label {
        let (face, area) = (self.face, self.blank.area);
        let area = match on_map {
            true => box_of(face.left, face.right, face.bottom, face.top),
            false => box_of(area.left, area.right, area.bottom, area.top),
        };
        let board = match self.old_board == self.board {
            true => String::new(),
            false => format!("{} ", self.old_board),
        };
        let middle = area.centre();
        let under = if area.height() > HIGH_MM {
            UNDER_MM
        } else {
            0.0
        };
        let first = format!("was {board}{}", self.old_left);
        Label {
            at: Pt::new(middle.x, middle.y + under),
            lines: match area.width() < NARROW_MM {
                true => vec![format!("{first},"), self.old_bottom.to_string()],
                false => vec![format!("{first}, {}", self.old_bottom)],
            },
            lettering: Lettering::Normal,
            bold: false,
            frame: LabelFrame::None,
            within: Some(area),
            rank: 3,
            listed: String::new(),
        }
    }
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= MOST_LETTERS {
        return text.to_owned();
    }
    let cut: String = text.chars().take(MOST_LETTERS).collect();
    let whole = cut.rsplit_once(' ').map_or(cut.as_str(), |(head, _)| head);
    format!("{whole}\u{2026}")
}
