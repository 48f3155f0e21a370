//! What can be asked.

use crate::plan::Key;
use crate::sheet::Depth;

use super::spans::SpansAsked;
use super::{LookAsked, Source};

/// One question, with all that its answer depends on.
#[derive(Debug, Clone)]
pub struct Question {
    /// What is asked.
    pub what: What,
    /// The roof file, if there is one.
    pub roof: Option<Source>,
    /// Values that override the roof file, by field key, as they are written.
    pub set: Vec<(Key, String)>,
    /// How the answer is shown.
    pub look: LookAsked,
    /// How much of its page is shown.
    pub depth: Depth,
}

/// What is asked of a roof, or of numbers alone.
#[derive(Debug, Clone)]
pub enum What {
    /// The pattern rafter.
    Rafter {
        /// True if its page has a drawing.
        drawing: bool,
    },
    /// The framing square's rafter table.
    Square {
        /// Rises in 12 as they are written; the usual ones if there are none.
        rises: Vec<String>,
    },
    /// The eave.
    Eave {
        /// Overhangs as measured on site, as they are written.
        measured: Vec<String>,
        /// What they were measured to: `tail` or `fascia`.
        measured_to: String,
    },
    /// Spans of rafters and ceiling joists.
    Spans(Box<SpansAsked>),
    /// The whole frame.
    Frame,
    /// Tape marks.
    Layout,
    /// What keeps the walls from spreading: of a roof file the whole story, else the heel joint of numbers.
    Ties,
    /// The roof held against the code.
    Check {
        /// True for the list of a walk round the roof.
        walkthrough: bool,
    },
    /// Walls as they stand.
    Measured,
    /// What a small change of each input does.
    Effect {
        /// The change, as it is written; else the usual one.
        by: Option<String>,
    },
    /// The check sheet before the stack is cut.
    Prove {
        /// Tape readings as they are written, with commas between them.
        readings: Option<String>,
    },
    /// One number found from what is fixed.
    Fit,
}
