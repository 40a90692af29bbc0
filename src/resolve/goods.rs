//! Materials, finishes, hardware, appliances, and what is not a unit. Knows how each filled table
//! becomes part of the job; must not know any size that follows from the room.

use crate::diag::{Code, Diagnostic, Diagnostics};
use crate::read::project as raw;
use crate::read::table::{At, Value};
use crate::read::value::{Named, Ref};
use crate::read::{PictureFile, four};
use crate::units::Length;

use super::fill::list;
use super::job::*;
use super::names::Names;

fn entries<T>(at: &Option<At<Named<T>>>) -> impl Iterator<Item = (&At<String>, &T)> {
    at.iter()
        .flat_map(|a| a.value.0.iter())
        .map(|(name, t)| (name, t))
}

fn text(at: &Option<At<String>>) -> String {
    at.as_ref().map(|a| a.value.clone()).unwrap_or_default()
}

pub fn materials(
    project: &raw::Project,
    pictures: &[PictureFile],
    diags: &mut Diagnostics,
) -> Vec<Material> {
    let some = |length: Length| (length > Length::ZERO).then_some(length);
    entries(&project.material)
        .map(|(key, m)| {
            if m.density.is_none() {
                diags.push(
                    Diagnostic::new(
                        Code::MissingKey,
                        m.core().place,
                        format!("material `{}` must say its `density`", key.value),
                    )
                    .label("a core of no known density")
                    .help("add a line `density = …` in kg/m³"),
                );
            }
            let repeat = m
                .repeat
                .as_ref()
                .map_or((Length::ZERO, Length::ZERO), |a| a.value);
            corners_alone(m.picture.as_ref(), m.corners.as_ref(), diags);
            let picture = m.picture.as_ref().and_then(|at| {
                let shows = m.shows.as_ref().or(m.sheet.as_ref());
                if shows.is_none() {
                    diags.push(
                        Diagnostic::new(
                            Code::MissingKey,
                            at.place,
                            format!("material `{}` must say what its picture `shows`", key.value),
                        )
                        .label("how large a piece is this?")
                        .help("add a line `shows = [length, width]`, or the `sheet` it is of"),
                    );
                }
                let shows = shows.map(|s| s.value).unwrap_or_default();
                picture(at, m.corners.as_ref(), shows, pictures)
            });
            Material {
                key: key.value.clone(),
                name: text(&m.name),
                core: m.core().value,
                thickness: m.thickness().value,
                sheet: m.sheet.as_ref().map(|s| s.value),
                density: m.density.as_ref().map_or(1000, |d| d.value),
                density_given: m.density.as_ref().is_some_and(At::written),
                stiffness: m.stiffness.as_ref().map(|a| a.value),
                moisture: m.moisture.as_ref().map(|a| a.value),
                movement: m.movement.as_ref().map(|a| a.value),
                grain: m.grain().value,
                repeat: (some(repeat.0), some(repeat.1)),
                picture,
                edge: m.edge().value,
                edge_is: m.edge_is().value,
                varies: m
                    .varies
                    .as_ref()
                    .map_or(m.core().value == Core::SolidWood, |v| v.value),
                made_for: m.made_for().value,
                batch: m.batch().value,
                place: key.place,
            }
        })
        .collect()
}

/// The picture of that file, if it could be read.
pub fn picture(
    at: &At<Ref>,
    corners: Option<&At<Vec<(u32, u32)>>>,
    shows: (Length, Length),
    pictures: &[PictureFile],
) -> Option<Picture> {
    let corners = corners.and_then(|c| four(&c.value));
    let named = |p: &&PictureFile| p.path == at.value.0 && p.corners == corners;
    let file = pictures.iter().find(named)?;
    Some(Picture {
        path: file.path.clone(),
        bytes: file.bytes.clone(),
        pixels: (file.face.width(), file.face.height()),
        shows,
        face: file.face.clone(),
        finer: file.finer,
        colours_unread: file.colours_unread,
        corners,
    })
}

/// Corners of no picture are a slip.
pub fn corners_alone(
    picture: Option<&At<Ref>>,
    corners: Option<&At<Vec<(u32, u32)>>>,
    diags: &mut Diagnostics,
) {
    if let (None, Some(corners)) = (picture, corners) {
        let said = "corners are given, but no picture";
        diags.push(
            Diagnostic::new(Code::Contradiction, corners.place, said)
                .label("of which picture?")
                .help("give the `picture` beside them, or take them out"),
        );
    }
}

pub fn finishes(project: &raw::Project) -> Vec<Finish> {
    entries(&project.finish)
        .map(|(key, f)| Finish {
            key: key.value.clone(),
            name: text(&f.name),
            sheen: f.sheen().value,
            coats: f.coats().value,
            coverage: f.coverage().value,
            sample: f.sample.as_ref().map(|s| s.value),
        })
        .collect()
}

pub fn hardware(project: &raw::Project, diags: &mut Diagnostics) -> Vec<Hardware> {
    entries(&project.hardware)
        .map(|(key, h)| {
            if let Some(at) = &h.range
                && at.value.0 >= at.value.1
            {
                diags.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        at.place,
                        "the range ends before it begins",
                    )
                    .label("lowest first")
                    .help("write [lowest, highest]"),
                );
            }
            Hardware {
                key: key.value.clone(),
                kind: h.is().value,
                name: text(&h.name),
                size: h.size().value,
                out: h.out().value,
                range: h.range.as_ref().map(|r| r.value),
                rating: h.rating.as_ref().map(|r| r.value),
                opens: h.opens.as_ref().map(|r| r.value),
                offset: h.offset.as_ref().map(|r| r.value),
                travel: h.travel.as_ref().map(|r| r.value),
                beside: h.beside.as_ref().map(|r| r.value),
                stiffness: h.stiffness.as_ref().map(|r| r.value),
            }
        })
        .collect()
}

pub fn drawer(names: &Names<'_>, diags: &mut Diagnostics) -> DrawerRule {
    let drawer = names.project.drawer().value.with_defaults();
    let mut board = |at: &Option<At<Ref>>| at.as_ref().map(|at| names.material(at, diags));
    DrawerRule {
        board: board(&drawer.board),
        bottom: board(&drawer.bottom),
        clear: drawer.clear().value,
        groove: drawer.groove().value,
    }
}

pub fn appliances(project: &raw::Project) -> Vec<Appliance> {
    entries(&project.appliance)
        .map(|(key, a)| {
            let (width, height, depth) = a.size().value;
            Appliance {
                key: key.value.clone(),
                name: text(&a.name),
                width,
                height,
                depth,
                supplied: a.supplied().value,
                needs: a.needs().value,
                goes_in: a.goes_in().value,
                mass: a.mass.as_ref().map(|m| m.value),
                opens: a.opens.as_ref().map(|o| o.value),
                reach: a.reach.as_ref().map(|r| r.value),
            }
        })
        .collect()
}

fn board(at: &Option<At<Ref>>, names: &Names<'_>, diags: &mut Diagnostics) -> MaterialRef {
    at.as_ref()
        .map_or(MaterialRef(0), |at| names.material(at, diags))
}

const NO_WALL: WallRef = WallRef { room: 0, wall: 0 };

pub fn panels(names: &Names<'_>, diags: &mut Diagnostics) -> Vec<Panel> {
    list(&names.project.panel)
        .iter()
        .map(|p| {
            let (from, to) = (p.from(), p.to());
            let (bottom, top) = (p.bottom(), p.top());
            for (low, high, words) in [(&from, &to, "left of"), (&bottom, &top, "below")] {
                if low.value >= high.value {
                    diags.push(
                        Diagnostic::new(Code::Contradiction, high.place, "the panel has no size")
                            .label(format!("{} must be {words} {}", low.value, high.value))
                            .help("`from` is left of `to`, and `bottom` below `top`"),
                    );
                }
            }
            Panel {
                id: p.id().value.0,
                name: text(&p.name),
                kind: p.is().value,
                wall: names.wall(&p.wall(), diags).unwrap_or(NO_WALL),
                from: from.value,
                to: to.value,
                bottom: bottom.value,
                top: top.value,
                material: board(&p.material, names, diags),
                finish: names.finish(p.finish.as_ref(), diags),
                pieces: p.pieces().value,
                slat: p.slat().value,
                gap: p.gap.as_ref().map(|g| g.value).unwrap_or_default(),
                off_wall: p.off_wall().value,
                pattern: p.pattern.as_ref().map(|a| a.value.clone()),
                note: p.note().value,
                place: p.id().place,
            }
        })
        .collect()
}

pub fn sliding(names: &Names<'_>, diags: &mut Diagnostics) -> Vec<Sliding> {
    list(&names.project.sliding)
        .iter()
        .map(|s| Sliding {
            id: s.id().value.0,
            name: text(&s.name),
            wall: names.wall(&s.wall(), diags).unwrap_or(NO_WALL),
            at: s.at().value,
            width: s.width().value,
            height: s.height().value,
            clear: s.clear().value,
            off_wall: s.off_wall().value,
            slides: s.slides().value,
            sight: s.sight().value,
            material: board(&s.material, names, diags),
            finish: names.finish(s.finish.as_ref(), diags),
            track: names.hardware(s.track.as_ref(), diags),
            handle: names.hardware(s.handle.as_ref(), diags),
            note: s.note().value,
            place: s.id().place,
        })
        .collect()
}

pub fn worktops(
    names: &Names<'_>,
    materials: &[Material],
    diags: &mut Diagnostics,
) -> Vec<Worktop> {
    for w in list(&names.project.worktop) {
        let board = materials.iter().find(|m| m.key == w.material().value.0);
        let thin = w.edge.as_ref().zip(board);
        if let Some((edge, board)) = thin.filter(|(e, b)| e.value < b.thickness) {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    edge.place,
                    "the worktop's edge is lower than its board is thick",
                )
                .label(format!("its board is {} mm thick", board.thickness))
                .help("leave out `edge`, or give the worktop a thinner board"),
            );
        }
    }
    list(&names.project.worktop)
        .iter()
        .map(|w| Worktop {
            id: w.id().value.0,
            name: text(&w.name),
            run: names.run(&w.on(), diags),
            material: names.material(&w.material(), diags),
            finish: names.finish(w.finish.as_ref(), diags),
            edge: w.edge.as_ref().map(|e| e.value).unwrap_or_default(),
            front: w.front().value,
            left: w.left().value,
            right: w.right().value,
            upstand: w.upstand().value,
            cutouts: list(&w.cutout)
                .iter()
                .map(|c| Cutout {
                    what: c.what().value,
                    at: c.at().value,
                    width: c.width().value,
                    depth: c.depth().value,
                    from_front: c.from_front().value,
                    radius: c.radius().value,
                    place: c.at().place,
                })
                .collect(),
            note: w.note().value,
            place: w.id().place,
        })
        .collect()
}

pub fn way_in(project: &raw::Project) -> Vec<Obstacle> {
    list(&project.way_in)
        .iter()
        .map(|o| Obstacle {
            kind: o.is().value,
            what: o.what().value,
            width: o.width().value,
            height: o.height().value,
            width_after: o
                .width_after
                .as_ref()
                .map(|a| a.value)
                .filter(|after| *after != o.width().value),
        })
        .collect()
}

/// Kinds and sets are looked through even where nothing uses them: a slip there is a slip.
pub fn check_unused(names: &Names<'_>, diags: &mut Diagnostics) {
    for (_, front) in entries(&names.project.front) {
        if let Some(at) = &front.material {
            names.material(at, diags);
        }
        if let Some(at) = &front.like {
            names.front(at, diags);
        }
        names.finish(front.finish.as_ref(), diags);
        let parts = [
            &front.handle,
            &front.hinge_by,
            &front.runner,
            &front.straightener,
            &front.latch,
        ];
        for at in parts {
            names.hardware(at.as_ref(), diags);
        }
    }
    for (_, set) in entries(&names.project.set) {
        let boards = [
            &set.carcass,
            &set.back,
            &set.front,
            &set.panel,
            &set.plinth,
            &set.filler,
        ];
        for at in boards.into_iter().flatten() {
            names.material(at, diags);
        }
    }
    for (_, kind) in entries(&names.project.kind) {
        if let Some(at) = &kind.kind {
            diags.push(
                Diagnostic::new(
                    Code::Contradiction,
                    at.place,
                    "a kind of unit cannot be of a kind",
                )
                .label("kinds do not nest")
                .help("say what differs in the unit itself"),
            );
        }
        if let Some(at) = &kind.carcass {
            names.material(at, diags);
        }
        if let Some(at) = &kind.front {
            names.front(at, diags);
        }
    }
}
