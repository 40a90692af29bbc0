//! What a page's builder may look at, with the look-ups every page needs. Must not decide what is on a
//! page; a reference that leads nowhere gives words that say nothing, never a panic.

use super::words;
use crate::compare::{Purpose, Standing, record};
use crate::draw::{Drawing, Key};
use crate::reckon::placed::{PlacedFront, PlacedRun, PlacedUnit, Reckoned};
use crate::resolve::job::{
    Appliance, ApplianceRef, FinishRef, HardwareRef, Job, MaterialRef, Reader, Run, Unit, Wall,
    WallRef,
};
use crate::risks::Risks;

/// Whom a pack is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pack {
    Client,
    Fitter,
}

impl Pack {
    /// As its file is called.
    pub fn name(self) -> &'static str {
        match self {
            Pack::Client => "client",
            Pack::Fitter => "fitter",
        }
    }

    /// As its pages call it.
    pub fn title(self) -> &'static str {
        match self {
            Pack::Client => "Client pack",
            Pack::Fitter => "Fitter pack",
        }
    }

    /// In the number of a sheet.
    pub fn letter(self) -> char {
        match self {
            Pack::Client => 'C',
            Pack::Fitter => 'F',
        }
    }

    pub fn reader(self) -> Reader {
        match self {
            Pack::Client => Reader::Client,
            Pack::Fitter => Reader::Fitter,
        }
    }
}

/// What may go wrong, with its key drawings.
#[derive(Clone, Copy)]
pub struct Told<'a> {
    pub risks: &'a Risks,
    pub keys: &'a [Key],
}

pub struct Context<'a> {
    pub told: &'a Told<'a>,
    pub job: &'a Job,
    pub reckoned: &'a Reckoned,
    pub drawings: &'a [Drawing],
    pub pack: Pack,
    pub standing: &'a Standing,
}

impl<'a> Context<'a> {
    pub fn material(&self, at: MaterialRef) -> &'a str {
        self.job
            .materials
            .get(at.0)
            .map_or(words::NOTHING, |m| &m.name)
    }

    /// A board by its key, as it may have been in an earlier issue.
    pub fn material_called(&self, key: &str) -> String {
        let known = self.job.materials.iter().find(|m| m.key == key);
        known.map_or_else(|| self.once_called("material", key), |m| m.name.clone())
    }

    /// A finish by its key, in the same way.
    pub fn finish_called(&self, key: &str) -> String {
        let known = self.job.finishes.iter().find(|f| f.key == key);
        known.map_or_else(|| self.once_called("finish", key), |f| f.name.clone())
    }

    /// What is gone by the name that the newest issue had for it.
    fn once_called(&self, kind: &str, id: &str) -> String {
        let gone = self.standing.register.gone.get(&record::key(kind, id));
        let name = gone.and_then(|thing| thing.text("name"));
        name.unwrap_or(id).to_owned()
    }

    /// A wall by its id, as it may have been in an earlier issue.
    pub fn wall_called(&self, id: &str) -> String {
        let rooms = self.job.rooms.iter().enumerate();
        let mut walls =
            rooms.flat_map(|(room, r)| (0..r.walls.len()).map(move |wall| WallRef { room, wall }));
        let found = walls.find(|at| self.job.wall_id(*at) == id);
        found.map_or_else(|| id.to_owned(), |at| self.wall(at))
    }

    /// `Smoked larch veneer, hard oil`.
    pub fn material_and_finish(&self, material: MaterialRef, finish: Option<FinishRef>) -> String {
        match finish.and_then(|at| self.job.finishes.get(at.0)) {
            Some(finish) => format!("{}; {}", self.material(material), finish.name),
            None => self.material(material).to_owned(),
        }
    }

    pub fn hardware(&self, at: Option<HardwareRef>) -> &'a str {
        let hardware = at.and_then(|at| self.job.hardware.get(at.0));
        hardware.map_or(words::NOTHING, |h| &h.name)
    }

    pub fn appliance(&self, at: ApplianceRef) -> Option<&'a Appliance> {
        self.job.appliances.get(at.0)
    }

    /// `Chamber, wall A`.
    pub fn wall(&self, at: WallRef) -> String {
        words::wall(self.job, at.room, at.wall)
    }

    pub fn room(&self, at: WallRef) -> &'a str {
        self.job
            .rooms
            .get(at.room)
            .map_or(words::NOTHING, |r| &r.name)
    }

    pub fn wall_of(&self, at: WallRef) -> Option<&'a Wall> {
        self.job
            .rooms
            .get(at.room)
            .and_then(|r| r.walls.get(at.wall))
    }

    /// `Chamber: Wardrobe wall`.
    pub fn run_title(&self, run: &Run) -> String {
        format!("{}: {}", self.room(run.wall), run.name)
    }

    /// Each run as wanted beside as placed.
    pub fn runs(&self) -> impl Iterator<Item = (&'a Run, &'a PlacedRun)> + use<'a> {
        self.job.runs.iter().zip(&self.reckoned.runs)
    }

    /// Each unit of a run as wanted beside as placed.
    pub fn units(
        &self,
        run: &'a Run,
        placed: &'a PlacedRun,
    ) -> impl Iterator<Item = (&'a Unit, &'a PlacedUnit)> + use<'a> {
        run.units.iter().zip(&placed.units)
    }

    pub fn unit_of(&self, front: &PlacedFront) -> Option<&'a Unit> {
        self.job
            .runs
            .get(front.run)
            .and_then(|run| run.units.get(front.unit))
    }

    /// As a title block has it: the issue's, else what this is a draft after.
    pub fn revision(&self) -> String {
        match (&self.standing.issue, self.standing.newest()) {
            (Some(issue), _) => issue.revision.clone(),
            (None, Some(newest)) => format!("after {}", newest.revision),
            (None, None) => self.told_revision().to_owned(),
        }
    }

    /// The newest revision named in the history.
    fn told_revision(&self) -> &'a str {
        let history = self.job.history.iter().rev();
        let mut named = history.filter(|h| !h.revision.trim().is_empty());
        named.next().map_or(words::NOTHING, |h| &h.revision)
    }

    pub fn revision_words(&self) -> String {
        match (&self.standing.issue, self.standing.newest()) {
            (Some(issue), _) => format!("revision {}", issue.revision),
            (None, Some(newest)) => format!("after revision {}", newest.revision),
            (None, None) => match self.told_revision() {
                words::NOTHING => "no revision yet".to_owned(),
                revision => format!("revision {revision}"),
            },
        }
    }

    /// `issued for fitting`, or `draft, for approval`.
    pub fn status(&self) -> String {
        if let Some(issue) = &self.standing.issue {
            return match issue.purpose {
                Purpose::Record => "issued as a record".to_owned(),
                purpose => format!("issued for {}", purpose.word()),
            };
        }
        match self.job.info.purpose.trim() {
            "" => "draft".to_owned(),
            purpose => format!("draft, for {purpose}"),
        }
    }

    /// Down the margin of every page of a draft; nothing on an issue.
    pub fn watermark(&self) -> Option<String> {
        match (&self.standing.issue, self.standing.newest()) {
            (Some(_), _) => None,
            (None, Some(newest)) => Some(format!(
                "DRAFT after revision {}: not issued, do not make from this",
                newest.revision
            )),
            (None, None) => Some("DRAFT: not issued, do not make from this".to_owned()),
        }
    }
}
