//! A block of words at its place on paper, and the room it needs. Knows font metrics through
//! `lettering`; does not choose the place.

use crate::draw::scene::{LabelFrame, Lettering, Pt, Rect};
use crate::draw::style::{KNOCK_MM, LINE_PITCH};
use crate::lettering;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Centre,
    Left,
    Right,
}

/// One or more lines set as one block.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Middle of the block, frame included.
    pub centre: Pt,
    pub lines: Vec<String>,
    /// Height of capitals, mm.
    pub cap: f64,
    pub bold: bool,
    /// A quarter turn: reads from the right-hand side of the sheet.
    pub turned: bool,
    pub align: Align,
    pub frame: LabelFrame,
    /// White is laid under it, so that a light line passing there is interrupted.
    pub knock: bool,
    /// From the words to the edge of that white, mm.
    pub pad: f64,
    /// Of the words alone, before turning, mm.
    pub width: f64,
    pub height: f64,
    /// From the top of the words to the first baseline, mm.
    pub ascent: f64,
}

impl Text {
    pub fn new(lines: Vec<String>, cap: f64, bold: bool) -> Text {
        let width = lines
            .iter()
            .map(|l| lettering::width_mm(l, cap, bold))
            .fold(0.0_f64, f64::max);
        let reach =
            |line: Option<&String>| line.map_or((cap, 0.0), |l| lettering::reach_mm(l, cap, bold));
        let (ascent, descent) = (reach(lines.first()).0, reach(lines.last()).1);
        let pitches = lines.len().saturating_sub(1) as f64;
        let height = ascent + pitches * LINE_PITCH * cap + descent;
        Text {
            centre: Pt::new(0.0, 0.0),
            lines,
            cap,
            bold,
            turned: false,
            align: Align::Centre,
            frame: LabelFrame::None,
            knock: true,
            pad: KNOCK_MM,
            width,
            height,
            ascent,
        }
    }

    pub fn line(text: &str, cap: f64) -> Text {
        Text::new(vec![text.to_string()], cap, false)
    }

    /// A short mark: figures alone in a circle, as the numbers of fronts stand, words in a box and no larger than
    /// other words.
    pub fn mark(words: &str, cap: f64) -> Text {
        let line = vec![words.to_owned()];
        match words.bytes().all(|b| b.is_ascii_digit()) {
            true => Text::new(line, cap, true).framed(LabelFrame::Circle),
            false => {
                let cap = cap.min(Lettering::Normal.cap_mm());
                Text::new(line, cap, false).framed(LabelFrame::Box)
            }
        }
    }

    /// How much of a line it takes, frame included, however it is turned.
    pub fn along(&self) -> f64 {
        let (w, h) = self.size();
        if self.turned { h } else { w }
    }

    pub fn framed(mut self, frame: LabelFrame) -> Text {
        self.frame = frame;
        self
    }

    pub fn turned(mut self, turned: bool) -> Text {
        self.turned = turned;
        self
    }

    pub fn aligned(mut self, align: Align) -> Text {
        self.align = align;
        self
    }

    pub fn at(mut self, centre: Pt) -> Text {
        self.centre = centre;
        self
    }

    /// Width and height of what is inked, frame included, as it lies on the sheet.
    pub fn size(&self) -> (f64, f64) {
        let (w, h) = match self.frame {
            LabelFrame::None => (self.width, self.height),
            LabelFrame::Box => (self.width + 2.0 * BOX_PAD, self.height + 2.0 * BOX_PAD),
            LabelFrame::Circle => (2.0 * self.radius(), 2.0 * self.radius()),
            // Wide enough at the height of its figures.
            LabelFrame::Triangle => (3.4 * self.radius(), 3.0 * self.radius()),
        };
        if self.turned { (h, w) } else { (w, h) }
    }

    /// Radius of a circle frame; all numbers of up to two figures get the same.
    pub fn radius(&self) -> f64 {
        let reference = lettering::width_mm("00", self.cap, self.bold);
        let w = self.width.max(reference) / 2.0;
        libm::hypot(w, self.height / 2.0) + 0.45
    }

    /// What is inked.
    pub fn bounds(&self) -> Rect {
        let (w, h) = self.size();
        Rect::about(self.centre, w, h)
    }

    /// The white under it.
    pub fn knocked(&self) -> Rect {
        self.bounds().grown(self.pad)
    }

    pub fn moved(mut self, dx: f64, dy: f64) -> Text {
        self.centre = Pt::new(self.centre.x + dx, self.centre.y + dy);
        self
    }
}

/// From the words to a box frame, mm.
const BOX_PAD: f64 = 0.8;
