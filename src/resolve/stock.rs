//! Boards the trade takes for granted, for a file that names none. Knows their figures and where
//! those come from; must not know who uses them.

use crate::read::project::Material;
use crate::read::table::At;
use crate::read::value::Ref;
use crate::read::words::Core;
use crate::units::Length;

/// Set and kind of front for whatever names none; a file may give its own of this name.
pub const USUAL: &str = "usual";

pub const CARCASS: &str = "birch plywood 18";
pub const BACK: &str = "birch plywood 9";
pub const FRONT: &str = "MDF 19";

/// Width of the strip scribed at a corner when the file says nothing: common practice, no source.
pub const SCRIBE: Length = Length::mm(20);
/// Between pieces of panelling, and at least between slats: common practice, no source.
pub const PIECE_GAP: Length = Length::mm(3);
pub const SLAT_GAP: Length = Length::mm(10);

/// A stock board by its name.
pub fn board(name: &str) -> Option<Material> {
    let (core, thickness, sheet) = match name {
        CARCASS => (Core::BirchPlywood, 18, (2500, 1250)),
        BACK => (Core::BirchPlywood, 9, (2500, 1250)),
        FRONT => (Core::Mdf, 19, (2440, 1220)),
        _ => return None,
    };
    let sheet = (Length::mm(sheet.0), Length::mm(sheet.1));
    Some(Material {
        core: Some(At::default_of(core)),
        thickness: Some(At::default_of(Length::mm(thickness))),
        sheet: Some(At::default_of(sheet)),
        ..Material::default()
    })
}

/// Density of a core, kg/m³: common practice (no source) for all but glass, which is from memory.
pub fn density(core: Core) -> Option<u32> {
    Some(match core {
        Core::Mdf => 740,
        Core::ParticleBoard => 650,
        Core::BirchPlywood => 680,
        Core::SolidSurface => 1700,
        Core::SolidWood => 600,
        Core::CompactLaminate => 1350,
        Core::Glass => 2500,
        Core::Other => return None,
    })
}

/// A reference nobody wrote.
pub fn refer(name: &str) -> At<Ref> {
    At::default_of(Ref(name.to_string()))
}
