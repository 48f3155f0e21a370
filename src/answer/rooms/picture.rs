//! Drawings as the page takes them.

use serde::Serialize;

use crate::sheet::Drawing;
use crate::sheet::svg::{self, Typeface};

/// A drawing for the page, which has the typeface itself; its size on paper, inches.
#[derive(Debug, Serialize)]
pub(super) struct Picture {
    svg: String,
    wide: f64,
    high: f64,
}

impl From<&Drawing> for Picture {
    fn from(drawing: &Drawing) -> Picture {
        Picture {
            svg: svg::write_with(drawing, Typeface::Named),
            wide: drawing.width,
            high: drawing.height,
        }
    }
}
