//! A row of a schedule as it was in the newest issue: each value is asked for by its fact, and where that is
//! the same as now, now's is given. Knows what the register keeps; words nothing.
//!
//! A schedule writes its row twice with the same words, of what is and of what was, and
//! [`Table::was`](super::table::Table::was) keeps the cells that differ.

use super::context::Context;
use crate::compare::record::{Fact, Thing, key};
use crate::compare::takes::{self, Cut};
use crate::reckon::quantities::{Surface, Volume};
use crate::resolve::job::{FinishRef, HardwareRef, MaterialRef, WallRef};
use crate::units::{Length, Mass, Money};

pub struct Before<'a> {
    ctx: &'a Context<'a>,
    key: String,
}

impl<'a> Before<'a> {
    /// `kind` and `id` are the thing's own, as `compare` files it.
    pub fn of(ctx: &'a Context<'a>, kind: &str, id: &str) -> Before<'a> {
        Before {
            ctx,
            key: key(kind, id),
        }
    }

    /// One of a list whose things have no ids: they are told apart by these words, the second of the same
    /// words by its turn.
    pub fn told_by(ctx: &'a Context<'a>, kind: &str, words: &str, turn: usize) -> Before<'a> {
        match turn {
            0 | 1 => Before::of(ctx, kind, words),
            n => Before::of(ctx, kind, &format!("{words} {n}")),
        }
    }

    /// As it was called.
    pub fn id(&self, now: &str) -> String {
        let renamed = &self.ctx.standing.register.renamed;
        renamed
            .get(&self.key)
            .cloned()
            .unwrap_or_else(|| now.to_owned())
    }

    fn fact(&self, fact: &str) -> Option<&'a Fact> {
        let was = &self.ctx.standing.register.was;
        if was.is_empty() {
            return None;
        }
        was.get(&(self.key.clone(), fact.to_owned()))?.as_ref()
    }

    pub fn length(&self, fact: &str, now: Length) -> Length {
        match self.fact(fact) {
            Some(Fact::Um(um)) => Length::um(*um),
            _ => now,
        }
    }

    pub fn mass(&self, fact: &str, now: Mass) -> Mass {
        match self.fact(fact) {
            Some(Fact::Grams(grams)) => Mass::grams(*grams),
            _ => now,
        }
    }

    pub fn surface(&self, fact: &str, now: Surface) -> Surface {
        match self.fact(fact) {
            Some(Fact::SquareMm(mm2)) => Surface::mm2(*mm2),
            _ => now,
        }
    }

    pub fn volume(&self, fact: &str, now: Volume) -> Volume {
        match self.fact(fact) {
            Some(Fact::Millilitres(ml)) => Volume::ml(*ml),
            _ => now,
        }
    }

    /// Tenths of a percent.
    pub fn share(&self, fact: &str, now: Option<i64>) -> Option<i64> {
        match self.fact(fact) {
            Some(Fact::PercentThousandths(n)) => Some(*n / 100),
            _ => now,
        }
    }

    /// Whether a fact was another, or was not there.
    pub fn has_differed(&self, fact: &str) -> bool {
        let was = &self.ctx.standing.register.was;
        was.contains_key(&(self.key.clone(), fact.to_owned()))
    }

    /// Whether any of these facts was otherwise.
    pub fn has_changed(&self, facts: &[&str]) -> bool {
        facts.iter().any(|fact| self.fact(fact).is_some())
    }

    /// Whether the newest issue did not have it.
    pub fn is_new(&self) -> bool {
        self.ctx.standing.register.new.contains(&self.key)
    }

    /// What the newest issue had of a kind, and is gone.
    pub fn gone(ctx: &'a Context<'a>, kind: &'a str) -> impl Iterator<Item = &'a Thing> {
        let gone = ctx.standing.register.gone.values();
        gone.filter(move |thing| thing.kind == kind)
    }

    /// What it was cut of, where that was otherwise.
    pub fn cut(&self) -> Option<Vec<Cut>> {
        self.fact(takes::PARTS).map(Cut::read)
    }

    /// A list of lists, where it was another.
    pub fn lists(&self, fact: &str) -> Option<Vec<&'a [Fact]>> {
        let Some(Fact::List(items)) = self.fact(fact) else {
            return None;
        };
        let inner = |item: &'a Fact| match item {
            Fact::List(inner) => Some(inner.as_slice()),
            _ => None,
        };
        items.iter().map(inner).collect()
    }

    pub fn count(&self, fact: &str, now: u32) -> u32 {
        match self.fact(fact) {
            Some(Fact::Count(count)) => *count,
            _ => now,
        }
    }

    pub fn text(&self, fact: &str, now: &str) -> String {
        match self.fact(fact) {
            Some(Fact::Text(text) | Fact::Name(text)) => text.clone(),
            _ => now.to_owned(),
        }
    }

    pub fn day(&self, fact: &str) -> Option<String> {
        match self.fact(fact) {
            Some(Fact::Day(day)) => Some(day.clone()),
            _ => None,
        }
    }

    pub fn money(&self, fact: &str) -> Option<Money> {
        match self.fact(fact) {
            Some(Fact::Money(n)) => Some(Money::thousandths(*n)),
            _ => None,
        }
    }

    /// Several words, where they were others.
    pub fn texts(&self, fact: &str) -> Option<Vec<String>> {
        let Some(Fact::List(items)) = self.fact(fact) else {
            return None;
        };
        let text = |item: &Fact| match item {
            Fact::Text(text) | Fact::Name(text) => Some(text.clone()),
            _ => None,
        };
        items.iter().map(text).collect()
    }

    /// How many there were of what a list names, where it was another list.
    pub fn many(&self, fact: &str, now: usize) -> usize {
        match self.fact(fact) {
            Some(Fact::List(items)) => items.len(),
            _ => now,
        }
    }

    /// The wall it stood on.
    pub fn wall(&self, now: WallRef) -> String {
        match self.text("on wall", "").as_str() {
            "" => self.ctx.wall(now),
            old => self.ctx.wall_called(old),
        }
    }

    /// All that was otherwise, in words.
    pub fn all(&self) -> Vec<String> {
        self.ctx.standing.register.all_old(&self.key)
    }

    /// Several lengths, where they were others.
    pub fn lengths(&self, fact: &str) -> Option<Vec<Length>> {
        let Some(Fact::List(items)) = self.fact(fact) else {
            return None;
        };
        let length = |item: &Fact| match item {
            Fact::Um(um) => Some(Length::um(*um)),
            _ => None,
        };
        items.iter().map(length).collect()
    }

    /// By its name, where it still has one.
    pub fn material(&self, fact: &str, now: MaterialRef) -> String {
        let Some(Fact::Text(old) | Fact::Name(old)) = self.fact(fact) else {
            return self.ctx.material(now).to_owned();
        };
        self.ctx.material_called(old)
    }

    /// By its name, where it still has one.
    pub fn hardware(&self, fact: &str, now: Option<HardwareRef>) -> String {
        let Some(Fact::Text(old) | Fact::Name(old)) = self.fact(fact) else {
            return self.ctx.hardware(now).to_owned();
        };
        let known = self.ctx.job.hardware.iter().find(|h| h.key == *old);
        known.map_or_else(|| old.clone(), |h| h.name.clone())
    }

    pub fn material_and_finish(&self, now: MaterialRef, finish: Option<FinishRef>) -> String {
        let material = self.material("material", now);
        let old = match self.fact("finish") {
            Some(Fact::Text(old) | Fact::Name(old)) => Some(self.ctx.finish_called(old)),
            _ => finish
                .and_then(|at| self.ctx.job.finishes.get(at.0))
                .map(|f| f.name.clone()),
        };
        match old.filter(|f| !f.is_empty()) {
            Some(finish) => format!("{material}; {finish}"),
            None => material,
        }
    }
}
