//! What a name that the catalog does not know is answered with.

use std::fmt;

/// A name that no table holds, with the names it could have been.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownName {
    /// What was asked for: "species", "grade", "lumber size", ...
    pub what: &'static str,
    /// The text that was found.
    pub found: String,
    /// What is allowed, ready to print.
    pub allowed: &'static str,
}

impl fmt::Display for UnknownName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "unknown {} `{}`; allowed: {}", self.what, self.found, self.allowed)
    }
}

impl std::error::Error for UnknownName {}

/// Lower case, and nothing but letters, digits, slash and point.
pub(super) fn folded(text: &str) -> String {
    text.chars()
        .flat_map(char::to_lowercase)
        .filter(|c| c.is_ascii_alphanumeric() || matches!(c, '/' | '.' | '#' | '&'))
        .collect()
}
