//! The pen the views draw with: shapes by wall coordinates (along, up) or plan coordinates.
//! Knows how a scene is put together; must not know furniture, rooms or paper.

use crate::draw::scene::{
    Callout, Chain, ChainSide, Fill, Label, LabelFrame, Lettering, Mark, Pt, Rect, Role, Scene,
    Shape, Symbol,
};
use crate::units::Length;

/// A scene in the making.
#[derive(Default)]
pub struct Pen {
    pub scene: Scene,
}

/// A point by its distance along and its height, mm.
pub fn up(x: f64, z: f64) -> Pt {
    Pt::new(x, -z)
}

/// A rectangle by left, right, bottom and top, mm, heights growing upwards.
pub fn box_up(left: f64, right: f64, bottom: f64, top: f64) -> Rect {
    Rect {
        x0: left.min(right),
        y0: -bottom.max(top),
        x1: left.max(right),
        y1: -bottom.min(top),
    }
}

/// The same, from exact lengths.
pub fn box_of(left: Length, right: Length, bottom: Length, top: Length) -> Rect {
    box_up(left.in_mm(), right.in_mm(), bottom.in_mm(), top.in_mm())
}

impl Rect {
    /// Whether a point lies in it, edges included.
    pub(super) fn holds(self, p: Pt) -> bool {
        p.x >= self.x0 && p.x <= self.x1 && p.y >= self.y0 && p.y <= self.y1
    }
    /// Smaller all round; never turned inside out.
    pub(super) fn inset(self, by: f64) -> Rect {
        let (dx, dy) = (by.min(self.width() / 2.0), by.min(self.height() / 2.0));
        Rect {
            x0: self.x0 + dx,
            y0: self.y0 + dy,
            x1: self.x1 - dx,
            y1: self.y1 - dy,
        }
    }
}

impl Pen {
    pub fn mark(&mut self, role: Role, fill: Fill, shape: Shape) {
        self.scene.marks.push(Mark { role, fill, shape });
    }

    pub fn line(&mut self, role: Role, points: Vec<Pt>) {
        if points.len() > 1 {
            let closed = false;
            self.mark(role, Fill::None, Shape::Path { points, closed });
        }
    }

    pub fn area(&mut self, role: Role, fill: Fill, points: Vec<Pt>) {
        if points.len() > 2 {
            let closed = true;
            self.mark(role, fill, Shape::Path { points, closed });
        }
    }

    /// Nothing is drawn of a rectangle without an area.
    pub fn rect(&mut self, role: Role, fill: Fill, rect: Rect) {
        if rect.width() > 0.0 && rect.height() > 0.0 {
            self.mark(role, fill, Shape::Rect(rect));
        }
    }

    pub fn symbol(&mut self, role: Role, at: Pt, symbol: Symbol) {
        self.mark(role, Fill::None, Shape::Symbol { at, symbol });
    }

    /// Words centred on a point, kept inside `within` if it can be.
    pub fn words(&mut self, at: Pt, words: impl Into<String>, within: Option<Rect>) {
        self.label(
            at,
            vec![words.into()],
            Lettering::Normal,
            LabelFrame::None,
            within,
            5,
        );
    }

    pub fn label(
        &mut self,
        at: Pt,
        lines: Vec<String>,
        lettering: Lettering,
        frame: LabelFrame,
        within: Option<Rect>,
        rank: u8,
    ) {
        let lines: Vec<String> = lines.into_iter().filter(|l| !l.trim().is_empty()).collect();
        if lines.is_empty() {
            return;
        }
        self.scene.labels.push(Label {
            at,
            lines,
            lettering,
            bold: frame == LabelFrame::Circle,
            frame,
            within,
            rank,
            listed: String::new(),
        });
    }

    /// A chain of differences; sorted, without repeats, and not at all if nothing is left to measure.
    pub fn chain(
        &mut self,
        side: ChainSide,
        tier: u8,
        stops: Vec<Length>,
        reach: Length,
        name: &str,
    ) {
        self.push_chain(side, tier, stops, reach, name, None);
    }

    /// Fronts over one another, from the top, as one chain without a value for the joints between.
    pub fn stack(
        &mut self,
        side: ChainSide,
        tier: u8,
        spans: &[(Length, Length)],
        reach: Length,
        name: &str,
    ) {
        let stops = spans.iter().flat_map(|s| [s.0, s.1]).collect();
        self.chain(side, tier, stops, reach, name);
        if let Some(chain) = self.scene.chains.last_mut() {
            let between = spans.iter().zip(spans.iter().skip(1));
            chain.silent = between.map(|(above, below)| (above.1, below.0)).collect();
        }
    }

    /// Which stops of the chain drawn last belong to what stands where.
    pub fn stops_stand(&mut self, stands: Vec<(Length, f64, f64)>) {
        if let Some(chain) = self.scene.chains.last_mut() {
            chain.stands = stands;
        }
    }

    /// What stands between the stops of the chain drawn last.
    pub fn name_spaces(&mut self, named: Vec<(Length, Length, String)>) {
        if let Some(chain) = self.scene.chains.last_mut() {
            chain.named = named;
        }
    }

    /// Distances of each stop from `origin`.
    pub fn running(
        &mut self,
        side: ChainSide,
        tier: u8,
        stops: Vec<Length>,
        reach: Length,
        name: &str,
        origin: Length,
    ) {
        self.push_chain(side, tier, stops, reach, name, Some(origin));
    }

    fn push_chain(
        &mut self,
        side: ChainSide,
        tier: u8,
        mut stops: Vec<Length>,
        reach: Length,
        name: &str,
        running_from: Option<Length>,
    ) {
        stops.sort();
        stops.dedup();
        if stops.len() < 2 {
            return;
        }
        self.scene.chains.push(Chain {
            side,
            tier,
            stops,
            reach: vec![reach],
            name: name.to_string(),
            running_from,
            stands: Vec::new(),
            silent: Vec::new(),
            named: Vec::new(),
        });
    }

    pub fn callout(&mut self, target: Pt, text: impl Into<String>) {
        self.scene.callouts.push(Callout {
            target,
            text: text.into(),
            balloon: None,
            aside: false,
        });
    }

    /// Of the label set last: said at the foot of the sheet where it finds no place.
    pub fn else_listed(&mut self, words: impl Into<String>) {
        if let Some(label) = self.scene.labels.last_mut() {
            label.listed = words.into();
        }
    }
}
