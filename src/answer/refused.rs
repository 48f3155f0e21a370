//! Why a question is not answered.

use crate::plan::{Fault, Faults, Place};

use super::{Source, faults};

/// A question that is refused, with every fault in it.
#[derive(Debug)]
pub struct Refused {
    /// Every fault.
    pub faults: Faults,
    /// The text of the file that places point into, if there is a file.
    pub file: Option<Source>,
}

impl Refused {
    /// Faults outside any file.
    #[must_use]
    pub fn of(faults: Faults) -> Refused {
        Refused { faults, file: None }
    }

    /// Every fault with its place and what to write instead, as text; with a terminal's escape codes if
    /// `styled`.
    #[must_use]
    pub fn text(&self, styled: bool) -> String {
        faults::text(&self.faults, self.file.as_ref(), styled)
    }

    /// One fault of a flag's value.
    pub fn of_flag(
        flag: &'static str,
        text: &str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Refused {
        let place = Place::Flag { flag, text: text.to_owned() };
        Refused::of(Faults::from(Fault::new(place, message, help)))
    }
}
