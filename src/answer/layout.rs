//! Tape marks for plates and ridge.

use crate::facts;
use crate::frame::Frame;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, frame, json};

/// A frame whose marks are shown.
pub(super) struct Layout(Frame);

impl Found for Layout {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::layout::LayoutReport::of(&self.0))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::layout::rows(&self.0, look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::layout::text(&self.0, look, depth)
    }
}

/// Frames the roof.
pub(super) fn find(input: &Input) -> Result<Layout, Refused> {
    frame::framed(input).map(Layout)
}
