//! Sockets, wastes, radiators and the like on a wall, in elevation and for plans their symbols.
//! Knows which symbol stands for what; must not know furniture beyond whether it hides a place.

use super::super::pen::{box_up, up};
use super::super::{Face, words};
use super::Sight;
use crate::draw::scene::{Fill, LabelFrame, Lettering, Role};
use crate::resolve::job::Reader;
use crate::units::Length;

pub fn services(sight: &mut Sight) {
    for s in &sight.wall.services {
        let sized = s.width > Length::ZERO && s.tall > Length::ZERO;
        let (x, z) = (s.at.in_mm(), s.height.in_mm());
        let area = box_up(x, x + s.width.in_mm(), z, z + s.tall.in_mm());
        let at = if sized { area.centre() } else { up(x, z) };
        if sight.hides(at) {
            continue;
        }
        let name = s.kind.name();
        if sized {
            sight.pen.rect(Role::Service, Fill::None, area);
            let mut lines = vec![name.to_string()];
            if sight.reader != Reader::Client {
                lines.push(format!("{} × {}", s.width, s.tall));
                lines.push(format!("{} along, {} up", s.at, s.height));
            }
            let (normal, frame) = (Lettering::Normal, LabelFrame::None);
            sight.pen.label(at, lines, normal, frame, Some(area), 5);
        } else {
            sight
                .pen
                .symbol(Role::Service, at, words::service_symbol(s.kind));
        }
        let told = sight.reader != Reader::Client && !sized;
        if told && (sight.face == Face::Open || sight.runs().is_empty()) {
            let mut text = format!("{name}: {} along, {} up", s.at, s.height);
            if let Some((at, height)) = s.was {
                text.push_str(&format!("; was {at} along, {height} up"));
            }
            if !s.note.is_empty() {
                text.push_str("; ");
                text.push_str(&s.note);
            }
            sight.pen.callout(at, text);
        }
    }
}
