//! Service points on a wall and the backs they come through. Knows points and boards; must not judge.

use super::placed::{PlacedRun, PlacedUnit};
use crate::resolve::job::{Service, ServiceKind, Wall};
use crate::units::Length;

/// Half of what must stay free round a point: outlets have plates 86 mm wide (common practice, no
/// source), pipes a collar. `None`: no point.
pub fn half(service: &Service) -> Option<Length> {
    if service.width > Length::ZERO {
        return None;
    }
    match service.kind {
        ServiceKind::Socket | ServiceKind::Switch | ServiceKind::Data => Some(Length::mm(43)),
        ServiceKind::Water | ServiceKind::Waste | ServiceKind::Gas => Some(Length::mm(25)),
        ServiceKind::Light | ServiceKind::Radiator | ServiceKind::Vent | ServiceKind::Other => None,
    }
}

/// A hole in a back: its middle from the back's left edge as seen from the front, and from its underside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackHole {
    pub kind: ServiceKind,
    pub x: Length,
    pub z: Length,
    /// Free round its middle, at the least.
    pub half: Length,
}

/// Of a unit with a back, for each point of its wall that lies behind it.
pub fn holes(wall: &Wall, run: &PlacedRun, at: &PlacedUnit) -> Vec<BackHole> {
    if at.back <= Length::ZERO {
        return Vec::new();
    }
    let behind =
        |s: &&Service| s.at > at.left && s.at < at.right && s.height > at.base && s.height < at.top;
    let points = wall.services.iter().filter(behind);
    let hole = |s: &Service| {
        Some(BackHole {
            kind: s.kind,
            x: s.at - at.left,
            z: s.height - at.base,
            half: half(s)?,
        })
    };
    // A run that stands far off its wall has room for the point behind it.
    points
        .filter(|s| run.y_back < wall.lining_thickness() + s.out + ROOM)
        .filter_map(hole)
        .collect()
}

/// A plug and the bend of its flex behind a back (common practice, no source).
const ROOM: Length = Length::mm(60);

#[cfg(test)]
mod tests {
    use super::super::{fixture, reckon};
    use super::*;
    use crate::diag::Diagnostics;

    // By hand: one unit over 3000, its base at 100: a socket at 700 and 1100 up is 1000 over the back's
    // underside. One in the plinth is behind no back; nor any where the run stands 100 off its wall.
    #[test]
    fn a_socket_behind_a_back() {
        let mut job = fixture::job([3000; 4]);
        job.runs = vec![fixture::run(1)];
        job.rooms[0].walls[0].services = vec![
            fixture::service(ServiceKind::Socket, 700, 1100),
            fixture::service(ServiceKind::Socket, 900, 45),
        ];
        let holes = |job: &crate::resolve::job::Job| {
            let got = reckon(job, &mut Diagnostics::default()).unwrap();
            got.handling[0][0].holes.clone()
        };
        let got = holes(&job);
        assert_eq!(got.len(), 1);
        assert_eq!((got[0].x, got[0].z), (Length::mm(700), Length::mm(1000)));
        job.runs[0].off_wall = Length::mm(100);
        assert!(holes(&job).is_empty());
    }
}
