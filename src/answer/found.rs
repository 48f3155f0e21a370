//! What every finding can be read as.

use super::{File, Form, NotWritten, Status};
use crate::sheet::{Depth, Look};

/// Something found, in every form it can be read in. What has no table, JSON or CSV is files alone.
pub trait Found {
    /// Whether anything fails or needs design.
    fn status(&self) -> Status;

    /// One JSON object: decimal inches and degrees, not rounded.
    ///
    /// # Errors
    /// What can't be written.
    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        let _ = explain;
        Err(NotWritten::no_such_form())
    }

    /// Rows of comma-separated values, lengths also as the tape shows them.
    ///
    /// # Errors
    /// What can't be written.
    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        let _ = look;
        Err(NotWritten::no_such_form())
    }

    /// The page for a terminal, as much of it as asked.
    fn text(&self, look: &Look, depth: Depth) -> String {
        let _ = (look, depth);
        String::new()
    }

    /// What a reader has to be told beside this form of the answer, or beside its files.
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
