//! A text that faults point into.

/// A text with its name for messages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Its name: a path, or a description.
    pub name: String,
    /// The text.
    pub text: String,
}
