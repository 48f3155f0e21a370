//! What one pattern is drawn and cut by, by itself.

use crate::sheet::{Drawing, Table};

/// One pattern by itself.
#[derive(Debug, Clone)]
pub struct Alone {
    /// Its drawing.
    pub drawing: Drawing,
    /// Its figures.
    pub tables: Vec<Table>,
    /// How to cut it, step by step.
    pub steps: Vec<String>,
}

impl Alone {
    /// A drawing that says everything.
    pub(super) fn drawn(drawing: Drawing) -> Alone {
        Alone { drawing, tables: Vec::new(), steps: Vec::new() }
    }
}
