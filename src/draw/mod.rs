//! Job and reckoned sizes to drawings: `views` make [`scene::Scene`]s, `place` gives them scale and
//! paper, `svg` writes them. Must not compute a size of the furniture, and nothing else draws.

mod faces;
pub mod pack;
mod parts;
pub mod place;
pub mod scene;
pub mod sheet;
pub mod style;
pub mod svg;
pub mod views;

use crate::faces::Faces;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Reader, WallRef};
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
}

/// Every drawing of the job for one reader, in the order in which a pack shows them: room by room
/// its plan, then its walls, shut before open; then the sections, several to a sheet.
pub fn drawings(job: &Job, reckoned: &Reckoned, reader: Reader) -> Result<Vec<Drawing>, DrawError> {
    let paper = job.info.sheets;
    let mut all = Vec::new();
    let mut sections = Vec::new();
    let mut smallest_section = 20;
    for (kind, scene, smallest) in views::all(job, reckoned, reader) {
        if kind == DrawingKind::Section {
            smallest_section = smallest;
            sections.push(scene);
        } else {
            all.extend(sheet::to_drawings(&scene, kind, paper, smallest)?);
        }
    }
    let shared = pack::Shared {
        id: "sections",
        kind: DrawingKind::Section,
        notes: &[],
        margins: &pack::NARROW,
    };
    all.extend(pack::pack_sections(
        &sections,
        &shared,
        paper,
        smallest_section,
    )?);
    if reader != Reader::Client {
        all.extend(pattern_maps(job, reckoned)?);
    }
    Ok(all)
}

/// Smallest scale of a map of a pattern: its words must still fit into its fronts.
const MAP_SMALLEST: u32 = 20;

/// For each pattern its walls, then its boards, several to a sheet.
fn pattern_maps(job: &Job, reckoned: &Reckoned) -> Result<Vec<Drawing>, DrawError> {
    let paper = job.info.sheets;
    let mut all = Vec::new();
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        for at in views::pattern::walls(reckoned, n) {
            if let Some(scene) = views::pattern::wall(job, reckoned, n, at) {
                let kind = DrawingKind::PatternWall(n);
                all.extend(sheet::to_drawings(&scene, kind, paper, MAP_SMALLEST)?);
            }
        }
        let boards = views::pattern::boards(reckoned, n);
        let shared = pack::Shared {
            id: &format!("boards-{}", views::file_word(&layout.name)),
            kind: DrawingKind::PatternBoards(n),
            notes: &[],
            margins: &pack::NARROW,
        };
        all.extend(pack::pack_sections(&boards, &shared, paper, MAP_SMALLEST)?);
    }
    Ok(all)
}

/// How the patterns will look, for the client: for each pattern its walls on one sheet with what is
/// agreed by it, then the worst joints of all at their real size.
///
/// # Errors
/// As [`drawings`].
pub fn looks(job: &Job, reckoned: &Reckoned, faces: &Faces) -> Result<Vec<Drawing>, DrawError> {
    let paper = job.info.sheets;
    let mut all = Vec::new();
    for (n, layout) in reckoned.patterns.iter().enumerate() {
        let walls = views::pattern::walls(reckoned, n);
        let scenes: Vec<_> = walls
            .into_iter()
            .filter_map(|at| views::picture::wall(job, reckoned, faces, (n, at)))
            .collect();
        let shared = pack::Shared {
            id: &format!("look-{}", views::file_word(&layout.name)),
            kind: DrawingKind::Look(n),
            notes: &views::picture::agreed(job, reckoned, layout),
            margins: &pack::TOP,
        };
        all.extend(pack::pack_sections(&scenes, &shared, paper, MAP_SMALLEST)?);
    }
    let close: Vec<_> = faces
        .close_ups
        .iter()
        .filter_map(|c| views::picture::close_up(job, reckoned, c))
        .collect();
    let shared = pack::Shared {
        id: "close-ups",
        kind: DrawingKind::CloseUps,
        notes: &[],
        margins: &pack::TOP,
    };
    let close = pack::pack_sections(&close, &shared, paper, REAL_SIZE)?;
    // What no sheet holds at its real size is no close-up.
    all.extend(close.into_iter().filter(|d| d.scale == REAL_SIZE));
    for drawing in &mut all {
        drawing.svg = faces::put_in(&drawing.svg, faces);
    }
    Ok(all)
}

/// Close-ups are drawn at 1:1 and at no other scale.
const REAL_SIZE: u32 = 1;
