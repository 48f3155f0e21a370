//! Questions.

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
    /// The kind of question.
    pub what: What,
    /// The roof files: none, one, or several that are ordered together.
    pub roofs: Vec<Source>,
    /// The caller's prices: TOML, or a yard's CSV if the name ends in `.csv`.
    pub prices: Option<Source>,
    /// Values that override the roof file, by field key, as text.
    pub set: Vec<(Key, String)>,
    /// How the answer is shown.
    pub look: LookAsked,
    /// How much of its page is shown.
    pub depth: Depth,
}

impl Question {
    /// A question with numbers alone, to be shown in the usual way.
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

    /// The input of each roof; one without a file if there is none.
    pub(super) fn inputs(&self) -> Vec<Input> {
        if self.roofs.is_empty() {
            return vec![Input::of(&self.set, None)];
        }
        self.roofs.iter().map(|roof| Input::of(&self.set, Some(roof.clone()))).collect()
    }

    /// The prices, read.
    pub(super) fn prices(&self) -> Result<Option<Prices>, Refused> {
        self.prices.as_ref().map(prices_of).transpose()
    }
}

/// The prices of a file: TOML, or a yard's CSV if its name ends in `.csv`.
pub(super) fn prices_of(source: &Source) -> Result<Prices, Refused> {
    let text = &source.text;
    let is_csv = Path::new(&source.name)
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let read = if is_csv { Prices::read_csv(text) } else { Prices::read(text) };
    read.map_err(|faults| Refused { faults, file: Some(source.clone()) })
}

/// Questions about a roof, or about numbers alone.
#[derive(Debug, Clone)]
pub enum What {
    /// The pattern rafter.
    Rafter {
        /// True if its page has a drawing.
        drawing: bool,
    },
    /// The framing square's rafter table.
    Square {
        /// Rises in 12 as text; if empty, the usual ones.
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
    /// What keeps the walls from spreading: for a roof file all ties, otherwise the heel joint of
    /// numbers.
    Ties,
    /// The roof checked against the code.
    Check {
        /// True for the list of a walk round the roof.
        walkthrough: bool,
    },
    /// Walls as built.
    Measured,
    /// What a small change of each input does.
    Effect {
        /// The change, as text; by default the usual one.
        by: Option<String>,
    },
    /// The check sheet before the stack is cut.
    Prove {
        /// Tape readings as they are written, with commas between them: of the only slope's pattern, or of slope A's.
        readings: Option<String>,
        /// The same of slope B's pattern, if it is another one.
        readings_b: Option<String>,
    },
    /// One number found from what is fixed.
    Fit,
    /// Panels on the roof planes: the deck of a roof file, otherwise planes of numbers alone.
    Sheathing(Box<DeckAsked>),
    /// One list for the lumberyard, for roof files that are ordered together.
    Order,
    /// The prices file of roof files, with blanks: as text it is TOML, otherwise CSV.
    Prices,
    /// Cutting plans: of a list, otherwise of every section of the roof files together.
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
        /// The unit of its lengths; by default inches.
        unit: Option<FileUnit>,
    },
}
