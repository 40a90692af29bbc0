//! The bundled fonts and their measures. Knows nothing of drawings or pages.

use std::sync::LazyLock;

pub struct Face {
    pub family: &'static str,
    pub weight: u16,
    pub italic: bool,
    pub bytes: &'static [u8],
}

static FACES: [Face; 5] = [
    Face {
        family: "Source Sans 3",
        weight: 400,
        italic: false,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_400Regular.ttf"),
    },
    Face {
        family: "Source Sans 3",
        weight: 600,
        italic: false,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_600SemiBold.ttf"),
    },
    Face {
        family: "Source Sans 3",
        weight: 400,
        italic: true,
        bytes: include_bytes!("../fonts/source-sans-3/SourceSans3_400Regular_Italic.ttf"),
    },
    Face {
        family: "Noto Sans",
        weight: 400,
        italic: false,
        bytes: include_bytes!("../fonts/noto-sans/NotoSans-Regular.ttf"),
    },
    Face {
        family: "Noto Sans",
        weight: 700,
        italic: false,
        bytes: include_bytes!("../fonts/noto-sans/NotoSans-Bold.ttf"),
    },
];

pub fn faces() -> &'static [Face] {
    &FACES
}

static PARSED: LazyLock<Vec<ttf_parser::Face<'static>>> = LazyLock::new(|| {
    FACES
        .iter()
        .filter_map(|f| ttf_parser::Face::parse(f.bytes, 0).ok())
        .collect()
});

fn advance(c: char, bold: bool) -> Option<f64> {
    let order: [usize; 2] = if bold { [1, 4] } else { [0, 3] };
    order.iter().find_map(|&i| {
        let face = PARSED.get(i)?;
        let glyph = face.glyph_index(c)?;
        Some(f64::from(face.glyph_hor_advance(glyph)?) / f64::from(face.units_per_em()))
    })
}

pub fn width_mm(text: &str, cap_mm: f64, bold: bool) -> f64 {
    text.chars()
        .map(|c| advance(c, bold).unwrap_or(1.0))
        .sum::<f64>()
        * cap_mm
        / 0.66
}

pub fn missing(text: &str) -> Option<char> {
    text.chars()
        .find(|&c| c != '\n' && (c.is_control() || advance(c, false).is_none()))
}
