//! The roof checked against the code.

use crate::facts;
use crate::frame::AnyFrame;
use crate::plan::{ChecksPlan, Used};
use crate::rules::{Code, Finding};
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, any_roof, csv, json};

/// A roof with every finding.
pub(super) struct Checked {
    frame: AnyFrame,
    checks: ChecksPlan,
    used: Vec<Used>,
    findings: Vec<Finding>,
    walkthrough: bool,
}

impl Checked {
    fn code(&self) -> Code<'_> {
        Code { sticks: self.frame.sticks(), checks: &self.checks }
    }
}

impl Found for Checked {
    fn status(&self) -> Status {
        Status::of_findings(&self.findings)
    }

    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::check::CheckReport::of(&self.code(), &self.findings, &self.used, explain))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::check::csv_rows(&self.code(), &self.findings))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        if self.walkthrough {
            sheet::check::walkthrough(&self.code(), &self.findings, look)
        } else {
            sheet::check::text(&self.code(), &self.findings, &self.used, look, depth)
        }
    }
}

/// Checks the roof against the code; with `walkthrough` the page is the list for a walk around the
/// roof.
pub(super) fn find(input: &Input, walkthrough: bool) -> Result<Checked, Refused> {
    let (plan, checks, used) = input.plan(ChecksPlan::read)?;
    let frame = any_roof::framed(input, &plan)?;
    let findings = any_roof::findings(&frame, &checks);
    Ok(Checked { frame, checks, used, findings, walkthrough })
}
