//! The roof checked against the code.

use crate::facts;
use crate::frame::Frame;
use crate::plan::{ChecksPlan, Used};
use crate::rules::{Book, Finding, check};
use crate::sheet::{self, Depth, Look};

use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// A roof with every finding.
pub(super) struct Checked {
    frame: Frame,
    checks: ChecksPlan,
    used: Vec<Used>,
    findings: Vec<Finding>,
    walkthrough: bool,
}

impl Checked {
    fn book(&self) -> Book<'_> {
        Book { frame: &self.frame, checks: &self.checks }
    }
}

impl Found for Checked {
    fn status(&self) -> Status {
        Status::of_findings(&self.findings)
    }

    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::check::CheckReport::of(&self.book(), &self.findings, &self.used, explain))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::check::csv_rows(&self.book(), &self.findings))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        if self.walkthrough {
            sheet::check::walkthrough(&self.book(), &self.findings, look)
        } else {
            sheet::check::text(&self.book(), &self.findings, &self.used, look, depth)
        }
    }
}

/// Checks the roof against the code; with `walkthrough` the page is the list for a walk around the
/// roof.
pub(super) fn find(input: &Input, walkthrough: bool) -> Result<Checked, Refused> {
    let (plan, checks, used) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
    let findings = check::findings(&Book { frame: &frame, checks: &checks });
    Ok(Checked { frame, checks, used, findings, walkthrough })
}
