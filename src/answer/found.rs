//! What every finding can be read as.

use super::{Form, NotWritten, Status};
use crate::sheet::{Depth, Drawing, Look};

/// Something found, in every form it can be read in.
pub trait Found {
    /// Whether anything fails or needs design.
    fn status(&self) -> Status;

    /// One JSON object: decimal inches and degrees, not rounded.
    ///
    /// # Errors
    /// What can't be written.
    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten>;

    /// Rows of comma-separated values, lengths also as the tape shows them.
    ///
    /// # Errors
    /// What can't be written.
    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten>;

    /// The page for a terminal, as much of it as asked.
    fn text(&self, look: &Look, depth: Depth) -> String;

    /// What a reader has to be told beside this form of the answer.
    fn word(&self, form: Form) -> Option<&'static str> {
        let _ = form;
        None
    }

    /// The drawing that goes with it, one page below the other, if there is one.
    fn drawing(&self, look: &Look) -> Option<Drawing> {
        let _ = look;
        None
    }
}
