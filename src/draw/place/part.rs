//! What of a scene goes on one sheet: the whole, or what lies between two match lines. Knows real
//! mm; chooses no scale.

use super::Footer;
use super::clip::{self, Stroke};
use super::part_chain::PartChain;
use crate::draw::scene::{Callout, Chain, ChainSide, Label, LegendItem, Pt, Scene};
use crate::lettering;

/// What of a scene goes on one sheet: the whole, or a part between match lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub strokes: Vec<Stroke>,
    pub labels: Vec<Label>,
    pub chains: Vec<PartChain>,
    pub callouts: Vec<Callout>,
    pub legend: Vec<LegendItem>,
    /// Notes too long for the margins, listed at the bottom under the names they have there.
    pub listed: Vec<String>,
    /// Printed under the drawing, where several share a sheet.
    pub title: String,
}

impl Part {
    pub fn whole(scene: &Scene) -> Part {
        Part {
            strokes: scene.marks.iter().map(Stroke::whole).collect(),
            labels: scene.labels.clone(),
            chains: scene.chains.iter().map(PartChain::whole).collect(),
            callouts: scene.callouts.clone(),
            legend: scene.legend.clone(),
            listed: Vec::new(),
            title: String::new(),
        }
    }

    /// What stands along the bottom of its sheet.
    pub fn footer(&self, scale: u32) -> Footer<'_> {
        Footer {
            legend: &self.legend,
            notes: &self.listed,
            scale,
        }
    }

    /// The same with its long notes listed at the bottom, and only their names at their places.
    pub fn with_listed_notes(mut self) -> Part {
        for callout in &mut self.callouts {
            if lettering::width_mm(&callout.text, 2.5, false) > 16.0 {
                let name = format!("note {}", self.listed.len() + 1);
                self.listed.push(format!("{name}: {}", callout.text));
                callout.text = name;
            }
        }
        self
    }

    /// Between two places along `x` (real mm). Chains on the left stay with the first part and
    /// those on the right with the last; running heights are on every part.
    pub fn between(scene: &Scene, left: f64, right: f64, first: bool, last: bool) -> Part {
        let inside = |p: Pt| p.x >= left && (p.x < right || (last && p.x <= right));
        let chain = |c: &Chain| {
            let whole = PartChain::whole(c);
            match c.side {
                ChainSide::Above | ChainSide::Below => whole.between(left, right),
                ChainSide::Left if first || whole.running_from.is_some() => {
                    Some(whole.pulled_to(left, right))
                }
                ChainSide::Right if last => Some(whole),
                ChainSide::Left | ChainSide::Right => None,
            }
        };
        Part {
            strokes: scene
                .marks
                .iter()
                .flat_map(|m| clip::mark(m, left, right))
                .collect(),
            labels: scene
                .labels
                .iter()
                .filter(|l| inside(l.at))
                .cloned()
                .collect(),
            chains: scene.chains.iter().filter_map(chain).collect(),
            callouts: scene
                .callouts
                .iter()
                .filter(|c| inside(c.target))
                .cloned()
                .collect(),
            legend: scene.legend.clone(),
            listed: Vec::new(),
            title: String::new(),
        }
    }
}
