//! Finds each label a place where it touches nothing: its anchor, other spots inside its area, a
//! quarter turn, smaller lettering. Knows what is already there; a label without a place is handed
//! back, to become a callout, or its words for the foot of the sheet.

use super::geometry::{self, Segment};
use super::{Item, Text};
use crate::draw::scene::{Fill, Label, LabelFrame, Lettering, Pt, Rect, Shape};
use crate::draw::style::{Ink, Weight, hides, weight};
use crate::lettering;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Labels {
    pub texts: Vec<Text>,
    pub homeless: Vec<Label>,
    /// For the foot of the sheet.
    pub listed: Vec<String>,
}

/// White space kept round a label, mm.
const CLEAR: f64 = 0.7;
/// Without an area of its own a label may go so far from its anchor, mm.
const STRAY: f64 = 7.0;
/// What a fitter must read is no smaller; only minor labels are, where they find no place.
const NORMAL: f64 = 2.5;
/// White kept round those, mm.
const LEAST_CLEAR: f64 = 0.5;

/// Places `labels` over `marks` (paper mm), of which `lines` are [`seen`], lower ranks first; `extra` are
/// lines it should also keep off, `targets` where leaders will end.
pub fn place(
    labels: &[Label],
    (marks, lines): (&[Item], &[(Segment, Weight)]),
    extra: &[Item],
    targets: &[Pt],
    scale: f64,
) -> Labels {
    let mut out = Labels::default();
    let lines = seen(lines.to_vec(), extra);
    let mut taken: Vec<Rect> = marks.iter().filter_map(solid).collect();
    taken.extend(targets.iter().map(|p| Rect::about(*p, 5.0, 5.0)));
    let mut order: Vec<&Label> = labels.iter().collect();
    order.sort_by_key(|l| l.rank);
    order.retain(|l| l.lines.iter().any(|l| !l.trim().is_empty()));
    let mut rest = order.as_slice();
    while let Some(first) = rest.first() {
        let alike = rest.iter().take_while(|l| level(first, l)).count().max(1);
        let (row, after) = rest.split_at(alike);
        rest = after;
        let mut put = |text: Text, taken: &mut Vec<Rect>| {
            taken.push(text.bounds().grown(CLEAR));
            out.texts.push(text);
        };
        if let Some(texts) = in_row(row, &lines, &taken, scale) {
            texts.into_iter().for_each(|text| put(text, &mut taken));
            continue;
        }
        for label in row {
            if let Some(text) = home(label, &lines, &taken, scale) {
                put(text, &mut taken);
                continue;
            }
            if label.listed.is_empty() {
                out.homeless.push((*label).clone());
                continue;
            }
            // Its first line alone, where that is enough; all of it at the foot.
            out.listed.push(label.listed.clone());
            let head = Label {
                lines: label.lines.iter().take(1).cloned().collect(),
                ..(*label).clone()
            };
            let shorter = label.lines.len() > 1;
            if let Some(text) = shorter
                .then(|| home(&head, &lines, &taken, scale))
                .flatten()
            {
                put(text, &mut taken);
            }
        }
    }
    out
}

/// Whether two boxes of words want the same height in areas with the same foot.
fn level(a: &Label, b: &Label) -> bool {
    let foot = |l: &Label| l.within.map_or(f64::NAN, |w| w.y1);
    (a.rank, a.frame, b.frame) == (b.rank, LabelFrame::Box, LabelFrame::Box)
        && (a.at.y - b.at.y).abs() < 0.5
        && (foot(a) - foot(b)).abs() < 0.5
}

/// Heights tried for a row, and places along it for each of its labels; from one to the next, mm.
const ROW_STEPS: i32 = 40;
const ROW_STEP: f64 = 0.75;
/// What it costs a label in a row to interrupt a light line, beside a mm aside.
const OVER_LIGHT: f64 = 6.0;

/// Labels that want one height at the height where all of them lie best; `None` where there is none.
fn in_row(
    row: &[&Label],
    lines: &[(Segment, Weight)],
    taken: &[Rect],
    scale: f64,
) -> Option<Vec<Text>> {
    if row.len() < 2 {
        return None;
    }
    struct Seat {
        text: Text,
        at: Pt,
        area: Rect,
        lines: Vec<(Segment, Weight)>,
        taken: Vec<Rect>,
    }
    let seats: Option<Vec<Seat>> = (row.iter())
        .map(|label| {
            let w = label.within?;
            let area = Rect::new(w.x0 / scale, w.y0 / scale, w.x1 / scale, w.y1 / scale);
            let text = Text::new(label.lines.clone(), NORMAL, label.bold).framed(label.frame);
            let near = lines.iter().filter(|(s, _)| s.enters(area.grown(2.0)));
            let over = taken.iter().filter(|r| r.overlaps(area));
            Some(Seat {
                text,
                at: Pt::new(label.at.x / scale, label.at.y / scale),
                area,
                lines: near.copied().collect(),
                taken: over.copied().collect(),
            })
        })
        .collect();
    let seats = seats?;
    // Where one label lies at a height, and what that costs it.
    let seat = |s: &Seat, y: f64| -> Option<(f64, Text)> {
        let (w, h) = s.text.size();
        let (low, high) = (s.area.x0 + w / 2.0 + CLEAR, s.area.x1 - w / 2.0 - CLEAR);
        let fits = low <= high && y - h / 2.0 >= s.area.y0 && y + h / 2.0 <= s.area.y1 - CLEAR;
        let middle = s.at.x.clamp(low.min(high), high.max(low));
        let tried = (0..=ROW_STEPS).map(|n| f64::from((n + 1) / 2 * (1 - n % 2 * 2)) * ROW_STEP);
        let costed = tried.filter_map(|aside| {
            let x = middle + aside;
            let own = Rect::about(Pt::new(x, y), w, h);
            if x < low || x > high || s.taken.iter().any(|t| t.overlaps(own)) {
                return None;
            }
            let room = own.grown(CLEAR);
            let struck = s.lines.iter().filter(|(l, _)| l.enters(room));
            let mut cost = 0.2 * aside.abs();
            for (_, weight) in struck {
                match weight {
                    Weight::Heavy => return None,
                    Weight::Light => cost += OVER_LIGHT,
                }
            }
            Some((cost, x))
        });
        let best = costed.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|_| fits);
        best.map(|(cost, x)| (cost, s.text.clone().at(Pt::new(x, y))))
    };
    let wanted = seats.first()?.at.y;
    let mut best: Option<(f64, Vec<Text>)> = None;
    for n in 0..=ROW_STEPS {
        let off = f64::from((n + 1) / 2 * (1 - n % 2 * 2)) * ROW_STEP;
        if best.as_ref().is_some_and(|b| b.0 <= off.abs()) {
            break;
        }
        let all: Option<Vec<(f64, Text)>> = seats.iter().map(|s| seat(s, wanted + off)).collect();
        let Some(all) = all else { continue };
        let cost = off.abs() + all.iter().map(|(cost, _)| cost).sum::<f64>();
        let bounds: Vec<Rect> = all.iter().map(|(_, t)| t.bounds().grown(CLEAR)).collect();
        let apart = |(i, a): (usize, &Rect)| !bounds.iter().skip(i + 1).any(|b| a.overlaps(*b));
        let clear = bounds.iter().enumerate().all(apart);
        if clear && best.as_ref().is_none_or(|b| cost < b.0) {
            best = Some((cost, all.into_iter().map(|(_, text)| text).collect()));
        }
    }
    best.map(|(_, texts)| texts)
}

/// Lines that are still seen when these marks are drawn too: later fills hide what is wholly under them.
pub(super) fn seen(mut lines: Vec<(Segment, Weight)>, marks: &[Item]) -> Vec<(Segment, Weight)> {
    for item in marks {
        let Item::Shape { ink, fill, shape } = item else {
            continue;
        };
        if hides(*fill)
            && let Shape::Rect(r) = shape
        {
            let r = r.grown(-1e-6);
            let inside = |p: Pt| p.x > r.x0 && p.x < r.x1 && p.y > r.y0 && p.y < r.y1;
            lines.retain(|(s, _)| !(inside(s.a) && inside(s.b)));
        }
        let heavy = if *fill == Fill::Solid {
            Weight::Heavy
        } else {
            weight(*ink)
        };
        if *ink != Ink::None || *fill == Fill::Solid {
            lines.extend(geometry::segments(shape).into_iter().map(|s| (s, heavy)));
        }
    }
    lines
}

/// Small things a label may never cover: symbols and their letters.
pub(super) fn solid(item: &Item) -> Option<Rect> {
    match item {
        Item::Text(text) => Some(text.bounds().grown(CLEAR)),
        Item::Shape {
            ink: Ink::Frame, ..
        } => item.bounds().map(|b| b.grown(CLEAR)),
        Item::Shape {
            fill: Fill::Solid, ..
        } => item.bounds().map(|b| b.grown(CLEAR)),
        Item::Shape { .. } => None,
    }
}

fn home(label: &Label, lines: &[(Segment, Weight)], taken: &[Rect], scale: f64) -> Option<Text> {
    let at = Pt::new(label.at.x / scale, label.at.y / scale);
    if !(at.x.is_finite() && at.y.is_finite()) {
        return None;
    }
    let area = label.within.map_or_else(
        || Rect::about(at, 0.0, 0.0),
        |w| Rect::new(w.x0 / scale, w.y0 / scale, w.x1 / scale, w.y1 / scale),
    );
    let cap = label.lettering.cap_mm();
    let make = |cap: f64, turned: bool| {
        Text::new(label.lines.clone(), cap, label.bold)
            .framed(label.frame)
            .turned(turned)
    };
    // Only what can matter here.
    let reach = area.grown(STRAY + 60.0);
    let reach = if label.within.is_some() {
        area.grown(2.0)
    } else {
        reach
    };
    let lines: Vec<(Segment, Weight)> = lines
        .iter()
        .filter(|(s, _)| s.enters(reach))
        .copied()
        .collect();
    let taken: Vec<Rect> = taken
        .iter()
        .filter(|r| r.overlaps(reach))
        .copied()
        .collect();
    let sizes = match label.lettering {
        Lettering::Minor => [Some(NORMAL), Some(cap)],
        Lettering::Strong => [Some(cap), Some(NORMAL)],
        Lettering::Normal | Lettering::Title => [Some(cap), None],
    };
    let mut tries = sizes.into_iter().flatten().flat_map(|cap| {
        let turned = may_turn(label.frame).then(|| make(cap, true));
        let straight = make(cap, false);
        // Words too long for their area in one line are broken.
        let room = area.width() - 2.0 * CLEAR;
        let long =
            label.frame == LabelFrame::None && label.within.is_some() && straight.width > room;
        let broken = long.then(|| {
            let lines = label.lines.iter();
            let lines = lines.flat_map(|l| lettering::wrap_evenly(l, cap, label.bold, room));
            Text::new(lines.collect(), cap, label.bold)
        });
        let broken = broken.filter(|b| b.width <= room && b.lines.len() <= MOST_LINES);
        std::iter::once(straight).chain(broken).chain(turned)
    });
    tries.find_map(|text| {
        [Weight::Light, Weight::Heavy]
            .into_iter()
            .find_map(|least| {
                let clear = if text.cap < NORMAL {
                    LEAST_CLEAR
                } else {
                    CLEAR
                };
                settle(&text, at, (area, label.within.is_some()), clear, |r| {
                    !taken.iter().any(|t| t.overlaps(r))
                        && !lines
                            .iter()
                            .any(|(s, w)| *w >= least && s.enters(r.grown(clear)))
                })
            })
    })
}

/// Words broken to go into their area take so many lines at most.
const MOST_LINES: usize = 4;

/// Whether a label with this frame may be turned: a number in a circle or a triangle may not.
fn may_turn(frame: LabelFrame) -> bool {
    matches!(frame, LabelFrame::None | LabelFrame::Box)
}

/// The spot nearest the anchor that `free` allows.
fn settle(
    text: &Text,
    at: Pt,
    (area, bounded): (Rect, bool),
    clear: f64,
    free: impl Fn(Rect) -> bool,
) -> Option<Text> {
    let (w, h) = text.size();
    let centres = if bounded {
        let edge = |lo: f64, hi: f64, size: f64| (lo + size / 2.0 + clear, hi - size / 2.0 - clear);
        let (x0, x1) = edge(area.x0, area.x1, w);
        let (y0, y1) = edge(area.y0, area.y1, h);
        if x0 > x1 || y0 > y1 {
            return None;
        }
        Rect { x0, y0, x1, y1 }
    } else {
        Rect {
            x0: at.x - STRAY - w / 2.0,
            y0: at.y - STRAY,
            x1: at.x + STRAY + w / 2.0,
            y1: at.y + STRAY,
        }
    };
    let nearest = Pt::new(
        at.x.clamp(centres.x0, centres.x1),
        at.y.clamp(centres.y0, centres.y1),
    );
    let take = |p: Pt| Some(text.clone().at(p));
    if free(Rect::about(nearest, w, h)) {
        return take(nearest);
    }
    let mut spots = Vec::new();
    let steps = |size: f64| ((size / 1.5).ceil() as usize).clamp(1, 24);
    let (nx, ny) = (steps(centres.width()), steps(centres.height()));
    for i in 0..=nx {
        for j in 0..=ny {
            spots.push(Pt::new(
                centres.x0 + centres.width() * i as f64 / nx as f64,
                centres.y0 + centres.height() * j as f64 / ny as f64,
            ));
        }
    }
    // Straight above, below or beside the anchor is better than aslant.
    for i in 0..=nx {
        spots.push(Pt::new(
            centres.x0 + centres.width() * i as f64 / nx as f64,
            nearest.y,
        ));
    }
    for j in 0..=ny {
        spots.push(Pt::new(
            nearest.x,
            centres.y0 + centres.height() * j as f64 / ny as f64,
        ));
    }
    let far = |p: Pt| {
        let (dx, dy) = ((p.x - nearest.x).abs(), (p.y - nearest.y).abs());
        libm::hypot(dx, dy) + 0.6 * dx.min(dy)
    };
    let mut spots: Vec<(f64, Pt)> = spots.into_iter().map(|p| (far(p), p)).collect();
    spots.sort_by(|a, b| a.0.total_cmp(&b.0));
    let spot = spots
        .into_iter()
        .find(|(_, p)| free(Rect::about(*p, w, h)))?;
    take(spot.1)
}
