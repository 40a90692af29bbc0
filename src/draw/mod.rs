//! Job and reckoned sizes to drawings: `views` make [`scene::Scene`]s, `place` gives them scale and
//! paper, `svg` writes them. Must not compute a size of the furniture, and nothing else draws.

mod cards;
mod faces;
pub mod gaps;
mod keys;
mod looks;
pub mod pack;
mod parts;
pub mod place;
pub mod scene;
pub mod sheet;
pub mod style;
pub mod svg;
pub mod views;

use rayon::prelude::*;

use crate::compare::Register;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Reader, Sheets, WallRef};
use crate::risks::Marks;
pub use cards::cards;
pub use faces::base64;
pub use keys::{Key, keys, not_shown};
pub use looks::looks;
use scene::Scene;
pub use sheet::DrawError;

/// What a drawing shows; pages choose their drawings by it.
#[derive(Clone, Debug, PartialEq)]
pub enum DrawingKind {
    /// Index of the room.
    Plan(usize),
    /// Fronts shut.
    Shut(WallRef),
    /// Interiors.
    Open(WallRef),
    /// Through the kinds of unit whose sections share this sheet.
    Section,
    /// Fronts of one pattern on a wall, with what each is cut from: index of the layout.
    PatternWall(usize),
    /// The boards of one pattern that share this sheet: index of the layout.
    PatternBoards(usize),
    /// Walls as their fronts of one pattern will look: index of the layout.
    Look(usize),
    /// The worst joint of each pattern at its real size.
    CloseUps,
    /// Boards cut up, those that share this sheet.
    Cutting,
    /// A unit, small, for its card: run and unit. On no sheet of its own.
    Card(usize, usize),
}

/// A finished drawing: one sheet's worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Stable: also the name of its PNG.
    pub id: String,
    pub kind: DrawingKind,
    pub title: String,
    /// Says in words what it shows.
    pub alt: String,
    /// The whole drawing with scale bar and legend, at its size on paper.
    pub svg: String,
    pub width_mm: f64,
    pub height_mm: f64,
    /// 20 for 1:20.
    pub scale: u32,
    /// (1, 1), or (which, of how many) where a long run is parted over sheets.
    pub part: (usize, usize),
    /// Numbers of the changes marked on it; of a parted one, on any part.
    pub changes: Vec<usize>,
}

/// One sheet or more of work for the layout: a scene by itself, views of one thing that are parted
/// alike, or several scenes that share sheets.
#[derive(Clone, PartialEq)]
struct Task {
    kind: DrawingKind,
    scenes: Vec<Scene>,
    /// A second view of the same thing.
    also: Option<(DrawingKind, Scene)>,
    /// Smallest scale allowed, as 20 for 1:20.
    smallest: u32,
    /// The name of the sheets, where scenes share them.
    shared: Option<String>,
    /// At the foot of each of those.
    notes: Vec<String>,
}

impl Task {
    fn drawings(&self, paper: Sheets) -> Result<Vec<Drawing>, DrawError> {
        let (kind, smallest) = (self.kind.clone(), self.smallest);
        match (&self.shared, self.scenes.as_slice()) {
            (None, [scene]) => {
                let mut views = vec![(kind, scene)];
                views.extend(self.also.iter().map(|(kind, scene)| (kind.clone(), scene)));
                sheet::to_drawings(&views, paper, smallest)
            }
            (id, scenes) => {
                let id = id.as_deref().unwrap_or_default();
                let shared = pack::Shared {
                    id,
                    kind,
                    notes: &self.notes,
                    margins: match self.kind {
                        DrawingKind::Cutting => &pack::BESIDE,
                        _ => &pack::NARROW,
                    },
                };
                pack::pack_sections(scenes, &shared, paper, smallest)
            }
        }
    }
}

/// Every drawing of the job for each of these readers, in the order in which a pack shows them: room
/// by room its plan, then its walls, shut before open; then the sections, several to a sheet. What is
/// the same for two readers is laid out once.
pub fn drawings<const N: usize>(
    job: &Job,
    reckoned: &Reckoned,
    readers: [Reader; N],
) -> Result<[Vec<Drawing>; N], DrawError> {
    drawings_since(job, reckoned, readers, &Register::default())
}

/// [`drawings`], with what changed since the newest issue marked.
pub fn drawings_since<const N: usize>(
    job: &Job,
    reckoned: &Reckoned,
    readers: [Reader; N],
    since: &Register,
) -> Result<[Vec<Drawing>; N], DrawError> {
    let mut tasks: Vec<Task> = Vec::new();
    let mut maps = pattern_maps(job, reckoned);
    for task in &mut maps {
        for scene in &mut task.scenes {
            views::changes::overlay(job, reckoned, since, &task.kind, scene);
        }
    }
    let cutting = cutting(job, reckoned);
    let marks = Marks::of(job, reckoned);
    let wanted = readers.map(|reader| {
        let mut all = views_for(job, reckoned, reader, (since, &marks));
        if reader != Reader::Client {
            all.extend(maps.iter().chain(&cutting).cloned());
        }
        let place = |task: Task| {
            tasks.iter().position(|t| *t == task).unwrap_or_else(|| {
                tasks.push(task);
                tasks.len() - 1
            })
        };
        all.into_iter().map(place).collect::<Vec<usize>>()
    });
    let paper = job.info.sheets;
    let done: Vec<Vec<Drawing>> = tasks
        .par_iter()
        .map(|task| task.drawings(paper))
        .collect::<Result<_, _>>()?;
    let of = |i: usize| done.get(i).cloned().unwrap_or_default();
    Ok(wanted.map(|places| places.into_iter().flat_map(of).collect()))
}

/// Boards cut up, several to a sheet.
fn cutting(job: &Job, reckoned: &Reckoned) -> Option<Task> {
    let scenes = views::cutting::boards(job, reckoned);
    (!scenes.is_empty()).then(|| Task {
        kind: DrawingKind::Cutting,
        scenes,
        also: None,
        smallest: MAP_SMALLEST,
        shared: Some("cutting".to_owned()),
        notes: views::cutting::notes(job),
    })
}

fn views_for(
    job: &Job,
    reckoned: &Reckoned,
    reader: Reader,
    (since, marks): (&Register, &Marks),
) -> Vec<Task> {
    let mut all = Vec::new();
    let mut sections = Vec::new();
    let mut smallest_section = 20;
    for (kind, mut scene, smallest) in views::all(job, reckoned, marks, reader) {
        views::changes::overlay(job, reckoned, since, &kind, &mut scene);
        if kind == DrawingKind::Section {
            smallest_section = smallest;
            sections.push(scene);
            continue;
        }
        // The same wall with its fronts shut.
        let before = all.last_mut().filter(|before: &&mut Task| match kind {
            DrawingKind::Open(at) => before.kind == DrawingKind::Shut(at),
            _ => false,
        });
        match before {
            Some(before) => before.also = Some((kind, scene)),
            None => all.push(Task {
                kind,
                scenes: vec![scene],
                also: None,
                smallest,
                shared: None,
                notes: Vec::new(),
            }),
        }
    }
    all.push(Task {
        kind: DrawingKind::Section,
        scenes: sections,
        also: None,
        smallest: smallest_section,
        shared: Some("sections".into()),
        notes: vec![views::SECTION_NOTE.to_owned()],
    });
    all
}

/// Smallest scale of a map of a pattern: its words must still fit into its fronts.
const MAP_SMALLEST: u32 = 20;

/// For each pattern its walls, then its boards, several to a sheet.
fn pattern_maps(job: &Job, reckoned: &Reckoned) -> Vec<Task> {
    let mut all = Vec::new();
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        for at in views::pattern::walls(reckoned, n) {
            all.extend(
                views::pattern::wall(job, reckoned, n, at).map(|scene| Task {
                    kind: DrawingKind::PatternWall(n),
                    scenes: vec![scene],
                    also: None,
                    smallest: MAP_SMALLEST,
                    shared: None,
                    notes: Vec::new(),
                }),
            );
        }
        all.push(Task {
            kind: DrawingKind::PatternBoards(n),
            scenes: views::pattern::boards(job, reckoned, n),
            also: None,
            smallest: MAP_SMALLEST,
            shared: Some(format!("boards-{}", views::file_word(&layout.name))),
            notes: views::pattern::notes(job),
        });
    }
    all
}
