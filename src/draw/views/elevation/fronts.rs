//! Fronts in elevation: outline, grain, number, up arrow, swing, hinge ticks, handle.
//! Knows the swing convention the project declares; must not know carcasses or the room.

use super::super::pen::box_of;
use super::Sight;
use crate::draw::scene::{Fill, LabelFrame, Lettering, Pt, Rect, Role, Symbol};
use crate::reckon::placed::{PlacedFront, PlacedHandle, PlacedUnit};
use crate::resolve::job::{FrontKind, Reader, Side, SwingApex, Unit};

/// Distance of a hinge mark from the end of a door: a mark, not a boring position.
const TICK_FROM_END_MM: f64 = 110.0;
/// Hinge marks stand no closer than this.
const TICK_APART_MM: f64 = 120.0;
/// A front higher than this has its arrow over its number, so far above it.
const HIGH_FRONT_MM: f64 = 900.0;
const ARROW_OVER_MM: f64 = 140.0;
/// From a number's middle to the datum line.
const NUMBER_CLEAR_MM: f64 = 110.0;
/// Half of a handle's mark across its length.
const HANDLE_HALF_MM: f64 = super::super::HANDLE_MARK_MM / 2.0;

/// Whether a part of the unit shows its inside with the fronts shut.
pub fn has_open_cells(unit: &Unit) -> bool {
    unit.rows
        .iter()
        .flat_map(|r| &r.cells)
        .any(|c| c.kind == FrontKind::Open)
}

pub fn front(sight: &mut Sight, front: &PlacedFront) {
    let area = box_of(front.left, front.right, front.bottom, front.top);
    let fill = match sight.grain(front.style.material, false) {
        Fill::None => Fill::White,
        grain => grain,
    };
    sight.pen.rect(Role::Edge, fill, area);
    match front.kind {
        FrontKind::Door => door(sight, front, area),
        FrontKind::Flap => flap(sight, front, area),
        FrontKind::Fixed => {
            let spot = Pt::new(area.centre().x, area.y1 - area.height() * 0.2);
            sight.pen.words(spot, "fixed", Some(area));
        }
        FrontKind::Drawer | FrontKind::Open => {}
    }
    if let Some(handle) = &front.handle {
        handle_mark(sight, handle);
    }
    number(sight, front, area);
}

fn door(sight: &mut Sight, front: &PlacedFront, area: Rect) {
    let Some(side) = front.hinge else {
        return;
    };
    let (hinge_x, free_x) = match side {
        Side::Left => (area.x0, area.x1),
        Side::Right => (area.x1, area.x0),
    };
    let (apex_x, base_x) = match sight.job.info.swing_apex {
        SwingApex::Hinge => (hinge_x, free_x),
        SwingApex::Handle => (free_x, hinge_x),
    };
    let apex = Pt::new(apex_x, area.centre().y);
    let swing = vec![Pt::new(base_x, area.y0), apex, Pt::new(base_x, area.y1)];
    sight.pen.line(Role::Swing, swing);
    let turn = if side == Side::Left { 0.0 } else { 180.0 };
    for y in spread(front.hinges, area.y0, area.y1) {
        sight
            .pen
            .symbol(Role::Edge, Pt::new(hinge_x, y), Symbol::HingeTick { turn });
    }
}

fn flap(sight: &mut Sight, front: &PlacedFront, area: Rect) {
    let middle = area.centre();
    let lifts = front.lifts();
    let (hinge_y, free_y) = if lifts {
        (area.y0, area.y1)
    } else {
        (area.y1, area.y0)
    };
    let (apex_y, base_y) = match sight.job.info.swing_apex {
        SwingApex::Hinge => (hinge_y, free_y),
        SwingApex::Handle => (free_y, hinge_y),
    };
    let apex = Pt::new(middle.x, apex_y);
    let swing = vec![Pt::new(area.x0, base_y), apex, Pt::new(area.x1, base_y)];
    sight.pen.line(Role::Swing, swing);
    let turn = if lifts { 90.0 } else { 270.0 };
    for x in spread(front.hinges, area.x0, area.x1) {
        sight
            .pen
            .symbol(Role::Edge, Pt::new(x, hinge_y), Symbol::HingeTick { turn });
    }
}

/// Places of as many marks as a leaf has hinges: the end ones near its ends, the rest at equal
/// spacing (handbook §3; common practice, no source). Marks, not boring positions.
fn spread(hinges: u32, from: f64, to: f64) -> impl Iterator<Item = f64> {
    // More than a mark's height apart: a hostile rating may ask for thousands.
    let most = (((to - from) / TICK_APART_MM) as u32).max(2);
    let gaps = hinges.clamp(2, most) - 1;
    let end = TICK_FROM_END_MM.min((to - from) / 5.0);
    let step = (to - from - 2.0 * end) / f64::from(gaps);
    (0..=gaps).map(move |i| from + end + step * f64::from(i))
}

fn swing_apex_is_up(sight: &Sight, front: &PlacedFront) -> bool {
    front.lifts() == (sight.job.info.swing_apex == SwingApex::Hinge)
}

/// Solid where it stands out of the front, open where it is let in.
pub(super) fn handle_mark(sight: &mut Sight, handle: &PlacedHandle) {
    let half = handle.length.in_mm() / 2.0;
    let (dx, dz) = if handle.upright {
        (HANDLE_HALF_MM, half)
    } else {
        (half, HANDLE_HALF_MM)
    };
    let (x, z) = (handle.x.in_mm(), handle.z.in_mm());
    let fill = if handle.out.in_um() > 0 {
        Fill::Solid
    } else {
        Fill::White
    };
    let mark = super::super::pen::box_up(x - dx, x + dx, z - dz, z + dz);
    sight.pen.rect(Role::Fine, fill, mark);
}

/// Number in a circle, and by it the arrow that says which edge is the top: over it where the
/// front is high enough, else beside it, where the swing lines spread.
fn number(sight: &mut Sight, front: &PlacedFront, area: Rect) {
    let middle = area.centre();
    let leftwards = matches!(
        (front.kind, front.hinge, sight.job.info.swing_apex),
        (FrontKind::Door, Some(Side::Right), SwingApex::Hinge)
            | (FrontKind::Door, Some(Side::Left), SwingApex::Handle)
    );
    let way = if leftwards { -1.0 } else { 1.0 };
    let (spot, arrow) = if area.height() > HIGH_FRONT_MM {
        let y = clear_of_datum(sight, middle.y);
        (Pt::new(middle.x, y), Pt::new(middle.x, y - ARROW_OVER_MM))
    } else if front.kind == FrontKind::Door {
        let away = (area.width() * 0.26).clamp(115.0, (area.width() * 0.42).max(115.0));
        (middle, Pt::new(middle.x + away * way, middle.y))
    } else if front.kind == FrontKind::Flap {
        // Out of the triangle: level with its apex.
        let up = if swing_apex_is_up(sight, front) {
            -1.0
        } else {
            1.0
        };
        let away = (area.width() * 0.34, area.height() * 0.22 * up);
        (middle, Pt::new(middle.x + away.0, middle.y + away.1))
    } else {
        // The handle is at the middle.
        let away = area.width() * 0.3;
        (
            Pt::new(middle.x - away, middle.y),
            Pt::new(middle.x + away, middle.y),
        )
    };
    let number = vec![front.number.to_string()];
    let (text, circle) = (Lettering::Strong, LabelFrame::Circle);
    sight.pen.label(spot, number, text, circle, Some(area), 0);
    sight.pen.symbol(Role::Fine, arrow, Symbol::UpArrow);
}

/// The fitter's datum line runs across the fronts: a number stands above it.
fn clear_of_datum(sight: &Sight, y: f64) -> f64 {
    let datum = -sight.job.info.datum.in_mm();
    let near = (y - datum).abs() < NUMBER_CLEAR_MM;
    if near && sight.reader != Reader::Client {
        datum - NUMBER_CLEAR_MM
    } else {
        y
    }
}

/// What stands behind shut fronts, dashed.
pub fn hidden_appliances(sight: &mut Sight, unit: &PlacedUnit) {
    for a in unit.bays.iter().flat_map(|b| &b.appliances) {
        let area = box_of(a.left, a.right, a.bottom, a.top);
        sight.pen.rect(Role::Hidden, Fill::None, area);
    }
}
