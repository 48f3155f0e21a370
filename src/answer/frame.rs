//! The whole frame: its sticks, and what the cutter must know about them.

use crate::facts;
use crate::frame::{Eave, Frame, Level};
use crate::plan::{ChecksPlan, EavePlan, GablePlan};
use crate::rules::{Book, Finding, check, eave as eave_rules};
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, faces, json};

/// A frame, with what is shown beside its sticks.
pub(super) struct Framed {
    frame: Frame,
    held: Held,
}

impl Found for Framed {
    fn status(&self) -> Status {
        Status::of_findings(&self.held.findings)
    }

    fn json(&self, _: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::frame::FrameReport::of(&self.frame, &self.held.findings, &self.held.levels))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::frame::rows(facts::frame::patterns(self.frame.sticks())))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::frame::text(&self.frame, &self.held.findings, look, depth)
    }
}

/// Frames the roof and checks it against the rules; of a roof that is more than one gable, its faces and edges.
pub(super) fn find(input: &Input) -> Result<Box<dyn Found>, Refused> {
    let plan = input.plan(GablePlan::read)?;
    if !plan.blocks.beyond_one_gable(plan.rafter.pitch).is_empty() {
        return Ok(Box::new(faces::find(input, plan)?));
    }
    let frame = framed(input)?;
    let held = held(input, &frame)?;
    Ok(Box::new(Framed { frame, held }))
}

/// Frames the roof.
pub(super) fn framed(input: &Input) -> Result<Frame, Refused> {
    let plan = input.plan(GablePlan::read)?;
    Frame::build(&plan).map_err(|why| input.cannot_build(why))
}

/// What is shown of a frame beside its sticks.
struct Held {
    /// What the cutter must know: the findings of the rafter and its eave, and every other finding of
    /// the whole check that the roof does not meet.
    findings: Vec<Finding>,
    /// The heights of the section.
    levels: Vec<Level>,
}

/// Checks a frame against the rules and measures its heights.
fn held(input: &Input, frame: &Frame) -> Result<Held, Refused> {
    let eave = input.plan(EavePlan::read)?;
    let eave = Eave::build(&eave).map_err(|why| input.cannot_build(why))?;
    let (_, checks, _) = input.plan(ChecksPlan::read)?;
    let book = Book { frame, checks: &checks };
    let levels = frame.levels(&eave, checks.floor_height);
    let mut findings = eave_rules::findings(&eave);
    let pressing = check::findings(&book).into_iter().filter(|finding| finding.verdict.is_open());
    for finding in pressing {
        let told = |known: &Finding| known.id == finding.id && known.title == finding.title;
        if !findings.iter().any(told) {
            findings.push(finding);
        }
    }
    Ok(Held { findings, levels })
}
