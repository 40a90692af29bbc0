//! An independent PDF reader (hayro): the text of each page, and the page as a picture.

use hayro::hayro_interpret::font::Glyph;
use hayro::hayro_interpret::hayro_cmap::BfString;
use hayro::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, GlyphDrawMode, Image, InterpreterCache,
    InterpreterSettings, Paint, PathDrawMode, SoftMask, interpret_page,
};
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::vello_cpu::kurbo::{Affine, BezPath, Rect};
use hayro::{RenderCache, RenderSettings, render};
use image::{GrayImage, Luma};

/// Collects what the glyphs say and drops what is drawn.
#[derive(Default)]
struct Words(String);

impl<'a> Device<'a> for Words {
    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn draw_path(&mut self, _: &BezPath, _: Affine, _: &Paint<'a>, _: &PathDrawMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'a>,
        _: Affine,
        _: Affine,
        _: &Paint<'a>,
        _: &GlyphDrawMode,
    ) {
        match glyph.as_unicode() {
            Some(BfString::Char(c)) => self.0.push(c),
            Some(BfString::String(s)) => self.0.push_str(&s),
            None => self.0.push('\u{fffd}'),
        }
    }
    fn draw_image(&mut self, _: Image<'a, '_>, _: Affine) {}
    fn pop_clip_path(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}

/// The text of each page, without any white space: glyphs of a drawing stand each for itself.
pub fn text(pdf: &[u8]) -> Vec<String> {
    let pdf = Pdf::new(pdf.to_vec()).expect("a PDF");
    let cache = InterpreterCache::new();
    pdf.pages()
        .iter()
        .map(|page| {
            let mut words = Words::default();
            let settings = InterpreterSettings::default();
            let all = Rect::new(0.0, 0.0, 5000.0, 5000.0);
            let mut context = Context::new(Affine::IDENTITY, all, &cache, page.xref(), settings);
            interpret_page(page, &mut context, &mut words);
            squeeze(&words.0)
        })
        .collect()
}

/// Without white space, and apostrophes straight as files have them, as [`text`] gives it.
pub fn squeeze(text: &str) -> String {
    let text = text.chars().filter(|c| !c.is_whitespace());
    text.map(|c| if c == '\u{2019}' { '\'' } else { c })
        .collect()
}

/// Pages in millimetres.
pub fn sizes(pdf: &[u8]) -> Vec<(f64, f64)> {
    let pdf = Pdf::new(pdf.to_vec()).expect("a PDF");
    let mm = |points: f32| f64::from(points) * 25.4 / 72.0;
    let size = |page: &hayro::hayro_syntax::page::Page<'_>| {
        let (w, h) = page.render_dimensions();
        (mm(w), mm(h))
    };
    pdf.pages().iter().map(size).collect()
}

/// A page as a picture in greys, on white.
pub fn picture(pdf: &[u8], page: usize, dpi: f64) -> GrayImage {
    let pdf = Pdf::new(pdf.to_vec()).expect("a PDF");
    let scale = (dpi / 72.0) as f32;
    let settings = RenderSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
        ..Default::default()
    };
    let page = pdf.pages().get(page).expect("that page");
    let map = render(
        page,
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &settings,
    );
    let (width, height) = (u32::from(map.width()), u32::from(map.height()));
    let data = map.data_as_u8_slice();
    GrayImage::from_fn(width, height, |x, y| {
        let at = ((y * width + x) * 4) as usize;
        let sum: u32 = data[at..at + 3].iter().map(|c| u32::from(*c)).sum();
        Luma([(sum / 3) as u8])
    })
}

/// How many pixels differ by more than a shade: a score would hide a missing dimension line.
pub fn differing(a: &GrayImage, b: &GrayImage) -> usize {
    if a.dimensions() != b.dimensions() {
        return usize::MAX;
    }
    a.pixels()
        .zip(b.pixels())
        .filter(|(p, q)| p.0[0].abs_diff(q.0[0]) > 16)
        .count()
}
