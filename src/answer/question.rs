//! What can be asked.

use std::path::Path;

use crate::export::unit::FileUnit;
use crate::order::Prices;
use crate::plan::Key;
use crate::sheet::Depth;

use super::compare::CompareAsked;
use super::cuts::List;
use super::export::ExportTo;
use super::plane::DeckAsked;
use super::sheets::SheetsAsked;
use super::spans::SpansAsked;
use super::{Input, LookAsked, Refused, Source};

/// One question, with all that its answer depends on.
#[derive(Debug, Clone)]
pub struct Question {
    /// What is asked.
    pub what: What,
    /// The roof files: none, one, or several that are ordered together.
    pub roofs: Vec<Source>,
    /// Prices that the asker keeps: TOML, or a yard's CSV if the name ends so.
    pub prices: Option<Source>,
    /// Values that override the roof file, by field key, as they are written.
    pub set: Vec<(Key, String)>,
    /// How the answer is shown.
    pub look: LookAsked,
    /// How much of its page is shown.
    pub depth: Depth,
}

impl Question {
    /// A question of numbers alone, to be shown as usual.
    #[must_use]
    pub fn of(what: What) -> Question {
        Question {
            what,
            roofs: Vec::new(),
            prices: None,
            set: Vec::new(),
            look: LookAsked::default(),
            depth: Depth::default(),
        }
    }

    /// What was written for each roof; one without a file if there is none.
    pub(super) fn inputs(&self) -> Vec<Input> {
        if self.roofs.is_empty() {
            return vec![Input::of(&self.set, None)];
        }
        self.roofs.iter().map(|roof| Input::of(&self.set, Some(roof.clone()))).collect()
    }

    /// The prices, read.
    pub(super) fn prices(&self) -> Result<Option<Prices>, Refused> {
        let Some(source) = &self.prices else {
            return Ok(None);
        };
        let text = &source.text;
        let is_csv = Path::new(&source.name)
            .extension()
            .is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
        let read = if is_csv { Prices::read_csv(text) } else { Prices::read(text) };
        read.map(Some).map_err(|faults| Refused { faults, file: Some(source.clone()) })
    }
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
    /// Panels on the roof planes: of a roof file its deck, else planes of numbers alone.
    Sheathing(Box<DeckAsked>),
    /// One list for the yard, of roof files that are ordered together.
    Order,
    /// The prices file of roof files, with blanks: as text TOML, else CSV.
    Prices,
    /// Cutting plans: of a list, else of every section of the roof files together.
    Cuts {
        /// The list of stock and pieces.
        list: Option<List>,
    },
    /// Many roofs of one plan, the few that are best.
    Compare(CompareAsked),
    /// The set of drawings and lists for the site.
    Sheets(SheetsAsked),
    /// The frame as a file for other programs.
    Export {
        /// The form of the file.
        to: ExportTo,
        /// The unit of its lengths; else inches.
        unit: Option<FileUnit>,
    },
}
