//! Sliding doors before their openings: what they cover shut, what they uncover, what they cover
//! open, what one sees past them. Knows leaves and openings of one wall; must not know fronts.

use super::finding;
use crate::reckon::placed::{Finding, PlacedSliding, Reckoned, Severity};
use crate::resolve::job::{Job, Sliding, Subject, Wall};
use crate::units::Length;

/// A leaf shut should lap its opening by this on each side and above (common practice, no source).
const LAP: Length = Length::mm(20);

pub fn check(job: &Job, reckoned: &Reckoned, found: &mut Vec<Finding>) {
    for (i, (leaf, at)) in job.sliding.iter().zip(&reckoned.sliding).enumerate() {
        let wall = job.wall(at.wall);
        let of = Leaf {
            index: i,
            leaf,
            at,
            wall,
        };
        of.shut(found);
        of.open(found);
    }
}

struct Leaf<'a> {
    index: usize,
    leaf: &'a Sliding,
    at: &'a PlacedSliding,
    wall: &'a Wall,
}

/// A doorway or window: what it is, along the wall, and in height.
struct Hole {
    what: &'static str,
    left: Length,
    right: Length,
    bottom: Length,
    top: Length,
}

impl Leaf<'_> {
    fn say(&self, what: (&'static str, Severity), text: String) -> Finding {
        finding(what, Subject::Sliding(self.index), self.leaf.place, text)
    }

    fn holes(&self) -> Vec<Hole> {
        let doors = self.wall.doors.iter().map(|d| Hole {
            what: "doorway",
            left: d.at,
            right: d.at + d.width,
            bottom: Length::ZERO,
            top: d.height,
        });
        let windows = self.wall.windows.iter().map(|w| Hole {
            what: "window",
            left: w.at,
            right: w.at + w.width,
            bottom: w.sill,
            top: w.sill + w.height,
        });
        doors.chain(windows).collect()
    }

    /// The doorway it closes: the one most of which lies behind it when shut.
    fn shut(&self, found: &mut Vec<Finding>) {
        let (at, name) = (self.at, &self.leaf.name);
        let behind = |h: &Hole| shared((h.left, h.right), (at.left, at.right));
        let doors = self.holes().into_iter().filter(|h| h.what == "doorway");
        let Some(door) = doors
            .filter(|h| behind(h) > Length::ZERO)
            .max_by_key(behind)
        else {
            return;
        };
        let laps = [
            ("left", door.left - at.left),
            ("right", at.right - door.right),
            ("head", at.top - door.top),
        ];
        let short: Vec<String> = laps
            .iter()
            .filter(|(_, lap)| *lap < LAP)
            .map(|(where_, lap)| match lap.is_negative() {
                true => format!("leaves {} mm of it open at the {where_}", -*lap),
                false => format!("laps it by only {lap} mm at the {where_}"),
            })
            .collect();
        if !short.is_empty() {
            let short: Vec<&str> = short.iter().map(String::as_str).collect();
            let text = format!("Shut, “{name}” {}.", super::names(&short));
            let gap = laps.iter().any(|(_, lap)| lap.is_negative());
            let severity = if gap {
                Severity::Warns
            } else {
                Severity::Informs
            };
            found.push(
                self.say(("sliding-laps-little", severity), text)
                    .against("20 mm over the opening on each side and above (common practice, no source)")
                    .advise("Make the leaf wider or higher, or move it along; light and sound come round a small lap.")
                    .for_client_too("A wider or higher door, which keeps out more light and sound."),
            );
        }
        let open = (at.open_left, at.open_right);
        let width = door.right - door.left;
        let free = width - shared((door.left, door.right), open);
        if free < width {
            let text = format!("Open, “{name}” uncovers {free} of the doorway's {width} mm.");
            found.push(
                self.say(("sliding-uncovers-part", Severity::Warns), text)
                    .against("the doorway as surveyed")
                    .advise("Slide it farther, to the other side, or in two leaves: it is also a way out in a fire.")
                    .for_client_too("A door that slides farther, to the other side, or in two leaves: the doorway is also a way out in a fire."),
            );
        }
        if self.leaf.sight {
            self.sight(&door, found);
        }
    }

    /// Past the edge of a leaf that stands `gap` off the wall and laps by `lap`, the eye sees into
    /// the opening along lines up to atan(gap/lap) off the wall: from the leaf's back corner to the
    /// opening's corner.
    fn sight(&self, door: &Hole, found: &mut Vec<Finding>) {
        let gap = self.at.off_foot.max(self.at.off_head);
        let least = self.at.off_foot.min(self.at.off_head);
        let off = match gap == least {
            true => format!("{gap} mm"),
            false => format!("{least} to {gap} mm"),
        };
        let (left, right) = (door.left - self.at.left, self.at.right - door.right);
        let sides = [("the left", left), ("the right", right)];
        let either = (left == right).then_some([("either side", left)]);
        let sides = either.as_ref().map_or(&sides[..], |one| &one[..]);
        let said: Vec<String> = sides
            .iter()
            .map(|(side, lap)| match *lap <= Length::ZERO {
                true => format!("straight in at {side}"),
                false => {
                    let angle = libm::atan2(gap.in_mm(), lap.in_mm()).to_degrees();
                    format!("along lines up to {angle:.0}° off the wall at {side} (lap {lap})")
                }
            })
            .collect();
        let said: Vec<&str> = said.iter().map(String::as_str).collect();
        let text = format!(
            "Shut, “{}” stands {off} off the wall: past its edges one sees into the opening {}.",
            self.leaf.name,
            super::names(&said)
        );
        found.push(
            self.say(("sight-past-sliding", Severity::Informs), text)
                .against("a straight line from the leaf's back edge to the corner of the opening")
                .advise("A greater lap, a stop post or a seal at the edge takes it away.")
                .for_client(
                    format!("Shut, “{}” hangs {off} off the wall.", self.leaf.name),
                    "A wider door, or a post or a seal at its edge, if that matters to you.",
                ),
        );
    }

    /// What it stands before when open: other openings, and service points.
    fn open(&self, found: &mut Vec<Finding>) {
        let at = self.at;
        let beside = |left: Length, right: Length| {
            shared((left, right), (at.open_left, at.open_right)) > Length::ZERO
                && shared((left, right), (at.left, at.right)) == Length::ZERO
        };
        let level = |bottom: Length, top: Length| bottom < at.top && top > at.bottom;
        let holes = self.holes();
        let mut covered: Vec<String> = holes
            .iter()
            .filter(|h| beside(h.left, h.right) && level(h.bottom, h.top))
            .map(|h| format!("the {} at {} to {} mm", h.what, h.left, h.right))
            .collect();
        let point = Length::um(1);
        let services = self.wall.services.iter().filter(|s| {
            beside(s.at, s.at + s.width.max(point)) && level(s.height, s.height + s.tall.max(point))
        });
        covered.extend(services.map(|s| format!("the {} at {} mm", s.kind.name(), s.at)));
        if covered.is_empty() {
            return;
        }
        let covered: Vec<&str> = covered.iter().map(String::as_str).collect();
        let text = format!(
            "Open, “{}” stands before {}.",
            self.leaf.name,
            super::names(&covered)
        );
        found.push(
            self.say(("sliding-covers", Severity::Warns), text)
                .against("the survey of its wall")
                .advise("Slide it to the other side, or have what it covers moved by whoever is licensed to.")
                .for_client_too("A door that slides to the other side, or what it covers moved by somebody licensed."),
        );
    }
}

/// Length that two stretches have in common.
fn shared(a: (Length, Length), b: (Length, Length)) -> Length {
    (a.1.min(b.1) - a.0.max(b.0)).max(Length::ZERO)
}

#[cfg(test)]
mod tests {
    use super::super::tests::found;
    use crate::diag::Place;
    use crate::reckon::fixture;
    use crate::resolve::job::{Job, Service, ServiceKind, Side, Sliding, WallDoor, WallRef};
    use crate::units::Length;

    fn job(at: i64, width: i64) -> Job {
        let mut job = fixture::job([4000, 3000, 4000, 3000]);
        job.rooms[0].walls[0].doors = vec![WallDoor {
            at: Length::mm(1000),
            width: Length::mm(900),
            height: Length::mm(2030),
            leads_to: String::new(),
            hinge: None,
            opens_in: false,
        }];
        job.sliding = vec![Sliding {
            id: "s".into(),
            name: "S".into(),
            wall: WallRef { room: 0, wall: 0 },
            at: Length::mm(at),
            width: Length::mm(width),
            height: Length::mm(2070),
            clear: Length::mm(10),
            off_wall: Length::mm(20),
            slides: Side::Right,
            sight: true,
            material: fixture::FRONT,
            finish: None,
            track: None,
            handle: None,
            note: String::new(),
            place: Place::NOWHERE,
        }];
        job
    }

    // By hand: a leaf of 1000 at 950 laps 50 and 50 and, open, uncovers all; one of 860 at 1000 laps
    // 0 and leaves 40; open it stands from 1860, over the last 40 of the doorway.
    #[test]
    fn laps_and_what_is_uncovered() {
        assert!(found(&job(950, 1000), "sliding-laps-little").is_empty());
        assert!(found(&job(950, 1000), "sliding-uncovers-part").is_empty());
        let list = found(&job(1000, 860), "sliding-laps-little");
        assert!(
            list[0].text.contains("only 0 mm at the left"),
            "{}",
            list[0].text
        );
        assert!(
            list[0]
                .text
                .contains("leaves 40 mm of it open at the right")
        );
        let list = found(&job(1000, 860), "sliding-uncovers-part");
        assert!(
            list[0].text.contains("860 of the doorway's 900"),
            "{}",
            list[0].text
        );
    }

    // By trigonometry: 20 off the wall and 50 of lap: tan⁻¹(20/50) = 21.8°.
    #[test]
    fn how_far_one_sees_past_it() {
        let list = found(&job(950, 1000), "sight-past-sliding");
        assert!(
            list[0]
                .text
                .contains("up to 22° off the wall at either side"),
            "{}",
            list[0].text
        );
        let mut quiet = job(950, 1000);
        quiet.sliding[0].sight = false;
        assert!(found(&quiet, "sight-past-sliding").is_empty());
    }

    // By hand: open it stands from 1950 to 2950: before a switch at 2000, not before one at 3000.
    #[test]
    fn a_switch_behind_the_open_leaf() {
        let mut job = job(950, 1000);
        let mut with = |at| {
            job.rooms[0].walls[0].services = vec![Service {
                kind: ServiceKind::Switch,
                was: None,
                at: Length::mm(at),
                height: Length::mm(1100),
                width: Length::ZERO,
                tall: Length::ZERO,
                out: Length::ZERO,
                note: String::new(),
            }];
            found(&job, "sliding-covers").len()
        };
        assert_eq!((with(2000), with(3000), with(1960)), (1, 0, 1));
    }
}
