//! Tape marks for plates, ridges, hips and valleys.

use crate::facts;
use crate::frame::AnyFrame;
use crate::plan::GablePlan;
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// A frame whose marks are shown.
pub(super) struct Layout(AnyFrame);

impl Found for Layout {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::layout::LayoutReport::of(self.0.sticks()))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::layout::rows(self.0.sticks(), look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        match &self.0 {
            AnyFrame::Gable(frame) => sheet::layout::text(frame, look, depth),
            AnyFrame::Hung(_) => sheet::sides::text(self.0.sticks(), look, depth),
        }
    }
}

/// Frames the roof.
pub(super) fn find(input: &Input) -> Result<Layout, Refused> {
    let plan = input.plan(GablePlan::read)?;
    any_roof::framed(input, &plan).map(Layout)
}
