//! A drawing as a picture of dots.

use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use super::drawing::Drawing;
use super::svg::{self, Typeface};
use super::typeface::Weight;

/// Dots of a side that a picture may have at most.
const LARGEST: f64 = 20_000.0;

/// The drawing as PNG with `dots_per_inch` dots to an inch of paper; `None` if that is no size.
#[must_use]
pub fn write(drawing: &Drawing, dots_per_inch: f64) -> Option<Vec<u8>> {
    let (wide, high) =
        ((drawing.width * dots_per_inch).round(), (drawing.height * dots_per_inch).round());
    if !(1.0..=LARGEST).contains(&wide) || !(1.0..=LARGEST).contains(&high) {
        return None;
    }
    let mut fonts = fontdb::Database::new();
    for weight in [Weight::Regular, Weight::Bold] {
        fonts.load_font_data(weight.file().to_vec());
    }
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    let text = svg::write_with(drawing, Typeface::Named);
    let tree = Tree::from_str(&text, &options).ok()?;
    let mut dots = Pixmap::new(wide as u32, high as u32)?;
    let scale = (wide as f32 / tree.size().width()).min(high as f32 / tree.size().height());
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut dots.as_mut());
    dots.encode_png().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::DVec2;
    use crate::sheet::{Anchor, Pen};

    #[test]
    fn a_picture_has_its_size_and_shows_letters() {
        let mut drawing = Drawing::new(2.0, 1.0);
        let blank = write(&drawing, 50.0).unwrap();
        drawing.text(DVec2::new(1.0, 0.5), "14'", 0.2, Anchor::Middle);
        let with_text = write(&drawing, 50.0).unwrap();
        assert_ne!(blank, with_text);
        drawing.line(vec![DVec2::ZERO, DVec2::ONE], Pen::Outline);
        let image = write(&drawing, 50.0).unwrap();
        assert_eq!(image[16..24], [0, 0, 0, 100, 0, 0, 0, 50]);
        assert!(write(&drawing, 0.0).is_none() && write(&drawing, 1e6).is_none());
    }
}
