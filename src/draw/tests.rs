//! Whole drawings, judged by the collision finder. Knows the samples, not how they are placed.

use super::place::{self, Part, collisions};
use super::sheet::{self, pack_sections, to_drawings};
use super::{Drawing, DrawingKind, samples};
use crate::emit::png;
use crate::resolve::job::Sheets;

fn drawn(paper: Sheets) -> Vec<Drawing> {
    let mut all = to_drawings(&samples::elevation(), DrawingKind::Plan(0), paper, 20).expect("elevation");
    all.extend(to_drawings(&samples::plan(), DrawingKind::Plan(0), paper, 100).expect("plan"));
    let sections: Vec<_> = ["robe", "larder", "sink"].map(samples::section).into();
    all.extend(pack_sections(&sections, paper, 20).expect("sections"));
    all
}

/// Writes the samples as PNG for the eye: `cargo test look -- --ignored`.
#[test]
#[ignore = "writes pictures to look at"]
fn look() {
    for (paper, name) in [(Sheets::A3, "a3"), (Sheets::A4, "a4")] {
        for d in drawn(paper) {
            let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/look");
            std::fs::create_dir_all(&folder).expect("folder");
            let bytes = png::png(&d.svg, 150.0).expect("png");
            std::fs::write(folder.join(format!("{name}-{}.png", d.id)), bytes).expect("write");
            std::fs::write(folder.join(format!("{name}-{}.svg", d.id)), &d.svg).expect("write");
            println!("{name} {} 1:{} part {:?}", d.id, d.scale, d.part);
        }
    }
}

#[test]
fn samples_have_no_collision() {
    for scene in [samples::elevation(), samples::plan(), samples::section("robe")] {
        for paper in [Sheets::A3, Sheets::A4] {
            for scale in [20, 50, 100] {
                let area = sheet::area(paper);
                let part = Part::whole(&scene);
                let room = place::room_above(&part.legend, scale, area);
                let Some(base) = place::base(&part, scale, room) else { continue };
                for margins in place::callouts::Notes::ALL {
                    let Some(figure) = base.noted(margins, room) else { continue };
                    let placed = place::sheet(&[figure], &part.legend, scale, area).expect("sheet");
                    assert_eq!(collisions(&placed), [], "{} 1:{scale} {paper:?} {margins:?}", scene.id);
                }
            }
        }
    }
}
