//! Sheets to print from the page: drawings in inches of paper.

use serde::{Deserialize, Serialize};

use crate::sheet::paper::Paper;
use crate::sheet::svg::{self, Typeface};

use super::super::sheets::Set;

/// Paper that a printer in a house has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum PrintOn {
    Letter,
    A4,
}

impl PrintOn {
    pub(super) fn paper(self) -> Paper {
        match self {
            PrintOn::Letter => Paper::Letter,
            PrintOn::A4 => Paper::A4,
        }
    }
}

/// The sheets of a set.
#[derive(Debug, Serialize)]
pub(super) struct Sheets {
    sheets: Vec<Sheet>,
}

#[derive(Debug, Serialize)]
struct Sheet {
    title: String,
    svg: String,
    /// Size of its paper, inches.
    wide: f64,
    high: f64,
}

/// Every sheet as a drawing that names its typeface; the page has it.
pub(super) fn sheets(set: &Set) -> Sheets {
    let sheet = |page: &crate::sheet::paper::Page| Sheet {
        title: page.title.clone(),
        svg: svg::write_with(&page.drawing, Typeface::Named),
        wide: page.drawing.width,
        high: page.drawing.height,
    };
    Sheets { sheets: set.pages().iter().map(sheet).collect() }
}
