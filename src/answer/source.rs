//! A text that faults point into.

/// A text that was read, under the name that messages give it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Its name: a path, or what it is.
    pub name: String,
    /// The text.
    pub text: String,
}
