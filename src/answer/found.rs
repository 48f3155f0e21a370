//! What every finding can be read as.

use super::{File, Form, NotWritten, Status};
use crate::sheet::{Depth, Look};

/// A result that can be written in every form. One without a table, JSON or CSV has only files.
pub trait Found {
    /// Whether anything fails or needs design.
    fn status(&self) -> Status;

    /// One JSON object: decimal inches and degrees, not rounded.
    ///
    /// # Errors
    /// If it can't be written.
    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        let _ = explain;
        Err(NotWritten::no_such_form())
    }

    /// Rows of comma-separated values, lengths also as the tape shows them.
    ///
    /// # Errors
    /// If it can't be written.
    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let _ = look;
        Err(NotWritten::no_such_form())
    }

    /// The page for a terminal, down to `depth`.
    fn text(&self, look: &Look, depth: Depth) -> String {
        let _ = (look, depth);
        String::new()
    }

    /// A message for the reader besides this form of the answer, or besides its files.
    fn word(&self, form: Option<Form>) -> Option<&'static str> {
        let _ = form;
        None
    }

    /// The files that go with it.
    fn files(&self, look: &Look) -> Vec<File<'_>> {
        let _ = look;
        Vec::new()
    }
}
