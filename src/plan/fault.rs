//! What is wrong with the input, where, and what to write instead.

use std::ops::Range;

use super::entry::Place;

/// One fault of the input.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Where the input was written, or [`Place::Missing`].
    pub place: Place,
    /// The part of the written text that is wrong, in bytes of that text; all of it if `None`.
    pub part: Option<Range<usize>>,
    /// One lower-case sentence: what was found and why it can't be.
    pub message: String,
    /// What is allowed, and what to write instead.
    pub help: String,
}

/// Every fault found, in the order of the input.
pub type Faults = Vec<Fault>;

impl Fault {
    /// A fault of all that was written at `place`.
    pub fn new(place: Place, message: impl Into<String>, help: impl Into<String>) -> Fault {
        Fault {
            place,
            part: None,
            message: message.into(),
            help: help.into(),
        }
    }
}
