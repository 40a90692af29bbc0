//! What of a scene goes on one sheet: the whole, or what lies between two match lines. Knows real
//! mm; chooses no scale.

use super::Footer;
use super::chains::Lanes;
use super::clip::{self, Stroke};
use super::geometry::outline;
use super::part_chain::PartChain;
use crate::draw::gaps;
use crate::draw::scene::{
    Callout, Chain, ChainSide, Fill, Label, LegendItem, LegendSample, Pt, Rect, Role, Scene, Shape,
    Symbol,
};
use crate::draw::style::Ink;
use crate::lettering;

/// What of a scene goes on one sheet: the whole, or a part between match lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub strokes: Vec<Stroke>,
    pub labels: Vec<Label>,
    pub chains: Vec<PartChain>,
    pub callouts: Vec<Callout>,
    pub legend: Vec<LegendItem>,
    /// At the foot of its sheet: the words of marks and of names that stand close by.
    pub listed: Vec<String>,
    /// Listed under the drawing itself.
    pub under: Vec<String>,
    /// Printed under the drawing, where several share a sheet.
    pub title: String,
    pub lanes: Lanes,
}

impl Part {
    pub fn whole(scene: &Scene) -> Part {
        let strokes: Vec<Stroke> = scene.marks.iter().map(Stroke::whole).collect();
        Part {
            legend: shown(&scene.legend, &strokes),
            strokes,
            labels: scene.labels.clone(),
            chains: scene.chains.iter().map(PartChain::whole).collect(),
            callouts: scene.callouts.clone(),
            listed: Vec::new(),
            under: scene.under.clone(),
            title: String::new(),
            lanes: Lanes::Wide,
        }
    }

    /// What stands along the bottom of its sheet.
    pub fn footer(&self, scale: u32) -> Footer<'_> {
        Footer {
            legend: &self.legend,
            notes: &self.listed,
            scale,
            beside: self.lanes == Lanes::Close,
        }
    }

    /// The same with its chains close together and its legend beside it, where it goes nowhere else.
    pub fn close(mut self) -> Part {
        self.lanes = Lanes::Close;
        self
    }

    /// The same with what would be listed under the drawing at the foot of its sheet.
    pub fn listing_at_foot(mut self) -> Part {
        self.listed.append(&mut self.under);
        self
    }

    /// Which of its notes are too long to be their own names.
    pub fn long_notes(&self) -> Vec<bool> {
        let long = |c: &Callout| lettering::width_mm(&c.text, 2.5, false) > 16.0;
        self.callouts.iter().map(long).collect()
    }

    /// Between two places along `x` (real mm). Heights are on every part that shows what they belong to,
    /// widths on every part they touch: a sheet is read by itself.
    pub fn between(scene: &Scene, left: f64, right: f64, last: bool) -> Part {
        let inside = |p: Pt| p.x >= left && (p.x < right || (last && p.x <= right));
        let chain = |c: &Chain| match c.side {
            ChainSide::Above | ChainSide::Below => PartChain::whole(c).between(left, right),
            ChainSide::Left | ChainSide::Right => PartChain::of_part(c, left, right),
        };
        let clipped = scene.marks.iter().flat_map(|m| clip::mark(m, left, right));
        let strokes: Vec<Stroke> = clipped.collect();
        let mut chains: Vec<PartChain> = Vec::new();
        for chain in scene.chains.iter().filter_map(chain) {
            // What two rows say alike is said once; a row that runs on says more than its stops.
            let same = |c: &PartChain| {
                let open = |c: &PartChain| (c.open_before, c.open_after);
                c.side == chain.side && c.stops == chain.stops && open(c) == open(&chain)
            };
            if !chains.iter().any(same) {
                chains.push(chain);
            }
        }
        let legend = shown(&scene.legend, &strokes).into_iter();
        let legend = legend.filter_map(|item| gaps_between(item, scene, left, right));
        Part {
            legend: legend.collect(),
            strokes,
            labels: scene
                .labels
                .iter()
                .filter_map(|l| label_between(l, left, right, last))
                .collect(),
            chains,
            callouts: scene
                .callouts
                .iter()
                .filter(|c| inside(c.target))
                .cloned()
                .collect(),
            listed: Vec::new(),
            under: scene.under.clone(),
            title: String::new(),
            lanes: Lanes::Wide,
        }
    }
}

impl Part {
    /// Extension lines of heights begin outside what stands beside a match line at the left or right.
    pub fn begin_heights(&mut self, left: Option<f64>, right: Option<f64>) {
        for chain in &mut self.chains {
            for (_, reach) in &mut chain.stops {
                match (chain.side, left, right) {
                    (ChainSide::Left, Some(x), _) => *reach = reach.map(|r| r.min(x)),
                    (ChainSide::Right, _, Some(x)) => *reach = reach.map(|r| r.max(x)),
                    _ => {}
                }
            }
        }
    }
}

/// A label where its place is on the part, kept inside it; one with an area on each part that shows
/// enough of that.
fn label_between(label: &Label, left: f64, right: f64, last: bool) -> Option<Label> {
    let inside = |x: f64| x >= left && (x < right || (last && x <= right));
    let shown = label
        .within
        .is_some_and(|a| a.x1.min(right) - a.x0.max(left) >= NAMED_MM);
    if !inside(label.at.x) && !shown {
        return None;
    }
    let mut label = label.clone();
    if let Some(area) = label.within {
        let (x0, x1) = (area.x0.max(left), area.x1.min(right));
        if x0 < x1 {
            label.within = Some(Rect { x0, x1, ..area });
            // In the middle of what is left of its area.
            if (x0, x1) != (area.x0, area.x1)
                && (label.at.x == area.centre().x || !inside(label.at.x))
            {
                label.at.x = (x0 + x1) / 2.0;
            }
        }
    }
    Some(label)
}

/// Of what is parted, each part bears the name that shows so much of it, mm.
const NAMED_MM: f64 = 300.0;

/// Of the gaps round fronts only those on the part; any other item as it is.
fn gaps_between(item: LegendItem, scene: &Scene, left: f64, right: f64) -> Option<LegendItem> {
    if item.sample != LegendSample::Gap {
        return Some(item);
    }
    let here = scene.gaps.iter().filter(|g| left <= g.at && g.at <= right);
    let text = gaps::words(&here.collect::<Vec<_>>())?;
    Some(LegendItem { text, ..item })
}

/// The lines of a legend whose marks are among these strokes, and not hidden by a later one.
fn shown(legend: &[LegendItem], strokes: &[Stroke]) -> Vec<LegendItem> {
    let seen = |which: &dyn Fn(&Stroke) -> bool| {
        let mut all = strokes.iter().enumerate();
        all.any(|(i, s)| {
            let later = strokes.get(i + 1..).unwrap_or_default();
            which(s) && is_seen(&s.shape, later)
        })
    };
    let line = |role: Role| {
        seen(&|s| s.ink == Ink::Role(role) && !matches!(s.shape, Shape::Symbol { .. }))
    };
    let here = |item: &&LegendItem| match item.sample {
        LegendSample::Line(role) => line(role),
        LegendSample::Swing { .. } => line(Role::Swing),
        LegendSample::Area(Fill::White) | LegendSample::Gap => true,
        LegendSample::Area(fill) | LegendSample::Handle(fill) => seen(&|s| s.fill == fill),
        LegendSample::Symbol(symbol) => seen(&|s| match s.shape {
            Shape::Symbol { symbol: other, .. } => same_kind(symbol, other),
            _ => false,
        }),
    };
    legend.iter().filter(here).cloned().collect()
}

/// Whether a place on its outline, or its middle, is not under something laid later.
fn is_seen(shape: &Shape, later: &[Stroke]) -> bool {
    let free = |p: Pt| !later.iter().any(|s| s.covers(p));
    if let Shape::Symbol { at, .. } = shape {
        return free(*at);
    }
    let (points, closed) = outline(shape);
    let middle = closed
        .then(|| Rect::around(points.iter().copied()))
        .flatten();
    let steps = points.iter().zip(points.iter().skip(1));
    let halves = steps.map(|(a, b)| Pt::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0));
    let mut places = points.iter().copied().chain(halves);
    places.any(free) || middle.is_some_and(|m| free(m.centre()))
}

fn same_kind(a: Symbol, b: Symbol) -> bool {
    std::mem::discriminant(&a) == std::mem::discriminant(&b)
}
