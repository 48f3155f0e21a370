//! Who asks for a field.

use serde::Serialize;

/// A reader of the result.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Reader {
    /// Cuts the sticks.
    Cutter,
    /// Marks plates and ridge, nails ties and panels.
    Layout,
    /// Orders lumber, panels and nails.
    Buyer,
    /// Owner or inspector: checks the roof against the code.
    Inspector,
    /// Draws the house.
    Designer,
}

impl Reader {
    /// All of them.
    pub const ALL: [Reader; 5] =
        [Reader::Cutter, Reader::Layout, Reader::Buyer, Reader::Inspector, Reader::Designer];

    /// What the reader is called.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Reader::Cutter => "cutter",
            Reader::Layout => "layout hand",
            Reader::Buyer => "buyer",
            Reader::Inspector => "owner, inspector",
            Reader::Designer => "designer",
        }
    }
}
