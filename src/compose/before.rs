//! A row of a schedule as it was in the newest issue: each value is asked for by its fact, and where that is
//! the same as now, now's is given. Knows what the register keeps; words nothing.
//!
//! A schedule writes its row twice with the same words, of what is and of what was, and
//! [`Table::was`](super::table::Table::was) keeps the cells that differ.

use super::context::Context;
use crate::compare::record::{Fact, key};
use crate::resolve::job::{FinishRef, MaterialRef};
use crate::units::{Length, Mass};

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
        let known = self.ctx.job.materials.iter().find(|m| m.key == *old);
        known.map_or_else(|| old.clone(), |m| m.name.clone())
    }

    pub fn material_and_finish(&self, now: MaterialRef, finish: Option<FinishRef>) -> String {
        let material = self.material("material", now);
        let old = match self.fact("finish") {
            Some(Fact::Text(old) | Fact::Name(old)) => {
                let known = self.ctx.job.finishes.iter().find(|f| f.key == *old);
                Some(known.map_or_else(|| old.clone(), |f| f.name.clone()))
            }
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
