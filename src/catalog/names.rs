//! The answer to a name that the catalog does not know.

use std::fmt;

/// An unknown name, with the names that are allowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownName {
    /// The kind of name: "species", "grade", "lumber size", ...
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

/// Lower case, with only letters, digits, slash and point kept.
pub(super) fn folded(text: &str) -> String {
    text.chars()
        .flat_map(char::to_lowercase)
        .filter(|c| c.is_ascii_alphanumeric() || matches!(c, '/' | '.' | '#' | '&'))
        .collect()
}
