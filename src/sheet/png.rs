//! A drawing as a picture of dots.

use std::sync::Arc;

use png::{BitDepth, ColorType, Encoder, EncodingError, PixelDimensions, Unit};
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
    encoded(dots, dots_per_inch).ok()
}

/// The dots as a file that says how large they are on paper.
fn encoded(dots: Pixmap, dots_per_inch: f64) -> Result<Vec<u8>, EncodingError> {
    let per_meter = (dots_per_inch / 0.0254).round() as u32;
    let mut data = Vec::new();
    let mut encoder = Encoder::new(&mut data, dots.width(), dots.height());
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_pixel_dims(Some(PixelDimensions {
        xppu: per_meter,
        yppu: per_meter,
        unit: Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&dots.take_demultiplied())?;
    writer.finish()?;
    Ok(data)
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
        // pHYs (PNG, 3rd edition, 11.3.4.3): dots per meter across and down, unit 1
        let at = image.windows(4).position(|word| word == b"pHYs").unwrap() + 4;
        let per_meter = (50.0_f64 / 0.0254).round() as u32;
        assert_eq!(image[at..at + 4], per_meter.to_be_bytes());
        assert_eq!(image[at + 4..at + 8], per_meter.to_be_bytes());
        assert_eq!(image[at + 8], 1);
        assert!(write(&drawing, 0.0).is_none() && write(&drawing, 1e6).is_none());
    }
}
