//! Who is called what. Knows every id and finds what a reference means, or the nearest to it; must
//! not know what the thing is for.

use crate::diag::{Code, Diagnostic, Diagnostics, Place};
use crate::read::project::Project;
use crate::read::table::{At, nearest};
use crate::read::value::{Named, Ref};

use super::fill::list;
use super::job::{ApplianceRef, FinishRef, HardwareRef, MaterialRef, Subject, WallRef};

/// Looks things up in a filled project.
pub struct Names<'a> {
    pub project: &'a Project,
    /// Everything a note can be about, with its id and place.
    subjects: Vec<(String, Subject, Place)>,
}

fn named<T>(at: &Option<At<Named<T>>>) -> Vec<&str> {
    at.iter()
        .flat_map(|a| a.value.0.iter())
        .map(|(n, _)| n.value.as_str())
        .collect()
}

impl<'a> Names<'a> {
    /// Collects every id and reports those given twice.
    pub fn new(project: &'a Project, diags: &mut Diagnostics) -> Names<'a> {
        let mut names = Names {
            project,
            subjects: Vec::new(),
        };
        for (n, room) in list(&project.room).iter().enumerate() {
            names.add(&room.id().value.0, Subject::Room(n), room.id().place, diags);
            for (w, wall) in list(&room.wall).iter().enumerate() {
                let full = format!("{}.{}", room.id().value.0, wall.id().value.0);
                let at = WallRef { room: n, wall: w };
                names.add(&full, Subject::Wall(at), wall.id().place, diags);
            }
        }
        for (r, run) in list(&project.run).iter().enumerate() {
            names.add(&run.id().value.0, Subject::Run(r), run.id().place, diags);
            for (u, unit) in list(&run.unit).iter().enumerate() {
                let Some(id) = &unit.id else { continue };
                let place = if id.written() { id.place } else { unit.place };
                if !names.add(&id.value.0, Subject::Unit(r, u), place, diags) {
                    continue; // its fronts' derived ids would only say the same again
                }
                for cell in list(&unit.row).iter().flat_map(|row| list(&row.across)) {
                    let Some(id) = &cell.id else { continue };
                    let place = if id.written() { id.place } else { cell.place };
                    names.add(
                        &id.value.0,
                        Subject::Front(id.value.0.clone()),
                        place,
                        diags,
                    );
                }
            }
        }
        for (n, panel) in list(&project.panel).iter().enumerate() {
            names.add(
                &panel.id().value.0,
                Subject::Panel(n),
                panel.id().place,
                diags,
            );
        }
        for (n, door) in list(&project.sliding).iter().enumerate() {
            names.add(
                &door.id().value.0,
                Subject::Sliding(n),
                door.id().place,
                diags,
            );
        }
        for (n, top) in list(&project.worktop).iter().enumerate() {
            names.add(
                &top.id().value.0,
                Subject::Worktop(n),
                top.id().place,
                diags,
            );
        }
        names
    }

    fn add(&mut self, id: &str, subject: Subject, place: Place, diags: &mut Diagnostics) -> bool {
        if id.is_empty() || id.ends_with('.') {
            return true; // a missing id has been reported
        }
        if let Some((_, _, first)) = self.subjects.iter().find(|(known, ..)| known == id) {
            diags.push(
                Diagnostic::new(Code::DuplicateId, place, format!("the id `{id}` is used twice"))
                    .label("here again")
                    .also(*first, "first here")
                    .help("give one of them another id: rooms, runs, units, fronts and panels share one list"),
            );
            return false;
        }
        self.subjects.push((id.to_string(), subject, place));
        true
    }

    fn find(
        &self,
        what: &str,
        at: &At<Ref>,
        known: &[&str],
        diags: &mut Diagnostics,
    ) -> Option<usize> {
        let found = known.iter().position(|name| *name == at.value.0);
        // A reference nobody wrote stands for a key whose absence has been reported.
        if found.is_none() && at.written() {
            let help = match nearest(&at.value.0, known) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None if known.is_empty() => format!("the file has no {what} yet: add one"),
                None if known.len() <= 12 => format!("there are: {}", known.join(", ")),
                None => format!("give the name of a {what} that is in the file"),
            };
            let shown = crate::read::value::shown(&at.value.0);
            diags.push(
                Diagnostic::new(
                    Code::DanglingReference,
                    at.place,
                    format!("there is no {what} called \"{shown}\""),
                )
                .label("not in this file")
                .help(help),
            );
        }
        found
    }

    pub fn material(&self, at: &At<Ref>, diags: &mut Diagnostics) -> MaterialRef {
        let known = named(&self.project.material);
        MaterialRef(self.find("material", at, &known, diags).unwrap_or(0))
    }

    /// One of the boards in hand.
    pub fn board(&self, at: &At<Ref>, known: &[&str], diags: &mut Diagnostics) -> Option<usize> {
        self.find("board in hand", at, known, diags)
    }

    pub fn finish(&self, at: Option<&At<Ref>>, diags: &mut Diagnostics) -> Option<FinishRef> {
        let known = named(&self.project.finish);
        at.and_then(|at| self.find("finish", at, &known, diags))
            .map(FinishRef)
    }

    pub fn hardware(&self, at: Option<&At<Ref>>, diags: &mut Diagnostics) -> Option<HardwareRef> {
        let known = named(&self.project.hardware);
        at.and_then(|at| self.find("hardware", at, &known, diags))
            .map(HardwareRef)
    }

    pub fn appliance(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<ApplianceRef> {
        let known = named(&self.project.appliance);
        self.find("appliance", at, &known, diags).map(ApplianceRef)
    }

    /// Only checks that there is one.
    pub fn kind(&self, at: Option<&At<Ref>>, diags: &mut Diagnostics) {
        let known = named(&self.project.kind);
        at.and_then(|at| self.find("kind of unit", at, &known, diags));
    }

    pub fn front(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<usize> {
        self.find("kind of front", at, &named(&self.project.front), diags)
    }

    pub fn set(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<usize> {
        self.find("set of materials", at, &named(&self.project.set), diags)
    }

    pub fn wall(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<WallRef> {
        let walls: Vec<(&str, WallRef)> = self
            .subjects
            .iter()
            .filter_map(|(id, subject, _)| match subject {
                Subject::Wall(wall) => Some((id.as_str(), *wall)),
                _ => None,
            })
            .collect();
        let known: Vec<&str> = walls.iter().map(|(id, _)| *id).collect();
        self.find("wall", at, &known, diags)
            .and_then(|n| walls.get(n))
            .map(|(_, wall)| *wall)
    }

    /// A wall of a room by its id there.
    pub fn wall_in(&self, room: usize, at: &At<Ref>, diags: &mut Diagnostics) -> usize {
        let walls = list(&self.project.room)
            .get(room)
            .map_or(&[][..], |r| list(&r.wall));
        let ids: Vec<String> = walls.iter().map(|w| w.id().value.0).collect();
        let known: Vec<&str> = ids.iter().map(String::as_str).collect();
        self.find("wall of this room", at, &known, diags)
            .unwrap_or(0)
    }

    pub fn unit(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<(usize, usize)> {
        let units: Vec<(&str, (usize, usize))> = self
            .subjects
            .iter()
            .filter_map(|(id, subject, _)| match subject {
                Subject::Unit(run, unit) => Some((id.as_str(), (*run, *unit))),
                _ => None,
            })
            .collect();
        let known: Vec<&str> = units.iter().map(|(id, _)| *id).collect();
        self.find("unit", at, &known, diags)
            .and_then(|n| units.get(n))
            .map(|(_, unit)| *unit)
    }

    pub fn run(&self, at: &At<Ref>, diags: &mut Diagnostics) -> usize {
        let ids: Vec<String> = list(&self.project.run)
            .iter()
            .map(|r| r.id().value.0)
            .collect();
        let known: Vec<&str> = ids.iter().map(String::as_str).collect();
        self.find("run", at, &known, diags).unwrap_or(0)
    }

    /// Whatever a note can be about.
    pub fn subject(&self, at: &At<Ref>, diags: &mut Diagnostics) -> Option<Subject> {
        let known: Vec<&str> = self.subjects.iter().map(|(id, ..)| id.as_str()).collect();
        self.find("thing", at, &known, diags)
            .and_then(|n| self.subjects.get(n))
            .map(|(_, subject, _)| subject.clone())
    }
}
