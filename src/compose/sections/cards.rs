//! A card for each unit, for the fitter who carries and stands it: all that was reckoned of it in one
//! place. Knows which facts a fitter needs; every number is the reckoning's.

use super::super::before::Before;
use super::super::context::Context;
use super::super::data::{BODY, Block, Board, Swatch};
use super::super::{assemble, fit, pages, words};
use super::{feet, loads, mind};
use crate::draw::{Drawing, DrawingKind};
use crate::reckon::access::Passing;
use crate::reckon::handling::Handling;
use crate::reckon::joints::connected;
use crate::reckon::lifting;
use crate::reckon::loads::Loads;
use crate::reckon::placed::{PlacedRun, PlacedUnit};
use crate::reckon::stand_up::{Laid, Over, Raised, StandUp};
use crate::resolve::job::{HardwareKind, Run, Stands, Subject, Unit};
use crate::units::Length;

pub fn cards(ctx: &Context) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (r, (run, placed)) in ctx.runs().enumerate() {
        for (u, (unit, put)) in ctx.units(run, placed).enumerate() {
            let of = ctx.reckoned.handling.get(r).and_then(|h| h.get(u));
            let Some(handling) = of else { continue };
            let card = Card {
                ctx,
                subject: Subject::Unit(r, u),
                run,
                placed,
                unit,
                put,
                handling,
                loads: ctx.reckoned.loads.get(r).and_then(|l| l.get(u)),
            };
            blocks.push(card.block());
        }
    }
    if !blocks.is_empty() {
        blocks.insert(
            0,
            Block::paragraph(
                "One card for each unit. Fronts, drawers and loose shelves come out before it is carried. How many people is by \
                 guideline figures, which are a filter for your own assessment and not a limit. The way in and the raising are reckoned from the survey \
                 and from clear widths: hands, wrapping and handrails take more. Machines are carried only the ways up that their \
                 makers allow. Numbers of fixings, screws, pins and connectors are common practice, no source.",
            ),
        );
    }
    blocks
}

/// Narrowest column of a picture, mm: what stands under it needs so much.
const CAPTION: f64 = 24.0;

struct Card<'a> {
    ctx: &'a Context<'a>,
    subject: Subject,
    run: &'a Run,
    placed: &'a PlacedRun,
    unit: &'a Unit,
    put: &'a PlacedUnit,
    handling: &'a Handling,
    loads: Option<&'a Loads>,
}

impl Card<'_> {
    fn block(&self) -> Block {
        let mut facts: Vec<(&str, String)> = vec![("Place", self.place()), ("Size", self.size())];
        facts.push(("Carried", self.carried()));
        if !self.ctx.job.way_in.is_empty() {
            facts.push(("Way in", self.way_in()));
        }
        facts.push(("Raising", self.raising()));
        if !self.put.feet.is_empty() {
            facts.push(("Feet", self.feet()));
            let packers = self.packers();
            if !packers.is_empty() {
                facts.push(("Packers", packers));
            }
        }
        facts.extend(self.loads.and_then(loads::at_wall).map(|w| ("Wall", w)));
        let beside = self.beside();
        if !beside.is_empty() {
            facts.push(("Beside it", beside));
        }
        if !self.put.notches.is_empty() {
            let cut = self.put.notches.iter().map(|n| {
                let corner = match (n.left <= self.put.left, n.right >= self.put.right) {
                    (true, true) => "along its back",
                    (true, false) => "at its back left corner",
                    (false, true) => "at its back right corner",
                    (false, false) => "in its back",
                };
                format!(
                    "{corner}, round {}: {} wide, {} high, {} deep",
                    n.what,
                    n.right - n.left,
                    n.top - n.bottom,
                    n.deep
                )
            });
            facts.push((
                "Notch",
                words::sentence(&cut.collect::<Vec<_>>().join("; ")),
            ));
        }
        if !self.handling.holes.is_empty() {
            let each = self.handling.holes.iter().map(|h| {
                format!(
                    "for the {}, its middle {} from its left edge as seen from the front and {} from its underside, {} \
                     across at the least",
                    h.kind.name(),
                    h.x,
                    h.z,
                    h.half * 2
                )
            });
            let each: Vec<String> = each.collect();
            facts.push((
                "Cut in the back",
                format!(
                    "{} Measure on site before it is cut.",
                    words::sentence(&each.join("; "))
                ),
            ));
        }
        facts.push(("Joints", self.joints()));
        let fronts = self.fronts();
        if !fronts.is_empty() {
            facts.push(("Fronts", fronts));
        }
        facts.push(("Hardware", self.hardware()));
        let machines = mind::machines_in_turn(self.ctx, &self.subject, self.put);
        if !machines.is_empty() {
            facts.push(("Built in", machines));
        }
        let mind = mind::mind(self.ctx, &self.subject, self.run, self.put);
        for (n, each) in mind.into_iter().enumerate() {
            facts.push((if n == 0 { "Mind" } else { "" }, each));
        }
        let picture = self.picture();
        let width = 138.0 - picture.as_ref().map_or(0.0, |p| p.column + 4.0);
        let fitted = |text: &str| fit::breakable(&fit::clean(text), width, BODY, false);
        let mut facts: Vec<(String, String, Option<String>)> = facts
            .into_iter()
            .map(|(term, text)| (term.to_owned(), fitted(&text), None))
            .collect();
        facts.extend(self.was(fitted));
        let title = words::unit_name(&self.unit.id, &self.unit.name);
        Block::Board(Board {
            title: fit::breakable(&fit::clean(&title), 170.0, 12.0, true),
            picture,
            facts,
            drawings: self.drawings(),
        })
    }

    /// All that was otherwise in the newest issue, struck through.
    fn was(&self, fitted: impl Fn(&str) -> String) -> Option<(String, String, Option<String>)> {
        let newest = self.ctx.standing.newest()?;
        let before = Before::of(self.ctx, "unit", &self.unit.id);
        let id = before.id(&self.unit.id);
        let called = (id != self.unit.id).then(|| format!("called {id}"));
        let all: Vec<String> = called.into_iter().chain(before.all()).collect();
        let term = format!("Was, in {}", newest.revision);
        (!all.is_empty()).then(|| (term, String::new(), Some(fitted(&all.join("; ")))))
    }

    fn picture(&self) -> Option<Swatch> {
        let Subject::Unit(r, u) = self.subject else {
            return None;
        };
        let mut cards = pages::cards(self.ctx);
        let drawing = cards.find(|d| d.kind == DrawingKind::Card(r, u))?;
        let shows = match self.put.fronts.is_empty() {
            true => "open",
            false => "open, and with its fronts",
        };
        Some(Swatch {
            path: assemble::drawing_path(&drawing.id),
            alt: fit::clean(&drawing.alt),
            caption: format!("1:{}, {shows}", drawing.scale),
            width: drawing.width_mm,
            height: drawing.height_mm,
            column: drawing.width_mm.max(CAPTION),
            right: true,
        })
    }

    /// The elevations of its wall, and the section that shows it or one like it.
    fn drawings(&self) -> Vec<(String, String)> {
        let shows = |d: &Drawing| match &d.kind {
            DrawingKind::Shut(wall) if *wall == self.run.wall => Some("elevation"),
            DrawingKind::Open(wall) if *wall == self.run.wall => Some("interior"),
            DrawingKind::Section => {
                let mut ids = d.title.split([',', ';']).map(str::trim);
                let own = |id: &str| id.strip_prefix("under ").unwrap_or(id) == self.unit.id;
                ids.any(own).then_some("section")
            }
            _ => None,
        };
        let all = pages::drawings(self.ctx);
        all.filter_map(|d| Some((shows(d)?.to_owned(), d.id.clone())))
            .collect()
    }

    fn place(&self) -> String {
        let title = self.ctx.run_title(self.run);
        let wall = self
            .ctx
            .wall_of(self.run.wall)
            .map_or("", |w| w.id.as_str());
        let at = format!(
            "{title}; its left edge {} from the left corner of wall {wall}.",
            self.put.left
        );
        let steps = &self.ctx.reckoned.order;
        match steps.iter().position(|s| s.subject == self.subject) {
            Some(i) => format!(
                "{at} Step {} of {} in the order of work.",
                i + 1,
                steps.len()
            ),
            None => at,
        }
    }

    fn size(&self) -> String {
        let datum = self.ctx.job.info.datum;
        format!(
            "{} (width \u{d7} height \u{d7} depth of the carcass); underside {}, top {} from the datum.",
            words::by3(self.put.width(), self.put.height(), self.put.depth),
            words::from_datum(self.put.base, datum),
            words::from_datum(self.put.top, datum)
        )
    }

    fn carried(&self) -> String {
        let h = self.handling;
        let people = words::people(h.mass).unwrap_or_else(|| self.heavy());
        let what = match self.unit.build_in_place {
            true => {
                let size = words::by3(h.carried.length, h.carried.breadth, h.carried.thickness);
                format!("In boards, put together in place; the largest {size}, the heaviest")
            }
            false => {
                let mut shelves = self.put.bays.iter().flat_map(|b| &b.shelves);
                let out = [
                    (!self.put.fronts.is_empty(), "fronts"),
                    (!self.put.boxes.is_empty(), "drawers"),
                    (shelves.any(|s| !s.fixed), "loose shelves"),
                ];
                let out = out.iter().filter(|(there, _)| *there);
                let out: Vec<String> = out.map(|(_, what)| (*what).to_owned()).collect();
                format!("Without its {}", words::and_list(&out))
            }
        };
        if h.mass == self.put.mass {
            return format!("{}: {people}.", words::kg(h.mass));
        }
        let fronts = !self.put.fronts.is_empty();
        let only = match h.left_in.filter(|_| fronts) {
            Some(mass) => format!(" With only its fronts off {}.", words::kg(mass)),
            None => String::new(),
        };
        format!(
            "{what} {}: {people}.{only} With everything {}.",
            words::kg(h.mass),
            words::kg(self.put.mass)
        )
    }

    /// What helps where no figure covers it.
    fn heavy(&self) -> String {
        let most = words::kg(lifting::team(lifting::MOST, lifting::ONE.0));
        format!(
            "more than the figure for three people, {most}: a trolley, and on stairs a stair climber or a hoist"
        )
    }

    fn way_in(&self) -> String {
        way_in(self.ctx, &self.handling.way_in)
    }

    fn raising(&self) -> String {
        match (self.handling.stand_up, self.unit.build_in_place) {
            (Some(how), _) => raising(&how),
            (None, true) => "Not raised: put together where it stands.".to_owned(),
            (None, false) => match self.unit.stands {
                Stands::Wall => "Lifted onto its fixings.".to_owned(),
                _ => "Lifted onto the unit under it.".to_owned(),
            },
        }
    }

    fn feet(&self) -> String {
        let rows = feet::rows(&self.put.feet);
        let last = rows.len().saturating_sub(1);
        let told = rows.iter().enumerate().map(|(i, row)| {
            let which = match i {
                0 => "back",
                i if i == last => "front",
                _ => "middle",
            };
            format!("{which} {row}")
        });
        let packers = match self.range().filter(|_| self.handling.packers.is_empty()) {
            Some((low, high)) => format!("; no packers, as they go from {low} to {high}"),
            None => String::new(),
        };
        format!(
            "{}, left to right{packers}. {}",
            words::sentence(&told.collect::<Vec<_>>().join("; ")).trim_end_matches('.'),
            self.loads.and_then(loads::on_feet).unwrap_or_default()
        )
    }

    /// Of its feet, lowest and highest.
    fn range(&self) -> Option<(Length, Length)> {
        let foot = self.run.foot?;
        self.ctx.job.hardware.get(foot.0)?.range
    }

    /// What must lie under feet that do not reach the floor; nothing where all do.
    fn packers(&self) -> String {
        if self.handling.packers.is_empty() {
            return match self.range() {
                Some(_) => String::new(),
                None => "By the floor: the range of the feet is not given.".to_owned(),
            };
        }
        let each = self.handling.packers.iter().map(|(n, more)| {
            let place = self.put.feet.get(*n).map(|f| f.x - self.put.left);
            let place = place.map_or(String::new(), |x| format!(" at {x} from its left"));
            format!("{more} under foot {}{place}", n + 1)
        });
        let said = each.collect::<Vec<_>>().join("; ");
        format!(
            "{} Feet are counted from the back left.",
            words::sentence(&said)
        )
    }

    /// How the carcass is put together.
    fn joints(&self) -> String {
        let j = self.handling.joints;
        let mut ends = vec![format!("{} at the corners", j.corners)];
        if j.shelves > 0 {
            ends.push(format!("{} of fixed shelves", j.shelves));
        }
        if j.uprights > 0 {
            ends.push(format!("{} of uprights", j.uprights));
        }
        let all = self.ctx.job.hardware.iter();
        let mut named = all.filter(|h| h.kind == HardwareKind::Fixing);
        let fixing = named.next().map_or("fixings", |h| h.name.as_str());
        let back = match j.back {
            0 => String::new(),
            n => format!("; {n} screws in the back"),
        };
        let more = self.handling.fittings;
        let pins = match more.pins {
            0 => String::new(),
            n => format!("; {n} pins under loose shelves"),
        };
        let beside = connected(self.placed, self.put);
        let beside: Vec<String> = beside
            .iter()
            .map(|(_, id, n)| format!("{n} to {id}"))
            .collect();
        let connectors = match beside.is_empty() {
            true => String::new(),
            false => format!(
                "; connectors (told on both cards): {}",
                words::and_list(&beside)
            ),
        };
        format!(
            "{}, {} {fixing} in each, {} in all{back}{pins}{connectors}.",
            words::and_list(&ends),
            j.each,
            j.fixings()
        )
    }

    /// Strips and panels against its own sides.
    fn beside(&self) -> String {
        let near = |p: &&crate::reckon::placed::RunPiece| {
            let ends = self.placed.units.iter();
            let first = ends.clone().map(|u| u.left).min() == Some(self.put.left);
            let last = ends.map(|u| u.right).max() == Some(self.put.right);
            (first && p.right <= self.put.left) || (last && p.left >= self.put.right)
        };
        let pieces = self.placed.pieces.iter().filter(near).map(|p| {
            let side = words::side(p.side);
            let what = words::piece(p.kind);
            let widths = p.scribe.iter().map(|s| s.1);
            let of = |w: Length| words::to_half(w);
            match (widths.clone().min(), widths.max()) {
                (Some(least), Some(most)) if of(least) == of(most) => format!(
                    "{side} {what} {} wide throughout, from a blank of {}",
                    of(least),
                    of(p.blank)
                ),
                (Some(least), Some(most)) => format!(
                    "{side} {what} {} to {} wide, from a blank of {}",
                    words::to_half(least),
                    words::to_half(most),
                    words::to_half(p.blank)
                ),
                _ => format!("{side} {what} {} wide", p.right - p.left),
            }
        });
        let pieces: Vec<String> = pieces.collect();
        match pieces.is_empty() {
            true => String::new(),
            false => words::sentence(&pieces.join("; ")),
        }
    }

    fn fronts(&self) -> String {
        let fronts = self.put.fronts.iter();
        let numbers = fronts.filter_map(|i| self.ctx.reckoned.fronts.get(*i));
        let numbers: Vec<String> = numbers.map(|f| f.number.to_string()).collect();
        match numbers.as_slice() {
            [] => String::new(),
            [one] => format!("Number {one}."),
            many => format!("Numbers {}.", words::and_list(many)),
        }
    }

    fn hardware(&self) -> String {
        let mut said = Vec::new();
        for count in &self.ctx.reckoned.hardware {
            let here = count.by_unit.iter().filter(|(id, _)| *id == self.unit.id);
            let number: u32 = here.map(|(_, n)| *n).fold(0, u32::saturating_add);
            if number > 0 {
                let pair = match self.ctx.job.hardware.get(count.which.0).map(|h| h.kind) {
                    Some(HardwareKind::Runner) => " (pair)",
                    _ => "",
                };
                let name = self.ctx.hardware(Some(count.which));
                said.push(format!("{number} \u{d7} {name}{pair}"));
            }
        }
        match said.is_empty() {
            true => "None counted.".to_owned(),
            false => words::sentence(&said.join("; ")),
        }
    }
}

/// How a piece goes along the way in.
pub fn way_in(ctx: &Context, passings: &[Passing]) -> String {
    let way = ctx.job.way_in.iter().zip(passings);
    let mut upright = Vec::new();
    let mut aslant = Vec::new();
    let mut stuck = Vec::new();
    for (obstacle, passing) in way {
        let name = match obstacle.what.trim() {
            "" => words::obstacle(obstacle.kind).to_owned(),
            what => what.to_owned(),
        };
        match passing {
            Passing::Passes => {}
            Passing::Upright => upright.push(name),
            Passing::Aslant => aslant.push(name),
            Passing::Stuck { short } => stuck.push(format!("{name} by {short}")),
        }
    }
    let mut said = Vec::new();
    if !stuck.is_empty() {
        said.push(format!(
            "Does not pass: short at {}.",
            words::and_list(&stuck)
        ));
    }
    let ways = [("stood on end", upright), ("held aslant", aslant)];
    let raised: Vec<String> = ways
        .iter()
        .filter(|(_, at)| !at.is_empty())
        .map(|(how, at)| format!("{how} at the {}", words::and_list(at)))
        .collect();
    if !raised.is_empty() {
        said.push(format!(
            "Must be {}; it passes the rest lying or on edge.",
            words::and_list(&raised)
        ));
    }
    match said.is_empty() {
        true => "Passes everything declared, lying or on edge.".to_owned(),
        false => said.join(" "),
    }
}

fn raising(how: &StandUp) -> String {
    let over = match how.over {
        Over::Depth => "over its depth",
        Over::Width => "over its width",
    };
    let room = format!(
        "needs {} of clear height, and has {} where it is raised",
        how.needed, how.ceiling
    );
    let how_laid = laid(how);
    match how.raised {
        Raised::OnFeet => format!("Stands up on its feet, {over}: {room}.{how_laid}"),
        Raised::FeetAfter => format!(
            "Stands up {over} with its feet off: {room}.{how_laid} Fit the feet once it stands."
        ),
        Raised::Eased { by } => format!(
            "Stands up {over}, feet off, with its top corner eased by {by}: {room}.{how_laid} Fit the feet once it \
             stands."
        ),
        Raised::InPlace { short } => format!(
            "Cannot be raised: {over}, feet off, it {room}; short by {short}. It must be put together in place."
        ),
    }
}

/// Where it lies first, and what it is pushed under.
fn laid(how: &StandUp) -> String {
    let mut said = match how.laid {
        Laid::Square => String::new(),
        Laid::Along { asks, square } => {
            let turned = match how.over {
                Over::Depth => ", and turn it a quarter once it stands",
                Over::Width => "",
            };
            format!(
                " Lay it along the wall, before the run: square to the wall it asks for {asks} of floor, and there is \
                 {square}{turned}."
            )
        }
        Laid::Aslant => " No floor before it is as long as it is: bring it in aslant.".to_owned(),
    };
    if let Some(over) = how.pushed_under {
        said.push_str(&format!(
            " Raise it clear of what hangs lower at the wall, and push it back: {over} over it there."
        ));
    }
    said
}
